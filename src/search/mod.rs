//! Loops over the analysis: designs side by side.

mod compare;

pub use compare::{CompareError, compare};
