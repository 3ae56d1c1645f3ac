//! Bolts tried for a gear whose bolts are meant to give first: the answer is that of a whole check with each bolt.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that can't go on says so"
)]

#[path = "common/run.rs"]
mod run;
#[path = "common/worked.rs"]
mod worked;

use gearleg::analysis;
use gearleg::checks;
use gearleg::model::PartKind;
use gearleg::results::{FirstSize, Margin, Verdict};
use run::gearleg;
use serde_json::Value;
use std::cell::Cell;
use std::fs;
use worked::{library, read, solved};

/// The example, with these landings only: in a rut its bolts are to give first.
fn in_landings(cases: &str) -> String {
    let text = fs::read_to_string("docs/examples/survey-plane-fuse.toml").expect("the example can be read");
    let listed = text.lines().find(|l| l.starts_with("cases = ")).expect("it lists its landings");
    text.replace(listed, &format!("cases = [{cases}]"))
}

/// The same without its wires, which is quicker.
fn plain(text: &str) -> String {
    let (before, rest) = text.split_once("[[gear.main.brace]]").expect("it has wires");
    let (_, mount) = rest.split_once("[gear.main.mount]").expect("it has a mount");
    format!("{before}[gear.main.mount]{mount}")
}

fn tried(text: &str) -> Vec<FirstSize> {
    let told = Cell::new(0);
    let found = analysis::first_sizes(&read(text), library(), &|done, all| {
        assert!(done < all, "{done} of {all}");
        told.set(told.get() + 1);
    })
    .expect("every gear has a solution");
    assert_eq!(told.get(), found.len(), "each bolt is counted");
    found
}

#[test]
fn each_bolt_is_judged_as_a_check_of_its_own_would() {
    let text = in_landings("\"one-wheel\", \"obstacle\"");
    let found = tried(&text);
    assert!(found.iter().any(|s| s.fits) && found.iter().any(|s| !s.fits), "some would do, some not");
    // Those that would do come first.
    assert!(found.is_sorted_by_key(|s| !s.fits));
    for size in [&found[0], &found[found.len() / 2], &found[found.len() - 1]] {
        let bolt = format!("bolt = \"{}\"\nbolt_class = \"{}\"", size.bolt, size.class);
        let alone = solved(&read(&text.replace("bolt = \"M6\"\nbolt_class = \"nylon\"", &bolt)));
        let holds = |wanted: &dyn Fn(&Margin) -> bool| {
            alone.margins.iter().filter(|m| wanted(m)).all(|m| m.verdict == Verdict::Holds)
        };
        let of_bolts = |m: &Margin| checks::find(m.check).is_some_and(|c| c.fails == Some(PartKind::Bolts));
        let fits = holds(&of_bolts) && holds(&|m: &Margin| m.check == "give-first");
        assert_eq!(size.fits, fits, "{} {}", size.bolt, size.class);
    }
}

#[test]
fn no_bolts_are_tried_where_none_are_meant_to_give_first() {
    let text = plain(&in_landings("\"obstacle\""));
    for other in [text.replace("give_first = \"bolts\"", "give_first = \"legs\""), worked::POST.to_owned()] {
        assert!(tried(&other).is_empty());
    }
}

#[test]
fn the_command_line_shows_them() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("fuse.toml");
    fs::write(&file, plain(&in_landings("\"obstacle\""))).expect("it can be written");
    let file = file.to_str().expect("a plain path");
    let text = gearleg(["check", file, "--size-first"]).out;
    let (_, told) = text.split_once("BOLTS THAT GIVE FIRST").expect("they are shown");
    assert!(told.contains("would do") && told.contains("M6 nylon"), "{told}");
    let json: Value = serde_json::from_str(&gearleg(["check", file, "--size-first", "--format", "json"]).out)
        .expect("JSON");
    let sizes = json["give_first_sizes"].as_array().expect("a list");
    assert!(sizes.iter().any(|s| s["fits"] == true && s["bolt_class"] == "nylon"), "{sizes:?}");
    let plain: Value = serde_json::from_str(&gearleg(["check", file, "--format", "json"]).out).expect("JSON");
    assert!(plain.get("give_first_sizes").is_none(), "only when asked");
}
