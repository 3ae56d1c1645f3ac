//! Diagnostics as text for people.

use crate::diagnostic::{Diagnostic, Location, Severity};
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

/// Columns that text output may take.
const WIDTH: usize = 100;
/// Columns left for words once `error[some-code]: ` or `   = help: ` stands before them.
const WORDS: usize = 84;

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
    let title = level.primary_title(wrapped(&diagnostic.message, WORDS)).id(diagnostic.code);
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
        group = group.element(Level::HELP.message(wrapped(help, WORDS)));
    }
    let rendered = renderer.render(&[group]);
    // Padding at line ends is invisible and makes snapshots brittle.
    rendered.lines().map(str::trim_end).collect::<Vec<_>>().join("\n")
}

/// The line a place begins on. Showing no more keeps a message short when a place runs over many lines.
struct Line<'a> {
    text: &'a str,
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
        Self { text: line, number: place.line_column().0, mark: from..to }
    }
}

/// Breaks a text at blanks into lines of at most `width` characters, where its words allow.
fn wrapped(text: &str, width: usize) -> String {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split(' ') {
        let longer = line.chars().count() + 1 + word.chars().count();
        if !line.is_empty() && longer > width {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    lines.push(line);
    lines.join("\n")
}
