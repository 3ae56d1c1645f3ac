//! Legs that taper in width, in thickness or both, against integrals in closed form.

use crate::common::{add, arm, cross, load_at, mm, si, taper};
use crate::oracle_file::closed_forms;
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::analysis::{GearAnalysis, PlateElasticity};
use gearleg::model::{CaseWheelLoad, Gear, LoadPoint, Side};
use serde_json::Value;

const FORCE: f64 = 100.0;
const MOMENT: f64 = 10.0;
const DIAMETER: f64 = 0.1;

/// Displacement and rotation of the leg's end.
fn tip(gear: &Gear, loads: &[CaseWheelLoad]) -> ([f64; 3], [f64; 3]) {
    let state = GearAnalysis::new(gear, PlateElasticity::of(&gear.plate.metal))
        .and_then(|mut a| a.solve(loads, 1.0))
        .expect("a sound gear");
    let wheel = &state.wheels[0];
    let turn = si(wheel.rotation);
    let to_contact = [0.0, gear.wheel.overhang.value, -DIAMETER / 2.0];
    (add(si(wheel.displacement), -1.0, cross(turn, to_contact)), turn)
}

fn at_axle(force: [f64; 3]) -> Vec<CaseWheelLoad> {
    vec![load_at(Side::Centre, force, LoadPoint::Axle)]
}

/// A pure moment about the x or y axis: one force at the ground and the opposite one at the axle.
fn couple(force: [f64; 3]) -> Vec<CaseWheelLoad> {
    vec![
        load_at(Side::Centre, force, LoadPoint::Ground),
        load_at(Side::Centre, force.map(|c| -c), LoadPoint::Axle),
    ]
}

pub(crate) fn records() -> Vec<Record> {
    let file = closed_forms();
    let rows = file["tapered_cantilever"]["rows"].as_array().expect("rows");
    let number = |v: &Value| v.as_f64().expect("a number");
    ["width", "thickness", "both"]
        .into_iter()
        .map(|kind| {
            let mut out = record(
                "A tapered leg",
                format!("displacement, rotation, twist and stretch of the end; linear taper of {kind}"),
                ("integrals in closed form, oracle/closed_forms.py", Provenance::ClosedForm),
                (
                    Tolerance::Within(1e-3),
                    "what the project asks for; five Gauss points on each of 24 pieces do better",
                ),
            );
            for row in rows.iter().filter(|r| r["taper"] == kind) {
                let side = |key: &str| number(&row[key]) * 1e3;
                let mut gear = arm();
                gear.plate.width = taper(side("width_root_m"), side("width_tip_m"));
                gear.plate.thickness = taper(side("thickness_root_m"), side("thickness_tip_m"));
                gear.plate.leg_length = mm(230.0);
                gear.wheel.diameter = mm(DIAMETER * 1e3);
                let lever = MOMENT / (DIAMETER / 2.0);

                // The arm hangs straight down: its thickness lies athwartships (y), its width along x.
                for (plane, way, about) in [("through_thickness", 1, 0), ("across_width", 0, 1)] {
                    let mut unit = [0.0; 3];
                    unit[way] = 1.0;
                    let (shift, turn) = tip(&gear, &at_axle(unit.map(|c| c * FORCE)));
                    let paper = &row[plane];
                    out.point(plane, shift[way].abs(), number(&paper["displacement_by_force_m"]));
                    out.point(plane, turn[about].abs(), number(&paper["rotation_by_force_rad"]));
                    let (shift, turn) = tip(&gear, &couple(unit.map(|c| c * lever)));
                    out.point(plane, shift[way].abs(), number(&paper["displacement_by_moment_m"]));
                    out.point(plane, turn[about].abs(), number(&paper["rotation_by_moment_rad"]));
                }
                let (shift, _) = tip(&gear, &at_axle([0.0, 0.0, FORCE]));
                out.point("stretch", shift[2].abs(), number(&row["stretch_by_force_m"]));
                // A load aft on a wheel out to the side twists the arm by load × overhang.
                gear.wheel.overhang = mm(100.0);
                let (_, turn) = tip(&gear, &at_axle([MOMENT / 0.1, 0.0, 0.0]));
                out.point("twist", turn[2].abs(), number(&row["twist_by_moment_rad"]));
            }
            out
        })
        .collect()
}
