//! An unknown metal: what it would have to be, and the test in the shop that shows it.

use crate::checks;
use crate::material::{Family, Library, Metal};
use crate::results::{BenchErrors, BenchTest, GearState};
use crate::section::{Cantilever, movement_beyond_yield};
use crate::units::{Length, Mass, Stress, gravity};
use std::cmp::Ordering;
use uom::si::length::millimeter;
use uom::si::mass::{gram, kilogram};

/// Error of a workshop caliper on a sawn strip. Common practice, no source.
const CALIPER_MM: f64 = 0.05;
/// Error of a steel rule over the strip's reach. Common practice, no source.
const RULER_MM: f64 = 1.0;
/// Error of a kitchen scale for each weighing. Common practice, no source.
const SCALE_G: f64 = 10.0;
/// What a kitchen scale weighs at once. Common practice, no source.
const SCALE_KG: f64 = 5.0;
/// Most weighings asked of the builder. Common practice, no source.
const MOST_WEIGHINGS: u32 = 4;
/// A set at the strip's end that the eye sees against a mark. Common practice, no source.
const SET_MM: f64 = 0.5;
/// Most sag of the strip over its reach. chosen: the end's rotation then shortens the lever by less than 3 %, and
/// that is counted.
const MOST_SAG: f64 = 0.2;
/// Share of the square of sag over reach by which the lever shortens.
/// Source: large-deflection cantilever (Mattiasson 1981, table 1; second-hand): α = 0.5: u/L = 0.0159, w/L = 0.1621.
const LEVER_LOSS: f64 = 0.605;
/// Widths and reaches to choose from, mm. Common practice, no source: what a saw cuts and a vice holds.
const WIDTHS_MM: [f64; 6] = [10.0, 12.0, 15.0, 20.0, 25.0, 30.0];
const REACHES_MM: [f64; 8] = [80.0, 100.0, 125.0, 150.0, 200.0, 250.0, 300.0, 400.0];

/// The yield strength a state under limit and ultimate load asks of the plate: no set at limit load, and no collapse
/// at ultimate load.
pub(super) fn needed_yield(limit: &GearState, ultimate: &GearState) -> Stress {
    let set = limit.plate_stress();
    let centre = ultimate.mount.as_ref().map(|m| checks::largest_collapse_stress(&m.plate));
    let legs = ultimate.legs.iter().map(|l| checks::largest_collapse_stress(&l.stations));
    let collapse = legs.chain(centre);
    collapse.fold(set, Stress::max)
}

/// Grades of a family whose lower limit of yield reaches a stress, and those whose doesn't, weakest first.
pub(super) fn grades(
    library: &Library,
    family: Family,
    thickness: Length,
    needed: Stress,
) -> (Vec<String>, Vec<String>) {
    // A grade with only an upper limit surely bends above it; below it nobody can say.
    let mut rated: Vec<(&Metal, Stress, bool)> = library
        .metals
        .iter()
        .filter(|m| m.family == family)
        .filter_map(|m| {
            let band = m.band(thickness)?;
            match (&band.yield_strength, &band.yield_maximum) {
                (Some(least), _) => Some((m, least.value, least.value >= needed)),
                (None, Some(most)) if most.value < needed => Some((m, most.value, false)),
                (None, _) => None,
            }
        })
        .collect();
    rated.sort_by(|(_, a, _), (_, b, _)| a.partial_cmp(b).unwrap_or(Ordering::Equal));
    let names = |holds: bool| {
        rated.iter().filter(|(_, _, held)| *held == holds).map(|(m, _, _)| m.name.clone()).collect()
    };
    (names(true), names(false))
}

/// Set over deflection at first yield that an end-loaded strip keeps, after a load over that at first yield of up to 1.5.
fn set_after(load: f64) -> f64 {
    movement_beyond_yield(load).map_or(f64::INFINITY, |movement| movement - load)
}

/// The load over that at first yield at which the set becomes as large as the eye sees; `None` when even the
/// fully plastic strip shows less.
fn unseen_factor(set_over_yield_deflection: f64) -> Option<f64> {
    if set_after(1.5) < set_over_yield_deflection {
        return None;
    }
    let (mut low, mut high) = (1.0, 1.5);
    for _ in 0..50 {
        let mid = 0.5 * (low + high);
        if set_after(mid) < set_over_yield_deflection { low = mid } else { high = mid }
    }
    Some(high)
}

/// The strip test that shows that a sheet yields no lower than `needed`, sized for a kitchen scale and a vice.
///
/// σ = 6 F l / (b t²). Thickness and width are taken as large, the reach as short and the weight as light as the
/// instruments may err, the metal as stiff as `stiffest` and the clamp as helpful as it may be, so that a strip that springs back
/// has been stressed enough even then; and the load is raised by the factor up to which a set stays too small to see. `None` when no strip can be loaded by hand.
pub(super) fn bench_test(
    gear: &str,
    needed: Stress,
    thickness: Length,
    modulus: Stress,
    stiffest: Stress,
) -> Option<BenchTest> {
    if needed <= Stress::default() {
        return None;
    }
    let errors = BenchErrors {
        caliper: Length::new::<millimeter>(CALIPER_MM),
        ruler: Length::new::<millimeter>(RULER_MM),
        scale: Mass::new::<gram>(SCALE_G),
    };
    let set_limit = Length::new::<millimeter>(SET_MM);
    let capacity = Mass::new::<kilogram>(SCALE_KG);
    let mut best: Option<BenchTest> = None;
    for width in WIDTHS_MM.map(Length::new::<millimeter>) {
        for reach in REACHES_MM.map(Length::new::<millimeter>) {
            let strip = Cantilever { width, thickness, length: reach };
            let at_yield = strip.elastic_movement(strip.first_yield(needed), modulus);
            // The stiffer, thicker and shorter the strip may really be, the less it goes down and the more set stays unseen.
            let (short, thick) = (reach - errors.ruler, thickness + errors.caliper);
            let stiff = Cantilever { width, thickness: thick, length: short };
            let least = stiff.elastic_movement(stiff.first_yield(needed), stiffest);
            let Some(factor) = unseen_factor(f64::from(set_limit / least)) else { continue };
            let wide = width + errors.caliper;
            let nearest = (1.0 - LEVER_LOSS * MOST_SAG * MOST_SAG) * short;
            let gain = Cantilever { width: wide, thickness, length: nearest }.gain_of_width();
            let deflection = factor * (1.0 + gain) * at_yield + set_limit;
            let sag = f64::from(deflection / reach);
            if sag > MOST_SAG {
                continue;
            }
            let bare: Mass = strip.first_yield(needed) / gravity();
            let lever = (1.0 - LEVER_LOSS * sag * sag) * short;
            let heaviest = Cantilever { width: wide, thickness: thick, length: lever };
            let hung: Mass = factor * (1.0 + gain) * (heaviest.first_yield(needed) / gravity());
            let weighings = f64::from(hung / capacity).ceil().max(1.0);
            if weighings > f64::from(MOST_WEIGHINGS) {
                continue;
            }
            let load = hung + weighings * errors.scale;
            let better = best
                .as_ref()
                .is_none_or(|b| (weighings as u32, factor) < (b.weighings, b.unseen_set_factor - 1e-9));
            if better {
                best = Some(BenchTest {
                    gear: gear.to_owned(),
                    yield_strength: needed,
                    width,
                    thickness,
                    reach,
                    load,
                    weighings: weighings as u32,
                    load_without_errors: bare,
                    deflection,
                    set_limit,
                    errors,
                    unseen_set_factor: factor,
                    gain_of_width: gain,
                });
            }
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use uom::si::pressure::{gigapascal, megapascal};

    #[test]
    fn the_set_follows_the_published_curve() {
        // Source: elastic–plastic cantilever curve (Prandtl/Timoshenko): δ/δ_y at P/P_y.
        for (p, deflection) in [(1.1, 1.101_528), (1.2, 1.212_982), (1.3, 1.349_373), (1.5, 20.0 / 9.0)] {
            assert_relative_eq!(set_after(p) + p, deflection, epsilon = 1e-6);
        }
    }

    #[test]
    fn the_load_covers_every_error_at_its_worst() {
        let needed = Stress::new::<megapascal>(180.0);
        let (t, e) = (Length::new::<millimeter>(4.0), Stress::new::<gigapascal>(70.0));
        let test = bench_test("main", needed, t, e, e).expect("a strip of 4 mm plate can be tested by hand");
        // By hand, in N and mm: the strip is thicker, wider, shorter and less loaded than it seems, its end has
        // sagged, and a set below half a millimetre went unseen.
        let (b, t) = (test.width.get::<millimeter>() + 0.05, 4.05);
        let sag = test.deflection.get::<millimeter>() / test.reach.get::<millimeter>();
        let lever = (test.reach.get::<millimeter>() - 1.0) * (1.0 - 0.605 * sag * sag);
        let force = (test.load.get::<kilogram>() - 0.01 * f64::from(test.weighings)) * 9.80665;
        let stress = 6.0 * force * lever / (b * t * t) / test.unseen_set_factor;
        // A wide strip bears more at its clamp: as in plane strain, as far as half a width out of the shortest lever there may be.
        let out = 0.5 * b / ((test.reach.get::<millimeter>() - 1.0) * (1.0 - 0.605 * 0.04));
        let wide = (out / (1.0 - out)).min(2.0 / 3.0_f64.sqrt() - 1.0) * (0.1 * b / 4.0).min(1.0);
        let stress = stress / (1.0 + wide);
        // δ = 2 σ l²/(3 E t) at first yield, and what is not seen.
        let reach = test.reach.get::<millimeter>();
        let at_yield = 2.0 * 180.0 * reach * reach / (3.0 * 70e3 * 4.0);
        let down = test.unseen_set_factor * (1.0 + wide) * at_yield + 0.5;
        assert_relative_eq!(test.deflection.get::<millimeter>(), down, max_relative = 1e-9);
        assert_relative_eq!(stress, 180.0, max_relative = 1e-9);
        assert!(test.load > test.load_without_errors);
    }
}
