//! The gear gives way: the highest load on its real load–deflection curve, legs yielding, wires yielding and breaking, everything
//! moved as far as it moves, is less than ultimate load.
//!
//! margin = λ / factor − 1, λ the multiple of the limit loads at the top of the curve.
//! Source: 14 CFR 23.305(b) before amendment 23-64, deflections included as 23.301(c) asks; docs/method.md "Limit load".

use super::{Check, Scope, Subject, margin};
use crate::results::{Amount, CaseResult, CollapseCause, Margin, Term};

pub(super) const CHECK: Check =
    Check { id: "limit-load", words: "gives way", scope: Scope::Case(run), fails: None, special: 1.0 };

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let Some(limit) = case.limit_load else { return Vec::new() };
    let mut m = margin(&CHECK, subject, case, "gear", Amount::Number(1.0));
    m.factor = subject.project.landing.ultimate_factor;
    m.allowable = Some(Amount::Number(limit.multiple));
    m.source = "14 CFR 23.301(c), 23.305(b); top of the load–deflection curve".into();
    m.working.formula =
        "applied: the limit loads, once; margin = λ / factor − 1, λ the multiple of them at the top of the curve".into();
    m.working.terms = vec![Term::new(
        "λ",
        "multiple of the limit loads at the top of the curve",
        Amount::Number(limit.multiple),
    )];
    m.working.notes.push(
        match limit.cause {
            None => "It holds all that was tried: λ is at least this.",
            Some(CollapseCause::Buckling) => "There it buckles, before much has yielded.",
            Some(CollapseCause::PlasticHinge) => {
                "There a leg bends on at a plastic hinge, and the load on it can't rise any more."
            }
            Some(CollapseCause::Travel) => {
                "There the wheels have gone further than a leg's length: it was followed no further."
            }
            Some(CollapseCause::Wire) => {
                "There a wire breaks or its end lets go, and the legs alone don't hold the load."
            }
        }
        .into(),
    );
    let known = subject.gear.plate.yield_strength();
    m.basis = known.map(|y| y.basis);
    // An elastic gear holds more than one that yields: without a yield strength only "too little" can be told.
    let enough = limit.multiple >= m.factor;
    vec![match known {
        None if enough => m.untold("its yield strength is not known; elastic it would hold"),
        _ => m.decided(),
    }]
}
