//! What is really sold, and what pilots say.

use super::Sourced;
use crate::units::{Length, Velocity};

/// What a stock row lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum StockForm {
    /// Sheet and plate thicknesses.
    Sheet,
    /// Flat-bar widths.
    BarWidth,
    /// Flat-bar thicknesses.
    BarThickness,
    /// Solid wire diameters.
    Wire,
    /// Wire-rope diameters.
    WireRope,
    /// Bolt threads, by name.
    Bolt,
    /// Nylon bolt threads, by name.
    NylonBolt,
    /// Captive nut threads, by name.
    CaptiveNut,
    /// Plywood thicknesses.
    Plywood,
}

/// Measuring system a size is sold in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum System {
    /// Millimetres.
    Metric,
    /// Inches.
    Inch,
}

/// A list of sizes that shops keep.
#[derive(Debug, Clone, PartialEq)]
pub struct Stock {
    /// What is listed.
    pub form: StockForm,
    /// In which system.
    pub system: System,
    /// The sizes as they are sold, in words (`1/16 in`, `M5`), ascending.
    pub labels: Vec<String>,
    /// The same sizes as lengths; empty for threads.
    pub sizes: Vec<Length>,
    /// Where the list comes from.
    pub provenance: Sourced<()>,
}

/// A pilot's words for how the aircraft came down.
#[derive(Debug, Clone, PartialEq)]
pub struct Arrival {
    /// The word used in files, such as `firm`.
    pub name: String,
    /// What it looks like.
    pub words: String,
    /// Lowest and highest sink rate the word covers.
    pub sink_rate: Sourced<(Velocity, Velocity)>,
}
