//! A sheet of which tests leave open whether it is aluminium or steel: a project is reckoned with each, and of every margin the worse counts.

use super::PlateElasticity;
use super::assess::worst_first;
use super::unknown::bench_test;
use crate::material::Family;
use crate::model::{Gear, PlateMetal, Project};
use crate::results::{BenchTest, CheckResult, Margin, RequiredYield};
use crate::units::Stress;
use std::cmp::Ordering;

/// The project with its sheets of every family that they may be of, first as it is written: alone where all metals are known, and every
/// combination where several sheets are open.
#[must_use]
pub fn families(project: &Project) -> Vec<Project> {
    let mut all = vec![project.clone()];
    let mut seen: Vec<&str> = Vec::new();
    for gear in &project.gears {
        let PlateMetal::Known(sheet) = &gear.plate.metal else { continue };
        if sheet.may_be().is_empty() || seen.contains(&sheet.name.as_str()) {
            continue;
        }
        seen.push(&sheet.name);
        let of = |number| all.iter().map(move |known| of_family(known, &sheet.name, number));
        let others: Vec<Project> = (0..sheet.may_be().len()).flat_map(of).collect();
        all.extend(others);
    }
    all
}

/// The project with a sheet of another family that it may be of, by its number from 0.
fn of_family(project: &Project, sheet: &str, number: usize) -> Project {
    let mut other = project.clone();
    for gear in &mut other.gears {
        if let PlateMetal::Known(metal) = &mut gear.plate.metal
            && metal.name == sheet
        {
            **metal = metal.as_other(number);
        }
    }
    other
}

/// The gears whose sheets are open, each with the family that it is of in a project.
fn open_gears(project: &Project) -> Vec<(String, Family)> {
    let open = |gear: &Gear| match &gear.plate.metal {
        PlateMetal::Known(metal) if !metal.may_be().is_empty() => Some((gear.name.clone(), metal.family)),
        _ => None,
    };
    project.gears.iter().filter_map(open).collect()
}

/// What checks of the same project with its sheets of several families come to: the figures of the one with the worst margin, and of every
/// other margin, and of the yield that is needed, the worst of all. `None` where there are no checks.
pub(super) fn worst(results: Vec<CheckResult>, projects: &[Project]) -> Option<CheckResult> {
    let bench_tests = strips(&results, projects);
    let mut all: Vec<(CheckResult, &Project)> = results.into_iter().zip(projects).collect();
    let by_least = |(a, _): &(CheckResult, &Project), (b, _): &(CheckResult, &Project)| {
        a.margins.first().zip(b.margins.first()).map_or(Ordering::Equal, |(a, b)| worst_first(a, b))
    };
    // Of equals the first, which is as the file has it.
    all.sort_by(by_least);
    let mut all = all.into_iter();
    let (first, project) = all.next()?;
    let mut worst = CheckResult { bench_tests, reckoned_as: open_gears(project), ..first };
    for (other, project) in all {
        worst.margins = worse_margins(worst.margins, other.margins, project);
        for needed in other.required_yield {
            let same = |known: &&mut RequiredYield| known.gear == needed.gear && known.case == needed.case;
            match worst.required_yield.iter_mut().find(same) {
                Some(known) if needed.yield_strength > known.yield_strength => *known = needed,
                Some(_) => {}
                None => worst.required_yield.push(needed),
            }
        }
    }
    Some(worst)
}

/// Of two lists of the same margins the worse of each; the second has the sheets of `other`.
pub(super) fn worse_margins(first: Vec<Margin>, second: Vec<Margin>, other: &Project) -> Vec<Margin> {
    let mut worse = first;
    let mut taken = vec![false; worse.len()];
    let open = open_gears(other);
    let mut more = Vec::new();
    for margin in second {
        let same = |known: &Margin| {
            known.check == margin.check
                && known.gear == margin.gear
                && known.part == margin.part
                && known.case == margin.case
        };
        let known = worse.iter_mut().zip(&mut taken).find(|(known, taken)| !**taken && same(known));
        let known = known.map(|(known, taken)| {
            *taken = true;
            known
        });
        if known.as_ref().is_some_and(|known| worst_first(&margin, known) != Ordering::Less) {
            continue;
        }
        let source = match open.iter().find(|(gear, _)| *gear == margin.gear) {
            Some((_, family)) => format!("{}; reckoned with its sheet as {}", margin.source, family.words()),
            None => margin.source.clone(),
        };
        let margin = Margin { source, ..margin };
        match known {
            Some(known) => *known = margin,
            None => more.push(margin),
        }
    }
    worse.extend(more);
    worse.sort_by(worst_first);
    worse
}

/// The strip that decides for a sheet whatever family it is of: it is loaded to the most that any asks, sags as the softest and hides as much
/// of its set as the stiffest.
fn strips(all: &[CheckResult], projects: &[Project]) -> Vec<BenchTest> {
    let (Some(first), Some(written)) = (all.first(), projects.first()) else { return Vec::new() };
    let open = open_gears(written);
    let strip = |gear: &Gear| {
        if !open.iter().any(|(name, _)| *name == gear.name) {
            return first.bench_tests.iter().find(|test| test.gear == gear.name).cloned();
        }
        let same = projects.iter().flat_map(|project| &project.gears).filter(|own| own.name == gear.name);
        let moduli = || same.clone().map(|own| PlateElasticity::of(&own.plate.metal).modulus);
        let (softest, stiffest) = (moduli().reduce(Stress::min)?, moduli().reduce(Stress::max)?);
        let asked = all.iter().flat_map(|result| &result.required_yield).filter(|r| r.gear == gear.name);
        let needed = asked.map(|r| r.yield_strength).fold(Stress::default(), Stress::max);
        bench_test(&gear.name, needed, gear.plate.sheet_thickness(), softest, stiffest)
    };
    written.gears.iter().filter_map(strip).collect()
}
