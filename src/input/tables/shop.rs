//! Stock sizes, pilots' words, and names that are no row's.

use super::reader::{Reader, Row};
use super::value::Limit;
use super::{Target, add, names};
use crate::diagnostic::Diagnostic;
use crate::material::{Arrival, CounterName, Kind, Sourced, Stock, StockForm, System};
use crate::units::{Length, Velocity};

/// Reads `[[stock]]`, `[[arrival]]` and `[[counter_name]]`.
pub(super) fn read<'d>(reader: &mut Reader<'d>, file: &mut Row<'d>, target: &mut Target<'_>) {
    for mut row in reader.rows(file, "stock", "a stock list", "write each one under `[[stock]]`") {
        if let Some(stock) = stock(reader, &mut row) {
            target.library.stock.push(stock);
        }
    }
    for mut row in reader.rows(file, "arrival", "an arrival", "write each one under `[[arrival]]`") {
        let named = names(reader, &mut row, false);
        reader.defaults(&mut row);
        let words = reader.required_text(&mut row, "words");
        let sink_rate = sink_rate(reader, &mut row);
        reader.finish(&row);
        if let (Some(named), Some(words), Some(sink_rate)) = (named, words, sink_rate) {
            let arrival = Arrival { name: named.name, words: words.to_owned(), sink_rate };
            add(reader, target, &named.places, arrival);
        }
    }
    for mut row in
        reader.rows(file, "counter_name", "a counter name", "write each one under `[[counter_name]]`")
    {
        let kind = reader.word(&mut row, "kind", &Kind::ALL, Kind::word);
        let name = reader.required_text(&mut row, "name");
        let words = reader.required_text(&mut row, "words");
        let alloys = reader.texts(&mut row, "alloys").into_iter().map(|(alloy, _)| alloy).collect();
        reader.finish(&row);
        if let (Some(kind), Some(name), Some(words)) = (kind, name, words) {
            let word = CounterName { kind, name: name.to_owned(), words: words.to_owned(), alloys };
            target.library.counter_names.push(word);
        }
    }
}

fn stock<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>) -> Option<Stock> {
    reader.defaults(row);
    let form = reader.word(row, "form", &StockForm::ALL, StockForm::word);
    let system = reader.word(row, "system", &System::ALL, System::word);
    let range = match row.get("range").map(|item| (item.span(), item.get_ref().as_bool())) {
        None => false,
        Some((_, Some(yes))) => yes,
        Some((place, None)) => {
            reader.refuse(place, Diagnostic::error("wrong-type", "`range` must be true or false"));
            false
        }
    };
    let provenance = reader.row_provenance(row);
    let (labels, sizes) = match form {
        Some(form) if form.is_named() => (named_labels(reader, row), Some(Vec::new())),
        Some(_) => lengths(reader, row),
        None => {
            row.get("sizes");
            (None, None)
        }
    };
    reader.finish(row);
    let count = labels.as_ref().map_or(0, Vec::len);
    if range && count != 2 && labels.is_some() {
        let error = Diagnostic::error("contradiction", "a range has two sizes, its ends");
        reader.refuse(row.place("sizes"), error);
    }
    Some(Stock {
        form: form?,
        system: system?,
        labels: labels?,
        sizes: sizes?,
        range,
        provenance: provenance?,
    })
}

/// Names of threads or grades; that they exist is for the reader of the list to see, since they may come from another file.
fn named_labels<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>) -> Option<Vec<String>> {
    let listed = listed(reader, row)?;
    let labels: Vec<String> = reader.texts(row, "sizes").into_iter().map(|(label, _)| label).collect();
    (labels.len() == listed).then_some(labels)
}

/// Sizes as they are written and as lengths, ascending.
fn lengths<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>) -> (Option<Vec<String>>, Option<Vec<Length>>) {
    let Some(count) = listed(reader, row) else { return (None, None) };
    let labels: Vec<String> = reader.texts(row, "sizes").into_iter().map(|(label, _)| label).collect();
    let mut sizes: Vec<Length> = Vec::new();
    let entries = row.get("sizes").and_then(|item| item.get_ref().as_array());
    for item in entries.into_iter().flat_map(|list| list.iter()).filter(|item| item.get_ref().is_str()) {
        let Some(size) = reader.limited::<Length>("sizes", item, Limit::Positive) else { continue };
        if sizes.last().is_some_and(|before| size <= *before) {
            reader.refuse(item.span(), Diagnostic::error("band-order", "the sizes must ascend"));
        }
        sizes.push(size);
    }
    let whole = labels.len() == count && sizes.len() == count;
    (whole.then_some(labels), whole.then_some(sizes))
}

/// How many sizes are listed; reports a list that is missing, empty or no list.
fn listed<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>) -> Option<usize> {
    let Some(item) = row.get("sizes") else {
        reader.lacks(row, "sizes");
        return None;
    };
    let count = item.get_ref().as_array().map_or(1, |list| list.len());
    if count == 0 {
        reader.refuse(item.span(), Diagnostic::error("no-bands", "`sizes` is an empty list"));
        return None;
    }
    Some(count)
}

/// Reads an arrival's range of sink rates.
fn sink_rate<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>) -> Option<Sourced<(Velocity, Velocity)>> {
    let provenance = reader.row_provenance(row);
    let how = "write { from = \"1.0 m/s\", to = \"1.3 m/s\" }";
    let mut inner = reader.table(row, "sink_rate", "a sink rate", how)?;
    let from: Option<Velocity> = reader.required_plain(&mut inner, "from", Limit::Positive);
    let to: Option<Velocity> = reader.required_plain(&mut inner, "to", Limit::Positive);
    reader.finish(&inner);
    let (from, to, provenance) = (from?, to?, provenance?);
    if from > to {
        let place = inner.place("from");
        reader.refuse(place, Diagnostic::error("contradiction", "`from` is above `to`"));
    }
    Some(Sourced::new((from, to), provenance.basis, provenance.source))
}
