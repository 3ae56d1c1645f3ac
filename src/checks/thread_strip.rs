//! A thread strips: the pull in a bolt at ultimate load, with the fitting factor, shears off the weaker of its thread and the nut's.
//!
//! margin = 0.577 f_u (π/2) d₂ L_e / (factor × F) − 1, d₂ the pitch diameter, L_e the length of thread in the nut, f_u the tensile
//! strength of the weaker metal. Both threads shear in the same area by this rule, so the nut's strips unless the bolt is weaker,
//! as nylon is. One rule, two checks, because the part that gives is another one.
//! Source: FED-STD-H28 (from memory); captive nuts as mild steel of 400 MPa (common practice, no source); 14 CFR 23.303 (from memory),
//! 23.625(a) before amendment 23-64.

use super::bolt::{basis, decided};
use super::{Check, FITTING_FACTOR, Scope, Subject, margin};
use crate::material::{Basis, SHEAR_OF_TENSILE, Sourced, captive_nut_strength};
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::{Force, Stress};

/// The nut's own thread strips.
pub(super) const NUT: Check = Check {
    id: "thread-strips",
    words: "strips its thread",
    scope: Scope::Case(nuts),
    fails: Some(PartKind::Nuts),
    special: FITTING_FACTOR,
};

/// The bolt's thread strips, for bolts weaker than the nuts.
pub(super) const BOLT: Check = Check {
    id: "bolt-thread-strips",
    words: "strips its thread",
    scope: Scope::Case(bolts),
    fails: Some(PartKind::Bolts),
    special: FITTING_FACTOR,
};

fn nuts(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    run(subject, case, &NUT)
}

fn bolts(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    run(subject, case, &BOLT)
}

/// The margins of one of the two checks; none when it is the other thread that strips.
fn run(subject: &Subject<'_>, case: &CaseResult, check: &Check) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.ultimate.mount) else { return Vec::new() };
    let ultimate = subject.project.landing.ultimate_factor;
    let class = &mount.bolt_class;
    let nut = captive_nut_strength();
    let of_bolt = &class.ultimate;
    let stress = |strength: &Sourced<Stress>| strength.value;
    let bolt_strips = stress(of_bolt) < stress(&nut);
    if bolt_strips != (check.fails == Some(PartKind::Bolts)) {
        return Vec::new();
    }
    let strength = if bolt_strips { of_bolt } else { &nut };
    let metal = if bolt_strips { format!("class {}", class.name) } else { "the nut".to_owned() };
    let engaged = mount.thread_in_nut();
    let area = mount.bolt.stripping_area(engaged);
    let allowable = |strength: Stress| Amount::Force(SHEAR_OF_TENSILE * strength * area);
    let mut found = Vec::new();
    for bolt in state.bolts.iter().filter(|b| b.tension > Force::default()) {
        let applied = bolt.tension / ultimate;
        let part = format!("{} {}", if bolt_strips { "bolt" } else { "nut" }, bolt.name);
        let mut m = margin(check, subject, case, part, Amount::Force(applied));
        m.factor = ultimate * FITTING_FACTOR;
        // Rule and share of shear are recalled, whatever the strength is.
        m.basis = Some(basis(mount, strength).max(Basis::FromMemory));
        m.source = format!("14 CFR 23.303, 23.625(a); FED-STD-H28 (from memory); {}", strength.source);
        m.working.formula = "A = (π/2) d₂ L_e; factor = ultimate factor × 1.15 (fitting); margin = 0.577 f_u A / (factor × F) − 1, F the \
                             pull at ultimate load over the ultimate factor"
            .into();
        m.working.terms = vec![
            Term::new(
                "d₂",
                format!("pitch diameter of {}", mount.bolt.name),
                Amount::Length(mount.bolt.pitch_diameter()),
            ),
            Term::new("L_e", "length of thread in the nut", Amount::Length(engaged)),
            Term::new("A", "area that shears", Amount::Area(area)),
            Term::new("f_u", format!("tensile strength of {metal}"), Amount::Stress(strength.value)),
            Term::new("F", "pull in the bolt, preload and prying included", Amount::Force(applied)),
        ];
        if mount.nut_height.is_none() {
            m.working
                .notes
                .push("Length of thread taken as 0.8 of the bolt's diameter; measure the nut.".into());
        }
        found.push(if bolt_strips {
            decided(m, class, allowable)
        } else {
            m.allowable = Some(allowable(strength.value));
            m.decided()
        });
    }
    found
}
