//! What a drop leaves of sets, for a leg of any metal: the drop as a test of the sheet that the leg was cut from.

use super::evidence::{STEPS, log, strength};
use super::mechanics::{hardened, proof_strain};
use crate::analysis::{AnalysisError, GearDrops, PlateElasticity, PlateYield};
use crate::crew;
use crate::loads::{self, GearWeight};
use crate::model::{Gear, LegDrop, LegSets, SetCurve, ShopTest};
use crate::units::{Length, Stress};
use uom::si::pressure::{gigapascal, megapascal};

/// Moduli and exponents of hardening that curves are followed for. chosen: aluminium, titanium, steel; from none to annealed, between
/// which sets fall along a line.
const MODULI_GPA: [f64; 3] = [70.5, 110.0, 205.0];
const EXPONENTS: [f64; 2] = [0.0, 0.27];
/// Poisson's ratio does next to nothing to how a leg bends: one for all.
const POISSON: f64 = 0.33;

/// The weakest plate that leaves nothing bent: how strong at most, how near it is found, and in how many tries at most.
const STRONGEST_MPA: f64 = 5000.0;
const NEAR: f64 = 0.003;
const TRIES: usize = 30;
/// What is tried next where nothing yields, as a share of what was tried last.
const TRY_WEAKER: f64 = 0.6;

/// Strengths of a curve below the weakest that leaves nothing bent, as shares of it. chosen: close where sets begin.
const SHARES: [f64; 12] = [0.95, 0.9, 0.84, 0.78, 0.72, 0.65, 0.58, 0.5, 0.42, 0.34, 0.26, 0.18];
/// How often the step between one that holds and one that gives way is halved: to a hundredth or two of the strength.
const HALVINGS: usize = 4;
/// Errors beyond what was seen from which a curve need not be followed further down.
const BEYOND: f64 = 4.0;

/// Strain at which a metal that hardens is taken to carry what its law says; between that and its yield strength it goes along a line.
/// chosen: legs with sets that are seen are strained by one or two per cent.
const STRAINED: f64 = 0.015;

/// Follows the drops among tests, which takes longest of all that the desk does; what was followed once is kept with its test.
///
/// `progress` is told how much of it is done, and how much there is.
pub fn follow_drops(tests: &[&ShopTest], progress: &dyn Fn(usize, usize)) {
    let drops: Vec<&LegDrop> = tests
        .iter()
        .filter_map(|test| if let ShopTest::Drop(drop) = test { Some(drop) } else { None })
        .filter(|drop| drop.sets.get().is_none())
        .collect();
    let each = MODULI_GPA.len() * (1 + EXPONENTS.len());
    for (i, drop) in drops.iter().enumerate() {
        drop.sets.get_or_init(|| followed(drop, &|done| progress(i * each + done, drops.len() * each)));
    }
}

/// What stays of a drop for plates of every strength, stiffness and hardening, worked out once; empty where the gear makes no frame.
pub(super) fn leg_sets(drop: &LegDrop) -> &LegSets {
    drop.sets.get_or_init(|| followed(drop, &|_| ()))
}

fn followed(drop: &LegDrop, progress: &dyn Fn(usize)) -> LegSets {
    let Some(gear) = drop.of.gears.get(drop.test.gear) else { return LegSets::new() };
    let trial = Trial { gear, weight: loads::drop_weight(&drop.of, gear).of_mass(drop.test.mass), drop };
    let stiff = |i: usize| {
        let modulus = Stress::new::<gigapascal>(MODULI_GPA.get(i).copied().unwrap_or_default());
        PlateElasticity { modulus, poisson: POISSON }
    };
    let least = crew::each(MODULI_GPA.len(), |i| trial.least(stiff(i)), progress);
    let curve = |i: usize| {
        let (stiffness, exponent) = (i / EXPONENTS.len(), i % EXPONENTS.len());
        let exponent = EXPONENTS.get(exponent).copied().unwrap_or_default();
        trial.curve(stiff(stiffness), least.get(stiffness)?.as_ref().ok().copied()?, exponent).ok()
    };
    let done = &|done| progress(MODULI_GPA.len() + done);
    let all = crew::each(MODULI_GPA.len() * EXPONENTS.len(), curve, done);
    all.into_iter().collect::<Option<LegSets>>().unwrap_or_default()
}

struct Trial<'a> {
    gear: &'a Gear,
    weight: GearWeight,
    drop: &'a LegDrop,
}

impl Trial<'_> {
    fn followed(
        &self,
        elastic: PlateElasticity,
        strength: Stress,
        exponent: f64,
    ) -> Result<GearDrops<'_>, AnalysisError> {
        let (modulus, test) = (elastic.modulus, &self.drop.test);
        let beyond = STRAINED - f64::from(strength / modulus);
        let slope = if beyond > 0.0 {
            let carried = hardened(exponent, proof_strain(strength, modulus), STRAINED);
            strength * ((carried - 1.0) / beyond)
        } else {
            Stress::default()
        };
        let yields = PlateYield { strength, slope, exponent: None };
        let weight = self.weight.clone();
        GearDrops::new(self.gear, elastic, Some(yields), weight, test.wing_lift, test.height)
    }

    /// The weakest plate that leaves nothing bent. The height of a drop that just makes a plate yield goes about with the square of
    /// its strength, which says where to look next.
    fn least(&self, elastic: PlateElasticity) -> Result<Stress, AnalysisError> {
        let (mut low, mut high) = (None, Stress::new::<megapascal>(STRONGEST_MPA));
        let mut strength = (Stress::new::<megapascal>(1.0) * elastic.modulus).sqrt();
        for _ in 0..TRIES {
            // Where nothing has yielded yet, hardening does nothing.
            let yields = self.followed(elastic, strength, 0.0)?.highest_without_set();
            let higher = yields.map_or(0.0, |yields| f64::from(self.drop.test.height / yields));
            let next = if higher > 1.0 {
                low = Some(strength);
                strength * (higher.sqrt() * (1.0 + 0.3 * NEAR))
            } else {
                high = strength;
                low.map_or(TRY_WEAKER * strength, |low: Stress| 0.5 * (low + high))
            };
            if low.is_some_and(|low| high <= low * (1.0 + NEAR)) {
                break;
            }
            strength = if next < high { next } else { 0.5 * (low.unwrap_or_default() + high) };
        }
        Ok(high)
    }

    fn curve(
        &self,
        elastic: PlateElasticity,
        least: Stress,
        exponent: f64,
    ) -> Result<SetCurve, AnalysisError> {
        let test = &self.drop.test;
        let enough = test.set.map(|set| set + BEYOND * test.error);
        let stays = |strength: Stress| -> Result<Option<Length>, AnalysisError> {
            let drop = self.followed(elastic, strength, exponent)?.drop(test.height);
            Ok(drop.outcome.map(|o| o.set_spread))
        };
        let mut points: Vec<(Stress, Option<Length>)> = Vec::new();
        for share in std::iter::once(1.0).chain(SHARES) {
            let mut strength = share * least;
            let set = stays(strength)?;
            if set.is_none() {
                // It gave way: which the strongest is that does is looked for.
                for _ in 0..HALVINGS {
                    let Some((holds, _)) = points.last() else { break };
                    let between = 0.5 * (*holds + strength);
                    match stays(between)? {
                        Some(set) => points.push((between, Some(set))),
                        None => strength = between,
                    }
                }
            }
            points.push((strength, set));
            if set.is_none_or(|set| enough.is_some_and(|enough| set > enough)) {
                break;
            }
        }
        Ok(SetCurve { modulus: elastic.modulus, exponent, points })
    }
}

/// Sets at the strengths of the grid, for each curve.
pub(super) struct SetGrid {
    curves: Vec<(f64, f64, Vec<Option<Length>>)>,
}

impl SetGrid {
    pub(super) fn new(sets: &LegSets) -> Self {
        let on_grid = |curve: &SetCurve| (0..STEPS).map(|i| on(curve, strength(i))).collect();
        let of = |curve: &SetCurve| (log(curve.modulus), curve.exponent, on_grid(curve));
        Self { curves: sets.iter().map(of).collect() }
    }

    /// What stays at each strength of the grid, for a stiffness and a hardening: between the curves, along lines in the logarithm of the
    /// modulus and in the exponent; `None` where the gear collapses.
    pub(super) fn of(&self, modulus: Stress, exponent: f64) -> Vec<Option<Length>> {
        let parts = self.curves.iter().map(|(own_modulus, own_exponent, sets)| {
            let part = weight(self.curves.iter().map(|c| c.0), *own_modulus, log(modulus))
                * weight(self.curves.iter().map(|c| c.1), *own_exponent, exponent);
            (part, sets)
        });
        let parts: Vec<_> = parts.filter(|(part, _)| *part > 0.0).collect();
        let at = |i: usize| {
            let mut set = Length::default();
            let mut whole = 0.0;
            for (part, sets) in &parts {
                // A gear that collapses without hardening may yet hold with some.
                if let Some(own) = sets.get(i).copied().flatten() {
                    set += *part * own;
                    whole += part;
                }
            }
            (whole > 0.0).then(|| set / whole)
        };
        (0..STEPS).map(at).collect()
    }
}

/// Weight of one of some places for a value that lies between two of them, or beyond their ends.
fn weight(places: impl Iterator<Item = f64>, own: f64, value: f64) -> f64 {
    let (mut below, mut above) = (f64::NEG_INFINITY, f64::INFINITY);
    let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
    for place in places {
        (least, most) = (least.min(place), most.max(place));
        if place < own {
            below = below.max(place);
        } else if place > own {
            above = above.min(place);
        }
    }
    let value = value.clamp(least, most);
    if value == own {
        1.0
    } else if value < own {
        ((value - below) / (own - below)).max(0.0)
    } else {
        ((above - value) / (above - own)).max(0.0)
    }
}

/// What one curve has at a strength; below the weakest that was followed it counts as giving way.
fn on(curve: &SetCurve, strength: Stress) -> Option<Length> {
    let (strongest, least) = curve.points.first()?;
    if strength >= *strongest {
        return *least;
    }
    curve.points.windows(2).find_map(|pair| match pair {
        [(high, before), (low, after)] if strength >= *low => {
            let part = f64::from((*high - strength) / (*high - *low));
            // Where the weaker collapses nobody knows how far the stronger goes.
            Some((*before)? * (1.0 - part) + (*after)? * part)
        }
        _ => None,
    })
}

#[cfg(test)]
#[allow(clippy::indexing_slicing, reason = "a test's own list")]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use uom::si::length::millimeter;

    /// Sets that are linear in the exponent, in the logarithm of the modulus and between points.
    fn sets() -> LegSets {
        let mm = |v: f64| Some(Length::new::<millimeter>(v));
        let mpa = Stress::new::<megapascal>;
        let curve = |gpa: f64, exponent: f64| {
            let more = gpa.ln() - 10.0 * exponent;
            SetCurve {
                modulus: Stress::new::<gigapascal>(gpa),
                exponent,
                points: vec![(mpa(300.0), mm(0.0)), (mpa(200.0), mm(10.0 * more)), (mpa(100.0), None)],
            }
        };
        [40.0, 80.0, 200.0].iter().flat_map(|e| [0.0, 0.2].map(|n| curve(*e, n))).collect()
    }

    #[test]
    fn what_lies_between_curves_is_between_them() {
        let grid = SetGrid::new(&sets());
        let near = |mpa: f64| {
            let off = |i: &usize| f64::from(strength(*i) / Stress::new::<megapascal>(mpa)).ln().abs();
            (0..STEPS).min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or_default()
        };
        let at = |mpa: f64, gpa: f64, n: f64| {
            grid.of(Stress::new::<gigapascal>(gpa), n)[near(mpa)].map(|set| set.get::<millimeter>())
        };
        for (gpa, n) in [(40.0, 0.0), (60.0, 0.05), (80.0, 0.2), (150.0, 0.13), (200.0, 0.2)] {
            let part = (300.0 - strength(near(275.0)).get::<megapascal>()) / 100.0;
            let expected = part * 10.0 * (f64::ln(gpa) - 10.0 * n);
            assert_relative_eq!(at(275.0, gpa, n).unwrap_or(f64::NAN), expected, max_relative = 1e-12);
        }
        assert_eq!(at(310.0, 60.0, 0.1), Some(0.0));
        assert_eq!(at(150.0, 60.0, 0.1), None, "the gear collapses somewhere below 200");
        assert_eq!(at(50.0, 60.0, 0.1), None);
        // Beyond the ends it is that of the end.
        assert_relative_eq!(at(250.0, 30.0, 0.0).unwrap_or(f64::NAN), at(250.0, 40.0, 0.0).unwrap_or(0.0));
        let empty = SetGrid::new(&LegSets::new());
        assert!(empty.of(Stress::new::<gigapascal>(70.0), 0.1).iter().all(Option::is_none));
    }
}
