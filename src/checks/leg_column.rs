//! The leg buckles as a column between its bend and the wire that holds its head.
//!
//! Wires turn bending into compression. Clamped at the bend, held sideways by the taut wire:
//! P = (4.4934/l)² E I, the root of tan x = x. The thinnest section and the largest compression between bend and
//! wire are used. Source: Euler; Timoshenko & Gere, Theory of Elastic Stability, column with one end built in and
//! the other hinged (from memory).

use std::cmp::Ordering;

use super::{Check, Scope, Subject, margin};
use crate::material::Basis;
use crate::model::PlateMetal;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Force;

pub(super) const CHECK: Check =
    Check { id: "leg-column", words: "the leg buckles between bend and wire", scope: Scope::Case(run) };

/// First root of tan x = x.
const FIXED_HINGED: f64 = 4.493_409_457_909_064;

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let factor = subject.project.landing.ultimate_factor;
    let mut found = Vec::new();
    for leg in &case.ultimate.legs {
        // The wire nearest the axle holds the head.
        let held_at = case
            .ultimate
            .wires
            .iter()
            .filter(|w| !w.slack && (w.leg == leg.side || w.name.starts_with("tie")))
            .filter_map(|w| subject.gear.braces.get(w.brace).map(|b| b.leg_at))
            .fold(0.0, f64::max);
        if held_at <= 0.0 {
            continue;
        }
        let free = held_at * subject.gear.plate.leg_length;
        let slack = 1e-6 * free;
        let column = || leg.stations.iter().filter(move |s| s.along <= free + slack);
        let compression =
            column().map(|s| -s.forces.axial).fold(Force::default(), |a, b| if b > a { b } else { a });
        let Some(thinnest) = column().map(|s| s.section).min_by(|a, b| {
            a.second_moment_flat().partial_cmp(&b.second_moment_flat()).unwrap_or(Ordering::Equal)
        }) else {
            continue;
        };
        if compression <= Force::default() {
            continue;
        }
        let critical =
            FIXED_HINGED * FIXED_HINGED * subject.modulus * thinnest.second_moment_flat() / (free * free);
        let mut m =
            margin(&CHECK, subject, case, format!("{} leg", leg.side), Amount::Force(compression / factor));
        m.factor = factor;
        m.allowable = Some(Amount::Force(critical));
        m.basis = Some(match &subject.gear.plate.metal {
            PlateMetal::Known(metal) => metal.modulus.basis,
            PlateMetal::Unknown => Basis::Typical,
        });
        m.source =
            "Euler's column, one end built in, the other hinged (Timoshenko & Gere, from memory)".into();
        m.working.formula = "P = 4.4934² E I / l²; margin = P / (factor × N) − 1".into();
        m.working.terms = vec![
            Term::new("l", "from the bend to the wire", Amount::Length(free)),
            Term::new("E", "modulus", Amount::Stress(subject.modulus)),
            Term::new(
                "I",
                "second moment of the thinnest section, b t³/12",
                Amount::SecondMoment(thinnest.second_moment_flat()),
            ),
            Term::new("N", "compression in the leg", Amount::Force(compression / factor)),
            Term::new("P", "buckling load", Amount::Force(critical)),
        ];
        m.working.notes.push(
            "The bending that goes with it makes the leg give sooner; the stress check has that.".into(),
        );
        found.push(m.decided());
    }
    found
}
