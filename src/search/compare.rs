//! Designs side by side: each is checked as it would be alone, dropped with one and the same arrival, and pushed with small loads.

use crate::analysis::{
    AnalysisError, CheckError, GearAnalysis, GearDrops, PlateElasticity, PlateYield, check_watched,
    height_for, unknown_density,
};
use crate::loads;
use crate::material::Library;
use crate::model::{CaseWheelLoad, Gear, PlateMetal, Position, Project};
use crate::results::{
    ArrivalFrom, AtCase, CaseName, CaseResult, CheckResult, ComparedDesign, Comparison, FailureOrder,
    GearChange, GearFigures, GearStiffness, MountLoad, PeakOf, PeakStress, SameArrival,
};
use crate::units::{Force, Length, Moment, Stiffness};
use std::cmp::Ordering;
use thiserror::Error;

/// Why designs could not be compared.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CompareError {
    /// None of the landings asked for loads any gear of a design.
    #[error("none of the landings asked for loads any gear of {0}")]
    NoCase(String),
    /// A gear has no solution.
    #[error("{design}: {error}")]
    Analysis {
        /// The design.
        design: String,
        /// What went wrong.
        error: AnalysisError,
    },
    /// The first design's landing amounts to no drop, and the tables have no arrivals.
    #[error(
        "the first design's landing amounts to no drop, and the tables have no arrival to take its place"
    )]
    NoArrival,
}

/// Compares designs, each with its name; the first is what the others are held against.
///
/// `progress` gets how many landings of all designs have been followed, in parts of a whole.
///
/// # Errors
/// When none of the landings asked for loads any gear of a design, or a gear has no converged solution.
pub fn compare(
    designs: Vec<(String, Project)>,
    library: &Library,
    progress: &dyn Fn(usize, usize),
) -> Result<Comparison, CompareError> {
    let all = designs.len();
    let mut checked = Vec::new();
    for (index, (name, project)) in designs.into_iter().enumerate() {
        // A design counts as a hundred, however many landings it has.
        let told = |done: usize, of: usize| progress(100 * index + 100 * done / of.max(1), 100 * all);
        let result = check_watched(&project, library, &told).map_err(|error| match error {
            CheckError::NoCase => CompareError::NoCase(name.clone()),
            CheckError::Analysis(error) => CompareError::Analysis { design: name.clone(), error },
        })?;
        checked.push((name, project, result));
    }
    let arrival = checked
        .first()
        .and_then(|(_, project, result)| arrival(project, result))
        .ok_or(CompareError::NoArrival)?;
    let first: Option<Project> = checked.first().map(|(_, project, _)| project.clone());
    let mut designs = Vec::new();
    for (index, (name, project, result)) in checked.into_iter().enumerate() {
        let against = first.as_ref().filter(|_| index > 0);
        let gears: Result<Vec<GearFigures>, AnalysisError> =
            project.gears.iter().map(|gear| figures(gear, &project, &result, &arrival, against)).collect();
        let gears = gears.map_err(|error| CompareError::Analysis { design: name.clone(), error })?;
        let inertia_load_factor = largest_factor(&project, &gears);
        designs.push(ComparedDesign { name, project, check: result, inertia_load_factor, gears });
    }
    let changed = changed(&designs);
    Ok(Comparison { designs, arrival, changed })
}

/// The arrival that all designs make: the drop that the first design's landing is or amounts to, or else an ordinary arrival.
fn arrival(project: &Project, result: &CheckResult) -> Option<SameArrival> {
    let wing_lift = project.landing.wing_lift;
    let of = |height, from| SameArrival { height, wing_lift, from };
    let landing = result.drops.iter().find(|d| d.drop.is_some());
    if let Some((landing, drop)) = landing.and_then(|l| Some((l, l.drop.as_ref()?))) {
        let from =
            if landing.given { ArrivalFrom::Given } else { ArrivalFrom::Stated(result.landing.inertia) };
        return Some(of(drop.height, from));
    }
    let named = result.drops.iter().find_map(|d| d.arrival.as_ref());
    named.map(|(name, speed, _)| of(height_for(*speed), ArrivalFrom::Ordinary(name.clone())))
}

/// Names of the gears that are not the same in every design.
fn changed(designs: &[ComparedDesign]) -> Vec<String> {
    let Some((first, others)) = designs.split_first() else { return Vec::new() };
    let same = |gear: &Gear| others.iter().all(|d| d.project.gears.iter().any(|g| g == gear));
    first.project.gears.iter().filter(|g| !same(g)).map(|g| g.name.clone()).collect()
}

/// Load factor of the same arrival: of the gears that carry it, the largest; `None` when one gives way.
fn largest_factor(project: &Project, gears: &[GearFigures]) -> Option<f64> {
    let main = |gear: &Gear| gear.position == Position::Main;
    let any_main = project.gears.iter().any(main);
    let carriers = project.gears.iter().zip(gears).filter(|(gear, _)| !any_main || main(gear));
    carriers
        .map(|(_, figures)| figures.drop.outcome.as_ref().map(|o| o.inertia_load_factor))
        .try_fold(0.0, |most: f64, factor| factor.map(|f| most.max(f)))
}

fn figures(
    gear: &Gear,
    project: &Project,
    result: &CheckResult,
    arrival: &SameArrival,
    against: Option<&Project>,
) -> Result<GearFigures, AnalysisError> {
    let elastic = PlateElasticity::of(&gear.plate.metal);
    let weight = loads::drop_weight(project, gear);
    let highest = crate::analysis::highest().max(arrival.height);
    let strength = PlateYield::of(&gear.plate);
    let dropped = GearDrops::new(gear, elastic, strength, weight.clone(), arrival.wing_lift, highest)?;
    let table = dropped.table(&[arrival.height]);
    let own: Vec<&CaseResult> = result.cases.iter().filter(|c| c.gear_name == gear.name).collect();
    let mass = gear.mass(unknown_density());
    let before = against.and_then(|p| p.gears.iter().find(|g| g.name == gear.name));
    let wires = own.iter().flat_map(|c| c.limit.wires.iter().map(|w| (w.name.clone(), at(c, w.tension))));
    Ok(GearFigures {
        gear: gear.name.clone(),
        mass,
        stiffness: stiffness(gear, elastic, &weight.loads)?,
        drop: dropped.drop(arrival.height),
        highest_without_set: table.highest_without_set,
        survives: table.survives,
        peak: peak(&own),
        yield_strength: match gear.plate.metal {
            PlateMetal::Known(_) => gear.plate.yield_strength().map(|strength| strength.value),
            PlateMetal::Unknown => None,
        },
        wire: wires.reduce(|a, b| if b.1.most > a.1.most { b } else { a }),
        mount: mount_load(&own),
        weakest: result.margins.iter().find(|m| m.gear == gear.name).cloned(),
        order: soonest(result, &gear.name).cloned(),
        change: before.map(|g| {
            let change = mass.total() - g.mass(unknown_density()).total();
            let ahead_of_cg = gear.ahead_of_cg(project.aircraft.layout);
            GearChange {
                mass: change,
                ahead_of_cg,
                cg_forward: ahead_of_cg.map(|arm| arm * f64::from(change / project.aircraft.mass)),
            }
        }),
    })
}

/// The order in which something gives at the lowest multiple; one in which nothing does comes last.
fn soonest<'r>(result: &'r CheckResult, gear: &str) -> Option<&'r FailureOrder> {
    let first = |o: &FailureOrder| o.failures.first().map_or(f64::INFINITY, |f| f.multiple);
    let earlier = |a: &&FailureOrder, b: &&FailureOrder| -> Ordering { first(a).total_cmp(&first(b)) };
    result.failure_orders.iter().filter(|o| o.gear == gear).min_by(earlier)
}

fn at<T>(case: &CaseResult, most: T) -> AtCase<T> {
    AtCase { most, case: case.case.clone() }
}

/// The largest of a figure over all landings.
fn largest<T: Copy + PartialOrd>(all: impl Iterator<Item = AtCase<T>>) -> Option<AtCase<T>> {
    all.reduce(|a, b| if b.most > a.most { b } else { a })
}

fn peak(own: &[&CaseResult]) -> Option<PeakOf> {
    let of = |case: &CaseName, part: String, peak: PeakStress| PeakOf { case: case.clone(), part, peak };
    let all = own.iter().flat_map(|c| {
        let legs = c.limit.legs.iter().map(|l| (format!("{} leg", l.side), l.peak));
        let centre = c.limit.mount.as_ref().map(|m| ("flat centre".to_owned(), m.plate_peak));
        legs.chain(centre).map(|(part, peak)| of(&c.case, part, peak)).collect::<Vec<_>>()
    });
    all.reduce(|a, b| if b.peak.von_mises > a.peak.von_mises { b } else { a })
}

fn mount_load(own: &[&CaseResult]) -> MountLoad {
    let legs = || own.iter().flat_map(|c| c.limit.legs.iter().map(move |l| (c, l)));
    let mounts = || own.iter().filter_map(|c| Some((c, c.limit.mount.as_ref()?)));
    let bolts = mounts().flat_map(|(c, m)| m.bolts.iter().map(|b| (b.name.clone(), at(c, b.tension))));
    MountLoad {
        root_force: largest(legs().map(|(c, l)| at(c, force_size(l.root_force)))),
        root_moment: largest(legs().map(|(c, l)| at(c, moment_size(l.root_moment)))),
        bolt: bolts.reduce(|a, b| if b.1.most > a.1.most { b } else { a }),
        wood: largest(mounts().filter_map(|(c, m)| Some(at(c, m.wood.as_ref()?.bending)))),
    }
}

fn force_size([x, y, z]: [Force; 3]) -> Force {
    (x * x + y * y + z * z).sqrt()
}

fn moment_size([x, y, z]: [Moment; 3]) -> Moment {
    (x * x + y * y + z * z).sqrt()
}

/// Secant stiffness under the weight that rests on each wheel, pushed at the ground contact one way at a time.
///
/// k = F / u, small movements; u of several wheels is their mean, and for the spread the growth of the track. Wires are as tight or
/// slack as they are, so that a slack wire counts from where it gets taut.
fn stiffness(
    gear: &Gear,
    elastic: PlateElasticity,
    weight: &[CaseWheelLoad],
) -> Result<GearStiffness, AnalysisError> {
    let mut analysis = GearAnalysis::new(gear, elastic)?;
    let load = weight.first().map(|l| l.up).unwrap_or_default();
    let none = Force::default();
    let mut push = |direction: &dyn Fn(f64) -> [Force; 3], travel: &dyn Fn([Length; 3], f64) -> Length| {
        let loads: Vec<CaseWheelLoad> = weight
            .iter()
            .map(|l| {
                let [aft, starboard, up] = direction(l.side.sign());
                CaseWheelLoad { aft, starboard, up, ..*l }
            })
            .collect();
        let state = analysis.solve(&loads, 1.0)?;
        let moved = state.wheels.iter().map(|w| travel(w.displacement, w.side.sign()));
        Ok(moved.fold(Length::default(), |a, b| a + b))
    };
    let wheels = weight.len() as f64;
    let mean = |sum: Length| -> Stiffness { wheels * load / sum };
    let several = weight.len() > 1;
    let outward =
        several.then(|| push(&|sign| [none, sign * load, none], &|[_, y, _], sign| sign * y)).transpose()?;
    Ok(GearStiffness {
        load,
        spread: outward.map(|growth| load / growth),
        aft: mean(push(&|_| [load, none, none], &|[x, _, _], _| x)?),
        side: mean(push(&|_| [none, load, none], &|[_, y, _], _| y)?),
        up: mean(push(&|_| [none, none, load], &|[_, _, z], _| z)?),
    })
}
