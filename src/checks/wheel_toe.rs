//! A wheel turns in toe further than the user allows at limit load.
//!
//! Toe change is the wheel's rotation about the upright axis. Source: the user's own limit (`gear.NAME.limits.toe`).

use super::{Check, Scope, Subject, margin};
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Angle;

pub(super) const CHECK: Check =
    Check { id: "wheel-toe", words: "toes too far", scope: Scope::Case(run), fails: None, special: 1.0 };

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let Some(limit) = subject.gear.limits.toe else { return Vec::new() };
    let mut found = Vec::new();
    for wheel in &case.limit.wheels {
        let [_, _, turn] = wheel.rotation;
        let turn = turn.abs();
        if turn <= Angle::default() {
            continue;
        }
        let mut m = margin(&CHECK, subject, case, format!("{} wheel", wheel.side), Amount::Angle(turn));
        m.allowable = Some(Amount::Angle(limit));
        m.source = "your limit".into();
        m.working.formula = "margin = limit / toe change − 1".into();
        m.working.terms = vec![
            Term::new(
                "toe change",
                "turn of the wheel about the upright axis at limit load",
                Amount::Angle(turn),
            ),
            Term::new("limit", "your limit", Amount::Angle(limit)),
        ];
        found.push(m.decided());
    }
    found
}
