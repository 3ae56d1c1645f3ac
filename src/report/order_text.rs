//! The section on what gives first: in words, then the order with its multiples, g and drops.

use super::check_text::Detail;
use super::drop_view::height_number;
use super::figure::{UnitChoice, list_and, significant};
use super::layout::{bullet, heading, paragraph, table};
use super::order_words::{
    Together, followed, is_none, is_of_mount, kind_words, landing_of, meaning, multiple, parts_words,
    together, wish,
};
use crate::model::{Gear, PartKind, Project};
use crate::results::{CheckResult, FailureOrder, PartFailure};
use crate::units::Dimension;
use std::cmp::Ordering;

/// How many of the parts after the first a short row names.
const THEN: usize = 2;

/// Adds the section; nothing when no landing loads a gear.
pub(super) fn what_gives_first(
    out: &mut String,
    project: &Project,
    result: &CheckResult,
    units: &UnitChoice,
    detail: Detail,
) {
    if result.failure_orders.is_empty() {
        return;
    }
    heading(out, "WHAT GIVES FIRST, when a landing's loads are raised");
    out.push_str(&paragraph(
        "Every part at its own strength, no factor on it. × is how many times the limit loads; g is the inertia load factor; the \
         drop is the level drop that makes it (0: letting go with the wheels on the ground does; -: the loads don't follow the g, or no \
         drop makes it). What comes after the \
         first break is told as if that part had held on.",
    ));
    for gear in &project.gears {
        let own: Vec<&FailureOrder> = result.failure_orders.iter().filter(|o| o.gear == gear.name).collect();
        if !own.is_empty() {
            of_gear(out, gear, &own, units, detail);
        }
    }
}

/// The order in which something gives at the lowest multiple; one in which nothing does comes last.
pub(super) fn weakest<'r>(orders: &[&'r FailureOrder]) -> Option<&'r FailureOrder> {
    let first = |o: &FailureOrder| o.failures.first().map_or(f64::INFINITY, |f| f.multiple);
    let earlier = |a: &&&FailureOrder, b: &&&FailureOrder| -> Ordering { first(a).total_cmp(&first(b)) };
    orders.iter().min_by(earlier).copied()
}

fn of_gear(out: &mut String, gear: &Gear, own: &[&FailureOrder], units: &UnitChoice, detail: Detail) {
    let Some(worst) = weakest(own) else { return };
    for line in in_words(gear, own, worst, units) {
        out.push_str(&bullet(&line));
    }
    for line in untold(gear, own) {
        out.push_str(&bullet(&line));
    }
    if worst.failures.is_empty() {
        return;
    }
    let (full, short): (Vec<&FailureOrder>, Vec<&FailureOrder>) =
        own.iter().copied().partition(|o| detail.every_case || o.case == worst.case);
    for order in full {
        out.push_str(&paragraph(&format!("\nGear {}, {}:", gear.name, order.case.words())));
        out.push_str(&whole(order, units));
    }
    if !short.is_empty() {
        out.push_str(&paragraph(&format!("\nGear {}, the other landings:", gear.name)));
        out.push_str(&firsts(&short, units));
    }
}

/// The order of a gear in words: what gives first of all, what that means, and what does in other landings.
fn in_words(gear: &Gear, own: &[&FailureOrder], worst: &FailureOrder, units: &UnitChoice) -> Vec<String> {
    let name = &gear.name;
    let Some(group) = together(worst).into_iter().next() else {
        let least = own.iter().min_by(|a, b| a.limit.multiple.total_cmp(&b.limit.multiple));
        let top = least.map_or_else(String::new, |o| followed(o));
        return vec![format!("Gear {name}: nothing gives in any landing up to {top} times its limit loads.")];
    };
    let first = group.first;
    let mut lines = vec![format!(
        "Gear {name}: {}. Soonest in {}, at {} times its limit loads{}: {}.{}{}",
        meaning(gear, first),
        worst.case.words(),
        multiple(first.multiple),
        landing_of(first, units),
        group.event(),
        follows(gear, worst, first),
        wish(gear, worst, first)
    )];
    lines.extend(elsewhere(gear, own, first));
    if gear.mount.is_none() {
        lines.push(format!(
            "Gear {name}: no mount is described, so whether it tears out before any of this can't be told."
        ));
    }
    lines
}

/// Where the other end of the load path stands: the mount where the plate goes first, the legs where something else does.
fn follows(gear: &Gear, order: &FailureOrder, first: &PartFailure) -> String {
    let next = |of: &dyn Fn(&PartFailure) -> bool| together(order).into_iter().find(|g| of(g.first));
    let top = followed(order);
    match first.kind {
        Some(PartKind::Legs) if gear.mount.is_some() => match next(&|f| is_of_mount(f.kind)) {
            Some(g) => format!(" Of the mount the first: {} times.", g.event_at()),
            None => format!(" No bolt, nut or wood gives up to {top} times."),
        },
        Some(PartKind::Legs) | None => String::new(),
        Some(_) if gear.plate.yield_strength().is_none() => String::new(),
        Some(_) => match next(&|f| f.check == "leg-yield") {
            Some(g) => format!(" By comparison, {} times.", g.event_at()),
            None => format!(" No leg bends up to {top} times."),
        },
    }
}

/// Landings in which a part of another kind gives first.
fn elsewhere(gear: &Gear, own: &[&FailureOrder], first: &PartFailure) -> Option<String> {
    let mut kinds: Vec<(Option<PartKind>, Vec<&str>)> = Vec::new();
    for (order, other) in own.iter().filter_map(|o| Some((o, o.failures.first()?))) {
        if other.kind == first.kind {
            continue;
        }
        match kinds.iter_mut().find(|(k, _)| *k == other.kind) {
            Some((_, cases)) => cases.push(order.case.id()),
            None => kinds.push((other.kind, vec![order.case.id()])),
        }
    }
    let said: Vec<String> =
        kinds.iter().map(|(kind, cases)| format!("{} in {}", kind_words(*kind), list_and(cases))).collect();
    let name = &gear.name;
    (!said.is_empty())
        .then(|| format!("Gear {name}: elsewhere another part gives first: {}.", said.join("; ")))
}

/// Parts that could not be judged, each reason once.
fn untold(gear: &Gear, own: &[&FailureOrder]) -> Vec<String> {
    let mut reasons: Vec<(&str, Vec<&str>)> = Vec::new();
    for (part, why) in own.iter().flat_map(|o| &o.untold) {
        match reasons.iter_mut().find(|(r, _)| r == why) {
            Some((_, parts)) if parts.contains(&part.as_str()) => {}
            Some((_, parts)) => parts.push(part),
            None => reasons.push((why, vec![part])),
        }
    }
    reasons
        .into_iter()
        .map(|(why, parts)| {
            format!("Gear {}: where the {} would give can't be told: {why}.", gear.name, parts_words(&parts))
        })
        .collect()
}

fn multiple_cells(failure: &PartFailure, units: &UnitChoice) -> [String; 3] {
    let none = || "-".to_owned();
    [
        multiple(failure.multiple),
        failure.inertia_load_factor.map_or_else(none, |n| significant(n, 3)),
        failure
            .drop_height
            .map_or_else(none, |h| if is_none(h) { "0".to_owned() } else { height_number(units, h) }),
    ]
}

fn drop_head(units: &UnitChoice) -> String {
    format!("drop,\n{}", units.unit(Dimension::Length).symbol())
}

/// A whole order as a table.
fn whole(order: &FailureOrder, units: &UnitChoice) -> String {
    let groups = together(order);
    if groups.is_empty() {
        return paragraph(&nothing(order));
    }
    let rows = groups.iter().map(|g| {
        let [times, g_factor, drop] = multiple_cells(g.first, units);
        vec![times, g_factor, drop, g.event()]
    });
    table(&["×", "g", &drop_head(units), "what gives"], 0..3, rows)
}

fn nothing(order: &FailureOrder) -> String {
    format!("nothing gives up to {} times", followed(order))
}

/// What gives first in each landing, and the next two.
fn firsts(orders: &[&FailureOrder], units: &UnitChoice) -> String {
    let rows = orders.iter().map(|order| {
        let groups = together(order);
        let case = order.case.id().to_owned();
        let Some((first, rest)) = groups.split_first() else {
            return vec![case, "-".into(), "-".into(), "-".into(), nothing(order), String::new()];
        };
        let [times, g_factor, drop] = multiple_cells(first.first, units);
        let then: Vec<String> = rest.iter().take(THEN).map(Together::event_at).collect();
        vec![case, times, g_factor, drop, first.event(), then.join("; ")]
    });
    table(&["landing", "×", "g", &drop_head(units), "gives first", "then, at ×"], 1..4, rows)
}
