//! Sizes and checks landing-gear legs and their bracing for home-built unmanned aircraft.
#![forbid(unsafe_code)]

pub mod analysis;
pub mod checks;
pub mod diagnostic;
pub mod input;
pub mod kernel;
pub mod loads;
pub mod material;
pub mod model;
pub mod report;
pub mod results;
pub mod section;
pub mod units;
