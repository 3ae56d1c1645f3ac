//! Text layout: headings, wrapped paragraphs, plain tables that fit the width and read well when piped.

use comfy_table::{CellAlignment, ContentArrangement, Table, presets};
use textwrap::Options;

/// Columns a report may use.
pub const WIDTH: usize = 100;

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

/// A table with a ruled header; the columns named in `right` are flush right.
pub(super) fn table(header: &[&str], right: &[usize], rows: impl Iterator<Item = Vec<String>>) -> String {
    let mut table = Table::new();
    table.load_preset(presets::NOTHING).set_content_arrangement(ContentArrangement::Dynamic);
    table.set_width(u16::try_from(WIDTH).unwrap_or(u16::MAX));
    table.set_header(header.to_vec());
    for row in rows {
        table.add_row(row);
    }
    for &index in right {
        if let Some(column) = table.column_mut(index) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    let mut text = String::new();
    for line in table.lines() {
        text.push_str(line.trim_end());
        text.push('\n');
    }
    text
}
