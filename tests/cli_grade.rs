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
use std::collections::BTreeMap;
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
    let words = gearleg(["check", file]).out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("allowed (bench), margin") && words.contains("This rests on bench tests."),
        "{words}"
    );
    let spread = gearleg(["check", file, "--spread", "--samples", "200", "--explain"]);
    assert!(spread.out.contains("as its bench tests leave it"), "{}", spread.out);
    assert!(spread.out.contains("The tested metal's grade is unproven still"), "the caution stays");
    assert!(!spread.out.contains("unproven until an offcut has been tested"), "one has been");
    // Nor has a sheet one whose tests fit no metal: the test itself is pointed at.
    let slip = path(&folder, "slip.toml");
    fs::write(&slip, format!("{project}\n{}", tests.replace("65.7 g", "43.6 g"))).expect("it can be written");
    let refused = gearleg(["check", slip.to_str().expect("a name")]);
    assert_eq!(refused.code, 2);
    assert!(refused.err.contains("error[no-strength]: this test fits no metal"), "{}", refused.err);
    assert!(
        refused.err.contains("[[bench_test]]") && !refused.err.contains("no metal is called"),
        "{}",
        refused.err
    );
    // The report says which it is all the same.
    let told = gearleg(["grade", slip.to_str().expect("a name")]);
    assert_eq!(told.code, 1, "{}", told.err);
    assert!(
        told.out.contains("fits no metal that the tool knows") && told.out.contains("fits none"),
        "{}",
        told.out
    );
    assert!(told.err.contains("what the gears ask of the sheet is left out"), "{}", told.err);
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

/// What a gear asks of the sheet, how likely the sheet has it, and the strip that decides: the same as `check` has of the same file.
#[test]
fn a_gear_s_own_question_is_answered() {
    // So gentle that the sheet surely has it, and so hard that nobody knows.
    assert!(answered("1.5") > 0.99);
    assert!((0.01..0.99).contains(&answered("5.3")));
}

/// The chance that the sheet of the example is strong enough for a load factor, with the report held to it.
fn answered(load_factor: &str) -> f64 {
    let tests = text(std::path::Path::new(SHEET)).replace("format = 1\n", "");
    let project = text(std::path::Path::new("docs/examples/survey-plane-unknown.toml"));
    let landing = format!("load_factor = {load_factor}\ncases = [\"level\", \"one-wheel\"]");
    let project = project.replace("load_factor = 3.5", &landing);
    assert!(project.contains(&landing), "the example has changed");
    let whole = format!("{project}\n{tests}");
    let told = json(&graded(&whole, &["--format", "json"]));
    let gear = &told["gears"][0];
    assert_eq!((gear["gear"].as_str(), gear["said_to_be_of_it"].as_bool()), (Some("main"), Some(false)));
    let folder = scratch();
    let file = path(&folder, "plane.toml");
    fs::write(&file, &whole).expect("it can be written");
    let checked = json(&gearleg(["check", file.to_str().expect("a name"), "--format", "json"]));
    let required = checked["required_yield"].as_array().expect("a list");
    let most = required.iter().filter_map(|r| r["yield_Pa"].as_f64()).fold(0.0, f64::max);
    assert_eq!(gear["hardest"]["required_yield_Pa"].as_f64(), Some(most));
    assert_eq!(gear["offcut_test"], checked["bench_tests"][0]);
    let chance = gear["hardest"]["chance"].as_f64().expect("a chance");
    let [low, middle] = ["p05", "p50"].map(|p| told["yield_Pa"][p].as_f64().expect("a number"));
    // By the quantiles that are told.
    let expected = if most < low {
        0.95..=1.0
    } else if most < middle {
        0.5..=0.95
    } else {
        0.0..=0.5
    };
    assert!(expected.contains(&chance), "{most} of {low}, {middle}: {chance}");
    let words = graded(&whole, &[]);
    assert!(words.out.contains("Gear main, if its legs are of this sheet, asks of it"), "{}", words.out);
    assert_eq!(words.out.contains("DECIDE IT FOR GEAR main"), (0.01..0.99).contains(&chance), "{chance}");
    assert_eq!(wide(&words.out), Vec::<&str>::new());
    chance
}

/// The tests are of one sheet, and a plate of another thickness is of another.
#[test]
fn another_thickness_is_doubted() {
    let tests = text(std::path::Path::new(SHEET)).replace("format = 1\n", "");
    let project = text(std::path::Path::new("docs/examples/survey-plane-unknown.toml"))
        .replace("metal = \"unknown\"", "metal = \"bench\"");
    let doubted = graded(&format!("{project}\n{tests}"), &[]);
    assert!(
        doubted.err.contains("are of a piece of 3.02 mm, and a plate of it is 5 mm thick"),
        "{}",
        doubted.err
    );
    let same = graded(&format!("{project}\n{}", tests.replace("3.02 mm", "4.93 mm")), &[]);
    assert!(!same.err.contains("another thickness"), "{}", same.err);
    // Whoever reads the report alone reads it too.
    let cautioned = |tests: &str| {
        let told = checked(&format!("{project}\n{tests}")).1;
        let cautions = told["cautions"].as_array().expect("a list").clone();
        cautions.iter().any(|c| c.as_str().is_some_and(|c| c.contains("Another thickness is another sheet")))
    };
    assert!(cautioned(&tests));
    assert!(!cautioned(&tests.replace("3.02 mm", "4.93 mm")));
    // Of several pieces the one that differs counts, and of a conductivity's strip too.
    assert!(cautioned(&tests.replacen("3.02 mm", "4.93 mm", 1)));
    let carries = |thickness: &str| {
        format!(
            "[[bench_test]]\nkind = \"conductivity\"\ncurrent = \"5 A\"\nvoltage = \"0.40 mV\"\nlength = \"200 mm\"\n\
             width = \"25 mm\"\nthickness = \"{thickness}\"\n"
        )
    };
    assert!(cautioned(&carries("3.2 mm")) && !cautioned(&carries("4.9 mm")));
}

/// A dealer's word is no test: what it makes stronger than the tests beside it is marked as told.
#[test]
fn a_name_is_no_bench_test() {
    let project = text(std::path::Path::new("docs/examples/survey-plane-unknown.toml"))
        .replace("metal = \"unknown\"", "metal = \"bench\"");
    let bases = |tests: &str| -> Vec<String> {
        let told = checked(&format!("{project}\n{tests}")).1;
        let margins = told["margins"].as_array().expect("a list").iter();
        let cautions = told["cautions"].to_string();
        assert_eq!(cautions.contains("measures its strength"), !tests.contains("bend-strip"), "{cautions}");
        let bent = margins.filter(|m| m["check"] == "leg-yield");
        bent.filter_map(|m| m["basis"].as_str().map(str::to_owned)).collect()
    };
    let word = "[[bench_test]]\nkind = \"told\"\nword = \"7075-T6\"\ntrust = 1\n";
    let stamp = "[[bench_test]]\nkind = \"stamp\"\nread = \"6082-T6\"\n";
    let scale = "[[bench_test]]\nkind = \"weigh\"\nmass = \"100.0 g\"\nin_water = \"64.5 g\"\n";
    let strip = |weights: &str, sets: &str| {
        let sizes = "width = \"25 mm\"\nthickness = \"5 mm\"\nlength = \"150 mm\"\n";
        format!("[[bench_test]]\nkind = \"bend-strip\"\n{sizes}weights = [{weights}]\nsets = [{sets}]\n")
    };
    let nothing = strip("\"0.1 kg\"", "\"0 mm\"");
    // 490 MPa at its end: first yield is at 33 kg.
    let much = strip(
        "\"25 kg\", \"30 kg\", \"35 kg\", \"40 kg\", \"43 kg\"",
        "\"0 mm\", \"0 mm\", \"0 mm\", \"1 mm\", \"2 mm\"",
    );
    let [with_scale, with_nothing, with_much] =
        [scale, &nothing, &much].map(|more| format!("{word}\n{more}"));
    for (tests, basis) in [
        (word, "told"),
        (stamp, "told"),
        (&with_scale, "told"),
        (&with_nothing, "told"),
        (&with_much, "bench test"),
        (scale, "bench test"),
    ] {
        let found = bases(tests);
        assert!(!found.is_empty() && found.iter().all(|own| own == basis), "{tests}: {found:?}");
    }
}

/// In samples as many sheets are strong enough as `grade` says, far up in what its tests leave likely too. Thickness and the rest vary as well,
/// and add little.
#[test]
fn samples_of_a_tested_sheet_are_as_its_tests_leave_it() {
    let project = text(std::path::Path::new("docs/examples/survey-plane-unknown.toml"))
        .replace("metal = \"unknown\"", "metal = \"bench\"")
        .replace("load_factor = 3.5", "load_factor = 10\ncases = [\"level\"]");
    let folder = scratch();
    let file = path(&folder, "plane.toml");
    let whole = format!("{project}\n[[bench_test]]\nkind = \"conductivity\"\niacs = \"32 ± 1\"\n");
    fs::write(&file, whole).expect("it can be written");
    let name = file.to_str().expect("a name");
    let graded = json(&gearleg(["grade", name, "--format", "json"]));
    let chance = graded["gears"][0]["hardest"]["chance"].as_f64().expect("a chance");
    assert!((0.02..0.1).contains(&chance), "{chance}");
    let told = json(&gearleg(["check", name, "--spread", "--samples", "2000", "--format", "json"]));
    let margins = told["spread"]["margins"].as_array().expect("a list");
    let asked = margins.iter().find(|m| m["check"] == "leg-collapse").expect("what asks most of it");
    let holds = 1.0 - asked["chance_of_failing"].as_f64().expect("a chance");
    assert!((holds - chance).abs() < 0.015, "{holds} of samples, {chance} of sheets");
}

/// What a sheet's readings come to is shown: it tells a slip soonest. A brass sheet weighs what no row does.
#[test]
fn what_readings_come_to_is_shown() {
    let brass = "format = 1\n[[bench_test]]\nkind = \"weigh\"\nmass = \"100.0 g\"\nin_water = \"88.1 g\"\n";
    let told = json(&graded(brass, &["--format", "json"]));
    assert!(told["yield_Pa"].is_null() && told["design_yield_Pa"].is_null());
    let density = told["tests"][0]["reads"]["density_kg_m3"].as_f64().expect("a density");
    // By hand: 998 × 100/11.9.
    assert!((density - 998.0 * 100.0 / 11.9).abs() < 1e-6, "{density}");
    let words = graded(brass, &[]);
    assert!(words.out.contains("8390 kg/m^3") && !words.out.contains("WHAT IT MAY BE"), "{}", words.out);
}

#[test]
fn a_name_that_no_table_has_is_doubted() {
    let told = graded("format = 1\n[[bench_test]]\nkind = \"stamp\"\nread = \"6028-T6\"\n", &[]);
    assert_eq!(told.code, 0);
    assert!(told.err.contains("no metal or alloy of the tables is called `6028-T6`"), "{}", told.err);
    assert!(told.err.contains("perhaps `6082-T6`"), "{}", told.err);
}

/// 4 A along 200 mm of 25 × 1 mm of 6061-T6, 43 % IACS or 40 nΩ·m, make 1.28 mV: I ρ L / (b t), IACS being 17.241 nΩ·m (IEC 60028).
#[test]
fn a_current_and_its_voltage_tell_the_conductivity() {
    let resistivity: f64 = 17.241e-9 / 0.43;
    let millivolts = 1e3 * 4.0 * resistivity * 0.200 / (0.025 * 0.001);
    assert!((resistivity - 40e-9).abs() < 0.5e-9 && (millivolts - 1.28).abs() < 0.01);
    let metered = "format = 1\n[[bench_test]]\nkind = \"conductivity\"\niacs = \"43 ± 1.29\"\n";
    let by_current = format!(
        "format = 1\n[[bench_test]]\nkind = \"conductivity\"\ncurrent = \"4 A ± 0.12 A\"\nvoltage = \"{millivolts:.6} mV ± 0.0001 uV\"\n\
         length = \"200 mm ± 0.001 mm\"\nwidth = \"25 mm ± 0.001 mm\"\nthickness = \"1 mm ± 0.0001 mm\"\n"
    );
    let [metered, by_current] =
        [metered, by_current.as_str()].map(|text| json(&graded(text, &["--format", "json"])));
    let chances = |told: &Value| {
        let of = |name: &str| {
            let rows = told["grades"].as_array().expect("a list");
            rows.iter().find(|g| g["name"] == name).and_then(|g| g["probability"].as_f64()).expect("a row")
        };
        ["6061-T6", "6082-T6", "5754-O", "1050A-H14"].map(of)
    };
    for (a, b) in chances(&metered).into_iter().zip(chances(&by_current)) {
        assert!((a - b).abs() < 2e-3 * a.max(0.01), "{a} {b}");
    }
}

/// A drop is a test through the gear's own curve, and a stronger leg keeps a smaller set.
#[test]
fn a_dropped_leg_tells_its_strength() {
    let project = text(std::path::Path::new("docs/examples/survey-plane-unknown.toml"));
    let told = |set: &str| {
        let test = format!(
            "[[bench_test]]\nkind = \"drop\"\ngear = \"main\"\nheight = \"200 mm\"\nset = \"{set}\"\n"
        );
        let ended = graded(&format!("{project}\n{test}"), &["--format", "json"]);
        assert_eq!((ended.code, ended.err.as_str()), (0, ""));
        json(&ended)["yield_Pa"]["p50"].as_f64().expect("a number")
    };
    let (little, much) = (told("2 mm"), told("20 mm"));
    assert!(little > 1.2 * much, "{little} {much}");
}

#[test]
fn units_of_a_file_of_tests_are_those_it_is_written_in() {
    let inches = r#"format = 1
[[bench_test]]
kind = "bend-strip"
width = "1 in"
thickness = "0.119 in"
length = "6 in"
weights = ["12 lb", "16 lb"]
sets = ["0 in", "0.08 in"]
"#;
    let told = graded(inches, &[]);
    assert_eq!(told.code, 0, "{}", told.err);
    assert!(told.out.contains("ksi") && !told.out.contains("MPa"), "{}", told.out);
}

/// A strip of 25 × 5 mm, 200 mm long, as it is read after these weights.
fn strip_of(weights: [f64; 5]) -> String {
    let weights = weights.map(|kg| format!("\"{kg} kg\"")).join(", ");
    format!(
        "[[bench_test]]\nkind = \"bend-strip\"\nwidth = \"25 mm\"\nthickness = \"5 mm\"\nlength = \"200 mm\"\nerror = \"0.5 mm\"\n\
         weights = [{weights}]\nsets = [\"0 mm\", \"0 mm\", \"0.5 mm\", \"1.5 mm\", \"3 mm\"]\n"
    )
}

const STRONG: [f64; 5] = [14.33, 15.93, 17.52, 19.11, 20.71];
const WEAK: [f64; 5] = [9.56, 10.62, 11.68, 12.74, 13.80];
const LIGHT: &str = "[[bench_test]]\nkind = \"weigh\"\nmass = \"100 g\"\nin_water = \"63.1 g\"\n";

/// The example with a plate of the tested sheet and braces that share the load, which goes by the stiffness.
fn plane(tests: &str) -> String {
    let project = text(std::path::Path::new("docs/examples/survey-plane-braced.toml"));
    let metal = project.lines().find(|line| line.trim_start().starts_with("metal = ")).expect("a plate");
    let project = project.replacen(metal, "metal = \"bench\"", 1);
    format!("{project}\n{tests}")
}

fn checked(text: &str) -> (Ended, Value) {
    let folder = scratch();
    let file = path(&folder, "plane.toml");
    fs::write(&file, text).expect("it can be written");
    let ended = gearleg(["check", file.to_str().expect("a name"), "--format", "json"]);
    let told = json(&ended);
    (ended, told)
}

/// Two strips that can't be of one sheet: the weaker is designed for, and every command says so.
#[test]
fn what_contradicts_itself_is_designed_for_the_weaker_and_said_by_every_command() {
    let design = |tests: &str| {
        json(&graded(&format!("format = 1\n{tests}"), &["--format", "json"]))["design_yield_Pa"].as_f64()
    };
    let both = format!("{}{}", strip_of(STRONG), strip_of(WEAK));
    assert_eq!(design(&both), design(&strip_of(WEAK)));
    assert!(design(&both) < design(&strip_of(STRONG)));
    let told = json(&graded(&format!("format = 1\n{both}"), &["--format", "json"]));
    assert_eq!(told["left_out"], serde_json::json!([1]));
    let variant = "[variant.thick.gear.main.plate]\nthickness = \"5 mm\"\n";
    let text = plane(&format!("{both}{LIGHT}{variant}"));
    let folder = scratch();
    let file = path(&folder, "plane.toml");
    fs::write(&file, &text).expect("it can be written");
    let file = file.to_str().expect("a name");
    for command in [
        vec!["check", file],
        vec!["check", file, "--spread", "--samples", "200"],
        vec!["drop", file],
        vec!["size", file, "--no-card"],
        vec!["compare", file],
        vec!["grade", file],
    ] {
        let ended = gearleg(&command);
        assert!(
            ended.err.contains("tests 1 (bend-strip) and 2 (bend-strip) of `bench` contradict each other"),
            "{command:?}: {}",
            ended.err
        );
        assert!(ended.err.contains("without 1 (bend-strip)"), "{}", ended.err);
        // A report that is kept says it too.
        let out = ended.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(out.contains("contradict each other"), "{command:?}: {}", ended.out);
    }
}

/// Where tests leave open whether a sheet is aluminium or stainless, every margin is the worse of both: reckoned here as two metals of the
/// file's own, as strong as the tests say and as stiff as each.
#[test]
fn a_sheet_of_a_family_that_nobody_knows_is_checked_as_each() {
    let tests = strip_of(STRONG);
    let told = json(&graded(&format!("format = 1\n{tests}"), &["--format", "json"]));
    let open = plane(&tests);
    let (ended, both) = checked(&open);
    assert!(ended.err.contains("leave open whether it is"), "{}", ended.err);
    let least = |told: &Value| -> BTreeMap<String, f64> {
        let margins = told["margins"].as_array().expect("a list");
        let key = |m: &Value| format!("{} {} {} {}", m["check"], m["gear"], m["part"], m["case"]);
        margins.iter().filter_map(|m| Some((key(m), m["margin"].as_f64()?))).collect()
    };
    let families = told["families"].as_array().expect("a list");
    let likely: Vec<&Value> = families.iter().filter(|f| f["at_most"].as_f64() > Some(0.05)).collect();
    let one = |family: &str, poisson: f64| {
        let family = likely.iter().find(|f| f["name"] == family).expect("it is likely");
        let number = |key: &str| family[key].as_f64().expect("a number");
        let design = told["design_yield_Pa"].as_f64().expect("a number");
        let own = format!(
            "[metal.own]\nmodulus = \"{:.9} GPa\"\npoisson = {poisson}\ndensity = \"{:.9} kg/m^3\"\nyield = \"{:.9} MPa\"\n\
             ultimate = \"{:.9} MPa\"\nbasis = \"bench test\"\n",
            number("modulus_Pa") / 1e9,
            number("density_kg_m3"),
            design / 1e6,
            design / 1e6
        );
        least(
            &checked(
                &open
                    .replace("metal = \"bench\"", "metal = \"own\"")
                    .replace("[aircraft]", &format!("{own}\n[aircraft]")),
            )
            .1,
        )
    };
    let (aluminium, stainless) = (one("aluminium", 0.33), one("stainless", 0.29));
    let both = least(&both);
    let mut apart = 0;
    for key in aluminium.keys().chain(stainless.keys()) {
        assert!(both.contains_key(key), "{key} is lost");
    }
    for (key, worse) in &both {
        // Without a margin nothing is pressed.
        let each = [&aluminium, &stainless].map(|one| one.get(key).copied().unwrap_or(f64::INFINITY));
        let expected = each[0].min(each[1]);
        assert!((worse - expected).abs() < 1e-6 * (1.0 + worse.abs()), "{key}: {worse} of {each:?}");
        apart += usize::from((each[0] - each[1]).abs() > 1e-3);
    }
    assert!(apart > 5, "the wires share by the stiffness");
    // Once it is weighed nothing is open.
    let (weighed, _) = checked(&plane(&format!("{tests}{LIGHT}")));
    assert!(!weighed.err.contains("leave open"), "{}", weighed.err);
}

/// Sizes may be open while the sheet is told of; sheets of another thickness are doubted wherever they are proposed.
#[test]
fn open_sizes_do_not_hide_the_sheet_and_another_thickness_is_doubted_where_it_is_proposed() {
    let tests = format!("{}{LIGHT}", strip_of(STRONG));
    let text = text(std::path::Path::new("docs/examples/survey-plane-bench.toml"));
    let (project, _) = text.split_once("[[bench_test]]").expect("it has tests");
    let open = project.replace("thickness = \"5 mm\"", "thickness = \"?\"");
    assert!(open.contains("\"?\""), "the example has changed");
    let whole = format!("{open}\n{tests}");
    let told = graded(&whole, &[]);
    assert_eq!(told.code, 0, "{}", told.err);
    assert!(told.err.contains("leaves sizes open") && told.out.contains("Design with"), "{}", told.err);
    // What else is wrong with the file is not passed over.
    let wrong = graded(&whole.replace("overhang =", "overhnag ="), &[]);
    assert_eq!((wrong.code, wrong.out.as_str()), (2, ""));
    assert!(wrong.err.contains("overhnag"), "{}", wrong.err);
    let folder = scratch();
    let file = path(&folder, "plane.toml");
    fs::write(&file, whole.replace("thickness = \"?\"", "thickness = [\"6 mm\", \"8 mm\"]"))
        .expect("it can be written");
    let sized = gearleg(["size", file.to_str().expect("a name"), "--no-card"]);
    assert!(sized.err.contains("another thickness is another sheet"), "{}{}", sized.out, sized.err);
}
