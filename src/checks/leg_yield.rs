//! The leg stays bent: the largest equivalent stress reaches the yield strength at limit load.
//!
//! σ = N/A ± M_f/W_f ± M_e/W_e at the point, σ_v = √(σ² + 3 τ²); margin = σ_y / σ_v − 1.
//! Source: no detrimental permanent deformation at limit load, 14 CFR 23.305(a) before amendment 23-64;
//! von Mises' criterion.

use super::{Check, Scope, Subject, against_plate_yield, margin};
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, PeakStress, Term};
use crate::units::Stress;

pub(super) const CHECK: Check = Check {
    id: "leg-yield",
    words: "stays bent",
    scope: Scope::Case(run),
    fails: Some(PartKind::Legs),
    special: 1.0,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let legs = case.limit.legs.iter();
    legs.filter_map(|leg| {
        let m =
            margin(&CHECK, subject, case, format!("{} leg", leg.side), Amount::Stress(leg.peak.von_mises));
        let place = Term::new("x", "distance from the bend along the leg", Amount::Length(leg.peak.along));
        at_peak(m, subject, &leg.peak, place, ["width there", "thickness there", "leg"])
    })
    .collect()
}

/// Fills in the margin of the most loaded point of a plate against its yield strength; `None` where nothing loads it. `words` name
/// width, thickness and what the force runs along.
pub(super) fn at_peak(
    mut m: Margin,
    subject: &Subject<'_>,
    peak: &PeakStress,
    place: Term,
    [width, thickness, along]: [&'static str; 3],
) -> Option<Margin> {
    if peak.von_mises <= Stress::default() {
        return None;
    }
    m.source = "14 CFR 23.305(a); von Mises".to_owned();
    m = against_plate_yield(m, subject.gear);
    m.working.formula =
        "A = b t; W_f = b t²/6; W_e = t b²/6; σ = N/A, M_f/W_f and M_e/W_e added at the point \
                         with their signs and their distance from the middle; σ_v = √(σ² + 3 τ²); \
                         margin = σ_y / σ_v − 1"
            .into();
    let (s, f) = (&peak.section, &peak.forces);
    m.working.terms = vec![
        place,
        Term::new("b", width, Amount::Length(s.width)),
        Term::new("t", thickness, Amount::Length(s.thickness)),
        Term::new("N", format!("force along the {along}"), Amount::Force(f.axial)),
        Term::new("M_f", "bending through the thickness", Amount::Moment(f.bending_flat)),
        Term::new("M_e", "bending in the plane of the plate", Amount::Moment(f.bending_edge)),
        Term::new("T", "twist", Amount::Moment(f.torsion)),
        Term::new(
            "N/A",
            format!("stress from the force along the {along}"),
            Amount::Stress(f.axial / s.area()),
        ),
        Term::new("M_f/W_f", "stress at the flat faces", Amount::Stress(f.bending_flat / s.modulus_flat())),
        Term::new("M_e/W_e", "stress at the cut edges", Amount::Stress(f.bending_edge / s.modulus_edge())),
        Term::new("σ", "normal stress at the point", Amount::Stress(peak.normal)),
        Term::new("τ", "shear at the point, from twist and shear force", Amount::Stress(peak.shear)),
        Term::new("σ_v", "equivalent stress at the point", Amount::Stress(peak.von_mises)),
    ];
    if let Some(allowable) = m.allowable {
        m.working.terms.push(Term::new("σ_y", "yield strength", allowable));
    }
    m.working.notes.push(format!(
        "The point is on the {}, {:.0} % of the way from its middle.",
        peak.face.words(),
        100.0 * peak.place.abs()
    ));
    Some(m)
}
