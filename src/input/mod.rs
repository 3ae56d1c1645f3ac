//! Text to model: the quantity grammar, the project file, the material tables.

pub mod project;
pub mod quantity;
mod starter;
pub mod tables;

pub use starter::STARTER;
