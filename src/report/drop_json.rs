//! The result of `gearleg drop` as JSON: SI numbers, the unit in the key's name.

use super::drop_view::{is_strength_known, word_for};
use super::drop_words::{drop_cautions, drop_remarks, drop_verdict};
use super::figure::UnitChoice;
use crate::material::Library;
use crate::model::Project;
use crate::results::{
    CollapseCause, CurvePoint, Drop, DropPlan, DropReading, DropReport, DropTable, GearCurve, LimitLoad,
    Mark, Unloading, Verdict, WheelTravel,
};
use crate::units::{Force, Length};
use serde_json::{Value, json};

/// Version of the project file's and the output's format.
const FORMAT: u32 = 1;

/// Added to a number, takes the sign off a zero.
const NO_SIGN: f64 = 0.0;

/// Writes the result.
#[must_use]
pub fn drop_json(project: &Project, library: &Library, report: &DropReport) -> Value {
    let units = UnitChoice::from_written(project.written_units.iter().copied());
    let told = |gear: &str| is_strength_known(project, gear);
    json!({
        "gearleg": env!("CARGO_PKG_VERSION"),
        "format": FORMAT,
        "aircraft": { "name": project.aircraft.name, "mass_kg": project.aircraft.mass.value },
        "verdict": drop_verdict(project, library, report, &units),
        "holds": report.holds(),
        "verdicts": report.verdicts.iter().map(|v| json!({
            "gear": v.gear,
            "height_m": v.height.map(|h| h.value),
            "verdict": v.verdict.word(),
            "why": match &v.verdict {
                Verdict::Untold(why) => Some(why),
                Verdict::Holds | Verdict::Fails => None,
            },
        })).collect::<Vec<_>>(),
        "curves": report.curves.iter().map(|c| curve(c, told(&c.gear))).collect::<Vec<_>>(),
        "unloadings": report.curves.iter().flat_map(|c| {
            c.unloadings.iter().map(move |u| unloading(c, u, told(&c.gear)))
        }).collect::<Vec<_>>(),
        "drops": report.tables.iter().flat_map(|t| {
            t.drops.iter().map(move |d| drop(library, t, d, told(&t.gear)))
        }).collect::<Vec<_>>(),
        "gears": report.tables.iter().map(|t| json!({
            "gear": t.gear,
            "highest_without_set_m": t.highest_without_set.map(|h| h.value),
            "survives_m": t.survives.height.value,
            "collapses": t.survives.collapses,
            "limit": limit(t.limit),
        })).collect::<Vec<_>>(),
        "landing": report.landing.iter().map(|l| json!({
            "gear": l.gear,
            "given_as_drop": l.given,
            "height_m": l.drop.as_ref().map(|d| d.height.value),
            "sink_rate_mps": l.drop.as_ref().map(|d| d.sink_rate.value),
        })).collect::<Vec<_>>(),
        "published": { "height_m": report.published.0.value, "sink_rate_mps": report.published.1.value },
        "plans": report.plans.iter().map(|p| plan(library, report, p, told(&p.gear))).collect::<Vec<_>>(),
        "readings": report.readings.iter().map(|r| reading(library, r, told(&r.gear))).collect::<Vec<_>>(),
        "remarks": drop_remarks(project, report, &units),
        "cautions": drop_cautions(project, &units),
    })
}

fn three(values: [Length; 3]) -> [f64; 3] {
    values.map(|v| v.value + NO_SIGN)
}

fn travels(wheels: &[WheelTravel], key: &str) -> Vec<Value> {
    wheels.iter().map(|w| json!({ "side": w.side.id(), key: three(w.displacement) })).collect()
}

fn mark(m: &Mark) -> Value {
    json!({ "multiple": m.multiple, "what": m.what.id(), "part": m.part })
}

fn limit(l: LimitLoad) -> Value {
    let cause = l.cause.map(CollapseCause::id);
    json!({ "multiple": l.multiple, "cause": cause })
}

fn curve(c: &GearCurve, told: bool) -> Value {
    let point = |p: &CurvePoint| {
        json!({
            "multiple": p.multiple + NO_SIGN,
            "branch": p.branch.id(),
            "wheels": travels(&p.wheels, "displacement_m"),
            "wires": p.wires.iter().map(|w| json!({
                "name": w.name,
                "tension_N": w.tension.value + NO_SIGN,
                "slack": w.tension <= Force::default(),
            })).collect::<Vec<_>>(),
            "peak_von_mises_Pa": p.peak_von_mises.value + NO_SIGN,
            // Without a yield strength nobody can tell.
            "yielded": told.then_some(p.yielded),
        })
    };
    json!({
        "gear": c.gear,
        "case": c.case.id(),
        "points": c.points.iter().map(point).collect::<Vec<_>>(),
        "marks": c.marks.iter().map(mark).collect::<Vec<_>>(),
        "energy_absorbed_J": c.absorbed.value + NO_SIGN,
        "energy_returned_J": c.returned.value + NO_SIGN,
        "limit": limit(c.limit),
    })
}

fn legs(u: &Unloading) -> Vec<Value> {
    u.bent
        .iter()
        .map(|(side, angle)| json!({ "side": side.id(), "bent_rad": angle.value + NO_SIGN }))
        .collect()
}

fn unloading(c: &GearCurve, u: &Unloading, told: bool) -> Value {
    let wheels =
        u.wheels.iter().map(|w| json!({ "side": w.side.id(), "set_m": told.then(|| three(w.displacement)) }));
    json!({
        "gear": c.gear,
        "case": c.case.id(),
        "from_multiple": u.from_multiple,
        "wheels": wheels.collect::<Vec<_>>(),
        "legs": told.then(|| legs(u)),
    })
}

/// A drop; what does not exist after a collapse, or can't be told without a yield strength, is null.
fn drop(library: &Library, table: &DropTable, d: &Drop, told: bool) -> Value {
    let o = d.outcome.as_ref();
    let left = o.filter(|_| told);
    let length = |l: Length| l.value + NO_SIGN;
    let yielded = match o {
        Some(o) => told.then_some(o.yielded),
        None => table.highest_without_set.map(|h| h < d.height),
    };
    json!({
        "gear": d.gear,
        "height_m": d.height.value,
        "sink_rate_mps": d.sink_rate.value,
        "arrival": word_for(library, d.sink_rate),
        "wing_lift": d.wing_lift,
        "inertia_load_factor": o.map(|o| o.inertia_load_factor),
        "ground_reaction_factor": o.map(|o| o.ground_reaction_factor),
        "deflection_m": o.map(|o| length(o.deflection)),
        "tyre_m": o.map(|o| length(o.tyre)),
        "spread_m": o.map(|o| length(o.spread)),
        "wheels": o.map(|o| travels(&o.wheels, "displacement_m")),
        "marks": o.map(|o| o.marks.iter().map(mark).collect::<Vec<_>>()),
        "set_m": left.map(|o| length(o.set)),
        "set_spread_m": left.map(|o| length(o.set_spread)),
        "set_deg": left.map(|o| o.set_angle.get::<uom::si::angle::degree>() + NO_SIGN),
        "yielded": yielded,
        "collapsed": o.is_none(),
        "rebound_height_m": left.map(|o| length(o.rebound_height)),
        "legs": left.map(|o| legs(&o.left)),
    })
}

fn plan(library: &Library, report: &DropReport, p: &DropPlan, told: bool) -> Value {
    let pair = |band: Option<(Length, Length)>| band.map(|(a, b)| [a.value + NO_SIGN, b.value + NO_SIGN]);
    let table = report.tables.iter().find(|t| t.gear == p.gear);
    json!({
        "gear": p.gear,
        "mass_kg": p.mass.value,
        "wing_lift": p.wing_lift,
        "thickness_band": p.thickness_band,
        "up_to_m": p.up_to.value,
        "steps": p.steps.iter().map(|s| json!({
            "height_m": s.height.value,
            "mass_kg": s.mass.value,
            "spread_m": pair(s.spread),
            "set_spread_m": if told { pair(s.set) } else { None },
            "drop": table.map(|t| drop(library, t, &s.drop, told)),
        })).collect::<Vec<_>>(),
    })
}

fn reading(library: &Library, r: &DropReading, told: bool) -> Value {
    // What is expected rests on a yield strength as the file has it; what comes again rests on the reading's own.
    let own = |d: &Drop| {
        json!({
            "collapsed": d.collapses(),
            "beyond_what_was_followed": d.beyond,
            "spread_m": d.outcome.as_ref().map(|o| o.spread.value + NO_SIGN),
            "set_spread_m": d.outcome.as_ref().filter(|_| told).map(|o| o.set_spread.value + NO_SIGN),
        })
    };
    json!({
        "gear": r.gear,
        "height_m": r.height.value,
        "mass_kg": r.mass.value,
        "spread_m": r.spread.map(|l| l.value),
        "set_spread_m": r.set.map(|l| l.value),
        "error_m": r.error.value,
        "expected": own(&r.expected),
        "stiffness_ratio": r.stiffness.map(|(a, b)| [a, b]),
        "yield_Pa": r.yield_strength.map(|(a, b)| json!({ "least": a.value, "most": b.map(|b| b.value) })),
        "drops": r.again.as_ref().map(|t| {
            t.drops.iter().map(|d| drop(library, t, d, told || r.yield_strength.is_some())).collect::<Vec<_>>()
        }),
    })
}
