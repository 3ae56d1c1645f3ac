//! What a frame can't hold: columns, free and with wires at their heads, and portals whose hinges have formed.

use crate::chain::{Rod, advanced, between, evenly, join, lay, limit, push, root, wire};
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::kernel::{Frame, Law, Load, NodalLoad, Statics};
use std::f64::consts::PI;

const TOPIC: &str = "Limit loads";

/// EA h²/EI of the columns, and elements along each.
const STRETCHES: f64 = 1e8;
const ELEMENTS: u32 = 48;

pub(crate) fn records() -> Vec<Record> {
    vec![euler(), sway(), wired_column(), wires_going_slack(), portals()]
}

/// A column of unit height and rigidity that stands on a clamp at the origin, and its head.
fn column(frame: &mut Frame, foot: [f64; 3]) -> usize {
    frame.nodes.push(foot);
    let clamp = frame.nodes.len() - 1;
    frame.clamped.push(clamp);
    let head = [foot[0], foot[1], foot[2] + 1.0];
    let laid = lay(frame, &Rod::plane(STRETCHES, 1.0), clamp, &between(foot, head, &evenly(ELEMENTS)));
    laid[laid.len() - 1]
}

fn down(node: usize) -> Load {
    push(node, [0.0, 0.0, -1.0, 0.0, 0.0, 0.0])
}

/// Two wires from a head to far off on either side, level, so long that they stay level: stiffness and tension of each.
fn guy(frame: &mut Frame, head: usize, stiffness: f64, tension: f64) {
    for side in [-1e3, 1e3] {
        frame.links.push(wire(head, [side, 0.0, 1.0], stiffness, tension));
    }
}

fn euler() -> Record {
    let mut out = record(
        TOPIC,
        "Euler's column, free, pinned by stiff wires, and held from turning at its head: the largest load it holds straight; \
         48 elements",
        ("π²/4, 20.1907 (tan u = u) and 4π² EI/h²", Provenance::ClosedForm),
        (Tolerance::Within(2e-3), "straight elements: too high by P h²/EI over 12 × 48²"),
    );
    let mut free = Frame::default();
    let head = column(&mut free, [0.0; 3]);
    let statics = Statics::new(free).expect("a sound frame");
    out.point("free", limit(&statics, &down(head), 1.0, 60.0, 1e-6), PI * PI / 4.0);
    let first = statics.hold(&mut statics.at_rest(), &down(head), 5.0);
    out.point("refused in one stride", f64::from(u8::from(first.is_err())), 1.0);

    let mut pinned = Frame::default();
    let head = column(&mut pinned, [0.0; 3]);
    guy(&mut pinned, head, 1e6, 10.0);
    let statics = Statics::new(pinned).expect("a sound frame");
    let u = root(|u| u.sin() - u * u.cos(), PI, 1.5 * PI);
    out.point("pinned", limit(&statics, &down(head), 1.0, 60.0, 1e-6), u * u);

    // Two columns one above the other, the load between them taken by the lower; the upper soft in stretch only.
    let mut fixed = Frame::default();
    let head = column(&mut fixed, [0.0; 3]);
    fixed.nodes.push([0.0, 0.0, 2.0]);
    let top = fixed.nodes.len() - 1;
    fixed.clamped.push(top);
    join(&mut fixed, &Rod::plane(1e-3, 1e6), head, top);
    let statics = Statics::new(fixed).expect("a sound frame");
    out.point("held", limit(&statics, &down(head), 1.0, 60.0, 1e-6), 4.0 * PI * PI);
    out
}

fn sway() -> Record {
    let mut out = record(
        TOPIC,
        "a portal whose two columns carry equal loads, beam from soft to stiff: the load at which it sways",
        ("u cot u = −6 EI_b h/(L EI), u² = P h²/EI", Provenance::ClosedForm),
        (Tolerance::Within(1e-3), "straight elements, as above"),
    );
    let span = 0.8;
    for ratio in [0.05, 1.0, 20.0] {
        let mut frame = Frame::default();
        let left = column(&mut frame, [0.0; 3]);
        let right = column(&mut frame, [span, 0.0, 0.0]);
        join(&mut frame, &Rod::plane(STRETCHES, ratio), left, right);
        let statics = Statics::new(frame).expect("a sound frame");
        let nodal = [left, right].map(|node| NodalLoad { node, load: [0.0, 0.0, -1.0, 0.0, 0.0, 0.0] });
        let load = Load { arms: Vec::new(), nodal: nodal.to_vec() };
        let held = 6.0 * ratio / span;
        let u = root(|u| u * u.cos() + held * u.sin(), 0.5 * PI, PI);
        out.point(format!("I_b/I = {ratio}"), limit(&statics, &load, 1.0, 60.0, 1e-6), u * u);
    }
    out
}

/// Force that moves the head of a column sideways by one under a load u² EI/h².
fn sideways(u: f64) -> f64 {
    u.powi(3) / (u.tan() - u)
}

fn wired_column() -> Record {
    let mut out = record(
        TOPIC,
        "a column between two wires at its head, tight, of several stiffnesses: the largest load it holds straight",
        ("tan u = u − u³ EI/(k h³), u² = P h²/EI", Provenance::ClosedForm),
        (Tolerance::Within(1e-3), "straight elements, as above"),
    );
    for stiffness in [1.0, 5.0, 20.0, 100.0] {
        let mut frame = Frame::default();
        let head = column(&mut frame, [0.0; 3]);
        guy(&mut frame, head, 0.5 * stiffness, 1e-3);
        let statics = Statics::new(frame).expect("a sound frame");
        let u = root(|u| stiffness * (u.sin() - u * u.cos()) + u.powi(3) * u.cos(), 0.5 * PI, 1.5 * PI);
        out.point(format!("k h³/EI = {stiffness}"), limit(&statics, &down(head), 1.0, 60.0, 1e-6), u * u);
    }
    out
}

fn wires_going_slack() -> Record {
    let mut out = record(
        TOPIC,
        "the same column with a side load in proportion: it falls where one of the wires goes slack",
        ("beam-column: H = (u³/(tan u − u) EI/h³ + k) T₀/(k/2)", Provenance::ClosedForm),
        (Tolerance::Within(1e-3), "straight elements, as above; the head has moved by a thousandth of h"),
    );
    let (stiffness, tension) = (20.0, 1e-2);
    // With one wire the column buckles at a lower load than what is reached.
    for share in [2e-4, 5e-4, 9e-4] {
        let mut frame = Frame::default();
        let head = column(&mut frame, [0.0; 3]);
        guy(&mut frame, head, 0.5 * stiffness, tension);
        let statics = Statics::new(frame).expect("a sound frame");
        let load = push(head, [share, 0.0, -1.0, 0.0, 0.0, 0.0]);
        let slack = tension / (0.5 * stiffness);
        // The side load share × u² meets what holds the head at that travel.
        let u = root(|u| share * u * u - (sideways(u) + stiffness) * slack, 0.51 * PI, 1.4 * PI);
        let one_wire = root(|u| sideways(u) + 0.5 * stiffness, 0.51 * PI, 1.4 * PI);
        assert!(u > one_wire, "one wire is not enough");
        out.point(format!("H/P = {share}"), limit(&statics, &load, 10.0, 20.0, 1e-4), u * u);
    }
    out
}

// Plastic hinges ----------------------------------------------------------------------------------------------------

const YOUNG: f64 = 70e9;
/// A metal so soft that hinges have formed before anything has moved.
const SOFT: f64 = 1e-5 * YOUNG;
const WIDTH: f64 = 0.03;
const THICKNESS: f64 = 0.004;
const HEIGHT: f64 = 0.25;
const SPAN: f64 = 0.5;

/// Shares along a member, closer together at its ends and in its middle, where hinges form.
fn graded() -> Vec<f64> {
    let half = [0.005, 0.02, 0.05, 0.1, 0.2, 0.3, 0.4, 0.45, 0.48, 0.495];
    let up = half.iter().copied();
    let down = half.iter().rev().map(|s| 1.0 - s);
    up.chain([0.5]).chain(down).chain([1.0]).collect()
}

/// A portal in which every member is the same strip; its corners and the middle of its beam.
fn portal(hinged_feet: bool) -> (Frame, [usize; 3]) {
    let law = Law::bilinear(YOUNG, SOFT, 0.0);
    let strip = Rod::rectangle(YOUNG, WIDTH, THICKNESS).yields(law, WIDTH, THICKNESS);
    let mut frame = Frame::default();
    let corners = [[0.0, 0.0, HEIGHT], [SPAN, 0.0, HEIGHT]];
    let feet = [[0.0; 3], [SPAN, 0.0, 0.0]];
    frame.nodes.push(corners[0]);
    let beam = lay(&mut frame, &strip, 0, &between(corners[0], corners[1], &graded()));
    let right = beam[beam.len() - 1];
    let down = if hinged_feet { strip.hinged() } else { strip };
    for (corner, (top, foot)) in [0, right].into_iter().zip(corners.iter().zip(feet)) {
        let column = lay(&mut frame, &down, corner, &between(*top, foot, &graded()));
        frame.clamped.push(column[column.len() - 1]);
    }
    (frame, [0, right, beam[beam.len() / 2 - 1]])
}

fn portals() -> Record {
    let mut out = record(
        TOPIC,
        "portals of one strip, pushed aside and pressed down until as many hinges have formed as make a mechanism: load",
        ("plastic theorem: the least load of all mechanisms", Provenance::ClosedForm),
        (Tolerance::Within(5e-3), "pull in the members lowers M_p by 1e-3; fibres, as above"),
    );
    let full = 1.5 * SOFT * WIDTH * THICKNESS.powi(2) / 6.0;
    // Feet, push aside at the left corner and down at mid-span, each in M_p over height and half span, and the multiple of both:
    // the least of the mechanisms'.
    let cases = [
        ("hinged feet, aside", true, [1.0, 0.0], 2.0),
        ("clamped feet, aside", false, [1.0, 0.0], 4.0),
        ("clamped feet, down", false, [0.0, 1.0], 4.0),
        ("clamped feet, both alike", false, [1.0, 1.0], 3.0),
        ("hinged feet, more down", true, [1.0, 3.0], 1.0),
    ];
    for (what, hinged, [aside, press], expected) in cases {
        let (frame, [left, _, middle]) = portal(hinged);
        let statics = Statics::new(frame).expect("a sound frame");
        let nodal = vec![
            NodalLoad { node: left, load: [aside * full / HEIGHT, 0.0, 0.0, 0.0, 0.0, 0.0] },
            NodalLoad { node: middle, load: [0.0, 0.0, -press * full / (SPAN / 2.0), 0.0, 0.0, 0.0] },
        ];
        let load = Load { arms: Vec::new(), nodal };
        let mut c = statics.at_rest();
        // Travel when an elastic portal would carry the load of the mechanism.
        let stride = statics.travel_per_multiple(&c, &load).expect("it is sound") * expected;
        advanced(&statics, &mut c, &load, 2.6 * stride, 13);
        out.point(what, c.multiple(), expected);
    }
    out
}
