//! Cross-sections: properties defined by their integrals; and a strip in a vice, which is one rectangle and a lever.

mod net;
mod plate;
mod round;
mod strip;
pub mod torsion;

pub use net::NetSection;
pub use plate::PlateSection;
pub use round::RoundSection;
pub use strip::{Cantilever, movement_beyond_yield};
