//! L D Lᵀ factorisation of a sparse symmetric matrix made of blocks of six by six, one row and column of blocks to a node.
//!
//! The matrix need not be positive definite: past the top of a load–deflection curve it is not. Pivots are taken in the order
//! of the pattern whatever their sign, and how many are negative is counted: so many independent ways there are to move the
//! frame that give energy back (Sylvester's law of inertia).
//!
//! Legs are chains: taken from their free ends they fill in nothing, and every step costs the same. Nodes are taken in
//! the order of least degree, which finds the free ends by itself and keeps the fill of wires between legs small, so the
//! cost grows with the number of nodes. Source: block L D Lᵀ and minimum degree, any text on sparse matrices.

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
#[derive(Debug, Clone, Default)]
pub(super) struct Blocks {
    diagonal: Vec<Matrix6<f64>>,
    below: Vec<Matrix6<f64>>,
}

/// A factorised matrix: A = L D Lᵀ.
#[derive(Debug, Clone)]
pub(super) struct Factored {
    /// On the diagonal: unit lower triangles, of which only what is below the diagonal counts.
    diagonal: Vec<Matrix6<f64>>,
    /// Inverses of the pivots.
    inverse: Vec<Vector6<f64>>,
    /// Blocks of L below the diagonal.
    below: Vec<Matrix6<f64>>,
    /// How many pivots are negative.
    negative: usize,
}

impl Factored {
    /// How many independent movements lower the energy; none for a stable frame.
    pub(super) const fn negative(&self) -> usize {
        self.negative
    }

    /// The smallest pivot.
    pub(super) fn least(&self) -> f64 {
        self.inverse.iter().flatten().map(|i| 1.0 / i).fold(f64::INFINITY, f64::min)
    }
}

/// Replaces the lower triangle of a symmetric matrix by its unit lower factor; gives the pivots.
fn unit_lower(a: &mut Matrix6<f64>) -> Vector6<f64> {
    let mut pivots = Vector6::zeros();
    for j in 0..6 {
        let pivot = a[(j, j)];
        pivots[j] = pivot;
        for i in j + 1..6 {
            let share = a[(i, j)] / pivot;
            for k in j + 1..=i {
                a[(i, k)] -= share * a[(k, j)];
            }
        }
        for i in j + 1..6 {
            a[(i, j)] /= pivot;
        }
    }
    pivots
}

/// Solves L x = b in place.
fn forward(lower: &Matrix6<f64>, b: &mut Vector6<f64>) {
    for j in 0..5 {
        let done = b[j];
        for i in j + 1..6 {
            b[i] -= lower[(i, j)] * done;
        }
    }
}

/// Solves X Lᵀ = B in place. By whole columns, which lie side by side in memory: so are [`take`]'s sums.
fn forward_rows(lower: &Matrix6<f64>, b: &mut Matrix6<f64>) {
    let columns = &mut b.data.0;
    for j in 0..5 {
        let done = columns[j];
        for (i, column) in columns.iter_mut().enumerate().skip(j + 1) {
            let share = lower[(i, j)];
            for (x, d) in column.iter_mut().zip(&done) {
                *x -= share * d;
            }
        }
    }
}

/// Takes A Bᵀ from a matrix.
fn take(from: &mut Matrix6<f64>, a: &Matrix6<f64>, b: &Matrix6<f64>) {
    for (j, column) in from.data.0.iter_mut().enumerate() {
        for (a, b) in a.data.0.iter().zip(&b.data.0) {
            let share = b[j];
            for (x, a) in column.iter_mut().zip(a) {
                *x -= share * a;
            }
        }
    }
}

/// Solves Lᵀ x = b in place.
fn backward(lower: &Matrix6<f64>, b: &mut Vector6<f64>) {
    for j in (0..5).rev() {
        let mut now = b[j];
        for i in j + 1..6 {
            now -= lower[(i, j)] * b[i];
        }
        b[j] = now;
    }
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

    /// Factorises; `None` when a pivot is zero or not a number.
    pub(super) fn factor(&self, matrix: Blocks) -> Option<Factored> {
        let Blocks { mut diagonal, mut below } = matrix;
        let mut inverse = Vec::with_capacity(diagonal.len());
        let mut negative = 0;
        let mut unscaled: Vec<Matrix6<f64>> = Vec::new();
        for k in 0..diagonal.len() {
            let pivots = unit_lower(&mut diagonal[k]);
            if !pivots.iter().all(|p| p.is_normal()) {
                return None;
            }
            negative += pivots.iter().filter(|p| **p < 0.0).count();
            let upside = pivots.map(|p| 1.0 / p);
            let column = self.start[k]..self.start[k + 1];
            unscaled.clear();
            for b in column.clone() {
                forward_rows(&diagonal[k], &mut below[b]);
                unscaled.push(below[b]);
                for (column, share) in below[b].data.0.iter_mut().zip(&upside) {
                    column.iter_mut().for_each(|x| *x *= share);
                }
            }
            for (b, unscaled) in column.clone().zip(&unscaled) {
                for c in column.start..b {
                    let place = self.place(self.rows[b], self.rows[c]);
                    let scaled = below[c];
                    take(&mut below[place], unscaled, &scaled);
                }
                take(&mut diagonal[self.rows[b]], unscaled, &below[b]);
            }
            inverse.push(upside);
        }
        Some(Factored { diagonal, inverse, below, negative })
    }

    /// Solves for one right-hand side, given and returned by nodes.
    pub(super) fn solve(&self, factor: &Factored, right: &[Vector6<f64>]) -> Vec<Vector6<f64>> {
        let mut x = vec![Vector6::zeros(); right.len()];
        for (value, step) in right.iter().zip(&self.step) {
            x[*step] = *value;
        }
        for k in 0..x.len() {
            let mut now = x[k];
            forward(&factor.diagonal[k], &mut now);
            for b in self.start[k]..self.start[k + 1] {
                x[self.rows[b]] -= factor.below[b] * now;
            }
            x[k] = now;
        }
        for k in (0..x.len()).rev() {
            let mut now = x[k].component_mul(&factor.inverse[k]);
            for b in self.start[k]..self.start[k + 1] {
                now -= factor.below[b].tr_mul(&x[self.rows[b]]);
            }
            backward(&factor.diagonal[k], &mut now);
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

    /// A ring of nodes with one chord, against a dense solution and the signs of its eigenvalues.
    fn ring_with_a_chord(diagonal: impl Fn(usize) -> f64, negative: usize) {
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
            put(n, n, Matrix6::from_diagonal_element(diagonal(n)));
        }
        let right: Vec<Vector6<f64>> =
            (0..nodes).map(|n| Vector6::from_fn(|i, _| (n * 6 + i) as f64 - 17.0)).collect();

        let factored = pattern.factor(blocks).expect("not singular");
        assert_eq!(factored.negative(), negative);
        let eigen = dense.clone().symmetric_eigenvalues();
        assert_eq!(eigen.iter().filter(|e| **e < 0.0).count(), negative);
        let solved = pattern.solve(&factored, &right);
        let flat = DVector::from_iterator(6 * nodes, right.iter().flat_map(|v| v.iter().copied()));
        let expected = dense.lu().solve(&flat).expect("not singular");
        for (n, value) in solved.iter().enumerate() {
            for i in 0..6 {
                assert_relative_eq!(value[i], expected[6 * n + i], max_relative = 1e-11);
            }
        }
    }

    #[test]
    fn a_positive_definite_ring_is_solved_as_a_dense_matrix_is() {
        ring_with_a_chord(|n| 40.0 + n as f64, 0);
    }

    #[test]
    fn an_indefinite_ring_is_solved_and_its_negative_directions_are_counted() {
        ring_with_a_chord(|n| if n % 3 == 0 { -40.0 } else { 40.0 + n as f64 }, 18);
    }

    #[test]
    fn a_singular_matrix_is_refused() {
        let pattern = Pattern::new(1, std::iter::empty());
        assert!(pattern.factor(pattern.zeros()).is_none());
    }
}
