//! The plate cracks when it is bent: the inside radius is smaller than the table's least for its thickness.
//!
//! margin = r / (k t) − 1, k the least radius of a 90° bend in thicknesses, bent across the rolling direction.
//! Source: the metal's row (EN 485-2 or as named there).

use super::{Check, Scope, Subject};
use crate::model::PlateMetal;
use crate::results::{Amount, Margin, Term, Verdict, Working};
use crate::units::Length;

pub(super) const CHECK: Check = Check {
    id: "bend-radius",
    words: "cracks when it is made",
    scope: Scope::Gear(run),
    fails: None,
    special: 1.0,
};

fn run(subject: &Subject<'_>) -> Vec<Margin> {
    let plate = &subject.gear.plate;
    let (Some(radius), PlateMetal::Known(metal)) = (plate.bend_radius, &plate.metal) else {
        return Vec::new();
    };
    let thickness = plate.thickness.root;
    let Some(least) = metal.band(plate.sheet_thickness()).and_then(|b| b.bend_radius_90.as_ref()) else {
        return Vec::new();
    };
    let needed = least.value * thickness;
    if needed <= Length::default() {
        return Vec::new();
    }
    let margin = Margin {
        check: CHECK.id,
        gear: subject.gear.name.clone(),
        part: "bend".into(),
        case: None,
        applied: Amount::Length(needed),
        allowable: Some(Amount::Length(radius)),
        factor: 1.0,
        verdict: Verdict::Holds,
        basis: Some(least.basis),
        source: least.source.clone(),
        working: Working {
            formula: "r_min = k t; margin = r / r_min − 1".into(),
            terms: vec![
                Term::new("k", "least inside radius in thicknesses, 90° bend", Amount::Number(least.value)),
                Term::new("t", "thickness at the bend", Amount::Length(thickness)),
                Term::new("r", "inside radius of the bend", Amount::Length(radius)),
            ],
            notes: vec!["Bend across the rolling direction, and look at the outside with a lens.".into()],
        },
    };
    vec![margin.decided()]
}
