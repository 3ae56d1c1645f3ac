//! What brace wires do, in words: to the legs, to the mount, to the g.

use super::figure::{UnitChoice, significant};
use crate::model::{CaseId, Gear};
use crate::results::{BracingDrop, BracingEffect, CaseName, CheckResult};
use crate::units::{Force, Length, Measure, Moment, Stress};

/// Stress ratio above which wires are said not to help.
const NO_HELP: f64 = 0.95;

/// Wires that hang slack, and those that pull in vain.
pub(super) fn bracing_remarks(gear: &Gear, result: &CheckResult, all: &mut Vec<String>) {
    // At rest the wires are all there is.
    let landings =
        result.bracing.iter().filter(|b| b.gear == gear.name && b.case != CaseName::Known(CaseId::Rest));
    let effects: Vec<&BracingEffect> = landings.collect();
    let names = |list: Vec<&&BracingEffect>| {
        list.iter().map(|b| b.case.id().to_owned()).collect::<Vec<_>>().join(", ")
    };
    let idle: Vec<_> = effects.iter().filter(|b| b.tension <= Force::default()).collect();
    if !idle.is_empty() {
        all.push(format!(
            "Gear {}: all its wires hang slack in {}, and do nothing there.",
            gear.name,
            names(idle)
        ));
    }
    let in_vain: Vec<_> = effects
        .iter()
        .filter(|b| b.tension > Force::default() && b.stress.1 > NO_HELP * b.stress.0)
        .collect();
    if !in_vain.is_empty() {
        all.push(format!(
            "Gear {}: the wires pull but take less than 5 % off the leg's stress, or add to it, in {}.",
            gear.name,
            names(in_vain)
        ));
    }
    let some_slack: Vec<String> = effects
        .iter()
        .filter(|b| !b.slack.is_empty() && b.tension > Force::default())
        .map(|b| format!("{} in {}", b.slack.join(" and "), b.case.words()))
        .collect();
    if !some_slack.is_empty() {
        all.push(format!(
            "Gear {}: some wires hang slack, as a wire only pulls: {}.",
            gear.name,
            some_slack.join("; ")
        ));
    }
}

/// What the wires of a braced gear do over all its landings, in words for the verdict.
pub(super) fn bracing_verdict(gear: &Gear, result: &CheckResult, units: &UnitChoice) -> Option<String> {
    let effects: Vec<&BracingEffect> = result.bracing.iter().filter(|b| b.gear == gear.name).collect();
    let most = |f: &dyn Fn(&BracingEffect) -> Stress| {
        effects.iter().map(|b| f(b)).fold(Stress::default(), Stress::max)
    };
    let furthest = |f: &dyn Fn(&BracingEffect) -> Length| {
        effects.iter().map(|b| f(b)).fold(Length::default(), Length::max)
    };
    let pull = effects.iter().map(|b| b.tension).fold(Force::default(), Force::max);
    let (plain, braced) = (most(&|b| b.stress.0), most(&|b| b.stress.1));
    if plain <= Stress::default() {
        return None;
    }
    if pull <= Force::default() {
        return Some(format!("Gear {}: the wires hang slack in every landing and do nothing.", gear.name));
    }
    let stresses = format!("from {} to {}", units.figure(plain, 3), units.figure(braced, 3));
    let said = match f64::from(braced / plain) {
        ratio if ratio > 1.0 / NO_HELP => {
            format!("the wires make it worse: the leg's largest stress goes {stresses}")
        }
        ratio if ratio > NO_HELP => {
            format!("the wires hardly help: the leg's largest stress goes {stresses}")
        }
        _ => format!("the wires bring the leg's largest stress {stresses}"),
    };
    let travel = |from: Length, to: Length| from_to(from, to, 2, units);
    let holds = if gear.mount.is_some() {
        format!("They pull with up to {}", units.figure(pull, 3))
    } else {
        format!("They pull with up to {} on what holds them, which is not checked", units.figure(pull, 3))
    };
    Some(format!(
        "Gear {}: {said}; a wheel's sideways travel {}, fore and aft it {}. {holds}{}. {}",
        gear.name,
        travel(furthest(&|b| b.sideways.0), furthest(&|b| b.sideways.1)),
        travel(furthest(&|b| b.fore_and_aft.0), furthest(&|b| b.fore_and_aft.1)),
        on_mount(&effects, units),
        on_landing(gear, result, units)
    ))
}

/// How a figure changes: "goes from 12 mm to 3 mm", "stays at 3 mm".
fn from_to<Q: Measure>(from: Q, to: Q, digits: usize, units: &UnitChoice) -> String {
    let (from, to) = (units.figure(from, digits), units.figure(to, digits));
    if from == to { format!("stays at {to}") } else { format!("goes from {from} to {to}") }
}

/// What the wires do to bolts and wood; nothing without a mount.
fn on_mount(effects: &[&BracingEffect], units: &UnitChoice) -> String {
    let pulls = || effects.iter().filter_map(|b| b.bolt_pull);
    let bendings = || effects.iter().filter_map(|b| b.wood_bending);
    let mut said = String::new();
    if pulls().next().is_some() {
        let most = |f: fn((Force, Force)) -> Force| pulls().map(f).fold(Force::default(), Force::max);
        said.push_str(&format!(
            "; the largest pull in a bolt {}",
            from_to(most(|p| p.0), most(|p| p.1), 3, units)
        ));
    }
    if bendings().next().is_some() {
        let most = |f: fn((Moment, Moment)) -> Moment| bendings().map(f).fold(Moment::default(), Moment::max);
        said.push_str(&format!(
            ", the bending moment in the wood {}",
            from_to(most(|m| m.0), most(|m| m.1), 3, units)
        ));
    }
    said
}

/// What the wires make of one and the same drop.
fn on_landing(gear: &Gear, result: &CheckResult, units: &UnitChoice) -> String {
    let Some(drop) = result.bracing_drops.iter().find(|d| d.gear == gear.name) else {
        return "A stiffer gear passes on more g.".to_owned();
    };
    let landing = result.drops.iter().find(|d| d.gear == gear.name);
    let arrival = landing.filter(|l| !l.given).and_then(|l| l.arrival.as_ref());
    let height = units.figure(drop.height, 3);
    let what = match arrival {
        Some((name, speed, _)) => {
            format!("The same {name} arrival, at {} (a drop of {height}),", units.figure(*speed, 2))
        }
        None => format!("The same drop of {height}"),
    };
    format!("{what} {}.", makes(drop))
}

fn makes(drop: &BracingDrop) -> String {
    let g = |n: f64| format!("{} g", significant(n, 2));
    match (drop.without, drop.with) {
        (Some(without), Some(with)) => format!("makes {} without and {} with them", g(without), g(with)),
        (None, Some(with)) => {
            format!("is more than the gear takes up without them, and makes {} with them", g(with))
        }
        (Some(without), None) => {
            format!("makes {} without them, and is more than the gear takes up with them", g(without))
        }
        (None, None) => "is more than the gear takes up, with or without them".to_owned(),
    }
}
