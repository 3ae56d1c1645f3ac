//! A pinned rectangle with two crossed wires that pull and never push.

use crate::common::WIRE_YOUNG;
use crate::frames::beam;
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::kernel::{Frame, Link, LinkEnd, NodalLoad, Solution, Solver};
use std::f64::consts::PI;

const TOPIC: &str = "Crossed wires";
const STATICS: (&str, Provenance) = ("statics and Hooke's law", Provenance::ClosedForm);
const EXACT: (Tolerance, &str) =
    (Tolerance::Within(1e-6), "the frame's own stiffness and give are 1e-7 of the wire's");
const SPAN: f64 = 0.30;
const HEIGHT: f64 = 0.40;
const DIAGONAL: f64 = 0.50;
const LOAD: f64 = 1000.0;
const PRETENSION: f64 = 400.0;

/// E A of a 1.5 mm wire, N.
fn wire() -> f64 {
    WIRE_YOUNG * PI / 4.0 * 1.5e-3_f64.powi(2)
}

/// Lateral stiffness of one taut diagonal, N/m: (EA/L_d)(b/L_d)².
fn one_wire() -> f64 {
    wire() / DIAGONAL * (SPAN / DIAGONAL).powi(2)
}

/// The rectangle. Its posts neither stretch nor resist sway, so the wires do all the work: along themselves
/// they are 1e7 times as stiff as a wire, sideways 1e-7 times. That stands in for pins, which the solver does not
/// have at a clamped foot, and still leaves every support and node as a gear's are.
fn braced(rest: f64) -> Solver {
    let mut frame = Frame {
        nodes: vec![[0.0; 3], [0.0, 0.0, HEIGHT], [0.0, SPAN, HEIGHT], [0.0, SPAN, 0.0]],
        clamped: vec![0, 3],
        ..Frame::default()
    };
    // Two posts clamped below and guided above sway by 24 EI/h³ for each metre.
    let soft = 1e-7 * one_wire() * HEIGHT.powi(3) / 24.0;
    beam(&mut frame, 0, 1, 1e7 * wire(), soft);
    beam(&mut frame, 1, 2, 1e7 * wire(), soft);
    beam(&mut frame, 3, 2, 1e7 * wire(), soft);
    for (node, foot) in [(1, [0.0, SPAN, 0.0]), (2, [0.0, 0.0, 0.0])] {
        frame.links.push(Link {
            from: LinkEnd::Node { node, arm: [0.0; 3] },
            to: LinkEnd::Ground(foot),
            action: gearleg::kernel::Action::Cord,
            stiffness: wire() / DIAGONAL,
            rest_tension: rest,
            strength: gearleg::kernel::LinkStrength::ELASTIC,
        });
    }
    Solver::new(&frame).expect("a sound frame")
}

fn push(solver: &mut Solver, lateral: f64) -> Solution {
    let half = |node| NodalLoad { node, load: [0.0, lateral / 2.0, 0.0, 0.0, 0.0, 0.0] };
    solver.solve(&[half(1), half(2)]).expect("the wires settle")
}

fn drift(solution: &Solution) -> f64 {
    (solution.displacements[1][1] + solution.displacements[2][1]) / 2.0
}

pub(crate) fn records() -> Vec<Record> {
    let mut snug = braced(0.0);
    let (right, left) = (push(&mut snug, LOAD), push(&mut snug, -LOAD));
    let tension = LOAD * DIAGONAL / SPAN;

    let mut pull = record(TOPIC, "pinned rectangle: tension of the taut wire and drift", STATICS, EXACT);
    // Pushed to starboard, the wire from the starboard top to the port foot is the longer one.
    pull.point("tension, T = H L_d/b", right.tensions[1], tension);
    pull.point("drift, T L_d/(AE)·L_d/b", drift(&right), tension * DIAGONAL / wire() * DIAGONAL / SPAN);

    let mut printed = record(
        TOPIC,
        "the same, as numbers (1666.7 N, 4.0723 mm)",
        ("the same formulas, worked out apart", Provenance::ClosedForm),
        (Tolerance::Within(3e-5), "the numbers' last digit"),
    );
    printed.point("tension", right.tensions[1], 1666.7);
    printed.point("drift", drift(&right) * 1e3, 4.0723);

    let exactly = (Tolerance::Exactly, "a slack wire carries nothing, not merely little");
    let mut slack = record(TOPIC, "tension of the slack wire, load either way", STATICS, exactly);
    slack.point("to starboard", right.tensions[0], 0.0);
    slack.point("to port", left.tensions[1], 0.0);

    let mut swapped = record(
        TOPIC,
        "load reversed: the wires change parts",
        ("symmetry", Provenance::ClosedForm),
        (Tolerance::Within(1e-10), "the same sum in another order"),
    );
    swapped.point("tension", left.tensions[0], right.tensions[1]);
    swapped.point("drift", -drift(&left), drift(&right));

    vec![pull, printed, slack, swapped].into_iter().chain(pretensioned()).collect()
}

fn pretensioned() -> [Record; 3] {
    let mut tight = braced(PRETENSION);
    let limit = 2.0 * PRETENSION * SPAN / DIAGONAL;

    let mut both = record(TOPIC, "pretensioned: both wires act, twice the stiffness of one", STATICS, EXACT);
    for share in [-0.999, -0.5, 0.25, 0.999] {
        let solution = push(&mut tight, share * limit);
        both.point(format!("stiffness at {share}"), share * limit / drift(&solution), 2.0 * one_wire());
        // Each diagonal takes half the load's share, one up and one down.
        let change = share * limit / 2.0 * DIAGONAL / SPAN;
        both.scaled("tension", solution.tensions[0], PRETENSION - change, PRETENSION);
        both.scaled("tension", solution.tensions[1], PRETENSION + change, PRETENSION);
    }

    let mut beyond = record(
        TOPIC,
        "one wire goes slack at H = 2 T₀ b/L_d; beyond it the other works alone",
        STATICS,
        EXACT,
    );
    for share in [1.001, 1.5, 3.0] {
        let solution = push(&mut tight, share * limit);
        beyond.point(format!("tension at {share}"), solution.tensions[1], share * limit * DIAGONAL / SPAN);
        let paper = limit / (2.0 * one_wire()) + (share - 1.0) * limit / one_wire();
        beyond.point(format!("drift at {share}"), drift(&solution), paper);
    }

    let mut edge = record(
        TOPIC,
        "the other wire just beyond that load",
        STATICS,
        (Tolerance::Exactly, "a slack wire carries nothing, not merely little"),
    );
    edge.point("beyond", push(&mut tight, 1.001 * limit).tensions[0], 0.0);
    [both, beyond, edge]
}
