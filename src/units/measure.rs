//! Ties each quantity type to the dimension its units belong to.

use std::marker::PhantomData;

use super::Velocity;
use super::unit::Dimension;
use super::{
    Angle, Area, ElectricCurrent, ElectricPotential, Force, Length, Mass, MassDensity, Moment, SecondMoment,
    SectionModulus, Stiffness, Stress,
};

mod sealed {
    /// Bare SI numbers in and out. Reachable only through the units table, the quantity reader and the figure
    /// writer, so that nothing else passes bare numbers around.
    pub trait Si: Copy {
        /// The quantity of so many coherent SI units.
        fn from_si(number: f64) -> Self;
        /// The quantity's number of coherent SI units.
        fn si(self) -> f64;
    }
}

/// A quantity that can be read from a text and written to a report.
///
/// Implemented for the aliases of [`crate::units`]; it can't be implemented elsewhere.
pub trait Measure: sealed::Si {
    /// What it measures, and so which units it takes.
    const DIMENSION: Dimension;
}

macro_rules! measures {
    ($( $quantity:ty => $dimension:ident, )+) => { $(
        impl sealed::Si for $quantity {
            fn from_si(number: f64) -> Self {
                Self { dimension: PhantomData, units: PhantomData, value: number }
            }
            fn si(self) -> f64 {
                self.value
            }
        }
        impl Measure for $quantity {
            const DIMENSION: Dimension = Dimension::$dimension;
        }
    )+ };
}

measures! {
    Length => Length,
    Mass => Mass,
    Force => Force,
    Angle => Angle,
    Velocity => Velocity,
    Stress => Stress,
    Area => Area,
    MassDensity => Density,
    Stiffness => Stiffness,
    Moment => Moment,
    SectionModulus => SectionModulus,
    SecondMoment => SecondMoment,
    ElectricCurrent => Current,
    ElectricPotential => Voltage,
}
