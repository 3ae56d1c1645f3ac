//! What a quantity needs so that this file format can hold it, and how its reading is echoed.

use crate::input::quantity::FromText;
use crate::report::figure::figure;
use crate::units::{Dimension, Length, Measure, Unit};

/// A quantity of the project file.
pub(super) trait Entered: FromText + Measure + Copy + PartialOrd + Default {
    /// The value in the plain unit of its kind, to four figures.
    fn echo(self) -> String {
        four_figures(self, plain(Self::DIMENSION))
    }
}

impl<Q: FromText + Measure + Copy + PartialOrd + Default> Entered for Q {}

/// A quantity to four figures, without zeros at the end that nobody wrote.
pub(super) fn four_figures<Q: Measure>(value: Q, unit: Unit) -> String {
    let full = figure(value, unit, 4);
    match full.split_once(' ') {
        Some((number, unit)) if number.contains('.') && !number.contains('e') => {
            format!("{} {unit}", number.trim_end_matches('0').trim_end_matches('.'))
        }
        _ => full,
    }
}

/// A length in millimetres, to four figures.
pub(super) fn millimetres(length: Length) -> String {
    four_figures(length, Unit::Millimetre)
}

/// The unit in which the tool speaks of a kind of quantity unless the builder speaks otherwise.
const fn plain(dimension: Dimension) -> Unit {
    match dimension {
        Dimension::Length => Unit::Millimetre,
        Dimension::Mass => Unit::Kilogram,
        Dimension::Force => Unit::Newton,
        Dimension::Angle => Unit::Degree,
        Dimension::Velocity => Unit::MetrePerSecond,
        Dimension::Stress => Unit::Megapascal,
        Dimension::Area => Unit::SquareMetre,
        Dimension::Density => Unit::KilogramPerCubicMetre,
        Dimension::Stiffness => Unit::NewtonPerMillimetre,
        Dimension::Moment => Unit::NewtonMetre,
        Dimension::SectionModulus => Unit::CubicMillimetre,
        Dimension::SecondMoment => Unit::QuarticMillimetre,
        Dimension::Current => Unit::Ampere,
        Dimension::Voltage => Unit::Millivolt,
    }
}
