//! `[gear.NAME]` and what hangs below it.

use super::keys;
use super::own::{OwnMetals, OwnWires};
use super::section::{Context, Section, nearest, shown, unprintable};
use super::tree::{Entry, Value};
use super::{brace, doubts, landing, mount, plate, wheel};
use crate::diagnostic::Diagnostic;
use crate::model::{Arms, FigureLimits, Gear, Layout, PartKind, Position};

/// How the arms are laid out, before their measures are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ArmsWord {
    Pair,
    Single,
    Twin,
}

/// A gear of the file: its name is known even when the rest can't be used.
pub(super) struct ReadGear {
    pub(super) name: String,
    pub(super) position: Option<Position>,
    pub(super) arms: Option<ArmsWord>,
    pub(super) gear: Option<Gear>,
}

/// Reads one gear.
pub(super) fn gear<'a>(
    cx: &'a Context<'a>,
    entry: &'a Entry,
    layout: Option<Layout>,
    metals: &OwnMetals,
    wires: &OwnWires,
) -> Option<ReadGear> {
    let name = &entry.key;
    let title = format!("[gear.{}]", shown(name));
    if let Some(trouble) = unprintable(name) {
        let refused = Diagnostic::error("bad-text", format!("the name of a gear {trouble}"))
            .help("write a short name, as in [gear.main]");
        cx.note(refused, entry.key_span.clone());
        return None;
    }
    let Value::Table(table) = &entry.node.value else {
        let refused = match &entry.node.value {
            Value::List(_) => Diagnostic::error("wrong-type", format!("{title} takes one pair of brackets"))
                .help("give every gear a name of its own, as in [gear.main] and [gear.nose]"),
            other => Diagnostic::error(
                "wrong-type",
                format!("`{}` is {} in the place of a gear", shown(name), other.words()),
            )
            .help("a gear is a section with a name, as in [gear.main]"),
        };
        cx.note(refused, entry.node.span.clone());
        return None;
    };
    let section =
        Section::open(cx, format!("gear.{name}"), title, entry.node.span.clone(), table, &keys::GEAR);
    let position = position(&section, layout);
    let words = [("pair", ArmsWord::Pair), ("single", ArmsWord::Single), ("twin", ArmsWord::Twin)];
    let arms = section.needed_choice(&keys::ARMS, &words).take();
    let gear = measures(&section, name, position, arms, metals, wires);
    Some(ReadGear { name: name.clone(), position, arms, gear })
}

/// The gear that a section's `gear` names, as an index into all gears of the file, good or bad.
pub(super) fn named(section: &Section<'_>, gears: &[ReadGear]) -> Option<usize> {
    among(section, &gears.iter().map(|gear| gear.name.as_str()).collect::<Vec<_>>())
}

/// The same among gears of these names.
pub(super) fn among(section: &Section<'_>, gears: &[&str]) -> Option<usize> {
    let gear = section.needed_text(&keys::GEAR_NAME);
    let (name, span) = gear.placed()?;
    let found = gears.iter().position(|own| own == name);
    if found.is_none() {
        let mut refused = Diagnostic::error("no-such-gear", format!("no gear is named \"{}\"", shown(name)));
        if let Some(near) = nearest(name, gears.iter().copied()) {
            refused = refused.label(format!("perhaps \"{}\"", shown(near)));
        }
        let all: Vec<String> = gears.iter().map(|own| format!("\"{}\"", shown(own))).collect();
        if !all.is_empty() {
            refused = refused.help(format!("gears of this file: {}", all.join(", ")));
        }
        section.note(refused, span);
    }
    found
}

fn position(section: &Section<'_>, layout: Option<Layout>) -> Option<Position> {
    let words = [("main", Position::Main), ("nose", Position::Nose), ("tail", Position::Tail)];
    section
        .needed_choice(&keys::POSITION, &words)
        .and_then(|position, span| {
            let clash = match (position, layout?) {
                (Position::Nose, Layout::Tailwheel) => Some(("nose", "tailwheel", "tricycle")),
                (Position::Tail, Layout::Tricycle) => Some(("tail", "tricycle", "tailwheel")),
                _ => None,
            };
            if let Some((word, layout, other)) = clash {
                let refused =
                    Diagnostic::error("contradiction", format!("a {layout} aircraft has no {word} gear"))
                        .help(format!(
                            "put layout = \"{other}\" in [aircraft], or change this gear's position"
                        ));
                section.note(refused, span);
            }
            Some(position)
        })
        .take()
}

fn measures(
    section: &Section<'_>,
    name: &str,
    position: Option<Position>,
    arms: Option<ArmsWord>,
    metals: &OwnMetals,
    wires: &OwnWires,
) -> Option<Gear> {
    let cg_distance = section.quantity(&keys::CG_DISTANCE).take();
    let give_first = section.choice(&keys::GIVE_FIRST, &PartKind::ALL.map(|kind| (kind.id(), kind))).take();
    let here = position.map(|p| [p]);
    let give_first_in = landing::cases(section, &keys::GIVE_FIRST_IN, here.as_ref().map(<[_; 1]>::as_slice));
    if give_first.is_none()
        && let Some(span) = section.list(&keys::GIVE_FIRST_IN).span()
    {
        let refused = Diagnostic::error(
            "contradiction",
            "`give_first_in` says when, and nothing says what gives first",
        )
        .help("name the part as well, as in give_first = \"bolts\"");
        section.note(refused, span);
    }
    let plate_section = needed_below(section, "plate", &keys::PLATE);
    let wheel_section = needed_below(section, "wheel", &keys::WHEEL);
    let plate = plate_section.as_ref().and_then(|s| plate::plate(s, arms, metals));
    let wheel = wheel_section.as_ref().and_then(|s| wheel::wheel(s, arms));
    let brace_title = format!("[[{}.brace]]", section.path);
    let brace_sections = section.each_below("brace", &brace_title, &keys::BRACE);
    let mounted = section.table.get("mount").is_some();
    // A brace that is not fitted is read for its mistakes.
    let braces: Vec<_> = brace_sections
        .iter()
        .filter_map(|s| {
            let fitted = brace::is_fitted(s);
            brace::brace(s, arms, wires, mounted).filter(|_| fitted)
        })
        .collect();
    let mount_section = section.below("mount", &format!("[{}.mount]", section.path), &keys::MOUNT);
    let mount = mount_section.as_ref().and_then(|s| mount::mount(s, arms));
    let limits_section = section.below("limits", &format!("[{}.limits]", section.path), &keys::LIMITS);
    let limits = limits_section.as_ref().map(limits).unwrap_or_default();

    let (plate, plate_arms) = plate?;
    let (wheel, joint) = wheel?;
    let arms = match arms? {
        ArmsWord::Pair => Arms::Pair { base_width: plate_arms? },
        ArmsWord::Single => Arms::Single,
        ArmsWord::Twin => Arms::Twin { base_width: plate_arms?, axle_joint: joint? },
    };
    let gear = Gear {
        name: name.to_owned(),
        position: position?,
        arms,
        plate,
        wheel,
        braces,
        mount,
        limits,
        cg_distance,
        give_first,
        give_first_in,
    };
    let places = doubts::Places {
        gear: section,
        plate: plate_section.as_ref()?,
        wheel: wheel_section.as_ref()?,
        braces: &brace_sections,
        mount: mount_section.as_ref(),
    };
    doubts::check(&gear, &places);
    Some(gear)
}

fn needed_below<'a>(section: &Section<'a>, name: &str, keys: &keys::Keys) -> Option<Section<'a>> {
    let title = format!("[{}.{name}]", section.path);
    if section.table.get(name).is_none() {
        let missing = Diagnostic::error("missing-section", format!("{} has no {name}", section.title))
            .help(format!("add a section {title} with its keys below it"));
        section.note(missing, section.header.clone());
    }
    section.below(name, &title, keys)
}

fn limits(section: &Section<'_>) -> FigureLimits {
    FigureLimits {
        spread: section.quantity(&keys::SPREAD).take(),
        drop: section.quantity(&keys::DROP).take(),
        toe: section.quantity(&keys::TOE).take(),
        clearance: section.quantity(&keys::CLEARANCE).take(),
    }
}
