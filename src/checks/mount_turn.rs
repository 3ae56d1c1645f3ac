//! A plate on one bolt turns about it: only friction holds, and the moment at ultimate load, with the fitting factor, is more.
//!
//! margin = μ F_k r / (factor × M) − 1, F_k what the least preload still presses with under load, F_i − (1 − C) P for a pull P; r the
//! mean radius of what is pressed, (D + d)/4 for a nut flange of diameter D on a bolt of diameter d, 0.625 d without a flange. One
//! face only counts: the head may turn with the plate. Without preload nothing holds, and the mount is a mechanism.
//! Source: friction of a ring of even wear; μ = 0.2 and one face, common practice, no source; 0.625 d from Shigley eq. 8-26 (from
//! memory); 14 CFR 23.303 (from memory), 23.625(a) before amendment 23-64.

use super::bolt::TRACE;
use super::{Check, FITTING_FACTOR, Scope, Subject, margin};
use crate::material::Basis;
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::{Force, Moment};

pub(super) const CHECK: Check = Check {
    id: "mount-turn",
    words: "turns about its one bolt",
    scope: Scope::Case(run),
    fails: Some(PartKind::Bolts),
    special: FITTING_FACTOR,
};

/// Friction of metal on wood. Common practice, no source.
const FRICTION: f64 = 0.2;

/// Mean radius under a head or nut without a flange, over the bolt's diameter. Source: Shigley eq. 8-26 (from memory).
const PLAIN_RADIUS: f64 = 0.625;

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.ultimate.mount) else { return Vec::new() };
    let (Some(turn), [bolt]) = (state.turn, state.bolts.as_slice()) else { return Vec::new() };
    // What the loads could make of it on the longest lever there is: less than a trace of that is rounding.
    let lever = subject.gear.plate.leg_length + subject.gear.wheel.overhang + subject.gear.wheel.diameter;
    let sideways = case.ultimate.wheels.iter().fold(Force::default(), |sum, wheel| {
        let [aft, starboard, up] = wheel.load;
        sum + aft.abs() + starboard.abs() + up.abs()
    });
    let could: Moment = sideways * lever;
    let turn = turn.abs();
    if turn <= TRACE * could {
        return Vec::new();
    }
    let ultimate = subject.project.landing.ultimate_factor;
    let applied = turn / ultimate;
    let least = mount.least_preload(bolt.preload);
    let pulled_off = ((1.0 - bolt.share) * bolt.pull()).max(Force::default());
    let pressed = (least - pulled_off).max(Force::default());
    let radius = mount
        .nut_flange
        .map_or(PLAIN_RADIUS * mount.bolt.nominal, |flange| 0.25 * (flange + mount.bolt.nominal));
    let mut m = margin(&CHECK, subject, case, "plate", Amount::Moment(applied));
    m.factor = ultimate * FITTING_FACTOR;
    m.allowable = Some(Amount::Moment(FRICTION * pressed * radius));
    m.basis = Some(Basis::CommonPractice);
    m.source = "14 CFR 23.303, 23.625(a); friction of metal on wood 0.2, common practice, no source".into();
    m.working.formula = "F_k = F_i − (1 − C) P, not below 0; factor = ultimate factor × 1.15 (fitting); margin = μ F_k r / (factor × M) − 1, \
                         M the moment at ultimate load over the ultimate factor"
        .into();
    m.working.terms = vec![
        Term::new("F_i", "least preload", Amount::Force(least)),
        Term::new("(1 − C) P", "what pull takes off it", Amount::Force(pulled_off)),
        Term::new("F_k", "force that still presses plate on wood", Amount::Force(pressed)),
        Term::new("μ", "friction", Amount::Number(FRICTION)),
        Term::new("r", "mean radius of what is pressed", Amount::Length(radius)),
        Term::new("M", "moment about the bolt", Amount::Moment(applied)),
    ];
    m.working.notes.push(
        if pressed > Force::default() {
            "Friction alone holds it, and friction can't be counted on: oil or a loose nut ends it. A second bolt holds."
        } else if mount.bolt_class.creeps() {
            "Nothing holds it: the bolt creeps and keeps no preload. On one bolt the mount is a mechanism; use two."
        } else if least > Force::default() {
            "Nothing holds it: the pull takes off all the preload. On one bolt the mount is then a mechanism; use two."
        } else {
            "Nothing holds it: no preload is stated. On one bolt the mount is a mechanism; use two."
        }
        .into(),
    );
    vec![m.decided()]
}
