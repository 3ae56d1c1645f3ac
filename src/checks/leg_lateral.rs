//! The leg tips over sideways: a plate bent edgewise twists and bends flatwise all at once.
//!
//! With the edgewise moment M(s) growing in proportion, the twist φ obeys (G J φ')' + M² φ / (E I_f) = 0, φ = 0
//! at the bend, φ' = 0 at the axle. In terms of the bend's section the largest moment is then
//! M_cr = k √(E I_f G J) / L; for a uniform leg with a load at its end k = 4.0126.
//! Source: Timoshenko & Gere, Theory of Elastic Stability, chapter on lateral buckling of beams of narrow
//! rectangular section (from memory); k of other legs by iteration on the integral equation,
//! docs/method.md "Edgewise".

use super::{Check, Scope, Subject, margin};
use crate::material::Basis;
use crate::model::PlateMetal;
use crate::results::{Amount, CaseResult, Margin, PlateForces, Station, Term};
use crate::section::PlateSection;
use crate::units::{Length, Moment};

pub(super) const CHECK: Check = Check {
    id: "leg-lateral",
    words: "tips over sideways",
    scope: Scope::Case(run),
    fails: None,
    special: 1.0,
};

/// Steps within each interval between stations. chosen: 4 bring the uniform leg of 24 intervals within 1e-4.
const SUBSTEPS: usize = 4;

/// Most rounds of the iteration, and the relative change of λ at which it ends. chosen: eight rounds give 1e-9.
const ROUNDS: usize = 30;
const SETTLED: f64 = 1e-10;

/// Edgewise bending smaller than this share of the flatwise is rounding.
const TRACE: f64 = 1e-9;

/// A point along the leg, everything over its value at the bend (the moment over its largest).
#[derive(Clone, Copy)]
struct Point {
    /// Step to the next point over the leg's length.
    step: f64,
    /// Square of the moment over the flatwise rigidity.
    driving: f64,
    /// Flexibility in twist.
    twisting: f64,
}

/// The constant k of M_cr = k √(E I_f G J) / L, with I_f, J at the bend, for the leg's own taper and the way its
/// edgewise moment runs; `None` when it is not bent edgewise.
///
/// `stations` run from bend to axle in pairs (both ends of each interval), as in a leg's result.
#[must_use]
pub fn lateral_buckling_constant(stations: &[Station]) -> Option<f64> {
    let (first, last) = (stations.first()?, stations.last()?);
    let length = last.along - first.along;
    let largest = largest(stations, |f| f.bending_edge);
    if largest <= Moment::default() || length <= Length::default() {
        return None;
    }
    let mut twist_constant = (first.section, first.section.torsion_constant());
    let root_twist = twist_constant.1;
    let mut torsion_ratio = |section: &PlateSection| {
        if twist_constant.0 != *section {
            twist_constant = (*section, section.torsion_constant());
        }
        f64::from(twist_constant.1 / root_twist)
    };
    let mut points = Vec::new();
    for pair in stations.chunks_exact(2) {
        let [from, to] = pair else { continue };
        let step = f64::from((to.along - from.along) / length) / SUBSTEPS as f64;
        let [a, b] = [from, to].map(|s| {
            // Cube roots of the rigidities run nearly straight along a taper in thickness.
            let bending =
                f64::from(s.section.second_moment_flat() / first.section.second_moment_flat()).cbrt();
            (f64::from(s.forces.bending_edge / largest), bending, torsion_ratio(&s.section).cbrt())
        });
        for i in 0..=SUBSTEPS {
            let f = i as f64 / SUBSTEPS as f64;
            let between = |x: f64, y: f64| x + f * (y - x);
            let step = if i == SUBSTEPS { 0.0 } else { step };
            points.push(Point {
                step,
                driving: between(a.0, b.0).powi(2) / between(a.1, b.1).powi(3),
                twisting: between(a.2, b.2).powi(-3),
            });
        }
    }
    smallest_root(&points).map(f64::sqrt)
}

/// The smallest λ = k² of (G J φ')' + λ M² φ / (E I_f) = 0, by inverse iteration on the integral equation; `None` when nothing
/// drives the leg.
fn smallest_root(points: &[Point]) -> Option<f64> {
    let mut shape = vec![1.0; points.len()];
    let mut root = 0.0;
    for _ in 0..ROUNDS {
        let driven: Vec<f64> = points.iter().zip(&shape).map(|(p, u)| p.driving * u).collect();
        let mut inner =
            running_sum(points.iter().rev().skip(1).map(|p| p.step), driven.iter().rev().copied());
        inner.reverse();
        let turning = points.iter().zip(&inner).map(|(p, q)| p.twisting * q);
        let next = running_sum(points.iter().map(|p| p.step), turning);
        let product = |a: &[f64], b: &[f64]| {
            let each = points.iter().zip(a.iter().zip(b)).map(|(p, (x, y))| p.driving * x * y);
            running_sum(points.iter().map(|p| p.step), each).last().copied().unwrap_or(0.0)
        };
        let size = product(&next, &next);
        if size <= 0.0 {
            return None;
        }
        let now = product(&shape, &next) / size;
        let settled = (now - root).abs() <= SETTLED * now;
        root = now;
        if settled {
            break;
        }
        let scale = next.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
        shape = next.iter().map(|v| v / scale).collect();
    }
    Some(root)
}

/// Integral from the first value up to each, by trapezoids.
fn running_sum(mut steps: impl Iterator<Item = f64>, values: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut sum = 0.0;
    let mut before: Option<f64> = None;
    values
        .map(|v| {
            if let Some(b) = before {
                sum += 0.5 * (b + v) * steps.next().unwrap_or(0.0);
            }
            before = Some(v);
            sum
        })
        .collect()
}

fn largest(stations: &[Station], which: impl Fn(&PlateForces) -> Moment) -> Moment {
    stations.iter().map(|s| which(&s.forces).abs()).fold(Moment::default(), Moment::max)
}

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let factor = subject.project.landing.ultimate_factor;
    let mut found = Vec::new();
    for leg in &case.ultimate.legs {
        let edge = largest(&leg.stations, |f| f.bending_edge);
        let flat = largest(&leg.stations, |f| f.bending_flat);
        let Some(root) = leg.stations.first().filter(|_| edge > TRACE * flat) else { continue };
        let Some(constant) = lateral_buckling_constant(&leg.stations) else { continue };
        let length = subject.gear.plate.leg_length;
        let shear_modulus = subject.modulus / (2.0 * (1.0 + subject.poisson));
        let (flatwise, twist) = (root.section.second_moment_flat(), root.section.torsion_constant());
        // √(E I_f) √(G J): each root has whole dimensions only as a product, so it is taken of the product.
        let critical: Moment =
            constant * (subject.modulus * flatwise * shear_modulus * twist).sqrt() / length;
        let mut m = margin(&CHECK, subject, case, format!("{} leg", leg.side), Amount::Moment(edge / factor));
        m.factor = factor;
        m.allowable = Some(Amount::Moment(critical));
        m.basis = Some(match &subject.gear.plate.metal {
            PlateMetal::Known(metal) => metal.modulus.basis,
            PlateMetal::Unknown => Basis::Typical,
        });
        m.source = "Timoshenko & Gere, Theory of Elastic Stability, lateral buckling (from memory)".into();
        m.working.formula = "M_cr = k √(E I_f G J) / L; margin = M_cr / (factor × M_e) − 1".into();
        m.working.terms = vec![
            Term::new(
                "k",
                "constant of this taper and load (4.0126: uniform leg, load at its end)",
                Amount::Number(constant),
            ),
            Term::new("E", "modulus", Amount::Stress(subject.modulus)),
            Term::new("I_f", "second moment flatwise at the bend, b t³/12", Amount::SecondMoment(flatwise)),
            Term::new("G", "shear modulus", Amount::Stress(shear_modulus)),
            Term::new("J", "torsion constant at the bend", Amount::SecondMoment(twist)),
            Term::new("L", "length of the leg", Amount::Length(length)),
            Term::new("M_e", "largest edgewise bending", m.applied),
            Term::new("M_cr", "edgewise bending at which it tips over", Amount::Moment(critical)),
        ];
        m.working.notes.push("What wires add is left out.".into());
        found.push(m.decided());
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use uom::si::energy::joule;
    use uom::si::length::millimeter;

    /// Stations of a leg 240 mm long in 24 intervals with the edgewise moment `moment(x/L)`.
    fn leg(width: (f64, f64), thickness: (f64, f64), moment: impl Fn(f64) -> f64) -> Vec<Station> {
        let at = |f: f64| {
            let between = |(a, b): (f64, f64)| Length::new::<millimeter>(a + f * (b - a));
            Station {
                along: Length::new::<millimeter>(240.0 * f),
                section: PlateSection { width: between(width), thickness: between(thickness) },
                forces: PlateForces {
                    bending_edge: Moment::new::<joule>(moment(f)),
                    ..PlateForces::default()
                },
            }
        };
        (0..24).flat_map(|i| [f64::from(i) / 24.0, f64::from(i + 1) / 24.0].map(at)).collect()
    }

    #[test]
    fn a_uniform_leg_with_a_load_at_its_end_has_the_published_constant() {
        // Source: Timoshenko & Gere, 4.013 (from memory); 4.012599 = twice the first zero of J_{-1/4} (closed form).
        let k =
            lateral_buckling_constant(&leg((60.0, 60.0), (4.0, 4.0), |f| 1.0 - f)).expect("bent edgewise");
        assert_relative_eq!(k, 4.012_599, max_relative = 2e-4);
    }

    #[test]
    fn a_uniform_leg_with_a_moment_at_its_end_has_the_published_constant() {
        // Source: π/2 (closed form).
        let k = lateral_buckling_constant(&leg((60.0, 60.0), (4.0, 4.0), |_| 1.0)).expect("bent edgewise");
        assert_relative_eq!(k, std::f64::consts::FRAC_PI_2, max_relative = 2e-4);
    }

    #[test]
    fn tapered_legs_agree_with_the_equation_solved_elsewhere() {
        // Source: the same equation by SciPy with each section's own β, tests/validation/oracle/closed_forms.py.
        for (width, thickness, expected) in [
            ((60.0, 30.0), (4.0, 4.0), 3.360_588),
            ((60.0, 60.0), (4.0, 2.0), 2.212_618),
            ((60.0, 34.0), (5.0, 3.5), 2.458_348),
        ] {
            let k = lateral_buckling_constant(&leg(width, thickness, |f| 1.0 - f)).expect("bent edgewise");
            assert_relative_eq!(k, expected, max_relative = 5e-4);
        }
    }

    #[test]
    fn a_leg_that_is_not_bent_edgewise_has_none() {
        assert_eq!(lateral_buckling_constant(&leg((60.0, 60.0), (4.0, 4.0), |_| 0.0)), None);
    }
}
