//! The result of `gearleg check` as JSON: SI numbers, the unit in the key's name.

use super::figure::UnitChoice;
use super::landing::landing_json;
use super::mount_json::{bolts_json, failure_order_json, held_by_json, mount_json};
use super::remarks::{bench_steps, cautions, remarks};
use super::theory::{small_stress, theory_id, theory_note};
use super::verdict::verdict;
use super::view::{margin_sum, place_words, working_line};
use crate::material::Basis;
use crate::model::Project;
use crate::results::{BenchTest, CaseResult, CheckResult, CollapseCause, Margin, Verdict};
use serde_json::{Value, json};

/// Version of the project file's and the output's format.
const FORMAT: u32 = 1;

/// Added to a number, takes the sign off a zero.
const NO_SIGN: f64 = 0.0;

/// Writes the result.
#[must_use]
pub fn check_json(project: &Project, result: &CheckResult) -> Value {
    let units = UnitChoice::from_written(project.written_units.iter().copied());
    json!({
        "gearleg": env!("CARGO_PKG_VERSION"),
        "format": FORMAT,
        "aircraft": { "name": project.aircraft.name, "mass_kg": project.aircraft.mass.value },
        "landing": {
            "inertia_load_factor": result.landing.inertia,
            "ground_reaction_factor": result.landing.ground_reaction,
            "wing_lift": result.landing.wing_lift,
            "drops": landing_json(result),
        },
        "verdict": verdict(project, result, &units),
        "cases": result.cases.iter().map(|c| case(c, &units)).collect::<Vec<_>>(),
        "margins": result.margins.iter().map(|m| margin(m, &units)).collect::<Vec<_>>(),
        "required_yield": result.required_yield.iter().map(|r| json!({
            "gear": r.gear,
            "case": r.case.id(),
            "yield_Pa": r.yield_strength.value,
            "yield_range_Pa": r.range.map(|(a, b)| [a.value, b.value]),
            "grades_that_hold": r.grades_that_hold,
            "grades_that_bend": r.grades_that_bend,
        })).collect::<Vec<_>>(),
        "bench_tests": result.bench_tests.iter().map(|t| offcut(t, &units)).collect::<Vec<_>>(),
        "bracing": result.bracing.iter().map(|b| json!({
            "gear": b.gear,
            "case": b.case.id(),
            "stress_without_Pa": b.stress.0.value,
            "stress_with_Pa": b.stress.1.value,
            "sideways_without_m": b.sideways.0.value,
            "sideways_with_m": b.sideways.1.value,
            "fore_and_aft_without_m": b.fore_and_aft.0.value,
            "fore_and_aft_with_m": b.fore_and_aft.1.value,
            "slack": b.slack,
            "bolt_pull_without_N": b.bolt_pull.map(|p| p.0.value),
            "bolt_pull_with_N": b.bolt_pull.map(|p| p.1.value),
            "wood_bending_without_Nm": b.wood_bending.map(|m| m.0.value),
            "wood_bending_with_Nm": b.wood_bending.map(|m| m.1.value),
        })).collect::<Vec<_>>(),
        "bracing_drops": result.bracing_drops.iter().map(|d| json!({
            "gear": d.gear,
            "height_m": d.height.value,
            "inertia_load_factor_without": d.without,
            "inertia_load_factor_with": d.with,
        })).collect::<Vec<_>>(),
        "failure_order": failure_order_json(result),
        "weakest": result.margins.first().map(|m| json!({
            "check": m.check,
            "gear": m.gear,
            "part": m.part,
            "case": m.case.as_ref().map(|c| c.id()),
            "margin": m.value(),
        })),
        "readings": project.readings.iter().map(|r| json!({
            "key": r.key, "written": r.written, "read": r.read,
        })).collect::<Vec<_>>(),
        "remarks": remarks(project, result),
        "cautions": cautions(project),
    })
}

/// The strip test of a gear's sheet.
pub(super) fn offcut(t: &BenchTest, units: &UnitChoice) -> Value {
    json!({
        "gear": t.gear,
        "yield_Pa": t.yield_strength.value,
        "strip_width_m": t.width.value,
        "strip_thickness_m": t.thickness.value,
        "reach_m": t.reach.value,
        "load_kg": t.load.value,
        "load_without_errors_kg": t.load_without_errors.value,
        "gain_of_width": t.gain_of_width,
        "weighings": t.weighings,
        "deflection_m": t.deflection.value,
        "set_limit_m": t.set_limit.value,
        "steps": bench_steps(t, units),
    })
}

fn case(c: &CaseResult, units: &UnitChoice) -> Value {
    json!({
        "gear": c.gear_name,
        "case": c.case.id(),
        "rule": working_line(units, &c.rule, None),
        "source": c.rule_source,
        "wheels": c.limit.wheels.iter().map(|w| json!({
            "side": w.side.id(),
            "load_N": w.load.map(|f| f.value + NO_SIGN),
            "displacement_m": w.displacement.map(|d| d.value + NO_SIGN),
            "rotation_rad": w.rotation.map(|a| a.value + NO_SIGN),
        })).collect::<Vec<_>>(),
        "roots": c.limit.legs.iter().map(|l| json!({
            "side": l.side.id(),
            "force_N": l.root_force.map(|f| f.value + NO_SIGN),
            "moment_Nm": l.root_moment.map(|m| m.value + NO_SIGN),
            "von_mises_Pa": l.peak.von_mises.value,
            "peak_at": place_words(units, &l.peak),
        })).collect::<Vec<_>>(),
        "wires": c.limit.wires.iter().map(|w| json!({
            "name": w.name,
            "tension_N": w.tension.value,
            "slack": w.slack,
            "held_by": held_by_json(w),
        })).collect::<Vec<_>>(),
        "bolts": bolts_json(c.limit.mount.as_ref()),
        "mount": mount_json(c.limit.mount.as_ref()),
        "theory": theory_id(c.theory),
        "small_stress_Pa": small_stress(c.theory).map(|s| s.value),
        "theory_note": theory_note(c, units),
        "limit_load": c.limit_load.map(|l| json!({
            "multiple": l.multiple,
            "cause": l.cause.map(CollapseCause::id),
        })),
    })
}

pub(super) fn margin(m: &Margin, units: &UnitChoice) -> Value {
    let why = match &m.verdict {
        Verdict::Untold(why) => Some(why.clone()),
        Verdict::Holds | Verdict::Fails => None,
    };
    // Only a limit of the user's own decides without a basis.
    let basis = m.basis.map(Basis::words).or(m.allowable.map(|_| m.source.as_str()));
    json!({
        "check": m.check,
        "gear": m.gear,
        "part": m.part,
        "case": m.case.as_ref().map(|c| c.id()),
        "applied": m.applied.si(),
        "allowable": m.allowable.map(crate::results::Amount::si),
        "unit": m.applied.si_unit(),
        "factor": m.factor,
        "margin": m.value(),
        "verdict": m.verdict.word(),
        "why": why,
        "basis": basis,
        "source": m.source,
        "working": working_line(units, &m.working, margin_sum(units, m)),
    })
}
