//! The aircraft as a whole.

use crate::units::{Area, Mass};

/// Which end the third wheel is at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Layout {
    /// Main wheels behind the centre of gravity, a nose wheel ahead.
    Tricycle,
    /// Main wheels ahead of the centre of gravity, a tail wheel behind.
    Tailwheel,
}

/// The aircraft.
#[derive(Debug, Clone, PartialEq)]
pub struct Aircraft {
    /// The user's name for it.
    pub name: String,
    /// All-up mass, as it lands.
    pub mass: Mass,
    /// Where the third wheel is.
    pub layout: Layout,
    /// Wing area, if given.
    pub wing_area: Option<Area>,
    /// Share of the weight on the nose or tail wheel at rest, if given.
    pub nose_share: Option<f64>,
}
