//! Cholesky factorisation of a sparse matrix made of blocks of six by six, one row and column of blocks to a node.
//!
//! Legs are chains: taken from their free ends they fill in nothing, and every step costs the same. Nodes are taken in
//! the order of least degree, which finds the free ends by itself and keeps the fill of wires between legs small, so the
//! cost grows with the number of nodes. Source: block Cholesky and minimum degree, any text on sparse matrices.

use nalgebra::{Matrix6, Vector6};
use std::cmp::Reverse;
use std::collections::{BTreeSet, BinaryHeap};

/// The order in which nodes are taken and where the blocks of the factor are.
#[derive(Debug)]
pub(super) struct Pattern {
    /// Step at which each node is taken.
    step: Vec<usize>,
    /// First block of each step's column; one more at the end.
    start: Vec<usize>,
    /// Step of each block's row, ascending within a column, all later than the column's.
    rows: Vec<usize>,
}

/// A symmetric matrix on a pattern: diagonal blocks by step, and the blocks below them.
#[derive(Debug, Clone)]
pub(super) struct Blocks {
    diagonal: Vec<Matrix6<f64>>,
    below: Vec<Matrix6<f64>>,
}

/// A factorised matrix: A = L Lᵀ.
#[derive(Debug)]
pub(super) struct Factored {
    /// Lower triangles on the diagonal.
    diagonal: Vec<Matrix6<f64>>,
    /// Blocks below, transposed.
    below: Vec<Matrix6<f64>>,
}

impl Pattern {
    /// Orders `nodes` nodes that are joined as `joints` tell.
    pub(super) fn new(nodes: usize, joints: impl Iterator<Item = (usize, usize)>) -> Self {
        let mut near = vec![BTreeSet::new(); nodes];
        for (a, b) in joints {
            if a != b {
                near[a].insert(b);
                near[b].insert(a);
            }
        }
        // A node whose degree has changed is in the queue again; its old entries no longer tell its degree.
        let mut queue: BinaryHeap<_> = near.iter().enumerate().map(|(n, s)| Reverse((s.len(), n))).collect();
        let mut step = vec![usize::MAX; nodes];
        let mut columns: Vec<BTreeSet<usize>> = Vec::with_capacity(nodes);
        while let Some(Reverse((degree, node))) = queue.pop() {
            if step[node] != usize::MAX || near[node].len() != degree {
                continue;
            }
            step[node] = columns.len();
            let neighbours = std::mem::take(&mut near[node]);
            // Taking a node joins all its neighbours to each other.
            for &a in &neighbours {
                near[a].remove(&node);
                near[a].extend(neighbours.iter().filter(|b| **b != a));
                queue.push(Reverse((near[a].len(), a)));
            }
            columns.push(neighbours);
        }
        let mut start = vec![0];
        let mut rows = Vec::new();
        for neighbours in columns {
            let mut column: Vec<usize> = neighbours.iter().map(|n| step[*n]).collect();
            column.sort_unstable();
            rows.extend(column);
            start.push(rows.len());
        }
        Self { step, start, rows }
    }

    /// A matrix of zeros.
    pub(super) fn zeros(&self) -> Blocks {
        Blocks {
            diagonal: vec![Matrix6::zeros(); self.step.len()],
            below: vec![Matrix6::zeros(); self.rows.len()],
        }
    }

    /// Adds a block at a row and a column of nodes, and its mirror image.
    ///
    /// A block on the diagonal is added once and has to be symmetric.
    pub(super) fn add(&self, to: &mut Blocks, row: usize, column: usize, block: &Matrix6<f64>) {
        let (i, j) = (self.step[row], self.step[column]);
        if i == j {
            to.diagonal[i] += block;
        } else if i > j {
            to.below[self.place(i, j)] += block;
        } else {
            to.below[self.place(j, i)] += block.transpose();
        }
    }

    /// Index of the block at a row in the column of an earlier step.
    fn place(&self, row: usize, column: usize) -> usize {
        let first = self.start[column];
        first + self.rows[first..self.start[column + 1]].partition_point(|r| *r < row)
    }

    /// Factorises; `None` when the matrix is not positive definite.
    pub(super) fn factor(&self, matrix: Blocks) -> Option<Factored> {
        let Blocks { mut diagonal, mut below } = matrix;
        for k in 0..diagonal.len() {
            let lower = diagonal[k].cholesky()?.unpack();
            let column = self.start[k]..self.start[k + 1];
            for b in column.clone() {
                let mut turned = below[b].transpose();
                lower.solve_lower_triangular_mut(&mut turned);
                below[b] = turned;
            }
            for b in column.clone() {
                for c in column.start..=b {
                    let taken = below[b].tr_mul(&below[c]);
                    if b == c {
                        diagonal[self.rows[b]] -= taken;
                    } else {
                        let place = self.place(self.rows[b], self.rows[c]);
                        below[place] -= taken;
                    }
                }
            }
            diagonal[k] = lower;
        }
        Some(Factored { diagonal, below })
    }

    /// Solves for one right-hand side, given and returned by nodes.
    pub(super) fn solve(&self, factor: &Factored, right: &[Vector6<f64>]) -> Vec<Vector6<f64>> {
        let mut x = vec![Vector6::zeros(); right.len()];
        for (value, step) in right.iter().zip(&self.step) {
            x[*step] = *value;
        }
        for k in 0..x.len() {
            let mut now = x[k];
            factor.diagonal[k].solve_lower_triangular_mut(&mut now);
            for b in self.start[k]..self.start[k + 1] {
                x[self.rows[b]] -= factor.below[b].tr_mul(&now);
            }
            x[k] = now;
        }
        for k in (0..x.len()).rev() {
            let mut now = x[k];
            for b in self.start[k]..self.start[k + 1] {
                now -= factor.below[b] * x[self.rows[b]];
            }
            factor.diagonal[k].tr_solve_lower_triangular_mut(&mut now);
            x[k] = now;
        }
        self.step.iter().map(|step| x[*step]).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use nalgebra::{DMatrix, DVector};

    /// A positive definite matrix on a ring of nodes with one chord, against a dense solution.
    #[test]
    fn a_ring_with_a_chord_is_solved_as_a_dense_matrix_is() {
        let nodes = 7;
        let mut joints: Vec<(usize, usize)> = (0..nodes).map(|i| (i, (i + 1) % nodes)).collect();
        joints.push((1, 4));
        let pattern = Pattern::new(nodes, joints.iter().copied());
        let mut blocks = pattern.zeros();
        let mut dense = DMatrix::zeros(6 * nodes, 6 * nodes);
        let mut put = |row: usize, column: usize, block: Matrix6<f64>| {
            pattern.add(&mut blocks, row, column, &block);
            let mut at = |r, c, b: Matrix6<f64>| {
                let mut view = dense.fixed_view_mut::<6, 6>(6 * r, 6 * c);
                view += b;
            };
            at(row, column, block);
            if row != column {
                at(column, row, block.transpose());
            }
        };
        for (n, &(a, b)) in joints.iter().enumerate() {
            // No symmetry off the diagonal: a block put on the wrong side shows.
            put(a, b, Matrix6::from_fn(|i, j| ((i + 2 * j + 3 * n) as f64).sin()));
        }
        for n in 0..nodes {
            put(n, n, Matrix6::from_diagonal_element(40.0 + n as f64));
        }
        let right: Vec<Vector6<f64>> =
            (0..nodes).map(|n| Vector6::from_fn(|i, _| (n * 6 + i) as f64 - 17.0)).collect();

        let solved = pattern.solve(&pattern.factor(blocks).expect("positive definite"), &right);
        let flat = DVector::from_iterator(6 * nodes, right.iter().flat_map(|v| v.iter().copied()));
        let expected = dense.lu().solve(&flat).expect("not singular");
        for (n, value) in solved.iter().enumerate() {
            for i in 0..6 {
                assert_relative_eq!(value[i], expected[6 * n + i], max_relative = 1e-12);
            }
        }
    }

    #[test]
    fn a_matrix_that_is_not_positive_definite_is_refused() {
        let pattern = Pattern::new(1, std::iter::empty());
        let mut blocks = pattern.zeros();
        pattern.add(&mut blocks, 0, 0, &Matrix6::from_diagonal_element(-1.0));
        assert!(pattern.factor(blocks).is_none());
    }
}
