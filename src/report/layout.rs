//! Text layout: headings, wrapped paragraphs, plain tables that fit the width and read well when piped.

use comfy_table::{CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, Table, presets};
use std::borrow::Cow;
use textwrap::{Options, WordSeparator, WordSplitter};

/// Columns a report may use.
pub(super) const WIDTH: usize = 100;

/// Adds a heading with an empty line before it.
pub(super) fn heading(out: &mut String, words: &str) {
    out.push('\n');
    out.push_str(words);
    out.push('\n');
}

fn wrapped(words: &str, first: &str, rest: &str) -> String {
    // Names of metals and keys have hyphens and stay whole.
    let options = Options::new(WIDTH)
        .initial_indent(first)
        .subsequent_indent(rest)
        .word_splitter(WordSplitter::NoHyphenation);
    let mut text = textwrap::fill(words, options);
    text.push('\n');
    text
}

/// Words in lines of at most `width` columns; a word that is longer stays whole.
pub(super) fn lines(words: &str, width: usize) -> Vec<String> {
    let options = Options::new(width)
        .word_separator(WordSeparator::AsciiSpace)
        .word_splitter(WordSplitter::NoHyphenation)
        .break_words(false);
    textwrap::wrap(words, options).into_iter().map(Cow::into_owned).collect()
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

/// Columns no wider than this are kept whole where there is room: names and figures are not wrapped.
const KEPT_WHOLE: usize = 20;
/// Columns of the page between two columns of a table: a blank on either side and one between.
const BETWEEN: usize = 3;
/// Columns of the page that a wrapped column needs at least.
const LEAST: usize = 10;

fn width(cell: &str) -> usize {
    cell.lines().map(textwrap::core::display_width).max().unwrap_or(0)
}

/// Which columns are kept whole: the narrow ones, fewer when the page would get too wide. Words give way before
/// figures, the widest first.
fn kept_whole(widest: &[usize], right: &std::ops::Range<usize>) -> Vec<bool> {
    let mut whole: Vec<bool> = widest.iter().map(|w| *w <= KEPT_WHOLE).collect();
    loop {
        let columns = widest.iter().zip(&whole);
        let needed: usize =
            columns.map(|(w, kept)| if *kept { *w } else { (*w).min(LEAST) } + BETWEEN).sum::<usize>();
        let words_first = |i: usize, w: usize| (!right.contains(&i), w);
        let widest_kept = widest
            .iter()
            .enumerate()
            .filter(|(i, w)| whole.get(*i) == Some(&true) && **w > LEAST)
            .max_by_key(|(i, w)| words_first(*i, **w));
        match widest_kept {
            Some((i, _)) if needed > WIDTH => {
                if let Some(kept) = whole.get_mut(i) {
                    *kept = false;
                }
            }
            _ => return whole,
        }
    }
}

/// A table with its rows filled in.
pub(super) fn table(
    header: &[&str],
    right: std::ops::Range<usize>,
    rows: impl Iterator<Item = Vec<String>>,
) -> String {
    let mut table = grid(header, right.clone());
    let mut widest: Vec<usize> = header.iter().map(|h| width(h)).collect();
    for row in rows {
        for (most, cell) in widest.iter_mut().zip(&row) {
            *most = (*most).max(width(cell));
        }
        table.add_row(row);
    }
    for (whole, column) in kept_whole(&widest, &right).into_iter().zip(table.column_iter_mut()) {
        if whole {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn narrow_columns_stay_whole_and_no_table_is_wider_than_the_page() {
        for cells in [[20, 20, 20, 19], [20, 30, 9, 60], [15, 15, 15, 15], [70, 70, 70, 70]] {
            let row: Vec<String> = cells.iter().map(|n| "x".repeat(*n)).collect();
            let text = table(&["a", "b", "c", "d"], 2..4, std::iter::once(row.clone()));
            assert!(text.lines().all(|l| width(l) <= WIDTH), "{text}");
            if cells.iter().sum::<usize>() + 4 * BETWEEN <= WIDTH {
                assert!(row.iter().all(|cell| text.contains(cell.as_str())), "{text}");
            }
        }
        // Seven figures of a landing leave no room for a long name beside them: the name is wrapped.
        let cells =
            ["lifted by the wheels", "left", "-1234/-1234/-1234", "-100.0/-100.0/-100.0", "-10.0", "1234"];
        let row = cells.iter().chain(&["1000 mm, forward edge"]).map(|c| (*c).to_owned()).collect();
        let text =
            table(&["landing", "wheel", "load", "travel", "toe", "stress", "at"], 2..6, std::iter::once(row));
        assert!(text.lines().all(|l| width(l) <= WIDTH), "{text}");
        assert!(text.contains("-100.0/-100.0/-100.0"), "{text}");
    }
}
