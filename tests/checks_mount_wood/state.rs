//! A gear and its mount's state, made of plain numbers.

use crate::common::{self, megapascals, mm, newtons};
use gearleg::checks::{self, Subject};
use gearleg::input::tables::builtin;
use gearleg::material::{Basis, Library, MetalBand, Sourced};
use gearleg::model::{
    Aircraft, CaseId, Gear, Glue, Grain, Landing, Layout, Mount, PlateMetal, Project, Severity,
    SpanDirection, SpanEdges, WoodSpan,
};
use gearleg::results::{
    BedState, BoltState, CaseName, CaseResult, Face, FormerEnd, FormerState, GearState, Margin, MountState,
    PeakStress, PlateForces, Station, Theory, Verdict, WoodState, Working,
};
use gearleg::section::PlateSection;
use gearleg::units::{Area, Mass, Moment};
use std::sync::LazyLock;
use uom::si::area::square_millimeter;
use uom::si::energy::joule;
use uom::si::mass::kilogram;

pub(crate) static LIBRARY: LazyLock<Library> =
    LazyLock::new(|| builtin().expect("the built-in tables are sound"));

/// The checks of this file that look at a landing, by id.
pub(crate) const OWN: [&str; 9] = [
    "base-yield",
    "base-net-section",
    "plate-bearing",
    "nut-pull-through",
    "wood-crush",
    "wood-bending",
    "wood-shear",
    "bolt-embedment",
    "glue-line",
];

pub(crate) fn joules(value: f64) -> Moment {
    Moment::new::<joule>(value)
}

/// A flat of 120 × 60 mm, 4 mm thick, of 240/290 MPa; four bolts M5 of class 8.8 at ±20 and ±45 mm in holes of 5.2 mm; birch plywood
/// of 6 mm that spans 100 mm athwart along its grain, 80 mm wide; captive nuts of 12 mm; 600 mm² of glue of 3 MPa.
pub(crate) fn gear() -> Gear {
    let mut gear = common::pair();
    let mut metal = common::test_metal();
    let told = |value| Some(Sourced::new(megapascals(value), Basis::Told, "made up for tests"));
    metal.bands = vec![MetalBand {
        over: mm(0.0),
        up_to: None,
        yield_strength: told(240.0),
        yield_maximum: None,
        ultimate: told(290.0),
        ultimate_maximum: None,
        elongation: None,
        hardness: None,
        bend_radius_90: None,
        bend_radius_180: None,
    }];
    gear.plate.metal = PlateMetal::Known(Box::new(metal));
    gear.mount = Some(Mount {
        bolt: LIBRARY.thread("M5").expect("a common thread").clone(),
        bolt_class: LIBRARY.bolt_class("8.8", mm(5.0)).expect("a common class").clone(),
        bolts: [(-20.0, -45.0), (20.0, -45.0), (-20.0, 45.0), (20.0, 45.0)]
            .map(|(x, y)| (mm(x), mm(y)))
            .to_vec(),
        hole: Some(mm(5.2)),
        preload: None,
        nut_flange: Some(mm(12.0)),
        nut_height: None,
        pull_through: None,
        foot: None,
        wood: LIBRARY.wood("birch-plywood").expect("a common wood").clone(),
        wood_thickness: mm(6.0),
        doubler: None,
        span: Some(WoodSpan {
            length: mm(100.0),
            direction: SpanDirection::Athwart,
            edges: SpanEdges::Clamped,
            grain: Some(Grain::Along),
            breadth: Some(mm(80.0)),
        }),
        glue: Some(Glue { area: Area::new::<square_millimeter>(600.0), strength: megapascals(3.0) }),
    });
    gear
}

pub(crate) fn mount_of(gear: &mut Gear) -> &mut Mount {
    gear.mount.as_mut().expect("it has one")
}

/// A station at mm from the port end with N, N·m flatwise and N·m edgewise.
pub(crate) fn station(along: f64, axial: f64, flat: f64, edge: f64) -> Station {
    Station {
        along: mm(along),
        section: PlateSection { width: mm(60.0), thickness: mm(4.0) },
        forces: PlateForces {
            axial: newtons(axial),
            bending_flat: joules(flat),
            bending_edge: joules(edge),
            ..PlateForces::default()
        },
    }
}

pub(crate) fn bolt(name: &str, at: [f64; 2], tension: f64, shear: [f64; 2]) -> BoltState {
    BoltState {
        name: name.into(),
        at: at.map(mm),
        tension: newtons(tension),
        shear: shear.map(newtons),
        pressed: newtons(0.0),
        preload: newtons(0.0),
        share: 0.1,
    }
}

pub(crate) fn former(end: FormerEnd, force: [f64; 3], moment: f64) -> FormerState {
    FormerState { end, force: force.map(newtons), moment: joules(moment) }
}

/// A mount's state, all its loads times a factor.
pub(crate) fn mount_state(k: f64) -> MountState {
    let stations = [
        station(0.0, 600.0 * k, 8.0 * k, 4.0 * k),
        station(15.0, 600.0 * k, 12.0 * k, -4.0 * k),
        station(15.0, 300.0 * k, 12.0 * k, -4.0 * k),
        station(120.0, 300.0 * k, -6.0 * k, 0.0),
    ];
    MountState {
        bolts: vec![
            bolt("1", [-20.0, -45.0], 1500.0 * k, [300.0 * k, -400.0 * k]),
            bolt("2", [20.0, -45.0], 0.0, [0.0, 0.0]),
            bolt("3", [-20.0, 45.0], 800.0 * k, [0.0, 0.0]),
            bolt("4", [20.0, 45.0], 0.0, [-500.0 * k, 0.0]),
        ],
        bed: BedState {
            push: newtons(2000.0 * k),
            centre: [mm(10.0), mm(0.0)],
            pressure: megapascals(5.0 * k),
            pressure_at: [mm(30.0), mm(45.0)],
            uplift: mm(0.1),
            uplift_at: [mm(-30.0), mm(0.0)],
            contact: 0.4,
        },
        plate: stations.to_vec(),
        plate_peak: PeakStress {
            von_mises: megapascals(150.0 * k),
            normal: megapascals(140.0 * k),
            shear: megapascals(31.0 * k),
            along: mm(15.0),
            face: Face::Lower,
            place: 0.5,
            section: PlateSection { width: mm(60.0), thickness: mm(4.0) },
            forces: stations[1].forces,
        },
        wood: Some(WoodState {
            breadth: mm(80.0),
            depth: mm(6.0),
            bending: joules(15.0 * k),
            bending_at: mm(0.0),
            shear: newtons(700.0 * k),
            sag: mm(0.3 * k),
            formers: [
                former(FormerEnd::Port, [200.0 * k, -100.0 * k, -200.0 * k], 2.0 * k),
                former(FormerEnd::Starboard, [200.0 * k, -100.0 * k, 900.0 * k], 0.0),
            ],
        }),
        turn: None,
    }
}

pub(crate) fn gear_state(mount: Option<MountState>) -> GearState {
    GearState { wheels: Vec::new(), legs: Vec::new(), wires: Vec::new(), axles: Vec::new(), mount }
}

/// Limit and ultimate load in the same state, so that every sum begins with the numbers of that state.
pub(crate) fn case(mount: &MountState) -> CaseResult {
    CaseResult {
        gear: 0,
        gear_name: "main".into(),
        case: CaseName::Known(CaseId::Level),
        loads: Vec::new(),
        rule: Working::default(),
        rule_source: String::new(),
        limit: gear_state(Some(mount.clone())),
        ultimate: gear_state(Some(mount.clone())),
        buckling_multiple: None,
        theory: Theory::Small,
        limit_load: None,
    }
}

pub(crate) fn project(gear: &Gear, ultimate_factor: f64) -> Project {
    Project {
        aircraft: Aircraft {
            name: "test".into(),
            mass: Mass::new::<kilogram>(12.0),
            layout: Layout::Tricycle,
            wing_area: None,
            nose_share: None,
        },
        landing: Landing {
            severity: Severity::LoadFactor(3.0),
            severity_at: None,
            wing_lift: 2.0 / 3.0,
            friction: 0.8,
            ultimate_factor,
            obstacle_drag: 1.0,
            cases: None,
        },
        gears: vec![gear.clone()],
        cases: Vec::new(),
        drop_tests: Vec::new(),
        bench: gearleg::model::Bench::default(),
        wish: gearleg::model::Wish::default(),
        readings: Vec::new(),
        written_units: Vec::new(),
        tolerances: Vec::new(),
    }
}

pub(crate) fn margins_with(gear: &Gear, mount: &MountState, ultimate_factor: f64) -> Vec<Margin> {
    let project = project(gear, ultimate_factor);
    let subject = Subject { project: &project, gear, modulus: megapascals(70_000.0), poisson: 0.33 };
    let mut all = checks::run_for_case(&subject, &case(mount));
    all.retain(|m| OWN.contains(&m.check));
    all
}

pub(crate) fn margins(gear: &Gear) -> Vec<Margin> {
    margins_with(gear, &mount_state(1.0), 1.5)
}

pub(crate) fn of<'m>(margins: &'m [Margin], check: &str, part: &str) -> &'m Margin {
    margins
        .iter()
        .find(|m| m.check == check && m.part == part)
        .unwrap_or_else(|| panic!("no margin of {check} for {part}"))
}

pub(crate) fn value(gear: &Gear, check: &str, part: &str) -> f64 {
    of(&margins(gear), check, part).value().expect("it is known")
}

pub(crate) fn term(m: &Margin, symbol: &str) -> f64 {
    m.working.terms.iter().find(|t| t.symbol == symbol).unwrap_or_else(|| panic!("no {symbol}")).value.si()
}

/// Why a check of a gear can't be told.
pub(crate) fn untold(gear: &Gear, check: &str) -> String {
    let all = margins(gear);
    let found: Vec<&Margin> = all.iter().filter(|m| m.check == check).collect();
    match found.as_slice() {
        [m, ..] => match &m.verdict {
            Verdict::Untold(why) => why.clone(),
            other => panic!("{check}: {other:?}"),
        },
        [] => panic!("no margin of {check}"),
    }
}
