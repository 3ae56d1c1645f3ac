//! The joint opens: what pulls at a bolt from outside at limit load, with the fitting factor, takes off all that its preload presses.
//!
//! With the joint together a pull P puts C P into the bolt and takes (1 − C) P off what presses; it opens at n₀ P,
//! n₀ = F_i / [(1 − C) P]. margin = F_i / (factor × (1 − C) P) − 1, F_i the least preload. Nothing breaks: an open joint works loose
//! and hammers. Asked only where a preload is stated; plastic bolts keep none, and it can't be told.
//! Source: Shigley eq. 8-29, 8-30 (from memory); scatter of a torque ±35 % as used with NASA-STD-5020 (secondary); 14 CFR 23.625(a)
//! before amendment 23-64.

use super::bolt::TRACE;
use super::{Check, FITTING_FACTOR, Scope, Subject, margin};
use crate::material::Basis;
use crate::model::{Preload, TORQUE_SCATTER};
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Force;

pub(super) const CHECK: Check = Check {
    id: "joint-opens",
    words: "comes off the wood",
    scope: Scope::Case(run),
    fails: None,
    special: FITTING_FACTOR,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.limit.mount) else { return Vec::new() };
    let Some(preload) = mount.preload else { return Vec::new() };
    let mut found = Vec::new();
    for bolt in &state.bolts {
        let pull = bolt.pull();
        let relieved = (1.0 - bolt.share) * pull;
        if relieved <= Force::default() || relieved <= TRACE * bolt.preload {
            continue;
        }
        let part = format!("plate at bolt {}", bolt.name);
        let mut m = margin(&CHECK, subject, case, part, Amount::Force(relieved));
        m.factor = FITTING_FACTOR;
        m.source = "Shigley eq. 8-29, 8-30 (from memory); 14 CFR 23.625(a)".into();
        m.working.formula =
            "n₀ = F_i / [(1 − C) P]; applied = (1 − C) P; factor = 1.15 (fitting); margin = F_i / (factor × applied) − 1".into();
        m.working.terms = vec![
            Term::new("P", "pull at the bolt from outside, prying included", Amount::Force(pull)),
            Term::new(
                "C",
                "share of it that goes into the bolt, k_b / (k_b + k_m)",
                Amount::Number(bolt.share),
            ),
        ];
        if mount.bolt_class.creeps() {
            found.push(m.untold(format!(
                "{} creeps, and the preload is gone within hours: count on an open joint",
                mount.bolt_class.name
            )));
            continue;
        }
        let least = mount.least_preload(bolt.preload);
        m.allowable = Some(Amount::Force(least));
        m.working.terms.extend([
            Term::new("F_nom", "preload as stated, or nominal", Amount::Force(bolt.preload)),
            Term::new("F_i", "least preload", Amount::Force(least)),
            Term::new("n₀", "multiple of P at which it opens", Amount::Number(f64::from(least / relieved))),
        ]);
        match preload {
            Preload::Force(_) => m.basis = Some(Basis::Told),
            Preload::Torque(_) => {
                m.basis = Some(Basis::FromMemory);
                m.working.terms.push(Term::new(
                    "s",
                    "scatter of a torque, F_i = (1 − s) F_nom",
                    Amount::Number(TORQUE_SCATTER),
                ));
            }
        }
        m.working
            .notes
            .push("Nothing breaks when it opens, but it works loose; look at the bolts then.".into());
        found.push(m.decided());
    }
    found
}
