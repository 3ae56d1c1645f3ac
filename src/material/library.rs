//! All rows together: find by name, suggest a near one, add a user's own.

use super::{Arrival, AxleMetal, BoltClass, Metal, Stock, Thread, Wire, WireEnd, Wood};
use thiserror::Error;

/// The kinds of table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// Sheet and plate metals.
    Metals,
    /// Brace wires.
    Wires,
    /// Wire ends.
    WireEnds,
    /// Axle bar.
    Axles,
    /// Bolt classes and threads.
    Bolts,
    /// Woods.
    Woods,
    /// Sizes that are sold.
    Stock,
    /// Pilots' words.
    Arrivals,
}

/// A name that no row has.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("no {what} is called `{name}`")]
pub struct NotFound {
    /// What kind of row was looked for, in words.
    pub what: &'static str,
    /// The name that was asked for.
    pub name: String,
    /// The nearest names, best first; may be empty.
    pub near: Vec<String>,
}

/// A name that a row already has.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("the {what} name `{name}` is already taken")]
pub struct NameTaken {
    /// What kind of row, in words.
    pub what: &'static str,
    /// The name.
    pub name: String,
}

/// The material tables.
#[derive(Debug, Clone, Default)]
pub struct Library {
    /// Sheet and plate metals.
    pub metals: Vec<Metal>,
    /// Brace wires.
    pub wires: Vec<Wire>,
    /// Wire ends.
    pub wire_ends: Vec<WireEnd>,
    /// Axle bar.
    pub axles: Vec<AxleMetal>,
    /// Bolt classes.
    pub bolt_classes: Vec<BoltClass>,
    /// Threads.
    pub threads: Vec<Thread>,
    /// Woods.
    pub woods: Vec<Wood>,
    /// Sizes that are sold.
    pub stock: Vec<Stock>,
    /// Pilots' words.
    pub arrivals: Vec<Arrival>,
}
