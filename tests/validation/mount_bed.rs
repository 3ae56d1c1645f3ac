//! Plates on a bed that pushes and never pulls, and bolts: closed forms of elementary statics.

use crate::chain::{Rod, between, evenly, lay, push, root};
use crate::common::{deg, load, mm, pair, si};
use crate::mounts::{bolt_class, metric, mount, plywood, preload};
use crate::oracle_file::closed_forms;
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::analysis::{GearAnalysis, PlateElasticity};
use gearleg::kernel::{Action, Frame, Link, LinkEnd, LinkStrength, NodalLoad, Solution, Solver, Statics};
use gearleg::model::{Gear, PlateMetal, Side};
use gearleg::results::GearState;

const TOPIC: &str = "Plates on a bed, bolts";
const FOOTING: (&str, Provenance) =
    ("statics of a rigid footing on ground that takes no tension", Provenance::ClosedForm);
const UP: [f64; 3] = [0.0, 0.0, 1.0];
const DOWN: [f64; 3] = [0.0, 0.0, -1.0];

/// Length along y and width along x of the plate, m, and stiffness of the bed, N/m³.
const LENGTH: f64 = 0.12;
const WIDTH: f64 = 0.06;
const BED: f64 = 1e11;
/// Strips that the bed is cut into.
const STRIPS: u32 = 200;

/// A link from a fixed place to the rigid body about node 0, at the origin.
fn hold(at: [f64; 3], action: Action, stiffness: f64, rest_tension: f64) -> Link {
    Link {
        from: LinkEnd::Ground(at),
        to: LinkEnd::Node { node: 0, arm: at },
        action,
        stiffness,
        rest_tension,
        strength: LinkStrength::ELASTIC,
    }
}

/// A rigid body: one node, held within the plane of the bed; the rod beside it carries nothing.
fn body() -> Frame {
    let mut frame = Frame { nodes: vec![[0.0; 3]], ..Frame::default() };
    lay(&mut frame, &Rod::plane(1e6, 1e3), 0, &[[0.1, 0.0, 0.0]]);
    for (at, direction) in
        [([0.0, 0.1, 0.0], [1.0, 0.0, 0.0]), ([0.0, -0.1, 0.0], [1.0, 0.0, 0.0]), ([0.0; 3], [0.0, 1.0, 0.0])]
    {
        frame.links.push(hold(at, Action::Spring(direction), 1e7, 0.0));
    }
    frame
}

/// The same on a bed of stops in two rows, fore and aft of the middle.
fn on_bed() -> Frame {
    let mut frame = body();
    let strip = LENGTH / f64::from(STRIPS);
    for i in 0..STRIPS {
        let y = -LENGTH / 2.0 + (f64::from(i) + 0.5) * strip;
        for x in [-WIDTH / 4.0, WIDTH / 4.0] {
            frame.links.push(hold([x, y, 0.0], Action::Stop(UP), BED * WIDTH / 2.0 * strip, 0.0));
        }
    }
    frame
}

/// A load on node 0 by the theory of small displacements and by that of large ones.
fn both(frame: &Frame, on_node: [f64; 6]) -> [(&'static str, Solution); 2] {
    let nodal = [NodalLoad { node: 0, load: on_node }];
    let small = Solver::new(frame).and_then(|mut s| s.solve(&nodal)).expect("a sound frame");
    let statics = Statics::new(frame.clone()).expect("a sound frame");
    let (mut c, load) = (statics.at_rest(), push(0, on_node));
    statics.hold(&mut c, &load, 1.0).expect("it holds");
    [("small displacements", small), ("large ones", statics.solution(&c, &load))]
}

pub(crate) fn records() -> Vec<Record> {
    vec![
        footing(),
        thick_plate(),
        one_sided_bolts(),
        long_beam(),
        short_beam(),
        bolt_group(),
        bolt_group_of_a_gear(),
        joint(),
        play(),
        play_of_a_gear(),
    ]
}

/// Push P beyond the kern of a bed without tension: contact over 3 (b/2 − e), pressure 2 P / (3 (b/2 − e) L) at the edge.
fn footing() -> Record {
    let mut out = record(
        TOPIC,
        "rigid plate pushed beyond its kern: length in contact 3 (b/2 − e), pressure at the edge, the push itself",
        FOOTING,
        (Tolerance::Within(1e-3), "200 strips; the contact's end falls within one of them"),
    );
    let (frame, force) = (on_bed(), 1000.0);
    for share in [0.18, 0.25, 1.0 / 3.0, 0.4] {
        let e = share * LENGTH;
        let contact = 3.0 * (LENGTH / 2.0 - e);
        let pressure = 2.0 * force / (contact * WIDTH);
        for (theory, solution) in both(&frame, [0.0, 0.0, force, force * e, 0.0, 0.0]) {
            let [_, _, up, turn, ..] = solution.displacements[0];
            let edge = up + turn * LENGTH / 2.0;
            let what = |q: &str| format!("{q} at e = {share:.3} b, {theory}");
            out.point(what("pressure at the edge"), BED * edge, pressure);
            out.point(what("contact"), edge / turn, contact);
            out.point(what("push"), solution.tensions.iter().skip(3).sum(), force);
        }
    }
    out
}

/// How much stiffer a stiff plate is: more than that and rounding shows.
const RIGID: f64 = 1e4;

/// A gear whose plate, by its modulus, is as good as rigid, on bolts too thin to matter.
fn stiff(gear: &mut Gear) {
    let PlateMetal::Known(metal) = &mut gear.plate.metal else { panic!("the test metal is known") };
    metal.modulus.value *= RIGID;
}

fn state_of(gear: &Gear, loads: &[gearleg::model::CaseWheelLoad]) -> GearState {
    GearAnalysis::new(gear, PlateElasticity::of(&gear.plate.metal))
        .and_then(|mut a| a.solve(loads, 1.0))
        .expect("a sound gear")
}

/// Height of the place where the ground pushes below the plane where plate and wood touch, m.
fn depth_of(gear: &Gear) -> f64 {
    0.5 * gear.plate.thickness.root.value - gear.wheels()[0].contact[2].value
}

/// The same through a whole gear: drag on both wheels tips the plate fore and aft.
fn thick_plate() -> Record {
    let mut out = record(
        TOPIC,
        "the same with a gear on its mount, tipped fore and aft by drag: pressure at the edge",
        FOOTING,
        (
            Tolerance::Within(ROWS_REACH),
            "the bed pushes at seven places across the plate; exact while all of it is pressed",
        ),
    );
    let mut gear = pair();
    stiff(&mut gear);
    // The ground pushes straight below the ends of the flat, or even such a plate would bend.
    gear.plate.leg_angle = deg(0.0);
    gear.wheel.overhang = mm(0.0);
    let mut thin = mount(&[[-20.0, -45.0], [20.0, -45.0], [-20.0, 45.0], [20.0, 45.0]]);
    thin.bolt = metric(0.01, 0.002);
    thin.bolt_class = bolt_class(1e-3);
    thin.nut_flange = Some(mm(0.02));
    // Soft wood, beside which the plate is rigid, and so dense that it holds them sideways all the same.
    thin.wood = plywood(1.0, [12_000.0, 4_800.0], 620.0, 1e6);
    gear.mount = Some(thin);
    let base = gear.base_plate().expect("a mounted gear");
    let (b, l) = (base.width.value, base.reach[1].value - base.reach[0].value);
    for share in [0.1, 0.2, 0.25, 0.3, 0.35, 0.4] {
        let up = 200.0;
        let drag = up * share * b / depth_of(&gear);
        let state = state_of(&gear, &[Side::Left, Side::Right].map(|side| load(side, [drag, 0.0, up])));
        let bed = state.mount.expect("a mounted gear").bed;
        let e = share * b;
        let whole = 2.0 * up / (b * l);
        let pressure = if share <= 1.0 / 6.0 {
            whole * (1.0 + 6.0 * share)
        } else {
            4.0 * up / (3.0 * (b / 2.0 - e) * l)
        };
        out.point(format!("at e = {share} b"), bed.pressure.value, pressure);
    }
    out
}

const ROWS_REACH: f64 = 0.04;

/// Two bolts near one edge and a bed: a triangle of pressure c long and the bolts' pull K θ (d − c).
///
/// With the push P at s from the pressed edge: C − T = P and C c/3 − T d = P s, C = k B θ c²/2; without a push C = T.
fn one_sided_bolts() -> Record {
    let mut out = record(
        TOPIC,
        "rigid plate with bolts on one side, moment alone and with push: pull, neutral axis",
        (
            "a triangle of pressure and the bolts' springs, k B c³/6 − k B s c²/2 + K (d − s)(c − d) = 0, derived",
            Provenance::ClosedForm,
        ),
        (Tolerance::Within(1e-3), "200 strips; the contact's end falls within one of them"),
    );
    // The bolts' distance from the pressed edge, and stiffness of both, N/m.
    let (d, stiffness) = (0.105, 1.2e8);
    let mut frame = on_bed();
    for x in [-0.02, 0.02] {
        frame.links.push(hold([x, LENGTH / 2.0 - d, 0.0], Action::Stop(DOWN), stiffness / 2.0, 0.0));
    }
    let strip = 0.5 * BED * WIDTH;
    let moment = 30.0;
    let alone = root(|c| strip * c * c - stiffness * (d - c), 1e-6, d);
    let mut rows =
        vec![("moment alone".to_owned(), 0.0, alone, moment / (strip * alone * alone * (d - alone / 3.0)))];
    for force in [300.0, 800.0, -400.0] {
        // Where the push acts, from the pressed edge.
        let s = LENGTH / 2.0 - moment / force;
        let cubic = |c: f64| strip * c * c * (c / 3.0 - s) - stiffness * (d - c) * (d - s);
        let c = root(cubic, 1e-6, d - 1e-6);
        let turn = force / (strip * c * c - stiffness * (d - c));
        rows.push((format!("push of {force} N"), force, c, turn));
    }
    for (name, force, c, turn) in rows {
        for (theory, solution) in both(&frame, [0.0, 0.0, force, moment, 0.0, 0.0]) {
            let [_, _, up, now, ..] = solution.displacements[0];
            let pull: f64 = solution.tensions.iter().rev().take(2).sum();
            out.point(format!("{name}, {theory}: bolts' pull"), pull, stiffness * turn * (d - c));
            out.point(format!("{name}, {theory}: contact"), (up + now * LENGTH / 2.0) / now, c);
        }
    }
    out
}

/// A beam along y on stops both ways, each kept closed by the other's preload; nodes first to last.
fn beam_on_bed(length: f64, pieces: u32, bending: f64, per_length: f64) -> (Frame, usize) {
    let start = [0.0, -length / 2.0, 0.0];
    let mut frame = Frame { nodes: vec![start], ..Frame::default() };
    let rod = Rod { across: [1.0, 0.0, 0.0], ..Rod::plane(1e9, bending) };
    lay(&mut frame, &rod, 0, &between(start, [0.0, length / 2.0, 0.0], &evenly(pieces)));
    let last = frame.nodes.len() - 1;
    let mut links = Vec::new();
    for node in 0..=last {
        let share = if node == 0 || node == last { 0.5 } else { 1.0 };
        let k = share * per_length * length / f64::from(pieces);
        let mut link = |action, stiffness, rest_tension| {
            links.push(Link {
                from: LinkEnd::Ground(frame.nodes[node]),
                to: LinkEnd::Node { node, arm: [0.0; 3] },
                action,
                stiffness,
                rest_tension,
                strength: LinkStrength::ELASTIC,
            });
        };
        link(Action::Stop(UP), 0.5 * k, 1e4);
        link(Action::Stop(DOWN), 0.5 * k, 1e4);
        if node == 0 || node == last {
            link(Action::Spring([1.0, 0.0, 0.0]), 1e9, 0.0);
            link(Action::Spring([0.0, 1.0, 0.0]), 1e9, 0.0);
        }
    }
    // Nothing turns the beam about its own line.
    let arm = [0.1, 0.0, 0.0];
    links.push(Link {
        from: LinkEnd::Ground([0.1, start[1], 0.0]),
        to: LinkEnd::Node { node: 0, arm },
        action: Action::Spring(UP),
        stiffness: 10.0,
        rest_tension: 0.0,
        strength: LinkStrength::ELASTIC,
    });
    frame.links = links;
    (frame, last)
}

const BENDING: f64 = 22.4;
const PER_LENGTH: f64 = 6e9;

/// Displacement of the nodes and bending moment in the middle, by both theories.
fn pushed(frame: &Frame, last: usize, force: f64) -> [(&'static str, Vec<f64>, f64); 2] {
    let middle = last / 2;
    let on_node = [0.0, 0.0, force, 0.0, 0.0, 0.0];
    let small = Solver::new(frame)
        .and_then(|mut s| s.solve(&[NodalLoad { node: middle, load: on_node }]))
        .expect("a sound frame");
    let statics = Statics::new(frame.clone()).expect("a sound frame");
    let (mut c, load) = (statics.at_rest(), push(middle, on_node));
    statics.hold(&mut c, &load, 1.0).expect("it holds");
    [("small displacements", small), ("large ones", statics.solution(&c, &load))].map(|(theory, s)| {
        let up = s.displacements.iter().map(|d| d[2]).collect();
        (theory, up, s.section_forces(middle, 0.0).bending_y.abs())
    })
}

/// A long beam under a force: w = P β / 2k, M = P / 4β.
fn long_beam() -> Record {
    let mut out = record(
        TOPIC,
        "long beam on an elastic bed under a force: deflection and moment below it",
        ("Hetényi, Beams on Elastic Foundation, w = Pβ/2k, M = P/4β", Provenance::FromMemory),
        (Tolerance::Within(1e-3), "stops a twenty-fifth of 1/β apart"),
    );
    let beta = (PER_LENGTH / (4.0 * BENDING)).powf(0.25);
    let (frame, last) = beam_on_bed(16.0 / beta, 400, BENDING, PER_LENGTH);
    let force = 500.0;
    for (theory, up, moment) in pushed(&frame, last, force) {
        out.point(format!("deflection, {theory}"), up[last / 2], force * beta / (2.0 * PER_LENGTH));
        out.point(format!("moment, {theory}"), moment, force / (4.0 * beta));
    }
    out
}

/// Beams with free ends under a force in the middle.
fn short_beam() -> Record {
    let mut out = record(
        TOPIC,
        "beams with free ends on an elastic bed, force in the middle: deflection there and at the ends, moment",
        (
            "Hetényi's finite beam, from memory, worked out apart from the equation of the beam, oracle/",
            Provenance::ClosedForm,
        ),
        (Tolerance::Within(1e-3), "200 stops"),
    );
    let force = 500.0;
    let file = closed_forms();
    let rows = file["beam_on_elastic_bed"]["rows"].as_array().expect("rows");
    assert!(rows.len() >= 4, "rows are missing");
    for row in rows {
        let number = |key: &str| row[key].as_f64().expect("a number");
        let beta = (PER_LENGTH / (4.0 * BENDING)).powf(0.25);
        let (frame, last) = beam_on_bed(number("beta_l") / beta, 200, BENDING, PER_LENGTH);
        let (unit, moment_unit) = (force * beta / PER_LENGTH, force / beta);
        for (theory, up, moment) in pushed(&frame, last, force) {
            let what = |q: &str| format!("{q}, βl = {}, {theory}", number("beta_l"));
            let middle = number("middle") * unit;
            out.point(what("deflection in the middle"), up[last / 2], middle);
            out.scaled(what("deflection at the end"), up[last], number("end") * unit, middle);
            out.point(what("moment"), moment, number("moment") * moment_unit);
        }
    }
    out
}

/// Four equal bolts under a force beside their centre: direct share F/4 and r F e / Σ r² square to each arm.
fn bolt_group() -> Record {
    let mut out = record(
        TOPIC,
        "eccentric group of four M16 bolts, 16 kN at 425 mm: 20.97 and 14.79 kN, 4.000 and 17.700 kN, 104.3 and 131.1 MPa",
        ("Shigley, example 8-7, geometry from memory; numbers worked out apart", Provenance::FromMemory),
        (Tolerance::Within(4e-4), "the numbers' last digit"),
    );
    let (force, lever) = (16e3, 0.425);
    let places = [[-0.075, 0.06], [-0.075, -0.06], [0.075, 0.06], [0.075, -0.06]];
    let mut frame = Frame { nodes: vec![[0.0; 3]], ..Frame::default() };
    lay(&mut frame, &Rod::plane(1e9, 1e6), 0, &[[0.3, 0.0, 0.0]]);
    for [x, y] in places {
        for direction in [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], UP] {
            frame.links.push(hold([x, y, 0.0], Action::Spring(direction), 1e10, 0.0));
        }
    }
    let whole = both(&frame, [0.0, -force, 0.0, 0.0, 0.0, -force * lever]);
    let turned = both(&frame, [0.0, 0.0, 0.0, 0.0, 0.0, -force * lever]);
    let direct = both(&frame, [0.0, -force, 0.0, 0.0, 0.0, 0.0]);
    let size = |s: &Solution, bolt: usize| s.tensions[3 * bolt].hypot(s.tensions[3 * bolt + 1]);
    for (((theory, all), (_, turned)), (_, direct)) in whole.iter().zip(&turned).zip(&direct) {
        for (bolt, expected) in [14.79e3, 14.79e3, 20.97e3, 20.97e3].into_iter().enumerate() {
            out.point(format!("bolt {bolt}, {theory}"), size(all, bolt), expected);
            out.point(format!("its moment share, {theory}"), size(turned, bolt), 17.700e3);
            out.point(format!("its direct share, {theory}"), size(direct, bolt), 4.000e3);
        }
        let worst = size(all, 2);
        let area = std::f64::consts::FRAC_PI_4 * 0.016 * 0.016;
        out.point(format!("shear stress, {theory}"), worst / area, 104.3e6);
        // The channel's web, 10 mm, is the thinner of the two.
        out.point(format!("bearing stress, {theory}"), worst / (0.016 * 0.010), 131.1e6);
    }
    out
}

/// The same sums for the bolts of a gear: drag on one wheel is a force beside the group's centre.
fn bolt_group_of_a_gear() -> Record {
    let mut out = record(
        TOPIC,
        "bolts of a gear with a stiff plate, drag on one wheel: shear of each",
        ("the same group formula, F/n + r F e / Σ r²", Provenance::ClosedForm),
        (Tolerance::Within(2e-3), "a plate that hardly bends in its own plane"),
    );
    let mut gear = pair();
    stiff(&mut gear);
    let places = [[-20.0, -45.0], [20.0, -45.0], [-20.0, 45.0], [20.0, 45.0]];
    gear.mount = Some(mount(&places));
    let (drag, side) = (120.0, 50.0);
    let state = state_of(&gear, &[load(Side::Right, [drag, side, 300.0])]);
    let [_, at, _] = si(gear.wheels()[1].contact);
    // About the vertical through the centre, aft turning to starboard.
    let moment = -drag * at;
    let square: f64 = places.iter().flatten().map(|c| (c * 1e-3).powi(2)).sum();
    let scale = f64::hypot(drag, side);
    for (bolt, [x, y]) in state.mount.expect("a mounted gear").bolts.iter().zip(places) {
        let (x, y) = (1e-3 * x, 1e-3 * y);
        let [aft, starboard] = si3(bolt.shear);
        out.scaled(format!("bolt {} aft", bolt.name), aft, drag / 4.0 - moment * y / square, scale);
        out.scaled(
            format!("bolt {} to starboard", bolt.name),
            starboard,
            side / 4.0 + moment * x / square,
            scale,
        );
    }
    out
}

fn si3(two: [gearleg::units::Force; 2]) -> [f64; 2] {
    two.map(|f| f.value)
}

/// A preloaded joint: the bolt has C P + F until the joint is apart at P (1 − C) = F, then P.
fn joint() -> Record {
    let mut out = record(
        TOPIC,
        "preloaded joint, M6-8.8 at 8753 N, C = 0.25, apart at 11 671 N: pull of the bolt, what presses",
        ("C P + F_i, apart at P (1 − C) = F_i (Shigley 8-29, 8-30)", Provenance::FromMemory),
        (Tolerance::Within(1e-7), "four straight lines"),
    );
    let (preload, bolt, pressed) = (8753.0, 1e8, 3e8);
    let mut frame = body();
    // Two springs that hardly are there keep the body from turning.
    for at in [[0.05, 0.0, 0.0], [-0.05, 0.0, 0.0], [0.0, 0.05, 0.0], [0.0, -0.05, 0.0]] {
        frame.links.push(hold(at, Action::Spring(UP), 1e-3, 0.0));
    }
    frame.links.push(hold([0.0; 3], Action::Stop(DOWN), bolt, preload));
    frame.links.push(hold([0.0; 3], Action::Stop(UP), pressed, preload));
    // By hand: 8753 + 0.25 × 4000 = 9753, 8753 − 0.75 × 4000 = 5753; 8753 + 0.25 × 11 000 = 11 503, 8753 − 8250 = 503.
    for (pull, in_bolt, presses) in [
        (0.0, 8753.0, 8753.0),
        (4000.0, 9753.0, 5753.0),
        (11_000.0, 11_503.0, 503.0),
        (12_000.0, 12_000.0, 0.0),
        (20_000.0, 20_000.0, 0.0),
        // A push into the bed takes the bolt's preload as well.
        (-4000.0, 7753.0, 11_753.0),
    ] {
        for (theory, solution) in both(&frame, [0.0, 0.0, -pull, 0.0, 0.0, 0.0]) {
            let [.., b, p] = solution.tensions[..] else { panic!("two links at least") };
            out.scaled(format!("bolt at {pull} N, {theory}"), b, in_bolt, preload);
            out.scaled(format!("pressed at {pull} N, {theory}"), p, presses, preload);
        }
    }
    out
}

/// A bolt with play on both sides: only friction's spring until the play is used up.
fn play() -> Record {
    let mut out = record(
        TOPIC,
        "a bolt with play in its hole, one way and the other: movement",
        ("Hooke's law in two stretches, F = c u, then F = c u + k (u − p)", Provenance::ClosedForm),
        (Tolerance::Within(1e-9), "straight lines"),
    );
    let (k, c, gap) = (1e7, 2e5, 2e-4);
    let mut frame = body();
    frame.links.retain(|l| l.action != Action::Spring([0.0, 1.0, 0.0]));
    for at in [[0.05, 0.05, 0.0], [-0.05, 0.05, 0.0], [0.0, -0.05, 0.0]] {
        frame.links.push(hold(at, Action::Spring(UP), 1e7, 0.0));
    }
    for sign in [1.0, -1.0] {
        frame.links.push(hold([0.0; 3], Action::Stop([0.0, sign, 0.0]), k, -k * gap));
    }
    frame.links.push(hold([0.0; 3], Action::Spring([0.0, 1.0, 0.0]), c, 0.0));
    // c p = 40 N.
    for force in [10.0, 39.9, 40.1, 500.0, -25.0, -500.0_f64] {
        let size = force.abs();
        let expected = if size <= c * gap { size / c } else { (size + k * gap) / (c + k) };
        for (theory, solution) in both(&frame, [0.0, force, 0.0, 0.0, 0.0, 0.0]) {
            out.point(
                format!("at {force} N, {theory}"),
                solution.displacements[0][1],
                expected.copysign(force),
            );
        }
    }
    out
}

/// What play in the holes adds to the wheels' way aft, and nothing else of it.
fn play_of_a_gear() -> Record {
    let mut out = record(
        TOPIC,
        "what play in four holes adds to the way of a gear's wheels under drag on both",
        (
            "the same two stretches, each bolt with a quarter; friction 2 % of the bolt in the wood",
            Provenance::ClosedForm,
        ),
        (Tolerance::Within(1e-6), "the difference of two movements"),
    );
    let mut gear = pair();
    stiff(&mut gear);
    let mut tight = mount(&[[-20.0, -45.0], [20.0, -45.0], [-20.0, 45.0], [20.0, 45.0]]);
    // The bolts keep the plate pressed on, and it does not bend in its own plane: nothing else of the gear differs.
    tight.preload = preload(5000.0);
    gear.mount = Some(tight.clone());
    let mut loose = gear.clone();
    loose.mount = Some(gearleg::model::Mount { hole: Some(mm(5.4)), ..tight });
    let k = 2.0 * 680_f64.powf(1.5) * 5.0 / 23.0 * 1e3;
    let gap = 0.2e-3;
    for drag in [20.0, 60.0, 300.0] {
        let loads = [Side::Left, Side::Right].map(|side| load(side, [drag, 0.0, 200.0]));
        let [a, b] = [&gear, &loose].map(|g| si(state_of(g, &loads).wheels[0].displacement)[0]);
        let each = 2.0 * drag / 4.0;
        let way = if each <= 0.02 * k * gap { each / (0.02 * k) } else { (each + k * gap) / (1.02 * k) };
        out.point(format!("at {drag} N"), b - a, way - each / k);
    }
    out
}
