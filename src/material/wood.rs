//! Plywood and wood for mounts.

use super::embedment::{plywood_embedment_of_bolts, plywood_embedment_of_nails};
use super::{Basis, CHARACTERISTIC_OF_MEAN_DENSITY, Sourced};
use crate::units::{Length, MassDensity, Stress};

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
    /// The band nearest in thickness to a single layer; `None` when the table has no band.
    #[must_use]
    pub fn band(&self, thickness: Length) -> Option<&WoodBand> {
        let off = |b: &WoodBand| b.thickness.map_or_else(Length::default, |t| (t - thickness).abs());
        self.bands.iter().reduce(|near, b| if off(b) < off(near) { b } else { near })
    }

    /// Whether it is plywood: its table has thicknesses or plies. Solid wood has neither.
    #[must_use]
    pub fn is_plywood(&self) -> bool {
        self.bands.iter().any(|b| b.thickness.is_some() || b.plies.is_some())
    }

    /// Density that 95 % of pieces exceed; where the table has none, from the mean by [`CHARACTERISTIC_OF_MEAN_DENSITY`].
    #[must_use]
    pub fn characteristic_density(&self) -> Sourced<MassDensity> {
        self.density_characteristic.clone().unwrap_or_else(|| {
            let Sourced { value: mean, basis, source } = &self.density;
            Sourced::new(
                CHARACTERISTIC_OF_MEAN_DENSITY * *mean,
                (*basis).max(Basis::FromMemory),
                format!("{source}; over 1.2, as in the classes of EN 338 (from memory)"),
            )
        })
    }

    /// What plywood bears on the side of a round pin through it, by the rule for nails and screws and by that for bolts. They
    /// differ by up to 60 % at 6 mm; the lower is the safe one. `None` for solid wood and for a pin beyond the rules.
    #[must_use]
    pub fn embedment_strength(&self, diameter: Length) -> Option<(Stress, Stress)> {
        let density = self.characteristic_density();
        let both = (
            plywood_embedment_of_nails(density.value, diameter),
            plywood_embedment_of_bolts(density.value, diameter),
        );
        (self.is_plywood() && both.1 > Stress::default()).then_some(both)
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
