//! A twin's axle wears its hole wide in the arm: the pressure on the hole's side reaches 1.5 times the arm's yield strength at
//! ultimate load.
//!
//! F_b = 1.5 σ_y d t, t the arm's thickness at the axle, d the axle, or its thread where it is threaded there. Written with
//! σ_b = V/(1.5 d t) against σ_y. How far the arm goes on beyond the axle is not known and does not enter; with less than
//! a = V/(2 t σ_y) + 2d/3 of metal between the hole and the end, V with its factor, the arm would tear there first.
//! Source: EN 1993-1-8 tables 3.9 and 3.10, pins (from memory), its γ_M0 = 1; fitting factor 1.15, 14 CFR 23.625(a) before
//! amendment 23-64.

use super::{Check, FITTING_FACTOR, Scope, Subject, against_plate_yield, margin};
use crate::model::{Arms, PartKind};
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Force;

pub(super) const CHECK: Check = Check {
    id: "fork-bearing",
    words: "wears its hole in the arm",
    scope: Scope::Case(run),
    fails: Some(PartKind::Legs),
    special: FITTING_FACTOR,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    if !matches!(subject.gear.arms, Arms::Twin { .. }) {
        return Vec::new();
    }
    let ultimate = subject.project.landing.ultimate_factor;
    let factor = ultimate * FITTING_FACTOR;
    let wheel = &subject.gear.wheel;
    let diameter = wheel.axle_thread.as_ref().map_or(wheel.axle, |thread| thread.nominal);
    let thickness = subject.gear.plate.thickness.tip;
    let mut found = Vec::new();
    for axle in case.ultimate.axles.iter().filter(|a| a.shear > Force::default()) {
        let shear = axle.shear / ultimate;
        let stress = Amount::Stress(shear / (1.5 * diameter * thickness));
        let mut m = margin(&CHECK, subject, case, format!("{} axle end", axle.side), stress);
        m.factor = factor;
        m.source = "14 CFR 23.303, 23.625(a); EN 1993-1-8 table 3.10 (from memory)".into();
        m = against_plate_yield(m, subject.gear);
        m.working.formula = "factor = ultimate factor × 1.15 (fitting); σ_b = V / (1.5 d t); a = factor × V / (2 t σ_y) + 2d/3; \
                             margin = σ_y / (factor × σ_b) − 1"
            .into();
        m.working.terms = vec![
            Term::new("d", "diameter of the hole", Amount::Length(diameter)),
            Term::new("t", "thickness of the arm there", Amount::Length(thickness)),
            Term::new(
                "V",
                "force square to the axle at the arm, at ultimate load over the ultimate factor",
                Amount::Force(shear),
            ),
            Term::new("σ_b", "two thirds of the pressure in the hole", m.applied),
        ];
        if let Some(strength) = subject.gear.plate.yield_strength() {
            let beyond = factor * shear / (2.0 * thickness * strength.value) + 2.0 * diameter / 3.0;
            m.working.terms.push(Term::new(
                "σ_y",
                "yield strength of the arm",
                Amount::Stress(strength.value),
            ));
            m.working.terms.push(Term::new(
                "a",
                "metal that the arm needs beyond the hole (table 3.9)",
                Amount::Length(beyond),
            ));
        }
        m.working
            .notes
            .push("How far the arm goes on beyond the axle is not checked: leave at least a.".into());
        found.push(m);
    }
    found
}
