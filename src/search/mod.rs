//! Loops around the chain from project to margins.

pub mod spread;
