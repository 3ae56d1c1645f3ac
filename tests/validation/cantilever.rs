//! A sloped prismatic leg under loads at its wheel's contact point, against the textbook cantilever.

use crate::common::{POISSON, YOUNG, add, cross, deg, dot, even, load, pair, si};
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::analysis::{GearAnalysis, PlateElasticity};
use gearleg::model::{Gear, Side};
use std::f64::consts::PI;

const TOPIC: &str = "A plain leg";
const TEXTBOOK: (&str, Provenance) = ("cantilever formulas, written out in the test", Provenance::ClosedForm);

/// Width, thickness and length of the leg; where the wheel is from its end. m.
const WIDTH: f64 = 0.060;
const THICKNESS: f64 = 0.004;
const LENGTH: f64 = 0.230;
const OVERHANG: f64 = 0.022;
const RADIUS: f64 = 0.055;
/// β of a rectangle of 15 to 1. Source: oracle/answers/closed_forms.json.
const BETA: f64 = 0.319_327_802_749;

fn gear(lean: f64, rake: f64) -> Gear {
    let mut gear = pair();
    gear.plate.width = even(60.0);
    gear.plate.leg_angle = deg(lean);
    gear.plate.rake = deg(rake);
    gear
}

/// The leg on paper: along, across and through it, and the arm from its end to the contact point.
struct Leg {
    along: [f64; 3],
    across: [f64; 3],
    through: [f64; 3],
    arm: [f64; 3],
}

impl Leg {
    fn new(lean: f64, rake: f64, outward: f64) -> Self {
        let (x, y) = ((rake * PI / 180.0).tan(), outward * (lean * PI / 180.0).tan());
        let long = (x * x + y * y + 1.0).sqrt();
        let along = [x / long, y / long, -1.0 / long];
        // Across: what is left of the x axis when its part along the leg is taken away.
        let rest = add([1.0, 0.0, 0.0], -along[0], along);
        let across = rest.map(|c| c / dot(rest, rest).sqrt());
        Self { along, across, through: cross(along, across), arm: [0.0, outward * OVERHANG, -RADIUS] }
    }

    /// Displacement of the contact point under a force there: P L³/3EI, M L²/2EI and so on, each in its plane.
    fn displacement(&self, force: [f64; 3]) -> [f64; 3] {
        let moment = cross(self.arm, force);
        let (flat, edge) =
            (YOUNG * WIDTH * THICKNESS.powi(3) / 12.0, YOUNG * THICKNESS * WIDTH.powi(3) / 12.0);
        let twist = YOUNG / (2.0 * (1.0 + POISSON)) * BETA * WIDTH * THICKNESS.powi(3);
        let [pull, push_across, push_through] = self.local(force);
        let [torque, about_across, about_through] = self.local(moment);
        let (l, l2, l3) = (LENGTH, LENGTH.powi(2) / 2.0, LENGTH.powi(3) / 3.0);
        let shift = self.global([
            pull * l / (YOUNG * WIDTH * THICKNESS),
            (push_across * l3 + about_through * l2) / edge,
            (push_through * l3 - about_across * l2) / flat,
        ]);
        let turn = self.global([
            torque * l / twist,
            (about_across * l - push_through * l2) / flat,
            (about_through * l + push_across * l2) / edge,
        ]);
        add(shift, 1.0, cross(turn, self.arm))
    }

    fn local(&self, v: [f64; 3]) -> [f64; 3] {
        [dot(v, self.along), dot(v, self.across), dot(v, self.through)]
    }

    fn global(&self, [a, b, c]: [f64; 3]) -> [f64; 3] {
        add(add(self.along.map(|k| k * a), b, self.across), c, self.through)
    }

    /// Moment about the bend.
    fn root_moment(&self, force: [f64; 3]) -> [f64; 3] {
        cross(add(self.arm, LENGTH, self.along), force)
    }

    /// Force and moment on the section at a distance from the end, in the leg's axes.
    fn section(&self, force: [f64; 3], from_end: f64) -> [[f64; 3]; 2] {
        let moment = cross(add(self.arm, from_end, self.along), force);
        [self.local(force), self.local(moment)]
    }
}

/// The highest equivalent stress round a rectangle: searched at 2001 places on each face with 800 terms of the series, then
/// about the best of them with 200 000 terms and a parabola.
///
/// Torsion's shear by the series along the face itself, the other of the two ways to write it.
fn highest([[n, vy, vz], [t, my, mz]]: [[f64; 3]; 2]) -> f64 {
    let (b, h) = (WIDTH, THICKNESS);
    let (area, flat, edge) = (b * h, b * h.powi(3) / 12.0, h * b.powi(3) / 12.0);
    let polar = BETA * b * h.powi(3);
    let span_of = |on_flat: bool| if on_flat { (b, h) } else { (h, b) };
    let twisted = |on_flat: bool, u: f64, terms: u32| -> f64 {
        let (span, depth) = span_of(on_flat);
        let series: f64 = (0..terms)
            .map(|j| {
                let k = f64::from(2 * j + 1) * PI / span;
                let sign = if j % 2 == 0 { 1.0 } else { -1.0 };
                sign * (k * depth / 2.0).tanh() * (k * u).cos() / (k * span / PI).powi(2)
            })
            .sum();
        t / polar * 8.0 * span / (PI * PI) * series
    };
    let square = |on_flat: bool, side: f64, u: f64, torsion: f64| -> f64 {
        let (span, _) = span_of(on_flat);
        let parabola = 1.5 / area * (1.0 - (2.0 * u / span).powi(2));
        let (y, z, tau) = if on_flat {
            (u, side * h / 2.0, -side * torsion + vy * parabola)
        } else {
            (side * b / 2.0, u, side * torsion + vz * parabola)
        };
        let sigma = n / area + my * z / flat - mz * y / edge;
        sigma * sigma + 3.0 * tau * tau
    };
    let mut best = (0.0, true, 1.0, 0.0);
    for on_flat in [true, false] {
        for i in 0..=2000 {
            let u = (f64::from(i) / 2000.0 - 0.5) * span_of(on_flat).0;
            let torsion = twisted(on_flat, u, 800);
            for side in [1.0, -1.0] {
                let found = square(on_flat, side, u, torsion);
                if found > best.0 {
                    best = (found, on_flat, side, u);
                }
            }
        }
    }
    let (_, on_flat, side, u) = best;
    let fine = |u: f64| square(on_flat, side, u, twisted(on_flat, u, 200_000));
    let step = span_of(on_flat).0 / 2000.0;
    let half = span_of(on_flat).0 / 2.0;
    let middle = fine(u);
    if half - u.abs() < step {
        return middle.sqrt();
    }
    let (before, after) = (fine(u - step), fine(u + step));
    let curve = before - 2.0 * middle + after;
    (middle - 0.125 * (before - after).powi(2) / curve).sqrt()
}

pub(crate) fn records() -> Vec<Record> {
    let exact = (Tolerance::Within(1e-6), "straight and prismatic: the method has no error of its own");
    let mut moved = record(TOPIC, "movement of the contact point, sloped and raked legs", TEXTBOOK, exact);
    let mut moment = record(TOPIC, "moment at the bend", TEXTBOOK, exact);
    let mut plain =
        record(TOPIC, "largest von Mises stress, no load aft: N/A + 6M/bt² at the bend", TEXTBOOK, exact);
    let mut mixed = record(
        TOPIC,
        "largest von Mises stress, bending both ways with torsion and shear",
        ("closed-form stresses, searched at 8000 places and refined in the test", Provenance::ClosedForm),
        (Tolerance::Within(1e-6), "both follow the series to the top"),
    );
    let forces = [
        ("vertical", [0.0, 0.0, 170.0]),
        ("aft", [60.0, 0.0, 0.0]),
        ("side", [0.0, 45.0, 0.0]),
        ("all", [55.0, -30.0, 160.0]),
    ];
    for (lean, rake) in [(40.0, 0.0), (35.0, 12.0), (25.0, -10.0)] {
        let gear = gear(lean, rake);
        let mut analysis =
            GearAnalysis::new(&gear, PlateElasticity::of(&gear.plate.metal)).expect("a sound gear");
        for (name, force) in forces {
            // Each leg gets the same load, so that the two are not each other's mirror image.
            let state = analysis
                .solve(&[load(Side::Left, force), load(Side::Right, force)], 1.0)
                .expect("an unbraced gear has a solution");
            for ((wheel, leg), outward) in state.wheels.iter().zip(&state.legs).zip([-1.0, 1.0]) {
                let paper = Leg::new(lean, rake, outward);
                let what = format!("{name}, {} leg, lean {lean}°, rake {rake}°", leg.side);
                moved.vector(&what, si(wheel.displacement), paper.displacement(force));
                moment.vector(&what, si(leg.root_moment), paper.root_moment(force));
                let ends = [0.0, LENGTH].map(|d| paper.section(force, d));
                let peak = leg.peak.von_mises.value;
                if rake == 0.0 && force[0] == 0.0 {
                    // No torsion, no edgewise bending: the flat faces carry N/A ± 6M/bt² and no shear.
                    let stress = ends.map(|[[n, ..], [_, m, _]]| {
                        n.abs() / (WIDTH * THICKNESS) + 6.0 * m.abs() / (WIDTH * THICKNESS.powi(2))
                    });
                    plain.point(what, peak, stress[0].max(stress[1]));
                } else {
                    mixed.point(what, peak, highest(ends[0]).max(highest(ends[1])));
                }
            }
        }
    }
    vec![moved, moment, plain, mixed]
}
