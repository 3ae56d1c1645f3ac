//! All rows together: find by name, suggest a near one, add a user's own.

use super::near::{flat, nearest};
use super::{Arrival, AxleMetal, BoltClass, Construction, Metal, Stock, Thread, Wire, WireEnd, Wood};
use crate::units::Length;
use std::collections::BTreeMap;
use thiserror::Error;
use uom::si::length::millimeter;

/// The kinds of table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
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

impl Kind {
    /// All of them, in the order they are listed.
    pub const ALL: [Self; 8] = [
        Self::Metals,
        Self::Wires,
        Self::WireEnds,
        Self::Axles,
        Self::Bolts,
        Self::Woods,
        Self::Stock,
        Self::Arrivals,
    ];

    /// The word used on the command line and in table files.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Metals => "metals",
            Self::Wires => "wires",
            Self::WireEnds => "wire-ends",
            Self::Axles => "axles",
            Self::Bolts => "bolts",
            Self::Woods => "woods",
            Self::Stock => "stock",
            Self::Arrivals => "arrivals",
        }
    }

    /// Reads the word back.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|k| k.word() == word)
    }
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
    /// What the name means when it is one that people use but that is no row's.
    pub explanation: Option<String>,
}

impl NotFound {
    /// Lines of help: what the name means, and which names come near.
    #[must_use]
    pub fn help(&self) -> Vec<String> {
        let mut lines: Vec<String> = self.explanation.iter().cloned().collect();
        if !self.near.is_empty() {
            let names: Vec<String> = self.near.iter().map(|n| format!("`{n}`")).collect();
            lines.push(format!("nearest: {}", names.join(", ")));
        }
        lines
    }
}

/// A name that a row already has.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("the {what} name `{name}` is already taken{}", .table.as_ref().map(|t| format!(" in {t}")).unwrap_or_default())]
pub struct NameTaken {
    /// What kind of row, in words.
    pub what: &'static str,
    /// The name.
    pub name: String,
    /// The table whose row has it, if it is known.
    pub table: Option<String>,
}

/// A word for a material that is no row's name, because it leaves something open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CounterName {
    /// The kind of row people mean by it.
    pub kind: Kind,
    /// The word.
    pub name: String,
    /// What to answer.
    pub words: String,
    /// The alloys it may stand for, as the first part of their rows' names.
    pub alloys: Vec<String>,
}

/// A row of a table in which names are unique.
pub trait TableRow: Sized {
    /// The row in words, such as `metal`.
    const WHAT: &'static str;
    /// The kind of table it belongs to.
    const KIND: Kind;

    /// The name it is found by.
    fn name(&self) -> &str;

    /// Other names it is found by.
    fn aliases(&self) -> &[String] {
        &[]
    }

    /// Whether this row may have the name of an earlier row of the same table.
    fn shares_name_with(&self, _earlier: &Self) -> bool {
        false
    }

    /// All rows of this kind.
    fn rows(library: &Library) -> &[Self];

    /// All rows of this kind, to add to.
    fn rows_mut(library: &mut Library) -> &mut Vec<Self>;
}

macro_rules! table_row {
    ($row:ty, $what:literal, $kind:ident, $field:ident $(, $extra:item)*) => {
        impl TableRow for $row {
            const WHAT: &'static str = $what;
            const KIND: Kind = Kind::$kind;

            fn name(&self) -> &str {
                &self.name
            }

            fn rows(library: &Library) -> &[Self] {
                &library.$field
            }

            fn rows_mut(library: &mut Library) -> &mut Vec<Self> {
                &mut library.$field
            }

            $($extra)*
        }
    };
}

table_row!(
    Metal,
    "metal",
    Metals,
    metals,
    fn aliases(&self) -> &[String] {
        &self.aliases
    }
);
table_row!(
    Wire,
    "wire",
    Wires,
    wires,
    fn aliases(&self) -> &[String] {
        &self.aliases
    }
);
table_row!(Construction, "wire construction", Wires, constructions);
table_row!(WireEnd, "wire end", WireEnds, wire_ends);
table_row!(
    AxleMetal,
    "axle metal",
    Axles,
    axles,
    fn aliases(&self) -> &[String] {
        &self.aliases
    }
);
table_row!(
    BoltClass,
    "bolt class",
    Bolts,
    bolt_classes,
    fn shares_name_with(&self, earlier: &Self) -> bool {
        earlier.up_to.is_some_and(|limit| self.up_to.is_none_or(|own| own > limit))
    }
);
table_row!(Thread, "thread", Bolts, threads);
table_row!(
    Wood,
    "wood",
    Woods,
    woods,
    fn aliases(&self) -> &[String] {
        &self.aliases
    }
);
table_row!(Arrival, "arrival", Arrivals, arrivals);

/// The material tables.
///
/// Rows are read through the public lists and the look-ups; [`Library::add`] adds rows and keeps names unique.
#[derive(Debug, Clone, Default)]
pub struct Library {
    /// Sheet and plate metals.
    pub metals: Vec<Metal>,
    /// Brace wires.
    pub wires: Vec<Wire>,
    /// Cable constructions.
    pub constructions: Vec<Construction>,
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
    /// Words that are no row's name.
    pub counter_names: Vec<CounterName>,
    /// Which table a name came from, by the row's words and the name.
    origins: BTreeMap<(&'static str, String), String>,
}

impl Library {
    /// Finds a sheet or plate metal.
    ///
    /// # Errors
    /// When neither a name nor an alias is exactly this.
    pub fn metal(&self, name: &str) -> Result<&Metal, NotFound> {
        self.find(name)
    }

    /// Finds a brace wire.
    ///
    /// # Errors
    /// When neither a name nor an alias is exactly this.
    pub fn wire(&self, name: &str) -> Result<&Wire, NotFound> {
        self.find(name)
    }

    /// Finds a wire end.
    ///
    /// # Errors
    /// When no name is exactly this.
    pub fn wire_end(&self, name: &str) -> Result<&WireEnd, NotFound> {
        self.find(name)
    }

    /// Finds an axle metal.
    ///
    /// # Errors
    /// When neither a name nor an alias is exactly this.
    pub fn axle(&self, name: &str) -> Result<&AxleMetal, NotFound> {
        self.find(name)
    }

    /// Finds the row of a bolt class for a nominal thread diameter.
    ///
    /// # Errors
    /// When no name is exactly this, or its rows end below this diameter.
    pub fn bolt_class(&self, name: &str, nominal: Length) -> Result<&BoltClass, NotFound> {
        let rows = || self.bolt_classes.iter().filter(|c| c.name == name);
        if let Some(row) = rows().find(|c| c.up_to.is_none_or(|limit| nominal <= limit)) {
            return Ok(row);
        }
        match rows().filter_map(|c| c.up_to).next_back() {
            None => Err(self.missing::<BoltClass>(name)),
            Some(limit) => Err(NotFound {
                what: "bolt class for that diameter",
                name: name.to_owned(),
                near: Vec::new(),
                explanation: Some(format!("`{name}` is listed only up to {} mm", limit.get::<millimeter>())),
            }),
        }
    }

    /// Finds a thread.
    ///
    /// # Errors
    /// When no name is exactly this.
    pub fn thread(&self, name: &str) -> Result<&Thread, NotFound> {
        self.find(name)
    }

    /// Finds a wood.
    ///
    /// # Errors
    /// When neither a name nor an alias is exactly this.
    pub fn wood(&self, name: &str) -> Result<&Wood, NotFound> {
        self.find(name)
    }

    /// Finds a pilot's word.
    ///
    /// # Errors
    /// When no name is exactly this.
    pub fn arrival(&self, name: &str) -> Result<&Arrival, NotFound> {
        self.find(name)
    }

    /// Finds a row by its exact name or alias.
    ///
    /// # Errors
    /// When there is none; the error carries the nearest names.
    pub fn find<R: TableRow>(&self, name: &str) -> Result<&R, NotFound> {
        let rows = R::rows(self);
        rows.iter()
            .find(|r| r.name() == name)
            .or_else(|| rows.iter().find(|r| r.aliases().iter().any(|a| a == name)))
            .ok_or_else(|| self.missing::<R>(name))
    }

    /// Adds a row that came from the named table.
    ///
    /// # Errors
    /// When its name or one of its aliases already belongs to a row. The library is then as it was.
    pub fn add<R: TableRow + 'static>(&mut self, row: R, table: &str) -> Result<(), NameTaken> {
        for name in names(&row) {
            let asked = plain(name);
            let Some(earlier) = R::rows(self).iter().rev().find(|r| names(*r).any(|n| plain(n) == asked))
            else {
                continue;
            };
            let origin = self.look_alike::<R>(name).and_then(|same| self.origin::<R>(same));
            let continues = origin == Some(table) && name == earlier.name() && row.shares_name_with(earlier);
            if !continues {
                return Err(NameTaken {
                    what: R::WHAT,
                    name: name.to_owned(),
                    table: origin.map(str::to_owned),
                });
            }
        }
        for name in names(&row) {
            self.origins.insert((R::WHAT, name.to_owned()), table.to_owned());
        }
        R::rows_mut(self).push(row);
        Ok(())
    }

    /// The name or alias of a row that looks like a name: the same but for case, spaces, hyphens and underscores.
    ///
    /// Two rows that look alike would be mistaken for one another.
    #[must_use]
    pub fn look_alike<R: TableRow + 'static>(&self, name: &str) -> Option<&str> {
        let asked = plain(name);
        R::rows(self).iter().flat_map(names).find(|n| plain(n) == asked)
    }

    /// The table that a name or alias came from.
    #[must_use]
    pub fn origin<R: TableRow>(&self, name: &str) -> Option<&str> {
        self.origins.get(&(R::WHAT, name.to_owned())).map(String::as_str)
    }

    fn missing<R: TableRow>(&self, name: &str) -> NotFound {
        let known: Vec<&str> = R::rows(self).iter().flat_map(names).collect();
        let asked = flat(name);
        let meant = self.counter_names.iter().find(|c| c.kind == R::KIND && flat(&c.name) == asked);
        let near = match meant {
            Some(word) => known
                .iter()
                .filter(|k| word.alloys.iter().any(|a| k.split('-').next() == Some(a)))
                .map(|k| (*k).to_owned())
                .collect(),
            None => nearest(name, known),
        };
        NotFound {
            what: R::WHAT,
            name: name.to_owned(),
            near,
            explanation: meant.map(|word| word.words.clone()),
        }
    }
}

/// A row's name and its aliases.
/// A name without what the eye passes over.
fn plain(name: &str) -> String {
    name.chars().filter(|c| !matches!(c, ' ' | '-' | '_')).flat_map(char::to_lowercase).collect()
}

fn names<R: TableRow>(row: &R) -> impl Iterator<Item = &str> {
    std::iter::once(row.name()).chain(row.aliases().iter().map(String::as_str))
}
