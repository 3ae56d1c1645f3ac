//! A rut or long grass.
//!
//! Main and nose wheels: the static load up and a stated multiple of it aft, at the axle: our own case, common
//! practice, no source. Tail wheel: the tail-down reaction acting up and aft at 45° through the axle.
//! Source: 14 CFR 23.497(a) (before amendment 23-64).

use super::{Ground, Rule, Ruled, load, tail_down};
use crate::model::{CaseId, Gear, LoadPoint, Position};
use crate::results::{Amount, Term, Working};
use crate::units::Force;
use std::f64::consts::FRAC_1_SQRT_2;

pub(super) const OBSTACLE: Rule = Rule {
    case: CaseId::Obstacle,
    source: "common practice, no source (main and nose wheels); 14 CFR 23.497(a) before amendment 23-64 (tail wheel)",
    loads,
};

fn loads(ground: &Ground<'_>, gear: &Gear) -> Ruled {
    let (aft, up, working) = if gear.position == Position::Tail {
        let (reaction, share) = tail_down::reaction(ground, gear);
        let part = FRAC_1_SQRT_2 * reaction;
        let working = Working {
            formula: "reaction s (n − L) W, up and aft at 45°, at the axle".into(),
            terms: vec![ground.weight_term(), ground.inertia_term(), ground.lift_term(), share],
            notes: Vec::new(),
        };
        (part, part, working)
    } else {
        let rest = ground.static_load(gear);
        let multiple = ground.project.landing.obstacle_drag;
        let working = Working {
            formula: "up = s W; aft = k s W, at the axle".into(),
            terms: vec![
                ground.weight_term(),
                ground.share_term(gear),
                Term::new("k", "drag over the static wheel load (obstacle_drag)", Amount::Number(multiple)),
            ],
            notes: Vec::new(),
        };
        (multiple * rest, rest, working)
    };
    let loads =
        gear.wheels().iter().map(|w| load(w.side, aft, Force::default(), up, LoadPoint::Axle)).collect();
    Some((loads, working))
}
