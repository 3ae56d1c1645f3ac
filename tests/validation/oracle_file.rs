//! Reads the committed answers of `oracle/`.

use serde_json::Value;
use std::path::PathBuf;

pub(crate) fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/validation/oracle")
}

pub(crate) fn answers(name: &str) -> Value {
    let path = folder().join("answers").join(format!("{name}.json"));
    let text = std::fs::read_to_string(&path).expect("the answers are committed");
    serde_json::from_str(&text).expect("the answers are JSON")
}

pub(crate) fn closed_forms() -> Value {
    answers("closed_forms")
}
