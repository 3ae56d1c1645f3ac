//! Gears that a clumsy or a hostile user may write and the reader accepts: reckoned without a panic and without odd
//! figures.

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
use std::path::Path;

// --- strange gears

/// What a clumsy or hostile user may write and the reader accepts: each with what is put in place of what in the braced
/// example.
const STRANGE: [(&str, &[(&str, &str)]); 17] = [
    ("legs straight down", &[("leg_angle = \"40 deg\"", "leg_angle = \"0 deg\"")]),
    ("legs nearly level", &[("leg_angle = \"40 deg\"", "leg_angle = \"85 deg\"")]),
    ("legs that lean inward", &[("leg_angle = \"40 deg\"", "leg_angle = \"-10 deg\"")]),
    ("much rake", &[("leg_angle = \"40 deg\"", "leg_angle = \"40 deg\"\nrake = \"80 deg\"")]),
    ("a tiny wheel in the leg", &[("\"110 mm\"", "\"10 mm\""), ("\"22 mm\"", "\"0 mm\"")]),
    ("a wheel larger than the gear", &[("\"110 mm\"", "\"900 mm\"")]),
    ("a leg thicker than wide", &[("\"60 mm\"", "\"3 mm\""), ("\"34 mm\"", "\"10 mm\"")]),
    ("a feather", &[("\"12.4 kg\"", "\"0.05 kg\""), ("load_factor = 3.5", "load_factor = 1.01")]),
    ("a ton", &[("\"12.4 kg\"", "\"1000 kg\""), ("load_factor = 3.5", "load_factor = 20")]),
    ("wires at the bend", &[("leg_at = 0.9", "leg_at = 0.01")]),
    ("wires at the axle", &[("leg_at = 0.9", "leg_at = 1")]),
    ("wires along the leg", &[("\"cross\"", "\"near\""), ("base_at = \"55 mm\"", "base_at = \"60 mm\"")]),
    ("wires from the middle", &[("base_at = \"55 mm\"", "base_at = \"0 mm\"")]),
    ("wires that never pull", &[("pretension = \"20 N\"", "slack = \"50 mm\"")]),
    ("a base as wide as a hand is thick", &[("\"120 mm\"", "\"10 mm\""), ("\"55 mm\"", "\"5 mm\"")]),
    ("no friction, no lift", &[("load_factor = 3.5", "load_factor = 3.5\nfriction = 0\nwing_lift = 0")]),
    ("a name in another script", &[("survey aeroplane, braced main gear", "測量機　主脚 ✈ é ü ß")]),
];

fn strange(changes: &[(&str, &str)]) -> String {
    let mut project = text(Path::new(BRACED));
    for (from, to) in changes {
        assert!(project.contains(from), "the example has {from}");
        project = project.replace(from, to);
    }
    // The thinner sheet of a changed leg need not be in the table of the grade: a metal of one's own has no bands.
    project.replace("metal = \"6082-T6\"", "metal = \"sheet\"")
        + "\n[metal.sheet]\nyield = \"250 MPa\"\nultimate = \"290 MPa\"\nmodulus = \"70 GPa\"\n\
           density = \"2700 kg/m^3\"\nbasis = \"told\"\n"
}

/// Words and figures that no report may have: what a sum that went wrong prints.
fn odd_words(text: &str) -> Vec<&str> {
    let odd = |word: &&str| {
        let bare = word.trim_matches(['(', ')', ',', ';', ':', '*']);
        let minus_nothing = bare.strip_prefix('-').is_some_and(|rest| {
            !rest.is_empty() && rest.contains('0') && rest.chars().all(|c| c == '0' || c == '.')
        });
        let parts = || bare.split('/');
        minus_nothing
            || parts().any(|p| ["NaN", "inf", "-inf", "infinite", "null", "-0", "-0.0"].contains(&p))
            || bare.contains("Some(")
            || bare.contains("None")
    };
    text.split_whitespace().filter(odd).collect()
}

#[test]
fn odd_words_are_seen() {
    assert_eq!(
        odd_words("1 -0.00 NaN 0/-0.0/1 -0.5 - -0 (inf) fine"),
        ["-0.00", "NaN", "0/-0.0/1", "-0", "(inf)"]
    );
}

#[test]
fn strange_gears_are_reckoned_without_odd_figures() {
    for (name, changes) in STRANGE {
        let project = strange(changes);
        let run =
            |more: &[&str]| ended(command().args(["check", "-"]).args(more).write_stdin(project.clone()));
        let shown = run(&["--every-case", "--explain"]);
        assert!(shown.code == 0 || shown.code == 1, "{name}: {}", shown.err);
        assert!(!shown.err.contains("error["), "{name}: {}", shown.err);
        assert_eq!(odd_words(&shown.out), Vec::<&str>::new(), "{name}");
        assert_eq!(wide(&shown.out), Vec::<&str>::new(), "{name}");
        let data = run(&["--format", "json"]);
        assert_eq!(data.code, shown.code, "{name}");
        let all: Value = serde_json::from_str(&data.out).unwrap_or_else(|e| panic!("{name}: {e}"));
        for margin in list(&all, "margins") {
            close(
                number(margin, "margin"),
                number(margin, "allowable") / (number(margin, "factor") * number(margin, "applied")) - 1.0,
                margin,
            );
        }
    }
}

#[test]
fn a_case_without_any_load_is_no_margin_and_no_failure() {
    let idle = "\n[[case]]\nname = \"parked on stands\"\ngear = \"main\"\nleft = { vertical = \"0 N\" }\n\
                right = { vertical = \"0 N\" }\n";
    let project = braced_with("pretension = \"20 N\"", "") + idle;
    let shown =
        ended(command().args(["check", "-", "--every-case", "--explain"]).write_stdin(project.clone()));
    assert_eq!(shown.code, 0, "{}", shown.err);
    assert_eq!(odd_words(&shown.out), Vec::<&str>::new());
    let data = ended(command().args(["check", "-", "--format", "json"]).write_stdin(project));
    let all: Value = serde_json::from_str(&data.out).expect("it is JSON");
    assert!(list(&all, "cases").iter().any(|c| c["case"] == "parked on stands"));
    assert!(list(&all, "margins").iter().all(|m| m["case"] != "parked on stands"));
}
