//! What the TOML reader can't make sense of, said in a builder's words.

use super::tree::Span;
use crate::diagnostic::{Diagnostic, SourceText};
use std::sync::Arc;

/// The reader's complaints, reworded, at most one for a line.
pub(super) struct Complaints {
    pub(super) diagnostics: Vec<Diagnostic>,
    /// Whether the sections and keys around them can still be trusted.
    pub(super) readable: bool,
}

/// Complaints that are looked at. chosen: a file with more is no project file, and each costs time.
const MOST: usize = 200;

/// Rewords the complaints of the TOML reader.
pub(super) fn complaints(source: &Arc<SourceText>, errors: &[toml::de::Error]) -> Complaints {
    let mut diagnostics: Vec<(usize, Diagnostic)> = Vec::new();
    let mut readable = errors.len() <= MOST;
    let mut errors: Vec<&toml::de::Error> = errors.iter().collect();
    errors.sort_by_key(|error| error.span().map(|span| span.start));
    for error in errors.into_iter().take(MOST) {
        let span = visible(&source.text, error.span().unwrap_or(0..0));
        let (line, _) = source.line_column(span.start);
        let (kind, diagnostic) = reword(source, error.message(), span);
        readable &= kind == Kind::OneValue;
        // The first complaint about a line is the mistake, the others are its echo.
        if !diagnostics.iter().any(|(seen, _)| *seen == line) {
            diagnostics.push((line, diagnostic));
        }
    }
    if !readable {
        // A bracket or quote left open makes the reader see mistakes far below it.
        diagnostics.truncate(8);
    }
    Complaints { diagnostics: diagnostics.into_iter().map(|(_, d)| d).collect(), readable }
}

#[derive(PartialEq, Eq)]
enum Kind {
    /// Only one value is wrong; the rest of the file can still be checked.
    OneValue,
    /// What follows may belong somewhere else.
    Structure,
}

fn reword(source: &Arc<SourceText>, said: &str, span: Span) -> (Kind, Diagnostic) {
    let said = said.split(", expected").next().unwrap_or_default();
    let line = line_at(&source.text, span.start);
    let marked = source.text.get(span.clone()).unwrap_or_default();
    match said {
        "duplicate key" => (Kind::OneValue, duplicate(marked, line).at(source, span)),
        "string values must be quoted" | "invalid boolean" | "unexpected key or value" => {
            let span = bare_value(&source.text, &span).unwrap_or(span);
            (Kind::OneValue, unquoted(line).at(source, span))
        }
        "invalid basic string" | "invalid literal string" => {
            let d = Diagnostic::error("toml-syntax", "the closing quote of this text is missing")
                .help("a text stands between two quotes on one line: name = \"survey aeroplane\"");
            (Kind::OneValue, d.at(source, span))
        }
        "missing escaped value" | "too few unicode value digits" | "invalid value" => {
            let d =
                Diagnostic::error("toml-syntax", "a backslash means something special between double quotes")
                    .help("write it twice, or put the text between single quotes: name = 'a\\b'");
            (Kind::OneValue, d.at(source, span))
        }
        _ if is_number_trouble(said) => {
            let d = Diagnostic::error("toml-syntax", "this number is not written in a way that can be read")
                .help("write plain digits with a point between digits, such as 0.5 or 3.5")
                .help("a value with a unit goes between quotes, such as \"4 mm\"");
            (Kind::OneValue, d.at(source, span))
        }
        // A line of prose looks to the reader like a key whose value is missing.
        "key with no value" if is_prose(line) => {
            let span = whole_line(&source.text, span.start);
            (Kind::Structure, structure("").at(source, span))
        }
        "invalid multi-line basic string" | "invalid multi-line literal string" => {
            let span = opening_quotes(&source.text, span.start).unwrap_or(span);
            (Kind::Structure, structure(said).at(source, span))
        }
        _ => (Kind::Structure, structure(said).at(source, span)),
    }
}

fn is_number_trouble(said: &str) -> bool {
    [
        "number",
        "integer",
        "float",
        "mantissa",
        "fraction",
        "exponent",
        "radix",
        "leading zero",
        "sign",
        "digits",
        "datetime",
    ]
    .iter()
    .any(|word| said.contains(word))
}

fn structure(said: &str) -> Diagnostic {
    let error = |message: &str| Diagnostic::error("toml-syntax", message);
    match said {
        "unclosed table" | "unclosed array table" => error("the closing bracket of this section's name is missing")
            .help("a section begins with a line such as [aircraft] or [[gear.main.brace]]"),
        "unclosed array" => error("a list is opened with `[` and not closed")
            .help("close it with `]`, such as cases = [\"level\", \"one-wheel\"]"),
        "unclosed inline table" => error("a brace `{` is opened and not closed")
            .help("close it with `}`, such as left = { vertical = \"200 N\" }"),
        "key with no value" | "missing value for key" | "missing value" => {
            error("this key has no value").help("write the key, then `=`, then the value: mass = \"12.4 kg\"")
        }
        "invalid multi-line basic string" | "invalid multi-line literal string" => {
            error("the three closing quotes of a text are missing")
                .help("a text needs one quote at each end, on one line: name = \"survey aeroplane\"")
        }
        "missing comma between array elements" => error("a comma is missing in this list")
            .help("part the values with commas: cases = [\"level\", \"one-wheel\"]"),
        "missing comma between key-value pairs" => error("a comma is missing between the braces")
            .help("part the values with commas: left = { vertical = \"200 N\", aft = \"50 N\" }"),
        "cannot recurse further; max recursion depth met" | "recursion limit" => {
            error("brackets are nested too deeply to be a project file")
                .help("the deepest list of a project file is bolts = [[\"20 mm\", \"45 mm\"]]")
        }
        _ => error("this line can't be read")
            .help("every line is a section such as [aircraft], a key such as mass = \"12.4 kg\", or a comment after #"),
    }
}

fn duplicate(key: &str, line: &str) -> Diagnostic {
    let trimmed = line.trim();
    if trimmed.starts_with('[') {
        let header = trimmed.split('#').next().unwrap_or_default().trim();
        Diagnostic::error("duplicate-key", format!("the section {header} stands in the file twice"))
            .label("second time")
            .help("move its keys under the first one, or give it another name")
    } else {
        Diagnostic::error("duplicate-key", format!("`{key}` is given twice in this section"))
            .label("second time")
            .help("keep one of the two")
    }
}

/// A value with a unit, or a word, without its quotes.
fn unquoted(line: &str) -> Diagnostic {
    let bare = line.split('#').next().unwrap_or_default();
    if bare.split_once('=').is_some_and(|(_, value)| value.trim().is_empty()) {
        return Diagnostic::error("toml-syntax", "this key has no value")
            .help("write the key, then `=`, then the value: mass = \"12.4 kg\"");
    }
    let Some((key, value)) = key_and_value(line) else {
        return Diagnostic::error("unquoted", "a text, or a value with a unit, needs quotes")
            .help("write it as in mass = \"12.4 kg\"");
    };
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
    if let Some((whole, part)) = value.split_once(',')
        && digits(whole)
        && digits(part)
    {
        return Diagnostic::error("decimal-comma", format!("`{value}` has a comma where a point is needed"))
            .help(format!("write {key} = {whole}.{part}"));
    }
    let quoted: String = value.chars().filter(|c| *c != '"' && *c != '\\').take(60).collect();
    if value.starts_with(['[', '{']) {
        return Diagnostic::error(
            "unquoted",
            "between these brackets a value lacks its quotes, or a comma is missing",
        )
        .help("write it as in [\"-20 mm\", \"45 mm\"] or { vertical = \"200 N\", aft = \"50 N\" }");
    }
    if value.starts_with(['"', '\'']) {
        return Diagnostic::error("toml-syntax", "there is more on this line than one value")
            .help("put each key on a line of its own, and a comment after #");
    }
    Diagnostic::error("unquoted", "a text, or a value with a unit, needs quotes")
        .help(format!("write {key} = \"{}\"", quoted.trim()))
}

/// The key and the bare value of a line such as `mass = 12.4 kg  # all-up`.
fn key_and_value(line: &str) -> Option<(&str, &str)> {
    let (key, rest) = line.split_once('=')?;
    let value = rest.split('#').next().unwrap_or_default().trim();
    let plain = |c: char| c.is_alphanumeric() || matches!(c, '_' | '-' | '.');
    let key = key.trim();
    (!key.is_empty() && key.chars().all(plain) && !value.is_empty()).then_some((key, value))
}

/// The place of a bare value on its line, which the reader marks only in part.
fn bare_value(text: &str, span: &Span) -> Option<Span> {
    let begin = text.get(..span.start)?.rfind('\n').map_or(0, |at| at + 1);
    let line = line_at(text, span.start);
    let (_, value) = key_and_value(line)?;
    if value.starts_with(['"', '\'', '[', '{']) {
        return None;
    }
    let equals = line.find('=')? + 1;
    let at = begin + equals + line.get(equals..)?.find(value)?;
    Some(at..at + value.len())
}

/// Something other than a key alone on its line.
fn is_prose(line: &str) -> bool {
    let bare = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '.');
    !line.contains('=') && !line.trim().chars().all(bare)
}

/// The line at an offset, without the blanks around it.
fn whole_line(text: &str, offset: usize) -> Span {
    let begin = text.get(..offset).and_then(|t| t.rfind('\n')).map_or(0, |at| at + 1);
    let line = line_at(text, offset);
    let indent = line.len() - line.trim_start().len();
    begin + indent..begin + line.trim_end().len().max(indent)
}

/// The last three quotes before an offset, which are the ones left open.
fn opening_quotes(text: &str, offset: usize) -> Option<Span> {
    let before = text.get(..offset)?;
    let at = before.rfind("\"\"\"").max(before.rfind("'''"))?;
    Some(at..at + 3)
}

fn line_at(text: &str, offset: usize) -> &str {
    let offset = text.floor_char_boundary(offset);
    let begin = text.get(..offset).and_then(|t| t.rfind('\n')).map_or(0, |at| at + 1);
    text.get(begin..).and_then(|t| t.lines().next()).unwrap_or_default()
}

/// Moves an empty mark onto the last character before it that can be seen, so that the end of a file shows its last line.
fn visible(text: &str, span: Span) -> Span {
    if span.start < span.end {
        return span;
    }
    let at_end = text.get(span.start..).is_none_or(|rest| rest.trim().is_empty());
    let before = text.get(..span.start).unwrap_or_default().trim_end();
    match before.char_indices().next_back() {
        Some((at, last)) if at_end => at..at + last.len_utf8(),
        _ => span,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn first(text: &str) -> (String, bool) {
        let source = Arc::new(SourceText { name: "t.toml".to_owned(), text: text.to_owned() });
        let (_, errors) = toml::de::DeTable::parse_recoverable(&source.text);
        let found = complaints(&source, &errors);
        (found.diagnostics.first().map(ToString::to_string).unwrap_or_default(), found.readable)
    }

    /// The words of the TOML reader are matched by text; this fails when a new version of it words them otherwise.
    #[test]
    fn words_of_the_reader_are_recognised() {
        let cases = [
            ("a = 1\na = 2\n", "t.toml:2:1: `a` is given twice in this section", true),
            ("[a]\n[b]\n[a]\n", "t.toml:3:2: the section [a] stands in the file twice", true),
            ("a = 12.4 kg\n", "t.toml:1:5: a text, or a value with a unit, needs quotes", true),
            ("a = tricycle\n", "t.toml:1:5: a text, or a value with a unit, needs quotes", true),
            ("a = 1,5\n", "t.toml:1:5: `1,5` has a comma where a point is needed", true),
            ("a = \"x\n", "t.toml:1:6: the closing quote of this text is missing", true),
            ("a = \"\\q\"\n", "t.toml:1:7: a backslash means something special between double quotes", true),
            ("a = .5\n", "t.toml:1:5: this number is not written in a way that can be read", true),
            ("[a\n", "t.toml:1:2: the closing bracket of this section's name is missing", false),
            ("a = [1,\n", "t.toml:1:7: a list is opened with `[` and not closed", false),
            ("a = {b = 1\n", "t.toml:1:10: a brace `{` is opened and not closed", false),
            ("a =\n", "t.toml:1:3: this key has no value", true),
            (
                "a = [1 2]\n",
                "t.toml:1:6: between these brackets a value lacks its quotes, or a comma is missing",
                true,
            ),
            ("a = [\"x\" 2]\n", "t.toml:1:10: a comma is missing in this list", false),
        ];
        for (text, message, readable) in cases {
            assert_eq!(first(text), (message.to_owned(), readable), "{text:?}");
        }
    }
}
