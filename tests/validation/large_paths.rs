//! Frames that snap: a curve followed past its top, where no load could hold it, and back through both load and travel.

use crate::chain::{Rod, between, evenly, join, lay, moved, push};
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::kernel::{Frame, Load, Rigidity, Statics};

const TOPIC: &str = "Snap-through";

pub(crate) fn records() -> Vec<Record> {
    vec![truss_path(), truss_limit(), snap_back(), toggle()]
}

// Two bars ----------------------------------------------------------------------------------------------------------

const RISE: f64 = 0.2;

/// E A of the bars, N. They bend so easily that it counts for nothing, and are too short to buckle: one element each.
const BAR: f64 = 1e6;

/// Two bars from clamps a metre either side up to a node at the top; a spring below it with the load at its end, or none.
fn truss(spring: Option<f64>) -> (Statics, Load, [usize; 2]) {
    let limp = Rod {
        rigidity: Rigidity { bending_z: 1e7, torsion: 1e7, ..Rod::plane(BAR, 1e-4).rigidity },
        ..Rod::plane(BAR, 1.0)
    };
    let mut frame = Frame {
        nodes: vec![[-1.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, RISE]],
        clamped: vec![0, 1],
        ..Frame::default()
    };
    join(&mut frame, &limp, 0, 2);
    join(&mut frame, &limp, 1, 2);
    let mut end = 2;
    if let Some(stiffness) = spring {
        let soft = Rod::plane(stiffness, 1e3);
        end = lay(&mut frame, &soft, 2, &[[0.0, 0.0, RISE - 1.0]])[0];
    }
    let load = push(end, [0.0, 0.0, -1.0, 0.0, 0.0, 0.0]);
    (Statics::new(frame).expect("a sound frame"), load, [2, end])
}

/// Load that holds the top of the bars at a distance below where it was.
fn holds(travel: f64) -> f64 {
    let long = (1.0 + RISE * RISE).sqrt();
    let height = RISE - travel;
    let now = (1.0 + height * height).sqrt();
    2.0 * BAR * (long - now) / long * height / now
}

/// The largest of it: where the present length is the cube root of the length at rest.
fn top() -> (f64, f64) {
    let long = (1.0 + RISE * RISE).sqrt();
    let travel = RISE - (long.powf(2.0 / 3.0) - 1.0).sqrt();
    (travel, holds(travel))
}

fn truss_path() -> Record {
    let mut out = record(
        TOPIC,
        "two bars pressed down through flat to the other side: load at 44 places of the top, on the way up, down and up again",
        ("2 E A (L₀ − L)/L₀ · h/L", Provenance::ClosedForm),
        (Tolerance::Within(1e-6), "of the largest load; a bar is one element, its bending a ten-billionth"),
    );
    let (statics, load, [node, _]) = truss(None);
    let (_, most) = top();
    let mut c = statics.at_rest();
    for i in 1..=44 {
        let travel = 0.05 * RISE * f64::from(i);
        c = statics.advance(&c, &load, 0.05 * RISE).expect("the step is found");
        out.scaled(format!("travel {travel:.3}"), c.multiple(), holds(travel), most);
        out.scaled(
            format!("travel {travel:.3}, of itself"),
            -moved(&statics, &c, &load, node)[2],
            travel,
            RISE,
        );
    }
    out
}

fn truss_limit() -> Record {
    let mut out = record(
        TOPIC,
        "the same bars: where they cease to be stable, and the load there",
        ("L³ = L₀ a² at the top", Provenance::ClosedForm),
        (Tolerance::Within(1e-6), "stability is bisected between places of the top"),
    );
    let (statics, load, _) = truss(None);
    let (travel, most) = top();
    let (mut stable, mut c) = (0.0, statics.at_rest());
    let mut unstable = RISE;
    while unstable - stable > 1e-8 * RISE {
        let middle = 0.5 * (stable + unstable);
        let tried = statics.advance(&c, &load, middle - stable).expect("the step is found");
        if tried.is_stable() {
            (stable, c) = (middle, tried);
        } else {
            unstable = middle;
        }
    }
    out.point("travel of the top", stable, travel);
    out.point("load", c.multiple(), most);
    // Beyond lies another place, where the bars hang; no load leads there.
    let mut straight = statics.at_rest();
    let refused = statics.hold(&mut straight, &load, 1.01 * most).expect_err("the bars snap");
    assert!(refused.reached > 0.99 * most && refused.reached <= most * (1.0 + 1e-9), "{refused}, top {most}");
    out.scaled("smallest pivot, over that at rest", c.least_pivot(), 0.0, 1e6);
    out
}

fn snap_back() -> Record {
    let mut out = record(
        TOPIC,
        "the same bars pulled down by a soft spring: load and travel turn back, and the path is followed along its arc; \
         load by the top's place, and travel of the spring's end",
        ("the bars' load, and the spring's stretch added", Provenance::ClosedForm),
        (Tolerance::Within(1e-6), "of the largest; the bars' bending is a ten-billionth"),
    );
    let stiffness = 0.3 * BAR * RISE * RISE;
    let (statics, load, [node, end]) = truss(Some(stiffness));
    let (_, most) = top();
    let mut before = statics.at_rest();
    let mut c = before.clone();
    statics.hold(&mut c, &load, 0.02 * most).expect("it holds");
    let (mut backwards, mut last, mut far): (u32, f64, f64) = (0, 0.0, 0.0);
    for _ in 0..400 {
        let next = statics.advance_by_arc(&c, &before, &load, 0.03 * RISE).expect("the step is found");
        before = std::mem::replace(&mut c, next);
        let [top, travel] = [node, end].map(|n| -moved(&statics, &c, &load, n)[2]);
        let expected = holds(top);
        out.scaled(format!("load with the top at {top:.4}"), c.multiple(), expected, most);
        out.scaled(
            format!("travel with the top at {top:.4}"),
            travel,
            top + expected / stiffness,
            most / stiffness,
        );
        backwards += u32::from(travel < last && top < 2.0 * RISE);
        last = travel;
        far = far.max(top);
        if top > 2.2 * RISE {
            break;
        }
    }
    assert!(
        backwards > 10 && far > 2.2 * RISE,
        "the curve turns back ({backwards} steps) and is followed to its end ({far})"
    );
    out
}

// A clamped toggle --------------------------------------------------------------------------------------------------

/// Half span, and rise, of the toggle, and its thickness; E A and E I of its members.
const SHALLOW: f64 = 0.01;

/// A toggle with clamped feet and a stiff joint: load at a travel of its joint. The members are beam-columns: the
/// transverse stiffness of one whose ends stay parallel is p/(L (tan v/v − 1)), v = ½ L √(p/EI), and bowing shortens it by
/// half the travel squared times the derivative of that stiffness.
struct Toggle {
    axial: f64,
    bending: f64,
}

impl Toggle {
    fn length() -> f64 {
        (1.0 + SHALLOW * SHALLOW).sqrt()
    }

    fn sideways(&self, push: f64) -> f64 {
        let l = Self::length();
        let v = 0.5 * l * (push.abs() / self.bending).sqrt();
        if v < 1e-2 {
            // Its series: 12 EI/L³ − 6p/5L − p² L/700 EI.
            return 12.0 * self.bending / l.powi(3)
                - 1.2 * push / l
                - push * push * l / (700.0 * self.bending);
        }
        let part = if push > 0.0 { v.tan() / v } else { v.tanh() / v };
        push / (l * (part - 1.0))
    }

    /// Push in the members at a travel.
    fn push(&self, travel: f64) -> f64 {
        let l = Self::length();
        let h = 1e-4 * self.bending;
        let slope = |p: f64| (self.sideways(p + h) - self.sideways(p - h)) / (2.0 * h);
        let off = |p: f64| p - self.axial / l * (SHALLOW / l * travel + 0.5 * travel * travel * slope(p));
        let euler = 4.0 * std::f64::consts::PI.powi(2) * self.bending / (l * l);
        crate::chain::root(off, -20.0 * euler, 0.98 * euler)
    }

    fn load(&self, travel: f64) -> f64 {
        let p = self.push(travel);
        2.0 * (p * SHALLOW / Self::length() + self.sideways(p) * travel)
    }
}

fn toggle() -> Record {
    let mut out = record(
        TOPIC,
        "a toggle with clamped feet and a stiff joint (Williams' frame), its thickness from two thirds to a third of its rise: \
         load at 20 places of its joint, 48 elements a member",
        ("beam-columns, derived in the test", Provenance::ClosedForm),
        (Tolerance::Within(3e-3), "of the largest load; the paper toggle is shallow, the elements straight"),
    );
    for thickness in [0.67, 0.5, 0.33] {
        let thick = thickness * SHALLOW;
        let paper = Toggle { axial: 1.0, bending: thick * thick / 12.0 };
        let mut frame = Frame {
            nodes: vec![[-1.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, SHALLOW]],
            clamped: vec![0, 1],
            ..Frame::default()
        };
        let rod = Rod::plane(paper.axial, paper.bending);
        for foot in [0, 1] {
            let shares = evenly(48);
            let places = between(frame.nodes[foot], frame.nodes[2], &shares[..47]);
            let laid = lay(&mut frame, &rod, foot, &places);
            join(&mut frame, &rod, laid[46], 2);
        }
        let statics = Statics::new(frame).expect("a sound frame");
        let load = push(2, [0.0, 0.0, -1.0, 0.0, 0.0, 0.0]);
        let places: Vec<f64> = (1..=20).map(|i| 0.1 * SHALLOW * f64::from(i)).collect();
        let expected: Vec<f64> = places.iter().map(|w| paper.load(*w)).collect();
        let most = crate::common::largest(&expected);
        let mut c = statics.at_rest();
        for (travel, paper) in places.iter().zip(expected) {
            c = statics.advance(&c, &load, 0.1 * SHALLOW).expect("the step is found");
            out.scaled(format!("{thickness}, travel {travel:.5}"), c.multiple(), paper, most);
        }
    }
    out
}
