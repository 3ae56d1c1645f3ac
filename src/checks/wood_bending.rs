//! The wood breaks between its formers: its bending stress at ultimate load reaches its bending strength.
//!
//! σ = 6 M/(b h²), b the board's width square to the span, h its thickness with the doubler; margin = f_m / (factor × σ) − 1. The
//! strength is that of the way the face grain runs. Only for a board whose span is given.
//! Source: elementary bending; the wood's row; 14 CFR 23.303 before amendment 23-64 (from memory).

use super::wood::{Strength, find};
use super::{Check, Scope, Subject, margin};
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Moment;

pub(super) const CHECK: Check = Check {
    id: "wood-bending",
    words: "breaks in bending",
    scope: Scope::Case(run),
    fails: Some(PartKind::Wood),
    special: 1.0,
};

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.ultimate.mount) else { return Vec::new() };
    let (Some(span), Some(wood)) = (&mount.span, &state.wood) else { return Vec::new() };
    let factor = subject.project.landing.ultimate_factor;
    let bending = wood.bending / factor;
    if bending <= Moment::default() {
        return Vec::new();
    }
    let stress = 6.0 * bending / (wood.breadth * wood.depth * wood.depth);
    let mut m = margin(&CHECK, subject, case, "wood", Amount::Stress(stress));
    m.factor = factor;
    m.source = "14 CFR 23.303".into();
    m.working.formula =
        "σ = 6 M/(b h²); margin = f_m / (factor × σ) − 1, M at ultimate load over the factor".into();
    m.working.terms = vec![
        Term::new("x", "where, along the span from the base's centre", Amount::Length(wood.bending_at)),
        Term::new("M", "bending moment", Amount::Moment(bending)),
        Term::new("b", "width of the board square to its span", Amount::Length(wood.breadth)),
        Term::new("h", "thickness, doubler included", Amount::Length(wood.depth)),
        Term::new("σ", "bending stress", Amount::Stress(stress)),
    ];
    match find(mount, span, Strength::Bending) {
        Ok(found) => vec![found.judge(m, mount, span, "f_m")],
        Err(why) => vec![m.untold(why)],
    }
}
