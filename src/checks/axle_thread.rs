//! The axle bends at a thread where it meets the leg: bending and pull at the thread's root reach its yield strength at limit load.
//!
//! σ = 32 M/(π d₃³) + 4 N/(π d₃²), d₃ the root. A twin's axle also carries the wheel's drag moment as twist: τ = 16 T/(π d₃³),
//! σ_v = √(σ² + 3 τ²). M is that where the axle meets the leg or arm. The plain shank has its own check.
//! Source: elementary bending of a round bar (any strength-of-materials text); 14 CFR 23.305(a); root as ISO 724, from memory.

use super::{Check, Scope, Subject, margin};
use crate::model::{Arms, PartKind};
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::section::RoundSection;
use crate::units::Stress;

pub(super) const CHECK: Check = Check {
    id: "axle-thread",
    words: "bends at its thread",
    scope: Scope::Case(run),
    fails: Some(PartKind::Axles),
    special: 1.0,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let Some(thread) = &subject.gear.wheel.axle_thread else { return Vec::new() };
    let metal = &subject.gear.wheel.axle_metal;
    let root = RoundSection { diameter: thread.minor_diameter() };
    let twin = matches!(subject.gear.arms, Arms::Twin { .. });
    let mut found = Vec::new();
    for axle in &case.limit.axles {
        let normal = axle.bending_at_leg / root.modulus() + axle.axial.abs() / root.area();
        let twist = axle.torsion.abs() / (2.0 * root.modulus());
        let stress = (normal * normal + 3.0 * twist * twist).sqrt();
        if stress <= Stress::default() {
            continue;
        }
        let part = if twin { format!("{} axle end", axle.side) } else { format!("{} axle", axle.side) };
        let mut m = margin(&CHECK, subject, case, part, Amount::Stress(stress));
        m.allowable = Some(Amount::Stress(metal.yield_strength.value));
        m.basis = Some(metal.yield_strength.basis);
        m.source = format!("14 CFR 23.305(a); {}", metal.yield_strength.source);
        m.working.formula = if twin {
            "σ = 32 M/(π d₃³) + 4 N/(π d₃²); τ = 16 T/(π d₃³); σ_v = √(σ² + 3 τ²); margin = σ_y / σ_v − 1"
        } else {
            "σ = 32 M/(π d₃³) + 4 N/(π d₃²); margin = σ_y / σ − 1"
        }
        .into();
        m.working.terms = vec![
            Term::new("d₃", format!("root of {}", thread.name), Amount::Length(root.diameter)),
            Term::new("M", "bending where it meets the leg", Amount::Moment(axle.bending_at_leg)),
            Term::new("N", "force along the axle", Amount::Force(axle.axial)),
            Term::new("σ", "normal stress at the root", Amount::Stress(normal)),
            Term::new("σ_y", "yield strength of the axle", Amount::Stress(metal.yield_strength.value)),
        ];
        if twin {
            m.working.terms.push(Term::new("T", "twist", Amount::Moment(axle.torsion)));
            m.working.terms.push(Term::new("σ_v", "equivalent stress", Amount::Stress(stress)));
        }
        m.working.notes.push(
            "A thread is a notch: after many landings it cracks at stresses far below this. A plain shank where the axle bends most, \
             with the thread beyond it, lasts longer."
                .into(),
        );
        found.push(m.decided());
    }
    found
}
