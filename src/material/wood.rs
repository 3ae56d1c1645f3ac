//! Plywood and wood for mounts.

use super::Sourced;
use crate::units::{Length, MassDensity, Stress};
use uom::si::length::millimeter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::megapascal;

/// A wood or plywood.
#[derive(Debug, Clone, PartialEq)]
pub struct Wood {
    /// Table name, such as `birch-plywood`.
    pub name: String,
    /// Other names it is sold under.
    pub aliases: Vec<String>,
    /// Mean density.
    pub density: Sourced<MassDensity>,
    /// Density that 95 % of pieces exceed.
    pub density_characteristic: Option<Sourced<MassDensity>>,
    /// Shear strength through the thickness (panel shear), or along the grain of solid wood.
    pub panel_shear: Option<Sourced<Stress>>,
    /// Shear modulus.
    pub shear_modulus: Option<Sourced<Stress>>,
    /// Compression square to the face or grain.
    pub compression_across: Option<Sourced<Stress>>,
    /// Modulus of elasticity through the thickness, square to the grain; `None` is taken as a twentieth of that along the grain.
    pub modulus_through: Option<Sourced<Stress>>,
    /// Strengths and moduli that depend on the thickness, in order.
    pub bands: Vec<WoodBand>,
}

impl Wood {
    /// What plywood bears on the side of a round pin through it: by the rule for nails and screws, 0.11 ρ_k d^−0.3, and by that
    /// for bolts, 0.11 (1 − 0.01 d) ρ_k, in MPa of mm and kg/m³; at any angle to the grain. They differ by up to 60 % at 6 mm; the
    /// lower is the safe one.
    ///
    /// `None` for solid wood, for a wood without a characteristic density and for a pin so thick that the rules end.
    /// Source: EN 1995-1-1 eq. 8.20 (second-hand), for up to 8 mm, and eq. 8.36 (from memory).
    #[must_use]
    pub fn embedment_strength(&self, diameter: Length) -> Option<(Stress, Stress)> {
        let density = self.density_characteristic.as_ref()?.value.get::<kilogram_per_cubic_meter>();
        // Solid wood has no nominal thickness; its strength depends on the grain's direction.
        if self.bands.iter().any(|b| b.thickness.is_none()) {
            return None;
        }
        let d = diameter.get::<millimeter>();
        let (nails, bolts) = (0.11 * density * d.powf(-0.3), 0.11 * (1.0 - 0.01 * d) * density);
        (d > 0.0 && bolts > 0.0).then(|| (Stress::new::<megapascal>(nails), Stress::new::<megapascal>(bolts)))
    }
}

/// Values of a wood at one nominal thickness. Along: parallel to the face grain; across: square to it.
#[derive(Debug, Clone, PartialEq)]
pub struct WoodBand {
    /// Nominal thickness; `None` for solid wood.
    pub thickness: Option<Length>,
    /// Number of plies.
    pub plies: Option<u32>,
    /// Bending strength along.
    pub bending_along: Option<Sourced<Stress>>,
    /// Bending strength across.
    pub bending_across: Option<Sourced<Stress>>,
    /// Modulus of elasticity along.
    pub modulus_along: Option<Sourced<Stress>>,
    /// Modulus of elasticity across.
    pub modulus_across: Option<Sourced<Stress>>,
    /// Compression strength along.
    pub compression_along: Option<Sourced<Stress>>,
    /// Compression strength in the plane, across.
    pub compression_in_plane_across: Option<Sourced<Stress>>,
    /// Tension strength along.
    pub tension_along: Option<Sourced<Stress>>,
    /// Tension strength across.
    pub tension_across: Option<Sourced<Stress>>,
    /// Rolling shear strength along.
    pub rolling_shear_along: Option<Sourced<Stress>>,
    /// Rolling shear strength across.
    pub rolling_shear_across: Option<Sourced<Stress>>,
}
