//! Values left open: what they may become, and what is said of those that can't be understood.

use super::shop::{draft, library, open_values, tried};
use gearleg::input::project::{NewValue, OpenValue};
use gearleg::material::System;
use gearleg::report::render;
use gearleg::search::SizeError;

/// A braced and mounted pair; each test alters a line.
const FILE: &str = r#"format = 1
[aircraft]
name = "open"
mass = "8 kg"
layout = "tricycle"
[landing]
load_factor = 3
cases = ["level"]
[gear.main]
position = "main"
arms = "pair"
[gear.main.plate]
metal = "6082-T6"
thickness = "4 mm"
width_root = "50 mm"
width_tip = "34 mm"
base_width = "120 mm"
leg_length = "200 mm"
leg_angle = "40 deg"
[gear.main.wheel]
diameter = "100 mm"
overhang = "20 mm"
axle = "8 mm"
axle_metal = "steel-8.8"
[[gear.main.brace]]
pattern = "cross"
wire = "302-spring"
diameter = "1.5 mm"
leg_at = 0.9
base_at = "50 mm"
end = "wrapped"
"#;

fn with(line: &str) -> String {
    let key = line.split(" = ").next().expect("a key");
    let old = FILE.lines().find(|l| l.starts_with(&format!("{key} = ")) && !l.contains("100 mm"));
    FILE.replace(old.expect("a line of the file"), line)
}

/// What the only open value may become.
fn choices(line: &str) -> Vec<String> {
    let open = open_values(&with(line)).unwrap_or_else(|wrong| panic!("{wrong}"));
    let [OpenValue { choices, .. }] = open.as_slice() else { panic!("one value is open: {open:?}") };
    let word = |c: &NewValue| match c {
        NewValue::Text(text) => text.clone(),
        NewValue::Number(number) => format!("{number:.3}"),
        NewValue::Nothing => panic!("nothing is no choice"),
    };
    choices.iter().map(word).collect()
}

#[test]
fn a_question_mark_is_what_is_sold() {
    assert_eq!(
        choices("thickness = \"?\""),
        [
            "0.5 mm", "0.8 mm", "1.0 mm", "1.2 mm", "1.5 mm", "2.0 mm", "2.5 mm", "3.0 mm", "4.0 mm",
            "5.0 mm", "6.0 mm", "8.0 mm", "10 mm", "12 mm"
        ]
    );
    let wires = choices("diameter = \"?\"");
    assert_eq!((wires.len(), wires[0].as_str(), wires[10].as_str()), (11, "0.8 mm", "8.0 mm"));
    assert!(choices("metal = \"?\"").contains(&"7075-T6".to_owned()));
    // Flat bar from 15 to 100 mm, by steps of 5 mm.
    let widths = choices("width_root = \"?\"");
    assert_eq!((widths.len(), widths[0].as_str(), widths[17].as_str()), (18, "15 mm", "100 mm"));
    let fitted = open_values(&format!("{FILE}fitted = \"?\"\n")).unwrap_or_else(|wrong| panic!("{wrong}"));
    assert_eq!(fitted[0].key, "gear.main.brace.1.fitted");
    assert_eq!(fitted[0].choices, ["no", "yes"].map(|w| NewValue::Text(w.to_owned())));
    assert!(open_values(FILE).is_ok_and(|open| open.is_empty()));
}

#[test]
fn inches_and_gauges_are_sold_where_they_are_asked_for() {
    let among = |line: &str, sold: &[System]| {
        let open = draft(&with(line)).open_values(library(), sold).unwrap_or_else(|wrong| panic!("{wrong}"));
        open[0].choices.len()
    };
    let sheet = "thickness = \"?\"";
    assert_eq!(among(sheet, &[System::Inch]), 16);
    assert_eq!(among(sheet, &System::ALL), 14 + 16);
    assert_eq!(among("diameter = \"?\"", &System::ALL), 11 + 10 + 11);
    // A grade is the same in every system.
    assert_eq!(among("metal = \"?\"", &[System::Inch]), among("metal = \"?\"", &[System::Metric]));
}

#[test]
fn a_range_is_what_is_sold_between_or_goes_in_steps() {
    assert_eq!(
        choices("thickness = { from = \"3 mm\", to = \"0.25 in\" }"),
        ["3.0 mm", "4.0 mm", "5.0 mm", "6.0 mm"]
    );
    // Both ends belong to it, and rounding takes neither.
    assert_eq!(
        choices("thickness = { from = \"2.9 mm\", to = \"3.2 mm\", step = \"0.1 mm\" }"),
        ["2.9 mm", "3 mm", "3.1 mm", "3.2 mm"]
    );
    assert_eq!(choices("leg_at = { from = 0.7, to = 0.9, step = 0.1 }"), ["0.700", "0.800", "0.900"]);
    assert_eq!(choices("leg_at = { from = 0.7, to = 0.85, step = 0.1 }"), ["0.700", "0.800"]);
    assert_eq!(choices("thickness = { from = \"4 mm\", to = \"4 mm\" }"), ["4.0 mm"]);
    // What is not sold takes steps of its own kind.
    assert_eq!(
        choices("leg_angle = { from = \"20 deg\", to = \"40 deg\", step = \"10 deg\" }"),
        ["20 deg", "30 deg", "40 deg"]
    );
    assert_eq!(choices("leg_length = { from = \"8 in\", to = \"9 in\", step = \"0.5 in\" }").len(), 3);
}

#[test]
fn a_list_is_taken_as_it_stands() {
    assert_eq!(choices("thickness = [\"4 mm\", \"1/8 in\"]"), ["4 mm", "1/8 in"]);
    assert_eq!(choices("leg_at = [0.9, 0.8]"), ["0.900", "0.800"]);
    assert_eq!(choices("metal = [\"7075-T6\"]"), ["7075-T6"]);
    // A list that is a list by itself is none.
    let cases = with("cases = [\"level\", \"side\"]");
    assert!(open_values(&cases).is_ok_and(|open| open.is_empty()));
}

/// The messages, exactly.
#[test]
fn what_can_not_be_left_open_so_is_refused() {
    let lines = [
        "thickness = []",
        "thickness = [\"?\", \"4 mm\"]",
        "thickness = [\"4 mm\", [\"5 mm\"]]",
        "thickness = { from = \"3 mm\" }",
        "thickness = {}",
        "thickness = { from = \"6 mm\", to = \"3 mm\" }",
        "thickness = { from = \"6 mm\", to = \"3 mm\", step = \"1 mm\" }",
        "thickness = { from = \"3 mm\", to = \"6 mm\", step = \"0 mm\" }",
        "thickness = { from = \"3 mm\", to = \"6 mm\", step = \"-1 mm\" }",
        "thickness = { from = 3, to = 6 }",
        "thickness = { from = 3, to = \"6 mm\" }",
        "thickness = { from = \"3 mm\", to = \"6 kg\" }",
        "thickness = { from = \"3 mm\", to = \"6 mm\", steps = \"1 mm\" }",
        "thickness = { from = \"3 mm\", to = \"6 mm\", number = 4 }",
        "thickness = { from = \"3 mm\", to = \"6 mm\", step = \"0.001 mm\" }",
        "thickness = { from = \"3 mm\", to = \"6 mm\", step = \"1e-300 mm\" }",
        "thickness = { from = \"3.1 mm\", to = \"3.9 mm\" }",
        "leg_at = \"?\"",
        "leg_at = { from = 0.7, to = 0.9 }",
        "leg_length = \"?\"",
        "leg_length = { from = \"200 mm\", to = \"240 mm\" }",
        "leg_angle = { from = \"20 deg\", to = \"40 deg\" }",
        "leg_angle = { from = \"20 deg\", to = \"40 deg\", step = \"10 mm\" }",
    ];
    let mut said = String::new();
    for line in lines {
        let wrong = open_values(&with(line)).err().unwrap_or_else(|| panic!("{line} is understood"));
        let rendered = render(&wrong.0, false);
        assert!(rendered.lines().all(|l| l.chars().count() <= 100), "{rendered}");
        assert!(wrong.0.iter().all(|d| !d.help.is_empty() && d.location.is_some()), "{rendered}");
        said.push_str(&rendered);
        said.push('\n');
    }
    insta::assert_snapshot!(said);
}

#[test]
fn the_search_refuses_what_its_file_gets_wrong() {
    // Too many designs, counted before any is read.
    let many = with("width_root = { from = \"40 mm\", to = \"60 mm\", step = \"0.05 mm\" }")
        .replace("\"34 mm\"", "{ from = \"20 mm\", to = \"34 mm\", step = \"0.05 mm\" }");
    let Err(SizeError::Input(wrong)) = tried(&many, false) else { panic!("it is refused") };
    assert_eq!(wrong.0[0].code, "too-many");
    // What is wrong with every design is said once, at its place.
    let bad = with("thickness = [\"4 mm\", \"5 mm\"]").replace("\"302-spring\"", "\"303-spring\"");
    let Err(SizeError::Input(wrong)) = tried(&bad, false) else { panic!("it is refused") };
    assert_eq!((wrong.0.len(), wrong.0[0].code), (1, "unknown-name"));
    // What only some of them get wrong is counted, and the first reason told.
    let some = with("diameter = [\"1.5 mm\", \"40 mm\"]");
    let result = tried(&some, false).unwrap_or_else(|error| panic!("{error:?}"));
    let (refused, why) = result.gears[0].refused.clone().expect("one of them");
    assert_eq!(refused, 1);
    assert!(why.contains("40 mm"), "{why}");
}
