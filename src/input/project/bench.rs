//! `[[bench_test]]` and `[bench_prior]`: what was tried with a sheet that nobody knows.

use super::keys::{self, Key};
use super::measure::Entered;
use super::own::OwnMetals;
use super::section::{Context, Found, OPEN, Section, nearest, shown, unprintable};
use super::tree::{Node, Span, Table, Value};
use crate::desk;
use crate::diagnostic::Diagnostic;
use crate::input::quantity::{number_with_tolerance, with_tolerance};
use crate::material::{Library, Metal};
use crate::model::{
    AfterWrap, Bench, BenchPrior, BenchTest, DEVIATIONS_IN_TOLERANCE, Hardness, Measured, Named, ShopTest,
    Strip, TestKind, Volume,
};
use crate::units::{Length, Mass};
use std::ops::Mul;
use std::sync::{Arc, Mutex, PoisonError};
use uom::si::angle::degree;
use uom::si::f64::Angle;
use uom::si::length::millimeter;
use uom::si::mass::gram;

/// The sheet of tests that name none.
const BENCH: &str = "bench";

/// What instruments are usually off by, as one standard deviation. Common practice, no source.
const CALIPER_MM: f64 = 0.02;
const SAWN_MM: f64 = 0.1;
const RULER_MM: f64 = 0.5;
const ROD: f64 = 0.01;
const PROTRACTOR_DEG: f64 = 0.5;
const SCALE: f64 = 0.005;
const FINE_SCALE_G: f64 = 0.05;
const LENS_MM: f64 = 0.025;
const HARDNESS: f64 = 0.05;
const METER: f64 = 0.015;

/// How far a dealer is trusted who is not asked about. chosen.
const TRUSTED: f64 = 0.6;

/// 100 % IACS in MS/m. Source: IEC 60028 (from memory).
const IACS_MS_PER_M: f64 = 58.0;

/// What a strip that gave way under its weight has in `sets`.
const FOLDED: &str = "folded";

/// The keys of a kind, besides `sheet` and `kind`.
const fn keys_of(kind: TestKind) -> &'static [&'static str] {
    match kind {
        TestKind::BendStrip => &["width", "thickness", "length", "weights", "sets"],
        TestKind::Wrap => &["thickness", "radius", "radius_after", "angle", "angle_after", "straight"],
        TestKind::Weigh => &["mass", "in_water", "width", "thickness", "length"],
        TestKind::Flex => &["width", "thickness", "length", "weight", "movement"],
        TestKind::Dent => &["brinell", "vickers", "dent", "known_dent", "known"],
        TestKind::Conductivity => &["iacs", "ms_per_m"],
        TestKind::Fold => &["thickness", "radius", "cracked"],
        TestKind::Clue(_) => &["answer"],
        TestKind::Stamp => &["read"],
        TestKind::Told => &["word", "trust"],
    }
}

const YES_OR_NO: [(&str, bool); 2] = [("yes", true), ("no", false)];

/// Metals of graded sheets, with the tests and the table that they were made of: worked out once for all readings of a file, whose
/// designs and samples have the same.
pub(super) type Sheets = Arc<Mutex<Option<Kept>>>;

#[derive(Debug)]
pub(super) struct Kept {
    bench: Bench,
    table: Vec<Metal>,
    /// By name; `None` where the tests leave no strength to design with.
    sheets: Vec<(String, Option<Metal>)>,
}

impl Kept {
    fn new(bench: &Bench, library: &Library) -> Self {
        let graded = |sheet: &str| {
            let graded = desk::one_sheet(sheet, &bench.of(sheet), library, None, &bench.prior);
            (sheet.to_owned(), desk::metal(&graded, library))
        };
        Self {
            bench: bench.clone(),
            table: library.metals.clone(),
            sheets: bench.sheets().into_iter().map(graded).collect(),
        }
    }
}

/// Takes in the sheets that plates are of; notes a plate of one whose tests leave no strength to design with.
pub(super) fn add_sheets(cx: &Context<'_>, root: &Table, bench: &Bench, metals: &mut OwnMetals) {
    let tested = bench.sheets();
    let wanted: Vec<(&str, Span)> = plates(root).filter(|(metal, _)| tested.contains(metal)).collect();
    if wanted.is_empty() {
        return;
    }
    // A reader that panicked has left nothing half done.
    let mut kept = cx.sheets.lock().unwrap_or_else(PoisonError::into_inner);
    let kept = match kept.take() {
        Some(same) if same.bench == *bench && same.table == cx.library.metals => kept.insert(same),
        _ => kept.insert(Kept::new(bench, cx.library)),
    };
    for (name, metal) in &kept.sheets {
        metals.add(name.clone(), metal.clone());
        if metal.is_none() {
            for (_, span) in wanted.iter().filter(|(wanted, _)| wanted == name) {
                let refused = Diagnostic::error(
                    "no-strength",
                    format!("the bench tests of `{}` leave no strength to design with", shown(name)),
                )
                .help("one of them fits no metal: `gearleg grade` says which");
                cx.note(refused, span.clone());
            }
        }
    }
}

/// Says what makes a metal of the name that sheets have when none is given.
pub(super) fn hint(section: &Section<'_>, name: &str) {
    if name != BENCH {
        return;
    }
    if let Some(last) = section.cx.found.borrow_mut().last_mut() {
        last.help.insert(
            0,
            "\"bench\" is the sheet of the file's [[bench_test]] sections, and it has none of them"
                .to_owned(),
        );
    }
}

/// What the plates of all gears are said to be of, and where.
fn plates(root: &Table) -> impl Iterator<Item = (&str, Span)> {
    let gears = match root.get("gear").map(|entry| &entry.node.value) {
        Some(Value::Table(gears)) => gears.entries.as_slice(),
        _ => &[],
    };
    gears.iter().filter_map(|gear| {
        let Value::Table(gear) = &gear.node.value else { return None };
        let Value::Table(plate) = &gear.get("plate")?.node.value else { return None };
        let metal = &plate.get(keys::METAL.name)?.node;
        match &metal.value {
            Value::Text(name) => Some((name.as_str(), metal.span.clone())),
            _ => None,
        }
    })
}

/// Reads every test, good or bad ones left out.
pub(super) fn tests(root: &Section<'_>) -> Vec<BenchTest> {
    let sections = root.each_below("bench_test", "[[bench_test]]", &keys::BENCH_TEST);
    let own: Vec<&str> = match root.table.get("metal").map(|entry| &entry.node.value) {
        Some(Value::Table(metals)) => metals.entries.iter().map(|entry| entry.key.as_str()).collect(),
        _ => Vec::new(),
    };
    sections.iter().filter_map(|section| bench_test(section, &own)).collect()
}

/// Reads how likely the builder holds rows of the table.
pub(super) fn prior(root: &Section<'_>) -> BenchPrior {
    let mut prior = BenchPrior::default();
    let Some(entry) = root.table.get("bench_prior") else { return prior };
    let Value::Table(table) = &entry.node.value else {
        root.below("bench_prior", "[bench_prior]", &keys::BENCH_TEST);
        return prior;
    };
    for entry in &table.entries {
        let named = named(&entry.key, root.cx.library);
        let is_share = entry.key == keys::NONE_OF_THESE.name;
        let key = if is_share { keys::NONE_OF_THESE } else { keys::ROW_WEIGHT };
        if !is_share && named.rows.is_empty() {
            let near = nearest(&entry.key, root.cx.library.metals.iter().map(|m| m.name.as_str()));
            let mut refused = Diagnostic::error(
                "unknown-name",
                format!("no metal or alloy of the tables is called `{}`", shown(&entry.key)),
            );
            if let Some(near) = near {
                refused = refused.label(format!("perhaps `{near}`"));
            }
            let refused = refused.help(
                "[bench_prior] takes a metal's or an alloy's name with how much likelier it is than usual, as in 6082 = 3, and \
                 none_of_these",
            );
            root.note(refused, entry.key_span.clone());
            continue;
        }
        let Some(value) = weight(root, &key, &entry.key, &entry.node) else { continue };
        if is_share {
            prior.none_of_these = value;
        } else {
            prior.weights.extend(named.rows.into_iter().map(|row| (row, value)));
        }
    }
    prior
}

/// A plain number of `[bench_prior]`.
fn weight(root: &Section<'_>, key: &Key, name: &str, node: &Node) -> Option<f64> {
    let most = if key.name == keys::NONE_OF_THESE.name { 1.0 } else { 1000.0 };
    match node.value {
        Value::Number(value) if value > 0.0 && value < most => Some(value),
        _ => {
            let refused = Diagnostic::error(
                "out-of-range",
                format!("`{}` needs a plain number more than 0 and less than {most}", shown(name)),
            )
            .help(format!("write it as in {} = {}", key.name, key.example));
            root.note(refused, node.span.clone());
            None
        }
    }
}

/// `own` are the metals that the file describes.
fn bench_test(section: &Section<'_>, own: &[&str]) -> Option<BenchTest> {
    let sheet = section.text(&keys::SHEET).and_then(|name, span| {
        let trouble = unprintable(name).map(|t| format!("a sheet's name {t}"));
        let taken = (name == "unknown" || section.cx.library.metal(name).is_ok())
            .then(|| format!("`{}` is a metal's name, and the sheet is what nobody knows", shown(name)));
        let described =
            own.contains(&name).then(|| format!("this file describes [metal.{}] itself", shown(name)));
        let Some(refused) = trouble.or(taken).or(described) else { return Some(name.to_owned()) };
        let refused = Diagnostic::error("name-taken", refused)
            .help("choose another name, as in sheet = \"shop-sheet\"; without one it is \"bench\"");
        section.note(refused, span);
        None
    });
    let kind = section.needed_choice(&keys::KIND, &TestKind::ALL.map(|kind| (kind.word(), kind))).value()?;
    strangers(section, kind);
    let test = match kind {
        TestKind::BendStrip => bend_strip(section),
        TestKind::Wrap => wrap(section),
        TestKind::Weigh => weigh(section),
        TestKind::Flex => flex(section),
        TestKind::Dent => dent(section),
        TestKind::Conductivity => conductivity(section),
        TestKind::Fold => {
            let thickness = thickness(section);
            let radius = section.needed_quantity::<Length>(&keys::ROD_RADIUS).take();
            let cracked = section.needed_choice(&keys::CRACKED, &YES_OR_NO).value();
            Some(ShopTest::Fold { thickness: thickness?.read, radius: radius?, cracked: cracked? })
        }
        TestKind::Clue(clue) => {
            Some(ShopTest::Clue(clue, section.needed_choice(&keys::ANSWER, &YES_OR_NO).value()?))
        }
        TestKind::Stamp => Some(ShopTest::Stamp(name(section, &keys::MARK)?)),
        TestKind::Told => {
            let trust = section.number(&keys::TRUST);
            let named = name(section, &keys::WORD);
            let trust = if trust.given() { trust.take()? } else { TRUSTED };
            Some(ShopTest::Told(named?, trust))
        }
    }?;
    let sheet = if sheet.given() { sheet.take()? } else { BENCH.to_owned() };
    Some(BenchTest { sheet, test })
}

/// Notes keys that some other kind takes.
fn strangers(section: &Section<'_>, kind: TestKind) {
    for entry in &section.table.entries {
        let key = entry.key.as_str();
        let common = key == keys::SHEET.name || key == keys::KIND.name;
        if !common && keys::BENCH_TEST.names.contains(&key) && !keys_of(kind).contains(&key) {
            let refused = Diagnostic::error(
                "unknown-key",
                format!("`{key}` is not a key of a bench test \"{}\"", kind.word()),
            )
            .help(format!("accepted here: sheet, kind, {}", keys_of(kind).join(", ")));
            section.note(refused, entry.key_span.clone());
        }
    }
}

/// A quantity with how far it may be off: its written tolerance, or what is usual.
fn measured<Q>(section: &Section<'_>, key: &Key, usual: impl Fn(Q) -> Q) -> Found<Measured<Q>>
where
    Q: Entered + Mul<f64, Output = Q>,
{
    let written = match section.table.get(key.name).map(|entry| &entry.node.value) {
        Some(Value::Text(text)) => with_tolerance::<Q>(text).ok().and_then(|read| read.half_width),
        _ => None,
    };
    section.quantity::<Q>(key).and_then(|value, span| {
        let deviation = written.map_or_else(|| usual(value), |half| half * (1.0 / DEVIATIONS_IN_TOLERANCE));
        if deviation > Q::default() {
            return Some(Measured { read: value, deviation });
        }
        section.note(exact(key), span);
        None
    })
}

/// What is said of a reading that is off by nothing.
fn exact(key: &Key) -> Diagnostic {
    Diagnostic::error("no-tolerance", format!("`{}` can't be exact: no instrument is", key.name))
        .help("write what the instrument may be off by behind ±, or leave it out for what is usual")
}

fn needed<Q>(section: &Section<'_>, key: &Key, usual: impl Fn(Q) -> Q) -> Option<Measured<Q>>
where
    Q: Entered + Mul<f64, Output = Q>,
{
    let found = measured(section, key, usual);
    section.needed(key, found).take()
}

/// The same of a plain number.
fn number(section: &Section<'_>, key: &Key, usual: f64) -> Found<Measured<f64>> {
    let written = match section.table.get(key.name).map(|entry| &entry.node.value) {
        Some(Value::Text(text)) => number_with_tolerance(text).ok().map(|(_, half)| half),
        _ => None,
    };
    section.number(key).and_then(|value, span| {
        let deviation = written.map_or(usual * value, |half| half / DEVIATIONS_IN_TOLERANCE);
        if deviation > 0.0 {
            return Some(Measured { read: value, deviation });
        }
        section.note(exact(key), span);
        None
    })
}

fn by_mm(off: f64) -> impl Fn(Length) -> Length {
    move |_| Length::new::<millimeter>(off)
}

fn thickness(section: &Section<'_>) -> Option<Measured<Length>> {
    needed(section, &keys::THICKNESS, by_mm(CALIPER_MM))
}

fn strip(section: &Section<'_>) -> Option<Strip> {
    let width = needed(section, &keys::STRIP_WIDTH, by_mm(SAWN_MM));
    let thickness = thickness(section);
    let length = needed(section, &keys::STRIP_LENGTH, by_mm(RULER_MM));
    Some(Strip { width: width?, thickness: thickness?, length: length? })
}

fn bend_strip(section: &Section<'_>) -> Option<ShopTest> {
    let strip = strip(section);
    let weights = each(section, &keys::WEIGHTS, |node, dotted| {
        section.quantity_at::<Mass>(&keys::WEIGHTS, dotted, node).take()
    });
    let sets = each(section, &keys::SETS, |node, dotted| {
        if matches!(&node.value, Value::Text(text) if text == FOLDED) {
            return Some(None);
        }
        section.quantity_at::<Length>(&keys::SETS, dotted, node).take().map(Some)
    });
    let (weights, sets) = (weights?, sets?);
    if weights.len() != sets.len() {
        let refused = Diagnostic::error(
            "contradiction",
            format!(
                "{} weights and {} sets: each weight needs what stayed bent after it",
                weights.len(),
                sets.len()
            ),
        )
        .help("write \"0 mm\" where it sprang back straight, and \"folded\" where it gave way");
        section.note(refused, section.header.clone());
        return None;
    }
    if weights.windows(2).any(|pair| matches!(pair, [a, b] if a >= b)) {
        let refused =
            Diagnostic::error("contradiction", "`weights` have to rise: they are hung one after another")
                .help("a strip that has stayed bent once tells nothing of a smaller weight");
        section.note(refused, section.header.clone());
        return None;
    }
    if sets.iter().rev().skip(1).any(Option::is_none) {
        let refused = Diagnostic::error("contradiction", "nothing can be hung on a strip that has folded")
            .help("\"folded\" can only be the last of `sets`");
        section.note(refused, section.header.clone());
        return None;
    }
    Some(ShopTest::BendStrip {
        strip: strip?,
        steps: weights.into_iter().zip(sets).collect(),
        weight_deviation: SCALE,
        set_deviation: Length::new::<millimeter>(RULER_MM),
    })
}

/// Reads every item of a list that has to be there; `None` when one is wrong, or there is none.
fn each<T>(section: &Section<'_>, key: &Key, read: impl Fn(&Node, &str) -> Option<T>) -> Option<Vec<T>> {
    let list = section.list(key);
    let items = section.needed(key, list).take()?;
    if items.is_empty() {
        section.missing(key);
        return None;
    }
    let dotted = section.dotted(key.name);
    let all: Vec<Option<T>> =
        items.iter().enumerate().map(|(i, node)| read(node, &format!("{dotted}.{}", i + 1))).collect();
    all.into_iter().collect()
}

fn wrap(section: &Section<'_>) -> Option<ShopTest> {
    let thickness = thickness(section);
    let radius = needed(section, &keys::ROD_RADIUS, |r: Length| r * ROD);
    let after = measured(section, &keys::RADIUS_AFTER, |r: Length| r * (2.0 * ROD));
    let bent = section.quantity::<Angle>(&keys::BENT);
    let left = measured(section, &keys::BENT_AFTER, |_| Angle::new::<degree>(PROTRACTOR_DEG));
    let straight = section.choice(&keys::STRAIGHT, &YES_OR_NO);
    let angle = bent.given() || left.given();
    let ways = [after.given(), angle, straight.given()].iter().filter(|given| **given).count();
    if ways != 1 {
        let refused = Diagnostic::error(
            if ways == 0 { "missing-key" } else { "contradiction" },
            "a wrapped strip is told by one of three: its radius after, its angle before and after, or whether it is straight",
        )
        .help("add radius_after = \"11 mm\", or angle = \"90 deg\" with angle_after = \"86.5 deg\", or straight = \"yes\"");
        section.note(refused, section.header.clone());
        return None;
    }
    let after = if angle {
        let bent = section.needed(&keys::BENT, bent).placed().map(|(bent, span)| (*bent, span));
        let left = section.needed(&keys::BENT_AFTER, left).placed().map(|(left, span)| (*left, span));
        let ((bent, _), (left, span)) = (bent?, left?);
        springs(section, left.read <= bent, "angle_after", span)?;
        AfterWrap::Angle { bent, left }
    } else if straight.given() {
        AfterWrap::Straight(straight.value()?)
    } else {
        let (after, span) = after.placed().map(|(after, span)| (*after, span))?;
        springs(section, radius.is_none_or(|r| after.read >= r.read), "radius_after", span)?;
        AfterWrap::Radius(after)
    };
    Some(ShopTest::Wrap { thickness: thickness?, radius: radius?, after })
}

/// Refuses a strip that is bent more after it was let go than before.
fn springs(section: &Section<'_>, opened: bool, key: &str, span: Span) -> Option<()> {
    if !opened {
        let refused = Diagnostic::error(
            "contradiction",
            format!("`{key}` says the strip bent further when it was let go, and strips open"),
        )
        .help("perhaps the two are swapped");
        section.note(refused, span);
    }
    opened.then_some(())
}

fn weigh(section: &Section<'_>) -> Option<ShopTest> {
    let scale = |_| Mass::new::<gram>(FINE_SCALE_G);
    let mass = needed(section, &keys::PIECE_MASS, scale);
    let in_water = measured(section, &keys::IN_WATER, scale);
    let volume = if in_water.given() {
        let (hung, span) = in_water.placed().map(|(hung, span)| (*hung, span))?;
        let lost = mass?.read - hung.read;
        // Water takes a thirtieth of the weight of the heaviest metal there is.
        if lost < mass?.read * (1.0 / 30.0) {
            let refused = Diagnostic::error(
                "contradiction",
                "`in_water` has to be less than `mass`: water carries a part of it",
            )
            .help("hang the piece from the scale by a thread, wholly under water, and free of the bottom");
            section.note(refused, span);
            return None;
        }
        Volume::InWater(hung)
    } else {
        Volume::Sides(strip(section)?)
    };
    Some(ShopTest::Weigh { mass: mass?, volume })
}

fn flex(section: &Section<'_>) -> Option<ShopTest> {
    let strip = strip(section);
    let weight = needed(section, &keys::WEIGHT, |m: Mass| m * SCALE);
    let movement = needed(section, &keys::MOVEMENT, by_mm(RULER_MM));
    Some(ShopTest::Flex { strip: strip?, weight: weight?, movement: movement? })
}

fn dent(section: &Section<'_>) -> Option<ShopTest> {
    let brinell = number(section, &keys::BRINELL, HARDNESS);
    let vickers = number(section, &keys::VICKERS, HARDNESS);
    let dents = [keys::DENT, keys::KNOWN_DENT].map(|key| section.table.get(key.name).is_some());
    let beside = dents.contains(&true) || section.table.get(keys::KNOWN.name).is_some();
    let ways = [brinell.given(), vickers.given(), beside].iter().filter(|given| **given).count();
    if ways != 1 {
        let refused = Diagnostic::error(
            if ways == 0 { "missing-key" } else { "contradiction" },
            "a hardness is told by one of three: a Brinell number, a Vickers number, or a dent beside one in a known piece",
        )
        .help("add brinell = 95, or vickers = 107, or dent and known_dent with known = \"6082-T6\"");
        section.note(refused, section.header.clone());
        return None;
    }
    if beside {
        let dent = needed(section, &keys::DENT, by_mm(LENS_MM));
        let known_dent = needed(section, &keys::KNOWN_DENT, by_mm(LENS_MM));
        let known =
            section.lookup(&keys::KNOWN, |library, name| library.metal(name)).placed().map(|(m, s)| (*m, s));
        let (known, span) = known?;
        if known.bands.iter().all(|band| band.hardness.is_none()) {
            let refused =
                Diagnostic::error("no-value", format!("the table has no hardness of {}", known.name))
                    .help("compare with another piece, such as known = \"6082-T6\"");
            section.note(refused, span);
            return None;
        }
        return Some(ShopTest::Dent(Hardness::Beside {
            dent: dent?,
            known_dent: known_dent?,
            known: Box::new(known.clone()),
        }));
    }
    let hardness =
        if brinell.given() { Hardness::Brinell(brinell.take()?) } else { Hardness::Vickers(vickers.take()?) };
    Some(ShopTest::Dent(hardness))
}

fn conductivity(section: &Section<'_>) -> Option<ShopTest> {
    let iacs = number(section, &keys::IACS, METER);
    let siemens = number(section, &keys::MS_PER_M, METER);
    if iacs.given() == siemens.given() {
        let both = iacs.given();
        let refused = Diagnostic::error(
            if both { "contradiction" } else { "missing-key" },
            "a conductivity is told by one of two: `iacs` in % IACS, or `ms_per_m` in MS/m",
        )
        .help("add a line such as iacs = 43");
        section.note(refused, section.header.clone());
        return None;
    }
    if iacs.given() {
        return iacs.take().map(ShopTest::Conductivity);
    }
    let Measured { read: value, deviation } = siemens.take()?;
    let iacs = |siemens: f64| 100.0 * siemens / IACS_MS_PER_M;
    Some(ShopTest::Conductivity(Measured { read: iacs(value), deviation: iacs(deviation) }))
}

/// A name that was read or heard.
fn name(section: &Section<'_>, key: &Key) -> Option<Named> {
    let (name, span) = section.needed_text(key).placed().map(|(name, span)| (*name, span))?;
    if let Some(trouble) = unprintable(name) {
        section.note(Diagnostic::error("bad-text", format!("`{}` {trouble}", key.name)), span);
        return None;
    }
    if name.trim().is_empty() || name.trim() == OPEN {
        section.note(Diagnostic::error("bad-text", format!("`{}` says nothing", key.name)), span);
        return None;
    }
    Some(named(name.trim(), section.cx.library))
}

/// The rows that a name may mean: a row, all tempers of an alloy, or what the counter's word stands for.
fn named(name: &str, library: &Library) -> Named {
    let of_alloy = |alloy: &str| -> Vec<String> {
        let all = library.metals.iter().map(|m| m.name.as_str());
        let own = |row: &&str| {
            row.split_once('-').is_some_and(|(first, _)| first.eq_ignore_ascii_case(alloy))
                || row.eq_ignore_ascii_case(alloy)
        };
        all.filter(own).map(str::to_owned).collect()
    };
    // As marks have it: EN AW-6082 T6.
    let bare = name.trim_start_matches("EN").trim_start_matches([' ', '-']).trim_start_matches("AW");
    let bare = bare.trim_start_matches([' ', '-']).replace(' ', "-");
    let name_of = |name: &str| library.metal(name).map(|m| vec![m.name.clone()]).unwrap_or_default();
    let mut rows: Vec<String> = name_of(name);
    if rows.is_empty() {
        rows = name_of(&bare);
    }
    if rows.is_empty() {
        rows = of_alloy(&bare);
    }
    if rows.is_empty() {
        rows = of_alloy(name);
    }
    if rows.is_empty()
        && let Some(word) = library.counter_names.iter().find(|c| c.name.eq_ignore_ascii_case(name))
    {
        rows = word.alloys.iter().flat_map(|alloy| of_alloy(alloy)).collect();
    }
    Named { name: name.to_owned(), rows }
}
