//! Solid round section.

use crate::units::{Area, Length, SecondMoment, SectionModulus};
use std::f64::consts::PI;

/// A solid circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoundSection {
    /// Diameter.
    pub diameter: Length,
}

impl RoundSection {
    /// Area, π d² / 4.
    #[must_use]
    pub fn area(&self) -> Area {
        PI / 4.0 * self.diameter * self.diameter
    }

    /// Second moment about any diameter, π d⁴ / 64.
    #[must_use]
    pub fn second_moment(&self) -> SecondMoment {
        PI / 64.0 * self.diameter * self.diameter * self.diameter * self.diameter
    }

    /// Torsion constant, π d⁴ / 32.
    #[must_use]
    pub fn torsion_constant(&self) -> SecondMoment {
        2.0 * self.second_moment()
    }

    /// Elastic section modulus, π d³ / 32.
    #[must_use]
    pub fn modulus(&self) -> SectionModulus {
        PI / 32.0 * self.diameter * self.diameter * self.diameter
    }

    /// Plastic section modulus, d³ / 6.
    #[must_use]
    pub fn plastic_modulus(&self) -> SectionModulus {
        self.diameter * self.diameter * self.diameter / 6.0
    }
}
