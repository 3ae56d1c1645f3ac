//! The whole check: loads, structure, margins, and what an unknown metal would have to be.

use super::drops::{GearDrops, height_for};
use super::elastic::Elastic;
use super::failure_order::Followed;
use super::families::{families, worse_margins, worst};
use super::gear_check::GearCheck;
use super::landing::{LandingState, drops, highest, landing};
use super::margins::Margins;
use super::unknown::{bench_test, grades, needed_yield};
use super::{AnalysisError, ELEMENTS_PER_LEG};
use crate::loads::{self, CaseLoads};
use crate::material::{Family, Library, StockForm};
use crate::model::{Arms, Gear, PlateMetal, Project, Severity};
use crate::results::{
    BracingDrop, BracingEffect, CaseResult, CheckResult, GearState, LandingDrop, LandingFactors, Margin,
    MountState, RequiredYield, Verdict,
};
use crate::units::{Force, Length, Stress};
use std::cmp::Ordering;
use thiserror::Error;

/// Why a project could not be checked.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CheckError {
    /// None of the landings asked for loads any gear.
    #[error("none of the landings asked for loads any gear")]
    NoCase,
    /// A gear has no solution.
    #[error(transparent)]
    Analysis(#[from] AnalysisError),
}

/// Checks a project in every landing case.
///
/// # Errors
/// When none of the landings asked for loads any gear, or a gear has no converged solution.
pub fn check(project: &Project, library: &Library) -> Result<CheckResult, CheckError> {
    check_watched(project, library, &|_, _| ())
}

/// The same; `progress` gets how many of all gears' landings have been followed.
///
/// # Errors
/// As [`check`].
pub fn check_watched(
    project: &Project,
    library: &Library,
    progress: &dyn Fn(usize, usize),
) -> Result<CheckResult, CheckError> {
    let all = families(project);
    let told = |i: usize, done: usize, each: usize| progress(i * each + done, all.len() * each);
    let checked =
        all.iter().enumerate().map(|(i, one)| check_one_family(one, library, &|d, e| told(i, d, e)));
    worst(checked.collect::<Result<_, _>>()?, &all).ok_or(CheckError::NoCase)
}

/// Checks a project with its sheets of one family each.
fn check_one_family(
    project: &Project,
    library: &Library,
    progress: &dyn Fn(usize, usize),
) -> Result<CheckResult, CheckError> {
    let landing = landing(project, library)?;
    let all_loads = loads::case_loads(project, landing.factors);
    if all_loads.is_empty() {
        return Err(CheckError::NoCase);
    }
    let mut result = empty(library, landing.factors, landing.drops);
    for (index, gear) in project.gears.iter().enumerate() {
        let own: Vec<&CaseLoads> = all_loads.iter().filter(|l| l.gear == index).collect();
        let before = all_loads.iter().filter(|l| l.gear < index).count();
        let told = |done: usize| progress(before + done, all_loads.len());
        check_gear(project, library, gear, (&own, &landing.followed), &mut result, &told)?;
    }
    result.margins.sort_by(worst_first);
    Ok(result)
}

/// A result with nothing found yet.
fn empty(library: &Library, factors: LandingFactors, drops: Vec<LandingDrop>) -> CheckResult {
    CheckResult {
        landing: factors,
        margins: Vec::new(),
        drops,
        cases: Vec::new(),
        common_grades: library
            .stock
            .iter()
            .filter(|s| s.form == StockForm::SheetGrade)
            .flat_map(|s| s.labels.clone())
            .collect(),
        required_yield: Vec::new(),
        bench_tests: Vec::new(),
        bracing: Vec::new(),
        bracing_drops: Vec::new(),
        failure_orders: Vec::new(),
        reckoned_as: Vec::new(),
    }
}

/// Checks one gear of a project, the loads being known.
pub(super) fn check_one(
    project: &Project,
    library: &Library,
    index: usize,
    loads: &[CaseLoads],
    landing: LandingState<'_>,
) -> Result<CheckResult, AnalysisError> {
    let mut result = empty(library, landing.factors, landing.drops);
    if let Some(gear) = project.gears.get(index) {
        let own: Vec<&CaseLoads> = loads.iter().filter(|l| l.gear == index).collect();
        check_gear(project, library, gear, (&own, &landing.followed), &mut result, &|_| ())?;
    }
    Ok(result)
}

/// The margins that [`check`] finds for one gear, with the largest of the load factors that its sheet may make, and nothing else of it: where
/// nobody reads in what order parts give or what wires do, they need not be worked out.
///
/// # Errors
/// As [`check`], and when no landing asked for loads this gear.
pub fn gear_margins(project: &Project, library: &Library, index: usize) -> Result<Margins, CheckError> {
    let mut all: Option<Margins> = None;
    for one in families(project) {
        let own = margins_of_one_family(&one, library, index)?;
        all = Some(match all {
            None => own,
            Some(known) => {
                let harder = own.factors.inertia > known.factors.inertia;
                let margins = worse_margins(known.margins, own.margins, &one);
                Margins { factors: if harder { own.factors } else { known.factors }, margins }
            }
        });
    }
    all.ok_or(CheckError::NoCase)
}

fn margins_of_one_family(project: &Project, library: &Library, index: usize) -> Result<Margins, CheckError> {
    let gear = project.gears.get(index).ok_or(CheckError::NoCase)?;
    // A stated load factor asks for no drop.
    let state = match project.landing.severity {
        Severity::LoadFactor(inertia) => LandingState {
            factors: LandingFactors::new(inertia, project.landing.wing_lift),
            drops: Vec::new(),
            followed: Vec::new(),
        },
        _ => landing(project, library)?,
    };
    let loads: Vec<CaseLoads> =
        loads::case_loads(project, state.factors).into_iter().filter(|l| l.gear == index).collect();
    if loads.is_empty() {
        return Err(CheckError::NoCase);
    }
    let mut ready = GearCheck::new(project, gear, ELEMENTS_PER_LEG)?;
    let (real, subject) = (ready.real()?, ready.subject());
    let drops = state.followed.iter().find(|d| d.gear().name == gear.name);
    let followed = Followed { subject: &subject, statics: &real, factors: state.factors, drops };
    let mut margins = ready.standing_margins(&state.drops);
    for loads in &loads {
        let order = gear.give_first.and_then(|_| followed.order(loads));
        let limit = order.as_ref().map(|o| o.limit).or_else(|| followed.limit(loads));
        let case = ready.case(loads, limit)?;
        margins.extend(ready.margins(&case, order.as_ref()));
    }
    margins.sort_by(worst_first);
    Ok(Margins { factors: state.factors, margins })
}

fn check_gear(
    project: &Project,
    library: &Library,
    gear: &Gear,
    (loads, followed): (&[&CaseLoads], &[GearDrops<'_>]),
    result: &mut CheckResult,
    progress: &dyn Fn(usize),
) -> Result<(), AnalysisError> {
    let factor = project.landing.ultimate_factor;
    let mut ready = GearCheck::new(project, gear, ELEMENTS_PER_LEG)?;
    let real = ready.real()?;
    let (elastic, subject, stiffest) = (ready.elastic, ready.subject(), ready.stiffest());
    // Only the gears that carry the landing are dropped with its whole mass.
    let dropped = followed.iter().find(|d| d.gear().name == gear.name);
    let unknown = gear.plate.metal == PlateMetal::Unknown;
    let shared = !gear.braces.is_empty() || matches!(gear.arms, Arms::Twin { .. });
    let plain_gear = (!gear.braces.is_empty()).then(|| Gear { braces: Vec::new(), ..gear.clone() });
    let mut plain = plain_gear.as_ref().map(|g| Elastic::new(g, elastic, ELEMENTS_PER_LEG)).transpose()?;
    result.margins.extend(ready.standing_margins(&result.drops));
    let followed = Followed { subject: &subject, statics: &real, factors: result.landing, drops: dropped };
    let orders = followed.orders(loads, progress);
    let mut most_needed = Stress::default();
    for (case_loads, order) in loads.iter().zip(orders) {
        let own = &case_loads.loads;
        let case = ready.case(case_loads, order.as_ref().map(|o| o.limit))?;
        result.margins.extend(ready.margins(&case, order.as_ref()));
        result.failure_orders.extend(order);
        let mut needed = vec![needed_yield(&case.limit, &case.ultimate)];
        for end in &mut ready.ends {
            let (limit, ultimate, _) = end.states(own, factor)?;
            needed.push(needed_yield(&limit, &ultimate));
        }
        // Of the range of moduli the worst counts.
        let worst = needed.iter().copied().fold(Stress::default(), Stress::max);
        let least = needed.iter().copied().fold(worst, Stress::min);
        most_needed = most_needed.max(worst);
        let family = match &gear.plate.metal {
            PlateMetal::Known(metal) if metal.family != Family::Other => metal.family,
            _ => Family::Aluminium,
        };
        let (grades_that_hold, grades_that_bend) =
            grades(library, family, gear.plate.sheet_thickness(), worst);
        result.required_yield.push(RequiredYield {
            gear: gear.name.clone(),
            case: case.case.clone(),
            yield_strength: worst,
            range: (unknown && shared).then_some((least, worst)),
            grades_that_hold,
            grades_that_bend,
        });
        if let Some(plain) = &mut plain {
            let (without, _, _) = plain.states(own, 1.0)?;
            result.bracing.push(bracing(gear, &case, &without));
        }
        result.cases.push(case);
    }
    if let (Some(plain), Some(dropped)) = (&plain_gear, dropped) {
        result.bracing_drops.extend(bracing_drop(project, plain, dropped, &result.drops)?);
    }
    // What is only known by tests of a sheet can be tested further.
    let graded = matches!(&gear.plate.metal, PlateMetal::Known(metal) if metal.is_graded());
    if unknown || graded {
        result.bench_tests.extend(bench_test(
            &gear.name,
            most_needed,
            gear.plate.sheet_thickness(),
            elastic.modulus,
            stiffest,
        ));
    }
    Ok(())
}

/// Failing first, then what can't be told, then what holds; each by its margin.
pub(super) fn worst_first(a: &Margin, b: &Margin) -> Ordering {
    let rank = |m: &Margin| match m.verdict {
        Verdict::Fails => 0,
        Verdict::Untold(_) => 1,
        Verdict::Holds => 2,
    };
    rank(a).cmp(&rank(b)).then_with(|| match (a.value(), b.value()) {
        (Some(x), Some(y)) => x.total_cmp(&y),
        // Of two that can't be told the one that asks more comes first.
        _ => b.applied.si().total_cmp(&a.applied.si()),
    })
}

fn largest_travel(state: &GearState, axis: impl Fn([Length; 3]) -> Length) -> Length {
    state.wheels.iter().map(|w| axis(w.displacement).abs()).fold(Length::default(), Length::max)
}

fn bracing(gear: &Gear, case: &CaseResult, without: &GearState) -> BracingEffect {
    let with = &case.limit;
    let stress = |s: &GearState| s.legs.iter().map(|l| l.peak.von_mises).fold(Stress::default(), Stress::max);
    let travel =
        |axis: fn([Length; 3]) -> Length| (largest_travel(without, axis), largest_travel(with, axis));
    BracingEffect {
        gear: gear.name.clone(),
        case: case.case.clone(),
        stress: (stress(without), stress(with)),
        sideways: travel(|[_, y, _]| y),
        fore_and_aft: travel(|[x, _, _]| x),
        tension: with.wires.iter().map(|w| w.tension).fold(Force::default(), Force::max),
        slack: with.wires.iter().filter(|w| w.slack).map(|w| w.name.clone()).collect(),
        bolt_pull: without.mount.as_ref().zip(with.mount.as_ref()).map(|(a, b)| (most_pull(a), most_pull(b))),
        wood_bending: without
            .mount
            .as_ref()
            .zip(with.mount.as_ref())
            .and_then(|(a, b)| Some((a.wood.as_ref()?.bending, b.wood.as_ref()?.bending))),
    }
}

fn most_pull(mount: &MountState) -> Force {
    mount.bolts.iter().map(|b| b.tension).fold(Force::default(), Force::max)
}

/// What a braced gear and the same without its wires make of one drop: that of the landing, or of an ordinary arrival.
fn bracing_drop(
    project: &Project,
    plain: &Gear,
    braced: &GearDrops<'_>,
    landings: &[LandingDrop],
) -> Result<Option<BracingDrop>, AnalysisError> {
    let Some(landing) = landings.iter().find(|d| d.gear == plain.name) else { return Ok(None) };
    let given = landing.drop.as_ref().filter(|_| landing.given).map(|d| d.height);
    let ordinary = landing.arrival.as_ref().map(|(_, speed, _)| height_for(*speed));
    let Some(height) = given.or(ordinary) else { return Ok(None) };
    let without = drops(project, plain, project.landing.wing_lift, highest())?;
    let factor = |d: &GearDrops<'_>| d.drop(height).outcome.map(|o| o.inertia_load_factor);
    Ok(Some(BracingDrop {
        gear: plain.name.clone(),
        height,
        without: factor(&without),
        with: factor(braced),
    }))
}
