//! Results to text: what is shown, in which unit, with how many digits.

pub mod diagnostics;
pub mod figure;
pub mod tables;
