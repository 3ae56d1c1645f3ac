//! Symptom: a gear whose wires hang straight or slack at rest was said to buckle at 2.02 times a one-wheel landing that it holds
//! 2.62 times, and its forces were told by small movements only. Expected: what the same wires make when a thousandth of a newton
//! or of a millimetre is put in or taken out of them. Cause: steps were sized by the frame at rest, where such wires do nothing; the
//! first was many times too long, passed the landing over, and bent the legs on the way.

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
use gearleg::results::{CheckResult, Theory};
use worked::{read, solved};

fn checked(fit: &str) -> CheckResult {
    solved(&read(&format!(
        r#"format = 1
[aircraft]
name = "snug wires"
mass = "12.34 kg"
layout = "tricycle"
[landing]
load_factor = 4.411
cases = ["one-wheel", "side"]
[gear.main]
position = "main"
arms = "pair"
[gear.main.plate]
metal = "2024-T3"
thickness = "4 mm"
width_root = "50 mm"
width_tip = "34 mm"
base_width = "120 mm"
leg_length = "249 mm"
leg_angle = "37.3 deg"
[gear.main.wheel]
diameter = "100 mm"
overhang = "20 mm"
axle = "8 mm"
axle_metal = "steel-8.8"
[[gear.main.brace]]
pattern = "cross"
wire = "302-spring"
diameter = "3 mm"
leg_at = 0.9
base_at = "50 mm"
end = "wrapped"
{fit}
"#
    )))
}

#[test]
fn wires_that_hang_straight_are_as_those_that_pull_next_to_nothing() {
    let tight = checked("pretension = \"0.001 N\"");
    for fit in ["", "slack = \"0.001 mm\""] {
        let other = checked(fit);
        for case in &other.cases {
            let same = tight.cases.iter().find(|c| c.case == case.case).expect("it has the same landings");
            let what = format!("{:?} with {fit:?}", case.case);
            assert_ne!(case.theory, Theory::OnlySmall, "{what}");
            let limit = |c: &gearleg::results::CaseResult| c.limit_load.expect("it is loaded");
            assert_eq!(limit(case).cause, limit(same).cause, "{what}");
            assert_close(limit(case).multiple, limit(same).multiple, 2e-3, &what);
            let stress = |c: &gearleg::results::CaseResult| {
                c.limit.legs.iter().map(|l| l.peak.von_mises.value).fold(0.0, f64::max)
            };
            assert_close(stress(case), stress(same), 5e-3, &what);
        }
    }
}
