//! What is said about a text that is no quantity: one function for each mistake.

use std::ops::Range;

use strsim::damerau_levenshtein;

use super::QuantityError;
use crate::units::{Dimension, Unit, normal_form};

/// Characters of the user's text that a message repeats at most.
const SHOWN: usize = 40;

/// Longest text that is worth comparing with the names of units.
const LONGEST_NAME: usize = 16;

/// Of a number without its unit; with a tolerance it may still have one.
pub(super) const UNIT_MISSING: &str = "unit-missing";

fn error(code: &'static str, span: Range<usize>, message: String) -> QuantityError {
    QuantityError { code, message, label: None, help: Vec::new(), span }
}

impl QuantityError {
    fn label(mut self, words: impl Into<String>) -> Self {
        self.label = Some(words.into());
        self
    }

    /// The same with other advice in the first place.
    pub(super) fn advise_first(mut self, words: String) -> Self {
        if let Some(first) = self.help.first_mut() {
            *first = words;
        }
        self
    }

    fn help(mut self, words: impl Into<String>) -> Self {
        self.help.push(words.into());
        self
    }
}

/// The user's own words in a message: in back-ticks, short, without control characters.
fn quote(text: &str, span: &Range<usize>) -> String {
    format!("`{}`", shown(text.get(span.clone()).unwrap_or_default()))
}

fn shown(text: &str) -> String {
    let mut out: String =
        text.trim().chars().take(SHOWN).map(|c| if c.is_control() { '�' } else { c }).collect();
    if text.trim().chars().count() > SHOWN {
        out.push('…');
    }
    out
}

/// The advice to write the text with something else in place of a span.
fn write_instead(text: &str, span: &Range<usize>, with: &str) -> String {
    let before = text.get(..span.start).unwrap_or_default();
    let after = text.get(span.end..).unwrap_or_default();
    write(&format!("{before}{with}{after}"))
}

/// The advice to write the text with another unit.
fn write_unit(text: &str, unit: &Range<usize>, symbol: &str) -> String {
    write_instead(text, unit, &format!(" {symbol}"))
}

pub(super) fn write(text: &str) -> String {
    let words: Vec<_> = text.split_whitespace().collect();
    format!("write \"{}\"", shown(&words.join(" ")))
}

fn write_like(wanted: Dimension) -> String {
    format!("write {}, such as \"{}\"", wanted.noun(), wanted.example())
}

fn accepted(wanted: Dimension) -> String {
    let symbols: Vec<_> = wanted.units().map(Unit::symbol).collect();
    format!("units of {}: {}", wanted.word(), symbols.join(", "))
}

pub(super) fn empty(text: &str, wanted: Dimension) -> QuantityError {
    error("quantity-empty", 0..text.len(), format!("nothing is written here; {} is needed", wanted.noun()))
        .help(write_like(wanted))
}

pub(super) fn no_number(text: &str, span: Range<usize>, wanted: Dimension) -> QuantityError {
    let words = quote(text, &span);
    error("quantity-number", span, format!("{words} is not a number; {} is needed", wanted.noun()))
        .label("a number is expected here")
        .help(write_like(wanted))
}

pub(super) fn unit_first(text: &str, span: Range<usize>, wanted: Dimension) -> QuantityError {
    let unit = text.get(span.clone()).unwrap_or_default();
    let number = text.get(span.end..).unwrap_or_default();
    let turned = write(&format!("{number} {unit}"));
    let words = quote(text, &span);
    error("quantity-number", span, format!("{words} stands before its number; {} is needed", wanted.noun()))
        .label("a number is expected here")
        .help(turned)
}

pub(super) fn not_finite(text: &str, span: Range<usize>, wanted: Dimension) -> QuantityError {
    let words = quote(text, &span);
    error("quantity-not-finite", span, format!("{words} is not a size that anything can have"))
        .help(write_like(wanted))
}

pub(super) fn out_of_range(text: &str, span: Range<usize>, number: f64) -> QuantityError {
    let side = if number.abs() < 1.0 { "small" } else { "large" };
    let words = quote(text, &span);
    error("quantity-range", span, format!("{words} is too {side} to reckon with"))
}

pub(super) fn double_sign(text: &str, span: Range<usize>) -> QuantityError {
    let words = quote(text, &span);
    error("quantity-sign", span, format!("{words}: two signs stand before the number"))
        .help("write one sign or none")
}

pub(super) fn sign_inside(text: &str, span: Range<usize>, sign: char) -> QuantityError {
    let plain = write_instead(text, &span, "");
    error("quantity-sign", span, format!("`{sign}` can't stand in the middle of a quantity"))
        .label("only the whole quantity can have a sign, at its beginning")
        .help(plain)
}

pub(super) fn comma(text: &str, span: Range<usize>) -> QuantityError {
    let number = text.get(span.clone()).unwrap_or_default();
    let joined = number.replace(',', "");
    let commas = number.matches(',').count();
    let grouped =
        number.split(',').skip(1).all(|group| group.split('.').next().is_some_and(|g| g.len() == 3));
    let point = number.replace(',', ".");
    let words = quote(text, &span);
    let refused = error("quantity-comma", span.clone(), format!("{words} has a comma"));
    if number.contains('.') && number.find('.') < number.find(',') {
        // Points group the thousands and the comma is the decimal sign.
        let turned = number.replace('.', "").replace(',', ".");
        refused.label("the decimal sign is a point").help(write_instead(text, &span, &turned))
    } else if commas == 1 && !number.contains('.') {
        let refused = refused.label("the decimal sign is a point").help(write_instead(text, &span, &point));
        if grouped {
            refused
                .help(format!("or, if the comma groups thousands, {}", write_instead(text, &span, &joined)))
        } else {
            refused
        }
    } else if grouped {
        refused.label("thousands are written without a separator").help(write_instead(text, &span, &joined))
    } else {
        refused.help("write one number with a decimal point and no separators")
    }
}

pub(super) fn underline(text: &str, span: Range<usize>) -> QuantityError {
    let joined = text.get(span.clone()).unwrap_or_default().replace('_', "");
    let words = quote(text, &span);
    let help = write_instead(text, &span, &joined);
    error("quantity-number", span, format!("{words} has an underline among its digits")).help(help)
}

pub(super) fn two_points(text: &str, span: Range<usize>) -> QuantityError {
    let words = quote(text, &span);
    error("quantity-number", span, format!("{words} has two decimal points"))
}

pub(super) fn range(text: &str, span: Range<usize>) -> QuantityError {
    let words = quote(text, &span);
    error("quantity-number", span, format!("{words} is not one number"))
        .help("write one value; a fraction after a whole number is written like \"1-3/8 in\"")
}

pub(super) fn two_numbers(text: &str, span: Range<usize>, wanted: Dimension) -> QuantityError {
    let words = quote(text, &span);
    let joined: String = text.get(span.clone()).unwrap_or_default().split_whitespace().collect();
    let help = write_instead(text, &span, &joined);
    let refused = error("quantity-number", span, format!("{words}: there is no unit between these numbers"));
    // "1 200 mm" may be a grouped thousand; anything with a point in it is not.
    if joined.bytes().all(|b| b.is_ascii_digit()) {
        refused.help(format!("if it is one number, {help}"))
    } else {
        refused.help(write_like(wanted))
    }
}

pub(super) fn fraction_of_decimals(text: &str, span: Range<usize>) -> QuantityError {
    let words = quote(text, &span);
    error("quantity-fraction", span, format!("{words} is not a fraction of two whole numbers"))
        .help("write a fraction like \"5/32 in\", or decimals like \"0.156 in\"")
}

pub(super) fn zero_below(text: &str, span: Range<usize>) -> QuantityError {
    let words = quote(text, &span);
    error("quantity-fraction", span, format!("{words} divides by zero"))
}

pub(super) fn improper(text: &str, span: Range<usize>) -> QuantityError {
    let words = quote(text, &span);
    error("quantity-fraction", span, format!("{words} is not less than 1, after a whole number"))
        .help("write a fraction after a whole number like \"1 3/8 in\"")
}

pub(super) fn stray(span: Range<usize>, stray: char, wanted: Dimension) -> QuantityError {
    let stray = shown(stray.encode_utf8(&mut [0; 4]));
    error("quantity-number", span, format!("`{stray}` can't stand here"))
        .label("a unit is expected here")
        .help(write_like(wanted))
}

pub(super) fn more_after_the_end(text: &str, span: Range<usize>, wanted: Dimension) -> QuantityError {
    let words = quote(text, &span);
    error("quantity-number", span, format!("{words} is left over after the quantity"))
        .help(write_like(wanted))
}

pub(super) fn missing_unit(
    text: &str,
    number: Range<usize>,
    before: Option<&str>,
    wanted: Dimension,
) -> QuantityError {
    let unit = match before.and_then(Unit::spelled) {
        Some(Unit::Foot) => "in",
        Some(Unit::Pound) => "oz",
        _ if wanted == Dimension::Length && is_fraction(text.get(number.clone()).unwrap_or_default()) => "in",
        _ => wanted.units().next().map_or("", Unit::symbol),
    };
    let words = quote(text, &number);
    let help = write(&format!("{} {unit}", text.trim()));
    error(UNIT_MISSING, number, format!("{words} has no unit; {} is needed", wanted.noun()))
        .label("a number without its unit")
        .help(help)
        .help(accepted(wanted))
}

/// Whether a number is written as a fraction, as inches are.
fn is_fraction(number: &str) -> bool {
    !number.bytes().all(|b| b.is_ascii_digit() || matches!(b, b'.' | b'+' | b'-' | b'e' | b'E'))
}

pub(super) fn unknown_unit(
    text: &str,
    part: Range<usize>,
    unit: Range<usize>,
    wanted: Dimension,
) -> QuantityError {
    let written = normal_form(text.get(unit.clone()).unwrap_or_default());
    if is_bare_gauge(&written) {
        return bare_gauge(text, part, unit, &written);
    }
    let words = quote(text, &unit);
    let mut refused =
        error("unit-unknown", unit.clone(), format!("{words} is not a unit that is known here"));
    if let Some((_, note)) = FOREIGN.iter().find(|(name, _)| *name == written) {
        refused = refused.help(*note);
    } else if let Some(near) = nearest(&written, wanted) {
        // The unit only: with the number it would read as a conversion.
        refused = refused.help(format!("perhaps the unit {} is meant", near.symbol()));
    }
    refused.help(accepted(wanted))
}

/// Units that are met in the trade but not read, in normal form, with what to do about each.
const FOREIGN: [(&str, &str); 9] = [
    ("lb/in", "lb is a mass; write lbf/in"),
    ("lbs/in", "lb is a mass; write lbf/in"),
    ("lb/in^2", "lb is a mass; write psi"),
    ("lbs/in^2", "lb is a mass; write psi"),
    ("kg/mm", "kg is a mass; 1 kgf/mm is 9.80665 N/mm"),
    ("kg/mm^2", "kg is a mass; 1 kgf/mm^2 is 9.80665 MPa"),
    ("kgf/mm^2", "1 kgf/mm^2 is 9.80665 MPa"),
    ("bar", "1 bar is 0.1 MPa"),
    ("ozf", "1 ozf is 1/16 lbf"),
];

/// The unit of the wanted kind that was most likely meant.
fn nearest(written: &str, wanted: Dimension) -> Option<Unit> {
    let length = written.chars().count();
    if length > LONGEST_NAME {
        return None;
    }
    let same_but_for_capitals =
        |unit: &Unit| unit.names().any(|name| name.to_lowercase() == written.to_lowercase());
    if let Some(unit) = wanted.units().find(same_but_for_capitals) {
        return Some(unit);
    }
    // chosen: one slip in a short name, two in a long one; more would suggest "m" for every letter.
    let slips = if length < 2 {
        0
    } else if length <= 4 {
        1
    } else {
        2
    };
    wanted
        .units()
        .filter_map(|unit| {
            let names = unit.names().filter(|name| name.chars().count() > 1);
            names.map(|name| damerau_levenshtein(name, written)).min().map(|distance| (distance, unit))
        })
        .filter(|(distance, _)| *distance <= slips)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, unit)| unit)
}

fn is_bare_gauge(written: &str) -> bool {
    let plain = written.to_lowercase();
    matches!(plain.trim_end_matches('.'), "ga" | "gage" | "gauge" | "awg" | "bwg" | "b&s" | "g a" | "gg")
}

fn bare_gauge(text: &str, part: Range<usize>, unit: Range<usize>, written: &str) -> QuantityError {
    let words = quote(text, &part);
    let message = match written.to_lowercase().as_str() {
        "awg" | "bwg" | "b&s" => format!("{words}: of the gauges, only swg is read"),
        _ => format!("{words} does not say which gauge"),
    };
    let swg = write_unit(text, &unit, "swg");
    error("unit-gauge", unit, message)
        .help("gauges differ: 18 ga is 1.21 mm in steel sheet, 1.02 mm in aluminium sheet and 1.22 mm in swg")
        .help("measure it and write mm, in or thou")
        .help(format!("or, if it is a size of the Imperial Standard Wire Gauge, {swg}"))
}

pub(super) fn wrong_dimension(
    text: &str,
    part: Range<usize>,
    span: Range<usize>,
    unit: Unit,
    wanted: Dimension,
) -> QuantityError {
    let meant = match (unit, wanted) {
        (Unit::Pound, Dimension::Force) => Some("lbf"),
        (Unit::Kilogram, Dimension::Force) => Some("kgf"),
        (Unit::PoundForce, Dimension::Mass) => Some("lb"),
        (Unit::KilogramForce, Dimension::Mass) => Some("kg"),
        _ => None,
    };
    let words = quote(text, &part);
    let message = format!("{words} is {}; {} is needed here", unit.dimension().noun(), wanted.noun());
    let refused = error("unit-dimension", span.clone(), message)
        .label(format!("a unit of {}", unit.dimension().word()));
    match meant {
        Some(symbol) => refused.help(write_unit(text, &span, symbol)),
        None => refused.help(write_like(wanted)).help(accepted(wanted)),
    }
}

pub(super) fn no_such_gauge(text: &str, span: Range<usize>) -> QuantityError {
    let words = quote(text, &span);
    error("unit-gauge", span, format!("{words} is not a size of the Imperial Standard Wire Gauge"))
        .help("it runs from 7/0 (0.5 in) through 1/0 and 1 to 50 (0.001 in), in whole numbers")
}

pub(super) fn not_a_pair(text: &str, span: Range<usize>, wanted: Dimension) -> QuantityError {
    let words = quote(text, &span);
    error("quantity-pair", span, format!("{words} is written in two parts that don't go together"))
        .help("only lb with oz and ft with in are written together, the larger first")
        .help(format!("or write it with one unit, such as \"{}\"", wanted.example()))
}

pub(super) fn pair_not_whole(text: &str, span: Range<usize>, unit: Unit) -> QuantityError {
    let words = quote(text, &span);
    let unit = unit.symbol();
    error(
        "quantity-pair",
        span,
        format!("{words} is not a whole number of {unit}, and a smaller unit follows"),
    )
    .help(format!("write whole {unit} before the smaller unit, or only {unit}"))
}

pub(super) fn pair_too_much(
    text: &str,
    span: Range<usize>,
    large: Unit,
    small: Unit,
    ratio: f64,
) -> QuantityError {
    let words = quote(text, &span);
    let (large, small) = (large.symbol(), small.symbol());
    error(
        "quantity-pair",
        span,
        format!("{words} is too much after whole {large}: {ratio} {small} are 1 {large}"),
    )
}

/// Where a tolerance can't stand: command lines and tables.
pub(super) fn tolerance_here(text: &str, span: Range<usize>) -> QuantityError {
    let value = write(text.get(..span.start).unwrap_or_default());
    error("tolerance-here", span, "a tolerance can't stand here, only in a project file".to_owned())
        .help(format!("leave it out: {value}"))
}

/// How a tolerance is written.
const TOLERANCES: &str = "write it as in \"4 mm ± 0.1 mm\" or \"4 mm ± 3 %\"";

pub(super) fn second_tolerance(text: &str, span: Range<usize>) -> QuantityError {
    let words = quote(text, &span);
    error("tolerance-twice", span, format!("{words}: a value has one tolerance"))
        .label("second time")
        .help("give the wider of the two; it counts to either side")
}

pub(super) fn empty_tolerance(text: &str, span: Range<usize>) -> QuantityError {
    let words = quote(text, &span);
    error("tolerance-empty", span, format!("nothing follows {words}")).help(TOLERANCES)
}

pub(super) fn negative_tolerance(text: &str, span: Range<usize>) -> QuantityError {
    let words = quote(text, &span);
    error("tolerance-negative", span, format!("a tolerance counts to either side, and {words} is negative"))
        .help("leave the second sign out")
}

pub(super) fn gauge_of_tolerance(text: &str, span: Range<usize>) -> QuantityError {
    let words = quote(text, &span);
    error("tolerance-gauge", span, format!("{words} is a size of a gauge and no difference of sizes"))
        .help("write the tolerance in mm, in or thou, as in \"14 swg ± 0.02 mm\"")
}

pub(super) fn share_of_nothing(text: &str, span: Range<usize>, wanted: Dimension) -> QuantityError {
    let unit = wanted.units().next().map_or("", Unit::symbol);
    share_of_no_number(text, span)
        .help(format!("write the tolerance with a unit, such as \"0 {unit} ± 1 {unit}\""))
}

pub(super) fn share_of_no_number(text: &str, span: Range<usize>) -> QuantityError {
    let words = quote(text, &span);
    error("tolerance-of-nothing", span, format!("{words} of zero is zero"))
}

pub(super) fn no_plain_number(text: &str, span: Range<usize>) -> QuantityError {
    let words = quote(text, &span);
    error("tolerance-number", span, format!("{words} is not a plain number"))
        .help("write it as in \"3.5 ± 0.5\" or \"3.5 ± 10 %\"")
}
