//! How likely the sets of a strip are that is bent by one weight after another.

use super::evidence::{below, cantilever, normal, root_of_squares};
use crate::model::Strip;
use crate::units::{Length, Mass, Stress, gravity};
use std::f64::consts::PI;

/// How far the mechanics of one reading of a strip may be off against its others, as a share of the load. chosen.
const READING_MODEL: f64 = 0.04;
/// Share of the elastic movement from which a set says no more than that the strip has yielded through and through, and the share of the
/// load of first yield from which that is so, more or less. chosen: there a metal that does not harden folds, and one that does bears more.
const PLAIN: f64 = 0.2;
const PLAIN_FROM: f64 = 1.50;
const PLAIN_WITHIN: f64 = 0.06;
/// Share of a set by which its likelihoods are measured where that is more than its error. chosen: any does, for all sheets alike.
const MEASURE: f64 = 0.3;
/// How far a set may be off because a metal yields gently, as a share of the movement at first yield, and with which power of the load that
/// falls below it. chosen.
const GENTLY: f64 = 0.015;
const GENTLY_FROM: i32 = 20;

/// How much less than is reckoned a load may be over that of first yield, and the set, as a share of the length, from which the lever gets
/// shorter. chosen.
const AT_MOST: f64 = 1.15;
const SWUNG: f64 = 0.2;

/// The least that stays of a strip under a load beyond that which folds a metal that does not harden, over the movement at first yield.
///
/// Of a metal that goes on with a tenth of its stiffness: one that hardens more at first has a higher 0.2 % proof stress for it. Its
/// curvature beyond the elastic one is 9 (M/M_y − 1.5) that at first yield, so that 27 (p/3 − 3/4 + 9/(16 p²)) stays. Derived.
fn least_beyond(p: f64) -> f64 {
    let p = f64::max(p / AT_MOST, PLAIN_FROM);
    27.0 * (p / 3.0 - 0.75 + 0.5625 / (p * p))
}

/// How likely what was seen after each weight is, for a sheet of such a strength and stiffness; a step without a set is one that folded it.
pub(super) fn strip_steps(
    strip: &Strip,
    steps: &[(Mass, Option<Length>)],
    deviation: Length,
    strength: Stress,
    modulus: Stress,
) -> f64 {
    let beam = cantilever(strip);
    let first = beam.first_yield(strength);
    let gentle = GENTLY * beam.movement(first, modulus);
    let at_yield = beam.elastic_movement(first, modulus);
    let mut likely = 1.0;
    for (weight, seen) in steps {
        let load = *weight * gravity();
        // Where nothing yields, and would not under a load that is off, half of all eyes see nothing, and half of them more.
        if *seen == Some(Length::default()) && load * (1.0 + READING_MODEL) <= first {
            likely *= 0.5;
            continue;
        }
        let p = beam.yielding_share(load, strength, modulus);
        let elastic = beam.movement(load, modulus);
        let much = PLAIN * elastic + Length::min(at_yield * least_beyond(p), beam.length * SWUNG);
        let set = beam.set_at(p, load, strength, modulus);
        let plain = below((p - PLAIN_FROM) / PLAIN_WITHIN);
        let Some(seen) = *seen else {
            likely *= plain;
            continue;
        };
        // Nobody knows whether it has yielded through and through: its set is then what theory has, as far as that goes, or any beyond a share
        // of its movement.
        let theory = set.map_or(0.0, |set| {
            // Under a load that is off by so much of itself. Beyond that share a reading that theory is to have made is one that the eye has made.
            let steep = |by: f64, share: f64| {
                let other = beam.set_at(share, load * (1.0 + by), strength, modulus);
                f64::from(other.map_or(much, |other| (other - set).abs()) / deviation)
            };
            let (less, more) = if seen >= much {
                (0.0, 0.0)
            } else {
                // The share goes up nearly in a line, over so little.
                let heavier = beam.yielding_share(load * (1.0 + READING_MODEL), strength, modulus);
                (steep(-READING_MODEL, 2.0 * p - heavier), steep(READING_MODEL, heavier))
            };
            let near = p.min(1.0).powi(GENTLY_FROM);
            let off = |steep: f64| root_of_squares(&[1.0, near * f64::from(gentle / deviation), steep]);
            // Sets go up ever faster with the load: they are off by more above than below.
            let (less, more) = (off(less), off(more));
            let own = if seen <= set { less } else { more };
            let middle = 0.5 * (less + more);
            let apart = f64::from((seen - set) / deviation) / own;
            // Nothing is seen of a set that is less than nothing by the error of the eye.
            if seen == Length::default() { below(apart) * own / middle } else { normal(apart) / middle }
        });
        let beyond = f64::from((seen - much) / deviation);
        // Some elastic movement more in the middle, and never nearer than the eye sees; nothing is seen where the error of the eye hides it.
        let some = elastic + deviation;
        let more = f64::from(some / (some + Length::max(seen - much, Length::default())));
        let spread = (2.0 * PI).sqrt() * f64::from(deviation / some) * more * more;
        let any = below(beyond) * if seen == Length::default() { 1.0 } else { spread };
        // One reading has one measure for all sheets: its deviation, or a share of itself where that is larger.
        let measure = f64::from(Length::max(deviation, MEASURE * seen) / deviation);
        let not_yet = if seen >= much { 1.0 - plain } else { 1.0 };
        likely *= (not_yet * theory + plain * any) * measure;
    }
    likely
}
