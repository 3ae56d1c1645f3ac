//! One section of the file: its keys are taken out typed, and whatever is wrong with them is noted at its place.

use super::bench::Sheets;
use super::draft::Draft;
use super::keys::{Accept, Key, Keys, SECTIONS};
use super::measure::Entered;
use super::tolerance::{Deviations, Placed};
use super::tree::{Entry, Node, Span, Table, Value};
use crate::diagnostic::{Diagnostic, Severity, SourceText};
use crate::input::quantity::{Toleranced, is_toleranced, with_tolerance};
use crate::material::{Kind, Library, NotFound, TableRow};
use crate::model::Reading;
use crate::units::Unit;
use std::cell::{Cell, RefCell};
use std::sync::Arc;

/// What stands for a value that is to be found.
pub(super) const OPEN: &str = "?";

/// Diagnostics that are kept. chosen: more than anybody reads, so that a file of nonsense is refused quickly.
const MOST_NOTED: usize = 500;

/// A quantity that was read, to be echoed.
pub(super) struct Echo {
    pub(super) at: usize,
    pub(super) reading: Reading,
    pub(super) unit: Unit,
}

/// What all sections share: the file, the tables, and the two lists that grow while reading.
pub(super) struct Context<'a> {
    pub(super) source: &'a Arc<SourceText>,
    pub(super) library: &'a Library,
    pub(super) found: RefCell<Vec<Diagnostic>>,
    pub(super) echoes: RefCell<Vec<Echo>>,
    pub(super) tolerances: RefCell<Vec<Placed>>,
    /// Metals of graded sheets, kept from one reading of the file to the next.
    pub(super) sheets: &'a Sheets,
    /// The file that is read, for what it says besides.
    pub(super) draft: &'a Draft,
    /// By how much values are off in this reading; `None` reads them as written.
    pub(super) deviations: Option<&'a Deviations>,
    /// Mistakes beyond those noted.
    pub(super) uncounted: Cell<usize>,
}

impl Context<'_> {
    /// Notes a diagnostic at a place. What comes after very many is only counted.
    pub(super) fn note(&self, diagnostic: Diagnostic, span: Span) {
        let mut found = self.found.borrow_mut();
        if found.len() < MOST_NOTED {
            found.push(diagnostic.at(self.source, span));
        } else if diagnostic.severity == Severity::Error {
            self.uncounted.set(self.uncounted.get() + 1);
        }
    }
}

/// What came of looking for a key.
#[derive(Debug, Clone)]
pub(super) enum Found<T> {
    /// It is not in the section.
    Absent,
    /// It is there, and what is wrong with it has been noted.
    Bad(Span),
    /// It is there and good.
    Good(T, Span),
}

impl<T: Copy> Found<T> {
    /// The value, if it is good.
    pub(super) const fn value(&self) -> Option<T> {
        match self {
            Self::Good(value, _) => Some(*value),
            Self::Absent | Self::Bad(_) => None,
        }
    }
}

impl<T> Found<T> {
    /// The value, if it is good.
    pub(super) fn take(self) -> Option<T> {
        match self {
            Self::Good(value, _) => Some(value),
            Self::Absent | Self::Bad(_) => None,
        }
    }

    /// The value and its place, if it is good.
    pub(super) fn placed(&self) -> Option<(&T, Span)> {
        match self {
            Self::Good(value, span) => Some((value, span.clone())),
            Self::Absent | Self::Bad(_) => None,
        }
    }

    /// Where the value stands, good or bad.
    pub(super) fn span(&self) -> Option<Span> {
        match self {
            Self::Absent => None,
            Self::Bad(span) | Self::Good(_, span) => Some(span.clone()),
        }
    }

    /// Whether the key is in the section at all.
    pub(super) const fn given(&self) -> bool {
        !matches!(self, Self::Absent)
    }

    /// Turns a good value into another; what can't be turned is bad, and `turn` has noted why.
    pub(super) fn and_then<U>(self, turn: impl FnOnce(T, Span) -> Option<U>) -> Found<U> {
        match self {
            Self::Absent => Found::Absent,
            Self::Bad(span) => Found::Bad(span),
            Self::Good(value, span) => match turn(value, span.clone()) {
                Some(turned) => Found::Good(turned, span),
                None => Found::Bad(span),
            },
        }
    }
}

/// A section that is being read.
pub(super) struct Section<'a> {
    pub(super) cx: &'a Context<'a>,
    /// Dotted path, empty at the top of the file.
    pub(super) path: String,
    /// How the section is called in messages.
    pub(super) title: String,
    /// Where what is missing is reported.
    pub(super) header: Span,
    pub(super) table: &'a Table,
    /// Keys that belong in it.
    pub(super) names: &'static [&'static str],
}

impl<'a> Section<'a> {
    /// Opens a section and notes every key in it that does not belong there.
    pub(super) fn open(
        cx: &'a Context<'a>,
        path: String,
        title: String,
        header: Span,
        table: &'a Table,
        keys: &Keys,
    ) -> Self {
        let section = Self { cx, path, title, header, table, names: keys.names };
        for entry in &table.entries {
            if !keys.names.contains(&entry.key.as_str()) {
                section.note_unknown(entry, keys);
            }
        }
        section
    }

    /// Notes a diagnostic at a place.
    pub(super) fn note(&self, diagnostic: Diagnostic, span: Span) {
        self.cx.note(diagnostic, span);
    }

    /// The dotted path of a key of this section.
    pub(super) fn dotted(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_owned() } else { format!("{}.{key}", self.path) }
    }

    fn note_unknown(&self, entry: &Entry, keys: &Keys) {
        let key = &entry.key;
        let mut unknown =
            Diagnostic::error("unknown-key", format!("`{}` is not a key of {}", shown(key), self.title));
        if let Some(near) = nearest(key, keys.names.iter().copied()) {
            unknown = unknown.label(format!("perhaps `{near}`"));
        } else if let Some(home) = SECTIONS.iter().find(|s| s.names.contains(&key.as_str())) {
            unknown = unknown.help(format!("`{key}` belongs in {}", home.header));
        }
        unknown = unknown.help(format!("accepted here: {}", keys.names.join(", ")));
        self.note(unknown, entry.key_span.clone());
    }

    /// Notes that a key is missing, unless it is only misspelt, which has been noted.
    pub(super) fn missing(&self, key: &Key) {
        let misspelt = |entry: &Entry| {
            !self.names.contains(&entry.key.as_str())
                && nearest(&entry.key, self.names.iter().copied()) == Some(key.name)
        };
        if self.table.entries.iter().any(misspelt) {
            return;
        }
        let missing =
            Diagnostic::error("missing-key", format!("`{}` is missing from {}", key.name, self.title))
                .help(format!("add a line such as {} = {}", key.name, key.example));
        self.note(missing, self.header.clone());
    }

    /// Notes that a value is of the wrong kind.
    pub(super) fn wrong_kind(&self, key: &Key, node: &Node, needed: &str) -> Span {
        let mut wrong = Diagnostic::error(
            "wrong-type",
            format!("`{}` needs {needed}, and this is {}", key.name, node.value.words()),
        )
        .help(format!("write it as in {} = {}", key.name, key.example));
        if self.path.starts_with("gear.") && matches!(node.value, Value::List(_) | Value::Table(_)) {
            wrong = wrong.help("of several values, or of a range, `gearleg size` finds the one that does");
        }
        self.note(wrong, node.span.clone());
        node.span.clone()
    }

    /// A quantity that may be left out.
    pub(super) fn quantity<Q: Entered>(&self, key: &Key) -> Found<Q> {
        match self.table.get(key.name) {
            None => Found::Absent,
            Some(entry) => self.quantity_at(key, &self.dotted(key.name), &entry.node),
        }
    }

    /// A quantity that has to be there.
    pub(super) fn needed_quantity<Q: Entered>(&self, key: &Key) -> Found<Q> {
        self.needed(key, self.quantity(key))
    }

    /// Notes a value that is left open, which only the search for sizes can fill; whether it is one.
    fn left_open(&self, key: &Key, node: &Node) -> bool {
        let open = matches!(&node.value, Value::Text(text) if text.trim() == OPEN);
        if open {
            let refused = Diagnostic::error("left-open", format!("`{}` is left open", key.name));
            let example = format!("{} = {}", key.name, key.example);
            let refused = refused.help(if self.path.starts_with("gear.") {
                format!("`gearleg size` looks for it; here one value is needed, such as {example}")
            } else {
                format!("only values of a gear can be left open; here one is needed, such as {example}")
            });
            self.note(refused, node.span.clone());
        }
        open
    }

    /// Reads one node as a quantity within the key's limits.
    pub(super) fn quantity_at<Q: Entered>(&self, key: &Key, dotted: &str, node: &Node) -> Found<Q> {
        if self.left_open(key, node) {
            return Found::Bad(node.span.clone());
        }
        let text = match &node.value {
            Value::Text(text) => text,
            Value::Number(_) => return Found::Bad(self.bare_number::<Q>(key, node)),
            _ => {
                return Found::Bad(self.wrong_kind(
                    key,
                    node,
                    &format!("{} with its unit, in quotes", Q::WHAT),
                ));
            }
        };
        match with_tolerance::<Q>(text) {
            Err(error) => {
                self.note_in_text(key, text, node, error);
                Found::Bad(node.span.clone())
            }
            Ok(Toleranced { written, half_width }) => {
                if !self.within(key, &written.text, written.value, node) {
                    return Found::Bad(node.span.clone());
                }
                let read = match half_width {
                    Some(half) => format!("{} ± {}", written.value.echo(), half.echo()),
                    None => written.value.echo(),
                };
                let reading = Reading { key: dotted.to_owned(), written: text.clone(), read };
                self.cx.echoes.borrow_mut().push(Echo { at: node.span.start, reading, unit: written.unit });
                self.deviated(key, dotted, node, (written.value, half_width))
            }
        }
    }

    fn bare_number<Q: Entered>(&self, key: &Key, node: &Node) -> Span {
        let number = self.cx.source.text.get(node.span.clone()).unwrap_or_default();
        let unit =
            key.example.trim_matches(['"', '[', ']']).split('"').next().and_then(|e| e.split_once(' '));
        let unit = unit.map_or("mm", |(_, unit)| unit);
        let line = if key.example.starts_with('[') {
            format!("write each number with its unit, in quotes, such as \"{number} {unit}\"")
        } else {
            format!("write the unit too, in quotes, such as {} = \"{number} {unit}\"", key.name)
        };
        let bare = Diagnostic::error(
            "missing-unit",
            format!("`{}` needs {} with its unit, and this is a plain number", key.name, Q::WHAT),
        );
        self.note(bare.help(line), node.span.clone());
        node.span.clone()
    }

    /// The place of a part of a text, in the file. A text with escapes is marked as a whole.
    pub(super) fn inside(&self, node: &Node, text: &str, part: Span) -> Span {
        let raw = self.cx.source.text.get(node.span.clone()).unwrap_or_default();
        let plain = raw.get(1..raw.len().saturating_sub(1)) == Some(text);
        if plain && part.end <= text.len() {
            let begin = node.span.start + 1;
            if part.is_empty() { node.span.clone() } else { begin + part.start..begin + part.end }
        } else {
            node.span.clone()
        }
    }

    /// Whether a quantity lies within the key's limits; notes it if not.
    fn within<Q: Entered>(&self, key: &Key, text: &str, value: Q, node: &Node) -> bool {
        let Accept::Quantity { least, most } = key.accept else { return true };
        let (Ok(low), Ok(high)) = (Q::from_text(least), Q::from_text(most)) else { return true };
        if value >= low.value && value <= high.value {
            return true;
        }
        let name = key.name;
        let zero = Q::default();
        let message = if value < zero && low.value >= zero {
            format!("`{name}` is {text}, and it can't be negative")
        } else if value == zero {
            format!("`{name}` is {text}, and it has to be more than zero")
        } else if value < low.value {
            format!("`{name}` is {text}, less than the {least} accepted here")
        } else {
            format!("`{name}` is {text}, more than the {most} accepted here")
        };
        let refused = Diagnostic::error("out-of-range", message)
            .help(format!("accepted: {least} to {most}, such as {name} = {}", key.example));
        self.note(refused, node.span.clone());
        false
    }

    /// A plain number that may be left out.
    pub(super) fn number(&self, key: &Key) -> Found<f64> {
        let Some(entry) = self.table.get(key.name) else { return Found::Absent };
        let node = &entry.node;
        if self.left_open(key, node) {
            return Found::Bad(node.span.clone());
        }
        let (value, half) = match &node.value {
            Value::Number(value) => (*value, None),
            // Quotes are for a tolerance only.
            Value::Text(text) if is_toleranced(text) => match self.toleranced_number(key, text, node) {
                Some((value, half)) => (value, Some(half)),
                None => return Found::Bad(node.span.clone()),
            },
            _ => {
                return Found::Bad(self.wrong_kind(key, node, "a plain number without quotes or unit"));
            }
        };
        let good = |value| match half {
            Some(half) => self.deviated_number(key, node, value, half),
            None => Found::Good(value, node.span.clone()),
        };
        let Accept::Number { least, most, open_below, open_above } = key.accept else {
            return good(value);
        };
        let low = if open_below { value > least } else { value >= least };
        let high = if open_above { value < most } else { value <= most };
        if low && high {
            return good(value);
        }
        let from = if open_below { format!("more than {least} and") } else { format!("from {least}") };
        let to = if open_above { format!("less than {most}") } else { format!("up to {most}") };
        let written = self.cx.source.text.get(node.span.clone()).unwrap_or_default();
        let refused = Diagnostic::error("out-of-range", format!("`{}` can't be {written}", key.name))
            .help(format!("accepted: {from} {to}, such as {} = {}", key.name, key.example));
        self.note(refused, node.span.clone());
        Found::Bad(node.span.clone())
    }

    /// A text that may be left out.
    pub(super) fn text(&self, key: &Key) -> Found<&'a str> {
        match self.table.get(key.name) {
            None => Found::Absent,
            Some(entry) => self.text_at(key, &entry.node),
        }
    }

    /// A text that has to be there.
    pub(super) fn needed_text(&self, key: &Key) -> Found<&'a str> {
        self.needed(key, self.text(key))
    }

    /// Reads one node as a text that can be printed on one line.
    pub(super) fn text_at(&self, key: &Key, node: &'a Node) -> Found<&'a str> {
        if self.left_open(key, node) {
            return Found::Bad(node.span.clone());
        }
        let Value::Text(text) = &node.value else {
            return Found::Bad(self.wrong_kind(key, node, "a text in quotes"));
        };
        if let Some(trouble) = unprintable(text) {
            let refused = Diagnostic::error("bad-text", format!("`{}` {trouble}", key.name))
                .help(format!("write it as in {} = {}", key.name, key.example));
            self.note(refused, node.span.clone());
            return Found::Bad(node.span.clone());
        }
        Found::Good(text, node.span.clone())
    }

    /// One of a few words.
    pub(super) fn choice<T: Copy>(&self, key: &Key, words: &[(&'static str, T)]) -> Found<T> {
        let Some(entry) = self.table.get(key.name) else { return Found::Absent };
        let span = entry.node.span.clone();
        if self.left_open(key, &entry.node) {
            return Found::Bad(span);
        }
        let mut refused = match &entry.node.value {
            Value::Text(text) => {
                if let Some((_, value)) = words.iter().find(|(word, _)| word == text) {
                    return Found::Good(*value, span);
                }
                let refused =
                    Diagnostic::error("unknown-word", format!("`{}` can't be \"{}\"", key.name, shown(text)));
                match nearest(text, words.iter().map(|(word, _)| *word)) {
                    Some(near) => refused.label(format!("perhaps \"{near}\"")),
                    None => refused,
                }
            }
            other => Diagnostic::error(
                "wrong-type",
                format!("`{}` needs a word in quotes, and this is {}", key.name, other.words()),
            ),
        };
        let accepted: Vec<String> = words.iter().map(|(word, _)| format!("\"{word}\"")).collect();
        refused = refused.help(format!("accepted: {}", accepted.join(", ")));
        self.note(refused, span.clone());
        Found::Bad(span)
    }

    /// One of a few words that has to be there.
    pub(super) fn needed_choice<T: Copy>(&self, key: &Key, words: &[(&'static str, T)]) -> Found<T> {
        self.needed(key, self.choice(key, words))
    }

    /// A list that may be left out.
    pub(super) fn list(&self, key: &Key) -> Found<&'a [Node]> {
        let Some(entry) = self.table.get(key.name) else { return Found::Absent };
        match &entry.node.value {
            Value::List(items) => Found::Good(items.as_slice(), entry.node.span.clone()),
            _ => Found::Bad(self.wrong_kind(key, &entry.node, "a list between [ and ]")),
        }
    }

    /// Notes a key that has to be there and is not.
    pub(super) fn needed<T>(&self, key: &Key, found: Found<T>) -> Found<T> {
        if !found.given() {
            self.missing(key);
        }
        found
    }

    /// Looks a name up in the material tables.
    pub(super) fn lookup<'l, T: TableRow>(
        &self,
        key: &Key,
        find: impl FnOnce(&'l Library, &str) -> Result<&'l T, NotFound>,
    ) -> Found<&'l T>
    where
        'a: 'l,
    {
        self.needed_text(key).and_then(|name, span| match find(self.cx.library, name) {
            Ok(row) => Some(row),
            Err(not_found) => {
                self.note(no_such_row(key, T::KIND, &not_found), span);
                None
            }
        })
    }

    /// A section below this one, written `[below.this]`.
    pub(super) fn below(&self, name: &str, title: &str, keys: &Keys) -> Option<Section<'a>> {
        let entry = self.table.get(name)?;
        let Value::Table(table) = &entry.node.value else {
            let brackets = matches!(&entry.node.value, Value::List(items) if items.iter().any(|i| matches!(i.value, Value::Table(_))));
            let wrong = if brackets {
                Diagnostic::error(
                    "wrong-type",
                    format!("{title} takes one pair of brackets, since there is one of it"),
                )
            } else {
                Diagnostic::error(
                    "wrong-type",
                    format!("`{name}` is a section, and this is {}", entry.node.value.words()),
                )
            };
            self.note(
                wrong.help(format!("write the header {title} on a line of its own")),
                entry.node.span.clone(),
            );
            return None;
        };
        Some(Section::open(
            self.cx,
            self.dotted(name),
            title.to_owned(),
            entry.node.span.clone(),
            table,
            keys,
        ))
    }

    /// The sections of a list, each written `[[below.this]]`.
    pub(super) fn each_below(&self, name: &str, title: &str, keys: &Keys) -> Vec<Section<'a>> {
        let Some(entry) = self.table.get(name) else { return Vec::new() };
        let wrong = |what: &Value| {
            let wrong = if matches!(what, Value::Table(_)) {
                Diagnostic::error(
                    "wrong-type",
                    format!("{title} takes two pairs of brackets, since there may be several"),
                )
            } else {
                Diagnostic::error(
                    "wrong-type",
                    format!("`{name}` is a list of sections, and this is {}", what.words()),
                )
            };
            wrong.help(format!("write the header {title} on a line of its own"))
        };
        let Value::List(items) = &entry.node.value else {
            self.note(wrong(&entry.node.value), entry.node.span.clone());
            return Vec::new();
        };
        let mut sections = Vec::new();
        for (index, item) in items.iter().enumerate() {
            match &item.value {
                Value::Table(table) => sections.push(Section::open(
                    self.cx,
                    format!("{}.{}", self.dotted(name), index + 1),
                    title.to_owned(),
                    item.span.clone(),
                    table,
                    keys,
                )),
                other => self.note(wrong(other), item.span.clone()),
            }
        }
        sections
    }
}

/// A name that no row of the tables has.
pub(super) fn no_such_row(key: &Key, kind: Kind, not_found: &NotFound) -> Diagnostic {
    let mut refused = Diagnostic::error(
        "unknown-name",
        format!("no {} is called `{}`", not_found.what, shown(&not_found.name)),
    );
    if let Some(first) = not_found.near.first() {
        refused = refused.label(format!("perhaps `{first}`"));
    }
    if let Some(explanation) = &not_found.explanation {
        refused = refused.help(explanation.clone());
    }
    if not_found.near.len() > 1 {
        refused = refused.help(format!("names like it: {}", not_found.near.join(", ")));
    }
    refused.help(format!(
        "`gearleg tables {}` lists the names, such as {} = {}",
        kind.word(),
        key.name,
        key.example
    ))
}

/// Why a text can't be printed on one line of a report, if so.
pub(super) fn unprintable(text: &str) -> Option<&'static str> {
    if text.trim().is_empty() {
        Some("is empty")
    } else if text.chars().any(char::is_control) {
        Some("has a line break or another character that can't be printed")
    } else if text.chars().count() > 100 {
        Some("is longer than 100 characters")
    } else {
        None
    }
}

/// A name from the file, cut to what a message can carry.
pub(super) fn shown(name: &str) -> String {
    let clean: String = name.chars().map(|c| if c.is_control() { '?' } else { c }).take(40).collect();
    if name.chars().count() > 40 { format!("{clean}...") } else { clean }
}

/// The name that was probably meant: at most one slip for three letters, or one holding the other.
pub(super) fn nearest<'n>(name: &str, names: impl Iterator<Item = &'n str>) -> Option<&'n str> {
    if name.chars().count() > 40 {
        return None;
    }
    let plain = |s: &str| s.to_lowercase().replace(['-', ' '], "_");
    let wanted = plain(name);
    names
        .map(|candidate| {
            let other = plain(candidate);
            let slips = strsim::damerau_levenshtein(&wanted, &other);
            let part = wanted.len() >= 4 && (other.contains(&wanted) || wanted.contains(&other));
            (if part { slips.min(1) } else { slips }, slips, candidate)
        })
        .filter(|(slips, _, candidate)| *slips <= (candidate.len().max(3)) / 3)
        .min_by_key(|(slips, full, _)| (*slips, *full))
        .map(|(_, _, candidate)| candidate)
}
