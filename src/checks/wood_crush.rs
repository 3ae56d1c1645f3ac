//! The wood is dented by the plate: the pressure between them at limit load, with the fitting factor, reaches the wood's compression
//! strength square to its face.
//!
//! margin = f_c,90 / (1.15 p) − 1. The pressure is that of the elastic wood, largest under the edge that the plate levers over; a
//! dent spreads it. Source: bearing on a joined member, 14 CFR 23.305(a), 23.625(a) before amendment 23-64; the wood's row.

use super::wood::note;
use super::{Check, FITTING_FACTOR, Scope, Subject, margin};
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Stress;

pub(super) const CHECK: Check = Check {
    id: "wood-crush",
    words: "is dented by the plate's edge",
    scope: Scope::Case(run),
    fails: Some(PartKind::Wood),
    special: FITTING_FACTOR,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.limit.mount) else { return Vec::new() };
    let bed = &state.bed;
    if bed.pressure <= Stress::default() {
        return Vec::new();
    }
    let mut m = margin(&CHECK, subject, case, "wood", Amount::Stress(bed.pressure));
    m.factor = FITTING_FACTOR;
    m.source = "14 CFR 23.305(a), 23.625(a)".into();
    let wood = &mount.wood;
    let Some(strength) = &wood.compression_across else {
        let why = format!("the tables give no compression strength of {} square to its face", wood.name);
        return vec![m.untold(why)];
    };
    let [aft, starboard] = bed.pressure_at;
    m.allowable = Some(Amount::Stress(strength.value));
    m.basis = Some(strength.basis);
    m.source = format!("{}; {}", m.source, strength.source);
    m.working.formula = "margin = f_c,90 / (1.15 (fitting) × p) − 1".into();
    m.working.terms = vec![
        Term::new("x", "where, behind the base's centre", Amount::Length(aft)),
        Term::new("y", "where, to starboard of it", Amount::Length(starboard)),
        Term::new("p", "largest pressure of the plate on the wood", Amount::Stress(bed.pressure)),
        Term::new("f_c,90", "compression strength square to the face", Amount::Stress(strength.value)),
    ];
    m.working.notes.push(
        "The pressure is that of elastic wood, piece by piece. A dent spreads it: it loosens the bolts before it breaks anything."
            .into(),
    );
    m.working.notes.push(note(strength.basis).into());
    vec![m.decided()]
}
