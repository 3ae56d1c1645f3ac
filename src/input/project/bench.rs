//! `[[bench_test]]` and `[bench_prior]`: what was tried with sheets that nobody knows, and plates of them.

use super::keys::{self, Key};
use super::measure::millimetres;
use super::own::OwnMetals;
use super::section::{Context, Section, nearest, shown, unprintable};
use super::shop_test::{self, named};
use super::tree::{Node, Span, Table, Value};
use crate::desk;
use crate::diagnostic::Diagnostic;
use crate::material::{Library, Metal};
use crate::model::{Bench, BenchPrior, BenchTest, LegDrop, ShopTest, TestKind};
use crate::report::figure::{figure, list_and};
use crate::results::{AlikeFamilies, SheetGrade};
use crate::units::{Length, Unit};
use std::sync::{Arc, Mutex, PoisonError};

/// The sheet of tests that name none.
const BENCH: &str = "bench";

/// What is worked out once for all readings of a file, whose designs and samples have the same.
pub(super) type Sheets = Arc<Mutex<Known>>;

#[derive(Debug, Default)]
pub(super) struct Known {
    kept: Option<Kept>,
    /// Drops with the sets that they leave.
    drops: Vec<LegDrop>,
}

impl Known {
    /// The same drop as it was read before, with what is known of it by now.
    pub(super) fn same_drop(&mut self, read: LegDrop) -> LegDrop {
        if let Some(same) = self.drops.iter().find(|known| **known == read) {
            return same.clone();
        }
        self.drops.push(read.clone());
        read
    }
}

/// Letters of a sheet's name: it stands in headings.
const LONGEST_NAME: usize = 40;

/// Metals of graded sheets, with the tests and the table that they were made of.
#[derive(Debug)]
struct Kept {
    bench: Bench,
    table: Vec<Metal>,
    sheets: Vec<Sheet>,
}

#[derive(Debug)]
struct Sheet {
    graded: SheetGrade,
    /// `None` where the tests leave no strength to design with.
    metal: Option<Metal>,
}

impl Kept {
    fn new(bench: &Bench, library: &Library) -> Self {
        let graded = |sheet: &str| {
            let graded = desk::one_sheet(sheet, &bench.of(sheet), library, None, &bench.prior);
            Sheet { metal: desk::metal(&graded, library), graded }
        };
        Self {
            bench: bench.clone(),
            table: library.metals.clone(),
            sheets: bench.sheets().into_iter().map(graded).collect(),
        }
    }
}

/// Sheets that plates are of.
fn wanted<'a>(root: &'a Table, bench: &Bench) -> Vec<(&'a str, Span)> {
    let tested = bench.sheets();
    let plates = plates(root).filter(|(_, metal, _)| tested.contains(metal));
    plates.map(|(_, metal, span)| (metal, span)).collect()
}

/// Tests of the sheets that plates are of.
pub(super) fn tests_of_plates<'b>(root: &Table, bench: &'b Bench) -> Vec<&'b ShopTest> {
    let wanted = wanted(root, bench);
    let of_plate = |test: &&BenchTest| wanted.iter().any(|(sheet, _)| *sheet == test.sheet);
    bench.tests.iter().filter(of_plate).map(|test| &test.test).collect()
}

/// Takes in the sheets that plates are of; notes tests of theirs that fit nothing or contradict each other, and plates that may be of
/// metals that differ in stiffness.
pub(super) fn add_sheets(cx: &Context<'_>, root: &Table, bench: &Bench, metals: &mut OwnMetals) {
    let wanted = wanted(root, bench);
    if !wanted.is_empty() {
        add_graded(cx, root, bench, &wanted, metals);
    }
    // One whose tests are all wrong has had its messages.
    for name in named_sheets(root) {
        if !metals.has(&name) {
            metals.add(name, None);
        }
    }
}

fn add_graded(
    cx: &Context<'_>,
    root: &Table,
    bench: &Bench,
    wanted: &[(&str, Span)],
    metals: &mut OwnMetals,
) {
    // A reader that panicked has left nothing half done.
    let mut known = cx.sheets.lock().unwrap_or_else(PoisonError::into_inner);
    let kept = match known.kept.take() {
        Some(same) if same.bench == *bench && same.table == cx.library.metals => known.kept.insert(same),
        _ => known.kept.insert(Kept::new(bench, cx.library)),
    };
    for Sheet { graded, metal } in &kept.sheets {
        let name = &graded.sheet;
        metals.add(name.clone(), metal.clone());
        let own = wanted.iter().filter(|(of, _)| of == name);
        let plates: Vec<&Span> = own.map(|(_, span)| span).collect();
        if !plates.is_empty() {
            note_tests(cx, root, graded);
            note_families(cx, graded, &plates);
        }
    }
}

/// The code of a message about a test that leaves no strength to design with.
pub const NO_STRENGTH: &str = "no-strength";

/// Notes tests of a sheet that fit nothing, and such as contradict each other.
fn note_tests(cx: &Context<'_>, root: &Table, sheet: &SheetGrade) {
    let own = tested(root).into_iter().filter(|(name, _)| *name == sheet.sheet);
    let places: Vec<Span> = own.map(|(_, place)| place).collect();
    // Where some were wrong, their numbers are not those of the tests; they have had their messages.
    if places.len() != sheet.tests.len() {
        return;
    }
    let name = shown(&sheet.sheet);
    for misfit in &sheet.misfits {
        let Some(place) = places.get(*misfit) else { continue };
        let refused = Diagnostic::error(
            NO_STRENGTH,
            format!("this test fits no metal, so the bench tests of `{name}` leave no strength to design with"),
        )
        .help("look for a slip of a unit or a reading, and repeat it; `gearleg grade` says what the others tell");
        cx.note(refused, place.clone());
    }
    let left_out = list_and(&sheet.all_in_words(&sheet.left_out));
    for contradiction in sheet.contradictions.iter().filter(|_| sheet.misfits.is_empty()) {
        let Some(place) = contradiction.tests.last().and_then(|last| places.get(*last)) else { continue };
        let names = list_and(&sheet.all_in_words(&contradiction.tests));
        let doubt = Diagnostic::warning(
            "contradiction",
            format!("tests {names} of `{name}` contradict each other"),
        )
        .help(format!(
            "until they are repeated `{name}` is reckoned by the side that leaves less strength, without {left_out}"
        ));
        cx.note(doubt, place.clone());
    }
}

/// Notes plates of a sheet that may be of metals that differ in stiffness.
fn note_families(cx: &Context<'_>, sheet: &SheetGrade, plates: &[&Span]) {
    let likely = sheet.likely_families();
    let ([first, _, ..], true) = (likely.as_slice(), sheet.misfits.is_empty()) else { return };
    let told = |of: &AlikeFamilies| format!("{} ({})", of.words(), figure(of.modulus, Unit::Gigapascal, 3));
    let each: Vec<String> = likely.iter().map(told).collect();
    let weighed = sheet.tests.iter().any(|test| test.kind == TestKind::Weigh);
    for place in plates {
        let doubt = Diagnostic::warning(
            "doubtful",
            format!("the tests of `{}` leave open whether it is {}", shown(&sheet.sheet), each.join(", or ")),
        )
        .help(format!(
            "margins are reckoned with each and the worse counts; what `drop` tells, and `compare` beside margins, and the chances of --spread are those of {}",
            first.words()
        ))
        .help(match (weighed, sheet.contradictions.is_empty()) {
            (true, false) => "repeat the tests that contradict each other",
            (true, true) => "the piece was weighed too coarsely to tell: a larger one, or a finer scale, does",
            (false, _) => "a piece on the kitchen scale tells: add a [[bench_test]] with kind = \"weigh\"",
        });
        cx.note(doubt, (*place).clone());
    }
}

/// Warns of a plate that is of another thickness than the sheet that was tested.
pub(super) fn same_sheet(section: &Section<'_>, metal: &Metal, (thickness, span): (Length, Span)) {
    if let Some(tested) = metal.tested.as_ref().and_then(|tested| tested.other_than(thickness)) {
        let doubt = Diagnostic::warning(
            "doubtful",
            format!(
                "tests of `{}` are of a piece of {}, and a plate of it is {} thick",
                shown(&metal.name),
                millimetres(tested),
                millimetres(thickness)
            ),
        )
        .help("another thickness is another sheet, and may be of another metal: test an offcut of this one");
        section.note(doubt, span);
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

/// Names of all sheets that have tests, good or bad.
pub(super) fn named_sheets(root: &Table) -> Vec<String> {
    tested(root).into_iter().map(|(name, _)| name).collect()
}

/// The sheet of every test, good or bad, and where the test stands.
fn tested(root: &Table) -> Vec<(String, Span)> {
    let tests = match root.get("bench_test").map(|entry| &entry.node.value) {
        Some(Value::List(tests)) => tests.as_slice(),
        _ => &[],
    };
    let named = |test: &Node| match &test.value {
        Value::Table(test) => match test.get(keys::SHEET.name).map(|entry| &entry.node.value) {
            Some(Value::Text(name)) => name.clone(),
            _ => BENCH.to_owned(),
        },
        _ => BENCH.to_owned(),
    };
    tests.iter().map(|test| (named(test), test.span.clone())).collect()
}

/// Every gear and what its plate is said to be of, and where.
pub(super) fn plates(root: &Table) -> impl Iterator<Item = (&str, &str, Span)> {
    let gears = match root.get("gear").map(|entry| &entry.node.value) {
        Some(Value::Table(gears)) => gears.entries.as_slice(),
        _ => &[],
    };
    gears.iter().filter_map(|entry| {
        let Value::Table(gear) = &entry.node.value else { return None };
        let Value::Table(plate) = &gear.get("plate")?.node.value else { return None };
        let metal = &plate.get(keys::METAL.name)?.node;
        match &metal.value {
            Value::Text(name) => Some((entry.key.as_str(), name.as_str(), metal.span.clone())),
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
        let taken = (name == keys::UNKNOWN || section.cx.library.metal(name).is_ok())
            .then(|| format!("`{}` is a metal's name, and the sheet is what nobody knows", shown(name)));
        let described =
            own.contains(&name).then(|| format!("this file describes [metal.{}] itself", shown(name)));
        let long = name.chars().count() > LONGEST_NAME;
        let long = long.then(|| format!("a sheet's name has at most {LONGEST_NAME} letters"));
        let Some(refused) = trouble.or(long).or(taken).or(described) else { return Some(name.to_owned()) };
        let refused = Diagnostic::error("name-taken", refused)
            .help("choose another name, as in sheet = \"shop-sheet\"; without one it is \"bench\"");
        section.note(refused, span);
        None
    });
    let kind = section.needed_choice(&keys::KIND, &TestKind::ALL.map(|kind| (kind.word(), kind))).value()?;
    // A test is looked through even where its sheet's name is wrong.
    let (given, sheet) = (sheet.given(), sheet.take());
    let named = sheet.clone().unwrap_or_else(|| BENCH.to_owned());
    let test = shop_test::read(section, kind, &named)?;
    if given && sheet.is_none() {
        return None;
    }
    Some(BenchTest { sheet: named, test })
}
