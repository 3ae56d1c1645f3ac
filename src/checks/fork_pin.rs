//! A twin's axle shears off at an arm at ultimate load, as a pin through the fork.
//!
//! τ = V/A, the mean over the section, against 0.577 f_u; A = π d²/4, d the thread's root where the axle is threaded at the arm.
//! V is the whole force square to the axle at that arm. While it is elastic the middle has 4/3 of the mean; by breaking that has
//! evened out.
//! Source: mean shear of a pin, any text on machine elements; 0.577 = 1/√3 (von Mises), for breaking from memory; fitting factor
//! 1.15, 14 CFR 23.625(a) before amendment 23-64.

use super::{Check, FITTING_FACTOR, Scope, Subject, margin};
use crate::material::SHEAR_OF_TENSILE;
use crate::model::{Arms, PartKind};
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::section::RoundSection;
use crate::units::Force;

pub(super) const CHECK: Check = Check {
    id: "fork-pin",
    words: "shears",
    scope: Scope::Case(run),
    fails: Some(PartKind::Axles),
    special: FITTING_FACTOR,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    if !matches!(subject.gear.arms, Arms::Twin { .. }) {
        return Vec::new();
    }
    let ultimate = subject.project.landing.ultimate_factor;
    let wheel = &subject.gear.wheel;
    let diameter = wheel.axle_thread.as_ref().map_or(wheel.axle, |thread| thread.minor_diameter());
    let section = RoundSection { diameter };
    let strength = &wheel.axle_metal.ultimate;
    let mut found = Vec::new();
    for axle in case.ultimate.axles.iter().filter(|a| a.shear > Force::default()) {
        let shear = axle.shear / ultimate;
        let stress = Amount::Stress(shear / section.area());
        let mut m = margin(&CHECK, subject, case, format!("{} axle end", axle.side), stress);
        let allowable = SHEAR_OF_TENSILE * strength.value;
        m.factor = ultimate * FITTING_FACTOR;
        m.allowable = Some(Amount::Stress(allowable));
        m.basis = Some(strength.basis);
        m.source = format!("14 CFR 23.303, 23.625(a); {}", strength.source);
        m.working.formula = "factor = ultimate factor × 1.15 (fitting); τ = V / (π d²/4); τ_u = 0.577 f_u; \
                             margin = τ_u / (factor × τ) − 1"
            .into();
        m.working.terms = vec![
            Term::new(
                "d",
                match &wheel.axle_thread {
                    Some(thread) => format!("root of {}", thread.name),
                    None => "axle diameter".to_owned(),
                },
                Amount::Length(diameter),
            ),
            Term::new(
                "V",
                "force square to the axle at the arm, at ultimate load over the ultimate factor",
                Amount::Force(shear),
            ),
            Term::new("τ", "mean shear", m.applied),
            Term::new("f_u", "tensile strength of the axle", Amount::Stress(strength.value)),
            Term::new("τ_u", "shear strength", Amount::Stress(allowable)),
        ];
        found.push(m.decided());
    }
    found
}
