//! `[gear.NAME.plate]`.

use super::bench;
use super::gear::ArmsWord;
use super::keys;
use super::measure::millimetres;
use super::own::OwnMetals;
use super::section::{Found, Section};
use crate::diagnostic::Diagnostic;
use crate::material::Metal;
use crate::model::{Plate, PlateMetal, Taper};
use crate::units::Length;

/// Reads the plate, and the base width that goes with arms that have one.
pub(super) fn plate(
    section: &Section<'_>,
    arms: Option<ArmsWord>,
    metals: &OwnMetals,
) -> Option<(Plate, Option<Length>)> {
    let mut metal = metal(section, metals);
    let thickness = thickness(section);
    let width_root = section.needed_quantity(&keys::WIDTH_ROOT);
    let width_tip = section.quantity(&keys::WIDTH_TIP);
    let base_width = base_width(section, arms);
    let leg_length = section.needed_quantity(&keys::LEG_LENGTH);
    let angle_key = if arms == Some(ArmsWord::Single) { &keys::LEG_ANGLE_SINGLE } else { &keys::LEG_ANGLE };
    let leg_angle = section.quantity(angle_key).take().unwrap_or_default();
    let rake = section.quantity(&keys::RAKE).take().unwrap_or_default();
    let bend_radius = section.quantity(&keys::BEND_RADIUS).take();
    if section.is_sample() {
        metal = metal.and_then(|metal, _| Some(as_bought(section, metal)));
    } else if let (Some(PlateMetal::Known(metal)), Some(thickness)) =
        (metal.placed().map(|(m, _)| m), &thickness)
    {
        covered(section, metal, thickness);
        let (root, tip) = (&thickness.root, &thickness.tip);
        bench::same_sheet(section, metal, if tip.0 > root.0 { tip.clone() } else { root.clone() });
    }
    let root = width_root.take()?;
    let tip = match width_tip {
        Found::Absent => root,
        Found::Good(tip, _) => tip,
        Found::Bad(_) => return None,
    };
    let thickness = thickness?;
    let plate = Plate {
        metal: metal.take()?,
        thickness: Taper { root: thickness.root.0, tip: thickness.tip.0 },
        width: Taper { root, tip },
        leg_length: leg_length.take()?,
        leg_angle,
        rake,
        bend_radius,
    };
    Some((plate, base_width))
}

fn metal(section: &Section<'_>, metals: &OwnMetals) -> Found<PlateMetal> {
    let text = section.text(&keys::METAL);
    match text.value() {
        Some(keys::UNKNOWN) => text.and_then(|_, _| Some(PlateMetal::Unknown)),
        Some(name) if metals.has(name) => {
            // A metal of the file with a mistake in it has had its message already.
            text.and_then(|name, _| metals.get(name).map(|m| PlateMetal::Known(Box::new(m.clone()))))
        }
        Some(name) => {
            let known = section.cx.library.metal(name).is_ok();
            let found = section.lookup(&keys::METAL, |library, name| library.metal(name));
            if !known {
                metals.hint(section, name, found.span());
                bench::hint(section, name);
            }
            found.and_then(|row, _| Some(PlateMetal::Known(Box::new(row.clone()))))
        }
        None if text.given() => Found::Bad(text.span().unwrap_or_default()),
        None => {
            let missing =
                Diagnostic::error("missing-key", format!("`metal` is missing from {}", section.title))
                    .help("add a line such as metal = \"6082-T6\"")
                    .help("if nobody knows what the sheet is, write metal = \"unknown\"");
            section.note(missing, section.header.clone());
            Found::Absent
        }
    }
}

/// Thickness at both ends, each with the key's place.
struct Thickness {
    root: (Length, super::tree::Span),
    tip: (Length, super::tree::Span),
}

fn thickness(section: &Section<'_>) -> Option<Thickness> {
    let whole = section.quantity::<Length>(&keys::THICKNESS);
    let root = section.quantity::<Length>(&keys::THICKNESS_ROOT);
    let tip = section.quantity::<Length>(&keys::THICKNESS_TIP);
    match (whole.given(), root.given(), tip.given()) {
        (true, false, false) => {
            let (value, span) = whole.placed()?;
            Some(Thickness { root: (*value, span.clone()), tip: (*value, span) })
        }
        (false, true, true) => {
            let (root, root_span) = root.placed()?;
            let (tip, tip_span) = tip.placed()?;
            Some(Thickness { root: (*root, root_span), tip: (*tip, tip_span) })
        }
        (true, _, _) => {
            let refused = Diagnostic::error(
                "contradiction",
                "`thickness` can't stand beside `thickness_root` or `thickness_tip`",
            )
            .help("keep `thickness` for an even plate, or the other two for one that thins towards the axle");
            section.note(refused, whole.span()?);
            None
        }
        (false, true, false) => half(section, &root, &keys::THICKNESS_TIP),
        (false, false, true) => half(section, &tip, &keys::THICKNESS_ROOT),
        (false, false, false) => {
            section.missing(&keys::THICKNESS);
            None
        }
    }
}

/// One end of a tapering thickness without the other.
fn half(section: &Section<'_>, given: &Found<Length>, other: &keys::Key) -> Option<Thickness> {
    let missing =
        Diagnostic::error("missing-key", format!("`{}` is missing from {}", other.name, section.title))
            .label("one end only")
            .help(format!("add a line such as {} = {}", other.name, other.example))
            .help("for an even plate write `thickness` alone");
    section.note(missing, given.span()?);
    None
}

fn base_width(section: &Section<'_>, arms: Option<ArmsWord>) -> Option<Length> {
    let width = section.quantity::<Length>(&keys::BASE_WIDTH);
    match arms {
        Some(ArmsWord::Pair | ArmsWord::Twin) if !width.given() => {
            section.missing(&keys::BASE_WIDTH);
            None
        }
        Some(ArmsWord::Single) => {
            if let Some(span) = width.span() {
                let refused = Diagnostic::error("contradiction", "a single arm has no `base_width`")
                    .help("leave it out, or write arms = \"pair\" or arms = \"twin\"");
                section.note(refused, span);
            }
            None
        }
        _ => width.take(),
    }
}

/// The metal with the values of the sheet that was bought, whatever its thickness turns out to be.
fn as_bought(section: &Section<'_>, metal: PlateMetal) -> PlateMetal {
    let PlateMetal::Known(mut metal) = metal else { return PlateMetal::Unknown };
    let written = [&keys::THICKNESS, &keys::THICKNESS_ROOT, &keys::THICKNESS_TIP];
    let sheet = written
        .iter()
        .filter_map(|key| section.as_written::<Length>(key))
        .fold(Length::default(), Length::max);
    metal.bands = metal.band(sheet).into_iter().cloned().collect();
    for band in &mut metal.bands {
        (band.over, band.up_to) = (Length::default(), None);
    }
    PlateMetal::Known(metal)
}

/// Refuses a thickness that the metal's table has no values for.
fn covered(section: &Section<'_>, metal: &Metal, thickness: &Thickness) {
    let ends = [&thickness.root, &thickness.tip];
    let even = thickness.root.1 == thickness.tip.1;
    for (value, span) in ends.into_iter().take(if even { 1 } else { 2 }) {
        if metal.band(*value).is_some() {
            continue;
        }
        let refused = Diagnostic::error(
            "not-listed",
            format!("{} has no values in the table for {}", metal.name, millimetres(*value)),
        )
        .help(format!("listed: {}", listed(metal)))
        .help("for another thickness describe the metal yourself in a section [metal.NAME], or write \"unknown\"");
        section.note(refused, span.clone());
    }
}

/// The thicknesses a metal has values for; bands that follow each other without a gap are said as one.
fn listed(metal: &Metal) -> String {
    let mut ranges: Vec<(Length, Option<Length>)> = Vec::new();
    for band in &metal.bands {
        match ranges.last_mut() {
            Some((_, top)) if top.is_some_and(|top| band.over <= top) => *top = band.up_to,
            _ => ranges.push((band.over, band.up_to)),
        }
    }
    let words = ranges.iter().map(|(over, top)| match top {
        Some(top) if *over > Length::default() => {
            format!("over {} up to {}", millimetres(*over), millimetres(*top))
        }
        Some(top) => format!("up to {}", millimetres(*top)),
        None => format!("over {}", millimetres(*over)),
    });
    words.collect::<Vec<_>>().join("; ")
}
