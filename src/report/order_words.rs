//! What gives first, in words: parts that give together, and what it means for the builder.

use super::drop_view::height;
use super::figure::{UnitChoice, list_and, significant};
use crate::model::{Arms, Gear, PartKind};
use crate::results::{FailureOrder, PartFailure, TOGETHER};
use crate::units::Length;
use uom::si::length::micrometer;

/// Parts that reach the strength of the same check together.
pub(super) struct Together<'r> {
    parts: Vec<&'r str>,
    /// The first of them.
    pub(super) first: &'r PartFailure,
}

impl Together<'_> {
    /// What happens: "left and right leg stay bent".
    pub(super) fn event(&self) -> String {
        let (subject, many) = subject(&self.parts);
        if many {
            format!("{subject} {}", plural(self.first.words))
        } else {
            format!("{subject} {}", self.first.words)
        }
    }

    /// The same with its multiple: "bolt 1 breaks at 1.31".
    pub(super) fn event_at(&self) -> String {
        format!("{} at {}", self.event(), multiple(self.first.multiple))
    }
}

/// The failures of an order, those of the same check at the same multiple put together.
pub(super) fn together(order: &FailureOrder) -> Vec<Together<'_>> {
    let mut groups: Vec<Together<'_>> = Vec::new();
    for failure in &order.failures {
        let alike = |g: &&mut Together<'_>| {
            let first = g.first;
            first.check == failure.check && failure.multiple - first.multiple <= TOGETHER * first.multiple
        };
        match groups.iter_mut().find(alike) {
            Some(group) => group.parts.push(&failure.part),
            None => groups.push(Together { parts: vec![&failure.part], first: failure }),
        }
    }
    groups
}

/// A multiple of the limit loads.
pub(super) fn multiple(value: f64) -> String {
    significant(value, 3)
}

/// The multiple up to which a landing was followed, without idle noughts.
pub(super) fn followed(order: &FailureOrder) -> String {
    let text = multiple(order.limit.multiple);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// Whether a drop is none: the aircraft let go with its wheels on the ground makes that g.
pub(super) fn is_none(drop: Length) -> bool {
    drop < Length::new::<micrometer>(1.0)
}

/// The landing at which a part gives, beside its multiple: " (4.5 g, a drop of 120 mm)"; nothing where neither is told.
pub(super) fn landing_of(failure: &PartFailure, units: &UnitChoice) -> String {
    let g = failure.inertia_load_factor.map(|n| format!("{} g", significant(n, 3)));
    let drop = failure.drop_height.map(|h| {
        if is_none(h) { "no drop at all".to_owned() } else { format!("a drop of {}", height(units, h)) }
    });
    let both: Vec<String> = [g, drop].into_iter().flatten().collect();
    if both.is_empty() { String::new() } else { format!(" ({})", both.join(", ")) }
}

/// The names of parts in a row, as short as they go: "bolts 1 and 2".
pub(super) fn parts_words(parts: &[&str]) -> String {
    subject(parts).0
}

/// The names of parts as the subject of a sentence, and whether it is plural: "bolts 1 and 2", "left and right leg", "wood at bolts
/// 1 and 2".
fn subject(parts: &[&str]) -> (String, bool) {
    let [first, _, ..] = parts else { return (list_and(parts), false) };
    let split: Vec<(&str, &str)> = parts.iter().filter_map(|p| p.rsplit_once(' ')).collect();
    let prefix = split.first().map_or("", |s| s.0);
    let numbers = |(before, last): &(&str, &str)| *before == prefix && last.parse::<u32>().is_ok();
    if split.len() == parts.len() && split.iter().all(numbers) {
        let all: Vec<&str> = split.iter().map(|s| s.1).collect();
        // "Wood at bolt 1": it is the wood, of which there is one.
        return (format!("{prefix}s {}", list_and(&all)), !prefix.contains(" at "));
    }
    let heads: Vec<(&str, &str)> = parts.iter().filter_map(|p| p.split_once(" at ")).collect();
    let head = heads.first().map_or("", |s| s.0);
    if heads.len() == parts.len() && heads.iter().all(|s| s.0 == head) {
        let places: Vec<String> = heads.iter().map(|s| format!("at {}", s.1)).collect();
        let places: Vec<&str> = places.iter().map(String::as_str).collect();
        return (format!("{head} {}", list_and(&places)), false);
    }
    let tail = first.split_once(' ').map_or("", |s| s.1);
    let heads: Vec<&str> =
        parts.iter().filter_map(|p| p.split_once(' ').filter(|s| s.1 == tail).map(|s| s.0)).collect();
    if heads.len() == parts.len() {
        return (format!("{} {tail}", list_and(&heads)), true);
    }
    (list_and(parts), true)
}

/// What several parts do, from what one does: "stays bent" to "stay bent", "strips its thread" to "strip their threads".
fn plural(words: &str) -> String {
    let (verb, rest) = words.split_once(' ').unwrap_or((words, ""));
    let verb = if verb == "is" { "are" } else { verb.strip_suffix('s').unwrap_or(verb) };
    let mut out = verb.to_owned();
    let mut after_its = false;
    let mut left = rest.split_whitespace().peekable();
    while let Some(word) = left.next() {
        out.push(' ');
        if word == "its" {
            out.push_str("their");
        } else {
            out.push_str(word);
            // "Its bolt holes" has its plural already.
            if after_its && left.peek().is_none_or(|next| !next.ends_with('s')) && !word.ends_with('s') {
                out.push('s');
            }
        }
        after_its = word == "its";
    }
    out
}

/// A kind of part as the builder calls it, several of them.
pub(super) const fn kind_words(kind: Option<PartKind>) -> &'static str {
    match kind {
        Some(PartKind::Legs) => "the legs",
        Some(PartKind::Wires) => "the wires",
        Some(PartKind::Axles) => "the axles",
        Some(PartKind::Bolts) => "the bolts",
        Some(PartKind::Nuts) => "the nuts",
        Some(PartKind::Wood) => "the wood",
        None => "the gear as a whole",
    }
}

/// Whether a part of the mount gives: bolt, nut or wood.
pub(super) const fn is_of_mount(kind: Option<PartKind>) -> bool {
    matches!(kind, Some(PartKind::Bolts | PartKind::Nuts | PartKind::Wood))
}

/// What it means that this part gives first.
pub(super) fn meaning(gear: &Gear, first: &PartFailure) -> String {
    let one = matches!(gear.arms, Arms::Single);
    meaning_of(one, gear.plate.yield_strength().is_some(), first.kind, first.check, first.words)
}

/// The same of a gear with one leg or more, the legs' yield strength known or not: legs that nobody knows may have bent long before.
fn meaning_of(one: bool, known: bool, kind: Option<PartKind>, check: &str, words: &str) -> String {
    let (legs, bend, does, they) =
        if one { ("the leg", "bends", "does", "it is") } else { ("the legs", "bend", "do", "they are") };
    let before = if known { format!(" before {legs} {bend}") } else { String::new() };
    let bends = if known { format!("bends before {legs} {does}") } else { "bends".to_owned() };
    let for_good = words.starts_with("stays");
    let fuselage = "the mount goes first, and the repair is in the fuselage";
    match (kind, check) {
        (Some(PartKind::Legs), "leg-yield") => {
            format!("{legs} {bend} before anything breaks: {they} the fuse")
        }
        (Some(PartKind::Legs), _) if for_good => {
            format!("the flat centre of the plate {bends}: it no longer lies flat on the wood afterwards")
        }
        (Some(PartKind::Legs), _) => format!("the plate tears at a hole{before}"),
        (Some(PartKind::Wires), _) if for_good => {
            format!("the wires stretch for good{before}: they hang looser afterwards and hold less")
        }
        (Some(PartKind::Wires), _) => {
            format!("a wire lets go{before}: from there on {legs} must carry what it took")
        }
        (Some(PartKind::Axles), _) if words.starts_with("bends") => {
            format!("the axle {bends}: the wheel leans afterwards")
        }
        (Some(PartKind::Axles), _) => format!("the axle goes{before}: the wheel comes off"),
        (Some(PartKind::Bolts), "mount-turn") => {
            format!("the plate turns about its one bolt{before}: only friction held it")
        }
        (Some(PartKind::Bolts), _) if for_good => {
            format!("the bolts stretch for good{before}: the joint is loose afterwards")
        }
        (Some(PartKind::Bolts), _) => {
            format!("the bolts let go{before}: the gear comes off the fuselage")
        }
        (Some(PartKind::Nuts), "thread-strips") => {
            format!("a nut strips its thread{before}: the mount goes first")
        }
        (Some(PartKind::Nuts), _) => format!("a nut pulls through the wood{before}: {fuselage}"),
        (Some(PartKind::Wood), "glue-line") => format!("the wood comes off its former{before}: {fuselage}"),
        (Some(PartKind::Wood), "wood-bending" | "wood-shear") => {
            format!("the wood breaks between its formers{before}: {fuselage}")
        }
        (Some(PartKind::Wood), _) => format!("the plate tears out of the wood{before}: {fuselage}"),
        (None, _) => "it gives way as a whole before any part of it reaches its own strength".to_owned(),
    }
}

/// What the builder's own wish makes of it; nothing when the file has none for this landing.
pub(super) fn wish(gear: &Gear, order: &FailureOrder, first: &PartFailure) -> String {
    match gear.meant_to_give(order.case.known()) {
        Some(meant) if first.kind == Some(meant) => " The file means it so.".to_owned(),
        Some(meant) => format!(" The file means {} to give first.", kind_words(Some(meant))),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::{CHECKS, find};

    #[test]
    fn whatever_gives_first_is_put_into_words() {
        let mut said: Vec<String> = Vec::new();
        for check in CHECKS.iter().filter(|c| c.fails.is_some()) {
            let of = |one, known| meaning_of(one, known, check.fails, check.id, check.words);
            let (many, one, unknown) = (of(false, true), of(true, true), of(false, false));
            let before = ["before the legs bend", "before the legs do", "before anything breaks"];
            assert!(before.iter().any(|b| many.contains(b)), "{}: {many}", check.id);
            assert!(!one.contains("legs"), "{}: {one}", check.id);
            // Nobody knows what came before.
            assert!(check.id == "leg-yield" || !unknown.contains("before"), "{}: {unknown}", check.id);
            if !said.contains(&many) {
                said.push(many);
            }
        }
        assert!(said.len() >= 14, "{said:?}");
        // A renamed check would lose its own sentence.
        for id in ["leg-yield", "mount-turn", "thread-strips", "glue-line", "wood-bending", "wood-shear"] {
            assert!(find(id).is_some(), "{id}");
        }
    }

    #[test]
    fn parts_that_give_together_are_told_in_one_breath() {
        for (parts, words, expected) in [
            (&["left leg"][..], "stays bent", "left leg stays bent"),
            (&["left leg", "right leg"], "stays bent", "left and right leg stay bent"),
            (&["bolt 1", "bolt 2", "bolt 3"], "strips its thread", "bolts 1, 2 and 3 strip their threads"),
            (
                &["bolt 1", "bolt 4"],
                "pulls its nut through the wood",
                "bolts 1 and 4 pull their nuts through the wood",
            ),
            (
                &["wood at bolt 1", "wood at bolt 2"],
                "is torn sideways",
                "wood at bolts 1 and 2 is torn sideways",
            ),
            (
                &["flat centre at bolts 1, 2", "flat centre at bolts 3, 4"],
                "breaks through its bolt holes",
                "flat centre at bolts 1, 2 and at bolts 3, 4 breaks through its bolt holes",
            ),
            (
                &["port end of the wood", "starboard end of the wood"],
                "comes off its former",
                "port and starboard end of the wood come off their formers",
            ),
            (&["left wire end", "right wire end"], "lets go", "left and right wire end let go"),
            (&["left arm", "fork"], "is dented", "left arm and fork are dented"),
        ] {
            let (subject, many) = subject(parts);
            let does = if many { plural(words) } else { words.to_owned() };
            assert_eq!(format!("{subject} {does}"), expected);
        }
        assert_eq!(plural("breaks through its bolt holes"), "break through their bolt holes");
    }
}
