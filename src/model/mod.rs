//! What the builder means: plain, validated, immutable. Built by [`crate::input`], read by everything else.

mod aircraft;
mod bench;
mod drop_test;
mod gear;
mod geometry;
mod landing;
mod mass;
mod mount;
mod tolerance;
mod wish;

pub use aircraft::{Aircraft, Layout};
pub use bench::{
    AfterWrap, Bench, BenchPrior, BenchTest, Clue, Hardness, LegDrop, LegSets, Measured, Named, SetCurve,
    ShopTest, Strip, TestKind, Volume,
};
pub use drop_test::DropTest;
pub use gear::{
    Arms, AxleJoint, Brace, FigureLimits, Gear, Pattern, Plate, PlateMetal, Position, Taper, Wheel, WireFit,
};
pub use geometry::{Leg, Side, WheelPlace, WirePlace};
pub use landing::{CaseId, CaseWheelLoad, Landing, LoadPoint, Severity, UserCase};
pub use mass::GearMass;
pub use mount::{
    AnchorIn, BasePlate, Glue, Grain, Mount, NUT_FACTOR, PartKind, Preload, SpanDirection, SpanEdges,
    TORQUE_SCATTER, WoodSpan,
};
pub use tolerance::{DEVIATIONS_IN_TOLERANCE, Tolerance, ToleranceOrigin};
pub use wish::Wish;

use crate::units::Unit;

/// A whole project file, checked.
#[derive(Debug, Clone, PartialEq)]
pub struct Project {
    /// The aircraft.
    pub aircraft: Aircraft,
    /// How it lands.
    pub landing: Landing,
    /// Its gears, in the order of the file. Never empty; names are unique.
    pub gears: Vec<Gear>,
    /// Loads of the user's own.
    pub cases: Vec<UserCase>,
    /// Drops the user made, and what was measured.
    pub drop_tests: Vec<DropTest>,
    /// What was tried with sheets that nobody knows.
    pub bench: Bench,
    /// What is wanted of sizes that are to be found.
    pub wish: Wish,
    /// Every quantity as it was written and as it was read, in the order of the file.
    pub readings: Vec<Reading>,
    /// The unit of every reading, in the same order, so that a report can speak in the user's own units.
    pub written_units: Vec<Unit>,
    /// How far values of the file may be off, as written or as is usual, in the order of the file.
    pub tolerances: Vec<Tolerance>,
}

/// One quantity of the project file, as written and as read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    /// Dotted key, such as `gear.main.plate.thickness`.
    pub key: String,
    /// The user's own text, such as `5/32 in`.
    pub written: String,
    /// The value in the tool's plain unit, such as `3.969 mm`.
    pub read: String,
}
