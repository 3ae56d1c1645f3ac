//! Laws that every frame has to obey when it moves far, yields, and its wires go slack and taut, over random ones.

#![allow(clippy::expect_used, clippy::indexing_slicing, reason = "a test that can't go on should stop")]

#[path = "common/chain.rs"]
mod chain;
mod common;

use chain::{Rod, between, evenly, lay};
use common::{add, assert_within, cross, dot, largest};
use gearleg::kernel::{
    ArmLoad, Configuration, Frame, Law, Link, LinkEnd, LinkStrength, Load, NodalLoad, Solver, Statics,
};
use proptest::prelude::*;

const YOUNG: f64 = 70e9;
const YIELDS: f64 = 200e6;
/// Length of a leg of a random gear, about, m.
const LENGTH: f64 = 0.25;

// Random frames -----------------------------------------------------------------------------------------------------

/// Two legs of strip that lean apart from clamps, wires from them to the ground and one between them, and loads on arms at
/// their ends.
#[derive(Debug, Clone)]
struct Legs {
    /// Angle from straight down, rake, and length of each over [`LENGTH`].
    lean: [[f64; 3]; 2],
    width: f64,
    thickness: f64,
    law: Law,
    /// Whether they yield at all.
    yields: bool,
    /// Along the leg, where it goes, stiffness, N/m, and slack, m.
    wires: Vec<(usize, [f64; 3], f64, f64)>,
    /// Tie between the ends.
    tie: Option<(f64, f64)>,
    /// Force on each end, N, and arm, m.
    forces: [([f64; 3], [f64; 3]); 2],
}

const ELEMENTS: usize = 4;

/// Tensions at which wires yield; stiffness left, over that before.
const WIRE_YIELDS: f64 = 900.0;
const WIRE_LEFT: f64 = 0.1;

impl Legs {
    fn frame(&self) -> Frame {
        let mut frame = Frame::default();
        for (side, [lean, rake, length]) in [1.0, -1.0].into_iter().zip(self.lean) {
            let foot = [0.0, side * 0.06, 0.0];
            let along = [rake.sin(), side * lean.sin() * rake.cos(), -lean.cos() * rake.cos()];
            let end = add(foot, length * LENGTH, along);
            let mut strip = Rod::rectangle(YOUNG, self.width, self.thickness);
            strip.across = [1.0, 0.0, 0.0];
            if self.yields {
                strip = strip.yields(self.law.clone(), self.width, self.thickness);
            }
            frame.nodes.push(foot);
            let clamp = frame.nodes.len() - 1;
            frame.clamped.push(clamp);
            lay(&mut frame, &strip, clamp, &between(foot, end, &evenly(ELEMENTS as u32)));
        }
        for (at, to, stiffness, slack) in &self.wires {
            let node = at % 2 * (ELEMENTS + 1) + 1 + at / 2 % ELEMENTS;
            let to = LinkEnd::Ground(*to);
            frame.links.push(self.link(
                LinkEnd::Node { node, arm: [0.0, 0.0, -0.01] },
                to,
                *stiffness,
                *slack,
            ));
        }
        if let Some((stiffness, slack)) = self.tie {
            let [a, b] = self.ends().map(|node| LinkEnd::Node { node, arm: [0.01, 0.0, 0.0] });
            frame.links.push(self.link(a, b, stiffness, slack));
        }
        frame
    }

    fn link(&self, from: LinkEnd, to: LinkEnd, stiffness: f64, slack: f64) -> Link {
        let strength = if self.yields {
            LinkStrength {
                yields: WIRE_YIELDS,
                stiffness_beyond: WIRE_LEFT * stiffness,
                breaks: f64::INFINITY,
            }
        } else {
            LinkStrength::ELASTIC
        };
        Link {
            from,
            to,
            action: gearleg::kernel::Action::Cord,
            stiffness,
            rest_tension: -stiffness * slack,
            strength,
        }
    }

    fn ends(&self) -> [usize; 2] {
        [ELEMENTS, 2 * ELEMENTS + 1]
    }

    fn load(&self) -> Load {
        let arms = self.ends().into_iter().zip(self.forces);
        Load {
            arms: arms.map(|(node, (force, arm))| ArmLoad { node, force, arm }).collect(),
            nodal: Vec::new(),
        }
    }
}

fn legs() -> impl Strategy<Value = Legs> {
    let lean = || (0.2..0.9_f64, -0.2..0.2_f64, 0.8..1.2_f64).prop_map(|(a, b, c)| [a, b, c]);
    let law = prop_oneof![
        (0.0..0.05_f64).prop_map(|left| Law::bilinear(YOUNG, YIELDS, left * YOUNG)),
        (6.0..25.0_f64).prop_map(|n| Law::ramberg_osgood(YOUNG, YIELDS, n)),
    ];
    let slack = prop_oneof![Just(0.0), 0.0..4e-3_f64];
    let place = (-0.15..0.15_f64, -0.05..0.05_f64, -0.05..0.05_f64).prop_map(|(a, b, c)| [a, b, c]);
    let wire = (0..2 * ELEMENTS, place, 5e4..5e5_f64, slack.clone());
    let force = || {
        let arm = (-0.02..0.02_f64, -0.02..0.02_f64, -0.05..0.0_f64).prop_map(|(a, b, c)| [a, b, c]);
        ((-60.0..60.0_f64, -60.0..60.0_f64, 20.0..150.0_f64).prop_map(|(a, b, c)| [a, b, c]), arm)
    };
    (
        ([lean(), lean()], 0.03..0.06_f64, 0.003..0.005_f64, law),
        prop::collection::vec(wire, 0..3),
        prop::option::of((5e4..5e5_f64, slack)),
        [force(), force()],
    )
        .prop_map(|((lean, width, thickness, law), wires, tie, forces)| Legs {
            lean,
            width,
            thickness,
            law,
            yields: true,
            wires,
            tie,
            forces,
        })
}

/// How far the load has gone, weighed by force, J per unit of its multiple.
fn gone(statics: &Statics, c: &Configuration, load: &Load) -> f64 {
    let moved = statics.solution(c, load).displacements;
    let arms = load.arms.iter().map(|l| {
        let [x, y, z, a, b, t] = moved[l.node];
        dot(l.force, add(turned([a, b, t], l.arm), 1.0, add([x, y, z], -1.0, l.arm)))
    });
    arms.sum()
}

/// A vector turned by a rotation vector (Rodrigues).
fn turned(by: [f64; 3], v: [f64; 3]) -> [f64; 3] {
    let angle = dot(by, by).sqrt();
    if angle < 1e-12 {
        return add(v, 1.0, cross(by, v));
    }
    let axis = by.map(|c| c / angle);
    let across = cross(axis, v);
    add(add(v, angle.sin(), across), 1.0 - angle.cos(), cross(axis, across))
}

/// Places and tensions of a configuration, lengths over that of a leg and tensions over the largest load.
fn shown(statics: &Statics, c: &Configuration, load: &Load) -> (Vec<[f64; 6]>, Vec<f64>) {
    let s = statics.solution(c, load);
    (s.displacements.clone(), s.tensions.clone())
}

/// Asserts that displacements and tensions agree, measured by the largest of each; tensions also by a force, N.
#[track_caller]
fn assert_alike(
    a: &(Vec<[f64; 6]>, Vec<f64>),
    b: &(Vec<[f64; 6]>, Vec<f64>),
    (relative, force): (f64, f64),
    what: &str,
) {
    let split = |v: &[[f64; 6]], from: usize| -> Vec<f64> {
        v.iter().flat_map(|d| d[from..from + 3].to_vec()).collect()
    };
    for (x, y, least, kind) in [
        (split(&a.0, 0), split(&b.0, 0), 0.0, "displacement"),
        (split(&a.0, 3), split(&b.0, 3), 0.0, "rotation"),
        (a.1.clone(), b.1.clone(), force, "tension"),
    ] {
        let scale = largest(&x).max(largest(&y)).max(least);
        for (p, q) in x.iter().zip(&y) {
            assert_within(*p, *q, relative * scale, &format!("{what}, {kind}"));
        }
    }
}

/// Holds as much of a load as it can, up to the multiple; gives what it came to.
fn held(statics: &Statics, load: &Load, multiple: f64) -> Configuration {
    let mut c = statics.at_rest();
    let _ = statics.hold(&mut c, load, multiple);
    c
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_cycle_gives_back_more_than_was_put_in(legs in legs(), turns in prop::collection::vec(-0.8..1.5_f64, 1..4)) {
        let statics = Statics::new(legs.frame()).expect("a sound frame");
        let load = legs.load();
        let mut c = statics.at_rest();
        let rest = statics.energy(&c);
        let (mut work, mut put_in) = (0.0, 0.0);
        let mut at = gone(&statics, &c, &load);
        let mut spent = 0.0;
        let mut held = rest.stored;
        let mut path = turns;
        path.push(0.0);
        'path: for goal in path {
            let from = c.multiple();
            let strides = 48;
            for i in 1..=strides {
                let before = c.multiple();
                let next = from + (goal - from) * f64::from(i) / f64::from(strides);
                let reached = statics.hold(&mut c, &load, next).is_ok();
                if !reached {
                    // What lies between is no line: the load has gone over its top.
                    break 'path;
                }
                let now = gone(&statics, &c, &load);
                let part = 0.5 * (before + c.multiple()) * (now - at);
                work += part;
                put_in += part.abs();
                at = now;
                let energy = statics.energy(&c);
                prop_assert!(energy.spent >= spent, "nothing spent comes back: {} after {spent}", energy.spent);
                prop_assert!(energy.stored >= -1e-12 * put_in);
                spent = energy.spent;
                held = energy.stored;
            }
        }
        // Half a stride's curvature is the trapezoidal rule's.
        assert_within(work, held + spent - rest.stored, 1e-2 * put_in, "work");
        prop_assert!(work >= -1e-2 * put_in, "a path from rest took {work} J");
    }

    #[test]
    fn metal_that_never_yields_is_elastic(legs in legs(), multiple in -0.7..1.5_f64) {
        let elastic = Legs { yields: false, ..legs.clone() };
        let strong = Law::bilinear(YOUNG, 1e6 * YIELDS, 0.0);
        let mut frame = Legs { law: strong, ..legs.clone() }.frame();
        for l in &mut frame.links {
            l.strength = LinkStrength { yields: 1e12, ..l.strength };
        }
        let load = legs.load();
        let [a, b] = [frame, elastic.frame()].map(|f| {
            let statics = Statics::new(f).expect("a sound frame");
            let c = held(&statics, &load, multiple);
            assert!(!c.has_yielded());
            (c.multiple(), shown(&statics, &c, &load), statics.energy(&c).stored)
        });
        prop_assert_eq!(a.0, b.0);
        assert_alike(&a.1, &b.1, (1e-9, 0.0), "never yields");
        assert_within(a.2, b.2, 1e-9 * a.2.abs(), "stored");
    }

    #[test]
    fn small_loads_are_the_linear_solver_s(legs in legs()) {
        let load = legs.load();
        // Tens of nanometres: what grows with the square of the load is then less than a millionth.
        let small = 1e-7;
        let statics = Statics::new(legs.frame()).expect("a sound frame");
        let mut c = statics.at_rest();
        statics.hold(&mut c, &load, small).expect("it holds");
        let nodal: Vec<NodalLoad> = load
            .arms
            .iter()
            .map(|l| {
                let [x, y, z] = l.force.map(|f| small * f);
                let [a, b, t] = cross(l.arm, [x, y, z]);
                NodalLoad { node: l.node, load: [x, y, z, a, b, t] }
            })
            .collect();
        let linear = Solver::new(&legs.frame()).expect("sound").solve(&nodal).expect("solved");
        assert_alike(
            &shown(&statics, &c, &load),
            &(linear.displacements.clone(), linear.tensions.clone()),
            // A tie between ends that move alike pulls little.
            (1e-6, small * largest(&load.arms.iter().flat_map(|l| l.force).collect::<Vec<_>>())),
            "small",
        );
    }

    #[test]
    fn a_turned_frame_gives_the_turned_answer(
        legs in legs(),
        axis in [-2.0..2.0_f64, -2.0..2.0_f64, -2.0..2.0_f64],
        shift in [-1.0..1.0_f64, -1.0..1.0_f64, -1.0..1.0_f64],
        multiple in -0.5..1.2_f64,
    ) {
        let turn = |v: [f64; 3]| turned(axis, v);
        let place = |v: [f64; 3]| add(turn(v), 1.0, shift);
        let frame = legs.frame();
        let mut other = frame.clone();
        other.nodes = frame.nodes.iter().map(|n| place(*n)).collect();
        for b in &mut other.beams {
            b.axes = b.axes.map(turn);
        }
        for l in &mut other.links {
            for end in [&mut l.from, &mut l.to] {
                *end = match *end {
                    LinkEnd::Node { node, arm } => LinkEnd::Node { node, arm: turn(arm) },
                    LinkEnd::Ground(p) => LinkEnd::Ground(place(p)),
                };
            }
        }
        let load = legs.load();
        let mut turned_load = load.clone();
        for l in &mut turned_load.arms {
            (l.force, l.arm) = (turn(l.force), turn(l.arm));
        }
        let [one, two] = [frame, other].map(|f| Statics::new(f).expect("a sound frame"));
        let path = [0.6 * multiple, multiple, 0.3 * multiple];
        let [mut a, mut b] = [one.at_rest(), two.at_rest()];
        for goal in path {
            let reached = [one.hold(&mut a, &load, goal), two.hold(&mut b, &turned_load, goal)].map(|r| r.is_ok());
            prop_assert_eq!(reached[0], reached[1]);
            if !reached[0] {
                return Ok(());
            }
            let seen = shown(&one, &a, &load);
            let expected = seen.0.iter().map(|d| {
                let ([x, y, z], [p, q, r]) = (turn([d[0], d[1], d[2]]), turn([d[3], d[4], d[5]]));
                [x, y, z, p, q, r]
            });
            assert_alike(&shown(&two, &b, &turned_load), &(expected.collect(), seen.1), (1e-6, 0.0), "turned");
            let [e, f] = [one.energy(&a), two.energy(&b)];
            let scale = e.stored + e.spent;
            assert_within(f.stored, e.stored, 1e-6 * scale, "stored");
            assert_within(f.spent, e.spent, 1e-6 * scale, "spent");
        }
    }

    #[test]
    fn an_elastic_frame_forgets_its_way(legs in legs(), detours in prop::collection::vec(-0.6..1.0_f64, 1..4)) {
        let elastic = Legs { yields: false, ..legs };
        let statics = Statics::new(elastic.frame()).expect("a sound frame");
        let load = elastic.load();
        let [mut straight, mut about] = [statics.at_rest(), statics.at_rest()];
        let end = 0.8;
        if statics.hold(&mut straight, &load, end).is_err() {
            return Ok(());
        }
        for goal in detours.into_iter().chain([end]) {
            if statics.hold(&mut about, &load, goal).is_err() {
                return Ok(());
            }
        }
        assert_alike(&shown(&statics, &about, &load), &shown(&statics, &straight, &load), (1e-6, 0.0), "by a detour");
        let [a, b] = [about, straight].map(|c| statics.energy(&c));
        assert_within(a.stored, b.stored, 1e-6 * b.stored, "stored");
        prop_assert_eq!(a.spent, 0.0);
    }
}

#[test]
fn a_frame_that_was_let_go_can_be_let_go_again() {
    // Once a frame had nothing left to measure imbalance by, and was refused for ever.
    let (width, thickness, bent) = (0.05, 0.004, 1.2);
    let strip =
        Rod::rectangle(YOUNG, width, thickness).yields(Law::bilinear(YOUNG, YIELDS, 0.0), width, thickness);
    let (frame, end) = chain::cantilever(&strip, LENGTH, 4);
    let statics = Statics::new(frame).expect("a sound frame");
    let load = chain::push(end, [0.0, 0.0, 0.0, 0.0, 1.0, 0.0]);
    let mut c = statics.at_rest();
    chain::advanced(&statics, &mut c, &load, bent, 8);
    // κ_y L, and what a moment of 1.5 − 0.5 (κ_y/κ)² times that at yield lets spring back.
    let at_yield = 2.0 * YIELDS / (YOUNG * thickness) * LENGTH;
    let kept = bent - at_yield * (1.5 - 0.5 * (at_yield / bent).powi(2));
    for _ in 0..2 {
        statics.hold(&mut c, &load, 0.0).expect("it comes back");
        assert_eq!(c.multiple(), 0.0);
        assert_within(chain::moved(&statics, &c, &load, end)[4], kept, 5e-3 * bent, "angle that stays");
    }
}

#[test]
fn a_straight_column_is_refused_beyond_its_load_whatever_the_stride() {
    let (frame, end) = chain::cantilever(&Rod::plane(1e6, 1.0), 1.0, 12);
    let statics = Statics::new(frame).expect("a sound frame");
    let load = chain::push(end, [-1.0, 0.0, 0.0, 0.0, 0.0, 0.0]);
    for multiple in [2.6, 5.0, 40.0] {
        let mut c = statics.at_rest();
        let refused = statics.hold(&mut c, &load, multiple).expect_err("it buckles at 2.47");
        assert!(refused.reached < 2.48, "{refused}");
        assert!(c.is_stable());
    }
}
