//! `[gear.NAME.mount]`.

use super::keys;
use super::section::{Found, Section};
use super::tree::{Node, Value};
use crate::diagnostic::Diagnostic;
use crate::material::BoltClass;
use crate::model::{Mount, SpanDirection, SpanEdges, WoodSpan};
use crate::units::Length;

/// Reads the mount.
pub(super) fn mount(section: &Section<'_>) -> Option<Mount> {
    let bolt = section.lookup(&keys::BOLT, |library, name| library.thread(name));
    // The class row may depend on the thread; without a thread any row of the name will do to judge the name.
    let nominal = bolt.value().map(|thread| thread.nominal).unwrap_or_default();
    let bolt_class: Found<&BoltClass> =
        section.lookup(&keys::BOLT_CLASS, |library, name| library.bolt_class(name, nominal));
    let bolts = bolts(section);
    let nut_flange = section.quantity::<Length>(&keys::NUT_FLANGE);
    let wood = section.lookup(&keys::WOOD, |library, name| library.wood(name));
    let wood_thickness = section.needed_quantity::<Length>(&keys::WOOD_THICKNESS);
    let wood_width = section.quantity::<Length>(&keys::WOOD_WIDTH).take();
    if let (Some(thread), Some((flange, span))) = (bolt.value(), nut_flange.placed())
        && *flange <= thread.nominal
    {
        let refused =
            Diagnostic::error("contradiction", "the captive nut's flange is no wider than the bolt")
                .help("`nut_flange` is the flange's outside diameter, such as nut_flange = \"12 mm\" for M5");
        section.note(refused, span);
    }
    Some(Mount {
        bolt: bolt.take()?.clone(),
        bolt_class: bolt_class.take()?.clone(),
        bolts: bolts?,
        hole: None,
        preload: None,
        nut_flange: nut_flange.take(),
        nut_height: None,
        pull_through: None,
        foot: None,
        wood: wood.take()?.clone(),
        wood_thickness: wood_thickness.take()?,
        doubler: None,
        span: wood_width.map(|length| WoodSpan {
            length,
            direction: SpanDirection::ForeAndAft,
            edges: SpanEdges::Supported,
            grain: None,
            breadth: None,
        }),
        glue: None,
    })
}

fn bolts(section: &Section<'_>) -> Option<Vec<(Length, Length)>> {
    let (items, span) =
        section.needed(&keys::BOLTS, section.list(&keys::BOLTS)).placed().map(|(i, s)| (*i, s))?;
    if items.is_empty() {
        let refused = Diagnostic::error("empty-list", "`bolts` is empty, so nothing holds the gear")
            .help(format!("give each bolt's place, as in bolts = {}", keys::BOLTS.example));
        section.note(refused, span);
        return None;
    }
    let mut places: Vec<(Length, Length)> = Vec::new();
    let mut good = true;
    for (index, item) in items.iter().enumerate() {
        match place(section, item, index + 1) {
            Some(at) if places.contains(&at) => {
                let refused = Diagnostic::error("duplicate-bolt", "two bolts are in the same place")
                    .label("second time")
                    .help("the first number of a place is aft of the base's centre, the second to starboard");
                section.note(refused, item.span.clone());
                good = false;
            }
            Some(at) => places.push(at),
            None => good = false,
        }
    }
    good.then_some(places)
}

fn place(section: &Section<'_>, item: &Node, number: usize) -> Option<(Length, Length)> {
    let Value::List(pair) = &item.value else {
        return refuse_place(section, item);
    };
    let [aft, starboard] = pair.as_slice() else {
        return refuse_place(section, item);
    };
    let dotted = |word: &str| format!("{}.{number}.{word}", section.dotted("bolts"));
    let aft = section.quantity_at::<Length>(&keys::BOLT_PLACE, &dotted("aft"), aft);
    let starboard = section.quantity_at::<Length>(&keys::BOLT_PLACE, &dotted("starboard"), starboard);
    Some((aft.take()?, starboard.take()?))
}

fn refuse_place(section: &Section<'_>, item: &Node) -> Option<(Length, Length)> {
    let refused = Diagnostic::error("wrong-type", "a bolt's place is a list of two lengths")
        .help("first aft, then starboard of the base's centre, as in [\"-20 mm\", \"45 mm\"]");
    section.note(refused, item.span.clone());
    None
}
