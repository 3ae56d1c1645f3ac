//! A wire stays longer: its tension reaches the wire's yield at limit load, and the bracing is slack from then on.
//!
//! margin = y F_b / T − 1, y the lower end of the published range of yield over breaking strength.
//! Source: Shigley, table 10-5 (from memory); 14 CFR 23.305(a) before amendment 23-64.

use super::{Check, Scope, Subject, margin};
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Force;

pub(super) const CHECK: Check = Check {
    id: "wire-yield",
    words: "stays stretched",
    scope: Scope::Case(run),
    fails: Some(PartKind::Wires),
    special: 1.0,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let mut found = Vec::new();
    for wire in case.limit.wires.iter().filter(|w| w.tension > Force::default()) {
        let Some(brace) = subject.gear.braces.get(wire.brace) else { continue };
        let (Some(fraction), Ok(load)) =
            (&brace.wire.yield_fraction, brace.wire.breaking_load(brace.diameter))
        else {
            continue;
        };
        let mut m = margin(&CHECK, subject, case, format!("{} wire", wire.name), Amount::Force(wire.tension));
        m.allowable = Some(Amount::Force(fraction.value * load.value));
        m.basis = Some(fraction.basis.max(load.basis));
        m.source = format!("14 CFR 23.305(a); {}; {}", fraction.source, load.source);
        m.working.formula = "margin = y F_b / T − 1".into();
        m.working.terms = vec![
            Term::new("d", "wire diameter", Amount::Length(brace.diameter)),
            Term::new("F_b", "breaking load of the wire", Amount::Force(load.value)),
            Term::new("y", "yield over breaking strength, lower end", Amount::Number(fraction.value)),
            Term::new("T", "tension", Amount::Force(wire.tension)),
        ];
        found.push(m.decided());
    }
    found
}
