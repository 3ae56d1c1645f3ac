//! A quantity or a number with how far it may be off: `"4 mm ± 0.1 mm"`, `"4 ± 0.1 mm"`, `"4 mm +- 3 %"`, `"3.5 ± 0.5"`.

use std::ops::Range;

use super::{FromText, QuantityError, Written, lex, refuse};
use crate::units::{Measure, Unit};

/// What stands between a value and its tolerance.
const SIGNS: [&str; 3] = ["±", "+/-", "+-"];

/// A value and how far it may be off to either side; `None` when nothing is said about it.
#[derive(Debug, Clone, PartialEq)]
pub struct Toleranced<Q> {
    /// The value, and the whole text with its tolerance.
    pub written: Written<Q>,
    /// Half the width of the range, never negative.
    pub half_width: Option<Q>,
}

/// Where the sign of a tolerance stands in a text, if it has one.
pub(super) fn sign(text: &str) -> Option<Range<usize>> {
    let found = SIGNS.iter().filter_map(|sign| text.find(sign).map(|at| at..at + sign.len()));
    found.min_by_key(|span| span.start)
}

/// Whether a text says how far its value may be off.
#[must_use]
pub fn is_toleranced(text: &str) -> bool {
    sign(text).is_some()
}

/// Reads a quantity that may have a tolerance.
///
/// # Errors
/// When either side is no quantity of this kind, or the tolerance is negative, given twice or a wire gauge.
pub fn with_tolerance<Q: Measure>(text: &str) -> Result<Toleranced<Q>, QuantityError> {
    let Some(parts) = Parts::of(text)? else {
        return Ok(Toleranced { written: Q::from_text(text)?, half_width: None });
    };
    if let Some(share) = parts.share()? {
        let value = Q::from_text(parts.value)?;
        if value.value.si() == 0.0 {
            return Err(refuse::share_of_nothing(text, parts.tolerance_span, Q::DIMENSION));
        }
        let half_width = Q::from_si(value.value.si().abs() * share);
        return Ok(Toleranced {
            written: Written { text: text.trim().to_owned(), ..value },
            half_width: Some(half_width),
        });
    }
    // Nothing is nothing in any unit.
    if plain(parts.tolerance).is_some_and(|half| half == 0.0 && half.is_sign_positive()) {
        let value = Q::from_text(parts.value)?;
        let written = Written { text: text.trim().to_owned(), ..value };
        return Ok(Toleranced { written, half_width: Some(Q::from_si(0.0)) });
    }
    let half = Q::from_text(parts.tolerance).map_err(|error| {
        // The unit that is meant is the value's.
        let can_be_written = |unit: &&str| {
            Unit::spelled(unit).is_some_and(|u| u.dimension() == Q::DIMENSION && u != Unit::Swg)
        };
        let unit = Parts::unit_of::<Q>(parts.value).ok().flatten().filter(can_be_written);
        let unit = unit.filter(|_| error.code == refuse::UNIT_MISSING);
        let error = match unit {
            Some(unit) => error.advise_first(refuse::write(&format!("{} {unit}", text.trim()))),
            None => error,
        };
        parts.shifted(error)
    })?;
    if half.unit == Unit::Swg {
        return Err(refuse::gauge_of_tolerance(text, parts.tolerance_span));
    }
    if half.value.si() < 0.0 || parts.tolerance.trim_start().starts_with(['-', '−']) {
        return Err(refuse::negative_tolerance(text, parts.tolerance_span));
    }
    let value = match Q::from_text(parts.value) {
        Err(missing) if missing.code == refuse::UNIT_MISSING => {
            // One unit for both: "4 ± 0.1 mm".
            let unit = Parts::unit_of::<Q>(parts.tolerance)?.ok_or(missing)?;
            Q::from_text(&format!("{} {unit}", parts.value.trim_end()))
                .map_err(|error| parts.clipped(error))?
        }
        read => read?,
    };
    Ok(Toleranced {
        written: Written { text: text.trim().to_owned(), ..value },
        half_width: Some(half.value),
    })
}

/// Reads a plain number with a tolerance: the number and half the width of its range.
///
/// # Errors
/// When there is no tolerance, or either side is no number, or the tolerance is negative or given twice.
pub fn number_with_tolerance(text: &str) -> Result<(f64, f64), QuantityError> {
    let Some(parts) = Parts::of(text)? else {
        return Err(refuse::no_plain_number(text, 0..text.len()));
    };
    let value = plain(parts.value).ok_or_else(|| refuse::no_plain_number(text, 0..parts.value.len()))?;
    if let Some(share) = parts.share()? {
        if value == 0.0 {
            return Err(refuse::share_of_no_number(text, parts.tolerance_span));
        }
        return Ok((value, value.abs() * share));
    }
    let half =
        plain(parts.tolerance).ok_or_else(|| refuse::no_plain_number(text, parts.tolerance_span.clone()))?;
    if half.is_sign_negative() {
        return Err(refuse::negative_tolerance(text, parts.tolerance_span));
    }
    Ok((value, half))
}

/// A finite number as Rust and TOML write it, `None` for any other text.
fn plain(text: &str) -> Option<f64> {
    let text = text.trim().replace('−', "-");
    let known = text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '+' | '-' | 'e' | 'E'));
    text.parse().ok().filter(|number: &f64| known && number.is_finite())
}

/// The two sides of the sign.
struct Parts<'t> {
    text: &'t str,
    value: &'t str,
    tolerance: &'t str,
    /// Where the tolerance is, space included.
    tolerance_span: Range<usize>,
}

impl<'t> Parts<'t> {
    fn of(text: &'t str) -> Result<Option<Self>, QuantityError> {
        let Some(at) = sign(text) else { return Ok(None) };
        let value = text.get(..at.start).unwrap_or_default();
        let tolerance = text.get(at.end..).unwrap_or_default();
        if let Some(second) = sign(tolerance) {
            return Err(refuse::second_tolerance(text, at.end + second.start..at.end + second.end));
        }
        if tolerance.trim().is_empty() {
            return Err(refuse::empty_tolerance(text, at));
        }
        Ok(Some(Self { text, value, tolerance, tolerance_span: at.end..text.len() }))
    }

    /// The tolerance as a share of the value, when it is one.
    fn share(&self) -> Result<Option<f64>, QuantityError> {
        let trimmed = self.tolerance.trim();
        let Some(number) = trimmed.strip_suffix('%').or_else(|| trimmed.strip_suffix("percent")) else {
            return Ok(None);
        };
        let span = || self.tolerance_span.clone();
        let percent = plain(number).ok_or_else(|| refuse::no_plain_number(self.text, span()))?;
        if percent.is_sign_negative() {
            return Err(refuse::negative_tolerance(self.text, span()));
        }
        Ok(Some(percent / 100.0))
    }

    /// The unit of a value or a tolerance that is written in one part.
    fn unit_of<Q: Measure>(side: &'t str) -> Result<Option<&'t str>, QuantityError> {
        let parts = lex::split(side, Q::DIMENSION)?;
        let [one] = parts.as_slice() else { return Ok(None) };
        Ok(side.get(one.unit_span()))
    }

    /// A mistake in the tolerance, at its place in the whole text.
    fn shifted(&self, mut error: QuantityError) -> QuantityError {
        let by = self.tolerance_span.start;
        error.span = by + error.span.start..by + error.span.end;
        error
    }

    /// A mistake in the value read with the tolerance's unit, at its place in the whole text.
    fn clipped(&self, mut error: QuantityError) -> QuantityError {
        let most = self.value.trim_end().len();
        error.span = error.span.start.min(most)..error.span.end.min(most);
        error
    }
}
