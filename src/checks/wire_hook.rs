//! An open hook straightens: the wire bends plastically where the hook leaves the straight, at ultimate load.
//!
//! A round bar of radius a, plastic right through, its neutral axis a sin φ off the middle, carries
//! N = σ_y a² (2φ + sin 2φ) and M = M_p cos³φ, M_p = σ_y d³/6. In the hook N = T and M = T R_m, R_m = (pin + d)/2 the radius of its
//! mid-line; as tight as it goes the pin is as thick as the wire, R_m = d. Then cos³φ = 3 (φ + sin φ cos φ), φ = 0.1616, and
//! T_o = cos³φ/6 × σ_y d² = 0.1602 σ_y d²; without the pull itself it would be σ_y d²/6.
//! First yield at the inside of the hook, for comparison: σ = T [16 K D/(π d³) + 4/(π d²)], D = 2 R_m, K = (4C² − C − 1)/[4C (C − 1)],
//! C = 2 R_m/d = 2: T_e = σ_y d²/17.83.
//! Source: derived; first yield Shigley, eq. 10-37 (from memory); fitting factor 1.15, 14 CFR 23.625(a) before amendment 23-64.

use super::{Check, FITTING_FACTOR, Scope, Subject, margin};
use crate::material::{Wire, WireForm};
use crate::model::PartKind;
use crate::results::{Amount, CaseResult, Margin, Term};
use crate::section::RoundSection;
use crate::units::Force;

pub(super) const CHECK: Check = Check {
    id: "wire-hook",
    words: "straightens",
    scope: Scope::Case(run),
    fails: Some(PartKind::Wires),
    special: FITTING_FACTOR,
};

/// The row of the wire-end table that is an open hook.
const OPEN_HOOK: &str = "bent-over";

/// T_o / (σ_y d²) of a hook as tight as it goes.
const OPENS: f64 = 0.160_234;

/// σ d² / T at the inside of such a hook that is still elastic.
const FIRST_YIELD: f64 = 17.825_35;

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let ultimate = subject.project.landing.ultimate_factor;
    let mut found = Vec::new();
    for wire in case.ultimate.wires.iter().filter(|w| w.tension > Force::default()) {
        let Some(brace) = subject.gear.braces.get(wire.brace).filter(|b| b.end.name == OPEN_HOOK) else {
            continue;
        };
        let applied = wire.tension / ultimate;
        let mut m = margin(&CHECK, subject, case, format!("{} wire hook", wire.name), Amount::Force(applied));
        m.factor = ultimate * FITTING_FACTOR;
        m.source = "derived; 14 CFR 23.303, 23.625(a)".into();
        if brace.wire.form() == Some(WireForm::Cable) {
            found.push(m.untold("a cable has no stiffness of its own to hold a hook"));
            continue;
        }
        let (Some(fraction), Ok(load)) =
            (&brace.wire.yield_fraction, brace.wire.breaking_load(brace.diameter))
        else {
            found.push(m.untold(format!("nobody knows at what stress {} yields", brace.wire.name)));
            continue;
        };
        let d = brace.diameter;
        let yields = fraction.value * load.value / Wire::area(d);
        let square = d * d;
        m.allowable = Some(Amount::Force(OPENS * yields * square));
        m.basis = Some(fraction.basis.max(load.basis));
        m.source = format!("{}; {}; {}", m.source, fraction.source, load.source);
        m.working.formula = "factor = ultimate factor × 1.15 (fitting); σ_y = y F_b / (π d²/4); hook of R_m = d, M = T R_m against \
                             M_p = σ_y d³/6 with the pull T itself: T_o = 0.1602 σ_y d²; T_e = σ_y d² / 17.83; \
                             margin = T_o / (factor × T) − 1"
            .into();
        m.working.terms = vec![
            Term::new("d", "wire diameter", Amount::Length(d)),
            Term::new("F_b", "breaking load of the wire", Amount::Force(load.value)),
            Term::new("y", "yield over breaking strength, lower end", Amount::Number(fraction.value)),
            Term::new("σ_y", "stress at which the wire yields", Amount::Stress(yields)),
            Term::new(
                "M_p",
                "plastic moment of the wire",
                Amount::Moment(yields * RoundSection { diameter: d }.plastic_modulus()),
            ),
            Term::new(
                "T_e",
                "pull at which the inside of the hook first yields, for comparison",
                Amount::Force(yields * square / FIRST_YIELD),
            ),
            Term::new("T_o", "pull at which the hook opens", Amount::Force(OPENS * yields * square)),
            Term::new("T", "tension at ultimate load over the ultimate factor", Amount::Force(applied)),
        ];
        m.working.notes.push(
            "For an open hook round a pin as thick as the wire. An eye whose tail is wrapped or sleeved to the wire can't open so: \
             end = \"wrapped\"."
                .into(),
        );
        found.push(m.decided());
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use std::f64::consts::PI;

    #[test]
    fn the_hook_opens_where_its_section_is_plastic_through() {
        // With φ from the pull: a = 1, d = 2, σ_y = 1; N = 2φ + sin 2φ, M = (4/3) cos³φ must be N R_m = 2 N.
        let pull = OPENS * 4.0;
        let (mut low, mut high) = (0.0_f64, 1.0_f64);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if 2.0 * middle + (2.0 * middle).sin() < pull {
                low = middle;
            } else {
                high = middle;
            }
        }
        assert_relative_eq!(4.0 / 3.0 * low.cos().powi(3), 2.0 * pull, max_relative = 1e-5);
    }

    #[test]
    fn first_yield_by_the_curved_bar_factor() {
        // K = (16 − 2 − 1)/(4 × 2 × 1) = 1.625; 16 K 2/π + 4/π.
        assert_relative_eq!(FIRST_YIELD, 1.625 * 32.0 / PI + 4.0 / PI, max_relative = 1e-6);
    }
}
