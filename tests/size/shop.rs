//! Files with values left open, the search through them, and the same done by brute force.

use gearleg::analysis::{self, check};
use gearleg::diagnostic::{Diagnostics, SourceText};
use gearleg::input::project::{Change, Draft, NewValue, OpenValue};
use gearleg::input::tables::builtin;
use gearleg::material::{Library, System};
use gearleg::model::Project;
use gearleg::results::{CheckResult, Margin, SizeResult, SizedDesign, Verdict};
use gearleg::search::{SizeError, size};
use std::sync::{Arc, LazyLock};

static LIBRARY: LazyLock<Library> = LazyLock::new(|| builtin().expect("the built-in tables are sound"));

/// The built-in tables.
pub(crate) fn library() -> &'static Library {
    &LIBRARY
}

pub(crate) fn draft(text: &str) -> Draft {
    let source = SourceText { name: "shop.toml".to_owned(), text: text.to_owned() };
    Draft::new(Arc::new(source)).unwrap_or_else(|wrong| panic!("{wrong}"))
}

pub(crate) fn tried(text: &str, card: bool) -> Result<SizeResult, SizeError> {
    size(&draft(text), library(), card, &|_, _| ()).map(|(found, _)| found)
}

/// What is found without a card.
pub(crate) fn sized(text: &str) -> SizeResult {
    tried(text, false).unwrap_or_else(|error| panic!("{error:?} in\n{text}"))
}

/// The best of the only gear.
pub(crate) fn best(result: &SizeResult) -> &SizedDesign {
    result.gears[0].best.as_ref().unwrap_or_else(|| panic!("something holds: {:?}", result.gears[0].nearest))
}

/// What a design gives a key that ends so.
pub(crate) fn given<'d>(design: &'d SizedDesign, key: &str) -> Option<&'d str> {
    design.changes.iter().find(|(k, _)| k.ends_with(key)).map(|(_, value)| value.as_str())
}

/// The millimetres that a design gives a key.
pub(crate) fn millimetres(design: &SizedDesign, key: &str) -> f64 {
    let text = given(design, key).unwrap_or_else(|| panic!("{key} in {:?}", design.changes));
    text.strip_suffix(" mm").and_then(|n| n.parse().ok()).unwrap_or_else(|| panic!("{text} in mm"))
}

/// One of all designs of a file, followed by the check itself.
pub(crate) struct Tried {
    pub(crate) changes: Vec<Change>,
    pub(crate) project: Project,
    pub(crate) mass: f64,
    pub(crate) checked: CheckResult,
}

impl Tried {
    /// The least margin; what can't be told is less than any.
    pub(crate) fn least(&self) -> f64 {
        least(&self.checked.margins).unwrap_or(f64::NEG_INFINITY)
    }

    /// Whether it is what a design says: the design has no more to say than this.
    pub(crate) fn is(&self, design: &SizedDesign) -> bool {
        design
            .changes
            .iter()
            .all(|(key, value)| self.changes.iter().any(|c| c.key == *key && words(&c.to) == *value))
    }
}

/// The least of margins; `None` where one can't be told.
pub(crate) fn least(margins: &[Margin]) -> Option<f64> {
    margins.iter().try_fold(f64::INFINITY, |least, m| match m.verdict {
        Verdict::Untold(_) => None,
        _ => m.value().map(|v| least.min(v)),
    })
}

fn words(value: &NewValue) -> String {
    match value {
        NewValue::Text(text) => text.clone(),
        NewValue::Number(number) => number.to_string(),
        NewValue::Nothing => String::new(),
    }
}

/// What a file leaves open, looked for among metric sizes.
pub(crate) fn open_values(text: &str) -> Result<Vec<OpenValue>, Diagnostics> {
    draft(text).open_values(library(), &[System::Metric])
}

/// Every design of a file with one gear, read and checked one by one; those that can't be read are left out.
pub(crate) fn all_designs(text: &str) -> Vec<Tried> {
    let draft = draft(text);
    let mut all: Vec<Vec<Change>> = vec![Vec::new()];
    for value in open_values(text).unwrap_or_else(|wrong| panic!("{wrong}")) {
        all = all
            .iter()
            .flat_map(|begun| {
                value.choices.iter().map(|to| {
                    let mut changes = begun.clone();
                    changes.push(Change { key: value.key.clone(), to: to.clone() });
                    changes
                })
            })
            .collect();
    }
    let mut tried = Vec::new();
    for changes in all {
        let Ok((project, _)) = draft.read(library(), &changes) else { continue };
        let Ok(checked) = check(&project, library()) else { continue };
        let mass = project.gears[0].mass(analysis::unknown_density()).total().value;
        tried.push(Tried { changes, project, mass, checked });
    }
    tried
}
