//! A sheet of which tests leave open whether it is aluminium or steel: the gear is checked as each, and of every margin the worse counts.

use super::PlateElasticity;
use super::assess::worst_first;
use super::unknown::bench_test;
use crate::model::{Gear, PlateMetal, Project};
use crate::results::{BenchTest, CheckResult, Margin, RequiredYield};
use crate::units::Stress;
use std::cmp::Ordering;

/// The project with its sheets of every other family that they may be of; none where all metals are known.
pub(super) fn other_families(project: &Project) -> Vec<Project> {
    let others = |gear: &Gear| match &gear.plate.metal {
        PlateMetal::Known(metal) => metal.may_be.len(),
        PlateMetal::Unknown => 0,
    };
    let most = project.gears.iter().map(others).max().unwrap_or_default();
    let of = |number: usize| {
        let mut other = project.clone();
        for gear in &mut other.gears {
            if let PlateMetal::Known(metal) = &mut gear.plate.metal {
                **metal = metal.as_other(number);
            }
        }
        other
    };
    (0..most).map(of).collect()
}

/// The worse of two checks of the same gears, the second with the sheets of `other`.
pub(super) fn worse(first: CheckResult, second: CheckResult, other: &Project) -> CheckResult {
    let mut worse = CheckResult { margins: worse_margins(first.margins, second.margins, other), ..first };
    for needed in second.required_yield {
        let same = |known: &&mut RequiredYield| known.gear == needed.gear && known.case == needed.case;
        if let Some(known) = worse.required_yield.iter_mut().find(same)
            && needed.yield_strength > known.yield_strength
        {
            *known = needed;
        }
    }
    worse
}

/// Of two lists of the same margins the worse of each.
pub(super) fn worse_margins(first: Vec<Margin>, second: Vec<Margin>, other: &Project) -> Vec<Margin> {
    let mut worse = first;
    let mut taken = vec![false; worse.len()];
    let mut more = Vec::new();
    for margin in second {
        let margin = Margin { source: of_family(&margin, other), ..margin };
        let same = |known: &Margin| {
            known.check == margin.check
                && known.gear == margin.gear
                && known.part == margin.part
                && known.case == margin.case
        };
        let known = worse.iter_mut().zip(&mut taken).find(|(known, taken)| !**taken && same(known));
        let Some((known, taken)) = known else {
            more.push(margin);
            continue;
        };
        *taken = true;
        if worst_first(&margin, known) == Ordering::Less {
            *known = margin;
        }
    }
    worse.extend(more);
    worse.sort_by(worst_first);
    worse
}

/// The source of a margin and what its gear's sheet is taken for.
fn of_family(margin: &Margin, project: &Project) -> String {
    let gear = project.gears.iter().find(|gear| gear.name == margin.gear);
    match gear.map(|gear| &gear.plate.metal) {
        Some(PlateMetal::Known(metal)) if !metal.may_be.is_empty() => {
            format!("{}; the sheet taken for {}", margin.source, metal.family.words())
        }
        _ => margin.source.clone(),
    }
}

/// The strip that decides for a sheet whatever family it is of: one that is loaded to the most that any asks, and is as stiff as the
/// stiffest.
pub(super) fn strips(all: &[CheckResult], projects: &[&Project]) -> Vec<BenchTest> {
    let Some((first, written)) = all.first().zip(projects.first()) else { return Vec::new() };
    let strip = |own: &BenchTest| {
        let gears = projects.iter().flat_map(|p| &p.gears).filter(|gear| gear.name == own.gear);
        let known = gears.filter(|gear| gear.plate.metal != PlateMetal::Unknown);
        let modulus = |gear: &Gear| PlateElasticity::of(&gear.plate.metal).modulus;
        let Some(stiffest) = known.map(modulus).reduce(Stress::max) else { return Some(own.clone()) };
        let tests = all.iter().flat_map(|result| &result.bench_tests).filter(|test| test.gear == own.gear);
        let needed = tests.map(|test| test.yield_strength).fold(own.yield_strength, Stress::max);
        let gear = written.gears.iter().find(|gear| gear.name == own.gear)?;
        bench_test(&own.gear, needed, gear.plate.sheet_thickness(), modulus(gear), stiffest)
    };
    first.bench_tests.iter().filter_map(strip).collect()
}
