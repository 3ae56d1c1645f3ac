//! `[[gear.NAME.brace]]`.

use super::gear::ArmsWord;
use super::keys;
use super::measure::{four_figures, millimetres};
use super::own::OwnWires;
use super::section::{Found, Section, shown};
use super::tree::Span;
use crate::diagnostic::Diagnostic;
use crate::material::{PowerBand, Sourced, Thread, Wire, WireEnd, WireForm, WireStrength};
use crate::model::{AnchorIn, Brace, Pattern, WireFit};
use crate::units::{Force, Length, Unit};

/// Reads one brace of a gear that has a mount or not.
pub(super) fn brace(
    section: &Section<'_>,
    arms: Option<ArmsWord>,
    wires: &OwnWires,
    mounted: bool,
) -> Option<Brace> {
    let pattern = pattern(section, arms);
    let mut wire = wire(section, wires);
    let diameter = section.needed_quantity::<Length>(&keys::DIAMETER_WIRE);
    let listed = section.as_written::<Length>(&keys::DIAMETER_WIRE);
    let leg_at = section.needed(&keys::LEG_AT, section.number(&keys::LEG_AT));
    let base_at = base_at(section, pattern.value());
    let base_in = base_in(section, pattern.value(), mounted);
    let end = section.lookup(&keys::END, |library, name| library.wire_end(name));
    let fit = fit(section);
    let mut holds = None;
    if let (true, Some(diameter), Some(listed)) = (section.is_sample(), diameter.value(), listed) {
        wire = wire.and_then(|wire, _| Some(as_bought(wire, listed, diameter)));
    }
    if let (Some((wire, _)), Some((diameter, span))) = (wire.placed(), diameter.placed()) {
        let breaking = breaking_load(section, wire, *diameter, span.clone());
        if let Some((end, place)) = end.placed() {
            end_suits(section, wire, end, place);
        }
        if let Some((end, _)) = end.placed()
            && let Some((mut share, thread)) = end_share(section, end, listed.unwrap_or(*diameter), span)
        {
            if thread.is_some()
                && let Some(listed) = listed
            {
                // The die cuts the same thread on a thinner wire.
                let wider = f64::from(listed / *diameter);
                share.value = share.value * wider * wider;
            }
            if let (Some(breaking), Some((WireFit::Pretension(tension), place))) = (breaking, fit.placed()) {
                pretension_holds(section, *tension, share.value * breaking, place);
            }
            holds = Some((share, thread));
        }
    }
    let (end_holds, thread) = holds?;
    Some(Brace {
        pattern: pattern.take()?,
        wire: wire.take()?,
        diameter: diameter.take()?,
        leg_at: leg_at.take()?,
        base_at: base_at?,
        base_in,
        end: end.take()?.clone(),
        end_holds,
        thread,
        fit: fit.take()?,
    })
}

/// Whether the brace is there: a word in its section can leave it out.
pub(super) fn is_fitted(section: &Section<'_>) -> bool {
    section.choice(&keys::FITTED, &[("yes", true), ("no", false)]).value() != Some(false)
}

fn pattern(section: &Section<'_>, arms: Option<ArmsWord>) -> Found<Pattern> {
    let words = [("cross", Pattern::Cross), ("near", Pattern::Near), ("tie", Pattern::Tie)];
    section.needed_choice(&keys::PATTERN, &words).and_then(|pattern, span| {
        if pattern == Pattern::Tie && arms == Some(ArmsWord::Single) {
            let refused = Diagnostic::error(
                "contradiction",
                "a tie runs from leg to leg, and a single arm has no other leg",
            )
            .help("write pattern = \"near\" or pattern = \"cross\"");
            section.note(refused, span);
            return None;
        }
        Some(pattern)
    })
}

fn wire(section: &Section<'_>, wires: &OwnWires) -> Found<Wire> {
    let text = section.text(&keys::WIRE);
    match text.value() {
        Some(name) if wires.has(name) => text.and_then(|name, _| wires.get(name).cloned()),
        Some(name) => {
            let known = section.cx.library.wire(name).is_ok();
            let found = section.lookup(&keys::WIRE, |library, name| library.wire(name));
            if !known {
                wires.hint(section, name, found.span());
            }
            found.and_then(|row, _| Some(row.clone()))
        }
        None => match section.needed(&keys::WIRE, text) {
            Found::Absent => Found::Absent,
            other => Found::Bad(other.span().unwrap_or_default()),
        },
    }
}

/// The anchor's place: `Some(None)` for a tie.
#[expect(clippy::option_option, reason = "the outer one says whether it could be read")]
fn base_at(section: &Section<'_>, pattern: Option<Pattern>) -> Option<Option<Length>> {
    let base_at = section.quantity::<Length>(&keys::BASE_AT);
    match pattern {
        Some(Pattern::Tie) => {
            if let Some(span) = base_at.span() {
                let refused =
                    Diagnostic::error("contradiction", "a tie runs from leg to leg and has no `base_at`")
                        .help("leave it out, or write pattern = \"cross\" or pattern = \"near\"");
                section.note(refused, span);
            }
            Some(None)
        }
        Some(Pattern::Cross | Pattern::Near) => section.needed(&keys::BASE_AT, base_at).take().map(Some),
        None => None,
    }
}

/// What the anchors are in. A tie has none; without a mount the word changes nothing.
fn base_in(section: &Section<'_>, pattern: Option<Pattern>, mounted: bool) -> Option<AnchorIn> {
    let words = [("plate", AnchorIn::Plate), ("wood", AnchorIn::Wood)];
    let base_in = section.choice(&keys::BASE_IN, &words);
    let span = base_in.span()?;
    if pattern == Some(Pattern::Tie) {
        let refused = Diagnostic::error("contradiction", "a tie runs from leg to leg and has no `base_in`")
            .help("leave it out, or write pattern = \"cross\" or pattern = \"near\"");
        section.note(refused, span);
        return None;
    }
    if !mounted && base_in.value().is_some() {
        let gear = shown(section.path.rsplitn(3, '.').nth(2).unwrap_or_default());
        let doubt = Diagnostic::warning("doubtful", format!("`base_in` is not used: [{gear}] has no mount"))
            .help(format!("describe bolts and wood in a section [{gear}.mount], or leave `base_in` out"));
        section.note(doubt, span);
    }
    base_in.take()
}

fn fit(section: &Section<'_>) -> Found<WireFit> {
    let pretension = section.quantity::<Force>(&keys::PRETENSION);
    let slack = section.quantity::<Length>(&keys::SLACK);
    match (pretension.span(), slack.span()) {
        (Some(_), Some(span)) => {
            let refused =
                Diagnostic::error("contradiction", "a wire can't have `pretension` and `slack` at once")
                    .help("keep one; without either the wire is neither tight nor loose");
            section.note(refused, span.clone());
            Found::Bad(span)
        }
        (Some(_), None) => pretension.and_then(|tension, _| Some(WireFit::Pretension(tension))),
        (None, Some(_)) => slack.and_then(|length, _| Some(WireFit::Slack(length))),
        (None, None) => Found::Good(WireFit::Snug, section.header.clone()),
    }
}

fn breaking_load(section: &Section<'_>, wire: &Wire, diameter: Length, span: Span) -> Option<Force> {
    match wire.breaking_load(diameter) {
        Ok(load) => Some(load.value),
        Err(range) => {
            let listed = if range.sizes.is_empty() {
                format!("listed: {} to {}", millimetres(range.listed.0), millimetres(range.listed.1))
            } else {
                let sizes: Vec<String> = range.sizes.iter().map(|size| millimetres(*size)).collect();
                format!("listed: {}", sizes.join(", "))
            };
            let refused = Diagnostic::error(
                "not-listed",
                format!("{} is not listed in {} diameter", wire.name, millimetres(diameter)),
            )
            .help(listed)
            .help("for another size describe the wire yourself in a section [wire.NAME]");
            section.note(refused, span);
            None
        }
    }
}

/// The wire that was bought by its listed size, whatever its diameter turns out to be: in the band of that size, or with the
/// breaking load that is listed for it.
fn as_bought(mut wire: Wire, listed: Length, diameter: Length) -> Wire {
    match &mut wire.strength {
        WireStrength::PowerLaw(bands) => {
            let slack = 1e-9 * listed;
            let found = bands.iter().find(|b| listed >= b.from - slack && listed <= b.up_to + slack).cloned();
            *bands = found
                .map(|band| PowerBand { from: Length::default(), up_to: f64::INFINITY * listed, ..band })
                .into_iter()
                .collect();
        }
        WireStrength::Sizes(sizes) => {
            sizes.retain(|(size, _)| (*size - listed).abs() <= 0.01 * *size);
            for (size, _) in sizes {
                *size = diameter;
            }
        }
        WireStrength::Constant(_) => {}
    }
    wire
}

/// Warns of an end whose efficiency is for another kind of wire.
fn end_suits(section: &Section<'_>, wire: &Wire, end: &WireEnd, span: Span) {
    let (Some(form), Some(suits)) = (wire.form(), end.suits) else { return };
    if form == suits {
        return;
    }
    let (made, meant) = match form {
        WireForm::Solid => ("a solid wire", "cable"),
        WireForm::Cable => ("a cable", "solid wire"),
    };
    let doubt = Diagnostic::warning(
        "doubtful",
        format!("{} is {made}, and what a {} end holds is known for {meant} only", wire.name, end.name),
    )
    .help("`gearleg tables wire-ends` says what each end is; pull one to its load before you trust it");
    section.note(doubt, span);
}

/// The share of the breaking load that the end holds and its thread, if any; refused when no thread fits.
fn end_share(
    section: &Section<'_>,
    end: &WireEnd,
    diameter: Length,
    span: Span,
) -> Option<(Sourced<f64>, Option<Thread>)> {
    if let Some((share, thread)) = end.efficiency(diameter, &section.cx.library.threads) {
        return Some((share, thread.cloned()));
    }
    let refused = Diagnostic::error(
        "not-listed",
        format!("no thread of the table can be cut on a wire of {}", millimetres(diameter)),
    )
    .help("choose a diameter near a thread's, such as \"2 mm\" for M2, or another end (`gearleg tables wire-ends`)");
    section.note(refused, span);
    None
}

/// Refuses a pretension that pulls the wire off before any landing; warns above half of that.
fn pretension_holds(section: &Section<'_>, tension: Force, holds: Force, span: Span) {
    let figures = format!(
        "{} against the {} that the wire holds at its ends",
        four_figures(tension, Unit::Newton),
        four_figures(holds, Unit::Newton)
    );
    if tension >= holds {
        let refused =
            Diagnostic::error("contradiction", format!("the pretension alone breaks the wire: {figures}"))
                .help("lower `pretension`, or choose a thicker wire");
        section.note(refused, span);
    } else if tension > 0.5 * holds {
        let doubt = Diagnostic::warning(
            "doubtful",
            format!("the pretension is more than half the wire's strength: {figures}"),
        )
        .help("little is left for the landing; a few per cent keeps a wire from hanging loose");
        section.note(doubt, span);
    }
}
