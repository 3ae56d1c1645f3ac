//! What `gearleg drop` answers: curves, drops, a shop test to carry out, and what earlier tests say of the metal.

use super::{Drop, DropTable, GearCurve, LandingDrop, Verdict};
use crate::units::{Length, Mass, Stress, Velocity};

/// The answer.
#[derive(Debug, Clone, PartialEq)]
#[must_use]
pub struct DropReport {
    /// Load–deflection curves, gear by gear and case by case.
    pub curves: Vec<GearCurve>,
    /// Level drops of each gear.
    pub tables: Vec<DropTable>,
    /// A shop drop test for each gear.
    pub plans: Vec<DropPlan>,
    /// What the drop tests in the project file say, in its order.
    pub readings: Vec<DropReading>,
    /// The landing asked for as a drop of each gear that carries it.
    pub landing: Vec<LandingDrop>,
    /// Whether each gear takes up the drops that count without anything staying bent, stretched or broken.
    pub verdicts: Vec<DropVerdict>,
    /// The least drop of the published rules for this aircraft, and the descent speed that goes with it.
    pub published: (Length, Velocity),
}

impl DropReport {
    /// Whether every gear takes up every drop that counts for it.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.verdicts.iter().all(|v| v.verdict == Verdict::Holds)
    }
}

/// What becomes of a gear in the drops that count: those asked for, or else the landing.
#[derive(Debug, Clone, PartialEq)]
pub struct DropVerdict {
    /// The gear's name.
    pub gear: String,
    /// The highest of these drops; `None` when no drop makes the load factor that the landing is stated with.
    pub height: Option<Length>,
    /// Holds when nothing stays bent, stretched or broken, and nothing but the wheels touches the ground.
    pub verdict: Verdict,
}

/// A shop drop test of one gear: drop from each height in turn and measure.
#[derive(Debug, Clone, PartialEq)]
pub struct DropPlan {
    /// The gear's name.
    pub gear: String,
    /// What rests on the gear in the aircraft.
    pub mass: Mass,
    /// Wing lift that the test stands for.
    pub wing_lift: f64,
    /// Steps, lowest first.
    pub steps: Vec<PlanStep>,
    /// How far the thickness of the sheet is varied for the bands, ± this share of it.
    pub thickness_band: f64,
    /// The drop beyond which the test ends: the landing asked for, or the published one.
    pub up_to: Length,
}

/// One drop of a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanStep {
    /// The wheels' height above the floor.
    pub height: Length,
    /// What to drop on this gear, all in, so that a drop without lift has the energy of the landing with lift: m [h + (1 − L) d]/(h + d).
    pub mass: Mass,
    /// The drop as the landing has it.
    pub drop: Drop,
    /// Between what the growth of the track at the worst moment is expected; `None` when it may collapse.
    pub spread: Option<(Length, Length)>,
    /// Between what the growth of the track that stays is expected.
    pub set: Option<(Length, Length)>,
}

/// What one drop test says.
#[derive(Debug, Clone, PartialEq)]
pub struct DropReading {
    /// The gear's name.
    pub gear: String,
    /// Height of the drop.
    pub height: Length,
    /// What was dropped.
    pub mass: Mass,
    /// The drop as the file's own values have it.
    pub expected: Drop,
    /// Measured growth of the track at the worst moment.
    pub spread: Option<Length>,
    /// Measured growth of the track that stayed.
    pub set: Option<Length>,
    /// How exactly both were measured, ±.
    pub error: Length,
    /// Stiffness of the legs' metal over what the file has, between the readings' errors; `None` when the test does not tell.
    pub stiffness: Option<(f64, f64)>,
    /// Yield strength that the set implies: at least the first, and at most the second unless it sprang back; `None` when the
    /// test does not tell.
    pub yield_strength: Option<(Stress, Option<Stress>)>,
    /// The gear's drops once more with what the reading implies: the middle of the stiffness and the lower yield strength.
    pub again: Option<DropTable>,
}
