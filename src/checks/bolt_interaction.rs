//! A bolt breaks under pull and shear together, by the stricter of two published curves, at ultimate load with the fitting factor.
//!
//! With R_t = F / (A_s f_ub) and R_s = V / (α_v f_ub A_s): EN 1993-1-8, R_s + R_t / (1.4 × 0.9) ≤ 1 and R_t ≤ 0.9; NASA-STD-5020
//! with the thread where it is cut, R_s^1.2 + R_t² ≤ 1. margin = r / factor − 1, r the number by which pull and shear may be
//! multiplied until they lie on the stricter curve. Characteristic values, without γ_M2, as in the check of shear alone.
//! Source: both curves from memory, the strengths of table 3.4 secondary; 14 CFR 23.303 (from memory), 23.625(a) before amendment
//! 23-64.

use super::bolt::{TRACE, area_term, basis, decided, load_at};
use super::{Check, FITTING_FACTOR, Scope, Subject, margin};
use crate::material::Basis;
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::units::Stress;

pub(super) const CHECK: Check = Check {
    id: "bolt-together",
    words: "breaks under pull and shear together",
    scope: Scope::Case(run),
    fails: Some(PartKind::Bolts),
    special: FITTING_FACTOR,
};

/// Tensile strength over f_ub A_s. Source: EN 1993-1-8 table 3.4 (secondary).
const EN_TENSION: f64 = 0.9;
/// Where the line meets the axis of pull, over the tensile strength. Source: EN 1993-1-8 table 3.4 (from memory).
const EN_REACH: f64 = 1.4;
/// Exponents of shear and pull, thread where it is cut. Source: NASA-STD-5020 (from memory).
const NASA_EXPONENTS: [f64; 2] = [1.2, 2.0];

/// Number by which pull and shear on a bolt may be multiplied until they lie on the curve of EN 1993-1-8:
/// R_s + R_t / (1.4 × 0.9) = 1, or R_t = 0.9 where that comes first.
///
/// `pull` is R_t = F / (A_s f_ub), `shear` is R_s = V / (α_v f_ub A_s), both at least 0; infinite when both are 0.
/// Source: EN 1993-1-8 table 3.4, characteristic values (the line from memory, the strengths secondary).
#[must_use]
pub fn pull_and_shear_en1993(pull: f64, shear: f64) -> f64 {
    (shear + pull / (EN_REACH * EN_TENSION)).max(pull / EN_TENSION).recip()
}

/// Number by which pull and shear on a bolt may be multiplied until they lie on the curve of NASA-STD-5020 for a thread where it
/// is cut: R_s^1.2 + R_t² = 1.
///
/// `pull` is R_t = F / (A_s f_ub), `shear` is R_s = V / (α_v f_ub A_s), both at least 0; infinite when both are 0.
/// Source: NASA-STD-5020 (from memory).
#[must_use]
pub fn pull_and_shear_nasa5020(pull: f64, shear: f64) -> f64 {
    let largest = pull.max(shear);
    if largest <= 0.0 {
        return f64::INFINITY;
    }
    // In parts of the larger, so that the answer lies between a half and one: the sum at a half is at most 0.5^1.2 + 0.5².
    let [of_shear, of_pull] = NASA_EXPONENTS;
    let sum = |r: f64| (r * shear / largest).powf(of_shear) + (r * pull / largest).powf(of_pull);
    let (mut low, mut high) = (0.5, 1.0);
    // chosen: 53 halvings are all that a double holds.
    for _ in 0..53 {
        let middle = 0.5 * (low + high);
        if sum(middle) < 1.0 { low = middle } else { high = middle }
    }
    0.5 * (low + high) / largest
}

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.ultimate.mount) else { return Vec::new() };
    let ultimate = subject.project.landing.ultimate_factor;
    let class = &mount.bolt_class;
    let strength = &class.ultimate;
    let mut found = Vec::new();
    for bolt in &state.bolts {
        let (tension, shear) = (bolt.tension / ultimate, bolt.shear_size() / ultimate);
        if tension <= TRACE * shear || shear <= TRACE * tension {
            continue;
        }
        let ratios = |strength: Stress| {
            let held = load_at(mount, strength);
            (f64::from(tension / held), f64::from(shear / (class.shear_factor() * held)))
        };
        let both = |strength: Stress| {
            let (pull, shear) = ratios(strength);
            [pull_and_shear_en1993(pull, shear), pull_and_shear_nasa5020(pull, shear)]
        };
        let (pull, cut) = ratios(strength.value);
        let [en, nasa] = both(strength.value);
        let mut m = margin(&CHECK, subject, case, format!("bolt {}", bolt.name), Amount::Number(1.0));
        m.factor = ultimate * FITTING_FACTOR;
        // The curves themselves are recalled.
        m.basis = Some(basis(mount, strength).max(Basis::FromMemory));
        m.source = format!(
            "14 CFR 23.303, 23.625(a); EN 1993-1-8 table 3.4 and NASA-STD-5020, both from memory; {}",
            strength.source
        );
        m.working.formula = "R_t = F / (A_s f_ub); R_s = V / (α_v f_ub A_s); EN 1993-1-8: r_EN the smaller of 1 / (R_s + R_t / (1.4 × 0.9)) \
                             and 0.9 / R_t; NASA-STD-5020, thread where it is cut: (r_NASA R_s)^1.2 + (r_NASA R_t)² = 1; factor = \
                             ultimate factor × 1.15 (fitting); margin = the smaller r / factor − 1, F and V those at ultimate load over \
                             the ultimate factor"
            .into();
        m.working.terms = vec![
            area_term(mount),
            Term::new(
                "f_ub",
                format!("tensile strength of class {}", class.name),
                Amount::Stress(strength.value),
            ),
            Term::new(
                "α_v",
                "shear strength over tensile strength, thread cut",
                Amount::Number(class.shear_factor()),
            ),
            Term::new("F", "pull in the bolt, preload and prying included", Amount::Force(tension)),
            Term::new("V", "shear on the bolt", Amount::Force(shear)),
            Term::new("R_t", "pull over what the bolt holds", Amount::Number(pull)),
            Term::new("R_s", "shear over what the bolt holds", Amount::Number(cut)),
            Term::new("r_EN", "multiple of pull and shear by EN 1993-1-8", Amount::Number(en)),
            Term::new("r_NASA", "multiple of pull and shear by NASA-STD-5020", Amount::Number(nasa)),
        ];
        m.working.notes.push(format!(
            "{} is the stricter here.",
            if en <= nasa { "EN 1993-1-8" } else { "NASA-STD-5020" }
        ));
        found.push(decided(m, class, |strength| {
            let [en, nasa] = both(strength);
            Amount::Number(en.min(nasa))
        }));
    }
    found
}
