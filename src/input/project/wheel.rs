//! `[gear.NAME.wheel]`.

use super::gear::ArmsWord;
use super::keys;
use super::measure::millimetres;
use super::section::Section;
use crate::diagnostic::Diagnostic;
use crate::material::Thread;
use crate::model::{AxleJoint, Wheel};
use crate::units::Length;

/// Reads the wheel, and how a twin's axle meets its arms.
pub(super) fn wheel(section: &Section<'_>, arms: Option<ArmsWord>) -> Option<(Wheel, Option<AxleJoint>)> {
    let diameter = section.needed_quantity::<Length>(&keys::DIAMETER_WHEEL);
    let overhang = overhang(section, arms);
    let axle = section.needed_quantity::<Length>(&keys::AXLE);
    let axle_metal = section.lookup(&keys::AXLE_METAL, |library, name| library.axle(name));
    // A rod is sold by its thread's size and is a little thinner.
    let axle_thread =
        axle_thread(section, section.as_written(&keys::AXLE).filter(|_| axle.value().is_some()));
    let joint = joint(section, arms);
    let tyre_stiffness = section.quantity(&keys::TYRE_STIFFNESS).take();
    if let (Some(wheel), Some((axle, span))) = (diameter.value(), axle.placed())
        && *axle >= wheel
    {
        let refused = Diagnostic::error("contradiction", "the axle is thicker than the wheel's diameter")
            .help("`diameter` is the wheel's, over the tyre; `axle` is the thickness of the rod it turns on");
        section.note(refused, span);
        return None;
    }
    let wheel = Wheel {
        diameter: diameter.take()?,
        overhang: overhang?,
        axle: axle.take()?,
        axle_metal: axle_metal.take()?.clone(),
        tyre_stiffness,
        axle_thread,
    };
    Some((wheel, joint))
}

fn overhang(section: &Section<'_>, arms: Option<ArmsWord>) -> Option<Length> {
    let overhang = section.quantity::<Length>(&keys::OVERHANG);
    match arms {
        Some(ArmsWord::Twin) => {
            if let Some(span) = overhang.span() {
                let refused = Diagnostic::error(
                    "contradiction",
                    "a twin's wheel sits midway between its arms and has no `overhang`",
                )
                .help("leave it out");
                section.note(refused, span);
            }
            Some(Length::default())
        }
        Some(ArmsWord::Pair | ArmsWord::Single) => section.needed(&keys::OVERHANG, overhang).take(),
        None => overhang.take(),
    }
}

/// The thread where the axle meets the leg; refused when no such thread can be cut on the axle.
fn axle_thread(section: &Section<'_>, axle: Option<Length>) -> Option<Thread> {
    section.table.get(keys::AXLE_THREAD.name)?;
    let thread = section.lookup(&keys::AXLE_THREAD, |library, name| library.thread(name));
    let (found, span) = thread.placed()?;
    let Some(axle) = axle else { return thread.take().cloned() };
    let fits = |thread: &Thread| thread.nominal <= axle * (1.0 + 1e-6);
    if fits(found) {
        return thread.take().cloned();
    }
    let mut refused = Diagnostic::error(
        "contradiction",
        format!(
            "{} is {} thick, and the axle only {}",
            found.name,
            millimetres(found.nominal),
            millimetres(axle)
        ),
    );
    let threads = section.cx.library.threads.iter().filter(|thread| fits(thread));
    if let Some(largest) = threads.reduce(|a, b| if b.nominal > a.nominal { b } else { a }) {
        refused = refused.help(format!("the largest thread of the table on this axle: {}", largest.name));
    }
    let refused = refused.help(
        "`axle_thread` is the thread where the axle meets the leg; leave it out for a plain shank there",
    );
    section.note(refused, span);
    None
}

fn joint(section: &Section<'_>, arms: Option<ArmsWord>) -> Option<AxleJoint> {
    let words = [("clamped", AxleJoint::Clamped), ("pinned", AxleJoint::Pinned)];
    let joint = section.choice(&keys::AXLE_JOINT, &words);
    match arms {
        Some(ArmsWord::Twin) => section.needed(&keys::AXLE_JOINT, joint).take(),
        Some(ArmsWord::Pair | ArmsWord::Single) => {
            if let Some(span) = joint.span() {
                let refused = Diagnostic::error("contradiction", "`axle_joint` is for arms = \"twin\" only")
                    .help("leave it out: a stub axle is always fixed to its leg");
                section.note(refused, span);
            }
            None
        }
        None => joint.take(),
    }
}
