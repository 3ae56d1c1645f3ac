//! Axle metals, bolt classes and threads.

use super::reader::{Reader, Row};
use super::value::Limit;
use super::{Target, add, names};
use crate::diagnostic::Diagnostic;
use crate::material::{AxleMetal, BoltClass, OtherState, Series, Sourced, Thread};
use crate::units::{Length, Stress};
use uom::si::length::inch;

/// Reads `[[axle]]`, `[[bolt_class]]` and `[[thread]]`.
pub(super) fn read<'d>(reader: &mut Reader<'d>, file: &mut Row<'d>, target: &mut Target<'_>) {
    for mut row in reader.rows(file, "axle", "an axle metal", "write each one under `[[axle]]`") {
        axle(reader, &mut row, target);
    }
    for mut row in reader.rows(file, "bolt_class", "a bolt class", "write each one under `[[bolt_class]]`") {
        bolt_class(reader, &mut row, target);
    }
    for mut row in reader.rows(file, "thread", "a thread", "write each one under `[[thread]]`") {
        thread(reader, &mut row, target);
    }
}

fn axle<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>, target: &mut Target<'_>) {
    let named = names(reader, row, true);
    reader.defaults(row);
    let modulus: Option<Sourced<Stress>> = reader.required(row, "modulus", Limit::Positive);
    let poisson = reader.required(row, "poisson", Limit::Poisson);
    let density = reader.required(row, "density", Limit::Positive);
    let yield_strength = reader.required(row, "yield", Limit::Positive);
    let ultimate = reader.required(row, "ultimate", Limit::Positive);
    reader.finish(row);
    ascending(reader, row, ("yield", yield_strength.as_ref()), ("ultimate", ultimate.as_ref()));
    ascending(reader, row, ("ultimate", ultimate.as_ref()), ("modulus", modulus.as_ref()));
    let (Some(named), Some(modulus), Some(poisson), Some(density), Some(yield_strength), Some(ultimate)) =
        (named, modulus, poisson, density, yield_strength, ultimate)
    else {
        return;
    };
    let axle = AxleMetal {
        name: named.name,
        aliases: named.aliases,
        modulus,
        poisson,
        density,
        yield_strength,
        ultimate,
    };
    add(reader, target, &named.places, axle);
}

fn bolt_class<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>, target: &mut Target<'_>) {
    let named = names(reader, row, false);
    reader.defaults(row);
    let up_to = reader.plain(row, "up_to", Limit::Positive);
    let ultimate = reader.required(row, "ultimate", Limit::Positive);
    let yield_strength = reader.sourced(row, "yield", Limit::Positive);
    let proof = reader.sourced(row, "proof", Limit::Positive);
    let elongation = reader.sourced(row, "elongation", Limit::Percent);
    let modulus = reader.sourced(row, "modulus", Limit::Positive);
    let other_state = other_state(reader, row);
    reader.finish(row);
    ascending(reader, row, ("proof", proof.as_ref()), ("yield", yield_strength.as_ref()));
    ascending(reader, row, ("yield", yield_strength.as_ref()), ("ultimate", ultimate.as_ref()));
    if let (Some(named), Some(ultimate)) = (named, ultimate) {
        let class = BoltClass {
            name: named.name,
            up_to,
            ultimate,
            yield_strength,
            proof,
            elongation,
            modulus,
            other_state,
        };
        add(reader, target, &named.places, class);
    }
}

/// Reads the state of a plastic that the row does not describe: its name and its strength go together.
fn other_state<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>) -> Option<OtherState> {
    let words = row.get("other_state").is_some().then(|| reader.required_text(row, "other_state"));
    let ultimate = reader.sourced(row, "other_ultimate", Limit::Positive);
    if row.has("other_state") != row.has("other_ultimate") {
        let (has, lacks) = if row.has("other_state") {
            ("other_state", "other_ultimate")
        } else {
            ("other_ultimate", "other_state")
        };
        let error = Diagnostic::error("missing-key", format!("`{has}` needs `{lacks}` beside it"));
        reader.refuse(row.place(has), error);
    }
    Some(OtherState { words: words??.to_owned(), ultimate: ultimate? })
}

/// Reports a lower strength that lies above the one that must not be below it.
fn ascending<'d>(
    reader: &mut Reader<'d>,
    row: &Row<'d>,
    low: (&str, Option<&Sourced<Stress>>),
    high: (&str, Option<&Sourced<Stress>>),
) {
    if let (Some(lower), Some(upper)) = (low.1, high.1)
        && lower.value > upper.value
    {
        let error = Diagnostic::error("contradiction", format!("`{}` is above `{}`", low.0, high.0));
        reader.refuse(row.place(low.0), error);
    }
}

fn thread<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>, target: &mut Target<'_>) {
    let named = names(reader, row, false);
    reader.defaults(row);
    let series = reader.word(row, "series", &[Series::Metric, Series::Inch], Series::word);
    let nominal: Option<Length> = reader.required_plain(row, "nominal", Limit::Positive);
    let pitch = pitch(reader, row);
    let provenance = reader.row_provenance(row);
    reader.finish(row);
    // A pitch of more than half the diameter leaves no core worth the name.
    if let (Some(nominal), Some(pitch)) = (nominal, pitch)
        && pitch > 0.5 * nominal
    {
        let error = Diagnostic::error("out-of-range", "the pitch must be less than half of `nominal`");
        let key = if row.has("pitch") { "pitch" } else { "threads_per_inch" };
        reader.refuse(row.place(key), error);
    }
    let (Some(named), Some(series), Some(nominal), Some(pitch), Some(provenance)) =
        (named, series, nominal, pitch, provenance)
    else {
        return;
    };
    add(reader, target, &named.places, Thread { name: named.name, series, nominal, pitch, provenance });
}

/// Reads the pitch, given as a length or as threads to the inch.
fn pitch<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>) -> Option<Length> {
    match (row.get("pitch"), row.get("threads_per_inch")) {
        (Some(item), None) => reader.limited("pitch", item, Limit::Positive),
        (None, Some(item)) => {
            let count: f64 = reader.limited("threads_per_inch", item, Limit::Positive)?;
            Some(Length::new::<inch>(1.0 / count))
        }
        (None, None) => {
            let error = Diagnostic::error("missing-key", "a thread needs `pitch` or `threads_per_inch`");
            reader.refuse(row.span.clone(), error);
            None
        }
        (Some(_), Some(item)) => {
            let words = "a thread can't have both `pitch` and `threads_per_inch`";
            reader.refuse(item.span(), Diagnostic::error("contradiction", words));
            None
        }
    }
}
