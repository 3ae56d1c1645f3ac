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
    let s = GearStatics::new(g, el, None).unwrap();
    let d = GearDrops::new(
        g,
        el,
        None,
        loads::drop_weight(&p, g),
        0.667,
        uom::si::f64::Length::new::<uom::si::length::meter>(0.03),
    )
    .unwrap();
    eprintln!("ZZZ");
    d.drop(uom::si::f64::Length::new::<uom::si::length::meter>(0.02));
    s.state(&cases[1].loads, 1.0);
}
