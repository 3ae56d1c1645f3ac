//! What the builder tried with a sheet that nobody knows, and what was seen.

use crate::material::Metal;
use crate::units::{Angle, Length, Mass};

/// A value as it was read off, and how far that may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured<Q> {
    /// The value.
    pub read: Q,
    /// One standard deviation of the instrument and the hand: half of a tolerance.
    pub deviation: Q,
}

/// All that was tried with sheets that nobody knows.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Bench {
    /// The tests, in the order of the file.
    pub tests: Vec<BenchTest>,
    /// How likely sheets are before any of them.
    pub prior: BenchPrior,
}

/// One test of one sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct BenchTest {
    /// The sheet's name, by which a plate's `metal` finds it.
    pub sheet: String,
    /// What was done and seen.
    pub test: ShopTest,
}

/// How likely it is before any test that a sheet is none of the table's. chosen: one sheet in twenty.
const NONE_OF_THESE: f64 = 0.05;

/// How likely sheets are before any test, as the builder sees it.
#[derive(Debug, Clone, PartialEq)]
pub struct BenchPrior {
    /// How much likelier rows are than by default, by their names.
    pub weights: Vec<(String, f64)>,
    /// That it is none of the table's.
    pub none_of_these: f64,
}

impl Default for BenchPrior {
    fn default() -> Self {
        Self { weights: Vec::new(), none_of_these: NONE_OF_THESE }
    }
}

/// A strip of the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strip {
    /// Width.
    pub width: Measured<Length>,
    /// Thickness.
    pub thickness: Measured<Length>,
    /// Length: from the clamp to the load, or what current flows along, or the whole of a piece that is weighed.
    pub length: Measured<Length>,
}

/// What was done with a sheet and what was seen.
#[derive(Debug, Clone, PartialEq)]
pub enum ShopTest {
    /// A strip clamped, weights hung on it one after another, and what stays bent at the weight after each.
    BendStrip {
        /// The strip, from the clamp to the weight.
        strip: Strip,
        /// Each weight with what stayed once it was off; `None` where the strip gave way under it. Weights rise.
        steps: Vec<(Mass, Option<Length>)>,
        /// One standard deviation of a weight, as a share of it.
        weight_deviation: f64,
        /// One standard deviation of what stayed.
        set_deviation: Length,
    },
    /// Pressed round a rod or a disc and let go.
    Wrap {
        /// Thickness.
        thickness: Measured<Length>,
        /// Radius of the rod: the inside radius while pressed.
        radius: Measured<Length>,
        /// What was seen after it was let go.
        after: AfterWrap,
    },
    /// How heavy it is for its size.
    Weigh {
        /// In air.
        mass: Measured<Mass>,
        /// By what its volume was found.
        volume: Volume,
    },
    /// A strip clamped, a weight that leaves nothing bent, and how far it went down: stiffness.
    Flex {
        /// The strip, from the clamp to the weight.
        strip: Strip,
        /// The weight.
        weight: Measured<Mass>,
        /// How far the strip went down at the weight.
        movement: Measured<Length>,
    },
    /// How hard it is.
    Dent(Hardness),
    /// How well it conducts, % IACS.
    Conductivity(Measured<f64>),
    /// Folded to an inside radius.
    Fold {
        /// Thickness.
        thickness: Length,
        /// Inside radius.
        radius: Length,
        /// Whether it cracked.
        cracked: bool,
    },
    /// Whether something was seen.
    Clue(Clue, bool),
    /// A mark read on the sheet.
    Stamp(Named),
    /// What the dealer says, and how far he is trusted, from 0 to 1.
    Told(Named, f64),
}

/// What a wrapped strip looks like once it is let go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AfterWrap {
    /// Its inside radius.
    Radius(Measured<Length>),
    /// The angle through which it was bent, and the angle that is left.
    Angle {
        /// While pressed.
        bent: Angle,
        /// After it was let go.
        left: Measured<Angle>,
    },
    /// Whether it sprang back straight.
    Straight(bool),
}

/// By what a volume was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Volume {
    /// What the piece weighs while it hangs in water.
    InWater(Measured<Mass>),
    /// A rectangle's sides.
    Sides(Strip),
}

/// A reading of hardness.
#[derive(Debug, Clone, PartialEq)]
pub enum Hardness {
    /// A Brinell number.
    Brinell(Measured<f64>),
    /// A Vickers number.
    Vickers(Measured<f64>),
    /// A dent by the same ball or punch and blow as one in a piece of a known metal.
    Beside {
        /// Diameter of the dent in the sheet.
        dent: Measured<Length>,
        /// In the known piece.
        known_dent: Measured<Length>,
        /// What that is of.
        known: Box<Metal>,
    },
}

/// Something that is seen or not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clue {
    /// A magnet holds on to it.
    Magnet,
    /// It throws sparks at the grinder.
    Spark,
    /// A drop of caustic soda leaves a dark spot.
    Caustic,
}

/// A name read or heard, and the rows of the table that it may mean.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// The name as it was given.
    pub name: String,
    /// Rows; empty when the table has none.
    pub rows: Vec<String>,
}

impl ShopTest {
    /// The word of the file for its kind.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::BendStrip { .. } => "bend-strip",
            Self::Wrap { .. } => "wrap",
            Self::Weigh { .. } => "weigh",
            Self::Flex { .. } => "flex",
            Self::Dent(_) => "dent",
            Self::Conductivity(_) => "conductivity",
            Self::Fold { .. } => "fold",
            Self::Clue(Clue::Magnet, _) => "magnet",
            Self::Clue(Clue::Spark, _) => "spark",
            Self::Clue(Clue::Caustic, _) => "caustic",
            Self::Stamp(_) => "stamp",
            Self::Told(..) => "told",
        }
    }

    /// The sheet's thickness, where the test says it.
    #[must_use]
    pub const fn thickness(&self) -> Option<Length> {
        match self {
            Self::BendStrip { strip, .. }
            | Self::Flex { strip, .. }
            | Self::Weigh { volume: Volume::Sides(strip), .. } => Some(strip.thickness.read),
            Self::Wrap { thickness, .. } => Some(thickness.read),
            Self::Fold { thickness, .. } => Some(*thickness),
            _ => None,
        }
    }
}
