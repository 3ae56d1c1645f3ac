//! A leg buckles as a column.
//!
//! The smallest multiple λ of the ultimate loads at which the whole gear, with its taut wires, its axle and its rigid wheels,
//! has a second shape: (K + λ K_g) v = 0 (linear buckling; docs/method.md "Column"). The leg with the largest compression
//! stands for the gear: N at limit load may be λ N × factor. Twisting of a leg bent edgewise is another check's.
//! Source: linear buckling of frames, any text on structural stability; Euler's columns and SciPy's answers in the tests.

use super::{Check, Scope, Subject, margin};
use crate::material::Basis;
use crate::model::PlateMetal;
use crate::results::{Amount, CaseResult, LegState, Margin, Term};
use crate::units::Force;
use std::f64::consts::FRAC_PI_2;

pub(super) const CHECK: Check = Check {
    id: "leg-column",
    words: "buckles as a column",
    scope: Scope::Case(run),
    fails: None,
    special: 1.0,
};

/// Compression smaller than this share of the force at the bend is rounding.
const TRACE: f64 = 1e-9;

fn largest_compression(leg: &LegState) -> Force {
    leg.stations.iter().map(|s| -s.forces.axial).fold(Force::default(), Force::max)
}

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let Some(multiple) = case.buckling_multiple else { return Vec::new() };
    let most = case
        .ultimate
        .legs
        .iter()
        .map(|leg| (leg, largest_compression(leg)))
        .reduce(|a, b| if b.1 > a.1 { b } else { a });
    let Some((leg, compression)) = most else { return Vec::new() };
    let [fx, fy, fz] = leg.root_force;
    if compression <= TRACE * (fx * fx + fy * fy + fz * fz).sqrt() {
        return Vec::new();
    }
    let factor = subject.project.landing.ultimate_factor;
    let applied = Amount::Force(compression / factor);
    let mut m = margin(&CHECK, subject, case, format!("{} leg", leg.side), applied);
    m.factor = factor;
    m.allowable = Some(Amount::Force(multiple * compression));
    m.basis = Some(match &subject.gear.plate.metal {
        PlateMetal::Known(metal) => metal.modulus.basis,
        PlateMetal::Unknown => Basis::Typical,
    });
    m.source = "14 CFR 23.305(b); linear buckling of the whole gear".into();
    let root = subject.gear.plate.section_at(0.0).second_moment_flat();
    let length = subject.gear.plate.leg_length;
    let euler = FRAC_PI_2 * FRAC_PI_2 * subject.modulus * root / (length * length);
    m.working.formula = "P = λ × factor × N, λ the smallest multiple of the ultimate loads at which the gear, with its taut wires \
                         and its wheels as rigid arms, buckles; margin = P / (factor × N) − 1 = λ − 1"
        .into();
    m.working.terms = vec![
        Term::new("λ", "smallest multiple of the ultimate loads", Amount::Number(multiple)),
        Term::new("N", "largest compression in a leg", applied),
        Term::new("P", "compression at which the gear buckles", Amount::Force(multiple * compression)),
        Term::new(
            "P_E",
            "for comparison, by hand: a leg alone, uniform as at the bend, head free, no wheel: (π/2)² E I/L²",
            Amount::Force(euler),
        ),
    ];
    m.working.notes.push(
        "Compression also makes the leg bend further than reckoned: by about 1/(1 − N/P), which the stresses leave out."
            .into(),
    );
    vec![m.decided()]
}
