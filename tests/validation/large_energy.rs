//! Work put in along a path against what the frame stores and what it has spent.

use crate::chain::{Rod, between, evenly, lay, push, wire};
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::kernel::{Configuration, Frame, Law, Load, Statics};

const TOPIC: &str = "Energy";

pub(crate) fn records() -> Vec<Record> {
    vec![balance(), breaking()]
}

const YOUNG: f64 = 70e9;
const YIELDS: f64 = 250e6;
const LEG: f64 = 0.23;

/// A leg of strip that leans 40°, and a wire from its middle up to the fuselage that has to be drawn taut first: frame and the
/// load at its end, 1 N a unit.
fn leg() -> (Frame, Load) {
    let (width, thickness) = (0.05, 0.004);
    let law = Law::bilinear(YOUNG, YIELDS, YOUNG / 100.0);
    let strip = Rod::rectangle(YOUNG, width, thickness).yields(law, width, thickness);
    let lean = 40.0_f64.to_radians();
    let end = [LEG * lean.sin(), 0.0, -LEG * lean.cos()];
    let mut frame = Frame { nodes: vec![[0.0; 3]], clamped: vec![0], ..Frame::default() };
    let laid = lay(&mut frame, &strip, 0, &between([0.0; 3], end, &evenly(6)));
    frame.links.push(wire(laid[3], [-0.05, 0.0, 0.0], 3e5, -1400.0));
    (frame, push(laid[5], [0.0, 0.0, 1.0, 0.0, 0.0, 0.0]))
}

/// How far the load has gone.
fn gone(statics: &Statics, c: &Configuration, load: &Load) -> f64 {
    let moved = statics.solution(c, load).displacements;
    load.nodal.iter().map(|l| (0..3).map(|i| l.load[i] * moved[l.node][i]).sum::<f64>()).sum()
}

/// Moves on by equal strides; the work put in by the trapezoidal rule, J.
fn work(statics: &Statics, c: &mut Configuration, load: &Load, distance: f64, strides: u32) -> f64 {
    let mut sum = 0.0;
    let mut at = gone(statics, c, load);
    for _ in 0..strides {
        let before = c.multiple();
        *c = statics.advance(c, load, distance / f64::from(strides)).expect("the stride is found");
        let now = gone(statics, c, load);
        sum += 0.5 * (before + c.multiple()) * (now - at);
        at = now;
    }
    sum
}

fn total(statics: &Statics, c: &Configuration) -> f64 {
    let energy = statics.energy(c);
    energy.stored + energy.spent
}

/// Out, part of the way back, and out again, m: slack to taut, yielding, unloading, yielding again, slack in the end.
const PATH: [(&str, f64); 4] = [("out", 0.06), ("back", -0.03), ("out again", 0.05), ("back again", -0.05)];

fn balance() -> Record {
    let mut out = record(
        TOPIC,
        "work on a leaning leg that yields and draws its wire taut, loaded, partly unloaded, loaded further and let go: against \
         energy stored and spent",
        ("trapezoidal rule with 400 and 800 strides a branch, extrapolated", Provenance::ClosedForm),
        (Tolerance::Within(1e-6), "of the work put in; what is left is the rule's"),
    );
    let (frame, load) = leg();
    let statics = Statics::new(frame).expect("a sound frame");
    let mut runs = [400, 800].map(|strides| (strides, statics.at_rest(), 0.0));
    let mut most: f64 = 0.0;
    let mut taut = Vec::new();
    for (what, distance) in PATH {
        let [coarse, fine] = runs.each_mut().map(|(strides, c, sum)| {
            *sum += work(&statics, c, &load, distance, *strides);
            (*sum, total(&statics, c))
        });
        let put_in = fine.0 + (fine.0 - coarse.0) / 3.0;
        most = most.max(put_in);
        out.scaled(what, fine.1, put_in, most);
        out.scaled(format!("{what}, with half the strides"), coarse.1, put_in, most);
        taut.push(runs[1].1.link_pulls()[0] > 0.0);
    }
    let energy = statics.energy(&runs[1].1);
    assert!(energy.spent > energy.stored && energy.spent > 0.2 * most, "it yields: {energy:?} of {most}");
    assert_eq!(taut, [true, false, true, false], "the wire goes slack and taut");
    out
}

fn breaking() -> Record {
    let mut out = record(
        TOPIC,
        "the same leg, its wire broken at its largest load: what is stored and spent before and after; then let go",
        ("nothing outside does work while it breaks", Provenance::ClosedForm),
        (Tolerance::Within(1e-5), "of the work put in; the rule's, with 600 strides a branch"),
    );
    let (frame, load) = leg();
    let statics = Statics::new(frame).expect("a sound frame");
    let mut c = statics.at_rest();
    let put_in = work(&statics, &mut c, &load, 0.06, 600);
    let before = statics.energy(&c);
    let held = gone(&statics, &c, &load);
    let mut after = statics.release(&c, &load, 0).expect("the leg stays");
    let broken = statics.energy(&after);
    out.scaled("stored and spent", broken.stored + broken.spent, put_in, put_in);
    out.scaled("the end has stayed", gone(&statics, &after, &load), held, held);
    let pull = statics.solution(&c, &load).tensions[0];
    assert!(broken.spent - before.spent >= pull * pull / (2.0 * 3e5), "the wire's own energy went");
    assert!(after.multiple() < c.multiple(), "the load fell");
    let mut back = 0.0;
    while after.multiple() > 0.0 {
        back += work(&statics, &mut after, &load, -1e-4, 4);
    }
    out.scaled("let go", total(&statics, &after), put_in + back, put_in);
    out
}
