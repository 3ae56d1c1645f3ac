//! A straight beam whose section may vary along it, by its flexibility.
//!
//! The forces along a beam follow from those at its end by statics alone, so its flexibility as a cantilever
//! (start held, end free) is an integral of 1/EA, 1/GJ and 1/EI, and the inverse of that flexibility is the
//! stiffness felt at the end. Exact for a uniform section; for a tapered one exact to the quadrature.
//! Derived: docs/method.md, "The beam".

use super::frame::Beam;
use nalgebra::{Matrix3, Matrix6, Vector3, Vector6};

/// Number of Gauss points along a beam.
pub(super) const GAUSS_COUNT: usize = 5;

/// Abscissae of the Gauss–Legendre rule on 0..1. Source: Abramowitz & Stegun, table 25.4, n = 5.
pub const GAUSS_POINTS: [f64; GAUSS_COUNT] =
    [0.046_910_077_030_668_0, 0.230_765_344_947_158_46, 0.5, 0.769_234_655_052_841_5, 0.953_089_922_969_332];

/// Weights on 0..1, to go with [`GAUSS_POINTS`].
const GAUSS_WEIGHTS: [f64; GAUSS_COUNT] = [
    0.118_463_442_528_094_54,
    0.239_314_335_249_683_23,
    0.284_444_444_444_444_44,
    0.239_314_335_249_683_23,
    0.118_463_442_528_094_54,
];

/// Rigidities of a section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rigidity {
    /// E A, N.
    pub axial: f64,
    /// G J, N·m².
    pub torsion: f64,
    /// E I for bending about the section's first axis (local y), N·m².
    pub bending_y: f64,
    /// E I for bending about the section's second axis (local z), N·m².
    pub bending_z: f64,
}

/// Forces and moments on a section in its local axes, exerted by the part of the beam beyond it.
///
/// Bending about y is positive when it puts the +z face in tension; about z when it puts the −y face in tension.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SectionForces {
    /// Along the beam, positive in tension, N.
    pub axial: f64,
    /// Shear along local y, N.
    pub shear_y: f64,
    /// Shear along local z, N.
    pub shear_z: f64,
    /// Torsion, N·m.
    pub torsion: f64,
    /// Bending about local y, N·m.
    pub bending_y: f64,
    /// Bending about local z, N·m.
    pub bending_z: f64,
}

/// A beam made ready: its stiffness at the end and the arm from start to end, in the frame's axes.
#[derive(Debug, Clone)]
pub(super) struct Element {
    pub(super) start: usize,
    pub(super) end: usize,
    /// Stiffness at the end when the start is held.
    stiffness: Matrix6<f64>,
    /// Carries end forces to the start: [I 0; arm× I].
    transfer: Matrix6<f64>,
    axes: Matrix3<f64>,
    length: f64,
}

fn skew(r: &Vector3<f64>) -> Matrix3<f64> {
    Matrix3::new(0.0, -r.z, r.y, r.z, 0.0, -r.x, -r.y, r.x, 0.0)
}

/// Block-diagonal rotation of force and moment together.
fn both(m: &Matrix3<f64>) -> Matrix6<f64> {
    let mut out = Matrix6::zeros();
    out.fixed_view_mut::<3, 3>(0, 0).copy_from(m);
    out.fixed_view_mut::<3, 3>(3, 3).copy_from(m);
    out
}

impl Element {
    pub(super) fn new(beam: &Beam, start: [f64; 3], end: [f64; 3]) -> Self {
        let arm = Vector3::from(end) - Vector3::from(start);
        let length = arm.norm();
        // Rows are the local axes: local = axes × global.
        let axes = Matrix3::from_rows(&beam.axes.map(|a| Vector3::from(a).transpose()));

        let integral = |f: &dyn Fn(&Rigidity, f64) -> f64| -> f64 {
            (0..GAUSS_COUNT)
                .map(|g| GAUSS_WEIGHTS[g] * length * f(&beam.rigidity[g], length * (1.0 - GAUSS_POINTS[g])))
                .sum()
        };
        let axial = integral(&|r, _| 1.0 / r.axial);
        let torsion = integral(&|r, _| 1.0 / r.torsion);
        let plane = |rigidity: &dyn Fn(&Rigidity) -> f64| {
            (
                integral(&|r, lever| lever * lever / rigidity(r)),
                integral(&|r, lever| lever / rigidity(r)),
                integral(&|r, _| 1.0 / rigidity(r)),
            )
        };
        // With the start held, M_z(s) = M_z + (L−s) V_y and M_y(s) = M_y − (L−s) V_z.
        let mut local = Matrix6::zeros();
        local[(0, 0)] = 1.0 / axial;
        local[(3, 3)] = 1.0 / torsion;
        for (shear, moment, sign, (vv, vm, mm)) in
            [(1, 5, 1.0, plane(&|r| r.bending_z)), (2, 4, -1.0, plane(&|r| r.bending_y))]
        {
            if beam.hinged_end {
                local[(shear, shear)] = 1.0 / vv;
            } else {
                let det = vv * mm - vm * vm;
                local[(shear, shear)] = mm / det;
                local[(moment, moment)] = vv / det;
                local[(shear, moment)] = -sign * vm / det;
                local[(moment, shear)] = -sign * vm / det;
            }
        }
        let turn = both(&axes);
        let mut transfer = Matrix6::identity();
        transfer.fixed_view_mut::<3, 3>(3, 0).copy_from(&skew(&arm));
        Self {
            start: beam.start,
            end: beam.end,
            stiffness: turn.transpose() * local * turn,
            transfer,
            axes,
            length,
        }
    }

    /// Stiffness blocks (start,start), (end,start), (end,end).
    pub(super) fn blocks(&self) -> [Matrix6<f64>; 3] {
        let carried = self.transfer * self.stiffness;
        [carried * self.transfer.transpose(), -carried.transpose(), self.stiffness]
    }

    /// Unit vector along the beam.
    pub(super) fn line(&self) -> Vector3<f64> {
        self.axes.row(0).transpose()
    }

    pub(super) fn length(&self) -> f64 {
        self.length
    }

    /// Force and moment that the end node puts on the beam, from the displacements of both nodes.
    pub(super) fn end_force(&self, start: &Vector6<f64>, end: &Vector6<f64>) -> Vector6<f64> {
        self.stiffness * (end - self.transfer.transpose() * start)
    }

    /// Force and moment that the start node puts on the beam, by statics.
    pub(super) fn start_force(&self, end_force: &Vector6<f64>) -> Vector6<f64> {
        -(self.transfer * end_force)
    }

    /// Section forces at a fraction of the length from the start, by statics.
    pub(super) fn section_forces(&self, end_force: &Vector6<f64>, fraction: f64) -> SectionForces {
        let force = self.axes * end_force.fixed_rows::<3>(0);
        let moment = self.axes * end_force.fixed_rows::<3>(3);
        let lever = self.length * (1.0 - fraction);
        SectionForces {
            axial: force.x,
            shear_y: force.y,
            shear_z: force.z,
            torsion: moment.x,
            bending_y: moment.y - lever * force.z,
            bending_z: moment.z + lever * force.y,
        }
    }
}
