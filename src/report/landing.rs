//! The landing in words: where the load factor comes from, and what drop of this gear it is.

use super::figure::{UnitChoice, decimal, significant};
use super::view::factor_figure;
use crate::model::{Gear, Position, Project, Severity};
use crate::results::{CheckResult, Drop, DropOutcome, LandingDrop};
use crate::units::{Length, Velocity};
use serde_json::{Value, json};

/// How much more than the stated load factor an ordinary arrival may make before it is said. chosen: nobody knows a load factor
/// closer.
const AGREES: f64 = 1.05;

/// The lines of the section on the landing: the load factor, then each gear that carries it.
#[must_use]
pub(super) fn landing_lines(project: &Project, result: &CheckResult, units: &UnitChoice) -> Vec<String> {
    let l = &result.landing;
    let mut lines: Vec<String> = asked(&project.landing.severity, units).into_iter().collect();
    lines.push(format!(
        "Load factor {} at the centre of gravity (inertia); the wing still carries {} of the weight, so the ground gives \
         {} times the weight (ground-reaction factor).",
        factor_figure(l.inertia),
        factor_figure(l.wing_lift),
        factor_figure(l.ground_reaction)
    ));
    let main = has_main(project);
    // What a nose gear alone would make of it says nothing of a load factor that another gear makes.
    let shown: Vec<&LandingDrop> = result.drops.iter().filter(|d| d.given || main).collect();
    if !main {
        lines.push(if shown.is_empty() {
            "No main gear is described, so the load factor is taken as it is.".to_owned()
        } else {
            "No main gear is described, so the load factor is that of the gear that is, under the weight that rests on it: a main \
             gear, softer, would make it less."
                .to_owned()
        });
    }
    for landing in &shown {
        lines.push(if landing.given { given(landing, units) } else { stated(landing, l.inertia, units) });
    }
    if shown.len() > 1 && shown.iter().any(|d| d.given) {
        lines.push("Of several gears the one that makes the most g counts for all.".to_owned());
    }
    let of_shown = |g: &Gear| shown.iter().any(|d| d.gear == g.name && d.drop.is_some());
    for gear in project.gears.iter().filter(|g| g.plate.yield_strength().is_none() && of_shown(g)) {
        lines.push(format!(
            "Gear {}: no yield strength is known, so its metal counts as elastic here, however far it bends.",
            gear.name
        ));
    }
    let rigid = project.gears.iter().any(|g| g.wheel.tyre_stiffness.is_none() && of_shown(g));
    if rigid {
        lines.push(
            "A tyre counts as rigid where no `tyre_stiffness` is given; one that gives makes a landing softer, so that the g \
             is less, or a stated g is a higher drop."
                .to_owned(),
        );
    }
    lines
}

fn has_main(project: &Project) -> bool {
    project.gears.iter().any(|g| g.position == Position::Main)
}

/// What the file asks for, when it is not a load factor.
fn asked(severity: &Severity, units: &UnitChoice) -> Option<String> {
    match severity {
        Severity::LoadFactor(_) => None,
        Severity::SinkRate(speed) => {
            Some(format!("The landing is given by its sink rate, {}.", units.figure(*speed, 3)))
        }
        Severity::DropHeight(height) => {
            Some(format!("The landing is given as a drop of {}.", units.figure(*height, 3)))
        }
        Severity::Arrival(arrival) => {
            let (least, most) = arrival.sink_rate.value;
            Some(format!(
                "The landing is given as a {} arrival: {} to {} ({}). The highest is taken.",
                arrival.name,
                units.figure(least, 2),
                units.figure(most, 2),
                arrival.sink_rate.basis
            ))
        }
    }
}

fn fall(drop: &Drop, units: &UnitChoice) -> String {
    format!(
        "a level drop of {} ({} at touch-down)",
        units.figure(drop.height, 3),
        units.figure(drop.sink_rate, 3)
    )
}

fn given(landing: &LandingDrop, units: &UnitChoice) -> String {
    let Some(drop) = &landing.drop else { return String::new() };
    match &drop.outcome {
        Some(outcome) => format!(
            "Gear {}, {}: {} {} {}",
            landing.gear,
            fall(drop, units),
            balance(drop, outcome, units),
            afterwards(outcome, units),
            survives(landing, units)
        ),
        None if drop.beyond => format!(
            "Gear {}, {}: it would pass on more than the g it was followed to. {} The load factor above is the most that was \
             tried, not that of the landing.",
            landing.gear,
            fall(drop, units),
            survives(landing, units)
        ),
        None => format!(
            "Gear {}, {}: it gives way before the fall is taken up. {} The load factor above is the most it holds, not that of \
             the landing.",
            landing.gear,
            fall(drop, units),
            survives(landing, units)
        ),
    }
}

fn stated(landing: &LandingDrop, inertia: f64, units: &UnitChoice) -> String {
    match &landing.drop {
        Some(drop) => {
            let how =
                drop.outcome.as_ref().map_or_else(String::new, |o| format!(": {}", balance(drop, o, units)));
            format!(
                "The load factor is stated. Gear {} makes it of {}{how} {}",
                landing.gear,
                fall(drop, units),
                survives(landing, units)
            )
        }
        None => format!(
            "The load factor is stated. Gear {} makes {} of no drop. {}",
            landing.gear,
            factor_figure(inertia),
            survives(landing, units)
        ),
    }
}

/// The balance of energy with its numbers put in.
fn balance(drop: &Drop, outcome: &DropOutcome, units: &UnitChoice) -> String {
    let (h, d) = (drop.height, outcome.deflection);
    let left = 1.0 - drop.wing_lift;
    let [height, travel, tyre] = [h, d, outcome.tyre].map(|v| units.figure(v, 3));
    let of_it =
        if outcome.tyre > Length::default() { format!(", {tyre} of it the tyre's") } else { String::new() };
    format!(
        "it comes down by d = {travel} more{of_it}, and the ground gives at most n_j = [h + (1 − L) d]/(e d) = [{height} + \
         {} × {travel}]/({} × {travel}) = {} times the weight on it. (e: mean force over largest; 1/2 for an even spring, less \
         for one that stiffens, more for one that yields. L: wing lift over weight.)",
        decimal(left, 3),
        decimal(outcome.efficiency, 3),
        significant(outcome.ground_reaction_factor, 3)
    )
}

fn afterwards(outcome: &DropOutcome, units: &UnitChoice) -> String {
    if outcome.yielded {
        format!(
            "A leg yields: the wheels stay up to {} off their old place, a leg bent by {}.",
            units.figure(outcome.set, 2),
            units.figure(outcome.set_angle, 2)
        )
    } else {
        format!(
            "Nothing of the legs stays bent; with no friction it would bounce {} high.",
            units.figure(outcome.rebound_height, 2)
        )
    }
}

fn survives(landing: &LandingDrop, units: &UnitChoice) -> String {
    let height = units.figure(landing.survives.height, 3);
    if landing.survives.collapses {
        format!("The highest drop it takes up is {height}; beyond that it gives way.")
    } else {
        format!("It takes up a drop of {height}, and nothing higher was tried.")
    }
}

/// What the verdict has to say of the landing before anything else: a gear that gives way in it.
#[must_use]
pub(super) fn collapse_warning(result: &CheckResult, gear: &str, units: &UnitChoice) -> Option<String> {
    let landing = result.drops.iter().find(|d| d.given && d.gear == gear)?;
    let drop = landing.drop.as_ref().filter(|d| d.collapses())?;
    Some(format!(
        "Gear {gear} gives way in this landing, {}. {} The loads shown are the most it holds at all, so no margin below is that of \
         the landing.",
        fall(drop, units),
        survives(landing, units)
    ))
}

/// A warning where a stated load factor is less than what an ordinary arrival makes of this gear.
#[must_use]
pub(super) fn doubtful_factor(result: &CheckResult, gear: &Gear, units: &UnitChoice) -> Option<String> {
    let main = gear.position == Position::Main;
    let gear = &gear.name;
    let landing = result.drops.iter().find(|d| main && !d.given && &d.gear == gear)?;
    let (name, speed, makes) = landing.arrival.as_ref()?;
    let inertia = result.landing.inertia;
    let what = match makes {
        Some(n) if *n > AGREES * inertia => {
            format!("makes {} on this gear", significant(*n, 2))
        }
        Some(_) => return None,
        None => "is more than this gear can take up: it gives way".to_owned(),
    };
    Some(format!(
        "Gear {gear}: the stated load factor of {} is not an ordinary landing on this gear. A {name} arrival, at its highest {}, \
         {what}. Check it with `arrival = \"{name}\"` in place of `load_factor`.",
        factor_figure(inertia),
        units.figure(*speed, 2)
    ))
}

/// The drops behind the landing, for scripts.
#[must_use]
pub(super) fn landing_json(result: &CheckResult) -> Vec<Value> {
    result.drops.iter().map(one_json).collect()
}

fn one_json(landing: &LandingDrop) -> Value {
    let drop = landing.drop.as_ref();
    let outcome = drop.and_then(|d| d.outcome.as_ref());
    let arrival = landing.arrival.as_ref().map(|(name, speed, factor): &(String, Velocity, Option<f64>)| {
        json!({
            "name": name,
            "sink_rate_mps": speed.value,
            "inertia_load_factor": factor,
            "collapsed": factor.is_none(),
        })
    });
    json!({
        "gear": landing.gear,
        "load_factor_stated": !landing.given,
        "height_m": drop.map(|d| d.height.value),
        "sink_rate_mps": drop.map(|d| d.sink_rate.value),
        "collapsed": drop.map(crate::results::Drop::collapses),
        "inertia_load_factor": outcome.map(|o| o.inertia_load_factor),
        "ground_reaction_factor": outcome.map(|o| o.ground_reaction_factor),
        "deflection_m": outcome.map(|o| o.deflection.value),
        "tyre_m": outcome.map(|o| o.tyre.value),
        "yielded": outcome.map(|o| o.yielded),
        "set_m": outcome.map(|o| o.set.value),
        "rebound_height_m": outcome.map(|o| o.rebound_height.value),
        "survives_m": landing.survives.height.value,
        "survives_all_tried": !landing.survives.collapses,
        "ordinary_arrival": arrival,
    })
}
