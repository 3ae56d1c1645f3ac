//! Text layout: headings, wrapped paragraphs, plain tables that fit the width and read well when piped.

use comfy_table::{CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, Table, presets};
use textwrap::Options;

/// Columns a report may use.
pub(super) const WIDTH: usize = 100;

/// Adds a heading with an empty line before it.
pub(super) fn heading(out: &mut String, words: &str) {
    out.push('\n');
    out.push_str(words);
    out.push('\n');
}

fn wrapped(words: &str, first: &str, rest: &str) -> String {
    let options = Options::new(WIDTH).initial_indent(first).subsequent_indent(rest);
    let mut text = textwrap::fill(words, options);
    text.push('\n');
    text
}

/// A paragraph.
pub(super) fn paragraph(words: &str) -> String {
    wrapped(words, "", "")
}

/// A list item.
pub(super) fn bullet(words: &str) -> String {
    wrapped(words, "  - ", "    ")
}

/// A further line of a list item.
pub(super) fn continued(words: &str) -> String {
    wrapped(words, "    ", "    ")
}

/// An empty table that fits the width, ruled below its header; the columns in `right` are flush right.
pub(super) fn grid(header: &[&str], right: std::ops::Range<usize>) -> Table {
    let mut table = Table::new();
    table.load_style(presets::UTF8_HORIZONTAL_ONLY);
    table.set_content_arrangement(ContentArrangement::Dynamic).set_width(WIDTH as u16);
    table.set_header(header.iter().copied());
    table.style_mut().row_separator = LineStyle::none();
    for (i, column) in table.column_iter_mut().enumerate() {
        if right.contains(&i) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    table
}

/// Columns no wider than this are never wrapped: names and figures stay whole.
const NEVER_WRAPPED: usize = 20;

fn width(cell: &str) -> usize {
    cell.lines().map(|line| line.chars().count()).max().unwrap_or(0)
}

/// A table with its rows filled in.
pub(super) fn table(
    header: &[&str],
    right: std::ops::Range<usize>,
    rows: impl Iterator<Item = Vec<String>>,
) -> String {
    let mut table = grid(header, right);
    let mut widest: Vec<usize> = header.iter().map(|h| width(h)).collect();
    for row in rows {
        for (most, cell) in widest.iter_mut().zip(&row) {
            *most = (*most).max(width(cell));
        }
        table.add_row(row);
    }
    for (most, column) in widest.into_iter().zip(table.column_iter_mut()) {
        if most <= NEVER_WRAPPED {
            column.set_constraint(ColumnConstraint::ContentWidth);
        }
    }
    let mut text = String::new();
    for line in table.lines() {
        text.push_str(line.trim_end());
        text.push('\n');
    }
    text
}
