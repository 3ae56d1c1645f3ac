//! Mounts and the order of failure as JSON: SI numbers, the unit in the key's name.

use crate::model::AnchorIn;
use crate::results::{BoltState, CheckResult, FailureOrder, MountState, WireState, WoodState};
use serde_json::{Value, json};

/// Added to a number, takes the sign off a zero.
const NO_SIGN: f64 = 0.0;

/// The bolts of a landing; none without a mount.
pub(super) fn bolts_json(mount: Option<&MountState>) -> Vec<Value> {
    let one = |b: &BoltState| {
        json!({
            "name": b.name,
            "at_m": b.at.map(|l| l.value + NO_SIGN),
            "tension_N": b.tension.value,
            "shear_N": b.shear_size().value,
            "aft_N": b.shear[0].value + NO_SIGN,
            "starboard_N": b.shear[1].value + NO_SIGN,
            "pressed_N": b.pressed.value,
            "preload_N": b.preload.value,
        })
    };
    mount.iter().flat_map(|m| &m.bolts).map(one).collect()
}

/// The rest of a mount; null without one.
pub(super) fn mount_json(mount: Option<&MountState>) -> Value {
    let Some(m) = mount else { return Value::Null };
    let place = |at: [crate::units::Length; 2]| at.map(|l| l.value + NO_SIGN);
    json!({
        "push_N": m.bed.push.value,
        "heel_m": place(m.bed.centre),
        "pressure_Pa": m.bed.pressure.value,
        "pressure_at_m": place(m.bed.pressure_at),
        "uplift_m": m.bed.uplift.value,
        "uplift_at_m": place(m.bed.uplift_at),
        "contact": m.bed.contact,
        "plate_von_mises_Pa": m.plate_peak.von_mises.value,
        "turn_Nm": m.turn.map(|t| t.value),
        "wood": m.wood.as_ref().map(wood_json),
        "formers": m.wood.iter().flat_map(|w| &w.formers).map(|f| json!({
            "name": f.end.words(),
            "force_N": f.force.map(|c| c.value + NO_SIGN),
            "moment_Nm": f.moment.value,
        })).collect::<Vec<_>>(),
    })
}

fn wood_json(w: &WoodState) -> Value {
    json!({
        "breadth_m": w.breadth.value,
        "depth_m": w.depth.value,
        "bending_Nm": w.bending.value,
        "bending_at_m": w.bending_at.value + NO_SIGN,
        "shear_N": w.shear.value,
        "sag_m": w.sag.value,
    })
}

/// What holds a wire at the base: plate or wood; null for a tie and without a mount.
pub(super) fn held_by_json(wire: &WireState) -> Option<&'static str> {
    wire.anchor.map(|a| match a.held_by {
        AnchorIn::Plate => "plate",
        AnchorIn::Wood => "wood",
    })
}

/// What gives first, gear by gear and landing by landing.
pub(super) fn failure_order_json(result: &CheckResult) -> Vec<Value> {
    result.failure_orders.iter().map(order_json).collect()
}

fn order_json(order: &FailureOrder) -> Value {
    json!({
        "gear": order.gear,
        "case": order.case.id(),
        "followed_to": order.limit.multiple,
        "failures": order.failures.iter().map(|f| json!({
            "part": f.part,
            "check": f.check,
            "kind": f.kind.map(crate::model::PartKind::id),
            "words": f.words,
            "multiple": f.multiple,
            "inertia_load_factor": f.inertia_load_factor,
            "drop_height_m": f.drop_height.map(|h| h.value),
        })).collect::<Vec<_>>(),
        "untold": order.untold.iter().map(|(part, why)| json!({ "part": part, "why": why })).collect::<Vec<_>>(),
    })
}
