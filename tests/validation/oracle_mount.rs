//! Gears on their mounts against a general-purpose solver with gap elements: the committed answers of `oracle/mounted.json`.

use crate::common::{brace, deg, largest, load, megapascals, mm, newtons, pair, si, taper};
use crate::mounts::{bolt_class, metric, mount, plywood, preload};
use crate::oracle::{text, three};
use crate::oracle_file::{answers, folder};
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::analysis::{GearAnalysis, GearStatics, PlateElasticity};
use gearleg::model::{
    AnchorIn, Arms, AxleJoint, CaseWheelLoad, Gear, Grain, Mount, Pattern, PlateMetal, Side, SpanDirection,
    SpanEdges, WireFit, WoodSpan,
};
use gearleg::results::GearState;
use serde_json::Value;

const SOLVER: (&str, Provenance) = ("OpenSees 3.7.1, oracle/", Provenance::OtherProgram);
const TOPIC: &str = "Whole gears on their mounts";

/// Most of the difference to the same cut and to one five times finer.
const SAME_MESH: f64 = 3e-4;
const FINE_MESH: f64 = 0.05;
const FINE_SHEAR: f64 = 0.15;

pub(crate) fn records() -> Vec<Record> {
    let path = folder().join("mounted.json");
    let described = std::fs::read_to_string(path).expect("the gears are there");
    let described: Value = serde_json::from_str(&described).expect("the gears are JSON");
    let gears = described["gears"].as_array().expect("gears");
    let answered = answers("mounted");
    let answered = answered["gears"].as_array().expect("gears");
    // A lost file must not pass for agreement.
    assert!(gears.len() >= 10 && answered.len() == gears.len(), "gears or answers are missing");
    let mut far = record(
        TOPIC,
        "three gears at large displacements, elastic, cut alike: the same numbers",
        SOLVER,
        (Tolerance::Within(3e-3), "the other program's rigid arms are stiff beams"),
    );
    let all: Vec<Record> =
        gears.iter().zip(answered).flat_map(|(gear, paper)| one_gear(gear, paper, &mut far)).collect();
    all.into_iter().chain([far]).collect()
}

fn one_gear(described: &Value, paper: &Value, far: &mut Record) -> [Record; 3] {
    let name = text(&described["name"]);
    assert_eq!(text(&paper["gear"]), name);
    let gear = gear_of(described);
    let cases = described["cases"].as_array().expect("cases");
    let what = "pull and shear of the bolts, push of the bed, root moments, wires, wheels, of the largest";
    let mut same = record(
        TOPIC,
        format!("{name}, {} cases, cut alike: {what}", cases.len()),
        SOLVER,
        (
            Tolerance::Within(SAME_MESH),
            "the same springs and beams (the project asks for 1e-2); the other program cuts legs that taper into prismatic pieces",
        ),
    );
    let because =
        "what cutting flat, bed and wood into so few pieces costs; most where wood bends between bolts";
    let mut fine = record(
        TOPIC,
        format!("{name}, the other program's cut five times finer: pull of the bolts, bed, roots, wheels"),
        SOLVER,
        (Tolerance::Within(FINE_MESH), because),
    );
    let mut finer = record(
        TOPIC,
        format!("{name}, the same: shear of the bolts, wires"),
        SOLVER,
        (
            Tolerance::Within(FINE_SHEAR),
            "the same; shears and wires that carry little beside the pulls move most",
        ),
    );
    for (case, paper) in cases.iter().zip(paper["cases"].as_array().expect("cases")) {
        let id = text(&case["name"]);
        assert_eq!(text(&paper["case"]), id);
        let state = GearAnalysis::with_elements(&gear, PlateElasticity::of(&gear.plate.metal), 96)
            .and_then(|mut a| a.solve(&loads_of(&case["loads"]), 1.0))
            .expect("a sound gear");
        let mut whole = same.clone();
        whole.points.clear();
        compare(&mut whole, id, &state, &paper["fine_mesh"]);
        let (light, heavy) = whole
            .points
            .into_iter()
            .partition(|p| p.quantity.contains("shear") || p.quantity.contains("wire "));
        fine.points.extend::<Vec<_>>(heavy);
        finer.points.extend::<Vec<_>>(light);
        compare(&mut same, id, &state, &paper["same_mesh"]);
        if !paper["large"].is_null() {
            let statics = GearStatics::with_elements(&gear, PlateElasticity::of(&gear.plate.metal), None, 96)
                .expect("a sound gear");
            let state = statics.state(&loads_of(&case["loads"]), 1.0).expect("the gear holds");
            compare(far, &format!("{name}, {id}"), &state, &paper["large"]);
        }
    }
    [same, fine, finer]
}

fn compare(out: &mut Record, id: &str, state: &GearState, paper: &Value) {
    let mounted = state.mount.as_ref().expect("a mounted gear");
    let list = |key: &str| paper[key].as_array().expect("a list");
    let numbers = |key: &str, inner: &str| -> Vec<f64> {
        list(key)
            .iter()
            .flat_map(|v| match &v[inner] {
                Value::Array(_) => three_or_two(&v[inner]),
                one => vec![one.as_f64().expect("a number")],
            })
            .collect()
    };
    let mut block = |what: &str, ours: Vec<f64>, paper: Vec<f64>| {
        assert_eq!(ours.len(), paper.len(), "{id}, {what}: as many");
        let scale = largest(&paper);
        for (i, (a, e)) in ours.into_iter().zip(paper).enumerate() {
            out.scaled(format!("{id}: {what} {}", i + 1), a, e, if scale > 0.0 { scale } else { 1.0 });
        }
    };
    let bolts = &mounted.bolts;
    block("bolt tension", bolts.iter().map(|b| b.tension.value).collect(), numbers("bolts", "tension_N"));
    block(
        "bolt shear",
        bolts.iter().flat_map(|b| b.shear.map(|s| s.value)).collect(),
        numbers("bolts", "shear_N"),
    );
    let push = paper["bed"]["push_N"].as_f64().expect("a number");
    block("push of the bed", vec![mounted.bed.push.value], vec![push]);
    block(
        "root moment",
        state.legs.iter().flat_map(|l| si(l.root_moment)).collect(),
        numbers("roots", "moment_Nm"),
    );
    block(
        "wheel movement",
        state.wheels.iter().flat_map(|w| si(w.displacement)).collect(),
        numbers("wheels", "displacement_m"),
    );
    block(
        "wire tension",
        state.wires.iter().map(|w| w.tension.value).collect(),
        numbers("wires", "tension_N"),
    );
}

fn three_or_two(value: &Value) -> Vec<f64> {
    value.as_array().expect("a list").iter().map(|v| v.as_f64().expect("a number")).collect()
}

/// The gear of a description in mm, N, MPa and degrees.
fn gear_of(described: &Value) -> Gear {
    let (p, w) = (&described["plate"], &described["wheel"]);
    let number = |v: &Value| v.as_f64().expect("a number");
    let mut gear = pair();
    text(&described["name"]).clone_into(&mut gear.name);
    let base_width = mm(number(&described["base_width"]));
    gear.arms = match text(&described["arms"]) {
        "pair" => Arms::Pair { base_width },
        "twin" => Arms::Twin { base_width, axle_joint: AxleJoint::Clamped },
        _ => Arms::Single,
    };
    let PlateMetal::Known(metal) = &mut gear.plate.metal else { panic!("the test metal is known") };
    metal.modulus.value = megapascals(number(&p["modulus"]));
    metal.poisson.value = number(&p["poisson"]);
    gear.plate.thickness = taper(number(&p["thickness"]), number(&p["thickness"]));
    gear.plate.width = taper(number(&p["width_root"]), number(&p["width_tip"]));
    gear.plate.leg_length = mm(number(&p["leg_length"]));
    gear.plate.leg_angle = deg(number(&p["leg_angle"]));
    gear.plate.rake = deg(number(&p["rake"]));
    gear.plate.bend_radius = p["bend_radius"].as_f64().map(mm);
    gear.wheel.diameter = mm(number(&w["diameter"]));
    gear.wheel.overhang = mm(number(&w["overhang"]));
    gear.wheel.axle = mm(number(&w["axle"]));
    for b in described["braces"].as_array().expect("braces") {
        let fit = match (b["pretension"].as_f64(), b["slack"].as_f64()) {
            (Some(force), _) => WireFit::Pretension(newtons(force)),
            (None, Some(length)) => WireFit::Slack(mm(length)),
            (None, None) => WireFit::Snug,
        };
        let pattern = if text(&b["pattern"]) == "cross" { Pattern::Cross } else { Pattern::Near };
        let mut one = brace(pattern, number(&b["leg_at"]), number(&b["base_at"]), fit);
        one.diameter = mm(number(&b["diameter"]));
        one.wire.modulus.value = megapascals(number(&b["modulus"]));
        one.base_in = Some(if text(&b["base_in"]) == "plate" { AnchorIn::Plate } else { AnchorIn::Wood });
        gear.braces.push(one);
    }
    gear.mount = Some(mount_of(&described["mount"]));
    gear
}

fn mount_of(m: &Value) -> Mount {
    let number = |v: &Value| v.as_f64().expect("a number");
    let places: Vec<[f64; 2]> =
        m["bolts"].as_array().expect("bolts").iter().map(|b| [number(&b[0]), number(&b[1])]).collect();
    let wood = &m["wood"];
    Mount {
        bolt: metric(number(&m["bolt"]), number(&m["pitch"])),
        bolt_class: bolt_class(number(&m["modulus"])),
        hole: m["hole"].as_f64().map(mm),
        preload: m["preload"].as_f64().and_then(preload),
        nut_flange: m["nut_flange"].as_f64().map(mm),
        foot: m["foot"].as_f64().map(mm),
        wood: plywood(
            number(&wood["through"]),
            [number(&wood["along"]), number(&wood["across"])],
            number(&wood["shear"]),
            number(&wood["density"]),
        ),
        wood_thickness: mm(number(&m["wood_thickness"])),
        doubler: m["doubler"].as_f64().map(mm),
        span: span_of(&m["span"]),
        ..mount(&places)
    }
}

fn span_of(span: &Value) -> Option<WoodSpan> {
    Some(WoodSpan {
        length: mm(span["length"].as_f64()?),
        direction: match text(&span["direction"]) {
            "athwart" => SpanDirection::Athwart,
            _ => SpanDirection::ForeAndAft,
        },
        edges: if text(&span["edges"]) == "clamped" { SpanEdges::Clamped } else { SpanEdges::Supported },
        grain: span["grain"].as_str().map(|g| if g == "along" { Grain::Along } else { Grain::Across }),
        breadth: span["breadth"].as_f64().map(mm),
    })
}

fn loads_of(loads: &Value) -> Vec<CaseWheelLoad> {
    let sides = [("left", Side::Left), ("centre", Side::Centre), ("right", Side::Right)];
    sides
        .iter()
        .filter(|(id, _)| !loads[*id].is_null())
        .map(|(id, side)| load(*side, three(&loads[*id])))
        .collect()
}
