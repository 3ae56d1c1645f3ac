//! Where a value comes from and how far it may be trusted.

use std::fmt;

/// What kind of value it is. A minimum is never mixed with a typical value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Basis {
    /// Guaranteed by the named specification.
    SpecificationMinimum,
    /// Follows from a definition or a stated formula.
    Computed,
    /// Measured by the user.
    BenchTest,
    /// An average; half of all pieces lie below it.
    Typical,
    /// What builders do; no published source.
    CommonPractice,
    /// Recalled from the named source, not seen in it.
    FromMemory,
    /// What somebody told the user.
    Told,
}

impl Basis {
    /// All of them, for parsing and for messages.
    pub const ALL: [Self; 7] = [
        Self::SpecificationMinimum,
        Self::Computed,
        Self::BenchTest,
        Self::Typical,
        Self::CommonPractice,
        Self::FromMemory,
        Self::Told,
    ];

    /// The words used in tables, project files and reports.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::SpecificationMinimum => "specification minimum",
            Self::Computed => "computed",
            Self::BenchTest => "bench test",
            Self::Typical => "typical",
            Self::CommonPractice => "common practice",
            Self::FromMemory => "from memory",
            Self::Told => "told",
        }
    }

    /// Reads the words back.
    #[must_use]
    pub fn from_words(words: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|b| b.words() == words)
    }

    /// Whether a verdict that rests on such a value has to say so.
    #[must_use]
    pub const fn needs_a_word(self) -> bool {
        !matches!(self, Self::SpecificationMinimum | Self::Computed | Self::BenchTest)
    }
}

impl fmt::Display for Basis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.words())
    }
}

/// A value with its basis and source.
#[derive(Debug, Clone, PartialEq)]
pub struct Sourced<T> {
    /// The value itself.
    pub value: T,
    /// What kind of value it is.
    pub basis: Basis,
    /// Document, table or page it was taken from.
    pub source: String,
}

impl<T> Sourced<T> {
    /// Puts the three together.
    pub fn new(value: T, basis: Basis, source: impl Into<String>) -> Self {
        Self { value, basis, source: source.into() }
    }
}
