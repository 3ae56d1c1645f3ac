//! The program run as its user runs it, and its answer looked into. Each test file uses what it needs.
#![allow(dead_code, reason = "no test file needs all of it")]
#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that can't go on says so"
)]

use assert_cmd::Command;
use serde_json::Value;
use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

pub(crate) const BRACED: &str = "docs/examples/survey-plane-braced.toml";

/// Every example with the code it ends with.
pub(crate) const EXAMPLES: [(&str, i32); 8] = [
    ("survey-plane", 1),
    ("survey-plane-braced", 0),
    ("survey-plane-mount", 1),
    ("survey-plane-fuse", 0),
    ("survey-plane-unknown", 1),
    ("survey-plane-nose-single", 0),
    ("survey-plane-nose-twin", 0),
    ("survey-plane-nose-variants", 0),
];

/// Project files that every promise about the output is held against, beside the examples.
pub(crate) const OTHERS: [&str; 3] =
    ["tests/input/report/inches.toml", "tests/input/report/tailwheel-limits.toml", MOUNTED];

/// Two gears on their mounts, the wires of one anchored in its plate.
pub(crate) const MOUNTED: &str = "tests/input/report/mounted.toml";

pub(crate) fn examples() -> impl Iterator<Item = String> {
    let own = EXAMPLES.iter().map(|(name, _)| format!("docs/examples/{name}.toml"));
    own.chain(OTHERS.map(str::to_owned))
}

#[derive(Clone)]
pub(crate) struct Ended {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

pub(crate) fn ended(command: &mut Command) -> Ended {
    let output = command.output().expect("the program starts");
    Ended {
        code: output.status.code().expect("it ends by itself"),
        out: String::from_utf8(output.stdout).expect("it prints text"),
        err: String::from_utf8(output.stderr).expect("it prints text"),
    }
}

pub(crate) fn command() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_gearleg"));
    // What a shell may set and would show in the output.
    for variable in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "COLUMNS"] {
        command.env_remove(variable);
    }
    command
}

pub(crate) fn gearleg<S: AsRef<OsStr>>(arguments: impl IntoIterator<Item = S>) -> Ended {
    ended(command().args(arguments))
}

/// Runs in a folder, as somebody does who types short names.
pub(crate) fn gearleg_in(folder: &Path, arguments: &[&str]) -> Ended {
    ended(command().current_dir(folder).args(arguments))
}

pub(crate) fn names_in(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .expect("the folder is there")
        .map(|entry| entry.expect("it can be listed").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

pub(crate) fn scratch() -> tempfile::TempDir {
    tempfile::tempdir().expect("a folder can be made")
}

pub(crate) fn path(folder: &tempfile::TempDir, name: &str) -> PathBuf {
    folder.path().join(name)
}

pub(crate) fn text(path: &Path) -> String {
    fs::read_to_string(path).expect("the file is there")
}

pub(crate) fn braced_with(from: &str, to: &str) -> String {
    let text = text(Path::new(BRACED));
    assert!(text.contains(from), "the example has {from}");
    text.replace(from, to)
}

pub(crate) fn wide(text: &str) -> Vec<&str> {
    // Every letter the program itself writes is one column wide.
    text.lines().filter(|line| line.chars().count() > 100).collect()
}

/// The check of a file that no test changes, run once for all tests of a test program.
pub(crate) fn checked(file: &str, more: &[&str]) -> Ended {
    static ANSWERS: Mutex<BTreeMap<Vec<String>, Ended>> = Mutex::new(BTreeMap::new());
    let arguments: Vec<String> = ["check", file].iter().chain(more).map(|a| (*a).to_owned()).collect();
    let mut answers = ANSWERS.lock().unwrap_or_else(PoisonError::into_inner);
    answers.entry(arguments.clone()).or_insert_with(|| gearleg(&arguments)).clone()
}

pub(crate) fn json(file: &str) -> Value {
    let of_the_project = ["docs/examples/", "tests/input/"].iter().any(|folder| file.starts_with(folder));
    let more = ["--format", "json"];
    let ended =
        if of_the_project { checked(file, &more) } else { gearleg(["check", file].iter().chain(&more)) };
    assert!(ended.code <= 1, "{file}: {}", ended.err);
    serde_json::from_str(&ended.out).unwrap_or_else(|e| panic!("{file}: {e}"))
}

pub(crate) fn list<'v>(value: &'v Value, key: &str) -> &'v [Value] {
    value[key].as_array().unwrap_or_else(|| panic!("`{key}` is no list in {value}"))
}

pub(crate) fn number(value: &Value, key: &str) -> f64 {
    // JSON has no way to write a number that is not finite: it would be null.
    value[key].as_f64().unwrap_or_else(|| panic!("`{key}` is no number in {value}"))
}

pub(crate) fn words<'v>(value: &'v Value, key: &str) -> &'v str {
    value[key].as_str().unwrap_or_else(|| panic!("`{key}` is no text in {value}"))
}

pub(crate) fn three(value: &Value, key: &str) {
    let all = list(value, key);
    assert!(all.len() == 3 && all.iter().all(Value::is_number), "`{key}` in {value}");
}

pub(crate) fn close(actual: f64, expected: f64, what: &Value) {
    assert!(
        (actual - expected).abs() <= 1e-12 * (1.0 + expected.abs()),
        "{actual} is not {expected}: {what}"
    );
}
