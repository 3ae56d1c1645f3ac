//! Mounts with a state put in by hand, and what the checks make of them.
#![allow(dead_code, reason = "each test binary uses a part of it")]

pub(crate) use super::worked::library;
use super::worked::{POST, read};
use gearleg::checks::{self, Subject};
use gearleg::material::Library;
use gearleg::model::{Mount, Preload, Project};
use gearleg::results::{
    BedState, BoltState, CaseName, CaseResult, Face, GearState, Margin, MountState, PeakStress, PlateForces,
    Theory, Working,
};
use gearleg::section::PlateSection;
use gearleg::units::{Force, Length, Moment, Stress};
use uom::si::energy::joule;
use uom::si::force::newton;
use uom::si::length::millimeter;

pub(crate) fn newtons(value: f64) -> Force {
    Force::new::<newton>(value)
}

pub(crate) fn newton_metres(value: f64) -> Moment {
    Moment::new::<joule>(value)
}

pub(crate) fn millimetres(value: f64) -> Length {
    Length::new::<millimeter>(value)
}

/// A mount of 6 mm birch plywood, all over backed, its bolts snug in their holes and without preload.
pub(crate) fn mount(library: &Library, thread: &str, class: &str) -> Mount {
    let bolt = library.thread(thread).expect("a thread of the tables").clone();
    let bolt_class = library.bolt_class(class, bolt.nominal).expect("a class of the tables").clone();
    Mount {
        bolt,
        bolt_class,
        bolts: vec![(millimetres(-20.0), millimetres(0.0)), (millimetres(20.0), millimetres(0.0))],
        hole: None,
        preload: None,
        nut_flange: None,
        nut_height: None,
        pull_through: None,
        foot: Some(millimetres(60.0)),
        wood: library.wood("birch-plywood").expect("a wood of the tables").clone(),
        wood_thickness: millimetres(6.0),
        doubler: None,
        span: None,
        glue: None,
    }
}

/// The mount tightened to a torque in N·m.
pub(crate) fn torqued(mount: Mount, torque: f64) -> Mount {
    Mount { preload: Some(Preload::Torque(newton_metres(torque))), ..mount }
}

/// A bolt without preload under pull and shear, N; what is pulled goes into it as it is.
pub(crate) fn bolt(tension: f64, shear: [f64; 2]) -> BoltState {
    BoltState {
        name: "2".to_owned(),
        at: [millimetres(20.0), millimetres(0.0)],
        tension: newtons(tension),
        shear: shear.map(newtons),
        pressed: newtons(0.0),
        preload: newtons(0.0),
        share: 0.2,
    }
}

/// The same with a preload, N, of which a fifth of the pull from outside goes into the bolt; together or open as it comes.
pub(crate) fn preloaded(pull: f64, preload: f64, shear: [f64; 2]) -> BoltState {
    let pressed = (preload - 0.8 * pull).max(0.0);
    BoltState {
        pressed: newtons(pressed),
        preload: newtons(preload),
        tension: newtons(pull + pressed),
        ..bolt(0.0, shear)
    }
}

/// A mount's state with these bolts; plate and bed do nothing.
pub(crate) fn state(bolts: Vec<BoltState>) -> MountState {
    let nowhere = [millimetres(0.0); 2];
    MountState {
        bolts,
        bed: BedState {
            push: newtons(0.0),
            centre: nowhere,
            pressure: Stress::default(),
            pressure_at: nowhere,
            uplift: millimetres(0.0),
            uplift_at: nowhere,
            contact: 1.0,
        },
        plate: Vec::new(),
        plate_peak: PeakStress {
            von_mises: Stress::default(),
            normal: Stress::default(),
            shear: Stress::default(),
            along: millimetres(0.0),
            face: Face::Lower,
            place: 0.0,
            section: PlateSection { width: millimetres(60.0), thickness: millimetres(5.0) },
            forces: PlateForces::default(),
        },
        wood: None,
        turn: None,
    }
}

/// A project whose one gear has this mount; ultimate factor 1.5.
pub(crate) fn project(mount: Option<Mount>) -> Project {
    // What its plate is made of and how it lands is of no matter for the mount's own checks.
    let text = POST.replace("metal = \"test\"", "metal = \"6082-T6\"").replace("\"30 mm\"", "\"60 mm\"");
    let mut project = read(&text);
    project.gears[0].mount = mount;
    project
}

fn gear_state(mount: MountState) -> GearState {
    GearState {
        wheels: Vec::new(),
        legs: Vec::new(),
        wires: Vec::new(),
        axles: Vec::new(),
        mount: Some(mount),
    }
}

/// A case in which the mount is in these states at limit and at ultimate load, and nothing else is known.
pub(crate) fn case(limit: MountState, ultimate: MountState) -> CaseResult {
    CaseResult {
        gear: 0,
        gear_name: "nose".to_owned(),
        case: CaseName::Own("by hand".to_owned()),
        loads: Vec::new(),
        rule: Working::default(),
        rule_source: String::new(),
        limit: gear_state(limit),
        ultimate: gear_state(ultimate),
        buckling_multiple: None,
        theory: Theory::Small,
        limit_load: None,
    }
}

/// All margins of the gear in a case.
pub(crate) fn margins(project: &Project, case: &CaseResult) -> Vec<Margin> {
    let gear = &project.gears[0];
    let gigapascals = |v: f64| Stress::new::<uom::si::pressure::gigapascal>(v);
    let subject = Subject { project, gear, modulus: gigapascals(70.0), poisson: 0.33 };
    checks::run_for_case(&subject, case)
}

/// The margin of a check for a part.
pub(crate) fn of<'m>(margins: &'m [Margin], check: &str, part: &str) -> &'m Margin {
    margins
        .iter()
        .find(|m| m.check == check && m.part == part)
        .unwrap_or_else(|| panic!("no margin of {check} for {part}"))
}

/// The value of a term of a margin's working, SI.
pub(crate) fn term(margin: &Margin, symbol: &str) -> f64 {
    let found = margin.working.terms.iter().find(|t| t.symbol == symbol);
    found.unwrap_or_else(|| panic!("no term {symbol} in {}", margin.check)).value.si()
}
