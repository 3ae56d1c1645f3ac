//! Sizes and checks landing-gear legs and their bracing for home-built unmanned aircraft.
#![forbid(unsafe_code)]

pub mod diagnostic;
pub mod input;
pub mod material;
pub mod model;
pub mod report;
pub mod units;
