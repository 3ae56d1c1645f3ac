//! What the builder wants of a gear whose sizes are to be found.

use crate::material::System;
use crate::units::Mass;

/// What is wanted beyond that every margin holds.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Wish {
    /// The least that every margin has to be.
    pub margin: f64,
    /// The most that a gear's metal may weigh.
    pub most_mass: Option<Mass>,
    /// The most that the inertia load factor may be; for a landing that is given as a drop.
    pub most_load_factor: Option<f64>,
    /// The systems in which sizes are looked for; none: that in which the file is written.
    pub sold: Vec<System>,
}
