//! Where the program's answer goes, what is in it for other programs, and what is left behind.

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
use std::ffi::OsStr;
use std::fs;
use std::path::Path;
use std::process::Stdio;

// --- JSON

#[test]
fn json_has_every_key_with_the_right_kind_of_value() {
    for file in examples() {
        let all = json(&file);
        assert_eq!(words(&all, "gearleg"), env!("CARGO_PKG_VERSION"));
        assert_eq!(all["format"], 1);
        assert!(!words(&all["aircraft"], "name").is_empty());
        assert!(number(&all["aircraft"], "mass_kg") > 0.0);
        let landing = &all["landing"];
        close(
            number(landing, "inertia_load_factor") - number(landing, "wing_lift"),
            number(landing, "ground_reaction_factor"),
            landing,
        );
        for case in list(&all, "cases") {
            assert!(!words(case, "gear").is_empty() && !words(case, "case").is_empty());
            for wheel in list(case, "wheels") {
                assert!(["left", "right", "centre"].contains(&words(wheel, "side")));
                three(wheel, "load_N");
                three(wheel, "displacement_m");
            }
            for root in list(case, "roots") {
                assert!(["left", "right", "centre"].contains(&words(root, "side")));
                three(root, "force_N");
                three(root, "moment_Nm");
                assert!(number(root, "von_mises_Pa") >= 0.0 && !words(root, "peak_at").is_empty());
            }
            for wire in list(case, "wires") {
                let slack = wire["slack"].as_bool().expect("slack or not");
                assert_eq!(slack, number(wire, "tension_N") == 0.0, "{wire}");
                assert!(!words(wire, "name").is_empty());
                assert!(["null", "\"plate\"", "\"wood\""].contains(&wire["held_by"].to_string().as_str()));
            }
            for bolt in list(case, "bolts") {
                assert!(!words(bolt, "name").is_empty() && number(bolt, "tension_N") >= 0.0);
                let resultant = number(bolt, "aft_N").hypot(number(bolt, "starboard_N"));
                close(number(bolt, "shear_N"), resultant, bolt);
            }
            assert_eq!(list(case, "bolts").is_empty(), case["mount"].is_null(), "{case}");
        }
        for needed in list(&all, "required_yield") {
            assert!(!words(needed, "gear").is_empty() && !words(needed, "case").is_empty());
            assert!(number(needed, "yield_Pa") >= 0.0);
            for key in ["grades_that_hold", "grades_that_bend"] {
                assert!(list(needed, key).iter().all(Value::is_string));
            }
        }
        assert!(list(&all, "cautions").iter().all(Value::is_string));
        assert!(list(&all, "cautions").len() > 3);
    }
}

/// Sum of a component over a list.
fn sum(all: &[Value], component: impl Fn(&Value) -> f64) -> f64 {
    all.iter().map(component).sum()
}

/// Bolts, bed and formers together carry what the wheels bring: the wires are anchored in the plate and so stay out of it.
#[test]
fn json_of_a_mount_is_in_balance() {
    let all = json(MOUNTED);
    let mut seen = 0;
    for case in list(&all, "cases") {
        let (bolts, wheels, mount) = (list(case, "bolts"), list(case, "wheels"), &case["mount"]);
        let load = |axis: usize| sum(wheels, |w| w["load_N"][axis].as_f64().expect("a number"));
        let pull = sum(bolts, |b| number(b, "tension_N") - number(b, "pressed_N"));
        let push = number(mount, "push_N");
        let near = |actual: f64, expected: f64, what: &str| {
            let scale = push.max(sum(bolts, |b| number(b, "tension_N")));
            assert!(
                // Faint springs at the corners keep a lifted plate in sight and carry a trace.
                (actual - expected).abs() <= 1e-3 * scale,
                "{what}: {actual} is not {expected} in {case}"
            );
        };
        near(push, pull + load(2), "up");
        near(sum(bolts, |b| number(b, "aft_N")), load(0), "aft");
        near(sum(bolts, |b| number(b, "starboard_N")), load(1), "starboard");
        let formers = list(mount, "formers");
        assert_eq!(formers.is_empty(), mount["wood"].is_null(), "{mount}");
        if !formers.is_empty() {
            for axis in 0..3 {
                let all = sum(formers, |f| f["force_N"][axis].as_f64().expect("a number"));
                near(all, load(axis), "formers");
            }
            assert!(number(&mount["wood"], "bending_Nm") > 0.0, "{mount}");
        }
        assert!((0.0..=1.0).contains(&number(mount, "contact")), "{mount}");
        assert!(number(mount, "plate_von_mises_Pa") > 0.0, "{mount}");
        seen += 1;
    }
    assert_eq!(seen, 7);
}

#[test]
fn json_tells_in_which_order_parts_give() {
    const KINDS: [&str; 6] = ["legs", "wires", "axles", "bolts", "nuts", "wood"];
    for file in examples() {
        let all = json(&file);
        let landing = &all["landing"];
        let orders = list(&all, "failure_order");
        let names: Vec<String> = list(&all, "cases")
            .iter()
            .map(|c| format!("{} {}", words(c, "gear"), words(c, "case")))
            .collect();
        assert!(!orders.is_empty(), "{file}");
        for order in orders {
            assert!(names.contains(&format!("{} {}", words(order, "gear"), words(order, "case"))), "{order}");
            let followed = number(order, "followed_to");
            let failures = list(order, "failures");
            let multiples: Vec<f64> = failures.iter().map(|f| number(f, "multiple")).collect();
            // Parts that give together to 1e-4 stand in the order of the checks.
            assert!(multiples.windows(2).all(|m| m[0] <= m[1] * (1.0 + 1e-4)), "{order}");
            assert!(multiples.iter().all(|m| *m > 0.0 && *m <= followed * (1.0 + 1e-9)), "{order}");
            for failure in failures {
                assert!(!words(failure, "part").is_empty() && !words(failure, "words").is_empty());
                match failure["kind"].as_str() {
                    Some(kind) => assert!(KINDS.contains(&kind), "{failure}"),
                    None => assert_eq!(words(failure, "check"), "limit-load"),
                }
                if let Some(n) = failure["inertia_load_factor"].as_f64() {
                    let reaction = number(failure, "multiple") * number(landing, "ground_reaction_factor");
                    close(n, reaction + number(landing, "wing_lift"), failure);
                } else {
                    assert!(failure["drop_height_m"].is_null(), "{failure}");
                }
            }
            for untold in list(order, "untold") {
                assert!(!words(untold, "part").is_empty() && !words(untold, "why").is_empty());
            }
        }
    }
}

#[test]
fn json_tells_what_wires_do_to_the_mount_and_to_the_g() {
    let all = json(MOUNTED);
    for effect in list(&all, "bracing") {
        let case = list(&all, "cases")
            .iter()
            .find(|c| c["gear"] == effect["gear"] && c["case"] == effect["case"])
            .expect("it is one of the cases");
        let most = list(case, "bolts").iter().map(|b| number(b, "tension_N")).fold(0.0, f64::max);
        close(number(effect, "bolt_pull_with_N"), most, effect);
        close(number(effect, "wood_bending_with_Nm"), number(&case["mount"]["wood"], "bending_Nm"), effect);
        assert!(number(effect, "bolt_pull_without_N") > 0.0 && effect["wood_bending_without_Nm"].is_number());
    }
    let drop = &list(&all, "bracing_drops")[0];
    assert!(number(drop, "height_m") > 0.0, "{drop}");
    // Wires stiffen a gear, and a stiffer gear passes on more g.
    assert!(number(drop, "inertia_load_factor_with") > number(drop, "inertia_load_factor_without"), "{drop}");
}

#[test]
fn json_margins_follow_from_their_numbers_and_the_weakest_is_the_first() {
    for file in examples() {
        let all = json(&file);
        let mut known = Vec::new();
        for margin in list(&all, "margins") {
            for key in ["check", "gear", "part", "unit", "source", "working"] {
                assert!(!words(margin, key).is_empty(), "{key} in {margin}");
            }
            // Bends and holes are made in the shop: no landing enters.
            let shop = ["bend-radius", "hole-edge"].contains(&words(margin, "check"));
            assert_eq!(margin["case"].is_null(), shop, "{margin}");
            assert!(number(margin, "applied") > 0.0 && number(margin, "factor") >= 1.0, "{margin}");
            let verdict = words(margin, "verdict");
            if verdict == "untold" {
                assert!(margin["allowable"].is_null() && margin["margin"].is_null(), "{margin}");
                assert!(!words(margin, "why").is_empty());
                continue;
            }
            let value = number(margin, "margin");
            let ratio = number(margin, "allowable") / (number(margin, "factor") * number(margin, "applied"));
            close(value, ratio - 1.0, margin);
            assert_eq!(verdict, if value >= 0.0 { "holds" } else { "fails" }, "{margin}");
            assert!(!words(margin, "basis").is_empty());
            known.push(value);
        }
        assert!(known.windows(2).all(|pair| pair[0] <= pair[1]), "{file}: worst first");
        let (first, weakest) = (&list(&all, "margins")[0], &all["weakest"]);
        for key in ["check", "gear", "part", "case", "margin"] {
            assert_eq!(first[key], weakest[key], "{file}: {key}");
        }
    }
}

#[test]
fn text_and_json_say_the_same() {
    for file in examples() {
        let all = json(&file);
        let verdicts: Vec<&str> = list(&all, "margins").iter().map(|m| words(m, "verdict")).collect();
        let text = checked(&file, &["--every-case"]);
        let (_, table) = text.out.split_once("MARGINS").expect("there are margins");
        let (table, _) = table.split_once("\nYIELD").expect("they end");
        for (verdict, shown) in [("holds", "   holds\n"), ("fails", "   FAILS\n"), ("untold", "can't tell\n")]
        {
            let count = verdicts.iter().filter(|v| **v == verdict).count();
            assert_eq!(table.matches(shown).count(), count, "{file}: {verdict}");
        }
        let holds = verdicts.iter().all(|v| *v == "holds");
        assert_eq!(text.code, i32::from(!holds), "{file}");
    }
}

// --- --out

#[test]
fn out_writes_the_whole_answer_and_replaces_only_when_forced() {
    let folder = scratch();
    let target = path(&folder, "report.txt");
    let out = target.to_string_lossy().into_owned();
    let ended = gearleg(["check", BRACED, "--out", &out]);
    assert_eq!((ended.code, ended.out.as_str(), ended.err.as_str()), (0, "", ""));
    assert_eq!(text(&target), gearleg(["check", BRACED]).out);

    fs::write(&target, "mine").expect("it can be written");
    let refused = gearleg(["check", BRACED, "--out", &out]);
    assert_eq!(refused.code, 2);
    assert!(refused.err.contains("exists already") && refused.err.contains("--force"), "{}", refused.err);
    assert_eq!(text(&target), "mine");

    let forced = gearleg(["check", BRACED, "--format", "json", "--out", &out, "--force"]);
    assert_eq!(forced.code, 0);
    assert_eq!(text(&target), gearleg(["check", BRACED, "--format", "json"]).out);
    assert_eq!(names_in(folder.path()), ["report.txt"]);
}

#[test]
fn out_leaves_nothing_behind_when_there_is_no_answer() {
    let folder = scratch();
    let kept = path(&folder, "kept.txt");
    fs::write(&kept, "mine").expect("it can be written");
    for project in [
        "format = 1\n".to_owned(),
        braced_with("\"4 mm\"", "\"4 m\""),
        braced_with("load_factor = 3.5", "sink_rate = \"1.6\""),
    ] {
        for (name, force) in [("report.txt", false), ("kept.txt", true)] {
            let out = path(&folder, name);
            let mut command = command();
            command.args(["check", "-", "--out"]).arg(&out);
            if force {
                command.arg("--force");
            }
            let ended = ended(command.write_stdin(project.clone()));
            assert_eq!((ended.code, ended.out.as_str()), (2, ""));
            assert_eq!(names_in(folder.path()), ["kept.txt"]);
            assert_eq!(text(&kept), "mine");
        }
    }
}

#[test]
fn out_into_a_folder_or_nowhere_is_refused() {
    let folder = scratch();
    let ended = gearleg(["check".as_ref(), BRACED.as_ref(), "--out".as_ref(), folder.path().as_os_str()]);
    assert_eq!(ended.code, 2);
    assert!(ended.err.contains("is a folder"), "{}", ended.err);
    let nowhere = path(&folder, "no/such.txt");
    let ended = gearleg(["check".as_ref(), BRACED.as_ref(), "--out".as_ref(), nowhere.as_os_str()]);
    assert_eq!(ended.code, 2);
    assert!(ended.err.contains("can't be written"), "{}", ended.err);
    assert!(names_in(folder.path()).is_empty());
}

#[cfg(unix)]
mod unix {
    use super::*;
    use std::os::unix::fs::{FileTypeExt, PermissionsExt, symlink};

    /// Symptom: `--out PIPE --force` renamed the answer over the pipe (a device, run by root, likewise). Expected: what
    /// is no ordinary file stays. Cause: only folders were refused.
    #[test]
    fn out_never_replaces_what_is_no_ordinary_file() {
        let folder = scratch();
        let pipe = path(&folder, "pipe");
        let made = std::process::Command::new("mkfifo").arg(&pipe).status().expect("mkfifo runs");
        assert!(made.success());
        for force in [&[][..], &["--force"]] {
            let ended = ended(command().args(["check", BRACED, "--out"]).arg(&pipe).args(force));
            assert_eq!(ended.code, 2);
            assert!(ended.err.contains("is not an ordinary file"), "{}", ended.err);
        }
        assert!(fs::metadata(&pipe).expect("it is there").file_type().is_fifo());
        assert_eq!(names_in(folder.path()), ["pipe"]);
    }

    /// Symptom: `--out LINK --force` turned the link into a file. Expected: the file behind it is replaced.
    #[test]
    fn out_writes_through_a_link() {
        let folder = scratch();
        let (file, link, broken) = (path(&folder, "file"), path(&folder, "link"), path(&folder, "broken"));
        fs::write(&file, "mine").expect("it can be written");
        symlink("file", &link).expect("a link can be made");
        symlink("nowhere", &broken).expect("a link can be made");
        let refused = ended(command().args(["check", BRACED, "--out"]).arg(&link));
        assert_eq!((refused.code, text(&file).as_str()), (2, "mine"));
        let forced = ended(command().args(["check", BRACED, "--force", "--out"]).arg(&link));
        assert_eq!(forced.code, 0, "{}", forced.err);
        assert!(fs::symlink_metadata(&link).expect("it is there").file_type().is_symlink());
        assert!(text(&file).contains("VERDICT"));
        let refused = ended(command().args(["check", BRACED, "--force", "--out"]).arg(&broken));
        assert_eq!(refused.code, 2);
        assert!(refused.err.contains("is a link to a file that can't be reached"), "{}", refused.err);
        assert_eq!(names_in(folder.path()), ["broken", "file", "link"]);
    }

    #[test]
    fn a_replaced_file_keeps_who_may_read_it() {
        let folder = scratch();
        let file = path(&folder, "file");
        fs::write(&file, "mine").expect("it can be written");
        fs::set_permissions(&file, fs::Permissions::from_mode(0o640)).expect("it is ours");
        assert_eq!(ended(command().args(["check", BRACED, "--force", "--out"]).arg(&file)).code, 0);
        let mode = fs::metadata(&file).expect("it is there").permissions().mode() & 0o777;
        assert_eq!(mode, 0o640);
    }

    #[test]
    fn a_folder_that_may_not_be_written_is_refused() {
        let folder = scratch();
        fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o555)).expect("it is ours");
        let probe = path(&folder, "probe");
        // The administrator may write anywhere: then there is nothing to refuse.
        let may_write = fs::write(&probe, "").is_ok();
        let ended = ended(command().args(["check", BRACED, "--out"]).arg(path(&folder, "report.txt")));
        assert_eq!(ended.code, if may_write { 0 } else { 2 }, "{}", ended.err);
        fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o755)).expect("it is ours");
    }

    #[test]
    fn a_name_that_is_no_text_is_no_obstacle() {
        use std::os::unix::ffi::OsStrExt;
        let folder = scratch();
        let name = folder.path().join(OsStr::from_bytes(b"we\xffird.toml"));
        fs::write(&name, text(Path::new(BRACED))).expect("it can be written");
        assert_eq!(gearleg(["check".as_ref(), name.as_os_str()]).code, 0);
        fs::write(&name, "format = 2").expect("it can be written");
        assert_eq!(gearleg(["check".as_ref(), name.as_os_str()]).code, 2);
    }

    #[test]
    fn escape_codes_in_a_name_do_not_reach_the_terminal() {
        let folder = scratch();
        let ended = gearleg_in(folder.path(), &["check", "a\u{1b}[31m.toml"]);
        assert_eq!(ended.code, 2);
        assert!(!ended.err.contains('\u{1b}'), "{:?}", ended.err);
        let wrote = gearleg_in(folder.path(), &["new", "a\u{1b}[31m.toml"]);
        assert_eq!(wrote.err, "wrote 'a?[31m.toml'; edit it, then run: gearleg check 'a?[31m.toml'\n");
    }

    /// Symptom: a message that could not be written ended the program with a panic, code 101. Expected: the code of
    /// what the message was about.
    #[test]
    fn nobody_listens_on_standard_error() {
        for sink in ["2>/dev/full", "2>&-"] {
            let run = format!("'{}' check no-such-file.toml {sink}", env!("CARGO_BIN_EXE_gearleg"));
            let status = std::process::Command::new("sh").args(["-c", &run]).status().expect("sh runs");
            assert_eq!(status.code(), Some(2), "{run}");
        }
    }

    #[test]
    fn a_full_disk_is_nobodys_fault() {
        let run = format!("'{}' check {BRACED} >/dev/full", env!("CARGO_BIN_EXE_gearleg"));
        let output = std::process::Command::new("sh").args(["-c", &run]).output().expect("sh runs");
        assert_eq!(output.status.code(), Some(3));
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(said, "standard output can't be written: no space left on device\n");
    }
}

#[test]
fn a_reader_that_goes_away_is_no_failure() {
    for arguments in [&["check", BRACED, "--explain", "--every-case"][..], &["tables", "metals"]] {
        let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_gearleg"))
            .args(arguments)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program starts");
        drop(child.stdout.take());
        let output = child.wait_with_output().expect("it ends");
        assert_eq!(output.status.code(), Some(0), "{arguments:?}");
        assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
    }
}
