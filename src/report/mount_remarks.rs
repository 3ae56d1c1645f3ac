//! What is taken for granted of a mount, and what to mind about it.

use super::figure::list_and;
use super::order_words::kind_words;
use crate::model::{AnchorIn, CaseId, Gear, Mount, Project};

/// What is left out or taken for granted of a gear's mount.
pub(super) fn mount_remarks(gear: &Gear, all: &mut Vec<String>) {
    let name = &gear.name;
    let Some(mount) = &gear.mount else {
        all.push(format!(
            "Gear {name}: the mount is not checked. The legs are taken as clamped at the bends."
        ));
        return;
    };
    all.push(format!(
        "Gear {name}: in its mount the cross-sections of plate and wood stay straight, the bolts stay elastic, friction between plate \
         and wood is not counted on, and the bolt holes are left out of the stiffness."
    ));
    // Only the rows after a product standard have what one piece in twenty falls short of.
    let kind = if mount.wood.density_characteristic.is_some() {
        "characteristic ones (one piece in twenty is weaker)"
    } else {
        "typical ones (half of all pieces are weaker)"
    };
    all.push(format!(
        "Gear {name}: the strengths of {} are {kind}, without a factor for how long a load lasts or for damp.",
        mount.wood.name
    ));
    all.extend(preload_remark(name, mount));
    if let Some(kind) = gear.meant_to_give(Some(CaseId::Obstacle)) {
        all.push(format!(
            "Gear {name}: what is meant to give first in a rut or long grass, {}, is not held to its own margins there.",
            kind_words(Some(kind))
        ));
    }
    all.extend(not_told(gear, name, mount));
}

fn preload_remark(name: &str, mount: &Mount) -> Option<String> {
    if mount.bolt_class.creeps() {
        let given = if mount.preload.is_some() { ", whatever the file says" } else { "" };
        return Some(format!(
            "Gear {name}: {} creeps, so no preload is counted{given}: the joint is loose from the first load on.",
            mount.bolt_class.name
        ));
    }
    mount.preload.is_none().then(|| {
        format!(
            "Gear {name}: no `preload` or `torque` is given, so none is counted: the joint opens at once, and the bolts bear all of \
             the pull."
        )
    })
}

/// What can't be checked because the file does not say it.
fn not_told(gear: &Gear, name: &str, mount: &Mount) -> Vec<String> {
    let mut all = Vec::new();
    if mount.span.is_none() {
        all.push(format!(
            "Gear {name}: no `wood_width` is given, so the wood counts as backed all over: its bending between formers, which makes \
             a mount softer, is not checked."
        ));
    } else if mount.glue.is_none() {
        all.push(format!(
            "Gear {name}: no `glue_area` and `glue_strength` are given: whether the wood stays glued to its formers is not checked."
        ));
    }
    let in_wood = gear.braces.iter().any(|b| gear.anchor_in(b) == Some(AnchorIn::Wood));
    if in_wood {
        all.push(format!(
            "Gear {name}: its wires are anchored in the wood beside the plate, and pull at it there."
        ));
    }
    all
}

/// Dangers of the mounts at hand.
pub(super) fn mount_cautions(project: &Project) -> Vec<String> {
    let with: Vec<(&str, &Mount)> =
        project.gears.iter().filter_map(|g| Some((g.name.as_str(), g.mount.as_ref()?))).collect();
    if with.is_empty() {
        return Vec::new();
    }
    let mut all = vec![
        "Formers and floor behind the mount are not checked: a mount made stronger passes the load on to them. Captive nuts in soft \
         wood or near an edge tear out early."
            .to_owned(),
    ];
    let plastic: Vec<&str> = with.iter().filter(|(_, m)| m.bolt_class.creeps()).map(|w| w.0).collect();
    if !plastic.is_empty() {
        all.push(format!(
            "Gear {}: replace the plastic bolts every season; dryness, cold and exhaust age them.",
            list_and(&plastic)
        ));
    }
    let tight = with.iter().any(|(_, m)| m.preload.is_some() && !m.bolt_class.creeps());
    if tight {
        all.push("Bolts in wood lose their preload: tighten them again after the first days and look at them often.".to_owned());
    }
    all
}
