//! `gearleg drop` as its user runs it: lists, cases, exit codes, the shape of its JSON, and sums redone by hand.

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

const PLAIN: &str = "docs/examples/survey-plane.toml";
const UNKNOWN: &str = "docs/examples/survey-plane-unknown.toml";
const NOSE: &str = "docs/examples/survey-plane-nose-single.toml";
/// Weight of the example's aircraft, N.
const WEIGHT: f64 = 12.4 * 9.806_65;

fn dropped(file: &str, more: &[&str]) -> (i32, Value) {
    let ended = gearleg(["drop", file, "--format", "json"].iter().chain(more));
    assert!(ended.code <= 1 && ended.err.is_empty(), "{file} {more:?}: {}", ended.err);
    // A zero with a sign is nobody's.
    assert!(!ended.out.contains("-0.0,") && !ended.out.contains("-0.0\n"), "{file} {more:?}");
    (ended.code, serde_json::from_str(&ended.out).expect("JSON"))
}

fn refused(more: &[&str]) -> String {
    let ended = gearleg(["drop", PLAIN].iter().chain(more));
    assert_eq!((ended.code, ended.out.as_str()), (2, ""), "{more:?}");
    ended.err
}

fn keys(value: &Value) -> Vec<&str> {
    value.as_object().unwrap_or_else(|| panic!("no object: {value}")).keys().map(String::as_str).collect()
}

#[test]
fn every_bad_item_of_a_list_is_named_with_what_would_do() {
    insta::assert_snapshot!(refused(&["--heights", "50 mm, 0 mm, 3,4 m"]));
    insta::assert_snapshot!(refused(&["--multiples", "0.5,,x,-1"]));
    insta::assert_snapshot!(refused(&["--sink-rates", "1 mm"]));
    insta::assert_snapshot!(refused(&["--unload-from", "1e9"]));
}

#[test]
fn heights_and_sink_rates_are_not_taken_together() {
    let said = refused(&["--heights", "50 mm", "--sink-rates", "1 m/s"]);
    assert!(said.contains("cannot be used with"), "{said}");
}

#[test]
fn an_unknown_case_is_answered_with_those_that_apply() {
    insta::assert_snapshot!(refused(&["--case", "levl"]));
    // A case without loads on the wheels has no curve.
    let braced = gearleg(["drop", BRACED, "--case", "rest"]);
    assert_eq!(braced.code, 2);
    let name = "lift by the wheels";
    let (_, said) = dropped("tests/input/valid/user-cases.toml", &["--case", name, "--heights", "1 mm"]);
    assert!(list(&said, "curves").iter().all(|c| words(c, "case") == name), "{name}");
    assert!(!list(&said, "curves").is_empty(), "{name}");
}

#[test]
fn exit_codes_follow_the_drops_that_count() {
    let code = |file: &str, more: &[&str]| dropped(file, more).0;
    // The load factor of the file is that of a mild drop.
    assert_eq!(code(PLAIN, &["--case", "level"]), 0);
    assert_eq!(code(PLAIN, &["--case", "level", "--heights", "20 mm,50 mm"]), 0);
    // It yields from 59 mm up and collapses from 203 mm.
    assert_eq!(code(PLAIN, &["--case", "level", "--heights", "50 mm,100 mm"]), 1);
    assert_eq!(code(PLAIN, &["--case", "level", "--sink-rates", "2.5 m/s"]), 1);
    assert_eq!(code(UNKNOWN, &["--case", "level"]), 1);
    // A landing that is given as a drop.
    for (height, expected) in [("40 mm", 0), ("90 mm", 1), ("300 mm", 1)] {
        let text = text(std::path::Path::new(PLAIN));
        let text = text.replace("load_factor = 3.5", &format!("drop_height = \"{height}\""));
        let ended = ended(command().args(["drop", "-", "--case", "level"]).write_stdin(text));
        assert_eq!((ended.code, ended.err.as_str()), (expected, ""), "{height}");
        assert!(ended.out.contains("Your landing is a drop from"), "{height}: {}", ended.out);
    }
}

#[test]
fn out_writes_whole_and_never_over_the_project() {
    let folder = scratch();
    let to = path(&folder, "drop.json");
    let to = to.to_str().expect("a plain name");
    let arguments = ["drop", PLAIN, "--case", "level", "--heights", "20 mm", "--format", "json", "--out", to];
    let wrote = gearleg(arguments);
    assert_eq!((wrote.code, wrote.out.as_str(), wrote.err.as_str()), (0, "", ""));
    let said: Value = serde_json::from_str(&text(std::path::Path::new(to))).expect("JSON");
    assert_eq!(list(&said, "drops").len(), 1);
    assert_eq!(gearleg(arguments).code, 2);
    assert_eq!(gearleg(arguments.iter().chain(&["--force"])).code, 0);
    assert_eq!(gearleg(["drop", PLAIN, "--out", PLAIN, "--force"]).code, 2);
}

#[test]
fn json_has_the_keys_that_scripts_rely_on() {
    let (_, said) = dropped(
        BRACED,
        &["--case", "level", "--multiples", "1,0.5,1", "--unload-from", "1.5", "--heights", "50 mm,1 m"],
    );
    assert_eq!(said["gearleg"], env!("CARGO_PKG_VERSION"));
    assert_eq!(number(&said, "format"), 1.0);
    assert_eq!(keys(&said["aircraft"]), ["mass_kg", "name"]);
    let [curve] = list(&said, "curves") else { panic!("one curve") };
    assert_eq!((words(curve, "gear"), words(curve, "case")), ("main", "level"));
    number(curve, "energy_absorbed_J");
    number(curve, "energy_returned_J");
    assert_eq!(keys(&curve["limit"]), ["cause", "multiple"]);
    let points = list(curve, "points");
    let passed: Vec<(f64, &str)> =
        points.iter().map(|p| (number(p, "multiple"), words(p, "branch"))).collect();
    assert_eq!(passed, [(0.5, "loading"), (1.0, "loading"), (0.5, "unloading"), (0.0, "unloading")]);
    for p in points {
        assert_eq!(keys(p), ["branch", "multiple", "peak_von_mises_Pa", "wheels", "wires", "yielded"]);
        list(p, "wheels").iter().for_each(|w| three(w, "displacement_m"));
        list(p, "wires").iter().for_each(|w| assert_eq!(keys(w), ["name", "slack", "tension_N"]));
    }
    for m in list(curve, "marks") {
        assert_eq!(keys(m), ["multiple", "part", "what"]);
    }
    let [unloading] = list(&said, "unloadings") else { panic!("one unloading") };
    close(number(unloading, "from_multiple"), 1.5, unloading);
    list(unloading, "wheels").iter().for_each(|w| three(w, "set_m"));
    let [low, high] = list(&said, "drops") else { panic!("two drops") };
    let figures = [
        "inertia_load_factor",
        "ground_reaction_factor",
        "deflection_m",
        "set_m",
        "set_deg",
        "rebound_height_m",
    ];
    for key in figures {
        number(low, key);
        assert_eq!(high[key], Value::Null, "{key}: nothing is left to measure after a collapse");
    }
    for d in [low, high] {
        for key in ["height_m", "sink_rate_mps", "wing_lift"] {
            number(d, key);
        }
        assert!(d["yielded"].is_boolean() && d["collapsed"].is_boolean(), "{d}");
    }
    assert_eq!((&low["collapsed"], &high["collapsed"]), (&Value::Bool(false), &Value::Bool(true)));
    let [gear] = list(&said, "gears") else { panic!("one gear") };
    assert!(number(gear, "highest_without_set_m") < number(gear, "survives_m"));
    assert!(!list(&said, "plans").is_empty() && !list(&said, "cautions").is_empty());
}

/// Work under the printed figures: ground-reaction factor over travel, by trapezoids, in N m.
fn work(drops: &[Value]) -> f64 {
    let mut last = (0.0, 0.0);
    drops.iter().fold(0.0, |sum, d| {
        let now = (number(d, "deflection_m"), number(d, "ground_reaction_factor"));
        let more = 0.5 * (last.1 + now.1) * (now.0 - last.0);
        last = now;
        sum + more * WEIGHT
    })
}

/// The fall's energy is the area below the curve: m g [h + (1 − L) d] = ∫ F dd, with F and d as they are printed.
#[test]
fn energy_of_the_fall_is_energy_on_the_curve() {
    // Rates in equal steps bring travels in about equal steps.
    let rates =
        |to: f64| (1..=80).map(|i| format!("{} m/s", to * f64::from(i) / 80.0)).collect::<Vec<_>>().join(",");
    // Elastic, and with legs that yield: 1.9 m/s is 184 mm, where 59 mm yields.
    for to in [1.0, 1.9] {
        let (_, said) = dropped(PLAIN, &["--case", "level", "--sink-rates", &rates(to)]);
        let drops = list(&said, "drops");
        assert_eq!(drops.len(), 80);
        let last = drops.last().expect("drops");
        let lift = number(last, "wing_lift");
        let fall = WEIGHT * (number(last, "height_m") + (1.0 - lift) * number(last, "deflection_m"));
        let done = work(drops);
        // The foot of the curve, up to (1 − L) times the weight twice over, is one straight step: 0.2 % at most.
        assert!(
            (done / fall - 1.0).abs() < 2e-3,
            "up to {to} m/s: {done} J on the curve, {fall} J of the fall"
        );
        let speed = (2.0 * 9.806_65 * number(last, "height_m")).sqrt();
        assert!((speed - to).abs() < 1e-9, "{speed}");
        let (reaction, inertia) =
            (number(last, "ground_reaction_factor"), number(last, "inertia_load_factor"));
        close(inertia, reaction + lift, last);
        assert_eq!(last["yielded"], Value::Bool(to > 1.08), "{to}");
        if to < 1.08 {
            // Nothing is lost: it bounces as high as it fell.
            assert!((number(last, "rebound_height_m") / number(last, "height_m") - 1.0).abs() < 1e-6);
            assert!(number(last, "set_m") < 1e-9);
        }
    }
}

/// Symptom: a braced gear took up 38 J where its curve has 16, and collapsed at twice the height. Expected: what a gear takes up
/// is the area below its load over its travel. Cause: a wire that had let go went on yielding under a force that it no
/// longer had.
#[test]
fn a_wire_that_has_let_go_takes_up_nothing() {
    let (_, said) = dropped(BRACED, &["--case", "one-wheel-whole", "--heights", "10 mm"]);
    let curve = &list(&said, "curves")[0];
    assert!(list(curve, "marks").iter().any(|m| words(m, "what") == "wire-breaks"), "{curve}");
    // Aft and up, n = 3.5: 0.25 n and n − 2/3 times the weight.
    let load = [0.25 * 3.5 * WEIGHT, 0.0, (3.5 - 2.0 / 3.0) * WEIGHT];
    let mut last = (0.0, [0.0; 3]);
    let mut done = 0.0;
    for p in list(curve, "points").iter().filter(|p| words(p, "branch") == "loading") {
        let to: Vec<f64> =
            list(&list(p, "wheels")[0], "displacement_m").iter().filter_map(Value::as_f64).collect();
        let now = (number(p, "multiple"), [to[0], to[1], to[2]]);
        for (axis, force) in load.iter().enumerate() {
            done += 0.5 * (last.0 + now.0) * force * (now.1[axis] - last.1[axis]);
        }
        last = now;
    }
    // Where the wire lets go the load falls at a stand: trapezoids see a slope of half a millimetre there, 2 %.
    let absorbed = number(curve, "energy_absorbed_J");
    assert!((absorbed / done - 1.0).abs() < 0.02, "{absorbed} J, but {done} J below the curve");
}

#[test]
fn what_did_not_yield_on_the_way_up_has_not_yielded_on_the_way_back() {
    let (_, said) = dropped(PLAIN, &["--case", "level", "--multiples", "0.5,1", "--heights", "10 mm"]);
    let points = list(&list(&said, "curves")[0], "points");
    assert!(points.iter().all(|p| p["yielded"] == Value::Bool(false)), "{points:?}");
    let (_, said) = dropped(PLAIN, &["--case", "level", "--multiples", "0.5,1.3", "--heights", "10 mm"]);
    let points = list(&list(&said, "curves")[0], "points");
    let yielded: Vec<bool> = points.iter().filter_map(|p| p["yielded"].as_bool()).collect();
    assert_eq!(yielded, [false, true, true, true]);
}

/// Nobody knows when an unknown metal yields: elastic figures, and no word on what stays.
#[test]
fn an_unknown_metal_has_no_set() {
    let (code, said) =
        dropped(UNKNOWN, &["--case", "level", "--unload-from", "2", "--heights", "50 mm,400 mm"]);
    assert_eq!(code, 1);
    for d in list(&said, "drops") {
        assert!(number(d, "inertia_load_factor") > 1.0);
        for key in ["set_m", "set_spread_m", "set_deg", "yielded", "rebound_height_m"] {
            assert_eq!(d[key], Value::Null, "{key} in {d}");
        }
    }
    assert_eq!(list(&said, "gears")[0]["highest_without_set_m"], Value::Null);
    assert_eq!(list(&said, "unloadings")[0]["wheels"][0]["set_m"], Value::Null);
    assert_eq!(list(&said, "verdicts")[0]["verdict"], "untold");
    for step in list(&list(&said, "plans")[0], "steps") {
        assert_eq!(step["set_spread_m"], Value::Null);
        assert_eq!(list(step, "spread_m").len(), 2);
    }
    // The elastic figures are those of a known metal of the same stiffness that has not yielded.
    let folder = tempfile::tempdir().expect("a folder");
    let same = folder.path().join("known.toml");
    let text = std::fs::read_to_string(UNKNOWN).expect("the example can be read");
    std::fs::write(&same, text.replace("\"unknown\"", "\"6082-T6\"")).expect("the copy can be written");
    let (_, known) =
        dropped(same.to_str().expect("a plain path"), &["--case", "level", "--heights", "50 mm"]);
    let factor = |v: &Value| number(&list(v, "drops")[0], "inertia_load_factor");
    assert!((factor(&said) - factor(&known)).abs() < 1e-6);
}

#[test]
fn text_fits_the_page_and_promises_nothing() {
    for file in [PLAIN, BRACED, UNKNOWN, NOSE, OTHERS[0], OTHERS[1]] {
        let ended = gearleg(["drop", file]);
        assert!(ended.code <= 1 && ended.err.is_empty(), "{file}: {}", ended.err);
        assert_eq!(wide(&ended.out), Vec::<&str>::new(), "{file}");
        assert!(!ended.out.contains('\u{1b}') && !ended.out.contains("-0.0"), "{file}");
        let words: Vec<&str> = ended
            .out
            .split(|c: char| !c.is_alphanumeric())
            .filter(|w| w.eq_ignore_ascii_case("safe"))
            .collect();
        // "On the safe side" is said of the rigid tyre, and of nothing else.
        assert_eq!(words.len(), ended.out.matches("safe side").count(), "{file}");
        insta::assert_snapshot!(
            file.rsplit('/').next().expect("a name").trim_end_matches(".toml"),
            ended.out
        );
    }
}

#[test]
fn drop_tests_are_answered_one_by_one() {
    let (_, said) =
        dropped("docs/examples/survey-plane-drop.toml", &["--case", "level", "--heights", "90 mm"]);
    let [reading] = list(&said, "readings") else { panic!("one drop test") };
    let ratio: Vec<f64> = list(reading, "stiffness_ratio").iter().filter_map(Value::as_f64).collect();
    assert!(ratio[0] < 1.0 && ratio[1] > 1.0 && ratio[1] - ratio[0] < 0.1, "{ratio:?}");
    // It stayed wider than a sheet of the least yield strength, 260 MPa, would: the metal is softer.
    let (least, most) = (number(&reading["yield_Pa"], "least"), number(&reading["yield_Pa"], "most"));
    assert!(least < most && most < 260e6, "{least} to {most}");
    let (own, again) = (&list(&said, "drops")[0], &list(reading, "drops")[0]);
    assert!(number(again, "set_spread_m") > number(own, "set_spread_m"), "{again}");
    let text =
        gearleg(["drop", "docs/examples/survey-plane-drop.toml", "--case", "level", "--heights", "90 mm"]);
    assert!(text.out.contains("the metal yields between"), "{}", text.out);
}
