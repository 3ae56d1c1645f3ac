//! A gear that stays elastic, by the theory that it takes: small displacements where they are near enough, large ones elsewhere.

use super::large::distance;
use super::{AnalysisError, GearAnalysis, GearStatics, PlateElasticity};
use crate::model::{CaseWheelLoad, Gear};
use crate::results::{GearState, Theory};
use crate::units::{Force, Length, Stress};
use uom::si::f64::Ratio;

/// How far the theories may be apart for the simpler one to be shown.
const NEAR_ENOUGH: f64 = 0.02;

/// A gear made ready for both theories.
pub(super) struct Elastic<'g> {
    pub(super) small: GearAnalysis<'g>,
    /// Made when it is first needed.
    large: Option<GearStatics<'g>>,
    gear: &'g Gear,
    elasticity: PlateElasticity,
    elements: usize,
}

impl<'g> Elastic<'g> {
    /// With so many elements along each leg.
    pub(super) fn new(
        gear: &'g Gear,
        elasticity: PlateElasticity,
        elements: usize,
    ) -> Result<Self, AnalysisError> {
        let small = GearAnalysis::with_elements(gear, elasticity, elements)?;
        Ok(Self { small, large: None, gear, elasticity, elements })
    }

    fn large(&mut self) -> Result<&GearStatics<'g>, AnalysisError> {
        let large = match self.large.take() {
            Some(large) => large,
            None => GearStatics::with_elements(self.gear, self.elasticity, None, self.elements)?,
        };
        Ok(self.large.insert(large))
    }

    /// The gear at limit load and at ultimate, both by one theory.
    pub(super) fn states(
        &mut self,
        loads: &[CaseWheelLoad],
        factor: f64,
    ) -> Result<(GearState, GearState, Theory), AnalysisError> {
        let small = (self.small.solve(loads, 1.0)?, self.small.solve(loads, factor)?);
        if loads.iter().all(CaseWheelLoad::is_zero) {
            return Ok((small.0, small.1, Theory::Small));
        }
        let large = if self.near(&small.0) { self.large()?.two_states(loads, factor) } else { None };
        Ok(by_one_theory(small, large))
    }

    /// The gear at limit load, by small displacements and by large ones.
    pub(super) fn limit_states(
        &mut self,
        loads: &[CaseWheelLoad],
    ) -> Result<(GearState, Option<GearState>), AnalysisError> {
        let small = self.small.solve(loads, 1.0)?;
        let large = if self.near(&small) { self.large()?.one_state(loads) } else { None };
        Ok((small, large))
    }

    /// Whether small displacements keep every wheel within a leg's length of where it was. Beyond, an equilibrium of large ones would
    /// be another gear than the one that was built, and it takes long to find that there is none.
    pub(super) fn near(&self, small: &GearState) -> bool {
        let far = self.gear.plate.leg_length;
        small.wheels.iter().all(|w| distance(w.displacement) <= far)
    }
}

/// Takes the states at limit load and at ultimate by small displacements where those by large ones are near enough.
pub(super) fn by_one_theory(
    (limit, ultimate): (GearState, GearState),
    large: Option<(GearState, GearState)>,
) -> (GearState, GearState, Theory) {
    match large {
        None => (limit, ultimate, Theory::OnlySmall),
        Some((far, further))
            if apart(&limit, &far) > NEAR_ENOUGH || apart(&ultimate, &further) > NEAR_ENOUGH =>
        {
            (far, further, Theory::Large { small_stress: peak(&limit) })
        }
        Some(_) => (limit, ultimate, Theory::Small),
    }
}

fn peak(state: &GearState) -> Stress {
    state.legs.iter().map(|l| l.peak.von_mises).fold(Stress::default(), Stress::max)
}

/// The largest difference of stress, movement or tension between two states, each relative to the largest of its kind.
fn apart(a: &GearState, b: &GearState) -> f64 {
    let stress = a
        .legs
        .iter()
        .zip(&b.legs)
        .map(|(x, y)| (x.peak.von_mises - y.peak.von_mises).abs())
        .fold(Stress::default(), Stress::max);
    let far = a.wheels.iter().map(|w| distance(w.displacement)).fold(Length::default(), Length::max);
    let moved = a
        .wheels
        .iter()
        .zip(&b.wheels)
        .map(|(x, y)| {
            let [(a, d), (b, e), (c, f)] =
                [0, 1, 2].map(|i| (x.displacement.get(i).copied(), y.displacement.get(i).copied()));
            let gap = |p: Option<Length>, q: Option<Length>| p.unwrap_or_default() - q.unwrap_or_default();
            distance([gap(a, d), gap(b, e), gap(c, f)])
        })
        .fold(Length::default(), Length::max);
    let most = a.wires.iter().map(|w| w.tension).fold(Force::default(), Force::max);
    let pulls = a
        .wires
        .iter()
        .zip(&b.wires)
        .map(|(x, y)| (x.tension - y.tension).abs())
        .fold(Force::default(), Force::max);
    let share = |part: Ratio| if part.is_nan() { 0.0 } else { f64::from(part) };
    share(stress / peak(a)).max(share(moved / far)).max(share(pulls / most))
}
