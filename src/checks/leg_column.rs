//! The leg buckles as a column.
//!
//! Wires turn bending into compression: clamped at the bend and held sideways by a taut wire, P = 4.4934² E I / l², 4.4934
//! the first root of tan x = x, with the thinnest section between bend and wire. Without a taut wire its head is free:
//! P = k E I / L² with I at the bend, k = (π/2)² for a uniform leg and for a tapered one from (E I θ')' + λ N θ = 0.
//! The largest compression counts. Source: Euler; Timoshenko & Gere, Theory of Elastic Stability, columns with one end
//! built in, the other hinged or free (from memory).

use super::buckling::{Point, smallest_root};
use super::{Check, Scope, Subject, margin};
use crate::material::Basis;
use crate::model::PlateMetal;
use crate::results::{Amount, CaseResult, LegState, Margin, Station, Term};
use crate::units::{Force, Length, SecondMoment};
use std::cmp::Ordering;

pub(super) const CHECK: Check =
    Check { id: "leg-column", words: "buckles as a column", scope: Scope::Case(run) };

/// First root of tan x = x.
const FIXED_HINGED: f64 = 4.493_409_457_909_064;

/// Compression smaller than this share of the wheel's load is rounding.
const TRACE: f64 = 1e-9;

/// A way a leg may buckle: constant, section and length of P = k E I / l².
struct Column {
    constant: f64,
    second_moment: SecondMoment,
    length: Length,
    held: bool,
}

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let factor = subject.project.landing.ultimate_factor;
    let mut found = Vec::new();
    for leg in &case.ultimate.legs {
        let [fx, fy, fz] = leg.root_force;
        let whole = (fx * fx + fy * fy + fz * fz).sqrt();
        let held_at = held_at(subject, case, leg);
        let reach = if held_at > 0.0 { held_at } else { 1.0 } * subject.gear.plate.leg_length;
        let part: Vec<&Station> = leg.stations.iter().filter(|s| s.along <= reach * (1.0 + 1e-9)).collect();
        let compression = part.iter().map(|s| -s.forces.axial).fold(Force::default(), Force::max);
        if compression <= TRACE * whole {
            continue;
        }
        let column = if held_at > 0.0 { held(&part, reach) } else { free(&leg.stations, compression, reach) };
        let Some(column) = column else { continue };
        found.push(column_margin(subject, case, leg, &column, compression, factor));
    }
    found
}

/// Where on the leg the taut wire nearest the axle holds it, as a fraction; zero when none does.
fn held_at(subject: &Subject<'_>, case: &CaseResult, leg: &LegState) -> f64 {
    case.ultimate
        .wires
        .iter()
        .filter(|w| !w.slack && (w.leg == leg.side || w.ties_both_legs))
        .filter_map(|w| subject.gear.braces.get(w.brace).map(|b| b.leg_at))
        .fold(0.0, f64::max)
}

/// Held at its head: the thinnest section stands for all.
fn held(stations: &[&Station], length: Length) -> Option<Column> {
    let thinnest = stations
        .iter()
        .map(|s| s.section.second_moment_flat())
        .min_by(|a, b| a.partial_cmp(b).unwrap_or(Ordering::Equal))?;
    Some(Column { constant: FIXED_HINGED * FIXED_HINGED, second_moment: thinnest, length, held: true })
}

/// Free at its head: the leg's own taper and the way its compression runs.
fn free(stations: &[Station], largest: Force, length: Length) -> Option<Column> {
    let root = stations.first()?.section.second_moment_flat();
    let mut points = Vec::new();
    for pair in stations.chunks_exact(2) {
        let [from, to] = pair else { continue };
        let step = f64::from((to.along - from.along) / length);
        let point = |s: &Station, step| Point {
            step,
            driving: f64::from(-s.forces.axial / largest),
            yielding: f64::from(root / s.section.second_moment_flat()),
        };
        points.extend([point(from, step), point(to, 0.0)]);
    }
    Some(Column { constant: smallest_root(&points)?, second_moment: root, length, held: false })
}

fn column_margin(
    subject: &Subject<'_>,
    case: &CaseResult,
    leg: &LegState,
    column: &Column,
    compression: Force,
    factor: f64,
) -> Margin {
    let critical = column.constant * subject.modulus * column.second_moment / (column.length * column.length);
    let mut m =
        margin(&CHECK, subject, case, format!("{} leg", leg.side), Amount::Force(compression / factor));
    m.factor = factor;
    m.allowable = Some(Amount::Force(critical));
    m.basis = Some(match &subject.gear.plate.metal {
        PlateMetal::Known(metal) => metal.modulus.basis,
        PlateMetal::Unknown => Basis::Typical,
    });
    m.source = "14 CFR 23.305(b); Euler's column (Timoshenko & Gere, from memory)".into();
    m.working.formula = "P = k E I / l²; margin = P / (factor × N) − 1".into();
    let (constant, length, section) = if column.held {
        (
            "one end built in, the other held by a taut wire: 4.4934²",
            "from the bend to the wire",
            "thinnest section",
        )
    } else {
        (
            "one end built in, the other free (uniform leg: (π/2)² = 2.467)",
            "length of the leg",
            "section at the bend",
        )
    };
    m.working.terms = vec![
        Term::new("k", constant, Amount::Number(column.constant)),
        Term::new("l", length, Amount::Length(column.length)),
        Term::new("E", "modulus", Amount::Stress(subject.modulus)),
        Term::new(
            "I",
            format!("second moment flatwise, {section}, b t³/12"),
            Amount::SecondMoment(column.second_moment),
        ),
        Term::new("N", "largest compression in the leg", Amount::Force(compression / factor)),
        Term::new("P", "buckling load", Amount::Force(critical)),
    ];
    m.working.notes.push(
        "Compression also makes the leg bend further than reckoned: by about 1/(1 − N/P), which the stresses leave out."
            .into(),
    );
    m.decided()
}
