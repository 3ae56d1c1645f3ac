//! `gearleg check --spread` from the command line.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that can't go on says so"
)]

#[path = "common/normal.rs"]
mod normal;
#[path = "common/run.rs"]
mod run;

use normal::POST;
use run::*;
use serde_json::Value;
use std::fs;

fn post(folder: &tempfile::TempDir) -> String {
    let file = path(folder, "post.toml");
    fs::write(&file, POST.replace("thickness = \"5 mm ± 0 mm\"", "thickness = \"5 mm ± 0.5 mm\""))
        .expect("it can be written");
    file.to_string_lossy().into_owned()
}

#[test]
fn the_report_says_how_sure_it_is_and_what_to_measure() {
    let folder = scratch();
    let file = post(&folder);
    let ended = gearleg(["check", &file, "--spread", "--samples", "200", "--only-written", "--explain"]);
    assert_eq!(ended.code, 0, "the file as written holds, and that is the exit code: {}", ended.err);
    for words in [
        "SPREAD, when nothing is quite what the file says",
        "200 samples within the tolerances in the file (seed 1)",
        "That something does not hold the landing stated: ",
        "centre leg stays bent",
        "fewer than 1 in",
        "WHAT TO MEASURE NEXT",
        "gear.nose.plate.thickness (5 mm ± 0.5 mm): measure with calipers",
        "WHAT WAS TAKEN TO VARY",
        "as the file says",
    ] {
        let found = ended.out.split_whitespace().collect::<Vec<_>>().join(" ");
        let known = words == "fewer than 1 in" && found.contains("< 1 in");
        assert!(found.contains(words) || known, "`{words}` is missing in\n{}", ended.out);
    }
    let spread = ended.out.split("SPREAD, when").nth(1).expect("it has the section");
    assert!(!spread.contains("safe"), "never that word");
    assert!(wide(&ended.out).is_empty(), "{:?}", wide(&ended.out));
    let again = gearleg(["check", &file, "--spread", "--samples", "200", "--only-written", "--explain"]);
    assert_eq!(ended.out, again.out, "the same seed says the same");
}

#[test]
fn json_has_the_spread_with_every_key() {
    let folder = scratch();
    let file = post(&folder);
    let ended = gearleg(["check", &file, "--spread", "--samples", "200", "--seed", "7", "--format", "json"]);
    let all: Value = serde_json::from_str(&ended.out).unwrap_or_else(|e| panic!("{e}: {}", ended.err));
    let spread = &all["spread"];
    assert_eq!((number(spread, "samples"), number(spread, "seed")), (200.0, 7.0));
    assert_eq!((number(spread, "refused"), number(spread, "unsolved")), (0.0, 0.0));
    assert_eq!(spread["only_written"], false);
    for key in ["chance", "error", "times", "of"] {
        number(&spread["any_fails"], key);
    }
    for key in ["p05", "p50", "p95"] {
        number(&spread["smallest_margin"], key);
    }
    let inputs: Vec<&str> = list(spread, "inputs").iter().map(|i| words(i, "key")).collect();
    assert!(inputs.contains(&"gear.nose.plate.metal.strength"), "{inputs:?}");
    for margin in list(spread, "margins") {
        let told = list(&all, "margins").iter().any(|m| {
            m["check"] == margin["check"] && m["gear"] == margin["gear"] && m["part"] == margin["part"]
        });
        assert!(told, "{margin} is no margin of the check");
        assert!((0.0..=1.0).contains(&number(margin, "chance_of_failing")));
        assert!(number(margin, "error") > 0.0);
        assert_eq!(margin["fewer_than_one_in"].is_null(), number(margin, "chance_of_failing") > 0.0);
        let shares: Vec<f64> = list(margin, "causes").iter().map(|c| number(c, "share")).collect();
        assert_eq!(shares.len(), inputs.len());
        assert!(shares.windows(2).all(|two| two[0] >= two[1]), "the most first: {shares:?}");
    }
    let plain = json(&file);
    assert!(plain["spread"].is_null(), "only when asked for");
    assert_eq!(plain["margins"], all["margins"], "the check itself is as without");
}

#[test]
fn what_belongs_to_a_spread_is_refused_without_it() {
    let folder = scratch();
    let file = post(&folder);
    for option in [&["--samples", "300"][..], &["--seed", "3"], &["--only-written"]] {
        let ended = gearleg([&["check", file.as_str()], option].concat());
        assert_eq!((ended.code, ended.out.as_str()), (2, ""), "{option:?}");
        assert!(ended.err.contains("--spread"), "{}", ended.err);
    }
    for samples in ["0", "199", "many", "-5", "100000000"] {
        let ended = gearleg(["check", &file, "--spread", "--samples", samples]);
        assert_eq!((ended.code, ended.out.as_str()), (2, ""), "{samples}");
    }
}
