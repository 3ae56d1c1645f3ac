//! What a shop test shows of a metal that is so strong and so stiff: the mechanics behind each reading.
//!
//! A strip here is a rectangle in bending. Strains in it are small enough for a sheet to be taken as a beam, and its metal as elastic and
//! perfectly plastic, except where a rod or a ball strains it by many per cent: there it hardens, by how much follows from how far its
//! tensile strength lies above its yield strength.

use crate::units::{Force, Length, STANDARD_GRAVITY, Stress};
use uom::si::pressure::megapascal;

/// Strain at which Tabor's law takes the flow stress. Source: D. Tabor, The Hardness of Metals (1951), from memory: 8 % under a pyramid.
const STRAIN_UNDER_A_PYRAMID: f64 = 0.08;

/// Hardness over that flow stress, both as stresses. Source: the same, from memory.
const CONSTRAINT: f64 = 3.0;

/// Brinell over Vickers number of the same sheet. chosen: what brings Tabor's law, with hardening by [`hardening_exponent`], to the Brinell
/// numbers that EN 485-2 prints beside its strengths; the tests hold how near.
const BRINELL_OF_VICKERS: f64 = 0.92;

/// Strain of the proof stress beyond the elastic one.
const PROOF: f64 = 0.002;

/// The largest exponent looked for: no metal hardens more.
const MOST_HARDENING: f64 = 0.6;

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

    /// How much its end stays bent once the load is taken off; `None` when it folds under the load.
    ///
    /// δ_y (f(p) − p), p = P / P_y, δ_y the movement at first yield; see [`movement_beyond_yield`]. p falls with the [lever](Self::lever).
    #[must_use]
    pub fn set(&self, load: Force, yield_strength: Stress, modulus: Stress) -> Option<Length> {
        let first = self.first_yield(yield_strength);
        let p = self.lever(load.min(first * 1.5), modulus) * f64::from(load / first);
        let beyond = movement_beyond_yield(p)? - p;
        Some(self.elastic_movement(first, modulus) * beyond)
    }
}

/// Movement of the end of a rectangular cantilever of perfectly plastic metal, relative to that at first yield, under `p` times the
/// load of first yield; `None` from the load on that folds it.
///
/// f = p⁻² (5 − (3 + p) √(3 − 2p)) for 1 < p < 1.5. Source: L. Prandtl, as in textbooks of plasticity (from memory; computed values are in
/// the tests).
#[must_use]
pub fn movement_beyond_yield(p: f64) -> Option<f64> {
    if p <= 1.0 {
        Some(p)
    } else if p < 1.5 {
        Some((5.0 - (3.0 + p) * (3.0 - 2.0 * p).sqrt()) / (p * p))
    } else {
        None
    }
}

/// Share of a bend's curvature that is left once it is let go: R_i / R_f = 4 q³ − 3 q + 1, q = σ R_i / (E t), and nothing from q = ½ on.
///
/// Radii are those of the middle of the thickness. Source: textbooks of sheet forming (from memory); derivable from a rectangle of
/// perfectly plastic metal.
#[must_use]
pub fn curvature_left(flow_stress: Stress, modulus: Stress, radius: Length, thickness: Length) -> f64 {
    let q = f64::from(flow_stress / modulus) * f64::from(radius / thickness);
    if q >= 0.5 { 0.0 } else { 4.0 * q * q * q - 3.0 * q + 1.0 }
}

/// The flow stress that leaves such a share of a bend's curvature: the same formula the other way round, by halving; `None` for a share
/// that is none.
#[must_use]
pub fn flow_stress_of_bend(left: f64, modulus: Stress, radius: Length, thickness: Length) -> Option<Stress> {
    if !(0.0..=1.0).contains(&left) {
        return None;
    }
    // The share falls all the way from q = 0 to ½.
    let (mut low, mut high) = (0.0, 0.5);
    for _ in 0..60 {
        let q: f64 = 0.5 * (low + high);
        if 4.0 * q * q * q - 3.0 * q + 1.0 > left {
            low = q;
        } else {
            high = q;
        }
    }
    Some(0.5 * (low + high) * modulus * f64::from(thickness / radius))
}

/// Strain at the 0.2 % proof stress.
#[must_use]
pub fn proof_strain(yield_strength: Stress, modulus: Stress) -> f64 {
    f64::from(yield_strength / modulus) + PROOF
}

/// Exponent n of σ = K εⁿ through the proof stress and a tensile strength `ratio` times as high: (n / (e ε₀.₂))ⁿ = ratio.
///
/// The tensile strength is reached at a true strain of n. Source: A. Considère's condition, as in J. R. Cahoon, Metall. Trans. 3 (1972)
/// 3040 (from memory).
#[must_use]
pub fn hardening_exponent(ratio: f64, proof_strain: f64) -> f64 {
    let least = std::f64::consts::E * proof_strain;
    let (mut low, mut high) = (least, MOST_HARDENING);
    for _ in 0..60 {
        let n: f64 = 0.5 * (low + high);
        if n * (n / least).ln() < ratio.ln() {
            low = n;
        } else {
            high = n;
        }
    }
    0.5 * (low + high)
}

/// Flow stress at a strain over the proof stress.
#[must_use]
pub fn hardened(exponent: f64, proof_strain: f64, strain: f64) -> f64 {
    if strain > proof_strain { (strain / proof_strain).powf(exponent) } else { 1.0 }
}

/// What a rectangle bent to a strain at its surface carries, as the flow stress of one that does not harden, over the proof stress.
///
/// M = K ε_sⁿ b t² / (2 (2 + n)), against σ b t² / 4. Closed form.
#[must_use]
pub fn hardened_in_bending(exponent: f64, proof_strain: f64, surface_strain: f64) -> f64 {
    (hardened(exponent, proof_strain, surface_strain) * 2.0 / (2.0 + exponent)).max(1.0)
}

/// Vickers number of a sheet: three times its flow stress at 8 % of strain, in kgf/mm².
#[must_use]
pub fn vickers(yield_strength: Stress, modulus: Stress, exponent: f64) -> f64 {
    let flow =
        yield_strength * hardened(exponent, proof_strain(yield_strength, modulus), STRAIN_UNDER_A_PYRAMID);
    // Numbers of hardness are kgf/mm².
    CONSTRAINT * f64::from(flow / Stress::new::<megapascal>(STANDARD_GRAVITY))
}

/// Brinell number of the same.
#[must_use]
pub fn brinell(yield_strength: Stress, modulus: Stress, exponent: f64) -> f64 {
    BRINELL_OF_VICKERS * vickers(yield_strength, modulus, exponent)
}
