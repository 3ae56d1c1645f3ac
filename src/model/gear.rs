//! One gear: legs, wheel, brace wires, mount.

use super::mount::{AnchorIn, Mount, PartKind};
use super::{CaseId, Layout};
use crate::material::{AxleMetal, Metal, Sourced, Thread, Wire, WireEnd};
use crate::section::PlateSection;
use crate::units::{Angle, Force, Length, Stiffness, Stress};

/// Where the gear stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Position {
    /// Under the centre of gravity.
    Main,
    /// At the nose.
    Nose,
    /// At the tail.
    Tail,
}

impl Position {
    /// The word used in files and reports.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Main => "main",
            Self::Nose => "nose",
            Self::Tail => "tail",
        }
    }
}

/// How the arms are laid out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Arms {
    /// One bent plate with two legs, a wheel on each.
    Pair {
        /// Flat centre between the two bends.
        base_width: Length,
    },
    /// One arm with its wheel on a stub axle.
    Single,
    /// Two arms with the wheel between them.
    Twin {
        /// Distance between the tops of the arms.
        base_width: Length,
        /// How the axle meets the arms.
        axle_joint: AxleJoint,
    },
}

/// How a twin's axle meets its arms.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AxleJoint {
    /// Nuts hold the axle square to the arms.
    Clamped,
    /// The axle sits in plain holes and bends no arm; it still can't turn about its own line.
    Pinned,
}

/// A gear.
#[derive(Debug, Clone, PartialEq)]
pub struct Gear {
    /// Its name in the file.
    pub name: String,
    /// Where it stands.
    pub position: Position,
    /// How its arms are laid out.
    pub arms: Arms,
    /// The legs' plate.
    pub plate: Plate,
    /// Wheel and axle.
    pub wheel: Wheel,
    /// Brace wires.
    pub braces: Vec<Brace>,
    /// The mount, if described.
    pub mount: Option<Mount>,
    /// Limits the user sets on how far the wheels may move.
    pub limits: FigureLimits,
    /// How far its axle stands from the centre of gravity, fore and aft, if given.
    pub cg_distance: Option<Length>,
    /// The part that is meant to give first, if the builder says so.
    pub give_first: Option<PartKind>,
    /// In which landing cases it is; `None`: in every one.
    pub give_first_in: Option<Vec<CaseId>>,
}

/// A dimension that runs in a straight line from the bend to the axle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Taper {
    /// At the bend.
    pub root: Length,
    /// At the axle.
    pub tip: Length,
}

impl Taper {
    /// The value at a fraction of the leg, 0 at the bend and 1 at the axle.
    #[must_use]
    pub fn at(&self, fraction: f64) -> Length {
        self.root + fraction * (self.tip - self.root)
    }
}

/// What the plate is made of.
#[derive(Debug, Clone, PartialEq)]
pub enum PlateMetal {
    /// A metal of the tables or of the project file.
    Known(Box<Metal>),
    /// Nobody knows.
    Unknown,
}

/// The plate that the legs are cut from.
#[derive(Debug, Clone, PartialEq)]
pub struct Plate {
    /// What it is made of.
    pub metal: PlateMetal,
    /// Thickness, bend to axle.
    pub thickness: Taper,
    /// Width, bend to axle.
    pub width: Taper,
    /// Length along the leg, bend to axle.
    pub leg_length: Length,
    /// From the vertical in front view, outboard positive.
    pub leg_angle: Angle,
    /// From the vertical in side view, aft positive.
    pub rake: Angle,
    /// Inside radius of the bend, if given.
    pub bend_radius: Option<Length>,
}

impl Plate {
    /// The leg's section at a fraction of its length, 0 at the bend and 1 at the axle.
    #[must_use]
    pub fn section_at(&self, fraction: f64) -> PlateSection {
        PlateSection { width: self.width.at(fraction), thickness: self.thickness.at(fraction) }
    }

    /// The yield strength of its metal in the thickness of its sheet; `None` when nobody knows it.
    #[must_use]
    pub fn yield_strength(&self) -> Option<&Sourced<Stress>> {
        let PlateMetal::Known(metal) = &self.metal else { return None };
        metal.band(self.sheet_thickness())?.yield_strength.as_ref()
    }

    /// Thickness of the sheet it is cut from: of a leg that thins, the thicker end. The metal's strength is that of
    /// this thickness.
    #[must_use]
    pub fn sheet_thickness(&self) -> Length {
        self.thickness.root.max(self.thickness.tip)
    }
}

/// Wheel and axle.
#[derive(Debug, Clone, PartialEq)]
pub struct Wheel {
    /// Wheel diameter.
    pub diameter: Length,
    /// Along the axle from the leg's mid-plane to the wheel's centre; zero for a twin.
    pub overhang: Length,
    /// Axle diameter.
    pub axle: Length,
    /// Axle material.
    pub axle_metal: AxleMetal,
    /// Spring rate of the tyre; `None` means rigid.
    pub tyre_stiffness: Option<Stiffness>,
    /// The thread on the axle where it meets the leg; `None` for a plain shank there.
    pub axle_thread: Option<Thread>,
}

/// How a pair of wires runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pattern {
    /// Each leg to the far end of the base.
    Cross,
    /// Each leg to its own end of the base.
    Near,
    /// Leg to leg.
    Tie,
}

impl Pattern {
    /// The word used in files and reports.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Cross => "cross",
            Self::Near => "near",
            Self::Tie => "tie",
        }
    }
}

/// How tight a wire is in the finished gear with no load on the wheels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WireFit {
    /// Neither tight nor loose.
    Snug,
    /// Tension with no load on the wheels.
    Pretension(Force),
    /// How much longer the wire is than the distance it spans.
    Slack(Length),
}

/// Brace wires of one pattern.
#[derive(Debug, Clone, PartialEq)]
pub struct Brace {
    /// How they run.
    pub pattern: Pattern,
    /// What they are.
    pub wire: Wire,
    /// Diameter.
    pub diameter: Length,
    /// Where on the leg they hold, 0 at the bend, 1 at the axle.
    pub leg_at: f64,
    /// Distance of the anchors from the centre line; `None` for a tie.
    pub base_at: Option<Length>,
    /// What the anchors are in, when there is a mount; `None` leaves it to where they are: on the plate as far as it is flat,
    /// in the wood beyond.
    pub base_in: Option<AnchorIn>,
    /// How their ends are made.
    pub end: WireEnd,
    /// Share of the wire's breaking load that such an end holds on this diameter.
    pub end_holds: Sourced<f64>,
    /// The thread, when the end is one.
    pub thread: Option<Thread>,
    /// How tight they are.
    pub fit: WireFit,
}

/// Limits the user sets on how the wheels move; `spread`, `drop` and `toe` under limit load.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct FigureLimits {
    /// How far apart the wheels may spread: growth of the track; for a single arm, the wheel's sideways travel.
    pub spread: Option<Length>,
    /// How far a wheel may come up.
    pub drop: Option<Length>,
    /// How far a wheel may turn in toe.
    pub toe: Option<Angle>,
    /// How far a wheel may come up, tyre included, before propeller or belly touches the ground.
    pub clearance: Option<Length>,
}

impl Gear {
    /// How far ahead of the centre of gravity its axle stands, if its distance is given: a nose gear and the main gear of a tailwheel
    /// aircraft stand ahead of it, the others behind it (negative).
    #[must_use]
    pub fn ahead_of_cg(&self, layout: Layout) -> Option<Length> {
        let ahead = match self.position {
            Position::Nose => true,
            Position::Main => layout == Layout::Tailwheel,
            Position::Tail => false,
        };
        self.cg_distance.map(|distance| if ahead { distance } else { -distance })
    }

    /// The part that is meant to give first in a landing case of the tool's own, or in one of the user's (`None`).
    #[must_use]
    pub fn meant_to_give(&self, case: Option<CaseId>) -> Option<PartKind> {
        let asked = self.give_first_in.as_ref().is_none_or(|cases| case.is_some_and(|c| cases.contains(&c)));
        self.give_first.filter(|_| asked)
    }
}
