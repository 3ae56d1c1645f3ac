//! Stress against strain of a metal in one direction, with yielding, hardening and unloading.
//!
//! One metal is several layers side by side that take the same strain; each is elastic up to a stress of its own and perfectly
//! plastic beyond. Any stress–strain line that only loses slope is matched by such layers, and unloading, reversal and the
//! Bauschinger effect come out by themselves (kinematic hardening, Masing's rule).
//! Source: Besseling's overlay model (J. Appl. Mech. 25, 1958), from memory.

/// Slope that is left when everything has yielded, relative to the elastic one. chosen: a section bent to fourteen times its
/// yield curvature carries 1.5e-4 more than a perfectly plastic one; without any slope a full hinge has no stiffness.
pub(super) const LEAST_SLOPE: f64 = 1e-5;

/// Breaks with which a smooth line is followed. chosen: the stress is then within 0.3 % of the line.
const SMOOTH_BREAKS: usize = 28;

/// Plastic strain of a smooth line that is too small to follow. chosen: a thousandth of what defines proof stress.
const UNSEEN_STRAIN: f64 = 2e-6;

/// Plastic strain up to which a smooth line is followed; beyond, its slope stays. chosen: more than a leg bends to.
const FARTHEST_STRAIN: f64 = 0.06;

/// Plastic strain that defines the proof stress.
const PROOF_STRAIN: f64 = 0.002;

/// A layer that yields.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Layer {
    /// Slope while elastic, Pa.
    pub(super) stiffness: f64,
    /// Stress it does not exceed, Pa.
    pub(super) limit: f64,
}

/// A uniaxial stress–strain law. Tension and compression are alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Law {
    modulus: f64,
    /// Layers in the order in which they yield.
    layers: Vec<Layer>,
    /// Slope of the layer that never yields, Pa.
    rest: f64,
}

impl Law {
    /// Follows a line through points of strain and stress (Pa), ever less steep, from the origin; beyond the last point with
    /// `slope` (Pa). The first point is where the law leaves Hooke's line.
    fn through(points: &[(f64, f64)], slope: f64) -> Self {
        let modulus = points.first().map_or(slope, |(e, s)| s / e);
        let least = LEAST_SLOPE * modulus;
        let slope = slope.max(least);
        let ends = points.iter().skip(1);
        let slopes = points.iter().zip(ends).map(|((e0, s0), (e1, s1))| (s1 - s0) / (e1 - e0));
        let mut before = modulus;
        let mut layers = Vec::new();
        for ((strain, _), after) in points.iter().zip(slopes.chain([slope])) {
            let after = after.max(slope).min(before);
            let stiffness = before - after;
            if stiffness > 0.0 {
                layers.push(Layer { stiffness, limit: stiffness * strain });
            }
            before = after;
        }
        Self { modulus, layers, rest: slope }
    }

    /// Elastic up to a yield stress, then a straight line: modulus, yield stress, and slope beyond it, all Pa. A slope of zero
    /// is perfectly plastic, but for a hundred-thousandth of the modulus.
    #[must_use]
    pub fn bilinear(modulus: f64, yield_stress: f64, slope: f64) -> Self {
        Self::through(&[(yield_stress / modulus, yield_stress)], slope.min(modulus))
    }

    /// Smooth: ε = σ/E + 0.002 (σ/σ₀.₂)ⁿ, followed by straight pieces. Source: Ramberg & Osgood, NACA TN 902 (1943); in
    /// terms of the 0.2 % proof stress Hill, NACA TN 927 (1944), both from memory.
    #[must_use]
    pub fn ramberg_osgood(modulus: f64, proof_stress: f64, exponent: f64) -> Self {
        let ratio = (FARTHEST_STRAIN / UNSEEN_STRAIN).powf(1.0 / (SMOOTH_BREAKS - 1) as f64);
        let mut points = Vec::with_capacity(SMOOTH_BREAKS);
        let mut plastic = UNSEEN_STRAIN;
        for i in 0..SMOOTH_BREAKS {
            let stress = proof_stress * (plastic / PROOF_STRAIN).powf(1.0 / exponent);
            // Up to the first break the line is Hooke's.
            points.push((stress / modulus + if i == 0 { 0.0 } else { plastic }, stress));
            plastic *= ratio;
        }
        Self::through(&points, 0.0)
    }

    /// Elastic modulus, Pa.
    pub(super) const fn modulus(&self) -> f64 {
        self.modulus
    }

    /// Layers that yield, in the order in which they do.
    pub(super) fn layers(&self) -> &[Layer] {
        &self.layers
    }

    /// Slope of what never yields, Pa.
    pub(super) const fn rest(&self) -> f64 {
        self.rest
    }

    /// Strain up to which nothing yields.
    pub(super) fn elastic_strain(&self) -> f64 {
        self.layers.first().map_or(f64::INFINITY, |l| l.limit / l.stiffness)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Stress of a first loading.
    fn stress(law: &Law, strain: f64) -> f64 {
        law.layers.iter().map(|l| (l.stiffness * strain).min(l.limit)).sum::<f64>() + law.rest * strain
    }

    #[test]
    fn a_bilinear_law_has_its_two_slopes() {
        let law = Law::bilinear(70e9, 210e6, 700e6);
        assert_relative_eq!(stress(&law, 0.002), 140e6, max_relative = 1e-12);
        assert_relative_eq!(stress(&law, 0.003), 210e6, max_relative = 1e-12);
        assert_relative_eq!(stress(&law, 0.013), 210e6 + 0.01 * 700e6, max_relative = 1e-12);
        assert_relative_eq!(law.elastic_strain(), 0.003, max_relative = 1e-12);
    }

    #[test]
    fn a_smooth_law_follows_its_formula() {
        // Closed form: Ramberg–Osgood's own line, at stresses between the breaks.
        for exponent in [5.0, 12.0, 30.0] {
            let law = Law::ramberg_osgood(70e9, 260e6, exponent);
            for part in [0.3, 0.6, 0.8, 0.9, 1.0, 1.05] {
                let sigma = part * 260e6;
                let strain = sigma / 70e9 + 0.002 * f64::powf(part, exponent);
                assert_relative_eq!(stress(&law, strain), sigma, max_relative = 3e-3);
            }
        }
    }
}
