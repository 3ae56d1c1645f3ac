//! The gear can't take up a harder drop: with the energy of 1.2 times the sink rate and the wing carrying the whole weight it
//! may yield, but not give way.
//!
//! margin = h_c / (1.44 h) − 1, h the landing's drop, h_c the drop at the top of the gear's curve with lift equal to weight.
//! Source: 14 CFR 23.723(b) before amendment 23-64; 1.44 = 1.2², 23.727(a) (from memory; the Russian norm БАС-СТ.727 has it).

use super::{Check, Scope, Subject};
use crate::material::Basis;
use crate::results::{Amount, LandingDrop, Margin, Term, Verdict, Working};

pub(super) const CHECK: Check = Check {
    id: "landing-energy",
    words: "gives way in a harder drop",
    scope: Scope::Drop(run),
    fails: None,
    special: 1.0,
};

/// Factor on the height of the landing's drop that the gear has to take up: 1.2 on the speed, squared.
pub const ENERGY_RESERVE: f64 = 1.44;

fn run(subject: &Subject<'_>, landing: &LandingDrop) -> Vec<Margin> {
    let (Some(drop), Some(reserve), true) = (&landing.drop, landing.reserve_height, landing.given) else {
        return Vec::new();
    };
    let m = Margin {
        check: CHECK.id,
        gear: landing.gear.clone(),
        part: "gear".into(),
        case: None,
        applied: Amount::Length(drop.height),
        allowable: Some(Amount::Length(reserve.height)),
        factor: ENERGY_RESERVE,
        verdict: Verdict::Holds,
        basis: Some(Basis::FromMemory),
        source: "14 CFR 23.723(b), 23.727(a)".into(),
        working: Working {
            formula: "margin = h_c / (1.44 h) − 1".into(),
            terms: vec![
                Term::new("h", "drop that the landing amounts to, v²/2g", Amount::Length(drop.height)),
                Term::new(
                    "h_c",
                    "drop at the top of the gear's load–deflection curve, the wing carrying the whole weight",
                    Amount::Length(reserve.height),
                ),
            ],
            notes: vec![
                if reserve.collapses {
                    "It may yield in such a drop, but not give way."
                } else {
                    "It takes up all that was tried: h_c is at least this."
                }
                .into(),
            ],
        },
    };
    let known = subject.gear.plate.yield_strength().is_some();
    let enough = reserve.height >= ENERGY_RESERVE * drop.height;
    vec![if known || !enough {
        m.decided()
    } else {
        m.untold("its yield strength is not known; elastic it would hold")
    }]
}
