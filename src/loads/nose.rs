//! Nose-wheel loads: 2.25 × the static load up, with 0.8 of it aft or 0.4 forward at the axle, or 0.7 sideways at
//! the ground. Source: 14 CFR 23.499 (before amendment 23-64).

use super::{Ground, Rule, Ruled, load};
use crate::model::{CaseId, Gear, LoadPoint, Position};
use crate::results::Working;
use crate::units::Force;

/// Vertical load over the static load. Source: 14 CFR 23.499(a).
const VERTICAL: f64 = 2.25;
const SOURCE: &str = "14 CFR 23.499 (before amendment 23-64)";

pub(super) const AFT: Rule = Rule { case: CaseId::NoseAft, source: SOURCE, loads: aft };
pub(super) const FORWARD: Rule = Rule { case: CaseId::NoseForward, source: SOURCE, loads: forward };
pub(super) const SIDE: Rule = Rule { case: CaseId::NoseSide, source: SOURCE, loads: side };

fn aft(ground: &Ground<'_>, gear: &Gear) -> Ruled {
    nose(ground, gear, "up = 2.25 s W; aft = 0.8 up, at the axle", |up| (0.8 * up, 0.0 * up, LoadPoint::Axle))
}

fn forward(ground: &Ground<'_>, gear: &Gear) -> Ruled {
    nose(ground, gear, "up = 2.25 s W; forward = 0.4 up, at the axle", |up| {
        (-0.4 * up, 0.0 * up, LoadPoint::Axle)
    })
}

fn side(ground: &Ground<'_>, gear: &Gear) -> Ruled {
    nose(ground, gear, "up = 2.25 s W; sideways = 0.7 up, at the ground", |up| {
        (0.0 * up, 0.7 * up, LoadPoint::Ground)
    })
}

fn nose(
    ground: &Ground<'_>,
    gear: &Gear,
    formula: &str,
    parts: fn(Force) -> (Force, Force, LoadPoint),
) -> Ruled {
    if gear.position != Position::Nose {
        return None;
    }
    let up = VERTICAL * ground.static_load(gear);
    let (aft, starboard, at) = parts(up);
    let loads = gear.wheels().iter().map(|w| load(w.side, aft, starboard, up, at)).collect();
    let working = Working {
        formula: formula.into(),
        terms: vec![ground.weight_term(), ground.share_term(gear)],
        notes: Vec::new(),
    };
    Some((loads, working))
}
