//! A quarter ring made of straight pieces, by refinement of the mesh.

use crate::frames::beam;
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::kernel::{Frame, NodalLoad, Solver};
use std::f64::consts::{FRAC_PI_2, PI};

const RADIUS: f64 = 0.1;
const BENDING: f64 = 5.0;
const LOAD: f64 = 10.0;

/// Displacement of the free end along and across a radial load, and along a tangential one, each over PR³/EI.
fn quarter(pieces: usize) -> [f64; 3] {
    let mut frame = Frame { clamped: vec![0], ..Frame::default() };
    for i in 0..=pieces {
        let angle = FRAC_PI_2 * i as f64 / pieces as f64;
        frame.nodes.push([0.0, RADIUS * angle.cos(), RADIUS * angle.sin()]);
    }
    // Hardly any stretch: EA R²/EI = 1e8.
    let stretch = 1e8 * BENDING / RADIUS.powi(2);
    for i in 0..pieces {
        beam(&mut frame, i, i + 1, stretch, BENDING);
    }
    let mut solver = Solver::new(&frame).expect("a sound frame");
    let mut pushed = |load| {
        let solution = solver.solve(&[NodalLoad { node: pieces, load }]).expect("a solution");
        let [_, y, z, ..] = solution.displacements[pieces];
        let unit = LOAD * RADIUS.powi(3) / BENDING;
        [y / unit, z / unit]
    };
    // The free end is at the top: z is its radius, y its tangent.
    let [across, along] = pushed([0.0, 0.0, LOAD, 0.0, 0.0, 0.0]);
    let [tangent, _] = pushed([0.0, LOAD, 0.0, 0.0, 0.0, 0.0]);
    [along, across.abs(), tangent]
}

pub(crate) fn records() -> Vec<Record> {
    let paper = [PI / 4.0, 0.5, 0.75 * PI - 2.0];
    let names = ["radial load, along it", "radial load, across it", "tangential load, along it"];
    let source = ("π/4, 1/2, 3π/4 − 2 times P R³/EI", Provenance::ClosedForm);
    let topic = "A curved bar";
    let [coarse, middle, fine] = [16, 32, 64].map(quarter);

    let mut close = record(
        topic,
        "quarter ring of 64 straight pieces: displacement of its free end",
        source,
        (Tolerance::Within(2e-4), "chords are shorter than the arc by θ²/24 a piece"),
    );
    let mut limit = record(
        topic,
        "the same, extrapolated from 32 and 64 pieces",
        source,
        (Tolerance::Within(1e-6), "what is left is of fourth order, and the stretch of 1e-8"),
    );
    let mut rate = record(
        topic,
        "rate of convergence, pieces 16, 32, 64",
        ("error with the square of the piece's length", Provenance::ClosedForm),
        (Tolerance::Within(0.01), "second order, seen at finite lengths"),
    );
    for i in 0..3 {
        close.point(names[i], fine[i], paper[i]);
        limit.point(names[i], fine[i] + (fine[i] - middle[i]) / 3.0, paper[i]);
        rate.point(names[i], ((middle[i] - coarse[i]) / (fine[i] - middle[i])).log2(), 2.0);
    }
    vec![close, limit, rate]
}
