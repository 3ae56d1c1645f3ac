//! Elastic rods bent far: the cantilever under a dead load, the rod rolled up to a circle, the bend loaded out of its plane.

use crate::chain::{Rod, cantilever, evenly, lay, moved, push};
use crate::oracle_file::closed_forms;
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::kernel::{Frame, Rigidity, Statics};
use std::f64::consts::{FRAC_PI_4, PI};

const TOPIC: &str = "Large movements, elastic";

/// EA L²/EI: stretch is a millionth.
const STRETCHES: f64 = 1e7;

pub(crate) fn records() -> Vec<Record> {
    vec![
        elastica(),
        elastica_published(),
        elastica_as_gears_are_cut(),
        roll_up(),
        roll_up_refined(),
        bend_integrated(),
        bend_published(),
    ]
}

/// Deflection, shortening and rotation of a cantilever's end at several α = P L²/EI, in that order.
fn bent(elements: u32, loads: &[f64]) -> Vec<[f64; 3]> {
    let (frame, end) = cantilever(&Rod::plane(STRETCHES, 1.0), 1.0, elements);
    let statics = Statics::new(frame).expect("a sound frame");
    let load = push(end, [0.0, 0.0, 1.0, 0.0, 0.0, 0.0]);
    let mut c = statics.at_rest();
    let mut follow = |alpha: &f64| {
        statics.hold(&mut c, &load, *alpha).expect("a cantilever holds any load");
        let d = moved(&statics, &c, &load, end);
        [d[2], -d[0], -d[4]]
    };
    loads.iter().map(&mut follow).collect()
}

pub(crate) fn elastica_rows() -> Vec<(f64, [f64; 3])> {
    let file = closed_forms();
    let number = |v: &serde_json::Value| v.as_f64().expect("a number");
    file["elastica"]["rows"]
        .as_array()
        .expect("rows")
        .iter()
        .map(|r| {
            (
                number(&r["alpha"]),
                ["deflection_over_L", "shortening_over_L", "end_rotation_rad"].map(|k| number(&r[k])),
            )
        })
        .collect()
}

fn compare_elastica(out: &mut Record, elements: u32) {
    let rows = elastica_rows();
    let loads: Vec<f64> = rows.iter().map(|r| r.0).collect();
    for ((alpha, paper), found) in rows.iter().zip(bent(elements, &loads)) {
        for (what, (a, e)) in ["deflection", "shortening", "rotation"].iter().zip(found.iter().zip(paper)) {
            out.scaled(format!("PL²/EI = {alpha}, {what}"), *a, *e, 1.0);
        }
    }
}

fn elastica() -> Record {
    let mut out = record(
        TOPIC,
        "a cantilever under a dead load at its end, PL²/EI from 0.2 to 10: deflection and shortening over length, \
         rotation; 48 elements",
        ("elliptic integrals, oracle/closed_forms.py", Provenance::ClosedForm),
        (Tolerance::Within(1e-4), "of the length, or rad; falls with the square of the element's length"),
    );
    compare_elastica(&mut out, 48);
    out
}

fn elastica_as_gears_are_cut() -> Record {
    let mut out = record(
        TOPIC,
        "the same with the 24 elements that a leg has",
        ("elliptic integrals, oracle/closed_forms.py", Provenance::ClosedForm),
        (Tolerance::Within(3e-4), "of the length, or rad; four times that of 48 elements"),
    );
    compare_elastica(&mut out, 24);
    out
}

/// PL²/EI, deflection and shortening over length. Source: Mattiasson, Int. J. Numer. Methods Eng. 17 (1981), table 1, as quoted
/// by others.
const PUBLISHED: [(f64, [f64; 2]); 4] = [
    (1.0, [0.30172, 0.05643]),
    (2.0, [0.49346, 0.16064]),
    (5.0, [0.71379, 0.38763]),
    (10.0, [0.81061, 0.55500]),
];

fn elastica_published() -> Record {
    let mut out = record(
        TOPIC,
        "the same cantilever, the rows that are in print; 48 elements",
        ("Mattiasson 1981, table 1", Provenance::Published),
        (Tolerance::Within(1e-4), "of the length"),
    );
    let loads = PUBLISHED.map(|r| r.0);
    for ((alpha, paper), found) in PUBLISHED.iter().zip(bent(48, &loads)) {
        out.scaled(format!("PL²/EI = {alpha}, deflection"), found[0], paper[0], 1.0);
        out.scaled(format!("PL²/EI = {alpha}, shortening"), found[1], paper[1], 1.0);
        if *alpha == 1.0 {
            out.scaled("PL²/EI = 1, rotation", found[2], 0.46135, 1.0);
        }
    }
    out
}

/// Where the end of a rod is when a moment at it has rolled up these shares of a circle.
fn rolled(elements: u32, shares: &[f64]) -> Vec<[f64; 2]> {
    let (frame, end) = cantilever(&Rod::plane(STRETCHES, 1.0), 1.0, elements);
    let statics = Statics::new(frame).expect("a sound frame");
    let load = push(end, [0.0, 0.0, 0.0, 0.0, -2.0 * PI, 0.0]);
    let mut c = statics.at_rest();
    let mut follow = |share: &f64| {
        statics.hold(&mut c, &load, *share).expect("it rolls up");
        let d = moved(&statics, &c, &load, end);
        [1.0 + d[0], d[2]]
    };
    shares.iter().map(&mut follow).collect()
}

fn on_a_circle(share: f64) -> [f64; 2] {
    let angle = 2.0 * PI * share;
    [angle.sin() / angle, (1.0 - angle.cos()) / angle]
}

const SHARES: [f64; 5] = [0.125, 0.25, 0.5, 0.75, 1.0];

fn roll_up() -> Record {
    let mut out = record(
        TOPIC,
        "a rod rolled up to a full circle by a moment at its end: where the end is; 160 elements",
        ("sin θ/θ and (1 − cos θ)/θ", Provenance::ClosedForm),
        (
            Tolerance::Within(1e-4),
            "of the length; nodes lie on a polygon of the right length, not on the circle",
        ),
    );
    for (share, found) in SHARES.iter().zip(rolled(160, &SHARES)) {
        let paper = on_a_circle(*share);
        out.scaled(format!("{share} of a turn, along"), found[0], paper[0], 1.0);
        out.scaled(format!("{share} of a turn, across"), found[1], paper[1], 1.0);
    }
    out
}

fn roll_up_refined() -> Record {
    let mut out = record(
        TOPIC,
        "the same rod with 24 and 48 elements, extrapolated (error with the square of the element's length)",
        ("sin θ/θ and (1 − cos θ)/θ", Provenance::ClosedForm),
        (Tolerance::Within(1e-5), "of the length; the next term falls with the fourth power"),
    );
    for ((share, coarse), fine) in SHARES.iter().zip(rolled(24, &SHARES)).zip(rolled(48, &SHARES)) {
        let paper = on_a_circle(*share);
        for (i, what) in ["along", "across"].iter().enumerate() {
            out.scaled(
                format!("{share} of a turn, {what}"),
                fine[i] + (fine[i] - coarse[i]) / 3.0,
                paper[i],
                1.0,
            );
        }
    }
    out
}

/// Tip of the 45° bend at several loads: along the clamped tangent, towards the centre, out of the plane.
///
/// R = 100, 45°, section 1 × 1, E = 10⁷, ν = 0, a dead load out of the plane.
fn swept(elements: u32, torsion_constant: f64, loads: &[f64]) -> Vec<[f64; 3]> {
    let (radius, young) = (100.0, 1e7);
    let rod = Rod {
        rigidity: Rigidity {
            axial: young,
            torsion: young / 2.0 * torsion_constant,
            bending_y: young / 12.0,
            bending_z: young / 12.0,
        },
        across: [0.0, 0.0, 1.0],
        yielding: None,
        hinged_end: false,
    };
    let places: Vec<[f64; 3]> = evenly(elements)
        .iter()
        .map(|s| [radius * (FRAC_PI_4 * s).sin(), radius * (1.0 - (FRAC_PI_4 * s).cos()), 0.0])
        .collect();
    let mut frame = Frame { nodes: vec![[0.0; 3]], clamped: vec![0], ..Frame::default() };
    let laid = lay(&mut frame, &rod, 0, &places);
    let end = laid[laid.len() - 1];
    let statics = Statics::new(frame).expect("a sound frame");
    let load = push(end, [0.0, 0.0, 1.0, 0.0, 0.0, 0.0]);
    let start = places[places.len() - 1];
    let mut c = statics.at_rest();
    let mut follow = |force: &f64| {
        statics.hold(&mut c, &load, *force).expect("it holds");
        let d = moved(&statics, &c, &load, end);
        [start[0] + d[0], start[1] + d[1], start[2] + d[2]]
    };
    loads.iter().map(&mut follow).collect()
}

const LOADS: [f64; 3] = [300.0, 450.0, 600.0];
const DIRECTIONS: [&str; 3] = ["along the clamp", "towards the centre", "out of the plane"];

/// J = 2/12, the polar second moment, as the source of the problem has it. Source: a geometrically exact rod by an integrator
/// of its own.
const POLAR: [[f64; 3]; 3] =
    [[58.7802, 22.2453, 40.1894], [52.2400, 18.5087, 48.5001], [47.1522, 15.6854, 53.4718]];

/// The square's true torsion constant. Source: the same.
const TRUE: [[f64; 3]; 3] =
    [[58.5371, 22.1131, 40.4778], [51.9712, 18.3698, 48.7020], [46.8936, 15.5583, 53.6043]];

fn bend_integrated() -> Record {
    let mut out = record(
        TOPIC,
        "the 45° bend under 300, 450 and 600 out of its plane: where its end is, with J = 1/6 (polar) and with the \
         square's true J = 0.140577; 32 elements",
        ("a geometrically exact rod, integrated numerically without elements", Provenance::OtherProgram),
        (Tolerance::Within(2e-4), "of the largest coordinate; the straight elements of the arc"),
    );
    for (name, torsion, rows) in [("J = 1/6", 1.0 / 6.0, POLAR), ("true J", 0.140_577, TRUE)] {
        for ((force, paper), found) in LOADS.iter().zip(rows).zip(swept(32, torsion, &LOADS)) {
            let scale = crate::common::largest(&paper);
            for (i, way) in DIRECTIONS.iter().enumerate() {
                out.scaled(format!("{name}, {force}, {way}"), found[i], paper[i], scale);
            }
        }
    }
    out
}

/// The same from memory of what is in print (Bathe & Bolourchi's problem), but 600, which was read.
const PRINTED: [[f64; 3]; 3] = [[58.84, 22.33, 40.08], [52.32, 18.62, 48.39], [47.23, 15.79, 53.37]];

fn bend_published() -> Record {
    let mut out = record(
        TOPIC,
        "the same bend as in print, J = 1/6; 8 elements",
        ("Simo & Vu-Quoc 1986 for 600, the rest from memory of it", Provenance::FromMemory),
        (
            Tolerance::Within(1e-2),
            "of the largest coordinate; authors differ by one or two parts in a hundred",
        ),
    );
    for ((force, paper), found) in LOADS.iter().zip(PRINTED).zip(swept(8, 1.0 / 6.0, &LOADS)) {
        let scale = crate::common::largest(&paper);
        for (i, way) in DIRECTIONS.iter().enumerate() {
            out.scaled(format!("{force}, {way}"), found[i], paper[i], scale);
        }
    }
    out
}
