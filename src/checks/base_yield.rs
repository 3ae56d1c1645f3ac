//! The flat centre stays bent: its largest equivalent stress reaches the yield strength at limit load.
//!
//! σ = N/A ± M_f/W_f ± M_e/W_e at the point, σ_v = √(σ² + 3 τ²), the whole section without its holes; margin = σ_y / σ_v − 1.
//! Holes are the business of `base-net-section`: yield on the gross section, breaking on the net one.
//! Source: no detrimental permanent deformation at limit load, 14 CFR 23.305(a) before amendment 23-64; von Mises' criterion.

use super::leg_yield::at_peak;
use super::{Check, Scope, Subject, margin};
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, Term};

pub(super) const CHECK: Check = Check {
    id: "base-yield",
    words: "stays bent",
    scope: Scope::Case(run),
    fails: Some(PartKind::Legs),
    special: 1.0,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let Some(state) = &case.limit.mount else { return Vec::new() };
    let p = &state.plate_peak;
    let m = margin(&CHECK, subject, case, "flat centre", Amount::Stress(p.von_mises));
    let place = Term::new("y", "distance from the flat's port end", Amount::Length(p.along));
    let words = ["width of the plate, holes not taken off", "thickness", "flat"];
    at_peak(m, subject, p, place, words).into_iter().collect()
}
