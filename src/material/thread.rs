//! Screw threads and bolt strength classes.

use super::Sourced;
use crate::units::{Area, Length, Stress};
use std::f64::consts::FRAC_PI_4;

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
}
