//! A gear made ready for a check: every theory it takes, and its margins in one landing case.

use super::elastic::{Elastic, by_one_theory};
use super::holding::Holding;
use super::{AnalysisError, GearStatics, PlateElasticity, PlateYield};
use crate::checks::{self, Subject};
use crate::kernel::Configuration;
use crate::loads::CaseLoads;
use crate::model::{CaseId, CaseWheelLoad, Gear, PartKind, PlateMetal, Project};
use crate::results::{CaseName, CaseResult, FailureOrder, GearState, LandingDrop, LimitLoad, Margin, Theory};
use crate::units::Stress;

/// A gear made ready.
pub(super) struct GearCheck<'p> {
    pub(super) project: &'p Project,
    pub(super) gear: &'p Gear,
    pub(super) elastic: PlateElasticity,
    /// The gear while its metal stays elastic.
    pub(super) analysis: Elastic<'p>,
    /// The same at the ends of the range of moduli that an unknown metal may have.
    pub(super) ends: Vec<Elastic<'p>>,
    range: Vec<PlateElasticity>,
    /// Elements along each leg.
    elements: usize,
}

impl<'p> GearCheck<'p> {
    /// Makes a gear ready, with so many elements along each leg.
    pub(super) fn new(project: &'p Project, gear: &'p Gear, elements: usize) -> Result<Self, AnalysisError> {
        let elastic = PlateElasticity::of(&gear.plate.metal);
        let unknown = gear.plate.metal == PlateMetal::Unknown;
        // An unknown modulus moves the stress where wires or an axle share the load with the legs, and any leg's buckling load.
        let range = if unknown { PlateElasticity::aluminium_range().to_vec() } else { Vec::new() };
        Ok(Self {
            project,
            gear,
            elastic,
            analysis: Elastic::new(gear, elastic, elements)?,
            ends: range.iter().map(|e| Elastic::new(gear, *e, elements)).collect::<Result<_, _>>()?,
            range,
            elements,
        })
    }

    /// The gear as it yields and breaks.
    pub(super) fn real(&self) -> Result<GearStatics<'p>, AnalysisError> {
        let yielding = PlateYield::of(&self.gear.plate);
        GearStatics::with_elements(self.gear, self.elastic, yielding, self.elements)
    }

    /// The gear as it yields and breaks, for how much it holds.
    pub(super) fn holding(&self) -> Result<Holding<'p>, AnalysisError> {
        let yielding = PlateYield::of(&self.gear.plate);
        Holding::new(self.gear, self.elastic, yielding, self.elements)
    }

    /// What the checks look at.
    pub(super) fn subject(&self) -> Subject<'p> {
        // What a modulus makes buckle, the softest makes buckle first.
        let softest = self.range.iter().map(|e| e.modulus).fold(self.elastic.modulus, Stress::min);
        Subject { project: self.project, gear: self.gear, modulus: softest, poisson: self.elastic.poisson }
    }

    /// The stiffest that the plate may be.
    pub(super) fn stiffest(&self) -> Stress {
        self.range.iter().map(|e| e.modulus).fold(self.elastic.modulus, Stress::max)
    }

    fn factor(&self) -> f64 {
        self.project.landing.ultimate_factor
    }

    /// The smallest multiple of the ultimate loads at which the gear buckles.
    fn buckling(&mut self, loads: &CaseLoads) -> Result<Option<f64>, AnalysisError> {
        let factor = self.factor();
        let mut buckling = self.analysis.small.buckling_multiple(&loads.loads, factor)?;
        for end in &mut self.ends {
            let other = end.small.buckling_multiple(&loads.loads, factor)?;
            buckling = [buckling, other].into_iter().flatten().reduce(f64::min);
        }
        Ok(buckling)
    }

    /// A case with its elastic states; its limit load has been found elsewhere.
    pub(super) fn case(
        &mut self,
        loads: &CaseLoads,
        limit_load: Option<LimitLoad>,
    ) -> Result<CaseResult, AnalysisError> {
        let states = self.analysis.states(&loads.loads, self.factor())?;
        self.with_states(loads, states, limit_load)
    }

    /// The same with the limit load followed on the real gear up to a multiple; what that does while nothing of it has yielded
    /// serves for the elastic states.
    pub(super) fn case_followed(
        &mut self,
        holding: &mut Holding<'p>,
        loads: &CaseLoads,
        up_to: f64,
    ) -> Result<CaseResult, AnalysisError> {
        if !loads.is_loaded() {
            return self.case(loads, None);
        }
        let factor = self.factor();
        if let Some(limit_load) = holding.by_one_leg(&loads.loads, (up_to, factor)) {
            return self.case(loads, Some(limit_load));
        }
        let (load, path) = holding.path(&loads.loads, (up_to, factor));
        let real = holding.whole();
        let limit_load = real.limit_of(&path, up_to);
        let untouched = |c: &&Configuration| {
            !c.has_yielded() && !c.links_yielded().contains(&true) && !c.links_broken().contains(&true)
        };
        let held = path.steps.get(..path.holding()).unwrap_or_default();
        let at = |multiple: f64| held.iter().find(|c| c.multiple() == multiple).filter(untouched);
        let states = match (at(1.0), at(factor)) {
            (Some(once), Some(more)) => {
                let small = &mut self.analysis.small;
                let small = (small.solve(&loads.loads, 1.0)?, small.solve(&loads.loads, factor)?);
                let near = self.analysis.near(&small.0);
                let large = near.then(|| [once, more].map(|c| real.state_of(c, &load, &loads.loads)).into());
                by_one_theory(small, large)
            }
            _ => self.analysis.states(&loads.loads, factor)?,
        };
        self.with_states(loads, states, Some(limit_load))
    }

    /// The margin of the limit load of a case that has been found without it, followed on the real gear up to a multiple.
    pub(super) fn limit_load(
        &self,
        holding: &mut Holding<'p>,
        case: &mut CaseResult,
        up_to: f64,
    ) -> Vec<Margin> {
        if case.loads.iter().all(CaseWheelLoad::is_zero) {
            return Vec::new();
        }
        case.limit_load = Some(holding.limit_load(&case.loads, (up_to, self.factor())));
        checks::run_limit_load(&self.subject(), case)
    }

    fn with_states(
        &mut self,
        loads: &CaseLoads,
        (limit, ultimate, theory): (GearState, GearState, Theory),
        limit_load: Option<LimitLoad>,
    ) -> Result<CaseResult, AnalysisError> {
        Ok(CaseResult {
            gear: loads.gear,
            gear_name: self.gear.name.clone(),
            case: loads.case.clone(),
            loads: loads.loads.clone(),
            rule: loads.rule.clone(),
            rule_source: loads.source.to_owned(),
            limit,
            ultimate,
            buckling_multiple: self.buckling(loads)?,
            theory,
            limit_load,
        })
    }

    /// Margins that go by no landing case: what the shop does to the gear, and the drops of a landing that carries it.
    pub(super) fn standing_margins(&self, drops: &[LandingDrop]) -> Vec<Margin> {
        let subject = self.subject();
        let mut margins = checks::run_for_gear(&subject);
        let own = drops.iter().filter(|d| d.gear == self.gear.name);
        margins.extend(own.flat_map(|landing| checks::run_for_drop(&subject, landing)));
        margins
    }

    /// Margins of a case, with that of the wish for what gives first where the order is known.
    pub(super) fn margins(&self, case: &CaseResult, order: Option<&FailureOrder>) -> Vec<Margin> {
        let subject = self.subject();
        let wished = order.into_iter().flat_map(|order| checks::run_for_order(&subject, order));
        let margins = checks::run_for_case(&subject, case).into_iter();
        let meant = |m: &Margin| {
            let kind = checks::find(m.check).and_then(|c| c.fails);
            kind.is_some_and(|kind| self.meant_to_give(&case.case, kind))
        };
        wished.chain(margins.filter(|m| !meant(m))).collect()
    }

    /// Whether a kind of part is meant to give first in a case that is a rut or long grass: there it is to give, and has no margin.
    pub(super) fn meant_to_give(&self, case: &CaseName, kind: PartKind) -> bool {
        let rut = *case == CaseName::Known(CaseId::Obstacle);
        rut && self.gear.meant_to_give(case.known()) == Some(kind)
    }
}
