//! The sparse equations: assembly on a fixed pattern, factorisation, and the factors already made.

use super::beam::Element;
use super::frame::{Frame, FrameError, LinkEnd};
use faer::prelude::Solve;
use faer::sparse::linalg::solvers::{Llt, SymbolicLlt};
use faer::sparse::{Argsort, Pair, SparseColMat, SymbolicSparseColMat};
use faer::{Mat, Side};
use nalgebra::{Vector3, Vector6};

/// A one-sided link made ready.
#[derive(Debug, Clone)]
pub(super) struct Tie {
    /// Nodes at both ends; `None` on the ground.
    pub(super) ends: [Option<usize>; 2],
    /// Unit vector from the first end to the second.
    pub(super) direction: Vector3<f64>,
    pub(super) stiffness: f64,
    pub(super) rest: f64,
}

impl Tie {
    fn new(frame: &Frame, index: usize) -> Self {
        let link = &frame.links[index];
        let node = |end| match end {
            LinkEnd::Node(n) => Some(n),
            LinkEnd::Ground(_) => None,
        };
        let along = Vector3::from(frame.place(link.to)) - Vector3::from(frame.place(link.from));
        Self {
            ends: [node(link.from), node(link.to)],
            direction: along.normalize(),
            stiffness: link.stiffness,
            rest: link.rest_tension,
        }
    }

    /// Growth of the distance between the ends.
    pub(super) fn elongation(&self, u: &[Vector6<f64>]) -> f64 {
        let at = |end: Option<usize>| end.map_or(0.0, |n| self.direction.dot(&u[n].fixed_rows::<3>(0)));
        at(self.ends[1]) - at(self.ends[0])
    }

    /// Adds to `forces` what the link puts on the nodes when it pulls with `tension`.
    pub(super) fn pull(&self, tension: f64, forces: &mut [Vector6<f64>]) {
        for (end, sign) in [(self.ends[0], 1.0), (self.ends[1], -1.0)] {
            if let Some(n) = end {
                let mut top = forces[n].fixed_rows_mut::<3>(0);
                top += sign * tension * self.direction;
            }
        }
    }
}

/// The equations of a frame, without loads.
#[derive(Debug)]
pub(super) struct System {
    pub(super) elements: Vec<Element>,
    pub(super) ties: Vec<Tie>,
    /// First unknown of each node; `None` when it is clamped.
    unknown: Vec<Option<usize>>,
    unknowns: usize,
    pattern: SymbolicSparseColMat<usize>,
    order: Argsort<usize>,
    symbolic: SymbolicLlt<usize>,
    /// Values of the beams in the order of the pattern's entries; the links' follow.
    beam_values: Vec<f64>,
}

/// A factorised system for one set of taut links.
#[derive(Debug)]
pub(super) struct Factor {
    pub(super) taut: Vec<bool>,
    llt: Llt<usize, f64>,
}

impl System {
    pub(super) fn new(frame: &Frame) -> Result<Self, FrameError> {
        frame.check()?;
        let mut unknown = vec![Some(0); frame.nodes.len()];
        for &n in &frame.clamped {
            unknown[n] = None;
        }
        let mut unknowns = 0;
        for slot in unknown.iter_mut().flatten() {
            *slot = unknowns;
            unknowns += 6;
        }
        let elements: Vec<Element> =
            frame.beams.iter().map(|b| Element::new(b, frame.nodes[b.start], frame.nodes[b.end])).collect();
        let ties: Vec<Tie> = (0..frame.links.len()).map(|i| Tie::new(frame, i)).collect();

        let mut entries = Vec::new();
        let mut beam_values = Vec::new();
        for e in &elements {
            let [ss, es, ee] = e.blocks();
            let (s, t) = (unknown[e.start], unknown[e.end]);
            for (rows, columns, block) in [(s, s, ss), (t, s, es), (t, t, ee)] {
                if let (Some(row), Some(column)) = (rows, columns) {
                    for i in 0..6 {
                        for j in 0..6 {
                            push_lower(
                                &mut entries,
                                &mut beam_values,
                                row + i,
                                column + j,
                                block[(i, j)],
                                rows == columns,
                            );
                        }
                    }
                }
            }
        }
        let mut unused = Vec::new();
        for tie in &ties {
            for_tie(tie, &unknown, |row, column, value| {
                entries.push(Pair::new(row, column));
                unused.push(value);
            });
        }
        let (pattern, order) = SymbolicSparseColMat::try_new_from_indices(unknowns, unknowns, &entries)
            .map_err(|_| FrameError::Mechanism)?;
        let symbolic =
            SymbolicLlt::try_new(pattern.as_ref(), Side::Lower).map_err(|_| FrameError::Mechanism)?;
        Ok(Self { elements, ties, unknown, unknowns, pattern, order, symbolic, beam_values })
    }

    /// Factorises the frame with the given links taut.
    pub(super) fn factor(&self, taut: &[bool]) -> Result<Factor, FrameError> {
        let mut values = self.beam_values.clone();
        for (tie, &on) in self.ties.iter().zip(taut) {
            let share = if on { 1.0 } else { 0.0 };
            for_tie(tie, &self.unknown, |_, _, value| values.push(share * value));
        }
        let matrix = SparseColMat::new_from_argsort(self.pattern.clone(), &self.order, &values)
            .map_err(|_| FrameError::Mechanism)?;
        let llt = Llt::try_new_with_symbolic(self.symbolic.clone(), matrix.as_ref(), Side::Lower)
            .map_err(|_| FrameError::Mechanism)?;
        Ok(Factor { taut: taut.to_vec(), llt })
    }

    /// Solves for the displacements of all nodes (zero at clamped ones).
    pub(super) fn solve(&self, factor: &Factor, forces: &[Vector6<f64>]) -> Vec<Vector6<f64>> {
        let mut column = Mat::<f64>::zeros(self.unknowns, 1);
        for (force, slot) in forces.iter().zip(&self.unknown) {
            if let Some(first) = slot {
                for i in 0..6 {
                    column[(first + i, 0)] = force[i];
                }
            }
        }
        factor.llt.solve_in_place(column.as_mut());
        self.unknown
            .iter()
            .map(|slot| match slot {
                Some(first) => Vector6::from_fn(|i, _| column[(first + i, 0)]),
                None => Vector6::zeros(),
            })
            .collect()
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
        self.unknown[node].is_some()
    }
}

fn push_lower(
    entries: &mut Vec<Pair<usize, usize>>,
    values: &mut Vec<f64>,
    row: usize,
    column: usize,
    value: f64,
    diagonal_block: bool,
) {
    // Off-diagonal blocks are stored once; the factorisation reads the lower triangle only.
    if row >= column {
        entries.push(Pair::new(row, column));
        values.push(value);
    } else if !diagonal_block {
        entries.push(Pair::new(column, row));
        values.push(value);
    }
}

/// Calls `put(row, column, value)` for each entry of a taut link in the lower triangle.
fn for_tie(tie: &Tie, unknown: &[Option<usize>], mut put: impl FnMut(usize, usize, f64)) {
    let slots = tie.ends.map(|end| end.and_then(|n| unknown[n]));
    for (a, first) in slots.iter().enumerate() {
        for (b, second) in slots.iter().enumerate() {
            let (Some(first), Some(second)) = (first, second) else { continue };
            let sign = if a == b { 1.0 } else { -1.0 };
            for i in 0..3 {
                for j in 0..3 {
                    if first + i >= second + j {
                        put(
                            first + i,
                            second + j,
                            sign * tie.stiffness * tie.direction[i] * tie.direction[j],
                        );
                    }
                }
            }
        }
    }
}
