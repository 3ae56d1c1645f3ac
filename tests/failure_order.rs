//! What gives first: the order in which parts reach their strength, and what must not change it.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that can't go on says so"
)]

#[path = "common/worked.rs"]
mod worked;

use gearleg::analysis;
use gearleg::model::{PartKind, PlateMetal, Project};
use gearleg::results::{CheckResult, FailureOrder, PartFailure};
use gearleg::units::{Force, Stress};
use proptest::prelude::{ProptestConfig, prop_assert, proptest};
use std::fs;
use std::sync::LazyLock;
use worked::{library, read, solved};

/// How near two multiples of the same event are: the curve is followed in steps, events located to 1e-4 of one.
const SAME: f64 = 1e-3;

/// The mounted example, checked once for all tests.
static MOUNTED: LazyLock<CheckResult> = LazyLock::new(|| solved(&read(&example("survey-plane-mount"))));

fn checked(name: &str) -> CheckResult {
    if name == "survey-plane-mount" { MOUNTED.clone() } else { solved(&read(&example(name))) }
}

fn example(name: &str) -> String {
    fs::read_to_string(format!("{}/docs/examples/{name}.toml", env!("CARGO_MANIFEST_DIR")))
        .expect("the example can be read")
}

fn in_case<'r>(result: &'r CheckResult, case: &str) -> &'r FailureOrder {
    result.failure_orders.iter().find(|o| o.case.id() == case).unwrap_or_else(|| panic!("no order of {case}"))
}

fn find<'o>(order: &'o FailureOrder, failure: &PartFailure) -> Option<&'o PartFailure> {
    order.failures.iter().find(|f| f.check == failure.check && f.part == failure.part)
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME * a.max(b)
}

/// Makes one kind of part stronger.
fn strengthened(project: &Project, kind: PartKind, factor: f64) -> Project {
    let mut out = project.clone();
    for gear in &mut out.gears {
        match kind {
            PartKind::Legs => {
                if let PlateMetal::Known(metal) = &mut gear.plate.metal {
                    for band in &mut metal.bands {
                        for strength in [&mut band.yield_strength, &mut band.ultimate].into_iter().flatten() {
                            strength.value *= factor;
                        }
                    }
                }
            }
            PartKind::Axles => {
                gear.wheel.axle_metal.yield_strength.value *= factor;
                gear.wheel.axle_metal.ultimate.value *= factor;
            }
            PartKind::Wires => {
                for brace in &mut gear.braces {
                    let load = brace.wire.breaking_load(brace.diameter).expect("listed").value;
                    let area = gearleg::material::Wire::area(brace.diameter);
                    let stress: Stress = factor * load / area;
                    let basis = brace.end_holds.basis;
                    brace.wire.strength = gearleg::material::WireStrength::Constant(
                        gearleg::material::Sourced::new(stress, basis, "stronger"),
                    );
                }
            }
            PartKind::Bolts => {
                if let Some(mount) = &mut gear.mount {
                    let class = &mut mount.bolt_class;
                    class.ultimate.value *= factor;
                    for s in [&mut class.yield_strength, &mut class.proof].into_iter().flatten() {
                        s.value *= factor;
                    }
                }
            }
            PartKind::Nuts => {
                if let Some(mount) = &mut gear.mount {
                    let tested: Option<Force> = mount.pull_through;
                    mount.pull_through = tested.map(|f| factor * f);
                }
            }
            PartKind::Wood => {
                if let Some(mount) = &mut gear.mount {
                    for s in [&mut mount.wood.panel_shear, &mut mount.wood.compression_across]
                        .into_iter()
                        .flatten()
                    {
                        s.value *= factor;
                    }
                    for band in &mut mount.wood.bands {
                        for s in [
                            &mut band.bending_along,
                            &mut band.bending_across,
                            &mut band.rolling_shear_along,
                            &mut band.rolling_shear_across,
                        ]
                        .into_iter()
                        .flatten()
                        {
                            s.value *= factor;
                        }
                    }
                }
            }
        }
    }
    out
}

/// A stronger part leaves every part that gave before it where it was; and what only has more strength, not another stiffness or
/// another way to carry loads on, leaves all others where they were.
fn stronger_changes_nothing_before(project: &Project, before: &CheckResult, kind: PartKind, factor: f64) {
    let after = solved(&strengthened(project, kind, factor));
    // Legs that yield and wires that break change how the loads go on.
    let passes_loads_on = matches!(kind, PartKind::Legs | PartKind::Wires);
    for order in &before.failure_orders {
        let now = after
            .failure_orders
            .iter()
            .find(|o| o.gear == order.gear && o.case == order.case)
            .expect("the same cases");
        let own = |f: &&PartFailure| f.kind == Some(kind);
        let gave = order.failures.iter().find(own).map_or(f64::INFINITY, |f| f.multiple);
        for failure in &order.failures {
            let same = find(now, failure);
            let (part, case) = (&failure.part, &order.case);
            if failure.kind == Some(kind) {
                let m = same.map_or(f64::INFINITY, |f| f.multiple);
                assert!(m >= failure.multiple * (1.0 - SAME), "{part} in {case} is weaker: {m}");
            } else if failure.kind.is_some() && (!passes_loads_on || failure.multiple <= gave) {
                let m = same.map(|f| f.multiple);
                assert!(
                    m.is_none_or(|m| m >= failure.multiple * (1.0 - SAME)),
                    "{part} {} in {case} gave at {} and now at {m:?}, {kind:?} being {factor} times as strong",
                    failure.check,
                    failure.multiple
                );
            }
        }
    }
}

#[test]
fn a_stronger_part_makes_no_other_give_earlier() {
    for name in ["survey-plane-braced", "survey-plane-mount"] {
        let (project, before) = (read(&example(name)), checked(name));
        for kind in PartKind::ALL {
            stronger_changes_nothing_before(&project, &before, kind, 1.3);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 3, ..ProptestConfig::default() })]

    #[test]
    fn nor_in_gears_of_other_measures(
        thickness in 3.5_f64..6.0, angle in 20.0_f64..50.0, reach in 30.0_f64..42.0, kind in 0_usize..6, factor in 1.05_f64..2.0,
    ) {
        let text = example("survey-plane-mount")
            .replace("thickness = \"4 mm\"", &format!("thickness = \"{thickness:.2} mm\""))
            .replace("leg_angle = \"40 deg\"", &format!("leg_angle = \"{angle:.1} deg\""))
            .replace("40 mm\"]", &format!("{reach:.1} mm\"]"));
        let project = read(&text);
        stronger_changes_nothing_before(&project, &solved(&project), PartKind::ALL[kind], factor);
        prop_assert!(true);
    }
}

/// The same gear in inches, pounds and degrees: every length of the file as so many inches.
fn in_inches(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(end) = rest.find(" mm\"") {
        let start = rest[..end].rfind('"').expect("a text begins with a quote") + 1;
        let millimetres: f64 = rest[start..end].parse().expect("a plain number");
        out.push_str(&rest[..start]);
        out.push_str(&format!("{:.12} in\"", millimetres / 25.4));
        rest = &rest[end + 4..];
    }
    out.push_str(rest);
    out
}

#[test]
fn the_order_does_not_depend_on_the_units() {
    for name in ["survey-plane", "survey-plane-mount"] {
        let text = example(name);
        let (metric, inches) = (checked(name), solved(&read(&in_inches(&text))));
        assert_eq!(metric.failure_orders.len(), inches.failure_orders.len());
        for (a, b) in metric.failure_orders.iter().zip(&inches.failure_orders) {
            let names = |o: &FailureOrder| -> Vec<(String, &str)> {
                o.failures.iter().map(|f| (f.part.clone(), f.check)).collect()
            };
            assert_eq!(names(a), names(b), "{name}, {}", a.case);
            for (x, y) in a.failures.iter().zip(&b.failures) {
                assert!(close(x.multiple, y.multiple), "{name}, {}: {x:?} {y:?}", a.case);
            }
        }
    }
}

#[test]
fn orders_rise_and_say_which_landing_they_are() {
    for name in ["survey-plane", "survey-plane-mount"] {
        let project = read(&example(name));
        let result = checked(name);
        for order in &result.failure_orders {
            let multiples: Vec<f64> = order.failures.iter().map(|f| f.multiple).collect();
            assert!(multiples.windows(2).all(|w| w[0] <= w[1] * (1.0 + SAME)), "{name}: {multiples:?}");
        }
        let level = in_case(&result, "level");
        let first = level.first().expect("something gives");
        // n = λ (n − L) + L by hand.
        let landing = result.landing;
        let n = first.multiple * (landing.inertia - landing.wing_lift) + landing.wing_lift;
        let told = first.inertia_load_factor.expect("a level landing follows the load factor");
        assert!(close(n, told), "{n} {told}");
        // A drop from that height makes that load factor.
        let gear = project.gears.iter().find(|g| g.name == level.gear).expect("the gear");
        let heights = Some(vec![first.drop_height.expect("a main gear is dropped")]);
        let request = analysis::DropRequest { heights, ..analysis::DropRequest::default() };
        let report =
            analysis::drop_report(&project, library(), &request, &|_, _| ()).expect("it has a solution");
        let table = report.tables.iter().find(|t| t.gear == gear.name).expect("its drops");
        let outcome = table.drops[0].outcome.as_ref().expect("it takes the drop up");
        assert!(close(outcome.inertia_load_factor, told), "{} {told}", outcome.inertia_load_factor);
    }
}

/// Margins and the order are one chain: a part whose margin against limit load holds gives at no lower multiple.
#[test]
fn the_order_agrees_with_the_margins() {
    let result = &*MOUNTED;
    let mut compared = 0;
    for order in &result.failure_orders {
        for failure in &order.failures {
            let margin = result.margins.iter().find(|m| {
                m.check == failure.check && m.part == failure.part && m.case.as_ref() == Some(&order.case)
            });
            let Some(value) = margin.and_then(gearleg::results::Margin::value) else { continue };
            if failure.kind.is_some() {
                assert!(value >= 0.0 || failure.multiple <= 1.73, "{failure:?} {value}");
                assert!(value <= 0.0 || failure.multiple >= 1.0 - SAME, "{failure:?} {value}");
                compared += 1;
            }
        }
    }
    assert!(compared > 10, "{compared}");
}

/// Symptom: a plate on one bolt, its wires tightened, had no solution ("rounding leaves 5.2 N out of balance").
/// Expected: it is worked out as the mechanism it is, and said so. Cause: on the way to the answer all of the plate's bed was tried
/// open at once, and what then held it was nothing.
/// The margins of one gear, which are worked out without what a report tells beside them, are exactly those of the check.
#[test]
fn the_margins_of_one_gear_are_those_of_the_check() {
    for name in ["survey-plane-fuse", "survey-plane-mount", "survey-plane-drop"] {
        let (project, whole) = (read(&example(name)), checked(name));
        for (index, gear) in project.gears.iter().enumerate() {
            let alone = analysis::gear_margins(&project, library(), index).expect("it has an answer");
            let own: Vec<_> = whole.margins.iter().filter(|m| m.gear == gear.name).cloned().collect();
            assert_eq!(alone.factors, whole.landing, "{name}, {}", gear.name);
            assert_eq!(alone.margins, own, "{name}, {}", gear.name);
        }
    }
}

#[test]
fn a_plate_on_one_bolt_is_worked_out_as_a_mechanism() {
    let text = example("survey-plane-mount");
    let line = text.lines().find(|l| l.starts_with("bolts = ")).expect("it has bolts");
    let result = solved(&read(&text.replace(line, "bolts = [[\"0 mm\", \"0 mm\"]]")));
    let turns: Vec<_> = result.margins.iter().filter(|m| m.check == "mount-turn").collect();
    assert!(!turns.is_empty(), "one wheel alone turns the plate");
    for margin in turns {
        assert_eq!(margin.value(), Some(-1.0), "nothing holds it: {margin:?}");
    }
}

/// The page argues the orders by hand and says what the tool has: that is what it has.
#[test]
fn the_page_of_the_examples_says_what_the_tool_says() {
    let page = fs::read_to_string("docs/examples/README.md").expect("the page can be read");
    let (_, page) = page.split_once("## What gives first").expect("it argues");
    let shown = |words: String| assert!(page.contains(&words), "the page should say: {words}");
    let at = |order: &FailureOrder, check: &str| {
        order.failures.iter().find(|f| f.check == check).unwrap_or_else(|| panic!("no {check}")).multiple
    };
    let case = |result: &CheckResult, id: &str| {
        result.cases.iter().find(|c| c.case.id() == id).expect("the case").limit.clone()
    };

    let plain = solved(&read(&example("survey-plane")));
    shown(format!(
        "({:.2}, because the lever is shorter",
        at(in_case(&plain, "one-wheel-whole"), "leg-yield")
    ));

    let mounted = &*MOUNTED;
    let bolts = case(mounted, "level").mount.expect("a mount").bolts;
    let most = bolts.iter().map(|b| b.tension.value).fold(0.0, f64::max);
    shown(format!("a bolt {most:.0} N, prying included"));
    let level = in_case(mounted, "level");
    shown(format!("The curve says {:.1} and {:.1}", at(level, "leg-yield"), at(level, "wire-yield")));
    let of_mount = [PartKind::Bolts, PartKind::Nuts, PartKind::Wood];
    assert!(level.failures.iter().all(|f| f.kind.is_none_or(|k| !of_mount.contains(&k))), "the mount never");

    let fuse = solved(&read(&example("survey-plane-fuse")));
    let mount = case(&fuse, "obstacle").mount.expect("a mount");
    shown(format!("(the tool: {:.0} N)", mount.bolts[0].tension.value));
    shown(format!("the tool has {:.0} N", mount.bolts[0].shear_size().value));
    shown(format!("which the report puts {:.0} mm aft", mount.bed.centre[0].value * 1e3));
    let rut = in_case(&fuse, "obstacle");
    shown(format!("at {:.2} times this rut", at(rut, "bolt-together")));
    shown(format!("stays bent at {:.2} times", at(rut, "base-yield")));
    let nose = solved(&read(&example("survey-plane-nose-single")));
    let side = in_case(&nose, "nose-side");
    assert_eq!(side.first().expect("something gives").check, "axle-yield");
    shown(format!("{:.1} times\nleg bends", at(side, "axle-yield")));
    shown(format!("on the curve {:.1}", at(side, "leg-yield")));
    let twin = solved(&read(&example("survey-plane-nose-twin")));
    assert!(twin.failure_orders.iter().all(|o| o.failures.is_empty()), "nothing gives up to six times");
    shown(format!("the axles at {:.1}, a nut at {:.1}", at(rut, "axle-yield"), at(rut, "nut-pull-through")));
}
