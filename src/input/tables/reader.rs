//! Reads one table file's TOML key by key and collects everything that is wrong with it.

use crate::diagnostic::{Diagnostic, SourceText};
use crate::material::near::nearest;
use crate::material::{Basis, Sourced};
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::value::{Limit, TableValue};

/// A TOML value with its place.
pub(super) type Item<'d> = Spanned<DeValue<'d>>;

/// One file being read.
pub(super) struct Reader<'d> {
    source: &'d Arc<SourceText>,
    /// Short key to full text of a source.
    sources: BTreeMap<&'d str, &'d str>,
    /// Rows (by where they begin) that were told already that they lack a basis or a source.
    told: Vec<(usize, &'static str)>,
    /// What was found wrong so far.
    pub(super) found: Vec<Diagnostic>,
}

/// A setting of a row that its values fall back on.
#[derive(Clone, Copy)]
enum Fallback<T> {
    /// Not written.
    Absent,
    /// Written but wrong; already reported.
    Bad,
    /// Written and good.
    Given(T),
}

/// One table of a file, such as a metal, a band, or a value with its source.
pub(super) struct Row<'d> {
    /// What it is, in words for messages.
    what: &'static str,
    /// Its place: the header of a `[[row]]`, the braces of an inline table.
    pub(super) span: Range<usize>,
    table: &'d DeTable<'d>,
    /// Keys that may stand in it: those that were asked for.
    known: Vec<&'static str>,
    basis: Fallback<Basis>,
    source: Fallback<&'d str>,
}

impl<'d> Row<'d> {
    fn new(what: &'static str, span: Range<usize>, table: &'d DeTable<'d>) -> Self {
        Self { what, span, table, known: Vec::new(), basis: Fallback::Absent, source: Fallback::Absent }
    }

    /// The value of a key.
    pub(super) fn get(&mut self, key: &'static str) -> Option<&'d Item<'d>> {
        if !self.known.contains(&key) {
            self.known.push(key);
        }
        self.table.get(key)
    }

    /// Whether the key is written, well or badly.
    pub(super) fn has(&self, key: &str) -> bool {
        self.table.get(key).is_some()
    }

    /// The place of a key's value, or of the row when the key is absent.
    pub(super) fn place(&self, key: &str) -> Range<usize> {
        self.table.get(key).map_or_else(|| self.span.clone(), Spanned::span)
    }
}

impl<'d> Reader<'d> {
    /// Begins a file.
    pub(super) fn new(source: &'d Arc<SourceText>) -> Self {
        Self { source, sources: BTreeMap::new(), told: Vec::new(), found: Vec::new() }
    }

    /// Reports a mistake at a place.
    pub(super) fn refuse(&mut self, span: Range<usize>, diagnostic: Diagnostic) {
        self.found.push(diagnostic.at(self.source, span));
    }

    /// Reads the file's `[sources]`.
    pub(super) fn sources(&mut self, file: &mut Row<'d>) {
        let Some(item) = file.get("sources") else { return };
        let Some(table) = item.get_ref().as_table() else {
            let error =
                Diagnostic::error("wrong-type", "`sources` must be a table of short keys and their texts")
                    .help("write `[sources]`, then lines such as `shop = \"label on the sheet\"`");
            return self.refuse(item.span(), error);
        };
        for (key, text) in table {
            if let Some(text) = self.filled_text(key.get_ref(), text) {
                self.sources.insert(key.get_ref(), text);
            }
        }
    }

    /// The whole file as a row.
    pub(super) fn file(&self, table: &'d DeTable<'d>) -> Row<'d> {
        Row::new("a table file", 0..0, table)
    }

    /// The tables under a key that holds a list of them.
    pub(super) fn rows(
        &mut self,
        row: &mut Row<'d>,
        key: &'static str,
        what: &'static str,
        how: &str,
    ) -> Vec<Row<'d>> {
        let Some(item) = row.get(key) else { return Vec::new() };
        let Some(list) = item.get_ref().as_array() else {
            let error =
                Diagnostic::error("wrong-type", format!("`{key}` must be a list of tables")).help(how);
            self.refuse(item.span(), error);
            return Vec::new();
        };
        let mut rows = Vec::new();
        for entry in list.iter() {
            match entry.get_ref().as_table() {
                Some(table) => rows.push(Row::new(what, entry.span(), table)),
                None => {
                    let error =
                        Diagnostic::error("wrong-type", format!("each `{key}` must be a table")).help(how);
                    self.refuse(entry.span(), error);
                }
            }
        }
        rows
    }

    /// The one table under a key that the row must have.
    pub(super) fn table(
        &mut self,
        row: &mut Row<'d>,
        key: &'static str,
        what: &'static str,
        how: &str,
    ) -> Option<Row<'d>> {
        let Some(item) = row.get(key) else {
            self.lacks(row, key);
            return None;
        };
        let Some(table) = item.get_ref().as_table() else {
            let error =
                Diagnostic::error("wrong-type", format!("`{key}` must be {what} in braces")).help(how);
            self.refuse(item.span(), error);
            return None;
        };
        Some(Row::new(what, item.span(), table))
    }

    /// Reads the row's own `basis` and `source`, which its values fall back on.
    pub(super) fn defaults(&mut self, row: &mut Row<'d>) {
        row.basis = self.basis(row);
        row.source = self.source_key(row);
    }

    /// Lets the values of an inner row (a band) fall back on the outer row's settings.
    pub(super) fn inherit(&mut self, inner: &mut Row<'d>, outer: &Row<'d>) {
        self.defaults(inner);
        if matches!(inner.basis, Fallback::Absent) {
            inner.basis = outer.basis;
        }
        if matches!(inner.source, Fallback::Absent) {
            inner.source = outer.source;
        }
    }

    fn basis(&mut self, row: &mut Row<'d>) -> Fallback<Basis> {
        let Some(item) = row.get("basis") else { return Fallback::Absent };
        let Some(words) = self.filled_text("basis", item) else { return Fallback::Bad };
        if let Some(basis) = Basis::from_words(words) {
            return Fallback::Given(basis);
        }
        let error = Diagnostic::error("unknown-basis", format!("`{words}` is not a basis"))
            .help(one_of(words, &Basis::ALL.map(Basis::words)));
        self.refuse(item.span(), error);
        Fallback::Bad
    }

    fn source_key(&mut self, row: &mut Row<'d>) -> Fallback<&'d str> {
        let Some(item) = row.get("source") else { return Fallback::Absent };
        let Some(key) = self.filled_text("source", item) else { return Fallback::Bad };
        if let Some(text) = self.sources.get(key) {
            return Fallback::Given(text);
        }
        let near = nearest(key, self.sources.keys().copied());
        let mut error = Diagnostic::error("unknown-source", format!("`{key}` is not a key of `[sources]`"));
        error = match near.first() {
            Some(best) => error.help(format!("did you mean `{best}`?")),
            None => error
                .help("add a line for it to this file's `[sources]`, or write the key of one that is there"),
        };
        self.refuse(item.span(), error);
        Fallback::Bad
    }

    /// The basis and source that hold for a value; reports what is missing at the place given.
    fn provenance(&mut self, row: &Row<'d>, place: Range<usize>) -> Option<(Basis, &'d str)> {
        if let (Fallback::Given(basis), Fallback::Given(source)) = (row.basis, row.source) {
            return Some((basis, source));
        }
        let absent = [
            ("basis", matches!(row.basis, Fallback::Absent)),
            ("source", matches!(row.source, Fallback::Absent)),
        ];
        for (key, lacks) in absent {
            // One report for a row: its other values lack the same.
            if !lacks || self.told.contains(&(row.span.start, key)) {
                continue;
            }
            self.told.push((row.span.start, key));
            let error = Diagnostic::error("missing-key", format!("this value has no `{key}`")).help(format!(
                "give `{key}` beside the row's name, or write the value as {{ v = ..., basis = ..., source = ... }}"
            ));
            self.refuse(place.clone(), error);
        }
        None
    }

    /// A value that the row must have, read by a function of its own.
    pub(super) fn required_with<T>(
        &mut self,
        row: &mut Row<'d>,
        key: &'static str,
        read: impl FnOnce(&mut Self, &'d Item<'d>) -> Option<T>,
    ) -> Option<Sourced<T>> {
        let Some(item) = row.get(key) else {
            self.lacks(row, key);
            return None;
        };
        self.sourced_with(row, item, read)
    }

    /// A value with its basis and source, read by a function of its own.
    pub(super) fn sourced_with<T>(
        &mut self,
        row: &Row<'d>,
        item: &'d Item<'d>,
        read: impl FnOnce(&mut Self, &'d Item<'d>) -> Option<T>,
    ) -> Option<Sourced<T>> {
        let Some(table) = item.get_ref().as_table() else {
            let value = read(self, item);
            let (basis, source) = self.provenance(row, item.span())?;
            return Some(Sourced::new(value?, basis, source));
        };
        let mut own = Row::new("a value with its source", item.span(), table);
        self.inherit(&mut own, row);
        let value = match own.get("v") {
            Some(inner) => read(self, inner),
            None => {
                self.lacks(&own, "v");
                None
            }
        };
        let provenance = self.provenance(&own, item.span());
        self.finish(&own);
        let (basis, source) = provenance?;
        Some(Sourced::new(value?, basis, source))
    }

    /// A value with its basis and source, if the row has it.
    pub(super) fn sourced<T: TableValue>(
        &mut self,
        row: &mut Row<'d>,
        key: &'static str,
        limit: Limit,
    ) -> Option<Sourced<T>> {
        let item = row.get(key)?;
        self.sourced_with(row, item, |reader, inner| reader.limited(key, inner, limit))
    }

    /// A value with its basis and source that the row must have.
    pub(super) fn required<T: TableValue>(
        &mut self,
        row: &mut Row<'d>,
        key: &'static str,
        limit: Limit,
    ) -> Option<Sourced<T>> {
        self.required_with(row, key, |reader, item| reader.limited(key, item, limit))
    }

    /// A bare value (a size, a limit) that the row must have.
    pub(super) fn required_plain<T: TableValue>(
        &mut self,
        row: &mut Row<'d>,
        key: &'static str,
        limit: Limit,
    ) -> Option<T> {
        let Some(item) = row.get(key) else {
            self.lacks(row, key);
            return None;
        };
        self.limited(key, item, limit)
    }

    /// A bare value, if the row has it.
    pub(super) fn plain<T: TableValue>(
        &mut self,
        row: &mut Row<'d>,
        key: &'static str,
        limit: Limit,
    ) -> Option<T> {
        let item = row.get(key)?;
        self.limited(key, item, limit)
    }

    /// The row's own basis and source, for rows that are one value.
    pub(super) fn row_provenance(&mut self, row: &Row<'d>) -> Option<Sourced<()>> {
        let (basis, source) = self.provenance(row, row.span.clone())?;
        Some(Sourced::new((), basis, source))
    }

    /// Reads one value and checks that it lies where it may.
    pub(super) fn limited<T: TableValue>(
        &mut self,
        key: &str,
        item: &'d Item<'d>,
        limit: Limit,
    ) -> Option<T> {
        let value = match T::read(item.get_ref()) {
            Ok(value) => value,
            Err(mistake) => {
                let span = mistake.within.as_ref().and_then(|inner| self.inside(item, inner));
                let mut error = Diagnostic::error(mistake.code, mistake.message(key));
                error.label = mistake.label;
                error.help = mistake.help;
                self.refuse(span.unwrap_or_else(|| item.span()), error);
                return None;
            }
        };
        if let Some(rule) = limit.broken_by(value.si()) {
            self.refuse(item.span(), Diagnostic::error("out-of-range", format!("`{key}` must be {rule}")));
            return None;
        }
        Some(value)
    }

    /// The place of a part of a string, when the string is written without escapes.
    fn inside(&self, item: &Item<'d>, part: &Range<usize>) -> Option<Range<usize>> {
        let text = item.get_ref().as_str()?;
        let start = item.span().start + 1;
        let raw = self.source.text.get(start..start + text.len())?;
        (raw == text && part.end > part.start).then(|| start + part.start..start + part.end)
    }

    /// A text that must not be empty.
    pub(super) fn filled_text(&mut self, key: &str, item: &'d Item<'d>) -> Option<&'d str> {
        let Some(text) = item.get_ref().as_str() else {
            let error = Diagnostic::error("wrong-type", format!("`{key}` must be a text in quotes"));
            self.refuse(item.span(), error);
            return None;
        };
        if text.trim().is_empty() {
            self.refuse(item.span(), Diagnostic::error("empty-text", format!("`{key}` is empty")));
            return None;
        }
        if text.chars().any(char::is_control) || text != text.trim() {
            let error = Diagnostic::error(
                "bad-text",
                format!("`{key}` must be one line without space at its ends or control characters"),
            );
            self.refuse(item.span(), error);
            return None;
        }
        Some(text)
    }

    /// A text that the row must have.
    pub(super) fn required_text(&mut self, row: &mut Row<'d>, key: &'static str) -> Option<&'d str> {
        let Some(item) = row.get(key) else {
            self.lacks(row, key);
            return None;
        };
        self.filled_text(key, item)
    }

    /// A list of texts with their places; empty when the row has none.
    pub(super) fn texts(&mut self, row: &mut Row<'d>, key: &'static str) -> Vec<(String, Range<usize>)> {
        let Some(item) = row.get(key) else { return Vec::new() };
        let Some(list) = item.get_ref().as_array() else {
            let error = Diagnostic::error("wrong-type", format!("`{key}` must be a list of texts"))
                .help(format!("write `{key} = [\"...\", \"...\"]`"));
            self.refuse(item.span(), error);
            return Vec::new();
        };
        list.iter()
            .filter_map(|entry| Some((self.filled_text(key, entry)?.to_owned(), entry.span())))
            .collect()
    }

    /// One word out of a fixed list.
    pub(super) fn word<T: Copy>(
        &mut self,
        row: &mut Row<'d>,
        key: &'static str,
        all: &[T],
        words: impl Fn(T) -> &'static str,
    ) -> Option<T> {
        let text = self.required_text(row, key)?;
        if let Some(found) = all.iter().copied().find(|w| words(*w) == text) {
            return Some(found);
        }
        let known: Vec<&str> = all.iter().copied().map(&words).collect();
        let error = Diagnostic::error("unknown-word", format!("`{key}` can't be `{text}`"))
            .help(one_of(text, &known));
        self.refuse(row.place(key), error);
        None
    }

    /// Reports that the row lacks a key.
    pub(super) fn lacks(&mut self, row: &Row<'d>, key: &str) {
        let error = Diagnostic::error("missing-key", format!("{} needs `{key}`", row.what));
        self.refuse(row.span.clone(), error);
    }

    /// Reports the keys of the row that nothing asked for.
    pub(super) fn finish(&mut self, row: &Row<'d>) {
        for (key, _) in row.table {
            let word: &str = key.get_ref();
            if row.known.contains(&word) {
                continue;
            }
            let error = Diagnostic::error("unknown-key", format!("{} has no key `{word}`", row.what))
                .help(one_of(word, &row.known));
            self.refuse(key.span(), error);
        }
    }
}

/// The nearest of the known words, or all of them.
fn one_of(word: &str, known: &[&str]) -> String {
    match nearest(word, known.iter().copied()).first() {
        Some(best) => format!("did you mean `{best}`?"),
        None => {
            let list: Vec<String> = known.iter().map(|k| format!("`{k}`")).collect();
            format!("known: {}", list.join(", "))
        }
    }
}
