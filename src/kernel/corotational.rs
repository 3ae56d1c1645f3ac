//! A beam that has moved far: how it is strained, and what its forces do to its nodes.
//!
//! A frame goes with the beam: its first axis along the chord, its second in the plane of the chord and the mean of what the
//! nodes have made of the section's y axis. In that frame the beam is strained little, whatever the nodes' displacements and
//! rotations, and its six basic deformations are [`Basic`]. The energy depends on the nodes through them alone, so the nodal
//! forces are its exact first derivatives and the tangent its exact second derivatives in the nodes' spins. Rotations are unit
//! quaternions, multiplied, so that no angle is out of reach.
//! Source: Nour-Omid & Rankin, Comput. Methods Appl. Mech. Eng. 93 (1991) 353; Battini & Pacoste, ibid. 191 (2002) 1755, both
//! from memory; the tangent is checked against differences. Derived: docs/method.md, "Large movements".

use nalgebra::{Matrix3, Matrix6, UnitQuaternion, Vector3, Vector6};

/// What strains a beam, in its own frame: elongation; rotation about y, then z, of its start against the chord; the same of its
/// end; twist of the end against the start. Its forces go with these: pull, moments on start and end, torsion.
pub(super) type Basic = Vector6<f64>;

/// What a beam's forces depend on, but for its elongation: how far its end moved from its start across the chord (y, z), the spin
/// of its start, the spin of its end. Rows of plain numbers, eight to be summed side by side: the sums over them are what large
/// displacements cost most of.
type Row = [f64; 8];
type Rows = [Row; 3];

/// Where the spins of start and end begin in a row.
const SPINS: [usize; 2] = [2, 5];

/// A matrix over the elongation and a [`Row`].
struct Nine {
    corner: f64,
    first_row: Row,
    first_column: Row,
    rest: [Row; 8],
}

impl Nine {
    /// An element of its symmetric part.
    fn symmetric(&self, i: usize, j: usize) -> f64 {
        match (i, j) {
            (0, 0) => self.corner,
            (0, k) | (k, 0) => 0.5 * (self.first_row[k - 1] + self.first_column[k - 1]),
            _ => 0.5 * (self.rest[i - 1][j - 1] + self.rest[j - 1][i - 1]),
        }
    }
}

/// y += a x.
#[inline]
fn add(y: &mut Row, a: f64, x: &Row) {
    for (y, x) in y.iter_mut().zip(x) {
        *y += a * x;
    }
}

/// Rows of a matrix times rows.
#[inline]
fn times(m: &Matrix3<f64>, rows: &Rows) -> Rows {
    let mut out = [[0.0; 8]; 3];
    for (i, row) in out.iter_mut().enumerate() {
        for (j, x) in rows.iter().enumerate() {
            add(row, m[(i, j)], x);
        }
    }
    out
}

/// Where a node has come to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Moved {
    /// Displacement, m.
    pub(super) by: Vector3<f64>,
    /// Rotation.
    pub(super) turn: UnitQuaternion<f64>,
}

impl Moved {
    pub(super) fn at_rest() -> Self {
        Self { by: Vector3::zeros(), turn: UnitQuaternion::identity() }
    }

    /// Moves on by a displacement and a spin, the spin about fixed axes.
    pub(super) fn step(&mut self, step: &Vector6<f64>) {
        self.by += step.fixed_rows::<3>(0);
        let spin: Vector3<f64> = step.fixed_rows::<3>(3).into();
        self.turn = UnitQuaternion::from_scaled_axis(spin) * self.turn;
        self.turn.renormalize();
    }

    /// Where an arm from the node points now.
    pub(super) fn arm(&self, arm: &Vector3<f64>) -> Vector3<f64> {
        self.turn * arm
    }
}

/// A beam before it moves.
#[derive(Debug, Clone)]
pub(super) struct Chord {
    /// From start to end, m.
    pub(super) arm: Vector3<f64>,
    pub(super) length: f64,
    /// Columns are the local axes.
    pub(super) axes: Matrix3<f64>,
}

/// A moved beam's frame and deformations.
#[derive(Debug, Clone)]
pub(super) struct Strained {
    /// Columns are the axes of the frame.
    pub(super) frame: Matrix3<f64>,
    length: f64,
    /// Rotation vectors of start and end against the frame, in it, and how they change with spins.
    turns: [Vector3<f64>; 2],
    by_spins: [Matrix3<f64>; 2],
    /// What the nodes have made of the section's y axis, in the frame.
    marks: [Vector3<f64>; 2],
    pub(super) basic: Basic,
}

pub(super) fn skew(r: &Vector3<f64>) -> Matrix3<f64> {
    Matrix3::new(0.0, -r.z, r.y, r.z, 0.0, -r.x, -r.y, r.x, 0.0)
}

/// Rotation vector of a rotation matrix.
fn log(m: &Matrix3<f64>) -> Vector3<f64> {
    let sine = 0.5 * Vector3::new(m.m32 - m.m23, m.m13 - m.m31, m.m21 - m.m12);
    let size = sine.norm();
    let cosine = 0.5 * (m.trace() - 1.0);
    if size == 0.0 { sine } else { sine * (size.atan2(cosine) / size) }
}

/// (1 − (t/2) cot(t/2)) / t² and its derivative over t, by the square of t.
fn cotangent_part(square: f64) -> (f64, f64) {
    if square < 0.1 {
        // Series of the same, good to 1e-12 here.
        let s = square;
        (
            1.0 / 12.0
                + s * (1.0 / 720.0 + s * (1.0 / 30_240.0 + s * (1.0 / 1_209_600.0 + s / 47_900_160.0))),
            1.0 / 360.0 + s * (1.0 / 7560.0 + s * (1.0 / 201_600.0 + s / 5_987_520.0)),
        )
    } else {
        let t = square.sqrt();
        let (sine, cosine) = (0.5 * t).sin_cos();
        let value = (1.0 - 0.5 * t * cosine / sine) / square;
        let slope = (-0.5 * cosine / sine + 0.25 * t / (sine * sine)) / square - 2.0 * value / t;
        (value, slope / t)
    }
}

/// How a rotation vector changes with the spin of what it turns.
fn by_spin(turn: &Vector3<f64>) -> Matrix3<f64> {
    let cross = skew(turn);
    let (part, _) = cotangent_part(turn.norm_squared());
    Matrix3::identity() - 0.5 * cross + part * cross * cross
}

impl Chord {
    /// The moved beam.
    pub(super) fn strained(&self, start: &Moved, end: &Moved) -> Strained {
        let apart = end.by - start.by;
        let now = self.arm + apart;
        let length = now.norm();
        // l − L without the difference of two near numbers.
        let elongation = (2.0 * self.arm + apart).dot(&apart) / (length + self.length);
        let triads = [start, end].map(|n| n.turn.to_rotation_matrix().into_inner() * self.axes);
        let along = now / length;
        let mean = 0.5 * (triads[0].column(1) + triads[1].column(1));
        let third = along.cross(&mean).normalize();
        let second = third.cross(&along);
        let frame = Matrix3::from_columns(&[along, second, third]);
        let local = triads.map(|t| frame.tr_mul(&t));
        let turns = [log(&local[0]), log(&local[1])];
        let [a, b] = turns;
        Strained {
            frame,
            length,
            turns,
            by_spins: [by_spin(&a), by_spin(&b)],
            marks: [local[0].column(1).into(), local[1].column(1).into()],
            basic: Basic::new(elongation, a.y, a.z, b.y, b.z, b.x - a.x),
        }
    }
}

impl Strained {
    /// Moments on start and end in the frame, conjugate to spins.
    fn moments(&self, forces: &Basic) -> [Vector3<f64>; 2] {
        let by_turn =
            [Vector3::new(-forces[5], forces[1], forces[2]), Vector3::new(forces[5], forces[3], forces[4])];
        [0, 1].map(|i| self.by_spins[i].tr_mul(&by_turn[i]))
    }

    /// y components of the nodes' marks and their mean: what ties the frame's roll to the nodes.
    fn lean(&self) -> (f64, f64) {
        (0.5 * (self.marks[0].x + self.marks[1].x), 0.5 * (self.marks[0].y + self.marks[1].y))
    }

    /// Spin of the frame by the motion of the nodes, all in the frame; elongation makes none.
    fn frame_spin(&self) -> Rows {
        let (q1, q2) = self.lean();
        let l = self.length;
        let mut g = [[0.0; 8]; 3];
        g[0][1] = -q1 / q2 / l;
        g[1][1] = -1.0 / l;
        g[2][0] = 1.0 / l;
        for (mark, at) in self.marks.iter().zip(SPINS) {
            g[0][at] = 0.5 * mark.y / q2;
            g[0][at + 1] = -0.5 * mark.x / q2;
        }
        g
    }

    /// Forces and moments that the nodes put on the beam, in fixed axes, by its basic forces.
    pub(super) fn nodal_forces(&self, forces: &Basic) -> [Vector6<f64>; 2] {
        let [force, start, end] = self.local_forces(forces, &self.moments(forces)).map(|v| self.frame * v);
        [
            Vector6::new(-force.x, -force.y, -force.z, start.x, start.y, start.z),
            Vector6::new(force.x, force.y, force.z, end.x, end.y, end.z),
        ]
    }

    /// Change of the basic deformations with the motion of start and end, in fixed axes, to first order.
    pub(super) fn change(&self, start: &Vector6<f64>, end: &Vector6<f64>) -> Basic {
        let local = [start, end].map(|s| {
            let (by, spin): (Vector3<f64>, Vector3<f64>) =
                (s.fixed_rows::<3>(0).into(), s.fixed_rows::<3>(3).into());
            (self.frame.tr_mul(&by), self.frame.tr_mul(&spin))
        });
        let [(ua, wa), (ub, wb)] = local;
        let (q1, q2) = self.lean();
        let apart = (ub - ua) / self.length;
        let [pa, pb] = &self.marks;
        let roll = 0.5 * (wa.x * pa.y - wa.y * pa.x + wb.x * pb.y - wb.y * pb.x) / q2 - q1 / q2 * apart.z;
        let turned = Vector3::new(roll, -apart.z, apart.y);
        let (a, b) = (self.by_spins[0] * (wa - turned), self.by_spins[1] * (wb - turned));
        Basic::new(ub.x - ua.x, a.y, a.z, b.y, b.z, b.x - a.x)
    }

    /// Force on the end, moment on the start, moment on the end, in the frame.
    fn local_forces(&self, forces: &Basic, moments: &[Vector3<f64>; 2]) -> [Vector3<f64>; 3] {
        let sum = moments[0] + moments[1];
        let (q1, q2) = self.lean();
        let (eta, l) = (q1 / q2, self.length);
        let [start, end] = [0, 1].map(|i| {
            let lean = 0.5 * sum.x / q2;
            moments[i] + Vector3::new(-self.marks[i].y * lean, self.marks[i].x * lean, 0.0)
        });
        [Vector3::new(forces[0], -sum.z / l, (eta * sum.x + sum.y) / l), start, end]
    }

    /// Tangent stiffness: the symmetric part of the derivative of the nodal forces in the nodes' spins, of which the rest
    /// vanishes in equilibrium. Blocks (start, start), (end, start), (end, end), in fixed axes.
    pub(super) fn tangent(&self, forces: &Basic, stiffness: &Matrix6<f64>) -> [Matrix6<f64>; 3] {
        let k = self.local_tangent(forces, stiffness);
        let turned = |row: usize, column: usize| -> Matrix3<f64> {
            let part = Matrix3::from_fn(|i, j| k.symmetric(row + i, column + j));
            self.frame * part * self.frame.transpose()
        };
        let (uu, ua, ub) = (turned(0, 0), turned(0, 3), turned(0, 6));
        let (aa, ab, bb) = (turned(3, 3), turned(3, 6), turned(6, 6));
        let block = |f: Matrix3<f64>, g: Matrix3<f64>, h: Matrix3<f64>, m: Matrix3<f64>| {
            let mut out = Matrix6::zeros();
            out.fixed_view_mut::<3, 3>(0, 0).copy_from(&f);
            out.fixed_view_mut::<3, 3>(0, 3).copy_from(&g);
            out.fixed_view_mut::<3, 3>(3, 0).copy_from(&h);
            out.fixed_view_mut::<3, 3>(3, 3).copy_from(&m);
            out
        };
        [
            block(uu, -ua, -ua.transpose(), aa),
            block(-uu, ua, -ub.transpose(), ab.transpose()),
            block(uu, ub, ub.transpose(), bb),
        ]
    }

    fn local_tangent(&self, forces: &Basic, stiffness: &Matrix6<f64>) -> Nine {
        let spin = self.frame_spin();
        let by_turn =
            [Vector3::new(-forces[5], forces[1], forces[2]), Vector3::new(forces[5], forces[3], forces[4])];
        let moments = [self.by_spins[0].tr_mul(&by_turn[0]), self.by_spins[1].tr_mul(&by_turn[1])];
        let [force, start, end] = self.local_forces(forces, &moments);

        // Spins against the frame and the turns' changes with them; what moments do with the turns at fixed basic forces.
        let mut k = Nine {
            corner: stiffness[(0, 0)],
            first_row: [0.0; 8],
            first_column: [0.0; 8],
            rest: [[0.0; 8]; 8],
        };
        let mut spins = [[[0.0; 8]; 3]; 2];
        let mut changes = [[[0.0; 8]; 3]; 2];
        let mut both = [[0.0; 8]; 3];
        for node in [0, 1] {
            let own = &mut spins[node];
            for (i, (own, frame)) in own.iter_mut().zip(&spin).enumerate() {
                add(own, -1.0, frame);
                own[SPINS[node] + i] += 1.0;
            }
            changes[node] = times(&self.by_spins[node], own);
            let (m, turn) = (&by_turn[node], &self.turns[node]);
            let (part, slope) = cotangent_part(turn.norm_squared());
            let twice = turn.cross(&turn.cross(m));
            let by_change = -0.5 * skew(m)
                + part
                    * (Matrix3::identity() * turn.dot(m) + turn * m.transpose() - 2.0 * m * turn.transpose())
                + slope * twice * turn.transpose();
            for (i, moved) in times(&by_change, &changes[node]).iter().enumerate() {
                add(&mut k.rest[SPINS[node] + i], 1.0, moved);
                add(&mut both[i], 1.0, moved);
            }
        }
        for (frame, both) in spin.iter().zip(&both) {
            for (row, a) in k.rest.iter_mut().zip(frame).filter(|(_, a)| **a != 0.0) {
                add(row, -a, both);
            }
        }

        // Change of the basic deformations, and what stiffness makes of it.
        let [a, b] = &changes;
        let mut twist = b[0];
        add(&mut twist, -1.0, &a[0]);
        let basic = [a[1], a[2], b[1], b[2], twist];
        for (j, b) in basic.iter().enumerate() {
            add(&mut k.first_row, stiffness[(0, j + 1)], b);
        }
        k.first_column = k.first_row;
        for (i, b) in basic.iter().enumerate() {
            let mut stressed = [0.0; 8];
            for (j, b) in basic.iter().enumerate() {
                add(&mut stressed, stiffness[(i + 1, j + 1)], b);
            }
            for (row, a) in k.rest.iter_mut().zip(b) {
                add(row, *a, &stressed);
            }
        }

        // The frame turns, and all local forces with it.
        let [gx, gy, gz] = &spin;
        let mut turned = |row: Option<usize>, (m, by): (f64, &Row), (n, and): (f64, &Row)| {
            let row = row.map_or(&mut k.first_row, |i| &mut k.rest[i]);
            add(row, m, by);
            add(row, -n, and);
        };
        for (part, at) in [(&force, None), (&start, Some(SPINS[0])), (&end, Some(SPINS[1]))] {
            turned(at, (part.z, gy), (part.y, gz));
            turned(Some(at.map_or(0, |i| i + 1)), (part.x, gz), (part.z, gx));
            turned(Some(at.map_or(1, |i| i + 2)), (part.y, gx), (part.x, gy));
        }

        // How the frame's spin depends on where the nodes are, against the sum of the moments.
        let sum = moments[0] + moments[1];
        let (q1, q2) = self.lean();
        let (eta, l) = (q1 / q2, self.length);
        // Change of the x and y components of the nodes' marks, of their means, and of their ratio.
        let mut marks = [[[0.0; 8]; 2]; 2];
        let (mut dq2, mut d_eta) = ([0.0; 8], [0.0; 8]);
        for node in [0, 1] {
            let (p, w) = (&self.marks[node], &spins[node]);
            let [x, y] = &mut marks[node];
            add(x, p.z, &w[1]);
            add(x, -p.y, &w[2]);
            add(y, p.x, &w[2]);
            add(y, -p.z, &w[0]);
            add(&mut dq2, 0.5, y);
            add(&mut d_eta, 0.5 / q2, x);
        }
        add(&mut d_eta, -eta / q2, &dq2);
        k.first_column[0] += sum.z / (l * l);
        k.first_column[1] -= (eta * sum.x + sum.y) / (l * l);
        add(&mut k.rest[1], sum.x / l, &d_eta);
        let lean = 0.5 * sum.x / q2;
        for ((p, [x, y]), at) in self.marks.iter().zip(&marks).zip(SPINS) {
            add(&mut k.rest[at], -lean, y);
            add(&mut k.rest[at], lean * p.y / q2, &dq2);
            add(&mut k.rest[at + 1], lean, x);
            add(&mut k.rest[at + 1], -lean * p.x / q2, &dq2);
        }
        k
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::SMatrix;

    fn bent() -> (Chord, Moved, Moved, Matrix6<f64>, Basic) {
        let turn = UnitQuaternion::from_scaled_axis(Vector3::new(0.3, -0.8, 0.5));
        let axes = turn.to_rotation_matrix().into_inner();
        let length = 0.04;
        let chord = Chord { arm: axes.column(0) * length, length, axes };
        let mut start = Moved::at_rest();
        start.step(&Vector6::new(0.02, -0.01, 0.03, 0.9, -0.4, 0.3));
        let mut end = start;
        end.step(&Vector6::new(0.003, 0.009, -0.012, 0.21, 0.35, -0.28));
        let stiffness = Matrix6::from_fn(|i, j| {
            let scale = [4e7_f64, 900.0, 5e4, 900.0, 5e4, 300.0];
            let shape = if i == j { 1.0 } else { 0.1 + 0.03 * ((i * j + i + j) as f64).sin() };
            shape * (scale[i] * scale[j]).sqrt()
        });
        let offset = Basic::new(1e-5, 0.02, -0.001, 0.01, 0.002, 0.05);
        (chord, start, end, stiffness, offset)
    }

    fn forces(chord: &Chord, ends: &[Moved; 2], k: &Matrix6<f64>, offset: &Basic) -> SMatrix<f64, 12, 1> {
        let strained = chord.strained(&ends[0], &ends[1]);
        let [a, b] = strained.nodal_forces(&(k * (strained.basic + offset)));
        SMatrix::<f64, 12, 1>::from_fn(|i, _| if i < 6 { a[i] } else { b[i - 6] })
    }

    /// One node moved on along one of the twelve.
    fn moved(ends: &[Moved; 2], which: usize, by: f64) -> [Moved; 2] {
        let mut out = *ends;
        let mut step = Vector6::zeros();
        step[which % 6] = by;
        out[which / 6].step(&step);
        out
    }

    #[test]
    fn nodal_forces_are_the_derivatives_of_the_energy() {
        let (chord, start, end, k, offset) = bent();
        let ends = [start, end];
        let energy = |ends: &[Moved; 2]| {
            let v = chord.strained(&ends[0], &ends[1]).basic + offset;
            0.5 * v.dot(&(k * v))
        };
        let f = forces(&chord, &ends, &k, &offset);
        for i in 0..12 {
            let h = if i % 6 < 3 { 1e-8 } else { 1e-6 };
            let slope = (energy(&moved(&ends, i, h)) - energy(&moved(&ends, i, -h))) / (2.0 * h);
            let scale = if i % 6 < 3 { f.amax() } else { 0.04 * f.amax() };
            assert!((slope - f[i]).abs() < 1e-6 * scale, "{i}: {slope} {}", f[i]);
        }
    }

    #[test]
    fn deformations_change_as_their_first_derivative_says() {
        let (chord, start, end, _, _) = bent();
        let ends = [start, end];
        let strained = chord.strained(&start, &end);
        for i in 0..12 {
            let h = if i % 6 < 3 { 1e-8 } else { 1e-6 };
            let [up, down] = [h, -h].map(|h| moved(&ends, i, h)).map(|e| chord.strained(&e[0], &e[1]).basic);
            let mut steps = [Vector6::zeros(); 2];
            steps[i / 6][i % 6] = 1.0;
            let change = strained.change(&steps[0], &steps[1]);
            let scale = change.amax().max(1.0);
            assert!(((up - down) / (2.0 * h) - change).amax() < 1e-6 * scale, "{i}");
        }
    }

    #[test]
    fn the_tangent_is_the_symmetric_part_of_the_derivative_of_the_forces() {
        let (chord, start, end, k, offset) = bent();
        let ends = [start, end];
        let strained = chord.strained(&start, &end);
        let [aa, ba, bb] = strained.tangent(&(k * (strained.basic + offset)), &k);
        let mut tangent = SMatrix::<f64, 12, 12>::zeros();
        tangent.fixed_view_mut::<6, 6>(0, 0).copy_from(&aa);
        tangent.fixed_view_mut::<6, 6>(6, 0).copy_from(&ba);
        tangent.fixed_view_mut::<6, 6>(0, 6).copy_from(&ba.transpose());
        tangent.fixed_view_mut::<6, 6>(6, 6).copy_from(&bb);
        let mut slopes = SMatrix::<f64, 12, 12>::zeros();
        for i in 0..12 {
            let h = if i % 6 < 3 { 1e-8 } else { 1e-6 };
            let slope = (forces(&chord, &moved(&ends, i, h), &k, &offset)
                - forces(&chord, &moved(&ends, i, -h), &k, &offset))
                / (2.0 * h);
            slopes.set_column(i, &slope);
        }
        let symmetric = 0.5 * (slopes + slopes.transpose());
        for i in 0..12 {
            for j in 0..12 {
                let scale = (tangent[(i, i)] * tangent[(j, j)]).abs().sqrt();
                let off = (symmetric[(i, j)] - tangent[(i, j)]).abs() / scale;
                assert!(off < 1e-6, "{i} {j}: {off:e}");
            }
        }
    }
}
