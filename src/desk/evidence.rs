//! How likely each reading is, for every sheet that it may have been made with.

use super::claims::{Claim, OWN_MARK, naming, over_recommended, seen_of};
use super::drop::{SetGrid, leg_sets};
use super::hypothesis::{Hypothesis, Spread, Strength, known_hardness};
use super::mechanics::{BRINELL_OF_VICKERS, brinell, kept_of_bend};
use super::strip::strip_steps;
use crate::model::{
    AfterWrap, DEVIATIONS_IN_TOLERANCE, Hardness, LegDrop, Measured, ShopTest, Strip, TestKind, Volume,
};
use crate::results::Property;
use crate::section::Cantilever;
use crate::units::{Length, Mass, MassDensity, Stress, gravity};
use std::cell::OnceCell;
use std::f64::consts::{FRAC_1_SQRT_2, PI};
use std::ops::{Div, Range};
use uom::si::f64::Ratio;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::megapascal;

/// Yield strengths that are told apart: the weakest, each one so much above the one before it, and how many. chosen: from soft foil to
/// hard spring steel in steps that are finer than any test.
const WEAKEST_MPA: f64 = 5.0;
pub(super) const STEP: f64 = 0.015;
pub(super) const STEPS: usize = 427;

/// How far the mechanics of a strip may be off, as a share of the yield strength: it is neither quite narrow nor quite wide. chosen.
const STRIP_MODEL: f64 = 0.04;

/// How far the mechanics of a bend may be off, as a share of the yield strength. chosen.
const WRAP_MODEL: f64 = 0.07;
/// The same of Tabor's law with what hardening is taken to be: EN 485-2's own hardness numbers lie within 16 % of it, as the tests hold,
/// and a hardness goes up by some 0.8 times what the yield strength does.
pub(super) const HARDNESS_MODEL: f64 = 0.10;
/// The same of a dropped leg: rubber and floor take energy too, and the sheet is not quite as thick as it was read; and of one drop
/// against others. chosen.
const DROP_MODEL: f64 = 0.09;
const DROP_READING: f64 = 0.05;
/// How far a clamped strip may be stiffer or softer than a narrow beam, as a share. chosen: a wide one is stiffer by up to 1/(1 − ν²), a
/// vice gives.
const FLEX_MODEL: f64 = 0.02;
/// A small share of a reading.
const SOME: f64 = 1e-3;

/// Share of a bend's curvature that is taken for straight, and how sharply. chosen: after a disc of 0.4 m a bow of a tenth of a millimetre
/// over 100 mm, which a straight edge shows.
const STRAIGHT: f64 = 0.03;
const STRAIGHT_WITHIN: f64 = 0.015;

/// Density of water, kg/m³, between 15 and 25 °C, and how far it may be off, tap water too. Source: handbook value (from memory).
pub(super) const WATER: f64 = 998.0;
const WATER_OFF: f64 = 0.0015;

/// Chance of a strength, over that of the likeliest, from which a hypothesis has it: within some eight standard deviations.
const UNHEARD_OF: f64 = 1e-14;

/// What is added to any chance, so that nothing is ever ruled out for good. A test of which no more is left fits nothing, and is
/// told as [misfit](fits).
pub(super) const NEVER_NOTHING: f64 = 1e-30;

/// A yield strength of the grid.
pub(super) fn strength(index: usize) -> Stress {
    #[allow(clippy::cast_precision_loss, reason = "a few hundred at most")]
    let steps = index as f64;
    Stress::new::<megapascal>(WEAKEST_MPA) * (STEP * steps).exp()
}

/// Logarithm of a strength over the weakest of the grid.
pub(super) fn log(strength: Stress) -> f64 {
    f64::from(strength / Stress::new::<megapascal>(WEAKEST_MPA)).ln()
}

/// One combination of a sheet's stiffness and hardening.
#[derive(Debug, Clone, Copy)]
pub(super) struct Node {
    pub(super) modulus: Stress,
    pub(super) exponent: f64,
    pub(super) weight: f64,
}

/// Places and weights of the integral over a standard normal distribution (Gauss and Hermite, three points). Source: handbook, from
/// memory; tested by its moments.
const NORMAL: [(f64, f64); 3] =
    [(-1.732_050_807_568_877_2, 1.0 / 6.0), (0.0, 2.0 / 3.0), (1.732_050_807_568_877_2, 1.0 / 6.0)];

/// Exponents of hardening that metals have. chosen: from hard-rolled to annealed.
const EXPONENTS: [f64; 5] = [0.03, 0.08, 0.14, 0.20, 0.27];

/// The combinations of a hypothesis.
pub(super) fn nodes(hypothesis: &Hypothesis) -> Vec<Node> {
    let exponents: Vec<(f64, f64)> = match hypothesis.hardening {
        Some((n, off)) => NORMAL.iter().map(|(z, w)| ((n + z * off).max(0.0), *w)).collect(),
        None => EXPONENTS.iter().map(|n| (*n, 0.2)).collect(),
    };
    let (modulus, off) = hypothesis.modulus;
    NORMAL
        .iter()
        .flat_map(|(z, w)| {
            let modulus = modulus * (z * off).exp();
            exponents.iter().map(move |(exponent, v)| Node { modulus, exponent: *exponent, weight: w * v })
        })
        .collect()
}

/// How likely each strength of the grid is under a hypothesis, before any test.
pub(super) fn prior(hypothesis: &Hypothesis) -> Vec<f64> {
    let shares: Vec<f64> = match hypothesis.strength {
        Strength::About(median, off) => {
            (0..STEPS).map(|i| normal((log(strength(i)) - log(median)) / off)).collect()
        }
        Strength::Between(weak, strong) => {
            (0..STEPS).map(|i| f64::from(strength(i) >= weak && strength(i) <= strong)).collect()
        }
    };
    let all: f64 = shares.iter().sum();
    shares.into_iter().map(|s| s / all.max(f64::MIN_POSITIVE)).collect()
}

/// What a reading says of one hypothesis.
#[derive(Debug, Clone)]
pub(super) enum Says {
    /// How likely a claim is, whatever the strength. The same claim made twice is one: the surer counts.
    Claim(Claim),
    /// A fold at so many times each radius that may be recommended for the sheet, and whether it cracked.
    Fold(Vec<f64>, bool),
    /// How likely for each combination, whatever the strength.
    Each(Vec<f64>),
    /// How likely for each combination and each strength of the grid.
    Strengths {
        /// The kind whose mechanics it goes by.
        kind: TestKind,
        /// By combination and strength.
        likely: Vec<Vec<f64>>,
        /// How far those mechanics may be off for this sheet, as a share of its strength and alike in all tests of the kind.
        model: f64,
        /// The same with that counted, where it was wanted.
        whole: OnceCell<Vec<Vec<f64>>>,
    },
    /// A reading of something that all readings of its kind share: logarithm and standard deviation.
    Density(f64, f64),
    /// The same of the conductivity.
    Conductivity(f64, f64),
}

impl Says {
    /// How likely its reading is where it is likeliest; nothing where that is reckoned apart.
    pub(super) fn most(&self) -> f64 {
        match self {
            Self::Each(all) => all.iter().copied().fold(0.0, f64::max),
            Self::Strengths { likely, .. } => likely.iter().flatten().copied().fold(0.0, f64::max),
            Self::Claim(_) | Self::Fold(..) | Self::Density(..) | Self::Conductivity(..) => 0.0,
        }
    }

    /// Measures by such a likelihood what [`Self::most`] is of, and leaves nothing ruled out for good.
    pub(super) fn measure(&mut self, by: f64) {
        let measured = |l: &mut f64| *l = *l / by + NEVER_NOTHING;
        match self {
            Self::Each(all) => all.iter_mut().for_each(measured),
            Self::Strengths { likely, .. } => likely.iter_mut().flatten().for_each(measured),
            Self::Claim(_) | Self::Fold(..) | Self::Density(..) | Self::Conductivity(..) => {}
        }
    }
}

/// What a reading says of a hypothesis, whose strengths have such a `prior`.
pub(super) fn says(test: &ShopTest, hypothesis: &Hypothesis, nodes: &[Node], prior: &[f64]) -> Says {
    // Of strengths that no sheet of a hypothesis has, nothing is worked out, unless its range ends sharply: what its mechanics may be off by
    // brings readings from beyond the end.
    let most = prior.iter().copied().fold(0.0, f64::max);
    let ends = matches!(hypothesis.strength, Strength::Between(..));
    let has: Vec<bool> = prior.iter().map(|chance| ends || *chance > UNHEARD_OF * most).collect();
    let by_strength = |likely: &dyn Fn(Stress) -> f64| -> Vec<f64> {
        let each = has.iter().enumerate();
        each.map(|(i, has)| if *has { likely(strength(i)) } else { 0.0 }).collect()
    };
    // What hardening does not change is worked out once for each modulus.
    let on_grid = |likely: &dyn Fn(&Node) -> Vec<f64>, own: f64, model: f64, hardens: bool| {
        let mut all: Vec<Vec<f64>> = Vec::with_capacity(nodes.len());
        for (i, node) in nodes.iter().enumerate() {
            let before =
                i.checked_sub(1).and_then(|k| nodes.get(k)).is_some_and(|b| b.modulus == node.modulus);
            if before
                && !hardens
                && let Some(same) = all.last().cloned()
            {
                all.push(same);
                continue;
            }
            let sharp = likely(node);
            let blurred = if own > 0.0 { blurred(&sharp, own) } else { sharp };
            all.push(blurred);
        }
        Says::Strengths { kind: test.kind(), likely: all, model, whole: OnceCell::new() }
    };
    let claim = |seen: bool, rows: &[String], trust: f64, chance: f64| {
        Says::Claim(Claim { what: (test.kind(), seen, rows.to_vec()), trust, chance })
    };
    match test {
        ShopTest::BendStrip { strip, steps, weight_deviation, set_deviation } => {
            let [b, t, l] = shares(strip);
            let wide = cantilever(strip).gain_of_width();
            on_grid(
                &|node| {
                    let bears = |s: Stress| s * (1.0 + 0.5 * wide);
                    by_strength(&|s| strip_steps(strip, steps, *set_deviation, bears(s), node.modulus))
                },
                root_of_squares(&[*weight_deviation, b, 2.0 * t, l]),
                // Anything between nothing and the whole of it.
                root_of_squares(&[STRIP_MODEL, wide / 12_f64.sqrt()]),
                false,
            )
        }
        ShopTest::Wrap { thickness, radius, after } => on_grid(
            &|node| {
                let kept = |i: usize| {
                    let s = strength(i);
                    kept_of_bend(s, node.modulus, node.exponent, radius.read, thickness.read)
                };
                let kept: Vec<Option<f64>> =
                    has.iter().enumerate().map(|(i, has)| has.then(|| kept(i))).collect();
                wrapped(thickness.read, radius.read, after, &kept)
            },
            root_of_squares(&[share(thickness), share(radius)]),
            WRAP_MODEL,
            true,
        ),
        ShopTest::Flex { strip, weight, movement } => {
            let [b, t, l] = shares(strip);
            let found = modulus_by_flex(strip, weight.read, movement.read);
            // How much the modulus changes with the movement, as shares: once where it is small, and more where the lever gets shorter.
            let further = modulus_by_flex(strip, weight.read, movement.read * (1.0 + SOME));
            let steep = found.zip(further).map_or(1.0, |(one, other)| f64::from(one / other).ln() / SOME);
            let (by_movement, by_length) = (steep * share(movement), (2.0 + steep) * l);
            let off = root_of_squares(&[share(weight), by_movement, b, 3.0 * t, by_length, FLEX_MODEL]);
            let likely =
                |n: &Node| found.map_or(0.0, |found| normal(f64::from(found / n.modulus).ln() / off));
            Says::Each(nodes.iter().map(likely).collect())
        }
        ShopTest::Dent(hardness) => {
            let (ln, deviation) = hardness_read(hardness);
            let off = root_of_squares(&[deviation, 0.5 * STEP]);
            let likely =
                |s: Stress, node: &Node| normal((ln - brinell(s, node.modulus, node.exponent).ln()) / off);
            on_grid(&|node| by_strength(&|s| likely(s, node)), 0.0, HARDNESS_MODEL, true)
        }
        ShopTest::Drop(drop) => {
            let sets = SetGrid::new(leg_sets(drop));
            on_grid(&|node| dropped(drop, &sets, node), DROP_READING, DROP_MODEL, true)
        }
        ShopTest::Weigh { mass, volume } => {
            let (found, off) = weighed(mass, volume);
            Says::Density(f64::from(found / MassDensity::new::<kilogram_per_cubic_meter>(1.0)).ln(), off)
        }
        ShopTest::Conductivity(reading, _) => {
            Says::Conductivity(reading.read.ln(), reading.deviation / reading.read)
        }
        ShopTest::Fold { thickness, radius, cracked } => {
            Says::Fold(over_recommended(f64::from(*radius / *thickness), hypothesis), *cracked)
        }
        ShopTest::Clue(clue, seen) => {
            let chance = seen_of(*clue, hypothesis);
            claim(*seen, &[], 1.0, if *seen { chance } else { 1.0 - chance })
        }
        ShopTest::Stamp(named) => claim(true, &named.rows, OWN_MARK, naming(named, hypothesis, OWN_MARK)),
        ShopTest::Told(named, trust) => claim(true, &named.rows, *trust, naming(named, hypothesis, *trust)),
    }
}

/// What a test's readings come to, where that is a property of the metal.
pub(super) fn property(test: &ShopTest) -> Option<Property> {
    Some(match test {
        ShopTest::Weigh { mass, volume } => Property::Density(weighed(mass, volume).0),
        ShopTest::Flex { strip, weight, movement } => {
            Property::Modulus(modulus_by_flex(strip, weight.read, movement.read)?)
        }
        ShopTest::Dent(hardness) => Property::Brinell(hardness_told(hardness)),
        ShopTest::Conductivity(reading, _) => Property::Conductivity(reading.read),
        _ => return None,
    })
}

/// How likely what is seen of a wrapped strip is, for each share of its curvature that it may have `kept`; `None` for strengths that are not
/// had.
fn wrapped(thickness: Length, radius: Length, after: &AfterWrap, kept: &[Option<f64>]) -> Vec<f64> {
    let likely = |(i, left): (usize, &Option<f64>)| {
        let Some(left) = *left else { return 0.0 };
        // What differs by less than half a step is not told apart.
        let steep = kept.get(i + 1).copied().flatten().map_or(0.0, |less| 0.5 * (left - less));
        match after {
            AfterWrap::Radius(after) => {
                let middle = |inside: Length| inside + 0.5 * thickness;
                let seen = f64::from(middle(radius) / middle(after.read));
                normal((seen - left) / root_of_squares(&[seen * share(after), steep]))
            }
            AfterWrap::Angle { bent, left: seen } => {
                let seen_left = f64::from(seen.read / bent.read);
                let off =
                    root_of_squares(&[f64::from(seen.deviation / bent.read), seen_left * share(bent), steep]);
                normal((seen_left - left) / off)
            }
            AfterWrap::Straight(straight) => {
                let chance = below((STRAIGHT - left) / STRAIGHT_WITHIN);
                if *straight { chance } else { 1.0 - chance }
            }
        }
    };
    kept.iter().enumerate().map(likely).collect()
}

/// Brinell number that a reading of hardness comes to.
#[must_use]
pub fn hardness_told(hardness: &Hardness) -> f64 {
    hardness_read(hardness).0.exp()
}

/// A reading of hardness as the logarithm of a Brinell number, and its standard deviation.
fn hardness_read(hardness: &Hardness) -> (f64, f64) {
    let number = |m: &Measured<f64>| (m.read.ln(), m.deviation / m.read);
    // It was compared with a piece that has no hardness: it tells nothing.
    let nothing = (0.0, f64::INFINITY);
    match hardness {
        Hardness::Brinell(read) => number(read),
        Hardness::Vickers(read) => {
            let (ln, off) = number(read);
            (ln + BRINELL_OF_VICKERS.ln(), off)
        }
        Hardness::Beside { dent, known_dent, known } => {
            let Some(hard) = known_hardness(known) else { return nothing };
            // A ball's dent is as wide as the root of the load over the hardness.
            let ratio = f64::from(known_dent.read / dent.read).ln();
            let off = 2.0 * root_of_squares(&[share(dent), share(known_dent)]);
            (hard.ln + 2.0 * ratio, root_of_squares(&[off, hard.deviation]))
        }
        Hardness::OwnScale { reading, known: [(one, first), (other, second)] } => {
            let (Some(one), Some(other)) = (known_hardness(one), known_hardness(other)) else {
                return nothing;
            };
            // Along a line through the two, in the logarithm of the hardness.
            let part = (reading.read - first) / (second - first);
            let slope = (other.ln - one.ln) / (second - first);
            // The reading is off, and each of the two, and how hard each of the two is.
            let of_reading = slope * reading.deviation * root_of_squares(&[1.0, 1.0 - part, part]);
            let of_pieces = root_of_squares(&[(1.0 - part) * one.deviation, part * other.deviation]);
            (one.ln + part * (other.ln - one.ln), root_of_squares(&[of_reading, of_pieces]))
        }
    }
}

/// How likely the set of a drop is, for each strength of the grid.
fn dropped(drop: &LegDrop, sets: &SetGrid, node: &Node) -> Vec<f64> {
    let sets = sets.of(node.modulus, node.exponent);
    let deviation = drop.test.error * (1.0 / DEVIATIONS_IN_TOLERANCE);
    let Some(seen) = drop.test.set else {
        // Of a gear that makes no frame nothing is told.
        if sets.iter().all(Option::is_none) {
            return vec![0.0; STEPS];
        }
        return (0..STEPS).map(|i| f64::from(sets.get(i).copied().flatten().is_none())).collect();
    };
    let likely = |i: usize| {
        let Some(set) = sets.get(i).copied().flatten() else { return 0.0 };
        // What differs by less than half a step is not told apart.
        let steep = sets.get(i + 1).copied().flatten().map_or(Length::default(), |less| 0.5 * (set - less));
        let off = root_of_squares(&[1.0, f64::from(steep / deviation)]);
        let apart = f64::from((seen - set) / deviation) / off;
        if seen == Length::default() { below(apart) } else { normal(apart) / off }
    };
    (0..STEPS).map(likely).collect()
}

fn modulus_by_flex(strip: &Strip, weight: Mass, movement: Length) -> Option<Stress> {
    cantilever(strip).modulus_by_movement(weight * gravity(), movement)
}

fn weighed(mass: &Measured<Mass>, volume: &Volume) -> (MassDensity, f64) {
    match volume {
        Volume::InWater(hung) => {
            let lost = mass.read - hung.read;
            // The same reading is in both: d ln ρ = dm / m − (dm − dm_w) / (m − m_w).
            let by_air = mass.deviation * f64::from(hung.read / lost) / mass.read;
            let off = root_of_squares(&[f64::from(by_air), f64::from(hung.deviation / lost), WATER_OFF]);
            (MassDensity::new::<kilogram_per_cubic_meter>(WATER) * f64::from(mass.read / lost), off)
        }
        Volume::Sides(strip) => {
            let [b, t, l] = shares(strip);
            let found = mass.read / (strip.width.read * strip.thickness.read * strip.length.read);
            (found, root_of_squares(&[share(mass), b, t, l]))
        }
    }
}

pub(super) fn cantilever(strip: &Strip) -> Cantilever {
    Cantilever { width: strip.width.read, thickness: strip.thickness.read, length: strip.length.read }
}

fn share<Q: Copy + Div<Output = Ratio>>(measured: &Measured<Q>) -> f64 {
    f64::from(measured.deviation / measured.read)
}

fn shares(strip: &Strip) -> [f64; 3] {
    [share(&strip.width), share(&strip.thickness), share(&strip.length)]
}

pub(super) fn root_of_squares(parts: &[f64]) -> f64 {
    parts.iter().map(|p| p * p).sum::<f64>().sqrt()
}

/// The bell curve, 1 at its top.
pub(super) fn normal(z: f64) -> f64 {
    (-0.5 * z * z).exp()
}

/// Density of a normal distribution.
fn density(off: f64, deviation: f64) -> f64 {
    normal(off / deviation) / (deviation * (2.0 * PI).sqrt())
}

/// Share of a standard normal distribution below a value. Source: Abramowitz & Stegun 7.1.26 (from memory), to 1.5e-7.
pub(super) fn below(z: f64) -> f64 {
    let x = z.abs() * FRAC_1_SQRT_2;
    let t = 1.0 / (1.0 + 0.327_591_1 * x);
    let series = [1.061_405_429, -1.453_152_027, 1.421_413_741, -0.284_496_736, 0.254_829_592];
    let tail = series.iter().fold(0.0, |sum, a| (sum + a) * t) * (-x * x).exp();
    if z < 0.0 { 0.5 * tail } else { 1.0 - 0.5 * tail }
}

/// A likelihood that is known for an exact instrument, for one that is off by so much of the strength.
pub(super) fn blurred(sharp: &[f64], deviation: f64) -> Vec<f64> {
    let width = deviation / STEP;
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a few times a small positive number"
    )]
    let reach = (3.5 * width).ceil() as usize;
    #[allow(clippy::cast_precision_loss, reason = "a few hundred at most")]
    let weights: Vec<f64> = (0..=reach).map(|i| normal(i as f64 / width)).collect();
    let all = 2.0 * weights.iter().sum::<f64>() - 1.0;
    // Beyond the ends of the grid it goes on as it ends.
    let end = |value: Option<&f64>| std::iter::repeat_n(value.copied().unwrap_or_default(), reach);
    let wide: Vec<f64> = end(sharp.first()).chain(sharp.iter().copied()).chain(end(sharp.last())).collect();
    let mut found = vec![0.0; sharp.len()];
    for (k, weight) in weights.iter().enumerate() {
        // What is k places below and k places above.
        let from = |place: usize| wide.get(place..).unwrap_or_default();
        let beside = from(reach - k).iter().zip(from(reach + k));
        let share = if k == 0 { 0.5 * weight / all } else { weight / all };
        for (place, (below, above)) in found.iter_mut().zip(beside) {
            *place += share * (below + above);
        }
    }
    found
}

/// How likely readings of one thing are together, given how it is spread among sheets: each is read in the light of those before it.
pub(super) fn together(spread: Spread, readings: impl Iterator<Item = (f64, f64)>) -> f64 {
    let (mut mean, mut variance) = (spread.ln, spread.deviation * spread.deviation);
    let mut likely = 1.0;
    for (read, deviation) in readings {
        let own = deviation * deviation;
        let all = variance + own;
        likely *= density(read - mean, all.sqrt());
        mean += variance / all * (read - mean);
        variance *= own / all;
    }
    likely + NEVER_NOTHING
}

/// Whether a test's reading fits a hypothesis at all, whose strengths have such a `prior`: its best likelihood is no smaller than that of
/// readings that are off by some four standard deviations.
pub(super) fn fits(test: &ShopTest, says: &Says, hypothesis: &Hypothesis, prior: &[f64]) -> bool {
    let readings = match test {
        ShopTest::BendStrip { steps, .. } => steps.len(),
        _ => 1,
    };
    let apart = |ln: f64, off: f64, of: Spread| normal((ln - of.ln) / root_of_squares(&[off, of.deviation]));
    let best = match says {
        Says::Claim(_) | Says::Fold(..) => 1.0,
        Says::Each(_) => says.most(),
        Says::Strengths { likely, model, .. } => {
            let near = near(prior, 3.0 * model);
            let best =
                |of: &Vec<f64>| of.get(near.clone()).unwrap_or_default().iter().copied().fold(0.0, f64::max);
            likely.iter().map(best).fold(0.0, f64::max)
        }
        Says::Density(ln, off) => apart(*ln, *off, hypothesis.density),
        Says::Conductivity(ln, off) => apart(*ln, *off, hypothesis.conductivity),
    };
    #[allow(clippy::cast_precision_loss, reason = "a few dozen at most")]
    let readings = readings as f64;
    // Each reading has its share of a chi-squared, and its scatter.
    best.ln() >= -(0.8 * readings + 3.0 * readings.sqrt() + 5.0)
}

/// Chance of a strength, over that of the likeliest, from which a reading of it may fit: within some four standard deviations.
const HARDLY_HEARD_OF: f64 = 3e-4;

/// Places of the strengths that a hypothesis has, and of those that differ from them by no more than such a share.
fn near(prior: &[f64], share: f64) -> Range<usize> {
    let most = prior.iter().copied().fold(0.0, f64::max);
    let has = |chance: &f64| *chance > HARDLY_HEARD_OF * most;
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small positive number")]
    let reach = (share / STEP).ceil() as usize;
    let first = prior.iter().position(has).unwrap_or_default().saturating_sub(reach);
    let last = prior.iter().rposition(has).map_or(0, |last| (last + reach + 1).min(prior.len()));
    first..last
}

#[cfg(test)]
#[allow(clippy::indexing_slicing, reason = "a test's own list")]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn the_share_below_is_that_of_printed_tables() {
        // Source: any table of the normal distribution, to seven digits.
        for (z, share) in
            [(0.0, 0.5), (1.0, 0.841_344_7), (1.96, 0.975_002_1), (-1.644_853_6, 0.05), (-3.0, 0.001_349_9)]
        {
            assert_relative_eq!(below(z), share, epsilon = 2e-7);
        }
    }

    #[test]
    fn a_blur_keeps_what_is_everywhere_and_spreads_what_is_somewhere() {
        let even = blurred(&[0.7; 60], 0.05);
        assert!(even.iter().all(|v| (v - 0.7).abs() < 1e-12), "{even:?}");
        let mut sharp = vec![0.0; 200];
        sharp[100] = 1.0;
        let wide = blurred(&sharp, 0.06);
        let deviation = 0.06 / STEP;
        for (i, found) in wide.iter().enumerate() {
            let z = (i as f64 - 100.0) / deviation;
            let expected =
                if z.abs() < 3.4 { (-0.5 * z * z).exp() / (deviation * (2.0 * PI).sqrt()) } else { *found };
            assert_relative_eq!(*found, expected, max_relative = 2e-3, epsilon = 1e-6);
        }
        // A step stays a step: half of it where it was, all of it far beyond.
        let step: Vec<f64> = (0..200).map(|i| f64::from(u8::from(i >= 100))).collect();
        let wide = blurred(&step, 0.06);
        assert_relative_eq!(wide[99] + wide[100], 1.0, max_relative = 1e-9);
        assert!(wide[0] < 1e-12 && (wide[199] - 1.0).abs() < 1e-12);
    }

    #[test]
    fn three_places_have_the_moments_of_a_normal_distribution() {
        // 1, 0, 1, 0, 3, 0: three places are exact up to the fifth power.
        for (power, moment) in [(0, 1.0), (1, 0.0), (2, 1.0), (3, 0.0), (4, 3.0), (5, 0.0)] {
            let sum: f64 = NORMAL.iter().map(|(z, w)| w * z.powi(power)).sum();
            assert_relative_eq!(sum, moment, epsilon = 1e-14);
        }
    }

    #[test]
    fn readings_of_one_thing_are_those_of_a_normal_distribution_of_several_values() {
        // Two readings of one value: their joint density, by its covariance [[s² + a², s²], [s², s² + b²]].
        let (s, a, b): (f64, f64, f64) = (0.3, 0.2, 0.5);
        let (x, y) = (0.4, -0.1);
        let (v, w, c) = (s * s + a * a, s * s + b * b, s * s);
        let determinant = v * w - c * c;
        let square = (w * x * x - 2.0 * c * x * y + v * y * y) / determinant;
        let expected = (-0.5 * square).exp() / (2.0 * PI * determinant.sqrt());
        let spread = Spread { ln: 0.0, deviation: s };
        assert_relative_eq!(together(spread, [(x, a), (y, b)].into_iter()), expected, max_relative = 1e-12);
    }
}
