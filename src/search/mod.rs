//! Loops around the chain from file to margins.

mod compare;
mod size;
pub mod spread;

pub use compare::{CompareError, compare};
pub use size::{SizeError, size};
