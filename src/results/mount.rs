//! What the mount of a gear does in one landing: bolts, bed, flat centre, wood.

use super::{PeakStress, Station};
use crate::model::AnchorIn;
use crate::units::{Force, Length, Moment, Stress};

/// A mount under load.
#[derive(Debug, Clone, PartialEq)]
pub struct MountState {
    /// Its bolts, in the order of the file.
    pub bolts: Vec<BoltState>,
    /// How the wood pushes on the plate.
    pub bed: BedState,
    /// Forces along the flat centre, from its port end to its starboard end; a place where something acts appears twice, before and
    /// after it. `along` counts from the port end.
    pub plate: Vec<Station>,
    /// The largest equivalent stress in the flat centre, of the whole section, holes not taken off. `along` counts from the port
    /// end.
    pub plate_peak: PeakStress,
    /// The wood between its formers; `None` when no span is given and it is taken as backed all over.
    pub wood: Option<WoodState>,
    /// Of a plate on one bolt: the moment about that bolt which only friction holds.
    pub turn: Option<Moment>,
}

/// A bolt under load.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltState {
    /// Its name: its number in the file's list.
    pub name: String,
    /// Its place: aft and starboard of the base's centre.
    pub at: [Length; 2],
    /// Pull in its shank, preload included.
    pub tension: Force,
    /// What the plate puts on it sideways: aft, starboard.
    pub shear: [Force; 2],
    /// How hard the joint still presses plate and wood together at the bolt: the preload's rest. None once it is apart.
    pub pressed: Force,
    /// Preload with no load on the wheels.
    pub preload: Force,
    /// Share C of a pull on the joint that goes into the bolt while the joint is together: k_b / (k_b + k_m).
    pub share: f64,
}

impl BoltState {
    /// The resultant of the shear.
    #[must_use]
    pub fn shear_size(&self) -> Force {
        let [aft, starboard] = self.shear;
        (aft * aft + starboard * starboard).sqrt()
    }

    /// What pulls at the joint from outside, prying included: the bolt's tension less what still presses the joint together.
    #[must_use]
    pub fn pull(&self) -> Force {
        self.tension - self.pressed
    }
}

/// How the wood pushes on the plate, bolts' own joints aside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BedState {
    /// All of it.
    pub push: Force,
    /// Where its resultant is: aft and starboard of the base's centre. The heel about which the plate levers.
    pub centre: [Length; 2],
    /// The largest pressure.
    pub pressure: Stress,
    /// Where: aft, starboard.
    pub pressure_at: [Length; 2],
    /// How far the plate comes off the wood at most.
    pub uplift: Length,
    /// Where: aft, starboard.
    pub uplift_at: [Length; 2],
    /// Share of the flat that still lies on the wood.
    pub contact: f64,
}

/// A board between its formers under load, as a beam along its span.
#[derive(Debug, Clone, PartialEq)]
pub struct WoodState {
    /// Its width square to the span.
    pub breadth: Length,
    /// Its thickness with the doubler.
    pub depth: Length,
    /// Largest bending moment.
    pub bending: Moment,
    /// Where, from the base's centre along the span, aft or starboard positive.
    pub bending_at: Length,
    /// Largest shear force square to its face.
    pub shear: Force,
    /// How far it sags at most, either way.
    pub sag: Length,
    /// What each former gets from it.
    pub formers: [FormerState; 2],
}

/// What a former gets from the wood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FormerState {
    /// Which: forward or port first.
    pub end: FormerEnd,
    /// Force on the former: aft, starboard, up. Down is a pull on the glue of a board that lies below its formers.
    pub force: [Force; 3],
    /// Moment that a clamped end puts on it about the former's line, its size.
    pub moment: Moment,
}

/// Which former.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FormerEnd {
    /// Ahead.
    Forward,
    /// Behind.
    Aft,
    /// To port.
    Port,
    /// To starboard.
    Starboard,
}

impl FormerEnd {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Forward => "forward former",
            Self::Aft => "aft former",
            Self::Port => "port former",
            Self::Starboard => "starboard former",
        }
    }
}

/// Where a wire ends at the base.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WireAnchor {
    /// In what.
    pub held_by: AnchorIn,
    /// Its place: aft and starboard of the base's centre.
    pub at: [Length; 2],
}
