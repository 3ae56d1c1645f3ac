//! The mount: what holds the flat centre of a plate, or the foot of a nose leg.

use super::{Arms, Brace, Gear, Side};
use crate::material::{BoltClass, Thread, Wood};
use crate::units::{Angle, Area, Force, Length, Moment, Stress};

/// Nut factor K of T = K F d for a bolt as supplied. Source: Shigley table 8-15 (from memory; 0.20 read in a secondary library).
pub const NUT_FACTOR: f64 = 0.20;

/// How far the preload of a bolt tightened to a torque may lie from nominal, as a share of it. Source: torque-wrench scatter of
/// 25 to 35 %, the larger as used with NASA-STD-5020 (read in a public script; the rest from memory).
pub const TORQUE_SCATTER: f64 = 0.35;

/// How bolts and wood hold the flat centre of a plate.
#[derive(Debug, Clone, PartialEq)]
pub struct Mount {
    /// Thread of the bolts.
    pub bolt: Thread,
    /// Strength class of the bolts.
    pub bolt_class: BoltClass,
    /// Places of the bolts, (aft, starboard) of the base's centre.
    pub bolts: Vec<(Length, Length)>,
    /// Diameter of the holes in the plate; `None`: as wide as the bolt, without play.
    pub hole: Option<Length>,
    /// How the bolts were tightened and still are; `None`: no preload is counted on.
    pub preload: Option<Preload>,
    /// Diameter of the captive nut's flange.
    pub nut_flange: Option<Length>,
    /// Length of the thread in the nut; `None`: 0.8 of the bolt's diameter.
    pub nut_height: Option<Length>,
    /// Pull at which a nut went through the wood in a test of the builder's own.
    pub pull_through: Option<Force>,
    /// Length of a single arm's flat foot, from its bend to its end.
    pub foot: Option<Length>,
    /// The wood.
    pub wood: Wood,
    /// Thickness of the wood.
    pub wood_thickness: Length,
    /// Thickness of a second layer of the same wood, glued on over the whole free span.
    pub doubler: Option<Length>,
    /// How the wood spans between the formers that carry it; `None`: it is taken as backed all over.
    pub span: Option<WoodSpan>,
    /// The glue that holds it to its formers.
    pub glue: Option<Glue>,
}

/// How bolts were tightened.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Preload {
    /// To a pull in the bolt.
    Force(Force),
    /// To a torque.
    Torque(Moment),
}

/// A board between two formers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WoodSpan {
    /// Free span between the formers, the base's centre in the middle.
    pub length: Length,
    /// Which way it spans.
    pub direction: SpanDirection,
    /// How the formers hold its ends.
    pub edges: SpanEdges,
    /// How the grain of its face runs; `None`: nobody knows, the weaker way counts.
    pub grain: Option<Grain>,
    /// Width of the board square to the span; `None`: as far as the plate reaches.
    pub breadth: Option<Length>,
}

/// Which way a board spans.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpanDirection {
    /// From a former ahead to one behind.
    ForeAndAft,
    /// From side to side.
    Athwart,
}

/// How the ends of a board are held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpanEdges {
    /// They may turn.
    Supported,
    /// They may not.
    Clamped,
}

/// How the face grain of plywood runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grain {
    /// Along the span.
    Along,
    /// Across it.
    Across,
}

/// A glue line at each end of the board.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glue {
    /// Area at each former.
    pub area: Area,
    /// Strength in shear or pull, whichever is less.
    pub strength: Stress,
}

/// What a wire's anchor in the base is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AnchorIn {
    /// The plate.
    Plate,
    /// The wood.
    Wood,
}

/// A kind of part that may give first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PartKind {
    /// The plate: a leg or the flat centre.
    Legs,
    /// A wire or its end.
    Wires,
    /// An axle.
    Axles,
    /// A bolt.
    Bolts,
    /// A captive nut.
    Nuts,
    /// The wood or its glue.
    Wood,
}

impl PartKind {
    /// All of them, for parsing and for messages.
    pub const ALL: [Self; 6] = [Self::Legs, Self::Wires, Self::Axles, Self::Bolts, Self::Nuts, Self::Wood];

    /// The word used in files and JSON.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Legs => "legs",
            Self::Wires => "wires",
            Self::Axles => "axles",
            Self::Bolts => "bolts",
            Self::Nuts => "nuts",
            Self::Wood => "wood",
        }
    }
}

impl Mount {
    /// Diameter of the holes in the plate.
    #[must_use]
    pub fn hole_diameter(&self) -> Length {
        self.hole.unwrap_or(self.bolt.nominal)
    }

    /// Length of the thread in the nut. Common practice, no source: 0.8 of the bolt's diameter, that of a plain nut, where
    /// nothing is said.
    #[must_use]
    pub fn thread_in_nut(&self) -> Length {
        self.nut_height.unwrap_or(0.8 * self.bolt.nominal)
    }

    /// Thickness of the wood with its doubler.
    #[must_use]
    pub fn wood_depth(&self) -> Length {
        self.wood_thickness + self.doubler.unwrap_or_default()
    }

    /// Pull in each bolt with no load on the wheels, nominal: of a torque F = T / (K d), K = 0.20. None is counted on when nothing
    /// is said, nor in a bolt that creeps: it is gone in hours. Source: Shigley eq. 8-27 (from memory).
    #[must_use]
    pub fn nominal_preload(&self) -> Force {
        if self.bolt_class.creeps() {
            return Force::default();
        }
        match self.preload {
            None => Force::default(),
            Some(Preload::Force(force)) => force,
            Some(Preload::Torque(torque)) => torque / (NUT_FACTOR * self.bolt.nominal),
        }
    }

    /// The least preload there may be where this one is nominal: 35 % less of a bolt tightened to a torque, all of a pull that was
    /// measured, none in a bolt that creeps. See [`TORQUE_SCATTER`].
    #[must_use]
    pub fn least_preload(&self, nominal: Force) -> Force {
        if self.bolt_class.creeps() {
            return Force::default();
        }
        match self.preload {
            None => Force::default(),
            Some(Preload::Force(_)) => nominal,
            Some(Preload::Torque(_)) => (1.0 - TORQUE_SCATTER) * nominal,
        }
    }

    /// Name of a bolt by its index, port and front first in the file's own order: `1`, `2` and so on.
    #[must_use]
    pub fn bolt_name(index: usize) -> String {
        (index + 1).to_string()
    }
}

/// The flat of a plate that lies on the wood: a rectangle in the plane of the bends' centre points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BasePlate {
    /// Length fore and aft, its middle at the base's centre.
    pub width: Length,
    /// Thickness of the plate.
    pub thickness: Length,
    /// Where the plate reaches to port and to starboard, bends' centre points or the foot's end.
    pub reach: [Length; 2],
    /// The part of it that is flat.
    pub flat: [Length; 2],
}

impl Gear {
    /// The flat of the plate that the mount holds; `None` without a mount.
    ///
    /// A bend begins (R + t/2) tan(β/2) before its centre point, β the angle the plate is bent by and R the inside radius; nothing
    /// before it when no radius is given. β is 90° less the angle by which the leg leans away from its flat; a single arm's foot to
    /// starboard lies on the side that a positive angle leans to, which adds to the 90°.
    #[must_use]
    pub fn base_plate(&self) -> Option<BasePlate> {
        let mount = self.mount.as_ref()?;
        let thickness = self.plate.thickness.root;
        let folds_back = self.arms == Arms::Single && self.foot_side() == Side::Right;
        let lean = if folds_back { -self.plate.leg_angle } else { self.plate.leg_angle };
        let bent = Angle::HALF_TURN / 2.0 - lean;
        let setback = self.plate.bend_radius.map_or_else(Length::default, |radius| {
            (radius + 0.5 * thickness) * f64::from((0.5 * bent).tan())
        });
        let half = 0.5 * self.base_width();
        let (reach, flat) = match self.arms {
            Arms::Pair { .. } | Arms::Twin { .. } => ([-half, half], [setback - half, half - setback]),
            Arms::Single => {
                let foot = mount.foot.unwrap_or_default();
                if self.foot_side() == Side::Right {
                    ([Length::default(), foot], [setback, foot])
                } else {
                    ([-foot, Length::default()], [-foot, -setback])
                }
            }
        };
        Some(BasePlate { width: self.plate.width.root, thickness, reach, flat })
    }

    /// To which side a single arm's foot is bent: to where its bolts are; to port when they tell nothing.
    #[must_use]
    pub fn foot_side(&self) -> Side {
        let starboard = self.mount.iter().flat_map(|m| &m.bolts).any(|(_, y)| *y > Length::default());
        if starboard { Side::Right } else { Side::Left }
    }

    /// What the anchors of a brace are in; `None` without a mount and for a tie.
    #[must_use]
    pub fn anchor_in(&self, brace: &Brace) -> Option<AnchorIn> {
        let [port, starboard] = self.base_plate()?.flat;
        brace.base_at?;
        let on_flat = self.anchors(brace).iter().all(|&y| port <= y && y <= starboard);
        Some(brace.base_in.unwrap_or(if on_flat { AnchorIn::Plate } else { AnchorIn::Wood }))
    }
}
