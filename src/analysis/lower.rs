//! Gear to frame: the one place where quantities become bare SI numbers.

use super::lower_mount::{LoweredMount, add_mount};
use super::perimeter::plate_perimeter;
use crate::kernel::{
    Action, ArmLoad, Beam, Frame, GAUSS_POINTS, Law, Link, LinkEnd, LinkStrength, Load, NodalLoad, Rigidity,
    Section, Yielding,
};
use crate::material::Wire;
use crate::model::{
    AnchorIn, Arms, AxleJoint, Brace, CaseWheelLoad, Gear, Leg, LoadPoint, Plate, PlateMetal, Side, WireFit,
    WirePlace,
};
use crate::results::WireAnchor;
use crate::section::{PlateSection, RoundSection};
use crate::units::{Length, MassDensity, Stress};
use std::ops::Range;
use uom::si::force::newton;
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::{gigapascal, pascal};

/// Elements along each leg. chosen: displacements are exact with one; 24 bring the place of the largest stress
/// on a tapered leg to within 2 % of its length.
pub const ELEMENTS_PER_LEG: usize = 24;

/// Places on a leg nearer than this fraction of its length share a node, with rigid arms to them. chosen: 1 mm on a leg of
/// 200 mm; what the arm keeps from bending is 4e-5 of the leg's, and an element of a tenth of that is so stiff that rounding
/// shows in the balance of forces.
const SAME_PLACE: f64 = 5e-3;

/// Share of an element's length within which a node of the even division makes way for a wire's. chosen: any share
/// well below one half and well above nothing serves.
const CROWDED: f64 = 0.25;

/// How near two places may be on a line of some length, m, to be one.
pub(super) fn round_off(length: f64) -> f64 {
    SAME_PLACE * length
}

/// Elastic constants of a plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlateElasticity {
    /// Young's modulus.
    pub modulus: Stress,
    /// Poisson's ratio.
    pub poisson: f64,
}

impl PlateElasticity {
    /// Takes the plate's own constants; for an unknown metal those of an aluminium alloy, 70 GPa and 0.33.
    #[must_use]
    pub fn of(metal: &PlateMetal) -> Self {
        match metal {
            PlateMetal::Known(m) => Self { modulus: m.modulus.value, poisson: m.poisson.value },
            PlateMetal::Unknown => Self { modulus: Stress::new::<gigapascal>(70.0), poisson: 0.33 },
        }
    }

    /// The range of an aluminium alloy's modulus, 68.3 (6061) to 73 GPa (2014); the extremes of the metal table.
    #[must_use]
    pub fn aluminium_range() -> [Self; 2] {
        [68.3, 73.0].map(|e| Self { modulus: Stress::new::<gigapascal>(e), poisson: 0.33 })
    }
}

/// Density that a plate of unknown metal is taken to have: that of an aluminium alloy, 2700 kg/m³.
#[must_use]
pub fn unknown_density() -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(2700.0)
}

/// How a plate yields.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlateYield {
    /// Stress at which it begins to; for a smooth law the 0.2 % proof stress.
    pub strength: Stress,
    /// Slope of the stress–strain line beyond; none is perfectly plastic.
    pub slope: Stress,
    /// Exponent of a smooth law (Ramberg & Osgood), which then stands for the slope.
    pub exponent: Option<f64>,
}

impl PlateYield {
    /// Takes a plate's own yield strength, where it is known.
    #[must_use]
    pub fn of(plate: &Plate) -> Option<Self> {
        let PlateMetal::Known(metal) = &plate.metal else { return None };
        Some(Self {
            strength: plate.yield_strength()?.value,
            slope: metal.tangent_modulus.as_ref().map_or_else(Stress::default, |t| t.value),
            exponent: metal.hardening_exponent.as_ref().map(|n| n.value),
        })
    }

    fn law(&self, elastic: PlateElasticity) -> Law {
        let [modulus, strength, slope] =
            [elastic.modulus, self.strength, self.slope].map(|s| s.get::<pascal>());
        match self.exponent {
            Some(exponent) => Law::ramberg_osgood(modulus, strength, exponent),
            None => Law::bilinear(modulus, strength, slope),
        }
    }
}

/// How much further a wire stretches from its yield to its breaking load, relative to its length. chosen: common practice, no
/// source, has 1 to 2 % for hard-drawn wire; the lower end breaks it sooner.
const WIRE_STRETCH: f64 = 0.01;

/// Where a wire yields and where it or its end lets go. The end's share takes no fitting factor: that is for margins.
fn wire_strength(brace: &Brace, stiffness: f64, length: f64) -> LinkStrength {
    let Ok(load) = brace.wire.breaking_load(brace.diameter) else { return LinkStrength::ELASTIC };
    let load = load.value.get::<newton>();
    let yields = brace.wire.yield_fraction.as_ref().map_or(f64::INFINITY, |f| f.value * load);
    let beyond = (load - yields) / (WIRE_STRETCH * length);
    LinkStrength {
        yields,
        stiffness_beyond: if beyond.is_finite() { beyond.clamp(0.0, stiffness) } else { 0.0 },
        breaks: load * brace.end_holds.value.min(1.0),
    }
}

/// A gear as a frame, with what is needed to find its parts again.
#[derive(Debug)]
pub(super) struct Lowered {
    pub(super) frame: Frame,
    pub(super) legs: Vec<LoweredLeg>,
    pub(super) mount: Option<LoweredMount>,
    pub(super) wheels: Vec<LoweredWheel>,
    pub(super) wires: Vec<LoweredWire>,
    /// Beams of a twin's axle with the leg they end at.
    pub(super) axle_beams: Vec<(Side, usize)>,
}

/// A leg's members, or those of the flat centre.
#[derive(Debug)]
pub(super) struct LoweredLeg {
    pub(super) leg: Leg,
    pub(super) root: usize,
    pub(super) tip: usize,
    pub(super) beams: Range<usize>,
    /// Distance from the bend of each node, bend to axle; of the flat centre from its port end.
    pub(super) places: Vec<Length>,
    /// Whether it is as wide and as thick as the leg's root all along: the flat centre.
    pub(super) uniform: bool,
}

impl Lowered {
    /// All that is cut from the plate: the legs, and the flat centre where there is one.
    pub(super) fn plates(&self) -> impl Iterator<Item = &LoweredLeg> {
        self.legs.iter().chain(self.mount.as_ref().map(|m| &m.plate))
    }
}

impl LoweredLeg {
    /// The name it has in reports.
    pub(super) fn name(&self) -> String {
        if self.uniform { "flat centre".to_owned() } else { format!("{} leg", self.leg.side) }
    }
}

/// A wheel's node and the arms from it.
#[derive(Debug)]
pub(super) struct LoweredWheel {
    pub(super) side: Side,
    pub(super) node: usize,
    pub(super) to_centre: [f64; 3],
    pub(super) to_contact: [f64; 3],
}

/// A wire's name and length.
#[derive(Debug)]
pub(super) struct LoweredWire {
    /// Index among the frame's links.
    pub(super) link: usize,
    pub(super) name: String,
    pub(super) brace: usize,
    pub(super) leg: Side,
    pub(super) ties_both_legs: bool,
    pub(super) length: Length,
    /// Cosine of the angle between the wire and the leg.
    pub(super) cosine: f64,
    /// Unit vector from the leg to the other end.
    pub(super) direction: [f64; 3],
    /// What its end at the base is in, when there is a mount.
    pub(super) anchor: Option<WireAnchor>,
}

pub(super) fn bare(v: [Length; 3]) -> [f64; 3] {
    v.map(|c| c.get::<meter>())
}

fn minus(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub(super) fn plate_rigidity(section: &PlateSection, elastic: PlateElasticity) -> Rigidity {
    let e = elastic.modulus.get::<pascal>();
    let g = e / (2.0 * (1.0 + elastic.poisson));
    Rigidity {
        axial: e * section.area().value,
        torsion: g * section.torsion_constant().value,
        bending_y: e * section.second_moment_flat().value,
        bending_z: e * section.second_moment_edge().value,
    }
}

/// Fractions of the leg at which there is a node: an even grid and every place where a wire holds.
fn node_fractions(gear: &Gear, elements: usize) -> Vec<f64> {
    let n = elements.max(1);
    let mut fractions = vec![0.0, 1.0];
    for brace in &gear.braces {
        if fractions.iter().all(|f| (f - brace.leg_at).abs() > SAME_PLACE) {
            fractions.push(brace.leg_at);
        }
    }
    // A node of the even division that is near a wire's makes way: a very short element is so stiff that rounding
    // would swamp the rest.
    let even = (1..n).map(|i| i as f64 / n as f64);
    let free: Vec<f64> =
        even.filter(|e| fractions.iter().all(|f| (f - e).abs() > CROWDED / n as f64)).collect();
    fractions.extend(free);
    fractions.sort_by(f64::total_cmp);
    fractions
}

/// Whether the legs of a gear know nothing of each other: clamped, with no wires between them.
pub(super) fn legs_alone(gear: &Gear) -> bool {
    matches!(gear.arms, Arms::Pair { .. }) && gear.braces.is_empty() && gear.mount.is_none()
}

/// Builds the frame of a gear, or of one leg of a gear whose legs are [alone](legs_alone). Without a yield strength the plate stays
/// elastic whatever its stress.
pub(super) fn lower(
    gear: &Gear,
    elastic: PlateElasticity,
    yielding: Option<PlateYield>,
    elements: usize,
    only: Option<Side>,
) -> Lowered {
    let wanted = |side: Side| only.is_none_or(|only| only == side);
    let mut frame = Frame::default();
    let fractions = node_fractions(gear, elements);
    // The legs of one gear are alike: one set of sections and rigidities serves them all.
    let prismatic = gear.plate.thickness.root == gear.plate.thickness.tip
        && gear.plate.width.root == gear.plate.width.tip;
    if prismatic {
        frame.sections.push(plate_perimeter(&gear.plate.section_at(0.0)));
    } else {
        frame.sections.extend(fractions.iter().map(|&f| plate_perimeter(&gear.plate.section_at(f))));
    }
    let section_at = |node: usize| if prismatic { 0 } else { node };
    let uniform = plate_rigidity(&gear.plate.section_at(0.0), elastic);
    let rigidities: Vec<[Rigidity; GAUSS_POINTS.len()]> = fractions
        .windows(2)
        .map(|w| match w {
            [from, to] if !prismatic => {
                GAUSS_POINTS.map(|g| plate_rigidity(&gear.plate.section_at(from + g * (to - from)), elastic))
            }
            _ => GAUSS_POINTS.map(|_| uniform),
        })
        .collect();

    frame.laws.extend(yielding.map(|y| y.law(elastic)));
    let sizes: Vec<[[f64; 2]; GAUSS_POINTS.len()]> = fractions
        .windows(2)
        .map(|w| {
            GAUSS_POINTS.map(|g| {
                let at = w.first().zip(w.get(1)).map_or(0.0, |(from, to)| from + g * (to - from));
                let section = gear.plate.section_at(at);
                [section.width, section.thickness].map(|l| l.get::<meter>())
            })
        })
        .collect();

    let mut legs = Vec::new();
    for leg in gear.legs().into_iter().filter(|leg| wanted(leg.side)) {
        let root = frame.nodes.len();
        let first_beam = frame.beams.len();
        if gear.mount.is_none() {
            frame.clamped.push(root);
        }
        let places: Vec<Length> = fractions.iter().map(|&f| f * gear.plate.leg_length).collect();
        for place in &places {
            let [ax, ay, az] = leg.along.map(|c| c * *place);
            let [rx, ry, rz] = leg.root;
            frame.nodes.push(bare([rx + ax, ry + ay, rz + az]));
        }
        for (i, (rigidity, sizes)) in rigidities.iter().zip(&sizes).enumerate() {
            frame.beams.push(Beam {
                start: root + i,
                end: root + i + 1,
                axes: [leg.along, leg.across, leg.through],
                rigidity: *rigidity,
                hinged_end: false,
                start_section: section_at(i),
                end_section: section_at(i + 1),
                yielding: yielding.map(|_| Yielding { law: 0, sizes: *sizes }),
            });
        }
        let tip = frame.nodes.len() - 1;
        legs.push(LoweredLeg {
            leg,
            root,
            tip,
            beams: first_beam..frame.beams.len(),
            places,
            uniform: false,
        });
    }

    let mut wheels = Vec::new();
    let mut axle_beams = Vec::new();
    for wheel in gear.wheels().into_iter().filter(|wheel| wanted(wheel.side)) {
        let (centre, contact) = (bare(wheel.centre), bare(wheel.contact));
        let node = if let Arms::Twin { axle_joint, .. } = gear.arms {
            frame.nodes.push(centre);
            let node = frame.nodes.len() - 1;
            axle_beams = add_axle(gear, &mut frame, &legs, node, axle_joint);
            node
        } else {
            legs.iter().find(|l| l.leg.side == wheel.side).map_or(0, |l| l.tip)
        };
        let from = frame.nodes.get(node).copied().unwrap_or_default();
        wheels.push(LoweredWheel {
            side: wheel.side,
            node,
            to_centre: minus(centre, from),
            to_contact: minus(contact, from),
        });
    }

    let mount = add_mount(gear, &mut frame, &legs, elastic, yielding.is_some());
    let wires = add_wires(gear, &mut frame, &legs, mount.as_ref(), &fractions);
    Lowered { frame, legs, mount, wheels, wires, axle_beams }
}

/// Adds a twin's axle: a beam of the axle's diameter from the wheel to each arm.
fn add_axle(
    gear: &Gear,
    frame: &mut Frame,
    legs: &[LoweredLeg],
    wheel: usize,
    joint: AxleJoint,
) -> Vec<(Side, usize)> {
    let round = RoundSection { diameter: gear.wheel.axle };
    let e = gear.wheel.axle_metal.modulus.value.get::<pascal>();
    let g = e / (2.0 * (1.0 + gear.wheel.axle_metal.poisson.value));
    let bending = e * round.second_moment().value;
    let rigidity = Rigidity {
        axial: e * round.area().value,
        torsion: g * round.torsion_constant().value,
        bending_y: bending,
        bending_z: bending,
    };
    // The axle's own check takes its stress from its forces; the perimeter is for plates.
    frame.sections.push(Section::new(Vec::new()));
    let section = frame.sections.len() - 1;
    legs.iter()
        .map(|l| {
            let toward = l.leg.side.sign();
            frame.beams.push(Beam {
                start: wheel,
                end: l.tip,
                axes: [[0.0, toward, 0.0], [-toward, 0.0, 0.0], [0.0, 0.0, 1.0]],
                rigidity: [rigidity; GAUSS_POINTS.len()],
                hinged_end: joint == AxleJoint::Pinned,
                start_section: section,
                end_section: section,
                yielding: None,
            });
            (l.leg.side, frame.beams.len() - 1)
        })
        .collect()
}

fn add_wires(
    gear: &Gear,
    frame: &mut Frame,
    legs: &[LoweredLeg],
    mount: Option<&LoweredMount>,
    fractions: &[f64],
) -> Vec<LoweredWire> {
    let mut wires = Vec::new();
    for (index, brace) in gear.braces.iter().enumerate() {
        let near = fractions.iter().enumerate().find(|(_, f)| (*f - brace.leg_at).abs() <= SAME_PLACE);
        let (offset, fraction) = near.map_or((0, 0.0), |(i, f)| (i, *f));
        let end_of = |frame: &Frame, place| match place {
            WirePlace::Leg(side) => {
                let found = legs.iter().find(|l| l.leg.side == side);
                let root = found.map_or(0, |l| l.root);
                // What little the wire's place is off its node is an arm, so that the forces balance to the last digit.
                let off = (brace.leg_at - fraction) * gear.plate.leg_length.get::<meter>();
                let arm = found.map_or([0.0; 3], |l| l.leg.along.map(|c| c * off));
                LinkEnd::Node { node: root + offset, arm }
            }
            WirePlace::Base(p) => match (mount, gear.anchor_in(brace)) {
                (Some(mount), Some(AnchorIn::Plate)) => mount.on_plate(frame, [p[0], p[1]]),
                (Some(mount), Some(AnchorIn::Wood)) => mount.on_wood(frame, [p[0], p[1]]),
                _ => LinkEnd::Ground(bare(p)),
            },
        };
        for (name, from, to) in gear.brace_wires(index) {
            let (from_end, to_end) = (end_of(frame, from), end_of(frame, to));
            let [dx, dy, dz] = minus(frame.place(to_end), frame.place(from_end));
            let length = (dx * dx + dy * dy + dz * dz).sqrt();
            let area = Wire::area(brace.diameter).value;
            let stiffness = brace.wire.modulus.value.get::<pascal>() * area / length;
            let rest_tension = match brace.fit {
                WireFit::Snug => 0.0,
                WireFit::Pretension(force) => force.value,
                WireFit::Slack(slack) => -stiffness * slack.get::<meter>(),
            };
            let strength = wire_strength(brace, stiffness, length);
            frame.links.push(Link {
                from: from_end,
                to: to_end,
                action: Action::Cord,
                stiffness,
                rest_tension,
                strength,
            });
            let side = if let WirePlace::Leg(side) = from { side } else { Side::Centre };
            let [ax, ay, az] = legs.iter().find(|l| l.leg.side == side).map_or([0.0; 3], |l| l.leg.along);
            wires.push(LoweredWire {
                link: frame.links.len() - 1,
                name,
                brace: index,
                leg: side,
                ties_both_legs: matches!(to, WirePlace::Leg(_)),
                length: Length::new::<meter>(length),
                cosine: (dx * ax + dy * ay + dz * az) / length,
                direction: [dx, dy, dz].map(|c| c / length),
                anchor: match to {
                    WirePlace::Base([x, y, _]) => {
                        gear.anchor_in(brace).map(|held_by| WireAnchor { held_by, at: [x, y] })
                    }
                    WirePlace::Leg(_) => None,
                },
            });
        }
    }
    wires
}

/// Loads at the wheels as forces at the ends of rigid arms from the nodes that carry the wheels.
pub(super) fn arm_loads(lowered: &Lowered, loads: &[CaseWheelLoad]) -> Vec<ArmLoad> {
    loads
        .iter()
        .filter_map(|l| {
            let wheel = lowered.wheels.iter().find(|w| w.side == l.side)?;
            let arm = match l.at {
                LoadPoint::Ground => wheel.to_contact,
                LoadPoint::Axle => wheel.to_centre,
            };
            Some(ArmLoad { node: wheel.node, force: l.force().map(|f| f.value), arm })
        })
        .collect()
}

/// The same as forces and moments on those nodes.
pub(super) fn nodal_loads(lowered: &Lowered, loads: &[CaseWheelLoad]) -> Vec<NodalLoad> {
    arm_loads(lowered, loads)
        .iter()
        .map(|l| {
            let ([fx, fy, fz], [rx, ry, rz]) = (l.force, l.arm);
            let [mx, my, mz] = [ry * fz - rz * fy, rz * fx - rx * fz, rx * fy - ry * fx];
            NodalLoad { node: l.node, load: [fx, fy, fz, mx, my, mz] }
        })
        .collect()
}

/// Whether a load does anything.
pub(super) fn is_loaded(load: &Load) -> bool {
    load.arms.iter().any(|l| l.force.iter().any(|f| *f != 0.0))
}

/// A length as the kernel has it, m.
pub(super) fn metres(length: Length) -> f64 {
    length.get::<meter>()
}
