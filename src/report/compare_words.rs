//! Designs side by side in words. Every sentence is made of the results: what is not so is not said.

use super::figure::{UnitChoice, decimal, figure, list_and, significant};
use super::order_words::{followed, landing_of, multiple, together};
use super::view::{event_words, factor_figure, margin_figure, tally};
use crate::model::{Arms, Gear, PlateMetal, Position};
use crate::results::{
    ArrivalFrom, ComparedDesign, Comparison, GearChange, GearFigures, GearStiffness, Margin, Verdict,
};
use crate::units::{Force, Length, Mass, Measure, Moment, Stiffness, Unit};

/// Figures that differ by less are said to be the same. chosen: sheet and wire are not made closer.
const SAME: f64 = 0.02;

/// The comparison, one or two sentences a line.
#[must_use]
pub(super) fn in_words(compared: &Comparison, units: &UnitChoice) -> Vec<String> {
    let mut lines = Vec::new();
    lines.extend(compared.designs.iter().map(verdict));
    if let Some(unlike) = unlike(compared) {
        lines.push(unlike);
        lines.extend(gives_first(compared, units));
        return lines;
    }
    lines.extend(masses(compared, units));
    if let Some((first, others)) = compared.designs.split_first() {
        for other in others {
            lines.extend(against(compared, first, other, units));
        }
    }
    lines.push(arrival(compared, units));
    lines.extend(gives_first(compared, units));
    lines
}

/// Said where the gears are not of one kind: a nose gear is no better or worse than a main gear.
fn unlike(compared: &Comparison) -> Option<String> {
    let gears: Vec<&Gear> = compared.designs.iter().filter_map(|d| Some(compared.chosen(d)?.0)).collect();
    let first = gears.first()?;
    if gears.iter().all(|gear| gear.position == first.position) {
        return None;
    }
    let named: Vec<String> = compared
        .designs
        .iter()
        .filter_map(|d| Some(format!("{} a {} gear", quoted(d), compared.chosen(d)?.0.position.id())))
        .collect();
    let named: Vec<&str> = named.iter().map(String::as_str).collect();
    Some(format!(
        "These are gears of different kinds ({}): one can't stand in for the other, so that no more is said of their differences.",
        list_and(&named)
    ))
}

pub(super) fn quoted(design: &ComparedDesign) -> String {
    format!("\"{}\"", design.name)
}

/// Whether a design holds, and what is nearest to failing.
fn verdict(design: &ComparedDesign) -> String {
    let (fails, untold) = tally(&design.check);
    let all = design.check.margins.len();
    let name = quoted(design);
    let worst = design.check.margins.first();
    let nearest = |m: &Margin| format!("gear {}: {}, margin {}", m.gear, event_words(m), margin_figure(m));
    match (fails, untold) {
        (0, 0) => match worst {
            Some(m) => {
                format!("{name} holds, as far as this estimate goes. Nearest to failing: {}.", nearest(m))
            }
            None => format!("{name}: nothing in it is checked."),
        },
        (0, u) => {
            let why = design.check.margins.iter().find_map(|m| match &m.verdict {
                Verdict::Untold(why) => Some(format!(" ({why})")),
                Verdict::Holds | Verdict::Fails => None,
            });
            format!("{name}: {u} of {all} margins can't be told{}.", why.unwrap_or_default())
        }
        (f, _) => format!(
            "{name} does not hold: {f} of {all} margins fail{}.",
            worst.map_or_else(String::new, |m| format!("; worst is {}", nearest(m)))
        ),
    }
}

/// A small mass in grams or ounces.
pub(super) fn small_mass(units: &UnitChoice, mass: Mass, digits: usize) -> String {
    let imperial = matches!(units.mass, Unit::Pound | Unit::Ounce);
    figure(mass, if imperial { Unit::Ounce } else { Unit::Gram }, digits)
}

/// The gear that is compared: "gear main", or that it is not the same one everywhere.
fn gear_words(compared: &Comparison) -> String {
    let names: Vec<&str> =
        compared.designs.iter().filter_map(|d| Some(compared.chosen(d)?.1.gear.as_str())).collect();
    match names.split_first() {
        Some((first, others)) if others.iter().all(|name| name == first) => format!("gear {first}"),
        _ => format!("gears {}", list_and(&names)),
    }
}

/// How much the gears weigh, lightest first.
fn masses(compared: &Comparison, units: &UnitChoice) -> Option<String> {
    let mut all: Vec<(&ComparedDesign, &GearFigures)> =
        compared.designs.iter().filter_map(|d| Some((d, compared.chosen(d)?.1))).collect();
    all.sort_by(|a, b| a.1.mass.total().value.total_cmp(&b.1.mass.total().value));
    let (lightest, others) = all.split_first()?;
    let least = lightest.1.mass.total();
    let others: Vec<String> = others
        .iter()
        .map(|(d, f)| {
            let total = f.mass.total();
            let more = f64::from(total / least) - 1.0;
            format!("{} {} ({})", quoted(d), small_mass(units, total, 3), percent_more(more))
        })
        .collect();
    let others: Vec<&str> = others.iter().map(String::as_str).collect();
    Some(format!(
        "Metal of {}, lightest first: {} {}; {}.",
        gear_words(compared),
        quoted(lightest.0),
        small_mass(units, least, 3),
        list_and(&others)
    ))
}

fn percent_more(more: f64) -> String {
    if more.abs() < 0.005 { "the same".to_owned() } else { format!("{} % more", decimal(100.0 * more, 0)) }
}

/// What one design is against the first: what is other in it, and what that does.
fn against(
    compared: &Comparison,
    first: &ComparedDesign,
    other: &ComparedDesign,
    units: &UnitChoice,
) -> Option<String> {
    let ((gear, was), (new, now)) = (compared.chosen(first)?, compared.chosen(other)?);
    let said = [
        what_changed(gear, new, units),
        Some(stiffer(&was.stiffness, &now.stiffness)),
        worked_harder(was, now, units),
        wires_and_mount(was, now, units),
    ];
    let costs = other.gears.iter().map(|figures| cost(figures, units));
    let said: Vec<String> = said.into_iter().chain(costs).flatten().collect();
    Some(format!("{} against {}: {}.", quoted(other), quoted(first), said.join(". ")))
}

/// Arms, metal and thickness, and wires, where they are not the same.
fn what_changed(was: &Gear, now: &Gear, units: &UnitChoice) -> Option<String> {
    let mut all = Vec::new();
    if std::mem::discriminant(&was.arms) != std::mem::discriminant(&now.arms) {
        all.push(format!("{} in the place of {}", arms(now), arms(was)));
    }
    all.extend(sheet(was, now, units));
    match (was.braces.len(), now.braces.len()) {
        (0, 0) => {}
        (0, _) => all.push("braced with wires, where that has none".to_owned()),
        (_, 0) => all.push("plain, where that has wires".to_owned()),
        _ if was.braces != now.braces => all.push("other wires".to_owned()),
        _ => {}
    }
    (!all.is_empty()).then(|| all.join("; "))
}

/// What the arms are, after "in the place of".
fn arms(gear: &Gear) -> &'static str {
    match gear.arms {
        Arms::Pair { .. } => "a bent plate with two legs",
        Arms::Single => "one arm with its wheel on a stub axle",
        Arms::Twin { .. } => "two arms with the wheel between them",
    }
}

/// Thick and soft against thin and hard, or one of the two.
fn sheet(was: &Gear, now: &Gear, units: &UnitChoice) -> Option<String> {
    let (old, new) = (was.plate.sheet_thickness(), now.plate.sheet_thickness());
    let thickness = || {
        let word = if new > old { "thicker" } else { "thinner" };
        format!("{word} ({} against {})", units.figure(new, 3), units.figure(old, 3))
    };
    let name = |gear: &Gear| match &gear.plate.metal {
        PlateMetal::Known(metal) => metal.name.clone(),
        PlateMetal::Unknown => "unknown metal".to_owned(),
    };
    let strength = |gear: &Gear| gear.plate.yield_strength().map(|strength| strength.value);
    let metal = || match (strength(was), strength(now)) {
        (Some(a), Some(b)) => {
            let word = if b > a { "harder" } else { "softer" };
            format!(
                "of {word} metal ({}, which yields at {}, against {}, {})",
                name(now),
                units.figure(b, 3),
                name(was),
                units.figure(a, 3)
            )
        }
        _ => format!("of {} in the place of {}", name(now), name(was)),
    };
    match (near(old, new), name(was) == name(now)) {
        (true, true) => None,
        (false, true) => Some(thickness()),
        (true, false) => Some(format!("a sheet {}", metal())),
        (false, false) => Some(format!("{} and {}", thickness(), metal())),
    }
}

/// Which way it is stiffer or softer, and how many times.
fn stiffer(was: &GearStiffness, now: &GearStiffness) -> String {
    let all = [
        ("in spread", was.spread.zip(now.spread)),
        ("fore and aft", Some((was.aft, now.aft))),
        ("sideways", Some((was.side, now.side))),
        ("up and down", Some((was.up, now.up))),
    ];
    let (mut stiffer, mut softer, mut same) = (Vec::new(), Vec::new(), Vec::new());
    for (way, pair) in all {
        let Some((a, b)) = pair else { continue };
        let ratio = f64::from(b / a);
        if ratio > 1.0 + SAME {
            stiffer.push(format!("{way} ({} times)", significant(ratio, 2)));
        } else if ratio < 1.0 / (1.0 + SAME) {
            softer.push(format!("{way} ({} times)", significant(1.0 / ratio, 2)));
        } else {
            same.push(way);
        }
    }
    let mut said = Vec::new();
    if !stiffer.is_empty() {
        said.push(format!("stiffer {}", list_and(&stiffer)));
    }
    if !softer.is_empty() {
        said.push(format!("softer {}", list_and(&softer)));
    }
    if !same.is_empty() {
        said.push(format!("as stiff {}", list_and(&same)));
    }
    format!("It is {}", said.join("; "))
}

/// How the largest stress goes, and the share of the yield strength it is.
fn worked_harder(was: &GearFigures, now: &GearFigures, units: &UnitChoice) -> Option<String> {
    let (a, b) = (was.peak.as_ref()?, now.peak.as_ref()?);
    let share = |figures: &GearFigures, stress| {
        figures.yield_strength.map_or_else(String::new, |limit| {
            format!(" ({} % of its yield strength)", decimal(100.0 * f64::from(stress / limit), 0))
        })
    };
    Some(format!(
        "The largest stress in its plate at limit load is {}{} in {}, against {}{} in {}",
        units.figure(b.peak.von_mises, 3),
        share(now, b.peak.von_mises),
        b.case.words(),
        units.figure(a.peak.von_mises, 3),
        share(was, a.peak.von_mises),
        a.case.words()
    ))
}

/// What the wires take and what the mount then has to.
fn wires_and_mount(was: &GearFigures, now: &GearFigures, units: &UnitChoice) -> Option<String> {
    let pull = |f: &GearFigures| f.wire.as_ref().map(|(_, w)| w.most);
    let wires = match (pull(was), pull(now)) {
        (None, None) => None,
        (None, Some(b)) => Some(format!("its wires take up to {}", units.figure(b, 3))),
        (Some(a), None) => Some(format!("it has no wires, which took up to {}", units.figure(a, 3))),
        (Some(a), Some(b)) if near(a, b) => None,
        (Some(a), Some(b)) => Some(format!(
            "the hardest pull in a wire goes from {} to {}",
            units.figure(a, 3),
            units.figure(b, 3)
        )),
    };
    let force: Option<(Force, Force)> = pair(&was.mount.root_force, &now.mount.root_force);
    let moment: Option<(Moment, Moment)> = pair(&was.mount.root_moment, &now.mount.root_moment);
    let bolt = was.mount.bolt.as_ref().zip(now.mount.bolt.as_ref()).map(|((_, a), (_, b))| (a.most, b.most));
    let wood: Option<(Moment, Moment)> = pair(&was.mount.wood, &now.mount.wood);
    let said: Vec<String> = [
        wires,
        goes("the force of a leg on its clamp", force, units),
        goes("the moment of a leg on its clamp", moment, units),
        goes("the largest pull in a bolt", bolt, units),
        goes("the bending moment in the wood", wood, units),
    ]
    .into_iter()
    .flatten()
    .collect();
    (!said.is_empty()).then(|| capital(&said.join("; ")))
}

/// Words as the beginning of a sentence.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn pair<T: Copy>(
    a: &Option<crate::results::AtCase<T>>,
    b: &Option<crate::results::AtCase<T>>,
) -> Option<(T, T)> {
    Some((a.as_ref()?.most, b.as_ref()?.most))
}

fn near<Q: Measure>(a: Q, b: Q) -> bool {
    (a.si() - b.si()).abs() <= SAME * a.si().abs().max(b.si().abs())
}

fn goes<Q: Measure>(what: &str, pair: Option<(Q, Q)>, units: &UnitChoice) -> Option<String> {
    let (a, b) = pair?;
    (!near(a, b)).then(|| format!("{what} goes from {} to {}", units.figure(a, 3), units.figure(b, 3)))
}

/// What a change of mass costs where it is: grams × arm, and how far the centre of gravity goes.
fn cost(figures: &GearFigures, units: &UnitChoice) -> Option<String> {
    let GearChange { mass, ahead_of_cg, cg_forward } = figures.change?;
    // A hundredth of a gram is nobody's.
    if small_is_nothing(mass) {
        return None;
    }
    let (much, word) = if mass > Mass::default() { (mass, "more") } else { (-mass, "less") };
    let said = format!("Gear {} has {} {word}", figures.gear, small_mass(units, much, 2));
    let Some((arm, forward)) = ahead_of_cg.zip(cg_forward) else {
        return Some(format!(
            "{said}: times its distance from the c.g., which the file does not give (`cg_distance`)"
        ));
    };
    let ahead = arm > Length::default();
    let moves = if forward > Length::default() { "forward" } else { "aft" };
    Some(format!(
        "{said} at {} {} the c.g.: {}, and the c.g. goes {} {moves}",
        units.figure(arm.abs(), 3),
        if ahead { "ahead of" } else { "behind" },
        mass_moment(units, mass, arm),
        units.figure(forward.abs(), 2)
    ))
}

fn small_is_nothing(mass: Mass) -> bool {
    mass.value.abs() < 1e-5
}

/// A mass times its arm, forward positive: `-5600 g mm`.
pub(super) fn mass_moment(units: &UnitChoice, mass: Mass, arm: Length) -> String {
    let imperial = matches!(units.mass, Unit::Pound | Unit::Ounce);
    let small = if imperial { Unit::Ounce } else { Unit::Gram };
    let length = if units.length == Unit::Inch { Unit::Inch } else { Unit::Millimetre };
    let product = small.count(mass).unwrap_or_default() * length.count(arm).unwrap_or_default();
    format!("{} {} {}", significant(product, 2), small.symbol(), length.symbol())
}

/// What the same arrival makes of each design.
fn arrival(compared: &Comparison, units: &UnitChoice) -> String {
    let arrival = &compared.arrival;
    let height = units.figure(arrival.height, 3);
    let what = match &arrival.from {
        ArrivalFrom::Given => format!("The same landing, a drop of {height},"),
        ArrivalFrom::Stated(n) => format!(
            "The same landing, a drop of {height} ({} makes the stated {} g of it),",
            compared.designs.first().map_or_else(String::new, quoted),
            factor_figure(*n)
        ),
        ArrivalFrom::Ordinary(name) => format!("The same {name} arrival, a drop of {height},"),
    };
    let mut made: Vec<(&ComparedDesign, f64)> =
        compared.designs.iter().filter_map(|d| Some((d, d.inertia_load_factor?))).collect();
    made.sort_by(|a, b| a.1.total_cmp(&b.1));
    let lost: Vec<String> =
        compared.designs.iter().filter(|d| d.inertia_load_factor.is_none()).map(quoted).collect();
    let mut said = Vec::new();
    if let (Some((_, least)), Some((_, most))) = (made.first(), made.last()) {
        let each: Vec<String> =
            made.iter().map(|(d, n)| format!("{} g in {}", significant(*n, 3), quoted(d))).collect();
        let each = list_and(&each);
        let harsh = if made.len() < 2 {
            String::new()
        } else if most / least < 1.0 + SAME {
            ": none is harsher than the others".to_owned()
        } else {
            let (mildest, harshest) = (made.first(), made.last());
            let name = |d: Option<&(&ComparedDesign, f64)>| d.map_or_else(String::new, |(d, _)| quoted(d));
            format!(": {} is the harshest, {} the mildest", name(harshest), name(mildest))
        };
        said.push(format!("makes {each}{harsh}"));
    }
    if !lost.is_empty() {
        let lost = list_and(&lost);
        said.push(format!("is more than {lost} can take up"));
    }
    format!("{what} {}.{}{}", said.join(", and "), sets(compared, units), dropped_alone(compared))
}

/// What has to be known of the drop: which weight falls, and that tyres without a stiffness do not give.
fn dropped_alone(compared: &Comparison) -> String {
    let mut said = String::new();
    let gears = || compared.designs.iter().flat_map(|d| &d.project.gears);
    if gears().all(|g| g.position != Position::Main) {
        said.push_str(" No main gear is described, so each gear falls with the weight that rests on it.");
    }
    if gears().any(|g| g.wheel.tyre_stiffness.is_none()) {
        said.push_str(" A tyre without `tyre_stiffness` counts as rigid, which makes more g.");
    }
    said
}

/// What stays bent after it.
fn sets(compared: &Comparison, units: &UnitChoice) -> String {
    let mut marked = Vec::new();
    for design in &compared.designs {
        for figures in &design.gears {
            let known = figures.yield_strength.is_some();
            let Some(outcome) = figures.drop.outcome.as_ref().filter(|_| known) else { continue };
            if outcome.yielded {
                marked.push(format!(
                    "gear {} of {} stays bent by {}",
                    figures.gear,
                    quoted(design),
                    units.figure(outcome.set, 2)
                ));
            }
        }
    }
    let known = compared.designs.iter().flat_map(|d| &d.gears).all(|f| f.yield_strength.is_some());
    if !marked.is_empty() {
        let marked = list_and(&marked);
        format!(" After it {marked}.")
    } else if known && compared.designs.iter().all(|d| d.inertia_load_factor.is_some()) {
        " Nothing stays bent after it.".to_owned()
    } else {
        String::new()
    }
}

/// What lets go first in each design, and at what g.
fn gives_first(compared: &Comparison, units: &UnitChoice) -> Option<String> {
    let each: Vec<String> = compared
        .designs
        .iter()
        .filter_map(|design| {
            let figures = compared.chosen(design)?.1;
            let order = figures.order.as_ref()?;
            let name = quoted(design);
            // Of a metal that nobody knows the plate may go before anything that is told.
            let untold =
                if figures.yield_strength.is_some() { "" } else { " (where its plate bends can't be told)" };
            Some(match together(order).first() {
                None => format!("in {name} nothing up to {} times the limit loads{untold}", followed(order)),
                Some(group) => format!(
                    "in {name} {}, at {} times the limit loads of {}{}{untold}",
                    group.event(),
                    multiple(group.first.multiple),
                    order.case.words(),
                    landing_of(group.first, units)
                ),
            })
        })
        .collect();
    let gear = gear_words(compared);
    (!each.is_empty()).then(|| format!("What lets go first in {gear}: {}.", each.join("; ")))
}

/// A stiffness in the user's units.
pub(super) fn stiffness_figure(units: &UnitChoice, stiffness: Option<Stiffness>) -> String {
    stiffness.map_or_else(|| "-".to_owned(), |k| units.figure(k, 3))
}
