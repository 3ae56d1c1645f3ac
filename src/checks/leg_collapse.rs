//! The leg folds: its section is plastic right through at ultimate load.
//!
//! Fully plastic rectangle of yield strength σ_y. Twist and shear take τ everywhere, T / [t²(3b − t)/6] + V/A
//! (sand heap), and leave s = √(σ_y² − 3 τ²) for the normal stress. With n = N/(A s), and the moments over their plastic
//! moments reduced by the axial force, m = M / [Z s (1 − n²)], the section is at its limit when
//! m₁ + ¾ m₂² = 1, m₁ being the larger. Applied: the smallest σ_y that carries the forces.
//! Source: derived, docs/method.md "Collapse"; reduction by axial force as EN 1993-1-1:2005 eq. (6.32), from
//! memory; holding the ultimate load 14 CFR 23.305(b) before amendment 23-64.

use super::{Check, Scope, Subject, against_plate_yield, margin};
use crate::results::{Amount, CaseResult, Margin, PlateForces, Station, Term};
use crate::section::PlateSection;
use crate::units::Stress;

pub(super) const CHECK: Check =
    Check { id: "leg-collapse", words: "folds", scope: Scope::Case(run), fails: None, special: 1.0 };

/// Halvings of the bracket of [`normal_part`]: 2⁻⁵⁰ of it is below rounding.
const HALVINGS: usize = 50;

/// The smallest yield strength at which a plate section carries these forces, fully plastic.
#[must_use]
pub fn collapse_stress(section: &PlateSection, forces: &PlateForces) -> Stress {
    let (shear, normal, flat, edge) = parts(section, forces);
    let s = normal_part(normal, flat, edge);
    (s * s + 3.0 * shear * shear).sqrt()
}

/// Plastic shear, N/A, M_f/Z_f and M_e/Z_e.
fn parts(section: &PlateSection, forces: &PlateForces) -> (Stress, Stress, Stress, Stress) {
    let area = section.area();
    let shear_force =
        (forces.shear_across * forces.shear_across + forces.shear_through * forces.shear_through).sqrt();
    (
        forces.torsion.abs() / section.plastic_torsion_modulus() + shear_force / area,
        forces.axial.abs() / area,
        forces.bending_flat.abs() / section.plastic_modulus_flat(),
        forces.bending_edge.abs() / section.plastic_modulus_edge(),
    )
}

/// The normal stress s at which axial force and both bendings are just carried.
fn normal_part(normal: Stress, flat: Stress, edge: Stress) -> Stress {
    let (mut low, mut high) = (normal, normal + flat + edge);
    if high <= Stress::default() {
        return Stress::default();
    }
    for _ in 0..HALVINGS {
        let s = 0.5 * (low + high);
        let room = 1.0 - f64::from(normal / s).powi(2);
        let (first, second) = (f64::from(flat.max(edge) / s) / room, f64::from(flat.min(edge) / s) / room);
        if room > 0.0 && first + 0.75 * second * second <= 1.0 {
            high = s;
        } else {
            low = s;
        }
    }
    high
}

/// The worst section of a leg; sections that can't be worse are skipped by the sum of the parts.
fn worst(stations: &[Station]) -> Option<(Stress, Station)> {
    let mut best: Option<(Stress, Station)> = None;
    for station in stations {
        let (shear, normal, flat, edge) = parts(&station.section, &station.forces);
        let sum = normal + flat + edge;
        let most = (sum * sum + 3.0 * shear * shear).sqrt();
        if best.is_some_and(|(so_far, _)| most <= so_far) {
            continue;
        }
        let needed = collapse_stress(&station.section, &station.forces);
        if best.is_none_or(|(so_far, _)| needed > so_far) {
            best = Some((needed, *station));
        }
    }
    best
}

/// The largest [`collapse_stress`] along a leg.
#[must_use]
pub fn largest_collapse_stress(stations: &[Station]) -> Stress {
    worst(stations).map_or_else(Stress::default, |(s, _)| s)
}

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let factor = subject.project.landing.ultimate_factor;
    let mut found = Vec::new();
    for leg in &case.ultimate.legs {
        let Some((needed, at)) = worst(&leg.stations).filter(|(s, _)| *s > Stress::default()) else {
            continue;
        };
        let mut m =
            margin(&CHECK, subject, case, format!("{} leg", leg.side), Amount::Stress(needed / factor));
        m.factor = factor;
        m.source = "14 CFR 23.305(b)".to_owned();
        m = against_plate_yield(m, subject.gear);
        let (shear, normal, flat, edge) = parts(&at.section, &at.forces);
        m.working.formula = "at ultimate load: τ = T / [t²(3b − t)/6] + V/(b t); Z_f = b t²/4; Z_e = t b²/4; \
                             s from m₁ + ¾ m₂² = 1 with m = (M/Z) / [s (1 − n²)], n = (N/A)/s, m₁ the larger; \
                             σ_c = √(s² + 3 τ²) / factor; margin = σ_y / (factor × σ_c) − 1"
            .into();
        m.working.terms = vec![
            Term::new("x", "distance from the bend along the leg", Amount::Length(at.along)),
            Term::new("b", "width there", Amount::Length(at.section.width)),
            Term::new("t", "thickness there", Amount::Length(at.section.thickness)),
            Term::new(
                "M_f",
                "bending through the thickness, ultimate",
                Amount::Moment(at.forces.bending_flat),
            ),
            Term::new(
                "M_e",
                "bending in the plane of the plate, ultimate",
                Amount::Moment(at.forces.bending_edge),
            ),
            Term::new("T", "twist, ultimate", Amount::Moment(at.forces.torsion)),
            Term::new("N/A", "from the force along the leg", Amount::Stress(normal)),
            Term::new("M_f/Z_f", "flatwise bending", Amount::Stress(flat)),
            Term::new("M_e/Z_e", "edgewise bending", Amount::Stress(edge)),
            Term::new("τ", "plastic shear", Amount::Stress(shear)),
            Term::new(
                "s",
                "normal stress at which both bendings and the force are just carried",
                Amount::Stress(normal_part(normal, flat, edge)),
            ),
            Term::new("σ_c", "yield strength that just carries it, per unit of factor", m.applied),
        ];
        m.working.notes.push("A metal too hard to stretch may crack at the bend before it folds.".into());
        found.push(m);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Force, Length, Moment};
    use approx::assert_relative_eq;
    use uom::si::energy::joule;
    use uom::si::force::newton;
    use uom::si::length::millimeter;
    use uom::si::pressure::megapascal;

    fn plate() -> PlateSection {
        PlateSection { width: Length::new::<millimeter>(60.0), thickness: Length::new::<millimeter>(4.0) }
    }

    #[test]
    fn pure_bending_needs_two_thirds_of_the_elastic_stress() {
        // Closed form: M_p = σ_y b t²/4 = 1.5 M_y. 50 N·m on 60 × 4 mm: 50 000 / 240 = 208.33 MPa.
        let f = PlateForces { bending_flat: Moment::new::<joule>(50.0), ..PlateForces::default() };
        assert_relative_eq!(
            collapse_stress(&plate(), &f).get::<megapascal>(),
            50_000.0 / 240.0,
            max_relative = 1e-12
        );
    }

    #[test]
    fn bending_with_axial_force_follows_the_parabola() {
        // Closed form for a rectangle: M/M_p + (N/N_p)² = 1. With σ_y = 100 MPa: N_p = 24 kN, M_p = 24 N·m;
        // N = 12 kN leaves 0.75 M_p = 18 N·m.
        let f = PlateForces {
            bending_flat: Moment::new::<joule>(18.0),
            axial: Force::new::<newton>(-12_000.0),
            ..PlateForces::default()
        };
        assert_relative_eq!(collapse_stress(&plate(), &f).get::<megapascal>(), 100.0, max_relative = 1e-9);
    }

    #[test]
    fn bending_both_ways_agrees_with_a_plastic_section_cut_by_a_slanted_line() {
        // Independent: the plastic neutral axis of a rectangle through its middle, tilted so that it leaves by
        // the short sides at ±h: the moments are those of the two halves at ±σ_y, integrated strip by strip.
        let (b, t, sy) = (60.0_f64, 4.0_f64, 100.0_f64);
        for h in [0.2, 0.9, 1.7] {
            let (mut flat, mut edge) = (0.0, 0.0);
            let n = 4000;
            for i in 0..n {
                let y = b * ((i as f64 + 0.5) / n as f64 - 0.5);
                let z0 = h * y / (b / 2.0);
                // Tension above z0, compression below: ∫σ z dz = σ_y (t²/4 − z0²); ∫σ dz = −2 σ_y z0.
                flat += sy * (t * t / 4.0 - z0 * z0) * b / n as f64;
                edge += -2.0 * sy * z0 * y * b / n as f64;
            }
            let f = PlateForces {
                bending_flat: Moment::new::<joule>(flat / 1000.0),
                bending_edge: Moment::new::<joule>(edge / 1000.0),
                ..PlateForces::default()
            };
            assert_relative_eq!(collapse_stress(&plate(), &f).get::<megapascal>(), sy, max_relative = 1e-6);
        }
    }

    #[test]
    fn twist_alone_is_carried_by_the_sand_heap() {
        // Closed form (Nádai): T_p = τ_y t²(3b − t)/6, τ_y = σ_y/√3.
        let torque = 100.0 / 3.0_f64.sqrt() * 16.0 * (180.0 - 4.0) / 6.0 / 1000.0;
        let f = PlateForces { torsion: Moment::new::<joule>(torque), ..PlateForces::default() };
        assert_relative_eq!(collapse_stress(&plate(), &f).get::<megapascal>(), 100.0, max_relative = 1e-12);
    }
}
