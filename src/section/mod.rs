//! Cross-sections: properties defined by their integrals.

mod net;
mod plate;
mod round;
pub mod torsion;

pub use net::NetSection;
pub use plate::PlateSection;
pub use round::RoundSection;
