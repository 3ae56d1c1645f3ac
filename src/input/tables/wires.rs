//! Brace wires, cable constructions and wire ends.

use super::reader::{Item, Reader, Row};
use super::value::Limit;
use super::{Target, add, names};
use crate::diagnostic::Diagnostic;
use crate::material::{
    Construction, EndEfficiency, PowerBand, Sourced, Wire, WireEnd, WireForm, WireStrength,
};
use crate::units::{Length, Stress};

/// The word for an end whose strength is that of the root of its thread.
const THREAD_ROOT: &str = "thread-root";

/// Reads `[[wire]]`, `[[construction]]` and `[[wire_end]]`.
pub(super) fn read<'d>(reader: &mut Reader<'d>, file: &mut Row<'d>, target: &mut Target<'_>) {
    for mut row in reader.rows(file, "wire", "a wire", "write each one under `[[wire]]`") {
        wire(reader, &mut row, target);
    }
    for mut row in
        reader.rows(file, "construction", "a construction", "write each one under `[[construction]]`")
    {
        let named = names(reader, &mut row, false);
        reader.defaults(&mut row);
        let modulus = reader.required(&mut row, "modulus", Limit::Positive);
        reader.finish(&row);
        if let (Some(named), Some(modulus)) = (named, modulus) {
            add(reader, target, &named.places, Construction { name: named.name, modulus });
        }
    }
    for mut row in reader.rows(file, "wire_end", "a wire end", "write each one under `[[wire_end]]`") {
        let named = names(reader, &mut row, false);
        reader.defaults(&mut row);
        let words = reader.required_text(&mut row, "words");
        let given = row.get("suits").is_some();
        let suits = given.then(|| reader.word(&mut row, "suits", &WireForm::ALL, WireForm::word)).flatten();
        let efficiency = efficiency(reader, &mut row);
        reader.finish(&row);
        if let (Some(named), Some(words), Some(efficiency)) = (named, words, efficiency) {
            let end = WireEnd { name: named.name, words: words.to_owned(), suits, efficiency };
            add(reader, target, &named.places, end);
        }
    }
}

fn wire<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>, target: &mut Target<'_>) {
    let named = names(reader, row, true);
    reader.defaults(row);
    let modulus: Option<Sourced<Stress>> = reader.required(row, "modulus", Limit::Positive);
    let density = reader.required(row, "density", Limit::Positive);
    let yield_fraction = reader.sourced(row, "yield_fraction", Limit::Fraction);
    let strength = strength(reader, row);
    reader.finish(row);
    if let (Some(modulus), Some(WireStrength::Constant(strength))) = (&modulus, &strength)
        && modulus.value <= strength.value
    {
        let error = Diagnostic::error("out-of-range", "`modulus` must be above the wire's strength");
        reader.refuse(row.place("modulus"), error);
    }
    if let (Some(named), Some(modulus), Some(density), Some(strength)) = (named, modulus, density, strength) {
        let wire =
            Wire { name: named.name, aliases: named.aliases, modulus, density, strength, yield_fraction };
        add(reader, target, &named.places, wire);
    }
}

/// Reads the one of `power_law`, `sizes` and `constant` that the wire has.
fn strength<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>) -> Option<WireStrength> {
    let ways = ["power_law", "sizes", "constant"].map(|key| row.get(key).map(|item| (key, item)));
    let mut written = ways.into_iter().flatten();
    let Some((key, item)) = written.next() else {
        let error =
            Diagnostic::error("missing-key", "a wire needs one of `power_law`, `sizes` and `constant`");
        reader.refuse(row.span.clone(), error);
        return None;
    };
    if let Some((other, place)) = written.next() {
        let error =
            Diagnostic::error("contradiction", format!("a wire can't have both `{key}` and `{other}`"));
        reader.refuse(place.span(), error);
        return None;
    }
    match key {
        "power_law" => power_law(reader, row, item),
        "sizes" => sizes(reader, row, item),
        _ => reader.sourced(row, "constant", Limit::Positive).map(WireStrength::Constant),
    }
}

fn power_law<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>, item: &Item<'d>) -> Option<WireStrength> {
    let how = "write `power_law = [{ from = \"0.3 mm\", up_to = \"2.5 mm\", a = 1867, m = 0.146 }]`";
    let mut bands: Vec<PowerBand> = Vec::new();
    let mut whole = true;
    for mut inner in reader.rows(row, "power_law", "a band", how) {
        reader.inherit(&mut inner, row);
        let from: Option<Length> = reader.required_plain(&mut inner, "from", Limit::Positive);
        let up_to = reader.required_plain(&mut inner, "up_to", Limit::Positive);
        let a = reader.required_plain(&mut inner, "a", Limit::Positive);
        let m = reader.required_plain(&mut inner, "m", Limit::NotNegative);
        let provenance = reader.row_provenance(&inner);
        reader.finish(&inner);
        let (Some(from), Some(up_to), Some(a), Some(m), Some(provenance)) = (from, up_to, a, m, provenance)
        else {
            whole = false;
            continue;
        };
        let constants = Sourced::new((a, m), provenance.basis, provenance.source);
        let joins = bands.last().is_none_or(|b: &PowerBand| (b.up_to - from).abs() <= 1e-6 * from);
        if up_to <= from || !joins {
            let words = "the band must end above its beginning, and begin where the one before it ends";
            reader.refuse(inner.span.clone(), Diagnostic::error("band-order", words));
        }
        bands.push(PowerBand { from, up_to, constants });
    }
    not_empty(reader, item, how, whole && bands.is_empty());
    (whole && !bands.is_empty()).then_some(WireStrength::PowerLaw(bands))
}

fn sizes<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>, item: &Item<'d>) -> Option<WireStrength> {
    let how = "write `sizes = [{ diameter = \"1/16 in\", load = \"480 lbf\" }, ...]`";
    let mut sizes: Vec<(Length, Sourced<_>)> = Vec::new();
    let mut whole = true;
    for mut inner in reader.rows(row, "sizes", "a size", how) {
        reader.inherit(&mut inner, row);
        let diameter: Option<Length> = reader.required_plain(&mut inner, "diameter", Limit::Positive);
        let load = reader.required(&mut inner, "load", Limit::Positive);
        reader.finish(&inner);
        let (Some(diameter), Some(load)) = (diameter, load) else {
            whole = false;
            continue;
        };
        if sizes.last().is_some_and(|(before, _)| diameter <= *before) {
            let error = Diagnostic::error("band-order", "the sizes must ascend");
            reader.refuse(inner.place("diameter"), error);
        }
        sizes.push((diameter, load));
    }
    not_empty(reader, item, how, whole && sizes.is_empty());
    (whole && !sizes.is_empty()).then_some(WireStrength::Sizes(sizes))
}

/// Reports a list without entries. Entries of a wrong kind were reported before.
fn not_empty<'d>(reader: &mut Reader<'d>, item: &Item<'d>, how: &str, empty: bool) {
    if empty && item.get_ref().as_array().is_some_and(|list| list.is_empty()) {
        reader.refuse(item.span(), Diagnostic::error("no-bands", "the list is empty").help(how));
    }
}

/// Reads a wire end's efficiency: a fraction, or the word for the root of a thread.
fn efficiency<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>) -> Option<EndEfficiency> {
    let read = reader.required_with(row, "efficiency", |reader, item| match item.get_ref().as_str() {
        Some(THREAD_ROOT) => Some(None),
        Some(other) => {
            let error = Diagnostic::error("unknown-word", format!("`efficiency` can't be `{other}`")).help(
                format!("write a fraction of the wire's breaking load such as 0.9, or \"{THREAD_ROOT}\""),
            );
            reader.refuse(item.span(), error);
            None
        }
        None => reader.limited("efficiency", item, Limit::Fraction).map(Some),
    })?;
    Some(match read.value {
        Some(fraction) => EndEfficiency::Fraction(Sourced::new(fraction, read.basis, read.source)),
        None => EndEfficiency::ThreadRoot(Sourced::new((), read.basis, read.source)),
    })
}
