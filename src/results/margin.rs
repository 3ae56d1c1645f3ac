//! Margins: how far an allowable is from what is applied, with everything needed to redo the sum.

use super::CaseName;
use crate::material::Basis;
use crate::units::{Angle, Area, Force, Length, MassDensity, Moment, SecondMoment, Stress};

/// A quantity of any kind that appears in a margin's working.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// A stress or strength.
    Stress(Stress),
    /// A force.
    Force(Force),
    /// A moment.
    Moment(Moment),
    /// A length.
    Length(Length),
    /// An area.
    Area(Area),
    /// An angle.
    Angle(Angle),
    /// A second moment of area.
    SecondMoment(SecondMoment),
    /// A plain number.
    Number(f64),
    /// A density.
    Density(MassDensity),
}

impl Amount {
    /// The value in SI base units.
    #[must_use]
    pub fn si(self) -> f64 {
        match self {
            Self::Stress(v) => v.value,
            Self::Force(v) => v.value,
            Self::Moment(v) => v.value,
            Self::Length(v) => v.value,
            Self::Area(v) => v.value,
            Self::Angle(v) => v.value,
            Self::SecondMoment(v) => v.value,
            Self::Number(v) => v,
            Self::Density(v) => v.value,
        }
    }

    /// The SI unit, as JSON names it.
    #[must_use]
    pub const fn si_unit(self) -> &'static str {
        match self {
            Self::Stress(_) => "Pa",
            Self::Force(_) => "N",
            Self::Moment(_) => "N m",
            Self::Length(_) => "m",
            Self::Area(_) => "m^2",
            Self::Angle(_) => "rad",
            Self::SecondMoment(_) => "m^4",
            Self::Number(_) => "1",
            Self::Density(_) => "kg/m^3",
        }
    }
}

/// What a margin says.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// The allowable is enough.
    Holds,
    /// It is not.
    Fails,
    /// It can't be told, and why.
    Untold(String),
}

impl Verdict {
    /// The fixed word used in JSON.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Holds => "holds",
            Self::Fails => "fails",
            Self::Untold(_) => "untold",
        }
    }
}

/// One symbol of a working, its meaning and its value.
#[derive(Debug, Clone, PartialEq)]
pub struct Term {
    /// The letter in the formula.
    pub symbol: &'static str,
    /// What it is.
    pub what: String,
    /// Its value.
    pub value: Amount,
}

impl Term {
    /// Puts the three together.
    pub fn new(symbol: &'static str, what: impl Into<String>, value: Amount) -> Self {
        Self { symbol, what: what.into(), value }
    }
}

/// How the applied value and the allowable come about.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Working {
    /// The formulas, in the symbols of `terms`.
    pub formula: String,
    /// The symbols with their values.
    pub terms: Vec<Term>,
    /// Words the sum needs, such as what was taken for granted.
    pub notes: Vec<String>,
}

/// A margin: allowable / (factor × applied) − 1; zero is exactly enough.
#[derive(Debug, Clone, PartialEq)]
pub struct Margin {
    /// The check it comes from.
    pub check: &'static str,
    /// The gear's name.
    pub gear: String,
    /// The part, such as `left leg`.
    pub part: String,
    /// The landing case; `None` for a check that no landing enters (the bend).
    pub case: Option<CaseName>,
    /// What is applied at limit load.
    pub applied: Amount,
    /// What it may be; `None` when that is not known.
    pub allowable: Option<Amount>,
    /// Factor on the applied value.
    pub factor: f64,
    /// What it says.
    pub verdict: Verdict,
    /// What kind of value the allowable rests on.
    pub basis: Option<Basis>,
    /// Where the allowable and the rule come from.
    pub source: String,
    /// How to redo it.
    pub working: Working,
}

impl Margin {
    /// The margin; `None` when the allowable is not known.
    #[must_use]
    pub fn value(&self) -> Option<f64> {
        self.allowable.map(|a| a.si() / (self.factor * self.applied.si()) - 1.0)
    }

    /// Makes a margin whose verdict follows from its numbers.
    ///
    /// An allowable of `None` must come with a verdict of its own: see [`Margin::untold`].
    #[must_use]
    pub fn decided(mut self) -> Self {
        if let Some(value) = self.value() {
            self.verdict = if value >= 0.0 { Verdict::Holds } else { Verdict::Fails };
        }
        self
    }

    /// Makes it one that can't be told.
    #[must_use]
    pub fn untold(mut self, why: impl Into<String>) -> Self {
        self.allowable = None;
        self.basis = None;
        self.verdict = Verdict::Untold(why.into());
        self
    }
}
