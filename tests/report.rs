//! The report for people, whole: the examples, an aeroplane in inches, a tailwheel aeroplane with limits of the
//! builder's own. And the sums it shows, redone from the printed figures.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that can't go on says so"
)]

use gearleg::analysis;
use gearleg::input::project::load_project;
use gearleg::input::tables::builtin;
use gearleg::model::Project;
use gearleg::report::{Detail, check_text, render};
use gearleg::results::CheckResult;
use std::collections::{BTreeMap, HashMap};
use std::path::Path;
use std::sync::{Arc, Mutex, PoisonError};

const EXPLAINED: Detail = Detail { every_case: false, explain: true };

/// A project and its check, made once for all tests.
fn checked(path: &str) -> Arc<(Project, CheckResult)> {
    static CHECKED: Mutex<BTreeMap<String, Arc<(Project, CheckResult)>>> = Mutex::new(BTreeMap::new());
    let check = || {
        let library = builtin().expect("the built-in tables are sound");
        let (project, _) = load_project(Path::new(path), &library)
            .unwrap_or_else(|found| panic!("{path}:\n{}", render(&found.0, false)));
        let result = analysis::check(&project, &library).expect("it has a solution");
        Arc::new((project, result))
    };
    let mut known = CHECKED.lock().unwrap_or_else(PoisonError::into_inner);
    Arc::clone(known.entry(path.to_owned()).or_insert_with(check))
}

fn report(path: &str, detail: Detail) -> String {
    let (project, result) = &*checked(path);
    check_text(project, result, detail)
}

fn example(name: &str) -> String {
    report(&format!("docs/examples/{name}.toml"), Detail::default())
}

#[test]
fn plain_main_gear() {
    insta::assert_snapshot!(example("survey-plane"));
}

#[test]
fn braced_main_gear() {
    insta::assert_snapshot!(example("survey-plane-braced"));
}

#[test]
fn unknown_metal() {
    insta::assert_snapshot!(example("survey-plane-unknown"));
}

#[test]
fn nose_gear_with_one_arm() {
    insta::assert_snapshot!(example("survey-plane-nose-single"));
}

#[test]
fn nose_gear_with_two_arms() {
    insta::assert_snapshot!(example("survey-plane-nose-twin"));
}

/// A builder who measured something must not think that it counted when it did not.
#[test]
fn what_is_used_elsewhere_is_said() {
    let said = |name: &str| report(&format!("tests/input/valid/{name}.toml"), Detail::default());
    let dropped = said("drop-tests").replace("\n    ", " ");
    assert!(dropped.contains("Used by `gearleg drop` and not here: `clearance`, `drop_test`."), "{dropped}");
    // These do count now: how it yields, in its limit load.
    for name in ["own-metal-smooth", "own-metal"] {
        assert!(!said(name).contains("read but not used; nothing"), "{name}");
    }
}

#[test]
fn everything_in_inches() {
    insta::assert_snapshot!(report("tests/input/report/inches.toml", EXPLAINED));
}

#[test]
fn tailwheel_with_limits_and_a_case_of_ones_own() {
    insta::assert_snapshot!(report("tests/input/report/tailwheel-limits.toml", Detail::default()));
}

#[test]
fn two_mounts_in_full() {
    insta::assert_snapshot!(report("tests/input/report/mounted.toml", Detail::default()));
}

/// Every order and every landing of the mount, not the worst alone.
#[test]
fn every_case_shows_every_order_and_every_mount() {
    let every = report("tests/input/report/mounted.toml", Detail { every_case: true, explain: false });
    let (_, orders) = every.split_once("WHAT GIVES FIRST").expect("it is told");
    let (orders, rest) = orders.split_once("\nMARGINS").expect("margins follow");
    let (_, mounts) = rest.split_once("THE MOUNT at limit load").expect("it is told");
    let (mounts, _) = mounts.split_once("TAKEN FOR GRANTED").expect("remarks follow");
    for (gear, landings) in [
        ("main", &["a level landing", "a one-wheel landing", "a rut or long grass"][..]),
        ("nose", &["a level landing", "a nose-wheel load aft", "a rut or long grass"]),
    ] {
        for landing in landings {
            for part in [orders, mounts] {
                assert_eq!(part.matches(&format!("\nGear {gear}, {landing}:\n")).count(), 1, "{part}");
            }
        }
    }
    assert!(!every.contains("the other landings"), "{every}");
    let joined = mounts.replace("\n    ", " ");
    assert_eq!(joined.matches("The wood pushes on the plate with").count(), 7, "{mounts}");
}

/// What gives first, in words, whichever kind of part it is.
#[test]
fn who_means_a_part_to_give_first_is_told_what_gives_before() {
    let text = report("tests/input/report/mounted.toml", Detail::default()).replace("\n    ", " ");
    let (verdict, rest) = text.split_once("THE LANDING").expect("the landing follows");
    assert!(
        verdict.contains("the bolts should give first, but in a rut or long grass flat centre stays bent at"),
        "{verdict}"
    );
    assert!(rest.contains("The file means the bolts to give first."), "{rest}");
    assert!(!verdict.contains("not checked"), "{verdict}");
}

#[test]
fn who_writes_inches_reads_inches() {
    let text = report("tests/input/report/inches.toml", Detail { every_case: true, explain: true });
    // Only the echo of what was read is in the tool's own units, to show the conversion.
    let (before, after) = text.split_once("HOW YOUR FIGURES WERE READ").expect("there is an echo");
    let cautions = after.split_once("CAUTIONS").expect("cautions come last").1;
    // A source is named in its own words: "the row for diameters up to 16 mm".
    let own: String = before
        .split("\n\n")
        .map(|block| block.split("  - Source:").next().unwrap_or_default())
        .collect::<Vec<_>>()
        .join("\n\n");
    let words = own.split_whitespace().chain(cautions.split_whitespace());
    let metric = ["mm", "mm²", "mm^2", "mm^3", "mm^4", "N", "MPa", "GPa", "N/mm", "m/s"];
    let figure_before = |word: &str| word.parse::<f64>().is_ok();
    let all: Vec<&str> = words.map(|w| w.trim_matches([',', ';', '.', ':', '(', ')'])).collect();
    for pair in all.windows(2) {
        assert!(!(figure_before(pair[0]) && metric.contains(&pair[1])), "{} {}", pair[0], pair[1]);
    }
    for unit in [" lbf", " ksi", " lbf in", " in^4"] {
        assert!(before.contains(unit), "no{unit} in the report");
    }
}

/// A sum of the report: its heading, its symbols with the printed figures, and the printed margin.
struct Sum {
    title: String,
    figures: HashMap<String, f64>,
    notes: String,
    margin: f64,
}

impl Sum {
    fn of(&self, symbol: &str) -> f64 {
        *self.figures.get(symbol).unwrap_or_else(|| panic!("{}: no {symbol}", self.title))
    }
}

/// The first sum whose heading contains these words.
fn sum(path: &str, words: &str) -> Sum {
    let text = report(path, EXPLAINED);
    let sums = text.split_once("THE SUMS\n").expect("the sums are shown").1;
    let block = sums
        .split("\n\n")
        .find(|block| block.lines().next().is_some_and(|title| title.contains(words)))
        .unwrap_or_else(|| panic!("no sum of {words} in {path}"));
    let mut figures = HashMap::new();
    let mut margin = None;
    for line in block.lines() {
        let Some((symbol, rest)) = line.strip_prefix("  - ").and_then(|item| item.split_once(" = ")) else {
            continue;
        };
        if symbol == "margin" && line.contains(" / (") {
            margin = line.rsplit(" = ").next().and_then(|last| last.parse().ok());
        } else if let Some(Ok(value)) = rest.split(' ').next().map(str::parse) {
            figures.insert(symbol.to_owned(), value);
        }
    }
    Sum {
        title: block.lines().next().unwrap_or_default().to_owned(),
        figures,
        notes: block.to_owned(),
        margin: margin.unwrap_or_else(|| panic!("no margin under {words}")),
    }
}

/// Printed figures have five digits, so each is off by 5e-5 of itself at most; a sum of a handful of them by some
/// times that. Looser is larger.
const PRINTED: f64 = 5e-4;

fn assert_close(actual: f64, expected: f64, scale: f64, what: &str) {
    assert!((actual - expected).abs() <= PRINTED * scale.abs(), "{what}: {actual} is not {expected}");
}

const BRACED: &str = "docs/examples/survey-plane-braced.toml";
const INCHES: &str = "tests/input/report/inches.toml";
const POUNDS_IN_A_KIP: f64 = 1000.0;

/// Bending stress of the leg from the printed forces; `per_moment` brings moment over length³ to the unit of stress.
fn redo_leg_yield(path: &str, per_moment: f64, per_force: f64) {
    let s = sum(path, "leg stays bent");
    let (b, t) = (s.of("b"), s.of("t"));
    let axial = s.of("N") / (b * t) * per_force;
    let flat = s.of("M_f") / (b * t * t / 6.0) * per_moment;
    let edge = s.of("M_e") / (t * b * b / 6.0) * per_moment;
    let stress = s.of("σ_v");
    assert_close(axial, s.of("N/A"), stress, "N/A");
    assert_close(flat, s.of("M_f/W_f"), stress, "M_f/W_f");
    assert_close(edge, s.of("M_e/W_e"), stress, "M_e/W_e");
    // The note says where on which face: there the two bendings count as far as the point is from the middle.
    let place = s.notes.split(" % of the way").next().and_then(|before| before.rsplit(' ').next());
    let place = place.and_then(|p| p.parse::<f64>().ok()).expect("the note gives the place") / 100.0;
    assert!(s.notes.contains("upper face"), "{}", s.notes);
    // Positive flatwise bending pulls at the lower face, so it pushes at the upper one.
    let normal = [1.0, -1.0].map(|sign| axial - flat + sign * place * edge);
    assert!(
        normal.iter().any(|n| (n - s.of("σ")).abs() <= PRINTED * stress),
        "{}: {normal:?} is not {}",
        s.title,
        s.of("σ")
    );
    assert_close((s.of("σ").powi(2) + 3.0 * s.of("τ").powi(2)).sqrt(), stress, stress, "σ_v");
    assert_close(s.of("σ_y") / stress - 1.0, s.margin, 1.0 + s.margin, "margin");
}

#[test]
fn the_legs_stress_can_be_redone_in_newtons_and_millimetres() {
    redo_leg_yield(BRACED, 1000.0, 1.0);
}

#[test]
fn the_legs_stress_can_be_redone_in_pounds_and_inches() {
    redo_leg_yield(INCHES, 1.0 / POUNDS_IN_A_KIP, 1.0 / POUNDS_IN_A_KIP);
}

#[test]
fn the_axles_stress_can_be_redone() {
    for (path, per_moment, per_force) in
        [(BRACED, 1000.0, 1.0), (INCHES, 1.0 / POUNDS_IN_A_KIP, 1.0 / POUNDS_IN_A_KIP)]
    {
        let s = sum(path, "axle bends");
        let d = s.of("d");
        let pi = std::f64::consts::PI;
        let stress = 32.0 * s.of("M") / (pi * d.powi(3)) * per_moment
            + 4.0 * s.of("N").abs() / (pi * d * d) * per_force;
        assert_close(stress, s.of("σ"), stress, path);
        assert_close(s.of("σ_y") / stress - 1.0, s.margin, 1.0 + s.margin, path);
    }
}

#[test]
fn the_column_can_be_redone() {
    for path in [BRACED, INCHES] {
        let s = sum(path, "leg buckles");
        let load = s.of("λ") * 1.5 * s.of("N");
        assert_close(load, s.of("P"), load, path);
        assert_close(s.of("λ") - 1.0, s.margin, s.of("λ"), path);
    }
}

#[test]
fn tipping_over_sideways_can_be_redone() {
    for (path, per_moment) in [(BRACED, 1e-3), (INCHES, POUNDS_IN_A_KIP)] {
        let s = sum(path, "leg tips over");
        let moment =
            s.of("k") * (s.of("E") * s.of("I_f") * s.of("G") * s.of("J")).sqrt() / s.of("L") * per_moment;
        assert_close(moment, s.of("M_cr"), moment, path);
        assert_close(moment / (1.5 * s.of("M_e")) - 1.0, s.margin, 1.0 + s.margin, path);
    }
}

#[test]
fn a_wires_end_can_be_redone() {
    for path in [BRACED, INCHES] {
        let s = sum(path, "wire end lets go");
        let margin = s.of("e") * s.of("F_b") / (1.5 * 1.15 * s.of("T")) - 1.0;
        assert_close(margin, s.margin, 1.0 + s.margin, path);
    }
}
