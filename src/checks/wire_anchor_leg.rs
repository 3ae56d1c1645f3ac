//! A wire tears its hole out of the leg at ultimate load.
//!
//! The hole is on the leg's centre line and as wide as the wire. In the plane of the leg the wire pulls with p T,
//! p = √(p_l² + p_c²), p_l = w·l along the leg, p_c = w·c across it, w the wire's direction. The edge ahead, e₁, is that of the real
//! outline in the direction of the pull, the bend counting as an edge; e₂ is half the width at the hole. What the hole holds is in
//! [`super::plate_hole`].
//! Source: EN 1993-1-8 table 3.4 (second-hand); fitting factor 1.15, 14 CFR 23.625(a) before amendment 23-64.

use super::plate_hole::{self, Hole};
use super::{Check, FITTING_FACTOR, Scope, Subject, margin, plate_ultimate};
use crate::model::{PartKind, Plate};
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::{Force, Length};

pub(super) const CHECK: Check = Check {
    id: "wire-anchor-leg",
    words: "tears out of the leg",
    scope: Scope::Case(run),
    fails: Some(PartKind::Wires),
    special: FITTING_FACTOR,
};

/// Share of the pull below which a wire counts as square to the leg. chosen: rounding of the geometry.
const SQUARE: f64 = 1e-9;

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let ultimate = subject.project.landing.ultimate_factor;
    let plate = &subject.gear.plate;
    let mut found = Vec::new();
    for wire in case.ultimate.wires.iter().filter(|w| w.tension > Force::default()) {
        let Some(brace) = subject.gear.braces.get(wire.brace) else { continue };
        let leg = subject.gear.leg(wire.leg);
        let pull = [dot(wire.direction, leg.along), dot(wire.direction, leg.across)];
        let share = pull[0].hypot(pull[1]);
        if share <= SQUARE {
            continue;
        }
        let toward = pull.map(|p| p / share);
        let (room, past_axle) = ahead(plate, brace.leg_at, toward);
        let section = plate.section_at(brace.leg_at);
        let hole = Hole {
            diameter: brace.diameter,
            thickness: section.thickness,
            end: room,
            side: 0.5 * section.width,
        };
        let applied = wire.tension / ultimate;
        let mut m = margin(&CHECK, subject, case, format!("{} wire", wire.name), Amount::Force(applied));
        m.factor = ultimate * FITTING_FACTOR;
        m.source = format!("14 CFR 23.303, 23.625(a); {}", plate_hole::SOURCE);
        let strength = match plate_ultimate(plate) {
            Ok(strength) => strength,
            Err(why) => {
                found.push(m.untold(why));
                continue;
            }
        };
        // The plate goes on beyond the axle, but nobody says how far.
        if past_axle && room < 3.0 * brace.diameter {
            found.push(m.untold("the wire pulls towards the leg's end, and how far the plate goes on beyond the axle is not said"));
            continue;
        }
        let held = hole.holds(strength.value) / share;
        m.allowable = Some(Amount::Force(held));
        m.basis = Some(strength.basis);
        m.source = format!("{}; {}", m.source, strength.source);
        m.working.formula = format!(
            "factor = ultimate factor × 1.15 (fitting); {}; T_a = min(F_b, F_s) / p; margin = T_a / (factor × T) − 1",
            plate_hole::FORMULA
        );
        m.working.terms = hole.terms(strength.value);
        m.working.terms.extend([
            Term::new("p", "share of the tension that lies in the leg's plane", Amount::Number(share)),
            Term::new("T_a", "tension at which the hole gives", Amount::Force(held)),
            Term::new("T", "tension at ultimate load over the ultimate factor", Amount::Force(applied)),
        ]);
        m.working.notes.push(
            "What pulls square to the leg presses nut or hook against its face and is not checked: put a washer three wire diameters \
             wide under it (common practice)."
                .into(),
        );
        if wire.ties_both_legs {
            m.working.notes.push("The other leg is pulled alike.".into());
        }
        found.push(m.decided());
    }
    found
}

/// From the hole to the leg's edge in a direction (along, across) of its plane, and whether that edge is the end at the axle.
fn ahead(plate: &Plate, leg_at: f64, [along, across]: [f64; 2]) -> (Length, bool) {
    let left = if along > 0.0 { 1.0 - leg_at } else { -leg_at };
    let to_end = left / along * plate.leg_length;
    // Half the width changes by this much for each unit along the leg; an edge that runs away faster than the pull is never met.
    let taper = 0.5 * f64::from((plate.width.tip - plate.width.root) / plate.leg_length);
    let closing = across.abs() - taper * along;
    let to_side = 0.5 * plate.width.at(leg_at) / closing;
    let met = |length: Length| length.is_finite() && length >= Length::default();
    match (met(to_end), closing > 0.0 && met(to_side)) {
        (true, true) if to_side <= to_end => (to_side, false),
        (true, _) => (to_end, along > 0.0),
        _ => (to_side, false),
    }
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}
