//! Which test would narrow the strength most for the least trouble, given what is known.

use super::evidence::{Node, WATER, says, strength};
use super::mechanics::{brinell, curvature_left, hardened_in_bending, proof_strain};
use super::{Desk, Held};
use crate::model::{AfterWrap, Clue, Hardness, Measured, ShopTest, Strip, Volume};
use crate::results::NextTest;
use crate::section::Cantilever;
use crate::units::{Angle, Length, Mass, Stress, gravity};
use uom::si::angle::degree;
use uom::si::length::millimeter;
use uom::si::mass::gram;

/// Least part of the likely range by which a test has to shrink it to be worth telling. chosen.
const WORTH: f64 = 0.1;
/// A test that narrows by this part of what the best does is taken instead where it is quicker. chosen.
const NEARLY: f64 = 0.6;
/// Sheets that stand for all that are still likely. chosen: enough to tell tests apart.
const STAND_INS: usize = 8;
/// Hypotheses less likely than this are left out of the reckoning.
const UNLIKELY: f64 = 2e-3;
/// Thickness of a sheet when no test says it, mm.
const USUAL_THICKNESS: f64 = 3.0;

/// A sheet that might be the one.
struct StandIn<'d> {
    held: &'d Held,
    node: Node,
    strength: Stress,
}

/// Kinds that can be asked for, with about how long each takes, min. Common practice, no source.
const KINDS: [(&str, f64); 7] = [
    ("magnet", 1.0),
    ("conductivity", 5.0),
    ("dent", 10.0),
    ("fold", 10.0),
    ("wrap", 15.0),
    ("weigh", 15.0),
    ("bend-strip", 25.0),
];

/// The test to make next; `None` where none of those not yet made would do much.
pub(super) fn next(desk: &Desk, tests: &[&ShopTest], thickness: Option<Length>) -> Option<NextTest> {
    let all: Vec<usize> = (0..desk.tests).collect();
    let found = desk.posterior(&all);
    let thickness = thickness.unwrap_or_else(|| Length::new::<millimeter>(USUAL_THICKNESS));
    if found.evidence < f64::MIN_POSITIVE {
        return None;
    }
    let likely: Vec<(&Held, f64)> =
        desk.held.iter().zip(found.chances.iter().copied()).filter(|(_, c)| *c > UNLIKELY).collect();
    let stand_ins = stand_ins(&likely, &all);
    // Of the same sheets as after one more test.
    let width = width_after(&likely, desk.tests, None);
    let mut tried: Vec<NextTest> = Vec::new();
    for (kind, minutes) in KINDS {
        if tests.iter().any(|t| t.kind() == kind) {
            continue;
        }
        let widths: Vec<f64> = stand_ins
            .iter()
            .filter_map(|one| reading(kind, one, found.likely().p50, thickness))
            .map(|test| width_after(&likely, desk.tests, Some(&test)))
            .collect();
        if widths.is_empty() {
            continue;
        }
        #[allow(clippy::cast_precision_loss, reason = "a handful")]
        let mean = widths.iter().sum::<f64>() / widths.len() as f64;
        tried.push(NextTest { kind, narrows: 1.0 - mean / width, minutes });
    }
    let best = tried.iter().map(|t| t.narrows).fold(0.0, f64::max);
    tried.retain(|t| t.narrows >= WORTH && t.narrows >= NEARLY * best);
    tried.into_iter().min_by(|a, b| a.minutes.total_cmp(&b.minutes))
}

/// Sheets spread evenly over what is likely.
fn stand_ins<'d>(likely: &[(&'d Held, f64)], all: &[usize]) -> Vec<StandIn<'d>> {
    let whole: f64 = likely.iter().map(|(_, chance)| chance).sum();
    let mut found = Vec::new();
    let mut before = 0.0;
    for (held, chance) in likely {
        let own = held.after(all);
        let sum = own.iter().sum::<f64>().max(f64::MIN_POSITIVE);
        for (i, share) in own.iter().enumerate() {
            let after = before + chance * share / sum;
            #[allow(clippy::cast_precision_loss, reason = "a handful")]
            let place = |k: usize| (k as f64 + 0.5) / STAND_INS as f64 * whole;
            while found.len() < STAND_INS && place(found.len()) <= after {
                let Some(node) = held.nodes.get(held.nodes.len() / 2) else { break };
                found.push(StandIn { held, node: *node, strength: strength(i) });
            }
            before = after;
        }
    }
    found
}

/// What a test with usual instruments would read of a sheet, were it exact; `None` where it can't be made.
fn reading(kind: &str, one: &StandIn<'_>, middle: Stress, thickness: Length) -> Option<ShopTest> {
    let exactly = |value: Length, share: f64| Measured { read: value, deviation: value * share };
    let mm = |v: f64| Length::new::<millimeter>(v);
    let thick = exactly(thickness, 0.005);
    Some(match kind {
        "magnet" => ShopTest::Clue(Clue::Magnet, one.held.of.family == crate::material::Family::Steel),
        "conductivity" => {
            let value = one.held.of.conductivity.ln.exp();
            ShopTest::Conductivity(Measured { read: value, deviation: 0.015 * value })
        }
        "dent" => {
            let value = brinell(one.strength, one.node.modulus, one.node.exponent);
            ShopTest::Dent(Hardness::Brinell(Measured { read: value, deviation: 0.08 * value }))
        }
        "fold" => {
            let radius = 2.0 * thickness;
            let least = one.held.of.bend_radius?;
            ShopTest::Fold { thickness, radius, cracked: least > 4.0 }
        }
        "wrap" => {
            let radius = 4.0 * thickness;
            let around = radius + 0.5 * thickness;
            let strain = f64::from(thickness / (2.0 * around));
            let proof = proof_strain(one.strength, one.node.modulus);
            let flow = one.strength * hardened_in_bending(one.node.exponent, proof, strain);
            let bent = Angle::new::<degree>(90.0);
            let left = bent * curvature_left(flow, one.node.modulus, around, thickness);
            let left = Measured { read: left, deviation: Angle::new::<degree>(0.25) };
            ShopTest::Wrap {
                thickness: thick,
                radius: exactly(radius, 0.01),
                after: AfterWrap::Angle { bent, left },
            }
        }
        "weigh" => {
            let mass = Mass::new::<gram>(100.0);
            let dense = one.held.of.density.ln.exp();
            let off = Mass::new::<gram>(0.05);
            let hung = mass * (1.0 - WATER / dense);
            ShopTest::Weigh {
                mass: Measured { read: mass, deviation: off },
                volume: Volume::InWater(Measured { read: hung, deviation: off }),
            }
        }
        _ => {
            let beam = Cantilever { width: mm(25.0), thickness, length: mm(150.0) };
            let first = beam.first_yield(middle);
            let mut steps = Vec::new();
            // From half the load that the middle of what is likely would bear to twice as much.
            for k in 1..=8 {
                let load = first * (0.25 * f64::from(k));
                let set = beam.set(load, one.strength, one.node.modulus);
                steps.push((load / gravity(), set));
                if set.is_none() {
                    break;
                }
            }
            ShopTest::BendStrip {
                strip: Strip {
                    width: exactly(beam.width, 0.005),
                    thickness: thick,
                    length: exactly(beam.length, 0.005),
                },
                steps,
                weight_deviation: 0.01,
                set_deviation: mm(0.5),
            }
        }
    })
}

/// How wide the strength's logarithm would still be spread after one more test, or is now.
fn width_after(likely: &[(&Held, f64)], tests: usize, test: Option<&ShopTest>) -> f64 {
    let more: Vec<Held> = likely
        .iter()
        .map(|(held, _)| {
            let mut own = held.says.clone();
            own.extend(test.map(|test| says(test, &held.of, &held.nodes)));
            Held { of: held.of.clone(), nodes: held.nodes.clone(), prior: held.prior.clone(), says: own }
        })
        .collect();
    let tests = tests + usize::from(test.is_some());
    let all: Vec<usize> = (0..tests).collect();
    Desk { held: more, tests }.posterior(&all).width()
}
