//! Splits the text of a quantity into numbers and units, as they are written.

use std::ops::Range;

use super::QuantityError;
use super::refuse;
use crate::units::{Dimension, Unit};

/// A number with its unit, still as text.
#[derive(Debug)]
pub(super) struct Part<'t> {
    /// Whether a minus stands before it.
    pub(super) negative: bool,
    /// Its digits.
    pub(super) number: Number<'t>,
    /// Where the number is, sign included.
    pub(super) number_span: Range<usize>,
    /// Where the unit is.
    pub(super) unit_span: Range<usize>,
}

impl Part<'_> {
    /// Where the whole of it is.
    pub(super) fn span(&self) -> Range<usize> {
        self.number_span.start..self.unit_span.end
    }

    /// Where its unit is.
    pub(super) fn unit_span(&self) -> Range<usize> {
        self.unit_span.clone()
    }
}

/// An unsigned number as it is written.
#[derive(Debug)]
pub(super) enum Number<'t> {
    /// Digits with a point or an exponent, perhaps.
    Decimal(&'t str),
    /// A fraction, perhaps after a whole number.
    Fraction {
        /// The whole number before it.
        whole: Option<&'t str>,
        /// Above the line.
        top: &'t str,
        /// Below the line.
        bottom: &'t str,
        /// Where the fraction is.
        span: Range<usize>,
    },
}

/// Fractions that have a character of their own.
const VULGAR: [(char, &str, &str); 18] = [
    ('½', "1", "2"),
    ('⅓', "1", "3"),
    ('⅔', "2", "3"),
    ('¼', "1", "4"),
    ('¾', "3", "4"),
    ('⅕', "1", "5"),
    ('⅖', "2", "5"),
    ('⅗', "3", "5"),
    ('⅘', "4", "5"),
    ('⅙', "1", "6"),
    ('⅚', "5", "6"),
    ('⅐', "1", "7"),
    ('⅛', "1", "8"),
    ('⅜', "3", "8"),
    ('⅝', "5", "8"),
    ('⅞', "7", "8"),
    ('⅑', "1", "9"),
    ('⅒', "1", "10"),
];

/// Splits a text into one or two numbers with their units.
pub(super) fn split(text: &str, wanted: Dimension) -> Result<Vec<Part<'_>>, QuantityError> {
    let mut cursor = Cursor { text, at: 0, wanted };
    cursor.skip_space();
    if cursor.peek().is_none() {
        return Err(refuse::empty(text, wanted));
    }
    let mut parts = vec![cursor.part(None)?];
    cursor.skip_space();
    if cursor.peek().is_some() {
        let first = parts.first().map(|part| cursor.slice(part.unit_span.clone()));
        let second = cursor.part(first)?;
        parts.push(second);
        cursor.skip_space();
        if cursor.peek().is_some() {
            return Err(refuse::more_after_the_end(text, cursor.at..text.trim_end().len(), wanted));
        }
    }
    Ok(parts)
}

/// A place in the text that moves forward.
#[derive(Debug, Clone, Copy)]
struct Cursor<'t> {
    text: &'t str,
    /// Byte offset, always on a character boundary.
    at: usize,
    wanted: Dimension,
}

impl<'t> Cursor<'t> {
    fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn slice(&self, span: Range<usize>) -> &'t str {
        self.text.get(span).unwrap_or_default()
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    /// Moves past the next character if it is one of those wanted.
    fn take(&mut self, wanted: impl Fn(char) -> bool) -> Option<char> {
        let c = self.peek().filter(|c| wanted(*c))?;
        self.at += c.len_utf8();
        Some(c)
    }

    fn take_while(&mut self, wanted: impl Fn(char) -> bool) -> &'t str {
        let from = self.at;
        while self.take(&wanted).is_some() {}
        self.slice(from..self.at)
    }

    fn digits(&mut self) -> &'t str {
        self.take_while(|c| c.is_ascii_digit())
    }

    fn skip_space(&mut self) {
        self.take_while(char::is_whitespace);
    }

    /// A number and its unit; `before` is the unit of the part before it, if there is one.
    fn part(&mut self, before: Option<&str>) -> Result<Part<'t>, QuantityError> {
        let start = self.at;
        let sign = self.take(is_sign);
        if let Some(sign) = sign {
            if before.is_some() {
                return Err(refuse::sign_inside(self.text, start..self.at, sign));
            }
            self.skip_space();
            if self.take(is_sign).is_some() {
                return Err(refuse::double_sign(self.text, start..self.at));
            }
        }
        let number = self.number()?;
        let number_span = start..self.at;
        self.skip_space();
        if self.peek().is_some_and(begins_number) {
            return Err(refuse::two_numbers(self.text, start..self.number_end(), self.wanted));
        }
        let unit_start = self.at;
        self.unit();
        let unit_span = unit_start..self.at;
        let unit = self.slice(unit_span.clone());
        if unit.is_empty() {
            return Err(refuse::missing_unit(self.text, number_span, before, self.wanted));
        }
        if let Some(stray) = unit.chars().next().filter(|c| !begins_unit(*c)) {
            return Err(refuse::stray(unit_start..unit_start + stray.len_utf8(), stray, self.wanted));
        }
        Ok(Part { negative: matches!(sign, Some('-' | '−')), number, number_span, unit_span })
    }

    /// An unsigned number.
    fn number(&mut self) -> Result<Number<'t>, QuantityError> {
        let start = self.at;
        if let Some((top, bottom)) = self.vulgar() {
            return Ok(Number::Fraction { whole: None, top, bottom, span: start..self.at });
        }
        let whole = self.digits();
        let mut plain = !whole.is_empty();
        let mut decimals = "";
        if self.take(|c| c == '.').is_some() {
            plain = false;
            decimals = self.digits();
        }
        if whole.is_empty() && decimals.is_empty() {
            self.at = start;
            return Err(self.no_number());
        }
        self.refuse_separators(start)?;
        let mut ahead = *self;
        if ahead.take(|c| matches!(c, 'e' | 'E')).is_some() {
            ahead.take(is_sign);
            if !ahead.digits().is_empty() {
                plain = false;
                *self = ahead;
                self.refuse_separators(start)?;
            }
        }
        if plain && let Some(fraction) = self.fraction(whole, start)? {
            return Ok(fraction);
        }
        let written = self.slice(start..self.at);
        if !plain && self.peek().is_some_and(is_slash) && self.after_slash_digit() {
            return Err(refuse::fraction_of_decimals(self.text, start..self.number_end()));
        }
        Ok(Number::Decimal(written))
    }

    /// The rest of a fraction or a mixed number whose first digits have been read.
    fn fraction(&mut self, first: &'t str, start: usize) -> Result<Option<Number<'t>>, QuantityError> {
        let mut ahead = *self;
        ahead.skip_space();
        if ahead.take(is_slash).is_some() {
            ahead.skip_space();
            let bottom = ahead.digits();
            if bottom.is_empty() || ahead.peek() == Some('.') {
                return Err(refuse::fraction_of_decimals(self.text, start..ahead.number_end()));
            }
            *self = ahead;
            return Ok(Some(Number::Fraction { whole: None, top: first, bottom, span: start..self.at }));
        }
        let joined = ahead.take(|c| c == '-').is_some();
        let from = ahead.at;
        if let Some((top, bottom)) = ahead.vulgar() {
            *self = ahead;
            return Ok(Some(Number::Fraction { whole: Some(first), top, bottom, span: from..self.at }));
        }
        let top = ahead.digits();
        let top_end = ahead.at;
        ahead.skip_space();
        if from > self.at && !top.is_empty() && ahead.take(is_slash).is_some() {
            ahead.skip_space();
            let bottom = ahead.digits();
            if bottom.is_empty() || ahead.peek() == Some('.') {
                return Err(refuse::fraction_of_decimals(self.text, from..ahead.number_end()));
            }
            *self = ahead;
            return Ok(Some(Number::Fraction { whole: Some(first), top, bottom, span: from..self.at }));
        }
        if joined && !top.is_empty() {
            return Err(refuse::range(self.text, start..top_end));
        }
        Ok(None)
    }

    /// A fraction that has a character of its own.
    fn vulgar(&mut self) -> Option<(&'static str, &'static str)> {
        let next = self.peek()?;
        let (c, top, bottom) = VULGAR.iter().find(|(c, ..)| *c == next)?;
        self.at += c.len_utf8();
        Some((top, bottom))
    }

    /// Whether a slash comes next with a digit behind it.
    fn after_slash_digit(mut self) -> bool {
        self.take(is_slash);
        self.skip_space();
        self.peek().is_some_and(|c| c.is_ascii_digit())
    }

    /// Where the run of digits and what usually stands among them ends.
    fn number_end(mut self) -> usize {
        self.take_while(|c| begins_number(c) || matches!(c, ',' | '_' | '/'));
        self.at
    }

    /// Refuses commas, underlines and second points among digits.
    fn refuse_separators(&self, start: usize) -> Result<(), QuantityError> {
        let mut after = *self;
        let digit_follows = |cursor: Cursor<'_>| cursor.peek().is_some_and(|c| c.is_ascii_digit());
        match after.take(|c| matches!(c, ',' | '_' | '.')) {
            Some(',') if digit_follows(after) => Err(refuse::comma(self.text, start..self.number_end())),
            Some('_') if digit_follows(after) => Err(refuse::underline(self.text, start..self.number_end())),
            Some('.') => Err(refuse::two_points(self.text, start..self.number_end())),
            _ => Ok(()),
        }
    }

    /// Why no number begins here.
    fn no_number(&self) -> QuantityError {
        let mut word = *self;
        let letters = word.take_while(|c| c.is_alphabetic() || c == '∞');
        let span = self.at..word.at;
        match letters.to_lowercase().as_str() {
            "nan" | "inf" | "infinity" | "∞" => refuse::not_finite(self.text, span, self.wanted),
            _ if Unit::spelled(letters).is_some() && word.rest().contains(|c: char| c.is_ascii_digit()) => {
                refuse::unit_first(self.text, span, self.wanted)
            }
            _ => {
                let end = if span.is_empty() { self.text.trim_end().len() } else { span.end };
                refuse::no_number(self.text, self.at..end.max(self.at), self.wanted)
            }
        }
    }

    /// Moves past a unit: everything up to the next number, or up to the end.
    fn unit(&mut self) {
        let start = self.at;
        if self.rest().starts_with("''") {
            self.at += 2;
            return;
        }
        if self.take(|c| matches!(c, '\'' | '"' | '′' | '″' | '’' | '”')).is_some() {
            return;
        }
        loop {
            let end = self.at;
            self.skip_space();
            let Some(next) = self.peek() else {
                self.at = end;
                break;
            };
            let number_follows = begins_number(next) || is_sign(next);
            if (self.at > end && number_follows) || is_vulgar(next) {
                self.at = end;
                break;
            }
            self.at += next.len_utf8();
        }
        self.part_a_run_together(start);
    }

    /// Takes "lb6oz" and "ft3in" for two parts: they can be nothing else.
    fn part_a_run_together(&mut self, start: usize) {
        let unit = self.slice(start..self.at);
        let letters = unit.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(unit.len());
        let (first, second) = unit.split_at_checked(letters).unwrap_or((unit, ""));
        if Unit::spelled(unit).is_none()
            && matches!(Unit::spelled(first), Some(Unit::Pound | Unit::Foot))
            && second.starts_with(|c: char| c.is_ascii_digit())
            && second.contains(|c: char| c.is_alphabetic())
        {
            self.at = start + letters;
        }
    }
}

fn is_sign(c: char) -> bool {
    matches!(c, '+' | '-' | '−')
}

fn is_slash(c: char) -> bool {
    matches!(c, '/' | '⁄')
}

fn is_vulgar(c: char) -> bool {
    VULGAR.iter().any(|(vulgar, ..)| *vulgar == c)
}

/// Whether an unsigned number can begin with this character.
fn begins_number(c: char) -> bool {
    c.is_ascii_digit() || c == '.' || is_vulgar(c)
}

/// Whether a unit can begin with this character.
fn begins_unit(c: char) -> bool {
    c.is_alphabetic() || matches!(c, '°' | '˚' | '\'' | '"' | '′' | '″' | '’' | '”')
}
