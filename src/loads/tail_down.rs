//! Tail-down landing: vertical only, the wheels already turning.
//!
//! Tricycle: the main wheels take (n − L) W. Tailwheel: main and tail wheels together, by their static shares.
//! Source: 14 CFR 23.481 (before amendment 23-64).

use super::{Ground, Rule, Ruled, load};
use crate::model::{CaseId, Gear, Layout, LoadPoint, Position};
use crate::results::{Amount, Term, Working};
use crate::units::Force;

pub(super) const TAIL_DOWN: Rule =
    Rule { case: CaseId::TailDown, source: "14 CFR 23.481 (before amendment 23-64)", loads };

/// Vertical reaction on one wheel of the gear, and the share it stands for.
pub(super) fn reaction(ground: &Ground<'_>, gear: &Gear) -> (Force, Term) {
    let (share, term) = if ground.project.aircraft.layout == Layout::Tricycle {
        let share = 1.0 / ground.wheels_at(Position::Main);
        (share, Term::new("s", "share on one main wheel", Amount::Number(share)))
    } else {
        (ground.static_share(gear), ground.share_term(gear))
    };
    (share * ground.factors.ground_reaction * ground.weight, term)
}

fn loads(ground: &Ground<'_>, gear: &Gear) -> Ruled {
    if gear.position == Position::Nose {
        return None;
    }
    let (up, share) = reaction(ground, gear);
    let none = Force::default();
    let loads = gear.wheels().iter().map(|w| load(w.side, none, none, up, LoadPoint::Ground)).collect();
    let working = Working {
        formula: "up = s (n − L) W".into(),
        terms: vec![ground.weight_term(), ground.inertia_term(), ground.lift_term(), share],
        notes: Vec::new(),
    };
    Some((loads, working))
}
