//! The result of `gearleg size` as JSON: SI numbers, the unit in the key's name.

use super::check_json::margin;
use super::figure::UnitChoice;
use super::remarks::size_cautions;
use super::size_text::size_words;
use crate::results::{CardRow, SizeResult, SizedDesign, SizedGear};
use serde_json::{Map, Value, json};

/// Writes the result. Across several gears `best` is all their best together, and `candidates` and `card` are the first one's.
#[must_use]
pub fn size_json(result: &SizeResult) -> Value {
    let units = UnitChoice::from_written(result.project.written_units.iter().copied());
    let first = result.gears.first();
    json!({
        "gearleg": env!("CARGO_PKG_VERSION"),
        "format": 1,
        "aircraft": { "name": result.project.aircraft.name, "mass_kg": result.project.aircraft.mass.value },
        "in_words": size_words(result),
        "best": best(result, &units),
        "candidates": first.map_or_else(Vec::new, |g| candidates(g, &units)),
        "card": first.map_or_else(Vec::new, |g| card(&g.card)),
        "gears": result.gears.iter().map(|g| json!({
            "gear": g.gear,
            "open": g.open.iter().map(|(key, n)| json!({ "key": key, "choices": n })).collect::<Vec<_>>(),
            "designs": g.designs,
            "refused": g.refused.as_ref().map_or(0, |(n, _)| *n),
            "unsolved": g.unsolved,
            "too_heavy": g.too_heavy,
            "best": g.best.as_ref().map(|d| design(d, &units)),
            "candidates": candidates(g, &units),
            "front": g.front.iter().map(|d| design(d, &units)).collect::<Vec<_>>(),
            "nearest": g.nearest.as_ref().map(|d| design(d, &units)),
            "card": card(&g.card),
        })).collect::<Vec<_>>(),
        "cautions": size_cautions(&result.project),
    })
}

/// All gears' best together; nothing when one of them has none.
fn best(result: &SizeResult, units: &UnitChoice) -> Option<Value> {
    let all: Vec<&SizedDesign> = result.gears.iter().map(|g| g.best.as_ref()).collect::<Option<_>>()?;
    let least = all.iter().min_by(|a, b| {
        let value = |d: &SizedDesign| d.binding.value().unwrap_or(f64::NEG_INFINITY);
        value(a).total_cmp(&value(b))
    })?;
    let mut whole = design(least, units);
    let object = whole.as_object_mut()?;
    object.insert("changes".into(), changes(all.iter().flat_map(|d| &d.changes)));
    object.insert("mass_kg".into(), json!(all.iter().map(|d| d.mass.value).sum::<f64>()));
    Some(whole)
}

fn changes<'c>(changes: impl Iterator<Item = &'c (String, String)>) -> Value {
    Value::Object(changes.map(|(key, value)| (key.clone(), json!(value))).collect::<Map<_, _>>())
}

fn design(design: &SizedDesign, units: &UnitChoice) -> Value {
    json!({
        "changes": changes(design.changes.iter()),
        "mass_kg": design.mass.value,
        "inertia_load_factor": design.factors.inertia,
        "binding": margin(&design.binding, units),
        "binding_at_least": design.at_least,
    })
}

fn candidates(gear: &SizedGear, units: &UnitChoice) -> Vec<Value> {
    gear.best.iter().chain(&gear.runners_up).map(|d| design(d, units)).collect()
}

/// Mass and drop are those of the plain plate, or of the braced one where only that holds.
fn card(rows: &[CardRow]) -> Vec<Value> {
    rows.iter()
        .map(|row| {
            let either = row.plain.as_ref().or(row.braced.as_ref());
            json!({
                "metal": row.metal.as_deref().unwrap_or("unknown"),
                "thickness_plain": row.plain.as_ref().map(|e| &e.thickness),
                "thickness_braced": row.braced.as_ref().map(|e| &e.thickness),
                "wire": row.braced.as_ref().and_then(|e| e.wire.as_ref()),
                "mass_kg": either.map(|e| e.mass.value),
                "drop_height_without_set_m": either.and_then(|e| e.drop_without_set).map(|h| h.value),
                "bend_radius_m": either.and_then(|e| e.bend_radius).map(|r| r.value),
                "mass_braced_kg": row.braced.as_ref().map(|e| e.mass.value),
                "drop_height_without_set_braced_m":
                    row.braced.as_ref().and_then(|e| e.drop_without_set).map(|h| h.value),
            })
        })
        .collect()
}
