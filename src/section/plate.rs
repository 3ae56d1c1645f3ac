//! Rectangular plate section.

use super::torsion;
use crate::units::{Area, Length, SecondMoment, SectionModulus};

/// A rectangle: `width` across the leg, `thickness` through it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlateSection {
    /// Across the leg.
    pub width: Length,
    /// Through the leg.
    pub thickness: Length,
}

impl PlateSection {
    /// Area, b t.
    #[must_use]
    pub fn area(&self) -> Area {
        self.width * self.thickness
    }

    /// Second moment for bending through the thickness (flatwise), b t³ / 12.
    #[must_use]
    pub fn second_moment_flat(&self) -> SecondMoment {
        self.width * self.thickness * self.thickness * self.thickness / 12.0
    }

    /// Second moment for bending in the plane of the plate (edgewise), t b³ / 12.
    #[must_use]
    pub fn second_moment_edge(&self) -> SecondMoment {
        self.thickness * self.width * self.width * self.width / 12.0
    }

    /// Torsion constant, β b t³ by the exact series.
    #[must_use]
    pub fn torsion_constant(&self) -> SecondMoment {
        let (b, t) = self.long_and_short();
        torsion::constant(f64::from(b / t)) * b * t * t * t
    }

    /// Modulus of the largest torsional shear, α b t² by the exact series: τ_max = T / (α b t²).
    #[must_use]
    pub fn torsion_modulus(&self) -> SectionModulus {
        let (b, t) = self.long_and_short();
        torsion::modulus(f64::from(b / t)) * b * t * t
    }

    /// Elastic section modulus flatwise, b t² / 6.
    #[must_use]
    pub fn modulus_flat(&self) -> SectionModulus {
        self.width * self.thickness * self.thickness / 6.0
    }

    /// Elastic section modulus edgewise, t b² / 6.
    #[must_use]
    pub fn modulus_edge(&self) -> SectionModulus {
        self.thickness * self.width * self.width / 6.0
    }

    /// Stress at the inside of a bend over that of a straight bar, flatwise bending.
    ///
    /// r_n = t / ln(r_o/r_i), e = r_c − r_n, σ_i = M (r_n − r_i)/(A e r_i). Source: Winkler's curved bar (from memory).
    #[must_use]
    pub fn curved_bar_factor(&self, inside_radius: Length) -> f64 {
        // Everything over the thickness.
        let inner = f64::from(inside_radius / self.thickness);
        let neutral = 1.0 / ((inner + 1.0) / inner).ln();
        let offset = inner + 0.5 - neutral;
        (neutral - inner) / (offset * inner) / 6.0
    }

    /// Plastic section modulus flatwise, b t² / 4.
    #[must_use]
    pub fn plastic_modulus_flat(&self) -> SectionModulus {
        self.width * self.thickness * self.thickness / 4.0
    }

    /// Plastic section modulus edgewise, t b² / 4.
    #[must_use]
    pub fn plastic_modulus_edge(&self) -> SectionModulus {
        self.thickness * self.width * self.width / 4.0
    }

    /// Plastic torsion modulus, t² (3 b − t) / 6: the torque of a shear of one size all over the section.
    ///
    /// Source: sand-heap analogy (Nádai), twice the volume of the heap of unit slope.
    #[must_use]
    pub fn plastic_torsion_modulus(&self) -> SectionModulus {
        let (b, t) = self.long_and_short();
        t * t * (3.0 * b - t) / 6.0
    }

    fn long_and_short(&self) -> (Length, Length) {
        if self.width >= self.thickness { (self.width, self.thickness) } else { (self.thickness, self.width) }
    }
}
