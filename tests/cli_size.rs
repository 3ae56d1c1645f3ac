//! `gearleg size` as its user runs it: exit codes, the shape of its JSON, its files, its width and its messages.

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

/// A small gear with one landing and 8 designs.
const FILE: &str = r#"format = 1
[aircraft]
name = "small one"
mass = "6 kg"
layout = "tricycle"
[landing]
load_factor = 3
cases = ["level"]
[gear.main]
position = "main"
arms = "pair"
[gear.main.plate]
metal = "6082-T6"
thickness = ["2 mm", "3 mm", "4 mm", "5 mm"]
width_root = ["40 mm", "50 mm"]
width_tip = "30 mm"
base_width = "120 mm"
leg_length = "180 mm"
leg_angle = "40 deg"
[gear.main.wheel]
diameter = "100 mm"
overhang = "20 mm"
axle = "8 mm"
axle_metal = "steel-8.8"
"#;

/// A straight strip with one thickness and one landing: what makes a card quick.
fn narrow() -> String {
    FILE.replace("[\"40 mm\", \"50 mm\"]", "\"40 mm\"").replace("\"3 mm\", \"4 mm\", ", "")
}

fn sized(text: &str, more: &[&str]) -> Ended {
    ended(command().args(["size", "-"].iter().chain(more)).write_stdin(text.to_owned()))
}

fn said(text: &str, more: &[&str]) -> (i32, Value) {
    let ended = sized(text, &[&["--format", "json"], more].concat());
    assert!(ended.code <= 1 && ended.err.is_empty(), "{more:?}: {}", ended.err);
    (ended.code, serde_json::from_str(&ended.out).expect("JSON"))
}

#[test]
fn exit_codes_say_whether_something_holds() {
    assert_eq!(sized(FILE, &["--no-card"]).code, 0);
    assert_eq!(sized(&FILE.replace("load_factor = 3", "load_factor = 18"), &["--no-card"]).code, 1);
    // Whether a metal that nobody knows holds can't be told.
    assert_eq!(sized(&FILE.replace("6082-T6", "unknown"), &["--no-card"]).code, 1);
    let refused = sized(&FILE.replace("6082-T6", "6082-T66"), &["--no-card"]);
    assert_eq!((refused.code, refused.out.as_str()), (2, ""));
    assert!(refused.err.contains("<stdin>") || refused.err.contains("standard input"), "{}", refused.err);
    assert_eq!(gearleg(["size", "no-such-file.toml"]).code, 2);
    assert_eq!(sized(FILE, &["--card"]).code, 2);
    let unloaded = sized(&FILE.replace("\"level\"", "\"nose-aft\""), &["--no-card"]);
    assert_eq!((unloaded.code, unloaded.out.as_str()), (2, ""));
}

#[test]
fn open_values_that_can_not_be_understood_are_shown_in_their_line() {
    let bad = |thickness: &str| {
        let refused =
            sized(&FILE.replace("[\"2 mm\", \"3 mm\", \"4 mm\", \"5 mm\"]", thickness), &["--no-card"]);
        assert_eq!((refused.code, refused.out.as_str()), (2, ""), "{thickness}");
        assert_eq!(wide(&refused.err), Vec::<&str>::new());
        refused.err
    };
    insta::assert_snapshot!(
        [bad("[]"), bad("{ from = \"3 mm\" }"), bad("{ from = \"3.1 mm\", to = \"3.9 mm\" }")].join("\n")
    );
}

#[test]
fn json_has_what_scripts_rely_on() {
    let (code, all) = said(FILE, &["--no-card"]);
    assert_eq!(code, 0);
    assert_eq!(words(&all, "gearleg"), env!("CARGO_PKG_VERSION"));
    assert_eq!(all["format"], 1);
    let best = &all["best"];
    let changes = best["changes"].as_object().expect("the changes");
    let keys: Vec<&str> = changes.keys().map(String::as_str).collect();
    assert_eq!(keys.len(), 2, "{keys:?}");
    assert!(keys.contains(&"gear.main.plate.thickness") && keys.contains(&"gear.main.plate.width_root"));
    assert!(number(best, "mass_kg") > 0.0);
    let binding = &best["binding"];
    for key in ["check", "gear", "part", "case", "verdict", "source", "working"] {
        words(binding, key);
    }
    assert!(number(binding, "margin") >= 0.0);
    // The best is the first of the candidates, and those go from light to heavy.
    let candidates = list(&all, "candidates");
    assert_eq!(&candidates[0]["changes"], &best["changes"]);
    let masses: Vec<f64> = candidates.iter().map(|c| number(c, "mass_kg")).collect();
    assert!(masses.len() > 1 && masses.windows(2).all(|w| w[0] <= w[1]), "{masses:?}");
    assert_eq!(list(&all, "card").len(), 0);
    assert!(list(&all, "cautions").iter().all(Value::is_string));
    let gear = &list(&all, "gears")[0];
    assert_eq!((words(gear, "gear"), number(gear, "designs")), ("main", 8.0));
}

#[test]
fn what_is_told_holds_when_it_is_written_into_the_file() {
    let (_, all) = said(FILE, &["--no-card"]);
    let changes = &all["best"]["changes"];
    let mut text = FILE.to_owned();
    for (key, open) in
        [("thickness", "[\"2 mm\", \"3 mm\", \"4 mm\", \"5 mm\"]"), ("width_root", "[\"40 mm\", \"50 mm\"]")]
    {
        let value = words(changes, &format!("gear.main.plate.{key}"));
        text = text.replace(open, &format!("\"{value}\""));
    }
    let checked = ended(command().args(["check", "-", "--format", "json"]).write_stdin(text));
    assert_eq!(checked.code, 0, "{}", checked.err);
    let checked: Value = serde_json::from_str(&checked.out).expect("JSON");
    let (weakest, binding) = (&checked["weakest"], &all["best"]["binding"]);
    assert_eq!((&weakest["check"], &weakest["case"]), (&binding["check"], &binding["case"]));
    let apart = (number(weakest, "margin") - number(binding, "margin")).abs();
    assert!(apart < 2e-3, "{weakest} {binding}");
}

#[test]
fn nothing_that_holds_is_null() {
    let (code, all) = said(&FILE.replace("load_factor = 3", "load_factor = 18"), &["--no-card"]);
    assert_eq!(code, 1);
    assert!(all["best"].is_null() && list(&all, "candidates").is_empty(), "{all}");
    assert!(number(&list(&all, "gears")[0]["nearest"]["binding"], "margin") < 0.0);
    let words = list(&all, "in_words")[0].as_str().expect("words");
    assert!(words.contains("nothing that was looked for holds"), "{words}");
}

#[test]
fn an_answer_is_written_whole_or_not_at_all() {
    let folder = scratch();
    let (file, out) = (path(&folder, "gear.toml"), path(&folder, "answer.txt"));
    fs::write(&file, FILE).expect("it can be written");
    let arguments = ["size", "gear.toml", "--no-card", "--out", "answer.txt"];
    let first = gearleg_in(folder.path(), &arguments);
    assert_eq!((first.code, first.out.as_str()), (0, ""), "{}", first.err);
    let written = text(&out);
    assert_eq!(written, gearleg_in(folder.path(), &arguments[..3]).out);
    // Not over what is there, nor over the file itself, nor with a file that is wrong.
    assert_eq!(gearleg_in(folder.path(), &arguments).code, 2);
    assert_eq!(gearleg_in(folder.path(), &[&arguments[..], &["--force"]].concat()).code, 0);
    assert_eq!(gearleg_in(folder.path(), &["size", "gear.toml", "--out", "gear.toml", "--force"]).code, 2);
    fs::write(&file, FILE.replace("6082-T6", "6082-T66")).expect("it can be written");
    let wrong = ["size", "gear.toml", "--no-card", "--out", "other.txt"];
    assert_eq!(gearleg_in(folder.path(), &wrong).code, 2);
    assert_eq!(
        (text(&out), names_in(folder.path())),
        (written, vec!["answer.txt".into(), "gear.toml".into()])
    );
}

#[test]
fn the_text_is_what_it_was() {
    let found = sized(FILE, &["--no-card"]);
    assert_eq!(wide(&found.out), Vec::<&str>::new());
    assert!(!found.out.contains("safe") && !found.out.contains('\u{1b}'));
    insta::assert_snapshot!(found.out);
    let none = sized(&FILE.replace("load_factor = 3", "load_factor = 18"), &["--no-card"]);
    assert_eq!(wide(&none.out), Vec::<&str>::new());
    insta::assert_snapshot!("nothing_holds", none.out);
}

#[test]
fn the_card_fits_a_phone() {
    let found = sized(&narrow(), &[]);
    assert_eq!(found.code, 0, "{}", found.err);
    assert_eq!(wide(&found.out), Vec::<&str>::new());
    let (_, card) = found.out.split_once("MERCHANT'S CARD\n").expect("it has the card");
    let (card, _) = card.split_once("\nCAUTIONS").expect("the cautions follow");
    assert!(card.lines().count() > 16);
    let over: Vec<&str> = card.lines().filter(|l| l.chars().count() > 40).collect();
    assert_eq!(over, Vec::<&str>::new());
    assert!(card.lines().any(|l| l.starts_with("6082-T6 ")) && card.lines().any(|l| l.starts_with("any ")));
}

/// A single arm takes no wires, so that its card is quick.
#[test]
fn the_card_is_there_for_scripts() {
    let arm = narrow()
        .replace("position = \"main\"", "position = \"nose\"")
        .replace("arms = \"pair\"", "arms = \"single\"")
        .replace("base_width = \"120 mm\"\n", "")
        .replace("\"level\"", "\"nose-aft\"");
    let (code, all) = said(&arm, &[]);
    assert_eq!(code, 0);
    let rows = list(&all, "card");
    assert_eq!(rows.last().map(|r| words(r, "metal")), Some("unknown"));
    for row in rows {
        for key in ["thickness_plain", "thickness_braced", "mass_kg", "drop_height_without_set_m"] {
            assert!(row.get(key).is_some(), "{key} in {row}");
        }
        assert!(row["thickness_plain"].is_null() || number(row, "mass_kg") > 0.0, "{row}");
    }
}
