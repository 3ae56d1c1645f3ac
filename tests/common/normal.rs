//! The standard normal distribution, worked out by its series: nothing of it is shared with the library.
#![allow(dead_code, reason = "each test binary uses a part of it")]

/// The share below `x`: 1/2 + φ(x) (x + x³/3 + x⁵/(3·5) + …). Source: Abramowitz & Stegun 26.2.11, from memory; it can be derived.
pub(crate) fn share_below(x: f64) -> f64 {
    let (mut term, mut sum, mut odd) = (x, x, 1.0);
    while term.abs() > 1e-18 * sum.abs() {
        odd += 2.0;
        term *= x * x / odd;
        sum += term;
    }
    0.5 + sum * (-0.5 * x * x).exp() / (2.0 * std::f64::consts::PI).sqrt()
}

/// A post on one wheel that a load from the side bends about its thin way: σ = 6 F L / (b t²) = 80 MPa at its root, against 90 MPa.
///
/// F = 50 N at the axle, L = 200 mm, b = 30 mm, t = 5 mm. Its landings load it with next to nothing. `± 0` where nothing else is said.
pub(crate) const POST: &str = r#"
format = 1
[aircraft]
name = "post"
mass = "0.5 kg ± 0 kg"
layout = "tricycle"
[landing]
load_factor = 1.5
cases = ["nose-side"]
[gear.nose]
position = "nose"
arms = "single"
[gear.nose.plate]
metal = "test"
thickness = "5 mm ± 0 mm"
width_root = "30 mm ± 0 mm"
leg_length = "200 mm ± 0 mm"
[gear.nose.wheel]
diameter = "100 mm ± 0 mm"
overhang = "20 mm ± 0 mm"
axle = "5 mm ± 0 mm"
axle_metal = "steel-8.8"
[metal.test]
yield = "90 MPa"
ultimate = "230 MPa"
modulus = "70 GPa ± 0 %"
density = "2700 kg/m^3"
basis = "told"
[[case]]
name = "own"
gear = "nose"
wheel = { vertical = "0 N", side = "50 N", at = "axle" }
"#;
