//! The state of one gear in one landing case.

use super::{LimitLoad, MountState, WireAnchor, Working};
use crate::model::{CaseId, CaseWheelLoad, Side};
use crate::section::{PlateSection, RoundSection};
use crate::units::{Angle, Force, Length, Moment, Stress};
use std::fmt;

/// A built-in case or one of the user's own.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum CaseName {
    /// One the tool knows.
    Known(CaseId),
    /// The user's, by name.
    Own(String),
}

impl CaseName {
    /// The id in files and JSON: the fixed id, or the user's name.
    #[must_use]
    pub fn id(&self) -> &str {
        match self {
            Self::Known(case) => case.id(),
            Self::Own(name) => name,
        }
    }

    /// The tool's own case; `None` for one of the user's.
    #[must_use]
    pub const fn known(&self) -> Option<CaseId> {
        match self {
            Self::Known(case) => Some(*case),
            Self::Own(_) => None,
        }
    }

    /// Whether it is a landing that only common practice asks for, no published rule (for main and nose wheels).
    #[must_use]
    pub const fn is_common_practice(&self) -> bool {
        matches!(self, Self::Known(CaseId::OneWheelWhole | CaseId::Obstacle))
    }

    /// Whether it is a landing that a published rule asks for.
    #[must_use]
    pub const fn is_published(&self) -> bool {
        matches!(self, Self::Known(case) if !matches!(case, CaseId::OneWheelWhole | CaseId::Obstacle | CaseId::Rest))
    }

    /// Words to follow "in".
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Known(case) => case.words().to_owned(),
            Self::Own(name) => format!("your case \"{name}\""),
        }
    }
}

impl fmt::Display for CaseName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.id())
    }
}

/// One gear in one case.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseResult {
    /// Index of the gear in the project.
    pub gear: usize,
    /// The gear's name.
    pub gear_name: String,
    /// The case.
    pub case: CaseName,
    /// The limit loads on its wheels.
    pub loads: Vec<CaseWheelLoad>,
    /// How the loads follow from the rule.
    pub rule: Working,
    /// Where the rule is published, or that it is not.
    pub rule_source: String,
    /// The gear under the limit loads.
    pub limit: GearState,
    /// The gear under the ultimate loads (limit × the ultimate factor). Wires with slack or pretension make
    /// this more than a multiple of `limit`.
    pub ultimate: GearState,
    /// The smallest multiple of the ultimate loads at which the gear buckles, as the linear theory has it; `None` when no
    /// multiple does it.
    pub buckling_multiple: Option<f64>,
    /// By which theory `limit` and `ultimate` were found.
    pub theory: Theory,
    /// The highest multiple of the limit loads that the gear holds on its real curve; `None` where nothing loads its wheels.
    pub limit_load: Option<LimitLoad>,
}

/// A theory of how a gear moves, its metal elastic.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Theory {
    /// Small displacements: the other theory's answer is within 2 % of it.
    Small,
    /// Large displacements, because small ones are off by more than 2 %.
    Large {
        /// The largest stress at limit load that small displacements would have.
        small_stress: Stress,
    },
    /// Small displacements, because for large ones the elastic gear has no equilibrium near: it gives way.
    OnlySmall,
}

/// A gear under load.
#[derive(Debug, Clone, PartialEq)]
pub struct GearState {
    /// Its wheels.
    pub wheels: Vec<WheelState>,
    /// Its legs.
    pub legs: Vec<LegState>,
    /// Its wires.
    pub wires: Vec<WireState>,
    /// Its axles at their most loaded section.
    pub axles: Vec<AxleState>,
    /// Its mount, when one is described.
    pub mount: Option<MountState>,
}

impl GearState {
    /// The largest equivalent stress in the plate, legs and flat centre.
    #[must_use]
    pub fn plate_stress(&self) -> Stress {
        let centre = self.mount.as_ref().map(|m| m.plate_peak.von_mises);
        self.legs.iter().map(|l| l.peak.von_mises).chain(centre).fold(Stress::default(), Stress::max)
    }
}

/// A wheel's load and movement.
#[derive(Debug, Clone, PartialEq)]
pub struct WheelState {
    /// Which wheel.
    pub side: Side,
    /// Load on it: aft, starboard, up.
    pub load: [Force; 3],
    /// Movement of its ground contact point: aft, starboard, up.
    pub displacement: [Length; 3],
    /// Rotation about the aft, starboard and up axes.
    pub rotation: [Angle; 3],
}

/// A leg's forces and stress.
#[derive(Debug, Clone, PartialEq)]
pub struct LegState {
    /// Which leg.
    pub side: Side,
    /// Force the leg puts on its clamp at the bend: aft, starboard, up.
    pub root_force: [Force; 3],
    /// Moment the leg puts on its clamp, about the bend's centre point: about aft, starboard, up.
    pub root_moment: [Moment; 3],
    /// The largest equivalent stress along the leg and round its perimeter.
    pub peak: PeakStress,
    /// Forces along the leg, bend to axle; a place where a wire pulls appears twice, before and after it.
    pub stations: Vec<Station>,
}

/// One cross-section of a leg and the forces on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Station {
    /// Distance from the bend along the leg.
    pub along: Length,
    /// The section there.
    pub section: PlateSection,
    /// The forces on it.
    pub forces: PlateForces,
}

/// Forces and moments on a plate section.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PlateForces {
    /// Along the leg, tension positive.
    pub axial: Force,
    /// Shear along the width.
    pub shear_across: Force,
    /// Shear through the thickness.
    pub shear_through: Force,
    /// Twist about the leg's line.
    pub torsion: Moment,
    /// Bending through the thickness; positive with the lower (inboard) face in tension.
    pub bending_flat: Moment,
    /// Bending in the plane of the plate; positive with the forward edge in tension.
    pub bending_edge: Moment,
}

/// A face of a plate leg.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Face {
    /// The flat face that looks down (or inboard, on a leg that stands straight).
    Lower,
    /// The flat face that looks up (or outboard).
    Upper,
    /// The cut edge that looks aft.
    AftEdge,
    /// The cut edge that looks forward.
    ForwardEdge,
}

impl Face {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Lower => "lower face",
            Self::Upper => "upper face",
            Self::AftEdge => "aft edge",
            Self::ForwardEdge => "forward edge",
        }
    }
}

/// The largest equivalent stress and all that is needed to find it again by hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PeakStress {
    /// Von Mises stress.
    pub von_mises: Stress,
    /// Normal stress at the point, tension positive.
    pub normal: Stress,
    /// Shear stress at the point, along the face.
    pub shear: Stress,
    /// Distance from the bend along the leg.
    pub along: Length,
    /// Which face.
    pub face: Face,
    /// Where on the face, −1 to 1: on a flat face from the forward to the aft edge, on an edge from the upper
    /// to the lower face.
    pub place: f64,
    /// The section there.
    pub section: PlateSection,
    /// The forces there.
    pub forces: PlateForces,
}

/// A brace wire under load.
#[derive(Debug, Clone, PartialEq)]
pub struct WireState {
    /// Its name: that of the leg it holds, or `tie`.
    pub name: String,
    /// Index of its brace in the gear.
    pub brace: usize,
    /// Leg it holds at its first end.
    pub leg: Side,
    /// Whether its other end holds the other leg, not the base.
    pub ties_both_legs: bool,
    /// Tension; exactly zero when slack.
    pub tension: Force,
    /// Whether it hangs loose.
    pub slack: bool,
    /// Length between its ends.
    pub length: Length,
    /// Angle between the wire and the leg at its first end.
    pub angle_to_leg: Angle,
    /// Unit vector from its first end, on the leg, to the other: aft, starboard, up.
    pub direction: [f64; 3],
    /// Where it ends at the base; `None` for a tie and for a gear without a mount.
    pub anchor: Option<WireAnchor>,
}

/// An axle at its most loaded section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxleState {
    /// The leg it is at.
    pub side: Side,
    /// The round section.
    pub section: RoundSection,
    /// Bending, the resultant of both planes.
    pub bending: Moment,
    /// Twist about the axle's line: what a twin's axle carries from the wheel to the arms; none in a stub axle, on which the
    /// wheel turns.
    pub torsion: Moment,
    /// Force along the axle, tension positive.
    pub axial: Force,
    /// Bending where it meets the leg, the resultant of both planes. A stub axle is loaded most there; a twin's may be at the
    /// wheel.
    pub bending_at_leg: Moment,
    /// Force square to the axle where it meets the leg, the resultant of both directions.
    pub shear: Force,
}
