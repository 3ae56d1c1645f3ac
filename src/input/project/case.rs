//! `[[case]]`: loads of the builder's own.

use super::gear::{self, ArmsWord, ReadGear};
use super::keys;
use super::section::{Section, shown};
use super::tree::{Entry, Value};
use crate::diagnostic::Diagnostic;
use crate::model::{CaseId, CaseWheelLoad, LoadPoint, Side, UserCase};
use crate::units::Force;
use std::collections::BTreeSet;

/// Reads the cases in order; `gears` are all gears of the file, good or bad.
pub(super) fn cases(root: &Section<'_>, gears: &[ReadGear]) -> Vec<UserCase> {
    let mut cases = Vec::new();
    let mut names: BTreeSet<String> = BTreeSet::new();
    for section in root.each_below("case", "[[case]]", &keys::CASE) {
        let name = name(&section, &mut names);
        let gear = gear::named(&section, gears);
        let arms = gear.and_then(|index| gears.get(index)).and_then(|g| g.arms);
        let loads = loads(&section, arms);
        if let (Some(name), Some(gear), Some(loads)) = (name, gear, loads) {
            cases.push(UserCase { name, gear, loads });
        }
    }
    cases
}

fn name(section: &Section<'_>, names: &mut BTreeSet<String>) -> Option<String> {
    let name = section.needed_text(&keys::CASE_NAME);
    let (text, span) = name.placed()?;
    if CaseId::from_id(text).is_some() {
        let refused = Diagnostic::error(
            "name-taken",
            format!("\"{text}\" is the name of a landing case of the tool's own"),
        )
        .help("give your case another name, as in name = \"lift by the wheels\"");
        section.note(refused, span);
        return None;
    }
    if !names.insert((*text).to_owned()) {
        let refused = Diagnostic::error("duplicate-case", format!("two cases are named \"{}\"", shown(text)))
            .label("second time")
            .help("give each case a name of its own");
        section.note(refused, span);
        return None;
    }
    Some((*text).to_owned())
}

/// The loads of all wheels, port first.
fn loads(section: &Section<'_>, arms: Option<ArmsWord>) -> Option<Vec<CaseWheelLoad>> {
    let wheels = [("left", Side::Left), ("wheel", Side::Centre), ("right", Side::Right)];
    let given: Vec<(&Entry, Side)> =
        wheels.iter().filter_map(|(key, side)| section.table.get(key).map(|entry| (entry, *side))).collect();
    if given.is_empty() {
        let example = match arms {
            Some(ArmsWord::Single | ArmsWord::Twin) => "wheel = { vertical = \"200 N\" }",
            Some(ArmsWord::Pair) | None => "left = { vertical = \"200 N\", aft = \"50 N\" }",
        };
        let refused = Diagnostic::error("missing-key", "this case puts no load on any wheel")
            .help(format!("add a line such as {example}"));
        section.note(refused, section.header.clone());
        return None;
    }
    let mut loads = Vec::new();
    let mut good = true;
    for (entry, side) in given {
        let centre = side == Side::Centre;
        let fits = match arms {
            Some(ArmsWord::Pair) => !centre,
            Some(ArmsWord::Single | ArmsWord::Twin) => centre,
            None => true,
        };
        if !fits {
            let (message, help) = if centre {
                (
                    "a pair has a left and a right wheel, not one `wheel`",
                    "write left = {...} and right = {...}",
                )
            } else {
                ("this gear has one wheel only, neither left nor right", "write wheel = {...}")
            };
            section.note(Diagnostic::error("no-such-wheel", message).help(help), entry.key_span.clone());
        }
        match load(section, entry, side) {
            Some(load) if fits => loads.push(load),
            _ => good = false,
        }
    }
    good.then_some(loads)
}

fn load(section: &Section<'_>, entry: &Entry, side: Side) -> Option<CaseWheelLoad> {
    let key = &entry.key;
    let Value::Table(table) = &entry.node.value else {
        let refused = Diagnostic::error(
            "wrong-type",
            format!("`{key}` needs its loads between braces, and this is {}", entry.node.value.words()),
        )
        .help(format!("write {key} = {{ vertical = \"200 N\", aft = \"50 N\", side = \"0 N\" }}"));
        section.note(refused, entry.node.span.clone());
        return None;
    };
    // A load written as dotted keys has no place of its own; the key stands for it.
    let section = Section::open(
        section.cx,
        section.dotted(key),
        format!("`{key}` of [[case]]"),
        entry.node.span.clone(),
        table,
        &keys::LOAD,
    );
    let up = section.quantity::<Force>(&keys::VERTICAL);
    let aft = section.quantity::<Force>(&keys::AFT);
    let starboard = section.quantity::<Force>(&keys::SIDE);
    let words = [("ground", LoadPoint::Ground), ("axle", LoadPoint::Axle)];
    let at = section.choice(&keys::AT, &words).take().unwrap_or(LoadPoint::Ground);
    if !up.given() && !aft.given() && !starboard.given() {
        let refused = Diagnostic::error("missing-key", format!("`{key}` of [[case]] has no load in it"))
            .help(format!("write {key} = {{ vertical = \"200 N\", aft = \"50 N\", side = \"0 N\" }}"));
        section.note(refused, section.header.clone());
        return None;
    }
    Some(CaseWheelLoad {
        side,
        aft: aft.take().unwrap_or_default(),
        starboard: starboard.take().unwrap_or_default(),
        up: up.take().unwrap_or_default(),
        at,
    })
}
