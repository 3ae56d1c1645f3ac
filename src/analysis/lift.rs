//! Solution to typed results: the one place where the solver's numbers become quantities again.

use super::lift_mount::mount_state;
use super::lower::{Lowered, LoweredLeg, LoweredWire, nodal_loads};
use super::perimeter::sharpened;
use crate::kernel::{
    Configuration, Frame, Load, Peak, Section, SectionForces, Solution, Statics, peak_von_mises,
};
use crate::model::{Arms, CaseWheelLoad, Gear, Side};
use crate::results::{
    AxleState, Face, GearState, LegState, PeakStress, PlateForces, Station, WheelState, WheelTravel,
    WirePull, WireState,
};
use crate::section::{PlateSection, RoundSection};
use crate::units::{Angle, Energy, Force, Length, Moment, Stress};
use uom::si::angle::radian;
use uom::si::energy::joule;
use uom::si::force::newton;
use uom::si::length::meter;
use uom::si::pressure::pascal;

/// Upward part of a face's normal below which the leg counts as standing straight. chosen: rounding of the geometry.
const UPRIGHT: f64 = 1e-9;

/// Reads a solution back into the terms of the gear.
pub(super) fn lift(
    gear: &Gear,
    lowered: &Lowered,
    frame: &Frame,
    solution: &Solution,
    loads: &[CaseWheelLoad],
) -> GearState {
    let wheels = lowered.wheels.iter().map(|w| {
        let [_, _, _, tx, ty, tz] = solution.displacements.get(w.node).copied().unwrap_or_default();
        let moved = solution.displacement_at(w.node, w.to_contact);
        let mut load = [Force::default(); 3];
        for l in loads.iter().filter(|l| l.side == w.side) {
            for (sum, part) in load.iter_mut().zip(l.force()) {
                *sum += part;
            }
        }
        WheelState {
            side: w.side,
            load,
            displacement: moved.map(Length::new::<meter>),
            rotation: [tx, ty, tz].map(Angle::new::<radian>),
        }
    });
    let legs = lowered.legs.iter().enumerate().map(|(i, leg)| {
        // A clamp gets the opposite of what it gives; so does what a mount holds at the bend.
        let given = match &lowered.mount {
            None => solution.reactions.get(i).copied().unwrap_or_default(),
            Some(_) => solution.start_force(leg.beams.start),
        };
        let [fx, fy, fz, mx, my, mz] = given.map(|c| -c);
        let ends = beam_ends(leg, solution);
        LegState {
            side: leg.leg.side,
            root_force: [fx, fy, fz].map(Force::new::<newton>),
            root_moment: [mx, my, mz].map(Moment::new::<joule>),
            peak: peak(gear, leg, frame, &ends),
            stations: stations(gear, leg, &ends),
        }
    });
    let wires = lowered.wires.iter().map(|wire| (wire, tension_of(wire, solution))).map(|(wire, tension)| {
        WireState {
            name: wire.name.clone(),
            brace: wire.brace,
            leg: wire.leg,
            ties_both_legs: wire.ties_both_legs,
            tension: Force::new::<newton>(tension),
            slack: tension <= 0.0,
            length: wire.length,
            angle_to_leg: Angle::new::<radian>(wire.cosine.clamp(-1.0, 1.0).acos()),
            direction: wire.direction,
            anchor: wire.anchor,
        }
    });
    GearState {
        wheels: wheels.collect(),
        legs: legs.collect(),
        wires: wires.collect(),
        axles: axles(gear, lowered, solution, loads),
        mount: mount_state(gear, lowered, frame, solution),
    }
}

/// +1 when the leg's `through` axis looks down, −1 when it looks up: with +1 positive bending about `across` puts the
/// lower face in tension. On a leg that stands straight the inboard face counts as the lower one.
fn downward(leg: &LoweredLeg) -> f64 {
    let [_, _, up] = leg.leg.through;
    match up {
        _ if up < -UPRIGHT => 1.0,
        _ if up > UPRIGHT => -1.0,
        _ if leg.leg.side == Side::Left => -1.0,
        _ => 1.0,
    }
}

fn section_at(gear: &Gear, leg: &LoweredLeg, place: Length) -> PlateSection {
    gear.plate.section_at(if leg.uniform { 0.0 } else { f64::from(place / gear.plate.leg_length) })
}

fn plate_forces(leg: &LoweredLeg, f: &SectionForces) -> PlateForces {
    let down = downward(leg);
    PlateForces {
        axial: Force::new::<newton>(f.axial),
        shear_across: Force::new::<newton>(f.shear_y),
        shear_through: Force::new::<newton>(down * f.shear_z),
        torsion: Moment::new::<joule>(f.torsion),
        bending_flat: Moment::new::<joule>(down * f.bending_y),
        bending_edge: Moment::new::<joule>(f.bending_z),
    }
}

/// One end of a beam of a leg.
pub(super) struct BeamEnd {
    beam: usize,
    fraction: f64,
    along: Length,
    forces: SectionForces,
}

/// Both ends of every beam of a leg, bend to axle.
pub(super) fn beam_ends(leg: &LoweredLeg, solution: &Solution) -> Vec<BeamEnd> {
    leg.beams
        .clone()
        .zip(leg.places.windows(2))
        .flat_map(|(beam, ends)| {
            [0.0, 1.0].into_iter().zip(ends).map(move |(fraction, place)| BeamEnd {
                beam,
                fraction,
                along: *place,
                forces: solution.section_forces(beam, fraction),
            })
        })
        .collect()
}

pub(super) fn stations(gear: &Gear, leg: &LoweredLeg, ends: &[BeamEnd]) -> Vec<Station> {
    ends.iter()
        .map(|end| Station {
            along: end.along,
            section: section_at(gear, leg, end.along),
            forces: plate_forces(leg, &end.forces),
        })
        .collect()
}

/// The largest stress of a leg. Sections are searched from the one that might have the most, until none that is left can
/// have more than what was found.
pub(super) fn peak(gear: &Gear, leg: &LoweredLeg, frame: &Frame, ends: &[BeamEnd]) -> PeakStress {
    let mut rated: Vec<(f64, &Section, &BeamEnd)> = ends
        .iter()
        .filter_map(|end| {
            let beam = frame.beams.get(end.beam)?;
            let index = if end.fraction == 0.0 { beam.start_section } else { beam.end_section };
            let section = frame.sections.get(index)?;
            Some((section.bound(&end.forces), section, end))
        })
        .collect();
    rated.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut best: Option<(Peak, Length, SectionForces)> = None;
    for (bound, section, end) in rated {
        let so_far = best.map_or(0.0, |(p, _, _)| p.stress);
        if bound <= so_far {
            break;
        }
        if let Some(found) = peak_von_mises(section, &end.forces).filter(|p| p.stress > so_far) {
            best = Some((found, end.along, end.forces));
        }
    }
    let (found, along, f) = best.unwrap_or((
        Peak { stress: 0.0, face: 0, along_face: 0.5 },
        Length::default(),
        SectionForces::default(),
    ));
    let section = section_at(gear, leg, along);
    let found = if found.stress > 0.0 { sharpened(&section, &f, found) } else { found };
    let place = 2.0 * found.along_face - 1.0;
    // Face order of `lower::plate_perimeter`: +through, −through, +across, −across.
    let (face, z, y) = match (found.face, downward(leg) > 0.0) {
        (0, true) => (Face::Lower, 1.0, place),
        (0, false) => (Face::Upper, 1.0, place),
        (1, true) => (Face::Upper, -1.0, place),
        (1, false) => (Face::Lower, -1.0, place),
        (2, _) => (Face::AftEdge, place, 1.0),
        _ => (Face::ForwardEdge, place, -1.0),
    };
    let normal = Force::new::<newton>(f.axial) / section.area()
        + z * Moment::new::<joule>(f.bending_y) / section.modulus_flat()
        - y * Moment::new::<joule>(f.bending_z) / section.modulus_edge();
    let von_mises = Stress::new::<pascal>(found.stress);
    // What the square has beyond the normal stress is the shear's: σ_v² = σ² + 3 τ².
    let shear =
        ((von_mises * von_mises - normal * normal).max(Stress::default() * Stress::default()) / 3.0).sqrt();
    let place = if matches!(face, Face::AftEdge | Face::ForwardEdge) { downward(leg) * place } else { place };
    PeakStress { von_mises, normal, shear, along, face, place, section, forces: plate_forces(leg, &f) }
}

/// Axle forces at the leg's mid-plane for a stub axle; at the wheel or the arm, whichever is worse, for a twin.
fn axles(gear: &Gear, lowered: &Lowered, solution: &Solution, loads: &[CaseWheelLoad]) -> Vec<AxleState> {
    let section = RoundSection { diameter: gear.wheel.axle };
    if matches!(gear.arms, Arms::Twin { .. }) {
        return lowered
            .axle_beams
            .iter()
            .map(|&(side, beam)| {
                let ends = [0.0, 1.0].map(|f| solution.section_forces(beam, f));
                let [at_wheel, at_arm] = ends;
                let bending = |f: &SectionForces| f.bending_y.hypot(f.bending_z);
                let worst = if bending(&at_wheel) >= bending(&at_arm) { at_wheel } else { at_arm };
                AxleState {
                    side,
                    section,
                    bending: Moment::new::<joule>(bending(&worst)),
                    torsion: Moment::new::<joule>(worst.torsion),
                    axial: Force::new::<newton>(worst.axial),
                    bending_at_leg: Moment::new::<joule>(bending(&at_arm)),
                    shear: Force::new::<newton>(at_arm.shear_y.hypot(at_arm.shear_z)),
                }
            })
            .collect();
    }
    // A stub axle carries what the node at its leg gets.
    let at_legs = nodal_loads(lowered, loads);
    lowered
        .wheels
        .iter()
        .map(|w| {
            let mut sum = [0.0; 6];
            for l in at_legs.iter().filter(|l| l.node == w.node) {
                for (total, part) in sum.iter_mut().zip(l.load) {
                    *total += part;
                }
            }
            // The moment about the axle's own line does not reach it: the wheel turns.
            let [fx, fy, fz, mx, _, mz] = sum;
            let bending = Moment::new::<joule>(mx.hypot(mz));
            AxleState {
                side: w.side,
                section,
                bending,
                torsion: Moment::default(),
                axial: Force::new::<newton>(fy),
                bending_at_leg: bending,
                shear: Force::new::<newton>(fx.hypot(fz)),
            }
        })
        .collect()
}

/// The largest equivalent stress of a leg that is elastic.
pub(super) fn largest_stress(gear: &Gear, leg: &LoweredLeg, frame: &Frame, solution: &Solution) -> Stress {
    peak(gear, leg, frame, &beam_ends(leg, solution)).von_mises
}

/// The largest equivalent stress of a leg that has yielded, `None` when it has not: the largest normal stress of a fibre with
/// the largest shear of its beam, or that of a beam that is still elastic.
pub(super) fn fibre_stress(
    gear: &Gear,
    leg: &LoweredLeg,
    statics: &Statics,
    c: &Configuration,
    solution: &Solution,
) -> Option<Stress> {
    let mut most: Option<Stress> = None;
    let mut elastic = Vec::new();
    let mut last = None;
    for end in beam_ends(leg, solution) {
        let normal = match last {
            Some((beam, normal)) if beam == end.beam => normal,
            _ => statics.yielded_stress(c, end.beam),
        };
        last = Some((end.beam, normal));
        let Some(normal) = normal else {
            elastic.push(end);
            continue;
        };
        let alone = SectionForces { axial: 0.0, bending_y: 0.0, bending_z: 0.0, ..end.forces };
        // No need to look where even the upper bound of the shear would not do.
        let bound = frame_bound(statics.frame(), &end, &alone);
        if most.is_some_and(|m| m.get::<pascal>() >= normal.hypot(bound)) {
            continue;
        }
        let shear = peak(gear, leg, statics.frame(), &[BeamEnd { forces: alone, ..end }]).von_mises;
        let normal = Stress::new::<pascal>(normal);
        let both = (normal * normal + shear * shear).sqrt();
        most = Some(most.map_or(both, |m| m.max(both)));
    }
    most.map(|m| m.max(peak(gear, leg, statics.frame(), &elastic).von_mises))
}

/// Upper bound of the equivalent stress at a beam's end under some forces, Pa.
fn frame_bound(frame: &Frame, end: &BeamEnd, forces: &SectionForces) -> f64 {
    let section =
        frame.beams.get(end.beam).map(|b| if end.fraction == 0.0 { b.start_section } else { b.end_section });
    section.and_then(|i| frame.sections.get(i)).map_or(0.0, |s| s.bound(forces))
}

/// How far each wheel's contact point has moved.
pub(super) fn travels(lowered: &Lowered, solution: &Solution) -> Vec<WheelTravel> {
    let wheels = lowered.wheels.iter();
    wheels
        .map(|w| WheelTravel {
            side: w.side,
            displacement: solution.displacement_at(w.node, w.to_contact).map(Length::new::<meter>),
        })
        .collect()
}

/// How far a wheel's tyre is pressed in by a load that is multiplied.
pub(super) fn tyre_travel(gear: &Gear, lowered: &Lowered, load: &Load, multiple: f64, side: Side) -> Length {
    let Some(stiffness) = gear.wheel.tyre_stiffness else { return Length::default() };
    let node = lowered.wheels.iter().find(|w| w.side == side).map(|w| w.node);
    let up = load.arms.iter().filter(|l| Some(l.node) == node).map(|l| {
        let [_, _, up] = l.force;
        up
    });
    Force::new::<newton>(multiple * up.sum::<f64>()) / stiffness
}

/// Tension of a wire, N.
fn tension_of(wire: &LoweredWire, solution: &Solution) -> f64 {
    solution.tensions.get(wire.link).copied().unwrap_or_default()
}

/// Tension of each wire.
pub(super) fn pulls(lowered: &Lowered, solution: &Solution) -> Vec<WirePull> {
    let wires = lowered.wires.iter();
    wires
        .map(|w| WirePull { name: w.name.clone(), tension: Force::new::<newton>(tension_of(w, solution)) })
        .collect()
}

/// The angle by which yielding has bent each leg in all: the root of the squares of the sums about both axes.
pub(super) fn bent(lowered: &Lowered, statics: &Statics, c: &Configuration) -> Vec<(Side, Angle)> {
    let legs = lowered.legs.iter();
    legs.map(|leg| {
        let (mut flat, mut edge) = (0.0, 0.0);
        for beam in leg.beams.clone() {
            let [y, z] = statics.kink(c, beam);
            flat += y;
            edge += z;
        }
        (leg.leg.side, Angle::new::<radian>(f64::hypot(flat, edge)))
    })
    .collect()
}

/// An energy.
pub(super) fn joules(value: f64) -> Energy {
    Energy::new::<joule>(value)
}

/// A stress.
pub(super) fn pascals(value: f64) -> Stress {
    Stress::new::<pascal>(value)
}
