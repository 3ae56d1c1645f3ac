//! A mount whose values are each acceptable and don't fit its gear: the impossible is refused at its place.
//!
//! What is only doubtful about a mount is said by [`super::mount_doubts`].

use super::doubts::{Places, place};
use super::measure::{four_figures, millimetres};
use super::section::Section;
use super::tree::{Span, Value};
use crate::diagnostic::Diagnostic;
use crate::model::{
    AnchorIn, Arms, BasePlate, Brace, Gear, Mount, NUT_FACTOR, Preload, SpanDirection, WoodSpan,
};
use crate::units::{Length, Unit};

/// A mount with what it is judged against.
pub(super) struct Fit<'f, 'a> {
    pub(super) gear: &'f Gear,
    pub(super) mount: &'f Mount,
    pub(super) plate: BasePlate,
    pub(super) section: &'f Section<'a>,
    pub(super) plate_section: &'f Section<'a>,
}

/// Notes all that is impossible about a mount; what is left to doubt, when nothing was.
pub(super) fn check<'f, 'a>(
    gear: &'f Gear,
    mount: &'f Mount,
    section: &'f Section<'a>,
    places: &Places<'f, 'a>,
) -> Option<Fit<'f, 'a>> {
    let fit = Fit { gear, mount, plate: gear.base_plate()?, section, plate_section: places.plate };
    let flat = fit.has_flat();
    let one_side = fit.is_on_one_side();
    let whole = fit.is_left_whole();
    let mut checks = vec![
        flat,
        one_side,
        whole,
        !whole || fit.holes_lie_in_plate(one_side),
        fit.holes_lie_apart(),
        fit.nuts_sit_on_wood(),
        fit.preload_holds(),
    ];
    // The braces stand in step with their sections only when all of them could be read.
    if gear.braces.len() == places.braces.len() {
        let braces = gear.braces.iter().zip(places.braces);
        checks.extend(braces.map(|(brace, at)| fit.anchor_holds(brace, at, flat)));
    }
    checks.iter().all(|good| *good).then_some(fit)
}

/// Whether one length is more than another by more than rounding.
pub(super) fn exceeds(length: Length, limit: Length) -> bool {
    length - limit > 1e-9 * length.abs().max(limit.abs())
}

/// The distance between two places.
fn apart(a: (Length, Length), b: (Length, Length)) -> Length {
    let (x, y) = (a.0 - b.0, a.1 - b.1);
    (x * x + y * y).sqrt()
}

/// One of two words, for aft and starboard or the other way.
fn toward(at: Length, positive: &'static str, negative: &'static str) -> &'static str {
    if at >= Length::default() { positive } else { negative }
}

impl Fit<'_, '_> {
    /// Where a bolt's place stands in the file.
    pub(super) fn bolt_span(&self, index: usize) -> Span {
        let item = self.section.table.get("bolts").and_then(|entry| match &entry.node.value {
            Value::List(items) => items.get(index).map(|item| item.span.clone()),
            _ => None,
        });
        item.unwrap_or_else(|| place(self.section, "bolts"))
    }

    fn refuse(&self, refused: Diagnostic, span: Span) -> bool {
        self.section.note(refused, span);
        false
    }

    /// Refuses bends that take all of the flat.
    fn has_flat(&self) -> bool {
        let ([port, starboard], [from, to]) = (self.plate.reach, self.plate.flat);
        if exceeds(to, from) {
            return true;
        }
        if self.gear.arms == Arms::Single {
            let bend = (starboard - port) - (to - from);
            let refused = Diagnostic::error(
                "impossible",
                format!(
                    "the bend leaves nothing flat of the foot: it takes {} of its {}",
                    millimetres(bend),
                    millimetres(starboard - port)
                ),
            )
            .help("`foot` runs from the bend to the foot's edge: make it longer, or `bend_radius` smaller");
            return self.refuse(refused, place(self.section, "foot"));
        }
        let refused = Diagnostic::error(
            "impossible",
            format!(
                "the bends leave nothing flat between them: each takes {} of the base's {}",
                millimetres(from - port),
                millimetres(starboard - port)
            ),
        )
        .help("`bend_radius` is the inside radius, such as bend_radius = \"12 mm\"; a wider `base_width` parts the bends");
        self.plate_section.note(refused, place(self.plate_section, "bend_radius"));
        false
    }

    /// Refuses holes as wide as the plate.
    fn is_left_whole(&self) -> bool {
        let hole = self.mount.hole_diameter();
        if !exceeds(self.plate.width, hole) {
            let refused = Diagnostic::error(
                "impossible",
                format!(
                    "a bolt's hole of {} cuts the plate through, which is {} wide",
                    millimetres(hole),
                    millimetres(self.plate.width)
                ),
            )
            .help("choose a thinner bolt, or a wider `width_root`");
            let key = if self.mount.hole.is_some() { "hole" } else { "bolt" };
            return self.refuse(refused, place(self.section, key));
        }
        true
    }

    /// Refuses bolts of a single arm's foot that lie in its bend or on both sides of it.
    fn is_on_one_side(&self) -> bool {
        if self.gear.arms != Arms::Single {
            return true;
        }
        let half = 0.5 * self.mount.hole_diameter();
        let first = self.mount.bolts.iter().position(|(_, y)| exceeds(y.abs(), half));
        let side = first.and_then(|index| self.mount.bolts.get(index)).map(|(_, y)| *y).unwrap_or_default();
        let mut good = true;
        for (index, (_, y)) in self.mount.bolts.iter().enumerate() {
            let name = Mount::bolt_name(index);
            if !exceeds(y.abs(), half) {
                let refused = Diagnostic::error(
                    "impossible",
                    format!(
                        "the hole of bolt {name} lies in the foot's bend: its centre is {} from it",
                        millimetres(y.abs())
                    ),
                )
                .help(
                    "a foot begins at the bend, which is at 0: put every bolt well to one side of it, all of them to the same",
                );
                good = self.refuse(refused, self.bolt_span(index));
            } else if (*y > Length::default()) != (side > Length::default()) {
                let other = first.map(Mount::bolt_name).unwrap_or_default();
                let refused = Diagnostic::error(
                    "impossible",
                    format!(
                        "bolt {name} lies to {} of the arm and bolt {other} to {}, and a foot is bent to one side",
                        toward(*y, "starboard", "port"),
                        toward(side, "starboard", "port")
                    ),
                )
                .help("the second number of a place is starboard of the bend: give all of them the same sign");
                good = self.refuse(refused, self.bolt_span(index));
            }
        }
        good
    }

    /// Refuses holes that are not wholly inside the plate. Of a foot whose bolts lie on both sides, only fore and aft is judged.
    fn holes_lie_in_plate(&self, athwart: bool) -> bool {
        let hole = self.mount.hole_diameter();
        let half_width = 0.5 * self.plate.width;
        let [port, starboard] = self.plate.reach;
        let mut good = true;
        for (index, &(x, y)) in self.mount.bolts.iter().enumerate() {
            let mut out = Vec::new();
            let edge = x.abs() + 0.5 * hole;
            if exceeds(edge, half_width) {
                let side = toward(x, "aft", "forward");
                out.push(format!("{} beyond the plate's {side} edge", millimetres(edge - half_width)));
            }
            for (reaches, limit, side) in
                [(y + 0.5 * hole, starboard, "starboard"), (0.5 * hole - y, -port, "port")]
            {
                if athwart && exceeds(reaches, limit) {
                    let whose = if out.is_empty() { "the plate's" } else { "its" };
                    out.push(format!("{} beyond {whose} {side} end", millimetres(reaches - limit)));
                }
            }
            if !out.is_empty() {
                let mut refused = Diagnostic::error(
                    "impossible",
                    format!(
                        "the hole of bolt {} reaches {}",
                        Mount::bolt_name(index),
                        out.join(" and ")
                    ),
                )
                .help(format!(
                    "the plate reaches from {} to {} aft of the base's centre, and from {} to {} starboard of it; the hole is {} wide",
                    millimetres(-half_width),
                    millimetres(half_width),
                    millimetres(port),
                    millimetres(starboard),
                    millimetres(hole)
                ))
;
                let swapped = !exceeds(y.abs() + 0.5 * hole, half_width)
                    && !exceeds(x + 0.5 * hole, starboard)
                    && !exceeds(0.5 * hole - x, -port);
                if swapped {
                    refused = refused.help("a place is aft, then starboard: perhaps the two are swapped");
                }
                good = self.refuse(refused, self.bolt_span(index));
            }
        }
        good
    }

    /// Refuses holes that overlap or touch, and flanges that overlap.
    fn holes_lie_apart(&self) -> bool {
        let (hole, flange) = (self.mount.hole_diameter(), self.mount.nut_flange);
        let bolts = &self.mount.bolts;
        let mut good = true;
        for (index, &here) in bolts.iter().enumerate() {
            // One message for a bolt, about the nearest of those before it.
            let near = bolts.iter().take(index).map(|&there| apart(here, there)).enumerate();
            let Some((other, distance)) = near.reduce(|a, b| if b.1 < a.1 { b } else { a }) else { continue };
            let names = format!("bolts {} and {}", Mount::bolt_name(other), Mount::bolt_name(index));
            let refused = if !exceeds(distance, hole) {
                Diagnostic::error(
                    "impossible",
                    format!(
                        "the holes of {names} {}: their centres are {} apart, and each hole is {} wide",
                        if exceeds(hole, distance) { "overlap" } else { "touch" },
                        millimetres(distance),
                        millimetres(hole)
                    ),
                )
                .help("leave at least two holes' width between the centres of two bolts")
            } else if let Some(flange) = flange.filter(|flange| exceeds(*flange, distance)) {
                Diagnostic::error(
                    "impossible",
                    format!(
                        "the nuts of {names} overlap: their centres are {} apart, and each flange is {} wide",
                        millimetres(distance),
                        millimetres(flange)
                    ),
                )
                .help("move the bolts apart, or choose nuts with a smaller flange")
            } else {
                continue;
            };
            good = self.refuse(refused, self.bolt_span(index));
        }
        good
    }

    /// Refuses nuts that don't have wood all round them.
    fn nuts_sit_on_wood(&self) -> bool {
        let Some(span) = self.mount.span else { return true };
        let (length, breadth) = (Edges::along(&span), Edges::across(&span));
        let mut good = true;
        for edges in [Some(length), breadth].into_iter().flatten() {
            let wide = self.mount.nut_flange.filter(|flange| exceeds(*flange, edges.size));
            if let Some(flange) = wide {
                let refused = Diagnostic::error(
                    "impossible",
                    format!(
                        "the nut's flange of {} is wider than the wood, which is {} {}",
                        millimetres(flange),
                        millimetres(edges.size),
                        edges.words
                    ),
                )
                .help(format!("choose a nut with a smaller flange, or check `{}`", edges.key));
                good = self.refuse(refused, place(self.section, "nut_flange"));
            }
            let flange = if wide.is_some() { None } else { self.mount.nut_flange };
            for index in 0..self.mount.bolts.len() {
                good &= self.bolt_sits_on_wood(index, &edges, flange);
            }
        }
        good
    }

    fn bolt_sits_on_wood(&self, index: usize, edges: &Edges, flange: Option<Length>) -> bool {
        let Some(&(x, y)) = self.mount.bolts.get(index) else { return true };
        let at = if edges.fore_and_aft { x } else { y };
        let half = 0.5 * edges.size;
        let name = Mount::bolt_name(index);
        let hole = at.abs() + 0.5 * self.mount.hole_diameter();
        let nut = flange.map(|flange| at.abs() + 0.5 * flange);
        let (what, reaches) = match nut {
            _ if exceeds(hole, half) => (format!("the hole of bolt {name}"), hole),
            Some(nut) if exceeds(nut, half) => (format!("the nut of bolt {name}"), nut),
            _ => return true,
        };
        let side =
            if edges.fore_and_aft { toward(at, "aft", "forward") } else { toward(at, "starboard", "port") };
        let into = if edges.between_formers {
            format!("into the {side} former")
        } else {
            format!("beyond the wood's {side} edge")
        };
        let refused = Diagnostic::error(
            "impossible",
            format!("{what} reaches {} {into}", millimetres(reaches - half)),
        )
        .help(format!(
            "the wood is free for {} to each side of the base's centre: move the bolt inward, or check `{}`",
            millimetres(half),
            edges.key
        ));
        self.refuse(refused, self.bolt_span(index))
    }

    /// Refuses a preload that breaks the bolts.
    fn preload_holds(&self) -> bool {
        let (key, how) = match self.mount.preload {
            None => return true,
            Some(Preload::Force(_)) => ("preload", "preload"),
            Some(Preload::Torque(_)) => ("torque", "torque"),
        };
        let pull = self.mount.nominal_preload();
        let holds = self.mount.bolt_class.ultimate.value * self.mount.bolt.stress_area();
        if pull < holds {
            return true;
        }
        let mut refused = Diagnostic::error(
            "contradiction",
            format!(
                "the {how} alone breaks the bolts: it pulls with {}, and {} of class {} holds {}",
                four_figures(pull, Unit::Newton),
                self.mount.bolt.name,
                self.mount.bolt_class.name,
                four_figures(holds, Unit::Newton)
            ),
        );
        if key == "torque" {
            refused = refused.help(format!(
                "a torque T pulls with T / ({NUT_FACTOR} d) in a bolt of diameter d as it is supplied"
            ));
        }
        self.refuse(
            refused.help(format!("lower `{key}`, or choose a thicker bolt")),
            place(self.section, key),
        )
    }

    /// Refuses an anchor that is said to be in the plate and is not on its flat, and one that falls into a bolt's hole.
    fn anchor_holds(&self, brace: &Brace, at: &Section<'_>, flat: bool) -> bool {
        let anchors = self.gear.anchors(brace);
        let [from, to] = self.plate.flat;
        let beyond = |y: Length| (y - to).max(from - y);
        let out = anchors.iter().map(|&y| beyond(y)).fold(Length::default(), Length::max);
        if flat && brace.base_in == Some(AnchorIn::Plate) && exceeds(out, Length::default()) {
            let refused = Diagnostic::error(
                "contradiction",
                format!("the anchor is to be in the plate and lies {} beyond its flat", millimetres(out)),
            )
            .help(format!(
                "the plate is flat from {} to {} starboard of the centre line: move the anchor with `base_at`, or write base_in = \"wood\"",
                millimetres(from),
                millimetres(to)
            ));
            at.note(refused, place(at, "base_at"));
            return false;
        }
        let room = 0.5 * (self.mount.hole_diameter() + brace.diameter);
        let hit = self.mount.bolts.iter().enumerate().find_map(|(index, &bolt)| {
            let near = anchors.iter().map(|&y| apart((Length::default(), y), bolt));
            near.filter(|distance| !exceeds(*distance, room)).map(|distance| (index, distance)).next()
        });
        let Some((index, distance)) = hit else { return true };
        let refused = Diagnostic::error(
            "impossible",
            format!(
                "the wire's anchor falls into the hole of bolt {}: their centres are {} apart",
                Mount::bolt_name(index),
                millimetres(distance)
            ),
        )
        .help("anchors stand on the base's centre line: move them with `base_at`, or move the bolt");
        at.note(refused, place(at, "base_at"));
        false
    }
}

/// One of the two ways across the wood, its middle at the base's centre.
pub(super) struct Edges {
    pub(super) size: Length,
    pub(super) fore_and_aft: bool,
    /// Whether formers end it, and not its own edges.
    pub(super) between_formers: bool,
    pub(super) key: &'static str,
    words: &'static str,
}

impl Edges {
    /// Along the span.
    pub(super) fn along(span: &WoodSpan) -> Self {
        Self {
            size: span.length,
            fore_and_aft: span.direction == SpanDirection::ForeAndAft,
            between_formers: true,
            key: "wood_width",
            words: "long between its formers",
        }
    }

    /// Square to the span, when its breadth is known.
    pub(super) fn across(span: &WoodSpan) -> Option<Self> {
        Some(Self {
            size: span.breadth?,
            fore_and_aft: span.direction != SpanDirection::ForeAndAft,
            between_formers: false,
            key: "wood_breadth",
            words: "broad",
        })
    }
}
