//! Worked examples of checks: from a project file's text to its margins, or from forces put in by hand.
#![allow(dead_code, reason = "each test binary uses a part of it")]

use gearleg::analysis;
use gearleg::checks::{self, Subject};
use gearleg::diagnostic::SourceText;
use gearleg::input::project::read_project;
use gearleg::input::tables::builtin;
use gearleg::material::Library;
use gearleg::model::Project;
use gearleg::results::{CaseResult, CheckResult, GearState, Margin, WireState};
use gearleg::units::{Force, Stress};
use std::sync::{Arc, LazyLock};
use uom::si::force::newton;
use uom::si::pressure::gigapascal;

static LIBRARY: LazyLock<Library> = LazyLock::new(|| builtin().expect("the built-in tables are sound"));

/// The built-in tables.
pub(crate) fn library() -> &'static Library {
    &LIBRARY
}

pub(crate) fn read(text: &str) -> Project {
    let source = Arc::new(SourceText { name: "worked example".into(), text: text.into() });
    read_project(source, library()).unwrap_or_else(|d| panic!("{d}")).0
}

pub(crate) fn solved(project: &Project) -> CheckResult {
    analysis::check(project, library()).expect("it has a solution")
}

/// The case of one's own named `own`.
pub(crate) fn own(result: &CheckResult) -> CaseResult {
    result.cases.iter().find(|c| c.case.id() == "own").expect("the user's case").clone()
}

/// The margin of a check for a part in a case, when there is one.
pub(crate) fn margin(project: &Project, case: &CaseResult, check: &str, part: &str) -> Option<Margin> {
    let gear = &project.gears[case.gear];
    let modulus = Stress::new::<gigapascal>(70.0);
    let subject = Subject { project, gear, modulus, poisson: 0.33 };
    checks::run_for_case(&subject, case).into_iter().find(|m| m.check == check && m.part == part)
}

/// The same for a margin that there must be, and its value.
pub(crate) fn value(project: &Project, case: &CaseResult, check: &str, part: &str) -> f64 {
    let found = margin(project, case, check, part).unwrap_or_else(|| panic!("no {check} of {part}"));
    found.value().unwrap_or_else(|| panic!("{check} of {part}: {:?}", found.verdict))
}

/// A case whose limit and ultimate loads make the same state.
pub(crate) fn in_one_state(case: &CaseResult, state: &GearState) -> CaseResult {
    CaseResult { limit: state.clone(), ultimate: state.clone(), ..case.clone() }
}

/// A state with one wire only, pulled by this many newtons along a unit vector from its leg.
pub(crate) fn pulled(state: &GearState, wire: &WireState, tension: f64, direction: [f64; 3]) -> GearState {
    let wire = WireState { tension: Force::new::<newton>(tension), slack: false, direction, ..wire.clone() };
    GearState { wires: vec![wire], ..state.clone() }
}

/// A term of a margin's working, in SI units.
pub(crate) fn term(margin: &Margin, symbol: &str) -> f64 {
    let found = margin.working.terms.iter().find(|t| t.symbol == symbol);
    found.unwrap_or_else(|| panic!("no {symbol} in {}", margin.check)).value.si()
}

/// A post on one wheel, 30 × 5 mm and 200 mm long, its wheel 20 mm out; 100 N up at the axle.
pub(crate) const POST: &str = r#"
format = 1
[aircraft]
name = "post"
mass = "10 kg"
layout = "tricycle"
[landing]
load_factor = 3
cases = ["nose-aft"]
[gear.nose]
position = "nose"
arms = "single"
[gear.nose.plate]
metal = "test"
thickness = "5 mm"
width_root = "30 mm"
leg_length = "200 mm"
[gear.nose.wheel]
diameter = "100 mm"
overhang = "20 mm"
axle = "5 mm"
axle_metal = "steel-8.8"
[gear.nose.limits]
spread = "2 mm"
drop = "1 mm"
toe = "1 deg"
[metal.test]
yield = "180 MPa"
ultimate = "230 MPa"
modulus = "70 GPa"
density = "2700 kg/m^3"
basis = "told"
[[case]]
name = "own"
gear = "nose"
wheel = { vertical = "100 N", at = "axle" }
"#;

/// A fork of two such posts 40 mm apart, the wheel between them on an axle of 5 mm.
pub(crate) fn fork(joint: &str) -> String {
    POST.replace("arms = \"single\"", "arms = \"twin\"")
        .replace("leg_length", "base_width = \"40 mm\"\nleg_length")
        .replace("overhang = \"20 mm\"", &format!("axle_joint = \"{joint}\""))
}

/// A splayed pair with crossed wires of 1.5 mm, 4 mm thick and 60 mm wide; 172 N up on each wheel.
pub(crate) const BRACED: &str = r#"
format = 1
[aircraft]
name = "braced"
mass = "12.4 kg"
layout = "tricycle"
[landing]
load_factor = 3.5
cases = ["level"]
[gear.main]
position = "main"
arms = "pair"
[gear.main.plate]
metal = "6082-T6"
thickness = "4 mm"
width_root = "60 mm"
base_width = "120 mm"
leg_length = "230 mm"
leg_angle = "40 deg"
[gear.main.wheel]
diameter = "110 mm"
overhang = "22 mm"
axle = "6 mm"
axle_metal = "steel-8.8"
[[gear.main.brace]]
pattern = "cross"
wire = "302-spring"
diameter = "1.5 mm"
leg_at = 0.9
base_at = "55 mm"
end = "bent-over"
[[case]]
name = "own"
gear = "main"
left = { vertical = "172 N" }
right = { vertical = "172 N" }
"#;

/// Its mount: four M5 bolts in 6 mm of birch plywood.
pub(crate) const MOUNT: &str = r#"
[gear.main.mount]
bolt = "M5"
bolt_class = "8.8"
bolts = [["-20 mm", "-35 mm"], ["20 mm", "-35 mm"], ["-20 mm", "35 mm"], ["20 mm", "35 mm"]]
nut_flange = "12 mm"
wood = "birch-plywood"
wood_thickness = "6 mm"
"#;
