//! Single values of a table: numbers and quantities, and where they may lie.

use crate::input::quantity::FromText;
use crate::units::{Force, Length, MassDensity, Stress, Velocity};
use std::ops::Range;
use toml::de::DeValue;

/// Why a value could not be read.
pub(super) struct Mistake {
    /// Fixed name of the kind of mistake.
    pub(super) code: &'static str,
    /// What is wrong; `None` when the message has to name the key.
    message: Option<String>,
    /// What the key needs, with the article.
    what: &'static str,
    /// Words for the marked place.
    pub(super) label: Option<String>,
    /// What would be accepted.
    pub(super) help: Vec<String>,
    /// The offending bytes of the text.
    pub(super) within: Option<Range<usize>>,
}

impl Mistake {
    fn wrong_type(what: &'static str, found: &DeValue<'_>, help: &str) -> Box<Self> {
        Box::new(Self {
            code: "wrong-type",
            message: None,
            what,
            label: Some(format!("this is {}", found_words(found))),
            help: vec![help.to_owned()],
            within: None,
        })
    }

    /// What is wrong, in one sentence.
    pub(super) fn message(&self, key: &str) -> String {
        self.message.clone().unwrap_or_else(|| format!("`{key}` must be {}", self.what))
    }
}

/// Where a value may lie.
#[derive(Clone, Copy)]
pub(super) enum Limit {
    /// Above zero.
    Positive,
    /// Zero or above.
    NotNegative,
    /// Above zero, at most one.
    Fraction,
    /// Above zero, below one half.
    Poisson,
    /// Above zero, at most 100.
    Percent,
    /// Exponent of a smooth stress–strain line: from nearly straight to nearly a corner.
    Exponent,
    /// Conductivity in % IACS: the purest copper comes to a little above 100.
    Conductivity,
}

impl Limit {
    /// The rule in words, if the value breaks it.
    pub(super) fn broken_by(self, value: f64) -> Option<&'static str> {
        let (holds, rule) = match self {
            Self::Positive => (value > 0.0, "above zero"),
            Self::NotNegative => (value >= 0.0, "zero or above"),
            Self::Fraction => (value > 0.0 && value <= 1.0, "above 0 and at most 1"),
            Self::Poisson => (value > 0.0 && value < 0.5, "between 0 and 0.5"),
            Self::Percent => (value > 0.0 && value <= 100.0, "above 0 and at most 100 (%)"),
            Self::Exponent => ((2.0..=100.0).contains(&value), "from 2 to 100"),
            Self::Conductivity => (value > 0.0 && value <= 110.0, "above 0 and at most 110 (% IACS)"),
        };
        (!holds).then_some(rule)
    }
}

/// A value that can stand in a table.
pub(super) trait TableValue: Sized {
    /// Reads it.
    fn read(value: &DeValue<'_>) -> Result<Self, Box<Mistake>>;

    /// The bare number, in SI.
    fn si(&self) -> f64;
}

impl TableValue for f64 {
    fn read(value: &DeValue<'_>) -> Result<Self, Box<Mistake>> {
        let refused = || Mistake::wrong_type("a plain number", value, "write a number without a unit");
        let number: Self = match value {
            DeValue::Integer(whole) => whole.to_string().parse().map_err(|_| refused())?,
            DeValue::Float(decimal) => decimal.as_str().parse().map_err(|_| refused())?,
            _ => return Err(refused()),
        };
        if number.is_finite() {
            Ok(number)
        } else {
            Err(Box::new(Mistake { label: Some("this is not a finite number".to_owned()), ..*refused() }))
        }
    }

    fn si(&self) -> f64 {
        *self
    }
}

macro_rules! quantity_value {
    ($($quantity:ty: $example:literal),+) => {$(
        impl TableValue for $quantity {
            fn read(value: &DeValue<'_>) -> Result<Self, Box<Mistake>> {
                let what = <Self as FromText>::WHAT;
                let Some(text) = value.as_str() else {
                    let help = concat!("write it in quotes with its unit, such as \"", $example, "\"");
                    return Err(Mistake::wrong_type(what, value, help));
                };
                <Self as FromText>::from_text(text).map(|written| written.value).map_err(|error| Box::new(Mistake {
                    code: error.code,
                    message: Some(error.message),
                    what,
                    label: error.label,
                    help: error.help,
                    within: Some(error.span),
                }))
            }

            fn si(&self) -> f64 {
                self.value
            }
        }
    )+};
}

quantity_value!(
    Stress: "260 MPa",
    MassDensity: "2700 kg/m^3",
    Length: "4 mm",
    Force: "3100 N",
    Velocity: "1.2 m/s"
);

/// What a TOML value is, in words.
fn found_words(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
