//! Optima that can be had in closed form: the search has to find them to the step.
//!
//! One straight arm hangs from its clamp and is pushed sideways at its end, so that it bends over its thickness. Its metal is as
//! stiff as the file takes, so that the movement changes no lever; nothing breaks beyond the landing (`ultimate_factor = 1`),
//! so that staying straight is all that is asked.

use super::shop::{best, given, millimetres, sized};

/// Length of the arm, mm.
const LENGTH: f64 = 200.0;

struct Arm {
    /// Yield strength, MPa.
    strength: f64,
    thickness: String,
    width_root: String,
    width_tip: String,
    /// From the arm to the wheel's centre, mm.
    overhang: f64,
    axle: f64,
    /// The load as the file writes it.
    load: String,
}

impl Arm {
    /// 30 mm wide, pushed at the end of its line by so many newtons.
    fn pushed(side: f64, strength: f64) -> Self {
        Self {
            strength,
            thickness: "{ from = \"2 mm\", to = \"12 mm\", step = \"0.1 mm\" }".to_owned(),
            width_root: "\"30 mm\"".to_owned(),
            width_tip: "\"30 mm\"".to_owned(),
            overhang: 0.0,
            axle: 10.0,
            load: format!("side = \"{side} N\", at = \"axle\""),
        }
    }

    fn text(&self) -> String {
        let Self { strength, thickness, width_root, width_tip, overhang, axle, load } = self;
        format!(
            r#"format = 1
[aircraft]
name = "an arm"
mass = "0.1 kg"
layout = "tricycle"
[landing]
load_factor = 1
ultimate_factor = 1
cases = ["nose-aft"]
[gear.nose]
position = "nose"
arms = "single"
[gear.nose.plate]
metal = "round-numbers"
thickness = {thickness}
width_root = {width_root}
width_tip = {width_tip}
leg_length = "{LENGTH} mm"
[gear.nose.wheel]
diameter = "100 mm"
overhang = "{overhang} mm"
axle = "{axle} mm"
axle_metal = "steel-8.8"
[metal.round-numbers]
yield = "{strength} MPa"
ultimate = "2000 MPa"
modulus = "1000 GPa"
density = "2700 kg/m^3"
basis = "told"
[[case]]
name = "push"
gear = "nose"
wheel = {{ {load} }}
"#
        )
    }

    /// The thickness that the search finds, mm.
    fn thickness(&self) -> f64 {
        let result = sized(&self.text());
        let best = best(&result);
        assert_eq!((best.binding.check, best.binding.part.as_str()), ("leg-yield", "centre leg"));
        millimetres(best, "thickness")
    }
}

/// The first step at or above a size. What is asserted of it rests on the size being no nearer to a step than the sum is true.
fn step_above(size: f64, step: f64) -> f64 {
    let steps = size / step;
    let beyond = steps - steps.floor();
    assert!((0.1..0.9).contains(&beyond), "{size} is too near to a step of {step} to tell");
    step * steps.ceil()
}

fn assert_step(found: f64, expected: f64, what: &str) {
    assert!((found - expected).abs() < 1e-9, "{what}: {found} and not {expected}");
}

/// t = √(6 M/(b σ)), M = F L. Source: bending of a rectangle, S. Timoshenko, Strength of Materials, part I.
fn closed_form(moment: f64, strength: f64) -> f64 {
    (6.0 * moment / (30.0 * strength)).sqrt()
}

#[test]
fn thickness_follows_the_root_of_moment_over_strength() {
    let found = |side: f64, strength: f64| {
        let needed = closed_form(side * LENGTH, strength);
        let found = Arm::pushed(side, strength).thickness();
        assert_step(found, step_above(needed, 0.1), &format!("{side} N, {strength} MPa"));
        found
    };
    let once = found(104.0, 200.0);
    // Twice the load: √2 as thick; a quarter of the strength: twice as thick; each to the step.
    let twice = found(208.0, 200.0);
    assert!((twice - 2.0_f64.sqrt() * once).abs() <= 0.1 * 2.0_f64.sqrt(), "{twice} after {once}");
    let soft = found(104.0, 50.0);
    assert!((soft - 2.0 * once).abs() <= 0.2, "{soft} after {once}");
}

/// With the wheel beside the arm and a load up, M = S L + V c and the arm is pressed by V:
/// 6 M/(b t²) + V/(b t) = σ.
#[test]
fn a_load_beside_the_arm_adds_its_moment_and_its_push() {
    for (side, up, overhang, strength) in [(64.0, 100.0, 20.0, 200.0), (72.0, 300.0, 30.0, 250.0)] {
        let moment = side * LENGTH + up * overhang;
        let push = up / (30.0 * strength);
        let needed = 0.5 * (push + (push * push + 4.0 * closed_form(moment, strength).powi(2)).sqrt());
        let arm = Arm {
            overhang,
            load: format!("vertical = \"{up} N\", side = \"{side} N\", at = \"axle\""),
            ..Arm::pushed(side, strength)
        };
        assert_step(arm.thickness(), step_above(needed, 0.1), &format!("{side} N and {up} N"));
    }
}

/// An arm pushed where its wheel meets the ground, c beyond its end, is stressed alike all along when its width goes with the
/// distance from there: 6 F (x + c)/(b t²) is the same everywhere for b ∝ x + c. So the lightest that holds is
/// b₀ = 6 F (L + c)/(t² σ) wide at its root and b₀ c/(L + c) at its end, and between straight sides nothing is more stressed.
#[test]
fn a_tapered_arm_comes_out_as_one_of_uniform_stress() {
    let (force, strength, thickness, beyond) = (131.0, 200.0, 5.0, 50.0);
    let root = 6.0 * force * (LENGTH + beyond) / (thickness * thickness * strength);
    let tip = root * beyond / (LENGTH + beyond);
    let arm = Arm {
        thickness: "\"5 mm\"".to_owned(),
        width_root: "{ from = \"34 mm\", to = \"46 mm\", step = \"1 mm\" }".to_owned(),
        width_tip: "{ from = \"6.5 mm\", to = \"12.5 mm\", step = \"0.5 mm\" }".to_owned(),
        axle: 6.0,
        load: format!("side = \"{force} N\""),
        ..Arm::pushed(force, strength)
    };
    let result = sized(&arm.text());
    let best = best(&result);
    assert_step(millimetres(best, "width_root"), step_above(root, 1.0), "root");
    assert_step(millimetres(best, "width_tip"), step_above(tip, 0.5), "tip");
    assert_eq!(given(best, "thickness"), None, "it is not open");
    assert_eq!(best.binding.check, "leg-yield");
}
