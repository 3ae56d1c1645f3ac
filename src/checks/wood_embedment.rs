//! The wood is torn sideways by a bolt: the bolt's shear at ultimate load, with the fitting factor, reaches what bolt and wood hold in
//! single shear under a metal plate.
//!
//! Thin plate (t ≤ d/2): F = min(0.4 f_h t₁ d, 1.15 √(2 M_y f_h d)). Thick plate (t ≥ d, play below d/10): F = min(f_h t₁ d,
//! f_h t₁ d (√(2 + 4 M_y/(f_h d t₁²)) − 1), 2.3 √(M_y f_h d)). Between: in proportion. No rope effect. margin = F / (factor × V) − 1.
//! f_h of plywood is the lower of its two rules. Source: EN 1995-1-1 8.2.3, eq. 8.9, 8.10 (from memory); 14 CFR 23.303 (from memory),
//! 23.625(a) before amendment 23-64.

use super::bolt::TRACE;
use super::wood::note;
use super::{Check, FITTING_FACTOR, Scope, Subject, margin};
use crate::material::{Sourced, bolt_yield_moment, timber_across_grain, timber_embedment};
use crate::model::{Mount, PartKind};
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::{Force, Length, Moment, Stress};

pub(super) const CHECK: Check = Check {
    id: "bolt-embedment",
    words: "is torn sideways",
    scope: Scope::Case(run),
    fails: Some(PartKind::Wood),
    special: FITTING_FACTOR,
};

/// Play of a bolt in its hole, over its diameter, from which a thick plate no longer holds it upright. Source: EN 1995-1-1 8.2.3(1)
/// (from memory).
const LOOSE: f64 = 0.1;

/// A bolt in single shear between a metal plate and wood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoltInWood {
    /// The bolt's diameter d.
    pub bolt: Length,
    /// The plate's thickness t.
    pub plate: Length,
    /// The diameter of the hole in the plate.
    pub hole: Length,
    /// The wood's thickness t₁.
    pub wood: Length,
    /// The wood's embedment strength f_h.
    pub embedment: Stress,
    /// The bolt's yield moment M_y.
    pub yield_moment: Moment,
}

impl BoltInWood {
    /// What it holds under a thin plate: the wood crushed with the bolt aslant, and the bolt with one hinge.
    ///
    /// Source: EN 1995-1-1 eq. 8.9 (a, b), without the rope effect (from memory).
    #[must_use]
    pub fn under_thin_plate(&self) -> [Force; 2] {
        let crushed = self.embedment * self.wood * self.bolt;
        [0.4 * crushed, 1.15 * (2.0 * self.yield_moment * self.embedment * self.bolt).sqrt()]
    }

    /// What it holds under a thick plate: one hinge at the plate, two hinges, and the wood crushed with the bolt upright.
    ///
    /// Source: EN 1995-1-1 eq. 8.10 (c, d, e), without the rope effect (from memory).
    #[must_use]
    pub fn under_thick_plate(&self) -> [Force; 3] {
        let crushed = self.embedment * self.wood * self.bolt;
        let slender = f64::from(self.yield_moment / (crushed * self.wood));
        [
            crushed * ((2.0 + 4.0 * slender).sqrt() - 1.0),
            2.3 * (self.yield_moment * self.embedment * self.bolt).sqrt(),
            crushed,
        ]
    }

    /// How thick its plate counts: 0 up to half the bolt's diameter or with play, 1 from the diameter on.
    #[must_use]
    pub fn plate_thickness_share(&self) -> f64 {
        let loose = self.hole - self.bolt >= LOOSE * self.bolt;
        if loose { 0.0 } else { (2.0 * f64::from(self.plate / self.bolt) - 1.0).clamp(0.0, 1.0) }
    }

    /// What it holds, characteristic value: between thin and thick plate in proportion.
    #[must_use]
    pub fn resistance(&self) -> Force {
        let [a, b] = self.under_thin_plate();
        let [c, d, e] = self.under_thick_plate();
        let (thin, thick) = (a.min(b), c.min(d).min(e));
        thin + self.plate_thickness_share() * (thick - thin)
    }
}

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.ultimate.mount) else { return Vec::new() };
    let ultimate = subject.project.landing.ultimate_factor;
    let plate = subject.gear.plate.thickness.root;
    let mut found = Vec::new();
    for bolt in &state.bolts {
        let applied = bolt.shear_size() / ultimate;
        if applied <= Force::default() || applied <= TRACE * (bolt.tension / ultimate) {
            continue;
        }
        let part = format!("wood at bolt {}", bolt.name);
        let mut m = margin(&CHECK, subject, case, part, Amount::Force(applied));
        m.factor = ultimate * FITTING_FACTOR;
        found.push(judged(m, mount, plate));
    }
    found
}

/// Embedment strength, with its terms, and words on how it was found.
fn embedment(mount: &Mount) -> (Stress, Vec<Term>, String) {
    let d = mount.bolt.nominal;
    let Some((nails, bolts)) = mount.wood.embedment_strength(d) else {
        let Sourced { value: density, .. } = mount.wood.characteristic_density();
        let along = timber_embedment(density, d);
        let share = timber_across_grain(d);
        let terms = vec![
            Term::new("f_h,0", "0.082 (1 − 0.01 d) ρ_k, along the grain", Amount::Stress(along)),
            Term::new("k₉₀", "1.35 + 0.015 d", Amount::Number(share)),
            Term::new("f_h", "f_h,0 / k₉₀, square to the grain", Amount::Stress(along / share)),
        ];
        let words = "f_h: solid wood, eq. 8.32 (secondary) and 8.31 (from memory), pushed square to its grain, the weaker way.";
        return (along / share, terms, words.into());
    };
    let nails_term =
        Term::new("f_h,N", "0.11 ρ_k d^−0.3, the rule for nails and screws", Amount::Stress(nails));
    let bolts_term = Term::new("f_h,B", "0.11 (1 − 0.01 d) ρ_k, the rule for bolts", Amount::Stress(bolts));
    let lower = nails.min(bolts);
    let used = if nails <= bolts {
        "nails and screws, eq. 8.20 (secondary)"
    } else {
        "bolts, eq. 8.36 (from memory)"
    };
    let lower_term = Term::new("f_h", "the lower of the two", Amount::Stress(lower));
    (
        lower,
        vec![nails_term, bolts_term, lower_term],
        format!("f_h: plywood, the lower of two rules, here that for {used}."),
    )
}

fn judged(mut m: Margin, mount: &Mount, plate: Length) -> Margin {
    let class = &mount.bolt_class.ultimate;
    let Sourced { value: bolt_ultimate, .. } = class;
    let Sourced { value: rho, basis, source } = mount.wood.characteristic_density();
    let (strength, terms, words) = embedment(mount);
    let joint = BoltInWood {
        bolt: mount.bolt.nominal,
        plate,
        hole: mount.hole_diameter(),
        wood: mount.wood_depth(),
        embedment: strength,
        yield_moment: bolt_yield_moment(*bolt_ultimate, mount.bolt.nominal),
    };
    m.allowable = Some(Amount::Force(joint.resistance()));
    m.basis = Some(basis.max(class.basis));
    m.source = format!(
        "14 CFR 23.303, 23.625(a); EN 1995-1-1 8.2.3, 8.5.1 (from memory); {}; {}",
        source, class.source
    );
    m.working.formula = "M_y = 0.3 f_u d^2.6 (N mm, MPa, mm); F_a = 0.4 f_h t₁ d; F_b = 1.15 √(2 M_y f_h d); \
                         F_c = f_h t₁ d (√(2 + 4 M_y/(f_h d t₁²)) − 1); F_d = 2.3 √(M_y f_h d); F_e = f_h t₁ d; \
                         s = 2 t/d − 1, at least 0 and at most 1, 0 with play of a tenth of d or more; \
                         F = (1 − s) min(F_a, F_b) + s min(F_c, F_d, F_e); factor = ultimate factor × 1.15 (fitting); \
                         margin = F / (factor × V) − 1, V at ultimate load over the ultimate factor"
        .into();
    let [a, b] = joint.under_thin_plate();
    let [c, d, e] = joint.under_thick_plate();
    m.working.terms = vec![
        Term::new("d", "diameter of the bolt", Amount::Length(joint.bolt)),
        Term::new("t", "thickness of the plate", Amount::Length(joint.plate)),
        Term::new("t₁", "thickness of the wood, doubler included", Amount::Length(joint.wood)),
        Term::new("ρ_k", "density that 95 % of pieces exceed", Amount::Density(rho)),
    ];
    m.working.terms.extend(terms);
    m.working.terms.extend([
        Term::new(
            "f_u",
            format!("tensile strength of class {}", mount.bolt_class.name),
            Amount::Stress(*bolt_ultimate),
        ),
        Term::new("M_y", "moment at which the bolt bends", Amount::Moment(joint.yield_moment)),
        Term::new("F_a", "thin plate, wood crushed", Amount::Force(a)),
        Term::new("F_b", "thin plate, bolt bent", Amount::Force(b)),
        Term::new("F_c", "thick plate, bolt bent at the plate", Amount::Force(c)),
        Term::new("F_d", "thick plate, bolt bent twice", Amount::Force(d)),
        Term::new("F_e", "thick plate, wood crushed", Amount::Force(e)),
        Term::new("s", "how thick the plate counts", Amount::Number(joint.plate_thickness_share())),
        Term::new("V", "shear on the bolt", m.applied),
    ]);
    m.working.notes.push(format!(
        "{words} A rule for steel plates, taken for aluminium alike. Neither friction nor the pull in the bolt is counted on."
    ));
    m.working.notes.push(note(basis).into());
    m.working.notes.push("That the wood reaches far enough beyond the bolts is not checked.".into());
    m.decided()
}
