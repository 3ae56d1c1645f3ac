//! The program as its user runs it: every command, what it prints and how it ends.

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
use std::path::Path;

// --- new

#[test]
fn a_new_file_is_accepted_by_check_and_never_overwritten() {
    let folder = scratch();
    let wrote = gearleg_in(folder.path(), &["new"]);
    assert_eq!((wrote.code, wrote.out.as_str()), (0, ""));
    assert_eq!(wrote.err, "wrote gear.toml; edit it, then run: gearleg check gear.toml\n");
    let first = text(&path(&folder, "gear.toml"));
    let checked = gearleg_in(folder.path(), &["check", "gear.toml"]);
    assert!(checked.code <= 1 && checked.err.is_empty(), "{}", checked.err);

    let again = gearleg_in(folder.path(), &["new"]);
    assert_eq!(again.code, 2);
    insta::assert_snapshot!(again.err, @r"
    error[output]: gear.toml exists already
     |
     = help: choose another name, or add --force where the command takes it
    ");
    assert_eq!(text(&path(&folder, "gear.toml")), first);
    assert_eq!(names_in(folder.path()), ["gear.toml"]);
}

#[test]
fn new_says_in_json_what_it_wrote_and_replaces_only_by_force() {
    let folder = scratch();
    let first = gearleg_in(folder.path(), &["new", "--out", "a.toml", "--format", "json"]);
    assert_eq!(first.code, 0);
    let said: serde_json::Value = serde_json::from_str(&first.out).expect("JSON");
    assert_eq!(said["wrote"], "a.toml");
    std::fs::write(folder.path().join("a.toml"), "mine").expect("a file of one's own");
    assert_eq!(gearleg_in(folder.path(), &["new", "--out", "a.toml"]).code, 2);
    assert_eq!(std::fs::read_to_string(folder.path().join("a.toml")).expect("still there"), "mine");
    assert_eq!(gearleg_in(folder.path(), &["new", "--out", "a.toml", "--force"]).code, 0);
    // The starter holds as it stands.
    assert_eq!(gearleg_in(folder.path(), &["check", "a.toml"]).code, 0);
}

#[test]
fn new_needs_a_folder_that_exists_and_a_name_of_its_own() {
    let folder = scratch();
    let nowhere = gearleg_in(folder.path(), &["new", "no/such/gear.toml"]);
    assert_eq!(nowhere.code, 2);
    insta::assert_snapshot!(nowhere.err, @r"
    error[output]: no/such/gear.toml can't be written: no such file or directory
     |
     = help: choose a folder that exists and is yours
    ");
    let into = gearleg_in(folder.path(), &["new", "."]);
    assert_eq!(into.code, 2);
    insta::assert_snapshot!(into.err, @r"
    error[output]: . is a folder
     |
     = help: give the name of a file in it
    ");
    assert!(names_in(folder.path()).is_empty());
}

#[test]
fn new_shows_a_name_as_it_is_typed() {
    let folder = scratch();
    for (name, shown) in [("my gear.toml", "'my gear.toml'"), ("脚.toml", "脚.toml")] {
        let wrote = gearleg_in(folder.path(), &["new", name]);
        assert_eq!(wrote.err, format!("wrote {shown}; edit it, then run: gearleg check {shown}\n"));
        assert!(gearleg_in(folder.path(), &["check", name]).code <= 1);
    }
    let dashed = gearleg_in(folder.path(), &["new", "--", "-x.toml"]);
    assert!(dashed.err.contains("gearleg check ./-x.toml"), "{}", dashed.err);
    assert!(gearleg_in(folder.path(), &["check", "./-x.toml"]).code <= 1);
}

/// Symptom: `new -` wrote a file called `-` and told to check it, which then waited for standard input. Expected: a
/// dash is standard output. Cause: only reading knew the dash.
#[test]
fn a_dash_is_standard_output() {
    let folder = scratch();
    let starter = gearleg_in(folder.path(), &["new", "-"]);
    assert_eq!((starter.code, starter.err.as_str()), (0, ""));
    let checked = ended(command().args(["check", "-", "--out", "-"]).write_stdin(starter.out));
    assert!(checked.code <= 1 && checked.out.contains("VERDICT"));
    assert!(names_in(folder.path()).is_empty());
}

// --- check

#[test]
fn every_example_ends_as_it_should() {
    for (name, code) in EXAMPLES {
        let ended = checked(&format!("docs/examples/{name}.toml"), &[]);
        assert_eq!((ended.code, ended.err.as_str()), (code, ""), "{name}");
        assert!(ended.out.contains("\nVERDICT\n") && ended.out.contains("\nCAUTIONS\n"), "{name}");
    }
}

#[test]
fn text_fits_the_page_and_has_no_colours_when_piped() {
    for file in examples() {
        for more in [&[][..], &["--explain"], &["--every-case"], &["--explain", "--every-case"]] {
            let ended = checked(&file, more);
            assert_eq!(wide(&ended.out), Vec::<&str>::new(), "{file} {more:?}");
            assert!(!ended.out.contains('\u{1b}'), "{file} {more:?}");
            assert!(ended.out.lines().all(|line| line == line.trim_end()), "{file} {more:?}");
        }
    }
}

#[test]
fn every_case_shows_every_margin_and_explain_every_sum() {
    let margins = json(BRACED)["margins"].as_array().expect("a list").len();
    let text = gearleg(["check", BRACED, "--every-case", "--explain"]).out;
    assert_eq!(text.matches("\n  - Source: ").count(), margins);
    let (table, _) = text.split_once("THE SUMS").expect("the sums are shown");
    assert_eq!(table.matches("   holds\n").count(), margins);
}

#[test]
fn messages_have_no_colours_where_they_are_not_wanted() {
    for variable in ["NO_COLOR", "GEARLEG_NOTHING"] {
        let ended = ended(command().env(variable, "1").args(["check", "no-such-file.toml"]));
        assert_eq!(ended.code, 2);
        assert!(!ended.err.contains('\u{1b}'), "{}", ended.err);
    }
}

#[test]
fn standard_input_is_read_for_a_dash() {
    let project = text(Path::new(BRACED));
    let piped = ended(command().args(["check", "-"]).write_stdin(project));
    assert_eq!(piped.code, 0);
    assert_eq!(piped.out, gearleg(["check", BRACED]).out);
    let bad = ended(command().args(["check", "-"]).write_stdin("format = 2\n"));
    assert_eq!(bad.code, 2);
    assert!(bad.err.contains("standard input:1:10"), "{}", bad.err);
}

#[test]
fn files_that_are_none() {
    let folder = scratch();
    for (name, said) in [("nothing.toml", "there is no file nothing.toml"), (".", ". is a folder")] {
        let ended = gearleg_in(folder.path(), &["check", name]);
        assert_eq!((ended.code, ended.out.as_str()), (2, ""));
        assert!(ended.err.contains(said), "{}", ended.err);
    }
}

#[test]
fn landings_by_energy_are_reckoned_and_said() {
    for (landing, said) in [
        ("sink_rate = \"1 m/s\"", "given by its sink rate, 1.00 m/s"),
        ("drop_height = \"51 mm\"", "given as a drop of 51.0 mm"),
        (
            "arrival = \"firm\"",
            "given as a firm arrival: 1.0 m/s to 1.3 m/s (common practice). The highest is taken",
        ),
    ] {
        let project = braced_with("load_factor = 3.5", landing);
        let shown = ended(command().args(["check", "-"]).write_stdin(project.clone()));
        assert!(shown.code <= 1, "{}", shown.err);
        let text = shown.out.replace("\n    ", " ").replace('\n', " ");
        assert!(text.contains(said), "{text}");
        assert!(text.contains("n_j = [h + (1 − L) d]/(e d)"), "{text}");
        // The load factor that is shown is the one that the drop makes.
        let data = ended(command().args(["check", "-", "--format", "json"]).write_stdin(project));
        let value: Value = serde_json::from_str(&data.out).expect("it is JSON");
        let (landing, drop) = (&value["landing"], &value["landing"]["drops"][0]);
        assert_eq!(landing["inertia_load_factor"], drop["inertia_load_factor"]);
        assert_eq!(
            (&drop["collapsed"], &drop["load_factor_stated"]),
            (&Value::Bool(false), &Value::Bool(false))
        );
        assert!(value["margins"].as_array().expect("a list").iter().any(|m| m["check"] == "landing-energy"));
    }
}

#[test]
fn a_sink_rate_and_its_height_are_one_landing() {
    // v²/2g = 1/(2 × 9.80665) m = 50.986 mm.
    let factor = |landing: &str| {
        let project = braced_with("load_factor = 3.5", landing);
        let data = ended(command().args(["check", "-", "--format", "json"]).write_stdin(project));
        let value: Value = serde_json::from_str(&data.out).expect("it is JSON");
        value["landing"]["inertia_load_factor"].as_f64().expect("a number")
    };
    let (speed, height) = (factor("sink_rate = \"1 m/s\""), factor("drop_height = \"50.98581 mm\""));
    assert!((speed - height).abs() < 1e-6 * speed, "{speed} is not {height}");
}

#[test]
fn a_gear_that_gives_way_in_its_landing_is_said_first() {
    let plain = fs::read_to_string("docs/examples/survey-plane.toml").expect("an example");
    let project = plain.replace("load_factor = 3.5", "drop_height = \"500 mm\"");
    let shown = ended(command().args(["check", "-"]).write_stdin(project.clone()));
    assert_eq!(shown.code, 1);
    let text = shown.out.replace("\n    ", " ");
    let second = text.lines().nth(4).expect("the verdict has two lines");
    assert!(second.starts_with("  - Gear main gives way in this landing, a level drop of 500 mm"), "{text}");
    assert!(second.contains("The loads shown are the most it holds"), "{text}");
    let data = ended(command().args(["check", "-", "--format", "json"]).write_stdin(project));
    let value: Value = serde_json::from_str(&data.out).expect("it is JSON");
    let drop = &value["landing"]["drops"][0];
    assert_eq!((&drop["collapsed"], &drop["inertia_load_factor"]), (&Value::Bool(true), &Value::Null));
    assert!(drop["survives_m"].as_f64().expect("a height") < 0.5);
}

#[test]
fn a_load_factor_below_an_ordinary_arrival_is_doubted() {
    let doubted = |factor: &str| {
        let project = braced_with("load_factor = 3.5", factor);
        let out = ended(command().args(["check", "-"]).write_stdin(project)).out.replace("\n    ", " ");
        out.contains("is not an ordinary landing on this gear. A firm arrival, at its highest 1.3 m/s, makes")
    };
    // What a firm arrival makes of this gear is near ten.
    assert!(doubted("load_factor = 3.5"));
    assert!(!doubted("load_factor = 11"));
}

#[test]
fn each_case_says_its_theory_and_its_limit() {
    let data = gearleg(["check", "docs/examples/survey-plane.toml", "--format", "json"]);
    let value: Value = serde_json::from_str(&data.out).expect("it is JSON");
    for case in value["cases"].as_array().expect("a list") {
        assert_eq!(case["theory"], "large", "{case}");
        assert!(case["small_stress_Pa"].as_f64().expect("a stress") > 0.0, "{case}");
        assert!(case["theory_note"].as_str().expect("words").contains("unsafe side"), "{case}");
        assert!(case["limit_load"]["multiple"].as_f64().expect("a multiple") > 0.0, "{case}");
    }
    let whole = value["cases"].as_array().expect("a list").iter().find(|c| c["case"] == "one-wheel-whole");
    assert_eq!(whole.expect("it applies")["limit_load"]["cause"], "plastic-hinge");
    let text = gearleg(["check", "docs/examples/survey-plane.toml", "--explain"]).out.replace("\n    ", " ");
    assert!(
        text.contains(
            "In this landing forces are those of the gear as it stands under load (large displacements)"
        ),
        "{text}"
    );
}

// --- the command line itself

#[test]
fn a_gear_that_finds_no_rest_is_shown_by_the_simpler_theory_and_fails() {
    let project = braced_with("thickness = \"4 mm\"", "thickness = \"2 mm\"");
    let data = ended(command().args(["check", "-", "--format", "json"]).write_stdin(project.clone()));
    let value: Value = serde_json::from_str(&data.out).expect("it is JSON");
    let level = value["cases"].as_array().expect("a list").iter().find(|c| c["case"] == "level");
    let level = level.expect("it applies");
    assert_eq!((&level["theory"], &level["small_stress_Pa"]), (&Value::from("only-small"), &Value::Null));
    // The one thing that must not happen: no state, and yet a pass.
    let margins = value["margins"].as_array().expect("a list");
    let gives_way = margins.iter().find(|m| m["check"] == "limit-load" && m["case"] == "level");
    assert_eq!(gives_way.expect("it is checked")["verdict"], "fails");
    let text = ended(command().args(["check", "-"]).write_stdin(project)).out.replace("\n    ", " ");
    assert!(text.contains("it finds no rest once it moves as far as the load drives it"), "{text}");
}

#[test]
fn cases_that_load_no_gear_are_no_pass() {
    // Symptom: "All 0 margins hold", exit 0. Cause: only cases for a single position were compared with the gears.
    let folder = scratch();
    let text = std::fs::read_to_string("docs/examples/survey-plane-nose-single.toml").expect("an example");
    let text = text.replace("load_factor = 3.5", "load_factor = 3.5\ncases = [\"tail-down\"]");
    std::fs::write(folder.path().join("nose.toml"), text).expect("written");
    let ended = gearleg_in(folder.path(), &["check", "nose.toml"]);
    assert_eq!((ended.code, ended.out.as_str()), (2, ""), "{}", ended.err);
    assert!(ended.err.contains("needs a main or tail gear"), "{}", ended.err);
}

#[test]
fn published_landings_are_said_to_hold_only_where_they_were_checked() {
    // A stronger sheet: with 6082-T6 the published landings leave the leg too little before it gives way.
    let text = std::fs::read_to_string("docs/examples/survey-plane.toml").expect("an example");
    let text = text.replace("metal = \"6082-T6\"", "metal = \"7075-T6\"").replace("\"20 mm\"", "\"40 mm\"");
    let said = "every landing of the published rules that was asked for holds";
    let only = text.replace("load_factor = 3.5", "load_factor = 3.5\ncases = [\"one-wheel-whole\"]");
    for (project, claimed) in [(text, true), (only, false)] {
        let out = ended(command().args(["check", "-"]).write_stdin(project)).out.replace("\n    ", " ");
        assert_eq!(out.contains(said), claimed, "{out}");
    }
}

#[test]
fn the_answer_never_replaces_the_project_it_comes_from() {
    let folder = scratch();
    std::fs::copy("docs/examples/survey-plane.toml", folder.path().join("mine.toml")).expect("copied");
    let before = std::fs::read_to_string(folder.path().join("mine.toml")).expect("there");
    let ended = gearleg_in(folder.path(), &["check", "mine.toml", "--out", "./mine.toml", "--force"]);
    assert_eq!(ended.code, 2, "{}", ended.err);
    assert_eq!(std::fs::read_to_string(folder.path().join("mine.toml")).expect("there"), before);
}

#[test]
fn wrong_command_lines_are_told_what_is_right() {
    for (arguments, said) in [
        (&[][..], "Usage: gearleg"),
        (&["chekc", "x.toml"], "'check'"),
        (&["check"], "<FILE>"),
        (&["check", ""], "<FILE>"),
        (&["check", "a.toml", "b.toml"], "'b.toml'"),
        (&["check", "a.toml", "--format", "html"], "text, json"),
        (&["check", "a.toml", "--out"], "--out <PATH>"),
        (&["check", "a.toml", "--explian"], "--explain"),
        (&["tables", "glue"], "metals, wires, wire-ends, axles, bolts, woods, stock, arrivals"),
        (&["new", "x.toml", "--force"], "--out PATH --force"),
        (&["new", "x.toml", "--out", "y.toml"], "'--out <PATH>'"),
    ] {
        let ended = gearleg(arguments);
        assert_eq!((ended.code, ended.out.as_str()), (2, ""), "{arguments:?}");
        assert!(ended.err.contains(said), "{arguments:?}: {}", ended.err);
    }
}

#[test]
fn help_is_complete_and_short_help_fits_a_screen() {
    let mut manual = String::new();
    for name in ["", "new", "check", "size", "compare", "drop", "tables"] {
        let own: Vec<&str> = if name.is_empty() { vec![] } else { vec![name] };
        let short = gearleg(own.iter().chain(&["-h"]));
        assert_eq!((short.code, short.err.as_str()), (0, ""));
        assert!(short.out.lines().count() <= 24, "{}", short.out);
        let long = gearleg(own.iter().chain(&["--help"]));
        assert_eq!((long.code, long.err.as_str()), (0, ""));
        assert_eq!(wide(&long.out), Vec::<&str>::new());
        let trimmed: Vec<&str> = long.out.lines().map(str::trim_end).collect();
        manual.push_str(&format!("$ gearleg {name} --help\n{}\n\n", trimmed.join("\n")));
    }
    insta::assert_snapshot!(manual.replace("gearleg  --help", "gearleg --help"));
    let version = gearleg(["--version"]);
    assert_eq!((version.code, version.out), (0, format!("gearleg {}\n", env!("CARGO_PKG_VERSION"))));
}

// --- tables

#[test]
fn every_table_is_shown_and_is_json() {
    let overview = gearleg(["tables"]);
    assert_eq!(overview.code, 0);
    for kind in ["metals", "wires", "wire-ends", "axles", "bolts", "woods", "stock", "arrivals"] {
        assert!(overview.out.contains(kind), "{kind}");
        let shown = gearleg(["tables", kind]);
        assert_eq!((shown.code, shown.err.as_str()), (0, ""), "{kind}");
        assert_eq!(wide(&shown.out), Vec::<&str>::new(), "{kind}");
        assert!(!shown.out.contains('\u{1b}'), "{kind}");
        let data = gearleg(["tables", kind, "--format", "json"]);
        let value: Value = serde_json::from_str(&data.out).unwrap_or_else(|e| panic!("{kind}: {e}"));
        assert!(value.is_object(), "{kind}");
    }
}

const OWN_METAL: &str = r#"
[sources]
shop = "label on the sheet"
[[metal]]
name = "shed-sheet"
family = "aluminium"
basis = "bench test"
source = "shop"
modulus = "70 GPa"
poisson = 0.33
density = "2700 kg/m^3"
yield = "180 MPa"
ultimate = "230 MPa"
"#;

#[test]
fn a_folder_of_ones_own_adds_rows() {
    let folder = scratch();
    fs::write(path(&folder, "own.toml"), OWN_METAL).expect("it can be written");
    let tables = folder.path().to_string_lossy().into_owned();
    let shown = gearleg(["tables", "metals", "--tables", &tables]);
    assert_eq!(shown.code, 0);
    assert!(shown.out.contains("shed-sheet"));
    let project = braced_with("metal = \"6082-T6\"", "metal = \"shed-sheet\"");
    let unknown = ended(command().args(["check", "-"]).write_stdin(project.clone()));
    assert_eq!(unknown.code, 2);
    let known = ended(command().args(["--tables", &tables, "check", "-"]).write_stdin(project));
    assert!(known.code <= 1 && known.out.contains("VERDICT"), "{}", known.err);
}

#[test]
fn a_folder_with_a_taken_name_or_a_mistake_is_refused() {
    let folder = scratch();
    let tables = folder.path().to_string_lossy().into_owned();
    for (table, said) in [
        (OWN_METAL.replace("shed-sheet", "6082-T6"), "6082-T6"),
        (OWN_METAL.replace("\"180 MPa\"", "\"180\""), "180"),
        ("[[metal]\n".to_owned(), "own.toml:1"),
    ] {
        fs::write(path(&folder, "own.toml"), table).expect("it can be written");
        for arguments in [&["tables"][..], &["check", BRACED]] {
            let ended = gearleg(arguments.iter().chain(&["--tables", tables.as_str()]));
            assert_eq!((ended.code, ended.out.as_str()), (2, ""), "{arguments:?}");
            assert!(ended.err.contains(said) && ended.err.contains("own.toml:"), "{}", ended.err);
        }
    }
}

#[test]
fn folders_of_tables_that_are_none() {
    let folder = scratch();
    fs::write(path(&folder, "file"), "").expect("it can be written");
    fs::create_dir(path(&folder, "empty")).expect("it can be made");
    for (name, said) in [
        ("nowhere", "there is no folder nowhere"),
        ("file", "file is a file, not a folder"),
        ("empty", "the table folder empty has no file that ends in .toml"),
    ] {
        let ended = gearleg_in(folder.path(), &["tables", "--tables", name]);
        assert_eq!(ended.code, 2);
        assert!(ended.err.contains(said), "{}", ended.err);
        assert!(!ended.err.contains("os error"), "{}", ended.err);
    }
}
