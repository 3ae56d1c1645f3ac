//! The wood shears between its plies: its shear stress at ultimate load reaches its rolling shear strength.
//!
//! τ = 1.5 V/(b h), b the board's width square to the span, h its thickness with the doubler; margin = f_r / (factor × τ) − 1. The
//! strength is that of the way the face grain runs; solid wood has its shear strength along the grain. Only for a board whose span
//! is given. Source: elementary bending; the wood's row; 14 CFR 23.303 before amendment 23-64 (from memory).

use super::wood::{Strength, find};
use super::{Check, Scope, Subject, margin};
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Force;

pub(super) const CHECK: Check = Check {
    id: "wood-shear",
    words: "shears between its plies",
    scope: Scope::Case(run),
    fails: Some(PartKind::Wood),
    special: 1.0,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.ultimate.mount) else { return Vec::new() };
    let (Some(span), Some(wood)) = (&mount.span, &state.wood) else { return Vec::new() };
    let factor = subject.project.landing.ultimate_factor;
    let shear = wood.shear / factor;
    if shear <= Force::default() {
        return Vec::new();
    }
    let stress = 1.5 * shear / (wood.breadth * wood.depth);
    let mut m = margin(&CHECK, subject, case, "wood", Amount::Stress(stress));
    m.factor = factor;
    m.source = "14 CFR 23.303".into();
    m.working.formula =
        "τ = 1.5 V/(b h); margin = f_r / (factor × τ) − 1, V at ultimate load over the factor".into();
    m.working.terms = vec![
        Term::new("V", "shear force square to its face", Amount::Force(shear)),
        Term::new("b", "width of the board square to its span", Amount::Length(wood.breadth)),
        Term::new("h", "thickness, doubler included", Amount::Length(wood.depth)),
        Term::new("τ", "shear stress in its middle", Amount::Stress(stress)),
    ];
    match find(mount, span, Strength::Shear) {
        Ok(found) => vec![found.judge(m, mount, span, "f_r")],
        Err(why) => vec![m.untold(why)],
    }
}
