//! What a result says in words and figures: which unit, how many digits, in which order.

use super::figure::{UnitChoice, decimal, figure, significant};
use super::layout::paragraph;
use crate::checks;
use crate::model::{Project, Side};
use crate::results::{Amount, CheckResult, Margin, PeakStress, Term, Verdict, Working};
use crate::units::{Angle, Length};

/// Significant digits of a figure in a table: as many as sheet and load are known to.
const TABLE_DIGITS: usize = 3;
/// Significant digits of a figure in a working, so that a pocket calculator agrees to a unit in the third.
const WORKING_DIGITS: usize = 5;

/// An amount in the user's units, to so many significant digits.
#[must_use]
pub(super) fn amount(units: &UnitChoice, value: Amount, digits: usize) -> String {
    match value {
        Amount::Stress(v) => units.figure(v, digits),
        Amount::Force(v) => units.figure(v, digits),
        Amount::Moment(v) => units.figure(v, digits),
        Amount::Length(v) => units.figure(v, digits),
        Amount::Area(v) => units.figure(v, digits),
        Amount::Angle(v) => units.figure(v, digits),
        Amount::SecondMoment(v) => units.figure(v, digits),
        Amount::Number(v) => number(v, digits),
        Amount::Density(v) => units.figure(v, digits),
    }
}

/// A plain number to so many significant digits, without idle noughts: 3.5, 0.66667, 1.
fn number(value: f64, digits: usize) -> String {
    let text = significant(value, digits);
    match text.split_once('.') {
        Some((_, decimals)) if !decimals.contains('e') => {
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        }
        _ => text,
    }
}

/// An amount for a table.
#[must_use]
pub(super) fn in_table(units: &UnitChoice, value: Amount) -> String {
    amount(units, value, TABLE_DIGITS)
}

/// An amount for the table of margins: a bare number there is a multiple of the landing's loads.
#[must_use]
pub(super) fn margin_side(units: &UnitChoice, value: Amount) -> String {
    match value {
        Amount::Number(_) => format!("{} ×", in_table(units, value)),
        _ => in_table(units, value),
    }
}

/// A margin as a figure with its sign; `unknown` when it can't be told.
#[must_use]
pub(super) fn margin_figure(margin: &Margin) -> String {
    match margin.value() {
        None => "unknown".to_owned(),
        Some(v) if v > 20.0 => "> +20".to_owned(),
        Some(v) => {
            let text = decimal(v, 2);
            // A failing margin must not read as zero.
            match (v < 0.0, text.as_str()) {
                (true, "0.00" | "-0.00") => "-0.01".to_owned(),
                (true, _) => text,
                (false, _) => format!("+{text}"),
            }
        }
    }
}

/// What would happen, in words: "left leg stays bent".
#[must_use]
pub(super) fn failure_words(margin: &Margin) -> String {
    let does = checks::find(margin.check).map_or(margin.check, |c| c.words);
    format!("{} {does}", margin.part)
}

/// What would happen and in which landing: "left leg stays bent in a tail-down landing".
#[must_use]
pub(super) fn event_words(margin: &Margin) -> String {
    match &margin.case {
        Some(case) => format!("{} in {}", failure_words(margin), case.words()),
        None => failure_words(margin),
    }
}

/// The place of a peak stress, in a few words.
#[must_use]
pub(super) fn place_words(units: &UnitChoice, peak: &PeakStress) -> String {
    let face = peak.face.words();
    if peak.along <= Length::default() {
        format!("at the bend, {face}")
    } else {
        format!("{} from the bend, {face}", units.figure(peak.along, TABLE_DIGITS))
    }
}

/// The same for a column headed "from bend": distance and face.
#[must_use]
pub(super) fn place_in_table(units: &UnitChoice, peak: &PeakStress) -> String {
    let face = peak.face.words();
    format!("{}, {}", units.figure(peak.along, TABLE_DIGITS), face.strip_suffix(" face").unwrap_or(face))
}

/// How far the front of a wheel turns towards the aircraft's middle; for a wheel in the middle, to port.
#[must_use]
pub(super) fn toe_in(side: Side, turn: Angle) -> Angle {
    // A turn from aft towards starboard takes the wheel's front to port.
    match side {
        Side::Left => -turn,
        Side::Right | Side::Centre => turn,
    }
}

/// A factor without idle noughts: 1, 1.5, 1.725.
#[must_use]
pub(super) fn factor_figure(factor: f64) -> String {
    let text = decimal(factor, 3);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn term(units: &UnitChoice, t: &Term) -> String {
    format!("{} = {}", t.symbol, amount(units, t.value, WORKING_DIGITS))
}

/// Symbols with their values on one line: "n = 3.5, s = 0.5".
#[must_use]
pub(super) fn terms_line<'t>(units: &UnitChoice, terms: impl Iterator<Item = &'t Term>) -> String {
    terms.map(|t| term(units, t)).collect::<Vec<_>>().join(", ")
}

/// A symbol with its value and its meaning: "n = 3.5, load factor".
#[must_use]
pub(super) fn term_in_words(units: &UnitChoice, t: &Term) -> String {
    format!("{}, {}", term(units, t), t.what)
}

/// A working on one line: the formula, then the symbols with their values, then what comes out.
#[must_use]
pub(super) fn working_line(units: &UnitChoice, working: &Working, outcome: Option<String>) -> String {
    let mut line = working.formula.clone();
    if !working.terms.is_empty() {
        line.push_str(": ");
        line.push_str(&terms_line(units, working.terms.iter()));
    }
    if let Some(outcome) = outcome {
        line.push_str("; ");
        line.push_str(&outcome);
    }
    line
}

/// The last line of a margin's sum with its numbers put in.
#[must_use]
pub(super) fn margin_sum(units: &UnitChoice, margin: &Margin) -> Option<String> {
    let allowable = margin.allowable?;
    let value = margin.value()?;
    Some(format!(
        "margin = {} / ({} × {}) − 1 = {}",
        amount(units, allowable, WORKING_DIGITS),
        factor_figure(margin.factor),
        amount(units, margin.applied, WORKING_DIGITS),
        decimal(value, 4)
    ))
}

/// A table of a working's symbols: symbol and value, meaning.
#[must_use]
pub(super) fn working_terms(units: &UnitChoice, working: &Working) -> Vec<(String, String)> {
    working.terms.iter().map(|t| (term(units, t), t.what.clone())).collect()
}

/// The worst margin of each check on each gear, in the order of the result (worst first).
#[must_use]
pub(super) fn worst_of_each(result: &CheckResult) -> Vec<&Margin> {
    let mut seen: Vec<(&str, &str)> = Vec::new();
    let mut kept = Vec::new();
    for m in &result.margins {
        let key = (m.gear.as_str(), m.check);
        if !seen.contains(&key) {
            seen.push(key);
            kept.push(m);
        }
    }
    kept
}

/// How many margins fail and how many can't be told.
#[must_use]
pub(super) fn tally(result: &CheckResult) -> (usize, usize) {
    let count = |f: fn(&Verdict) -> bool| result.margins.iter().filter(|m| f(&m.verdict)).count();
    (count(|v| *v == Verdict::Fails), count(|v| matches!(v, Verdict::Untold(_))))
}

/// The first line of a report: the aircraft, and its mass as it was written.
#[must_use]
pub(super) fn title(project: &Project, units: &UnitChoice) -> String {
    let written = project.readings.iter().find(|r| r.key == "aircraft.mass");
    let mass = written.map_or_else(|| figure(project.aircraft.mass, units.mass, 4), |r| r.written.clone());
    paragraph(&format!("{}, {mass} as it lands", project.aircraft.name))
}
