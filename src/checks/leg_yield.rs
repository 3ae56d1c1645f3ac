//! The leg stays bent: the largest equivalent stress reaches the yield strength at limit load.
//!
//! σ = N/A ± M_f/W_f ± M_e/W_e at the point, σ_v = √(σ² + 3 τ²); margin = σ_y / σ_v − 1.
//! Source: no detrimental permanent deformation at limit load, 14 CFR 23.305(a) before amendment 23-64;
//! von Mises' criterion.

use super::{Check, Scope, Subject, against_plate_yield, margin};
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Stress;

pub(super) const CHECK: Check = Check {
    id: "leg-yield",
    words: "stays bent",
    scope: Scope::Case(run),
    fails: Some(PartKind::Legs),
    special: 1.0,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let mut found = Vec::new();
    for leg in &case.limit.legs {
        let p = &leg.peak;
        if p.von_mises <= Stress::default() {
            continue;
        }
        let mut m = margin(&CHECK, subject, case, format!("{} leg", leg.side), Amount::Stress(p.von_mises));
        m.source = "14 CFR 23.305(a); von Mises".to_owned();
        m = against_plate_yield(m, subject.gear);
        m.working.formula =
            "A = b t; W_f = b t²/6; W_e = t b²/6; σ = N/A, M_f/W_f and M_e/W_e added at the point \
                             with their signs and their distance from the middle; σ_v = √(σ² + 3 τ²); \
                             margin = σ_y / σ_v − 1"
                .into();
        m.working.terms = vec![
            Term::new("x", "distance from the bend along the leg", Amount::Length(p.along)),
            Term::new("b", "width there", Amount::Length(p.section.width)),
            Term::new("t", "thickness there", Amount::Length(p.section.thickness)),
            Term::new("N", "force along the leg", Amount::Force(p.forces.axial)),
            Term::new("M_f", "bending through the thickness", Amount::Moment(p.forces.bending_flat)),
            Term::new("M_e", "bending in the plane of the plate", Amount::Moment(p.forces.bending_edge)),
            Term::new("T", "twist", Amount::Moment(p.forces.torsion)),
            Term::new(
                "N/A",
                "stress from the force along the leg",
                Amount::Stress(p.forces.axial / p.section.area()),
            ),
            Term::new(
                "M_f/W_f",
                "stress at the flat faces",
                Amount::Stress(p.forces.bending_flat / p.section.modulus_flat()),
            ),
            Term::new(
                "M_e/W_e",
                "stress at the cut edges",
                Amount::Stress(p.forces.bending_edge / p.section.modulus_edge()),
            ),
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
        found.push(m);
    }
    found
}
