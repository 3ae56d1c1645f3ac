//! What builders find, as numbers.

use crate::common::{brace, even, load, load_at, pair};
use crate::landing_loads::project;
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::analysis::{GearAnalysis, PlateElasticity};
use gearleg::loads::case_loads;
use gearleg::model::{CaseWheelLoad, Gear, Layout, LoadPoint, Pattern, Side, WireFit};
use gearleg::results::GearState;

const TOPIC: &str = "What builders find";
const PRACTICE: (&str, Provenance) = ("builders' experience, no source", Provenance::CommonPractice);

fn solve(gear: &Gear, loads: &[CaseWheelLoad]) -> GearState {
    GearAnalysis::new(gear, PlateElasticity::of(&gear.plate.metal))
        .and_then(|mut a| a.solve(loads, 1.0))
        .expect("a sound gear")
}

fn on_both(force: [f64; 3]) -> [CaseWheelLoad; 2] {
    [load(Side::Left, force), load(Side::Right, force)]
}

pub(crate) fn records() -> Vec<Record> {
    let [spread, flex] = crossed_wires();
    vec![spread, flex, root_two(), squared(), cubed(), whole_on_one()]
}

fn crossed_wires() -> [Record; 2] {
    let plain = pair();
    let mut braced = pair();
    braced.braces.push(brace(Pattern::Cross, 0.9, 55.0, WireFit::Snug));
    let moved = |gear: &Gear, force, axis: usize| {
        solve(gear, &on_both(force)).wheels[1].displacement[axis].value.abs()
    };

    let mut spread = record(
        TOPIC,
        "crossed wires of 1.5 mm make a 4 mm leg many times stiffer in spread (times)",
        PRACTICE,
        (Tolerance::AtLeast, "'many times' is taken as five"),
    );
    let down = [0.0, 0.0, 150.0];
    spread.point("spread without over with", moved(&plain, down, 1) / moved(&braced, down, 1), 5.0);

    let mut flex = record(
        TOPIC,
        "and leave its fore-and-aft flex nearly as it was",
        PRACTICE,
        (Tolerance::Within(0.2), "'nearly' is taken as a fifth"),
    );
    let aft = [50.0, 0.0, 0.0];
    flex.point("travel aft with wires", moved(&braced, aft, 0), moved(&plain, aft, 0));
    [spread, flex]
}

fn of_thickness(mut gear: Gear, thickness: f64) -> Gear {
    gear.plate.thickness = even(thickness);
    gear
}

/// With half the yield strength the stress may be half: a leg √2 as thick.
fn root_two() -> Record {
    let mut out = record(
        TOPIC,
        "a leg of half the yield strength must be √2 as thick: the stress is then half",
        PRACTICE,
        (Tolerance::Within(0.01), "the share of N/A falls with t only, not with t²"),
    );
    let peak = |t| solve(&of_thickness(pair(), t), &on_both([0.0, 0.0, 150.0])).legs[1].peak.von_mises.value;
    out.point("stress at √2 t over stress at t", peak(4.0 * std::f64::consts::SQRT_2) / peak(4.0), 0.5);
    out
}

/// Vertical load on a leaning leg: σ = F cos φ/(b t) + 6 F e/(b t²), e the contact point's distance athwartships.
fn squared() -> Record {
    let mut out = record(
        TOPIC,
        "strength goes with t²: stress of a parallel leaning leg under a vertical load, 2 to 8 mm",
        ("F cos φ/bt + 6Fe/bt²", Provenance::ClosedForm),
        (Tolerance::Within(1e-9), "prismatic: the method has no error of its own"),
    );
    let lean = 40_f64.to_radians();
    let arm = 0.230 * lean.sin() + 0.022;
    for t in [2.0, 3.0, 4.0, 5.66, 8.0] {
        let mut gear = of_thickness(pair(), t);
        gear.plate.width = even(50.0);
        let state = solve(&gear, &on_both([0.0, 0.0, 150.0]));
        let (b, t) = (0.050, t / 1e3);
        let paper = 150.0 * lean.cos() / (b * t) + 6.0 * 150.0 * arm / (b * t * t);
        out.point(format!("{} mm", t * 1e3), state.legs[0].peak.von_mises.value, paper);
    }
    out
}

/// A straight arm bent sideways has no stretch in it: twice the thickness, an eighth of the travel.
fn cubed() -> Record {
    let mut out = record(
        TOPIC,
        "stiffness goes with t³: twice as thick, eight times as stiff; a quarter of the stress",
        ("P L³/3EI, 6PL/bt²", Provenance::ClosedForm),
        (Tolerance::Within(1e-9), "prismatic: the method has no error of its own"),
    );
    let sideways = |t| {
        let gear = of_thickness(crate::common::arm(), t);
        let state = solve(&gear, &[load_at(Side::Centre, [0.0, 20.0, 0.0], LoadPoint::Axle)]);
        (state.wheels[0].displacement[1].value, state.legs[0].peak.von_mises.value)
    };
    let ((thin, stressed), (thick, relieved)) = (sideways(3.0), sideways(6.0));
    out.point("travel", thin / thick, 8.0);
    out.point("stress", stressed / relieved, 4.0);
    out
}

fn whole_on_one() -> Record {
    let mut out = record(
        TOPIC,
        "the whole landing on one wheel doubles that leg's moment and stress of a level landing",
        PRACTICE,
        (Tolerance::Within(1e-9), "twice the load on an elastic leg"),
    );
    let project = project(Layout::Tricycle, None, pair());
    let all = case_loads(&project, crate::common::stated(&project));
    let state = |id: &str| {
        let case = all.iter().find(|c| c.gear == 0 && c.case.id() == id).expect("the case applies");
        solve(&project.gears[0], &case.loads)
    };
    let (level, whole) = (state("level"), state("one-wheel-whole"));
    let (level, whole) = (&level.legs[0], &whole.legs[0]);
    out.vector("moment", whole.root_moment.map(|m| m.value), level.root_moment.map(|m| 2.0 * m.value));
    out.point("stress", whole.peak.von_mises.value, 2.0 * level.peak.von_mises.value);
    out
}
