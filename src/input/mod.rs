//! Text to model: the quantity grammar, the project file, the material tables.

pub mod quantity;
