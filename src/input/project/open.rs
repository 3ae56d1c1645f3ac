//! Values that a file leaves open, and what is sold or listed for each.

use super::draft::{Draft, NewValue};
use super::measure::four_figures;
use super::section::{OPEN, nearest, shown};
use super::tree::{Entry, Node, Table, Value};
use crate::diagnostic::{Diagnostic, Diagnostics, Location, SourceText};
use crate::input::quantity::{FromText, Written};
use crate::material::{Library, SOLD_CLASSES, StockForm, System};
use crate::units::{Angle, Force, Length, Measure, Stiffness, Unit};
use std::sync::Arc;

/// A value that is left open, with what it may become.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenValue {
    /// Dotted key, as in [`super::Change`].
    pub key: String,
    /// The gear it belongs to.
    pub gear: String,
    /// What it may become, as it would stand in the file, in the order in which it is listed.
    pub choices: Vec<NewValue>,
    /// Where the file leaves it open.
    pub at: Location,
}

/// A quantity that a range can step through.
trait Stepped: FromText + Measure + Copy {}

impl<Q: FromText + Measure + Copy> Stepped for Q {}

/// Lists that are lists by themselves.
const LISTS: [&str; 3] = ["bolts", "cases", "give_first_in"];

/// Most choices for one value. chosen: finer steps are below what a saw can cut.
const MOST_CHOICES: usize = 500;

/// Step of a width that is left open altogether: flat bar and strips are cut by it. Common practice, no source.
const WIDTH_STEP: &str = "5 mm";

/// What is on sale for a key.
#[derive(Debug, Clone, Copy)]
enum Sale {
    Sizes(&'static [StockForm]),
    Names(&'static [StockForm]),
    Classes,
    Words(&'static [&'static str]),
    /// Between the ends of a list, in steps.
    Steps(StockForm),
}

/// What is on sale for a key of a section; `None` when nobody keeps a list of it.
fn sale(section: &str, key: &str) -> Option<Sale> {
    Some(match (section, key) {
        ("plate", "thickness" | "thickness_root" | "thickness_tip") => Sale::Sizes(&[StockForm::Sheet]),
        ("plate", "width_root" | "width_tip") => Sale::Steps(StockForm::BarWidth),
        ("plate", "metal") => Sale::Names(&[StockForm::SheetGrade]),
        ("brace", "diameter") => Sale::Sizes(&[StockForm::Wire]),
        ("brace", "fitted") => Sale::Words(&["no", "yes"]),
        ("mount", "bolt") => Sale::Names(&[StockForm::Bolt]),
        ("mount", "bolt_class") => Sale::Classes,
        ("mount", "wood_thickness" | "doubler") => Sale::Sizes(&[StockForm::Plywood]),
        _ => return None,
    })
}

/// What the search for open values needs.
struct Search<'a> {
    source: &'a Arc<SourceText>,
    library: &'a Library,
    sold: &'a [System],
    found: Vec<OpenValue>,
    wrong: Vec<Diagnostic>,
}

impl Draft {
    /// Finds the values that are left open: `"?"` for what is sold in the systems given, `{ from = "3 mm", to = "6 mm" }` for what
    /// is sold between, with `step` for what can be cut to any size, and `["3 mm", "4 mm"]` for a list of one's own.
    ///
    /// # Errors
    /// When an open value can't be understood, or nothing is listed for it.
    pub fn open_values(&self, library: &Library, sold: &[System]) -> Result<Vec<OpenValue>, Diagnostics> {
        let mut search =
            Search { source: self.source(), library, sold, found: Vec::new(), wrong: Vec::new() };
        if let Some(Entry { node: Node { value: Value::Table(gears), .. }, .. }) = self.table().get("gear") {
            for gear in &gears.entries {
                if let Value::Table(table) = &gear.node.value {
                    search.gear(&gear.key, table);
                }
            }
        }
        if search.wrong.is_empty() { Ok(search.found) } else { Err(Diagnostics(search.wrong)) }
    }
}

impl Search<'_> {
    fn gear(&mut self, name: &str, table: &Table) {
        for section in &table.entries {
            let path = format!("gear.{name}.{}", section.key);
            match &section.node.value {
                Value::Table(table) => self.section(name, &section.key, &path, table),
                Value::List(items) => {
                    for (i, item) in items.iter().enumerate() {
                        if let Value::Table(table) = &item.value {
                            self.section(name, &section.key, &format!("{path}.{}", i + 1), table);
                        }
                    }
                }
                _ => {}
            }
        }
    }

    fn section(&mut self, gear: &str, section: &str, path: &str, table: &Table) {
        for entry in &table.entries {
            let node = &entry.node;
            let choices = match &node.value {
                Value::Text(text) if text.trim() == OPEN => self.sold(section, entry, None),
                Value::List(items) if !LISTS.contains(&entry.key.as_str()) => self.listed(entry, items),
                Value::Table(range) => self.range(section, entry, range),
                _ => continue,
            };
            if let Some(choices) = choices {
                let at = Location { source: Arc::clone(self.source), span: node.span.clone() };
                let key = format!("{path}.{}", entry.key);
                self.found.push(OpenValue { key, gear: gear.to_owned(), choices, at });
            }
        }
    }

    fn refuse(&mut self, node: &Node, message: String, help: &str) -> Option<Vec<NewValue>> {
        let refused = Diagnostic::error("left-open", message).help(help);
        self.wrong.push(refused.at(self.source, node.span.clone()));
        None
    }

    /// A list of one's own.
    fn listed(&mut self, entry: &Entry, items: &[Node]) -> Option<Vec<NewValue>> {
        let key = shown(&entry.key);
        if items.is_empty() {
            return self.refuse(
                &entry.node,
                format!("`{key}` is an empty list, so nothing can be chosen"),
                "list what there is, as in thickness = [\"3 mm\", \"4 mm\"]; \"?\" means what is sold",
            );
        }
        if items.len() > MOST_CHOICES {
            return self.too_many(entry, items.len().to_string());
        }
        let mut choices = Vec::with_capacity(items.len());
        for item in items {
            match &item.value {
                Value::Text(text) if text.trim() != OPEN => {
                    choices.push(NewValue::Text(text.clone()));
                }
                Value::Number(number) => choices.push(NewValue::Number(*number)),
                other => {
                    let message = format!(
                        "`{key}` lists {} where one value is meant",
                        if matches!(other, Value::Text(_)) { "\"?\"" } else { other.words() }
                    );
                    return self.refuse(item, message, "list texts or numbers, as in [\"3 mm\", \"4 mm\"]");
                }
            }
        }
        Some(choices)
    }

    fn too_many(&mut self, entry: &Entry, count: String) -> Option<Vec<NewValue>> {
        self.refuse(
            &entry.node,
            format!(
                "`{}` leaves {count} choices, more than the {MOST_CHOICES} that are tried",
                shown(&entry.key)
            ),
            "take larger steps or a narrower range",
        )
    }

    /// What is sold, all of it or between two sizes.
    fn sold(
        &mut self,
        section: &str,
        entry: &Entry,
        between: Option<(Length, Length)>,
    ) -> Option<Vec<NewValue>> {
        let Some(sale) = sale(section, &entry.key) else {
            return self.refuse(
                &entry.node,
                format!("nothing is listed as sold for `{}`", shown(&entry.key)),
                "list what you can get, as in [\"5 mm\", \"6 mm\"], or give { from = ..., to = ..., step = ... }",
            );
        };
        let rows = |forms: &'static [StockForm]| {
            let sold = self.sold;
            // A name such as that of a grade is the same in every system.
            self.library.stock.iter().filter(move |s| {
                forms.contains(&s.form) && (sold.contains(&s.system) || s.form == StockForm::SheetGrade)
            })
        };
        let within = |size: &Length| between.is_none_or(|(from, to)| *size >= from && *size <= to);
        let texts: Vec<String> = match sale {
            Sale::Sizes(forms) => {
                let pairs = rows(forms).flat_map(|s| s.sizes.iter().zip(&s.labels));
                let mut pairs: Vec<(&Length, &String)> = pairs.filter(|(size, _)| within(size)).collect();
                pairs.sort_by(|(a, _), (b, _)| a.value.total_cmp(&b.value));
                pairs.into_iter().map(|(_, label)| label.clone()).collect()
            }
            Sale::Names(forms) => rows(forms).flat_map(|s| s.labels.clone()).collect(),
            Sale::Classes => SOLD_CLASSES.map(str::to_owned).to_vec(),
            Sale::Words(words) => words.iter().map(|w| (*w).to_owned()).collect(),
            Sale::Steps(form) => {
                let row = self.library.stock.iter().find(|s| s.form == form);
                let ends = row.and_then(|s| s.sizes.first().zip(s.sizes.last()));
                let ((from, to), step) = ends.zip(Length::from_text(WIDTH_STEP).ok())?;
                let (from, to) = between.unwrap_or((*from, *to));
                return self.steps(entry, from, to, &step);
            }
        };
        if texts.is_empty() {
            return self.refuse(
                &entry.node,
                format!("nothing that is sold fits what `{}` asks for", shown(&entry.key)),
                "`gearleg tables stock` shows what is; sold = \"both\" in [size] looks among millimetres and inches",
            );
        }
        Some(texts.into_iter().map(NewValue::Text).collect())
    }

    /// `{ from, to }` and `{ from, to, step }`.
    fn range(&mut self, section: &str, entry: &Entry, range: &Table) -> Option<Vec<NewValue>> {
        const NAMES: [&str; 3] = ["from", "to", "step"];
        let key = shown(&entry.key);
        for inner in &range.entries {
            if !NAMES.contains(&inner.key.as_str()) {
                let near = nearest(&inner.key, NAMES.into_iter());
                let help = near.map_or_else(
                    || "a range is written { from = \"3 mm\", to = \"6 mm\" }, with step = \"0.5 mm\" for what is cut to size".to_owned(),
                    |near| format!("perhaps `{near}`"),
                );
                let message = format!("`{}` is not a part of a range", shown(&inner.key));
                return self.refuse(
                    &Node { span: inner.key_span.clone(), ..inner.node.clone() },
                    message,
                    &help,
                );
            }
        }
        let (Some(from), Some(to)) = (range.get("from"), range.get("to")) else {
            return self.refuse(
                &entry.node,
                format!("the range of `{key}` needs both ends"),
                "write { from = \"3 mm\", to = \"6 mm\" }",
            );
        };
        let step = range.get("step");
        if let (Value::Number(a), Value::Number(b)) = (&from.node.value, &to.node.value) {
            let Some(Value::Number(step)) = step.map(|s| &s.node.value) else {
                return self.refuse(
                    &entry.node,
                    format!("the range of `{key}` needs a step"),
                    "write it as in leg_at = { from = 0.7, to = 0.9, step = 0.1 }",
                );
            };
            let count = self.count(entry, *a, *b, *step)?;
            return Some((0..count).map(|i| NewValue::Number(a + i as f64 * step)).collect());
        }
        // Only lengths are sold; of anything else it takes a step.
        if let Value::Text(text) = &from.node.value {
            let ends = (from, to, step);
            if Angle::from_text(text).is_ok() {
                return self.stepped::<Angle>(
                    entry,
                    ends,
                    "{ from = \"30 deg\", to = \"45 deg\", step = \"5 deg\" }",
                );
            }
            if Force::from_text(text).is_ok() {
                return self.stepped::<Force>(
                    entry,
                    ends,
                    "{ from = \"20 N\", to = \"80 N\", step = \"20 N\" }",
                );
            }
            if Stiffness::from_text(text).is_ok() {
                let example = "{ from = \"10 N/mm\", to = \"30 N/mm\", step = \"5 N/mm\" }";
                return self.stepped::<Stiffness>(entry, ends, example);
            }
        }
        let from = self.length(from)?;
        let to = self.length(to)?;
        match step {
            Some(step) => {
                let step = self.length(step)?;
                self.steps(entry, from.value, to.value, &step)
            }
            None if to.value < from.value => self.backwards(entry),
            None => self.sold(section, entry, Some((from.value, to.value))),
        }
    }

    fn backwards(&mut self, entry: &Entry) -> Option<Vec<NewValue>> {
        let message = format!("the range of `{}` ends before it begins", shown(&entry.key));
        self.refuse(&entry.node, message, "`from` is the smaller one, `to` the larger")
    }

    fn count(&mut self, entry: &Entry, from: f64, to: f64, step: f64) -> Option<usize> {
        let steps = (to - from) / step;
        if step.is_nan() || step <= 0.0 {
            let message =
                format!("the step of the range of `{}` is not more than nothing", shown(&entry.key));
            self.refuse(
                &entry.node,
                message,
                "write a step such as step = \"0.5 mm\", or step = 0.1 of plain numbers",
            );
            return None;
        }
        if steps.is_nan() || steps < 0.0 {
            self.backwards(entry);
            return None;
        }
        // What rounding takes from the last step is not to lose it.
        let count = (steps + 1e-9).floor() + 1.0;
        if count > MOST_CHOICES as f64 {
            self.too_many(
                entry,
                if count < 1e6 { format!("{count}") } else { "more than a million".to_owned() },
            );
            return None;
        }
        Some(count as usize)
    }

    /// A range of anything that is not sold.
    fn stepped<Q: Stepped>(
        &mut self,
        entry: &Entry,
        (from, to, step): (&Entry, &Entry, Option<&Entry>),
        example: &str,
    ) -> Option<Vec<NewValue>> {
        let Some(step) = step else {
            let message = format!("the range of `{}` needs a step", shown(&entry.key));
            return self.refuse(&entry.node, message, &format!("write it as in {example}"));
        };
        let from = self.end::<Q>(from, example)?;
        let to = self.end::<Q>(to, example)?;
        let step = self.end::<Q>(step, example)?;
        self.steps(entry, from.value, to.value, &step)
    }

    /// Sizes from one end to the other, written in the unit of the step.
    fn steps<Q: Stepped>(
        &mut self,
        entry: &Entry,
        from: Q,
        to: Q,
        step: &Written<Q>,
    ) -> Option<Vec<NewValue>> {
        let count = self.count(entry, from.si(), to.si(), step.value.si())?;
        let unit = if step.unit == Unit::Swg { Unit::Millimetre } else { step.unit };
        let size = |i: usize| four_figures(Q::from_si(from.si() + i as f64 * step.value.si()), unit);
        Some((0..count).map(|i| NewValue::Text(size(i))).collect())
    }

    fn length(&mut self, entry: &Entry) -> Option<Written<Length>> {
        self.end(entry, "{ from = \"3 mm\", to = \"6 mm\" }")
    }

    /// An end or the step of a range.
    fn end<Q: Stepped>(&mut self, entry: &Entry, example: &str) -> Option<Written<Q>> {
        let help = format!("write it as in {example}");
        let Value::Text(text) = &entry.node.value else {
            let (what, words) = (Q::WHAT, entry.node.value.words());
            let message = format!("`{}` needs {what} with its unit, and this is {words}", entry.key);
            self.refuse(&entry.node, message, &help);
            return None;
        };
        match Q::from_text(text) {
            Ok(written) => Some(written),
            Err(error) => {
                self.refuse(&entry.node, error.message, &help);
                None
            }
        }
    }
}
