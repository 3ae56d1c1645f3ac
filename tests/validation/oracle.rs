//! Whole gears against a general-purpose frame solver: the committed answers of `oracle/`.

use crate::common::{largest, si};
use crate::oracle_file::{answers, folder};
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::analysis::{GearAnalysis, PlateElasticity};
use gearleg::diagnostic::SourceText;
use gearleg::input::project::read_project;
use gearleg::input::tables::builtin;
use gearleg::material::Library;
use gearleg::model::{Project, UserCase};
use gearleg::results::GearState;
use serde_json::Value;
use std::sync::Arc;

const SOLVER: (&str, Provenance) = ("PyNiteFEA 3.2.0, oracle/", Provenance::OtherProgram);

pub(crate) fn records() -> Vec<Record> {
    let library = builtin().expect("the tables are sound");
    let mut names: Vec<String> = std::fs::read_dir(folder().join("gears"))
        .expect("the gears are there")
        .filter_map(|entry| Some(entry.ok()?.path().file_stem()?.to_str()?.to_owned()))
        // Those are solved with large displacements, by another program.
        .filter(|name| !name.starts_with("nl-"))
        .collect();
    names.sort();
    // A lost folder must not pass for agreement.
    assert!(names.len() >= 19, "gears are missing: {names:?}");

    let mut flags = record(
        "Whole gears",
        format!("which wires hang slack, all {} gears, all cases", names.len()),
        SOLVER,
        (Tolerance::Exactly, "a wire pulls or it does not"),
    );
    let mut all: Vec<Record> = names.iter().map(|name| one_gear(name, &library, &mut flags)).collect();
    all.push(flags);
    all
}

pub(crate) fn read(name: &str, library: &Library) -> Project {
    let path = folder().join("gears").join(format!("{name}.toml"));
    let text = std::fs::read_to_string(path).expect("the gear is text");
    let source = Arc::new(SourceText { name: format!("{name}.toml"), text });
    match read_project(source, library) {
        Ok((project, _)) => project,
        Err(refused) => panic!("{name}.toml is refused: {refused:?}"),
    }
}

fn one_gear(name: &str, library: &Library, flags: &mut Record) -> Record {
    let project = read(name, library);
    let file = answers(name);
    let cases = file["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), project.cases.len(), "{name}: every case of the file has its answer");
    let mut out = record(
        "Whole gears",
        format!(
            "{name}, {} cases: wheel movement, root forces and moments, wire tensions; of the largest",
            cases.len()
        ),
        SOLVER,
        (
            Tolerance::Within(1e-3),
            "what the project asks for; the other program cuts legs into prismatic pieces",
        ),
    );
    for paper in cases {
        let id = text(&paper["case"]);
        let case = project.cases.iter().find(|c| c.name == id).expect("the case is in the file");
        compare(&mut out, flags, name, paper, &solved(&project, case));
    }
    out
}

fn solved(project: &Project, case: &UserCase) -> GearState {
    let gear = &project.gears[case.gear];
    GearAnalysis::new(gear, PlateElasticity::of(&gear.plate.metal))
        .and_then(|mut a| a.solve(&case.loads, 1.0))
        .expect("a sound gear")
}

pub(crate) fn text(value: &Value) -> &str {
    value.as_str().expect("a string")
}

pub(crate) fn three(value: &Value) -> [f64; 3] {
    [0, 1, 2].map(|i| value[i].as_f64().expect("a number"))
}

fn compare(out: &mut Record, flags: &mut Record, name: &str, paper: &Value, state: &GearState) {
    let list = |key: &str| paper[key].as_array().expect("a list");
    let id = text(&paper["case"]);

    let wheels = list("wheels").iter().map(|w| (text(&w["side"]), three(&w["displacement_m"])));
    let ours = state.wheels.iter().map(|w| (w.side.id(), si(w.displacement)));
    block(out, &format!("{id}: movement of wheel"), ours.collect(), wheels.collect());

    for (what, key) in [("force at root", "force_N"), ("moment at root", "moment_Nm")] {
        let roots = list("roots").iter().map(|r| (text(&r["side"]), three(&r[key])));
        let ours = state
            .legs
            .iter()
            .map(|l| (l.side.id(), if key == "force_N" { si(l.root_force) } else { si(l.root_moment) }));
        block(out, &format!("{id}: {what}"), ours.collect(), roots.collect());
    }

    let tension = |w: &Value| w["tension_N"].as_f64().expect("a number");
    let wires = list("wires").iter().map(|w| (text(&w["name"]), [tension(w), 0.0, 0.0]));
    let ours = state.wires.iter().map(|w| (w.name.as_str(), [w.tension.value, 0.0, 0.0]));
    block(out, &format!("{id}: tension of wire"), ours.collect(), wires.collect());
    for (wire, w) in state.wires.iter().zip(list("wires")) {
        let slack = w["slack"].as_bool().expect("a flag");
        let what = format!("{name}, {id}, wire {}", wire.name);
        flags.scaled(what, f64::from(u8::from(wire.slack)), f64::from(u8::from(slack)), 1.0);
    }
}

/// Members of one kind, in the same order on both sides, measured by the largest number among them.
fn block(out: &mut Record, what: &str, ours: Vec<(&str, [f64; 3])>, paper: Vec<(&str, [f64; 3])>) {
    let names = |side: &[(&str, [f64; 3])]| side.iter().map(|(n, _)| (*n).to_owned()).collect::<Vec<_>>();
    assert_eq!(names(&ours), names(&paper), "{what}: the members are the same");
    let scale = largest(&paper.iter().flat_map(|(_, v)| *v).collect::<Vec<_>>());
    for ((name, a), (_, e)) in ours.into_iter().zip(paper) {
        for i in 0..3 {
            out.scaled(format!("{what} {name}, component {i}"), a[i], e[i], scale);
        }
    }
}
