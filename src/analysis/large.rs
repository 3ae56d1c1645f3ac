//! A gear followed through large movements and yielding: its state under a load, its limit load, its load–deflection curve.

use super::AnalysisError;
use super::lift;
use super::lower::{self, ELEMENTS_PER_LEG, Lowered, LoweredLeg, PlateElasticity, PlateYield};
use crate::kernel::{Configuration, Event, Load, Path, Statics, Watch, What};
use crate::model::{Brace, CaseWheelLoad, Gear, Side};
use crate::results::{
    Branch, CaseName, CollapseCause, CurvePoint, GearCurve, GearState, LimitLoad, Mark, MarkKind, Unloading,
    WheelTravel,
};
use crate::units::{Energy, Length, Stress};

/// Steps in which a path is followed, its events being wanted.
const FINE: f64 = 16.0;

/// Share of a section at its limit that makes it a hinge: a rectangle is then bent to five times its yield curvature and carries
/// all but 1.3 % of its plastic moment.
const HINGE: f64 = 0.8;

/// Share of a section at its limit from which a collapse is laid to yielding and not to buckling alone.
const FLOWS: f64 = 0.05;

/// A gear made ready for large movements.
#[derive(Debug)]
pub struct GearStatics<'g> {
    gear: &'g Gear,
    lowered: Lowered,
    statics: Statics,
    yield_strength: Option<Stress>,
    /// Energy that pretension leaves in the unloaded gear.
    at_rest: Energy,
    /// Whether its metal yields so gently that fibres flow long before the proof stress.
    smooth: bool,
}

/// What to show of a curve.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CurveRequest {
    /// Multiples at which points are wanted, ascending; `None` leaves them to the tool.
    pub multiples: Option<Vec<f64>>,
    /// Multiples from which the gear is unloaded to see what stays.
    pub unload_from: Vec<f64>,
    /// The multiple up to which it is followed at least.
    pub up_to: f64,
}

impl<'g> GearStatics<'g> {
    /// Prepares a gear. Without `yielding` its plate stays elastic whatever the stress; wires yield and break as their rows say.
    ///
    /// # Errors
    /// When the geometry makes no frame.
    pub fn new(
        gear: &'g Gear,
        elasticity: PlateElasticity,
        yielding: Option<PlateYield>,
    ) -> Result<Self, AnalysisError> {
        Self::with_elements(gear, elasticity, yielding, ELEMENTS_PER_LEG)
    }

    /// The same with a chosen number of elements along each leg.
    ///
    /// # Errors
    /// When the geometry makes no frame.
    pub fn with_elements(
        gear: &'g Gear,
        elasticity: PlateElasticity,
        yielding: Option<PlateYield>,
        elements: usize,
    ) -> Result<Self, AnalysisError> {
        Self::of(gear, elasticity, yielding, elements, None)
    }

    /// The port leg of a gear whose legs are [alone](lower::legs_alone), with what it carries; `None` where they are not.
    ///
    /// # Errors
    /// When the geometry makes no frame.
    pub(super) fn port_leg(
        gear: &'g Gear,
        elasticity: PlateElasticity,
        yielding: Option<PlateYield>,
        elements: usize,
    ) -> Result<Option<Self>, AnalysisError> {
        let port = || Self::of(gear, elasticity, yielding, elements, Some(Side::Left));
        lower::legs_alone(gear).then(port).transpose()
    }

    fn of(
        gear: &'g Gear,
        elasticity: PlateElasticity,
        yielding: Option<PlateYield>,
        elements: usize,
        only: Option<Side>,
    ) -> Result<Self, AnalysisError> {
        let mut lowered = lower::lower(gear, elasticity, yielding, elements, only);
        let statics = Statics::new(std::mem::take(&mut lowered.frame))
            .map_err(|error| AnalysisError { gear: gear.name.clone(), error })?;
        let at_rest = total_energy(&statics, &statics.at_rest());
        Ok(Self {
            at_rest,
            gear,
            lowered,
            statics,
            yield_strength: yielding.map(|y| y.strength),
            smooth: yielding.is_some_and(|y| y.exponent.is_some()),
        })
    }

    /// The gear.
    #[must_use]
    pub const fn gear(&self) -> &'g Gear {
        self.gear
    }

    pub(super) const fn statics(&self) -> &Statics {
        &self.statics
    }

    pub(super) fn load(&self, loads: &[CaseWheelLoad]) -> Load {
        Load { arms: lower::arm_loads(&self.lowered, loads), nodal: Vec::new() }
    }

    /// The gear under loads on its wheels, multiplied; `None` when it does not hold them.
    #[must_use]
    pub fn state(&self, loads: &[CaseWheelLoad], multiple: f64) -> Option<GearState> {
        let load = self.load(loads);
        let mut c = self.statics.at_rest();
        self.statics.hold(&mut c, &load, multiple).ok()?;
        Some(self.state_of(&c, &load, loads))
    }

    /// The gear under loads on its wheels, once and multiplied; `None` when it does not hold the more.
    pub(super) fn two_states(
        &self,
        loads: &[CaseWheelLoad],
        multiple: f64,
    ) -> Option<(GearState, GearState)> {
        let load = self.load(loads);
        let path = self.coarse_path(&load, (multiple, 1.0), &[1.0, multiple], false, &|_| false);
        let held = path.steps.get(..path.holding())?;
        let at = |m: f64| held.iter().find(|c| c.multiple() == m);
        if let Some((once, more)) = at(1.0).zip(at(multiple)) {
            return Some((self.state_of(once, &load, loads), self.state_of(more, &load, loads)));
        }
        if path.went_over() {
            return None;
        }
        // Where no top was seen they are held for as hard as can be: a bed that is pressed makes paths stop early.
        let mut c = self.statics.at_rest();
        self.statics.hold(&mut c, &load, 1.0).ok()?;
        let once = self.state_of(&c, &load, loads);
        self.statics.hold(&mut c, &load, multiple).ok()?;
        Some((once, self.state_of(&c, &load, loads)))
    }

    /// The gear under loads on its wheels, once, as [`Self::two_states`] finds it.
    pub(super) fn one_state(&self, loads: &[CaseWheelLoad]) -> Option<GearState> {
        let load = self.load(loads);
        let path = self.coarse_path(&load, (1.0, 1.0), &[1.0], false, &|_| false);
        let held = path.steps.get(..path.holding())?;
        let found = held.iter().find(|c| c.multiple() == 1.0).map(|c| self.state_of(c, &load, loads));
        if found.is_none() && !path.went_over() { self.state(loads, 1.0) } else { found }
    }

    /// The gear in a configuration under a load, `loads` being that load once.
    pub(super) fn state_of(&self, c: &Configuration, load: &Load, loads: &[CaseWheelLoad]) -> GearState {
        let scaled: Vec<CaseWheelLoad> = loads.iter().map(|l| l.times(c.multiple())).collect();
        let solution = self.statics.solution(c, load);
        lift::lift(self.gear, &self.lowered, self.statics.frame(), &solution, &scaled)
    }

    /// The brace of a wire by the name it has in marks.
    pub(super) fn brace_of(&self, part: &str) -> Option<&'g Brace> {
        let wire = self.lowered.wires.iter().find(|w| part == format!("{} wire", w.name))?;
        self.gear.braces.get(wire.brace)
    }

    /// Follows the loads of a case up and back.
    pub fn curve(&self, case: &CaseName, loads: &[CaseWheelLoad], request: &CurveRequest) -> GearCurve {
        let load = self.load(loads);
        let asked = request.multiples.iter().flatten().chain(&request.unload_from);
        let up_to = asked.clone().copied().fold(request.up_to, f64::max);
        let mut stops: Vec<f64> = asked.copied().collect();
        stops.sort_by(f64::total_cmp);
        let path = self.fine_path(&load, up_to, &stops, &|_| false);
        let mut points = Vec::new();
        let mut highest: Option<Configuration> = None;
        match &request.multiples {
            Some(multiples) => {
                for &m in multiples {
                    if let Some(c) = self.reached(&path, &load, m) {
                        points.push(self.point(&path, &c, &load, Branch::Loading));
                        if highest.as_ref().is_none_or(|h| h.multiple() < m) {
                            highest = Some(c);
                        }
                    }
                }
            }
            None => {
                for c in path.steps.get(..path.holding()).into_iter().flatten() {
                    points.push(self.point(&path, c, &load, Branch::Loading));
                }
                highest = path.steps.get(..path.holding()).and_then(<[_]>::last).cloned();
            }
        }
        let (mut absorbed, mut returned) = (Energy::default(), Energy::default());
        if let Some(top) = highest {
            absorbed = self.work(&top);
            let was_yielded = points.iter().any(|p| p.yielded);
            let mut down: Vec<f64> =
                points.iter().map(|p| p.multiple).filter(|m| *m < top.multiple() && *m > 0.0).collect();
            down.sort_by(|a, b| b.total_cmp(a));
            down.push(0.0);
            let mut c = top;
            for m in down {
                if self.statics.hold(&mut c, &load, m).is_err() {
                    break;
                }
                // What did not yield on the way up does not on the way back.
                let point = self.point(&path, &c, &load, Branch::Unloading);
                points.push(CurvePoint { yielded: point.yielded && was_yielded, ..point });
            }
            returned = absorbed - self.work(&c);
        }
        let unloadings = request
            .unload_from
            .iter()
            .filter_map(|&m| {
                let mut c = self.reached(&path, &load, m)?;
                self.statics.hold(&mut c, &load, 0.0).ok()?;
                Some(self.left(&c, &load, m))
            })
            .collect();
        GearCurve {
            gear: self.gear.name.clone(),
            case: case.clone(),
            points,
            marks: self.marks(&path),
            limit: self.limit_of(&path, up_to),
            absorbed,
            returned,
            unloadings,
        }
    }

    /// The path of a load with all that happens on it.
    pub(super) fn fine_path(
        &self,
        load: &Load,
        up_to: f64,
        stops: &[f64],
        enough: &dyn Fn(&Configuration) -> bool,
    ) -> Path {
        let rest = self.statics.at_rest();
        if !lower::is_loaded(load) {
            return Path::at(rest);
        }
        self.statics.path(
            &rest,
            load,
            &Watch {
                up_to,
                steps: FINE,
                stops,
                farthest: self.farthest(),
                enough: &|c| enough(c) || !c.is_stable(),
                brief: false,
                links: true,
                breaks: true,
                signs: &|c| self.signs(c, load),
            },
        )
    }

    /// The path of a load in as long steps as it takes, `first` being about the multiple of the first of them. Wires break on it or
    /// not.
    pub(super) fn coarse_path(
        &self,
        load: &Load,
        (up_to, first): (f64, f64),
        stops: &[f64],
        wires_break: bool,
        enough: &dyn Fn(&Configuration) -> bool,
    ) -> Path {
        let rest = self.statics.at_rest();
        self.statics.path(
            &rest,
            load,
            &Watch {
                up_to,
                steps: up_to / first,
                stops,
                farthest: self.farthest(),
                enough: &|c| enough(c) || !c.is_stable(),
                brief: true,
                links: false,
                breaks: wires_break,
                signs: &|_| Vec::new(),
            },
        )
    }

    /// How far the wheels may go before nothing more is worth knowing, m: the length of the leg.
    fn farthest(&self) -> f64 {
        lower::metres(self.gear.plate.leg_length)
    }

    /// What is watched: yielding and hinge of each leg and of the flat centre, each wheel's clearance.
    fn signs(&self, c: &Configuration, load: &Load) -> Vec<f64> {
        let solution = self.statics.solution(c, load);
        let mut signs = Vec::new();
        for leg in self.lowered.plates() {
            signs.push(self.yield_strength.map_or(-1.0, |strength| {
                if !self.smooth && leg.beams.clone().any(|b| self.statics.yielded_stress(c, b).is_some()) {
                    1.0
                } else {
                    f64::from(
                        lift::largest_stress(self.gear, leg, self.statics.frame(), &solution) / strength,
                    ) - 1.0
                }
            }));
        }
        for leg in self.lowered.plates() {
            let shares = leg.beams.clone().map(|b| self.statics.flowing_share(c, b));
            signs.push(shares.fold(0.0, f64::max) - HINGE);
        }
        for travel in lift::travels(&self.lowered, &solution) {
            let [_, _, up] = travel.displacement;
            let tyre = lift::tyre_travel(self.gear, &self.lowered, load, c.multiple(), travel.side);
            signs.push(self.gear.limits.clearance.map_or(-1.0, |room| f64::from((up + tyre) / room) - 1.0));
        }
        signs
    }

    /// How far beyond yield a plate is, above zero once it has come to its yield strength.
    pub(super) fn beyond_yield(&self, c: &Configuration, load: &Load) -> f64 {
        let signs = self.signs(c, load);
        signs.into_iter().take(self.lowered.plates().count()).fold(-1.0, f64::max)
    }

    /// The marks of a path's events.
    pub(super) fn marks(&self, path: &Path) -> Vec<Mark> {
        let legs = self.lowered.plates().count();
        let leg = |i: usize| self.lowered.plates().nth(i).map(LoweredLeg::name);
        let wire =
            |i: usize| self.lowered.wires.iter().find(|w| w.link == i).map(|w| format!("{} wire", w.name));
        let mut marks: Vec<Mark> = path
            .events
            .iter()
            .filter_map(|Event { what, at, .. }| {
                let (what, part) = match *what {
                    What::Taut(i) => (MarkKind::WireTaut, wire(i)?),
                    What::LinkYields(i) => (MarkKind::WireYields, wire(i)?),
                    What::Breaks(i) => (MarkKind::WireBreaks, wire(i)?),
                    What::Watched(i) if i < legs => (MarkKind::FirstYield, leg(i)?),
                    What::Watched(i) if i < 2 * legs => (MarkKind::PlasticHinge, leg(i - legs)?),
                    What::Watched(i) => {
                        let side = self.lowered.wheels.get(i - 2 * legs)?.side;
                        (MarkKind::Ground, format!("{side} wheel"))
                    }
                    What::Limit => (MarkKind::Collapse, self.weakest(at)),
                };
                Some(Mark { multiple: at.multiple(), what, part })
            })
            .collect();
        marks.dedup();
        marks
    }

    /// The leg that has yielded most, or the gear when none has.
    fn weakest(&self, c: &Configuration) -> String {
        let share = |beams: std::ops::Range<usize>| {
            beams.map(|b| self.statics.flowing_share(c, b)).fold(0.0, f64::max)
        };
        let legs = self.lowered.plates().map(|l| (share(l.beams.clone()), l));
        match legs.reduce(|a, b| if b.0 > a.0 * (1.0 + 1e-6) { b } else { a }) {
            Some((most, leg)) if most > 0.0 => leg.name(),
            _ => "gear".to_owned(),
        }
    }

    pub(super) fn limit_of(&self, path: &Path, up_to: f64) -> LimitLoad {
        let Some(limit) = path.event(What::Limit) else {
            let held = path.steps.iter().map(Configuration::multiple).fold(0.0, f64::max);
            return LimitLoad { multiple: held.min(up_to), cause: None };
        };
        if path.far {
            let held = path.steps.iter().map(Configuration::multiple).fold(0.0, f64::max);
            return LimitLoad { multiple: held, cause: Some(CollapseCause::Travel) };
        }
        // A wire that broke below the top has left less to hold.
        let top = path.steps.get(..limit.after).into_iter().flatten().map(Configuration::multiple);
        let earlier = path.events.iter().take_while(|e| e.what != What::Limit);
        let just = |e: &Event| matches!(e.what, What::Breaks(_)) && e.after + 1 >= limit.after;
        let broken = limit.at.links_broken().contains(&true) || earlier.into_iter().any(just);
        let hinge =
            (0..self.statics.frame().beams.len()).any(|b| self.statics.flowing_share(&limit.at, b) > FLOWS);
        LimitLoad {
            multiple: top.fold(limit.at.multiple(), f64::max),
            cause: Some(match (broken, hinge) {
                (true, _) => CollapseCause::Wire,
                (_, true) => CollapseCause::PlasticHinge,
                _ => CollapseCause::Buckling,
            }),
        }
    }

    /// The configuration at a multiple on the way up; `None` when it is not reached.
    fn reached(&self, path: &Path, load: &Load, multiple: f64) -> Option<Configuration> {
        if multiple <= 0.0 {
            return (multiple == 0.0).then(|| path.steps.first().cloned()).flatten();
        }
        let held = path.steps.get(..path.holding())?;
        if let Some(stop) = held.iter().find(|c| c.multiple() == multiple) {
            return Some(stop.clone());
        }
        let mut c = path.before(multiple)?.clone();
        self.statics.hold(&mut c, load, multiple).ok()?;
        Some(c)
    }

    /// Work done on the gear from rest to a configuration.
    pub(super) fn work(&self, c: &Configuration) -> Energy {
        total_energy(&self.statics, c) - self.at_rest
    }

    fn point(&self, path: &Path, c: &Configuration, load: &Load, branch: Branch) -> CurvePoint {
        let solution = self.statics.solution(c, load);
        let frame = self.statics.frame();
        let legs = self.lowered.plates().count();
        let stress = |leg| {
            lift::fibre_stress(self.gear, leg, &self.statics, c, &solution)
                .unwrap_or_else(|| lift::largest_stress(self.gear, leg, frame, &solution))
        };
        let peak = self.lowered.plates().map(stress).fold(Stress::default(), Stress::max);
        let first = path
            .events
            .iter()
            .filter(|e| matches!(e.what, What::Watched(i) if i < legs))
            .map(|e| e.at.multiple())
            .fold(f64::INFINITY, f64::min);
        CurvePoint {
            multiple: c.multiple(),
            branch,
            wheels: lift::travels(&self.lowered, &solution),
            wires: lift::pulls(&self.lowered, &solution),
            peak_von_mises: peak,
            yielded: self.flows(c)
                || (branch == Branch::Loading && c.multiple() >= first)
                || (branch == Branch::Unloading && first.is_finite()),
        }
    }

    /// Whether a leg's metal flows or has flowed. One that yields gently does so long before its proof stress, where it counts as
    /// yielded: its mark tells.
    pub(super) fn flows(&self, c: &Configuration) -> bool {
        !self.smooth && c.has_yielded()
    }

    /// What is left of loading to a multiple, from the configuration after unloading.
    pub(super) fn left(&self, c: &Configuration, load: &Load, from_multiple: f64) -> Unloading {
        let solution = self.statics.solution(c, load);
        Unloading {
            from_multiple,
            wheels: lift::travels(&self.lowered, &solution),
            bent: lift::bent(&self.lowered, &self.statics, c),
        }
    }

    pub(super) fn travels(&self, c: &Configuration, load: &Load) -> Vec<WheelTravel> {
        lift::travels(&self.lowered, &self.statics.solution(c, load))
    }
}

fn total_energy(statics: &Statics, c: &Configuration) -> Energy {
    let energy = statics.energy(c);
    lift::joules(energy.stored + energy.spent)
}

/// How far a point has moved.
pub(super) fn distance(travel: [Length; 3]) -> Length {
    let [x, y, z] = travel;
    (x * x + y * y + z * z).sqrt()
}
