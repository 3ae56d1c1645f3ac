//! Sizes that hold: of what is sold and what the file leaves open, the lightest designs with every margin that is wanted.
//!
//! Every design is read by the reader of the file and judged by the check's own margins; the search only chooses the order and leaves
//! out what can't be an answer. A design is left out when a bound of its least margin from above ([`crate::analysis::Screen::bound`])
//! is less than wanted, or no more than the least margin of a lighter one that holds. Derived: docs/method.md, "Sizes".

mod card;
mod judge;

use crate::analysis::{self, CheckError, Margins};
use crate::crew::each;
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::input::project::{Change, Draft, NewValue, OpenValue};
use crate::material::{Library, System};
use crate::model::{Brace, Position, Project, Wish};
use crate::results::{SizeResult, SizedDesign, SizedGear};
use crate::units::{Mass, Unit};
use judge::{Bound, Depth, Judged, bound, by_value, judge};
use std::cmp::Ordering;
use thiserror::Error;

/// Designs that are tried at most for one gear. chosen: more take minutes.
const MOST_DESIGNS: usize = 100_000;

/// Designs that are told beside the best.
const RUNNERS_UP: usize = 5;

/// Of designs that all fail, those that are followed to see which comes nearest, by their bounds.
const NEAREST: usize = 64;

/// Designs that are judged at a time before what is known is used again. chosen: enough to keep processors at work.
const AT_A_TIME: usize = 16;

/// Why sizes could not be looked for.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SizeError {
    /// The file is wrong.
    #[error("the project file is wrong")]
    Input(Diagnostics),
    /// None of the landings asked for loads the gear.
    #[error("none of the landings asked for loads gear `{0}`")]
    NoCase(String),
    /// A gear has no solution.
    #[error(transparent)]
    Analysis(#[from] analysis::AnalysisError),
}

impl From<Diagnostic> for SizeError {
    fn from(diagnostic: Diagnostic) -> Self {
        Self::Input(Diagnostics(vec![diagnostic]))
    }
}

/// A design: which choice of each open value, and what it comes to.
struct Candidate {
    choices: Vec<usize>,
    project: Project,
    mass: Mass,
    /// What it weighs at most, whatever family an open sheet is of.
    heaviest: Mass,
}

/// One gear's open values with everything that is needed to read its designs.
struct Group<'a> {
    draft: &'a Draft,
    library: &'a Library,
    gear: usize,
    open: &'a [OpenValue],
    /// What the other gears' open values are taken to be.
    others: &'a [Change],
}

/// Looks for sizes. With `card` what is on sale is gone through for each of these gears as well, metal by metal.
///
/// Beside what was found stands what the reader doubts about the file with those sizes. `progress` gets how much is done and how much
/// there is.
///
/// # Errors
/// When the file is wrong beyond what it leaves open, or no gear can be analysed.
pub fn size(
    draft: &Draft,
    library: &Library,
    card: bool,
    progress: &dyn Fn(usize, usize),
) -> Result<(SizeResult, Vec<Diagnostic>), SizeError> {
    // Sizes in the wrong system would not be found open: those of the file itself come first.
    let any = draft.open_values(library, &System::ALL).map_err(SizeError::Input)?;
    let (first, probe) = first_project(draft, library, &any)?;
    let sold = sold(&probe);
    let mut open = draft.open_values(library, &sold).map_err(SizeError::Input)?;
    let nothing_open = open.is_empty();
    if nothing_open {
        open = usual_questions(draft, library, &probe, &sold);
    }
    let mut told = first.clone();
    let mut fixed = first;
    let mut result = SizeResult { gears: Vec::new(), project: probe.clone(), nothing_open };
    for index in order(&probe) {
        let Some(gear) = probe.gears.get(index) else { continue };
        let own: Vec<OpenValue> = open.iter().filter(|o| o.gear == gear.name).cloned().collect();
        if own.is_empty() {
            continue;
        }
        let others: Vec<Change> =
            fixed.iter().filter(|c| !own.iter().any(|o| o.key == c.key)).cloned().collect();
        let group = Group { draft, library, gear: index, open: &own, others: &others };
        let (mut sized, chosen) = group.search(progress)?;
        if card {
            let base = chosen.as_ref().unwrap_or(&probe);
            let braces = wires(draft, library, &fixed, index);
            sized.card = card::card(base, library, index, &braces, &sold, progress);
        }
        // The gears that follow are looked for beside the best of this one.
        if let Some(best) = &sized.best {
            take(&mut fixed, best, &own);
        }
        if let Some(design) = sized.best.as_ref().or(sized.nearest.as_ref()) {
            take(&mut told, design, &own);
        }
        if let Some(chosen) = chosen {
            result.project = chosen;
        }
        result.gears.push(sized);
    }
    result.gears.sort_by_key(|g| probe.gears.iter().position(|p| p.name == g.gear));
    let doubts = draft.read(library, &told).map_or_else(|_| Vec::new(), |(_, doubts)| doubts);
    Ok((result, doubts))
}

/// Takes a design's values, out of the choices there were, into a list of changes.
fn take(changes: &mut Vec<Change>, design: &SizedDesign, open: &[OpenValue]) {
    for (key, value) in &design.changes {
        changes.retain(|c| c.key != *key);
        changes.extend(open.iter().filter(|o| o.key == *key).flat_map(|o| {
            let chosen = o.choices.iter().find(|c| written(c) == *value);
            chosen.map(|to| Change { key: key.clone(), to: to.clone() })
        }));
    }
}

/// The first project that can be read, with the changes that make it; the file's own mistakes where there is none.
fn first_project(
    draft: &Draft,
    library: &Library,
    open: &[OpenValue],
) -> Result<(Vec<Change>, Project), SizeError> {
    // Each open value in turn goes through its choices until the reader has nothing to say about it.
    let mut changes: Vec<Change> = open
        .iter()
        .filter_map(|o| Some(Change { key: o.key.clone(), to: o.choices.first()?.clone() }))
        .collect();
    let mut best = draft.read(library, &changes);
    for (index, value) in open.iter().enumerate() {
        for choice in value.choices.iter().skip(1) {
            let Err(wrong) = &best else { break };
            let mut tried = changes.clone();
            if let Some(change) = tried.get_mut(index) {
                change.to = choice.clone();
            }
            let found = draft.read(library, &tried);
            let fewer = found.as_ref().map_or_else(|w| w.0.len() < wrong.0.len(), |_| true);
            if fewer {
                best = found;
                changes = tried;
            }
        }
    }
    match best {
        Ok((project, _)) => Ok((changes, project)),
        Err(wrong) => Err(SizeError::Input(wrong)),
    }
}

/// The systems in which sizes are looked for: those asked for, or that in which the file writes its lengths.
fn sold(project: &Project) -> Vec<System> {
    if !project.wish.sold.is_empty() {
        return project.wish.sold.clone();
    }
    let inches = |u: &&Unit| matches!(u, Unit::Inch | Unit::Foot | Unit::Thou);
    let metric = |u: &&Unit| matches!(u, Unit::Millimetre | Unit::Centimetre | Unit::Metre);
    let count = |of: &dyn Fn(&&Unit) -> bool| project.written_units.iter().filter(|u| of(u)).count();
    if count(&inches) > count(&metric) { vec![System::Inch] } else { vec![System::Metric] }
}

/// What is looked for in a file that leaves nothing open: each gear's thickness, and whether its wires are needed.
fn usual_questions(draft: &Draft, library: &Library, project: &Project, sold: &[System]) -> Vec<OpenValue> {
    let changes: Vec<Change> = project.gears.iter().flat_map(|gear| draft.usual_questions(gear)).collect();
    draft.changed(&changes).open_values(library, sold).unwrap_or_default()
}

/// The wires that a gear of the file has or may have.
fn wires(draft: &Draft, library: &Library, others: &[Change], gear: usize) -> Vec<Brace> {
    let fitted = draft.fitted(gear);
    let changes: Vec<Change> = others
        .iter()
        .filter(|c| !fitted.iter().any(|f| f.key == c.key))
        .cloned()
        .chain(fitted.iter().cloned())
        .collect();
    let read = draft.read(library, &changes);
    read.ok().and_then(|(p, _)| p.gears.get(gear).map(|g| g.braces.clone())).unwrap_or_default()
}

/// The gears in the order in which they are looked for: those that carry the landing first, for the load factor may follow from them.
fn order(project: &Project) -> Vec<usize> {
    let mut order: Vec<usize> = (0..project.gears.len()).collect();
    let carries = |i: &usize| project.gears.get(*i).is_some_and(|g| g.position == Position::Main);
    order.sort_by_key(|i| !carries(i));
    order
}

/// Of designs that hold, lightest first, the numbers of those that a report tells: the first few, and every one that is stronger than
/// all before it, which is said with it. Beyond what a search follows none counts as stronger than another.
fn worth_telling(found: &[(usize, Judged)], wanted: f64) -> impl Iterator<Item = (usize, bool)> {
    let mut strongest = f64::NEG_INFINITY;
    found.iter().enumerate().filter_map(move |(k, (_, judged))| {
        let value = judged.least.value().map_or(f64::NEG_INFINITY, |v| v.min(followed_to(wanted)));
        let stronger = value > strongest;
        strongest = strongest.max(value);
        (stronger || k <= RUNNERS_UP).then_some((k, stronger))
    })
}

/// The margin up to which a search tells all of them exactly.
fn followed_to(wanted: f64) -> f64 {
    analysis::told_up_to("limit-load").unwrap_or(f64::INFINITY) + wanted
}

/// A choice as a report writes it.
fn written(value: &NewValue) -> String {
    match value {
        NewValue::Text(text) => text.clone(),
        NewValue::Number(number) => format!("{number}"),
        NewValue::Nothing => String::new(),
    }
}

impl Group<'_> {
    fn changes(&self, choices: &[usize]) -> Vec<Change> {
        let own = self.open.iter().zip(choices);
        own.filter_map(|(o, i)| Some(Change { key: o.key.clone(), to: o.choices.get(*i)?.clone() }))
            .chain(self.others.iter().cloned())
            .collect()
    }

    /// How a design is told: a brace that is not fitted has no other value.
    fn told(&self, choices: &[usize]) -> Vec<(String, String)> {
        let own = self.open.iter().zip(choices);
        let all: Vec<(String, String)> =
            own.filter_map(|(o, i)| Some((o.key.clone(), written(o.choices.get(*i)?)))).collect();
        let left_out = |key: &str| {
            key.rsplit_once('.').is_some_and(|(section, name)| {
                let fitted = format!("{section}.fitted");
                name != "fitted" && all.iter().any(|(k, v)| *k == fitted && v == "no")
            })
        };
        all.iter().filter(|(key, _)| !left_out(key)).cloned().collect()
    }

    /// The combination of a number, the last value changing fastest; `None` where it says the same as another one.
    fn combination(&self, mut number: usize) -> Option<Vec<usize>> {
        let mut choices: Vec<usize> = self
            .open
            .iter()
            .rev()
            .map(|o| {
                let count = o.choices.len().max(1);
                let choice = number % count;
                number /= count;
                choice
            })
            .collect();
        choices.reverse();
        // Without the brace its other values don't matter: one of them stands for all.
        let repeats = self.open.iter().zip(&choices).any(|(value, choice)| {
            let Some((section, name)) = value.key.rsplit_once('.') else { return false };
            let fitted = format!("{section}.fitted");
            let left_out = self
                .open
                .iter()
                .zip(&choices)
                .any(|(o, i)| o.key == fitted && o.choices.get(*i).is_some_and(|c| written(c) == "no"));
            name != "fitted" && *choice != 0 && left_out
        });
        (!repeats).then_some(choices)
    }

    fn search(&self, progress: &dyn Fn(usize, usize)) -> Result<(SizedGear, Option<Project>), SizeError> {
        let count = self.open.iter().try_fold(1_usize, |n, o| n.checked_mul(o.choices.len()));
        let count = count.filter(|n| *n <= MOST_DESIGNS).ok_or_else(|| self.too_many())?;
        let combinations: Vec<Vec<usize>> = (0..count).filter_map(|n| self.combination(n)).collect();
        let all = combinations.len();
        let read = each(
            all,
            |i| {
                let choices = combinations.get(i).cloned().unwrap_or_default();
                let read = self.draft.read(self.library, &self.changes(&choices));
                read.map(|(project, _)| self.candidate(choices, project))
            },
            &|_| (),
        );
        let mut sized = self.empty(all);
        let (mut candidates, mut refusals) = (Vec::new(), Vec::new());
        for found in read {
            match found {
                Ok(candidate) => candidates.push(candidate),
                Err(wrong) => refusals.push(wrong),
            }
        }
        if let Some(first) = refusals.first().cloned() {
            if candidates.is_empty() {
                return Err(SizeError::Input(first));
            }
            let why = first.0.first().map(|d| d.message.clone()).unwrap_or_default();
            sized.refused = Some((refusals.len(), why));
        }
        let wish = candidates.first().map(|c| c.project.wish.clone()).unwrap_or_default();
        let built = candidates.len();
        candidates.retain(|c| wish.most_mass.is_none_or(|most| c.heaviest <= most));
        sized.too_heavy = built - candidates.len();
        candidates.sort_by(|a, b| {
            a.mass.partial_cmp(&b.mass).unwrap_or(Ordering::Equal).then_with(|| a.choices.cmp(&b.choices))
        });
        let bounds = each(
            candidates.len(),
            |i| candidates.get(i).map_or(Bound::Unsolved, |c| bound(&c.project, self.gear, wish.margin)),
            &|done| progress(done, candidates.len()),
        );
        sized.unsolved = bounds.iter().filter(|b| **b == Bound::Unsolved).count();
        // What the whole check refuses no longer stands in the way of others, so that the search begins anew without it.
        let mut refused: Vec<(usize, Judged)> = Vec::new();
        loop {
            let mut sized = sized.clone();
            let before = refused.len();
            let left = |i: usize| !refused.iter().any(|(r, _)| *r == i);
            let found = self.lightest(&candidates, &bounds, &wish, &left, &mut sized, progress)?;
            let told = self.tell(&candidates, &bounds, &wish, found, &mut refused, sized)?;
            if refused.len() == before {
                return Ok(told);
            }
        }
    }

    fn candidate(&self, choices: Vec<usize>, project: Project) -> Candidate {
        let weighs = |project: &Project| {
            let gear = project.gears.get(self.gear);
            gear.map_or_else(Mass::default, |g| g.mass(analysis::unknown_density()).total())
        };
        let mass = weighs(&project);
        let heaviest = analysis::families(&project).iter().map(weighs).fold(mass, Mass::max);
        Candidate { choices, project, mass, heaviest }
    }

    fn too_many(&self) -> SizeError {
        let refused = Diagnostic::error(
            "too-many",
            format!("what is left open makes more than {MOST_DESIGNS} designs of one gear"),
        )
        .help("leave fewer values open, or give ranges and lists that are shorter");
        let at = self.open.first().map(|o| o.at.clone());
        match at {
            Some(place) => refused.at(&place.source, place.span).into(),
            None => refused.into(),
        }
    }

    /// The gear's name, by its open values.
    fn name(&self) -> String {
        self.open.first().map(|o| o.gear.clone()).unwrap_or_default()
    }

    fn no_case(&self) -> SizeError {
        SizeError::NoCase(self.name())
    }

    fn empty(&self, designs: usize) -> SizedGear {
        SizedGear {
            gear: self.name(),
            open: self.open.iter().map(|o| (o.key.clone(), o.choices.len())).collect(),
            designs,
            refused: None,
            unsolved: 0,
            too_heavy: 0,
            followed: 0,
            best: None,
            runners_up: Vec::new(),
            front: Vec::new(),
            nearest: None,
            card: Vec::new(),
        }
    }

    /// Goes through the designs from the lightest up; those that hold come out with their margins, lightest first.
    fn lightest(
        &self,
        candidates: &[Candidate],
        bounds: &[Bound],
        wish: &Wish,
        left: &dyn Fn(usize) -> bool,
        sized: &mut SizedGear,
        progress: &dyn Fn(usize, usize),
    ) -> Result<Vec<(usize, Judged)>, SizeError> {
        let mut holding: Vec<(usize, Judged)> = Vec::new();
        let mut strongest = f64::NEG_INFINITY;
        let mut next = 0;
        loop {
            let enough = holding.len() > RUNNERS_UP;
            let may = |i: &usize| {
                left(*i)
                    && bounds.get(*i).is_some_and(|b| {
                        b.allows(wish.margin) && (!enough || matches!(b, Bound::AtMost(m) if *m > strongest))
                    })
            };
            let batch: Vec<usize> = (next..candidates.len()).filter(may).take(AT_A_TIME).collect();
            let Some(last) = batch.last() else { break };
            next = last + 1;
            let judged = each(
                batch.len(),
                |k| {
                    let candidate = batch.get(k).and_then(|i| candidates.get(*i))?;
                    Some(judge(&candidate.project, self.gear, wish.margin, Depth::Least))
                },
                &|_| progress(next, candidates.len()),
            );
            sized.followed += batch.len();
            for (i, outcome) in batch.iter().zip(judged) {
                match outcome {
                    Some(Ok(Some(judged))) if judged.holds => {
                        strongest = strongest.max(judged.least.value().unwrap_or(strongest));
                        holding.push((*i, judged));
                    }
                    Some(Err(CheckError::NoCase)) => return Err(self.no_case()),
                    Some(Err(CheckError::Analysis(_))) => sized.unsolved += 1,
                    _ => {}
                }
            }
        }
        Ok(holding)
    }

    /// Puts what was found in the order of the report, lightest first. What is told has passed the whole check, whose shorter steps see
    /// what the long ones of the search may have passed over.
    fn tell(
        &self,
        candidates: &[Candidate],
        bounds: &[Bound],
        wish: &Wish,
        mut found: Vec<(usize, Judged)>,
        refused: &mut Vec<(usize, Judged)>,
        mut sized: SizedGear,
    ) -> Result<(SizedGear, Option<Project>), SizeError> {
        // Designs that have passed.
        let mut known: Vec<usize> = Vec::new();
        loop {
            // Of those that weigh the same the strongest comes first.
            let mass = |i: &usize| candidates.get(*i).map(|c| c.mass);
            found.sort_by(|(a, first), (b, second)| {
                let lighter = mass(a).partial_cmp(&mass(b)).unwrap_or(Ordering::Equal);
                lighter.then_with(|| by_value(&second.least, &first.least))
            });
            let told = worth_telling(&found, wish.margin).filter_map(|(k, _)| found.get(k).map(|(i, _)| *i));
            let doubtful: Vec<usize> = told.filter(|i| !known.contains(i)).collect();
            if doubtful.is_empty() {
                break;
            }
            let checked = each(
                doubtful.len(),
                |n| Some(self.checked(&candidates.get(*doubtful.get(n)?)?.project, wish)),
                &|_| (),
            );
            for (i, checked) in doubtful.into_iter().zip(checked) {
                let checked = checked.transpose()?.flatten();
                let Some(place) = found.iter().position(|(j, _)| *j == i) else { continue };
                if let Some((_, judged)) = found.get_mut(place) {
                    *judged = match checked {
                        Some(checked) => checked,
                        // What the check has no answer for has no margin that is known.
                        None => Judged { known: None, holds: false, ..judged.clone() },
                    };
                    if judged.holds {
                        known.push(i);
                        continue;
                    }
                }
                refused.push(found.remove(place));
            }
        }
        let mut chosen = None;
        for (k, stronger) in worth_telling(&found, wish.margin) {
            let Some((i, judged)) = found.get(k) else { continue };
            let Some(candidate) = candidates.get(*i) else { continue };
            let design = self.design(candidate, judged.clone());
            if stronger {
                sized.front.push(design.clone());
            }
            if sized.best.is_none() {
                sized.best = Some(design);
                chosen = Some(candidate.project.clone());
            } else if sized.runners_up.len() < RUNNERS_UP {
                sized.runners_up.push(design);
            }
        }
        if sized.best.is_none() {
            let nearest = self.nearest(candidates, bounds, wish, refused)?;
            chosen = nearest.as_ref().and_then(|(i, _)| candidates.get(*i)).map(|c| c.project.clone());
            sized.nearest = nearest
                .and_then(|(i, judged)| candidates.get(i).map(|candidate| self.design(candidate, judged)));
        }
        Ok((sized, chosen))
    }

    /// The design judged by the whole check; `None` where that has no answer.
    fn checked(&self, project: &Project, wish: &Wish) -> Result<Option<Judged>, SizeError> {
        match analysis::gear_margins(project, self.library, self.gear) {
            Ok(Margins { factors, margins }) => Ok(Judged::of(factors, margins, wish)),
            Err(CheckError::Analysis(_)) => Ok(None),
            Err(CheckError::NoCase) => Err(self.no_case()),
        }
    }

    fn design(&self, candidate: &Candidate, judged: Judged) -> SizedDesign {
        let at_least = matches!(judged.least.check, "limit-load" | "landing-energy")
            && judged.least.working.notes.iter().any(|n| n.contains("at least this"));
        SizedDesign {
            changes: self.told(&candidate.choices),
            mass: candidate.mass,
            factors: judged.factors,
            binding: judged.least,
            at_least,
        }
    }

    /// Of designs that all fail the one whose least margin is the largest, as far as the bounds let it be seen; of those that can't be
    /// told the known margins count. What the whole check has refused is known already.
    fn nearest(
        &self,
        candidates: &[Candidate],
        bounds: &[Bound],
        wish: &Wish,
        refused: &[(usize, Judged)],
    ) -> Result<Option<(usize, Judged)>, SizeError> {
        let value = |i: &usize| match bounds.get(*i) {
            Some(Bound::AtMost(bound)) => *bound,
            Some(Bound::Open) => f64::INFINITY,
            Some(Bound::Unsolved) | None => f64::NEG_INFINITY,
        };
        let known = |j: &Judged| j.known.unwrap_or(f64::NEG_INFINITY);
        let mut order: Vec<usize> = (0..candidates.len())
            .filter(|i| value(i) > f64::NEG_INFINITY && !refused.iter().any(|(r, _)| r == i))
            .collect();
        order.sort_by(|a, b| value(b).total_cmp(&value(a)));
        let mounted = |i: &usize| {
            let gear = candidates.get(*i).and_then(|c| c.project.gears.get(self.gear));
            gear.is_some_and(|gear| gear.mount.is_some())
        };
        // A gear on its mount takes as long as ten that are clamped.
        order.truncate(if order.iter().any(mounted) { AT_A_TIME } else { NEAREST });
        let mut best: Option<(usize, Judged)> =
            refused.iter().max_by(|(_, a), (_, b)| known(a).total_cmp(&known(b))).cloned();
        for batch in order.chunks(AT_A_TIME) {
            let beaten = |i: &usize| best.as_ref().is_some_and(|(_, b)| known(b) >= value(i));
            if batch.first().is_some_and(beaten) {
                break;
            }
            let judged = each(
                batch.len(),
                |n| {
                    let candidate = candidates.get(*batch.get(n)?)?;
                    Some(judge(&candidate.project, self.gear, wish.margin, Depth::Whole))
                },
                &|_| (),
            );
            for (i, outcome) in batch.iter().zip(judged) {
                match outcome {
                    Some(Ok(Some(judged)))
                        if best.as_ref().is_none_or(|(_, b)| known(&judged) > known(b)) =>
                    {
                        best = Some((*i, judged));
                    }
                    Some(Err(CheckError::NoCase)) => return Err(self.no_case()),
                    _ => {}
                }
            }
        }
        // What is told of it is told by the whole check, as of the others.
        Ok(match best {
            Some((i, judged)) if !refused.iter().any(|(r, _)| *r == i) => {
                let project = candidates.get(i).map(|c| &c.project);
                let checked = project.map(|project| self.checked(project, wish)).transpose()?.flatten();
                Some((i, checked.unwrap_or(judged)))
            }
            best => best,
        })
    }
}
