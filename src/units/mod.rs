//! Quantity aliases: the one list of physical dimensions that the public interface speaks in.
//!
//! All are `uom` quantities stored in SI base units. A force times a length is the default-kind energy
//! (`uom`'s `Torque` carries the angle kind and does not come out of a multiplication), so moments are
//! aliased to that.

mod gauge;
mod measure;
mod unit;

use uom::si::{ISQ, Quantity, SI};
use uom::typenum::{N2, P1, P3, P4, Z0};

pub(crate) use gauge::written as gauge_written;
pub use measure::Measure;
pub(crate) use unit::normal_form;
pub use unit::{Dimension, Unit};
pub use uom::si::f64::{
    Acceleration, Angle, Area, ElectricCurrent, ElectricPotential, ElectricalConductivity, Energy, Force,
    Length, Mass, MassDensity, Velocity,
};

/// Standard acceleration of gravity, m/s². Source: 3rd CGPM (1901), exact by definition.
pub const STANDARD_GRAVITY: f64 = 9.806_65;

/// Standard acceleration of gravity.
#[must_use]
pub fn gravity() -> Acceleration {
    Acceleration::new::<uom::si::acceleration::meter_per_second_squared>(STANDARD_GRAVITY)
}

/// Stress, strength, pressure and elastic modulus, Pa.
pub type Stress = uom::si::f64::Pressure;

/// Bending or twisting moment, N·m.
pub type Moment = uom::si::f64::Energy;

/// Force per displacement (of a tyre, of a gear), N/m.
pub type Stiffness = Quantity<ISQ<Z0, P1, N2, Z0, Z0, Z0, Z0>, SI<f64>, f64>;

/// Section modulus, elastic or plastic, m³.
pub type SectionModulus = Quantity<ISQ<P3, Z0, Z0, Z0, Z0, Z0, Z0>, SI<f64>, f64>;

/// Second moment of area or torsion constant, m⁴.
pub type SecondMoment = Quantity<ISQ<P4, Z0, Z0, Z0, Z0, Z0, Z0>, SI<f64>, f64>;
