//! A strip in a vice with a weight on it: when it begins to yield, how far it goes down, what stays.

use crate::units::{Force, Length, Stress};

/// A strip clamped at one end and loaded near the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cantilever {
    /// Width.
    pub width: Length,
    /// Thickness.
    pub thickness: Length,
    /// From the clamp to the load.
    pub length: Length,
}

impl Cantilever {
    /// Load at which the strip begins to yield: P = σ b t² / (6 L). Closed form.
    #[must_use]
    pub fn first_yield(&self, yield_strength: Stress) -> Force {
        yield_strength * self.width * self.thickness * self.thickness / (6.0 * self.length)
    }

    /// How far its end moves while nothing yields: δ = 4 P L³ / (E b t³). Closed form.
    #[must_use]
    pub fn elastic_movement(&self, load: Force, modulus: Stress) -> Length {
        let slender = self.length / self.thickness;
        4.0 * slender * slender * slender * load / (modulus * self.width)
    }

    /// Share of its length that is left of a load's lever: the load comes nearer to the clamp as the strip swings down.
    ///
    /// 1 − 3/5 s² / (1 + 1.62 s²), s the movement of small displacements over the length: 3/5 s² is the closed form for small s, the
    /// rest a fit to the elastica (the tests hold how near).
    #[must_use]
    pub fn lever(&self, load: Force, modulus: Stress) -> f64 {
        let sag = f64::from(self.elastic_movement(load, modulus) / self.length);
        1.0 - 0.6 * sag * sag / (1.0 + 1.62 * sag * sag)
    }

    /// Load over that of first yield, as the clamp feels it: it falls with the [lever](Self::lever).
    #[must_use]
    pub fn yielding_share(&self, load: Force, yield_strength: Stress, modulus: Stress) -> f64 {
        let first = self.first_yield(yield_strength);
        self.lever(load.min(first * 1.5), modulus) * f64::from(load / first)
    }

    /// How much its end stays bent once the load is taken off; `None` when it folds under the load.
    ///
    /// δ_y (f(p) − p), p the [share](Self::yielding_share), δ_y the movement at first yield; see [`movement_beyond_yield`].
    #[must_use]
    pub fn set(&self, load: Force, yield_strength: Stress, modulus: Stress) -> Option<Length> {
        let p = self.yielding_share(load, yield_strength, modulus);
        let beyond = movement_beyond_yield(p)? - p;
        Some(self.elastic_movement(self.first_yield(yield_strength), modulus) * beyond)
    }
}

/// Movement of the end of a rectangular cantilever of perfectly plastic metal, relative to that at first yield, under `p` times the
/// load of first yield; `None` beyond the load that folds it.
///
/// f = p⁻² (5 − (3 + p) √(3 − 2p)) for 1 < p ≤ 1.5. Source: Prandtl; Timoshenko, Strength of Materials part II (from memory; computed
/// values are in the tests).
#[must_use]
pub fn movement_beyond_yield(p: f64) -> Option<f64> {
    if p <= 1.0 {
        Some(p)
    } else if p <= 1.5 {
        Some((5.0 - (3.0 + p) * (3.0 - 2.0 * p).sqrt()) / (p * p))
    } else {
        None
    }
}
