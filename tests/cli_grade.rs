//! `gearleg grade` as its user runs it: exit codes, the shape of its JSON, its width and its messages.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that can't go on says so"
)]

#[path = "common/run.rs"]
mod run;

use run::*;
use serde_json::Value;
use std::fs;

const SHEET: &str = "docs/examples/shop-sheet.toml";

fn graded(text: &str, more: &[&str]) -> Ended {
    let folder = scratch();
    let file = path(&folder, "sheet.toml");
    fs::write(&file, text).expect("it can be written");
    gearleg(["grade", file.to_str().expect("a name")].iter().chain(more))
}

fn json(ended: &Ended) -> Value {
    serde_json::from_str(&ended.out).unwrap_or_else(|e| panic!("{e}: {}", ended.out))
}

#[test]
fn the_example_is_graded_in_words_first() {
    let ended = gearleg(["grade", SHEET]);
    assert_eq!((ended.code, ended.err.as_str()), (0, ""));
    assert_eq!(wide(&ended.out), Vec::<&str>::new());
    let first = ended.out.lines().find(|l| l.starts_with("  - ")).expect("a sentence");
    assert!(first.contains("Design with a yield strength of"), "{first}");
    for part in
        ["WHAT EACH TEST SAYS ALONE", "WHAT IT MAY BE", "CAUTIONS", "none of the table's", "eye protection"]
    {
        assert!(ended.out.contains(part), "{part}");
    }
    assert!(!ended.out.contains(" safe"), "never said of anything");
}

#[test]
fn json_has_the_names_that_scripts_rely_on() {
    let told = json(&gearleg(["grade", SHEET, "--format", "json"]));
    let [low, middle, high] = ["p05", "p50", "p95"].map(|p| told["yield_Pa"][p].as_f64().expect("a number"));
    assert!(low < middle && middle < high);
    assert_eq!(told["design_yield_Pa"].as_f64(), Some(low));
    let grades = told["grades"].as_array().expect("a list");
    let chances: Vec<f64> = grades.iter().map(|g| g["probability"].as_f64().expect("a chance")).collect();
    assert!(chances.windows(2).all(|w| w[0] >= w[1]), "the likeliest first");
    let none = told["none_of_these"].as_f64().expect("a chance");
    assert!((chances.iter().sum::<f64>() + none - 1.0).abs() < 1e-9);
    assert!(grades[0]["name"].is_string() && told["contradictions"].as_array().is_some_and(Vec::is_empty));
    assert_eq!(told["tests"].as_array().map(Vec::len), Some(6));
    let next = &told["next_test"];
    assert!(next.is_null() || (next["kind"].is_string() && next["why"].is_string()));
    assert_eq!(told["sheets"].as_array().map(Vec::len), Some(1));
}

#[test]
fn what_contradicts_itself_ends_with_one() {
    let text = "format = 1\n[[bench_test]]\nkind = \"stamp\"\nread = \"7075-T6\"\n[[bench_test]]\nkind = \"bend-strip\"\n\
                width = \"25 mm\"\nthickness = \"3 mm\"\nlength = \"150 mm\"\nweights = [\"2 kg\", \"2.5 kg\", \"3 kg\"]\n\
                sets = [\"0 mm\", \"0 mm\", \"4 mm\"]\n";
    let ended = graded(text, &[]);
    assert_eq!(ended.code, 1, "{}{}", ended.out, ended.err);
    assert!(ended.out.contains("Tests 1 (stamp) and 2 (bend-strip) contradict each other"), "{}", ended.out);
    let told = json(&graded(text, &["--format", "json"]));
    assert_eq!(told["contradictions"].as_array().map(Vec::len), Some(1));
}

#[test]
fn several_sheets_are_told_one_by_one() {
    let one = |sheet: &str, iacs: f64| {
        format!("[[bench_test]]\nsheet = \"{sheet}\"\nkind = \"conductivity\"\niacs = {iacs}\n")
    };
    let text = format!("format = 1\n{}{}{}", one("left", 30.0), one("right", 60.0), one("left", 31.0));
    let told = json(&graded(&text, &["--format", "json"]));
    let sheets = told["sheets"].as_array().expect("a list");
    assert_eq!(sheets.iter().map(|s| s["sheet"].as_str()).collect::<Vec<_>>(), [Some("left"), Some("right")]);
    assert_eq!(sheets[0]["tests"].as_array().map(Vec::len), Some(2));
    assert_eq!(told["sheet"], "left");
}

#[test]
fn a_file_without_a_test_is_refused_with_the_way_out() {
    let ended = gearleg(["grade", "docs/examples/survey-plane.toml"]);
    assert_eq!((ended.code, ended.out.as_str()), (2, ""));
    assert!(ended.err.contains("no bench test") && ended.err.contains("[[bench_test]]"), "{}", ended.err);
    let wrong = graded("format = 1\n[[bench_test]]\nkind = \"dent\"\n", &[]);
    assert_eq!(wrong.code, 2);
    assert!(wrong.err.contains("sheet.toml:2:1") && !wrong.err.contains("aircraft"), "{}", wrong.err);
}

/// `metal = "bench"`: the plate is of the sheet that the file's tests are of.
#[test]
fn a_gear_is_checked_with_the_lower_value_of_its_sheet() {
    let tests = text(std::path::Path::new(SHEET)).replace("format = 1\n", "");
    let project = text(std::path::Path::new("docs/examples/survey-plane-unknown.toml"))
        .replace("metal = \"unknown\"", "metal = \"bench\"");
    let folder = scratch();
    let file = path(&folder, "plane.toml");
    fs::write(&file, format!("{project}\n{tests}")).expect("it can be written");
    let file = file.to_str().expect("a name");
    let design = json(&gearleg(["grade", SHEET, "--format", "json"]))["design_yield_Pa"].as_f64();
    let checked = json(&gearleg(["check", file, "--format", "json"]));
    let margins = checked["margins"].as_array().expect("a list");
    let legs: Vec<&Value> = margins.iter().filter(|m| m["check"] == "leg-yield").collect();
    assert!(!legs.is_empty());
    for leg in legs {
        assert_eq!(leg["allowable"].as_f64(), design);
        assert_eq!(leg["basis"], "bench test");
    }
    let spread = gearleg(["check", file, "--spread", "--samples", "200", "--explain"]);
    assert!(spread.out.contains("as its bench tests leave it"), "{}", spread.out);
    assert!(spread.out.contains("unproven until an offcut has been tested"), "the caution stays");
    // Nor has a sheet one whose tests fit no metal: the plate's own line says so.
    let slip = path(&folder, "slip.toml");
    fs::write(&slip, format!("{project}\n{}", tests.replace("65.7 g", "43.6 g"))).expect("it can be written");
    let refused = gearleg(["check", slip.to_str().expect("a name")]);
    assert_eq!(refused.code, 2);
    assert!(refused.err.contains("leave no strength to design with"), "{}", refused.err);
    assert!(
        refused.err.contains("metal = \"bench\"") && !refused.err.contains("no metal is called"),
        "{}",
        refused.err
    );
    // Without a test there is no such metal, and the message says what makes one.
    let bare = path(&folder, "bare.toml");
    fs::write(&bare, &project).expect("it can be written");
    let refused = gearleg(["check", bare.to_str().expect("a name")]);
    assert_eq!(refused.code, 2);
    assert!(refused.err.contains("[[bench_test]]"), "{}", refused.err);
}

/// The same tests in a project file say the same, in the project's own units.
#[test]
fn a_project_file_may_hold_the_tests() {
    let tests = text(std::path::Path::new(SHEET)).replace("format = 1\n", "");
    let project = text(std::path::Path::new("docs/examples/survey-plane-unknown.toml"));
    let both = json(&graded(&format!("{project}\n{tests}"), &["--format", "json"]));
    let alone = json(&gearleg(["grade", SHEET, "--format", "json"]));
    assert_eq!(both["yield_Pa"], alone["yield_Pa"]);
}
