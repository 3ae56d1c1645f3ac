//! A bolt's hole is too near the plate's edge or another hole for the rules of bolted joints to hold.
//!
//! e ≥ 1.2 d₀ to every cut edge, p ≥ 2.2 d₀ to every other hole; margin = what there is over what is needed − 1, the worst hole.
//! Source: EN 1993-1-8 table 3.3 (from memory). Its 2.4 d₀ square to the force is not asked: the force of a landing comes from
//! every side.

use super::holes::Edges;
use super::{Check, Scope, Subject};
use crate::material::Basis;
use crate::model::Mount;
use crate::results::{Amount, Margin, Term, Verdict, Working};
use crate::units::Length;

pub(super) const CHECK: Check = Check {
    id: "hole-edge",
    words: "is too near the edge or another hole",
    scope: Scope::Gear(run),
    fails: None,
    special: 1.0,
};

/// Least distance of a hole's middle from an edge, in hole diameters.
const EDGE: f64 = 1.2;
/// Least distance between the middles of two holes, in hole diameters.
const PITCH: f64 = 2.2;

/// A distance, what it should be, to what it is, and its part of the formula.
struct Distance {
    bolt: usize,
    least: f64,
    is: Length,
    what: String,
}

impl Distance {
    fn ratio(&self, hole: Length) -> f64 {
        f64::from(self.is / (self.least * hole))
    }
}

fn run(subject: &Subject<'_>) -> Vec<Margin> {
    let (Some(mount), Some(base)) = (&subject.gear.mount, subject.gear.base_plate()) else {
        return Vec::new();
    };
    let hole = mount.hole_diameter();
    let mut all: Vec<Distance> = Vec::new();
    for (bolt, (x, y)) in mount.bolts.iter().enumerate() {
        let nearest = Edges::new(subject.gear, &base, [*x, *y]).nearest();
        all.push(Distance { bolt, least: EDGE, is: nearest, what: "the nearest edge".into() });
        for (other, (u, v)) in mount.bolts.iter().enumerate().skip(bolt + 1) {
            let is = ((*x - *u) * (*x - *u) + (*y - *v) * (*y - *v)).sqrt();
            let what = format!("the hole of bolt {}", Mount::bolt_name(other));
            all.push(Distance { bolt, least: PITCH, is, what });
        }
    }
    let worst = all.into_iter().reduce(|a, b| if b.ratio(hole) < a.ratio(hole) { b } else { a });
    let Some(worst) = worst else { return Vec::new() };
    let needed = worst.least * hole;
    let margin = Margin {
        check: CHECK.id,
        gear: subject.gear.name.clone(),
        part: format!("hole of bolt {}", Mount::bolt_name(worst.bolt)),
        case: None,
        applied: Amount::Length(needed),
        allowable: Some(Amount::Length(worst.is)),
        factor: 1.0,
        verdict: Verdict::Holds,
        basis: Some(Basis::FromMemory),
        source: "EN 1993-1-8 table 3.3 (from memory)".into(),
        working: Working {
            formula: "needed = k d₀, k = 1.2 to an edge and 2.2 to another hole; margin = e / needed − 1"
                .into(),
            terms: vec![
                Term::new("d₀", "diameter of the hole", Amount::Length(hole)),
                Term::new("k", format!("least distance to {}", worst.what), Amount::Number(worst.least)),
                Term::new(
                    "e",
                    format!("from the middle of the hole to {}", worst.what),
                    Amount::Length(worst.is),
                ),
            ],
            notes: vec!["The worst of all holes. At its bends the plate goes on and has no edge.".into()],
        },
    };
    vec![margin.decided()]
}
