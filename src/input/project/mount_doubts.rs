//! What is possible and doubtful about a mount.

use super::doubts::place;
use super::measure::millimetres;
use super::mount_fit::{Edges, Fit, exceeds};
use super::section::Section;
use crate::diagnostic::Diagnostic;
use crate::model::{AnchorIn, Arms, Brace, Mount, Side};
use crate::units::Length;

/// The least distance from a hole's centre to the plate's edge, in hole diameters. Source: EN 1993-1-8 table 3.3, from memory.
const EDGE_HOLES: f64 = 1.2;

/// Half of a bolt's head or washer, in bolt diameters. Source: hexagon heads are about 1.5 d across their flats, common practice.
const HALF_HEAD: f64 = 0.75;

/// Bolts that a message names one by one.
const MOST_NAMED: usize = 6;

/// Notes all that is doubtful about a mount in which nothing is impossible; `braces` with their sections when all could be read.
pub(super) fn check(fit: &Fit<'_, '_>, braces: &[Section<'_>]) {
    fit.one_bolt();
    fit.in_bend();
    fit.near_edge();
    fit.creeps();
    fit.left_out();
    fit.over_the_wood();
    if fit.gear.braces.len() == braces.len() {
        for (brace, section) in fit.gear.braces.iter().zip(braces) {
            fit.anchor(brace, section);
        }
    }
}

/// `bolt 1`, `bolts 1 and 3`.
fn names(bolts: &[usize]) -> String {
    let mut all: Vec<String> = bolts.iter().take(MOST_NAMED).map(|index| Mount::bolt_name(*index)).collect();
    if bolts.len() > MOST_NAMED {
        all.push(format!("{} more", bolts.len() - MOST_NAMED));
    }
    match all.split_last() {
        Some((only, [])) => format!("bolt {only}"),
        Some((last, rest)) => format!("bolts {} and {last}", rest.join(", ")),
        None => String::new(),
    }
}

impl Fit<'_, '_> {
    fn doubt(&self, doubt: Diagnostic, key: &str) {
        self.section.note(doubt, place(self.section, key));
    }

    fn one_bolt(&self) {
        if self.mount.bolts.len() == 1 {
            let doubt = Diagnostic::warning(
                "doubtful",
                "one bolt holds the plate, and only friction keeps it from turning about that bolt",
            )
            .help("it is worked out as it is, and what friction has to hold is said; a second bolt would hold it");
            self.doubt(doubt, "bolts");
        }
    }

    /// Bolts whose heads do not lie on the flat.
    fn in_bend(&self) {
        let [from, to] = self.plate.flat;
        let head = HALF_HEAD * self.mount.bolt.nominal;
        // A foot has a bend at one end only.
        let (port, starboard) = match self.gear.arms {
            Arms::Single => (self.gear.foot_side() == Side::Right, self.gear.foot_side() == Side::Left),
            Arms::Pair { .. } | Arms::Twin { .. } => (true, true),
        };
        let out = |y: Length| (port && exceeds(from, y - head)) || (starboard && exceeds(y + head, to));
        let bolts = self.bolts(|(_, y)| out(y));
        let Some(&first) = bolts.first() else { return };
        let doubt = Diagnostic::warning(
            "doubtful",
            format!("the heads of {} reach into the bend", names(&bolts)),
        )
        .help(format!(
            "the plate is flat from {} to {} starboard of the base's centre, and half a head takes about {}",
            millimetres(from),
            millimetres(to),
            millimetres(head)
        ))
        .help("a head on a curve bends its bolt: move the bolts inward, or lay a shaped block under it");
        self.section.note(doubt, self.bolt_span(first));
    }

    /// Bolts so near the edge that the plate tears out before it bears.
    fn near_edge(&self) {
        let least = EDGE_HOLES * self.mount.hole_diameter();
        let [port, starboard] = self.plate.reach;
        let room = |(x, y): (Length, Length)| {
            let fore_and_aft = 0.5 * self.plate.width - x.abs();
            match self.gear.arms {
                Arms::Single if self.gear.foot_side() == Side::Right => fore_and_aft.min(starboard - y),
                Arms::Single => fore_and_aft.min(y - port),
                Arms::Pair { .. } | Arms::Twin { .. } => fore_and_aft,
            }
        };
        let bolts = self.bolts(|at| exceeds(least, room(at)));
        let nearest = self.mount.bolts.iter().map(|&at| room(at)).reduce(Length::min);
        let (Some(&first), Some(nearest)) = (bolts.first(), nearest) else { return };
        let verb = if bolts.len() == 1 { "lies" } else { "lie" };
        let doubt = Diagnostic::warning(
            "doubtful",
            format!(
                "{} {verb} {} from the plate's edge, less than {EDGE_HOLES} holes ({})",
                names(&bolts),
                millimetres(nearest),
                millimetres(least)
            ),
        )
        .help("so near the edge a hole tears out: move the bolts inward, or make the plate wider there");
        self.section.note(doubt, self.bolt_span(first));
    }

    /// The bolts that something is true of.
    fn bolts(&self, is: impl Fn((Length, Length)) -> bool) -> Vec<usize> {
        let numbered = self.mount.bolts.iter().enumerate();
        numbered.filter(|(_, at)| is(**at)).map(|(index, _)| index).collect()
    }

    /// A preload that a plastic bolt does not keep.
    fn creeps(&self) {
        if !self.mount.bolt_class.creeps() || self.mount.preload.is_none() {
            return;
        }
        let key = if self.section.table.get("torque").is_some() { "torque" } else { "preload" };
        let doubt = Diagnostic::warning(
            "doubtful",
            format!("a bolt of {} creeps, and its preload is gone within hours", self.mount.bolt_class.name),
        )
        .help(format!("leave `{key}` out, so that none is counted on"));
        self.doubt(doubt, key);
    }

    /// Keys without which something can't be checked.
    fn left_out(&self) {
        let given = |key: &str| self.section.table.get(key).is_some();
        if !given("nut_flange") && !given("pull_through") {
            let doubt = Diagnostic::warning(
                "doubtful",
                "without `nut_flange` nobody can tell whether the nuts pull through the wood",
            )
            .help("measure the flange across and write it as in nut_flange = \"12 mm\"")
            .help(
                "or pull one through an offcut of the wood, and write what it took: pull_through = \"900 N\"",
            );
            self.doubt(doubt, "nut_flange");
        }
        // A key that goes with the span has had its message when there is none.
        if !["wood_width", "wood_span", "wood_edges", "wood_grain", "wood_breadth"].into_iter().any(given) {
            let doubt = Diagnostic::warning(
                "doubtful",
                "without `wood_width` the wood is taken as backed all over, so it can't bend",
            )
            .help("write the free span between its formers, as in wood_width = \"100 mm\"");
            self.doubt(doubt, "wood_width");
        }
    }

    /// A plate that reaches over the formers, or beyond the wood's edges.
    fn over_the_wood(&self) {
        let Some(span) = self.mount.span else { return };
        let [port, starboard] = self.plate.reach;
        for edges in [Some(Edges::along(&span)), Edges::across(&span)].into_iter().flatten() {
            let half = if edges.fore_and_aft { 0.5 * self.plate.width } else { starboard.max(-port) };
            if !exceeds(half, 0.5 * edges.size) {
                continue;
            }
            let over = if edges.between_formers { "over the formers" } else { "beyond the wood's edges" };
            let doubt = Diagnostic::warning(
                "doubtful",
                format!("the plate reaches {} {over}", millimetres(half - 0.5 * edges.size)),
            )
            .help(format!(
                "the plate goes to {} from the base's centre, the wood to {}: perhaps `wood_width` and `wood_breadth` are swapped, or `wood_span` is the other way",
                millimetres(half),
                millimetres(0.5 * edges.size)
            ));
            self.doubt(doubt, edges.key);
        }
    }

    /// An anchor with no wood to hold it.
    fn anchor(&self, brace: &Brace, section: &Section<'_>) {
        if self.gear.anchor_in(brace) != Some(AnchorIn::Wood) {
            return;
        }
        let across = self.mount.span.as_ref().and_then(Edges::across);
        let Some(edges) = across.filter(|edges| !edges.fore_and_aft) else { return };
        let out =
            self.gear.anchors(brace).into_iter().map(Length::abs).reduce(Length::max).unwrap_or_default()
                - 0.5 * edges.size;
        if exceeds(out, Length::default()) {
            let doubt = Diagnostic::warning(
                "doubtful",
                format!("the wire's anchor lies {} beyond the wood's edge", millimetres(out)),
            )
            .help("move it with `base_at`, or check `wood_breadth`: it is counted as if the wood held it");
            section.note(doubt, place(section, "base_at"));
        }
    }
}
