//! Level landing with drag.
//!
//! Main wheels, nose wheel just clear: up (n − L) W shared by the main wheels, aft at least a quarter of the
//! vertical reaction without wing lift, 0.25 n W. Nose wheel, all wheels together: its static share of both.
//! Source: 14 CFR 23.479(a)(2), (b), (c) and part 23 appendix C (K = 0.25 up to 3000 lb), before amendment 23-64.

use super::{Ground, Rule, Ruled, load};
use crate::model::{CaseId, Gear, LoadPoint, Position};
use crate::results::{Amount, Term, Working};
use uom::si::f64::Force;

/// Least drag as a share of the vertical reaction without lift. Source: 14 CFR 23.479(b), appendix C (K).
pub(super) const DRAG_SHARE: f64 = 0.25;

pub(super) const LEVEL: Rule = Rule {
    case: CaseId::Level,
    source: "14 CFR 23.479 and part 23 appendix C (before amendment 23-64)",
    loads,
};

/// Share of the level landing's reaction on one wheel of the gear.
pub(super) fn wheel_share(ground: &Ground<'_>, gear: &Gear) -> f64 {
    match gear.position {
        Position::Main => 1.0 / ground.wheels_at(Position::Main),
        Position::Nose | Position::Tail => ground.static_share(gear),
    }
}

/// Aft and up load for a share of the level landing's reaction.
pub(super) fn aft_and_up(ground: &Ground<'_>, share: f64) -> (Force, Force) {
    (
        share * DRAG_SHARE * ground.factors.inertia * ground.weight,
        share * ground.factors.ground_reaction * ground.weight,
    )
}

fn loads(ground: &Ground<'_>, gear: &Gear) -> Ruled {
    if gear.position == Position::Tail {
        return None;
    }
    let share = wheel_share(ground, gear);
    let (aft, up) = aft_and_up(ground, share);
    let loads =
        gear.wheels().iter().map(|w| load(w.side, aft, Force::default(), up, LoadPoint::Ground)).collect();
    let mut notes = vec![
        "Spin-up drag up to friction × vertical needs the wheel's inertia and the touch-down speed; the rule's least drag is used."
            .to_owned(),
    ];
    let share_term = if gear.position == Position::Main {
        notes.push("Main wheels with the nose or tail wheel just clear.".to_owned());
        Term::new("s", "share on one main wheel", Amount::Number(share))
    } else {
        notes.push(
            "The pitch that drag adds to the nose wheel's load needs the c.g.'s height and is left out."
                .to_owned(),
        );
        ground.share_term(gear)
    };
    let working = Working {
        formula: "up = s (n − L) W; aft = s 0.25 n W".into(),
        terms: vec![ground.weight_term(), ground.inertia_term(), ground.lift_term(), share_term],
        notes,
    };
    Some((loads, working))
}
