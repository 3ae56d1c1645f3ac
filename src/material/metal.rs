//! Sheet and plate metals by alloy, temper and thickness band.

use super::Sourced;
use crate::units::{Length, MassDensity, Stress};

/// Group of metals with about the same stiffness.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Family {
    /// Aluminium alloys.
    Aluminium,
    /// Carbon and low-alloy steels.
    Steel,
    /// Stainless steels.
    Stainless,
    /// Titanium and its alloys.
    Titanium,
    /// Anything the user described.
    Other,
}

impl Family {
    /// All of them, for parsing and for messages.
    pub const ALL: [Self; 5] = [Self::Aluminium, Self::Steel, Self::Stainless, Self::Titanium, Self::Other];

    /// The word used in tables and reports.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Aluminium => "aluminium",
            Self::Steel => "steel",
            Self::Stainless => "stainless",
            Self::Titanium => "titanium",
            Self::Other => "other",
        }
    }
}

/// One alloy and temper.
#[derive(Debug, Clone, PartialEq)]
pub struct Metal {
    /// Table name, such as `6082-T6`.
    pub name: String,
    /// Other names it is sold under.
    pub aliases: Vec<String>,
    /// Group of like stiffness.
    pub family: Family,
    /// Elastic modulus.
    pub modulus: Sourced<Stress>,
    /// Poisson's ratio.
    pub poisson: Sourced<f64>,
    /// Density.
    pub density: Sourced<MassDensity>,
    /// Electrical conductivity, % IACS.
    pub conductivity: Option<Sourced<f64>>,
    /// Slope of the stress–strain line beyond yield, if known.
    pub tangent_modulus: Option<Sourced<Stress>>,
    /// Exponent n of a smooth stress–strain line, ε = σ/E + 0.002 (σ/σ₀.₂)ⁿ (Ramberg & Osgood), if known.
    pub hardening_exponent: Option<Sourced<f64>>,
    /// What shop tests tell of it, where it is a sheet that is known by them; the bands' yield strength is then one that 5 % of such sheets
    /// fall short of.
    pub tested: Option<Tested>,
    /// Values by thickness, in order, without overlap.
    pub bands: Vec<MetalBand>,
}

/// What shop tests tell of a sheet besides what every metal has.
#[derive(Debug, Clone, PartialEq)]
pub struct Tested {
    /// Yield strengths, rising, each with the share of such sheets that are weaker.
    pub weaker: Vec<(Stress, f64)>,
    /// What else it may be of where the tests leave that open.
    pub may_be: Vec<FamilyConstants>,
    /// Tests that are not believed, in words: they contradict others, which leave less strength.
    pub left_out: Vec<String>,
    /// Whether a test that is believed measures a strength; otherwise its strength is that of the metals it may be.
    pub measured: bool,
    /// How thick the pieces were that the believed tests were made with, where they say it.
    pub thicknesses: Vec<Length>,
}

/// Share by which a plate and its tested sheet may differ in thickness and still be one: sheet is rolled and read to a few per cent.
const SAME_THICKNESS: f64 = 0.08;

impl Tested {
    /// How thick a tested piece is of which a plate of such a thickness can't be; that which differs most.
    #[must_use]
    pub fn other_than(&self, plate: Length) -> Option<Length> {
        let apart = |tested: Length| f64::from(plate / tested).ln().abs();
        let other = self.thicknesses.iter().copied().filter(|tested| apart(*tested) > SAME_THICKNESS);
        other.max_by(|a, b| apart(*a).total_cmp(&apart(*b)))
    }
}

/// What sheets of a family have alike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FamilyConstants {
    /// The family.
    pub family: Family,
    /// Elastic modulus.
    pub modulus: Stress,
    /// Poisson's ratio.
    pub poisson: f64,
    /// Density.
    pub density: MassDensity,
}

/// Values of a metal that depend on the thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct MetalBand {
    /// Thicknesses above this one (exclusive; zero includes everything thinner).
    pub over: Length,
    /// Thicknesses up to and including this one; `None` when no upper limit is known (a user's own metal).
    pub up_to: Option<Length>,
    /// 0.2 % proof stress to design with. `None` where the specification gives no lower limit (annealed tempers).
    pub yield_strength: Option<Sourced<Stress>>,
    /// Upper limit of the proof stress where the specification gives only that.
    pub yield_maximum: Option<Sourced<Stress>>,
    /// Lower limit of the tensile strength.
    pub ultimate: Option<Sourced<Stress>>,
    /// Upper limit of the tensile strength.
    pub ultimate_maximum: Option<Sourced<Stress>>,
    /// Elongation at break on 50 mm, %.
    pub elongation: Option<Sourced<f64>>,
    /// Brinell hardness.
    pub hardness: Option<Sourced<f64>>,
    /// Smallest inside radius of a 90° bend, in thicknesses.
    pub bend_radius_90: Option<Sourced<f64>>,
    /// Smallest inside radius of a 180° bend, in thicknesses.
    pub bend_radius_180: Option<Sourced<f64>>,
}

impl Metal {
    /// Whether it is a sheet that shop tests of this file tell of.
    #[must_use]
    pub const fn is_graded(&self) -> bool {
        self.tested.is_some()
    }

    /// What else it may be of; nothing for a metal that is known.
    #[must_use]
    pub fn may_be(&self) -> &[FamilyConstants] {
        self.tested.as_ref().map_or(&[], |tested| tested.may_be.as_slice())
    }

    /// The same metal as one of the other families that it may be of, by their number from 0; itself where it has no such.
    #[must_use]
    pub fn as_other(&self, number: usize) -> Self {
        let own = self.clone();
        let Some(other) = self.may_be().get(number).copied() else { return own };
        Self {
            family: other.family,
            modulus: Sourced { value: other.modulus, ..own.modulus },
            poisson: Sourced { value: other.poisson, ..own.poisson },
            density: Sourced { value: other.density, ..own.density },
            ..own
        }
    }

    /// The values for a thickness, or `None` when the table has no band for it.
    #[must_use]
    pub fn band(&self, thickness: Length) -> Option<&MetalBand> {
        self.bands.iter().find(|b| thickness > b.over && b.up_to.is_none_or(|top| thickness <= top))
    }
}
