//! The result of `gearleg compare` as JSON: SI numbers, the unit in the key's name.

use super::compare_words::in_words;
use super::figure::UnitChoice;
use super::remarks::cautions;
use super::view::place_words;
use crate::model::{Gear, PlateMetal};
use crate::results::{
    ArrivalFrom, ComparedDesign, Comparison, FailureOrder, GearFigures, GearStiffness, Margin, Verdict,
};
use serde_json::{Value, json};

/// Version of the output's format.
const FORMAT: u32 = 1;

/// Writes the comparison.
#[must_use]
pub fn compare_json(compared: &Comparison) -> Value {
    let units = units_of(compared);
    let arrival = &compared.arrival;
    json!({
        "gearleg": env!("CARGO_PKG_VERSION"),
        "format": FORMAT,
        "in_words": in_words(compared, &units),
        "changed_gears": compared.changed,
        "same_arrival": {
            "height_m": arrival.height.value,
            "wing_lift": arrival.wing_lift,
            "from": match &arrival.from {
                ArrivalFrom::Given => "given",
                ArrivalFrom::Stated(_) => "load-factor",
                ArrivalFrom::Ordinary(name) => name.as_str(),
            },
        },
        "designs": compared.designs.iter().map(|d| design(compared, d, &units)).collect::<Vec<_>>(),
        "cautions": cautions_of(compared),
    })
}

/// The units of the first design.
pub(super) fn units_of(compared: &Comparison) -> UnitChoice {
    let first = compared.designs.iter().take(1).flat_map(|d| d.project.written_units.iter().copied());
    UnitChoice::from_written(first)
}

/// What is to be minded of any of the designs, each once.
pub(super) fn cautions_of(compared: &Comparison) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for caution in compared.designs.iter().flat_map(|d| cautions(&d.project)) {
        if !all.contains(&caution) {
            all.push(caution);
        }
    }
    all
}

fn design(compared: &Comparison, design: &ComparedDesign, units: &UnitChoice) -> Value {
    let chosen = compared.chosen(design);
    let figures = chosen.map(|(_, figures)| figures);
    let of =
        |verdict: fn(&Verdict) -> bool| design.check.margins.iter().filter(|m| verdict(&m.verdict)).count();
    json!({
        "name": design.name,
        "holds": design.holds(),
        "gear": figures.map(|f| f.gear.clone()),
        "mass_kg": figures.map(|f| f.mass.total().value),
        "stiffness_N_per_m": figures.map(|f| stiffness(&f.stiffness)),
        "inertia_load_factor": design.inertia_load_factor,
        "landing_inertia_load_factor": design.check.landing.inertia,
        "weakest": design.check.margins.first().map(margin),
        "failure_order": figures.and_then(|f| f.order.as_ref()).map(failures).unwrap_or_default(),
        "margins": {
            "all": design.check.margins.len(),
            "fail": of(|v| *v == Verdict::Fails),
            "untold": of(|v| matches!(v, Verdict::Untold(_))),
        },
        "gears": design.project.gears.iter().zip(&design.gears).map(|(g, f)| gear(g, f, units)).collect::<Vec<_>>(),
    })
}

fn stiffness(k: &GearStiffness) -> Value {
    json!({
        "spread": k.spread.map(|k| k.value),
        "aft": k.aft.value,
        "side": k.side.value,
        "up": k.up.value,
        "load_N": k.load.value,
    })
}

fn margin(m: &Margin) -> Value {
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
    })
}

fn failures(order: &FailureOrder) -> Vec<Value> {
    let of = |f: &crate::results::PartFailure| {
        json!({
            "part": f.part,
            "check": f.check,
            "multiple": f.multiple,
            "words": f.words,
            "case": order.case.id(),
            "inertia_load_factor": f.inertia_load_factor,
            "drop_height_m": f.drop_height.map(|h| h.value),
        })
    };
    order.failures.iter().map(of).collect()
}

fn gear(gear: &Gear, f: &GearFigures, units: &UnitChoice) -> Value {
    let metal = match &gear.plate.metal {
        PlateMetal::Known(metal) => metal.name.as_str(),
        PlateMetal::Unknown => "unknown",
    };
    let outcome = f.drop.outcome.as_ref();
    // What an unknown metal keeps of a drop nobody knows.
    let told = outcome.filter(|_| f.yield_strength.is_some());
    json!({
        "gear": f.gear,
        "metal": metal,
        "thickness_m": gear.plate.sheet_thickness().value,
        "mass_kg": f.mass.total().value,
        "plate_kg": f.mass.plate.value,
        "wires_kg": f.mass.wires.value,
        "axles_kg": f.mass.axles.value,
        "stiffness_N_per_m": stiffness(&f.stiffness),
        "drop": {
            "height_m": f.drop.height.value,
            "wing_lift": f.drop.wing_lift,
            "collapses": f.drop.collapses(),
            "inertia_load_factor": outcome.map(|o| o.inertia_load_factor),
            "deflection_m": outcome.map(|o| o.deflection.value),
            "spread_m": outcome.map(|o| o.spread.value),
            "set_m": told.map(|o| o.set.value),
            "set_deg": told.map(|o| o.set_angle.get::<uom::si::angle::degree>()),
        },
        "highest_drop_without_set_m": f.highest_without_set.map(|h| h.value),
        "survives_drop_m": f.survives.collapses.then_some(f.survives.height.value),
        "peak_stress": f.peak.as_ref().map(|p| json!({
            "von_mises_Pa": p.peak.von_mises.value,
            "yield_Pa": f.yield_strength.map(|s| s.value),
            "part": p.part,
            "at": place_words(units, &p.peak),
            "case": p.case.id(),
        })),
        "wire": f.wire.as_ref().map(|(name, w)| json!({
            "name": name, "tension_N": w.most.value, "case": w.case.id(),
        })),
        "mount": {
            "root_force_N": f.mount.root_force.as_ref().map(|a| a.most.value),
            "root_force_case": f.mount.root_force.as_ref().map(|a| a.case.id()),
            "root_moment_Nm": f.mount.root_moment.as_ref().map(|a| a.most.value),
            "root_moment_case": f.mount.root_moment.as_ref().map(|a| a.case.id()),
            "bolt": f.mount.bolt.as_ref().map(|(name, _)| name),
            "bolt_tension_N": f.mount.bolt.as_ref().map(|(_, a)| a.most.value),
            "bolt_case": f.mount.bolt.as_ref().map(|(_, a)| a.case.id()),
            "wood_bending_Nm": f.mount.wood.as_ref().map(|a| a.most.value),
            "wood_case": f.mount.wood.as_ref().map(|a| a.case.id()),
        },
        "weakest": f.weakest.as_ref().map(margin),
        "failure_order": f.order.as_ref().map(failures).unwrap_or_default(),
        "change": f.change.map(|c| json!({
            "mass_kg": c.mass.value,
            "ahead_of_cg_m": c.ahead_of_cg.map(|a| a.value),
            "moment_kg_m": c.ahead_of_cg.map(|a| c.mass.value * a.value),
            "cg_forward_m": c.cg_forward.map(|a| a.value),
        })),
    })
}
