//! Load–deflection curves of whole gears against a general-purpose finite-element solver: the committed answers of `oracle/`.

use crate::common::largest;
use crate::oracle::{read, text, three};
use crate::oracle_file::{answers, folder};
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::analysis::{CurveRequest, GearStatics, PlateElasticity, PlateYield};
use gearleg::input::tables::builtin;
use gearleg::material::Library;
use gearleg::results::{Branch, CaseName, CollapseCause, GearCurve, WheelTravel};
use serde_json::Value;

const SOLVER: (&str, Provenance) = ("OpenSees 3.7.1, oracle/", Provenance::OtherProgram);
const TOPIC: &str = "Whole gears, large movements and yielding";

/// How near the first yield a flag may be either way: the other program looks at one corner's normal stress.
const NEAR_YIELD: f64 = 0.02;

/// Symmetric gears that sway to one side (a bifurcation) below the last of the other program's points: two upright legs that a tie
/// holds together can lean together.
const SWAYS: [(&str, &str); 1] = [("nl-tie-pretension-elastic", "both wheels")];

pub(crate) fn records() -> Vec<Record> {
    let library = builtin().expect("the tables are sound");
    let mut names: Vec<String> = std::fs::read_dir(folder().join("gears"))
        .expect("the gears are there")
        .filter_map(|entry| Some(entry.ok()?.path().file_stem()?.to_str()?.to_owned()))
        .filter(|name| name.starts_with("nl-"))
        .collect();
    names.sort();
    assert!(names.len() >= 10, "gears are missing: {names:?}");
    names.iter().flat_map(|name| one_gear(name, &library)).collect()
}

fn one_gear(name: &str, library: &Library) -> Vec<Record> {
    let project = read(name, library);
    let file = answers(name);
    let cases = file["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), project.cases.len(), "{name}: every case of the file has its answer");
    let mut curve = record(
        TOPIC,
        format!(
            "{name}, {} cases: movement of the wheels and pull of the wires up and back, of the largest",
            cases.len()
        ),
        SOLVER,
        (Tolerance::Within(5e-3), "what the project asks for a curve"),
    );
    let mut set = record(
        TOPIC,
        format!("{name}: what stays of the wheels' movement, of the largest"),
        SOLVER,
        (Tolerance::Within(2e-2), "what the project asks for a set"),
    );
    for paper in cases {
        let id = text(&paper["case"]);
        let case = project.cases.iter().find(|c| c.name == id).expect("the case is in the file");
        let gear = &project.gears[case.gear];
        let statics =
            GearStatics::new(gear, PlateElasticity::of(&gear.plate.metal), PlateYield::of(&gear.plate))
                .expect("a sound gear");
        let list = |key: &str| paper[key].as_array().expect("a list");
        let number = |v: &Value| v.as_f64().expect("a number");
        let up: Vec<f64> = list("points").iter().map(|p| number(&p["multiple"])).collect();
        let from: Vec<f64> = list("unloadings").iter().map(|u| number(&u["from_multiple"])).collect();
        let request = CurveRequest { multiples: Some(up.clone()), unload_from: from.clone(), up_to: 0.0 };
        let ours = statics.curve(&CaseName::Own(id.to_owned()), &case.loads, &request);
        let sways = SWAYS.contains(&(name, id));
        compare(&mut curve, id, &ours, list("points"), sways);
        if !sways {
            assert_eq!(ours.unloadings.len(), from.len(), "{name}, {id}: every unloading is reached");
        }
        for (unloading, paper) in ours.unloadings.iter().zip(list("unloadings")) {
            let sets: Vec<[f64; 3]> =
                paper["wheels"].as_array().expect("wheels").iter().map(|w| three(&w["set_m"])).collect();
            let top = points_at(list("points"), unloading.from_multiple);
            let scale = largest(&sets.concat());
            // An elastic gear comes back: its set is rounding on both sides, measured by how far it went.
            let scale = if scale < 1e-6 { top } else { scale };
            wheels(
                &mut set,
                &format!("{id} from {}", unloading.from_multiple),
                &unloading.wheels,
                &sets,
                scale,
            );
            way_back(&mut curve, id, &statics, &case.loads, paper);
        }
    }
    vec![curve, set]
}

/// The largest movement at a multiple.
fn points_at(points: &[Value], multiple: f64) -> f64 {
    let near = points.iter().filter(|p| p["multiple"].as_f64().expect("a number") <= multiple + 1e-9);
    let all: Vec<f64> = near.flat_map(movements).flatten().collect();
    largest(&all)
}

fn movements(point: &Value) -> Vec<[f64; 3]> {
    point["wheels"].as_array().expect("wheels").iter().map(|w| three(&w["displacement_m"])).collect()
}

fn wheels(out: &mut Record, what: &str, ours: &[WheelTravel], paper: &[[f64; 3]], scale: f64) {
    assert_eq!(ours.len(), paper.len());
    for (w, p) in ours.iter().zip(paper) {
        for (i, axis) in ["aft", "starboard", "up"].iter().enumerate() {
            out.scaled(format!("{what}, {} {axis}", w.side), w.displacement[i].value, p[i], scale);
        }
    }
}

fn compare(out: &mut Record, id: &str, ours: &GearCurve, paper: &[Value], sways: bool) {
    let up: Vec<_> = ours.points.iter().filter(|p| p.branch == Branch::Loading).collect();
    // The other program stays symmetric beyond the load at which a symmetric gear sways to one side.
    let held = |p: &&Value| !sways || p["multiple"].as_f64().expect("a number") < ours.limit.multiple;
    let paper: Vec<&Value> = paper.iter().filter(held).collect();
    if sways {
        assert_eq!(ours.limit.cause, Some(CollapseCause::Buckling), "{id}");
        assert!(paper.len() >= 4, "{id}: {:?}", ours.limit);
    }
    assert_eq!(up.len(), paper.len(), "{id}: every point is reached");
    let pulls = |p: &Value| -> Vec<f64> {
        p["wires"]
            .as_array()
            .expect("wires")
            .iter()
            .map(|w| w["tension_N"].as_f64().expect("a number"))
            .collect()
    };
    for (point, p) in up.iter().zip(&paper) {
        let expected = movements(p);
        let what = format!("{id} at {}", point.multiple);
        wheels(out, &what, &point.wheels, &expected, largest(&expected.concat()));
        let tensions = pulls(p);
        for (wire, t) in point.wires.iter().zip(&tensions) {
            out.scaled(
                format!("{what}, {} wire", wire.name),
                wire.tension.value,
                *t,
                largest(&tensions).max(1.0),
            );
        }
        let strain = p["strain_over_yield"].as_f64().unwrap_or(0.0);
        if (strain - 1.0).abs() > NEAR_YIELD {
            let flag = p["yielded"].as_bool().expect("a flag");
            assert_eq!(point.yielded, flag, "{what}: yielded, at {strain} of the yield strain");
        }
    }
}

/// Points on the way down from one multiple.
fn way_back(
    out: &mut Record,
    id: &str,
    statics: &GearStatics<'_>,
    loads: &[gearleg::model::CaseWheelLoad],
    paper: &Value,
) {
    let from = paper["from_multiple"].as_f64().expect("a number");
    let points = paper["points"].as_array().expect("points");
    let mut multiples: Vec<f64> = points.iter().map(|p| p["multiple"].as_f64().expect("a number")).collect();
    multiples.push(from);
    multiples.sort_by(f64::total_cmp);
    let request = CurveRequest { multiples: Some(multiples), unload_from: Vec::new(), up_to: 0.0 };
    let ours = statics.curve(&CaseName::Own(id.to_owned()), loads, &request);
    for p in points {
        let multiple = p["multiple"].as_f64().expect("a number");
        let point = ours
            .points
            .iter()
            .find(|o| o.branch == Branch::Unloading && (o.multiple - multiple).abs() < 1e-9)
            .expect("the way back passes there");
        let expected = movements(p);
        wheels(
            out,
            &format!("{id} back at {multiple} from {from}"),
            &point.wheels,
            &expected,
            largest(&expected.concat()),
        );
    }
}
