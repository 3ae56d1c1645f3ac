//! Whether one design holds, by the check's own margins, and how it is found out with little work.

use crate::analysis::{CheckError, Screen, told_up_to};
use crate::model::{Project, Wish};
use crate::results::{LandingFactors, Margin};
use std::cmp::Ordering;

/// What is known of a design's least margin before all of its margins are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Bound {
    /// It is no more than this.
    AtMost(f64),
    /// Nothing.
    Open,
    /// There is no converged solution.
    Unsolved,
}

impl Bound {
    /// Whether the design can still have a least margin of `wanted`.
    pub(super) fn allows(self, wanted: f64) -> bool {
        match self {
            Self::AtMost(bound) => bound >= wanted,
            Self::Open => true,
            Self::Unsolved => false,
        }
    }
}

/// The bound of one gear's least margin: that of [`Screen::bound`], or a margin that does not depend on how the gear bends.
pub(super) fn bound(project: &Project, gear: usize, wanted: f64) -> Bound {
    let found = Screen::new(project, gear, wanted).and_then(|mut screen| {
        let stays_bent = screen.bound()?;
        // What needs no landing to be followed is known at once.
        let shop = screen.more()?.into_iter().flatten().filter(|m| told_up_to(m.check).is_none());
        Ok(shop.filter_map(|m| m.value()).chain(stays_bent).reduce(f64::min))
    });
    match found {
        Ok(Some(bound)) => Bound::AtMost(bound),
        Ok(None) | Err(CheckError::NoCase) => Bound::Open,
        Err(CheckError::Analysis(_)) => Bound::Unsolved,
    }
}

/// The least margin of a design, or the first that was found to be less than wanted.
#[derive(Debug, Clone)]
pub(super) struct Judged {
    pub(super) factors: LandingFactors,
    /// Least margin; one that can't be told counts as less than any.
    pub(super) least: Margin,
    /// The least of those that can be told; `None` where none can.
    pub(super) known: Option<f64>,
    pub(super) holds: bool,
}

impl Judged {
    /// By all of a gear's margins; `None` where it has none.
    pub(super) fn of(factors: LandingFactors, margins: Vec<Margin>, wish: &Wish) -> Option<Self> {
        let known = margins.iter().filter_map(Margin::value).reduce(f64::min);
        let least = margins.into_iter().min_by(by_value)?;
        let holds = least.value().is_some_and(|v| v >= wish.margin) && !too_hard(factors, wish);
        Some(Self { factors, least, known, holds })
    }
}

/// Whether a landing comes to more g than is wanted.
fn too_hard(factors: LandingFactors, wish: &Wish) -> bool {
    wish.most_load_factor.is_some_and(|most| factors.inertia > most)
}

/// How much is to be found out about a design.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Depth {
    /// Whether it holds.
    Verdict,
    /// Whether it holds, and if so its least margin.
    Least,
    /// Its least margin even if it does not hold.
    Whole,
}

/// Finds a gear's margins until one is less than wanted, or all of them.
///
/// # Errors
/// As [`Screen::new`].
pub(super) fn judge(
    project: &Project,
    gear: usize,
    wanted: f64,
    depth: Depth,
) -> Result<Option<Judged>, CheckError> {
    let whole = depth == Depth::Whole;
    let mut screen = match depth {
        Depth::Verdict => Screen::verdict(project, gear, wanted)?,
        Depth::Least | Depth::Whole => Screen::new(project, gear, wanted)?,
    };
    let factors = screen.factors();
    let too_hard = too_hard(factors, &project.wish);
    if too_hard && !whole {
        return Ok(None);
    }
    let (mut least, mut known): (Option<Margin>, Option<f64>) = (None, None);
    let enough = |m: &Option<Margin>| m.as_ref().is_none_or(|m| m.value().is_some_and(|v| v >= wanted));
    while enough(&least) || whole {
        let Some(more) = screen.more()? else { break };
        known = more.iter().filter_map(Margin::value).chain(known).reduce(f64::min);
        least = more.into_iter().chain(least).min_by(by_value);
    }
    if enough(&least) {
        let order = screen.gives_first()?;
        known = order.iter().filter_map(Margin::value).chain(known).reduce(f64::min);
        least = order.into_iter().chain(least).min_by(by_value);
    }
    let holds = enough(&least) && !too_hard;
    Ok(least.map(|least| Judged { factors, least, known, holds }))
}

/// By value; what can't be told before everything else.
pub(super) fn by_value(a: &Margin, b: &Margin) -> Ordering {
    let value = |m: &Margin| m.value().unwrap_or(f64::NEG_INFINITY);
    value(a).total_cmp(&value(b))
}
