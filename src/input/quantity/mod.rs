//! The text of a quantity: `"4 mm"`, `"1 3/8 in"`, `"9 lb 6 oz"`, `"14 swg"`.
//!
//! ```text
//! quantity  = [sign] part [part]           the second part only as pounds with ounces, feet with inches
//! part      = number unit
//! number    = decimal | fraction | whole ("-" | " ") fraction
//! decimal   = digits ["." digits] [("e" | "E") [sign] digits]
//! fraction  = digits "/" digits | "½" and its like
//! ```
//!
//! In a project file it may say how far it is off, see [`with_tolerance`]:
//!
//! ```text
//! toleranced = quantity [sign (quantity | share)]      one unit will do for both: "4 ± 0.1 mm"
//! sign       = "±" | "+-" | "+/-"
//! share      = decimal ("%" | "percent")               of the value
//! ```
//!
//! Units are those of [`crate::units::Unit`]. Whether a quantity makes sense where it stands (a negative
//! thickness, a plate 40 m thick) is decided later, by validation.

mod evaluate;
mod lex;
mod refuse;
mod tolerance;

pub use tolerance::{Toleranced, is_toleranced, number_with_tolerance, with_tolerance};

use std::ops::Range;

use crate::units::{Measure, Unit};

/// A quantity together with how it was written, for echoing it back.
#[derive(Debug, Clone, PartialEq)]
pub struct Written<Q> {
    /// What it is.
    pub value: Q,
    /// The text it was read from, without surrounding space.
    pub text: String,
    /// The unit it was written in; the larger one of pounds and ounces or feet and inches.
    pub unit: Unit,
}

/// Why a text is no quantity of the kind wanted.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct QuantityError {
    /// Short fixed name of the kind of mistake, such as `unit-missing`.
    pub code: &'static str,
    /// What is wrong, in one sentence.
    pub message: String,
    /// Words for the marked place itself.
    pub label: Option<String>,
    /// What would be accepted.
    pub help: Vec<String>,
    /// The offending bytes of the text.
    pub span: Range<usize>,
}

/// A quantity that can be read from a text.
pub trait FromText: Sized {
    /// What it is in words, with the article: "a length".
    const WHAT: &'static str;

    /// Reads it from a text with its unit.
    ///
    /// # Errors
    /// When the text is not one finite quantity of this kind with a unit that is known.
    fn from_text(text: &str) -> Result<Written<Self>, QuantityError>;
}

impl<Q: Measure> FromText for Q {
    const WHAT: &'static str = Q::DIMENSION.noun();

    fn from_text(text: &str) -> Result<Written<Self>, QuantityError> {
        if let Some(span) = tolerance::sign(text) {
            return Err(refuse::tolerance_here(text, span));
        }
        let parts = lex::split(text, Q::DIMENSION)?;
        let (value, unit) = evaluate::evaluate(text, &parts)?;
        Ok(Written { value, text: text.trim().to_owned(), unit })
    }
}
