//! A gear whose values are each acceptable and don't fit together: the impossible is refused, the doubtful is said.

use super::measure::millimetres;
use super::section::Section;
use super::tree::Span;
use super::{mount_doubts, mount_fit};
use crate::diagnostic::Diagnostic;
use crate::model::{Arms, Brace, Gear, Pattern, Side};
use crate::units::Length;

/// The sections a gear was read from, to point at.
pub(super) struct Places<'p, 'a> {
    pub(super) gear: &'p Section<'a>,
    pub(super) plate: &'p Section<'a>,
    pub(super) wheel: &'p Section<'a>,
    /// In step with the gear's braces only when all of them could be read.
    pub(super) braces: &'p [Section<'a>],
    pub(super) mount: Option<&'p Section<'a>>,
}

/// Where a key's value stands, or the section's header when the key was left out.
pub(super) fn place(section: &Section<'_>, key: &str) -> Span {
    section.table.get(key).map_or_else(|| section.header.clone(), |entry| entry.node.span.clone())
}

/// Notes all that is impossible or doubtful about a gear.
pub(super) fn check<'p>(gear: &'p Gear, places: &Places<'p, '_>) {
    legs(gear, places);
    sections(gear, places.plate);
    wheel(gear, places.wheel);
    if gear.braces.len() == places.braces.len() {
        for (brace, section) in gear.braces.iter().zip(places.braces) {
            wires(gear, brace, section);
        }
    }
    if let (Some(mount), Some(section)) = (&gear.mount, places.mount)
        && let Some(fit) = mount_fit::check(gear, mount, section, places)
    {
        mount_doubts::check(&fit, places.braces);
    }
}

fn legs(gear: &Gear, places: &Places<'_, '_>) {
    let plate = &gear.plate;
    let [_, half_track, depth] = gear.leg(Side::Right).tip;
    let room = match gear.arms {
        Arms::Pair { .. } => Some(Length::default()),
        Arms::Twin { .. } => Some(0.5 * plate.thickness.tip),
        Arms::Single => None,
    };
    if room.is_some_and(|room| half_track <= room) {
        let refused =
            Diagnostic::error("impossible", "the two legs lean inward so far that they meet above the axle")
                .help("a positive `leg_angle` leans the legs outward; a wider `base_width` parts them too");
        places.plate.note(refused, place(places.plate, "leg_angle"));
    }
    if let Some(radius) = plate.bend_radius
        && radius >= plate.leg_length
    {
        let refused = Diagnostic::error("impossible", "the bend's radius is as large as the leg is long")
            .help("`bend_radius` is the inside radius of the bend, such as bend_radius = \"12 mm\"");
        places.plate.note(refused, place(places.plate, "bend_radius"));
    }
    if 0.5 * gear.wheel.diameter >= -depth {
        let doubt = Diagnostic::warning("doubtful", format!("the wheel of {} reaches up to its base", places.gear.title))
            .help("the wheel's radius is as large as the axle lies below the base: check diameter, leg_length and leg_angle");
        places.wheel.note(doubt, place(places.wheel, "diameter"));
    }
}

fn sections(gear: &Gear, section: &Section<'_>) {
    let plate = &gear.plate;
    let thicker_than_wide = |thickness: Length, width: Length| thickness > width;
    if thicker_than_wide(plate.thickness.root, plate.width.root)
        || thicker_than_wide(plate.thickness.tip, plate.width.tip)
    {
        let doubt = Diagnostic::warning("doubtful", "the leg is thicker than it is wide")
            .help("the width lies fore and aft, the thickness square to it: perhaps the two are swapped");
        section.note(doubt, place(section, "width_root"));
    }
    if plate.width.tip > plate.width.root {
        let doubt = Diagnostic::warning("doubtful", "the leg is wider at the axle than at the bend")
            .help("the bend carries the most: perhaps `width_root` and `width_tip` are swapped");
        section.note(doubt, place(section, "width_tip"));
    }
    if plate.thickness.tip > plate.thickness.root {
        let doubt = Diagnostic::warning("doubtful", "the leg is thicker at the axle than at the bend")
            .help("the bend carries the most: perhaps `thickness_root` and `thickness_tip` are swapped");
        section.note(doubt, place(section, "thickness_tip"));
    }
}

fn wheel(gear: &Gear, section: &Section<'_>) {
    let (axle, width) = (gear.wheel.axle, gear.plate.width.tip);
    if axle >= width {
        let refused = Diagnostic::error(
            "impossible",
            "the axle is as thick as the leg's end is wide, so its hole cuts the leg through",
        )
        .help("choose a thinner axle, or a wider `width_tip`");
        section.note(refused, place(section, "axle"));
    } else if axle > 0.5 * width {
        let doubt = Diagnostic::warning("doubtful", "the axle's hole takes more than half the leg's width")
            .help("a hole is where a leg tears first: leave at least a hole's width of metal on either side");
        section.note(doubt, place(section, "axle"));
    }
    let meets = gear.wheel.overhang <= 0.5 * gear.plate.thickness.tip;
    if meets && !matches!(gear.arms, Arms::Twin { .. }) {
        let doubt = Diagnostic::warning("doubtful", "the wheel's centre lies inside the leg")
            .help("`overhang` runs along the axle from the middle of the leg to the middle of the wheel");
        section.note(doubt, place(section, "overhang"));
    }
}

fn wires(gear: &Gear, brace: &Brace, section: &Section<'_>) {
    let width = gear.plate.width.at(brace.leg_at);
    if brace.diameter >= width {
        let refused = Diagnostic::error(
            "impossible",
            format!(
                "the wire is as thick as the leg is wide where it holds, {}, so its hole cuts the leg through",
                millimetres(width)
            ),
        )
        .help("choose a thinner wire, or a wider leg");
        section.note(refused, place(section, "diameter"));
    } else if brace.diameter >= 0.5 * width {
        let doubt = Diagnostic::warning(
            "doubtful",
            "the wire is more than half as thick as the leg is wide where it holds",
        )
        .help("its hole would weaken the leg: choose a thinner wire");
        section.note(doubt, place(section, "diameter"));
    }
    let Some(reach) = brace.base_at else { return };
    let base = gear.base_width();
    if base > Length::default() && reach > 3.0 * base {
        let doubt = Diagnostic::warning("doubtful", "the wire's anchor lies far outside the base")
            .help("`base_at` is the anchor's distance from the centre line, about half of `base_width` in most gears");
        section.note(doubt, place(section, "base_at"));
    }
    if brace.pattern == Pattern::Near && (reach - 0.5 * base).abs() < 0.01 * gear.plate.leg_length {
        let doubt = Diagnostic::warning(
            "doubtful",
            "the wire starts where the leg starts and lies along it, so it holds nothing",
        )
        .help("move the anchor with `base_at`, or write pattern = \"cross\"");
        section.note(doubt, place(section, "base_at"));
    }
}
