//! Side load.
//!
//! Main wheels: vertical 1.33 W shared; 0.5 W inboard on one side and 0.33 W outboard on the other, at the
//! ground; no drag. Source: 14 CFR 23.485. Tail wheel: its static load up and as much sideways, taken at the
//! ground as for a locked or steered wheel. Source: 14 CFR 23.497(b). Both before amendment 23-64.

use super::{Ground, Rule, Ruled, load};
use crate::model::{CaseId, CaseWheelLoad, Gear, LoadPoint, Position, Side, WheelPlace};
use crate::results::Working;
use crate::units::{Force, Length};

/// Vertical load factor. Source: 14 CFR 23.485(b).
const VERTICAL: f64 = 1.33;
/// Side load towards the centre line, over the weight. Source: 14 CFR 23.485(c).
const INBOARD: f64 = 0.5;
/// Side load away from the centre line, over the weight. Source: 14 CFR 23.485(c).
const OUTBOARD: f64 = 0.33;

pub(super) const SIDE: Rule = Rule {
    case: CaseId::Side,
    source: "14 CFR 23.485 for main wheels, 23.497(b) for a tail wheel (before amendment 23-64)",
    loads,
};

fn loads(ground: &Ground<'_>, gear: &Gear) -> Ruled {
    match gear.position {
        Position::Main => Some(main(ground, gear)),
        Position::Tail => Some(tail(ground, gear)),
        Position::Nose => None,
    }
}

fn main(ground: &Ground<'_>, gear: &Gear) -> (Vec<CaseWheelLoad>, Working) {
    let wheels = ground.wheels_at(Position::Main);
    let up = VERTICAL / wheels * ground.weight;
    let loads = gear
        .wheels()
        .iter()
        .map(|w| {
            let share = match w.side {
                // Both towards starboard: inboard for the port wheel, outboard for the starboard wheel.
                Side::Left => INBOARD,
                Side::Right => OUTBOARD,
                Side::Centre => harder(w, up, ground.weight),
            };
            load(w.side, Force::default(), share * ground.weight, up, LoadPoint::Ground)
        })
        .collect();
    let working = Working {
        formula: "up = 1.33 W / number of main wheels; sideways 0.5 W inboard, 0.33 W outboard".into(),
        terms: vec![ground.weight_term()],
        notes: Vec::new(),
    };
    (loads, working)
}

/// For a wheel on its own: of inboard and outboard load the one that bends its leg harder at the top.
fn harder(wheel: &WheelPlace, up: Force, weight: Force) -> f64 {
    let [_, y, z] = wheel.contact;
    let moment = |share: f64| (y * up - z * share * weight).abs();
    let outward = if y < Length::default() { -1.0 } else { 1.0 };
    let (inboard, outboard) = (-outward * INBOARD, outward * OUTBOARD);
    if moment(inboard) >= moment(outboard) { inboard } else { outboard }
}

fn tail(ground: &Ground<'_>, gear: &Gear) -> (Vec<CaseWheelLoad>, Working) {
    let rest = ground.static_load(gear);
    let loads =
        gear.wheels().iter().map(|w| load(w.side, Force::default(), rest, rest, LoadPoint::Ground)).collect();
    let working = Working {
        formula: "up = s W; sideways = s W, at the ground".into(),
        terms: vec![ground.weight_term(), ground.share_term(gear)],
        notes: Vec::new(),
    };
    (loads, working)
}
