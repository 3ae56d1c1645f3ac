//! Ways to fail whose limit is known: tipping over sideways, and a section that is plastic right through.

use crate::common::{arm, load_at, mm, taper};
use crate::oracle_file::{answers, closed_forms};
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::analysis::{GearAnalysis, PlateElasticity};
use gearleg::checks::{collapse_stress, lateral_buckling_constant};
use gearleg::kernel::{
    ArmLoad, Beam, Frame, GAUSS_POINTS, Link, LinkEnd, NodalLoad, Rigidity, Section, Solver,
};
use gearleg::model::{Gear, LoadPoint, Side};
use gearleg::results::{PlateForces, Station};
use gearleg::section::PlateSection;
use gearleg::units::{Force, Length, Moment};
use std::f64::consts::FRAC_PI_2;

/// A straight arm without overhang.
fn post(width: (f64, f64), thickness: (f64, f64)) -> Gear {
    let mut gear = arm();
    gear.plate.width = taper(width.0 * 1e3, width.1 * 1e3);
    gear.plate.thickness = taper(thickness.0 * 1e3, thickness.1 * 1e3);
    gear.plate.leg_length = mm(230.0);
    gear.wheel.overhang = Length::default();
    gear
}

/// The leg's stations under forces on its wheel; two equal and opposite ones make a couple.
fn stations(gear: &Gear, at_axle: [f64; 3], at_ground: [f64; 3]) -> Vec<Station> {
    let loads = [
        load_at(Side::Centre, at_axle, LoadPoint::Axle),
        load_at(Side::Centre, at_ground, LoadPoint::Ground),
    ];
    let state = GearAnalysis::new(gear, PlateElasticity::of(&gear.plate.metal))
        .and_then(|mut a| a.solve(&loads, 1.0))
        .expect("a sound gear");
    state.legs[0].stations.clone()
}

pub(crate) fn records() -> Vec<Record> {
    let mut out = tipping_over();
    out.extend(columns());
    out.push(plastic_section());
    out
}

fn tipping_over() -> Vec<Record> {
    let topic = "Ways to fail";
    let aft = [100.0, 0.0, 0.0];
    let uniform = post((0.06, 0.06), (0.004, 0.004));
    let constant = |gear: &Gear, at_axle, at_ground| {
        lateral_buckling_constant(&stations(gear, at_axle, at_ground)).expect("bent edgewise")
    };

    let mut force = record(
        topic,
        "tipping over sideways, uniform leg, force at its end: 4.012599",
        ("Timoshenko & Gere print 4.013; twice the first zero of J_-1/4", Provenance::ClosedForm),
        (Tolerance::Within(2e-4), "trapezoids, four to each of 24 intervals"),
    );
    force.point("k", constant(&uniform, aft, [0.0; 3]), 4.012_599);
    let mut couple = record(
        topic,
        "the same under an even moment: π/2",
        ("Timoshenko & Gere; sine wave of a quarter", Provenance::ClosedForm),
        (Tolerance::Within(2e-4), "trapezoids, four to each of 24 intervals"),
    );
    couple.point("k", constant(&uniform, aft.map(|c| -c), aft), FRAC_PI_2);

    let file = closed_forms();
    let mut tapered = record(
        topic,
        "tipping over sideways, tapered legs",
        ("the same equation by SciPy, oracle/closed_forms.py", Provenance::OtherProgram),
        (Tolerance::Within(5e-4), "trapezoids, four to each of 24 intervals"),
    );
    for row in file["lateral_buckling"]["rows"].as_array().expect("rows") {
        // Rows that take β as constant have no plate of their own.
        let side = |key: &str| row[key].as_f64();
        let (Some(b0), Some(b1), Some(t0), Some(t1)) =
            (side("width_root_m"), side("width_tip_m"), side("thickness_root_m"), side("thickness_tip_m"))
        else {
            continue;
        };
        let k = constant(&post((b0, b1), (t0, t1)), aft, [0.0; 3]);
        tapered.point(row["name"].as_str().expect("a name"), k, row["constant"].as_f64().expect("a number"));
    }
    vec![force, couple, tapered]
}

/// Smallest buckling load of a column of unit length and rigidity along x that may bend towards y only, held there by a taut
/// link at a place, with `share` of its compression beyond that place and its load on a rigid arm along itself.
fn buckling_load(held_at: Option<f64>, share: f64, arm: f64) -> f64 {
    const ELEMENTS: usize = 60;
    let mut frame = Frame { clamped: vec![0], ..Frame::default() };
    frame.sections.push(Section::new(Vec::new()));
    frame.nodes = (0..=ELEMENTS).map(|i| [i as f64 / ELEMENTS as f64, 0.0, 0.0]).collect();
    let rigidity = Rigidity { axial: 1e6, torsion: 1e6, bending_y: 1e6, bending_z: 1.0 };
    frame.beams = (0..ELEMENTS)
        .map(|i| Beam {
            start: i,
            end: i + 1,
            axes: [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
            rigidity: [rigidity; GAUSS_POINTS.len()],
            hinged_end: false,
            start_section: 0,
            end_section: 0,
            yielding: None,
        })
        .collect();
    let node = held_at.map(|f| (f * ELEMENTS as f64).round() as usize);
    frame.links.extend(node.map(|node| Link {
        from: LinkEnd::Node { node, arm: [0.0; 3] },
        to: LinkEnd::Ground([frame.nodes[node][0], 1.0, 0.0]),
        action: gearleg::kernel::Action::Cord,
        stiffness: 1e9,
        rest_tension: 1e-9,
        strength: gearleg::kernel::LinkStrength::ELASTIC,
    }));
    let push = |node: usize, force: f64| NodalLoad { node, load: [-force, 0.0, 0.0, 0.0, 0.0, 0.0] };
    let mut loads = vec![push(ELEMENTS, share)];
    loads.extend(node.map(|node| push(node, 1.0 - share)));
    let mut solver = Solver::new(&frame).expect("a sound column");
    let solution = solver.solve(&loads).expect("in balance");
    let arms = [ArmLoad { node: ELEMENTS, force: [-share, 0.0, 0.0], arm: [arm, 0.0, 0.0] }];
    solver.buckling_multiple(&solution, &arms).expect("it settles").expect("compressed")
}

fn columns() -> Vec<Record> {
    let topic = "Ways to fail";
    let mut euler = record(
        topic,
        "Euler's columns: clamped and free, clamped and held at its head",
        ("(π/2)² and 4.493409² times EI/L² (tan x = x)", Provenance::ClosedForm),
        (Tolerance::Within(1e-3), "each of 60 pieces is taken as straight"),
    );
    euler.point("head free", buckling_load(None, 1.0, 0.0), FRAC_PI_2 * FRAC_PI_2);
    euler.point("head held", buckling_load(Some(1.0), 1.0, 0.0), 4.493_409_457_909_064_f64.powi(2));
    let mut wheel = record(
        topic,
        "clamped column with its load on a rigid arm beyond its free end, a quarter and a half of its length",
        ("x tan x = L/R", Provenance::ClosedForm),
        (Tolerance::Within(1e-3), "each of 60 pieces is taken as straight"),
    );
    wheel.point("R/L = 1/4", buckling_load(None, 1.0, 0.25), 1.264_591_571_f64.powi(2));
    wheel.point("R/L = 1/2", buckling_load(None, 1.0, 0.5), 1.076_873_986_f64.powi(2));
    let mut held = record(
        topic,
        "clamped column held part-way and free beyond, compression less beyond the hold",
        ("Hermite elements with geometric stiffness by SciPy, oracle/column.py", Provenance::OtherProgram),
        (Tolerance::Within(2e-3), "each of 60 pieces is taken as straight"),
    );
    for row in answers("column")["rows"].as_array().expect("rows") {
        let number = |key: &str| row[key].as_f64().expect("a number");
        let (at, ratio) = (number("held_at"), number("ratio"));
        let expected = number("constant") / (at * at);
        held.point(format!("held at {at}, {ratio}"), buckling_load(Some(at), 1.0 / ratio, 0.0), expected);
    }
    vec![euler, wheel, held]
}

fn plastic_section() -> Record {
    let mut out = record(
        "Ways to fail",
        "plastic plate: 1.5 times the first-yield moment flatwise and edgewise; M/M_p + (N/N_p)² = 1; sand heap in twist",
        ("plastic theory of a rectangle", Provenance::ClosedForm),
        (Tolerance::Within(1e-9), "the same formulas"),
    );
    let section = PlateSection { width: mm(60.0), thickness: mm(4.0) };
    let newton = Force::new::<uom::si::force::newton>;
    let joule = Moment::new::<uom::si::energy::joule>;
    let none = PlateForces::default();
    // 60 × 4 mm at 100 MPa: M_y = 16 N·m flatwise and 240 N·m edgewise, N_p = 24 kN, T_p = 100/√3 · 4²(180 − 4)/6.
    for (what, forces) in [
        ("flatwise", PlateForces { bending_flat: joule(1.5 * 16.0), ..none }),
        ("edgewise", PlateForces { bending_edge: joule(1.5 * 240.0), ..none }),
        (
            "with axial force",
            PlateForces { bending_flat: joule(0.75 * 24.0), axial: newton(12_000.0), ..none },
        ),
        ("twist", PlateForces { torsion: joule(0.1 / 3.0_f64.sqrt() * 16.0 * 176.0 / 6.0), ..none }),
    ] {
        out.point(what, collapse_stress(&section, &forces).value / 1e6, 100.0);
    }
    out
}
