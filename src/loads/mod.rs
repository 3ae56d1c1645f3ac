//! Landing cases to forces at the wheels: one family of cases to a file, each with its rule's source.
//!
//! Weight W = m g₀. n is the limit inertia load factor, L the wing lift over weight; the ground then gives
//! (n − L) W. Aft, starboard and up are positive.

mod braked_roll;
mod level;
mod nose;
mod obstacle;
mod one_wheel;
mod rest;
mod side;
mod tail_down;

use crate::model::{Arms, CaseId, CaseWheelLoad, Gear, LoadPoint, Position, Project, Severity, Side};
use crate::results::{Amount, CaseName, LandingFactors, Term, Working};
use crate::units::{Angle, Force, STANDARD_GRAVITY};
use thiserror::Error;
use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::Acceleration;

/// Share of the weight taken on a nose wheel when the file gives none.
/// Common practice, no source: 8–15 % is usual; the upper end loads the nose gear more.
pub const NOSE_SHARE: f64 = 0.15;

/// Share of the weight taken on a tail wheel when the file gives none.
/// Common practice, no source: 5–10 %; the upper end loads the tail gear more.
pub const TAIL_SHARE: f64 = 0.10;

/// A landing whose load factor has to come from the energy the legs take up, which is not computed.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error(
    "the landing is given as `{key}`, and turning that into a load factor takes the energy the gear absorbs, \
     which this version does not compute; give `load_factor` instead"
)]
pub struct NeedsEnergy {
    /// The key that was used.
    pub key: &'static str,
}

/// One gear's loads in one case.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseLoads {
    /// Index of the gear in the project.
    pub gear: usize,
    /// The case.
    pub case: CaseName,
    /// Limit loads on its wheels.
    pub loads: Vec<CaseWheelLoad>,
    /// How they follow from the rule.
    pub rule: Working,
    /// Where the rule is published, or that it is not.
    pub source: &'static str,
}

/// Loads on the wheels and how they follow; `None` when the case does not apply to the gear.
type Ruled = Option<(Vec<CaseWheelLoad>, Working)>;

/// One landing case: when it applies and what it puts on the wheels.
struct Rule {
    case: CaseId,
    source: &'static str,
    loads: fn(&Ground<'_>, &Gear) -> Ruled,
}

/// Every case, in the order of reports.
const RULES: [&Rule; 11] = [
    &level::LEVEL,
    &tail_down::TAIL_DOWN,
    &one_wheel::ONE_WHEEL,
    &one_wheel::ONE_WHEEL_WHOLE,
    &side::SIDE,
    &braked_roll::BRAKED_ROLL,
    &nose::AFT,
    &nose::FORWARD,
    &nose::SIDE,
    &obstacle::OBSTACLE,
    &rest::REST,
];

/// What every case needs to know.
struct Ground<'p> {
    project: &'p Project,
    factors: LandingFactors,
    weight: Force,
}

impl Ground<'_> {
    /// Wheels of all gears at a position.
    fn wheels_at(&self, position: Position) -> f64 {
        let count: usize =
            self.project.gears.iter().filter(|g| g.position == position).map(|g| g.wheels().len()).sum();
        count.max(1) as f64
    }

    /// Share of the weight on the nose or tail wheels at rest, given or taken.
    fn third_share(&self, position: Position) -> f64 {
        let usual = if position == Position::Tail { TAIL_SHARE } else { NOSE_SHARE };
        self.project.aircraft.nose_share.unwrap_or(usual)
    }

    /// Share of the weight on one wheel of a gear at rest.
    ///
    /// With no share given for the third wheel, the main wheels are taken to carry everything.
    fn static_share(&self, gear: &Gear) -> f64 {
        let all = match gear.position {
            Position::Main => 1.0 - self.project.aircraft.nose_share.unwrap_or(0.0),
            Position::Nose | Position::Tail => self.third_share(gear.position),
        };
        all / self.wheels_at(gear.position)
    }

    /// Static load of one wheel of a gear.
    fn static_load(&self, gear: &Gear) -> Force {
        self.static_share(gear) * self.weight
    }

    fn weight_term(&self) -> Term {
        Term::new("W", "weight, mass × 9.80665 m/s²", Amount::Force(self.weight))
    }

    fn inertia_term(&self) -> Term {
        Term::new("n", "limit inertia load factor", Amount::Number(self.factors.inertia))
    }

    fn lift_term(&self) -> Term {
        Term::new("L", "wing lift over weight", Amount::Number(self.factors.wing_lift))
    }

    fn share_term(&self, gear: &Gear) -> Term {
        let what = match (gear.position, self.project.aircraft.nose_share) {
            (Position::Main, None) => {
                "share of the weight on this wheel (third wheel's share not given: taken as 0)"
            }
            (Position::Nose | Position::Tail, None) => {
                "share of the weight on this wheel (not given: upper end of common practice)"
            }
            _ => "share of the weight on this wheel at rest",
        };
        Term::new("s", what, Amount::Number(self.static_share(gear)))
    }
}

/// A load on one wheel.
fn load(side: Side, aft: Force, starboard: Force, up: Force, at: LoadPoint) -> CaseWheelLoad {
    CaseWheelLoad { side, aft, starboard, up, at }
}

/// Whether a side load on the nose or tail wheel has to be taken both ways: on one arm that leans or is held by wires.
fn sides_differ(case: CaseId, gear: &Gear) -> bool {
    let sideways = match gear.position {
        Position::Nose => case == CaseId::NoseSide,
        Position::Tail => case == CaseId::Side,
        Position::Main => false,
    };
    let lopsided = gear.plate.leg_angle != Angle::default() || !gear.braces.is_empty();
    sideways && gear.arms == Arms::Single && lopsided
}

/// The load factors of the landing.
///
/// # Errors
/// When the landing is not given as a load factor.
pub fn landing_factors(project: &Project) -> Result<LandingFactors, NeedsEnergy> {
    let wing_lift = project.landing.wing_lift;
    match &project.landing.severity {
        Severity::LoadFactor(inertia) => {
            Ok(LandingFactors { inertia: *inertia, ground_reaction: inertia - wing_lift, wing_lift })
        }
        Severity::SinkRate(_) => Err(NeedsEnergy { key: "sink_rate" }),
        Severity::DropHeight(_) => Err(NeedsEnergy { key: "drop_height" }),
        Severity::Arrival(_) => Err(NeedsEnergy { key: "arrival" }),
    }
}

/// The limit loads of every gear in every case that is asked for and applies, then the user's own cases.
///
/// # Errors
/// When the landing is not given as a load factor.
pub fn case_loads(project: &Project) -> Result<Vec<CaseLoads>, NeedsEnergy> {
    let factors = landing_factors(project)?;
    let weight = project.aircraft.mass * Acceleration::new::<meter_per_second_squared>(STANDARD_GRAVITY);
    let ground = Ground { project, factors, weight };
    let mut all = Vec::new();
    for (index, gear) in project.gears.iter().enumerate() {
        for rule in RULES {
            // The gear stands before it lands: rest is no landing to leave out.
            let asked = rule.case == CaseId::Rest
                || project.landing.cases.as_ref().is_none_or(|list| list.contains(&rule.case));
            if let Some((loads, working)) = asked.then(|| (rule.loads)(&ground, gear)).flatten() {
                if sides_differ(rule.case, gear) {
                    let mut to_port = working.clone();
                    to_port
                        .notes
                        .push("The same to port: this gear is not the same on both sides.".to_owned());
                    all.push(CaseLoads {
                        gear: index,
                        case: CaseName::Known(rule.case),
                        loads: loads
                            .iter()
                            .map(|l| CaseWheelLoad { starboard: -l.starboard, ..*l })
                            .collect(),
                        rule: to_port,
                        source: rule.source,
                    });
                }
                all.push(CaseLoads {
                    gear: index,
                    case: CaseName::Known(rule.case),
                    loads,
                    rule: working,
                    source: rule.source,
                });
            }
        }
        for own in project.cases.iter().filter(|c| c.gear == index) {
            all.push(CaseLoads {
                gear: index,
                case: CaseName::Own(own.name.clone()),
                loads: own.loads.clone(),
                rule: Working { formula: "loads as given in the project file".into(), ..Working::default() },
                source: "this project file",
            });
        }
    }
    Ok(all)
}
