//! Cross-sections: properties defined by their integrals.

mod plate;
mod round;
pub mod torsion;

pub use plate::PlateSection;
pub use round::RoundSection;
