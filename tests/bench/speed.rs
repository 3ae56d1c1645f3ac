//! How fast: a whole gear in all its landings, one linear solution, and how that grows with the mesh; samples, sizes, a graded sheet.
//!
//! Targets: forty points of a curve, up and back and yielding, under 20 ms; a braced gear, all cases, small displacements, under 1 ms; one linear solution with 24 elements a leg, factorisation
//! included, under 100 µs; growth in proportion to the number of elements.

#![allow(clippy::expect_used, clippy::indexing_slicing, reason = "a benchmark that can't go on should stop")]

#[path = "../common/mod.rs"]
mod common;
#[path = "../common/worked.rs"]
mod worked;

use common::{brace, pair, taper};
use criterion::{BenchmarkId, Criterion, Throughput};
use gearleg::analysis::{CurveRequest, GearAnalysis, GearDrops, GearStatics, PlateElasticity, PlateYield};
use gearleg::desk::grade;
use gearleg::diagnostic::SourceText;
use gearleg::input::project::Draft;
use gearleg::kernel::{Beam, Frame, NodalLoad, Rigidity, Section, Solver};
use gearleg::loads::{case_loads, drop_weight};
use gearleg::material::{StockForm, System};
use gearleg::model::{Aircraft, CaseId, Gear, Landing, Layout, Pattern, Project, Severity, WireFit};
use gearleg::results::CaseName;
use gearleg::search::size;
use gearleg::search::spread::{Request, spread};
use gearleg::units::Mass;
use std::hint::black_box;
use std::sync::Arc;
use uom::si::mass::kilogram;

fn project(gear: Gear) -> Project {
    Project {
        aircraft: Aircraft {
            name: "bench".to_owned(),
            mass: Mass::new::<kilogram>(12.4),
            layout: Layout::Tricycle,
            wing_area: None,
            nose_share: Some(0.12),
        },
        landing: Landing {
            severity: Severity::LoadFactor(3.5),
            severity_at: None,
            wing_lift: 0.667,
            friction: 0.8,
            ultimate_factor: 1.5,
            obstacle_drag: 1.0,
            cases: None,
        },
        gears: vec![gear],
        cases: Vec::new(),
        drop_tests: Vec::new(),
        bench: gearleg::model::Bench::default(),
        wish: gearleg::model::Wish::default(),
        readings: Vec::new(),
        written_units: Vec::new(),
        tolerances: Vec::new(),
    }
}

/// A leg pair that tapers both ways, with crossed wires that are tight.
fn braced() -> Gear {
    let mut gear = pair();
    gear.plate.thickness = taper(4.5, 3.5);
    gear.braces.push(brace(Pattern::Cross, 0.9, 55.0, WireFit::Pretension(common::newtons(20.0))));
    gear
}

/// Every case at limit and at ultimate load, the frame made anew.
fn whole_gear(c: &mut Criterion) {
    let project = project(braced());
    let gear = &project.gears[0];
    c.bench_function("braced gear, all cases", |b| {
        b.iter(|| {
            let cases = case_loads(black_box(&project), common::stated(&project));
            let mut analysis =
                GearAnalysis::new(gear, PlateElasticity::of(&gear.plate.metal)).expect("a sound gear");
            let mut most: f64 = 0.0;
            for case in &cases {
                for multiple in [1.0, project.landing.ultimate_factor] {
                    let state = analysis.solve(&case.loads, multiple).expect("the wires settle");
                    most = state.legs.iter().map(|l| l.peak.von_mises.value).fold(most, f64::max);
                }
            }
            most
        });
    });
    c.bench_function("braced gear, made ready", |b| {
        b.iter(|| GearAnalysis::new(black_box(gear), PlateElasticity::of(&gear.plate.metal)).is_ok());
    });
    let cases = case_loads(&project, common::stated(&project));
    let mut analysis = GearAnalysis::new(gear, PlateElasticity::of(&gear.plate.metal)).expect("a sound gear");
    c.bench_function("braced gear, one case again", |b| {
        b.iter(|| analysis.solve(black_box(&cases[0].loads), 1.0).is_ok());
    });
}

/// Two legs side by side, as of a pair, of so many elements each.
fn legs(elements: usize) -> (Frame, Vec<NodalLoad>) {
    let mut frame = Frame { sections: vec![Section::new(Vec::new())], ..Frame::default() };
    let mut loads = Vec::new();
    let rigidity = Rigidity { axial: 1.6e7, torsion: 33.0, bending_y: 22.0, bending_z: 5000.0 };
    for outward in [-1.0, 1.0] {
        let root = frame.nodes.len();
        frame.clamped.push(root);
        // 0.6 and 0.8: a unit vector without rounding.
        for i in 0..=elements {
            let s = 0.23 * i as f64 / elements as f64;
            frame.nodes.push([0.0, outward * (0.06 + 0.6 * s), -0.8 * s]);
        }
        for i in 0..elements {
            frame.beams.push(Beam {
                start: root + i,
                end: root + i + 1,
                axes: [[0.0, outward * 0.6, -0.8], [1.0, 0.0, 0.0], [0.0, -0.8, -outward * 0.6]],
                rigidity: [rigidity; 5],
                hinged_end: false,
                start_section: 0,
                end_section: 0,
                yielding: None,
            });
        }
        loads.push(NodalLoad { node: root + elements, load: [50.0, 0.0, 170.0, 3.0, 1.0, 2.0] });
    }
    (frame, loads)
}

/// Assembly, factorisation and one solution.
fn linear(c: &mut Criterion) {
    let mut group = c.benchmark_group("linear solution, elements a leg");
    for elements in [24, 48, 96, 192, 384] {
        let (frame, loads) = legs(elements);
        group.throughput(Throughput::Elements(2 * elements as u64));
        group.bench_with_input(BenchmarkId::from_parameter(elements), &frame, |b, frame| {
            b.iter(|| {
                let mut solver = Solver::new(black_box(frame)).expect("a sound frame");
                solver.solve(&loads).expect("a solution").displacements.len()
            });
        });
    }
    group.finish();
}

/// Twenty points up and twenty back of a braced gear that yields on the way, and how that grows with the mesh.
fn curve(c: &mut Criterion) {
    let project = project(braced());
    let gear = &project.gears[0];
    let loads = case_loads(&project, common::stated(&project))[0].loads.clone();
    let elastic = PlateElasticity::of(&gear.plate.metal);
    let soft =
        PlateYield { strength: common::megapascals(125.0), slope: common::megapascals(0.0), exponent: None };
    let multiples: Vec<f64> = (1..=20).map(|i| 0.085 * f64::from(i)).collect();
    let request = CurveRequest { multiples: Some(multiples), unload_from: Vec::new(), up_to: 0.0 };
    let case = CaseName::Known(CaseId::Level);
    let mut group = c.benchmark_group("curve of forty points with its marks, elements a leg");
    group.sample_size(20);
    for elements in [24, 48, 96] {
        let statics = GearStatics::with_elements(gear, elastic, Some(soft), elements).expect("a sound gear");
        let found = statics.curve(&case, &loads, &request);
        assert_eq!(found.points.len(), 40, "all points are reached: {:?}", found.limit);
        assert!(found.points[19].yielded, "it yields: {:?}", found.points[19]);
        group.throughput(Throughput::Elements(2 * elements as u64));
        group.bench_function(BenchmarkId::from_parameter(elements), |b| {
            b.iter(|| statics.curve(&case, black_box(&loads), &request).points.len());
        });
    }
    group.finish();
    let statics = GearStatics::new(gear, elastic, None).expect("a sound gear");
    c.bench_function("one state, large displacements", |b| {
        b.iter(|| statics.state(black_box(&loads), 1.0).is_some());
    });
    c.bench_function("drops from eight heights", |b| {
        let heights = [0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5].map(common::metres);
        b.iter(|| {
            let weight = drop_weight(&project, gear);
            GearDrops::new(gear, elastic, Some(soft), weight, 0.667, heights[7])
                .expect("a sound gear")
                .table(&heights)
                .drops
                .len()
        });
    });
}

/// The example on its mount: one small and one large state, and the whole check with what gives first.
fn mounted(c: &mut Criterion) {
    let text =
        std::fs::read_to_string("docs/examples/survey-plane-mount.toml").expect("the example can be read");
    let project = worked::read(&text);
    let gear = &project.gears[0];
    let elastic = PlateElasticity::of(&gear.plate.metal);
    let loads = case_loads(&project, common::stated(&project))[0].loads.clone();
    let mut small = GearAnalysis::new(gear, elastic).expect("a sound gear");
    c.bench_function("mounted gear, one case again", |b| {
        b.iter(|| small.solve(black_box(&loads), 1.0).is_ok());
    });
    let large = GearStatics::new(gear, elastic, None).expect("a sound gear");
    c.bench_function("mounted gear, one state, large displacements", |b| {
        b.iter(|| large.state(black_box(&loads), 1.0).is_some());
    });
    let mut group = c.benchmark_group("whole check");
    group.sample_size(10);
    group.bench_function("mounted gear", |b| b.iter(|| worked::solved(black_box(&project)).margins.len()));
    group.finish();
}

/// Samples a second of a landing that is given as a pilot's word: each is read, dropped and checked in all its cases, on all processors.
/// Target: 2000 of them within 20 s on two.
fn samples(c: &mut Criterion) {
    let text =
        std::fs::read_to_string("docs/examples/survey-plane-drop.toml").expect("the example can be read");
    let source = Arc::new(SourceText { name: "bench".into(), text });
    let draft = Draft::new(source).expect("the example is sound");
    let (project, _) = draft.read(worked::library(), &[]).expect("the example is sound");
    let request = Request { samples: 32, seed: 1, only_written: false, threads: None };
    let mut group = c.benchmark_group("spread");
    group.sample_size(10).throughput(Throughput::Elements(request.samples as u64));
    group.bench_function("samples of a dropped gear", |b| {
        b.iter(|| {
            let found = spread(&draft, &project, worked::library(), black_box(&request), &|_, _| ());
            assert_eq!(found.any_fails.of, 32, "every sample has an answer");
            found.margins.len()
        });
    });
    group.finish();
}

/// What six shop tests of a sheet come to, with the test to make next. A file whose plate is of such a sheet pays a part of it once.
/// Target: under a third of a second.
fn sheets(c: &mut Criterion) {
    let text = std::fs::read_to_string("docs/examples/shop-sheet.toml").expect("the example can be read");
    let source = Arc::new(SourceText { name: "bench".into(), text });
    let draft = Draft::new(source).expect("the example is sound");
    let library = worked::library();
    let (bench, ..) = draft.read_bench(library).expect("the example is sound");
    let mut group = c.benchmark_group("sheets");
    group.sample_size(10);
    group.bench_function("a sheet by six tests", |b| {
        b.iter(|| {
            let found = grade(black_box(&bench), library);
            assert!(found[0].misfits.is_empty(), "they fit");
            found[0].grades.len()
        });
    });
    group.finish();
}

/// The whole card of what is on sale for the plain demo gear: metals, thicknesses, with and without wires, in all its landings.
/// Target: all of it within 5 s on two processors.
fn sizes(c: &mut Criterion) {
    let text = std::fs::read_to_string("docs/examples/survey-plane.toml").expect("the example can be read");
    let source = Arc::new(SourceText { name: "bench".into(), text });
    let draft = Draft::new(source).expect("the example is sound");
    let library = worked::library();
    let sold = |form| {
        let rows = library.stock.iter().filter(|s| s.form == form && s.system == System::Metric);
        rows.map(|s| s.labels.len()).sum::<usize>()
    };
    let designs = sold(StockForm::SheetGrade) * sold(StockForm::Sheet) * (1 + sold(StockForm::Wire));
    let mut group = c.benchmark_group("sizes");
    group.sample_size(10).throughput(Throughput::Elements(designs as u64));
    group.bench_function("designs of a merchant's card", |b| {
        b.iter(|| {
            let found = size(black_box(&draft), library, true, &|_, _| ()).expect("a sound file");
            assert!(found.0.gears[0].card.len() > 10, "every metal has its row");
            found.0.gears.len()
        });
    });
    group.finish();
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    whole_gear(&mut criterion);
    linear(&mut criterion);
    curve(&mut criterion);
    samples(&mut criterion);
    sheets(&mut criterion);
    sizes(&mut criterion);
    mounted(&mut criterion);
    criterion.final_summary();
}
