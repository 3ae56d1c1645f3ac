//! `gearleg compare` as its user runs it: how many designs, what they are called, exit codes, the shape of its JSON.

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

const SINGLE: &str = "docs/examples/survey-plane-nose-single.toml";
const TWIN: &str = "docs/examples/survey-plane-nose-twin.toml";
const VARIANTS: &str = "docs/examples/survey-plane-nose-variants.toml";
const PLAIN: &str = "docs/examples/survey-plane.toml";

fn compared(files: &[&str]) -> (i32, Value) {
    let ended = gearleg(["compare", "--format", "json"].iter().chain(files));
    assert!(ended.code <= 1 && ended.err.is_empty(), "{files:?}: {}", ended.err);
    assert!(!ended.out.contains("-0.0,") && !ended.out.contains("-0.0\n"), "{files:?}");
    (ended.code, serde_json::from_str(&ended.out).expect("JSON"))
}

fn refused(files: &[&str]) -> String {
    let ended = gearleg(["compare"].iter().chain(files));
    assert_eq!((ended.code, ended.out.as_str()), (2, ""), "{files:?}");
    ended.err
}

fn names(value: &Value) -> Vec<&str> {
    list(value, "designs").iter().map(|d| words(d, "name")).collect()
}

#[test]
fn too_few_and_too_many_are_refused_with_what_would_do() {
    assert_eq!(
        refused(&[SINGLE]),
        "error[command-line]: 1 file with 1 design in all, and 2 to 8 can be compared\n |\n \
         = help: name another file: gearleg compare FILE FILE\n \
         = help: or describe a variant in the file, under [variant.NAME]\n"
    );
    assert_eq!(
        refused(&[VARIANTS, VARIANTS, VARIANTS]),
        "error[command-line]: 3 files with 9 designs in all, and 2 to 8 can be compared\n |\n \
         = help: leave some files or variants out\n"
    );
    assert!(refused(&[]).contains("<FILE>..."), "the usage is shown");
    assert!(refused(&["-", "-"]).contains("standard input can be read once only"));
}

#[test]
fn the_mistakes_of_all_files_come_together() {
    let said = refused(&[
        "tests/input/invalid/variant-unknown-key.toml",
        SINGLE,
        "tests/input/invalid/mass-huge.toml",
    ]);
    assert!(said.contains("`thicknes` is not a key") && said.contains("mass-huge.toml:"), "{said}");
}

#[test]
fn every_design_holds_or_the_exit_code_says_so() {
    assert_eq!(compared(&[SINGLE, TWIN]).0, 0);
    assert_eq!(compared(&[BRACED, PLAIN]).0, 1);
    let unknown = compared(&[PLAIN, "docs/examples/survey-plane-unknown.toml"]);
    assert_eq!(unknown.0, 1);
    let design = &list(&unknown.1, "designs")[1];
    assert!(design["gears"][0]["drop"]["set_m"].is_null(), "nobody knows what stays bent of it");
    let first = list(&unknown.1, "in_words")
        .iter()
        .filter_map(Value::as_str)
        .find(|w| w.starts_with("What lets go first"));
    let first = first.expect("it says what lets go first");
    assert_eq!(first.matches("(where its plate bends can't be told)").count(), 1, "{first}");
}

#[test]
fn designs_are_called_by_aircraft_and_variant_and_by_file_where_that_does_not_tell() {
    let (_, value) = compared(&[VARIANTS]);
    assert_eq!(names(&value), ["one arm", "two-arms", "thin-hard"]);
    let folder = scratch();
    let (one, two) = (path(&folder, "one.toml"), path(&folder, "two.toml"));
    for file in [&one, &two] {
        fs::copy(VARIANTS, file).expect("it can be copied");
    }
    let (one, two) = (one.to_string_lossy(), two.to_string_lossy());
    let (_, value) = compared(&[&one, &two, SINGLE]);
    assert_eq!(
        names(&value),
        [
            "one.toml",
            "two-arms in one.toml",
            "thin-hard in one.toml",
            "two.toml",
            "two-arms in two.toml",
            "thin-hard in two.toml",
            "survey aeroplane, nose gear with one arm"
        ]
    );
    let (_, value) = compared(&[SINGLE, SINGLE]);
    assert_eq!(names(&value), ["survey-plane-nose-single.toml", "survey-plane-nose-single.toml (2)"]);
}

#[test]
fn the_json_has_what_scripts_rely_on() {
    let (_, value) = compared(&[BRACED, PLAIN, "docs/examples/survey-plane-mount.toml", SINGLE]);
    assert!(list(&value, "in_words").iter().all(Value::is_string));
    assert!(number(&value["same_arrival"], "height_m") > 0.0);
    for design in list(&value, "designs") {
        let stiffness = &design["stiffness_N_per_m"];
        let one_wheel = words(design, "gear") == "nose";
        assert_eq!(stiffness["spread"].is_null(), one_wheel, "{design}");
        for key in ["aft", "side", "up"] {
            assert!(number(stiffness, key) > 0.0, "{design}");
        }
        assert!(number(design, "mass_kg") > 0.0 && number(design, "inertia_load_factor") > 1.0);
        let weakest = &design["weakest"];
        assert!(weakest["margin"].is_number() && words(weakest, "check").len() > 3, "{weakest}");
        for failure in list(design, "failure_order") {
            assert!(words(failure, "part").len() > 2 && words(failure, "check").len() > 2);
            assert!(number(failure, "multiple") > 0.0);
        }
        let gears = list(design, "gears");
        assert!(!gears.is_empty());
        for gear in gears {
            let all = ["plate_kg", "wires_kg", "axles_kg"].map(|key| number(gear, key));
            close(all.iter().sum(), number(gear, "mass_kg"), gear);
            assert!(number(&gear["mount"], "root_moment_Nm") > 0.0);
        }
    }
    let braced = &list(&value, "designs")[0];
    // The figures of a design are those of `check`.
    let alone = json(BRACED);
    assert_eq!(braced["weakest"]["margin"], alone["weakest"]["margin"]);
    assert_eq!(braced["landing_inertia_load_factor"], alone["landing"]["inertia_load_factor"]);
    assert!(number(&braced["gears"][0]["wire"], "tension_N") > 1000.0);
}

/// The words follow the figures: the other way about they say the other thing.
#[test]
fn words_turn_round_with_the_designs() {
    let (there, back) = (report(&[SINGLE, TWIN]), report(&[TWIN, SINGLE]));
    let [there, back] = [there, back].map(|text| text.replace("\n    ", " "));
    for (said, turned) in [
        (
            "two arms with the wheel between them in the place of one arm",
            "one arm with its wheel on a stub axle in the place of two",
        ),
        ("thinner (4.00 mm against 5.00 mm)", "thicker (5.00 mm against 4.00 mm)"),
        ("It is stiffer sideways (6.9 times)", "softer sideways (6.9 times)"),
        ("softer fore and aft (1.1 times)", "It is stiffer fore and aft (1.1 times)"),
        ("against 50.2 MPa (19 % of its yield strength)", "is 50.2 MPa (19 % of its yield strength)"),
        ("Gear nose has 57 g more", "Gear nose has 57 g less"),
        ("with two arms\" is the harshest", "with two arms\" is the harshest"),
    ] {
        assert!(there.contains(said), "{said}: {there}");
        assert!(back.contains(turned), "{turned}: {back}");
        assert!(said == turned || !back.contains(said), "{said}: {back}");
    }
    // Lightest first, whichever comes first.
    for text in [there, back] {
        let (light, heavy) =
            (text.find("66.3 g").expect("one arm"), text.find("123 g (86 % more)").expect("two"));
        assert!(light < heavy, "{text}");
    }
}

/// What is doubtful in a variant is said by who looks at it.
#[test]
fn doubts_about_variants_are_said_when_they_are_compared() {
    let folder = scratch();
    let file = path(&folder, "idle.toml");
    fs::write(&file, text(std::path::Path::new(VARIANTS)) + "\n[variant.idle]\n").expect("written");
    let file = file.to_string_lossy();
    let ended = gearleg(["compare", &file]);
    assert_eq!(ended.code, 0);
    assert!(ended.err.contains("warning[doubtful]: the variant `idle` changes nothing"), "{}", ended.err);
    assert_eq!(gearleg(["check", &file]).err, "");
}

#[test]
fn designs_with_other_gears_are_told_apart() {
    let text = report(&[BRACED, SINGLE]);
    assert!(
        text.contains("GEAR main") && text.contains("GEAR nose") && text.contains("no such gear"),
        "{text}"
    );
    // A nose gear is no better or worse than a main gear.
    let joined = text.replace("\n    ", " ");
    assert!(joined.contains("These are gears of different kinds") && !joined.contains("stiffer"), "{text}");
}

fn report(files: &[&str]) -> String {
    let ended = gearleg(["compare"].iter().chain(files));
    assert!(ended.code <= 1, "{}", ended.err);
    assert_eq!(wide(&ended.out), Vec::<&str>::new());
    let words_at = ended.out.find("IN WORDS").expect("it says it in words");
    assert!(words_at < ended.out.find("GEAR ").expect("then in figures"));
    ended.out
}

#[test]
fn eight_designs_fit_the_page() {
    let text = report(&[VARIANTS, VARIANTS, SINGLE, TWIN]);
    // In two tables, each with its masses.
    assert_eq!(text.matches("\n mass ").count(), 2, "{text}");
}

#[test]
fn an_answer_goes_into_a_file_but_not_into_one_of_its_own() {
    let folder = scratch();
    let out = path(&folder, "answer.txt");
    let to = out.to_string_lossy();
    let ended = gearleg(["compare", SINGLE, TWIN, "--out", &to]);
    assert_eq!((ended.code, ended.out.as_str()), (0, ""), "{}", ended.err);
    assert!(text(&out).contains("IN WORDS"));
    let own = path(&folder, "own.toml");
    fs::copy(TWIN, &own).expect("it can be copied");
    let own = own.to_string_lossy();
    let ended = gearleg(["compare", SINGLE, &own, "--out", &own, "--force"]);
    assert_eq!(ended.code, 2);
    assert!(ended.err.contains("is the project file itself"), "{}", ended.err);
}

/// The other commands take the file itself.
#[test]
fn variants_are_nothing_to_the_other_commands() {
    let ended = gearleg(["check", VARIANTS, "--format", "json"]);
    let value: Value = serde_json::from_str(&ended.out).expect("JSON");
    let single = json(SINGLE);
    assert_eq!(value["margins"], single["margins"]);
    // A mistake in a variant is found all the same.
    assert_eq!(gearleg(["check", "tests/input/invalid/variant-unknown-key.toml"]).code, 2);
}

#[test]
fn snapshots_of_the_report() {
    insta::assert_snapshot!("nose-variants", report(&[VARIANTS]));
    insta::assert_snapshot!("plain-against-braced", report(&[PLAIN, BRACED]));
    let inches = report(&["tests/input/report/inches.toml", "docs/examples/survey-plane-mount.toml"]);
    insta::assert_snapshot!("inches-first", inches);
}
