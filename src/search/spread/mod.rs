//! Honest spread: what the margins come to when nothing is quite what the file says.
//!
//! Every value with a tolerance and every strength is drawn many times over, each draw is made into a project by the reader of the file
//! and checked like any other, and what comes out is counted.

mod laws;
mod points;
mod scatter;
mod statistics;

pub use laws::{Law, normal_quantile};
pub use points::{Points, SETS};
pub use statistics::{chance, likely, quantile, shares};

use crate::analysis::{self, CheckError};
use crate::crew::each_on;
use crate::diagnostic::Severity;
use crate::input::project::Draft;
use crate::material::Library;
use crate::model::{PlateMetal, Project, ToleranceOrigin};
use crate::results::{Cause, Margin, MarginSpread, Spread, SpreadInput, Verdict};
use scatter::{Part, Scatter, apply, scatter};
use std::collections::BTreeMap;
use std::num::NonZero;

/// Elements along each leg in a sample of a gear whose legs are clamped and free of wires, and of any other. chosen: a fifth and a half of the
/// check's; what is then misjudged [`Corrections`] take out but for less than 1 %.
const FEW: usize = 5;
const MORE: usize = 12;

/// Elements along each leg in the samples of a project.
#[must_use]
pub fn sample_elements(project: &Project) -> usize {
    let stiffened = project.gears.iter().any(|gear| !gear.braces.is_empty() || gear.mount.is_some());
    if stiffened { MORE } else { FEW }
}

/// The largest correction, as a share of how far a part is used. chosen: more than ten times what the examples need.
const MOST_CORRECTED: f64 = 0.08;

/// How many samples to draw, and of what.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Request {
    /// At least so many; see [`Points::new`].
    pub samples: usize,
    /// The same seed draws the same samples.
    pub seed: u64,
    /// Whether only tolerances that the file states count: no usual ones, no scatter of materials, no range of an arrival.
    pub only_written: bool,
    /// Threads to work on; `None`: as many as the machine has. The answer does not depend on it.
    pub threads: Option<NonZero<usize>>,
}

/// Something that varies: how it is told, how likely it is off, and where it goes.
struct Input {
    told: SpreadInput,
    law: Law,
    goes: Goes,
}

enum Goes {
    /// Into the reader, by its dotted key.
    Value,
    /// Into the project that was read.
    Project(Part),
}

/// What one sample came to.
enum Outcome {
    /// The reader refuses it.
    Refused(String),
    /// It has no answer.
    Unsolved,
    /// The worst of each margin.
    Found(BTreeMap<Group, Told>),
}

/// Margins that are told as one: of a check and a part, in whatever landing is worst.
type Group = (String, &'static str, String);

/// The worst of a group in one sample.
#[derive(Debug, Clone, Copy, Default)]
struct Told {
    margin: Option<f64>,
    fails: bool,
}

/// Checks a project many times over, with values that are off as they may be; `progress` gets how many samples of all are done.
///
/// `project` is the draft as it was read. Each sample takes its own place in the unit cube ([`Points`]), so neither their order nor the
/// number of threads changes anything.
pub fn spread(
    draft: &Draft,
    project: &Project,
    library: &Library,
    request: &Request,
    progress: &dyn Fn(usize, usize),
) -> Spread {
    let inputs = inputs(project, request.only_written);
    let points = Points::new(inputs.len(), request.samples, request.seed);
    let corrections = Corrections::of(project);
    let sample = |point: &[f64]| one_sample(draft, library, &inputs, &corrections, point);
    let outcomes = each_point(&points, request.threads, sample, progress);
    let mut told = summary(&points, &inputs, &outcomes);
    told.seed = request.seed;
    told.only_written = request.only_written;
    let unknown = project.gears.iter().filter(|gear| gear.plate.metal == PlateMetal::Unknown);
    told.unknown_metals = unknown.map(|gear| gear.name.clone()).collect();
    told
}

/// All that varies.
fn inputs(project: &Project, only_written: bool) -> Vec<Input> {
    let values = project.tolerances.iter().filter(|t| {
        t.room.0 < t.room.1 && !["drop_test.", "bench_test."].iter().any(|own| t.key.starts_with(own))
    });
    let values = values.filter_map(|tolerance| {
        let why = match tolerance.origin {
            ToleranceOrigin::Written => "as the file says",
            ToleranceOrigin::Usual(_) if only_written => return None,
            ToleranceOrigin::Usual(why) => why,
        };
        let (least, most) = tolerance.room;
        Some(Input {
            told: SpreadInput {
                key: tolerance.key.clone(),
                words: tolerance.words.clone(),
                why: why.to_owned(),
            },
            law: Law::Tolerance { least, most },
            goes: Goes::Value,
        })
    });
    let materials = if only_written { Vec::new() } else { scatter(project) };
    let materials = materials.into_iter().map(|Scatter { part, law, input }| Input {
        told: input,
        law,
        goes: Goes::Project(part),
    });
    values.chain(materials).collect()
}

/// Works out every point on all threads; what comes out is in the order of the points.
///
/// `progress` is called by the caller's own thread.
pub fn each_point<T: Send>(
    points: &Points,
    threads: Option<NonZero<usize>>,
    evaluate: impl Fn(&[f64]) -> T + Sync,
    progress: &dyn Fn(usize, usize),
) -> Vec<T> {
    let count = points.len();
    each_on(threads, count, |index| evaluate(&points.point(index)), &|done| progress(done, count))
}

/// The margins of one sample: the one place that says what is worked out for it.
fn margins(project: &Project) -> Result<Vec<Margin>, CheckError> {
    analysis::margins_with_elements(project, sample_elements(project)).map(|found| found.margins)
}

/// The largest margin of a check that is told exactly.
fn told_up_to(check: &str) -> f64 {
    analysis::told_up_to(check).unwrap_or(f64::INFINITY)
}

/// The worst margin of each group. One that is told as some margin above what is followed counts as that.
fn by_group(margins: Vec<Margin>) -> BTreeMap<Group, Told> {
    let mut found: BTreeMap<Group, Told> = BTreeMap::new();
    for margin in margins {
        let most = told_up_to(margin.check);
        let value = margin.value().map(|value| value.min(most));
        let told = found.entry((margin.gear, margin.check, margin.part)).or_default();
        told.fails |= margin.verdict == Verdict::Fails;
        told.margin = match (told.margin, value) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        };
    }
    found
}

/// By how much the few elements of a sample misjudge how far each part is used, as found from the file as it is written, which is
/// checked both ways.
struct Corrections(BTreeMap<Group, f64>);

impl Corrections {
    fn of(project: &Project) -> Self {
        let (Ok(fine), Ok(coarse)) = (analysis::margins(project), margins(project)) else {
            return Self(BTreeMap::new());
        };
        let coarse = by_group(coarse);
        let factor = |(group, fine): (Group, Told)| {
            let most = told_up_to(group.1);
            let exact = |told: &Told| told.margin.filter(|m| *m > -1.0 && *m < most);
            let factor = (1.0 + exact(&fine)?) / (1.0 + exact(coarse.get(&group)?)?);
            // Further apart, the two have not seen the same thing happen.
            ((factor - 1.0).abs() <= MOST_CORRECTED).then_some((group, factor))
        };
        Self(by_group(fine.margins).into_iter().filter_map(factor).collect())
    }

    /// A sample's margin as the check's elements would have it.
    fn apply(&self, group: &Group, told: &mut Told) {
        let most = told_up_to(group.1);
        if let (Some(factor), Some(margin)) = (self.0.get(group), told.margin)
            && margin < most
        {
            let margin = (factor * (1.0 + margin) - 1.0).min(most);
            *told = Told { margin: Some(margin), fails: margin < 0.0 };
        }
    }
}

fn one_sample(
    draft: &Draft,
    library: &Library,
    inputs: &[Input],
    corrections: &Corrections,
    point: &[f64],
) -> Outcome {
    let drawn: Vec<f64> = inputs.iter().zip(point).map(|(input, at)| input.law.quantile(*at)).collect();
    let deviations = inputs
        .iter()
        .zip(&drawn)
        .filter(|(input, _)| matches!(input.goes, Goes::Value))
        .map(|(input, by)| (input.told.key.clone(), *by))
        .collect();
    let mut project = match draft.sampled(library, &deviations) {
        Ok(project) => project,
        Err(refused) => {
            let first = refused.0.into_iter().find(|d| d.severity == Severity::Error);
            return Outcome::Refused(first.map(|d| d.message).unwrap_or_default());
        }
    };
    for (input, by) in inputs.iter().zip(&drawn) {
        if let Goes::Project(part) = input.goes {
            apply(&mut project, part, *by);
        }
    }
    let Ok(margins) = margins(&project) else { return Outcome::Unsolved };
    let mut found = by_group(margins);
    for (group, told) in &mut found {
        corrections.apply(group, told);
    }
    Outcome::Found(found)
}

/// Counts what came out.
fn summary(points: &Points, inputs: &[Input], outcomes: &[Outcome]) -> Spread {
    let answered: Vec<(usize, &BTreeMap<Group, Told>)> = outcomes
        .iter()
        .enumerate()
        .filter_map(|(index, outcome)| match outcome {
            Outcome::Found(found) => Some((index, found)),
            Outcome::Refused(_) | Outcome::Unsolved => None,
        })
        .collect();
    let places: Vec<Vec<f64>> = answered.iter().map(|(index, _)| points.point(*index)).collect();
    let causes = |margins: &[Option<f64>]| causes(inputs, &places, margins);
    let mut groups: BTreeMap<&Group, ()> = BTreeMap::new();
    for (_, found) in &answered {
        groups.extend(found.keys().map(|group| (group, ())));
    }
    let mut margins: Vec<MarginSpread> = groups
        .into_keys()
        .map(|group| {
            let (gear, check, part) = group;
            let told: Vec<Told> =
                answered.iter().map(|(_, found)| found.get(group).copied().unwrap_or_default()).collect();
            let values: Vec<Option<f64>> = told.iter().map(|t| t.margin).collect();
            let sets = answered.iter().map(|(index, _)| points.set_of(*index));
            MarginSpread {
                check,
                gear: gear.clone(),
                part: part.clone(),
                likely: likely(values.iter().copied().flatten().collect()),
                fails: chance(sets.zip(told.iter().map(|t| t.fails))),
                told_up_to: analysis::told_up_to(check),
                untold: values.iter().filter(|value| value.is_none()).count(),
                causes: causes(&values),
            }
        })
        .collect();
    margins.sort_by(|a, b| {
        let median = |m: &MarginSpread| m.likely.map_or(f64::INFINITY, |l| l.p50);
        let low = |m: &MarginSpread| m.likely.map_or(f64::INFINITY, |l| l.p05);
        let chances = b.fails.estimate.total_cmp(&a.fails.estimate);
        chances.then(low(a).total_cmp(&low(b))).then(median(a).total_cmp(&median(b)))
    });
    let smallest: Vec<Option<f64>> = answered
        .iter()
        .map(|(_, found)| found.values().filter_map(|told| told.margin).reduce(f64::min))
        .collect();
    let any = answered.iter().map(|(index, found)| (points.set_of(*index), found.values().any(|t| t.fails)));
    let refused = |outcome: &Outcome| match outcome {
        Outcome::Refused(message) => Some(message.clone()),
        Outcome::Unsolved | Outcome::Found(_) => None,
    };
    Spread {
        samples: points.len(),
        refused: outcomes.iter().filter_map(refused).count(),
        first_refusal: outcomes.iter().find_map(refused),
        unsolved: outcomes.iter().filter(|outcome| matches!(outcome, Outcome::Unsolved)).count(),
        seed: 0,
        only_written: false,
        inputs: inputs.iter().map(|input| input.told.clone()).collect(),
        unknown_metals: Vec::new(),
        any_fails: chance(any),
        smallest: likely(smallest.iter().copied().flatten().collect()),
        causes: causes(&smallest),
        margins,
    }
}

/// What makes a margin spread: the shares of how far the part is used, 1/(1 + margin), which stays finite where a margin does not.
fn causes(inputs: &[Input], places: &[Vec<f64>], margins: &[Option<f64>]) -> Vec<Cause> {
    let told = || places.iter().zip(margins).filter_map(|(place, margin)| Some((place, (*margin)?)));
    let places: Vec<Vec<f64>> = told().map(|(place, _)| place.clone()).collect();
    let used: Vec<f64> = told().map(|(_, margin)| 1.0 / (1.0 + margin)).collect();
    let mut causes: Vec<Cause> = inputs
        .iter()
        .zip(shares(&places, &used))
        .map(|(input, share)| Cause { key: input.told.key.clone(), share })
        .collect();
    causes.sort_by(|a, b| b.share.total_cmp(&a.share));
    causes
}
