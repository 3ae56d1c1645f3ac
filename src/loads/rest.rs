//! No load on the wheels: what tight wires alone do to the gear.
//!
//! Applies to gears with pretension, whatever landings are asked for: a landing may ease what the wires do at rest. No rule: the
//! gear has to stand what its builder did to it.

use super::{Ground, Rule, Ruled, load};
use crate::model::{CaseId, Gear, LoadPoint, WireFit};
use crate::results::Working;
use crate::units::Force;

pub(super) const REST: Rule = Rule { case: CaseId::Rest, source: "no rule: the wires' own pull", loads };

fn loads(_: &Ground<'_>, gear: &Gear) -> Ruled {
    let tight = |fit| matches!(fit, WireFit::Pretension(pull) if pull > Force::default());
    if !gear.braces.iter().any(|b| tight(b.fit)) {
        return None;
    }
    let none = Force::default();
    let loads = gear.wheels().iter().map(|w| load(w.side, none, none, none, LoadPoint::Ground)).collect();
    Some((loads, Working { formula: "no load on the wheels".into(), ..Working::default() }))
}
