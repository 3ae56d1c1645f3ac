//! The landing's load factor: as stated, or from the energy of a drop; and what drop a stated one amounts to.

use super::drops::{GearDrops, height_for};
use super::{AnalysisError, PlateElasticity, PlateYield};
use crate::loads;
use crate::material::{Arrival, Library};
use crate::model::{Gear, Position, Project, Severity};
use crate::results::{LandingDrop, LandingFactors};
use crate::units::{Length, Velocity, gravity};
use uom::si::length::{inch, meter};
use uom::si::velocity::{foot_per_second, meter_per_second};

/// The arrival that every gear has to expect, by its name in the table.
const ORDINARY: &str = "firm";

/// Share of the weight beyond which the wing carries all of it, for the reserve of energy.
pub(super) const WHOLE_LIFT: f64 = 1.0;

/// Where a staircase of drops begins: 50 mm. Common practice, no source.
pub(super) fn lowest() -> Length {
    Length::new::<meter>(0.05)
}

/// A fall that is far beyond any landing, where the search for a gear's limits ends: 3 m.
#[must_use]
pub fn highest() -> Length {
    Length::new::<meter>(3.0)
}

/// The load factors of a landing and the drops behind them.
pub(super) struct LandingState<'p> {
    pub(super) factors: LandingFactors,
    pub(super) drops: Vec<LandingDrop>,
    /// The gears of those drops, followed, in the same order.
    pub(super) followed: Vec<GearDrops<'p>>,
}

/// Height of the fall that a landing amounts to; `None` when it is stated as a load factor.
#[must_use]
pub fn fall(severity: &Severity) -> Option<Length> {
    match severity {
        Severity::LoadFactor(_) => None,
        Severity::SinkRate(v) => Some(height_for(*v)),
        Severity::DropHeight(h) => Some(*h),
        Severity::Arrival(arrival) => Some(height_for(arrival.sink_rate.value.1)),
    }
}

/// The gears that carry the landing: those under the centre of gravity, or all when there are none.
pub(super) fn carriers(project: &Project) -> Vec<&Gear> {
    let main: Vec<&Gear> = project.gears.iter().filter(|g| g.position == Position::Main).collect();
    if main.is_empty() { project.gears.iter().collect() } else { main }
}

/// A gear followed for drops up to a height, as its file has it.
pub(super) fn drops<'g>(
    project: &Project,
    gear: &'g Gear,
    wing_lift: f64,
    highest: Length,
) -> Result<GearDrops<'g>, AnalysisError> {
    let elastic = PlateElasticity::of(&gear.plate.metal);
    let weight = loads::drop_weight(project, gear);
    GearDrops::new(gear, elastic, PlateYield::of(&gear.plate), weight, wing_lift, highest)
}

/// Finds the load factors.
///
/// Of several gears that carry the landing the one that makes the most of it counts. A gear that collapses makes what it can hold.
pub(super) fn landing<'p>(
    project: &'p Project,
    library: &Library,
) -> Result<LandingState<'p>, AnalysisError> {
    let wing_lift = project.landing.wing_lift;
    let ordinary = library.arrivals.iter().find(|a| a.name == ORDINARY);
    let (mut found, mut all) = (Vec::new(), Vec::new());
    let mut factor: f64 = 0.0;
    for gear in carriers(project) {
        let followed = drops(project, gear, wing_lift, highest())?;
        let (drop, reaction) = match &project.landing.severity {
            Severity::LoadFactor(inertia) => {
                (stated(project, &followed, *inertia, ordinary), inertia - wing_lift)
            }
            severity => given(gear, &followed, fall(severity).unwrap_or_default()),
        };
        factor = factor.max(reaction);
        found.push(drop);
        all.push(followed);
    }
    Ok(LandingState {
        factors: LandingFactors::new(factor + wing_lift, wing_lift),
        drops: found,
        followed: all,
    })
}

fn given(gear: &Gear, followed: &GearDrops<'_>, height: Length) -> (LandingDrop, f64) {
    let drop = followed.drop(height);
    let reaction =
        drop.outcome.as_ref().map_or_else(|| followed.limit().multiple, |o| o.ground_reaction_factor);
    let landing = LandingDrop {
        gear: gear.name.clone(),
        given: true,
        drop: Some(drop),
        survives: followed.survives(),
        reserve_height: Some(followed.survives_with(WHOLE_LIFT)),
        arrival: None,
    };
    (landing, reaction)
}

fn stated(
    project: &Project,
    followed: &GearDrops<'_>,
    inertia: f64,
    ordinary: Option<&Arrival>,
) -> LandingDrop {
    let height = followed.height_for_reaction(inertia - project.landing.wing_lift);
    LandingDrop {
        gear: followed.gear().name.clone(),
        given: false,
        drop: height.map(|h| followed.drop(h)),
        survives: followed.survives(),
        reserve_height: None,
        arrival: ordinary.map(|a| {
            let speed = a.sink_rate.value.1;
            let outcome = followed.drop(height_for(speed)).outcome;
            (a.name.clone(), speed, outcome.map(|o| o.inertia_load_factor))
        }),
    }
}

/// Heights at which a gear is dropped when nobody says which: a staircase from 50 mm up, the pilot's words, the published rule's
/// least drop.
#[must_use]
pub fn staircase(project: &Project, library: &Library) -> Vec<Length> {
    let steps = [0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5].map(Length::new::<meter>);
    let words = library.arrivals.iter().map(|a| height_for(a.sink_rate.value.1));
    let mut heights: Vec<Length> = steps
        .into_iter()
        .chain(words)
        .chain([published_drop(project)])
        .chain(fall(&project.landing.severity))
        .collect();
    heights.sort_by(|a, b| a.value.total_cmp(&b.value));
    heights.dedup_by(|a, b| (*a - *b).abs() < Length::new::<meter>(1e-4));
    heights
}

/// The published free drop: h = 3.6 √(W/S) inches with W/S in lb/ft², not less than 9.2 and not more than 18.7 inches; the least
/// when no wing area is given. In SI 0.013215 √(W/S) m with W/S in N/m². Source: 14 CFR 23.725(a) before amendment 23-64.
#[must_use]
pub fn published_drop(project: &Project) -> Length {
    let (least, most) = (Length::new::<inch>(9.2), Length::new::<inch>(18.7));
    let Some(area) = project.aircraft.wing_area else { return least };
    let loading = project.aircraft.mass * gravity() / area;
    let height = 0.013_215 * loading.value.sqrt();
    Length::new::<meter>(height).max(least).min(most)
}

/// The published descent speed that goes with it: 4.4 (W/S)^¼ ft/s, 7 to 10. Source: 14 CFR 23.473(d) before amendment 23-64.
#[must_use]
pub fn published_speed(project: &Project) -> Velocity {
    let (least, most) = (Velocity::new::<foot_per_second>(7.0), Velocity::new::<foot_per_second>(10.0));
    let Some(area) = project.aircraft.wing_area else { return least };
    let loading = project.aircraft.mass * gravity() / area;
    Velocity::new::<meter_per_second>(0.5098 * loading.value.powf(0.25)).max(least).min(most)
}
