//! The report of `gearleg compare` for people: words first, then a table with a column for each design.

use super::compare_json::{cautions_of, units_of};
use super::compare_words::{in_words, mass_moment, quoted, small_mass, stiffness_figure};
use super::figure::{UnitChoice, figure, significant};
use super::layout::{bullet, heading, lines, paragraph, table};
use super::order_words::{followed, is_none, multiple, together};
use super::view::{failure_words, margin_figure, place_words};
use crate::model::{Arms, Gear, PlateMetal};
use crate::results::{AtCase, ComparedDesign, Comparison, GearFigures, Margin};
use crate::units::Measure;

/// Designs beside each other in one table; the rest goes into further ones.
const BESIDE: usize = 4;

/// Columns of the page for a design, and for what a row is about. chosen: four designs fit the width.
const COLUMN: usize = 17;
const LABEL: usize = 17;

/// Failures that are named.
const NAMED: usize = 3;

/// Writes the report.
#[must_use]
pub fn compare_text(compared: &Comparison) -> String {
    let units = units_of(compared);
    let mut out = String::new();
    let names: Vec<String> = compared.designs.iter().map(quoted).collect();
    out.push_str(&paragraph(&format!("Side by side: {}", names.join(", "))));

    heading(&mut out, "IN WORDS");
    for line in in_words(compared, &units) {
        out.push_str(&bullet(&line));
    }

    for gear in gears(compared) {
        heading(&mut out, &format!("GEAR {gear}"));
        tables(&mut out, compared, &gear, &units);
    }
    out.push_str(&paragraph(
        "Stiffness: each wheel is pushed with the weight that rests on it, at the ground, and the force on one is divided by what it \
         moves (in spread by the growth of the track); wires are as tight or slack as they are. Stress, pulls and what the mount bears are \
         the largest over all landings, each design under its own landing's loads. Mass is that of plate, wires and axles.",
    ));

    heading(&mut out, "CAUTIONS");
    for line in cautions_of(compared) {
        out.push_str(&bullet(&line));
    }
    out
}

/// The gears worth a table: those that are not the same in all, or else the first design's; and those that only others have.
fn gears(compared: &Comparison) -> Vec<String> {
    let first = compared.designs.first().map(|d| d.project.gears.as_slice()).unwrap_or_default();
    let mut names: Vec<String> = compared.changed.clone();
    if names.is_empty() {
        names.extend(first.iter().map(|g| g.name.clone()));
    }
    for gear in compared.designs.iter().flat_map(|d| &d.project.gears) {
        let new = first.iter().all(|g| g.name != gear.name) && !names.contains(&gear.name);
        if new {
            names.push(gear.name.clone());
        }
    }
    names
}

fn tables(out: &mut String, compared: &Comparison, name: &str, units: &UnitChoice) {
    for (index, block) in compared.designs.chunks(BESIDE).enumerate() {
        if index > 0 {
            out.push('\n');
        }
        let cells: Vec<Vec<(String, String)>> =
            block.iter().map(|design| column(compared, design, name, units)).collect();
        let heads: Vec<String> =
            std::iter::once(String::new()).chain(block.iter().map(|d| wrapped(&d.name, COLUMN))).collect();
        let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
        let labels: Vec<String> = cells
            .iter()
            .find(|column| !column.is_empty())
            .map(|column| column.iter().map(|(label, _)| label.clone()).collect())
            .unwrap_or_default();
        let told = |row: usize| cells.iter().any(|c| c.get(row).is_some_and(|(_, cell)| *cell != none()));
        let rows = labels.iter().enumerate().filter(|(row, _)| told(*row)).map(|(row, label)| {
            let figures = cells.iter().map(|column| {
                column.get(row).map_or_else(|| "no such gear".to_owned(), |(_, cell)| wrapped(cell, COLUMN))
            });
            std::iter::once(wrapped(label, LABEL)).chain(figures).collect::<Vec<_>>()
        });
        out.push_str(&table(&heads, 1..1, rows));
    }
}

/// Stands where there is nothing to tell.
fn none() -> String {
    "-".to_owned()
}

fn wrapped(words: &str, width: usize) -> String {
    lines(words, width).join("\n")
}

/// The figures of one design's gear with what they are; empty when it has no gear of that name.
fn column(
    compared: &Comparison,
    design: &ComparedDesign,
    name: &str,
    units: &UnitChoice,
) -> Vec<(String, String)> {
    let found = design.project.gears.iter().zip(&design.gears).find(|(g, _)| g.name == name);
    let Some((gear, f)) = found else { return Vec::new() };
    let outcome = f.drop.outcome.as_ref();
    let gone = || if f.drop.beyond { "not followed".to_owned() } else { "gives way".to_owned() };
    let height = units.figure(compared.arrival.height, 3);
    let known = f.yield_strength.is_some();
    let rows: Vec<(&str, String)> = vec![
        ("made of", made_of(gear, units)),
        ("mass", small_mass(units, f.mass.total(), 3)),
        ("of it wires", if gear.braces.is_empty() { none() } else { small_mass(units, f.mass.wires, 2) }),
        ("stiffness in spread", stiffness_figure(units, f.stiffness.spread)),
        ("fore and aft", stiffness_figure(units, Some(f.stiffness.aft))),
        ("sideways", stiffness_figure(units, Some(f.stiffness.side))),
        ("up and down", stiffness_figure(units, Some(f.stiffness.up))),
        ("g", outcome.map_or_else(gone, |o| format!("{} g", significant(o.inertia_load_factor, 3)))),
        (
            "stays bent by",
            match outcome {
                Some(_) if !known => "unknown".to_owned(),
                Some(o) if is_none(o.set) => "nothing".to_owned(),
                Some(o) => units.figure(o.set, 2),
                None => gone(),
            },
        ),
        (
            "highest drop without set",
            f.highest_without_set.map_or_else(
                || if known { "beyond what was tried".to_owned() } else { "unknown".to_owned() },
                |h| units.figure(h, 2),
            ),
        ),
        (
            "largest stress",
            f.peak.as_ref().map_or_else(none, |p| {
                format!(
                    "{}, {} {}, {}",
                    units.figure(p.peak.von_mises, 3),
                    p.part,
                    place_words(units, &p.peak),
                    p.case.id()
                )
            }),
        ),
        (
            "hardest pull in a wire",
            f.wire.as_ref().map_or_else(none, |(wire, w)| {
                format!("{} ({wire}, {})", units.figure(w.most, 3), w.case.id())
            }),
        ),
        ("force on a clamp", at_case(f.mount.root_force.as_ref(), units)),
        ("moment on a clamp", at_case(f.mount.root_moment.as_ref(), units)),
        ("pull in a bolt", at_case(f.mount.bolt.as_ref().map(|(_, b)| b), units)),
        ("bending of the wood", at_case(f.mount.wood.as_ref(), units)),
        ("weakest", f.weakest.as_ref().map_or_else(none, weakest)),
        ("gives first", order(f)),
        ("change at its place", change(f, units)),
    ];
    rows.into_iter()
        .map(|(label, cell)| {
            let label = if label == "g" { format!("g in a drop of {height}") } else { label.to_owned() };
            (label, cell)
        })
        .collect()
}

fn made_of(gear: &Gear, units: &UnitChoice) -> String {
    let metal = match &gear.plate.metal {
        PlateMetal::Known(metal) => metal.name.as_str(),
        PlateMetal::Unknown => "unknown metal",
    };
    let arms = match gear.arms {
        Arms::Pair { .. } => "pair",
        Arms::Single => "one arm",
        Arms::Twin { .. } => "two arms",
    };
    let wires = if gear.braces.is_empty() { "" } else { ", braced" };
    format!("{arms}, {} {metal}{wires}", units.figure(gear.plate.sheet_thickness(), 3))
}

fn at_case<Q: Measure>(found: Option<&AtCase<Q>>, units: &UnitChoice) -> String {
    found.map_or_else(none, |a| format!("{} ({})", units.figure(a.most, 3), a.case.id()))
}

fn weakest(m: &Margin) -> String {
    let case = m.case.as_ref().map_or_else(String::new, |c| format!(", {}", c.id()));
    format!("{}: {}{case}", margin_figure(m), failure_words(m))
}

fn order(f: &GearFigures) -> String {
    let Some(order) = &f.order else { return none() };
    let groups = together(order);
    let named: Vec<String> = groups
        .iter()
        .take(NAMED)
        .map(|g| format!("{} ×: {}", multiple(g.first.multiple), g.event()))
        .collect();
    if named.is_empty() {
        format!("nothing up to {} ×", followed(order))
    } else {
        format!("{}: {}", order.case.id(), named.join("; "))
    }
}

fn change(f: &GearFigures, units: &UnitChoice) -> String {
    let Some(change) = f.change else { return none() };
    let small = small_mass(units, change.mass, 2);
    match change.ahead_of_cg {
        None => format!("{small} × its distance from the c.g."),
        Some(arm) => {
            format!("{small} × {} = {}", figure(arm, units.length, 3), mass_moment(units, change.mass, arm))
        }
    }
}
