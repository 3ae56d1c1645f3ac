//! The margins of a check and nothing else, for who asks for those of thousands of gears.
//!
//! Each is the one that [`super::check`] has, with these exceptions: the wish for what gives first is left out; where a gear holds
//! [`FOLLOWED`] times what its limit load or its reserve of energy has to be, the margin says "at least"; and it is followed in
//! longer steps, on fewer elements where that is asked for. Derived: docs/method.md, "Sizes".

use super::assess::{CheckError, worst_first};
use super::drops::{GearDrops, speed_after};
use super::failure_order::Followed;
use super::gear_check::GearCheck;
use super::holding::Holding;
use super::landing::{WHOLE_LIFT, carriers, fall};
use super::{AnalysisError, ELEMENTS_PER_LEG, PlateElasticity, PlateYield};
use crate::checks;
use crate::loads::{self, CaseLoads};
use crate::model::{Gear, PartKind, Project, Severity};
use crate::results::{CaseResult, Drop, GearState, LandingDrop, LandingFactors, Margin};
use crate::units::{Length, Stress};
use std::cmp::Ordering;

/// How much more than it has to hold a gear is followed to. chosen: a margin beyond one half never is the least of a gear that
/// somebody wonders about.
const FOLLOWED: f64 = 1.5;

/// The largest margin of a check that [`margins`] tells exactly; a larger one is told as some margin above it. `None` where all are.
#[must_use]
pub fn told_up_to(check: &str) -> Option<f64> {
    matches!(check, "limit-load" | "landing-energy").then_some(FOLLOWED - 1.0)
}

/// Every margin of a project.
#[derive(Debug, Clone)]
pub struct Margins {
    /// The load factors.
    pub factors: LandingFactors,
    /// Worst first; those that can't be told before those that hold.
    pub margins: Vec<Margin>,
}

/// Finds every margin of a project.
///
/// # Errors
/// As [`super::check`].
pub fn margins(project: &Project) -> Result<Margins, CheckError> {
    margins_with_elements(project, ELEMENTS_PER_LEG)
}

/// The same with a chosen number of elements along each leg.
///
/// # Errors
/// As [`super::check`].
pub fn margins_with_elements(project: &Project, elements: usize) -> Result<Margins, CheckError> {
    let found = landing(project, FOLLOWED, elements)?;
    let all = loads::case_loads(project, found.0);
    if all.is_empty() {
        return Err(CheckError::NoCase);
    }
    let factors = found.0;
    let mut margins = Vec::new();
    for (index, gear) in project.gears.iter().enumerate() {
        let screen = Screen::with_landing((project, gear, index), &all, &found, (FOLLOWED, elements))?;
        margins.extend(screen.rest()?);
    }
    margins.sort_by(worst_first);
    Ok(Margins { factors, margins })
}

/// The load factors, and the drops behind them where they are not stated.
fn landing(
    project: &Project,
    followed: f64,
    elements: usize,
) -> Result<(LandingFactors, Vec<LandingDrop>), AnalysisError> {
    let lift = project.landing.wing_lift;
    let severity = &project.landing.severity;
    let Some(height) = fall(severity) else {
        let Severity::LoadFactor(inertia) = severity else {
            return Ok((LandingFactors::new(lift, lift), Vec::new()));
        };
        return Ok((LandingFactors::new(*inertia, lift), Vec::new()));
    };
    let mut drops = Vec::new();
    let mut factor: f64 = 0.0;
    for gear in carriers(project) {
        let (drop, reaction) = dropped(project, gear, (height, followed), elements)?;
        factor = factor.max(reaction);
        drops.push(drop);
    }
    Ok((LandingFactors::new(factor + lift, lift), drops))
}

fn dropped(
    project: &Project,
    gear: &Gear,
    (height, followed): (Length, f64),
    elements: usize,
) -> Result<(LandingDrop, f64), AnalysisError> {
    let lift = project.landing.wing_lift;
    let reserve = followed * checks::ENERGY_RESERVE * height;
    let (elastic, yielding) = (PlateElasticity::of(&gear.plate.metal), PlateYield::of(&gear.plate));
    let weight = loads::drop_weight(project, gear);
    let followed = GearDrops::coarse(gear, elastic, yielding, weight, (lift, height, reserve), elements)?;
    let reaction = followed.reaction(height).unwrap_or_else(|| followed.limit().multiple);
    let drop = Drop {
        gear: gear.name.clone(),
        height,
        sink_rate: speed_after(height),
        wing_lift: lift,
        outcome: None,
        beyond: false,
    };
    let landing = LandingDrop {
        gear: gear.name.clone(),
        given: true,
        drop: Some(drop),
        survives: followed.survives(),
        reserve_height: Some(followed.survives_with(WHOLE_LIFT)),
        arrival: None,
    };
    Ok((landing, reaction))
}

/// The margins of one gear, a few at a time and those that are likely to be the least first, so that who looks for gears that
/// hold can stop at the first that fails.
pub struct Screen<'p> {
    ready: GearCheck<'p>,
    /// The gear as it yields and breaks, once it is needed.
    holding: Option<Holding<'p>>,
    factors: LandingFactors,
    /// How much more than it has to hold the gear is followed to.
    followed: f64,
    /// Cases that are still to do, the one with the largest stress last.
    left: Vec<CaseLoads>,
    /// Those whose elastic margins are done, for their limit loads to be followed.
    elastic: Vec<CaseResult>,
    /// All that is done.
    done: Vec<CaseLoads>,
    /// What does not depend on a case, until it is asked for.
    first: Option<Vec<Margin>>,
}

impl<'p> Screen<'p> {
    /// Makes ready one gear of a project for which margins up to half as much again as `wanted` matter.
    ///
    /// # Errors
    /// When none of the landings asked for loads the gear, or it has no converged solution.
    pub fn new(project: &'p Project, index: usize, wanted: f64) -> Result<Self, CheckError> {
        Self::following(project, index, FOLLOWED + wanted)
    }

    /// The same where all that matters is whether every margin is `wanted`: those of the limit load and of the reserve of energy may
    /// be told as no more.
    ///
    /// # Errors
    /// As [`Self::new`].
    pub fn verdict(project: &'p Project, index: usize, wanted: f64) -> Result<Self, CheckError> {
        Self::following(project, index, 1.0 + wanted)
    }

    fn following(project: &'p Project, index: usize, followed: f64) -> Result<Self, CheckError> {
        let found = landing(project, followed, ELEMENTS_PER_LEG)?;
        let all = loads::case_loads(project, found.0);
        if !all.iter().any(|l| l.gear == index) {
            return Err(CheckError::NoCase);
        }
        let gear = project.gears.get(index).ok_or(CheckError::NoCase)?;
        Ok(Self::with_landing((project, gear, index), &all, &found, (followed, ELEMENTS_PER_LEG))?)
    }

    fn with_landing(
        (project, gear, index): (&'p Project, &'p Gear, usize),
        all: &[CaseLoads],
        (factors, drops): &(LandingFactors, Vec<LandingDrop>),
        (followed, elements): (f64, usize),
    ) -> Result<Self, AnalysisError> {
        let mut ready = GearCheck::new(project, gear, elements)?;
        let first = ready.standing_margins(drops);
        let mut left = Vec::new();
        for loads in all.iter().filter(|l| l.gear == index) {
            let state = ready.analysis.small.solve(&loads.loads, 1.0)?;
            left.push((peak(&state), loads.clone()));
        }
        left.sort_by(|(a, _), (b, _)| a.partial_cmp(b).unwrap_or(Ordering::Equal));
        let left = left.into_iter().map(|(_, l)| l).collect();
        let first = Some(first);
        Ok(Self {
            ready,
            holding: None,
            factors: *factors,
            followed,
            left,
            elastic: Vec::new(),
            done: Vec::new(),
            first,
        })
    }

    /// The load factors of the landing.
    #[must_use]
    pub const fn factors(&self) -> LandingFactors {
        self.factors
    }

    /// A bound of the gear's least margin from above: the margin against staying bent in the case with the largest stress, by
    /// whichever theory gives the larger. `None` when no strength is known, or none of the cases counts.
    ///
    /// The check takes one of the two theories for the whole case, so its own margin is one of these two; and the gear's least
    /// margin is no larger than any of its margins.
    ///
    /// # Errors
    /// When the gear has no converged solution.
    pub fn bound(&mut self) -> Result<Option<f64>, AnalysisError> {
        let strength = self.ready.gear.plate.yield_strength();
        Ok(self.least_stress()?.zip(strength).map(|(s, strength)| f64::from(strength.value / s) - 1.0))
    }

    /// The stress behind [`Self::bound`]; it does not depend on the strength.
    ///
    /// # Errors
    /// When the gear has no converged solution.
    pub fn least_stress(&mut self) -> Result<Option<Stress>, AnalysisError> {
        let counts = |l: &&CaseLoads| !self.ready.meant_to_give(&l.case, PartKind::Legs);
        let Some(loads) = self.left.iter().rev().find(counts) else { return Ok(None) };
        let (small, large) = self.ready.analysis.limit_states(&loads.loads)?;
        let states = [Some(small), large];
        let least = states.iter().flatten().map(peak).reduce(Stress::min);
        Ok(least.filter(|s| *s > Stress::default()))
    }

    /// The next few margins; `None` when there are no more. Limit loads, which cost most, come last.
    ///
    /// # Errors
    /// When the gear has no converged solution.
    pub fn more(&mut self) -> Result<Option<Vec<Margin>>, AnalysisError> {
        if let Some(first) = self.first.take() {
            return Ok(Some(first));
        }
        if let Some(loads) = self.left.pop() {
            let case = self.ready.case(&loads, None)?;
            let margins = self.ready.margins(&case, None);
            self.elastic.push(case);
            self.done.push(loads);
            return Ok(Some(margins));
        }
        if self.elastic.is_empty() {
            return Ok(None);
        }
        // The first was the most loaded one.
        let mut case = self.elastic.remove(0);
        let (mut holding, up_to) = self.holding()?;
        let margins = self.ready.limit_load(&mut holding, &mut case, up_to);
        self.holding = Some(holding);
        Ok(Some(margins))
    }

    /// All that is left at once: cheaper than piece by piece.
    fn rest(mut self) -> Result<Vec<Margin>, AnalysisError> {
        let mut margins = self.first.take().unwrap_or_default();
        while let Some(loads) = self.left.pop() {
            let (mut holding, up_to) = self.holding()?;
            let case = self.ready.case_followed(&mut holding, &loads, up_to)?;
            self.holding = Some(holding);
            margins.extend(self.ready.margins(&case, None));
        }
        Ok(margins)
    }

    /// The real gear, taken out, and the multiple up to which it is followed.
    fn holding(&mut self) -> Result<(Holding<'p>, f64), AnalysisError> {
        let holding = match self.holding.take() {
            Some(holding) => holding,
            None => self.ready.holding()?,
        };
        Ok((holding, self.followed * self.ready.project.landing.ultimate_factor))
    }

    /// Margins of the wish for what gives first, in the cases done so far; none where nothing is wished.
    ///
    /// # Errors
    /// When the geometry makes no frame.
    pub fn gives_first(&self) -> Result<Vec<Margin>, AnalysisError> {
        if self.ready.gear.give_first.is_none() {
            return Ok(Vec::new());
        }
        let (real, subject) = (self.ready.real()?, self.ready.subject());
        let followed = Followed { subject: &subject, statics: &real, factors: self.factors, drops: None };
        let wished = self.done.iter().filter(|l| self.ready.gear.meant_to_give(l.case.known()).is_some());
        let orders = wished.filter_map(|l| followed.order(l));
        Ok(orders.flat_map(|order| checks::run_for_order(&subject, &order)).collect())
    }
}

/// Height of the level drop that just makes a leg of a gear yield, or of the highest that it takes up; `None` when its metal's
/// yield strength is not known.
///
/// # Errors
/// When the geometry makes no frame.
pub fn drop_without_set(project: &Project, gear: &Gear) -> Result<Option<Length>, AnalysisError> {
    let Some(yielding) = PlateYield::of(&gear.plate) else { return Ok(None) };
    let elastic = PlateElasticity::of(&gear.plate.metal);
    let weight = loads::drop_weight(project, gear);
    Ok(Some(GearDrops::without_set(gear, elastic, yielding, weight, project.landing.wing_lift)?))
}

fn peak(state: &GearState) -> Stress {
    state.legs.iter().map(|l| l.peak.von_mises).fold(Stress::default(), Stress::max)
}
