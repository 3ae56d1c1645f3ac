//! Buckling of a frame under the forces it carries: the smallest multiple of the load at which it has a second shape.
//!
//! (K + λ K_g) v = 0, K the stiffness of beams and taut links, K_g what their forces add to it once they turn: N/L square to a
//! beam's line, T/L square to a link's, and for a load F on a rigid arm r the symmetric part −½(F rᵀ + r Fᵀ) + (F·r) I on the
//! node's rotation. Beams are short against the buckled shape, so that each may be taken as straight: the error falls with the
//! square of their length, 0.05 % for a leg of 24. Solved by subspace iteration, K being factorised already.
//! Source: linear buckling of frames, any text on structural stability; Derived: docs/method.md "Column".

use super::solver::{Solution, SolveError, Solver};
use nalgebra::{DMatrix, Matrix3, Vector3, Vector6};

/// Shapes iterated together. chosen: legs have a way to buckle each and in each plane, so that four keep the first apart.
const SHAPES: usize = 4;

/// Most rounds, and the relative change of the root at which they end. chosen: ten rounds are usual.
const ROUNDS: usize = 60;
const SETTLED: f64 = 1e-6;

/// A load that acts at the end of a rigid arm from a node: force in N, arm in m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ArmLoad {
    /// The node.
    pub node: usize,
    /// The force.
    pub force: [f64; 3],
    /// From the node to where it acts.
    pub arm: [f64; 3],
}

/// What the present forces do to a member that turns: the pull along it over its length, and its line.
struct Turning {
    from: Option<usize>,
    to: Option<usize>,
    stiffness: f64,
    line: Vector3<f64>,
}

impl Solver {
    /// The smallest positive multiple of the present loads at which the frame buckles; `None` when no multiple does.
    ///
    /// Wires count as taut or slack as they are now, and pretension is multiplied with the loads.
    ///
    /// # Errors
    /// When the iteration does not settle.
    pub fn buckling_multiple(
        &mut self,
        solution: &Solution,
        loads: &[ArmLoad],
    ) -> Result<Option<f64>, SolveError> {
        let taut: Vec<bool> = solution.tensions.iter().map(|t| *t > 0.0).collect();
        let which = self.factor_index(&taut)?;
        let turning = self.turning_members(solution);
        let arms: Vec<(usize, Matrix3<f64>)> = loads
            .iter()
            .map(|l| {
                let (f, r) = (Vector3::from(l.force), Vector3::from(l.arm));
                let outer = f * r.transpose();
                (l.node, Matrix3::identity() * f.dot(&r) - 0.5 * (outer + outer.transpose()))
            })
            .collect();
        let softening = |shape: &[Vector6<f64>]| softened(&turning, &arms, shape);

        let nodes = solution.displacements.len();
        // Any shapes will do that are not square to the one looked for.
        let mut shapes: Vec<Vec<Vector6<f64>>> = (0..SHAPES)
            .map(|k| {
                let wave = |n: usize, i: usize| (((k + 1) * (n + 1)) as f64 * 0.37 + i as f64 * 1.3).sin();
                let force: Vec<Vector6<f64>> =
                    (0..nodes).map(|n| Vector6::from_fn(|i, _| wave(n, i))).collect();
                self.displaced(which, &force)
            })
            .collect();
        let mut before = 0.0;
        for _ in 0..ROUNDS {
            let pushed: Vec<Vec<Vector6<f64>>> = shapes.iter().map(|s| softening(s)).collect();
            let next: Vec<Vec<Vector6<f64>>> = pushed.iter().map(|f| self.displaced(which, f)).collect();
            // K next = pushed: both small matrices come without K itself.
            let stiff = DMatrix::from_fn(SHAPES, SHAPES, |i, j| dot(&next[i], &pushed[j]));
            let soft = {
                let again: Vec<Vec<Vector6<f64>>> = next.iter().map(|s| softening(s)).collect();
                DMatrix::from_fn(SHAPES, SHAPES, |i, j| dot(&next[i], &again[j]))
            };
            let Some((root, mix)) = largest_ratio(&stiff, &soft) else { return Ok(None) };
            if root <= 0.0 {
                return Ok(None);
            }
            if (root - before).abs() <= SETTLED * root {
                return Ok(Some(1.0 / root));
            }
            before = root;
            shapes = (0..SHAPES)
                .map(|k| {
                    (0..nodes)
                        .map(|n| (0..SHAPES).map(|s| mix[(s, k)] * next[s][n]).sum::<Vector6<f64>>())
                        .collect()
                })
                .collect();
        }
        Err(SolveError::Unsettled(ROUNDS))
    }

    fn turning_members(&self, solution: &Solution) -> Vec<Turning> {
        let beams = self.beam_lines().enumerate().map(|(i, (start, end, line, length))| Turning {
            from: Some(start),
            to: Some(end),
            stiffness: self.section_forces(solution, i, 1.0).axial / length,
            line,
        });
        let links = self.link_lines().zip(&solution.tensions).map(|((from, to, line, length), tension)| {
            Turning { from, to, stiffness: tension / length, line }
        });
        beams.chain(links).collect()
    }
}

/// −K_g times a shape.
fn softened(
    turning: &[Turning],
    arms: &[(usize, Matrix3<f64>)],
    shape: &[Vector6<f64>],
) -> Vec<Vector6<f64>> {
    let mut out = vec![Vector6::zeros(); shape.len()];
    let at = |n: Option<usize>| n.map_or_else(Vector3::zeros, |n| shape[n].fixed_rows::<3>(0).into_owned());
    for m in turning {
        let apart = at(m.to) - at(m.from);
        let square = m.stiffness * (apart - m.line * m.line.dot(&apart));
        for (end, sign) in [(m.to, -1.0), (m.from, 1.0)] {
            if let Some(n) = end {
                let mut top = out[n].fixed_rows_mut::<3>(0);
                top += sign * square;
            }
        }
    }
    for (node, matrix) in arms {
        let turned = matrix * shape[*node].fixed_rows::<3>(3);
        let mut low = out[*node].fixed_rows_mut::<3>(3);
        low -= turned;
    }
    out
}

fn dot(a: &[Vector6<f64>], b: &[Vector6<f64>]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x.dot(y)).sum()
}

/// The largest ratio soft/stiff of the shapes' mixtures and all mixtures, `stiff` being positive definite.
fn largest_ratio(stiff: &DMatrix<f64>, soft: &DMatrix<f64>) -> Option<(f64, DMatrix<f64>)> {
    // Mixtures whose stiffness is rounding are left out of the inverse root.
    let own = (0.5 * (stiff + stiff.transpose())).symmetric_eigen();
    let top = own.eigenvalues.iter().copied().fold(0.0, f64::max);
    if top <= 0.0 {
        return None;
    }
    let scale = own.eigenvalues.map(|v| if v > 1e-13 * top { 1.0 / v.sqrt() } else { 0.0 });
    let root = &own.eigenvectors * DMatrix::from_diagonal(&scale);
    let reduced = root.transpose() * (0.5 * (soft + soft.transpose())) * &root;
    let eigen = reduced.symmetric_eigen();
    let best = eigen.eigenvalues.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    Some((best, root * eigen.eigenvectors))
}
