//! The section on the mount: bolts, push of the wood, heel, uplift, prying, sag.

use super::check_text::Detail;
use super::figure::{UnitChoice, decimal, fixed, fixed_number, number};
use super::layout::{bullet, heading, paragraph, table};
use crate::model::{AnchorIn, Gear, Project};
use crate::results::{BedState, BoltState, CaseResult, CheckResult, MountState, WireState, WoodState};
use crate::units::{Dimension, Force, Length, Unit};

/// Share of the largest force of a mount below which one is rounding.
const NOTHING: f64 = 1e-6;

/// Adds the section; nothing when no gear has a mount.
pub(super) fn mounts(
    out: &mut String,
    project: &Project,
    result: &CheckResult,
    units: &UnitChoice,
    detail: Detail,
) {
    if result.cases.iter().all(|c| c.limit.mount.is_none()) {
        return;
    }
    heading(out, "THE MOUNT at limit load");
    out.push_str(&paragraph(
        "Pull is what the bolt's shank feels, preload included; shear is what the plate puts on it sideways, the resultant. Places \
         count from the base's centre, aft / to starboard.",
    ));
    for (index, gear) in project.gears.iter().enumerate() {
        let own: Vec<(&CaseResult, &MountState)> = result
            .cases
            .iter()
            .filter(|c| c.gear == index)
            .filter_map(|c| Some((c, c.limit.mount.as_ref()?)))
            .collect();
        let worst = own.iter().map(|(_, m)| most_pull(m)).fold(Force::default(), Force::max);
        let Some(first) = own.iter().position(|(_, m)| most_pull(m) >= worst) else { continue };
        let shown = |i: usize| detail.every_case || i == first;
        for (i, (case, mount)) in own.iter().enumerate() {
            if shown(i) {
                out.push_str(&paragraph(&format!("\nGear {}, {}:", gear.name, case.case.words())));
                one_landing(out, gear, case, mount, units);
            }
        }
        let others: Vec<&(&CaseResult, &MountState)> =
            own.iter().enumerate().filter(|(i, _)| !shown(*i)).map(|(_, c)| c).collect();
        if !others.is_empty() {
            out.push_str(&paragraph(&format!("\nGear {}, the other landings, largest of each:", gear.name)));
            out.push_str(&short(&others, units));
        }
    }
}

/// Words on what holds a wire at the base: ", held by the plate"; nothing for a tie and without a mount.
pub(super) fn held_by(wire: &WireState) -> &'static str {
    match wire.anchor.map(|a| a.held_by) {
        Some(AnchorIn::Plate) => ", anchored in the plate",
        Some(AnchorIn::Wood) => ", anchored in the wood",
        None => "",
    }
}

fn most_pull(mount: &MountState) -> Force {
    mount.bolts.iter().map(|b| b.tension).fold(Force::default(), Force::max)
}

fn most_shear(mount: &MountState) -> Force {
    mount.bolts.iter().map(BoltState::shear_size).fold(Force::default(), Force::max)
}

const fn places(units: &UnitChoice) -> usize {
    if matches!(units.length, Unit::Inch) { 2 } else { 1 }
}

/// A short way, such as an uplift: finer than a place.
const fn fine_places(units: &UnitChoice) -> usize {
    places(units) + 1
}

/// A place on the plate in a column: "-20.0 / 45.0".
fn spot_number(units: &UnitChoice, [aft, starboard]: [Length; 2]) -> String {
    let n = |l| fixed_number(l, units.length, places(units));
    format!("{} / {}", n(aft), n(starboard))
}

/// A place on the plate in words: "20.0 mm forward, 45.0 mm to starboard".
fn spot(units: &UnitChoice, [aft, starboard]: [Length; 2]) -> String {
    let shown = |l: Length| fixed(l.abs(), units.length, places(units));
    let idle = |l: Length| shown(l) == shown(Length::default());
    let along = if aft < Length::default() { "forward" } else { "aft" };
    let athwart = if starboard < Length::default() { "to port" } else { "to starboard" };
    match (idle(aft), idle(starboard)) {
        (true, true) => "at the base's centre".to_owned(),
        (true, false) => format!("{} {athwart}", shown(starboard)),
        (false, true) => format!("{} {along}", shown(aft)),
        (false, false) => format!("{} {along}, {} {athwart}", shown(aft), shown(starboard)),
    }
}

fn one_landing(out: &mut String, gear: &Gear, case: &CaseResult, mount: &MountState, units: &UnitChoice) {
    let preloaded = mount.bolts.iter().any(|b| b.preload > Force::default());
    let symbol = |d| units.unit(d).symbol();
    let (length, force) = (symbol(Dimension::Length), symbol(Dimension::Force));
    let heads = [
        "bolt".to_owned(),
        format!("place,\n{length}"),
        format!("pull,\n{force}"),
        format!("shear,\n{force}"),
        if preloaded { format!("joint still\npressed by, {force}") } else { String::new() },
    ];
    let heads: Vec<&str> = heads.iter().map(String::as_str).filter(|h| !h.is_empty()).collect();
    let scale = most_pull(mount).max(mount.bed.push).max(most_shear(mount));
    let shown = |f: Force| number(if f < NOTHING * scale { Force::default() } else { f }, units.force, 3);
    let rows = mount.bolts.iter().map(|b| {
        let mut row = vec![b.name.clone(), spot_number(units, b.at), shown(b.tension), shown(b.shear_size())];
        if preloaded {
            let open = b.pressed <= NOTHING * b.preload;
            row.push(if open { "open".to_owned() } else { shown(b.pressed) });
        }
        row
    });
    out.push_str(&table(&heads, 1..5, rows));
    out.push_str(&bullet(&bed_words(&mount.bed, units)));
    let wheels: Force = case.limit.wheels.iter().fold(Force::default(), |sum, w| {
        let [_, _, up] = w.load;
        sum + up
    });
    if let Some(line) = prying(mount, wheels, units) {
        out.push_str(&bullet(&line));
    }
    out.push_str(&bullet(&format!(
        "The largest stress in the flat centre of the plate is {}, its bolt holes not taken off.",
        units.figure(mount.plate_peak.von_mises, 3)
    )));
    if let Some(wood) = &mount.wood {
        out.push_str(&bullet(&wood_words(wood, units)));
    }
    if let Some(turn) = mount.turn.filter(|_| gear.mount.as_ref().is_some_and(|m| m.bolts.len() == 1)) {
        out.push_str(&bullet(&format!(
            "One bolt can't keep the plate from turning about it: only friction holds {}.",
            units.figure(turn, 3)
        )));
    }
}

fn bed_words(bed: &BedState, units: &UnitChoice) -> String {
    if bed.push <= Force::default() {
        return format!(
            "The plate nowhere presses on the wood beside its bolts; it comes off it by up to {}.",
            fixed(bed.uplift, units.length, fine_places(units))
        );
    }
    let percent = 100.0 * bed.contact;
    let lies = if percent > 99.5 {
        "All of the flat lies on it".to_owned()
    } else {
        format!(
            "{} % of the flat lies on it; the plate comes off by up to {}, {}",
            decimal(percent, 0),
            fixed(bed.uplift, units.length, fine_places(units)),
            spot(units, bed.uplift_at)
        )
    };
    format!(
        "The wood pushes on the plate with {}. The middle of that push, the heel it levers about, is {}; hardest it pushes {}, with \
         {}. {lies}.",
        units.figure(bed.push, 3),
        spot(units, bed.centre),
        spot(units, bed.pressure_at),
        units.figure(bed.pressure, 3)
    )
}

/// What of the bolts' pull is no load but levering; `None` when nothing pulls.
fn prying(mount: &MountState, wheels: Force, units: &UnitChoice) -> Option<String> {
    let pulls = mount.bolts.iter().fold(Force::default(), |sum, b| sum + b.pull());
    if pulls <= NOTHING * mount.bed.push {
        return None;
    }
    let preload =
        if mount.bolts.iter().any(|b| b.preload > Force::default()) { ", their preload aside," } else { "" };
    let pulled = units.figure(pulls, 3);
    let load = units.figure(wheels.abs(), 3);
    Some(if wheels >= Force::default() {
        format!(
            "The bolts{preload} pull {pulled} together although the wheels push the plate against the wood with {load}: all of \
             it is prying between bolts and heel."
        )
    } else if pulls > 1.01 * -wheels {
        format!(
            "The bolts{preload} pull {pulled} together while the wheels pull the plate off the wood with {load}: the rest is \
             prying between bolts and heel."
        )
    } else {
        format!(
            "The bolts{preload} pull {pulled} together, as much as the wheels pull the plate off the wood."
        )
    })
}

fn wood_words(wood: &WoodState, units: &UnitChoice) -> String {
    let formers: Vec<String> = wood
        .formers
        .iter()
        .map(|f| {
            let [_, _, up] = f.force;
            let way = if up < Force::default() { "down" } else { "up" };
            format!("the {} {} {way}", f.end.words(), units.figure(up.abs(), 3))
        })
        .collect();
    format!(
        "Between its formers the wood bends by up to {}, with a moment of {} and a shear force of {}. It gives {}.",
        fixed(wood.sag, units.length, fine_places(units)),
        units.figure(wood.bending, 3),
        units.figure(wood.shear, 3),
        formers.join(", ")
    )
}

fn short(cases: &[&(&CaseResult, &MountState)], units: &UnitChoice) -> String {
    let symbol = |d| units.unit(d).symbol();
    let (length, force) = (symbol(Dimension::Length), symbol(Dimension::Force));
    let span = cases.iter().any(|(_, m)| m.wood.is_some());
    let mut heads = vec![
        "landing".to_owned(),
        format!("pull,\n{force}"),
        "in\nbolt".to_owned(),
        format!("shear,\n{force}"),
        format!("wood\npushes, {force}"),
        format!("heel,\n{length}"),
        format!("comes\noff, {length}"),
    ];
    if span {
        heads.push(format!("wood\nsags, {length}"));
    }
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    let fine = |l: Length| fixed_number(l, units.length, fine_places(units));
    let rows = cases.iter().map(|(case, m)| {
        let scale = most_pull(m).max(m.bed.push).max(most_shear(m));
        let shown = |f: Force| number(if f < NOTHING * scale { Force::default() } else { f }, units.force, 3);
        let pull = most_pull(m);
        let bolt = m.bolts.iter().find(|b| b.tension >= pull).map_or_else(String::new, |b| b.name.clone());
        let mut row = vec![
            case.case.id().to_owned(),
            shown(pull),
            bolt,
            shown(most_shear(m)),
            shown(m.bed.push),
            spot_number(units, m.bed.centre),
            fine(m.bed.uplift),
        ];
        if span {
            row.push(m.wood.as_ref().map_or_else(|| "-".to_owned(), |w| fine(w.sag)));
        }
        row
    });
    table(&heads, 1..8, rows)
}
