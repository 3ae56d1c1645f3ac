//! Bad project files: each is refused, and its message is exactly the one in the `.expected` file beside it.
//!
//! `UPDATE_EXPECTED=1 cargo test --test bad_input` writes the `.expected` files anew; read the difference before
//! committing it.
#![allow(clippy::expect_used, clippy::panic, reason = "a test stops at what it can't use")]

use gearleg::diagnostic::{Diagnostic, Diagnostics, Severity};
use gearleg::input::project::{load_project, read_project};
use gearleg::input::{STARTER, tables};
use gearleg::material::Library;
use gearleg::report::render;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

const FOLDER: &str = "tests/input/invalid";

fn library() -> Library {
    tables::builtin().expect("the built-in tables are good")
}

fn files() -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = fs::read_dir(FOLDER)
        .expect("the folder is there")
        .map(|entry| entry.expect("it can be listed").path())
        .filter(|path| path.extension().is_some_and(|e| e == "toml"))
        .collect();
    files.sort();
    files
}

fn refused(path: &Path, library: &Library) -> Diagnostics {
    match load_project(path, library) {
        Ok(_) => panic!("{} is accepted", path.display()),
        Err(found) => found,
    }
}

/// What must hold of any refusal, whatever is in it.
fn is_well_made(found: &Diagnostics, rendered: &str, name: &str) {
    assert!(found.has_errors(), "{name}: refused without an error");
    for trace in [
        "Some(",
        "None",
        "Err(",
        "Ok(",
        "::",
        "Error {",
        "Diagnostic",
        "panicked",
        "unwrap",
        "os error",
        "{:",
    ] {
        assert!(!rendered.contains(trace), "{name}: `{trace}` in\n{rendered}");
    }
    let mut last = 0;
    for d in &found.0 {
        assert!(!d.message.is_empty() && !d.message.ends_with('.'), "{name}: {}", d.message);
        assert!(!d.help.is_empty(), "{name}: no help with `{}`", d.message);
        if let Some(place) = &d.location {
            assert!(place.span.start >= last, "{name}: not in the order of the file: {}", d.message);
            last = place.span.start;
            let (line, column) = place.line_column();
            let at = format!("--> {}:{line}:{column}\n", place.source.name);
            assert!(rendered.contains(&at), "{name}: {at} is missing in\n{rendered}");
        }
    }
    for line in rendered.lines().filter(|line| !line.contains(" | ") && !line.contains("-->")) {
        assert!(line.chars().count() <= 100, "{name}: wider than 100 columns: {line}");
    }
}

#[test]
fn every_bad_file_has_exactly_its_message() {
    let library = library();
    let update = std::env::var_os("UPDATE_EXPECTED").is_some();
    let mut wrong = Vec::new();
    let files = files();
    assert!(files.len() >= 150, "only {} bad files", files.len());
    for path in &files {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let found = refused(path, &library);
        let rendered = render(&found.0, false);
        is_well_made(&found, &rendered, &name);
        let has_no_lines = ["empty.toml", "only-comments.toml", "utf16.toml"].contains(&name.as_str());
        assert_eq!(found.0.iter().all(|d| d.location.is_none()), has_no_lines, "{name}: places");
        let expected = path.with_extension("expected");
        if update {
            fs::write(&expected, &rendered).expect("the folder can be written");
        } else if fs::read_to_string(&expected).unwrap_or_default() != rendered {
            wrong.push((name, rendered));
        }
    }
    let names: Vec<&str> = wrong.iter().map(|(name, _)| name.as_str()).collect();
    let first = wrong.first().map(|(_, rendered)| rendered.as_str()).unwrap_or_default();
    assert!(wrong.is_empty(), "other than expected: {}\n\nthe first is now:\n{first}", names.join(" "));
}

#[test]
fn an_expected_message_has_its_file() {
    for entry in fs::read_dir(FOLDER).expect("the folder is there") {
        let path = entry.expect("it can be listed").path();
        assert!(path.with_extension("toml").exists(), "{} belongs to no file", path.display());
    }
}

/// Every key that the starter explains is wrong at least once in kind, and every quantity in unit and range.
#[test]
fn every_key_is_wrong_somewhere() {
    let keys: BTreeSet<&str> = STARTER
        .lines()
        .filter_map(|line| line.trim_start_matches("# ").split_once(" = "))
        .map(|(key, _)| key)
        .filter(|key| key.chars().all(|c| c.is_ascii_lowercase() || c == '_'))
        .collect();
    assert!(keys.len() > 50, "the starter explains {} keys", keys.len());
    let messages = |kind: &str| -> String {
        files()
            .iter()
            .filter(|path| path.to_string_lossy().contains(kind))
            .map(|path| fs::read_to_string(path.with_extension("expected")).unwrap_or_default())
            .collect()
    };
    let (types, all) = (messages("type") + &messages("format-text"), messages(""));
    for key in keys.into_iter().filter(|key| !["thickness", "wheel"].contains(key)) {
        let quoted = format!("`{key}` needs ");
        assert!(types.contains(&quoted) || types.contains(&format!("no {key} ")), "{quoted} in no message");
        assert!(all.matches(&format!("{key} = ")).count() >= 2, "{key} is tried once only");
    }
}

#[test]
fn all_mistakes_of_a_file_come_together() {
    let found = refused(Path::new("tests/input/invalid/many-mistakes.toml"), &library());
    let errors = found.0.iter().filter(|d| d.severity == Severity::Error).count();
    assert_eq!(errors, 7, "{found}");
}

#[test]
fn a_file_that_is_too_large_is_refused() {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let path = folder.path().join("huge.toml");
    fs::write(&path, "# a line of a very long comment\n".repeat(40_000)).expect("it can be written");
    let found = refused(&path, &library());
    let rendered = render(&found.0, false).replace(&path.display().to_string(), "huge.toml");
    assert_eq!(
        rendered,
        "error[too-large]: huge.toml is larger than 1 MB, and a project file has a few kB\n |\n = help: perhaps another file was meant\n"
    );
    let text = "# a line\n".repeat(200_000);
    let source = gearleg::diagnostic::SourceText { name: "huge.toml".to_owned(), text };
    let found = read_project(source.into(), &library()).expect_err("as text it is as large");
    assert_eq!(found.0.first().map(|d| d.code), Some("too-large"));
}

/// Just under the size limit, so that all of it is looked at; what costs time for each mistake would show here.
#[test]
fn very_many_mistakes_are_cut_short() {
    let library = library();
    let refused = |text: String| {
        let source = gearleg::diagnostic::SourceText { name: "long.toml".to_owned(), text };
        read_project(source.into(), &library).expect_err("nonsense is refused").0
    };
    let unknown: String = (0..70_000).map(|n| format!("key{n} = 1\n")).collect();
    let found = refused(unknown);
    assert_eq!(found.len(), 101);
    // Beside the unknown keys: format, aircraft, landing and gear are missing.
    assert_eq!(found.last().map(|d| d.message.as_str()), Some("69904 more mistakes are not shown"));
    assert_eq!(refused("x\n".repeat(400_000)).len(), 8);
    assert_eq!(refused("x = y\n".repeat(150_000)).len(), 8);
    let cases = refused("[[case]]\nname = \"a\"\n".repeat(45_000));
    assert_eq!(cases.len(), 101);
}

/// A variant costs no more to refuse than a file does, however much it names.
#[test]
fn very_many_mistakes_of_variants_are_cut_short() {
    let library = library();
    let refused = |text: String| {
        let source = gearleg::diagnostic::SourceText { name: "long.toml".to_owned(), text };
        read_project(source.into(), &library).expect_err("nonsense is refused").0
    };
    let names = "\"gear.none\",".repeat(8_000);
    let out: String = (1..8).map(|n| format!("[variant.v{n}]\nwithout = [{names}]\n")).collect();
    let found = refused(format!("{STARTER}{out}"));
    assert_eq!(found.len(), 101);
    assert_eq!(found.last().map(|d| d.message.as_str()), Some("607 more mistakes are not shown"));
    let keys = |before: &str| -> String { (0..15_000).map(|n| format!("{before}key{n} = 1\n")).collect() };
    let found = refused(format!("{}[variant.v]\n{}", keys(""), keys("")));
    assert_eq!(found.len(), 101);
}

#[test]
fn what_is_no_file_is_refused() {
    let library = library();
    let first = |path: &str| -> (Diagnostic, String) {
        let found = refused(Path::new(path), &library);
        let rendered = render(&found.0, false);
        is_well_made(&found, &rendered, path);
        (found.0.first().cloned().expect("one at least"), rendered)
    };
    assert_eq!(first("tests/input").0.message, "tests/input is a folder");
    assert_eq!(first("tests/input/none.toml").0.message, "there is no file tests/input/none.toml");
}

#[test]
fn colour_only_when_asked() {
    let found = refused(Path::new("tests/input/invalid/mass-huge.toml"), &library());
    assert!(!render(&found.0, false).contains('\u{1b}'));
    assert!(render(&found.0, true).contains("\u{1b}["));
    assert!(render(&found.0, false).is_ascii());
    assert_eq!(render(&[], false), "");
}
