//! What is really sold, and what pilots say.

use super::Sourced;
use crate::units::{Length, Velocity};

/// Classes that shops keep as bolts of metal. Common practice, no source.
pub const SOLD_CLASSES: [&str; 4] = ["4.8", "8.8", "10.9", "A2-70"];

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
    /// Birch plywood thicknesses.
    Plywood,
    /// Light plywood thicknesses.
    LightPlywood,
    /// Sheet alloys and tempers that metal dealers keep, by name.
    SheetGrade,
}

impl StockForm {
    /// All of them, for parsing and for messages.
    pub const ALL: [Self; 11] = [
        Self::Sheet,
        Self::BarWidth,
        Self::BarThickness,
        Self::Wire,
        Self::WireRope,
        Self::Bolt,
        Self::NylonBolt,
        Self::CaptiveNut,
        Self::Plywood,
        Self::LightPlywood,
        Self::SheetGrade,
    ];

    /// The word used in table files and reports.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sheet => "sheet",
            Self::BarWidth => "bar-width",
            Self::BarThickness => "bar-thickness",
            Self::Wire => "wire",
            Self::WireRope => "wire-rope",
            Self::Bolt => "bolt",
            Self::NylonBolt => "nylon-bolt",
            Self::CaptiveNut => "captive-nut",
            Self::Plywood => "plywood",
            Self::LightPlywood => "light-plywood",
            Self::SheetGrade => "sheet-grade",
        }
    }

    /// Whether it lists names (of threads, of grades) and not lengths.
    #[must_use]
    pub const fn is_named(self) -> bool {
        matches!(self, Self::Bolt | Self::NylonBolt | Self::CaptiveNut | Self::SheetGrade)
    }
}

/// Measuring system a size is sold in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum System {
    /// Millimetres.
    Metric,
    /// Inches.
    Inch,
    /// Numbers of the Imperial standard wire gauge.
    Swg,
}

impl System {
    /// All of them, for parsing and for messages.
    pub const ALL: [Self; 3] = [Self::Metric, Self::Inch, Self::Swg];

    /// The word used in table files and reports.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::Inch => "inch",
            Self::Swg => "swg",
        }
    }
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
    /// Whether the sizes are only the ends of what is sold, with other sizes between them.
    pub range: bool,
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
