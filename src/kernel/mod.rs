//! The solver: frames of beams and one-sided links, in plain SI `f64` (m, N, Pa, rad).
//!
//! Imports nothing of the rest of the crate. Small displacements, linear elastic; beams bend by the
//! Euler–Bernoulli hypothesis (no shear flexibility). A [`Frame`] is built once, a [`Solver`] factorises it,
//! and each set of nodal loads gives a [`Solution`] or a [`SolveError`]; a solution exists only when it converged.
//!
//! Indices in this module come from a [`Frame`] whose ends and sections were checked by [`Frame::check`].
#![allow(clippy::indexing_slicing, reason = "every index is checked once, when a solver is made of a frame")]

mod beam;
mod block;
mod buckling;
mod frame;
mod solver;
mod stress;
mod system;

pub use beam::{GAUSS_POINTS, Rigidity, SectionForces};
pub use buckling::ArmLoad;
pub use frame::{Beam, Frame, FrameError, Link, LinkEnd, NodalLoad};
pub use solver::{Effort, Solution, SolveError, Solver};
pub use stress::{Peak, Section, StressPoint, peak_von_mises};

/// A force or displacement (first three) with a moment or rotation (last three), in the frame's axes.
pub type Six = [f64; 6];
