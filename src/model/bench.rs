//! What the builder tried with a sheet that nobody knows, and what was seen.

use super::{DropTest, Project};
use crate::material::Metal;
use crate::units::{Angle, Length, Mass, Stress};
use std::sync::{Arc, OnceLock};

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
    Conductivity(Measured<f64>, Option<Length>),
    /// A leg of it dropped with its gear.
    Drop(LegDrop),
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

/// A leg of the sheet that was dropped with its gear, and what stayed bent.
#[derive(Debug, Clone)]
pub struct LegDrop {
    /// The aircraft and its gears as the file has them, the leg's metal unknown.
    pub of: Arc<Project>,
    /// The drop, with the set that was seen; without one the gear gave way.
    pub test: DropTest,
    /// What that drop leaves of sets, whatever the metal, as far as the set that was seen asks: worked out when it is first asked for. Another
    /// drop, or another set, needs a [new one](Self::new).
    pub sets: Arc<OnceLock<LegSets>>,
}

impl LegDrop {
    /// A drop of which nothing has been worked out.
    #[must_use]
    pub fn new(of: Arc<Project>, test: DropTest) -> Self {
        Self { of, test, sets: Arc::default() }
    }
}

impl PartialEq for LegDrop {
    fn eq(&self, other: &Self) -> bool {
        self.of == other.of && self.test == other.test
    }
}

/// What stays of one drop of a gear whose plate has one stiffness and one law of hardening, by its yield strength.
#[derive(Debug, Clone, PartialEq)]
pub struct SetCurve {
    /// Modulus of elasticity.
    pub modulus: Stress,
    /// Exponent of hardening.
    pub exponent: f64,
    /// Yield strength and set, the strongest first: from the weakest that leaves nothing bent down; `None` where the gear collapses.
    pub points: Vec<(Stress, Option<Length>)>,
}

/// Such curves for every combination of [their](SetCurve) moduli and exponents: exponents rise within a modulus, moduli after them.
/// Empty where the gear makes no frame.
pub type LegSets = Vec<SetCurve>;

/// What a wrapped strip looks like once it is let go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AfterWrap {
    /// Its inside radius.
    Radius(Measured<Length>),
    /// The angle through which it was bent, and the angle that is left.
    Angle {
        /// While pressed.
        bent: Measured<Angle>,
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
    /// A tester with a scale of its own, tried on two known pieces too.
    OwnScale {
        /// On the sheet.
        reading: Measured<f64>,
        /// Each known piece and what the tester reads on it.
        known: [(Box<Metal>, f64); 2],
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

/// The kinds of test.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TestKind {
    /// [`ShopTest::BendStrip`].
    BendStrip,
    /// [`ShopTest::Wrap`].
    Wrap,
    /// [`ShopTest::Weigh`].
    Weigh,
    /// [`ShopTest::Flex`].
    Flex,
    /// [`ShopTest::Dent`].
    Dent,
    /// [`ShopTest::Conductivity`].
    Conductivity,
    /// [`ShopTest::Drop`].
    Drop,
    /// [`ShopTest::Fold`].
    Fold,
    /// A [`ShopTest::Clue`].
    Clue(Clue),
    /// [`ShopTest::Stamp`].
    Stamp,
    /// [`ShopTest::Told`].
    Told,
}

impl TestKind {
    /// All of them, in the order of messages.
    pub const ALL: [Self; 13] = [
        Self::BendStrip,
        Self::Wrap,
        Self::Weigh,
        Self::Flex,
        Self::Dent,
        Self::Conductivity,
        Self::Drop,
        Self::Fold,
        Self::Clue(Clue::Magnet),
        Self::Clue(Clue::Spark),
        Self::Clue(Clue::Caustic),
        Self::Stamp,
        Self::Told,
    ];

    /// Those that measure a strength, each by a law of mechanics of its own.
    pub const OF_STRENGTH: [Self; 4] = [Self::BendStrip, Self::Wrap, Self::Dent, Self::Drop];

    /// The word of the file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::BendStrip => "bend-strip",
            Self::Wrap => "wrap",
            Self::Weigh => "weigh",
            Self::Flex => "flex",
            Self::Dent => "dent",
            Self::Conductivity => "conductivity",
            Self::Drop => "drop",
            Self::Fold => "fold",
            Self::Clue(Clue::Magnet) => "magnet",
            Self::Clue(Clue::Spark) => "spark",
            Self::Clue(Clue::Caustic) => "caustic",
            Self::Stamp => "stamp",
            Self::Told => "told",
        }
    }
}

impl Bench {
    /// Names of the sheets that were tested, in the order of the file.
    #[must_use]
    pub fn sheets(&self) -> Vec<&str> {
        let mut sheets: Vec<&str> = Vec::new();
        for test in &self.tests {
            if !sheets.contains(&test.sheet.as_str()) {
                sheets.push(&test.sheet);
            }
        }
        sheets
    }

    /// The tests of one of them, in the order of the file.
    #[must_use]
    pub fn of(&self, sheet: &str) -> Vec<&ShopTest> {
        self.tests.iter().filter(|t| t.sheet == sheet).map(|t| &t.test).collect()
    }
}

impl ShopTest {
    /// Its kind.
    #[must_use]
    pub const fn kind(&self) -> TestKind {
        match self {
            Self::BendStrip { .. } => TestKind::BendStrip,
            Self::Wrap { .. } => TestKind::Wrap,
            Self::Weigh { .. } => TestKind::Weigh,
            Self::Flex { .. } => TestKind::Flex,
            Self::Dent(_) => TestKind::Dent,
            Self::Conductivity(..) => TestKind::Conductivity,
            Self::Drop(_) => TestKind::Drop,
            Self::Fold { .. } => TestKind::Fold,
            Self::Clue(clue, _) => TestKind::Clue(*clue),
            Self::Stamp(_) => TestKind::Stamp,
            Self::Told(..) => TestKind::Told,
        }
    }

    /// The sheet's thickness, where the test says it.
    #[must_use]
    pub fn thickness(&self) -> Option<Length> {
        match self {
            Self::BendStrip { strip, .. }
            | Self::Flex { strip, .. }
            | Self::Weigh { volume: Volume::Sides(strip), .. } => Some(strip.thickness.read),
            Self::Wrap { thickness, .. } => Some(thickness.read),
            Self::Fold { thickness, .. } => Some(*thickness),
            Self::Conductivity(_, thickness) => *thickness,
            Self::Drop(drop) => drop.of.gears.get(drop.test.gear).map(|gear| gear.plate.sheet_thickness()),
            _ => None,
        }
    }
}
