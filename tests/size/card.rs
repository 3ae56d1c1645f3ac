//! The merchant's card against the check, size by size.

use super::shop::{draft, least, library, tried};
use gearleg::analysis::check;
use gearleg::input::project::Change;
use gearleg::results::{CardEntry, CardRow};

/// A light aeroplane with one landing; a straight 40 mm strip as legs.
const FILE: &str = r#"format = 1
[aircraft]
name = "card"
mass = "6 kg"
layout = "tricycle"
[landing]
load_factor = 3
cases = ["level"]
[gear.main]
position = "main"
arms = "pair"
[gear.main.plate]
metal = "6082-T6"
thickness = ["3 mm", "4 mm"]
width_root = "40 mm"
base_width = "120 mm"
leg_length = "180 mm"
leg_angle = "40 deg"
[gear.main.wheel]
diameter = "100 mm"
overhang = "20 mm"
axle = "8 mm"
axle_metal = "steel-8.8"
[[gear.main.brace]]
fitted = ["no", "yes"]
pattern = "cross"
wire = "302-spring"
diameter = "1.5 mm"
leg_at = 0.9
base_at = "45 mm"
end = "wrapped"
"#;

/// Sheet that is sold in millimetres, as the table has it.
const SHEET: [&str; 14] = [
    "0.5 mm", "0.8 mm", "1.0 mm", "1.2 mm", "1.5 mm", "2.0 mm", "2.5 mm", "3.0 mm", "4.0 mm", "5.0 mm",
    "6.0 mm", "8.0 mm", "10 mm", "12 mm",
];

/// Whether a plate holds by the check; `None` when the metal is not rolled so thick.
fn holds(metal: &str, thickness: &str, wire: Option<&str>) -> Option<bool> {
    let plate = "gear.main.plate";
    let mut changes = vec![
        Change::text(format!("{plate}.metal"), metal),
        Change::text(format!("{plate}.thickness"), thickness),
        Change::text("gear.main.brace.1.fitted", if wire.is_some() { "yes" } else { "no" }),
    ];
    changes.extend(wire.map(|d| Change::text("gear.main.brace.1.diameter", d)));
    let (project, _) = draft(FILE).read(library(), &changes).ok()?;
    project.gears[0].plate.yield_strength()?;
    let checked = check(&project, library()).ok()?;
    Some(least(&checked.margins).is_some_and(|m| m >= 0.0))
}

fn thinner(than: &str) -> Option<&'static str> {
    let at = SHEET.iter().position(|s| *s == than).unwrap_or_else(|| panic!("{than} is sold"));
    at.checked_sub(1).map(|i| SHEET[i])
}

fn entry<'r>(rows: &'r [CardRow], metal: Option<&str>) -> &'r CardEntry {
    let row = rows.iter().find(|r| r.metal.as_deref() == metal).unwrap_or_else(|| panic!("{metal:?}"));
    row.plain.as_ref().unwrap_or_else(|| panic!("a plate of {metal:?} holds"))
}

#[test]
fn the_thinnest_on_the_card_holds_and_the_next_thinner_does_not() {
    let result = tried(FILE, true).unwrap_or_else(|error| panic!("{error:?}"));
    let rows = &result.gears[0].card;
    let metals: Vec<&str> = rows.iter().filter_map(|r| r.metal.as_deref()).collect();
    assert!(metals.len() >= 14 && rows.last().is_some_and(|r| r.metal.is_none()), "{metals:?}");
    for metal in ["6082-T6", "7075-T6", "5083-H116"] {
        let plain = &entry(rows, Some(metal)).thickness;
        assert_eq!(holds(metal, plain, None), Some(true), "{metal} {plain}");
        let less = thinner(plain).expect("0.5 mm does not hold");
        assert_ne!(holds(metal, less, None), Some(true), "{metal} {less}");
        let row = rows.iter().find(|r| r.metal.as_deref() == Some(metal)).expect("its row");
        if let Some(braced) = &row.braced {
            let wire = braced.wire.as_deref().expect("it has wires");
            assert_eq!(holds(metal, &braced.thickness, Some(wire)), Some(true), "{metal} {braced:?}");
            assert!(thinner_than(&braced.thickness, plain), "{metal} {braced:?}");
        }
    }
    // Whichever metal it is: at least as thick as each that is rolled so thick has to be, and each holds.
    let any = &entry(rows, None).thickness;
    let mut rolled = 0;
    for metal in metals {
        if let Some(held) = holds(metal, any, None) {
            assert!(held, "{metal} {any}");
            rolled += 1;
        }
    }
    assert!(rolled >= 10, "{rolled} metals are rolled {any} thick");
    let less = thinner(any).expect("0.5 mm does not hold");
    assert!(
        rows.iter().filter_map(|r| r.metal.as_deref()).any(|m| holds(m, less, None) == Some(false)),
        "{less}"
    );
}

fn thinner_than(a: &str, b: &str) -> bool {
    let at = |t: &str| SHEET.iter().position(|s| *s == t).unwrap_or_else(|| panic!("{t} is sold"));
    at(a) < at(b)
}
