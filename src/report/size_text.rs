//! The result of `gearleg size` as text: words, the designs, light against strong, the merchant's card.

use super::figure::{UnitChoice, figure, list_and, significant};
use super::layout::{bullet, heading, paragraph, table};
use super::remarks::size_cautions;
use super::view::{event_words, in_table, margin_figure, title};
use crate::model::Project;
use crate::results::{Amount, CardEntry, CardRow, Margin, SizeResult, SizedDesign, SizedGear};
use crate::units::{Length, Mass, Unit};

/// Columns of the merchant's card: those of a phone.
const CARD_WIDTH: usize = 40;

/// Writes what came of looking for sizes.
#[must_use]
pub fn size_text(result: &SizeResult) -> String {
    let project = &result.project;
    let units = UnitChoice::from_written(project.written_units.iter().copied());
    let mut out = title(project, &units);
    heading(&mut out, "SIZES");
    for line in size_words(result) {
        out.push_str(&bullet(&line));
    }
    for sized in &result.gears {
        designs(&mut out, sized, &units);
    }
    for sized in result.gears.iter().filter(|g| !g.card.is_empty()) {
        card(&mut out, project, sized, &units);
    }
    heading(&mut out, "CAUTIONS");
    for line in size_cautions(project) {
        out.push_str(&bullet(&line));
    }
    out
}

/// What was found, in sentences.
#[must_use]
pub(super) fn size_words(result: &SizeResult) -> Vec<String> {
    let units = UnitChoice::from_written(result.project.written_units.iter().copied());
    let mut lines = Vec::new();
    for sized in &result.gears {
        lines.push(match (&sized.best, &sized.nearest) {
            (Some(best), _) => found_words(sized, best, &units),
            (None, Some(nearest)) => nearest_words(sized, nearest, &result.project, &units),
            (None, None) => format!(
                "Gear {}: nothing that was looked for holds, and of none could it be seen how far off it is.",
                sized.gear
            ),
        });
        lines.extend(sized.runners_up.first().map(|next| {
            let more = sized.best.as_ref().map_or(next.mass, |b| next.mass - b.mass);
            // What differs by rounding only weighs the same.
            let weighs = if more > 1e-9 * next.mass {
                format!("weighs {} more", mass(more, &units))
            } else {
                "weighs as much".to_owned()
            };
            format!("Gear {}: the next lightest {weighs}: {}.", sized.gear, changes(next, &sized.gear))
        }));
        lines.push(counted(sized));
    }
    if result.nothing_open {
        lines.push(
            "The file leaves nothing open, so its thickness was looked for and whether its wires are needed. Write \"?\" for a value \
             that is to be found, { from = \"3 mm\", to = \"6 mm\" } for a range, or a list of your own."
                .to_owned(),
        );
    }
    lines
}

fn found_words(sized: &SizedGear, best: &SizedDesign, units: &UnitChoice) -> String {
    format!(
        "Gear {}: the lightest that holds is {}. Its metal weighs {}; its least margin is {}{}: {} would come next.",
        sized.gear,
        changes(best, &sized.gear),
        mass(best.mass, units),
        if best.at_least { "at least " } else { "" },
        margin_figure(&best.binding),
        event_words(&best.binding)
    )
}

fn nearest_words(sized: &SizedGear, nearest: &SizedDesign, project: &Project, units: &UnitChoice) -> String {
    let margin = &nearest.binding;
    let wanted = project.wish.margin;
    let asked = if wanted > 0.0 { format!(" with a margin of {wanted}") } else { String::new() };
    format!(
        "Gear {}: nothing that was looked for holds{asked}. Nearest comes {}, {} of metal: {}. {}",
        sized.gear,
        changes(nearest, &sized.gear),
        mass(nearest.mass, units),
        match margin.value() {
            Some(_) => format!("{} (margin {})", event_words(margin), margin_figure(margin)),
            None => format!("whether the {} can't be told", event_words(margin)),
        },
        remedy(margin, nearest, project, units)
    )
}

/// What would have to change for a margin to be as wanted.
fn remedy(margin: &Margin, design: &SizedDesign, project: &Project, units: &UnitChoice) -> String {
    let (Some(value), Some(allowable)) = (margin.value(), margin.allowable) else {
        return "A strength has to be known first: `gearleg check` says which, and how to test it."
            .to_owned();
    };
    let short = (1.0 + project.wish.margin) / (1.0 + value);
    if short <= 1.0 {
        // Every margin is there: the landing itself is too hard for what is wished.
        return match project.wish.most_load_factor {
            Some(most) => format!(
                "Its margins would do, but it makes {} g of the landing and {most} are wished: a softer gear, or a softer landing.",
                significant(design.factors.inertia, 3)
            ),
            None => String::new(),
        };
    }
    let more = significant(100.0 * (short - 1.0), 2);
    let needed = match allowable {
        Amount::Stress(stress) => format!(
            ", {} in place of {}",
            in_table(units, Amount::Stress(short * stress)),
            in_table(units, allowable)
        ),
        Amount::Force(force) => format!(
            ", {} in place of {}",
            in_table(units, Amount::Force(short * force)),
            in_table(units, allowable)
        ),
        Amount::Length(length) => format!(
            ", {} in place of {}",
            in_table(units, Amount::Length(short * length)),
            in_table(units, allowable)
        ),
        _ => String::new(),
    };
    let what = match margin.check {
        "bend-radius" => "It takes a bend of a larger inside radius",
        "wheel-spread" | "wheel-drop" | "wheel-toe" => "It takes a wider limit, or a stiffer gear",
        _ => "It takes more strength there",
    };
    let other = match margin.check {
        "leg-yield" | "leg-collapse" | "limit-load" => {
            format!(
                "; or a plate about {} % thicker or wider choices than were open, or shorter legs, or a softer landing",
                significant(100.0 * (short.sqrt() - 1.0), 2)
            )
        }
        "bend-radius" => String::new(),
        _ => "; or a softer landing".to_owned(),
    };
    let hard = match project.wish.most_load_factor {
        Some(most) if design.factors.inertia > most => format!(
            " And it makes {} g of the landing where {most} are wished: that takes a softer gear, or a softer landing.",
            significant(design.factors.inertia, 3)
        ),
        _ => String::new(),
    };
    format!("{what}: {more} % more{needed}{other}.{hard}")
}

fn counted(sized: &SizedGear) -> String {
    let open: Vec<String> =
        sized.open.iter().map(|(key, n)| format!("{} ({n})", short(key, &sized.gear))).collect();
    let open: Vec<&str> = open.iter().map(String::as_str).collect();
    let designs = if sized.designs == 1 { "design" } else { "designs" };
    let mut line = format!("Gear {}: {} {designs} of {}", sized.gear, sized.designs, list_and(&open));
    let mut parts = Vec::new();
    if let Some((count, why)) = &sized.refused {
        parts.push(format!("{count} can't be had as written, the first because {why}"));
    }
    if sized.too_heavy > 0 {
        parts.push(format!("{} are heavier than wished", sized.too_heavy));
    }
    if sized.unsolved > 0 {
        parts.push(format!("of {} no solution was found", sized.unsolved));
    }
    if !parts.is_empty() {
        line.push_str(": ");
        line.push_str(&parts.join("; "));
    }
    line.push('.');
    line
}

/// A key without the gear that it is of.
fn short<'k>(key: &'k str, gear: &str) -> &'k str {
    key.strip_prefix("gear.")
        .and_then(|k| k.strip_prefix(gear))
        .and_then(|k| k.strip_prefix('.'))
        .unwrap_or(key)
}

fn changes(design: &SizedDesign, gear: &str) -> String {
    let words: Vec<String> =
        design.changes.iter().map(|(key, value)| format!("{} = {value}", short(key, gear))).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    list_and(&words)
}

/// A mass in grams or ounces: kilograms and pounds are too coarse for what is sawn.
fn mass(mass: Mass, units: &UnitChoice) -> String {
    let unit = if matches!(units.mass, Unit::Pound | Unit::Ounce) { Unit::Ounce } else { Unit::Gram };
    figure(mass, unit, 3)
}

fn designs(out: &mut String, sized: &SizedGear, units: &UnitChoice) {
    let row = |d: &SizedDesign| {
        vec![
            changes(d, &sized.gear),
            mass(d.mass, units),
            format!("{}{}", if d.at_least { "≥ " } else { "" }, margin_figure(&d.binding)),
            event_words(&d.binding),
        ]
    };
    let header = ["design", "metal", "least margin", "what binds"];
    if let Some(best) = &sized.best {
        heading(out, &format!("LIGHTEST THAT HOLD, gear {}", sized.gear));
        let rows = std::iter::once(best).chain(&sized.runners_up).map(row);
        out.push_str(&table(&header, 1..3, rows));
    }
    if sized.front.len() > 1 {
        heading(out, &format!("LIGHT AGAINST STRONG, gear {}", sized.gear));
        out.push_str(&paragraph("Of all that hold, those than which no lighter one is as strong."));
        out.push_str(&table(&header, 1..3, sized.front.iter().map(row)));
    }
}

/// The merchant's card: narrow enough for a phone and for a card in a pocket.
fn card(out: &mut String, project: &Project, sized: &SizedGear, units: &UnitChoice) {
    heading(out, "MERCHANT'S CARD");
    let mut lines = textwrap::wrap(&format!("{}, gear {}", project.aircraft.name, sized.gear), CARD_WIDTH)
        .into_iter()
        .map(std::borrow::Cow::into_owned)
        .collect::<Vec<_>>();
    lines.push("-".repeat(CARD_WIDTH));
    lines.push(card_line(["metal", "plate", "weight", "drop"]));
    let wired = sized.card.iter().any(|r| r.braced.is_some());
    for row in &sized.card {
        card_row(&mut lines, row, units);
    }
    lines.push("-".repeat(CARD_WIDTH));
    let mut notes = vec![
        "plate: the thinnest on sale that holds in every landing of the file.".to_owned(),
        "weight: of the gear's metal. drop: level, after which nothing stays bent.".to_owned(),
        "any: the grade is not known; whichever of these it is.".to_owned(),
    ];
    if wired {
        notes.push("+ wire: with brace wires of that diameter.".to_owned());
    }
    if sized.card.iter().any(|r| [&r.plain, &r.braced].into_iter().flatten().any(|e| e.bend_radius.is_some()))
    {
        notes.push("R: bend it no tighter than this inside.".to_owned());
    }
    notes.push("Unproven until an offcut has been tested. An estimate; inspect before flight.".to_owned());
    for note in notes {
        lines.extend(textwrap::wrap(&note, CARD_WIDTH).into_iter().map(std::borrow::Cow::into_owned));
    }
    for line in lines {
        out.push_str(line.trim_end());
        out.push('\n');
    }
}

fn card_line([metal, plate, weight, drop]: [&str; 4]) -> String {
    format!("{metal:<11}{plate:>9}{weight:>10}{drop:>10}")
}

fn card_row(lines: &mut Vec<String>, row: &CardRow, units: &UnitChoice) {
    let name = row.metal.as_deref().unwrap_or("any");
    let drop = |e: &CardEntry| e.drop_without_set.map_or_else(|| "?".to_owned(), |h| units.figure_down(h, 2));
    let radius = |e: &CardEntry| e.bend_radius.map(|r| format!("{:>20}", format!("R {}", length(r, units))));
    match &row.plain {
        Some(plain) => {
            lines.push(card_line([name, &plain.thickness, &mass(plain.mass, units), &drop(plain)]));
            lines.extend(radius(plain));
        }
        None => lines.push(card_line([name, "none", "-", "-"])),
    }
    if let Some(braced) = &row.braced {
        let wire = format!("+ {}", braced.wire.as_deref().unwrap_or("wire"));
        lines.push(card_line([&wire, &braced.thickness, &mass(braced.mass, units), &drop(braced)]));
        lines.extend(radius(braced));
    }
}

fn length(length: Length, units: &UnitChoice) -> String {
    units.figure(length, 2)
}
