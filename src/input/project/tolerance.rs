//! Tolerances: written ones, the usual ones where nothing is written, and values that are off by a share of theirs.

use super::keys::{Accept, Key};
use super::measure::Entered;
use super::section::{Found, Section};
use super::tree::Node;
use crate::diagnostic::Diagnostic;
use crate::input::quantity::QuantityError;
use crate::input::quantity::{number_with_tolerance, with_tolerance};
use crate::model::{Tolerance, ToleranceOrigin};
use crate::report::figure::significant;
use std::collections::BTreeMap;

/// Deviations of values by their dotted keys, in tolerances.
pub(super) type Deviations = BTreeMap<String, f64>;

/// A tolerance that came with the place of its value, to be put in the file's order.
pub(super) struct Placed {
    pub(super) at: usize,
    pub(super) tolerance: Tolerance,
}

/// What a value is usually off by.
enum Usual {
    /// A share of it.
    Share(f64),
    /// So much.
    By(&'static str),
}

/// Weighed on a kitchen or fish scale, and loaded anew for each flight.
const SCALE: &str =
    "a scale in the workshop, and what is loaded anew for each flight; common practice, no source";
/// Source: PRACTICE of builders, 3 to 6 %; EN 485-4 (from memory) allows 3 to 4 % of cold-rolled sheet of 1 to 4 mm.
const SHEET: &str =
    "sheet as it is rolled; EN 485-4 (from memory) allows 3 to 4 %, builders measure 3 to 6 %";
const SAW: &str = "cut by saw and file, measured with calipers; common practice, no source";
const RULER: &str = "measured with a ruler or tape; common practice, no source";
const BENT: &str = "bent by hand; common practice, no source";
const DRAWN: &str = "bar and wire as they are drawn; common practice, no source";
const TYRE: &str = "squashed on a scale, and pumped by feel; common practice, no source";
const FELT: &str = "tightened by feel; common practice, no source";
const PLY: &str = "plywood as it is sold; common practice, no source";
const TRIED: &str = "one piece tried, and the next is another; common practice, no source";

/// What a value is usually off by, by its section and key. What is not listed counts as exact until the file says otherwise:
/// holes and places of bolts do little, and friction, wing lift and load factor are what the rules make them.
const USUAL: [(&str, &str, Usual, &str); 22] = [
    ("aircraft", "mass", Usual::Share(0.02), SCALE),
    ("plate", "thickness", Usual::Share(0.04), SHEET),
    ("plate", "thickness_root", Usual::Share(0.04), SHEET),
    ("plate", "thickness_tip", Usual::Share(0.04), SHEET),
    ("plate", "width_root", Usual::By("0.5 mm"), SAW),
    ("plate", "width_tip", Usual::By("0.5 mm"), SAW),
    ("plate", "base_width", Usual::By("1 mm"), RULER),
    ("plate", "leg_length", Usual::By("1 mm"), RULER),
    ("plate", "leg_angle", Usual::By("1 deg"), BENT),
    ("plate", "rake", Usual::By("1 deg"), BENT),
    ("plate", "bend_radius", Usual::Share(0.1), BENT),
    ("wheel", "diameter", Usual::Share(0.01), RULER),
    ("wheel", "overhang", Usual::By("1 mm"), RULER),
    ("wheel", "axle", Usual::Share(0.01), DRAWN),
    ("wheel", "tyre_stiffness", Usual::Share(0.1), TYRE),
    ("brace", "diameter", Usual::Share(0.01), DRAWN),
    ("brace", "base_at", Usual::By("1 mm"), RULER),
    ("brace", "pretension", Usual::Share(0.25), FELT),
    ("brace", "slack", Usual::By("0.2 mm"), FELT),
    ("mount", "wood_thickness", Usual::Share(0.03), PLY),
    ("mount", "pull_through", Usual::Share(0.2), TRIED),
    ("mount", "glue_strength", Usual::Share(0.25), TRIED),
];

/// The usual tolerance of a dotted key.
fn usual(dotted: &str) -> Option<(&'static Usual, &'static str)> {
    let mut words = dotted.split('.').rev().filter(|word| word.parse::<usize>().is_err());
    let (key, section) = (words.next()?, words.next()?);
    let row = USUAL.iter().find(|(s, k, ..)| (*s, *k) == (section, key))?;
    Some((&row.2, row.3))
}

impl Section<'_> {
    /// Notes the tolerance of a quantity that has been read, and gives the value that it has in this sample.
    pub(super) fn deviated<Q: Entered>(
        &self,
        key: &Key,
        dotted: &str,
        node: &Node,
        (value, written): (Q, Option<Q>),
    ) -> Found<Q> {
        let si = value.si();
        let (half, origin) = match (written, usual(dotted)) {
            (Some(half), _) => (half.si(), ToleranceOrigin::Written),
            (None, Some((Usual::Share(share), why))) => (share * si.abs(), ToleranceOrigin::Usual(why)),
            (None, Some((Usual::By(text), why))) => match Q::from_text(text) {
                Ok(by) => (by.value.si(), ToleranceOrigin::Usual(why)),
                Err(_) => return Found::Good(value, node.span.clone()),
            },
            (None, None) => return Found::Good(value, node.span.clone()),
        };
        let limits = match key.accept {
            Accept::Quantity { least, most } => match (Q::from_text(least), Q::from_text(most)) {
                (Ok(low), Ok(high)) => (low.value.si(), high.value.si()),
                _ => (f64::NEG_INFINITY, f64::INFINITY),
            },
            _ => (f64::NEG_INFINITY, f64::INFINITY),
        };
        if origin == ToleranceOrigin::Written && !self.narrow_enough(key, node, si, half, limits) {
            return Found::Bad(node.span.clone());
        }
        let words = format!("{} ± {}", value.echo(), Q::from_si(half).echo());
        let by = self.noted(dotted, node, (si, half), limits, words, origin);
        Found::Good(if by == 0.0 { value } else { Q::from_si(si + by) }, node.span.clone())
    }

    /// The same for a plain number.
    pub(super) fn deviated_number(&self, key: &Key, node: &Node, value: f64, half: f64) -> Found<f64> {
        let limits = match key.accept {
            Accept::Number { least, most, .. } => (least, most),
            _ => (f64::NEG_INFINITY, f64::INFINITY),
        };
        if !self.narrow_enough(key, node, value, half, limits) {
            return Found::Bad(node.span.clone());
        }
        let words = format!("{} ± {}", trimmed(value), trimmed(half));
        let by =
            self.noted(&self.dotted(key.name), node, (value, half), limits, words, ToleranceOrigin::Written);
        Found::Good(value + by, node.span.clone())
    }

    /// A number with its tolerance out of a text; whatever is wrong with it has been noted.
    pub(super) fn toleranced_number(&self, key: &Key, text: &str, node: &Node) -> Option<(f64, f64)> {
        number_with_tolerance(text).map_err(|error| self.note_in_text(key, text, node, error)).ok()
    }

    /// Notes a mistake in the text of a value.
    pub(super) fn note_in_text(&self, key: &Key, text: &str, node: &Node, error: QuantityError) {
        let mut wrong = Diagnostic::error(error.code, error.message);
        wrong.label = error.label;
        wrong.help = error.help;
        if wrong.help.is_empty() {
            wrong.help.push(format!("write it as in {} = {}", key.name, key.example));
        }
        let inside = self.inside(node, text, error.span);
        self.note(wrong, inside);
    }

    /// A quantity as it is written, whatever it is in this sample: what is bought and what fits are judged by that.
    pub(super) fn as_written<Q: Entered>(&self, key: &Key) -> Option<Q> {
        let entry = self.table.get(key.name)?;
        let super::tree::Value::Text(text) = &entry.node.value else { return None };
        with_tolerance::<Q>(text).ok().map(|read| read.written.value)
    }

    /// Whether values are off in this reading.
    pub(super) fn is_sample(&self) -> bool {
        self.cx.deviations.is_some()
    }

    /// Refuses a tolerance by which a value that can't be negative, or can't be nothing, might be.
    fn narrow_enough(&self, key: &Key, node: &Node, value: f64, half: f64, (least, _): (f64, f64)) -> bool {
        let too_wide = least >= 0.0 && (half > value || (half == value && half > 0.0 && least > 0.0));
        if too_wide {
            let may_be = if half > value { "less than nothing" } else { "nothing" };
            let refused = Diagnostic::error(
                "tolerance-too-wide",
                format!("with this tolerance `{}` might be {may_be}", key.name),
            )
            .help("the tolerance counts to either side; give one that is smaller than the value");
            self.note(refused, node.span.clone());
        }
        !too_wide
    }

    /// Keeps a tolerance and gives by how much the value is off in this sample.
    fn noted(
        &self,
        dotted: &str,
        node: &Node,
        (value, half): (f64, f64),
        (least, most): (f64, f64),
        words: String,
        origin: ToleranceOrigin,
    ) -> f64 {
        let room = if half > 0.0 { ((least - value) / half, (most - value) / half) } else { (0.0, 0.0) };
        let by = self.cx.deviations.and_then(|deviations| deviations.get(dotted)).copied().unwrap_or(0.0);
        let tolerance = Tolerance { key: dotted.to_owned(), words, origin, room };
        self.cx.tolerances.borrow_mut().push(Placed { at: node.span.start, tolerance });
        by.clamp(room.0, room.1) * half
    }
}

/// A number without noughts at the end that nobody wrote.
fn trimmed(number: f64) -> String {
    let text = significant(number, 4);
    if text.contains('.') && !text.contains('e') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_tolerance_goes_by_section_and_key() {
        for (dotted, share) in [
            ("aircraft.mass", Some(0.02)),
            ("gear.main.plate.thickness", Some(0.04)),
            ("gear.main.wheel.diameter", Some(0.01)),
            ("gear.main.brace.2.diameter", Some(0.01)),
            ("gear.main.mount.hole", None),
            ("drop_test.1.mass", None),
            ("landing.friction", None),
        ] {
            let found = usual(dotted).map(|(usual, _)| match usual {
                Usual::Share(share) => *share,
                Usual::By(_) => f64::NAN,
            });
            assert_eq!(found, share, "{dotted}");
        }
    }
}
