#![allow(
    clippy::all,
    clippy::indexing_slicing,
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::expect_used,
    missing_docs,
    dead_code,
    unused
)]
#[path = "common/mod.rs"]
mod common;
use gearleg::analysis::*;
use gearleg::input;
use gearleg::loads;
use gearleg::results::*;
use std::sync::Arc;
use std::time::Instant;
#[test]
fn speed() {
    let lib = gearleg::input::tables::builtin().unwrap();
    for f in ["survey-plane", "survey-plane-braced"] {
        let path = std::path::PathBuf::from(format!("docs/examples/{f}.toml"));
        let (p, _) = gearleg::input::project::load_project(&path, &lib).unwrap();
        let g = &p.gears[0];
        let factors = LandingFactors { inertia: 3.5, ground_reaction: 2.833, wing_lift: 0.667 };
        let cases = loads::case_loads(&p, factors);
        let el = PlateElasticity::of(&g.plate.metal);
        let y = PlateYield::of(&g.plate);
        let s = GearStatics::new(g, el, y).unwrap();
        let lv = &cases[0].loads;
        let t = Instant::now();
        let m: Vec<f64> = (1..=20).map(|i| 0.09 * i as f64).collect();
        let c = s.curve(
            &cases[0].case,
            lv,
            &CurveRequest { multiples: Some(m), unload_from: vec![], up_to: 1.8 },
        );
        println!("{f} curve {} pts {:?} limit {:?}", c.points.len(), t.elapsed(), c.limit);
        for m in &c.marks {
            println!("  {} {:?} {}", m.multiple, m.what, m.part);
        }
        for q in c.points.iter().step_by(5) {
            println!(
                "   {:.3} {:?} y {:.4} z {:.4} {:.1} MPa {}",
                q.multiple,
                q.branch,
                q.wheels[1].displacement[1].value,
                q.wheels[1].displacement[2].value,
                q.peak_von_mises.value / 1e6,
                q.yielded
            );
        }
        for k in &cases {
            let t = Instant::now();
            let l = s.limit(&k.loads, 3.0);
            println!(" limit {} {:?} {:?}", k.case.id(), l, t.elapsed());
            let t = Instant::now();
            let st = s.state(&k.loads, 1.0).is_some();
            println!("   state {} {:?}", st, t.elapsed());
        }
        let t = Instant::now();
        let d = GearDrops::new(
            g,
            el,
            y,
            loads::drop_weight(&p, g),
            0.667,
            uom::si::f64::Length::new::<uom::si::length::meter>(0.5),
        )
        .unwrap();
        println!("drops path {:?}", t.elapsed());
        let t = Instant::now();
        for h in [0.02, 0.05, 0.1, 0.2, 0.234, 0.3] {
            let h = uom::si::f64::Length::new::<uom::si::length::meter>(h);
            let x = d.drop(h);
            println!(
                " {:?} {:?}",
                h,
                x.outcome.map(|o| (
                    o.inertia_load_factor,
                    o.deflection.value,
                    o.set.value,
                    o.set_angle.value.to_degrees(),
                    o.rebound_height.value
                ))
            );
            if let Some([a, b, c]) = d.balance(h) {
                println!("   balance {:e}", (a - b - c).value / a.value);
            }
        }
        println!("drops {:?} noset {:?} surv {:?}", t.elapsed(), d.highest_without_set(), d.survives());
    }
}
#[test]
fn debug() {
    let lib = gearleg::input::tables::builtin().unwrap();
    let path = std::path::PathBuf::from(format!("docs/examples/survey-plane.toml"));
    let (p, _) = gearleg::input::project::load_project(&path, &lib).unwrap();
    let g = &p.gears[0];
    let el = PlateElasticity::of(&g.plate.metal);
    let factors = LandingFactors { inertia: 3.5, ground_reaction: 2.833, wing_lift: 0.667 };
    let cases = loads::case_loads(&p, factors);
    let y = PlateYield::of(&g.plate);
    let s = GearStatics::new(g, el, y).unwrap();
    match std::env::var("WHICH").unwrap().as_str() {
        "level" => {
            s.state(&cases[0].loads, 1.0);
        }
        "side" => {
            let k = cases.iter().find(|c| c.case.id() == "side").unwrap();
            s.limit(&k.loads, 3.0);
        }
        "limit" => {
            s.limit(&cases[0].loads, 3.0);
        }
        _ => {}
    }
}

#[test]
fn perf() {
    let lib = gearleg::input::tables::builtin().unwrap();
    let path = std::path::PathBuf::from(format!("docs/examples/survey-plane-braced.toml"));
    let (p, _) = gearleg::input::project::load_project(&path, &lib).unwrap();
    let g = &p.gears[0];
    let el = PlateElasticity::of(&g.plate.metal);
    let y = PlateYield::of(&g.plate).map(|mut y| {
        y.strength = y.strength * 0.4;
        y
    });
    let factors = LandingFactors { inertia: 3.5, ground_reaction: 2.833, wing_lift: 0.667 };
    let cases = loads::case_loads(&p, factors);
    let s = GearStatics::new(g, el, y).unwrap();
    let m: Vec<f64> = (1..=20).map(|i| 0.09 * i as f64).collect();
    let t = Instant::now();
    for _ in 0..40 {
        let c = s.curve(
            &cases[0].case,
            &cases[0].loads,
            &CurveRequest { multiples: Some(m.clone()), unload_from: vec![], up_to: 1.8 },
        );
        assert!(c.points.len() == 40);
    }
    println!("curve {:?}", t.elapsed() / 40);
    let t = Instant::now();
    for _ in 0..200 {
        s.state(&cases[0].loads, 1.0);
    }
    println!("state {:?}", t.elapsed() / 200);
}
#[test]
fn nl() {
    let lib = gearleg::input::tables::builtin().unwrap();
    let mut names: Vec<_> = std::fs::read_dir("tests/validation/oracle/gears")
        .unwrap()
        .filter_map(|e| {
            let p = e.unwrap().path();
            p.file_stem().unwrap().to_str().unwrap().starts_with("nl-").then_some(p)
        })
        .collect();
    names.sort();
    for path in names {
        let (p, _) = gearleg::input::project::load_project(&path, &lib).unwrap();
        let name = path.file_stem().unwrap().to_str().unwrap();
        let d: serde_json::Value = serde_json::from_str(
            &std::fs::read_to_string(format!("tests/validation/oracle/answers/{name}.json")).unwrap(),
        )
        .unwrap();
        for c in &p.cases {
            let g = &p.gears[c.gear];
            let s =
                GearStatics::new(g, PlateElasticity::of(&g.plate.metal), PlateYield::of(&g.plate)).unwrap();
            let dc = d["cases"].as_array().unwrap().iter().find(|x| x["case"] == c.name.as_str()).unwrap();
            let m: Vec<f64> =
                dc["points"].as_array().unwrap().iter().map(|q| q["multiple"].as_f64().unwrap()).collect();
            let t = Instant::now();
            let cv = s.curve(
                &CaseName::Own(c.name.clone()),
                &c.loads,
                &CurveRequest { multiples: Some(m.clone()), unload_from: vec![], up_to: 0. },
            );
            println!(
                "{name} {} want {:?} got {} limit {:?} stops {} {:?}",
                c.name,
                m,
                cv.points.iter().filter(|p| p.branch == Branch::Loading).count(),
                cv.limit,
                dc["load_stops_at"],
                t.elapsed()
            );
        }
    }
}
