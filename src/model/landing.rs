//! How the aircraft lands.

use crate::diagnostic::Location;
use crate::material::Arrival;
use crate::model::Side;
use crate::units::{Force, Length, Velocity};
use std::fmt;

/// How hard the landing is, in one of the four ways a builder can say it.
#[derive(Debug, Clone, PartialEq)]
pub enum Severity {
    /// Limit inertia load factor at the centre of gravity.
    LoadFactor(f64),
    /// Vertical speed at touch-down.
    SinkRate(Velocity),
    /// Height of the equivalent drop.
    DropHeight(Length),
    /// A pilot's words.
    Arrival(Arrival),
}

/// The landing.
#[derive(Debug, Clone, PartialEq)]
pub struct Landing {
    /// How hard.
    pub severity: Severity,
    /// Where the file says so, for messages.
    pub severity_at: Option<Location>,
    /// Wing lift during the impact, as a fraction of the weight.
    pub wing_lift: f64,
    /// Sliding friction between tyre and ground.
    pub friction: f64,
    /// Factor from limit to ultimate load.
    pub ultimate_factor: f64,
    /// Drag of a rut or long grass, as a multiple of the static wheel load.
    pub obstacle_drag: f64,
    /// The cases asked for; `None` means every case that applies.
    pub cases: Option<Vec<CaseId>>,
}

/// The landing cases the tool knows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum CaseId {
    /// Level landing with drag.
    Level,
    /// Tail-down landing.
    TailDown,
    /// One main wheel first, with the load the published rule gives it.
    OneWheel,
    /// The whole aircraft on one main wheel, as builders reckon it.
    OneWheelWhole,
    /// Side load.
    Side,
    /// Braking while rolling.
    BrakedRoll,
    /// Nose wheel, load aft.
    NoseAft,
    /// Nose wheel, load forward.
    NoseForward,
    /// Nose wheel, load sideways.
    NoseSide,
    /// A rut or long grass.
    Obstacle,
    /// No load on the wheels, the wires tight.
    Rest,
}

impl CaseId {
    /// All of them, in the order of reports.
    pub const ALL: [Self; 11] = [
        Self::Level,
        Self::TailDown,
        Self::OneWheel,
        Self::OneWheelWhole,
        Self::Side,
        Self::BrakedRoll,
        Self::NoseAft,
        Self::NoseForward,
        Self::NoseSide,
        Self::Obstacle,
        Self::Rest,
    ];

    /// Whether its loads rise with the landing's load factor, and so with the height of a drop.
    #[must_use]
    pub const fn follows_load_factor(self) -> bool {
        matches!(self, Self::Level | Self::TailDown | Self::OneWheel | Self::OneWheelWhole)
    }

    /// The fixed name used in files and JSON.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Level => "level",
            Self::TailDown => "tail-down",
            Self::OneWheel => "one-wheel",
            Self::OneWheelWhole => "one-wheel-whole",
            Self::Side => "side",
            Self::BrakedRoll => "braked-roll",
            Self::NoseAft => "nose-aft",
            Self::NoseForward => "nose-forward",
            Self::NoseSide => "nose-side",
            Self::Obstacle => "obstacle",
            Self::Rest => "rest",
        }
    }

    /// The landing in a few words, to follow "in".
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Level => "a level landing",
            Self::TailDown => "a tail-down landing",
            Self::OneWheel => "a one-wheel landing",
            Self::OneWheelWhole => "a landing with all of it on one wheel",
            Self::Side => "a landing with side load",
            Self::BrakedRoll => "a braked roll",
            Self::NoseAft => "a nose-wheel load aft",
            Self::NoseForward => "a nose-wheel load forward",
            Self::NoseSide => "a nose-wheel load sideways",
            Self::Obstacle => "a rut or long grass",
            Self::Rest => "the gear at rest, its wires tight",
        }
    }

    /// Reads the fixed name.
    #[must_use]
    pub fn from_id(id: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|c| c.id() == id)
    }
}

impl fmt::Display for CaseId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.id())
    }
}

/// Where on the wheel a load acts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoadPoint {
    /// The ground contact point, half a wheel diameter below the centre.
    Ground,
    /// The wheel's centre.
    Axle,
}

/// The load on one wheel, in aircraft axes (x aft, y starboard, z up).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CaseWheelLoad {
    /// Which wheel.
    pub side: Side,
    /// Aft component.
    pub aft: Force,
    /// Starboard component.
    pub starboard: Force,
    /// Upward component.
    pub up: Force,
    /// Where it acts.
    pub at: LoadPoint,
}

/// Loads of the user's own on one gear.
#[derive(Debug, Clone, PartialEq)]
pub struct UserCase {
    /// The user's name for it; not one of the tool's own case ids, unique among the user's.
    pub name: String,
    /// Index into [`crate::model::Project::gears`].
    pub gear: usize,
    /// One load for each wheel of the gear; a wheel not named carries nothing.
    pub loads: Vec<CaseWheelLoad>,
}

impl CaseWheelLoad {
    /// The force: aft, starboard, up.
    #[must_use]
    pub const fn force(&self) -> [Force; 3] {
        [self.aft, self.starboard, self.up]
    }

    /// Whether nothing acts on the wheel.
    #[must_use]
    pub fn is_zero(&self) -> bool {
        self.force() == [Force::default(); 3]
    }

    /// The load that does to the other leg what this one does to its own.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let side = match self.side {
            Side::Left => Side::Right,
            Side::Centre => Side::Centre,
            Side::Right => Side::Left,
        };
        Self { side, starboard: -self.starboard, ..*self }
    }

    /// The same load multiplied.
    #[must_use]
    pub fn times(&self, multiple: f64) -> Self {
        Self {
            aft: multiple * self.aft,
            starboard: multiple * self.starboard,
            up: multiple * self.up,
            ..*self
        }
    }
}
