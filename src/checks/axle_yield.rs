//! The axle takes a set: bending and pull at its most loaded section reach its yield strength at limit load.
//!
//! σ = 32 M/(π d³) + 4 N/(π d²). A stub axle is loaded at the leg's mid-plane; a twin's axle at the wheel or at an arm,
//! whichever is worse, and carries the wheel's drag moment to the arms as twist: τ = 16 T/(π d³), σ_v = √(σ² + 3 τ²). No twist in
//! a stub axle: the wheel turns on it, and a brake's torque goes to the leg.
//! Source: elementary bending of a round bar (any strength-of-materials text); 14 CFR 23.305(a).

use super::{Check, Scope, Subject, margin};
use crate::model::{Arms, PartKind};
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Stress;

pub(super) const CHECK: Check = Check {
    id: "axle-yield",
    words: "bends",
    scope: Scope::Case(run),
    fails: Some(PartKind::Axles),
    special: 1.0,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let metal = &subject.gear.wheel.axle_metal;
    let mut found = Vec::new();
    for axle in &case.limit.axles {
        let normal = axle.bending / axle.section.modulus() + axle.axial.abs() / axle.section.area();
        let twist = axle.torsion.abs() / (2.0 * axle.section.modulus());
        let stress = (normal * normal + 3.0 * twist * twist).sqrt();
        if stress <= Stress::default() {
            continue;
        }
        let twin = matches!(subject.gear.arms, Arms::Twin { .. });
        let part = if twin { "axle".to_owned() } else { format!("{} axle", axle.side) };
        let mut m = margin(&CHECK, subject, case, part, Amount::Stress(stress));
        m.allowable = Some(Amount::Stress(metal.yield_strength.value));
        m.basis = Some(metal.yield_strength.basis);
        m.source = format!("14 CFR 23.305(a); {}", metal.yield_strength.source);
        m.working.formula = if twin {
            "σ = 32 M/(π d³) + 4 N/(π d²); τ = 16 T/(π d³); σ_v = √(σ² + 3 τ²); margin = σ_y / σ_v − 1"
        } else {
            "σ = 32 M/(π d³) + 4 N/(π d²); margin = σ_y / σ − 1"
        }
        .into();
        m.working.terms = vec![
            Term::new("d", "axle diameter", Amount::Length(axle.section.diameter)),
            Term::new("M", "bending", Amount::Moment(axle.bending)),
            Term::new("N", "force along the axle", Amount::Force(axle.axial)),
            Term::new("σ", "normal stress", Amount::Stress(normal)),
            Term::new("σ_y", "yield strength of the axle", Amount::Stress(metal.yield_strength.value)),
        ];
        if twin {
            m.working.terms.push(Term::new("T", "twist", Amount::Moment(axle.torsion)));
            m.working.terms.push(Term::new("σ_v", "equivalent stress", Amount::Stress(stress)));
        }
        m.working.notes.push(
            match &subject.gear.wheel.axle_thread {
                Some(_) => "Plain shank. The thread where it meets the leg has a check of its own.",
                None => {
                    "Plain shank. A thread at that place has a smaller root and a notch; `axle_thread` has it checked."
                }
            }
            .into(),
        );
        found.push(m.decided());
    }
    found
}
