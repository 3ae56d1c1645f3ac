//! The wood is crushed by the plate: the pressure between them at limit load, with the fitting factor, reaches three times the wood's
//! compression strength square to its face.
//!
//! margin = 3 f_c,90 / (1.15 p) − 1. The pressure is that of the elastic wood, largest in the narrow strip under the edge that the
//! plate levers over, where the wood around holds on to what is pressed: what holds under a washer. From f_c,90 on it takes a dent.
//! Source: EN 1995-1-1 8.5.2(2), 3.0 f_c,90,k on the contact area of a washer (from memory); bearing on a joined member, 14 CFR
//! 23.305(a), 23.625(a) before amendment 23-64; the wood's row.

use super::wood::note;
use super::{Check, FITTING_FACTOR, Scope, Subject, margin};
use crate::material::Basis;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Stress;

pub(super) const CHECK: Check = Check {
    id: "wood-crush",
    words: "is crushed by the plate's edge",
    scope: Scope::Case(run),
    // A dent ends where the edge has bedded in: nothing lets go.
    fails: None,
    special: FITTING_FACTOR,
};

/// How much more wood holds in a small place that the wood around it props. Source: EN 1995-1-1 8.5.2(2) (from memory).
const LOCAL: f64 = 3.0;

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.limit.mount) else { return Vec::new() };
    let bed = &state.bed;
    if bed.pressure <= Stress::default() {
        return Vec::new();
    }
    let mut m = margin(&CHECK, subject, case, "wood", Amount::Stress(bed.pressure));
    m.factor = FITTING_FACTOR;
    m.source = "14 CFR 23.305(a), 23.625(a); EN 1995-1-1 8.5.2(2) (from memory)".into();
    let wood = &mount.wood;
    let Some(strength) = &wood.compression_across else {
        let why = format!("the tables give no compression strength of {} square to its face", wood.name);
        return vec![m.untold(why)];
    };
    let [aft, starboard] = bed.pressure_at;
    m.allowable = Some(Amount::Stress(LOCAL * strength.value));
    m.basis = Some(strength.basis.max(Basis::FromMemory));
    m.source = format!("{}; {}", m.source, strength.source);
    m.working.formula = "margin = 3 f_c,90 / (1.15 (fitting) × p) − 1".into();
    m.working.terms = vec![
        Term::new("x", "where, behind the base's centre", Amount::Length(aft)),
        Term::new("y", "where, to starboard of it", Amount::Length(starboard)),
        Term::new("p", "largest pressure of the plate on the wood", Amount::Stress(bed.pressure)),
        Term::new("f_c,90", "compression strength square to the face", Amount::Stress(strength.value)),
    ];
    m.working.notes.push(
        if bed.pressure > strength.value {
            "The edge leaves a dent, for the pressure is above f_c,90 itself: bolts come loose there. Tighten them again, or round the edge."
        } else {
            "No dent: the pressure is below f_c,90 itself."
        }
        .into(),
    );
    m.working.notes.push(note(strength.basis).into());
    vec![m.decided()]
}
