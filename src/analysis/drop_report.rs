//! `gearleg drop`: curves, drops, a test to carry out, and what earlier tests say.

use super::drops::{GearDrops, effective_share};
use super::landing::{carriers, drops, fall, highest, landing, lowest, published_drop, published_speed};
use super::{AnalysisError, CurveRequest, GearStatics, PlateElasticity, PlateYield};
use crate::loads::{self, GearWeight};
use crate::material::Library;
use crate::model::{DropTest, Gear, Project, Taper};
use crate::results::{
    Drop, DropOutcome, DropPlan, DropReading, DropReport, DropTable, DropVerdict, LandingDrop, PlanStep,
    Verdict,
};
use crate::units::{Length, Stress, gravity};
use std::cmp::Ordering;

/// How far the thickness of a sheet may be off. Common practice, no source: 3 to 6 %.
const THICKNESS_BAND: f64 = 0.05;

/// Multiple of the ultimate loads up to which curves are followed at least.
const BEYOND_ULTIMATE: f64 = 1.2;

/// Steps of a plan after the first: shares of the drop it leads up to.
const PLAN: [f64; 3] = [0.5, 0.75, 1.0];

/// Range of stiffness that a reading is looked for in, relative to the file's, and of yield strength, Pa.
const STIFFNESS: (f64, f64) = (0.2, 4.0);
const WEAKEST: f64 = 5e6;
const STRONGEST: f64 = 2e9;

/// Halvings of such a range. chosen: a thousandth of it.
const HALVINGS: usize = 12;

/// What to answer.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct DropRequest {
    /// Only the case with this id; `None` means all that apply.
    pub case: Option<String>,
    /// Points of the curves.
    pub curve: CurveRequest,
    /// Heights of the drops; `None` leaves them to the tool.
    pub heights: Option<Vec<Length>>,
}

/// Answers what a project's gears do when they are dropped.
///
/// `progress` is told of every curve and table that is done, with how many there are.
///
/// # Errors
/// When a gear's geometry makes no frame.
pub fn drop_report(
    project: &Project,
    library: &Library,
    request: &DropRequest,
    progress: &dyn Fn(usize, usize),
) -> Result<DropReport, AnalysisError> {
    let state = landing(project, library)?;
    let factors = state.factors;
    let cases = loads::case_loads(project, factors);
    let asked: Vec<_> = cases
        .iter()
        .filter(|c| request.case.as_ref().is_none_or(|id| c.case.id() == id))
        .filter(|c| c.is_loaded())
        .collect();
    let all = asked.len() + 2 * project.gears.len() + project.drop_tests.len();
    let mut done = 0;
    let mut tick = || {
        done += 1;
        progress(done, all);
    };
    let mut curves = Vec::new();
    for c in asked {
        let Some(gear) = project.gears.get(c.gear) else { continue };
        let elastic = PlateElasticity::of(&gear.plate.metal);
        let statics = GearStatics::new(gear, elastic, PlateYield::of(&gear.plate))?;
        let up_to = request.curve.up_to.max(BEYOND_ULTIMATE * project.landing.ultimate_factor);
        curves.push(statics.curve(&c.case, &c.loads, &CurveRequest { up_to, ..request.curve.clone() }));
        tick();
    }
    let heights = request.heights.clone().unwrap_or_else(|| super::landing::staircase(project, library));
    let tallest = heights.iter().copied().fold(highest(), Length::max);
    let mut tables = Vec::new();
    let mut plans = Vec::new();
    for gear in &project.gears {
        let followed = drops(project, gear, project.landing.wing_lift, tallest)?;
        tables.push(followed.table(&heights));
        tick();
        if carriers(project).iter().any(|g| g.name == gear.name) {
            plans.push(plan(project, gear, &followed)?);
        }
        tick();
    }
    let mut readings = Vec::new();
    for test in &project.drop_tests {
        if let Some(gear) = project.gears.get(test.gear) {
            readings.push(reading(project, gear, test, &heights)?);
        }
        tick();
    }
    let verdicts = verdicts(project, &state.drops, &tables, request.heights.is_some());
    let published = (published_drop(project), published_speed(project));
    Ok(DropReport { curves, tables, plans, readings, landing: state.drops, verdicts, published })
}

/// Ids of the cases of a project that have a load–deflection curve, in their order: those that load a wheel.
///
/// # Errors
/// When a gear's geometry makes no frame.
pub fn case_ids(project: &Project, library: &Library) -> Result<Vec<String>, AnalysisError> {
    let factors = landing(project, library)?.factors;
    let mut ids: Vec<String> = Vec::new();
    for case in loads::case_loads(project, factors).iter().filter(|c| c.is_loaded()) {
        let id = case.case.id();
        if ids.iter().all(|known| known != id) {
            ids.push(id.to_owned());
        }
    }
    Ok(ids)
}

/// Judges each gear by the drops that were asked for, or else by the landing as a drop.
fn verdicts(
    project: &Project,
    landing: &[LandingDrop],
    tables: &[DropTable],
    asked: bool,
) -> Vec<DropVerdict> {
    let mut all = Vec::new();
    for (gear, table) in project.gears.iter().zip(tables) {
        let own = landing.iter().find(|l| l.gear == gear.name);
        let judged: Vec<&Drop> = if asked {
            table.drops.iter().collect()
        } else if let Some(own) = own {
            own.drop.iter().collect()
        } else if let Some(height) = fall(&project.landing.severity) {
            // A staircase leaves out what lies within a hair of a step.
            let off = |d: &Drop| (d.height - height).abs();
            let nearest = |a: &&Drop, b: &&Drop| off(a).partial_cmp(&off(b)).unwrap_or(Ordering::Equal);
            table.drops.iter().min_by(nearest).into_iter().collect()
        } else {
            continue;
        };
        let broken = judged.iter().any(|d| !d.outcome.as_ref().is_some_and(DropOutcome::leaves_no_mark));
        let verdict = if broken || (judged.is_empty() && table.survives.collapses) {
            Verdict::Fails
        } else if judged.is_empty() {
            Verdict::Untold("no drop that was tried makes that load factor".to_owned())
        } else if PlateYield::of(&gear.plate).is_none() {
            Verdict::Untold("the metal's yield strength is not known".to_owned())
        } else {
            Verdict::Holds
        };
        let height = judged.iter().map(|d| d.height).reduce(Length::max);
        all.push(DropVerdict { gear: gear.name.clone(), height, verdict });
    }
    all
}

fn plan(project: &Project, gear: &Gear, followed: &GearDrops<'_>) -> Result<DropPlan, AnalysisError> {
    let lift = project.landing.wing_lift;
    let up_to = fall(&project.landing.severity).unwrap_or_else(|| published_drop(project));
    let [thin, thick] = [1.0 - THICKNESS_BAND, 1.0 + THICKNESS_BAND].map(|factor| {
        let thickness = gear.plate.thickness;
        let plate = crate::model::Plate {
            thickness: Taper { root: factor * thickness.root, tip: factor * thickness.tip },
            ..gear.plate.clone()
        };
        Gear { plate, ..gear.clone() }
    });
    // The metal's strength is that of the sheet as it was bought, whatever its thickness turns out to be.
    let strength = PlateYield::of(&gear.plate);
    let elastic = PlateElasticity::of(&gear.plate.metal);
    let weight = || loads::drop_weight(project, gear);
    let thin = GearDrops::new(&thin, elastic, strength, weight(), lift, up_to)?;
    let thick = GearDrops::new(&thick, elastic, strength, weight(), lift, up_to)?;
    let mass = weight().total() / gravity();
    let first = lowest();
    let after = PLAN.map(|share| share * up_to).into_iter().filter(|h| *h > 1.2 * first);
    let steps = std::iter::once(first.min(up_to)).chain(after).map(|height| {
        let drop = followed.drop(height);
        let relieved =
            drop.outcome.as_ref().map_or(mass, |o| mass * effective_share(height, o.deflection, lift));
        let ends = [thin.drop(height), thick.drop(height)];
        let band = |of: fn(&crate::results::DropOutcome) -> Length| {
            let outcomes = [&drop, &ends[0], &ends[1]].map(|d| d.outcome.as_ref().map(of));
            let all: Option<Vec<Length>> = outcomes.into_iter().collect();
            let all = all?;
            let low = all.iter().copied().reduce(Length::min)?;
            Some((low, all.into_iter().reduce(Length::max)?))
        };
        PlanStep { height, mass: relieved, spread: band(|o| o.spread), set: band(|o| o.set_spread), drop }
    });
    Ok(DropPlan {
        gear: gear.name.clone(),
        mass,
        wing_lift: lift,
        steps: steps.collect(),
        thickness_band: THICKNESS_BAND,
        up_to,
    })
}

/// A gear with other stiffness and strength, as a test was made.
struct Trial<'a> {
    gear: &'a Gear,
    weight: GearWeight,
    lift: f64,
    height: Length,
}

impl Trial<'_> {
    fn drop(&self, stiffness: f64, strength: Option<PlateYield>) -> Result<Drop, AnalysisError> {
        let own = PlateElasticity::of(&self.gear.plate.metal);
        let elastic = PlateElasticity { modulus: stiffness * own.modulus, ..own };
        let followed =
            GearDrops::new(self.gear, elastic, strength, self.weight.clone(), self.lift, self.height)?;
        Ok(followed.drop(self.height))
    }
}

fn reading(
    project: &Project,
    gear: &Gear,
    test: &DropTest,
    heights: &[Length],
) -> Result<DropReading, AnalysisError> {
    let weight = loads::drop_weight(project, gear).of_mass(test.mass);
    let mass = weight.total() / gravity();
    let trial = Trial { gear, weight, lift: test.wing_lift, height: test.height };
    let own = PlateYield::of(&gear.plate);
    let expected = trial.drop(1.0, own)?;

    // Spread falls as stiffness grows, with the strength that the file has.
    let stiffness = match test.spread {
        None => None,
        Some(spread) => {
            let of = |k: f64| -> Result<Option<Length>, AnalysisError> {
                Ok(trial.drop(k, own)?.outcome.map(|o| o.spread))
            };
            let low = falling(STIFFNESS, &of, spread + test.error)?;
            let high = falling(STIFFNESS, &of, spread - test.error)?;
            low.zip(high)
        }
    };
    let middle = stiffness.map_or(1.0, |(a, b)| 0.5 * (a + b));
    // Set falls as strength grows.
    let yield_strength = match test.set {
        None => None,
        Some(set) => {
            let law = |pascals: f64| {
                let own = own.unwrap_or(PlateYield {
                    strength: Stress::default(),
                    slope: Stress::default(),
                    exponent: None,
                });
                PlateYield { strength: super::lift::pascals(pascals), ..own }
            };
            let of = |s: f64| -> Result<Option<Length>, AnalysisError> {
                Ok(trial.drop(middle, Some(law(s)))?.outcome.map(|o| o.set_spread))
            };
            let least = falling((WEAKEST, STRONGEST), &of, set + test.error)?;
            let most =
                if set > test.error { falling((WEAKEST, STRONGEST), &of, set - test.error)? } else { None };
            least.map(|l| (super::lift::pascals(l), most.map(super::lift::pascals)))
        }
    };
    let again = if stiffness.is_some() || yield_strength.is_some() {
        let base = PlateElasticity::of(&gear.plate.metal);
        let elastic = PlateElasticity { modulus: middle * base.modulus, ..base };
        let strength = match yield_strength {
            Some((least, _)) => Some(PlateYield {
                strength: least,
                ..own.unwrap_or(PlateYield { strength: least, slope: Stress::default(), exponent: None })
            }),
            None => own,
        };
        let tallest = heights.iter().copied().fold(highest(), Length::max);
        let weight = loads::drop_weight(project, gear);
        let table: DropTable =
            GearDrops::new(gear, elastic, strength, weight, project.landing.wing_lift, tallest)?
                .table(heights);
        Some(table)
    } else {
        None
    };
    Ok(DropReading {
        gear: gear.name.clone(),
        height: test.height,
        mass,
        expected,
        spread: test.spread,
        set: test.set,
        error: test.error,
        stiffness,
        yield_strength,
        again,
    })
}

/// Where a quantity that falls meets a value; `None` when it does not within the range. A gear that collapses counts as above.
fn falling(
    (from, to): (f64, f64),
    of: &dyn Fn(f64) -> Result<Option<Length>, AnalysisError>,
    value: Length,
) -> Result<Option<f64>, AnalysisError> {
    let above = |x: f64| -> Result<bool, AnalysisError> { Ok(of(x)?.is_none_or(|l| l > value)) };
    if !above(from)? || above(to)? {
        return Ok(None);
    }
    let (mut low, mut high) = (from.ln(), to.ln());
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if above(middle.exp())? {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(Some((0.5 * (low + high)).exp()))
}
