//! Which test would narrow the strength most for the least trouble, given what is known.

use super::evidence::{Node, WATER, says, strength};
use super::mechanics::{brinell, kept_of_bend};
use super::{Desk, Held, Posterior};
use crate::material::Family;
use crate::model::{AfterWrap, Clue, Hardness, Measured, ShopTest, Strip, TestKind, Volume};
use crate::results::{AlikeFamilies, NextTest, SheetGrade};
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
const KINDS: [(TestKind, f64); 7] = [
    (TestKind::Clue(Clue::Magnet), 1.0),
    (TestKind::Conductivity, 5.0),
    (TestKind::Dent, 10.0),
    (TestKind::Fold, 10.0),
    (TestKind::Wrap, 15.0),
    (TestKind::Weigh, 15.0),
    (TestKind::BendStrip, 25.0),
];

/// The test to make next; `None` where none of those not yet made would do much. While it is open of what family the sheet is, that comes
/// first: nobody knows then how stiff its legs are.
pub(super) fn next(desk: &Desk, tests: &[&ShopTest], graded: &SheetGrade) -> Option<NextTest> {
    let all: Vec<usize> = desk.all().into_iter().filter(|i| !graded.left_out.contains(i)).collect();
    let found = desk.posterior(&all);
    if found.evidence < f64::MIN_POSITIVE {
        return None;
    }
    let thickness = desk.thickness.unwrap_or_else(|| Length::new::<millimeter>(USUAL_THICKNESS));
    let middle = found.likely().p50;
    let likely: Vec<(&Held, f64)> =
        desk.held.iter().zip(found.chances.iter().copied()).filter(|(_, c)| *c > UNLIKELY).collect();
    let stand_ins = stand_ins(&likely, &all);
    // Of the same sheets as after one more test.
    let width = Posterior::new(likely.iter().map(|(held, _)| held.after(&all, None))).width();
    let after = |test: &ShopTest| {
        let more = |held: &Held| {
            let mut more = says(test, &held.of, &held.nodes, &held.prior);
            more.measure(1.0);
            held.after(&all, Some(&more))
        };
        Posterior::new(likely.iter().map(|(held, _)| more(held))).width()
    };
    let mut tried: Vec<NextTest> = Vec::new();
    for (kind, minutes) in KINDS {
        if tests.iter().any(|t| t.kind() == kind) {
            continue;
        }
        let readings = stand_ins.iter().filter_map(|one| reading(kind, one, middle, thickness));
        let widths: Vec<f64> = readings.map(|test| after(&test)).collect();
        if widths.is_empty() {
            continue;
        }
        #[allow(clippy::cast_precision_loss, reason = "a handful")]
        let mean = widths.iter().sum::<f64>() / widths.len() as f64;
        tried.push(NextTest { kind, narrows: 1.0 - mean / width, minutes, families: Vec::new() });
    }
    let open = graded.likely_families();
    if open.len() > 1 {
        // Some stainless sheet is magnetic and some is not.
        let steel = |one: &AlikeFamilies| one.families == [Family::Steel];
        let no_steel = |one: &AlikeFamilies| {
            !one.families.iter().any(|f| matches!(f, Family::Steel | Family::Stainless))
        };
        let by_magnet = match open.as_slice() {
            [one, other] => (steel(one) && no_steel(other)) || (no_steel(one) && steel(other)),
            _ => false,
        };
        let asked = [(TestKind::Clue(Clue::Magnet), by_magnet), (TestKind::Weigh, true)];
        let asked = asked.iter().filter(|(_, tells)| *tells);
        let told = asked.filter_map(|(kind, _)| tried.iter().find(|test| test.kind == *kind)).next();
        if let Some(told) = told {
            return Some(NextTest { families: open, ..told.clone() });
        }
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
        let own = held.after(all, None);
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
fn reading(kind: TestKind, one: &StandIn<'_>, middle: Stress, thickness: Length) -> Option<ShopTest> {
    let exactly = |value: Length, share: f64| Measured { read: value, deviation: value * share };
    let mm = |v: f64| Length::new::<millimeter>(v);
    let thick = exactly(thickness, 0.005);
    Some(match kind {
        TestKind::Clue(Clue::Magnet) => ShopTest::Clue(Clue::Magnet, one.held.of.family == Family::Steel),
        TestKind::Conductivity => {
            let value = one.held.of.conductivity.ln.exp();
            ShopTest::Conductivity(Measured { read: value, deviation: 0.015 * value }, None)
        }
        TestKind::Dent => {
            let value = brinell(one.strength, one.node.modulus, one.node.exponent);
            ShopTest::Dent(Hardness::Brinell(Measured { read: value, deviation: 0.08 * value }))
        }
        TestKind::Fold => {
            let radius = 2.0 * thickness;
            let least = one.held.of.bend_radius?;
            ShopTest::Fold { thickness, radius, cracked: least > 4.0 }
        }
        TestKind::Wrap => {
            let radius = 4.0 * thickness;
            let bent = Angle::new::<degree>(90.0);
            let off = Angle::new::<degree>(0.25);
            let left =
                bent * kept_of_bend(one.strength, one.node.modulus, one.node.exponent, radius, thickness);
            let left = Measured { read: left, deviation: off };
            let bent = Measured { read: bent, deviation: off };
            ShopTest::Wrap {
                thickness: thick,
                radius: exactly(radius, 0.01),
                after: AfterWrap::Angle { bent, left },
            }
        }
        TestKind::Weigh => {
            let mass = Mass::new::<gram>(100.0);
            let dense = one.held.of.density.ln.exp();
            let off = Mass::new::<gram>(0.05);
            let hung = mass * (1.0 - WATER / dense);
            ShopTest::Weigh {
                mass: Measured { read: mass, deviation: off },
                volume: Volume::InWater(Measured { read: hung, deviation: off }),
            }
        }
        TestKind::BendStrip => {
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
        // These tell of the name, or of what the others tell better.
        TestKind::Flex | TestKind::Drop | TestKind::Clue(_) | TestKind::Stamp | TestKind::Told => {
            return None;
        }
    })
}
