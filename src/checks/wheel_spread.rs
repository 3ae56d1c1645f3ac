//! The wheels spread further than the user allows at limit load.
//!
//! Pair: growth of the distance between the wheels' contact points. One wheel: its sideways travel.
//! Source: the user's own limit (`gear.NAME.limits.spread`).

use super::{Check, Scope, Subject, margin};
use crate::model::Arms;
use crate::results::{Amount, CaseResult, GearState, Margin, Term};
use crate::units::Length;

pub(super) const CHECK: Check =
    Check { id: "wheel-spread", words: "spread too far", scope: Scope::Case(run), fails: None, special: 1.0 };

/// How far the wheels of a state have spread.
fn spread(gear_arms: Arms, state: &GearState) -> Length {
    let sideways = |i: usize| {
        state.wheels.get(i).map_or_else(Length::default, |w| {
            let [_, y, _] = w.displacement;
            y
        })
    };
    match gear_arms {
        Arms::Pair { .. } => sideways(1) - sideways(0),
        Arms::Single | Arms::Twin { .. } => sideways(0).abs(),
    }
}

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let Some(limit) = subject.gear.limits.spread else { return Vec::new() };
    let moved = spread(subject.gear.arms, &case.limit);
    if moved <= Length::default() {
        return Vec::new();
    }
    let mut m = margin(&CHECK, subject, case, "wheels", Amount::Length(moved));
    m.allowable = Some(Amount::Length(limit));
    m.source = "your limit".into();
    m.working.formula = "margin = limit / spread − 1".into();
    m.working.terms = vec![
        Term::new("spread", "growth of the track at limit load", Amount::Length(moved)),
        Term::new("limit", "your limit", Amount::Length(limit)),
    ];
    vec![m.decided()]
}
