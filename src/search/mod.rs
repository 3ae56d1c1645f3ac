//! Loops around the chain from file to margins.

mod crew;
mod size;
pub mod spread;

pub use size::{SizeError, size};
