//! Another part gives before the one that is meant to: the builder's own wish, held against the order in which parts give.
//!
//! margin = λ_o / λ_d − 1, λ_d the multiple of the limit loads at which the first part of the kind that is meant to give first
//! gives, λ_o that of the first part of any other kind. Not a rule of any standard.

use super::{Check, Scope, Subject};
use crate::model::PartKind;
use crate::results::{Amount, FailureOrder, Margin, PartFailure, Term, Verdict, Working};

pub(super) const CHECK: Check = Check {
    id: "give-first",
    words: "not the first to give",
    scope: Scope::Order(run),
    fails: None,
    special: 1.0,
};

fn run(subject: &Subject<'_>, order: &FailureOrder) -> Vec<Margin> {
    let Some(meant) = subject.gear.meant_to_give(order.case.known()) else { return Vec::new() };
    // That the whole gear gives way comes of one of its parts, whichever gave before.
    let first = |wanted: &dyn Fn(PartKind) -> bool| -> Option<&PartFailure> {
        order.failures.iter().find(|f| f.kind.is_some_and(wanted))
    };
    let meant_first = first(&|kind| kind == meant);
    let other = first(&|kind| kind != meant);
    let followed = order.limit.multiple;
    let mut m = Margin {
        check: CHECK.id,
        gear: subject.gear.name.clone(),
        part: meant.id().to_owned(),
        case: Some(order.case.clone()),
        applied: Amount::Number(meant_first.map_or(followed, |f| f.multiple)),
        allowable: Some(Amount::Number(other.map_or(followed, |f| f.multiple))),
        factor: 1.0,
        verdict: Verdict::Holds,
        basis: None,
        source: "give_first in the project file".into(),
        working: Working {
            formula: "margin = λ_o / λ_d − 1, multiples of the limit loads".into(),
            terms: Vec::new(),
            notes: Vec::new(),
        },
    };
    let mut told = |symbol, what: &str, failure: Option<&PartFailure>| {
        if let Some(f) = failure {
            let part = format!("{what}: {} {}", f.part, f.words);
            m.working.terms.push(Term::new(symbol, part, Amount::Number(f.multiple)));
        }
    };
    told("λ_d", "the part that is meant to give first", meant_first);
    told("λ_o", "the first of the others", other);
    vec![match (meant_first, other) {
        (Some(_), _) => m.decided(),
        (None, Some(_)) => {
            m.working.notes.push("It does not give at all in what was followed; another part does.".into());
            m.verdict = Verdict::Fails;
            m
        }
        (None, None) => m.untold("nothing gives in what was followed"),
    }]
}
