//! What a drop is called, in which unit and how finely it is written.

use super::figure::{UnitChoice, fixed, fixed_number, significant};
use crate::material::Library;
use crate::model::{Gear, Project};
use crate::results::{CollapseCause, Drop, DropTable, Mark, MarkKind};
use crate::units::{Acceleration, Length, STANDARD_GRAVITY, Unit, Velocity};
use uom::si::acceleration::meter_per_second_squared;
use uom::si::length::{millimeter, nanometer};

/// How far beside a word's sink rates a drop may lie and still have the word: what rounding makes of them.
const ROUNDING: f64 = 1e-6;

/// Drops whose speeds differ by less than this share are told as one. chosen: a millimetre in a height of 50.
const SAME: f64 = 0.01;

/// Decimals that show a height to a millimetre or finer.
const fn height_places(unit: Unit) -> usize {
    match unit {
        Unit::Metre | Unit::Foot => 3,
        Unit::Centimetre => 1,
        Unit::Inch | Unit::Swg => 2,
        _ => 0,
    }
}

/// Decimals that show a travel to a tenth of a millimetre or finer.
const fn travel_places(unit: Unit) -> usize {
    match unit {
        Unit::Metre | Unit::Foot => 4,
        Unit::Inch | Unit::Swg => 3,
        Unit::Centimetre => 2,
        _ => 1,
    }
}

/// A height below which a millimetre is too coarse. chosen: then three digits are shown.
fn is_low(value: Length) -> bool {
    value < Length::new::<millimeter>(10.0)
}

/// A height with its unit.
#[must_use]
pub(super) fn height(units: &UnitChoice, value: Length) -> String {
    if is_low(value) {
        return travel(units, value);
    }
    fixed(value, units.length, height_places(units.length))
}

/// A height for a column whose head names the unit.
#[must_use]
pub(super) fn height_number(units: &UnitChoice, value: Length) -> String {
    if is_low(value) {
        return travel_number(units, value);
    }
    fixed_number(value, units.length, height_places(units.length))
}

/// Words in a row: "flared", "flared or firm", "flared, firm or hard".
#[must_use]
pub(super) fn either(words: &[&str]) -> String {
    match words {
        [first @ .., second_last, last] => {
            let mut all: Vec<&str> = first.to_vec();
            all.push(second_last);
            format!("{} or {last}", all.join(", "))
        }
        [one] => (*one).to_owned(),
        [] => String::new(),
    }
}

/// The drop of a table that ends at a speed, if it has one.
#[must_use]
pub(super) fn drop_at(table: &DropTable, sink_rate: Velocity) -> Option<&Drop> {
    table.drops.iter().find(|d| (f64::from(d.sink_rate / sink_rate) - 1.0).abs() < SAME)
}

/// A spread, set or travel with its unit.
#[must_use]
pub(super) fn travel(units: &UnitChoice, value: Length) -> String {
    let places = travel_places(units.length);
    let least = Length::new::<millimeter>(0.05);
    // What an unloading leaves of rounding is nothing.
    if value > Length::new::<nanometer>(100.0) && value < least && units.length == Unit::Millimetre {
        return "less than 0.1 mm".to_owned();
    }
    fixed(value, units.length, places)
}

/// A spread, set or travel for a column whose head names the unit.
#[must_use]
pub(super) fn travel_number(units: &UnitChoice, value: Length) -> String {
    fixed_number(value, units.length, travel_places(units.length))
}

/// A speed with its unit.
#[must_use]
pub(super) fn speed(units: &UnitChoice, value: Velocity) -> String {
    units.figure(value, 3)
}

/// A load factor: 3.5, 12.4.
#[must_use]
pub(super) fn factor(value: f64) -> String {
    if value < 10.0 { super::figure::decimal(value, 2) } else { significant(value, 3) }
}

/// Speed after a free fall.
#[must_use]
pub(super) fn speed_after(height: Length) -> Velocity {
    let gravity = Acceleration::new::<meter_per_second_squared>(STANDARD_GRAVITY);
    (2.0 * gravity * height).sqrt()
}

/// The pilot's word for an arrival at a sink rate, if there is one.
#[must_use]
pub(super) fn word_for(library: &Library, sink_rate: Velocity) -> Option<&str> {
    let fits = |(from, to): (Velocity, Velocity)| {
        f64::from(sink_rate / from) > 1.0 - ROUNDING && f64::from(sink_rate / to) < 1.0 + ROUNDING
    };
    library.arrivals.iter().find(|a| fits(a.sink_rate.value)).map(|a| a.name.as_str())
}

/// A gear of a project by its name.
#[must_use]
pub(super) fn gear_named<'p>(project: &'p Project, name: &str) -> Option<&'p Gear> {
    project.gears.iter().find(|g| g.name == name)
}

/// Whether the yield strength of a gear's plate is known, without which nobody can tell what stays bent.
#[must_use]
pub(super) fn is_strength_known(project: &Project, gear: &str) -> bool {
    gear_named(project, gear).is_some_and(|g| g.plate.yield_strength().is_some())
}

/// What grows as the gear gives, and as what it is measured: the track of two wheels, one wheel's way sideways.
#[must_use]
pub(super) fn spread_words(gear: &Gear) -> (&'static str, &'static str) {
    if gear.wheels().len() > 1 {
        ("the track grows by", "the track stays wider by")
    } else {
        ("the wheel goes sideways by", "the wheel stays off its place by")
    }
}

/// How a gear collapses, after "because".
#[must_use]
pub(super) const fn cause_words(cause: CollapseCause) -> &'static str {
    match cause {
        CollapseCause::Buckling => "it buckles",
        CollapseCause::PlasticHinge => "a leg folds where it has yielded",
        CollapseCause::Travel => "its wheels go further than a leg's length",
        CollapseCause::Wire => "a wire or its end lets go and the legs alone don't hold",
    }
}

/// What a mark says of its parts: singular, plural.
const fn does(what: MarkKind) -> (&'static str, &'static str) {
    match what {
        MarkKind::FirstYield => ("yields", "yield"),
        MarkKind::WireTaut => ("goes taut", "go taut"),
        MarkKind::WireYields => ("stays stretched", "stay stretched"),
        MarkKind::WireBreaks => ("breaks or its end lets go", "break or their ends let go"),
        MarkKind::PlasticHinge => ("bends on at a hinge", "bend on at a hinge"),
        MarkKind::Collapse => ("collapses", "collapse"),
        MarkKind::Ground => ("has come up by its clearance", "have come up by their clearance"),
    }
}

/// What happened, each kind once with all parts that it happened to: "legs yield", "left wire breaks".
#[must_use]
pub(super) fn happenings(marks: &[Mark], of: &dyn Fn(MarkKind) -> bool) -> Vec<String> {
    let mut kinds: Vec<MarkKind> = Vec::new();
    for m in marks.iter().filter(|m| of(m.what)) {
        if !kinds.contains(&m.what) {
            kinds.push(m.what);
        }
    }
    kinds
        .into_iter()
        .map(|kind| {
            let mut parts: Vec<&str> = Vec::new();
            for m in marks.iter().filter(|m| m.what == kind) {
                if !parts.contains(&m.part.as_str()) {
                    parts.push(&m.part);
                }
            }
            let (one, many) = does(kind);
            match parts.as_slice() {
                [part] => format!("{part} {one}"),
                [first, ..] => {
                    let noun = first.rsplit(' ').next().unwrap_or(first);
                    format!("{noun}s {many}")
                }
                [] => String::new(),
            }
        })
        .collect()
}

/// The same in a word or two for a column.
#[must_use]
pub(super) fn happenings_in_table(marks: &[Mark]) -> String {
    let short = |kind| match kind {
        MarkKind::WireTaut => None,
        MarkKind::FirstYield => Some("leg yields"),
        MarkKind::WireYields => Some("wire stretched"),
        MarkKind::WireBreaks => Some("wire lets go"),
        MarkKind::PlasticHinge => Some("hinge"),
        MarkKind::Collapse => Some("collapse"),
        MarkKind::Ground => Some("ground touched"),
    };
    let mut all: Vec<&str> = Vec::new();
    for word in marks.iter().filter_map(|m| short(m.what)) {
        if !all.contains(&word) {
            all.push(word);
        }
    }
    all.join(", ")
}

/// What becomes of a gear in a fall, as far as its limits tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fate {
    /// Nothing stays bent.
    Straight,
    /// A leg stays bent.
    Bent,
    /// It collapses.
    Collapsed,
    /// It is taken up; whether anything stays bent can't be told.
    Untold,
    /// Beyond what was followed.
    Beyond,
}

/// What becomes of a gear in a fall that ends at a speed.
#[must_use]
pub(super) fn fate(table: &DropTable, known: bool, sink_rate: Velocity) -> Fate {
    let below = |h: Length| f64::from(sink_rate / speed_after(h)) < 1.0 + ROUNDING;
    if !below(table.survives.height) {
        return if table.survives.collapses { Fate::Collapsed } else { Fate::Beyond };
    }
    match table.highest_without_set {
        Some(h) if !below(h) => Fate::Bent,
        _ if known => Fate::Straight,
        _ => Fate::Untold,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_happens_to_both_sides_is_said_once() {
        let mark = |what, part: &str| Mark { multiple: 1.0, what, part: part.to_owned() };
        let marks = [
            mark(MarkKind::WireTaut, "left wire"),
            mark(MarkKind::FirstYield, "left leg"),
            mark(MarkKind::FirstYield, "right leg"),
            mark(MarkKind::WireBreaks, "left wire"),
        ];
        assert_eq!(happenings_in_table(&marks), "leg yields, wire lets go");
        let said = happenings(&marks, &|k| k != MarkKind::WireTaut);
        assert_eq!(said, ["legs yield", "left wire breaks or its end lets go"]);
    }

    #[test]
    fn words_stand_in_a_row() {
        assert_eq!(either(&["a", "b", "c"]), "a, b or c");
        assert_eq!(either(&["a", "b"]), "a or b");
        assert_eq!((either(&["a"]), either(&[])), ("a".to_owned(), String::new()));
    }
}
