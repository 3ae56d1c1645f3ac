//! Results to text: what is shown, in which unit, with how many digits.

pub mod figure;
