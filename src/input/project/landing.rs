//! `[aircraft]` and `[landing]`.

use super::keys;
use super::section::{Found, Section, nearest, shown};
use crate::diagnostic::{Diagnostic, Location};
use std::sync::Arc;

use crate::model::{Aircraft, CaseId, Landing, Layout, Position, Severity};

/// Default wing lift during the impact. Source: 14 CFR 23.473(e), the most the rule allows.
const WING_LIFT: f64 = 2.0 / 3.0;
/// Default friction between tyre and ground. Source: 14 CFR 23.479(b).
const FRICTION: f64 = 0.8;
/// Default factor from limit to ultimate load. Source: 14 CFR 23.303, from memory.
const ULTIMATE_FACTOR: f64 = 1.5;
/// Default drag of a rut or long grass, in static wheel loads. chosen: common practice, no published rule.
const OBSTACLE_DRAG: f64 = 2.0;

/// Reads `[aircraft]`.
pub(super) fn aircraft(section: &Section<'_>) -> Option<Aircraft> {
    let name = section.needed_text(&keys::NAME);
    let mass = section.needed_quantity(&keys::MASS);
    let words = [("tricycle", Layout::Tricycle), ("tailwheel", Layout::Tailwheel)];
    let layout = section.needed_choice(&keys::LAYOUT, &words);
    let wing_area = section.quantity(&keys::WING_AREA).take();
    let nose_share = section.number(&keys::NOSE_SHARE).take();
    Some(Aircraft {
        name: name.take()?.to_owned(),
        mass: mass.take()?,
        layout: layout.take()?,
        wing_area,
        nose_share,
    })
}

/// Reads `[landing]`. The positions are those of the gears that could be read; `None` when some could not.
pub(super) fn landing(section: &Section<'_>, positions: Option<&[Position]>) -> Option<Landing> {
    let severity = severity(section);
    let wing_lift = section.number(&keys::WING_LIFT);
    let friction = section.number(&keys::FRICTION).take().unwrap_or(FRICTION);
    let ultimate_factor = section.number(&keys::ULTIMATE_FACTOR).take().unwrap_or(ULTIMATE_FACTOR);
    let obstacle_drag = section.number(&keys::OBSTACLE_DRAG).take().unwrap_or(OBSTACLE_DRAG);
    let cases = cases(section, &keys::CASES, positions);
    let lift = wing_lift.value().unwrap_or(WING_LIFT);
    if let Some((Severity::LoadFactor(n), span)) = severity.placed()
        && *n <= lift
    {
        let refused = Diagnostic::error(
            "contradiction",
            format!("a load factor of {n} with a wing lift of {lift} leaves nothing for the wheels to carry"),
        )
        .help("the wheels carry load_factor - wing_lift; raise the one or lower the other");
        section.note(refused, span);
    }
    let severity_at = severity.span().map(|span| Location { source: Arc::clone(section.cx.source), span });
    Some(Landing {
        severity: severity.take()?,
        severity_at,
        wing_lift: lift,
        friction,
        ultimate_factor,
        obstacle_drag,
        cases,
    })
}

/// One of the four ways to say how hard.
fn severity(section: &Section<'_>) -> Found<Severity> {
    let ways = [
        section.number(&keys::LOAD_FACTOR).and_then(|n, _| Some(Severity::LoadFactor(n))),
        section.quantity(&keys::SINK_RATE).and_then(|v, _| Some(Severity::SinkRate(v))),
        section.quantity(&keys::DROP_HEIGHT).and_then(|h, _| Some(Severity::DropHeight(h))),
        arrival(section),
    ];
    let mut given = ways.into_iter().filter(Found::given);
    let Some(first) = given.next() else {
        let missing = Diagnostic::error("missing-key", "[landing] does not say how hard the landing is")
            .help("add one of: load_factor = 3.5, sink_rate = \"1.6 m/s\", drop_height = \"130 mm\", arrival = \"firm\"");
        section.note(missing, section.header.clone());
        return Found::Absent;
    };
    let mut clash = false;
    for other in given {
        clash = true;
        if let Some(span) = other.span() {
            let refused = Diagnostic::error(
                "contradiction",
                "[landing] says how hard the landing is in more than one way",
            )
            .label("second way")
            .help("keep one of load_factor, sink_rate, drop_height and arrival");
            section.note(refused, span);
        }
    }
    match first.span() {
        Some(span) if clash => Found::Bad(span),
        _ => first,
    }
}

fn arrival(section: &Section<'_>) -> Found<Severity> {
    if section.text(&keys::ARRIVAL).given() {
        section
            .lookup(&keys::ARRIVAL, |library, name| library.arrival(name))
            .and_then(|row, _| Some(Severity::Arrival(row.clone())))
    } else {
        Found::Absent
    }
}

/// A list of landing cases under a key; `positions` are those of the gears that they may be of.
pub(super) fn cases(
    section: &Section<'_>,
    key: &keys::Key,
    positions: Option<&[Position]>,
) -> Option<Vec<CaseId>> {
    let (items, span) = section.list(key).placed().map(|(items, span)| (*items, span))?;
    if items.is_empty() {
        let refused =
            Diagnostic::error("empty-list", format!("`{}` is empty, so there is nothing to check", key.name))
                .help(format!("leave `{}` out for every case that applies", key.name));
        section.note(refused, span);
        return None;
    }
    let mut asked: Vec<CaseId> = Vec::new();
    for item in items {
        let Some((word, span)) = section.text_at(key, item).placed().map(|(word, span)| (*word, span)) else {
            continue;
        };
        let Some(case) = CaseId::from_id(word) else {
            let ids = || CaseId::ALL.into_iter().map(CaseId::id);
            let mut refused =
                Diagnostic::error("unknown-case", format!("no landing case is called \"{}\"", shown(word)));
            if let Some(near) = nearest(word, ids()) {
                refused = refused.label(format!("perhaps \"{near}\""));
            }
            let all: Vec<&str> = ids().collect();
            section.note(refused.help(format!("accepted: {}", all.join(", "))), span);
            continue;
        };
        if asked.contains(&case) {
            let refused =
                Diagnostic::error("duplicate-case", format!("the case \"{word}\" is asked for twice"));
            section.note(refused.help("keep one of the two"), span);
        } else if positions.is_some_and(|there| !there.iter().any(|p| loaded_by(case).contains(p))) {
            let needed: Vec<&str> = loaded_by(case).iter().map(|p| p.id()).collect();
            let needed = needed.join(" or ");
            let refused = Diagnostic::error(
                "no-such-gear",
                format!("the case \"{word}\" needs a {needed} gear, and the file has none"),
            )
            .help(format!("leave the case out, or add a gear with position = \"{}\"", first_of(case)));
            section.note(refused, span);
        }
        asked.push(case);
    }
    Some(asked)
}

/// The positions that a case loads.
const fn loaded_by(case: CaseId) -> &'static [Position] {
    match case {
        CaseId::Level => &[Position::Main, Position::Nose],
        CaseId::TailDown | CaseId::Side => &[Position::Main, Position::Tail],
        CaseId::OneWheel | CaseId::OneWheelWhole | CaseId::BrakedRoll => &[Position::Main],
        CaseId::NoseAft | CaseId::NoseForward | CaseId::NoseSide => &[Position::Nose],
        CaseId::Obstacle | CaseId::Rest => &[Position::Main, Position::Nose, Position::Tail],
    }
}

/// The word for the first of them.
fn first_of(case: CaseId) -> &'static str {
    loaded_by(case).first().map_or("main", |p| p.id())
}
