//! Bolts that are sold, tried one after another for a gear whose bolts are meant to give first.

use super::AnalysisError;
use super::assess::check_one;
use super::families::families;
use super::landing::landing;
use crate::checks;
use crate::loads;
use crate::material::{BoltClass, Library, SOLD_CLASSES, StockForm, Thread};
use crate::model::{Gear, Mount, PartKind, Project};
use crate::results::{FirstSize, Margin, Verdict};
use crate::units::Length;
use std::cmp::Ordering;

/// Classes of plastic bolts.
const PLASTIC: [&str; 1] = ["nylon"];

/// How much thinner and thicker than the bolt of the file a bolt is tried. chosen: beyond, plate and nuts would be other ones too.
const NARROWER: f64 = 0.4;
const WIDER: f64 = 1.7;

/// Tries every bolt that is sold in the system of the file's own for each gear that declares its bolts to give first; those that do
/// and hold their landings come first, the strongest of them at the top. `progress` gets how many of all are done.
///
/// # Errors
/// When a gear has no converged solution.
pub fn first_sizes(
    project: &Project,
    library: &Library,
    progress: &dyn Fn(usize, usize),
) -> Result<Vec<FirstSize>, AnalysisError> {
    let mut tries = Vec::new();
    for (index, gear) in project.gears.iter().enumerate() {
        if let Some(mount) = gear.mount.as_ref().filter(|_| gear.give_first == Some(PartKind::Bolts)) {
            tries.extend(candidates(mount, library).into_iter().map(|c| (index, gear, mount, c)));
        }
    }
    let mut found = Vec::with_capacity(tries.len());
    for (done, (index, gear, mount, (thread, class))) in tries.iter().enumerate() {
        progress(done, tries.len());
        // The hole keeps its play.
        let play = mount.hole_diameter() - mount.bolt.nominal;
        let tried = Gear {
            mount: Some(Mount {
                bolt: (*thread).clone(),
                bolt_class: (*class).clone(),
                hole: (play > Length::default()).then(|| thread.nominal + play),
                ..(*mount).clone()
            }),
            ..(*gear).clone()
        };
        let mut changed = project.clone();
        if let Some(slot) = changed.gears.get_mut(*index) {
            *slot = tried;
        }
        found.push(judged(&changed, library, *index, thread, class)?);
    }
    found.sort_by(|a, b| b.fits.cmp(&a.fits).then_with(|| best_first(a, b)));
    Ok(found)
}

/// Bolts that are sold: thread and class.
fn candidates<'l>(mount: &Mount, library: &'l Library) -> Vec<(&'l Thread, &'l BoltClass)> {
    let near = |t: &Thread| {
        let ratio = f64::from(t.nominal / mount.bolt.nominal);
        let under_flange = mount.nut_flange.is_none_or(|flange| t.nominal < flange);
        t.series == mount.bolt.series && (NARROWER..=WIDER).contains(&ratio) && under_flange
    };
    let mut found = Vec::new();
    for (form, classes) in
        [(StockForm::Bolt, SOLD_CLASSES.as_slice()), (StockForm::NylonBolt, PLASTIC.as_slice())]
    {
        let labels = library.stock.iter().filter(|s| s.form == form).flat_map(|s| &s.labels);
        for thread in labels.filter_map(|name| library.thread(name).ok()).filter(|t| near(t)) {
            let rows = classes.iter().filter_map(|c| library.bolt_class(c, thread.nominal).ok());
            found.extend(rows.map(|class| (thread, class)));
        }
    }
    found
}

fn judged(
    project: &Project,
    library: &Library,
    index: usize,
    thread: &Thread,
    class: &BoltClass,
) -> Result<FirstSize, AnalysisError> {
    let mut margins: Vec<Margin> = Vec::new();
    for one in families(project) {
        let landing = landing(&one, library)?;
        let loads = loads::case_loads(&one, landing.factors);
        margins.extend(check_one(&one, library, index, &loads, landing)?.margins);
    }
    let worst = |wanted: &dyn Fn(&Margin) -> bool| -> Option<Margin> {
        margins.iter().filter(|m| wanted(m)).min_by(|a, b| by_value(a, b)).cloned()
    };
    let bolts = |m: &Margin| checks::find(m.check).is_some_and(|c| c.fails == Some(PartKind::Bolts));
    let first = worst(&|m| m.check == "give-first");
    let holds = worst(&bolts);
    let good = |m: &Margin| m.verdict == Verdict::Holds;
    Ok(FirstSize {
        gear: project.gears.get(index).map_or_else(String::new, |g| g.name.clone()),
        bolt: thread.name.clone(),
        class: class.name.clone(),
        // Where it is to give everywhere it was asked about, there is nothing that it has to hold.
        fits: first.as_ref().is_some_and(good) && holds.as_ref().is_none_or(good),
        holds,
        first,
    })
}

fn by_value(a: &Margin, b: &Margin) -> Ordering {
    let value = |m: &Margin| m.value().unwrap_or(f64::NEG_INFINITY);
    value(a).total_cmp(&value(b))
}

/// By the worse of the two margins, the larger first.
fn best_first(a: &FirstSize, b: &FirstSize) -> Ordering {
    let worse = |s: &FirstSize| {
        let both = [&s.holds, &s.first].into_iter().flatten().filter_map(Margin::value);
        both.fold(f64::INFINITY, f64::min)
    };
    worse(b).total_cmp(&worse(a))
}
