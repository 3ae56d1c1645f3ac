//! What gives first: the order in which parts reach their strength when a landing's loads are raised.

use super::{CaseName, LimitLoad, Margin};
use crate::model::PartKind;
use crate::units::Length;

/// Multiples that differ by less, relative to them, are one: parts that are alike give together.
pub const TOGETHER: f64 = 1e-4;

/// The order of one gear in one landing case.
#[derive(Debug, Clone, PartialEq)]
pub struct FailureOrder {
    /// The gear's name.
    pub gear: String,
    /// The landing.
    pub case: CaseName,
    /// The failures in their order, first one first. Those after a part has broken are told as if it had held on.
    pub failures: Vec<PartFailure>,
    /// Parts that could not be judged, and why.
    pub untold: Vec<(String, String)>,
    /// The highest multiple of the loads that was followed.
    pub limit: LimitLoad,
}

/// A part that reaches its strength.
#[derive(Debug, Clone, PartialEq)]
pub struct PartFailure {
    /// The check whose allowable is reached, factors aside.
    pub check: &'static str,
    /// What kind of part it is; `None` for the gear as a whole.
    pub kind: Option<PartKind>,
    /// The part, such as `left leg` or `bolt 2`.
    pub part: String,
    /// What it does then: "stays bent", "breaks".
    pub words: &'static str,
    /// Multiple of the limit loads at which it does.
    pub multiple: f64,
    /// Inertia load factor of that landing; `None` for a case whose loads do not follow the landing's load factor.
    pub inertia_load_factor: Option<f64>,
    /// The level drop that makes that load factor; `None` where there is none or it is not asked of this gear.
    pub drop_height: Option<Length>,
}

impl FailureOrder {
    /// What gives first.
    #[must_use]
    pub fn first(&self) -> Option<&PartFailure> {
        self.failures.first()
    }
}

/// A bolt that is sold, tried for a gear whose bolts are meant to give first.
#[derive(Debug, Clone, PartialEq)]
pub struct FirstSize {
    /// The gear's name.
    pub gear: String,
    /// Its thread.
    pub bolt: String,
    /// Its class.
    pub class: String,
    /// Whether it gives first in every landing and holds those it has to hold.
    pub fits: bool,
    /// The worst margin of the bolts' own strength.
    pub holds: Option<Margin>,
    /// The worst margin of giving first.
    pub first: Option<Margin>,
}
