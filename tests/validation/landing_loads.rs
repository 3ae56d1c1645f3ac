//! The wheel loads of every case, worked out by hand from the published rule for an aircraft of 12.4 kg.
//!
//! W = 12.4 × 9.80665 = 121.602 N. n = 3.5 and L = 0.667, so the ground gives 2.833 W = 344.500 N.

use crate::common::{arm, pair, si};
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::loads::case_loads;
use gearleg::model::{Aircraft, Gear, Landing, Layout, LoadPoint, Position, Project, Severity, Side};
use gearleg::units::Mass;
use uom::si::mass::kilogram;

/// The 12.4 kg aircraft with a main pair and a single third wheel.
pub(crate) fn project(layout: Layout, nose_share: Option<f64>, main: Gear) -> Project {
    let mut third = arm();
    if layout == Layout::Tailwheel {
        third.name = "tail".to_owned();
        third.position = Position::Tail;
    }
    Project {
        aircraft: Aircraft {
            name: "by hand".to_owned(),
            mass: Mass::new::<kilogram>(12.4),
            layout,
            wing_area: None,
            nose_share,
        },
        landing: Landing {
            severity: Severity::LoadFactor(3.5),
            severity_at: None,
            wing_lift: 0.667,
            friction: 0.8,
            ultimate_factor: 1.5,
            obstacle_drag: 1.0,
            cases: None,
        },
        gears: vec![main, third],
        cases: Vec::new(),
        drop_tests: Vec::new(),
        bench: gearleg::model::Bench::default(),
        wish: gearleg::model::Wish::default(),
        readings: Vec::new(),
        written_units: Vec::new(),
        tolerances: Vec::new(),
    }
}

use LoadPoint::{Axle, Ground};
use Side::{Centre, Left, Right};

/// Gear, case, wheel, load aft, starboard, up (N), and where it acts.
type Row = (&'static str, &'static str, Side, [f64; 3], LoadPoint);

/// What does not depend on the third wheel's share.
///
/// level: up 344.500 / 2 = 172.250; aft 0.25 × 3.5 × 121.602 / 2 = 53.201.
/// whole aircraft on one wheel: up 344.500; aft 0.25 × 3.5 × 121.602 = 106.402.
/// side: up 1.33 × 121.602 / 2 = 80.8656; 0.5 × 121.602 = 60.801 inboard, 0.33 × 121.602 = 40.129 outboard.
/// braked roll: up 80.8656; aft 0.8 × 80.8656 = 64.6925.
const ALWAYS: [Row; 10] = [
    ("main", "level", Left, [53.201, 0.0, 172.250], Ground),
    ("main", "level", Right, [53.201, 0.0, 172.250], Ground),
    ("main", "one-wheel", Left, [53.201, 0.0, 172.250], Ground),
    ("main", "one-wheel", Right, [0.0, 0.0, 0.0], Ground),
    ("main", "one-wheel-whole", Left, [106.402, 0.0, 344.500], Ground),
    ("main", "one-wheel-whole", Right, [0.0, 0.0, 0.0], Ground),
    ("main", "side", Left, [0.0, 60.801, 80.8656], Ground),
    ("main", "side", Right, [0.0, 40.129, 80.8656], Ground),
    ("main", "braked-roll", Left, [64.6925, 0.0, 80.8656], Ground),
    ("main", "braked-roll", Right, [64.6925, 0.0, 80.8656], Ground),
];

/// Tail-down on a tricycle: the mains alone, 344.500 / 2.
const TRICYCLE: [Row; 2] = [
    ("main", "tail-down", Left, [0.0, 0.0, 172.250], Ground),
    ("main", "tail-down", Right, [0.0, 0.0, 172.250], Ground),
];

/// Nose share 0.12.
///
/// level: up 0.12 × 344.500 = 41.340; aft 0.12 × 106.402 = 12.7683.
/// nose: static 0.12 × 121.602 = 14.5923; × 2.25 = 32.8327; × 0.8 = 26.2661, × 0.4 = 13.1331, × 0.7 = 22.9829.
/// obstacle, drag once the static load: nose 14.5923; main (1 − 0.12) × 121.602 / 2 = 53.5051.
const NOSE_GIVEN: [Row; 7] = [
    ("nose", "level", Centre, [12.7683, 0.0, 41.340], Ground),
    ("nose", "nose-aft", Centre, [26.2661, 0.0, 32.8327], Axle),
    ("nose", "nose-forward", Centre, [-13.1331, 0.0, 32.8327], Axle),
    ("nose", "nose-side", Centre, [0.0, 22.9829, 32.8327], Ground),
    ("nose", "obstacle", Centre, [14.5923, 0.0, 14.5923], Axle),
    ("main", "obstacle", Left, [53.5051, 0.0, 53.5051], Axle),
    ("main", "obstacle", Right, [53.5051, 0.0, 53.5051], Axle),
];

/// Nose share not given: 0.15 for the nose gear, nothing taken off the main gear.
///
/// level: up 0.15 × 344.500 = 51.675; aft 0.15 × 106.402 = 15.9603.
/// nose: static 18.2404; × 2.25 = 41.0408; × 0.8 = 32.8327, × 0.4 = 16.4163, × 0.7 = 28.7286.
/// obstacle: nose 18.2404; main 121.602 / 2 = 60.801.
const NOSE_NOT_GIVEN: [Row; 7] = [
    ("nose", "level", Centre, [15.9603, 0.0, 51.675], Ground),
    ("nose", "nose-aft", Centre, [32.8327, 0.0, 41.0408], Axle),
    ("nose", "nose-forward", Centre, [-16.4163, 0.0, 41.0408], Axle),
    ("nose", "nose-side", Centre, [0.0, 28.7286, 41.0408], Ground),
    ("nose", "obstacle", Centre, [18.2404, 0.0, 18.2404], Axle),
    ("main", "obstacle", Left, [60.801, 0.0, 60.801], Axle),
    ("main", "obstacle", Right, [60.801, 0.0, 60.801], Axle),
];

/// Tail share 0.08.
///
/// tail-down: main (1 − 0.08) × 344.500 / 2 = 158.470; tail 0.08 × 344.500 = 27.560.
/// tail side: static 0.08 × 121.602 = 9.7282 up and as much sideways.
/// obstacle: tail 27.560 at 45°, 27.560 / √2 = 19.4879; main 0.92 × 121.602 / 2 = 55.9371.
const TAIL_GIVEN: [Row; 7] = [
    ("main", "tail-down", Left, [0.0, 0.0, 158.470], Ground),
    ("main", "tail-down", Right, [0.0, 0.0, 158.470], Ground),
    ("tail", "tail-down", Centre, [0.0, 0.0, 27.560], Ground),
    ("tail", "side", Centre, [0.0, 9.7282, 9.7282], Ground),
    ("tail", "obstacle", Centre, [19.4879, 0.0, 19.4879], Axle),
    ("main", "obstacle", Left, [55.9371, 0.0, 55.9371], Axle),
    ("main", "obstacle", Right, [55.9371, 0.0, 55.9371], Axle),
];

/// Tail share not given: 0.10 for the tail gear, nothing taken off the main gear.
///
/// tail-down: main 172.250; tail 34.450. tail side: 12.1602. obstacle: tail 34.450 / √2 = 24.3598; main 60.801.
const TAIL_NOT_GIVEN: [Row; 7] = [
    ("main", "tail-down", Left, [0.0, 0.0, 172.250], Ground),
    ("main", "tail-down", Right, [0.0, 0.0, 172.250], Ground),
    ("tail", "tail-down", Centre, [0.0, 0.0, 34.450], Ground),
    ("tail", "side", Centre, [0.0, 12.1602, 12.1602], Ground),
    ("tail", "obstacle", Centre, [24.3598, 0.0, 24.3598], Axle),
    ("main", "obstacle", Left, [60.801, 0.0, 60.801], Axle),
    ("main", "obstacle", Right, [60.801, 0.0, 60.801], Axle),
];

pub(crate) fn records() -> Vec<Record> {
    let cases = [
        ("tricycle, nose share 0.12", Layout::Tricycle, Some(0.12), [&ALWAYS[..], &TRICYCLE, &NOSE_GIVEN]),
        ("tricycle, nose share not given", Layout::Tricycle, None, [&ALWAYS[..], &TRICYCLE, &NOSE_NOT_GIVEN]),
        ("tailwheel, tail share 0.08", Layout::Tailwheel, Some(0.08), [&ALWAYS[..], &TAIL_GIVEN, &[]]),
        ("tailwheel, tail share not given", Layout::Tailwheel, None, [&ALWAYS[..], &TAIL_NOT_GIVEN, &[]]),
    ];
    cases
        .into_iter()
        .map(|(name, layout, share, tables)| {
            let mut out = record(
                "Loads at the wheels, 12.4 kg",
                format!("every case of a {name}"),
                (
                    "14 CFR 23.479 to 23.499 before amendment 23-64, by pocket calculator; obstacle and \
                     one-wheel-whole are common practice",
                    Provenance::Published,
                ),
                (Tolerance::Within(1e-5), "five digits by hand"),
            );
            compare(&mut out, &project(layout, share, pair()), &tables.concat());
            out
        })
        .collect()
}

/// Each row against the library, and the number of loads, so that none is missing and none is extra.
fn compare(out: &mut Record, project: &Project, rows: &[Row]) {
    let all = case_loads(project, crate::common::stated(project));
    let found: usize = all.iter().map(|c| c.loads.len()).sum();
    out.point("number of wheel loads", found as f64, rows.len() as f64);
    for &(gear, case, side, force, at) in rows {
        let what = format!("{gear}, {case}, {side}");
        let loads: Vec<[f64; 3]> = all
            .iter()
            .filter(|c| project.gears[c.gear].name == gear && c.case.id() == case)
            .flat_map(|c| &c.loads)
            .filter(|l| l.side == side && l.at == at)
            .map(|l| si(l.force()))
            .collect();
        out.point(format!("{what}: loads there"), loads.len() as f64, 1.0);
        for load in loads {
            out.vector(&what, load, force);
        }
    }
}
