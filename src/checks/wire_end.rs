//! A wire's end lets go: the tension at ultimate load, with the fitting factor, reaches what the end holds.
//!
//! margin = e F_b / (factor × T) − 1, e the end's share of the wire's breaking load; a thread's is its root area over
//! the wire's. Source: the end's row; fitting factor 1.15, 14 CFR 23.625(a) before amendment 23-64.

use super::{Check, FITTING_FACTOR, Scope, Subject, margin};
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Force;

pub(super) const CHECK: Check = Check {
    id: "wire-end",
    words: "lets go",
    scope: Scope::Case(run),
    fails: Some(PartKind::Wires),
    special: FITTING_FACTOR,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let ultimate = subject.project.landing.ultimate_factor;
    let factor = ultimate * FITTING_FACTOR;
    let mut found = Vec::new();
    for wire in case.ultimate.wires.iter().filter(|w| w.tension > Force::default()) {
        let Some(brace) = subject.gear.braces.get(wire.brace) else { continue };
        let Ok(load) = brace.wire.breaking_load(brace.diameter) else { continue };
        let held = &brace.end_holds;
        let applied = wire.tension / ultimate;
        let mut m = margin(&CHECK, subject, case, format!("{} wire end", wire.name), Amount::Force(applied));
        m.factor = factor;
        m.allowable = Some(Amount::Force(held.value * load.value));
        m.basis = Some(held.basis.max(load.basis));
        m.source = format!("14 CFR 23.303, 23.625(a); {}; {}", held.source, load.source);
        m.working.formula =
            "factor = ultimate factor × 1.15 (fitting); margin = e F_b / (factor × T) − 1, T the tension at ultimate load over the ultimate factor"
                .into();
        m.working.terms = vec![
            Term::new("F_b", "breaking load of the wire", Amount::Force(load.value)),
            Term::new("e", format!("share a {} end holds", brace.end.name), Amount::Number(held.value)),
            Term::new("T", "tension", Amount::Force(applied)),
        ];
        if let Some(thread) = &brace.thread {
            m.working.terms.push(Term::new(
                "d₃",
                format!("root of {}", thread.name),
                Amount::Length(thread.minor_diameter()),
            ));
        }
        found.push(m.decided());
    }
    found
}
