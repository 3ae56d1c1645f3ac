//! The whole check: loads, structure, margins, and what an unknown metal would have to be.

use super::drops::{GearDrops, height_for};
use super::elastic::Elastic;
use super::failure_order::Followed;
use super::landing::{LandingState, drops, highest, landing};
use super::unknown::{bench_test, grades, needed_yield};
use super::{AnalysisError, GearStatics, PlateElasticity, PlateYield};
use crate::checks::{self, Subject};
use crate::loads::{self, CaseLoads};
use crate::material::{Family, Library, StockForm};
use crate::model::{Arms, CaseId, Gear, PlateMetal, Project};
use crate::results::{
    BracingDrop, BracingEffect, CaseName, CaseResult, CheckResult, GearState, LandingDrop, LandingFactors,
    Margin, MountState, RequiredYield, Verdict,
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

fn check_gear(
    project: &Project,
    library: &Library,
    gear: &Gear,
    (loads, followed): (&[&CaseLoads], &[GearDrops<'_>]),
    result: &mut CheckResult,
    progress: &dyn Fn(usize),
) -> Result<(), AnalysisError> {
    let elastic = PlateElasticity::of(&gear.plate.metal);
    let factor = project.landing.ultimate_factor;
    let mut analysis = Elastic::new(gear, elastic)?;
    let real = GearStatics::new(gear, elastic, PlateYield::of(&gear.plate))?;
    // Only the gears that carry the landing are dropped with its whole mass.
    let dropped = followed.iter().find(|d| d.gear().name == gear.name);
    let unknown = gear.plate.metal == PlateMetal::Unknown;
    // An unknown modulus moves the stress where wires or an axle share the load with the legs, and any leg's buckling load.
    let range = if unknown { PlateElasticity::aluminium_range().to_vec() } else { Vec::new() };
    let mut ends = range.iter().map(|e| Elastic::new(gear, *e)).collect::<Result<Vec<_>, _>>()?;
    let shared = !gear.braces.is_empty() || matches!(gear.arms, Arms::Twin { .. });
    let moduli = || range.iter().map(|e| e.modulus);
    let (softest, stiffest) =
        (moduli().fold(elastic.modulus, Stress::min), moduli().fold(elastic.modulus, Stress::max));
    // What a modulus makes buckle, the softest makes buckle first.
    let subject = Subject { project, gear, modulus: softest, poisson: elastic.poisson };
    let plain_gear = (!gear.braces.is_empty()).then(|| Gear { braces: Vec::new(), ..gear.clone() });
    let mut plain = plain_gear.as_ref().map(|g| Elastic::new(g, elastic)).transpose()?;
    result.margins.extend(checks::run_for_gear(&subject));
    for landing in result.drops.iter().filter(|d| d.gear == gear.name) {
        result.margins.extend(checks::run_for_drop(&subject, landing));
    }
    let followed = Followed { subject: &subject, statics: &real, factors: result.landing, drops: dropped };
    let orders = followed.orders(loads, progress);
    let mut most_needed = Stress::default();
    for (case_loads, order) in loads.iter().zip(orders) {
        let mut buckling = analysis.small.buckling_multiple(&case_loads.loads, factor)?;
        for end in &mut ends {
            let other = end.small.buckling_multiple(&case_loads.loads, factor)?;
            buckling = [buckling, other].into_iter().flatten().reduce(f64::min);
        }
        let own = &case_loads.loads;
        let (limit, ultimate, theory) = analysis.states(own, factor)?;
        let case = CaseResult {
            gear: case_loads.gear,
            gear_name: gear.name.clone(),
            case: case_loads.case.clone(),
            loads: case_loads.loads.clone(),
            rule: case_loads.rule.clone(),
            rule_source: case_loads.source.to_owned(),
            limit,
            ultimate,
            buckling_multiple: buckling,
            theory,
            limit_load: order.as_ref().map(|o| o.limit),
        };
        if let Some(order) = order {
            result.margins.extend(checks::run_for_order(&subject, &order));
            result.failure_orders.push(order);
        }
        let margins = checks::run_for_case(&subject, &case);
        result.margins.extend(margins.into_iter().filter(|m| !meant_to_give(gear, &case.case, m)));
        let mut needed = vec![needed_yield(&case.limit, &case.ultimate)];
        for end in &mut ends {
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
    if unknown {
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
fn worst_first(a: &Margin, b: &Margin) -> Ordering {
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

/// Whether a margin is of the part that is meant to give first, in a rut or long grass: there it is to give.
fn meant_to_give(gear: &Gear, case: &CaseName, margin: &Margin) -> bool {
    let rut = *case == CaseName::Known(CaseId::Obstacle);
    let kind = checks::find(margin.check).and_then(|c| c.fails);
    rut && kind.is_some() && kind == gear.meant_to_give(case.known())
}
