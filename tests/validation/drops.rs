//! Drops: the published formulas and examples, closed forms, and the balance of energy of every landing of the example gears.

use crate::common::{brace, load, mm, newtons, pair, si, taper};
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::analysis::{
    CurveRequest, GearAnalysis, GearDrops, GearStatics, PlateElasticity, PlateYield, effective_share,
    height_for, published_drop, published_speed, reaction_factor, speed_after,
};
use gearleg::input::project::load_project;
use gearleg::input::tables::builtin;
use gearleg::loads::{GearWeight, drop_weight};
use gearleg::model::{CaseId, CaseWheelLoad, Gear, Pattern, Project, Side, WireFit};
use gearleg::results::{Branch, CaseName, MarkKind};
use gearleg::units::{Acceleration, Length, STANDARD_GRAVITY, Stress};
use uom::si::acceleration::meter_per_second_squared;
use uom::si::length::meter;
use uom::si::pressure::pascal;

const TOPIC: &str = "Drops";

fn m(value: f64) -> Length {
    Length::new::<meter>(value)
}

pub(crate) fn records() -> Vec<Record> {
    vec![published(), weights(), floors(), spring(), balance(), quadrature(), rebound(), broken()]
}

fn published() -> Record {
    let mut out = record(
        TOPIC,
        "n_j of a drop of 0.283 m, travel 92 mm, efficiency 0.63, lift 2/3; with its lift; at 1.2 V, lift = weight",
        (
            "a public design report of an unmanned aeroplane (second-hand): 5.40, 6.07, 7.0",
            Provenance::Published,
        ),
        (Tolerance::Within(5e-3), "its input is rounded to three digits"),
    );
    let n = reaction_factor(m(0.283), m(0.092), 2.0 / 3.0, 0.63);
    out.point("n_j", n, 5.40);
    out.point("n", n + 2.0 / 3.0, 6.07);
    out.point("n_j in reserve", reaction_factor(m(1.44 * 0.283), m(0.092), 1.0, 0.63), 7.03);
    out
}

fn weights() -> Record {
    let mut out = record(
        TOPIC,
        "effective weight of 100 N dropped 0.25 m, travel 60 mm, lift 2/3; the factors it gives; its reserve",
        ("14 CFR 23.725(b), (e), 23.727 (fractions from memory)", Provenance::FromMemory),
        (Tolerance::Within(1e-5), "five digits by hand"),
    );
    let (h, d, lift) = (m(0.25), m(0.06), 2.0 / 3.0);
    let share = effective_share(h, d, lift);
    out.point("W_e", 100.0 * share, 87.097);
    out.point("n from n_j = 4", 4.0 * share + lift, 4.1505);
    out.point("n from n_j = 6", 6.0 * share + lift, 5.8925);
    out.point("W_e in reserve", 100.0 * effective_share(1.44 * h, d, 1.0), 85.714);
    out
}

fn floors() -> Record {
    let mut out = record(
        TOPIC,
        "published drop and descent speed: floors, and 400 and 2000 N/m²; speed of a fall and back",
        ("14 CFR 23.473(d), 23.725(a), in SI", Provenance::Published),
        (Tolerance::Within(1e-3), "constants printed to four digits"),
    );
    let project = example("survey-plane");
    let at = |loading: Option<f64>| {
        let mut p = project.clone();
        p.aircraft.wing_area = loading.map(|w| {
            p.aircraft.mass * Acceleration::new::<meter_per_second_squared>(STANDARD_GRAVITY)
                / Stress::new::<pascal>(w)
        });
        (published_drop(&p).value, published_speed(&p).value)
    };
    for (loading, drop, speed) in [
        (None, 9.2 * 0.0254, 7.0 * 0.3048),
        (Some(132.0), 9.2 * 0.0254, 7.0 * 0.3048),
        (Some(400.0), 0.013_215 * 20.0, 0.5098 * 400.0_f64.powf(0.25)),
        (Some(2000.0), 18.7 * 0.0254, 10.0 * 0.3048),
    ] {
        let (d, v) = at(loading);
        out.point(format!("drop at {loading:?} N/m²"), d, drop);
        out.point(format!("speed at {loading:?} N/m²"), v, speed);
    }
    out.point("speed after 0.234 m", speed_after(m(0.234)).value, (2.0 * 9.806_65 * 0.234_f64).sqrt());
    out.point("height for it", height_for(speed_after(m(0.234))).value, 0.234);
    out
}

/// A gear so stiff that small displacements hold: a spring.
fn spring() -> Record {
    let mut out = record(
        TOPIC,
        "a stiff gear, tyre or not: factor and travel of a fall on a spring, k d²/2 = W [h + (1 − L) d]",
        ("closed form, the spring's rate from the linear solver", Provenance::ClosedForm),
        (Tolerance::Within(2e-3), "the gear moves a thousandth of its leg"),
    );
    let mut gear = pair();
    gear.plate.thickness = taper(12.0, 12.0);
    let weight = 1.2;
    let lift = 2.0 / 3.0;
    let loads: Vec<CaseWheelLoad> =
        [Side::Left, Side::Right].map(|s| load(s, [0.0, 0.0, weight / 2.0])).into();
    let rise = GearAnalysis::new(&gear, PlateElasticity::of(&gear.plate.metal))
        .and_then(|mut a| a.solve(&loads, 1.0))
        .expect("a sound gear")
        .wheels[0]
        .displacement[2]
        .value;
    let legs = weight / rise;
    for tyre in [None, Some(40_000.0)] {
        gear.wheel.tyre_stiffness = tyre.map(|k| newtons(k) / m(1.0));
        let k = tyre.map_or(legs, |t| 1.0 / (1.0 / legs + 1.0 / (2.0 * t)));
        let drops = GearDrops::new(
            &gear,
            PlateElasticity::of(&gear.plate.metal),
            None,
            GearWeight { loads: loads.clone() },
            lift,
            m(0.001),
        )
        .expect("a sound gear");
        for h in [1e-5, 1e-4, 5e-4] {
            let free = (1.0 - lift) * weight;
            let d = (free + (free * free + 2.0 * k * weight * h).sqrt()) / k;
            let found = drops.drop(m(h)).outcome.expect("it holds");
            out.point(
                format!("factor at {h} m, tyre {tyre:?}"),
                found.ground_reaction_factor,
                k * d / weight,
            );
            out.point(format!("travel at {h} m, tyre {tyre:?}"), found.deflection.value, d);
            out.point(format!("efficiency at {h} m"), found.efficiency, 0.5);
        }
    }
    out
}

fn example(name: &str) -> Project {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("docs/examples/{name}.toml"));
    load_project(&path, &builtin().expect("the tables are sound")).expect("the example is accepted").0
}

const GEARS: [&str; 4] =
    ["survey-plane", "survey-plane-braced", "survey-plane-nose-single", "survey-plane-nose-twin"];

fn followed<'g>(project: &'g Project, gear: &'g Gear, lift: f64) -> GearDrops<'g> {
    let elastic = PlateElasticity::of(&gear.plate.metal);
    GearDrops::new(gear, elastic, PlateYield::of(&gear.plate), drop_weight(project, gear), lift, m(0.5))
        .expect("a sound gear")
}

fn balance() -> Record {
    let mut out = record(
        TOPIC,
        "energy of the fall = work on the legs + work on the tyres, and n_j by its formula, every example gear, ten heights, with lift and without",
        ("balance of energy", Provenance::ClosedForm),
        (Tolerance::Within(1e-6), "what the project asks for"),
    );
    for name in GEARS {
        for tyre in [None, Some(20_000.0)] {
            let mut project = example(name);
            for gear in &mut project.gears {
                gear.wheel.tyre_stiffness = tyre.map(|k| newtons(k) / m(1.0));
            }
            for gear in &project.gears {
                for lift in [0.0, 2.0 / 3.0, 1.0] {
                    let drops = followed(&project, gear, lift);
                    let mut held = 0;
                    for h in [0.0002, 0.001, 0.005, 0.01, 0.02, 0.05, 0.08, 0.12, 0.16, 0.2].map(m) {
                        if let Some([fall, legs, tyres]) = drops.balance(h) {
                            out.point(
                                format!("{name}, lift {lift}, {h:?}"),
                                (legs + tyres).value,
                                fall.value,
                            );
                            held += 1;
                            let o = drops.drop(h).outcome.expect("it has a balance");
                            if o.marks.iter().all(|m| m.what != MarkKind::WireBreaks) {
                                let by_formula = reaction_factor(h, o.deflection, lift, o.efficiency);
                                out.point(
                                    format!("{name}, n_j at {h:?}"),
                                    o.ground_reaction_factor,
                                    by_formula,
                                );
                            }
                        }
                    }
                    assert!(held > 0, "{name} survives some drop");
                }
            }
        }
    }
    out
}

/// Work on the gear, as the fibres and wires account for it, against the area under the force–travel curve.
fn quadrature() -> Record {
    let mut out = record(
        TOPIC,
        "work that fibres, torsion and wires account for = area under force over travel, up and back, yielding",
        ("the trapezoidal rule at 160 and 320 points, extrapolated", Provenance::ClosedForm),
        (Tolerance::Within(2e-5), "the rule's error at 320 steps"),
    );
    for name in ["survey-plane", "survey-plane-braced"] {
        let project = example(name);
        let gear = &project.gears[0];
        let loads = drop_weight(&project, gear).loads;
        let statics =
            GearStatics::new(gear, PlateElasticity::of(&gear.plate.metal), PlateYield::of(&gear.plate))
                .expect("a sound gear");
        let top = if name == "survey-plane" { 3.9 } else { 9.5 };
        let areas = [160, 320].map(|n| {
            let multiples = (1..=n).map(|i| top * f64::from(i) / f64::from(n)).collect();
            let request = CurveRequest { multiples: Some(multiples), unload_from: Vec::new(), up_to: 0.0 };
            let curve = statics.curve(&CaseName::Known(CaseId::Level), &loads, &request);
            let mut area = [0.0; 2];
            let (mut force, mut rise) = (0.0, 0.0);
            for point in &curve.points {
                let f = point.multiple * loads.iter().map(|l| l.up.value).sum::<f64>();
                let z = point.wheels.iter().map(|w| si(w.displacement)[2]).sum::<f64>()
                    / point.wheels.len() as f64;
                area[usize::from(point.branch == Branch::Unloading)] += 0.5 * (f + force) * (z - rise);
                (force, rise) = (f, z);
            }
            (area, curve.absorbed.value, curve.returned.value)
        });
        let [(coarse, ..), (fine, absorbed, returned)] = areas;
        let better = [0, 1].map(|i| fine[i] + (fine[i] - coarse[i]) / 3.0);
        out.point(format!("{name}, absorbed"), absorbed, better[0]);
        out.point(format!("{name}, returned"), returned, -better[1]);
        assert!(absorbed > returned * 1.001, "{name} yields");
    }
    out
}

fn rebound() -> Record {
    let mut out = record(
        TOPIC,
        "a gear that stays elastic bounces to the height it fell from, with lift and without",
        ("nothing is lost", Provenance::ClosedForm),
        (Tolerance::Within(1e-6), "energy balances to that"),
    );
    let project = example("survey-plane");
    for lift in [0.0, 0.5, 2.0 / 3.0, 1.0] {
        let drops = followed(&project, &project.gears[0], lift);
        for h in [0.01, 0.03] {
            let found = drops.drop(m(h)).outcome.expect("it holds");
            assert!(!found.yielded);
            out.point(format!("{h} m, lift {lift}"), found.rebound_height.value, h);
            out.scaled(format!("set at {h} m, lift {lift}"), found.set.value, 0.0, mm(1.0).value);
        }
    }
    out
}

/// Two equal ties, slack at first, that break together: what is left are the bare legs, and a broken wire takes up no more.
fn broken() -> Record {
    let mut out = record(
        TOPIC,
        "after both of two ties break at once: force of the bare legs at the same travel; efficiency never above one",
        ("the same gear without ties", Provenance::ClosedForm),
        (Tolerance::Within(1e-6), "an elastic gear forgets its wires"),
    );
    let mut bare = pair();
    bare.plate.thickness = taper(4.0, 4.0);
    let mut tied = bare.clone();
    for _ in 0..2 {
        let mut tie = brace(Pattern::Tie, 0.9, 0.0, WireFit::Slack(mm(2.0)));
        tie.diameter = mm(0.35);
        tied.braces.push(tie);
    }
    let weight = 120.0;
    let loads: Vec<CaseWheelLoad> =
        [Side::Left, Side::Right].map(|s| load(s, [0.0, 0.0, weight / 2.0])).into();
    let drops = |gear| {
        GearDrops::new(
            gear,
            PlateElasticity::of(&bare.plate.metal),
            None,
            GearWeight { loads: loads.clone() },
            0.0,
            m(0.3),
        )
        .expect("a sound gear")
    };
    let (with, without) = (drops(&tied), drops(&bare));
    let mut after = 0;
    for step in 1..=30 {
        let height = 0.01 * f64::from(step);
        let Some(found) = with.drop(m(height)).outcome else { continue };
        assert!(found.efficiency <= 1.0, "{height}: {}", found.efficiency);
        let breaks = found.marks.iter().filter(|m| m.what == MarkKind::WireBreaks).count();
        assert!(breaks == 0 || breaks == 2, "{height}: both at once");
        if breaks == 2 {
            after += 1;
            // At the same travel the bare legs carry the same: look for the drop that has it.
            let (mut low, mut high) = (0.0, 0.3);
            for _ in 0..60 {
                let middle = 0.5 * (low + high);
                match without.drop(m(middle)).outcome {
                    Some(o) if o.deflection < found.deflection => low = middle,
                    _ => high = middle,
                }
            }
            let same = without.drop(m(low)).outcome.expect("it holds");
            let unloaded = found.left.from_multiple;
            out.point(format!("force after {height} m"), unloaded, same.left.from_multiple);
        }
    }
    assert!(after > 0, "the ties break");
    out
}
