//! What a hole in a plate holds when a wire or a bolt pulls sideways at it; shared by the checks of wire anchors.
//!
//! Bearing F_b = k₁ α_b f_u d t, k₁ = 2.8 e₂/d₀ − 1.7 up to 2.5, α_b = e₁/(3 d₀) up to 1; the wire, harder than the plate, does not
//! limit α_b. Tear-out along two planes from the hole's edge to the plate's, F_s = 2 (e₁ − d₀/2) t × 0.577 f_u. The lesser counts.
//! e₁: from the hole's middle to the edge in the direction of the pull; e₂: square to it. d = d₀. In the place of the standard's
//! γ_M2 = 1.25 stand the ultimate and the fitting factor.
//! Source: EN 1993-1-8 table 3.4, read second-hand, α_d from memory; shear strength 0.577 f_u (1/√3) from memory; tear-out derived.

use super::BoltBearing;
use crate::material::SHEAR_OF_TENSILE;
use crate::results::{Amount, Term};
use crate::units::{Force, Length, Stress};

/// The formulas, to stand before that of a margin.
pub(super) const FORMULA: &str = "k₁ = 2.8 e₂/d − 1.7 ≤ 2.5; α_b = e₁/(3 d) ≤ 1; F_b = k₁ α_b f_u d t; \
                                  F_s = 2 (e₁ − d/2) t 0.577 f_u";

/// Where the formulas come from.
pub(super) const SOURCE: &str = "EN 1993-1-8 table 3.4 (second-hand)";

/// A round hole near the edge of a plate.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hole {
    /// Its diameter, and that of what pulls in it.
    pub(super) diameter: Length,
    /// The plate's thickness.
    pub(super) thickness: Length,
    /// From its middle to the edge in the direction of the pull.
    pub(super) end: Length,
    /// From its middle to the edge square to the pull.
    pub(super) side: Length,
}

impl Hole {
    /// The hole as one that a bolt as thick as itself, and harder than the plate, bears on.
    fn bearing(&self, ultimate: Stress) -> BoltBearing {
        BoltBearing {
            bolt: self.diameter,
            hole: self.diameter,
            thickness: self.thickness,
            end: Some(self.end),
            edge: Some(self.side),
            ahead: None,
            beside: None,
            plate_ultimate: ultimate,
            bolt_ultimate: f64::INFINITY * ultimate,
        }
    }

    /// The force at which the metal before it shears out.
    fn tear_out(&self, ultimate: Stress) -> Force {
        let clear = (self.end - 0.5 * self.diameter).max(Length::default());
        2.0 * SHEAR_OF_TENSILE * ultimate * (clear * self.thickness)
    }

    /// The lesser of both.
    pub(super) fn holds(&self, ultimate: Stress) -> Force {
        self.bearing(ultimate).resistance().min(self.tear_out(ultimate))
    }

    /// The symbols of [`FORMULA`].
    pub(super) fn terms(&self, ultimate: Stress) -> Vec<Term> {
        let bearing = self.bearing(ultimate);
        vec![
            Term::new("d", "diameter of the hole, as thick as the wire", Amount::Length(self.diameter)),
            Term::new("t", "thickness of the plate there", Amount::Length(self.thickness)),
            Term::new("e₁", "from the hole's middle to the edge along the pull", Amount::Length(self.end)),
            Term::new("e₂", "to the edge square to it", Amount::Length(self.side)),
            Term::new("f_u", "tensile strength of the plate", Amount::Stress(ultimate)),
            Term::new("k₁", "for the edge at the side", Amount::Number(bearing.edge_factor())),
            Term::new("α_b", "for the edge ahead", Amount::Number(bearing.end_factor())),
            Term::new("F_b", "bearing", Amount::Force(bearing.resistance())),
            Term::new("F_s", "tearing out in shear", Amount::Force(self.tear_out(ultimate))),
        ]
    }
}

/// From a place in a rectangle to its edge in a direction; none beyond it. Each axis has its low and its high edge.
pub(super) fn to_edge(at: [Length; 2], toward: [f64; 2], edges: [[Length; 2]; 2]) -> Option<Length> {
    let axes = at.into_iter().zip(toward).zip(edges);
    axes.filter_map(|((place, share), [low, high])| {
        if share > 0.0 {
            Some((high - place) / share)
        } else if share < 0.0 {
            Some((low - place) / share)
        } else {
            None
        }
    })
    .reduce(Length::min)
    .map(|room| room.max(Length::default()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use uom::si::force::newton;
    use uom::si::length::millimeter;
    use uom::si::pressure::megapascal;

    fn hole(end: f64, side: f64) -> Hole {
        let mm = |value| Length::new::<millimeter>(value);
        Hole { diameter: mm(2.0), thickness: mm(3.0), end: mm(end), side: mm(side) }
    }

    fn held(hole: &Hole) -> f64 {
        hole.holds(Stress::new::<megapascal>(300.0)).get::<newton>()
    }

    #[test]
    fn far_from_every_edge_it_is_two_and_a_half_times_the_strength() {
        // 2.5 × 300 × 2 × 3 = 4500 N.
        assert_relative_eq!(held(&hole(20.0, 20.0)), 4500.0, max_relative = 1e-12);
    }

    #[test]
    fn near_the_end_the_bearing_rule_and_then_the_tear_out_count() {
        // e₁ = 4: 2.5 × 4/6 × 1800 = 3000 N against 2 × (4 − 1) × 3 × 0.577 × 300 = 3115.8 N.
        assert_relative_eq!(held(&hole(4.0, 20.0)), 3000.0, max_relative = 1e-12);
        // e₁ = 2: 2.5 × 2/6 × 1800 = 1500 N against 2 × 1 × 3 × 173.1 = 1038.6 N.
        assert_relative_eq!(held(&hole(2.0, 20.0)), 1038.6, max_relative = 1e-12);
        assert_relative_eq!(held(&hole(0.5, 20.0)), 0.0);
    }

    #[test]
    fn near_the_side_less_counts() {
        // e₂ = 2: k₁ = 2.8 − 1.7 = 1.1: 1.1 × 1800.
        assert_relative_eq!(held(&hole(20.0, 2.0)), 1980.0, max_relative = 1e-12);
        assert_relative_eq!(held(&hole(20.0, 1.0)), 0.0);
    }

    #[test]
    fn the_edge_ahead_is_the_one_the_pull_meets_first() {
        let mm = |value| Length::new::<millimeter>(value);
        let edges = [[mm(-30.0), mm(30.0)], [mm(-60.0), mm(60.0)]];
        let from = |at: [f64; 2], toward| to_edge(at.map(mm), toward, edges).map(|r| r.get::<millimeter>());
        // 45 mm starboard, pull to port: 105 mm; 3-4-5 to aft and starboard: 30/0.6 = 50 mm against 15/0.8 = 18.75 mm.
        assert_relative_eq!(from([0.0, 45.0], [0.0, -1.0]).unwrap_or(f64::NAN), 105.0, max_relative = 1e-12);
        assert_relative_eq!(from([0.0, 45.0], [0.6, 0.8]).unwrap_or(f64::NAN), 18.75, max_relative = 1e-12);
        assert_relative_eq!(from([0.0, 70.0], [0.0, 1.0]).unwrap_or(f64::NAN), 0.0);
        assert_eq!(from([0.0, 0.0], [0.0, 0.0]), None);
    }
}
