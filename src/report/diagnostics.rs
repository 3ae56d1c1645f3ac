//! Diagnostics as text for people.

use super::layout::{WIDTH, lines};
use crate::diagnostic::{Diagnostic, Location, Severity};
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use std::borrow::Cow;

/// Columns that the gutter and `= help: ` take before words of help, with line numbers of up to four digits.
const BEFORE_HELP: usize = 14;

/// Renders diagnostics one below the other: what is wrong, the place, the line itself, and what would be accepted.
///
/// Without `colour` the decoration is ASCII only; the lines of the file are shown as they are.
#[must_use]
pub fn render(diagnostics: &[Diagnostic], colour: bool) -> String {
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() }.term_width(WIDTH);
    let mut text = String::new();
    for diagnostic in diagnostics {
        if !text.is_empty() {
            text.push('\n');
        }
        text.push_str(&one(diagnostic, &renderer));
        text.push('\n');
    }
    text
}

fn one(diagnostic: &Diagnostic, renderer: &Renderer) -> String {
    let level = match diagnostic.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
    };
    // The further lines of a message stand below its first word, after `warning[code]: `.
    let before = "warning[]: ".len() + diagnostic.code.len();
    let title = level
        .primary_title(lines(&diagnostic.message, WIDTH.saturating_sub(before)).join("\n"))
        .id(diagnostic.code);
    let mut group = Group::with_title(title);
    if let Some(place) = &diagnostic.location {
        let shown = Line::of(place);
        let mark = AnnotationKind::Primary.span(shown.mark).label(diagnostic.label.as_deref());
        let snippet = Snippet::source(shown.text)
            .path(place.source.name.as_str())
            .line_start(shown.number)
            .annotation(mark);
        group = group.element(snippet);
    }
    for help in &diagnostic.help {
        group = group.element(Level::HELP.message(lines(help, WIDTH - BEFORE_HELP).join("\n")));
    }
    let rendered = renderer.render(&[group]);
    // Padding at line ends is invisible and makes snapshots brittle.
    rendered.lines().map(str::trim_end).collect::<Vec<_>>().join("\n")
}

/// The line a place begins on. Showing no more keeps a message short when a place runs over many lines.
struct Line<'a> {
    text: Cow<'a, str>,
    number: usize,
    mark: std::ops::Range<usize>,
}

impl<'a> Line<'a> {
    fn of(place: &'a Location) -> Self {
        let text = place.source.text.as_str();
        let start = text.floor_char_boundary(place.span.start.min(text.len()));
        let begin = text.get(..start).and_then(|before| before.rfind('\n')).map_or(0, |at| at + 1);
        let line = text.get(begin..).and_then(|rest| rest.lines().next()).unwrap_or_default();
        let from = (start - begin).min(line.len());
        let end = text.ceil_char_boundary(place.span.end.min(text.len()));
        let to = end.saturating_sub(begin).clamp(from, line.len());
        Self { text: printable(line), number: place.line_column().0, mark: from..to }
    }
}

/// A line without characters that would move the cursor or colour the terminal; every byte keeps its place.
fn printable(line: &str) -> Cow<'_, str> {
    let hidden = |c: char| c.is_control() && c != '\t';
    if !line.contains(hidden) {
        return Cow::Borrowed(line);
    }
    let shown = |c: char| if hidden(c) { "?".repeat(c.len_utf8()) } else { c.to_string() };
    Cow::Owned(line.chars().map(shown).collect())
}
