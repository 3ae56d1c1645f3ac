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

use crate::model::{Arms, CaseId, CaseWheelLoad, Gear, LoadPoint, Position, Project, Side};
use crate::results::{Amount, CaseName, LandingFactors, Term, Working};
use crate::units::{Angle, Force, Mass, gravity};

/// Share of the weight taken on a nose wheel when the file gives none.
/// Common practice, no source: 8–15 % is usual; the upper end loads the nose gear more.
pub const NOSE_SHARE: f64 = 0.15;

/// Share of the weight taken on a tail wheel when the file gives none.
/// Common practice, no source: 5–10 %; the upper end loads the tail gear more.
pub const TAIL_SHARE: f64 = 0.10;

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

impl CaseLoads {
    /// Whether anything acts on a wheel.
    #[must_use]
    pub fn is_loaded(&self) -> bool {
        !self.loads.iter().all(CaseWheelLoad::is_zero)
    }
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

impl<'p> Ground<'p> {
    fn new(project: &'p Project, factors: LandingFactors) -> Self {
        Self { project, factors, weight: project.aircraft.mass * gravity() }
    }

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

/// The weight that a gear carries in a level drop, on each of its wheels.
#[derive(Debug, Clone, PartialEq)]
pub struct GearWeight {
    /// One vertical load for each wheel.
    pub loads: Vec<CaseWheelLoad>,
}

impl GearWeight {
    /// All wheels together.
    #[must_use]
    pub fn total(&self) -> Force {
        self.loads.iter().map(|l| l.up).fold(Force::default(), |a, b| a + b)
    }

    /// The same for another mass in all; `None` leaves it.
    #[must_use]
    pub fn of_mass(self, mass: Option<Mass>) -> Self {
        let share = mass.map_or(1.0, |mass| f64::from(mass * gravity() / self.total()));
        Self { loads: self.loads.iter().map(|l| l.times(share)).collect() }
    }
}

/// The weight on a gear in a level drop: the whole weight on the main wheels, and on a nose or tail wheel what rests on it.
#[must_use]
pub fn drop_weight(project: &Project, gear: &Gear) -> GearWeight {
    let ground = Ground::new(project, LandingFactors { inertia: 1.0, ground_reaction: 1.0, wing_lift: 0.0 });
    let share = match gear.position {
        Position::Main => 1.0 / ground.wheels_at(Position::Main),
        Position::Nose | Position::Tail => ground.static_share(gear),
    };
    let none = Force::default();
    let wheels = gear.wheels().into_iter();
    GearWeight {
        loads: wheels.map(|w| load(w.side, none, none, share * ground.weight, LoadPoint::Ground)).collect(),
    }
}

/// The limit loads of every gear in every case that is asked for and applies, then the user's own cases.
#[must_use]
pub fn case_loads(project: &Project, factors: LandingFactors) -> Vec<CaseLoads> {
    let ground = Ground::new(project, factors);
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
    all
}
