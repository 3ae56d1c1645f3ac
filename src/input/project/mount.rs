//! `[gear.NAME.mount]`.

use super::gear::ArmsWord;
use super::keys;
use super::measure::millimetres;
use super::section::{Found, Section};
use super::tree::{Node, Value};
use crate::diagnostic::Diagnostic;
use crate::material::{BoltClass, Thread};
use crate::model::{Glue, Grain, Mount, Preload, SpanDirection, SpanEdges, WoodSpan};
use crate::units::{Area, Force, Length, Moment, Stress};

/// The most bolts that are read. chosen: far beyond any mount, so that a file of nonsense is refused quickly.
const MOST_BOLTS: usize = 100;

/// Reads the mount.
pub(super) fn mount(section: &Section<'_>, arms: Option<ArmsWord>) -> Option<Mount> {
    let bolt = section.lookup(&keys::BOLT, |library, name| library.thread(name));
    // The class row may depend on the thread; without a thread any row of the name will do to judge the name.
    let nominal = bolt.value().map(|thread| thread.nominal).unwrap_or_default();
    let bolt_class: Found<&BoltClass> =
        section.lookup(&keys::BOLT_CLASS, |library, name| library.bolt_class(name, nominal));
    let bolts = bolts(section);
    let hole = hole(section, bolt.value());
    let preload = preload(section);
    let nut_flange = nut_flange(section, bolt.value(), hole);
    let nut_height = section.quantity::<Length>(&keys::NUT_HEIGHT).take();
    let pull_through = section.quantity::<Force>(&keys::PULL_THROUGH).take();
    let foot = foot(section, arms);
    let wood = section.lookup(&keys::WOOD, |library, name| library.wood(name));
    let wood_thickness = section.needed_quantity::<Length>(&keys::WOOD_THICKNESS);
    let doubler = section.quantity::<Length>(&keys::DOUBLER).take();
    let span = wood_span(section);
    let glue = glue(section);
    Some(Mount {
        bolt: bolt.take()?.clone(),
        bolt_class: bolt_class.take()?.clone(),
        bolts: bolts?,
        hole,
        preload,
        nut_flange,
        nut_height,
        pull_through,
        foot: foot?,
        wood: wood.take()?.clone(),
        wood_thickness: wood_thickness.take()?,
        doubler,
        span,
        glue,
    })
}

/// The holes in the plate; refused when the bolt does not go through them.
fn hole(section: &Section<'_>, bolt: Option<&Thread>) -> Option<Length> {
    let hole = section.quantity::<Length>(&keys::HOLE);
    if section.is_sample() {
        // The bolt went in: the hole is no narrower.
        return hole.take().map(|hole| bolt.map_or(hole, |thread| hole.max(thread.nominal)));
    }
    if let (Some(thread), Some((hole, span))) = (bolt, hole.placed())
        && *hole < thread.nominal * (1.0 - 1e-6)
    {
        let refused = Diagnostic::error(
            "contradiction",
            format!(
                "the hole of {} is thinner than the bolt: {} is {} thick",
                millimetres(*hole),
                thread.name,
                millimetres(thread.nominal)
            ),
        )
        .help(
            "`hole` is the diameter drilled in the plate; left out, the bolts count as fitting without play",
        );
        section.note(refused, span);
        return None;
    }
    hole.take()
}

fn preload(section: &Section<'_>) -> Option<Preload> {
    let force = section.quantity::<Force>(&keys::PRELOAD);
    let torque = section.quantity::<Moment>(&keys::TORQUE);
    if let (true, Some(span)) = (force.given(), torque.span()) {
        let refused = Diagnostic::error("contradiction", "a bolt can't have `preload` and `torque` at once")
            .help("keep one: `preload` is the pull in each bolt, `torque` what its nut was tightened with");
        section.note(refused, span);
        return None;
    }
    force.take().map(Preload::Force).or_else(|| torque.take().map(Preload::Torque))
}

fn nut_flange(section: &Section<'_>, bolt: Option<&Thread>, hole: Option<Length>) -> Option<Length> {
    let flange = section.quantity::<Length>(&keys::NUT_FLANGE);
    let (Some(thread), Some((width, span))) = (bolt, flange.placed()) else { return flange.take() };
    let passes = if *width <= thread.nominal {
        Some("bolt".to_owned())
    } else {
        hole.filter(|hole| width <= hole)
            .map(|hole| format!("bolt's hole, which is {} wide", millimetres(hole)))
    };
    let Some(what) = passes else { return flange.take() };
    let refused =
        Diagnostic::error("contradiction", format!("the captive nut's flange is no wider than the {what}"))
            .help("`nut_flange` is the flange's outside diameter, such as nut_flange = \"12 mm\" for M5");
    section.note(refused, span);
    None
}

/// The foot's length: `Some(None)` for arms that have none.
#[expect(clippy::option_option, reason = "the outer one says whether it could be read")]
fn foot(section: &Section<'_>, arms: Option<ArmsWord>) -> Option<Option<Length>> {
    let foot = section.quantity::<Length>(&keys::FOOT);
    match arms {
        Some(ArmsWord::Single) => {
            if !foot.given() {
                let missing =
                    Diagnostic::error("missing-key", format!("`foot` is missing from {}", section.title))
                        .help("add a line such as foot = \"50 mm\": the flat end of the arm that is bolted down, from its bend to its edge");
                section.note(missing, section.header.clone());
            }
            foot.take().map(Some)
        }
        Some(ArmsWord::Pair | ArmsWord::Twin) => {
            if let Some(span) = foot.span() {
                let refused = Diagnostic::error("contradiction", "`foot` is for arms = \"single\" only")
                    .help("leave it out: the flat of a pair or a twin is as long as its `base_width`");
                section.note(refused, span);
            }
            Some(None)
        }
        None => Some(foot.take()),
    }
}

/// How the wood spans, with the keys that go with its free span.
fn wood_span(section: &Section<'_>) -> Option<WoodSpan> {
    let length = section.quantity::<Length>(&keys::WOOD_WIDTH);
    let directions = [("fore-and-aft", SpanDirection::ForeAndAft), ("athwart", SpanDirection::Athwart)];
    let direction = section.choice(&keys::WOOD_SPAN, &directions);
    let edges = section
        .choice(&keys::WOOD_EDGES, &[("supported", SpanEdges::Supported), ("clamped", SpanEdges::Clamped)]);
    let grain = section.choice(&keys::WOOD_GRAIN, &[("along", Grain::Along), ("across", Grain::Across)]);
    let breadth = section.quantity::<Length>(&keys::WOOD_BREADTH);
    if !length.given() {
        let given = [
            (&keys::WOOD_SPAN, direction.span(), "says which way the wood spans"),
            (&keys::WOOD_EDGES, edges.span(), "says how the formers hold the wood's ends"),
            (&keys::WOOD_GRAIN, grain.span(), "says how the grain runs to the span"),
            (&keys::WOOD_BREADTH, breadth.span(), "is the wood's width square to its span"),
        ];
        for (key, span, what) in given {
            let Some(span) = span else { continue };
            let refused = Diagnostic::error(
                "contradiction",
                format!("`{}` {what}, and no `wood_width` says how far it spans", key.name),
            )
            .help(
                "add a line such as wood_width = \"100 mm\": the free span of the wood between its formers",
            );
            section.note(refused, span);
        }
    }
    Some(WoodSpan {
        length: length.take()?,
        direction: direction.take().unwrap_or(SpanDirection::ForeAndAft),
        edges: edges.take().unwrap_or(SpanEdges::Supported),
        grain: grain.take(),
        breadth: breadth.take(),
    })
}

/// The glue line: both of its keys, or neither.
fn glue(section: &Section<'_>) -> Option<Glue> {
    let area = section.quantity::<Area>(&keys::GLUE_AREA);
    let strength = section.quantity::<Stress>(&keys::GLUE_STRENGTH);
    let half = match (area.span(), strength.span()) {
        (Some(span), None) => Some((span, &keys::GLUE_STRENGTH)),
        (None, Some(span)) => Some((span, &keys::GLUE_AREA)),
        _ => None,
    };
    if let Some((span, other)) = half {
        let missing =
            Diagnostic::error("missing-key", format!("`{}` is missing from {}", other.name, section.title))
                .label("one half of the glue line only")
                .help(format!("add a line such as {} = {}", other.name, other.example))
                .help("without both the glue is left unchecked, and the report says so");
        section.note(missing, span);
    }
    Some(Glue { area: area.take()?, strength: strength.take()? })
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
    if items.len() > MOST_BOLTS {
        let refused = Diagnostic::error(
            "out-of-range",
            format!("`bolts` lists {} bolts, more than the {MOST_BOLTS} accepted here", items.len()),
        )
        .help("each place is a bolt of its own: give the bolts of this gear's mount only");
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
