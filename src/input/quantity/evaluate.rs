//! Turns the parts of a quantity's text into a value.

use std::ops::Range;

use super::QuantityError;
use super::lex::{Number, Part};
use super::refuse;
use crate::units::{Dimension, Measure, Unit};

/// Two units that are written one after the other, and how many of the second make one of the first.
const PAIRS: [(Unit, Unit, f64); 2] = [(Unit::Pound, Unit::Ounce, 16.0), (Unit::Foot, Unit::Inch, 12.0)];

/// The value of one part or of a pair of parts, and the unit it is written in.
pub(super) fn evaluate<Q: Measure>(text: &str, parts: &[Part<'_>]) -> Result<(Q, Unit), QuantityError> {
    match parts {
        [one] => {
            let unit = unit(text, one, Q::DIMENSION)?;
            let number = number(text, one, unit)?;
            Ok((quantity(text, one.span(), number, unit)?, unit))
        }
        [first, second] => pair(text, first, second),
        _ => Err(refuse::empty(text, Q::DIMENSION)),
    }
}

/// The value of pounds with ounces, or feet with inches.
fn pair<Q: Measure>(text: &str, first: &Part<'_>, second: &Part<'_>) -> Result<(Q, Unit), QuantityError> {
    let large = unit(text, first, Q::DIMENSION)?;
    let small = unit(text, second, Q::DIMENSION)?;
    let span = first.span().start..second.span().end;
    let Some((.., ratio)) = PAIRS.iter().find(|(a, b, _)| (*a, *b) == (large, small)) else {
        return Err(refuse::not_a_pair(text, span, Q::DIMENSION));
    };
    let whole = number(text, first, large)?;
    let rest = number(text, second, small)?;
    if whole.fract() != 0.0 {
        return Err(refuse::pair_not_whole(text, first.number_span.clone(), large));
    }
    if rest >= *ratio {
        return Err(refuse::pair_too_much(text, second.span(), large, small, *ratio));
    }
    let number = if first.negative { whole - rest / ratio } else { whole + rest / ratio };
    Ok((quantity(text, span, number, large)?, large))
}

/// The quantity, unless it is beyond what a number can hold.
fn quantity<Q: Measure>(text: &str, span: Range<usize>, number: f64, unit: Unit) -> Result<Q, QuantityError> {
    let value: Q = unit.of(number).ok_or_else(|| refuse::no_such_gauge(text, span.clone()))?;
    let si = value.si();
    if si.is_normal() || number == 0.0 { Ok(value) } else { Err(refuse::out_of_range(text, span, number)) }
}

/// The unit of a part, if it is known and measures what is wanted.
fn unit(text: &str, part: &Part<'_>, wanted: Dimension) -> Result<Unit, QuantityError> {
    let written = text.get(part.unit_span.clone()).unwrap_or_default();
    let Some(unit) = Unit::spelled(written) else {
        return Err(refuse::unknown_unit(text, part.span(), part.unit_span.clone(), wanted));
    };
    if unit.dimension() != wanted {
        return Err(refuse::wrong_dimension(text, part.span(), part.unit_span.clone(), unit, wanted));
    }
    Ok(unit)
}

/// The signed number of a part.
fn number(text: &str, part: &Part<'_>, unit: Unit) -> Result<f64, QuantityError> {
    if unit == Unit::Swg {
        return gauge(part).ok_or_else(|| refuse::no_such_gauge(text, part.span()));
    }
    let unsigned = match &part.number {
        Number::Decimal(digits) => {
            let number = digits_value(&digits.replace('−', "-"));
            let nothing = number == 0.0 && digits.split(['e', 'E']).next().is_some_and(has_value);
            if nothing || !number.is_finite() {
                return Err(refuse::out_of_range(text, part.span(), number));
            }
            number
        }
        Number::Fraction { whole, top, bottom, span } => {
            let (above, below) = (digits_value(top), digits_value(bottom));
            if below == 0.0 {
                return Err(refuse::zero_below(text, span.clone()));
            }
            if whole.is_some() && above >= below {
                return Err(refuse::improper(text, span.clone()));
            }
            whole.map_or(0.0, digits_value) + above / below
        }
    };
    if !unsigned.is_finite() {
        return Err(refuse::out_of_range(text, part.span(), unsigned));
    }
    Ok(if part.negative { -unsigned } else { unsigned })
}

/// The value of digits that the splitter has already found to be a number.
fn digits_value(digits: &str) -> f64 {
    digits.parse().unwrap_or(f64::NAN)
}

/// Whether any digit is not nought.
fn has_value(digits: &str) -> bool {
    digits.contains(|c: char| matches!(c, '1'..='9'))
}

/// The gauge's number: `14`, or 0 for `1/0` and `0`, −1 for `2/0` and `00`, and so on.
fn gauge(part: &Part<'_>) -> Option<f64> {
    if part.negative {
        return None;
    }
    match &part.number {
        Number::Decimal(noughts) if noughts.bytes().all(|b| b == b'0') => {
            u8::try_from(noughts.len()).ok().map(|count| 1.0 - f64::from(count))
        }
        Number::Decimal(digits) if digits.bytes().all(|b| b.is_ascii_digit()) => Some(digits_value(digits)),
        Number::Fraction { whole: None, top, bottom: "0", .. } if has_value(top) => {
            Some(1.0 - digits_value(top))
        }
        _ => None,
    }
}
