//! The equations of a frame: assembly of its members' stiffness, factorisation, solution.

use super::beam::Element;
use super::block::{Blocks, Factored, Pattern};
use super::frame::{Frame, FrameError, LinkEnd};
use nalgebra::{Matrix6, Vector3, Vector6};

/// Share of an open stop's stiffness that a factor keeps. A frame that rests on its stops has none without them: what is reckoned
/// with such a factor is a direction to search in, and refinement takes the trace out of what balances. chosen: small beside what acts and large
/// beside rounding; random mounts then balance to 1e-6, as the tests hold.
const LEFT_OPEN: f64 = 1e-6;

/// A link made ready.
#[derive(Debug, Clone)]
pub(super) struct Tie {
    /// For each end on a node: the node, and the force and moment on it per unit of tension.
    pub(super) ends: [Option<(usize, Vector6<f64>)>; 2],
    /// Of a cord: the unit vector from the first end to the second, and the distance.
    pub(super) line: Option<(Vector3<f64>, f64)>,
    pub(super) both_ways: bool,
    pub(super) stiffness: f64,
    pub(super) rest: f64,
}

impl Tie {
    fn new(frame: &Frame, index: usize) -> Self {
        let link = &frame.links[index];
        let along = Vector3::from(frame.place(link.to)) - Vector3::from(frame.place(link.from));
        let fixed = link.action.direction();
        let direction = fixed.map_or_else(|| along.normalize(), Vector3::from);
        let pulled = |end, toward: Vector3<f64>| match end {
            LinkEnd::Node { node, arm } => {
                let turn = Vector3::from(arm).cross(&toward);
                Some((node, Vector6::new(toward.x, toward.y, toward.z, turn.x, turn.y, turn.z)))
            }
            LinkEnd::Ground(_) => None,
        };
        Self {
            ends: [pulled(link.from, direction), pulled(link.to, -direction)],
            line: fixed.is_none().then(|| (direction, along.norm())),
            both_ways: link.action.both_ways(),
            stiffness: link.stiffness,
            rest: link.rest_tension,
        }
    }

    /// Tension before any load.
    pub(super) const fn at_rest(&self) -> f64 {
        self.least(self.rest)
    }

    /// A tension, or nothing when it can't push.
    pub(super) const fn least(&self, tension: f64) -> f64 {
        if self.both_ways { tension } else { tension.max(0.0) }
    }

    /// Growth of the distance between the ends.
    pub(super) fn elongation(&self, u: &[Vector6<f64>]) -> f64 {
        -self.ends.iter().flatten().map(|(node, pull)| pull.dot(&u[*node])).sum::<f64>()
    }

    /// Adds to `forces` what the link puts on the nodes when it pulls with `tension`.
    pub(super) fn pull(&self, tension: f64, forces: &mut [Vector6<f64>]) {
        for (node, pull) in self.ends.iter().flatten() {
            forces[*node] += tension * pull;
        }
    }
}

/// The equations of a frame, without loads.
#[derive(Debug)]
pub(super) struct System {
    pub(super) elements: Vec<Element>,
    pub(super) ties: Vec<Tie>,
    /// Number of each node among the free ones; `None` when it is clamped.
    free: Vec<Option<usize>>,
    pattern: Pattern,
    /// Stiffness of the beams alone.
    beams: Blocks,
}

/// A factorised system for one set of taut links.
#[derive(Debug)]
pub(super) struct Factor {
    pub(super) taut: Vec<bool>,
    factored: Factored,
}

impl System {
    pub(super) fn new(frame: &Frame) -> Result<Self, FrameError> {
        frame.check()?;
        let mut free = vec![Some(0); frame.nodes.len()];
        for &n in &frame.clamped {
            free[n] = None;
        }
        let mut count = 0;
        for number in free.iter_mut().flatten() {
            *number = count;
            count += 1;
        }
        let elements: Vec<Element> =
            frame.beams.iter().map(|b| Element::new(b, frame.nodes[b.start], frame.nodes[b.end])).collect();
        let ties: Vec<Tie> = (0..frame.links.len()).map(|i| Tie::new(frame, i)).collect();

        let of_beams = elements.iter().filter_map(|e| Some((free[e.start]?, free[e.end]?)));
        let of_ties = ties.iter().filter_map(|t| Some((free[t.ends[0]?.0]?, free[t.ends[1]?.0]?)));
        let pattern = Pattern::new(count, of_beams.chain(of_ties));
        let mut beams = pattern.zeros();
        for e in &elements {
            let [start, across, end] = e.blocks();
            let (s, t) = (free[e.start], free[e.end]);
            for (row, column, block) in [(s, s, start), (t, s, across), (t, t, end)] {
                if let (Some(row), Some(column)) = (row, column) {
                    pattern.add(&mut beams, row, column, &block);
                }
            }
        }
        Ok(Self { elements, ties, free, pattern, beams })
    }

    /// Factorises the frame with the given links taut; stops that are open leave a trace, see [`LEFT_OPEN`].
    pub(super) fn factor(&self, taut: &[bool]) -> Result<Factor, FrameError> {
        let mut stiffness = self.beams.clone();
        for (tie, on) in self.ties.iter().zip(taut) {
            let share = match (on, tie.line) {
                (true, _) => 1.0,
                (false, None) => LEFT_OPEN,
                (false, Some(_)) => continue,
            };
            let ends = tie.ends.map(|end| end.and_then(|(node, pull)| Some((self.free[node]?, pull))));
            let block = |a: &Vector6<f64>, b: &Vector6<f64>| -> Matrix6<f64> {
                share * tie.stiffness * a * b.transpose()
            };
            for (node, pull) in ends.iter().flatten() {
                self.pattern.add(&mut stiffness, *node, *node, &block(pull, pull));
            }
            if let [Some((a, first)), Some((b, second))] = &ends {
                self.pattern.add(&mut stiffness, *a, *b, &block(first, second));
            }
        }
        let factored =
            self.pattern.factor(stiffness).filter(|f| f.negative() == 0).ok_or(FrameError::Mechanism)?;
        Ok(Factor { taut: taut.to_vec(), factored })
    }

    /// Solves for the displacements of all nodes (zero at clamped ones).
    pub(super) fn solve(&self, factor: &Factor, forces: &[Vector6<f64>]) -> Vec<Vector6<f64>> {
        self.solve_blocks(&factor.factored, forces)
    }

    /// An empty matrix on the frame's pattern.
    pub(super) fn zeros(&self) -> Blocks {
        self.pattern.zeros()
    }

    /// Adds a block at a row and a column of nodes, unless one of them is clamped; see [`Pattern::add`].
    pub(super) fn add(&self, to: &mut Blocks, row: usize, column: usize, block: &Matrix6<f64>) {
        if let (Some(row), Some(column)) = (self.free[row], self.free[column]) {
            self.pattern.add(to, row, column, block);
        }
    }

    /// Factorises any matrix on the frame's pattern.
    pub(super) fn factor_blocks(&self, matrix: Blocks) -> Option<Factored> {
        self.pattern.factor(matrix)
    }

    /// Solves with one for the displacements of all nodes (zero at clamped ones).
    pub(super) fn solve_blocks(&self, factor: &Factored, forces: &[Vector6<f64>]) -> Vec<Vector6<f64>> {
        let right: Vec<Vector6<f64>> =
            forces.iter().zip(&self.free).filter(|(_, n)| n.is_some()).map(|(f, _)| *f).collect();
        let solved = self.pattern.solve(factor, &right);
        self.free.iter().map(|number| number.map_or_else(Vector6::zeros, |n| solved[n])).collect()
    }

    /// Force and moment that holds the beams at these displacements, at every node.
    pub(super) fn beam_forces(&self, u: &[Vector6<f64>]) -> Vec<Vector6<f64>> {
        let mut forces = vec![Vector6::zeros(); u.len()];
        for e in &self.elements {
            let end = e.end_force(&u[e.start], &u[e.end]);
            forces[e.start] += e.start_force(&end);
            forces[e.end] += end;
        }
        forces
    }

    /// Whether a node is free to move.
    pub(super) fn is_free(&self, node: usize) -> bool {
        self.free[node].is_some()
    }
}
