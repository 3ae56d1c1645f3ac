//! A bolt stays stretched: its pull at limit load, preload and prying included, with the fitting factor, reaches its proof load.
//!
//! margin = A_s S_p / (1.15 F) − 1, S_p the stress under the proof load; the yield strength of a class without one. A class with
//! neither, as nylon, has nothing to compare with and gets no margin.
//! Source: ISO 898-1:2013, proof loads; 14 CFR 23.305(a), 23.625(a) before amendment 23-64.

use super::bolt::{area_term, basis, load_at};
use super::{Check, FITTING_FACTOR, Scope, Subject, margin};
use crate::model::{PartKind, Preload, TORQUE_SCATTER};
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Force;

pub(super) const CHECK: Check = Check {
    id: "bolt-yield",
    words: "stays stretched",
    scope: Scope::Case(run),
    fails: Some(PartKind::Bolts),
    special: FITTING_FACTOR,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.limit.mount) else { return Vec::new() };
    let Some(strength) = mount.bolt_class.proof_or_yield() else { return Vec::new() };
    let (symbol, what, formula) = if mount.bolt_class.proof.is_some() {
        ("S_p", "stress under the proof load", "factor = 1.15 (fitting); margin = A_s S_p / (factor × F) − 1")
    } else {
        ("σ_y", "yield strength", "factor = 1.15 (fitting); margin = A_s σ_y / (factor × F) − 1")
    };
    let mut found = Vec::new();
    for bolt in state.bolts.iter().filter(|b| b.tension > Force::default()) {
        let mut m = margin(&CHECK, subject, case, format!("bolt {}", bolt.name), Amount::Force(bolt.tension));
        m.factor = FITTING_FACTOR;
        m.allowable = Some(Amount::Force(load_at(mount, strength.value)));
        m.basis = Some(basis(mount, strength));
        m.source = format!("14 CFR 23.305(a), 23.625(a); {}", strength.source);
        m.working.formula = formula.into();
        m.working.terms = vec![
            area_term(mount),
            Term::new(
                symbol,
                format!("{what} of class {}", mount.bolt_class.name),
                Amount::Stress(strength.value),
            ),
            Term::new("F", "pull in the bolt, preload and prying included", Amount::Force(bolt.tension)),
            Term::new("F_i", "preload", Amount::Force(bolt.preload)),
        ];
        if matches!(mount.preload, Some(Preload::Torque(_))) {
            m.working.notes.push(format!(
                "The preload is nominal; a torque may leave {:.0} % more than that in a bolt.",
                100.0 * TORQUE_SCATTER
            ));
        }
        found.push(m.decided());
    }
    found
}
