//! A wire breaks: its tension at ultimate load reaches its breaking load.
//!
//! margin = F_b / (factor × T) − 1, T the tension at ultimate load over the factor: with slack or pretension that is
//! not the tension at limit load. Source: the wire's row; 14 CFR 23.303 before amendment 23-64 (from memory).

use super::{Check, Scope, Subject, margin};
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Force;

pub(super) const CHECK: Check = Check {
    id: "wire-break",
    words: "breaks",
    scope: Scope::Case(run),
    fails: Some(PartKind::Wires),
    special: 1.0,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let factor = subject.project.landing.ultimate_factor;
    let mut found = Vec::new();
    for wire in case.ultimate.wires.iter().filter(|w| w.tension > Force::default()) {
        let Some(brace) = subject.gear.braces.get(wire.brace) else { continue };
        let Ok(load) = brace.wire.breaking_load(brace.diameter) else { continue };
        let applied = wire.tension / factor;
        let mut m = margin(&CHECK, subject, case, format!("{} wire", wire.name), Amount::Force(applied));
        m.factor = factor;
        m.allowable = Some(Amount::Force(load.value));
        m.basis = Some(load.basis);
        m.source = format!("14 CFR 23.303; {}", load.source);
        m.working.formula =
            "margin = F_b / (factor × T) − 1, T the tension at ultimate load over the factor".into();
        m.working.terms = vec![
            Term::new("d", "wire diameter", Amount::Length(brace.diameter)),
            Term::new("F_b", "breaking load of the wire", Amount::Force(load.value)),
            Term::new("T", "tension", Amount::Force(applied)),
        ];
        found.push(m.decided());
    }
    found
}
