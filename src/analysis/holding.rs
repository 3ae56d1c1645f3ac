//! How much a gear holds, as it yields and breaks.

use super::large::GearStatics;
use super::{AnalysisError, PlateElasticity, PlateYield};
use crate::kernel::{Load, Path};
use crate::model::{CaseWheelLoad, Gear, Side};
use crate::results::LimitLoad;

/// A gear made ready for how much it holds.
pub(super) struct Holding<'p> {
    whole: GearStatics<'p>,
    /// Its port leg, where its legs know nothing of each other and are mirror images.
    port: Option<GearStatics<'p>>,
    /// What the port leg holds of loads that were asked for before: landings share them.
    known: Vec<(Vec<CaseWheelLoad>, LimitLoad)>,
}

impl<'p> Holding<'p> {
    /// Makes a gear ready, with so many elements along each leg.
    ///
    /// # Errors
    /// When the geometry makes no frame.
    pub(super) fn new(
        gear: &'p Gear,
        elasticity: PlateElasticity,
        yielding: Option<PlateYield>,
        elements: usize,
    ) -> Result<Self, AnalysisError> {
        Ok(Self {
            whole: GearStatics::with_elements(gear, elasticity, yielding, elements)?,
            port: GearStatics::port_leg(gear, elasticity, yielding, elements)?,
            known: Vec::new(),
        })
    }

    /// The gear.
    pub(super) const fn whole(&self) -> &GearStatics<'p> {
        &self.whole
    }

    /// The path of the whole gear under loads, with stops at one and at the ultimate factor.
    pub(super) fn path(&self, loads: &[CaseWheelLoad], (up_to, factor): (f64, f64)) -> (Load, Path) {
        followed(&self.whole, loads, (up_to, factor))
    }

    /// The highest multiple of loads that is held, as far as it was followed.
    pub(super) fn limit_load(&mut self, loads: &[CaseWheelLoad], ends: (f64, f64)) -> LimitLoad {
        self.by_one_leg(loads, ends).unwrap_or_else(|| self.whole.limit_of(&self.path(loads, ends).1, ends.0))
    }

    /// The same where one leg tells it: the other has nothing to hold, or just the same.
    pub(super) fn by_one_leg(&mut self, loads: &[CaseWheelLoad], ends: (f64, f64)) -> Option<LimitLoad> {
        let port = self.port.as_ref()?;
        let on = |side: Side| loads.iter().filter(move |l| l.side == side && !l.is_zero());
        let left: Vec<CaseWheelLoad> = on(Side::Left).copied().collect();
        let right: Vec<CaseWheelLoad> = on(Side::Right).map(CaseWheelLoad::mirrored).collect();
        let own = match (left.is_empty(), right.is_empty()) {
            (false, true) => left,
            (true, false) => right,
            (false, false) if left == right => left,
            _ => return None,
        };
        if let Some((_, found)) = self.known.iter().find(|(loads, _)| *loads == own) {
            return Some(*found);
        }
        let found = port.limit_of(&followed(port, &own, ends).1, ends.0);
        self.known.push((own, found));
        Some(found)
    }
}

fn followed(gear: &GearStatics<'_>, loads: &[CaseWheelLoad], (up_to, factor): (f64, f64)) -> (Load, Path) {
    let load = gear.load(loads);
    let path = gear.coarse_path(&load, (up_to, 1.0), &[1.0, factor], true, &|_| false);
    (load, path)
}
