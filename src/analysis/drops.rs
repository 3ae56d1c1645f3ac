//! Level drops: what a gear does with the energy of a fall.
//!
//! The mass on a gear falls h before its wheels touch and then d further, while the wing carries L of the weight:
//! m g h + m g (1 − L) d = ∫ F dd, over the legs' own load–deflection curve and the tyres' springs, nothing damped. The largest
//! force over the weight is the ground-reaction factor, and with the wing's share added the inertia load factor.
//! Source: 14 CFR 23.473(d), (e) and 23.725 before amendment 23-64 (lift during the impact; free drop).
//! Derived: docs/method.md "Energy landings".

use super::landing::highest;
use super::large::{GearStatics, distance};
use super::{AnalysisError, ELEMENTS_PER_LEG, PlateElasticity, PlateYield};
use crate::kernel::{Configuration, Load, Path, What};
use crate::loads::GearWeight;
use crate::model::{Gear, Side};
use crate::results::{Drop, DropOutcome, DropTable, FallLimit, LimitLoad, MarkKind, WheelTravel};
use crate::units::{Angle, Energy, Length, Velocity, gravity};

/// Multiple of the weight up to which a gear is followed. chosen: beyond any landing that leaves the aircraft whole.
const MOST_WEIGHTS: f64 = 60.0;

/// Multiple of the weight of the first step where nothing but force and energy is wanted. chosen: a few steps for a firm landing.
const FIRST_WEIGHTS: f64 = 1.5;

/// Speed after a free fall: √(2 g h).
#[must_use]
pub fn speed_after(height: Length) -> Velocity {
    (2.0 * gravity() * height).sqrt()
}

/// Height of the free fall that ends at a speed: v²/2g.
#[must_use]
pub fn height_for(speed: Velocity) -> Length {
    speed * speed / (2.0 * gravity())
}

/// Ground-reaction factor of a fall h with a further travel d, while the wing carries L of the weight and the gear takes up the
/// share e of what its largest force would over that travel: n_j = [h + (1 − L) d] / (e d). Derived from the balance of energy.
#[must_use]
pub fn reaction_factor(height: Length, travel: Length, wing_lift: f64, efficiency: f64) -> f64 {
    f64::from((height + (1.0 - wing_lift) * travel) / (efficiency * travel))
}

/// What to drop without any lift so that it has the energy of a drop with lift: W [h + (1 − L) d] / (h + d), as a share of W.
/// Source: 14 CFR 23.725(b) before amendment 23-64 (the fraction from memory).
#[must_use]
pub fn effective_share(height: Length, travel: Length, wing_lift: f64) -> f64 {
    f64::from((height + (1.0 - wing_lift) * travel) / (height + travel))
}

/// A gear followed under its share of the weight, for drops from any height up to one.
#[derive(Debug)]
pub struct GearDrops<'g> {
    statics: GearStatics<'g>,
    weight: GearWeight,
    wing_lift: f64,
    load: Load,
    path: Path,
}

/// The account of a configuration.
#[derive(Debug, Clone, Copy)]
struct Account {
    /// Work done on gear and tyres.
    taken: Energy,
    /// Of it the tyres'.
    tyres: Energy,
    /// Travel of the mass.
    travel: Length,
    /// Of it the tyres'.
    tyre: Length,
    /// Height of the fall that ends here.
    height: Length,
}

impl<'g> GearDrops<'g> {
    /// Follows a gear far enough for drops up to a height.
    ///
    /// # Errors
    /// When the geometry makes no frame.
    pub fn new(
        gear: &'g Gear,
        elasticity: PlateElasticity,
        yielding: Option<PlateYield>,
        weight: GearWeight,
        wing_lift: f64,
        highest: Length,
    ) -> Result<Self, AnalysisError> {
        let statics = GearStatics::new(gear, elasticity, yielding)?;
        let load = statics.load(&weight.loads);
        let mut drops = Self { statics, weight, wing_lift, load, path: Path::default() };
        let path =
            drops.statics.fine_path(&drops.load, MOST_WEIGHTS, &[], &|c| drops.account(c).height >= highest);
        drops.path = path;
        Ok(drops)
    }

    /// Follows a gear in long steps, far enough for the force of a drop and to see whether it takes up one of `reserve` with the
    /// wing carrying the whole weight.
    pub(super) fn coarse(
        gear: &'g Gear,
        elasticity: PlateElasticity,
        yielding: Option<PlateYield>,
        weight: GearWeight,
        (wing_lift, height, reserve): (f64, Length, Length),
        elements: usize,
    ) -> Result<Self, AnalysisError> {
        let (statics, weight) = alike(gear, elasticity, yielding, weight, elements)?;
        let load = statics.load(&weight.loads);
        let mut drops = Self { statics, weight, wing_lift, load, path: Path::default() };
        let enough = |c: &Configuration| {
            let account = drops.account(c);
            account.height >= height && drops.height_with(&account, 1.0) >= reserve
        };
        drops.path =
            drops.statics.coarse_path(&drops.load, (MOST_WEIGHTS, FIRST_WEIGHTS), &[], true, &enough);
        Ok(drops)
    }

    /// Height of the drop that just makes a leg of a gear yield; of the highest that it takes up where none does before.
    pub(super) fn without_set(
        gear: &'g Gear,
        elasticity: PlateElasticity,
        yielding: PlateYield,
        weight: GearWeight,
        wing_lift: f64,
    ) -> Result<Length, AnalysisError> {
        let (statics, weight) = alike(gear, elasticity, Some(yielding), weight, ELEMENTS_PER_LEG)?;
        let load = statics.load(&weight.loads);
        let mut drops = Self { statics, weight, wing_lift, load, path: Path::default() };
        let beyond = |c: &Configuration| drops.statics.beyond_yield(c, &drops.load);
        let path = drops
            .statics
            .coarse_path(&drops.load, (MOST_WEIGHTS, FIRST_WEIGHTS), &[], true, &|c| beyond(c) > 0.0);
        let yields = drops.statics.statics().first(&path, &drops.load, &beyond);
        drops.path = path;
        let survives = drops.survives().height;
        Ok(yields.map_or(survives, |c| drops.account(&c).height.min(survives).max(Length::default())))
    }

    /// The gear.
    pub(super) const fn gear(&self) -> &'g Gear {
        self.statics.gear()
    }

    /// Balance of energy at a configuration: of a fall from which height it is the lowest point.
    fn account(&self, c: &Configuration) -> Account {
        let mut tyres = Energy::default();
        let mut moved = Energy::default();
        let mut tyre_moved = Energy::default();
        let travels = self.statics.travels(c, &self.load);
        for load in &self.weight.loads {
            let force = c.multiple() * load.up;
            let up = up_travel(&travels, load.side);
            let flat = self.statics.gear().wheel.tyre_stiffness.map_or_else(Length::default, |k| force / k);
            tyres += 0.5 * force * flat;
            moved += load.up * (up + flat);
            tyre_moved += load.up * flat;
        }
        let weight = self.weight.total();
        let taken = self.statics.work(c) + tyres;
        let travel = moved / weight;
        let mut account =
            Account { taken, tyres, travel, tyre: tyre_moved / weight, height: Length::default() };
        account.height = self.height_with(&account, self.wing_lift);
        account
    }

    /// Height of the fall that ends at a configuration while the wing carries a share of the weight.
    fn height_with(&self, account: &Account, wing_lift: f64) -> Length {
        account.taken / self.weight.total() - (1.0 - wing_lift) * account.travel
    }

    /// The largest force of a drop over the weight; `None` when the gear collapses first.
    pub(super) fn reaction(&self, height: Length) -> Option<f64> {
        let lowest = self.lowest(height)?;
        Some(self.most_before(&lowest))
    }

    /// The largest multiple on the way to a configuration: a wire that broke has let the force fall from what it was.
    fn most_before(&self, c: &Configuration) -> f64 {
        let height = self.account(c).height;
        let before = self.path.steps.iter().take_while(|s| self.account(s).height < height);
        before.map(Configuration::multiple).fold(c.multiple(), f64::max)
    }

    /// A drop from a height.
    pub fn drop(&self, height: Length) -> Drop {
        let outcome = self.lowest(height).and_then(|c| self.outcome(&c, height));
        Drop {
            gear: self.statics.gear().name.clone(),
            height,
            sink_rate: speed_after(height),
            wing_lift: self.wing_lift,
            beyond: outcome.is_none() && self.path.event(What::Limit).is_none(),
            outcome,
        }
    }

    /// The configuration at the lowest point; `None` when the gear collapses first.
    fn lowest(&self, height: Length) -> Option<Configuration> {
        self.statics.statics().first(&self.path, &self.load, &|c| {
            f64::from((self.account(c).height - height) / (height + 1e-3 * highest()))
        })
    }

    fn outcome(&self, c: &Configuration, height: Length) -> Option<DropOutcome> {
        let account = self.account(c);
        let factor = self.most_before(c);
        let wheels = self.statics.travels(c, &self.load);
        let marks: Vec<_> = self
            .statics
            .marks(&self.path)
            .into_iter()
            .zip(&self.path.events)
            .filter(|(_, event)| self.account(&event.at).height <= height)
            .map(|(mark, _)| mark)
            .collect();
        let mut unloaded = c.clone();
        self.statics.statics().hold(&mut unloaded, &self.load, 0.0).ok()?;
        let left = self.statics.left(&unloaded, &self.load, c.multiple());
        let rest = self.account(&unloaded);
        // What springs back lifts the mass out of its dent and throws it up.
        let thrown = (account.taken - rest.taken)
            - (1.0 - self.wing_lift) * self.weight.total() * (account.travel - rest.travel);
        Some(DropOutcome {
            ground_reaction_factor: factor,
            inertia_load_factor: factor + self.wing_lift,
            efficiency: f64::from(
                account.taken / (factor * self.weight.total() * account.travel.max(1e-12 * highest())),
            ),
            deflection: account.travel,
            tyre: account.tyre,
            spread: spread(&wheels),
            yielded: self.statics.flows(c) || marks.iter().any(|m| m.what == MarkKind::FirstYield),
            marks,
            set_spread: spread(&left.wheels),
            set: left.wheels.iter().map(|w| distance(w.displacement)).fold(Length::default(), Length::max),
            set_angle: left.bent.iter().map(|(_, a)| *a).fold(Angle::default(), Angle::max),
            rebound_height: (thrown / self.weight.total()).max(Length::default()),
            wheels,
            left,
        })
    }

    /// Height of the drop that just makes a leg yield.
    #[must_use]
    pub fn highest_without_set(&self) -> Option<Length> {
        let marks = self.statics.marks(&self.path);
        let events = marks.iter().zip(&self.path.events);
        let yields =
            events.filter(|(m, _)| m.what == MarkKind::FirstYield).map(|(_, e)| self.account(&e.at).height);
        // What yields beyond the last drop that the gear takes up is no drop without set, and no drop is lower than none.
        yields.reduce(Length::min).map(|h| h.min(self.survives().height).max(Length::default()))
    }

    /// The highest drop that the gear takes up: that of the top of its curve, or of the end of what was followed.
    pub fn survives(&self) -> FallLimit {
        self.survives_with(self.wing_lift)
    }

    /// The same with the wing carrying another share of the weight.
    pub(super) fn survives_with(&self, wing_lift: f64) -> FallLimit {
        let top = self.path.event(What::Limit).map(|e| &e.at);
        let end = top.or(self.path.steps.last());
        let height = |c| self.height_with(&self.account(c), wing_lift);
        FallLimit {
            height: end.map_or_else(Length::default, height).max(Length::default()),
            collapses: top.is_some(),
        }
    }

    /// The highest multiple of the weight on the gear that it holds.
    pub fn limit(&self) -> LimitLoad {
        self.statics.limit_of(&self.path, MOST_WEIGHTS)
    }

    /// Height of the drop whose ground-reaction factor is the one given; `None` when the gear makes it of none.
    #[must_use]
    pub fn height_for_reaction(&self, factor: f64) -> Option<Length> {
        let found = self.statics.statics().first(&self.path, &self.load, &|c| c.multiple() - factor)?;
        Some(self.account(&found).height.max(Length::default()))
    }

    /// Drops from a staircase of heights.
    pub fn table(&self, heights: &[Length]) -> DropTable {
        DropTable {
            gear: self.statics.gear().name.clone(),
            drops: heights.iter().map(|h| self.drop(*h)).collect(),
            highest_without_set: self.highest_without_set(),
            survives: self.survives(),
            limit: self.limit(),
        }
    }

    /// Work done and its account at the lowest point of a drop, for who wants to check the balance: energy of the fall, work on
    /// the legs, work on the tyres.
    #[must_use]
    pub fn balance(&self, height: Length) -> Option<[Energy; 3]> {
        let account = self.account(&self.lowest(height)?);
        let fall = self.weight.total() * (height + (1.0 - self.wing_lift) * account.travel);
        Some([fall, account.taken - account.tyres, account.tyres])
    }
}

/// A gear and the weight on it, or one leg with its half where the legs do the same without knowing of each other.
fn alike(
    gear: &Gear,
    elasticity: PlateElasticity,
    yielding: Option<PlateYield>,
    weight: GearWeight,
    elements: usize,
) -> Result<(GearStatics<'_>, GearWeight), AnalysisError> {
    if let [port, starboard] = weight.loads.as_slice()
        && port.mirrored() == *starboard
        && let Some(leg) = GearStatics::port_leg(gear, elasticity, yielding, elements)?
    {
        let loads = weight.loads.into_iter().filter(|l| l.side == Side::Left).collect();
        return Ok((leg, GearWeight { loads }));
    }
    Ok((GearStatics::with_elements(gear, elasticity, yielding, elements)?, weight))
}

fn up_travel(travels: &[WheelTravel], side: Side) -> Length {
    travels.iter().find(|t| t.side == side).map_or_else(Length::default, |t| {
        let [_, _, up] = t.displacement;
        up
    })
}

/// Growth of the distance between the wheels; sideways travel of a single one.
fn spread(wheels: &[WheelTravel]) -> Length {
    let side = |t: &WheelTravel| {
        let [_, y, _] = t.displacement;
        y
    };
    match wheels {
        [one] => side(one).abs(),
        _ => wheels.iter().map(|t| t.side.sign() * side(t)).fold(Length::default(), |a, b| a + b),
    }
}
