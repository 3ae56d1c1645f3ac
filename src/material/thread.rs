//! Screw threads and bolt strength classes.

use super::{Basis, Sourced};
use crate::units::{Area, Length, Stress};
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};
use uom::si::pressure::megapascal;

/// Shear strength over tensile strength where only the latter is known: 1/√3, von Mises. Source: general practice for threads and
/// pins, from memory.
pub const SHEAR_OF_TENSILE: f64 = 0.577;

/// Tensile strength of a captive nut, 400 MPa: mild steel. Common practice, no source: nobody sells them by a strength class.
#[must_use]
pub fn captive_nut_strength() -> Sourced<Stress> {
    Sourced::new(
        Stress::new::<megapascal>(400.0),
        Basis::CommonPractice,
        "captive nuts taken as mild steel, no source",
    )
}

/// Thread form family.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Series {
    /// ISO metric.
    Metric,
    /// Unified inch.
    Inch,
}

/// A screw thread.
#[derive(Debug, Clone, PartialEq)]
pub struct Thread {
    /// Name, such as `M5` or `10-32`.
    pub name: String,
    /// Metric or inch.
    pub series: Series,
    /// Nominal diameter.
    pub nominal: Length,
    /// Pitch.
    pub pitch: Length,
    /// Where the dimensions come from.
    pub provenance: Sourced<()>,
}

impl Series {
    /// The word used in table files.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::Inch => "inch",
        }
    }
}

impl Thread {
    /// Stress area of the thread.
    ///
    /// Metric: A_s = (π/4) (d − 0.938194 P)²; inch: A_t = (π/4) (d − 0.9743 P)².
    /// Source: ISO 898-1 (metric), ASME B1.1 (inch), both from memory; checked against printed areas in the tests.
    #[must_use]
    pub fn stress_area(&self) -> Area {
        let factor = match self.series {
            Series::Metric => 0.938_194,
            Series::Inch => 0.9743,
        };
        let d = self.nominal - factor * self.pitch;
        FRAC_PI_4 * d * d
    }

    /// Area at the root of the thread, (π/4) (d − 1.226869 P)².
    ///
    /// The external thread's minor diameter with a rounded root, d₃. Source: ISO 724 / ISO 68-1, from memory.
    #[must_use]
    pub fn minor_area(&self) -> Area {
        let d = self.minor_diameter();
        FRAC_PI_4 * d * d
    }

    /// Pitch diameter d₂ = d − 0.649519 P. Source: ISO 724 / ASME B1.1, from memory.
    #[must_use]
    pub fn pitch_diameter(&self) -> Length {
        self.nominal - 0.649_519 * self.pitch
    }

    /// Area in which the thread shears over an engaged length L: half the cylinder at the pitch diameter, (π/2) d₂ L.
    ///
    /// The same for bolt and nut, so that the weaker metal strips. Source: rule of FED-STD-H28, from memory.
    #[must_use]
    pub fn stripping_area(&self, engaged: Length) -> Area {
        FRAC_PI_2 * self.pitch_diameter() * engaged
    }

    /// Root diameter d₃ = d − 1.226869 P.
    #[must_use]
    pub fn minor_diameter(&self) -> Length {
        self.nominal - 1.226_869 * self.pitch
    }
}

/// A bolt strength class.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltClass {
    /// Name, such as `8.8`, `A2-70`, `nylon`.
    pub name: String,
    /// Largest thread diameter the row applies to, if it has a limit.
    pub up_to: Option<Length>,
    /// Tensile strength.
    pub ultimate: Sourced<Stress>,
    /// Yield or 0.2 % proof strength; `None` where the material has none worth the name.
    pub yield_strength: Option<Sourced<Stress>>,
    /// Stress under the proof load.
    pub proof: Option<Sourced<Stress>>,
    /// Elongation at break, %.
    pub elongation: Option<Sourced<f64>>,
    /// Elastic modulus; `None` is taken as that of steel.
    pub modulus: Option<Sourced<Stress>>,
    /// The same plastic when it holds more or less moisture; `None` for metals.
    pub other_state: Option<OtherState>,
}

/// A plastic whose strength depends on moisture, in the state that its row does not describe.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherState {
    /// The state, to follow "when": `dry`.
    pub words: String,
    /// Tensile strength then.
    pub ultimate: Sourced<Stress>,
}

impl BoltClass {
    /// Stress under the proof load; of a class without one its yield strength; `None` where it has neither.
    #[must_use]
    pub fn proof_or_yield(&self) -> Option<&Sourced<Stress>> {
        self.proof.as_ref().or(self.yield_strength.as_ref())
    }

    /// Whether it is taken to give under a steady pull, so that no preload stays: a class with neither proof nor yield strength, as
    /// nylon.
    #[must_use]
    pub fn creeps(&self) -> bool {
        self.proof_or_yield().is_none()
    }

    /// Shear strength of a bolt cut through its thread over f_ub A_s: 0.6 for classes 4.6, 5.6 and 8.8; 0.5 for 4.8, 5.8, 6.8
    /// and 10.9, and taken for every class that the table does not name.
    ///
    /// Source: EN 1993-1-8 table 3.4, as read in the package `pamd_eurocodes` 0.3.0 (secondary).
    #[must_use]
    pub fn shear_factor(&self) -> f64 {
        if matches!(self.name.as_str(), "4.6" | "5.6" | "8.8") { 0.6 } else { 0.5 }
    }

    /// Whether the table behind [`BoltClass::shear_factor`] names the class.
    #[must_use]
    pub fn has_listed_shear_factor(&self) -> bool {
        matches!(self.name.as_str(), "4.6" | "5.6" | "8.8" | "4.8" | "5.8" | "6.8" | "10.9")
    }
}
