//! A bolt shears off: what the plate puts on it sideways at ultimate load, with the fitting factor, reaches its shear strength.
//!
//! margin = α_v f_ub A_s / (factor × V) − 1, α_v = 0.6 for classes 4.6, 5.6 and 8.8, 0.5 for the others; the thread is taken to lie
//! where plate and wood meet. Characteristic value: the standard's γ_M2 is left out, for the factors of the landing rules stand in
//! its place. Friction is not counted on. Source: EN 1993-1-8 table 3.4 (secondary); 14 CFR 23.303 (from memory), 23.625(a) before
//! amendment 23-64.

use super::bolt::{TRACE, area_term, basis, decided, load_at};
use super::{Check, FITTING_FACTOR, Scope, Subject, margin};
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Force;

pub(super) const CHECK: Check = Check {
    id: "bolt-shear",
    words: "shears off",
    scope: Scope::Case(run),
    fails: Some(PartKind::Bolts),
    special: FITTING_FACTOR,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.ultimate.mount) else { return Vec::new() };
    let ultimate = subject.project.landing.ultimate_factor;
    let class = &mount.bolt_class;
    let strength = &class.ultimate;
    let share = class.shear_factor();
    let mut found = Vec::new();
    for bolt in &state.bolts {
        let applied = bolt.shear_size() / ultimate;
        if applied <= Force::default() || applied <= TRACE * (bolt.tension / ultimate) {
            continue;
        }
        let mut m = margin(&CHECK, subject, case, format!("bolt {}", bolt.name), Amount::Force(applied));
        m.factor = ultimate * FITTING_FACTOR;
        m.basis = Some(basis(mount, strength));
        m.source =
            format!("14 CFR 23.303, 23.625(a); EN 1993-1-8 table 3.4 (secondary); {}", strength.source);
        m.working.formula = "factor = ultimate factor × 1.15 (fitting); margin = α_v f_ub A_s / (factor × V) − 1, V the shear at \
                             ultimate load over the ultimate factor"
            .into();
        m.working.terms = vec![
            area_term(mount),
            Term::new(
                "f_ub",
                format!("tensile strength of class {}", class.name),
                Amount::Stress(strength.value),
            ),
            Term::new("α_v", "shear strength over tensile strength, thread cut", Amount::Number(share)),
            Term::new("V", "shear on the bolt", Amount::Force(applied)),
        ];
        m.working.notes.push(
            "The thread is taken to lie where plate and wood meet, and friction is not counted on. Without the standard's \
             γ_M2: the factors of the landing rules stand in its place."
                .into(),
        );
        if !class.has_listed_shear_factor() {
            m.working.notes.push("The table doesn't name this class: its lower α_v is taken.".into());
        }
        found.push(decided(m, class, |strength| Amount::Force(share * load_at(mount, strength))));
    }
    found
}
