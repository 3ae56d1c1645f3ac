//! What `gearleg compare` answers: designs side by side, each with its whole check and the figures that tell them apart.

use super::{CaseName, CheckResult, Drop, FailureOrder, FallLimit, Margin, Verdict};
use crate::model::{Gear, GearMass, Project};
use crate::units::{Force, Length, Mass, Moment, Stiffness, Stress};

/// Designs side by side.
#[derive(Debug, Clone, PartialEq)]
#[must_use]
pub struct Comparison {
    /// The designs in the order asked for; all figures of change are against the first. Never fewer than two.
    pub designs: Vec<ComparedDesign>,
    /// The one arrival that every design is dropped with.
    pub arrival: SameArrival,
    /// Names of the gears that are not the same in every design, in the order of the first design.
    pub changed: Vec<String>,
}

/// A level drop that every design makes, so that what comes out can be compared.
#[derive(Debug, Clone, PartialEq)]
pub struct SameArrival {
    /// Its height.
    pub height: Length,
    /// Wing lift meanwhile, over weight.
    pub wing_lift: f64,
    /// Where it comes from.
    pub from: ArrivalFrom,
}

/// Where the arrival that is compared comes from.
#[derive(Debug, Clone, PartialEq)]
pub enum ArrivalFrom {
    /// The first design's landing is given as a drop.
    Given,
    /// It is the drop that makes the load factor which the first design's landing is stated with.
    Stated(f64),
    /// The first design makes that load factor of no drop: an arrival of the table by its name.
    Ordinary(String),
}

/// One design.
#[derive(Debug, Clone, PartialEq)]
pub struct ComparedDesign {
    /// What it is called: the variant, the aircraft or the file.
    pub name: String,
    /// The project.
    pub project: Project,
    /// Its whole check.
    pub check: CheckResult,
    /// Inertia load factor of the same arrival: of the gears that carry it, the largest. `None` when one gives way.
    pub inertia_load_factor: Option<f64>,
    /// Its gears, in the order of its file.
    pub gears: Vec<GearFigures>,
}

/// What tells one gear from another.
#[derive(Debug, Clone, PartialEq)]
pub struct GearFigures {
    /// The gear's name.
    pub gear: String,
    /// What its metal weighs.
    pub mass: GearMass,
    /// How stiff it is.
    pub stiffness: GearStiffness,
    /// What the same arrival does to it.
    pub drop: Drop,
    /// The highest drop after which nothing stays bent; `None` when no yield strength is known or it is beyond what was tried.
    pub highest_without_set: Option<Length>,
    /// The drop that it just survives.
    pub survives: FallLimit,
    /// The largest equivalent stress in its plate at limit load.
    pub peak: Option<PeakOf>,
    /// What of the yield strength that is; `None` when the metal is unknown.
    pub yield_strength: Option<Stress>,
    /// The hardest pull in a wire at limit load, with the wire's name; `None` without wires.
    pub wire: Option<(String, AtCase<Force>)>,
    /// What it puts on its mount at limit load.
    pub mount: MountLoad,
    /// Its weakest margin; `None` when it has none.
    pub weakest: Option<Margin>,
    /// The landing in which something gives soonest, with the order there; `None` when no landing loads it.
    pub order: Option<FailureOrder>,
    /// What it changes against the gear of the same name in the first design; `None` in the first and where that has no such gear.
    pub change: Option<GearChange>,
}

/// A figure and the landing in which it is reached.
#[derive(Debug, Clone, PartialEq)]
pub struct AtCase<T> {
    /// The figure.
    pub most: T,
    /// The landing.
    pub case: CaseName,
}

/// The largest stress of a gear's plate and its place.
#[derive(Debug, Clone, PartialEq)]
pub struct PeakOf {
    /// The landing.
    pub case: CaseName,
    /// The part: `left leg`, or `flat centre`.
    pub part: String,
    /// The stress.
    pub peak: super::PeakStress,
}

/// Secant stiffness under a stated load: force on one wheel over what it moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GearStiffness {
    /// The force on each wheel: the weight that rests on it.
    pub load: Force,
    /// Outward on both wheels: force on one over the growth of the track; `None` where there is one wheel.
    pub spread: Option<Stiffness>,
    /// Aft.
    pub aft: Stiffness,
    /// To starboard.
    pub side: Stiffness,
    /// Up.
    pub up: Stiffness,
}

/// The largest loads of a gear on what holds it, each in the landing where it is largest.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MountLoad {
    /// The largest force of a leg on its clamp.
    pub root_force: Option<AtCase<Force>>,
    /// The largest moment of a leg on its clamp.
    pub root_moment: Option<AtCase<Moment>>,
    /// The largest tension in a bolt, with its name; `None` where no mount is described.
    pub bolt: Option<(String, AtCase<Force>)>,
    /// The largest bending moment in the wood; `None` where no span of it is described.
    pub wood: Option<AtCase<Moment>>,
}

/// What a gear changes against that of the first design.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GearChange {
    /// How much heavier it is.
    pub mass: Mass,
    /// How far ahead of the centre of gravity its axle stands; `None` when the file does not say.
    pub ahead_of_cg: Option<Length>,
    /// How far forward the change moves the centre of gravity: Δm × arm / mass of the aircraft.
    pub cg_forward: Option<Length>,
}

impl Comparison {
    /// Whether every margin of every design holds.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.designs.iter().all(ComparedDesign::holds)
    }

    /// The gear that the comparison is about in a design: the first that is not the same in all, or else the first; where the design
    /// has none of that name, its first.
    #[must_use]
    pub fn chosen<'d>(&self, design: &'d ComparedDesign) -> Option<(&'d Gear, &'d GearFigures)> {
        let first = self.designs.first().and_then(|d| d.project.gears.first());
        let name = self.changed.first().or(first.map(|g| &g.name));
        let index = design.project.gears.iter().position(|g| Some(&g.name) == name).unwrap_or(0);
        design.project.gears.get(index).zip(design.gears.get(index))
    }
}

impl ComparedDesign {
    /// Whether every margin holds.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.check.margins.iter().all(|m| m.verdict == Verdict::Holds)
    }
}
