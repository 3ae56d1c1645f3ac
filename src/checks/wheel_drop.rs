//! A wheel comes up further than the user allows at limit load, and the aircraft comes down by as much.
//!
//! Source: the user's own limit (`gear.NAME.limits.drop`).

use super::{Check, Scope, Subject, margin};
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Length;

pub(super) const CHECK: Check =
    Check { id: "wheel-drop", words: "comes up too far", scope: Scope::Case(run), fails: None, special: 1.0 };

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let Some(limit) = subject.gear.limits.drop else { return Vec::new() };
    let mut found = Vec::new();
    for wheel in &case.limit.wheels {
        let [_, _, up] = wheel.displacement;
        if up <= Length::default() {
            continue;
        }
        let mut m = margin(&CHECK, subject, case, format!("{} wheel", wheel.side), Amount::Length(up));
        m.allowable = Some(Amount::Length(limit));
        m.source = "your limit".into();
        m.working.formula = "margin = limit / travel − 1".into();
        m.working.terms = vec![
            Term::new("travel", "how far the wheel comes up at limit load", Amount::Length(up)),
            Term::new("limit", "your limit", Amount::Length(limit)),
        ];
        found.push(m.decided());
    }
    found
}
