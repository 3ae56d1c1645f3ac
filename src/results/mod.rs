//! The one result model: everything a report prints is in here, in typed quantities.

mod compare;
mod curve;
mod desk;
mod drop_report;
mod failure;
mod margin;
mod mount;
mod size;
mod spread;
mod state;

use crate::material::Family;
pub use compare::{
    ArrivalFrom, AtCase, ComparedDesign, Comparison, GearChange, GearFigures, GearStiffness, MountLoad,
    PeakOf, SameArrival,
};
pub use curve::{
    Branch, CollapseCause, CurvePoint, Drop, DropOutcome, DropTable, FallLimit, GearCurve, LimitLoad, Mark,
    MarkKind, Unloading, WheelTravel, WirePull,
};
pub use desk::{
    AlikeFamilies, Asked, AskedIn, Contradiction, FamilyChance, GradeChance, LikelyStress, NextTest,
    Property, SheetGrade, TestSays,
};
pub use drop_report::{DropPlan, DropReading, DropReport, DropVerdict, PlanStep};
pub use failure::{FailureOrder, FirstSize, PartFailure, TOGETHER};
pub use margin::{Amount, Margin, Term, Verdict, Working};
pub use mount::{BedState, BoltState, FormerEnd, FormerState, MountState, WireAnchor, WoodState};
pub use size::{CardEntry, CardRow, SizeResult, SizedDesign, SizedGear};
pub use spread::{Cause, Chance, Likely, MarginSpread, Spread, SpreadInput};
pub use state::{
    AxleState, CaseName, CaseResult, Face, GearState, LegState, PeakStress, PlateForces, Station, Theory,
    WheelState, WireState,
};

use crate::units::{Force, Length, Mass, Moment, Stress, Velocity};

/// The load factors of a landing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LandingFactors {
    /// Limit inertia load factor n at the centre of gravity.
    pub inertia: f64,
    /// Limit ground-reaction factor, n − wing lift.
    pub ground_reaction: f64,
    /// Wing lift over weight.
    pub wing_lift: f64,
}

impl LandingFactors {
    /// The factors of a landing with an inertia load factor and a wing lift.
    #[must_use]
    pub fn new(inertia: f64, wing_lift: f64) -> Self {
        Self { inertia, ground_reaction: inertia - wing_lift, wing_lift }
    }
}

/// The outcome of a whole check.
#[derive(Debug, Clone, PartialEq)]
#[must_use]
pub struct CheckResult {
    /// The load factors.
    pub landing: LandingFactors,
    /// The drop that the load factor follows from, or that a stated one amounts to; one for each gear that carries the landing.
    pub drops: Vec<LandingDrop>,
    /// Every gear in every case that applies to it.
    pub cases: Vec<CaseResult>,
    /// Every margin, worst first; those that can't be told before those that hold.
    pub margins: Vec<Margin>,
    /// Names of the grades that dealers keep, out of which the words count those that bend.
    pub common_grades: Vec<String>,
    /// The yield strength each gear needs in each case.
    pub required_yield: Vec<RequiredYield>,
    /// The shop test that settles an unknown metal, one for each gear that has one.
    pub bench_tests: Vec<BenchTest>,
    /// What the brace wires of each braced gear do.
    pub bracing: Vec<BracingEffect>,
    /// What they do to g, for each braced gear that carries the landing.
    pub bracing_drops: Vec<BracingDrop>,
    /// What gives first, for every gear in every case that loads it.
    pub failure_orders: Vec<FailureOrder>,
    /// Gears whose sheet may be of several families, with the one that these figures are of: that with the worst margin.
    pub reckoned_as: Vec<(String, Family)>,
}

/// What the landing is as a level drop of one gear.
#[derive(Debug, Clone, PartialEq)]
pub struct LandingDrop {
    /// The gear's name.
    pub gear: String,
    /// Whether the landing is given as a drop and the load factor follows, or the other way round.
    pub given: bool,
    /// The drop. For a stated load factor the one that makes it; `None` when the gear makes no such factor of any drop.
    pub drop: Option<Drop>,
    /// The drop that the gear just survives.
    pub survives: FallLimit,
    /// The same with the wing carrying the whole weight; for a landing that is given as a drop.
    pub reserve_height: Option<FallLimit>,
    /// What an ordinary arrival makes of the gear: its name, its highest sink rate, its inertia load factor (`None` when the gear
    /// collapses).
    pub arrival: Option<(String, Velocity, Option<f64>)>,
}

impl CheckResult {
    /// Of a gear's cases the one that asks the highest yield strength, and of those that a published rule asks for where that one is common
    /// practice; `None` for a gear that nothing loads.
    #[must_use]
    pub fn hardest(&self, gear: &str) -> Option<(&RequiredYield, Option<&RequiredYield>)> {
        let most = |of: &dyn Fn(&&RequiredYield) -> bool| {
            let own = self.required_yield.iter().filter(|r| r.gear == gear);
            own.filter(|r| of(r)).reduce(|a, b| if b.yield_strength > a.yield_strength { b } else { a })
        };
        let worst = most(&|_| true)?;
        let published =
            if worst.case.is_common_practice() { most(&|r| !r.case.is_common_practice()) } else { None };
        Some((worst, published))
    }
}

/// The yield strength that a gear's plate must have in one case.
#[derive(Debug, Clone, PartialEq)]
pub struct RequiredYield {
    /// The gear's name.
    pub gear: String,
    /// The case.
    pub case: CaseName,
    /// The yield strength at which the margin is zero.
    pub yield_strength: Stress,
    /// Over what range it moves when the modulus of the unknown metal does; `None` when it does not matter.
    pub range: Option<(Stress, Stress)>,
    /// Table grades whose minimum reaches it, weakest first.
    pub grades_that_hold: Vec<String>,
    /// Table grades whose minimum, or where there is none whose maximum, does not reach it, weakest first.
    pub grades_that_bend: Vec<String>,
}

/// A strip cut from the same sheet, clamped and loaded by hand, that shows whether the metal is good enough.
#[derive(Debug, Clone, PartialEq)]
pub struct BenchTest {
    /// The gear whose plate it is for.
    pub gear: String,
    /// What the metal has to show.
    pub yield_strength: Stress,
    /// Width to cut the strip to.
    pub width: Length,
    /// Thickness of the sheet.
    pub thickness: Length,
    /// Free length from the clamp's edge to the hook.
    pub reach: Length,
    /// Mass to hang on, instrument errors already counted against the builder.
    pub load: Mass,
    /// How many loads of the scale's size that takes.
    pub weighings: u32,
    /// The same without any error: what the bare formula asks.
    pub load_without_errors: Mass,
    /// How far the end goes down under the load.
    pub deflection: Length,
    /// A set at the end smaller than this counts as "sprang back".
    pub set_limit: Length,
    /// The errors counted: caliper and ruler, each ±, and the scale for each weighing.
    pub errors: BenchErrors,
    /// Factor on the load for the set that the eye can't see.
    pub unseen_set_factor: f64,
    /// By how much more than a narrow strip it may bear for its width, as a share.
    pub gain_of_width: f64,
}

/// Instrument errors of the bench test, each counted against the builder.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BenchErrors {
    /// Caliper on thickness and width.
    pub caliper: Length,
    /// Ruler on the reach.
    pub ruler: Length,
    /// Scale, per weighing.
    pub scale: Mass,
}

/// What brace wires do to a gear in one case.
#[derive(Debug, Clone, PartialEq)]
pub struct BracingEffect {
    /// The gear's name.
    pub gear: String,
    /// The case.
    pub case: CaseName,
    /// Largest stress without and with the wires.
    pub stress: (Stress, Stress),
    /// Largest sideways travel of a wheel without and with the wires.
    pub sideways: (Length, Length),
    /// Largest fore-and-aft travel of a wheel without and with the wires.
    pub fore_and_aft: (Length, Length),
    /// Largest wire tension.
    pub tension: Force,
    /// Wires that stay slack.
    pub slack: Vec<String>,
    /// Largest pull in a bolt without and with the wires; `None` without a mount.
    pub bolt_pull: Option<(Force, Force)>,
    /// Largest bending moment in the wood without and with them; `None` where no span of it is given.
    pub wood_bending: Option<(Moment, Moment)>,
}

/// What brace wires do to the load factor of one and the same drop.
#[derive(Debug, Clone, PartialEq)]
pub struct BracingDrop {
    /// The gear's name.
    pub gear: String,
    /// Height of the drop: the landing's own where it is given as one, else that of an ordinary arrival.
    pub height: Length,
    /// Inertia load factor without the wires; `None` when the gear collapses.
    pub without: Option<f64>,
    /// The same with them.
    pub with: Option<f64>,
}
