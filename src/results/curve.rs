//! What a gear does when the loads of one landing case are raised together: load–deflection curve, what happens on it, what stays.

use super::CaseName;
use crate::model::Side;
use crate::units::{Angle, Energy, Force, Length, Stress, Velocity};

/// Whether a point is on the way up or back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Branch {
    /// The load rises.
    Loading,
    /// The load falls from the highest point.
    Unloading,
}

impl Branch {
    /// The word used in JSON.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Loading => "loading",
            Self::Unloading => "unloading",
        }
    }
}

/// A load–deflection curve.
#[derive(Debug, Clone, PartialEq)]
#[must_use]
pub struct GearCurve {
    /// The gear's name.
    pub gear: String,
    /// The case whose wheel loads are multiplied.
    pub case: CaseName,
    /// Points in the order in which they are passed.
    pub points: Vec<CurvePoint>,
    /// What happens on the way up, in order.
    pub marks: Vec<Mark>,
    /// The highest multiple it holds.
    pub limit: LimitLoad,
    /// Work done on the gear up to the highest point on the way up.
    pub absorbed: Energy,
    /// Work it gives back when it is unloaded from there.
    pub returned: Energy,
    /// What stays after unloading from the multiples asked for.
    pub unloadings: Vec<Unloading>,
}

/// One point of a curve.
#[derive(Debug, Clone, PartialEq)]
pub struct CurvePoint {
    /// What the wheel loads are multiplied by.
    pub multiple: f64,
    /// Up or back.
    pub branch: Branch,
    /// Movement of each wheel's ground contact point: aft, starboard, up.
    pub wheels: Vec<WheelTravel>,
    /// Tension of each wire.
    pub wires: Vec<WirePull>,
    /// The largest equivalent stress in a leg. Where a leg has yielded, of its fibres.
    pub peak_von_mises: Stress,
    /// Whether a leg has reached its yield strength, now or before.
    pub yielded: bool,
}

/// How far a wheel's contact point has moved: aft, starboard, up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WheelTravel {
    /// Which wheel.
    pub side: Side,
    /// From where it stands in the unloaded new gear.
    pub displacement: [Length; 3],
}

/// A wire's tension.
#[derive(Debug, Clone, PartialEq)]
pub struct WirePull {
    /// Its name.
    pub name: String,
    /// Its tension; zero when slack or broken.
    pub tension: Force,
}

/// Something that happens on the way up.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// At which multiple of the loads.
    pub multiple: f64,
    /// What.
    pub what: MarkKind,
    /// To which part.
    pub part: String,
}

/// What can happen on the way up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MarkKind {
    /// The equivalent stress in a leg reaches the yield strength.
    FirstYield,
    /// A wire begins to pull.
    WireTaut,
    /// A wire begins to stay stretched.
    WireYields,
    /// A wire breaks or its end lets go.
    WireBreaks,
    /// A section of a leg bends on with hardly any more moment.
    PlasticHinge,
    /// No further load is held.
    Collapse,
    /// The wheel has come up so far that something else touches the ground.
    Ground,
}

impl MarkKind {
    /// The word used in JSON.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::FirstYield => "first-yield",
            Self::WireTaut => "wire-taut",
            Self::WireYields => "wire-yields",
            Self::WireBreaks => "wire-breaks",
            Self::PlasticHinge => "plastic-hinge",
            Self::Collapse => "collapse",
            Self::Ground => "ground",
        }
    }
}

/// Why a gear holds no more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CollapseCause {
    /// It buckles: nothing much has yielded.
    Buckling,
    /// A leg bends on at a plastic hinge.
    PlasticHinge,
    /// A wire has broken or let go, and the legs alone don't hold the load.
    Wire,
    /// The wheels have gone further than a leg's length, and nothing more is worth following.
    Travel,
}

impl CollapseCause {
    /// The word used in JSON.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Buckling => "buckling",
            Self::PlasticHinge => "plastic-hinge",
            Self::Wire => "wire",
            Self::Travel => "travel",
        }
    }
}

/// The highest multiple of a case's loads that a gear holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LimitLoad {
    /// The multiple; without a cause, the highest one tried.
    pub multiple: f64,
    /// What ends it; `None` when it holds all that was tried.
    pub cause: Option<CollapseCause>,
}

/// What stays after loading to a multiple and back to nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct Unloading {
    /// The multiple.
    pub from_multiple: f64,
    /// What stays of each wheel's travel.
    pub wheels: Vec<WheelTravel>,
    /// By how much each leg stays bent in all, most of it at the bend.
    pub bent: Vec<(Side, Angle)>,
}

/// One level drop: vertical, no drag, nothing damped.
#[derive(Debug, Clone, PartialEq)]
pub struct Drop {
    /// The gear's name.
    pub gear: String,
    /// Height fallen before the wheels touch.
    pub height: Length,
    /// Speed at which they do.
    pub sink_rate: Velocity,
    /// Wing lift meanwhile, over weight.
    pub wing_lift: f64,
    /// What happens; `None` when the gear collapses before the fall is taken up, or was not followed so far.
    pub outcome: Option<DropOutcome>,
    /// Whether it was not followed so far: it gives more than 60 g, or meets no limit in the highest fall that was tried.
    pub beyond: bool,
}

impl Drop {
    /// Whether the gear collapses.
    #[must_use]
    pub const fn collapses(&self) -> bool {
        self.outcome.is_none() && !self.beyond
    }
}

/// How a drop ends that the gear takes up.
#[derive(Debug, Clone, PartialEq)]
pub struct DropOutcome {
    /// Largest force of the ground over the weight on the gear.
    pub ground_reaction_factor: f64,
    /// That and the wing lift: what the aircraft feels.
    pub inertia_load_factor: f64,
    /// Work done on gear and tyres over largest force times travel: a half for a spring, more for a gear that yields.
    pub efficiency: f64,
    /// Travel of the centre of gravity from first touch to the lowest point, tyre and gear.
    pub deflection: Length,
    /// Of it the tyre's.
    pub tyre: Length,
    /// Growth of the track at the lowest point; for one wheel, its sideways travel.
    pub spread: Length,
    /// Where the wheels have gone at the lowest point.
    pub wheels: Vec<WheelTravel>,
    /// Whether a leg has reached its yield strength.
    pub yielded: bool,
    /// What has happened by then, in words of the marks.
    pub marks: Vec<Mark>,
    /// What stays afterwards.
    pub left: Unloading,
    /// Growth of the track that stays; for one wheel, how far it stands off sideways.
    pub set_spread: Length,
    /// The farthest that a contact point stands off its old place.
    pub set: Length,
    /// The most that a leg stays bent.
    pub set_angle: Angle,
    /// Height to which it would bounce if nothing but yielding took energy.
    pub rebound_height: Length,
}

impl DropOutcome {
    /// Whether nothing stays bent, stretched or broken, and nothing but the wheels touches the ground.
    #[must_use]
    pub fn leaves_no_mark(&self) -> bool {
        !self.yielded && self.marks.iter().all(|m| m.what == MarkKind::WireTaut)
    }
}

/// A gear's level drops from a staircase of heights.
#[derive(Debug, Clone, PartialEq)]
#[must_use]
pub struct DropTable {
    /// The gear's name.
    pub gear: String,
    /// The drops, lowest first.
    pub drops: Vec<Drop>,
    /// The highest drop after which nothing stays bent; `None` when no yield strength is known or it is beyond what was tried.
    pub highest_without_set: Option<Length>,
    /// The drop that it just survives.
    pub survives: FallLimit,
    /// Why it collapses there.
    pub limit: LimitLoad,
}

/// The highest drop that a gear takes up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FallLimit {
    /// Its height.
    pub height: Length,
    /// Whether the gear collapses there; if not, nothing higher was tried.
    pub collapses: bool,
}
