//! A captive nut goes through the wood: the bolt's pull at ultimate load, with the fitting factor, reaches what the wood under the
//! nut's flange holds.
//!
//! The less of (a) the flange sinking in, 3 f_c,90 π (D² − d²)/4, and (b) a plug of the flange's size punched out, π D t f_v; or
//! what a nut held in a test of the builder's own. margin = F / (factor × T) − 1, T with the preload. From f_c,90 π (D² − d²)/4 on
//! the flange begins to sink in. No published strength of captive nuts was found.
//! Source: washers on bolts, EN 1995-1-1 8.5.2 (from memory); shear through the thickness of the panel; 14 CFR 23.303 (from memory),
//! 23.625(a) before amendment 23-64.

use super::wood::note;
use super::{Check, FITTING_FACTOR, Scope, Subject, margin};
use crate::material::{Basis, Sourced};
use crate::model::{Mount, PartKind};
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::{Area, Force, Length, Stress};
use std::f64::consts::{FRAC_PI_4, PI};

pub(super) const CHECK: Check = Check {
    id: "nut-pull-through",
    words: "pulls its nut through the wood",
    scope: Scope::Case(run),
    fails: Some(PartKind::Nuts),
    special: FITTING_FACTOR,
};

/// Pressure that wood holds under a washer over its compression strength square to the grain. Source: EN 1995-1-1 8.5.2 (from memory).
const UNDER_WASHER: f64 = 3.0;

/// Area of a nut's flange beyond the bolt's hole in the wood, π (D² − d²)/4.
fn flange_area(flange: Length, bolt: Length) -> Area {
    FRAC_PI_4 * (flange * flange - bolt * bolt)
}

/// Pull at which a nut's flange sinks into wood: 3 f_c,90 π (D² − d²)/4.
///
/// Source: EN 1995-1-1 8.5.2 (from memory).
#[must_use]
pub fn flange_bearing_resistance(flange: Length, bolt: Length, compression_across: Stress) -> Force {
    UNDER_WASHER * compression_across * flange_area(flange, bolt)
}

/// Pull at which a nut's flange punches a plug out of a panel: π D t f_v.
///
/// `f_v` is the shear strength through the thickness, not the rolling shear. Derived: shear over the plug's side.
#[must_use]
pub fn punching_resistance(flange: Length, depth: Length, panel_shear: Stress) -> Force {
    PI * flange * depth * panel_shear
}

/// What is known of a nut's seat in the wood.
enum Seat<'m> {
    Tested(Force),
    Reckoned { flange: Length, bearing: &'m Sourced<Stress>, shear: &'m Sourced<Stress> },
    Unknown(String),
}

impl<'m> Seat<'m> {
    fn of(mount: &'m Mount) -> Self {
        if let Some(force) = mount.pull_through {
            return Self::Tested(force);
        }
        let wood = &mount.wood;
        match (mount.nut_flange, &wood.compression_across, &wood.panel_shear) {
            (None, _, _) => Self::Unknown("no `nut_flange` is given".into()),
            (_, None, _) => Self::Unknown(format!(
                "the tables give no compression strength of {} square to its face",
                wood.name
            )),
            (_, _, None) => Self::Unknown(format!(
                "the tables give no shear strength of {} through its thickness",
                wood.name
            )),
            (Some(flange), Some(bearing), Some(shear)) => Self::Reckoned { flange, bearing, shear },
        }
    }
}

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.ultimate.mount) else { return Vec::new() };
    let ultimate = subject.project.landing.ultimate_factor;
    let seat = Seat::of(mount);
    let pulled = state.bolts.iter().filter(|b| b.tension > Force::default());
    let begin = |part: String, tension: Force| {
        let mut m = margin(&CHECK, subject, case, part, Amount::Force(tension / ultimate));
        m.factor = ultimate * FITTING_FACTOR;
        m.source = "14 CFR 23.303, 23.625(a)".into();
        m
    };
    if let Seat::Unknown(why) = &seat {
        // Said once, not for every bolt.
        let most = pulled.map(|b| b.tension).reduce(Force::max);
        return most
            .map(|tension| begin("a bolt".into(), tension).untold(why.as_str()))
            .into_iter()
            .collect();
    }
    pulled
        .map(|bolt| {
            let m = begin(format!("bolt {}", bolt.name), bolt.tension);
            match &seat {
                Seat::Tested(force) => tested(m, *force),
                Seat::Reckoned { flange, bearing, shear } => reckoned(m, mount, *flange, bearing, shear),
                Seat::Unknown(why) => m.untold(why.as_str()),
            }
        })
        .collect()
}

fn tested(mut m: Margin, force: Force) -> Margin {
    m.allowable = Some(Amount::Force(force));
    m.basis = Some(Basis::BenchTest);
    m.source = format!("{}; your `pull_through`", m.source);
    m.working.formula = "factor = ultimate factor × 1.15 (fitting); margin = F / (factor × T) − 1, T the pull at ultimate load over \
                         the ultimate factor, preload included"
        .into();
    m.working.terms = vec![
        Term::new("F", "pull at which a nut went through in your test", Amount::Force(force)),
        Term::new("T", "pull in the bolt", m.applied),
    ];
    m.working.notes.push(
        "One test is one piece of wood. The factor stays: the next piece may be weaker. Test several and give the least.".into(),
    );
    m.decided()
}

fn reckoned(
    mut m: Margin,
    mount: &Mount,
    flange: Length,
    bearing: &Sourced<Stress>,
    shear: &Sourced<Stress>,
) -> Margin {
    let (Sourced { value: f_c, .. }, Sourced { value: f_v, .. }) = (bearing, shear);
    let bolt = mount.bolt.nominal;
    let depth = mount.wood_depth();
    let sinks = flange_bearing_resistance(flange, bolt, *f_c);
    let punches = punching_resistance(flange, depth, *f_v);
    let begins = *f_c * flange_area(flange, bolt);
    m.allowable = Some(Amount::Force(sinks.min(punches)));
    m.basis = Some(bearing.basis.max(shear.basis));
    m.source = format!("{}; EN 1995-1-1 8.5.2 (from memory); {}; {}", m.source, bearing.source, shear.source);
    m.working.formula =
        "A = π (D² − d²)/4; F_a = 3 f_c,90 A; F_b = π D t f_v; factor = ultimate factor × 1.15 (fitting); \
                         margin = min(F_a, F_b) / (factor × T) − 1, T the pull at ultimate load over the ultimate factor, preload \
                         included"
            .into();
    m.working.terms = vec![
        Term::new("D", "diameter of the nut's flange", Amount::Length(flange)),
        Term::new("d", "hole in the wood, as wide as the bolt", Amount::Length(bolt)),
        Term::new("t", "thickness of the wood, doubler included", Amount::Length(depth)),
        Term::new("A", "area of the flange", Amount::Area(flange_area(flange, bolt))),
        Term::new("f_c,90", "compression strength square to the face", Amount::Stress(*f_c)),
        Term::new("f_v", "shear strength through the thickness", Amount::Stress(*f_v)),
        Term::new("f_c,90 A", "pull at which the flange begins to sink in", Amount::Force(begins)),
        Term::new("F_a", "pull at which the flange sinks in", Amount::Force(sinks)),
        Term::new("F_b", "pull at which a plug is punched out", Amount::Force(punches)),
        Term::new("T", "pull in the bolt", m.applied),
    ];
    let governs = if sinks <= punches {
        "F_a governs: the flange sinks in."
    } else {
        "F_b governs: a plug is punched out."
    };
    m.working.notes.push(format!(
        "{governs} From f_c,90 A on it begins to sink in, and the bolt loses its preload. The flange must lie on the side of the \
         wood away from the plate."
    ));
    // An average among the two is the one to be warned of.
    let average = [bearing.basis, shear.basis].contains(&Basis::Typical);
    m.working.notes.push(note(if average { Basis::Typical } else { shear.basis }).into());
    m.working.notes.push(
        "No published strength of captive nuts is known. A pull in the shop with a scrap of the same wood, given as \
         `pull_through`, is worth more."
            .into(),
    );
    m.decided()
}
