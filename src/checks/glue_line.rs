//! The wood comes off a former: the stress in its glue line at ultimate load, with the fitting factor, reaches the glue's strength.
//!
//! σ = √(P² + V_x² + V_y²)/A, P the pull down on the former, V the shears along it; margin = f / (factor × σ) − 1. Pushed up against
//! its former the board needs no glue. The moment of a clamped end peels and is not in it. Only where glue area and strength are given.
//! Source: 14 CFR 23.303 (from memory), 23.625(a) before amendment 23-64; the strength is the builder's own.

use super::{Check, FITTING_FACTOR, Scope, Subject, margin};
use crate::material::Basis;
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, FormerEnd, Margin, Term};
use crate::units::{Force, Moment};

pub(super) const CHECK: Check = Check {
    id: "glue-line",
    words: "comes off its former",
    scope: Scope::Case(run),
    fails: Some(PartKind::Wood),
    special: FITTING_FACTOR,
};

const fn part(end: FormerEnd) -> &'static str {
    match end {
        FormerEnd::Forward => "forward end of the wood",
        FormerEnd::Aft => "aft end of the wood",
        FormerEnd::Port => "port end of the wood",
        FormerEnd::Starboard => "starboard end of the wood",
    }
}

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.ultimate.mount) else { return Vec::new() };
    let (Some(glue), Some(wood)) = (&mount.glue, &state.wood) else { return Vec::new() };
    let ultimate = subject.project.landing.ultimate_factor;
    let mut found = Vec::new();
    for former in &wood.formers {
        let [aft, starboard, up] = former.force.map(|f| f / ultimate);
        let pull = (-up).max(Force::default());
        let force = (pull * pull + aft * aft + starboard * starboard).sqrt();
        if force <= Force::default() {
            continue;
        }
        let stress = force / glue.area;
        let mut m = margin(&CHECK, subject, case, part(former.end), Amount::Stress(stress));
        m.factor = ultimate * FITTING_FACTOR;
        m.allowable = Some(Amount::Stress(glue.strength));
        m.basis = Some(Basis::Told);
        m.source = "14 CFR 23.303, 23.625(a); your `glue_strength`".into();
        m.working.formula =
            "σ = √(P² + V_x² + V_y²)/A; factor = ultimate factor × 1.15 (fitting); margin = f / (factor × σ) − 1, \
                             forces at ultimate load over the ultimate factor"
                .into();
        m.working.terms = vec![
            Term::new("P", "pull down on the former", Amount::Force(pull)),
            Term::new("V_x", "shear fore and aft", Amount::Force(aft)),
            Term::new("V_y", "shear athwart", Amount::Force(starboard)),
            Term::new("A", "glued area at the former", Amount::Area(glue.area)),
            Term::new("σ", "stress in the glue, evenly spread", Amount::Stress(stress)),
            Term::new("f", "strength of the glue", Amount::Stress(glue.strength)),
        ];
        m.working.notes.push(
            "A board below its former is taken, that a push up only presses home. One that lies on top of its former, or between \
             formers, is loaded by that push too."
                .into(),
        );
        if former.moment > Moment::default() {
            m.working
                .notes
                .push("The moment of the clamped end peels at the glue. It is not counted: a fillet or screws have to take it.".into());
        }
        found.push(m.decided());
    }
    found
}
