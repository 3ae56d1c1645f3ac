//! The plate tears at a bolt: the bolt's side pressure at ultimate load, with the fitting factor, reaches what the edge of the hole
//! holds.
//!
//! F_b = k₁ α_b f_u d t in each direction; margin = 1/(factor × √((V_x/F_x)² + (V_y/F_y)²)) − 1. The standard lets the two parts of
//! an oblique force be judged one by one; added as squares they are never less, and with the same resistance both ways the
//! resultant counts. Characteristic value: γ_M2 is left out, for the factors of the landing rules stand in its place.
//! Source: EN 1993-1-8 table 3.4 (secondary; α_d, the pitch in k₁ and the two parts from memory); 14 CFR 23.303 (from memory),
//! 23.625(a) before amendment 23-64.

use super::bolt::TRACE;
use super::holes::Edges;
use super::{Check, FITTING_FACTOR, Scope, Subject, margin, plate_ultimate};
use crate::material::Sourced;
use crate::model::{BasePlate, Mount, PartKind};
use crate::results::{Amount, BoltState, CaseResult, Margin, Term};
use crate::units::{Force, Length, Stress};

pub(super) const CHECK: Check = Check {
    id: "plate-bearing",
    words: "tears",
    scope: Scope::Case(run),
    fails: Some(PartKind::Legs),
    special: FITTING_FACTOR,
};

/// A bolt that presses on the side of its hole in a plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoltBearing {
    /// The bolt's diameter d.
    pub bolt: Length,
    /// The hole's diameter d₀.
    pub hole: Length,
    /// The plate's thickness t.
    pub thickness: Length,
    /// From the hole's middle to the edge that the force points at, e₁; `None` where the plate goes on.
    pub end: Option<Length>,
    /// From the hole's middle to the nearer edge square to the force, e₂; `None` where the plate goes on.
    pub edge: Option<Length>,
    /// To the next hole in the direction of the force, p₁, middle to middle.
    pub ahead: Option<Length>,
    /// To the nearest hole square to the force, p₂, middle to middle.
    pub beside: Option<Length>,
    /// Tensile strength of the plate, f_u.
    pub plate_ultimate: Stress,
    /// Tensile strength of the bolt, f_ub.
    pub bolt_ultimate: Stress,
}

impl BoltBearing {
    /// k₁ = min(2.8 e₂/d₀ − 1.7, 1.4 p₂/d₀ − 1.7, 2.5), not less than nothing.
    ///
    /// Source: EN 1993-1-8 table 3.4 (secondary; p₂ from memory).
    #[must_use]
    pub fn edge_factor(&self) -> f64 {
        let edge = self.edge.map(|e| 2.8 * f64::from(e / self.hole) - 1.7);
        let beside = self.beside.map(|p| 1.4 * f64::from(p / self.hole) - 1.7);
        [edge, beside].into_iter().flatten().fold(2.5, f64::min).max(0.0)
    }

    /// α_b = min(e₁/(3 d₀), p₁/(3 d₀) − 1/4, f_ub/f_u, 1), not less than nothing.
    ///
    /// Source: EN 1993-1-8 table 3.4 (secondary; the first two from memory).
    #[must_use]
    pub fn end_factor(&self) -> f64 {
        let end = self.end.map(|e| f64::from(e / (3.0 * self.hole)));
        let ahead = self.ahead.map(|p| f64::from(p / (3.0 * self.hole)) - 0.25);
        let bolt = f64::from(self.bolt_ultimate / self.plate_ultimate);
        [end, ahead, Some(bolt)].into_iter().flatten().fold(1.0, f64::min).max(0.0)
    }

    /// What the edge of the hole holds: F_b = k₁ α_b f_u d t, without γ_M2.
    #[must_use]
    pub fn resistance(&self) -> Force {
        self.edge_factor() * self.end_factor() * self.plate_ultimate * self.bolt * self.thickness
    }
}

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.ultimate.mount) else { return Vec::new() };
    let Some(base) = subject.gear.base_plate() else { return Vec::new() };
    let mut found = Vec::new();
    for bolt in &state.bolts {
        let applied = bolt.shear_size();
        if applied <= Force::default() || applied <= TRACE * bolt.tension {
            continue;
        }
        found.push(of_bolt(subject, case, mount, &base, bolt));
    }
    found
}

/// Distances to the other holes that lie in the way of a hole which moves along one axis: the next ahead, and the nearest square
/// to it. `ahead` is the sense of the movement.
fn others(
    mount: &Mount,
    at: [Length; 2],
    axis: impl Fn([Length; 2]) -> [Length; 2],
    ahead: f64,
) -> [Option<Length>; 2] {
    let hole = mount.hole_diameter();
    let [own_along, own_square] = axis(at);
    let offsets = mount.bolts.iter().map(|(x, y)| {
        let [along, square] = axis([*x, *y]);
        [ahead * (along - own_along), square - own_square]
    });
    let (mut next, mut beside): (Option<Length>, Option<Length>) = (None, None);
    let zero = Length::default();
    for [along, square] in offsets.filter(|o| *o != [zero, zero]) {
        if along > zero && square.abs() < hole {
            next = Some(next.map_or(along, |n| n.min(along)));
        }
        if square.abs() > zero && along.abs() < hole {
            beside = Some(beside.map_or(square.abs(), |b| b.min(square.abs())));
        }
    }
    [next, beside]
}

fn of_bolt(
    subject: &Subject<'_>,
    case: &CaseResult,
    mount: &Mount,
    base: &BasePlate,
    bolt: &BoltState,
) -> Margin {
    let ultimate = subject.project.landing.ultimate_factor;
    let class = &mount.bolt_class;
    let applied = bolt.shear_size() / ultimate;
    let part = format!("flat centre at bolt {}", bolt.name);
    let mut m = margin(&CHECK, subject, case, part, Amount::Force(applied));
    m.factor = ultimate * FITTING_FACTOR;
    m.source = "14 CFR 23.303, 23.625(a); EN 1993-1-8 table 3.4 (secondary, in part from memory)".to_owned();
    let strength = match plate_ultimate(&subject.gear.plate) {
        Ok(strength) => strength,
        Err(why) => return m.untold(why),
    };
    let Sourced { value: bolt_ultimate, .. } = class.ultimate;
    m.basis = Some(strength.basis.max(class.ultimate.basis));
    m.source = format!("{}; {}; {}", m.source, strength.source, class.ultimate.source);
    m.working.formula = "factor = ultimate factor × 1.15 (fitting); F = k₁ α_b f_u d t for the force fore and aft (x) and athwart \
                         (y); k₁ = min(2.8 e₂/d₀ − 1.7, 1.4 p₂/d₀ − 1.7, 2.5); α_b = min(e₁/(3 d₀), p₁/(3 d₀) − 1/4, f_ub/f_u, 1); \
                         F_b = V / √((V_x/F_x)² + (V_y/F_y)²); margin = F_b / (factor × V) − 1, V at ultimate load over the \
                         ultimate factor"
        .into();
    m.working.terms = vec![
        Term::new("d", "diameter of the bolt", Amount::Length(mount.bolt.nominal)),
        Term::new("d₀", "diameter of the hole", Amount::Length(mount.hole_diameter())),
        Term::new("t", "thickness of the plate", Amount::Length(base.thickness)),
        Term::new("f_u", "tensile strength of the plate", Amount::Stress(strength.value)),
        Term::new("f_ub", "tensile strength of the bolt", Amount::Stress(bolt_ultimate)),
    ];
    let edges = Edges::new(subject.gear, base, bolt.at);
    let [aft, starboard] = bolt.shear;
    // The bolt holds on: the hole tears towards where the plate comes from.
    let forwards = aft > Force::default();
    let to_port = starboard > Force::default();
    let whole = BoltBearing {
        bolt: mount.bolt.nominal,
        hole: mount.hole_diameter(),
        thickness: base.thickness,
        end: None,
        edge: None,
        ahead: None,
        beside: None,
        plate_ultimate: strength.value,
        bolt_ultimate,
    };
    let [ahead, beside] = others(mount, bolt.at, |[x, y]| [x, y], if forwards { -1.0 } else { 1.0 });
    let along_x = BoltBearing {
        end: Some(if forwards { edges.forward } else { edges.aft }),
        edge: edges.nearest_athwart(),
        ahead,
        beside,
        ..whole
    };
    let [ahead, beside] = others(mount, bolt.at, |[x, y]| [y, x], if to_port { -1.0 } else { 1.0 });
    let along_y = BoltBearing {
        end: if to_port { edges.port } else { edges.starboard },
        edge: Some(edges.nearest_fore_and_aft()),
        ahead,
        beside,
        ..whole
    };
    let mut squares = 0.0;
    let axes: [(_, Force, &BoltBearing, [&'static str; 8]); 2] = [
        ("fore and aft", aft, &along_x, ["V_x", "e₁x", "e₂x", "p₁x", "p₂x", "k₁x", "α_bx", "F_x"]),
        ("athwart", starboard, &along_y, ["V_y", "e₁y", "e₂y", "p₁y", "p₂y", "k₁y", "α_by", "F_y"]),
    ];
    for (way, shear, bearing, symbols) in axes {
        if shear.abs() <= Force::default() {
            continue;
        }
        let resistance = bearing.resistance();
        squares += f64::from(shear / resistance).powi(2);
        m.working.terms.extend(axis_terms(way, shear / ultimate, bearing, symbols));
    }
    m.working.terms.push(Term::new("V", "all of what the bolt presses with", Amount::Force(applied)));
    m.allowable = Some(Amount::Force(bolt.shear_size() / squares.sqrt()));
    m.working.notes.push(
        "A rule for steel plate, taken for aluminium alike. Without the standard's γ_M2: the factors of the landing rules stand in \
         its place. Its two parts may be judged one by one; added as squares they are on the safe side. At its bends the plate \
         goes on and has no edge."
            .into(),
    );
    m.decided()
}

/// The sum in one direction. Distances that there are none of are left out.
fn axis_terms(
    way: &str,
    shear: Force,
    b: &BoltBearing,
    [v, e1, e2, p1, p2, k1, alpha, f]: [&'static str; 8],
) -> Vec<Term> {
    let mut terms = vec![Term::new(v, format!("force {way}"), Amount::Force(shear))];
    let distances = [
        (e1, "to the edge ahead", b.end),
        (e2, "to the edge beside", b.edge),
        (p1, "to the hole ahead", b.ahead),
        (p2, "to the hole beside", b.beside),
    ];
    for (symbol, what, distance) in distances {
        terms.extend(distance.map(|d| Term::new(symbol, format!("{way}: {what}"), Amount::Length(d))));
    }
    terms.extend([
        Term::new(k1, format!("{way}: factor of the sides"), Amount::Number(b.edge_factor())),
        Term::new(alpha, format!("{way}: factor of the end"), Amount::Number(b.end_factor())),
        Term::new(f, format!("{way}: what the hole's edge holds"), Amount::Force(b.resistance())),
    ]);
    terms
}
