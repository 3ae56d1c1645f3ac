//! Fixed portal under a lateral load: as a plain frame, and as a twin-arm gear whose axle is the beam.

use crate::common::{YOUNG, add, cross, even, load_at, mm, si, twin};
use crate::frames::beam;
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::analysis::{GearAnalysis, PlateElasticity};
use gearleg::kernel::{Frame, NodalLoad, Solver};
use gearleg::model::{AxleJoint, LoadPoint, Side};
use std::f64::consts::PI;

const TOPIC: &str = "Two arms and an axle (portal)";
const LOAD: f64 = 100.0;
const HEIGHT: f64 = 0.25;
const SPAN: f64 = 0.10;

pub(crate) fn records() -> Vec<Record> {
    vec![frame_rows(), twin_clamped(), twin_handbook(), twin_pinned()]
}

/// Foot moment, corner moment and sway of a portal whose members do not stretch.
///
/// k = (I_b/I_c)(h/L); M_foot = (Hh/2)(3k+1)/(6k+1); M_corner = (Hh/2)·3k/(6k+1); sway = Hh³/(12EI_c)·(3k+2)/(6k+1).
/// Source: Roark / Kleinlogel, from memory; verified by slope-deflection in oracle/closed_forms.py.
fn handbook(k: f64, column: f64) -> [f64; 3] {
    let half = LOAD * HEIGHT / 2.0;
    [
        half * (3.0 * k + 1.0) / (6.0 * k + 1.0),
        half * 3.0 * k / (6.0 * k + 1.0),
        LOAD * HEIGHT.powi(3) / (12.0 * column) * (3.0 * k + 2.0) / (6.0 * k + 1.0),
    ]
}

/// I_b/I_c, foot moment, corner moment (N·m), sway (mm). Source: an independent stiffness solution; the last two rows
/// are limits of the formulas above.
const ROWS: [(f64, [f64; 3]); 5] = [
    (0.5, [6.985_29, 5.514_71, 1.258_316]),
    (1.0, [6.640_63, 5.859_38, 1.104_446]),
    (4.0, [6.352_46, 6.147_54, 0.975_800]),
    (f64::INFINITY, [6.25, 6.25, 0.930_060]),
    (0.0, [12.5, 0.0, 3.720_238]),
];

fn frame_rows() -> Record {
    let mut out = record(
        TOPIC,
        "foot moment, corner moment and sway of a portal, axle from infinitely soft to infinitely stiff",
        ("Roark / Kleinlogel, verified by an independent stiffness solution", Provenance::FromMemory),
        (
            Tolerance::Within(2e-6),
            "the table's last digit; the frame's members hardly stretch (EA h²/EI = 1e8)",
        ),
    );
    let column = 70.0; // E I_c: 70 GPa × 1e-9 m⁴
    let stretch = 1e8 * column / HEIGHT.powi(2);
    for (ratio, [foot, corner, sway]) in ROWS {
        // Infinitely stiff and soft axles as near as the sums allow.
        let axle = column * ratio.clamp(1e-8, 1e7);
        let mut frame = Frame {
            nodes: vec![[0.0; 3], [0.0, 0.0, HEIGHT], [0.0, SPAN, HEIGHT], [0.0, SPAN, 0.0]],
            clamped: vec![0, 3],
            ..Frame::default()
        };
        beam(&mut frame, 0, 1, stretch, column);
        beam(&mut frame, 1, 2, stretch, axle);
        beam(&mut frame, 3, 2, stretch, column);
        let mut solver = Solver::new(&frame).expect("a sound frame");
        let half = |node| NodalLoad { node, load: [0.0, LOAD / 2.0, 0.0, 0.0, 0.0, 0.0] };
        let solution = solver.solve(&[half(1), half(2)]).expect("a solution");
        let what = format!("I_b/I_c = {ratio}");
        for reaction in &solution.reactions {
            out.point(format!("{what}, foot"), reaction[3].abs(), foot);
        }
        for post in [0, 2] {
            let f = solution.section_forces(post, 1.0);
            out.scaled(format!("{what}, corner"), f.bending_y.abs(), corner, foot);
        }
        out.point(format!("{what}, sway"), solution.displacements[1][1] * 1e3, sway);
    }
    out
}

/// Plate and axle of the twin, mm; arms straight down, HEIGHT long, SPAN apart.
const WIDTH: f64 = 30.0;
const THICKNESS: f64 = 4.0;
const AXLE: f64 = 6.0;
const STEEL: f64 = 210e9;

/// Moment the load puts on each arm's clamp, and how far the wheel's centre goes sideways.
fn solved_twin(joint: AxleJoint) -> ([f64; 2], f64) {
    let mut gear = twin(SPAN * 1e3, joint);
    gear.plate.width = even(WIDTH);
    gear.plate.thickness = even(THICKNESS);
    gear.plate.leg_length = mm(HEIGHT * 1e3);
    gear.wheel.axle = mm(AXLE);
    let state = GearAnalysis::new(&gear, PlateElasticity::of(&gear.plate.metal))
        .and_then(|mut a| a.solve(&[load_at(Side::Centre, [0.0, LOAD, 0.0], LoadPoint::Axle)], 1.0))
        .expect("a sound gear");
    let wheel = &state.wheels[0];
    let to_contact = [0.0, 0.0, -gear.wheel.diameter.value / 2.0];
    let centre = add(si(wheel.displacement), -1.0, cross(si(wheel.rotation), to_contact));
    ([0, 1].map(|i| state.legs[i].root_moment[0].value), centre[1])
}

/// (A, I) of an arm and of the axle.
fn members() -> ([f64; 2], [f64; 2]) {
    let (b, t, d) = (WIDTH / 1e3, THICKNESS / 1e3, AXLE / 1e3);
    ([b * t, b * t.powi(3) / 12.0], [PI / 4.0 * d * d, PI / 64.0 * d.powi(4)])
}

/// Shear in the axle and sway, members that stretch.
///
/// The load at mid-axle is antisymmetric: each arm takes H/2, and mid-axle neither bends nor rises. Released there,
/// the shear V that closes the gap is V [(L/2)³/3EI_b + h/EA_c + (L/2)² h/EI_c] = (H/2)(L/2) h²/2EI_c.
fn stretching() -> (f64, f64) {
    let ([area, column], [axle_area, axle]) = members();
    let (half, h) = (SPAN / 2.0, HEIGHT);
    let gap = LOAD / 2.0 * half * h * h / (2.0 * YOUNG * column);
    let give = half.powi(3) / (3.0 * STEEL * axle) + h / (YOUNG * area) + half * half * h / (YOUNG * column);
    let shear = gap / give;
    let sway =
        LOAD / 2.0 * h.powi(3) / (3.0 * YOUNG * column) - shear * half * h * h / (2.0 * YOUNG * column);
    (shear, sway + LOAD / 2.0 * half / (STEEL * axle_area))
}

fn twin_clamped() -> Record {
    let mut out = record(
        TOPIC,
        "twin arms, clamped axle, load sideways at the axle: foot moments and sway, with stretch",
        ("force method, derived in the test", Provenance::ClosedForm),
        (Tolerance::Within(1e-9), "prismatic members: the method has no error of its own"),
    );
    let (feet, sway) = solved_twin(AxleJoint::Clamped);
    let (shear, paper) = stretching();
    for foot in feet {
        out.point("foot moment", foot.abs(), LOAD * HEIGHT / 2.0 - shear * SPAN / 2.0);
    }
    out.point("sway", sway, paper);
    out
}

fn twin_handbook() -> Record {
    let mut out = record(
        TOPIC,
        "the same against the handbook's portal, which does not stretch",
        ("Roark / Kleinlogel", Provenance::FromMemory),
        (Tolerance::Within(2e-3), "arms and axle stretch a little, the handbook's do not"),
    );
    let ([_, column], [_, axle]) = members();
    let k = STEEL * axle / (YOUNG * column) * HEIGHT / SPAN;
    let [foot, _, sway] = handbook(k, YOUNG * column);
    let (feet, moved) = solved_twin(AxleJoint::Clamped);
    for one in feet {
        out.point("foot moment", one.abs(), foot);
    }
    out.point("sway", moved, sway);
    out
}

fn twin_pinned() -> Record {
    let mut out = record(
        TOPIC,
        "twin arms, pinned axle: each arm a cantilever with half the load",
        ("H h/2, H h³/6EI, and the axle's stretch", Provenance::ClosedForm),
        (Tolerance::Within(1e-9), "prismatic members: the method has no error of its own"),
    );
    let ([_, column], [axle_area, _]) = members();
    let (feet, sway) = solved_twin(AxleJoint::Pinned);
    for foot in feet {
        out.point("foot moment", foot.abs(), LOAD * HEIGHT / 2.0);
    }
    let stretch = LOAD / 2.0 * SPAN / 2.0 / (STEEL * axle_area);
    out.point("sway", sway, LOAD * HEIGHT.powi(3) / (6.0 * YOUNG * column) + stretch);
    out
}
