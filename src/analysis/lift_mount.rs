//! What a solution says of the mount: the kernel's numbers as quantities again.

use super::lift::{beam_ends, peak, stations};
use super::lower::Lowered;
use super::lower_mount::{LoweredMount, LoweredWood};
use crate::kernel::{Frame, LinkEnd, Solution};
use crate::model::{Gear, Mount, SpanDirection};
use crate::results::{BedState, BoltState, FormerEnd, FormerState, MountState, WoodState};
use crate::units::{Force, Length, Moment, Stress};
use uom::si::energy::joule;
use uom::si::force::newton;
use uom::si::length::meter;

/// Reads the mount's part of a solution; `None` for a gear without one.
pub(super) fn mount_state(
    gear: &Gear,
    lowered: &Lowered,
    frame: &Frame,
    solution: &Solution,
) -> Option<MountState> {
    let (mount, description) = (lowered.mount.as_ref()?, gear.mount.as_ref()?);
    let tension = |link: usize| solution.tensions.get(link).copied().unwrap_or_default();
    let preload = description.nominal_preload();
    let bolts = mount.bolts.iter().enumerate().map(|(i, bolt)| BoltState {
        name: Mount::bolt_name(i),
        at: bolt.at,
        tension: Force::new::<newton>(tension(bolt.pull)),
        shear: [0, 1].map(|axis| {
            let links = bolt.shear.get(axis).into_iter().flatten();
            Force::new::<newton>(links.map(|(link, sign)| sign * tension(*link)).sum())
        }),
        pressed: Force::new::<newton>(tension(bolt.pressed)),
        preload,
        share: bolt.share,
    });
    let ends = beam_ends(&mount.plate, solution);
    Some(MountState {
        bolts: bolts.collect(),
        bed: bed(mount, frame, solution),
        plate: stations(gear, &mount.plate, &ends),
        plate_peak: peak(gear, &mount.plate, frame, &ends),
        wood: mount.wood.as_ref().map(|w| wood_state(w, solution)),
        turn: mount.turn.map(|([ahead, behind], arm)| {
            Moment::new::<joule>(arm * (tension(behind) - tension(ahead)).abs())
        }),
    })
}

fn bed(mount: &LoweredMount, frame: &Frame, solution: &Solution) -> BedState {
    let zero = Length::default();
    let mut state = BedState {
        push: Force::default(),
        centre: [zero; 2],
        pressure: Stress::default(),
        pressure_at: [zero; 2],
        uplift: zero,
        uplift_at: [zero; 2],
        contact: 0.0,
    };
    let mut levers = [Moment::default(); 2];
    let (mut all, mut touching) = (0.0, 0.0);
    for patch in &mount.bed {
        let push = Force::new::<newton>(solution.tensions.get(patch.link).copied().unwrap_or_default());
        let area = patch.area.value;
        all += area;
        if push > Force::default() {
            touching += area;
            state.push += push;
            for (lever, at) in levers.iter_mut().zip(patch.at) {
                *lever += push * at;
            }
            let pressure = push / patch.area;
            if pressure > state.pressure {
                (state.pressure, state.pressure_at) = (pressure, patch.at);
            }
        } else if let Some(link) = frame.links.get(patch.link) {
            let up = |end| match end {
                LinkEnd::Node { node, arm } => solution.displacement_at(node, arm)[2],
                LinkEnd::Ground(_) => 0.0,
            };
            let gap = Length::new::<meter>(up(link.from) - up(link.to));
            if gap > state.uplift {
                (state.uplift, state.uplift_at) = (gap, patch.at);
            }
        }
    }
    if state.push > Force::default() {
        state.centre = levers.map(|lever| lever / state.push);
    }
    state.contact = if all > 0.0 { touching / all } else { 0.0 };
    state
}

fn wood_state(wood: &LoweredWood, solution: &Solution) -> WoodState {
    let mut state = WoodState {
        breadth: wood.breadth,
        depth: wood.depth,
        bending: Moment::default(),
        bending_at: Length::default(),
        shear: Force::default(),
        sag: Length::default(),
        formers: formers(wood, solution),
    };
    for (i, (beam, ends)) in wood.beams.clone().zip(wood.places.windows(2)).enumerate() {
        let &[before, after] = ends else { continue };
        // The first beam runs the other way.
        let places = if i == 0 { [after, before] } else { [before, after] };
        for (fraction, place) in [0.0, 1.0].into_iter().zip(places) {
            let f = solution.section_forces(beam, fraction);
            let bending = Moment::new::<joule>(f.bending_y.abs());
            if bending > state.bending {
                (state.bending, state.bending_at) = (bending, place);
            }
            state.shear = state.shear.max(Force::new::<newton>(f.shear_z.abs()));
        }
    }
    for node in &wood.nodes {
        let [_, _, z, ..] = solution.displacements.get(*node).copied().unwrap_or_default();
        state.sag = state.sag.max(Length::new::<meter>(z.abs()));
    }
    state
}

fn formers(wood: &LoweredWood, solution: &Solution) -> [FormerState; 2] {
    let fore = wood.direction == SpanDirection::ForeAndAft;
    let names =
        if fore { [FormerEnd::Forward, FormerEnd::Aft] } else { [FormerEnd::Port, FormerEnd::Starboard] };
    let [first, second] = wood.formers;
    [(names[0], first), (names[1], second)].map(|(end, held)| {
        // A former gets the opposite of what it gives.
        let [fx, fy, fz, mx, my, _] =
            solution.reactions.get(held).copied().unwrap_or_default().map(|c: f64| -c);
        FormerState {
            end,
            force: [fx, fy, fz].map(Force::new::<newton>),
            moment: Moment::new::<joule>(if fore { my } else { mx }.abs()),
        }
    })
}
