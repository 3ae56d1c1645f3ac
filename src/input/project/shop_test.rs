//! One shop test: its kind, its readings and what they may be off by.

use super::doubts::place;
use super::drop_test;
use super::gear;
use super::keys::{self, Key};
use super::measure::Entered;
use super::section::{Found, OPEN, Section, nearest, shown, unprintable};
use super::shop_meter;
use super::tree::{Node, Span, Value};
use crate::diagnostic::Diagnostic;
use crate::input::quantity::{number_with_tolerance, with_tolerance};
use crate::material::Library;

use crate::model::{
    AfterWrap, DEVIATIONS_IN_TOLERANCE, DropTest, LegDrop, Measured, Named, ShopTest, Strip, TestKind, Volume,
};
use crate::units::{Length, Mass};
use std::ops::Mul;
use std::sync::PoisonError;
use uom::si::angle::degree;
use uom::si::f64::Angle;
use uom::si::length::millimeter;
use uom::si::mass::gram;

/// What instruments are usually off by, as one standard deviation. Common practice, no source.
const CALIPER_MM: f64 = 0.02;
const SAWN_MM: f64 = 0.1;
const RULER_MM: f64 = 0.5;
const ROD: f64 = 0.01;
const PROTRACTOR_DEG: f64 = 0.5;
const SCALE: f64 = 0.005;
const FINE_SCALE_G: f64 = 0.05;

/// How far a dealer is trusted who is not asked about. chosen.
const TRUSTED: f64 = 0.6;

/// What a strip that gave way under its weight has in `sets`, and a gear that gave way in its drop in `set`.
const FOLDED: &str = "folded";

/// The keys of a kind, besides `sheet` and `kind`.
const fn keys_of(kind: TestKind) -> &'static [&'static str] {
    match kind {
        TestKind::BendStrip => &["width", "thickness", "length", "weights", "sets", "error"],
        TestKind::Wrap => &["thickness", "radius", "radius_after", "angle", "angle_after", "straight"],
        TestKind::Weigh => &["mass", "in_water", "width", "thickness", "length"],
        TestKind::Flex => &["width", "thickness", "length", "weight", "movement"],
        TestKind::Dent => &[
            "brinell",
            "vickers",
            "dent",
            "known_dent",
            "known",
            "reading",
            "known_readings",
            "known_pieces",
        ],
        TestKind::Conductivity => &["iacs", "ms_per_m", "current", "voltage", "width", "thickness", "length"],
        TestKind::Drop => &["gear", "height", "mass", "wing_lift", "set", "error"],
        TestKind::Fold => &["thickness", "radius", "cracked"],
        TestKind::Clue(_) => &["answer"],
        TestKind::Stamp => &["read"],
        TestKind::Told => &["word", "trust"],
    }
}

const YES_OR_NO: [(&str, bool); 2] = [("yes", true), ("no", false)];

/// Reads a test of a kind, made with a sheet.
pub(super) fn read(section: &Section<'_>, kind: TestKind, sheet: &str) -> Option<ShopTest> {
    strangers(section, kind);
    match kind {
        TestKind::BendStrip => bend_strip(section),
        TestKind::Wrap => wrap(section),
        TestKind::Weigh => weigh(section),
        TestKind::Flex => flex(section),
        TestKind::Dent => shop_meter::dent(section),
        TestKind::Conductivity => shop_meter::conductivity(section),
        TestKind::Drop => dropped(section, sheet),
        TestKind::Fold => {
            let needless = "how sheets differ in folding is far more than what calipers are off by, and is reckoned with";
            let thickness = plain(section, &keys::THICKNESS, needless);
            let radius = plain(section, &keys::ROD_RADIUS, needless);
            let cracked = section.needed_choice(&keys::CRACKED, &YES_OR_NO).value();
            Some(ShopTest::Fold { thickness: thickness?, radius: radius?, cracked: cracked? })
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
    }
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
            let refused = match nearest(key, keys_of(kind).iter().copied()) {
                Some(near) => refused.label(format!("perhaps `{near}`")),
                None => refused,
            };
            section.note(refused, entry.key_span.clone());
        }
    }
}

/// A quantity with how far it may be off: its written tolerance, or what is usual.
fn measured<Q>(section: &Section<'_>, key: &Key, usual: impl Fn(Q) -> Q) -> Found<Measured<Q>>
where
    Q: Entered + Mul<f64, Output = Q>,
{
    let written = section.table.get(key.name).and_then(|entry| written_half::<Q>(&entry.node));
    section.quantity::<Q>(key).and_then(|value, span| {
        let deviation = written.map_or_else(|| usual(value), |half| half * (1.0 / DEVIATIONS_IN_TOLERANCE));
        if deviation > Q::default() {
            return Some(Measured { read: value, deviation });
        }
        section.note(exact(key), span);
        None
    })
}

/// The tolerance that is written behind a quantity.
fn written_half<Q: Entered>(node: &Node) -> Option<Q> {
    match &node.value {
        Value::Text(text) => with_tolerance::<Q>(text).ok().and_then(|read| read.half_width),
        _ => None,
    }
}

/// What is said of a reading that is off by nothing.
fn exact(key: &Key) -> Diagnostic {
    Diagnostic::error("no-tolerance", format!("`{}` can't be exact: no instrument is", key.name))
        .help("write what the instrument may be off by behind ±, or leave it out for what is usual")
}

pub(super) fn needed<Q>(section: &Section<'_>, key: &Key, usual: impl Fn(Q) -> Q) -> Option<Measured<Q>>
where
    Q: Entered + Mul<f64, Output = Q>,
{
    let found = measured(section, key, usual);
    section.needed(key, found).take()
}

/// The same of a plain number, which is usually off by a share of it.
pub(super) fn number(section: &Section<'_>, key: &Key, usual: f64) -> Found<Measured<f64>> {
    number_off(section, key, |value| usual * value)
}

pub(super) fn number_off(
    section: &Section<'_>,
    key: &Key,
    usual: impl Fn(f64) -> f64,
) -> Found<Measured<f64>> {
    let written = match section.table.get(key.name).map(|entry| &entry.node.value) {
        Some(Value::Text(text)) => number_with_tolerance(text).ok().map(|(_, half)| half),
        _ => None,
    };
    section.number(key).and_then(|value, span| {
        let deviation = written.map_or_else(|| usual(value), |half| half / DEVIATIONS_IN_TOLERANCE);
        if deviation > 0.0 {
            return Some(Measured { read: value, deviation });
        }
        section.note(exact(key), span);
        None
    })
}

pub(super) fn by_mm(off: f64) -> impl Fn(Length) -> Length {
    move |_| Length::new::<millimeter>(off)
}

fn thickness(section: &Section<'_>) -> Option<Measured<Length>> {
    needed(section, &keys::THICKNESS, by_mm(CALIPER_MM))
}

pub(super) fn strip(section: &Section<'_>) -> Option<Strip> {
    let width = needed(section, &keys::STRIP_WIDTH, by_mm(SAWN_MM));
    let thickness = thickness(section);
    let length = needed(section, &keys::STRIP_LENGTH, by_mm(RULER_MM));
    let strip = Strip { width: width?, thickness: thickness?, length: length? };
    if strip.thickness.read > strip.width.read {
        let doubt = Diagnostic::warning("doubtful", "this strip is thicker than it is wide")
            .help("perhaps `width` and `thickness` are swapped");
        section.note(doubt, place(section, keys::THICKNESS.name));
    }
    Some(strip)
}

/// Where an item of a list stands, counted from 0.
fn item_place(section: &Section<'_>, key: &Key, index: usize) -> Span {
    let item = section.table.get(key.name).and_then(|entry| match &entry.node.value {
        Value::List(items) => items.get(index),
        _ => None,
    });
    item.map_or_else(|| place(section, key.name), |item| item.span.clone())
}

/// A quantity that has to be there and whose tolerance would not be used: `why` says what is reckoned with in its place.
fn plain<Q: Entered>(section: &Section<'_>, key: &Key, why: &str) -> Option<Q> {
    let value = section.needed_quantity::<Q>(key).take();
    no_tolerance::<Q>(section, key, why)?;
    value
}

/// Refuses a tolerance that would not be used.
fn no_tolerance<Q: Entered>(section: &Section<'_>, key: &Key, why: &str) -> Option<()> {
    let written = section.table.get(key.name).and_then(|entry| written_half::<Q>(&entry.node));
    if written.is_some() {
        let refused = Diagnostic::error("no-tolerance", format!("`{}` takes no ± here", key.name))
            .help(why.to_owned())
            .help("leave the ± out");
        section.note(refused, place(section, key.name));
        return None;
    }
    Some(())
}

/// Readings of one strip that are taken at most.
const MOST_READINGS: usize = 100;

fn bend_strip(section: &Section<'_>) -> Option<ShopTest> {
    let strip = strip(section);
    // What is written furthest off counts for all of them: they were hung on one scale.
    let mut off = 0.0_f64;
    let weights = each(section, &keys::WEIGHTS, |node, dotted| {
        let weight = section.quantity_at::<Mass>(&keys::WEIGHTS, dotted, node).take()?;
        let half = written_half::<Mass>(node);
        if half == Some(Mass::default()) {
            section.note(exact(&keys::WEIGHTS), node.span.clone());
            return None;
        }
        off = off.max(f64::from(half.unwrap_or_default() / weight) / DEVIATIONS_IN_TOLERANCE);
        Some(weight)
    });
    let sets = each(section, &keys::SETS, |node, dotted| {
        match &node.value {
            Value::Text(text) if text.eq_ignore_ascii_case(FOLDED) => return Some(None),
            Value::Text(text)
                if with_tolerance::<Length>(text).is_ok_and(|read| read.half_width.is_some()) =>
            {
                let refused = Diagnostic::error("no-tolerance", "all of `sets` are read with one ruler")
                    .help("write how exactly in a key of its own, such as error = \"0.5 mm\"");
                section.note(refused, node.span.clone());
                return None;
            }
            _ => {}
        }
        section.quantity_at::<Length>(&keys::SETS, dotted, node).take().map(Some)
    });
    let error = section.quantity::<Length>(&keys::TEST_ERROR);
    let set_deviation = match error.given() {
        true => error.take().map(|error| error * (1.0 / DEVIATIONS_IN_TOLERANCE)),
        false => Some(Length::new::<millimeter>(RULER_MM)),
    };
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
        section.note(refused, place(section, keys::SETS.name));
        return None;
    }
    if weights.len() > MOST_READINGS {
        let refused = Diagnostic::error(
            "too-many-readings",
            format!("a strip may have {MOST_READINGS} readings, and this one has {}", weights.len()),
        )
        .help("a dozen weights tell as much: from the last that leaves nothing bent on");
        section.note(refused, item_place(section, &keys::WEIGHTS, MOST_READINGS));
        return None;
    }
    if let Some(i) = weights.windows(2).position(|pair| matches!(pair, [a, b] if a >= b)) {
        let refused =
            Diagnostic::error("contradiction", "`weights` have to rise: they are hung one after another")
                .help("a strip that has stayed bent once tells nothing of a smaller weight");
        section.note(refused, item_place(section, &keys::WEIGHTS, i + 1));
        return None;
    }
    if let Some(i) = sets.iter().position(Option::is_none).filter(|i| i + 1 < sets.len()) {
        let refused = Diagnostic::error("contradiction", "nothing can be hung on a strip that has folded")
            .help("\"folded\" can only be the last of `sets`");
        section.note(refused, item_place(section, &keys::SETS, i));
        return None;
    }
    let (strip, set_deviation) = (strip?, set_deviation?);
    // Readings may be off by their error, one way and the other.
    let both = 2.0 * DEVIATIONS_IN_TOLERANCE * set_deviation;
    let shrinks = |pair: &[Option<Length>]| matches!(pair, [Some(one), Some(next)] if *one - *next > both);
    if let Some(i) = sets.windows(2).position(shrinks) {
        let refused =
            Diagnostic::error("contradiction", "after a heavier weight no less can stay bent than before it")
                .help("look for a slip, or for sets that are written in another order than `weights`");
        section.note(refused, item_place(section, &keys::SETS, i + 1));
        return None;
    }
    if let Some(i) = sets.iter().position(|set| set.is_some_and(|set| set >= strip.length.read)) {
        let refused =
            Diagnostic::error("contradiction", "no more can stay bent at the weight than the strip is long")
                .help("look for a slip of a unit; \"folded\" stands for a strip that gave way");
        section.note(refused, item_place(section, &keys::SETS, i));
        return None;
    }
    Some(ShopTest::BendStrip {
        strip,
        steps: weights.into_iter().zip(sets).collect(),
        weight_deviation: if off > 0.0 { off } else { SCALE },
        set_deviation,
    })
}

/// Reads every item of a list that has to be there; `None` when one is wrong, or there is none.
pub(super) fn each<T>(
    section: &Section<'_>,
    key: &Key,
    mut read: impl FnMut(&Node, &str) -> Option<T>,
) -> Option<Vec<T>> {
    let list = section.list(key);
    let items = section.needed(key, list).take()?;
    if items.is_empty() {
        let refused = Diagnostic::error("missing-value", format!("`{}` is an empty list", key.name))
            .help(format!("write it as in {} = {}", key.name, key.example));
        section.note(refused, place(section, key.name));
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
    let bent = measured(section, &keys::BENT, |_| Angle::new::<degree>(PROTRACTOR_DEG));
    let left = measured(section, &keys::BENT_AFTER, |_| Angle::new::<degree>(PROTRACTOR_DEG));
    let straight = section.choice(&keys::STRAIGHT, &YES_OR_NO);
    let angle = bent.given() || left.given();
    let ways = [after.given(), angle, straight.given()].iter().filter(|given| **given).count();
    if ways != 1 {
        let refused = Diagnostic::error(
            if ways == 0 { "missing-key" } else { "contradiction" },
            "a wrapped strip is told by one of three: its radius after, its angle before and after, or whether it is straight",
        )
        .help(if ways == 0 {
            "add radius_after = \"11 mm\", or angle = \"90 deg\" with angle_after = \"86.5 deg\", or straight = \"yes\""
        } else {
            "leave all but one out"
        });
        section.note(refused, section.header.clone());
        return None;
    }
    let after = if angle {
        let bent = section.needed(&keys::BENT, bent).placed().map(|(bent, span)| (*bent, span));
        let left = section.needed(&keys::BENT_AFTER, left).placed().map(|(left, span)| (*left, span));
        let ((bent, _), (left, span)) = (bent?, left?);
        springs(section, left.read <= bent.read, "angle_after", span)?;
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
    let sides =
        [keys::STRIP_WIDTH, keys::THICKNESS, keys::STRIP_LENGTH].map(|key| section.table.get(key.name));
    if in_water.given() == sides.iter().any(Option::is_some) {
        let both = in_water.given();
        let refused = Diagnostic::error(
            if both { "contradiction" } else { "missing-key" },
            "a piece's volume is told by one of two: what it weighs in water, or its width, thickness and length",
        )
        .help(if both {
            "leave one of them out"
        } else {
            "add in_water = \"65.6 g\", or width, thickness and length of a piece cut square"
        });
        section.note(refused, section.header.clone());
        return None;
    }
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

/// Share of its length by which a strip may go down for its stiffness to be told.
const FAR: f64 = 0.4;

fn flex(section: &Section<'_>) -> Option<ShopTest> {
    let strip = strip(section);
    let weight = needed(section, &keys::WEIGHT, |m: Mass| m * SCALE);
    let movement = needed(section, &keys::MOVEMENT, by_mm(RULER_MM));
    let (strip, movement) = (strip?, movement?);
    if movement.read > FAR * (1.0 + 1e-9) * strip.length.read {
        let refused = Diagnostic::error(
            "out-of-range",
            "a strip that goes down by more than 0.4 of its length tells little of its stiffness",
        )
        .help("hang less on it, or look for a slip of a unit");
        section.note(refused, place(section, keys::MOVEMENT.name));
        return None;
    }
    Some(ShopTest::Flex { strip, weight: weight?, movement })
}

/// What stayed of a drop, nothing where the gear gave way, and what it may be off by where that is written behind it.
fn dropped_set(section: &Section<'_>) -> Option<(Option<Length>, Option<Length>)> {
    let written = section.table.get(keys::TEST_SET.name).map(|entry| &entry.node.value);
    if matches!(written, Some(Value::Text(text)) if text.eq_ignore_ascii_case(FOLDED)) {
        return Some((None, None));
    }
    let set = needed(section, &keys::TEST_SET, by_mm(RULER_MM));
    let error = section.table.get(keys::TEST_SET.name).and_then(|entry| written_half::<Length>(&entry.node));
    if error.is_some() && section.table.get(keys::TEST_ERROR.name).is_some() {
        let refused = Diagnostic::error("contradiction", "how exactly `set` was read is written twice")
            .help("leave out `error`, or what stands behind ±");
        section.note(refused, place(section, keys::TEST_ERROR.name));
        return None;
    }
    Some((Some(set?.read), error))
}

/// A leg of the sheet dropped with its gear.
fn dropped(section: &Section<'_>, sheet: &str) -> Option<ShopTest> {
    let set = dropped_set(section);
    let followed = "a drop is followed from one height with one mass; 5 % of the strength is reckoned with for what a drop is off by";
    let without_tolerance = [
        no_tolerance::<Length>(section, &keys::TEST_HEIGHT, followed),
        no_tolerance::<Mass>(section, &keys::MASS, followed),
    ];
    let of = section.cx.draft.as_dropped(section.cx.library);
    let Some(of) = of else {
        if let Some((_, span)) = section.needed_text(&keys::GEAR_NAME).placed() {
            let refused =
                Diagnostic::error("no-such-gear", "the gear that was dropped is not wholly described in this file")
                    .help("a drop tells of a metal through the gear's own curve: the file needs [aircraft], [landing] and the gear")
                    .help("with every size it was dropped with; `?` is for sizes to come");
            section.note(refused, span);
        }
        // What else is wrong with it is said too.
        drop_test::made(section, None, None, None);
        return None;
    };
    let names: Vec<&str> = of.gears.iter().map(|gear| gear.name.as_str()).collect();
    let gear = gear::among(section, &names);
    let test = drop_test::made(section, gear, None, None);
    if without_tolerance.contains(&None) {
        return None;
    }
    let (set, error) = set?;
    let test = test?;
    let test = DropTest { set, error: error.unwrap_or(test.error), ..test };
    let name = &of.gears.get(test.gear)?.name;
    let span = section.table.get(keys::GEAR_NAME.name)?.node.span.clone();
    let written = section.cx.draft.metal_of(name).unwrap_or_default();
    if written != sheet && written != keys::UNKNOWN {
        let refused = Diagnostic::error(
            "contradiction",
            format!(
                "the legs of `{}` are not of the sheet `{}`, so their drop tells nothing of it",
                shown(name),
                shown(sheet)
            ),
        )
        .help(format!(
            "its plate has metal = \"{}\"; write metal = \"{}\" there if they were cut from that sheet",
            shown(&written),
            shown(sheet)
        ));
        section.note(refused, span);
        return None;
    }
    let drop = LegDrop::new(of, test);
    // A reader that panicked has left nothing half done.
    let mut known = section.cx.sheets.lock().unwrap_or_else(PoisonError::into_inner);
    Some(ShopTest::Drop(known.same_drop(drop)))
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
    let named = named(name.trim(), section.cx.library);
    if named.rows.is_empty() {
        let rows = section.cx.library.metals.iter().map(|m| m.name.as_str());
        let mut doubt = Diagnostic::warning(
            "doubtful",
            format!("no metal or alloy of the tables is called `{}`", shown(name.trim())),
        );
        if let Some(near) = nearest(name.trim(), rows) {
            doubt = doubt.label(format!("perhaps `{near}`"));
        }
        let help =
            "it speaks for a sheet that is none of the tables'; `gearleg tables metals` shows what they have";
        section.note(doubt.help(help), span);
    }
    Some(named)
}

/// The rows that a name may mean: a row, all tempers of an alloy, or what the counter's word stands for.
pub(super) fn named(name: &str, library: &Library) -> Named {
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
