//! A drop that the builder made.

use crate::units::{Length, Mass};

/// A drop made with a gear, and what was measured afterwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DropTest {
    /// Index into [`crate::model::Project::gears`].
    pub gear: usize,
    /// The wheels' clearance above the floor before release.
    pub height: Length,
    /// What was dropped on this gear, all in; `None` means what the aircraft puts on the gear.
    pub mass: Option<Mass>,
    /// What carried during the impact, as a fraction of the weight; 0 in a plain drop.
    pub wing_lift: f64,
    /// How far the wheels were apart more than before, at the worst moment; of a single wheel its sideways travel.
    pub spread: Option<Length>,
    /// How much wider the track stays afterwards; of a single wheel, how far it stands off its old place. Zero: it sprang
    /// back. At least one of spread and set is given, and the set is never the greater.
    pub set: Option<Length>,
    /// How exactly both were measured, more or less.
    pub error: Length,
}
