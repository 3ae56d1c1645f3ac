//! Frames of uniform rods for the solver itself, and how a test follows them.
#![allow(dead_code, reason = "each test binary uses a part of it")]

use crate::common::{add, cross, dot};
use gearleg::kernel::{
    Beam, Configuration, Frame, GAUSS_POINTS, Law, Link, LinkEnd, LinkStrength, Load, NodalLoad, Rigidity,
    Section, Statics, Yielding,
};

/// A uniform rod: rigidities, the direction of its section's y axis, and how it yields.
#[derive(Debug, Clone)]
pub(crate) struct Rod {
    pub(crate) rigidity: Rigidity,
    pub(crate) across: [f64; 3],
    /// Law, and width and thickness, m.
    pub(crate) yielding: Option<(Law, [f64; 2])>,
    pub(crate) hinged_end: bool,
}

/// How much stiffer a rod is against leaving its plane than within it.
const OUT_OF_PLANE: f64 = 100.0;

impl Rod {
    /// A rod that bends in the plane of x and z and hardly out of it: EA in N, EI in N·m².
    pub(crate) fn plane(axial: f64, bending: f64) -> Self {
        let stiff = OUT_OF_PLANE * bending;
        Self {
            rigidity: Rigidity { axial, torsion: stiff, bending_y: bending, bending_z: stiff },
            across: [0.0, 1.0, 0.0],
            yielding: None,
            hinged_end: false,
        }
    }

    /// A rectangle of a metal of this modulus, Pa: width along y, thickness in the plane of x and z, m.
    pub(crate) fn rectangle(young: f64, width: f64, thickness: f64) -> Self {
        let area = width * thickness;
        let flat = young * area * thickness.powi(2) / 12.0;
        let edge = young * area * width.powi(2) / 12.0;
        Self {
            rigidity: Rigidity { axial: young * area, torsion: 0.5 * flat, bending_y: flat, bending_z: edge },
            ..Self::plane(1.0, 1.0)
        }
    }

    /// The same rectangle with a law of yielding.
    pub(crate) fn yields(mut self, law: Law, width: f64, thickness: f64) -> Self {
        self.yielding = Some((law, [width, thickness]));
        self
    }

    /// The same with its far end hinged.
    pub(crate) fn hinged(&self) -> Self {
        Self { hinged_end: true, ..self.clone() }
    }
}

/// Puts a rod between two nodes.
pub(crate) fn join(frame: &mut Frame, rod: &Rod, start: usize, end: usize) {
    if frame.sections.is_empty() {
        frame.sections.push(Section::new(Vec::new()));
    }
    let along = unit(add(frame.nodes[end], -1.0, frame.nodes[start]));
    let across = unit(add(rod.across, -dot(rod.across, along), along));
    let yielding = rod.yielding.as_ref().map(|(law, size)| {
        let known = frame.laws.iter().position(|l| l == law).unwrap_or_else(|| {
            frame.laws.push(law.clone());
            frame.laws.len() - 1
        });
        Yielding { law: known, sizes: [*size; GAUSS_POINTS.len()] }
    });
    frame.beams.push(Beam {
        start,
        end,
        axes: [along, across, cross(along, across)],
        rigidity: [rod.rigidity; GAUSS_POINTS.len()],
        hinged_end: rod.hinged_end,
        start_section: 0,
        end_section: 0,
        yielding,
    });
}

/// Puts rods from node to new node through these places; the new nodes. Only the last of a hinged rod is hinged.
pub(crate) fn lay(frame: &mut Frame, rod: &Rod, from: usize, places: &[[f64; 3]]) -> Vec<usize> {
    let mut at = from;
    let plain = Rod { hinged_end: false, ..rod.clone() };
    let mut laid = Vec::new();
    for (i, place) in places.iter().enumerate() {
        frame.nodes.push(*place);
        let next = frame.nodes.len() - 1;
        join(frame, if i + 1 == places.len() { rod } else { &plain }, at, next);
        laid.push(next);
        at = next;
    }
    laid
}

/// Places from one end of a line to the other at these shares of it, the first place left out.
pub(crate) fn between(from: [f64; 3], to: [f64; 3], shares: &[f64]) -> Vec<[f64; 3]> {
    shares.iter().map(|s| add(from, *s, add(to, -1.0, from))).collect()
}

/// Equal shares, 1/n to 1.
pub(crate) fn evenly(n: u32) -> Vec<f64> {
    (1..=n).map(|i| f64::from(i) / f64::from(n)).collect()
}

/// A straight cantilever along x from a clamp at the origin, and its last node.
pub(crate) fn cantilever(rod: &Rod, length: f64, elements: u32) -> (Frame, usize) {
    let mut frame = Frame { nodes: vec![[0.0; 3]], clamped: vec![0], ..Frame::default() };
    let laid = lay(&mut frame, rod, 0, &between([0.0; 3], [length, 0.0, 0.0], &evenly(elements)));
    (frame, laid[laid.len() - 1])
}

/// A wire from a node to a fixed place, that stays elastic.
pub(crate) fn wire(node: usize, to: [f64; 3], stiffness: f64, rest_tension: f64) -> Link {
    Link {
        from: LinkEnd::Node { node, arm: [0.0; 3] },
        to: LinkEnd::Ground(to),
        action: gearleg::kernel::Action::Cord,
        stiffness,
        rest_tension,
        strength: LinkStrength::ELASTIC,
    }
}

pub(crate) fn push(node: usize, load: [f64; 6]) -> Load {
    Load { arms: Vec::new(), nodal: vec![NodalLoad { node, load }] }
}

/// Displacement and rotation vector of a node.
pub(crate) fn moved(statics: &Statics, c: &Configuration, load: &Load, node: usize) -> [f64; 6] {
    statics.solution(c, load).displacements[node]
}

/// The largest multiple that a frame holds, to this share of it: `first` is within the multiple and `refused` beyond.
pub(crate) fn limit(statics: &Statics, load: &Load, first: f64, mut refused: f64, relative: f64) -> f64 {
    let mut held = statics.at_rest();
    statics.hold(&mut held, load, first).expect("it holds so much");
    assert!(statics.hold(&mut held.clone(), load, refused).is_err(), "{refused} is refused");
    while refused - held.multiple() > relative * refused {
        let middle = 0.5 * (held.multiple() + refused);
        let mut tried = held.clone();
        if statics.hold(&mut tried, load, middle).is_err() {
            refused = middle;
        }
        held = tried;
    }
    held.multiple()
}

/// The root of a function between two places of different sign.
pub(crate) fn root(f: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    let below = f(low).is_sign_negative();
    assert_ne!(below, f(high).is_sign_negative(), "a root lies between");
    while high - low > 1e-14 * high.abs() {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if f(middle).is_sign_negative() == below {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

fn unit(v: [f64; 3]) -> [f64; 3] {
    let size = dot(v, v).sqrt();
    v.map(|c| c / size)
}

/// Moves a configuration along its load by a distance, in strides that are halved where one is not found, down to a thousandth.
pub(crate) fn advanced(statics: &Statics, c: &mut Configuration, load: &Load, distance: f64, strides: u32) {
    let stride = distance / f64::from(strides);
    let (mut gone, mut step) = (0.0, stride);
    while (distance - gone).abs() > 1e-9 * stride.abs() {
        let next = if step.abs() < (distance - gone).abs() { step } else { distance - gone };
        if let Some(found) = statics.advance(c, load, next) {
            *c = found;
            gone += next;
            step = if (2.0 * step).abs() < stride.abs() { 2.0 * step } else { stride };
        } else {
            step = 0.5 * next;
            assert!(step.abs() > 1e-3 * stride.abs(), "{gone} of {distance} is found, at {}", c.multiple());
        }
    }
}
