//! A straight beam whose section may vary along it, by its flexibility.
//!
//! The forces along a beam follow from its six basic forces by statics alone, so its flexibility is an integral of 1/EA, 1/GJ
//! and 1/EI, and the inverse of that is its stiffness. Exact for a uniform section; for a tapered one exact to the quadrature.
//! Derived: docs/method.md, "The beam".

use super::corotational::Basic;
use super::corotational::skew;
use super::frame::Beam;
use nalgebra::{Matrix3, Matrix6, Vector3, Vector6};

/// Number of Gauss points along a beam.
pub(super) const GAUSS_COUNT: usize = 5;

/// Abscissae of the Gauss–Legendre rule on 0..1. Source: Abramowitz & Stegun, table 25.4, n = 5.
pub const GAUSS_POINTS: [f64; GAUSS_COUNT] =
    [0.046_910_077_030_668_0, 0.230_765_344_947_158_46, 0.5, 0.769_234_655_052_841_5, 0.953_089_922_969_332];

/// Weights on 0..1, to go with [`GAUSS_POINTS`].
pub(super) const GAUSS_WEIGHTS: [f64; GAUSS_COUNT] = [
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

impl SectionForces {
    /// Forces at the end of a beam of some length, m, from its basic forces.
    pub(super) fn at_end(forces: &Basic, length: f64) -> Self {
        Self {
            axial: forces[0],
            shear_y: -(forces[2] + forces[4]) / length,
            shear_z: (forces[1] + forces[3]) / length,
            torsion: forces[5],
            bending_y: forces[3],
            bending_z: forces[4],
        }
    }

    /// Basic forces of a beam of some length, m, from the forces at its end.
    pub(super) fn basic(&self, length: f64) -> Basic {
        Basic::new(
            self.axial,
            self.shear_z * length - self.bending_y,
            -self.shear_y * length - self.bending_z,
            self.bending_y,
            self.bending_z,
            self.torsion,
        )
    }

    /// The forces nearer the start by some length, m.
    pub(super) fn nearer(&self, length: f64) -> Self {
        Self {
            bending_y: self.bending_y - length * self.shear_z,
            bending_z: self.bending_z + length * self.shear_y,
            ..*self
        }
    }
}

/// Stiffness and flexibility of a beam in its basic deformations. At a hinge the flexibility is that of the rest, and there is
/// no stiffness.
#[derive(Debug, Clone)]
pub(super) struct BasicStiffness {
    pub(super) flexibility: Matrix6<f64>,
    pub(super) stiffness: Matrix6<f64>,
}

impl BasicStiffness {
    /// Integrates a beam's own flexibility over its Gauss points.
    pub(super) fn new(beam: &Beam, length: f64) -> Self {
        let mut flexibility = Matrix6::<f64>::zeros();
        for ((at, weight), r) in GAUSS_POINTS.iter().zip(GAUSS_WEIGHTS).zip(&beam.rigidity) {
            let w = weight * length;
            flexibility[(0, 0)] += w / r.axial;
            flexibility[(5, 5)] += w / r.torsion;
            for (start, end, rigidity) in [(1_usize, 3_usize, r.bending_y), (2, 4, r.bending_z)] {
                flexibility[(start, start)] += w * (1.0 - at) * (1.0 - at) / rigidity;
                flexibility[(end, end)] += w * at * at / rigidity;
                flexibility[(start, end)] -= w * at * (1.0 - at) / rigidity;
            }
        }
        flexibility[(3, 1)] = flexibility[(1, 3)];
        flexibility[(4, 2)] = flexibility[(2, 4)];
        let mut stiffness = Matrix6::<f64>::zeros();
        stiffness[(0, 0)] = 1.0 / flexibility[(0, 0)];
        stiffness[(5, 5)] = 1.0 / flexibility[(5, 5)];
        for (a, b) in [(1_usize, 3_usize), (2, 4)] {
            let (aa, ab, bb): (f64, f64, f64) =
                (flexibility[(a, a)], flexibility[(a, b)], flexibility[(b, b)]);
            if beam.hinged_end {
                stiffness[(a, a)] = 1.0 / aa;
            } else {
                let det = aa * bb - ab * ab;
                stiffness[(a, a)] = bb / det;
                stiffness[(b, b)] = aa / det;
                stiffness[(a, b)] = -ab / det;
                stiffness[(b, a)] = -ab / det;
            }
        }
        Self { flexibility, stiffness }
    }
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

        // With the start held: the chord turns by v/L about z and by −w/L about y.
        let mut deform = Matrix6::zeros();
        deform[(0, 0)] = 1.0;
        deform[(5, 3)] = 1.0;
        for (start, end, across, about, sign) in
            [(1_usize, 3_usize, 2_usize, 4_usize, 1.0), (2, 4, 1, 5, -1.0)]
        {
            deform[(start, across)] = sign / length;
            deform[(end, across)] = sign / length;
            deform[(end, about)] = 1.0;
        }
        let local = deform.tr_mul(&(BasicStiffness::new(beam, length).stiffness * deform));
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

    /// Section forces at the end, by the force and moment that the end node puts on the beam.
    pub(super) fn at_end(&self, end_force: &Vector6<f64>) -> SectionForces {
        let force = self.axes * end_force.fixed_rows::<3>(0);
        let moment = self.axes * end_force.fixed_rows::<3>(3);
        SectionForces {
            axial: force.x,
            shear_y: force.y,
            shear_z: force.z,
            torsion: moment.x,
            bending_y: moment.y,
            bending_z: moment.z,
        }
    }
}
