//! Designs side by side: variants are the files they stand for, figures obey their laws and agree with formulas worked by hand.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that can't go on says so"
)]

mod common;
#[path = "common/worked.rs"]
mod worked;

use common::assert_close;
use gearleg::diagnostic::SourceText;
use gearleg::input::project::Draft;
use gearleg::model::Project;
use gearleg::results::{ArrivalFrom, ComparedDesign, Comparison, GearFigures};
use gearleg::search;
use std::f64::consts::PI;
use std::fs;
use std::sync::Arc;
use worked::{library, read};

fn example(name: &str) -> String {
    fs::read_to_string(format!("{}/docs/examples/{name}.toml", env!("CARGO_MANIFEST_DIR")))
        .expect("the example can be read")
}

fn draft(text: &str) -> Draft {
    Draft::new(Arc::new(SourceText { name: "variants".into(), text: text.into() }))
        .unwrap_or_else(|d| panic!("{d}"))
}

/// What a project says, without where it says it.
fn said(project: &Project) -> Project {
    let mut out = project.clone();
    out.readings.sort_by(|a, b| a.key.cmp(&b.key));
    out.tolerances.sort_by(|a, b| a.key.cmp(&b.key));
    out.written_units.clear();
    out.landing.severity_at = None;
    out
}

fn variant(text: &str, name: &str) -> Project {
    let read = draft(text).read_variant(library(), name).expect("there is one of that name");
    read.unwrap_or_else(|d| panic!("{d}")).0
}

fn compared(designs: &[(&str, &Project)]) -> Comparison {
    let designs = designs.iter().map(|(name, project)| ((*name).to_owned(), (*project).clone())).collect();
    search::compare(designs, library(), &|_, _| ()).expect("they have a solution")
}

fn only(design: &ComparedDesign) -> &GearFigures {
    let [figures] = design.gears.as_slice() else { panic!("one gear") };
    figures
}

/// One design's only gear, against itself.
fn figures(text: &str) -> GearFigures {
    let project = read(text);
    only(&compared(&[("a", &project), ("b", &project)]).designs[0]).clone()
}

const PAIR: &str = r#"format = 1
[aircraft]
name = "pair"
mass = "12.4 kg"
layout = "tricycle"
[landing]
drop_height = "60 mm"
[gear.main]
position = "main"
arms = "pair"
[gear.main.plate]
metal = "6082-T6"
thickness = "5 mm"
width_root = "50 mm"
base_width = "120 mm"
leg_length = "230 mm"
leg_angle = "40 deg"
[gear.main.wheel]
diameter = "110 mm"
overhang = "22 mm"
axle = "6 mm"
axle_metal = "steel-8.8"
[[gear.main.brace]]
pattern = "tie"
wire = "302-spring"
diameter = "1.5 mm"
leg_at = 0.9
end = "wrapped"
[[gear.main.brace]]
pattern = "cross"
wire = "302-spring"
diameter = "1.2 mm"
leg_at = 0.8
base_at = "50 mm"
end = "wrapped"
"#;

/// The plain pair: the text before its wires.
fn plain() -> String {
    PAIR[..PAIR.find("[[gear.main.brace]]").expect("it has wires")].to_owned()
}

fn tie() -> String {
    PAIR[..PAIR.rfind("[[gear.main.brace]]").expect("it has wires")].to_owned()
}

fn cross_only() -> String {
    plain() + &PAIR[PAIR.rfind("[[gear.main.brace]]").expect("it has wires")..]
}

#[test]
fn a_variant_is_the_file_it_stands_for() {
    let thick = PAIR.replace("thickness = \"5 mm\"", "thickness = \"6 mm\"");
    let other_drop = PAIR.replace("drop_height = \"60 mm\"", "load_factor = 4.0");
    for (lines, alone) in [
        ("[variant.v]\ngear.main.plate.thickness = \"6 mm\"\n", thick.clone()),
        ("[variant.v.gear.main.plate]\nthickness = \"6 mm\"\n", thick.clone()),
        ("[variant.v.gear]\nmain = { plate = { thickness = \"6 mm\" } }\n", thick),
        ("[variant.v]\nwithout = [\"gear.main.brace\"]\n", plain()),
        ("[variant.v]\nwithout = [\"gear.main.brace.2\"]\n", tie()),
        ("[variant.v]\nwithout = [\"gear.main.brace.1\"]\n", cross_only()),
        // In any order, and one below another.
        ("[variant.v]\nwithout = [\"gear.main.brace.1\", \"gear.main.brace.2\"]\n", plain()),
        (
            "[variant.v]\nwithout = [\"gear.main.brace.2\", \"gear.main.brace\", \"gear.main.brace.1.end\"]\n",
            plain(),
        ),
        ("[variant.v]\nwithout = [\"landing.drop_height\"]\nlanding.load_factor = 4.0\n", other_drop),
        // A list takes the place of the whole list.
        (
            "[[variant.v.gear.main.brace]]\npattern = \"tie\"\nwire = \"302-spring\"\ndiameter = \"1.5 mm\"\nleg_at = 0.9\nend = \
             \"wrapped\"\n",
            tie(),
        ),
        ("[variant.v]\naircraft.name = \"pair\"\n", PAIR.to_owned()),
    ] {
        let text = format!("{PAIR}{lines}");
        let mut whole = said(&variant(&text, "v"));
        let mut alone = said(&read(&alone));
        assert_eq!(said(&read(&text)), said(&read(PAIR)), "the file itself stays what it is: {lines}");
        // An empty list is no list.
        for project in [&mut whole, &mut alone] {
            assert!(!project.gears.is_empty());
        }
        assert_eq!(whole, alone, "{lines}");
    }
}

#[test]
fn names_with_a_point_can_be_taken_out() {
    let text = PAIR.replace("gear.main", "gear.\"m.1\"") + "[variant.v]\nwithout = [\"gear.m.1.brace.2\"]\n";
    assert_eq!(said(&variant(&text, "v")).gears[0].braces.len(), 1);
    assert_eq!(draft(&text).variants(), ["v"]);
    assert!(draft(&text).read_variant(library(), "w").is_none());
}

/// The same gears give the same figures, whether a variant or a file of its own says so.
#[test]
fn a_variant_has_the_figures_of_its_file() {
    let text = example("survey-plane-nose-variants");
    let single = read(&text);
    let twin = variant(&text, "two-arms");
    let alone = read(&example("survey-plane-nose-twin"));
    let a = compared(&[("one", &single), ("two", &twin)]);
    let b = compared(&[("one", &single), ("two", &alone)]);
    let (mut x, mut y) = (only(&a.designs[1]).clone(), only(&b.designs[1]).clone());
    // The file of its own does not say where its axle is.
    let (cost, _) = (x.change.take().expect("a change"), y.change.take());
    assert_eq!(x, y);
    assert_eq!(a.designs[1].check, b.designs[1].check);
    // Grams × arm, and how far that moves the centre of gravity.
    let [one, two] = [0, 1].map(|i| only(&a.designs[i]).mass.total().value);
    assert_close(cost.mass.value, two - one, 1e-12, "change of mass");
    assert_close(cost.ahead_of_cg.expect("given").value, 0.42, 1e-12, "a nose gear is ahead");
    assert_close(cost.cg_forward.expect("given").value, (two - one) * 0.42 / 12.4, 1e-12, "c.g.");
    assert_eq!(a.changed, ["nose"]);
}

#[test]
fn the_order_of_the_files_changes_nothing_but_what_they_are_held_against() {
    let (a, b) = (read(PAIR), read(&plain()));
    let (there, back) = (compared(&[("a", &a), ("b", &b)]), compared(&[("b", &b), ("a", &a)]));
    // Both are given the same drop, so the arrival is the same one.
    assert_eq!(there.arrival, back.arrival);
    for (x, y) in [(&there.designs[0], &back.designs[1]), (&there.designs[1], &back.designs[0])] {
        assert_eq!(x.check, y.check);
        assert_eq!(x.inertia_load_factor, y.inertia_load_factor);
        let (mut p, mut q) = (only(x).clone(), only(y).clone());
        (p.change, q.change) = (None, None);
        assert_eq!(p, q);
    }
    let change = |c: &Comparison| only(&c.designs[1]).change.expect("a change").mass.value;
    assert_close(change(&there), -change(&back), 1e-12, "what one has more the other has less");
    assert!(only(&there.designs[0]).change.is_none());
}

#[test]
fn the_first_design_makes_the_landing_it_is_stated_with() {
    let text = plain().replace("drop_height = \"60 mm\"", "load_factor = 3.5");
    let first = read(&text);
    let soft = read(&text.replace("thickness = \"5 mm\"", "thickness = \"4 mm\""));
    let both = compared(&[("first", &first), ("soft", &soft)]);
    assert_eq!(both.arrival.from, ArrivalFrom::Stated(3.5));
    let factor = |i: usize| both.designs[i].inertia_load_factor.expect("it takes the drop up");
    // As near as the drop of a stated load factor is found.
    assert_close(factor(0), 3.5, 1e-3, "the drop that the landing amounts to");
    assert!(factor(1) < factor(0), "a softer gear is milder in the same drop: {}", factor(1));
    assert_close(both.arrival.height.value, only(&both.designs[1]).drop.height.value, 1e-15, "one height");
    let given = read(&plain());
    assert_eq!(compared(&[("a", &given), ("b", &first)]).arrival.from, ArrivalFrom::Given);
}

/// Every quantity of a file in inches, pounds and so on.
fn in_inches(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(end) = rest.find(" mm\"") {
        let start = rest[..end].rfind('"').expect("a text begins with a quote") + 1;
        let millimetres: f64 = rest[start..end].parse().expect("a plain number");
        out.push_str(&rest[..start]);
        out.push_str(&format!("{:.13} in\"", millimetres / 25.4));
        rest = &rest[end + 4..];
    }
    out.push_str(rest);
    out
}

fn stiffnesses(f: &GearFigures) -> [f64; 4] {
    let k = &f.stiffness;
    [k.spread.map_or(0.0, |k| k.value), k.aft.value, k.side.value, k.up.value]
}

#[test]
fn units_and_mirrors_change_no_figure() {
    let (metric, inches) = (figures(&tie()), figures(&in_inches(&tie())));
    for (a, b) in stiffnesses(&metric).into_iter().zip(stiffnesses(&inches)) {
        assert_close(a, b, 1e-9, "stiffness in inches");
    }
    assert_close(metric.mass.total().value, inches.mass.total().value, 1e-9, "mass in inches");
    let nose = example("survey-plane-nose-single")
        .replace("rake = \"10 deg\"", "leg_angle = \"12 deg\"\nrake = \"10 deg\"");
    let (starboard, port) = (
        figures(&nose),
        figures(&nose.replace("12 deg", "-12 deg").replace("overhang = \"20 mm\"", "overhang = \"0 mm\"")),
    );
    let starboard_bare = figures(&nose.replace("overhang = \"20 mm\"", "overhang = \"0 mm\""));
    for (a, b) in stiffnesses(&starboard_bare).into_iter().zip(stiffnesses(&port)) {
        assert_close(a, b, 1e-9, "stiffness of the mirrored arm");
    }
    // The overhang is felt, so the law above is of something.
    assert!(stiffnesses(&starboard)[1] < 0.99 * stiffnesses(&starboard_bare)[1]);
}

/// What a slack wire never takes up does nothing; a tight one acts as a spring whatever its tension.
#[test]
fn wires_count_as_tight_or_slack_as_they_are() {
    let with = |fit: &str| stiffnesses(&figures(&format!("{}{fit}\n", tie())));
    let bare = stiffnesses(&figures(&plain()));
    let (loose, tight, tighter) =
        (with("slack = \"40 mm\""), with("pretension = \"500 N\""), with("pretension = \"600 N\""));
    for i in 0..4 {
        assert_close(loose[i], bare[i], 1e-9, "a wire that stays slack");
        assert_close(tight[i], tighter[i], 1e-9, "a wire that stays tight");
    }
    assert!(tight[0] > 3.0 * bare[0], "a tie holds the wheels together: {tight:?} {bare:?}");
    // A little slack is taken up on the way: the secant lies between.
    let some = with("slack = \"2 mm\"");
    assert!(bare[0] < 0.98 * some[0] && some[0] < 0.98 * tight[0], "{bare:?} {some:?} {tight:?}");
    // The other way about, a tie does nothing to both wheels going aft.
    assert_close(tight[1], bare[1], 1e-6, "fore and aft");
}

/// Bars of one section by the unit load: k = 1 / ∫ m² / (E I) ds, m the lever of the force.
#[test]
fn stiffness_of_plain_legs_is_that_of_the_unit_load() {
    const YOUNG: f64 = 70e9;
    // ∫ (r + s c)² ds from 0 to l.
    let levers = |r: f64, c: f64, l: f64| ((r + c * l).powi(3) - r.powi(3)) / (3.0 * c);
    let (length, width, thickness) = (0.23_f64, 0.05_f64, 0.005_f64);
    let flat = YOUNG * width * thickness.powi(3) / 12.0;
    let k = stiffnesses(&figures(&plain()));
    // Outward at the ground: lever straight down from the point of the leg.
    let spread = 1.0 / (2.0 * levers(0.055, 40.0_f64.to_radians().cos(), length) / flat);
    assert_close(k[0], spread, 2e-3, "spread; compression of the leg and shear are left out by hand");
    // Up at the ground: lever straight across.
    let up = 1.0 / (levers(0.022, 40.0_f64.to_radians().sin(), length) / flat);
    assert_close(k[3], up, 2e-3, "up");
    // Sideways both legs swing the same way; clamped each on its own, they bend as in the spread.
    assert_close(k[2], 2.0 * spread, 2e-3, "side");
}

/// Where the figures of the page "One arm or two" stand.
fn page() -> String {
    let page = fs::read_to_string("docs/examples/README.md").expect("the page can be read");
    let (_, rest) = page.split_once("## One arm or two").expect("it has the section");
    rest.split_once("\n## ").map_or(rest, |(section, _)| section).to_owned()
}

/// Three points of a leg, as on the page: l/6 (f(axle) + 4 f(middle) + f(bend)).
fn three_points(l: f64, f: impl Fn(f64) -> f64) -> f64 {
    l / 6.0 * (f(0.0) + 4.0 * f(l / 2.0) + f(l))
}

/// The page works the nose gear out by hand; the sums are done again here, they are what the page shows, and the tool agrees.
#[test]
fn one_arm_or_two_by_hand() {
    let page = page();
    let shown = |words: String| assert!(page.contains(&words), "the page should say: {words}");
    let text = example("survey-plane-nose-variants");
    let both = compared(&[("one", &read(&text)), ("two", &variant(&text, "two-arms"))]);
    let [one, two] = [0, 1].map(|i| only(&both.designs[i]).clone());
    let (l, rake) = (180.0_f64, 10.0_f64.to_radians());
    let (young, steel, shear) = (70_000.0, 210_000.0, 70_000.0 / (2.0 * 1.33));
    let width = |s: f64| 22.0 + 8.0 * s / l;

    // Masses, g.
    let (plate_one, plate_two) =
        (2.7e-3 * l * 26.0 * 5.0, 2.7e-3 * (2.0 * l * 26.0 * 4.0 + 46.0 * 30.0 * 4.0));
    let axle = 7.825e-3 * PI * 25.0 / 4.0;
    shown(format!("= {plate_one:.1} g"));
    shown(format!("= {plate_two:.1} g"));
    for (f, plate, span) in [(&one, plate_one, 20.0), (&two, plate_two, 46.0)] {
        assert_close(f.mass.plate.value * 1e3, plate, 1e-9, "plate");
        assert_close(f.mass.axles.value * 1e3, axle * span, 1e-9, "axle");
        shown(format!("{:.1} g in all", plate + axle * span));
    }

    // Fore and aft, N/mm: the force at the ground bends the arms edgewise and twists a single one about itself.
    let edge =
        |t: f64| three_points(l, |s| (50.0 + s * rake.cos()).powi(2) / (young * t * width(s).powi(3) / 12.0));
    let twist_stiffness = |s: f64, t: f64| shear * width(s) * t.powi(3) / 3.0 * (1.0 - 0.63 * t / width(s));
    let twist = three_points(l, |s| (20.0 * rake.cos()).powi(2) / twist_stiffness(s, 5.0));
    let (axle_second, axle_polar) = (PI * 625.0 / 64.0, PI * 625.0 / 32.0);
    let axle_twist = 50.0 * 50.0 * 23.0 / (2.0 * steel / 2.6 * axle_polar);
    let axle_bends = 46.0_f64.powi(3) / (192.0 * steel * axle_second);
    let aft = [1.0 / (edge(5.0) + twist), 1.0 / (edge(4.0) / 2.0 + axle_twist + axle_bends)];
    shown(format!("1 / ({:.5} + {:.5}) = {:.0} N/mm", edge(5.0), twist, aft[0]));
    shown(format!("1 / ({:.5} + {axle_twist:.5} + {axle_bends:.5}) = {:.0} N/mm", edge(4.0) / 2.0, aft[1]));

    // Sideways, N/mm: one arm is a cantilever; two with their axle are a frame, the shear V at the middle of the axle as the unknown.
    let r = 50.0 * rake.cos();
    let flat = three_points(l, |s| (r + s).powi(2) / (young * width(s) * 125.0 / 12.0));
    let (arm, beam, half) = (young * 26.0 * 64.0 / 12.0, steel * axle_second, 23.0);
    let v = ((r * half / 4.0) / beam + (r * l / 2.0 + l * l / 4.0) / arm)
        / (half * half / 3.0 / beam + l * half / arm);
    let m = |s: f64| (r + s) / 2.0 - v * half;
    let sway = r * (r * half / 2.0 - v * half * half / 2.0) / beam
        + (((r + l).powi(3) - r.powi(3)) / 6.0 - v * half * ((r + l).powi(2) - r.powi(2)) / 2.0) / arm;
    let side = [1.0 / flat, 1.0 / sway];
    shown(format!("1 / {flat:.4} = {:.1} N/mm", side[0]));
    shown(format!("V = {v:.2}"));
    shown(format!("{:.1} at the bend and {:.1} at the axle", m(l), m(0.0)));
    shown(format!("1 / {sway:.5} = {:.0} N/mm", side[1]));
    for (i, f) in [&one, &two].into_iter().enumerate() {
        let [_, tool_aft, tool_side, _] = stiffnesses(f).map(|k| k / 1e3);
        shown(format!("{tool_aft:.0} and {tool_side:.1} N/mm"));
        assert_close(tool_aft, aft[i], 0.03, "fore and aft by hand");
        assert_close(tool_side, side[i], 0.05, "sideways by hand");
    }

    // The largest stress by a sideways load, MPa.
    let (up, to_side) = (2.25 * 0.12 * 12.4 * 9.80665, 0.7 * 2.25 * 0.12 * 12.4 * 9.80665);
    shown(format!("{up:.1} N up and {to_side:.1} N sideways"));
    let case = |i: usize| {
        let cases = &both.designs[i].check.cases;
        let worst = |c: &&gearleg::results::CaseResult| c.case.id() == "nose-side";
        let peaks = cases.iter().filter(worst).map(|c| c.limit.plate_stress().value / 1e6);
        peaks.fold(0.0, f64::max)
    };
    let single = (to_side * (r + l) + up * 20.0) / (30.0 * 25.0 / 6.0) + up * rake.cos() / (30.0 * 5.0);
    let twin = to_side * m(0.0).abs() / (22.0 * 16.0 / 6.0) + (to_side * v + up / 2.0) / (22.0 * 4.0);
    shown(format!("= {single:.0} MPa"));
    shown(format!("= {twin:.0} MPa"));
    shown(format!("The tool has {:.0} and {:.0} MPa", case(0), case(1)));

    // What the page makes of it.
    let sideways = two.stiffness.side / one.stiffness.side;
    assert!(sideways.value.round() == 7.0, "seven times as stiff sideways: {}", sideways.value);
    let less = 1.0 - case(1) / case(0);
    assert!((0.6..0.667).contains(&less), "nearly two thirds off the stress: {less}");
    let change = two.change.expect("a change");
    shown(format!("It costs {:.0} g", change.mass.value * 1e3));
    shown(format!("by {:.1} mm", change.cg_forward.expect("given").value * 1e3));
    let g = |i: usize| both.designs[i].inertia_load_factor.expect("it takes the drop up");
    assert!((g(1) / g(0)).round() == 3.0, "three times the g: {} {}", g(1), g(0));
    assert_close(case(0), single, 0.06, "one arm, stress sideways");
    assert_close(case(1), twin, 0.06, "two arms, stress sideways");
}
