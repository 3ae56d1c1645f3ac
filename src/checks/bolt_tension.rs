//! A bolt breaks: its pull at ultimate load, preload and prying included, with the fitting factor, reaches its breaking load.
//!
//! margin = A_s f_ub / (factor × F) − 1. Source: ISO 898-1:2013, minimum ultimate tensile loads, or the class's row; 14 CFR 23.303
//! (from memory), 23.625(a) before amendment 23-64.

use super::bolt::{area_term, basis, decided, load_at};
use super::{Check, FITTING_FACTOR, Scope, Subject, margin};
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Force;

pub(super) const CHECK: Check = Check {
    id: "bolt-tension",
    words: "breaks",
    scope: Scope::Case(run),
    fails: Some(PartKind::Bolts),
    special: FITTING_FACTOR,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.ultimate.mount) else { return Vec::new() };
    let ultimate = subject.project.landing.ultimate_factor;
    let class = &mount.bolt_class;
    let strength = &class.ultimate;
    let mut found = Vec::new();
    for bolt in state.bolts.iter().filter(|b| b.tension > Force::default()) {
        let applied = bolt.tension / ultimate;
        let mut m = margin(&CHECK, subject, case, format!("bolt {}", bolt.name), Amount::Force(applied));
        m.factor = ultimate * FITTING_FACTOR;
        m.basis = Some(basis(mount, strength));
        m.source = format!("14 CFR 23.303, 23.625(a); {}", strength.source);
        m.working.formula =
            "factor = ultimate factor × 1.15 (fitting); margin = A_s f_ub / (factor × F) − 1, F the pull at \
                             ultimate load over the ultimate factor"
                .into();
        m.working.terms = vec![
            area_term(mount),
            Term::new(
                "f_ub",
                format!("tensile strength of class {}", class.name),
                Amount::Stress(strength.value),
            ),
            Term::new("F", "pull in the bolt, preload and prying included", Amount::Force(applied)),
        ];
        found.push(decided(m, class, |strength| Amount::Force(load_at(mount, strength))));
    }
    found
}
