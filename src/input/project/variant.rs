//! `[variant.NAME]`: a part of a project laid over the file itself, to be set beside it.
//!
//! Tables are merged key by key; every other value, and every list, takes the place of the one it is called like. `without` takes
//! keys out first. What is wrong with a variant is said where the variant's own line stands, or, when it is a line of the file that
//! no longer fits, there and with the variant's name.

use super::draft::Draft;
use super::section::{nearest, shown, unprintable};
use super::tree::{Entry, Node, Span, Table, Value};
use crate::diagnostic::Diagnostic;
use std::collections::HashMap;

/// Variants that a file may have. chosen: with the file itself they are the eight designs that are set side by side.
const MOST: usize = 7;

/// Keys that a variant may take out. chosen: what takes out more is another file.
const MOST_OUT: usize = 100;

/// The key of a variant that names what it takes out.
const WITHOUT: &str = "without";

/// A variant and the project it makes, not yet judged.
pub(super) struct Variant<'d> {
    pub(super) name: &'d str,
    own: Option<&'d Table>,
    /// The file with the variant laid over it.
    pub(super) table: Table,
    /// What is wrong with the variant itself.
    pub(super) found: Vec<Diagnostic>,
}

impl Variant<'_> {
    /// Says which variant a message about its project is of, unless it stands on one of the variant's own lines.
    pub(super) fn told(&self, diagnostic: Diagnostic) -> Diagnostic {
        let own = diagnostic.location.as_ref().is_some_and(|place| {
            let at = &place.span;
            let holds = |span: &Span| span.start <= at.start && at.end <= span.end;
            self.own.is_some_and(|table| spans(table).iter().any(holds))
        });
        if own {
            diagnostic
        } else {
            diagnostic
                .help(format!("this is so in the variant `{}`, not in the file itself", shown(self.name)))
        }
    }
}

/// Every place that a variant's keys and values take.
fn spans(table: &Table) -> Vec<Span> {
    let mut all = Vec::new();
    for entry in &table.entries {
        all.push(entry.key_span.clone());
        match &entry.node.value {
            // The span of a section may be that of its header only.
            Value::Table(below) => {
                all.push(entry.node.span.clone());
                all.extend(spans(below));
            }
            Value::List(items) => {
                all.push(entry.node.span.clone());
                for item in items {
                    all.push(item.span.clone());
                    if let Value::Table(below) = &item.value {
                        all.extend(spans(below));
                    }
                }
            }
            _ => all.push(entry.node.span.clone()),
        }
    }
    all
}

impl Draft {
    /// The variants of the file in its order, and what is wrong with the section as a whole.
    pub(super) fn laid_over(&self) -> (Vec<Variant<'_>>, Vec<Diagnostic>) {
        let mut found = Vec::new();
        let Some(entry) = self.table.get("variant") else { return (Vec::new(), found) };
        let Value::Table(section) = &entry.node.value else {
            let wrong = Diagnostic::error(
                "wrong-type",
                format!("`variant` is {} in the place of a section", entry.node.value.words()),
            )
            .help("give every variant a name of its own, as in [variant.twin]");
            found.push(wrong.at(&self.source, entry.node.span.clone()));
            return (Vec::new(), found);
        };
        if let Some(extra) = section.entries.get(MOST) {
            let many = Diagnostic::error(
                "too-many-variants",
                format!("a file may have {MOST} variants, and this one has {}", section.entries.len()),
            )
            .help("`gearleg compare` sets eight designs side by side: the file itself and its variants");
            found.push(many.at(&self.source, extra.key_span.clone()));
        }
        let mut variants: Vec<Variant<'_>> = Vec::new();
        for entry in section.entries.iter().take(MOST) {
            let mut variant = self.lay_over(entry);
            if let Some(other) = variants.iter().find(|v| plain(v.name) == plain(&entry.key)) {
                let same = Diagnostic::error(
                    "name-taken",
                    format!(
                        "the variant `{}` is called like the variant `{}` above it",
                        shown(&entry.key),
                        shown(other.name)
                    ),
                )
                .help("give it a name that can be told apart without its capitals and dashes");
                variant.found.push(same.at(&self.source, entry.key_span.clone()));
            }
            variants.push(variant);
        }
        (variants, found)
    }

    fn lay_over<'d>(&'d self, entry: &'d Entry) -> Variant<'d> {
        let mut table = self.table.clone();
        table.entries.retain(|e| e.key != "variant");
        let mut variant = Variant { name: &entry.key, own: None, table, found: Vec::new() };
        let mut note = |diagnostic: Diagnostic, span: &Span| {
            variant.found.push(diagnostic.at(&self.source, span.clone()));
        };
        if let Some(trouble) = unprintable(&entry.key) {
            let refused = Diagnostic::error("bad-text", format!("the name of a variant {trouble}"))
                .help("write a short name, as in [variant.twin]");
            note(refused, &entry.key_span);
        }
        let Value::Table(own) = &entry.node.value else {
            let refused = match &entry.node.value {
                Value::List(_) => Diagnostic::error(
                    "wrong-type",
                    format!("[variant.{}] takes one pair of brackets", shown(&entry.key)),
                )
                .help("give every variant a name of its own, as in [variant.single] and [variant.twin]"),
                other => Diagnostic::error(
                    "wrong-type",
                    format!("`{}` is {} in the place of a variant", shown(&entry.key), other.words()),
                )
                .help("a variant is a section with a name, as in [variant.twin]"),
            };
            note(refused, &entry.node.span);
            return variant;
        };
        variant.own = Some(own);
        if own.entries.is_empty() {
            let idle = Diagnostic::warning(
                "doubtful",
                format!("the variant `{}` changes nothing: it is the file itself", shown(&entry.key)),
            )
            .help("write what is other in it, such as gear.nose.arms = \"twin\"");
            note(idle, &entry.key_span);
        }
        if let Some(nested) = own.get("variant") {
            let refused = Diagnostic::error("unknown-key", "a variant has no variants of its own")
                .help("describe each beside the others, as in [variant.single] and [variant.twin]");
            note(refused, &nested.key_span);
        }
        let mut out = Vec::new();
        for item in without(own, &mut note) {
            let (name, span) = item;
            match place(&variant.table, name) {
                Some(path) => out.push(path),
                None => note(not_there(&variant.table, name), span),
            }
        }
        // Deeper and later ones first, so that the numbers of the others stay what they are in the file.
        out.sort();
        out.dedup();
        for path in out.iter().rev() {
            take_out(&mut variant.table, path);
        }
        let over = own.entries.iter().filter(|e| e.key != WITHOUT && e.key != "variant");
        lay_all(&mut variant.table, over);
        variant
    }
}

/// A name without what eyes pass over.
fn plain(name: &str) -> String {
    name.to_lowercase().chars().filter(|c| !['-', '_', ' '].contains(c)).collect()
}

/// The keys that a variant takes out, with their places.
fn without<'t>(own: &'t Table, note: &mut impl FnMut(Diagnostic, &Span)) -> Vec<(&'t str, &'t Span)> {
    const EXAMPLE: &str = "write it as in without = [\"gear.main.brace\"]";
    let Some(entry) = own.get(WITHOUT) else { return Vec::new() };
    let Value::List(items) = &entry.node.value else {
        let wrong = Diagnostic::error(
            "wrong-type",
            format!("`without` needs a list between [ and ], and this is {}", entry.node.value.words()),
        );
        note(wrong.help(EXAMPLE), &entry.node.span);
        return Vec::new();
    };
    if let Some(extra) = items.get(MOST_OUT) {
        let many = Diagnostic::error(
            "too-many-variants",
            format!("`without` takes out at most {MOST_OUT} keys, and this one names {}", items.len()),
        )
        .help("name the section that they stand in, or make it a file of its own");
        note(many, &extra.span);
    }
    let mut names = Vec::new();
    for item in items.iter().take(MOST_OUT) {
        match &item.value {
            Value::Text(text) => names.push((text.as_str(), &item.span)),
            other => {
                let wrong = Diagnostic::error(
                    "wrong-type",
                    format!("`without` needs a text in quotes, and this is {}", other.words()),
                );
                note(wrong.help(EXAMPLE), &item.span);
            }
        }
    }
    names
}

/// Refuses to take out what the file does not have.
fn not_there(table: &Table, name: &str) -> Diagnostic {
    if name.trim().is_empty() {
        return Diagnostic::error("no-such-key", "a text of `without` is empty")
            .help("write the key to take out, such as \"gear.main.brace\", or leave the text out");
    }
    let mut all = Vec::new();
    names_of(table, "", &mut all);
    let refused = Diagnostic::error(
        "no-such-key",
        format!("`without` names `{}`, which the file does not have", shown(name)),
    );
    // Of a key that is as deep: a section above it is no slip of the pen.
    let depth = |key: &str| key.matches('.').count();
    let alike = all.iter().map(String::as_str).filter(|key| depth(key) == depth(name));
    let refused = match nearest(name, alike) {
        Some(near) => refused.label(format!("perhaps \"{}\"", shown(near))),
        None => refused,
    };
    refused.help(
        "write the key with all that stands before it, such as \"gear.main.brace\"; items of a list count from 1, as in \
         \"gear.main.brace.2\"",
    )
}

/// Names that are kept for a suggestion. chosen: a long project file has some two hundred keys.
const MOST_NAMES: usize = 1000;

/// Every dotted key of a table, and of the sections in its lists.
fn names_of(table: &Table, before: &str, all: &mut Vec<String>) {
    for entry in &table.entries {
        if all.len() >= MOST_NAMES {
            return;
        }
        let name = format!("{before}{}", entry.key);
        match &entry.node.value {
            Value::Table(below) => names_of(below, &format!("{name}."), all),
            Value::List(items) => {
                for (i, item) in items.iter().enumerate().take(MOST_NAMES) {
                    let numbered = format!("{name}.{}", i + 1);
                    if let Value::Table(below) = &item.value {
                        names_of(below, &format!("{numbered}."), all);
                    }
                    all.push(numbered);
                }
            }
            _ => {}
        }
        all.push(name);
    }
}

/// Where a dotted key stands, as the position in each table and list on the way. Keys that hold a point themselves are found too.
fn place(table: &Table, name: &str) -> Option<Vec<usize>> {
    table.entries.iter().enumerate().find_map(|(index, entry)| {
        let rest = name.strip_prefix(entry.key.as_str())?;
        let below = match rest.strip_prefix('.') {
            None if rest.is_empty() => Vec::new(),
            None => return None,
            Some(rest) => place_in(&entry.node, rest)?,
        };
        Some([vec![index], below].concat())
    })
}

fn place_in(node: &Node, name: &str) -> Option<Vec<usize>> {
    match &node.value {
        Value::Table(table) => place(table, name),
        Value::List(items) => {
            let (number, rest) = name.split_once('.').map_or((name, None), |(n, r)| (n, Some(r)));
            let index = number.parse::<usize>().ok()?.checked_sub(1)?;
            let item = items.get(index)?;
            let below = rest.map_or(Some(Vec::new()), |rest| place_in(item, rest))?;
            Some([vec![index], below].concat())
        }
        Value::Text(_) | Value::Number(_) | Value::Truth | Value::Date => None,
    }
}

fn take_out(table: &mut Table, path: &[usize]) {
    match path {
        [] => {}
        [last] if *last < table.entries.len() => {
            table.entries.remove(*last);
        }
        [first, rest @ ..] => {
            if let Some(entry) = table.entries.get_mut(*first) {
                take_out_of(&mut entry.node, rest);
            }
        }
    }
}

fn take_out_of(node: &mut Node, path: &[usize]) {
    match (&mut node.value, path) {
        (Value::Table(table), _) => take_out(table, path),
        (Value::List(items), [last]) if *last < items.len() => {
            items.remove(*last);
        }
        (Value::List(items), [first, rest @ ..]) => {
            if let Some(item) = items.get_mut(*first) {
                take_out_of(item, rest);
            }
        }
        _ => {}
    }
}

/// Lays entries of a variant over a table: sections are merged, all else takes the place of what was there.
fn lay_all<'e>(table: &mut Table, over: impl Iterator<Item = &'e Entry>) {
    let places: HashMap<String, usize> =
        table.entries.iter().enumerate().map(|(index, entry)| (entry.key.clone(), index)).collect();
    for entry in over {
        let Some(there) = places.get(&entry.key).and_then(|index| table.entries.get_mut(*index)) else {
            table.entries.push(entry.clone());
            continue;
        };
        match (&mut there.node.value, &entry.node.value) {
            (Value::Table(below), Value::Table(over)) => lay_all(below, over.entries.iter()),
            _ => *there = entry.clone(),
        }
    }
}
