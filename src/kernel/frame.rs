//! What the solver is given: nodes, beams, one-sided links.

use super::beam::{GAUSS_COUNT, Rigidity};
use super::{Law, Section, Six};
use thiserror::Error;

/// A frame. Node positions in m; supports are clamped in all six directions.
#[derive(Debug, Clone, Default)]
pub struct Frame {
    /// Node positions, m.
    pub nodes: Vec<[f64; 3]>,
    /// Nodes held in all six directions.
    pub clamped: Vec<usize>,
    /// Beams between nodes.
    pub beams: Vec<Beam>,
    /// One-sided links.
    pub links: Vec<Link>,
    /// Sections that beams refer to for stresses.
    pub sections: Vec<Section>,
    /// Laws that beams refer to for yielding.
    pub laws: Vec<Law>,
}

/// A straight beam from `start` to `end`.
#[derive(Debug, Clone)]
pub struct Beam {
    /// Node where it starts.
    pub start: usize,
    /// Node where it ends.
    pub end: usize,
    /// Local axes as unit vectors: along the beam, and the two principal axes of its section, right-handed.
    pub axes: [[f64; 3]; 3],
    /// Rigidities at the Gauss points [`super::GAUSS_POINTS`], start to end.
    pub rigidity: [Rigidity; GAUSS_COUNT],
    /// Whether the joint at `end` carries no bending moment (it still carries twist about the beam's line).
    pub hinged_end: bool,
    /// Index of the section at `start`, for stresses.
    pub start_section: usize,
    /// Index of the section at `end`, for stresses.
    pub end_section: usize,
    /// How its sections yield; `None` for a beam that stays elastic.
    pub yielding: Option<Yielding>,
}

/// How the sections of a beam yield: rectangles of one metal, whose rigidities are those the beam has.
#[derive(Debug, Clone, PartialEq)]
pub struct Yielding {
    /// Index of the law in [`Frame::laws`].
    pub law: usize,
    /// Width along local y and thickness along local z at the Gauss points, m.
    pub sizes: [[f64; 2]; GAUSS_COUNT],
}

/// Where a link ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LinkEnd {
    /// At a place that moves with a node as if by a rigid arm from it, m.
    Node {
        /// The node.
        node: usize,
        /// From the node to the place.
        arm: [f64; 3],
    },
    /// At a fixed place, m.
    Ground([f64; 3]),
}

/// A link between two places: tension = `rest_tension` + `stiffness` × elongation, and never less than nothing unless it acts
/// both ways.
#[derive(Debug, Clone)]
pub struct Link {
    /// One end.
    pub from: LinkEnd,
    /// The other.
    pub to: LinkEnd,
    /// How it acts.
    pub action: Action,
    /// Force for its elongation, N/m; of a wire E A / L.
    pub stiffness: f64,
    /// Tension before any load, N. Negative: the pull it is short of acting, −stiffness × slack.
    pub rest_tension: f64,
    /// What it does beyond its elastic range, which small displacements leave out.
    pub strength: LinkStrength,
}

/// How a link acts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Action {
    /// A cord: pulls its ends together along the line between them. Its rest tension is what it has in the finished frame: all
    /// else gives way to it before displacements are counted.
    Cord,
    /// A stop: keeps its second end from moving away from the first along a fixed direction, a unit vector, and lets it come
    /// nearer. Its rest tension is what it has before any cord is tightened.
    Stop([f64; 3]),
    /// The same both ways: a spring.
    Spring([f64; 3]),
}

impl Action {
    /// The fixed direction; `None` for a cord.
    #[must_use]
    pub const fn direction(self) -> Option<[f64; 3]> {
        match self {
            Self::Cord => None,
            Self::Stop(direction) | Self::Spring(direction) => Some(direction),
        }
    }

    /// Whether it pushes as well as it pulls.
    #[must_use]
    pub const fn both_ways(self) -> bool {
        matches!(self, Self::Spring(_))
    }
}

/// Where a link yields and breaks, N; infinite where nothing is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinkStrength {
    /// Tension at which it begins to yield.
    pub yields: f64,
    /// Stiffness beyond, N/m.
    pub stiffness_beyond: f64,
    /// Tension at which it breaks or its end lets go.
    pub breaks: f64,
}

impl LinkStrength {
    /// A link that stays elastic whatever its tension.
    pub const ELASTIC: Self = Self { yields: f64::INFINITY, stiffness_beyond: 0.0, breaks: f64::INFINITY };
}

/// A force and moment on a node, N and N·m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NodalLoad {
    /// Which node.
    pub node: usize,
    /// Force and moment in the frame's axes.
    pub load: Six,
}

/// A frame that can't be solved, and the member at fault.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum FrameError {
    /// A number that is not finite, or a rigidity or stiffness that is not positive.
    #[error("{what} {index} has a value that is not a positive finite number")]
    NotFinite {
        /// Kind of member.
        what: &'static str,
        /// Its index.
        index: usize,
    },
    /// An index that points nowhere.
    #[error("{what} {index} refers to something that is not in the frame")]
    BadIndex {
        /// Kind of member.
        what: &'static str,
        /// Its index.
        index: usize,
    },
    /// A member whose ends coincide.
    #[error("{what} {index} has no length")]
    NoLength {
        /// Kind of member.
        what: &'static str,
        /// Its index.
        index: usize,
    },
    /// The frame can move without any member being strained.
    #[error("the frame is a mechanism: it can move freely")]
    Mechanism,
}

impl Frame {
    /// Position of a link's end, m.
    #[must_use]
    pub(crate) fn place(&self, end: LinkEnd) -> [f64; 3] {
        match end {
            LinkEnd::Node { node, arm } => {
                let [x, y, z] = self.nodes[node];
                [x + arm[0], y + arm[1], z + arm[2]]
            }
            LinkEnd::Ground(p) => p,
        }
    }

    /// Checks every index and number.
    ///
    /// # Errors
    /// Names the first member at fault.
    pub fn check(&self) -> Result<(), FrameError> {
        let bad = |what, index| Err(FrameError::NotFinite { what, index });
        let nodes = self.nodes.len();
        for (index, p) in self.nodes.iter().enumerate() {
            if !p.iter().all(|c| c.is_finite()) {
                return bad("node", index);
            }
        }
        if let Some(index) = self.clamped.iter().position(|&n| n >= nodes) {
            return Err(FrameError::BadIndex { what: "support", index });
        }
        for (index, b) in self.beams.iter().enumerate() {
            if b.start >= nodes
                || b.end >= nodes
                || b.start_section >= self.sections.len()
                || b.end_section >= self.sections.len()
            {
                return Err(FrameError::BadIndex { what: "beam", index });
            }
            let sound = b.rigidity.iter().all(|r| {
                [r.axial, r.torsion, r.bending_y, r.bending_z].iter().all(|v| v.is_finite() && *v > 0.0)
            });
            if let Some(y) = &b.yielding {
                if y.law >= self.laws.len() {
                    return Err(FrameError::BadIndex { what: "beam", index });
                }
                if !y.sizes.iter().flatten().all(|v| v.is_finite() && *v > 0.0) {
                    return bad("beam", index);
                }
            }
            if !sound || !b.axes.iter().flatten().all(|c| c.is_finite()) {
                return bad("beam", index);
            }
            if self.nodes[b.start] == self.nodes[b.end] {
                return Err(FrameError::NoLength { what: "beam", index });
            }
        }
        for (index, l) in self.links.iter().enumerate() {
            for end in [l.from, l.to] {
                match end {
                    LinkEnd::Node { node, .. } if node >= nodes => {
                        return Err(FrameError::BadIndex { what: "link", index });
                    }
                    LinkEnd::Node { arm: p, .. } | LinkEnd::Ground(p) if !p.iter().all(|c| c.is_finite()) => {
                        return bad("link", index);
                    }
                    _ => {}
                }
            }
            let LinkStrength { yields, stiffness_beyond, breaks } = l.strength;
            let strong = yields > 0.0 && breaks > 0.0 && (0.0..=l.stiffness).contains(&stiffness_beyond);
            if !(l.stiffness.is_finite() && l.stiffness > 0.0 && l.rest_tension.is_finite() && strong) {
                return bad("link", index);
            }
            if !l.action.direction().iter().flatten().all(|c| c.is_finite()) {
                return bad("link", index);
            }
            if l.action == Action::Cord && self.place(l.from) == self.place(l.to) {
                return Err(FrameError::NoLength { what: "link", index });
            }
        }
        Ok(())
    }
}
