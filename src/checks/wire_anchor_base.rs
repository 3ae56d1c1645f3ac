//! A wire tears out of the base at ultimate load; looked at where a mount is described.
//!
//! w, the wire's direction from leg to anchor, splits its tension into p T in the plane of the base, p = √(w_x² + w_y²), and
//! v T square to it, v = |w_z|.
//!
//! In the plate: a hole as wide as the wire in the flat, [`super::plate_hole`]; the bends count as edges; T_a = min(F_b, F_s)/p.
//!
//! In the wood: an eye bolt or hook as thick as the wire right through it, under a washer three wire diameters wide. Sideways
//! R_h = f_h d t, f_h the lower of both rules of [`crate::material::Wood::embedment_strength`]; through the wood, R_c = 3 f_c,90 A,
//! A = π [(3d)² − d²]/4, and punching R_p = π 3d t f_v. T_a = min(R_h/p, min(R_c, R_p)/v), each by itself.
//! Source: EN 1993-1-8 table 3.4 (second-hand); EN 1995-1-1 eq. 8.20 (second-hand), 8.36 and 8.5.2 (from memory); punching derived;
//! the washer common practice; fitting factor 1.15, 14 CFR 23.625(a) before amendment 23-64.

use super::plate_hole::{self, Hole};
use super::{Check, FITTING_FACTOR, Scope, Subject, margin, plate_ultimate};
use crate::material::{Basis, Sourced};
use crate::model::{AnchorIn, BasePlate, Brace, Mount, PartKind, Plate};
use crate::results::{Amount, CaseResult, Margin, Term, WireAnchor, WireState};
use crate::units::{Force, Stress};
use std::f64::consts::{FRAC_PI_4, PI};

pub(super) const CHECK: Check = Check {
    id: "wire-anchor-base",
    words: "tears out of the base",
    scope: Scope::Case(run),
    fails: Some(PartKind::Wires),
    special: FITTING_FACTOR,
};

/// Width of the washer over the wire's diameter. Common practice, no source.
const WASHER: f64 = 3.0;

/// Pressure under a washer over the wood's strength square to its face. Source: EN 1995-1-1, 8.5.2 (from memory).
const UNDER_WASHER: f64 = 3.0;

/// Share of the pull below which a wire counts as having none in a direction. chosen: rounding of the geometry.
const NONE: f64 = 1e-9;

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let ultimate = subject.project.landing.ultimate_factor;
    let gear = subject.gear;
    let mut found = Vec::new();
    for wire in case.ultimate.wires.iter().filter(|w| w.tension > Force::default()) {
        let (Some(brace), Some(anchor)) = (gear.braces.get(wire.brace), wire.anchor) else { continue };
        let (Some(mount), Some(flat)) = (&gear.mount, gear.base_plate()) else { continue };
        let applied = wire.tension / ultimate;
        let mut m = margin(&CHECK, subject, case, format!("{} wire", wire.name), Amount::Force(applied));
        m.factor = ultimate * FITTING_FACTOR;
        m.source = "14 CFR 23.303, 23.625(a)".into();
        found.extend(match anchor.held_by {
            AnchorIn::Plate => in_plate(m, (&gear.plate, &flat), brace, wire, anchor),
            AnchorIn::Wood => in_wood(m, mount, brace, wire),
        });
    }
    found
}

fn in_plate(
    mut m: Margin,
    (plate, flat): (&Plate, &BasePlate),
    brace: &Brace,
    wire: &WireState,
    anchor: WireAnchor,
) -> Option<Margin> {
    // The wire pulls its anchor back to the leg.
    let [x, y, _] = wire.direction.map(|w| -w);
    let share = x.hypot(y);
    if share <= NONE {
        return None;
    }
    let edges = [[-0.5 * flat.width, 0.5 * flat.width], flat.reach];
    let room = |toward| plate_hole::to_edge(anchor.at, toward, edges).unwrap_or_default();
    let (x, y) = (x / share, y / share);
    let hole = Hole {
        diameter: brace.diameter,
        thickness: flat.thickness,
        end: room([x, y]),
        side: room([y, -x]).min(room([-y, x])),
    };
    let strength = match plate_ultimate(plate) {
        Ok(strength) => strength,
        Err(why) => return Some(m.untold(why)),
    };
    let held = hole.holds(strength.value) / share;
    m.allowable = Some(Amount::Force(held));
    m.basis = Some(strength.basis);
    m.source = format!("{}; {}; {}", m.source, plate_hole::SOURCE, strength.source);
    m.working.formula = format!(
        "factor = ultimate factor × 1.15 (fitting); {}; T_a = min(F_b, F_s) / p; margin = T_a / (factor × T) − 1",
        plate_hole::FORMULA
    );
    m.working.terms = hole.terms(strength.value);
    m.working.terms.push(Term::new(
        "p",
        "share of the tension that lies in the base's plane",
        Amount::Number(share),
    ));
    m.working.notes.push("A bend counts as an edge of the flat.".into());
    m.working.notes.push(
        "What pulls square to the plate presses nut or hook against its face and is not checked: put a washer three wire diameters \
         wide under it (common practice)."
            .into(),
    );
    Some(finished(m, held))
}

fn in_wood(mut m: Margin, mount: &Mount, brace: &Brace, wire: &WireState) -> Option<Margin> {
    let [x, y, z] = wire.direction;
    let (share, square) = (x.hypot(y), z.abs());
    let wood = &mount.wood;
    let strengths = (
        wood.embedment_strength(brace.diameter),
        wood.density_characteristic.as_ref(),
        wood.compression_across.as_ref(),
        wood.panel_shear.as_ref(),
    );
    let (Some((nails, bolts)), Some(density), Some(across), Some(shear)) = strengths else {
        return Some(m.untold(format!(
            "of {} not all is known: plywood's characteristic density, compression square to its face, panel shear",
            wood.name
        )));
    };
    let (d, t) = (brace.diameter, mount.wood_depth());
    let washer = WASHER * d;
    let [crushed, sheared] = [across, shear].map(|strength| strength.value);
    let sideways = nails.min(bolts) * (d * t);
    let crushing = UNDER_WASHER * crushed * (FRAC_PI_4 * (washer * washer - d * d));
    let punching = PI * sheared * (washer * t);
    let by_side = (share > NONE).then(|| sideways / share);
    let through = (square > NONE).then(|| crushing.min(punching) / square);
    let held = [by_side, through].into_iter().flatten().reduce(Force::min)?;
    m.allowable = Some(Amount::Force(held));
    m.basis = Some(basis_of(density.basis, [across, shear]));
    m.source =
        format!("{}; EN 1995-1-1 eq. 8.20, 8.36, 8.5.2; {}; {}", m.source, density.source, across.source);
    m.working.formula = "factor = ultimate factor × 1.15 (fitting); R_h = f_h d t, f_h the lower of 0.11 ρ_k d^−0.3 and \
                         0.11 (1 − 0.01 d) ρ_k (mm, kg/m³); D = 3 d; R_c = 3 f_c,90 π (D² − d²)/4; R_p = π D t f_v; \
                         T_a = min(R_h/p, R_c/v, R_p/v); margin = T_a / (factor × T) − 1"
        .into();
    m.working.terms = vec![
        Term::new("d", "thickness of the eye bolt, that of the wire", Amount::Length(d)),
        Term::new("t", "thickness of the wood with its doubler", Amount::Length(t)),
        Term::new("D", "width of the washer", Amount::Length(washer)),
        Term::new("f_h", "embedment, rule for nails and screws", Amount::Stress(nails)),
        Term::new("f_h", "embedment, rule for bolts", Amount::Stress(bolts)),
        Term::new("f_c,90", "compression square to the wood's face", Amount::Stress(crushed)),
        Term::new("f_v", "panel shear of the wood", Amount::Stress(sheared)),
        Term::new("R_h", "sideways", Amount::Force(sideways)),
        Term::new("R_c", "crushing under the washer", Amount::Force(crushing)),
        Term::new("R_p", "punching through", Amount::Force(punching)),
        Term::new("p", "share of the tension along the wood", Amount::Number(share)),
        Term::new("v", "share square to it", Amount::Number(square)),
    ];
    m.working.notes.extend([
        "Sideways and through the wood are each taken by themselves.".to_owned(),
        "The washer is taken as three wire diameters wide (common practice), on the far side from the pull. The distance to the wood's \
         edge is not checked."
            .to_owned(),
    ]);
    Some(finished(m, held))
}

/// The least certain of the values, the width of the washer among them.
fn basis_of(first: Basis, rest: [&Sourced<Stress>; 2]) -> Basis {
    rest.into_iter().map(|s| s.basis).fold(first.max(Basis::CommonPractice), Basis::max)
}

fn finished(mut m: Margin, held: Force) -> Margin {
    m.working.terms.extend([
        Term::new("T_a", "tension at which the anchor gives", Amount::Force(held)),
        Term::new("T", "tension at ultimate load over the ultimate factor", m.applied),
    ]);
    m.decided()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_least_certain_value_names_the_basis() {
        let of = |basis| Sourced::new(Stress::default(), basis, "made up");
        let (sure, recalled) = (of(Basis::SpecificationMinimum), of(Basis::FromMemory));
        assert_eq!(basis_of(Basis::BenchTest, [&sure, &sure]), Basis::CommonPractice);
        assert_eq!(basis_of(Basis::BenchTest, [&recalled, &sure]), Basis::FromMemory);
    }
}
