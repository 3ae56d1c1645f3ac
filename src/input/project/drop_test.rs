//! `[[drop_test]]`: drops the builder made, and what was measured.

use super::gear::{self, ReadGear};
use super::keys;
use super::section::Section;
use crate::diagnostic::Diagnostic;
use crate::model::DropTest;
use crate::units::{Length, Mass};
use uom::si::length::millimeter;

/// How exactly a builder measures unless told otherwise. chosen: a rule held by hand reads to 1 mm.
const ERROR_MM: f64 = 1.0;

/// Share by which two lengths may differ that were written alike in different units.
const ROUNDING: f64 = 1e-9;

/// Reads the drops in order; `gears` are all gears of the file, good or bad.
pub(super) fn drop_tests(root: &Section<'_>, gears: &[ReadGear]) -> Vec<DropTest> {
    let sections = root.each_below("drop_test", "[[drop_test]]", &keys::DROP_TEST);
    sections.iter().filter_map(|section| drop_test(section, gears)).collect()
}

fn drop_test(section: &Section<'_>, gears: &[ReadGear]) -> Option<DropTest> {
    let gear = gear::named(section, gears);
    let spread = section.quantity::<Length>(&keys::SPREAD);
    let set = section.quantity::<Length>(&keys::TEST_SET);
    let test = made(section, gear, spread.value(), set.value());
    if !spread.given() && !set.given() {
        let refused = Diagnostic::error("missing-key", "this drop test says nothing of what was measured")
            .help(format!(
                "add {} = {}, how much further apart the wheels went, or {} = {}, how much of it stayed",
                keys::SPREAD.name,
                keys::SPREAD.example,
                keys::TEST_SET.name,
                keys::TEST_SET.example
            ))
            .help("a gear that sprang back whole has set = \"0 mm\"");
        section.note(refused, section.header.clone());
    }
    if let (Some(spread), Some((set, span))) = (spread.value(), set.placed())
        && *set > (1.0 + ROUNDING) * spread
    {
        let refused = Diagnostic::error(
            "contradiction",
            "`set` is more than `spread`: no more can stay than there was at the worst moment",
        )
        .help("perhaps the two are swapped; both are counted from where the wheels stood before the drop");
        section.note(refused, span);
    }
    test
}

/// How the drop was made and how exactly it was measured; what was measured stands with it.
pub(super) fn made(
    section: &Section<'_>,
    gear: Option<usize>,
    spread: Option<Length>,
    set: Option<Length>,
) -> Option<DropTest> {
    let height = section.needed_quantity::<Length>(&keys::TEST_HEIGHT);
    let mass = section.quantity::<Mass>(&keys::MASS);
    let wing_lift = section.number(&keys::TEST_WING_LIFT);
    let error = section.quantity::<Length>(&keys::TEST_ERROR);
    Some(DropTest {
        gear: gear?,
        height: height.take()?,
        mass: mass.take(),
        wing_lift: wing_lift.take().unwrap_or_default(),
        spread,
        set,
        error: error.take().unwrap_or_else(|| Length::new::<millimeter>(ERROR_MM)),
    })
}
