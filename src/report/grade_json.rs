//! What shop tests say of sheets as JSON: SI numbers, the unit in the key's name.

use super::check_json::offcut;
use super::figure::{UnitChoice, list_and};
use super::grade_text::{grade_cautions, grade_words, next_words};
use crate::results::{AskedIn, Contradiction, LikelyStress, Property, SheetGrade};
use serde_json::{Value, json};

/// Writes what is known of the first sheet at the top, and of all in `sheets`.
#[must_use]
pub fn grade_json(sheets: &[SheetGrade], units: &UnitChoice) -> Value {
    let mut all = json!({
        "gearleg": env!("CARGO_PKG_VERSION"),
        "format": 1,
        "sheets": sheets.iter().map(|s| sheet(s, units)).collect::<Vec<_>>(),
        "cautions": grade_cautions(),
    });
    if let (Some(all), Some(Value::Object(first))) =
        (all.as_object_mut(), sheets.first().map(|s| sheet(s, units)))
    {
        all.extend(first);
    }
    all
}

fn sheet(sheet: &SheetGrade, units: &UnitChoice) -> Value {
    let contradicts = |c: &Contradiction| format!("tests {}", list_and(&sheet.all_in_words(&c.tests)));
    let fits = |i: usize| !sheet.misfits.contains(&i);
    json!({
        "sheet": sheet.sheet,
        "in_words": grade_words(sheet, units),
        "yield_Pa": sheet.design_yield().map(|_| likely(&sheet.yield_strength)),
        "design_yield_Pa": sheet.design_yield().map(|s| s.value),
        "misfits": sheet.misfits.iter().map(|i| i + 1).collect::<Vec<_>>(),
        "modulus_Pa": sheet.likely_families().first().map(|f| f.modulus.value),
        "families": sheet.families.iter().map(|f| json!({
            "name": f.family.words(),
            "at_most": f.probability,
            "modulus_Pa": f.modulus.value,
            "density_kg_m3": f.density.value,
        })).collect::<Vec<_>>(),
        "grades": sheet.grades.iter().map(|g| json!({
            "name": g.name,
            "probability": g.probability,
            "before": g.before,
        })).collect::<Vec<_>>(),
        "none_of_these": sheet.none_of_these,
        "none_of_these_before": sheet.none_before,
        "tests": sheet.tests.iter().enumerate().map(|(i, t)| json!({
            "kind": t.kind.word(),
            "reads": t.reads.map(property),
            "yield_Pa": fits(i).then(|| likely(&t.yield_strength)),
        })).collect::<Vec<_>>(),
        "contradictions": sheet.contradictions.iter().map(contradicts).collect::<Vec<_>>(),
        "contradicting": sheet.contradictions.iter().map(|c| json!({
            "tests": c.tests.iter().map(|i| i + 1).collect::<Vec<_>>(),
            "times_likelier_of_two_sheets": (c.against > 1.0).then_some(c.against),
        })).collect::<Vec<_>>(),
        "left_out": sheet.left_out.iter().map(|i| i + 1).collect::<Vec<_>>(),
        "gears": sheet.asked.iter().map(|asked| json!({
            "gear": asked.gear,
            "said_to_be_of_it": asked.told,
            "hardest": asked_in(&asked.hardest),
            "hardest_published": asked.published.as_ref().map(asked_in),
            "offcut_test": asked.offcut.as_ref().map(|test| offcut(test, units)),
        })).collect::<Vec<_>>(),
        "next_test": sheet.next.as_ref().map(|next| json!({
            "kind": next.kind.word(),
            "why": next_words(next),
            "narrows": next.narrows,
            "minutes": next.minutes,
        })),
    })
}

fn asked_in(one: &AskedIn) -> Value {
    json!({ "case": one.case.id(), "required_yield_Pa": one.yield_strength.value, "chance": one.chance })
}

/// A property in SI units, or the usual number, under the name of what it is.
fn property(property: Property) -> Value {
    match property {
        Property::Density(density) => json!({ "density_kg_m3": density.value }),
        Property::Modulus(modulus) => json!({ "modulus_Pa": modulus.value }),
        Property::Brinell(number) => json!({ "brinell": number }),
        Property::Conductivity(iacs) => json!({ "conductivity_IACS_percent": iacs }),
    }
}

fn likely(stress: &LikelyStress) -> Value {
    json!({ "p05": stress.p05.value, "p50": stress.p50.value, "p95": stress.p95.value })
}
