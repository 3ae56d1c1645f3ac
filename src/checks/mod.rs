//! What can go wrong with a leg: one failure mode to a file, each a plain function from a case's result to
//! margins, all registered in one list.
//!
//! Limit load: nothing yields (factor 1). Ultimate load: nothing breaks or collapses (the file's ultimate factor).
//! Attachments also carry the fitting factor; only the largest special factor is applied.
//! Source: 14 CFR 23.303, 23.305, 23.619, 23.625 before amendment 23-64 (23.303 from memory).

mod axle_thread;
mod axle_yield;
mod base_net;
mod base_yield;
mod bend_radius;
mod bolt;
mod bolt_interaction;
mod bolt_shear;
mod bolt_tension;
mod bolt_yield;
mod fork_bearing;
mod fork_pin;
mod give_first;
mod glue_line;
mod hole_edge;
mod holes;
mod joint_separation;
mod landing_energy;
mod leg_collapse;
mod leg_column;
mod leg_lateral;
mod leg_yield;
mod limit_load;
mod mount_turn;
mod nut_pull_through;
mod plate_bearing;
mod plate_hole;
mod thread_strip;
mod wheel_drop;
mod wheel_spread;
mod wheel_toe;
mod wire_anchor_base;
mod wire_anchor_leg;
mod wire_break;
mod wire_end;
mod wire_hook;
mod wire_yield;
mod wood;
mod wood_bending;
mod wood_crush;
mod wood_embedment;
mod wood_shear;

pub use base_net::{hole_factor_bending, hole_factor_tension};
pub use bolt_interaction::{pull_and_shear_en1993, pull_and_shear_nasa5020};
pub use landing_energy::ENERGY_RESERVE;
pub use leg_collapse::{collapse_stress, largest_collapse_stress};
pub use leg_lateral::lateral_buckling_constant;
pub use nut_pull_through::{flange_bearing_resistance, punching_resistance};
pub use plate_bearing::BoltBearing;
pub use wood_embedment::BoltInWood;

use crate::material::{MetalBand, Sourced};
use crate::model::{Gear, PartKind, Plate, PlateMetal, Project};
use crate::results::{Amount, CaseResult, FailureOrder, LandingDrop, Margin, Verdict, Working};
use crate::units::Stress;

/// Factor on fittings and attachments. Source: 14 CFR 23.625(a) before amendment 23-64.
pub const FITTING_FACTOR: f64 = 1.15;

/// What a check looks at.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// The whole project.
    pub project: &'a Project,
    /// The gear.
    pub gear: &'a Gear,
    /// Young's modulus the plate has, or is taken to have.
    pub modulus: Stress,
    /// Poisson's ratio the plate has, or is taken to have.
    pub poisson: f64,
}

/// A failure mode.
#[derive(Debug, Clone, Copy)]
pub struct Check {
    /// Fixed id, used in JSON.
    pub id: &'static str,
    /// What the part would do, to follow its name: "stays bent".
    pub words: &'static str,
    /// How it looks at a gear.
    scope: Scope,
    /// The kind of part that gives when the allowable is reached; `None` for what is no failure of a part, such as a limit of the
    /// user's own.
    pub fails: Option<PartKind>,
    /// Special factor in its margins beyond that of limit or ultimate load: the fitting factor, or one.
    pub special: f64,
}

/// Whether a check depends on the landing.
#[derive(Debug, Clone, Copy)]
enum Scope {
    /// Once for each case.
    Case(fn(&Subject<'_>, &CaseResult) -> Vec<Margin>),
    /// Once for the gear.
    Gear(fn(&Subject<'_>) -> Vec<Margin>),
    /// Once for the landing as a drop of the gear.
    Drop(fn(&Subject<'_>, &LandingDrop) -> Vec<Margin>),
    /// Once for the order in which parts give in a case.
    Order(fn(&Subject<'_>, &FailureOrder) -> Vec<Margin>),
}

/// Every check, in the order in which one case's margins are made.
pub const CHECKS: &[Check] = &[
    leg_yield::CHECK,
    leg_collapse::CHECK,
    leg_lateral::CHECK,
    leg_column::CHECK,
    limit_load::CHECK,
    landing_energy::CHECK,
    bend_radius::CHECK,
    axle_yield::CHECK,
    axle_thread::CHECK,
    fork_pin::CHECK,
    fork_bearing::CHECK,
    wire_yield::CHECK,
    wire_break::CHECK,
    wire_end::CHECK,
    base_yield::CHECK,
    base_net::CHECK,
    plate_bearing::CHECK,
    hole_edge::CHECK,
    nut_pull_through::CHECK,
    wood_crush::CHECK,
    wood_bending::CHECK,
    wood_shear::CHECK,
    wood_embedment::CHECK,
    glue_line::CHECK,
    give_first::CHECK,
    bolt_yield::CHECK,
    bolt_tension::CHECK,
    bolt_shear::CHECK,
    bolt_interaction::CHECK,
    joint_separation::CHECK,
    thread_strip::NUT,
    thread_strip::BOLT,
    mount_turn::CHECK,
    wire_hook::CHECK,
    wire_anchor_leg::CHECK,
    wire_anchor_base::CHECK,
    wheel_spread::CHECK,
    wheel_drop::CHECK,
    wheel_toe::CHECK,
];

/// The check with an id.
#[must_use]
pub fn find(id: &str) -> Option<&'static Check> {
    CHECKS.iter().find(|c| c.id == id)
}

/// Margins of every check in the order of the list, as far as `run` has any for its scope.
fn run_all(run: impl Fn(Scope) -> Vec<Margin>) -> Vec<Margin> {
    CHECKS.iter().flat_map(|c| run(c.scope)).collect()
}

/// Margins of everything that does not depend on the landing.
#[must_use]
pub fn run_for_gear(subject: &Subject<'_>) -> Vec<Margin> {
    run_all(|scope| if let Scope::Gear(run) = scope { run(subject) } else { Vec::new() })
}

/// Margins of the landing as a drop of the gear.
#[must_use]
pub fn run_for_drop(subject: &Subject<'_>, landing: &LandingDrop) -> Vec<Margin> {
    run_all(|scope| if let Scope::Drop(run) = scope { run(subject, landing) } else { Vec::new() })
}

/// Margins of one case.
#[must_use]
pub fn run_for_case(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    run_all(|scope| if let Scope::Case(run) = scope { run(subject, case) } else { Vec::new() })
}

/// The margin of the gear's limit load in one case.
#[must_use]
pub fn run_limit_load(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let Scope::Case(run) = limit_load::CHECK.scope else { return Vec::new() };
    run(subject, case)
}

/// Margins of the order in which parts give in one case.
#[must_use]
pub fn run_for_order(subject: &Subject<'_>, order: &FailureOrder) -> Vec<Margin> {
    run_all(|scope| if let Scope::Order(run) = scope { run(subject, order) } else { Vec::new() })
}

/// Margins of one case by the checks whose allowable is a part's own strength; wires' ends and breaks aside, which a gear's curve
/// itself has.
#[must_use]
pub fn run_failures(subject: &Subject<'_>, case: &CaseResult) -> Vec<(&'static Check, Margin)> {
    let of_parts = CHECKS.iter().filter(|c| c.fails.is_some() && !matches!(c.id, "wire-break" | "wire-end"));
    of_parts
        .flat_map(|c| match c.scope {
            Scope::Case(run) => run(subject, case).into_iter().map(|m| (c, m)).collect(),
            Scope::Gear(_) | Scope::Drop(_) | Scope::Order(_) => Vec::new(),
        })
        .collect()
}

/// A margin with the names filled in, still to be decided.
fn margin(
    check: &Check,
    subject: &Subject<'_>,
    case: &CaseResult,
    part: impl Into<String>,
    applied: Amount,
) -> Margin {
    Margin {
        check: check.id,
        gear: subject.gear.name.clone(),
        part: part.into(),
        case: Some(case.case.clone()),
        applied,
        allowable: None,
        factor: 1.0,
        verdict: Verdict::Untold(String::new()),
        basis: None,
        source: String::new(),
        working: Working::default(),
    }
}

/// A strength of the plate's metal in the thickness of its sheet, or why it can't be told.
fn plate_strength<'p>(
    plate: &'p Plate,
    what: &str,
    pick: impl Fn(&'p MetalBand) -> Option<&'p Sourced<Stress>>,
) -> Result<&'p Sourced<Stress>, String> {
    let PlateMetal::Known(metal) = &plate.metal else {
        return Err("nobody knows the metal's grade".to_owned());
    };
    let band = metal
        .band(plate.sheet_thickness())
        .ok_or_else(|| format!("the tables have no values for {} in this thickness", metal.name))?;
    pick(band)
        .ok_or_else(|| format!("the specification of {} gives no lower limit of its {what}", metal.name))
}

/// The plate's tensile strength, or why it can't be told.
fn plate_ultimate(plate: &Plate) -> Result<&Sourced<Stress>, String> {
    plate_strength(plate, "tensile strength", |band| band.ultimate.as_ref())
}

/// Sets the plate's yield strength as the allowable and decides, or says why it can't be told.
fn against_plate_yield(mut m: Margin, gear: &Gear) -> Margin {
    let strength = match plate_strength(&gear.plate, "yield strength", |band| band.yield_strength.as_ref()) {
        Ok(strength) => strength,
        Err(why) => return m.untold(why),
    };
    m.allowable = Some(Amount::Stress(strength.value));
    m.basis = Some(strength.basis);
    // The rule first, then where the strength comes from.
    m.source = format!("{}; {}", m.source, strength.source);
    m.decided()
}
