//! One main wheel first.
//!
//! The published rule puts the level landing's load of that side on it (14 CFR 23.483). Builders reckon with the
//! whole aircraft on one wheel, which doubles the level moment; no source. Both are kept, under their own names.

use super::level::{aft_and_up, wheel_share};
use super::{Ground, Rule, Ruled, load};
use crate::model::{CaseId, Gear, LoadPoint, Position};
use crate::results::{Amount, Term, Working};
use uom::si::f64::Force;

pub(super) const ONE_WHEEL: Rule = Rule {
    case: CaseId::OneWheel,
    source: "14 CFR 23.483 (before amendment 23-64): the level landing's reaction on that side",
    loads: published,
};

pub(super) const ONE_WHEEL_WHOLE: Rule = Rule {
    case: CaseId::OneWheelWhole,
    source: "common practice, no source: the whole reaction on one wheel, twice what 14 CFR 23.483 asks of two",
    loads: whole,
};

fn published(ground: &Ground<'_>, gear: &Gear) -> Ruled {
    one(ground, gear, wheel_share(ground, gear), "share on one main wheel, as in a level landing")
}

fn whole(ground: &Ground<'_>, gear: &Gear) -> Ruled {
    one(ground, gear, 1.0, "all of it on this wheel")
}

/// Loads the port wheel of a pair; the gear is symmetric, so the other side is the mirror image.
fn one(ground: &Ground<'_>, gear: &Gear, share: f64, what: &str) -> Ruled {
    if gear.position != Position::Main || ground.wheels_at(Position::Main) < 2.0 {
        return None;
    }
    let (aft, up) = aft_and_up(ground, share);
    let loads = gear
        .wheels()
        .iter()
        .enumerate()
        .map(|(i, w)| {
            if i == 0 {
                load(w.side, aft, Force::default(), up, LoadPoint::Ground)
            } else {
                load(w.side, Force::default(), Force::default(), Force::default(), LoadPoint::Ground)
            }
        })
        .collect();
    let working = Working {
        formula: "up = s (n − L) W; aft = s 0.25 n W, on one wheel".into(),
        terms: vec![
            ground.weight_term(),
            ground.inertia_term(),
            ground.lift_term(),
            Term::new("s", what, Amount::Number(share)),
        ],
        notes: Vec::new(),
    };
    Some((loads, working))
}
