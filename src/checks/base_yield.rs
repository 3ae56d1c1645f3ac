//! The flat centre stays bent: its largest equivalent stress reaches the yield strength at limit load.
//!
//! σ = N/A ± M_f/W_f ± M_e/W_e at the point, σ_v = √(σ² + 3 τ²), the whole section without its holes; margin = σ_y / σ_v − 1.
//! Holes are the business of `base-net-section`: yield on the gross section, breaking on the net one.
//! Source: no detrimental permanent deformation at limit load, 14 CFR 23.305(a) before amendment 23-64; von Mises' criterion.

use super::{Check, Scope, Subject, against_plate_yield, margin};
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Stress;

pub(super) const CHECK: Check = Check {
    id: "base-yield",
    words: "stays bent",
    scope: Scope::Case(run),
    fails: Some(PartKind::Legs),
    special: 1.0,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let Some(state) = &case.limit.mount else { return Vec::new() };
    let p = &state.plate_peak;
    if p.von_mises <= Stress::default() {
        return Vec::new();
    }
    let mut m = margin(&CHECK, subject, case, "flat centre", Amount::Stress(p.von_mises));
    m.source = "14 CFR 23.305(a); von Mises".to_owned();
    m = against_plate_yield(m, subject.gear);
    m.working.formula =
        "A = b t; W_f = b t²/6; W_e = t b²/6; σ = N/A, M_f/W_f and M_e/W_e added at the point \
                         with their signs and their distance from the middle; σ_v = √(σ² + 3 τ²); \
                         margin = σ_y / σ_v − 1"
            .into();
    let (s, f) = (&p.section, &p.forces);
    m.working.terms = vec![
        Term::new("y", "distance from the flat's port end", Amount::Length(p.along)),
        Term::new("b", "width of the plate, holes not taken off", Amount::Length(s.width)),
        Term::new("t", "thickness", Amount::Length(s.thickness)),
        Term::new("N", "force along the flat", Amount::Force(f.axial)),
        Term::new("M_f", "bending through the thickness", Amount::Moment(f.bending_flat)),
        Term::new("M_e", "bending in the plane of the plate", Amount::Moment(f.bending_edge)),
        Term::new("T", "twist", Amount::Moment(f.torsion)),
        Term::new("N/A", "stress from the force along the flat", Amount::Stress(f.axial / s.area())),
        Term::new("M_f/W_f", "stress at the flat faces", Amount::Stress(f.bending_flat / s.modulus_flat())),
        Term::new("M_e/W_e", "stress at the cut edges", Amount::Stress(f.bending_edge / s.modulus_edge())),
        Term::new("σ", "normal stress at the point", Amount::Stress(p.normal)),
        Term::new("τ", "shear at the point, from twist and shear force", Amount::Stress(p.shear)),
        Term::new("σ_v", "equivalent stress at the point", Amount::Stress(p.von_mises)),
    ];
    if let Some(allowable) = m.allowable {
        m.working.terms.push(Term::new("σ_y", "yield strength", allowable));
    }
    m.working.notes.push(format!(
        "The point is on the {}, {:.0} % of the way from its middle.",
        p.face.words(),
        100.0 * p.place.abs()
    ));
    vec![m]
}
