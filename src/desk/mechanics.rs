//! What a shop test shows of a metal that is so strong and so stiff: the mechanics behind each reading.
//!
//! A strip here is a rectangle in bending. Strains in it are small enough for a sheet to be taken as a beam, and its metal as elastic and
//! perfectly plastic, except where a rod or a ball strains it by many per cent: there it hardens, by how much follows from how far its
//! tensile strength lies above its yield strength.

use crate::units::{
    Area, ElectricCurrent, ElectricPotential, ElectricalConductivity, Length, STANDARD_GRAVITY, Stress,
};
use uom::si::electrical_conductivity::siemens_per_meter;
use uom::si::pressure::megapascal;

/// Strain at which Tabor's law takes the flow stress. Source: D. Tabor, The Hardness of Metals (1951), from memory: 8 % under a pyramid.
pub(super) const STRAIN_UNDER_A_PYRAMID: f64 = 0.08;

/// Hardness over that flow stress, both as stresses. Source: the same, from memory.
const CONSTRAINT: f64 = 3.0;

/// Brinell over Vickers number of the same sheet. chosen: what brings Tabor's law, with hardening by [`hardening_exponent`], to the Brinell
/// numbers that EN 485-2 prints beside its strengths; the tests hold how near.
pub(super) const BRINELL_OF_VICKERS: f64 = 0.92;

/// Strain of the proof stress beyond the elastic one.
const PROOF: f64 = 0.002;

/// The largest exponent looked for: no metal hardens more.
const MOST_HARDENING: f64 = 0.6;

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

/// Share of its curvature that a strip keeps once it was pressed round a rod of an inside radius and let go, its metal hardening as it is
/// strained: [`curvature_left`] of what it [carries](hardened_in_bending) at a strain of t / 2R, R to the middle of the thickness.
#[must_use]
pub fn kept_of_bend(
    yield_strength: Stress,
    modulus: Stress,
    exponent: f64,
    inside: Length,
    thickness: Length,
) -> f64 {
    let middle = inside + 0.5 * thickness;
    let strain = f64::from(thickness / (2.0 * middle));
    let flow = yield_strength * hardened_in_bending(exponent, proof_strain(yield_strength, modulus), strain);
    curvature_left(flow, modulus, middle, thickness)
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

/// What 100 % IACS is, S/m. Source: IEC 60028 (from memory).
const ANNEALED_COPPER: f64 = 58e6;

/// A conductivity in % IACS: of that of annealed copper at 20 °C.
#[must_use]
pub fn iacs(conductivity: ElectricalConductivity) -> f64 {
    100.0 * f64::from(conductivity / ElectricalConductivity::new::<siemens_per_meter>(ANNEALED_COPPER))
}

/// Conductivity of a strip by the current through its section and the voltage between two places along it: γ = I L / (U A). Ohm's law.
#[must_use]
pub fn conductivity_of_strip(
    current: ElectricCurrent,
    voltage: ElectricPotential,
    length: Length,
    section: Area,
) -> ElectricalConductivity {
    current / voltage * length / section
}
