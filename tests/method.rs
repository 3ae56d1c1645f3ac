//! Numbers that docs/method.md works out for its reader, worked out again: the page must show these.

#![allow(clippy::expect_used, reason = "a test that can't read the page should stop")]

use std::fs;
use std::path::Path;

/// Young's modulus of the example's plate, MPa.
const MODULUS: f64 = 70_000.0;
/// The survey aeroplane's leg, mm and rad: length, angle, overhang, wheel radius, thickness, width at bend and axle.
const LENGTH: f64 = 230.0;
const ANGLE: f64 = 40.0 * std::f64::consts::PI / 180.0;
const OVERHANG: f64 = 22.0;
const RADIUS: f64 = 55.0;
const THICKNESS: f64 = 4.0;
const WIDTHS: (f64, f64) = (60.0, 34.0);

fn page() -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/method.md"))
        .expect("the page can be read")
}

fn assert_shown(words: &str) {
    assert!(page().contains(words), "docs/method.md should show: {words}");
}

/// Lever of a vertical load at rest.
fn lever_at_rest() -> f64 {
    LENGTH * ANGLE.sin() + OVERHANG
}

/// Lever under a vertical load in N, the leg bending in one plane with its full curvature.
///
/// θ' = P (y_C − y)/(E I) from the bend down, by midpoints; y_C by repetition, wheel and axle turning with the end.
fn lever_under(load: f64) -> f64 {
    const STEPS: u32 = 2000;
    let step = LENGTH / f64::from(STEPS);
    let mut contact = lever_at_rest();
    for _ in 0..100 {
        let (mut angle, mut y) = (ANGLE, 0.0);
        for i in 0..STEPS {
            let s = (f64::from(i) + 0.5) / f64::from(STEPS);
            let rigidity = MODULUS * (WIDTHS.0 + s * (WIDTHS.1 - WIDTHS.0)) * THICKNESS.powi(3) / 12.0;
            let curvature = load * (contact - (y + 0.5 * step * angle.sin())) / rigidity;
            y += step * (angle + 0.5 * step * curvature).sin();
            angle += step * curvature;
        }
        let turn = angle - ANGLE;
        let now = y + OVERHANG * turn.cos() + RADIUS * turn.sin();
        contact = 0.5 * (contact + now);
    }
    contact
}

#[test]
fn the_table_of_the_spreading_leg_is_right() {
    let rest = lever_at_rest();
    for (load, words) in [
        (80.0, "80 N"),
        (172.27, "172 N (level landing)"),
        (344.54, "345 N (one-wheel-whole, if it stayed elastic)"),
    ] {
        let lever = lever_under(load);
        assert_shown(&format!("| {words} | {rest:.1} mm | {lever:.1} mm | {:.2} |", lever / rest));
    }
    // First yield in flatwise bending at the bend, by halving.
    let yields = 260.0 * WIDTHS.0 * THICKNESS.powi(2) / 6.0;
    let (mut low, mut high) = (100.0, 300.0);
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if middle * lever_under(middle) < yields { low = middle } else { high = middle }
    }
    assert_shown(&format!("260 MPa at {low:.0} N where the linear answer is {:.0} N", yields / rest));
}

#[test]
fn the_shares_of_shear_are_right() {
    // 3 E I / (κ G A L²) with E/G = 2.66, κ = 5/6, I/A = h²/12.
    let share = |depth: f64, length: f64| 3.0 * 2.66 * depth * depth / 12.0 / (5.0 / 6.0 * length * length);
    assert_shown(&format!("= 10.6 / 44 083 = {:.5}", share(THICKNESS, LENGTH)));
    assert_shown(&format!("= 2394 / 44 083 = {:.3}", share(WIDTHS.0, LENGTH)));
    assert_shown(&format!("100 mm long is {:.0} % softer edgewise", 100.0 * share(60.0, 100.0)));
}

#[test]
fn the_stresses_of_the_bend_are_right() {
    // Winkler's curved rectangle over 6M/bt², both for unit width and moment.
    let excess = |inside: f64| {
        let outside = inside + THICKNESS;
        let neutral = THICKNESS / (outside / inside).ln();
        let eccentricity = inside + THICKNESS / 2.0 - neutral;
        let curved = (neutral - inside) / (THICKNESS * eccentricity * inside);
        100.0 * (curved * THICKNESS * THICKNESS / 6.0 - 1.0)
    };
    let [wide, middle, tight] = [20.0, 12.0, 4.0].map(excess);
    assert_shown(&format!("20 mm inside that is {wide:.0} % more"));
    assert_shown(&format!("to 12 mm {middle:.0} %, to 4 mm {tight:.0} %"));
}
