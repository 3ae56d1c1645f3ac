//! One worked example for each check of the flat centre at its bolts and of the wood: from a state made of plain numbers to the
//! margin, with the sum done by hand in the comments; and in `laws` what the margins obey whatever the numbers.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that can't go on says so"
)]

#[path = "../common/mod.rs"]
mod common;
mod laws;
mod state;

use common::{assert_close, megapascals, mm, newtons};
use gearleg::checks::{self, FITTING_FACTOR, Subject};
use gearleg::material::Basis;
use gearleg::model::{Arms, Gear, Grain, PlateMetal};
use gearleg::results::Verdict;
use state::{
    LIBRARY, OWN, case, gear, margins, margins_with, mount_of, mount_state, of, project, term, untold, value,
};

#[test]
fn base_yield() {
    // 240/150 − 1.
    assert_close(value(&gear(), "base-yield", "flat centre"), 0.6, 1e-12, "margin");
    let mut unknown = gear();
    unknown.plate.metal = PlateMetal::Unknown;
    assert!(untold(&unknown, "base-yield").contains("nobody knows"));
}

#[test]
fn base_net_section() {
    // Row at y = −45, 15 mm from the port end, where the force along the flat jumps from 600 to 300 N: 600 N is worse. Two holes of
    // 5.2 mm at ±20: A = 49.6 × 4 = 198.4 mm², Z = 49.6 × 16/6 = 132.267 mm³, I = 4 (60³/12 − 2 (5.2³/12 + 5.2 × 400)) =
    // 4 (18 000 − 4183.43) = 55 266 mm⁴, c = 30 mm. σ = 600/198.4 + 12 000/132.267 + 4000 × 30/55 266 = 3.0242 + 90.7258 + 2.1713
    // = 95.9213 MPa. 290/95.9213 − 1 = 2.02331.
    let all = margins(&gear());
    let m = of(&all, "base-net-section", "flat centre at bolts 1, 2");
    assert_close(m.value().expect("known"), 2.023_31, 1e-5, "margin");
    assert_close(m.factor, 1.5, 1e-12, "the metal breaks at ultimate load; no fitting");
    // Row at y = +45, 105 mm along, between stations at 15 and 120 mm: share 90/105 = 6/7; M_f = 12 − 18 × 6/7 = −3.42857,
    // M_e = −4 + 4 × 6/7 = −0.571429 N·m: σ = 300/198.4 + 3428.57/132.267 + 571.429 × 30/55 266 = 27.7440 MPa.
    let far = of(&all, "base-net-section", "flat centre at bolts 3, 4");
    assert_close(1.5 * far.applied.si() / 1e6, 27.7440, 1e-5, "stress in MPa");
    // Fatigue: r = 2 × 5.2/60 = 0.173333: K_t = 3 − 0.542533 + 0.109963 − 0.007968 = 2.559462; q = 1.3: [1.79 + 0.25/1.69 +
    // 0.81/2.69 − 0.26/3.197] × [1 − 0.180267 + 0.036654] = 2.157720 × 0.856388 = 1.847845. Peak = (2.559462 × 5.19550 +
    // 1.847845 × 90.7258)/1.5.
    assert_close(term(m, "K_t"), 2.559_462, 1e-6, "K_t");
    assert_close(term(m, "K_b"), 1.847_845, 1e-5, "K_b");
    let peak = (2.559_462 * 5.195_50 + 1.847_845 * 90.725_8) / 1.5;
    assert_close(term(m, "σ_p") / 1e6, peak, 1e-5, "peak in MPa");
}

#[test]
fn bolts_nearly_in_line_make_a_row() {
    // Half a hole is 2.6 mm.
    let mut apart = gear();
    mount_of(&mut apart).bolts[1].1 = mm(-42.5);
    assert!(margins(&apart).iter().any(|m| m.part == "flat centre at bolts 1, 2"));
    mount_of(&mut apart).bolts[1].1 = mm(-42.3);
    let all = margins(&apart);
    of(&all, "base-net-section", "flat centre at bolt 1");
    of(&all, "base-net-section", "flat centre at bolt 2");
}

#[test]
fn holes_that_leave_nothing_fail() {
    let mut gear = gear();
    mount_of(&mut gear).hole = Some(mm(60.0));
    assert_eq!(of(&margins(&gear), "base-net-section", "flat centre at bolts 1, 2").verdict, Verdict::Fails);
}

#[test]
fn plate_bearing() {
    // Bolt 1 at (−20, −45), the plate pushes it 300 N aft and 400 N to port: the hole tears forward and to starboard.
    // Forward: e₁ = 10 mm, nothing ahead, p₂ = 90 mm: k₁ = 2.5, α_b = 10/15.6 = 0.641026; F_x = 2.5 × 0.641026 × 290 × 5 × 4 =
    // 9294.87 N. To starboard: no edge, next hole 90 mm ahead: 90/15.6 − 0.25 > 1; e₂ = 10: 2.8 × 10/5.2 − 1.7 = 3.7 > 2.5;
    // F_y = 2.5 × 290 × 5 × 4 = 14 500 N. √((300/9294.87)² + (400/14 500)²) = 0.0424591. 1/(1.15 × 0.0424591) − 1 = 19.480.
    let all = margins(&gear());
    let m = of(&all, "plate-bearing", "flat centre at bolt 1");
    assert_close(term(m, "F_x"), 9294.87, 1e-6, "F_x");
    assert_close(term(m, "F_y"), 14_500.0, 1e-12, "F_y");
    assert_close(m.value().expect("known"), 19.480, 1e-4, "margin");
    assert_close(m.factor, 1.5 * FITTING_FACTOR, 1e-12, "factor");
    // Bolt 4 at (20, 45), pushed 500 N forward: the hole tears aft, e₁ = 10: 9294.87/(1.15 × 500) − 1.
    let straight = of(&all, "plate-bearing", "flat centre at bolt 4");
    assert_close(straight.value().expect("known"), 9294.87 / 575.0 - 1.0, 1e-6, "margin");
    // Nothing pushes the others.
    assert_eq!(all.iter().filter(|m| m.check == "plate-bearing").count(), 2);
}

#[test]
fn plate_bearing_towards_the_next_hole_and_the_end_of_a_foot() {
    // Bolt 4 pushed 500 N aft: it tears forward, towards bolt 3 40 mm ahead: 40/15.6 − 0.25 > 1, and the edge is 50 mm away: 1.
    let mut state = mount_state(1.0);
    state.bolts[3].shear = [newtons(500.0), newtons(0.0)];
    let all = margins_with(&gear(), &state, 1.5);
    assert_close(term(of(&all, "plate-bearing", "flat centre at bolt 4"), "F_x"), 14_500.0, 1e-12, "F_x");
    // With 9 mm between the holes: 9/15.6 − 0.25 = 0.326923: 2.5 × 0.326923 × 5800 = 4740.38 N.
    let mut close = gear();
    mount_of(&mut close).bolts[2].0 = mm(11.0);
    let all = margins_with(&close, &state, 1.5);
    assert_close(term(of(&all, "plate-bearing", "flat centre at bolt 4"), "F_x"), 4740.38, 1e-5, "F_x");
    // A foot to starboard ends 6 mm beyond the bolts: bolt 4 pushed to port tears to starboard, α_b = 6/15.6 = 0.384615:
    // 2.5 × 0.384615 × 5800 = 5576.92 N. The same bolt pushed to starboard tears towards the bend, where there is no edge.
    let mut foot = gear();
    foot.arms = Arms::Single;
    mount_of(&mut foot).bolts =
        vec![(mm(-20.0), mm(20.0)), (mm(20.0), mm(20.0)), (mm(-20.0), mm(45.0)), (mm(20.0), mm(45.0))];
    mount_of(&mut foot).foot = Some(mm(51.0));
    for (shear, expected) in [(-500.0, 5576.92), (500.0, 14_500.0)] {
        state.bolts[3].shear = [newtons(0.0), newtons(shear)];
        let all = margins_with(&foot, &state, 1.5);
        assert_close(term(of(&all, "plate-bearing", "flat centre at bolt 4"), "F_y"), expected, 1e-6, "F_y");
    }
}

#[test]
fn a_soft_bolt_holds_less_of_the_hole() {
    // Class 4.8, 420 MPa, is harder than the plate; nylon is not: α_b = f_ub/f_u.
    let mut nylon = gear();
    let class = LIBRARY.bolt_class("nylon", mm(5.0)).expect("nylon bolts are sold").clone();
    let share = f64::from(class.ultimate.value / megapascals(290.0));
    assert!(share < 0.6);
    mount_of(&mut nylon).bolt_class = class;
    let all = margins(&nylon);
    assert_close(
        term(of(&all, "plate-bearing", "flat centre at bolt 1"), "F_x"),
        14_500.0 * share,
        1e-9,
        "F_x",
    );
}

#[test]
fn hole_edge() {
    // 10 mm to the edge, 1.2 × 5.2 = 6.24 mm needed; 40 mm between holes, 11.44 needed. 10/6.24 − 1.
    let whole = |gear: &Gear| {
        let project = project(gear, 1.5);
        let subject = Subject { project: &project, gear, modulus: megapascals(70_000.0), poisson: 0.33 };
        let all = checks::run_for_gear(&subject);
        all.into_iter().find(|m| m.check == "hole-edge").expect("it has holes")
    };
    let m = whole(&gear());
    assert_close(m.value().expect("known"), 10.0 / 6.24 - 1.0, 1e-9, "margin");
    assert_eq!(m.part, "hole of bolt 1");
    // Two holes 10 mm apart: 10/11.44 − 1 fails.
    let mut close = gear();
    mount_of(&mut close).bolts[1].0 = mm(-10.0);
    let m = whole(&close);
    assert_close(m.value().expect("known"), 10.0 / 11.44 - 1.0, 1e-9, "margin");
    assert_eq!(m.verdict, Verdict::Fails);
}

#[test]
fn nut_pull_through() {
    // A = π/4 (144 − 25) = 93.462 mm²: F_a = 3 × 8 × 93.462 = 2243.1 N; F_b = π × 12 × 6 × 9.5 = 2148.8 N governs. 1500 N:
    // 2148.8/(1.15 × 1500) − 1 = 0.24571. It begins to sink in at 747.7 N.
    let all = margins(&gear());
    let m = of(&all, "nut-pull-through", "bolt 1");
    assert_close(m.value().expect("known"), 0.245_71, 1e-4, "margin");
    assert_close(term(m, "F_a"), 2243.1, 1e-4, "F_a");
    assert_close(term(m, "f_c,90 A"), 747.7, 1e-4, "begins to sink in");
    assert!(m.working.notes.iter().any(|n| n.contains("plug")), "it says which governs");
    // Twice the wood: the flange sinks in first. 2243.1/1725 − 1.
    let mut doubled = gear();
    mount_of(&mut doubled).doubler = Some(mm(6.0));
    assert_close(value(&doubled, "nut-pull-through", "bolt 1"), 2243.1 / 1725.0 - 1.0, 1e-4, "margin");
    // The builder's own test: 2000 N. 2000/1725 − 1.
    let mut tested = gear();
    mount_of(&mut tested).pull_through = Some(newtons(2000.0));
    let all = margins(&tested);
    let m = of(&all, "nut-pull-through", "bolt 1");
    assert_close(m.value().expect("known"), 2000.0 / 1725.0 - 1.0, 1e-9, "margin");
    assert_eq!(m.basis, Some(Basis::BenchTest));
    // No flange: not known, and said once.
    let mut bare = gear();
    mount_of(&mut bare).nut_flange = None;
    assert!(untold(&bare, "nut-pull-through").contains("nut_flange"));
    assert_eq!(margins(&bare).iter().filter(|m| m.check == "nut-pull-through").count(), 1);
}

#[test]
fn wood_crush() {
    // 3 × 8/(1.15 × 5) − 1.
    let all = margins(&gear());
    let m = of(&all, "wood-crush", "wood");
    assert_close(m.value().expect("known"), 24.0 / 5.75 - 1.0, 1e-12, "margin");
    assert_close(m.factor, FITTING_FACTOR, 1e-12, "limit load");
}

#[test]
fn wood_bending() {
    // 6 × 15 000/(80 × 36) = 31.25 MPa; a 6 mm board is nearest to the row of 6.5 mm: 50.9/31.25 − 1 along, 29.0/31.25 − 1 across.
    assert_close(value(&gear(), "wood-bending", "wood"), 50.9 / 31.25 - 1.0, 1e-12, "along");
    let mut across = gear();
    for grain in [Some(Grain::Across), None] {
        mount_of(&mut across).span.as_mut().expect("it spans").grain = grain;
        assert_close(
            value(&across, "wood-bending", "wood"),
            29.0 / 31.25 - 1.0,
            1e-12,
            "across, or nobody knows",
        );
    }
    // Strengths are those of the single layer, whatever is glued on: 9 mm would have another row.
    let mut doubled = gear();
    mount_of(&mut doubled).doubler = Some(mm(3.0));
    assert_close(value(&doubled, "wood-bending", "wood"), 50.9 / 31.25 - 1.0, 1e-12, "with a doubler");
}

#[test]
fn wood_shear() {
    // 1.5 × 700/(80 × 6) = 2.1875 MPa: 3.20/2.1875 − 1 along, 1.78/2.1875 − 1 across.
    assert_close(value(&gear(), "wood-shear", "wood"), 3.20 / 2.1875 - 1.0, 1e-12, "along");
    let mut other = gear();
    mount_of(&mut other).span.as_mut().expect("it spans").grain = Some(Grain::Across);
    assert_close(value(&other, "wood-shear", "wood"), 1.78 / 2.1875 - 1.0, 1e-12, "across");
    // Three plies have no value across: it is not made up.
    mount_of(&mut other).wood_thickness = mm(4.0);
    assert!(untold(&other, "wood-shear").contains("across the grain"));
    mount_of(&mut other).span.as_mut().expect("it spans").grain = None;
    assert!(untold(&other, "wood-shear").contains("is not said"));
    // Solid wood shears along its grain: 7.9/2.1875 − 1.
    let mut spruce = gear();
    mount_of(&mut spruce).wood = LIBRARY.wood("sitka-spruce").expect("a common wood").clone();
    assert_close(value(&spruce, "wood-shear", "wood"), 7.9 / 2.1875 - 1.0, 1e-12, "spruce");
    mount_of(&mut spruce).span.as_mut().expect("it spans").grain = Some(Grain::Across);
    assert!(untold(&spruce, "wood-bending").contains("across the grain"));
}

#[test]
fn bolt_embedment() {
    // f_h = 0.11 × 630 × 5^−0.3 = 42.760 MPa (the rule for bolts: 65.8); M_y = 0.3 × 800 × 5^2.6 = 15 759 N·mm; f_h t₁ d = 1282.8 N.
    // Thin plate: 0.4 × 1282.8 = 513.13 N (bolt bent: 2985 N). Thick: 1282.8 N (2812, 4222 N). Play 0.2 mm, t/d = 0.8: s = 0.6:
    // 0.4 × 513.13 + 0.6 × 1282.81 = 974.94 N. V = 500 N: 974.94/575 − 1 = 0.69555.
    let all = margins(&gear());
    let m = of(&all, "bolt-embedment", "wood at bolt 1");
    assert_close(term(m, "f_h,B") / 1e6, 65.835, 1e-9, "the other rule");
    assert_close(m.value().expect("known"), 0.695_55, 1e-4, "margin");
    // Half a millimetre of play and more: the plate counts as thin. 513.13/575 − 1.
    let mut loose = gear();
    mount_of(&mut loose).hole = Some(mm(5.6));
    assert_close(value(&loose, "bolt-embedment", "wood at bolt 1"), 513.13 / 575.0 - 1.0, 1e-4, "margin");
    // Spruce: ρ_k = 400/1.2 = 333.33: 0.082 × 0.95 × 333.33 = 25.967 MPa along, over 1.425 = 18.222 MPa.
    let mut spruce = gear();
    mount_of(&mut spruce).wood = LIBRARY.wood("sitka-spruce").expect("a common wood").clone();
    let all = margins(&spruce);
    let m = of(&all, "bolt-embedment", "wood at bolt 1");
    assert_close(term(m, "f_h") / 1e6, 18.222, 1e-4, "f_h");
    assert_eq!(m.basis, Some(Basis::FromMemory), "the density's ratio is recalled");
}

#[test]
fn glue_line() {
    // Port: √(200² + 200² + 100²) = 300 N over 600 mm²: 0.5 MPa. 3/(1.15 × 0.5) − 1.
    assert_close(value(&gear(), "glue-line", "port end of the wood"), 3.0 / 0.575 - 1.0, 1e-12, "margin");
    // Starboard is pushed up: √(200² + 100²) = 223.607 N: 0.372678 MPa.
    let all = margins(&gear());
    let m = of(&all, "glue-line", "starboard end of the wood");
    assert_close(1.5 * m.applied.si() / 1e6, 0.372_678, 1e-6, "MPa");
    // Only the clamped end with a moment peels.
    let peels = |part: &str| of(&all, "glue-line", part).working.notes.iter().any(|n| n.contains("peels"));
    assert!(peels("port end of the wood") && !peels("starboard end of the wood"));
    let mut bare = gear();
    mount_of(&mut bare).glue = None;
    assert!(margins(&bare).iter().all(|m| m.check != "glue-line"));
}

#[test]
fn without_a_span_the_wood_between_formers_is_not_judged() {
    let mut state = mount_state(1.0);
    state.wood = None;
    let mut backed = gear();
    mount_of(&mut backed).span = None;
    let all = margins_with(&backed, &state, 1.5);
    assert!(all.iter().all(|m| !["wood-bending", "wood-shear", "glue-line"].contains(&m.check)));
    assert!(all.iter().any(|m| m.check == "wood-crush"));
}

#[test]
fn a_gear_without_a_mount_has_none_of_these() {
    let mut plain = gear();
    plain.mount = None;
    let project = project(&plain, 1.5);
    let subject = Subject { project: &project, gear: &plain, modulus: megapascals(70_000.0), poisson: 0.33 };
    let mut bare = case(&mount_state(1.0));
    bare.limit.mount = None;
    bare.ultimate.mount = None;
    assert!(checks::run_for_case(&subject, &bare).iter().all(|m| !OWN.contains(&m.check)));
    assert!(checks::run_for_gear(&subject).iter().all(|m| m.check != "hole-edge"));
}

#[test]
fn a_row_beyond_the_plate_has_no_margin() {
    let mut gear = gear();
    for bolt in &mut mount_of(&mut gear).bolts[2..] {
        bolt.1 = mm(75.0);
    }
    let rows = margins(&gear).into_iter().filter(|m| m.check == "base-net-section").count();
    assert_eq!(rows, 1);
}
