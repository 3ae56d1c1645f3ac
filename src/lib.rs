//! Sizes and checks landing-gear legs and their bracing for home-built unmanned aircraft.
//!
//! Data walks one way: text → project → loads at the wheels → frame → state of each gear → margins → report.
//!
//! ```
//! use gearleg::diagnostic::SourceText;
//! use gearleg::{analysis, input, report};
//! use std::sync::Arc;
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let library = input::tables::builtin()?;
//! let text = SourceText { name: "starter".into(), text: input::STARTER.into() };
//! let (project, doubts) = input::project::read_project(Arc::new(text), &library)?;
//! let result = analysis::check(&project, &library)?;
//!
//! let worst = &result.margins[0]; // worst first
//! println!("{}: {:?}", worst.part, worst.value());
//! print!("{}", report::check_text(&project, &result, report::Detail::default()));
//! # assert!(doubts.is_empty() && worst.value().is_some());
//! # Ok(())
//! # }
//! ```
//!
//! The method, with its formulas, sources and limits, is in `docs/method.md`; what was checked against what is in
//! `docs/validation.md`. An estimate: it does not replace inspection, local rules or a licensed engineer.
#![forbid(unsafe_code)]

pub mod analysis;
pub mod checks;
mod crew;
pub mod desk;
pub mod diagnostic;
pub mod input;
pub mod kernel;
pub mod loads;
pub mod material;
pub mod model;
pub mod report;
pub mod results;
pub mod search;
pub mod section;
pub mod units;
