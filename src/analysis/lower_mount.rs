//! Mount to frame: the flat centre as a beam on a bed that pushes and does not pull, bolts that pull and do not push, and the
//! wood as a beam between its formers.
//!
//! Cross-sections of the plate, and of the wood square to its span, stay straight. Derived: docs/method.md "The mount".

use super::lower::{LoweredLeg, PlateElasticity, plate_rigidity, round_off};
use crate::kernel::{
    Action, Beam, Frame, GAUSS_POINTS, Link, LinkEnd, LinkStrength, Rigidity, Section, Yielding,
};
use crate::model::{BasePlate, Gear, Grain, Leg, Mount, Side, SpanDirection, SpanEdges, WoodSpan};
use crate::section::PlateSection;
use crate::units::{Area, Length};
use std::f64::consts::FRAC_PI_4;
use std::ops::Range;
use uom::si::area::square_meter;
use uom::si::force::newton;
use uom::si::length::{meter, millimeter};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;

/// Longest panel of the bed along the flat, relative to it. chosen: with panels five times shorter the bolts' pulls move by
/// 0.6 % on backed wood, and by 3.4 % at most where the wood bends between bolts.
const LONGEST_ALONG: f64 = 0.25;

/// Longest panel across the plate where the wood bends that way, relative to the plate's width. chosen: as along.
const LONGEST_ACROSS: f64 = 0.5;

/// Places on the flat nearer than this share of it are one break between panels. chosen: 2 mm on a flat of 100 mm, a third of a
/// nut's flange; panels much shorter make beams so stiff that rounding shows.
const ONE_BREAK: f64 = 0.02;

/// How near an end of a line, as a share of it, a node may be. chosen: a fifth of what keeps a bolt a break of its own.
const NEAR_END: f64 = 0.004;

/// Places in a panel where the bed pushes, −1 to 1, and their shares of its length. Source: Abramowitz & Stegun, table 25.6
/// (Lobatto), n = 5, from memory; checked in the tests by what they integrate.
const PANEL: [(f64, f64); 5] = [
    (-1.0, 1.0 / 20.0),
    (-0.654_653_670_707_977, 49.0 / 180.0),
    (0.0, 16.0 / 45.0),
    (0.654_653_670_707_977, 49.0 / 180.0),
    (1.0, 1.0 / 20.0),
];

/// Places across a plate on wood that stays straight across it, and their shares of the width: both edges, where heels are, among
/// them. Source: the same, n = 7.
const ROWS: [(f64, f64); 7] = [
    (-1.0, 1.0 / 42.0),
    (-0.830_223_896_278_567, 0.138_413_023_680_783),
    (-0.468_848_793_470_714, 0.215_872_690_604_931),
    (0.0, 128.0 / 525.0),
    (0.468_848_793_470_714, 0.215_872_690_604_931),
    (0.830_223_896_278_567, 0.138_413_023_680_783),
    (1.0, 1.0 / 42.0),
];

/// Stiffness of the springs that keep a plate in sight which nothing else holds, relative to the bed's. chosen: on
/// 2000 random gears they carry less than a millionth of the largest force; ten times stiffer ones carry more on some.
const IN_SIGHT: f64 = 1e-11;

/// What of a bolt's sideways stiffness acts before its hole's play is used up: friction of a joint that just touches. chosen: small
/// beside the bolt and large beside nothing.
const IN_PLAY: f64 = 0.02;

/// Bolt length that stretches beyond plate and wood, in diameters: half of head and nut. chosen: common practice, no source.
const IN_HEAD_AND_NUT: f64 = 0.75;

/// A wood's modulus through its thickness or across its grain where the table has none, relative to that along the grain. Source:
/// USDA Wood Handbook, elastic ratios, the lower end (from memory).
const ACROSS: f64 = 0.05;

/// Modulus of a bolt whose class has none, Pa: that of steel. Source: FreeCAD's card S235JR (EN 10025).
const STEEL: f64 = 210e9;

/// Modulus through the thickness of a wood of which nothing is known, Pa: chosen: about that of balsa.
const SOFTEST: f64 = 1e8;

/// Shear modulus of a wood where the table has none, relative to the modulus along the grain. Source: EN 338 (from memory).
const SHEAR: f64 = 1.0 / 16.0;

/// A mount's members in the frame.
#[derive(Debug)]
pub(super) struct LoweredMount {
    /// The flat centre, port to starboard, as if it were a leg.
    pub(super) plate: LoweredLeg,
    /// Its nodes.
    nodes: Vec<usize>,
    pub(super) bed: Vec<Patch>,
    pub(super) bolts: Vec<LoweredBolt>,
    pub(super) wood: Option<LoweredWood>,
    /// Of a single bolt: the two springs that friction stands for, and their arm, m.
    pub(super) turn: Option<([usize; 2], f64)>,
}

/// A piece of the bed.
#[derive(Debug)]
pub(super) struct Patch {
    pub(super) link: usize,
    pub(super) at: [Length; 2],
    pub(super) area: Area,
}

/// A bolt's links.
#[derive(Debug)]
pub(super) struct LoweredBolt {
    pub(super) at: [Length; 2],
    pub(super) pull: usize,
    pub(super) pressed: usize,
    /// Links aft and to starboard, with the sign in which their tension counts.
    pub(super) shear: [Vec<(usize, f64)>; 2],
    pub(super) share: f64,
}

/// The wood's members.
#[derive(Debug)]
pub(super) struct LoweredWood {
    pub(super) breadth: Length,
    pub(super) depth: Length,
    pub(super) direction: SpanDirection,
    pub(super) nodes: Vec<usize>,
    /// Place of each node along the span.
    pub(super) places: Vec<Length>,
    pub(super) beams: Range<usize>,
    /// Indices of the two formers among the frame's clamped nodes.
    pub(super) formers: [usize; 2],
}

/// Builds a mount between the legs' roots; gives its members. Leaves the frame alone when the gear has none.
pub(super) fn add_mount(
    gear: &Gear,
    frame: &mut Frame,
    legs: &[LoweredLeg],
    elastic: PlateElasticity,
    yields: bool,
) -> Option<LoweredMount> {
    let (mount, base) = (gear.mount.as_ref()?, gear.base_plate()?);
    let grid = Grid::new(gear, mount, &base);
    let (plate, nodes) = add_plate(gear, &base, &grid, frame, legs, elastic, yields)?;
    let wood = mount.span.map(|span| add_wood(mount, &base, &grid, span, frame));
    let mut builder = Builder {
        through: through_modulus(mount),
        plane: 0.5 * base.thickness.get::<meter>(),
        mount,
        base,
        frame,
        nodes,
        wood,
    };
    let bed = builder.bed(&grid);
    let (bolts, turn) = builder.bolts();
    builder.keep_in_sight(&bed);
    let Builder { nodes, wood, .. } = builder;
    Some(LoweredMount { plate, nodes, bed, bolts, wood, turn })
}

impl LoweredMount {
    /// The plate's node nearest to a place on it, with the arm to there.
    pub(super) fn on_plate(&self, frame: &Frame, at: [Length; 2]) -> LinkEnd {
        end_at(&self.nodes, frame, point(at, 0.0))
    }

    /// The wood's node nearest to a place, or the place itself where the wood is backed.
    pub(super) fn on_wood(&self, frame: &Frame, at: [Length; 2]) -> LinkEnd {
        wood_end(self.wood.as_ref(), frame, point(at, 0.0))
    }
}

fn point([x, y]: [Length; 2], z: f64) -> [f64; 3] {
    [x.get::<meter>(), y.get::<meter>(), z]
}

fn end_at(nodes: &[usize], frame: &Frame, at: [f64; 3]) -> LinkEnd {
    let from = |n: usize| frame.nodes.get(n).copied().unwrap_or_default();
    let far = |n: usize| {
        let [x, y, _] = from(n);
        (x - at[0]).hypot(y - at[1])
    };
    match nodes.iter().copied().min_by(|a, b| far(*a).total_cmp(&far(*b))) {
        Some(node) => {
            let [x, y, z] = from(node);
            LinkEnd::Node { node, arm: [at[0] - x, at[1] - y, at[2] - z] }
        }
        None => LinkEnd::Ground(at),
    }
}

fn wood_end(wood: Option<&LoweredWood>, frame: &Frame, at: [f64; 3]) -> LinkEnd {
    let Some(wood) = wood else { return LinkEnd::Ground(at) };
    let along = if wood.direction == SpanDirection::ForeAndAft { at[0] } else { at[1] };
    let ends = wood.places.first().zip(wood.places.last());
    let inside = ends.is_some_and(|(a, b)| along > a.get::<meter>() && along < b.get::<meter>());
    // Over a former, or beyond it, nothing bends.
    if inside { end_at(inner(&wood.nodes), frame, at) } else { LinkEnd::Ground(at) }
}

/// Nodes that are not held by a former.
fn inner(nodes: &[usize]) -> &[usize] {
    nodes.get(1..nodes.len().saturating_sub(1)).unwrap_or_default()
}

/// Where the bed pushes: places along the flat and across it, m, each with the length it stands for.
struct Grid {
    along: Vec<(f64, f64)>,
    across: Vec<(f64, f64)>,
}

impl Grid {
    fn new(gear: &Gear, mount: &Mount, base: &BasePlate) -> Self {
        let [port, starboard] = base.flat.map(|y| y.get::<meter>());
        let half = 0.5 * base.width.get::<meter>();
        let anchors: Vec<f64> = gear
            .braces
            .iter()
            .filter_map(|b| b.base_at)
            .flat_map(|y| [-y.get::<meter>(), y.get::<meter>()])
            .collect();
        let bolts = mount.bolts.iter().map(|(_, y)| y.get::<meter>());
        let along =
            panels(&breaks(bolts.chain(anchors), port, starboard), LONGEST_ALONG * (starboard - port));
        let bends = mount.span.is_some_and(|span| span.direction == SpanDirection::ForeAndAft);
        let across = if bends {
            // Wires are anchored in the middle.
            let middle = gear.braces.iter().filter_map(|b| b.base_at).map(|_| 0.0);
            let bolts = mount.bolts.iter().map(|(x, _)| x.get::<meter>());
            panels(&breaks(bolts.chain(middle), -half, half), LONGEST_ACROSS * 2.0 * half)
        } else {
            ROWS.iter().map(|(row, share)| (row * half, share * 2.0 * half)).collect()
        };
        Self { along, across }
    }
}

/// Both ends of a line and the places on it, those that are nearly one made one.
fn breaks(places: impl Iterator<Item = f64>, from: f64, to: f64) -> Vec<f64> {
    let apart = ONE_BREAK * (to - from);
    let mut inside: Vec<f64> = places.filter(|p| *p > from + apart && *p < to - apart).collect();
    inside.sort_by(f64::total_cmp);
    let groups = inside.chunk_by(|a, b| b - a <= apart);
    let middles = groups.filter_map(|g| Some(0.5 * (g.first()? + g.last()?)));
    std::iter::once(from).chain(middles).chain([to]).collect()
}

/// Places in panels between breaks, each panel no longer than `longest`, with the length each place stands for.
fn panels(breaks: &[f64], longest: f64) -> Vec<(f64, f64)> {
    let mut places: Vec<(f64, f64)> = Vec::new();
    for pair in breaks.windows(2) {
        let &[from, to] = pair else { continue };
        let count = ((to - from) / longest - ONE_BREAK).ceil().max(1.0);
        let half = 0.5 * (to - from) / count;
        if half.is_nan() || half <= 0.0 {
            continue;
        }
        let mut middle = from + half;
        while middle < to {
            for (place, share) in PANEL {
                let (at, length) = (middle + place * half, share * 2.0 * half);
                match places.last_mut() {
                    // A panel begins where the one before it ended.
                    Some(last) if place == -1.0 => last.1 += length,
                    _ => places.push((at, length)),
                }
            }
            middle += 2.0 * half;
        }
    }
    places
}

/// Both ends of a line and the places between them that are not as good as at an end.
fn between(places: impl Iterator<Item = f64>, from: f64, to: f64) -> Vec<f64> {
    let near = NEAR_END * (to - from);
    let inner = places.filter(|p| *p > from + near && *p < to - near);
    std::iter::once(from).chain(inner).chain([to]).collect()
}

/// The flat centre as a beam across the aircraft, joined to the legs at its ends.
fn add_plate(
    gear: &Gear,
    base: &BasePlate,
    grid: &Grid,
    frame: &mut Frame,
    legs: &[LoweredLeg],
    elastic: PlateElasticity,
    yields: bool,
) -> Option<(LoweredLeg, Vec<usize>)> {
    let [port, starboard] = base.reach.map(|y| y.get::<meter>());
    if starboard - port <= 0.0 {
        return None;
    }
    let flat = grid.along.iter().map(|(y, _)| *y);
    let places = between(flat, port, starboard);
    let section = gear.plate.section_at(0.0);
    let rigidity = plate_rigidity(&section, elastic);
    let size = [section.width, section.thickness].map(|l| l.get::<meter>());
    let root_at = |y: f64| {
        let at = |l: &&LoweredLeg| (l.leg.root[1].get::<meter>() - y).abs() <= round_off(starboard - port);
        legs.iter().find(at).map(|l| l.root)
    };
    let mut nodes = Vec::with_capacity(places.len());
    for (i, &y) in places.iter().enumerate() {
        let end = i == 0 || i + 1 == places.len();
        nodes.push(root_at(y).filter(|_| end).unwrap_or_else(|| {
            frame.nodes.push([0.0, y, 0.0]);
            frame.nodes.len() - 1
        }));
    }
    let leg = Leg {
        side: Side::Centre,
        root: [Length::default(), base.reach[0], Length::default()],
        tip: [Length::default(), base.reach[1], Length::default()],
        along: [0.0, 1.0, 0.0],
        across: [1.0, 0.0, 0.0],
        through: [0.0, 0.0, -1.0],
    };
    let first = frame.beams.len();
    for pair in nodes.windows(2) {
        let &[start, end] = pair else { continue };
        frame.beams.push(Beam {
            start,
            end,
            axes: [leg.along, leg.across, leg.through],
            rigidity: [rigidity; GAUSS_POINTS.len()],
            hinged_end: false,
            start_section: 0,
            end_section: 0,
            yielding: yields.then_some(Yielding { law: 0, sizes: [size; GAUSS_POINTS.len()] }),
        });
    }
    let (root, tip) = (nodes.first().copied()?, nodes.last().copied()?);
    let plate = LoweredLeg {
        leg,
        root,
        tip,
        beams: first..frame.beams.len(),
        places: places.iter().map(|y| Length::new::<meter>(y - port)).collect(),
        uniform: true,
    };
    Some((plate, nodes))
}

fn through_modulus(mount: &Mount) -> f64 {
    let given = mount.wood.modulus_through.as_ref().map(|m| m.value);
    let along = mount.wood.band(mount.wood_thickness).and_then(|b| b.modulus_along.as_ref()).map(|m| m.value);
    given.or(along.map(|e| ACROSS * e)).map_or(SOFTEST, |e| e.get::<pascal>())
}

/// The wood as a beam between its formers, in the plane of its own middle.
fn add_wood(mount: &Mount, base: &BasePlate, grid: &Grid, span: WoodSpan, frame: &mut Frame) -> LoweredWood {
    let depth = mount.wood_depth();
    let [port, starboard] = base.reach;
    let fore = span.direction == SpanDirection::ForeAndAft;
    let breadth = span.breadth.unwrap_or(if fore { starboard - port } else { base.width });
    let half = 0.5 * span.length.get::<meter>();
    let pushed = if fore { &grid.across } else { &grid.along };
    let places = between(pushed.iter().map(|(p, _)| *p), -half, half);
    let height = 0.5 * (base.thickness + depth).get::<meter>();
    let section = PlateSection { width: breadth, thickness: depth };
    let rigidity = wood_rigidity(mount, span.grain, &section);
    let first_node = frame.nodes.len();
    for &p in &places {
        frame.nodes.push(if fore { [p, 0.0, height] } else { [0.0, p, height] });
    }
    // Stresses of wood are its checks' business: no perimeter.
    frame.sections.push(Section::new(Vec::new()));
    let none = frame.sections.len() - 1;
    let first = frame.beams.len();
    let last = places.len().saturating_sub(2);
    let axes = |forward: f64| {
        if fore {
            [[forward, 0.0, 0.0], [0.0, forward, 0.0], [0.0, 0.0, 1.0]]
        } else {
            [[0.0, forward, 0.0], [-forward, 0.0, 0.0], [0.0, 0.0, 1.0]]
        }
    };
    for i in 0..=last {
        let (a, b) = (first_node + i, first_node + i + 1);
        // A hinge is at a beam's end: the first one runs towards its former.
        let (start, end, axes) = if i == 0 { (b, a, axes(-1.0)) } else { (a, b, axes(1.0)) };
        frame.beams.push(Beam {
            start,
            end,
            axes,
            rigidity: [rigidity; GAUSS_POINTS.len()],
            hinged_end: span.edges == SpanEdges::Supported && (i == 0 || i == last),
            start_section: none,
            end_section: none,
            yielding: None,
        });
    }
    let held = frame.clamped.len();
    frame.clamped.extend([first_node, first_node + places.len() - 1]);
    LoweredWood {
        breadth,
        depth,
        direction: span.direction,
        nodes: (first_node..first_node + places.len()).collect(),
        places: places.iter().map(|p| Length::new::<meter>(*p)).collect(),
        beams: first..frame.beams.len(),
        formers: [held, held + 1],
    }
}

fn wood_rigidity(mount: &Mount, grain: Option<Grain>, section: &PlateSection) -> Rigidity {
    let band = mount.wood.band(mount.wood_thickness);
    let along = band.and_then(|b| b.modulus_along.as_ref()).map(|m| m.value.get::<pascal>());
    let across = band.and_then(|b| b.modulus_across.as_ref()).map(|m| m.value.get::<pascal>());
    let along = along.unwrap_or_else(|| through_modulus(mount) / ACROSS);
    let across = across.unwrap_or(ACROSS * along);
    let modulus = match grain {
        Some(Grain::Along) => along,
        Some(Grain::Across) => across,
        None => along.min(across),
    };
    let shear = mount.wood.shear_modulus.as_ref().map_or(SHEAR * along, |g| g.value.get::<pascal>());
    let [b, h] = [section.width, section.thickness].map(|l| l.get::<meter>());
    Rigidity {
        axial: modulus * b * h,
        torsion: shear * section.torsion_constant().value,
        bending_y: modulus * b * h.powi(3) / 12.0,
        bending_z: modulus * h * b.powi(3) / 12.0,
    }
}

/// What the links of a mount are built from.
struct Builder<'a> {
    mount: &'a Mount,
    base: BasePlate,
    frame: &'a mut Frame,
    /// Nodes of the flat centre.
    nodes: Vec<usize>,
    wood: Option<LoweredWood>,
    /// The wood's modulus through its thickness, Pa.
    through: f64,
    /// Height of the plane where plate and wood touch, m.
    plane: f64,
}

impl Builder<'_> {
    /// A link at a place from the wood to the plate.
    fn link(&mut self, at: [f64; 2], action: Action, stiffness: f64, rest_tension: f64) -> usize {
        let place = [at[0], at[1], self.plane];
        let from = wood_end(self.wood.as_ref(), self.frame, place);
        let to = end_at(&self.nodes, self.frame, place);
        self.frame.links.push(Link {
            from,
            to,
            action,
            stiffness,
            rest_tension,
            strength: LinkStrength::ELASTIC,
        });
        self.frame.links.len() - 1
    }

    /// The wood under the flat: it pushes where the plate comes nearer.
    fn bed(&mut self, grid: &Grid) -> Vec<Patch> {
        let per_area = self.through / self.mount.wood_depth().get::<meter>();
        let mut patches = Vec::new();
        for &(y, length) in &grid.along {
            for &(x, width) in &grid.across {
                let area = length * width;
                let link = self.link([x, y], Action::Stop([0.0, 0.0, 1.0]), per_area * area, 0.0);
                patches.push(Patch {
                    link,
                    at: [x, y].map(Length::new::<meter>),
                    area: Area::new::<square_meter>(area),
                });
            }
        }
        patches
    }

    fn bolts(&mut self) -> (Vec<LoweredBolt>, Option<([usize; 2], f64)>) {
        let mount = self.mount;
        let d = mount.bolt.nominal.get::<meter>();
        let depth = mount.wood_depth().get::<meter>();
        let modulus = mount.bolt_class.modulus.as_ref().map_or(STEEL, |m| m.value.get::<pascal>());
        let length = self.base.thickness.get::<meter>() + depth + IN_HEAD_AND_NUT * d;
        let pull = modulus * mount.bolt.stress_area().get::<square_meter>() / length;
        let flange = mount.nut_flange.map_or(2.0 * d, |f| f.get::<meter>()).max(1.1 * d);
        let pressed = self.through * FRAC_PI_4 * (flange * flange - d * d) / depth;
        let sideways = bolt_in_wood(mount);
        let play = 0.5 * (mount.hole_diameter() - mount.bolt.nominal).get::<meter>();
        let preload = mount.nominal_preload().get::<newton>();
        let alone = mount.bolts.len() == 1;
        let mut turn = None;
        let mut bolts = Vec::new();
        for (x, y) in &mount.bolts {
            let at = [x.get::<meter>(), y.get::<meter>()];
            let holds = self.link(at, Action::Stop([0.0, 0.0, -1.0]), pull, preload);
            let joint = self.link(at, Action::Stop([0.0, 0.0, 1.0]), pressed, preload);
            let mut shear = [Vec::new(), Vec::new()];
            for (axis, links) in shear.iter_mut().enumerate() {
                let direction = |sign: f64| if axis == 0 { [sign, 0.0, 0.0] } else { [0.0, sign, 0.0] };
                if alone && axis == 0 {
                    // Friction round the one bolt: two halves of its spring, a flange's radius apart.
                    let arm = 0.5 * flange;
                    let halves = [arm, -arm].map(|off| {
                        self.link([at[0], at[1] + off], Action::Spring(direction(1.0)), 0.5 * sideways, 0.0)
                    });
                    links.extend(halves.map(|l| (l, 1.0)));
                    turn = Some((halves, arm));
                } else if play > 0.0 {
                    for sign in [1.0, -1.0] {
                        let stop = Action::Stop(direction(sign));
                        links.push((self.link(at, stop, sideways, -sideways * play), sign));
                    }
                    links.push((self.link(at, Action::Spring(direction(1.0)), IN_PLAY * sideways, 0.0), 1.0));
                } else {
                    links.push((self.link(at, Action::Spring(direction(1.0)), sideways, 0.0), 1.0));
                }
            }
            bolts.push(LoweredBolt {
                at: [*x, *y],
                pull: holds,
                pressed: joint,
                shear,
                share: pull / (pull + pressed),
            });
        }
        (bolts, turn)
    }

    /// Weak springs at the corners: however the plate lifts, its equations can be solved.
    fn keep_in_sight(&mut self, bed: &[Patch]) {
        let whole: f64 = bed.iter().filter_map(|p| self.frame.links.get(p.link)).map(|l| l.stiffness).sum();
        let half = 0.5 * self.base.width.get::<meter>();
        for y in self.base.reach.map(|y| y.get::<meter>()) {
            for x in [-half, half] {
                self.link([x, y], Action::Spring([0.0, 0.0, 1.0]), IN_SIGHT * whole, 0.0);
            }
        }
    }
}

/// Sideways stiffness of a bolt through metal into wood, N/m: 2 ρ_m^1.5 d / 23 N/mm, ρ_m in kg/m³ and d in mm. Source: EN
/// 1995-1-1, table 7.1 and 7.1(3) for steel on timber (secondary; for bolts from memory).
fn bolt_in_wood(mount: &Mount) -> f64 {
    let density = mount.wood.density.value.get::<kilogram_per_cubic_meter>();
    2.0 * density.powf(1.5) * mount.bolt.nominal.get::<millimeter>() / 23.0 * 1e3
}

#[cfg(test)]
mod tests {
    use super::{PANEL, ROWS, breaks, panels};

    /// What a rule of shares gives for the mean of x to an even power over −1 to 1; the true one is 1 / (power + 1).
    fn mean(rule: &[(f64, f64)], power: i32) -> f64 {
        rule.iter().map(|(x, share)| share * x.powi(power)).sum()
    }

    #[test]
    fn lobatto_rules_integrate_what_they_should() {
        for (rule, most) in [(&ROWS[..], 10), (&PANEL[..], 6)] {
            for power in (0..=most).step_by(2) {
                let off = mean(rule, power) - 1.0 / f64::from(power + 1);
                assert!(off.abs() < 1e-14, "{} places, x^{power}: off by {off:e}", rule.len());
            }
            // The next power is beyond the rule: its places are where they should be, not merely enough.
            assert!((mean(rule, most + 2) - 1.0 / f64::from(most + 3)).abs() > 1e-4);
        }
    }

    #[test]
    fn panels_cover_the_line_once() {
        let line = breaks([-0.02, 0.021, 0.0215, 0.2].into_iter(), -0.06, 0.06);
        assert_eq!(line.len(), 4, "two places are as good as one and one is off the line: {line:?}");
        let places = panels(&line, 0.03);
        let sum = |power: i32| places.iter().map(|(y, l)| l * y.powi(power)).sum::<f64>();
        assert!((sum(0) - 0.12).abs() < 1e-15);
        assert!((sum(2) - 2.0 * 0.06_f64.powi(3) / 3.0).abs() < 1e-18);
        assert!((sum(4) - 2.0 * 0.06_f64.powi(5) / 5.0).abs() < 1e-21);
        assert!(places.is_sorted_by(|a, b| a.0 < b.0), "each place once, in order");
    }
}
