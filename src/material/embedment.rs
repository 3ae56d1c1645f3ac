//! Bolts in wood: what wood holds against the side of a bolt, and when the bolt bends. Laws printed for N, mm and kg/m³.

use crate::units::{Length, MassDensity, Moment, Stress};
use uom::si::energy::joule;
use uom::si::length::millimeter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::megapascal;

/// Characteristic density of solid wood over its mean. Source: EN 338, whose classes have means 1.2 times the characteristic (from
/// memory).
pub const CHARACTERISTIC_OF_MEAN_DENSITY: f64 = 1.0 / 1.2;

fn stress(megapascals: f64) -> Stress {
    Stress::new::<megapascal>(megapascals)
}

/// Embedment strength of plywood by the rule for nails and screws up to 8 mm.
///
/// `f_h` = 0.11 ρ_k d^−0.3, MPa of kg/m³ and mm. Source: EN 1995-1-1 eq. 8.20 (secondary).
#[must_use]
pub fn plywood_embedment_of_nails(density: MassDensity, diameter: Length) -> Stress {
    let (rho, d) = (density.get::<kilogram_per_cubic_meter>(), diameter.get::<millimeter>());
    stress(0.11 * rho * d.powf(-0.3))
}

/// Embedment strength of plywood by the rule for bolts, whatever the angle to the grain.
///
/// `f_h` = 0.11 (1 − 0.01 d) ρ_k, MPa of kg/m³ and mm. Source: EN 1995-1-1 eq. 8.36 (from memory).
#[must_use]
pub fn plywood_embedment_of_bolts(density: MassDensity, diameter: Length) -> Stress {
    let (rho, d) = (density.get::<kilogram_per_cubic_meter>(), diameter.get::<millimeter>());
    stress(0.11 * (1.0 - 0.01 * d).max(0.0) * rho)
}

/// Embedment strength of solid wood along its grain, for bolts and predrilled holes.
///
/// `f_h` = 0.082 (1 − 0.01 d) ρ_k, MPa of kg/m³ and mm. Source: EN 1995-1-1 eq. 8.16, 8.32 (secondary).
#[must_use]
pub fn timber_embedment(density: MassDensity, diameter: Length) -> Stress {
    let (rho, d) = (density.get::<kilogram_per_cubic_meter>(), diameter.get::<millimeter>());
    stress(0.082 * (1.0 - 0.01 * d).max(0.0) * rho)
}

/// How many times less solid wood holds square to its grain than along it: k₉₀ = 1.35 + 0.015 d, d in mm.
///
/// The value of softwoods; hardwoods lose less. Source: EN 1995-1-1 eq. 8.33 (from memory).
#[must_use]
pub fn timber_across_grain(diameter: Length) -> f64 {
    1.35 + 0.015 * diameter.get::<millimeter>()
}

/// Bending moment at which a round bolt forms a hinge in wood.
///
/// `M_y` = 0.3 f_u d^2.6, N·mm of MPa and mm. Source: EN 1995-1-1 eq. 8.14 for nails (secondary), eq. 8.30 for bolts (from memory).
#[must_use]
pub fn bolt_yield_moment(ultimate: Stress, diameter: Length) -> Moment {
    Moment::new::<joule>(1e-3 * 0.3 * ultimate.get::<megapascal>() * diameter.get::<millimeter>().powf(2.6))
}
