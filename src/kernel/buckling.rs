//! Buckling of a frame under the forces it carries: the smallest multiple of the load at which it has a second shape.
//!
//! (K + λ K_g) v = 0, K the stiffness of beams and taut links, K_g what their forces add to it once they turn: N/L square to a
//! beam's line, T/L square to a link's, and for a load F on a rigid arm r the symmetric part −½(F rᵀ + r Fᵀ) + (F·r) I on the
//! node's rotation. Beams are short against the buckled shape, so that each may be taken as straight: the error falls with the
//! square of their length, 0.05 % for a leg of 24. Solved by Lanczos' method, K being factorised already.
//! Source: linear buckling of frames, any text on structural stability; Derived: docs/method.md "Column".

use super::solver::{Solution, SolveError, Solver};
use nalgebra::{DMatrix, Matrix3, Vector3, Vector6};

/// Steps after which the Ritz values are looked at. chosen: gears settle in 10 to 30 steps.
const LOOKS: [usize; 7] = [8, 12, 18, 26, 38, 56, 80];

/// Error bound of the root, relative to it, at which the search ends; looser means a lower multiple, never a higher one.
const SETTLED: f64 = 1e-5;

/// A multiple beyond which nothing is said to buckle. chosen: far beyond any margin that is shown.
const BEYOND: f64 = 1e3;

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

/// A displacement of every node.
type Shape = Vec<Vector6<f64>>;

impl Solver {
    /// The smallest positive multiple of the present loads at which the frame buckles, as far as it is below 1000; `None` when it
    /// is not.
    ///
    /// Wires count as taut or slack as they are now, and pretension is multiplied with the loads. The error bound of the root
    /// is taken off the multiple.
    ///
    /// # Errors
    /// When the frame with its taut links can't be factorised.
    pub fn buckling_multiple(
        &mut self,
        solution: &Solution,
        loads: &[ArmLoad],
    ) -> Result<Option<f64>, SolveError> {
        let taut = self.acting(solution);
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

        // Lanczos' method on K⁻¹(−K_g), which is symmetric in the measure of K. Each shape q goes with the forces p = K q, so
        // that K itself is never needed. Any start will do that is not square to the shape looked for.
        let nodes = solution.displacements.len();
        let mut force: Shape = (0..nodes)
            .map(|n| {
                Vector6::from_fn(
                    |i, _| if self.is_free(n) { ((7 * n + i + 1) as f64 * 0.731).sin() } else { 0.0 },
                )
            })
            .collect();
        let mut shape = self.displaced(which, &force);
        let mut shapes: Vec<Shape> = Vec::new();
        let mut forces: Vec<Shape> = Vec::new();
        let mut small = DMatrix::<f64>::zeros(LOOKS[LOOKS.len() - 1], LOOKS[LOOKS.len() - 1]);
        let mut size = dot(&shape, &force);
        let first = size;
        for step in 0..small.nrows() {
            // Nothing new: the shapes so far hold all that the forces can do.
            if size <= 1e-24 * first {
                return Ok(root(&small, step, 0.0).and_then(multiple));
            }
            let scale = 1.0 / size.sqrt();
            shapes.push(shape.iter().map(|v| scale * v).collect());
            forces.push(force.iter().map(|v| scale * v).collect());
            force = softened(&turning, &arms, &shapes[step]);
            self.hold(&mut force);
            shape = self.displaced(which, &force);
            // Twice, so that rounding leaves the shapes square to each other.
            for _ in 0..2 {
                for (i, (q, p)) in shapes.iter().zip(&forces).enumerate() {
                    let share = dot(&shape, p);
                    small[(i, step)] += share;
                    for ((s, f), (a, b)) in shape.iter_mut().zip(&mut force).zip(q.iter().zip(p)) {
                        *s -= share * a;
                        *f -= share * b;
                    }
                }
            }
            size = dot(&shape, &force).max(0.0);
            if LOOKS.contains(&(step + 1)) {
                let Some((value, error)) = root(&small, step + 1, size.sqrt()) else { return Ok(None) };
                if error <= SETTLED * value.abs() || step + 1 == small.nrows() {
                    return Ok(multiple((value, error)));
                }
            }
        }
        Ok(None)
    }

    fn turning_members(&self, solution: &Solution) -> Vec<Turning> {
        let beams = self.beam_lines().enumerate().map(|(i, (start, end, line, length))| Turning {
            from: Some(start),
            to: Some(end),
            stiffness: solution.section_forces(i, 1.0).axial / length,
            line,
        });
        let links = self.cord_lines().map(|(i, [from, to], line, length)| Turning {
            from,
            to,
            stiffness: solution.tensions[i] / length,
            line,
        });
        beams.chain(links).collect()
    }

    /// Takes the forces off clamped nodes, whose supports have them.
    fn hold(&self, forces: &mut Shape) {
        for (n, f) in forces.iter_mut().enumerate() {
            if !self.is_free(n) {
                *f = Vector6::zeros();
            }
        }
    }
}

/// The multiple of a root and its error bound, on the cautious side.
fn multiple((value, error): (f64, f64)) -> Option<f64> {
    let most = value + error;
    (most * BEYOND >= 1.0).then(|| 1.0 / most)
}

/// The largest Ritz value of the first `size` shapes and how far it may be off, `next` being the size of the shape to come.
fn root(small: &DMatrix<f64>, size: usize, next: f64) -> Option<(f64, f64)> {
    if size == 0 {
        return None;
    }
    // Only the part on and above the diagonal is filled in.
    let part = DMatrix::from_fn(size, size, |i, j| small[(i.min(j), i.max(j))]);
    let eigen = part.symmetric_eigen();
    let (place, value) = eigen.eigenvalues.iter().copied().enumerate().max_by(|a, b| a.1.total_cmp(&b.1))?;
    Some((value, next * eigen.eigenvectors[(size - 1, place)].abs()))
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
