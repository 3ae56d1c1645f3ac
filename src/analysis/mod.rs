//! From a gear to a frame and back: quantities are unwrapped in `lower` and wrapped again in `lift`.

mod assess;
mod drop_report;
mod drops;
mod elastic;
mod failure_order;
mod families;
mod first_sizes;
mod gear_check;
mod holding;
mod landing;
mod large;
mod lift;
mod lift_mount;
mod lower;
mod lower_mount;
mod margins;
mod perimeter;
mod unknown;

pub use assess::{CheckError, check, check_watched, gear_margins};
pub use drop_report::{DropRequest, case_ids, drop_report};
pub use drops::{GearDrops, effective_share, height_for, reaction_factor, speed_after};
pub use families::families;
pub use first_sizes::first_sizes;
pub use landing::{fall, highest, published_drop, published_speed, staircase};
pub use large::{CurveRequest, GearStatics};
pub use lower::{ELEMENTS_PER_LEG, PlateElasticity, PlateYield, unknown_density};
pub use margins::{Margins, Screen, drop_without_set, margins, margins_with_elements, told_up_to};
pub use perimeter::plate_perimeter;

use crate::kernel::{SolveError, Solver};
use crate::model::{CaseWheelLoad, Gear};
use crate::results::GearState;
use lower::Lowered;
use thiserror::Error;

/// A gear that has no trustworthy solution.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("gear `{gear}` has no solution: {error}")]
pub struct AnalysisError {
    /// The gear's name.
    pub gear: String,
    /// What went wrong.
    pub error: SolveError,
}

/// A gear made ready for any number of loads.
#[derive(Debug)]
pub struct GearAnalysis<'g> {
    gear: &'g Gear,
    lowered: Lowered,
    solver: Solver,
}

impl<'g> GearAnalysis<'g> {
    /// Prepares a gear, with the elasticity its plate has or is taken to have.
    ///
    /// # Errors
    /// When the geometry makes no frame.
    pub fn new(gear: &'g Gear, elasticity: PlateElasticity) -> Result<Self, AnalysisError> {
        Self::with_elements(gear, elasticity, ELEMENTS_PER_LEG)
    }

    /// The same with a chosen number of elements along each leg.
    ///
    /// # Errors
    /// When the geometry makes no frame.
    pub fn with_elements(
        gear: &'g Gear,
        elasticity: PlateElasticity,
        elements: usize,
    ) -> Result<Self, AnalysisError> {
        let lowered = lower::lower(gear, elasticity, None, elements, None);
        let solver =
            Solver::new(&lowered.frame).map_err(|error| AnalysisError { gear: gear.name.clone(), error })?;
        Ok(Self { gear, lowered, solver })
    }

    /// Solves for loads on the wheels, multiplied by `multiple`.
    ///
    /// # Errors
    /// When the solution does not converge.
    pub fn solve(&mut self, loads: &[CaseWheelLoad], multiple: f64) -> Result<GearState, AnalysisError> {
        let scaled: Vec<CaseWheelLoad> = loads.iter().map(|l| l.times(multiple)).collect();
        let nodal = lower::nodal_loads(&self.lowered, &scaled);
        let solution = self
            .solver
            .solve(&nodal)
            .map_err(|error| AnalysisError { gear: self.gear.name.clone(), error })?;
        Ok(lift::lift(self.gear, &self.lowered, &self.lowered.frame, &solution, &scaled))
    }

    /// The smallest multiple of loads on the wheels, themselves multiplied by `multiple`, at which the gear buckles; `None`
    /// when no multiple does it.
    ///
    /// # Errors
    /// When the solution or the search for the multiple does not converge.
    pub fn buckling_multiple(
        &mut self,
        loads: &[CaseWheelLoad],
        multiple: f64,
    ) -> Result<Option<f64>, AnalysisError> {
        let scaled: Vec<CaseWheelLoad> = loads.iter().map(|l| l.times(multiple)).collect();
        let nodal = lower::nodal_loads(&self.lowered, &scaled);
        let arms = lower::arm_loads(&self.lowered, &scaled);
        let solver = &mut self.solver;
        solver
            .solve(&nodal)
            .and_then(|solution| solver.buckling_multiple(&solution, &arms))
            .map_err(|error| AnalysisError { gear: self.gear.name.clone(), error })
    }
}
