//! What is seen or said of a sheet, yes or no: names, clues, folds. Made twice, such a test says little more than once.

use super::evidence::NEVER_NOTHING;
use super::hypothesis::Hypothesis;
use crate::material::Family;
use crate::model::{Clue, Named, TestKind};

/// Chance that a fold cracks at the recommended radius, and the fall of its log-odds with the logarithm of the radius: one in two crack at
/// half of it. chosen: recommended radii are kept by nearly all sheets.
const CRACKS: f64 = 0.05;
/// Radius in thicknesses that stands for metals that may be folded flat.
const FLAT: f64 = 0.25;
/// Recommended radii that a sheet which no table has may have, in thicknesses. chosen: from soft to very hard.
const ANY_RADIUS: [f64; 4] = [0.5, 1.5, 3.0, 6.0];
/// A sheet that folds well once does so again: of a fold's scatter this much, in log-odds, is its own, and the rest is the sheet's. chosen.
const OWN_SCATTER: f64 = 0.5;
/// Places of the integral over sheets.
const SHEETS: u32 = 32;

/// A mark on the sheet is that sheet's own so often; the rest are offcuts of another. chosen.
pub(super) const OWN_MARK: f64 = 0.97;
/// Names that a wrong mark or word might as well be.
const OTHER_NAMES: f64 = 15.0;

/// What was seen or said of a sheet.
#[derive(Debug, Clone)]
pub(super) struct Claim {
    /// A clue with its answer, or a kind with the rows that were named.
    pub(super) what: (TestKind, bool, Vec<String>),
    /// How far it is trusted.
    pub(super) trust: f64,
    /// How likely it is of the hypothesis.
    pub(super) chance: f64,
}

/// How likely all claims are together, each counted once.
pub(super) fn claimed<'a>(claims: impl Iterator<Item = &'a Claim>) -> f64 {
    let mut each: Vec<&Claim> = Vec::new();
    for claim in claims {
        match each.iter_mut().find(|known| known.what == claim.what) {
            Some(known) if known.trust < claim.trust => *known = claim,
            Some(_) => {}
            None => each.push(claim),
        }
    }
    each.iter().map(|claim| claim.chance).product()
}

/// An inside radius, in thicknesses, over each that may be recommended for a sheet.
pub(super) fn over_recommended(radius: f64, hypothesis: &Hypothesis) -> Vec<f64> {
    let over = |least: &f64| radius / least.max(FLAT);
    match &hypothesis.bend_radius {
        Some(least) => vec![over(least)],
        None => ANY_RADIUS.iter().map(over).collect(),
    }
}

/// How likely all folds are together: each sheet has its own place among those of its row, from the best that folds to the worst.
pub(super) fn folded<'a>(folds: impl Iterator<Item = (&'a [f64], bool)> + Clone) -> f64 {
    // Log-odds that a sheet of the row cracks.
    let odds = |over: f64| -(1.0 / CRACKS - 1.0).ln() * (1.0 + over.log2());
    let Some(radii) = folds.clone().map(|(over, _)| over.len()).next() else { return 1.0 };
    let mut sum = 0.0;
    for radius in 0..radii {
        for sheet in 0..SHEETS {
            let share = (f64::from(sheet) + 0.5) / f64::from(SHEETS);
            // Both scatters together are that of a single fold.
            let own = (share / (1.0 - share)).ln() * (1.0 - OWN_SCATTER * OWN_SCATTER).sqrt();
            let all = folds.clone().map(|(over, cracked)| {
                let apart = (odds(over.get(radius).copied().unwrap_or(1.0)) - own) / OWN_SCATTER;
                1.0 / (1.0 + (if cracked { -apart } else { apart }).exp())
            });
            sum += all.product::<f64>();
        }
    }
    #[allow(clippy::cast_precision_loss, reason = "a handful")]
    let places = f64::from(SHEETS) * radii as f64;
    sum / places + NEVER_NOTHING
}

/// How likely it is to hear or read a name, if what names it is right so often.
pub(super) fn naming(named: &Named, hypothesis: &Hypothesis, right: f64) -> f64 {
    let meant = match &hypothesis.name {
        Some(name) => named.rows.contains(name),
        // A name that no row has is that of something else.
        None => named.rows.is_empty(),
    };
    if meant { right + (1.0 - right) / OTHER_NAMES } else { (1.0 - right) / OTHER_NAMES + NEVER_NOTHING }
}

/// How likely a clue is seen. Source: what the families do is from memory; how surely is chosen.
pub(super) fn seen_of(clue: Clue, hypothesis: &Hypothesis) -> f64 {
    match (clue, hypothesis.family) {
        (Clue::Magnet, Family::Steel) => 0.98,
        // Cold-rolled 301 is weakly magnetic, annealed 304 is not.
        (Clue::Magnet, Family::Stainless) => 0.4,
        (Clue::Magnet | Clue::Spark, Family::Aluminium) | (Clue::Magnet, Family::Titanium) => 0.01,
        (Clue::Spark, Family::Steel | Family::Titanium) => 0.97,
        (Clue::Spark, Family::Stainless) => 0.9,
        (Clue::Magnet | Clue::Spark, Family::Other) => 0.3,
        (Clue::Caustic, _) => hypothesis.darkens,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn a_fold_at_the_recommended_radius_cracks_seldom_and_at_half_of_it_every_other_time() {
        let one = |over: f64, cracked| folded([(&[over][..], cracked)].into_iter());
        assert_relative_eq!(one(1.0, true), CRACKS, max_relative = 0.1);
        assert_relative_eq!(one(0.5, true), 0.5, max_relative = 1e-9);
        assert_relative_eq!(one(0.7, true) + one(0.7, false), 1.0, max_relative = 1e-9);
        assert!(one(2.0, true) < 0.02);
    }

    #[test]
    fn folding_the_same_again_says_little_more() {
        let held = |times: usize| folded(std::iter::repeat_n((&[0.5][..], false), times));
        let (once, twice, often) = (held(1), held(2), held(6));
        // Were each of them news, it would be a half of a half, and so on.
        assert!(twice > 1.4 * once.powi(2) && often > 10.0 * once.powi(6), "{once} {twice} {often}");
    }

    #[test]
    fn a_claim_made_twice_counts_once_and_the_surer_of_them() {
        let told = |trust: f64, chance: f64| Claim {
            what: (TestKind::Told, true, vec!["6082-T6".to_owned()]),
            trust,
            chance,
        };
        let (unsure, sure) = (told(0.4, 0.44), told(0.9, 0.91));
        assert_relative_eq!(claimed([&unsure, &sure, &unsure].into_iter()), 0.91);
        assert_relative_eq!(claimed([&sure, &unsure].into_iter()), 0.91);
        let other = Claim { what: (TestKind::Stamp, true, vec![]), ..sure.clone() };
        assert_relative_eq!(claimed([&sure, &other].into_iter()), 0.91 * 0.91);
    }
}
