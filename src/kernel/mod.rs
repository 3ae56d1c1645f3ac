//! The solver: frames of beams and one-sided links, in plain SI `f64` (m, N, Pa, rad).
//!
//! Imports nothing of the rest of the crate. Beams bend by the Euler–Bernoulli hypothesis (no shear flexibility). A [`Frame`] is
//! built once; each set of nodal loads gives a [`Solution`] or an error: a solution exists only when it converged.
//!
//! [`Solver`] is for small displacements, elastic, at one factorisation. [`Statics`] is for large ones, with sections that yield
//! and links that yield and break, step by step from one [`Configuration`] to the next. Both are made of the same beams, links
//! and factorisation, and the first step of the second is the first.
//!
//! Indices in this module come from a [`Frame`] whose ends and sections were checked by [`Frame::check`].
#![allow(clippy::indexing_slicing, reason = "every index is checked once, when a solver is made of a frame")]

mod beam;
mod block;
mod buckling;
mod cord;
mod corotational;
mod fibre;
mod frame;
mod law;
mod member;
mod newton;
mod parabola;
mod path;
mod solver;
mod statics;
mod stress;
mod system;

pub use beam::{GAUSS_POINTS, Rigidity, SectionForces};
pub use buckling::ArmLoad;
pub use frame::{Action, Beam, Frame, FrameError, Link, LinkEnd, LinkStrength, NodalLoad, Yielding};
pub use law::Law;
pub use path::{Event, Path, Watch, What};
pub use solver::{Effort, Solution, SolveError, Solver};
pub use statics::{Configuration, Energy, Load, NotReached, Statics};
pub use stress::{Peak, Section, StressPoint, peak_von_mises};

/// A force or displacement (first three) with a moment or rotation (last three), in the frame's axes.
pub type Six = [f64; 6];
