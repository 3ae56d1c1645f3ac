//! Braking while rolling: main wheels, nose wheel clear.
//!
//! Up 1.33 W shared by the main wheels, aft friction × up at the ground.
//! Source: 14 CFR 23.493 (before amendment 23-64); friction 0.8 unless the file says otherwise.

use super::{Ground, Rule, Ruled, load};
use crate::model::{CaseId, Gear, LoadPoint, Position};
use crate::results::{Amount, Term, Working};
use crate::units::Force;

/// Vertical load factor. Source: 14 CFR 23.493(a).
const VERTICAL: f64 = 1.33;

pub(super) const BRAKED_ROLL: Rule =
    Rule { case: CaseId::BrakedRoll, source: "14 CFR 23.493 (before amendment 23-64)", loads };

fn loads(ground: &Ground<'_>, gear: &Gear) -> Ruled {
    if gear.position != Position::Main {
        return None;
    }
    let friction = ground.project.landing.friction;
    let up = VERTICAL / ground.wheels_at(Position::Main) * ground.weight;
    let loads = gear
        .wheels()
        .iter()
        .map(|w| load(w.side, friction * up, Force::default(), up, LoadPoint::Ground))
        .collect();
    let working = Working {
        formula: "up = 1.33 W / number of main wheels; aft = μ up".into(),
        terms: vec![ground.weight_term(), Term::new("μ", "friction", Amount::Number(friction))],
        notes: vec!["With weak brakes, or none, less: the brake's torque caps the drag.".to_owned()],
    };
    Some((loads, working))
}
