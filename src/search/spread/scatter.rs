//! Materials that are stronger or softer than their table says, and landings within what a pilot's word covers.

use super::laws::Law;
use crate::material::{Basis, Family, Sourced, WireForm, WireStrength};
use crate::model::{Gear, PlateMetal, Project, Severity};
use crate::results::SpreadInput;
use std::ops::Mul;

/// Share of pieces below a guaranteed minimum. Source: EN 1990, the characteristic value of a material is its 5 % fractile (from
/// memory). Makers promise more; counting on it would make pieces stronger.
const BELOW_MINIMUM: f64 = 0.05;
/// Share of pieces below any other value, as it is typical, recalled or told: on the safe side of a recalled minimum.
const BELOW_TYPICAL: f64 = 0.5;

/// Coefficients of variation of strengths. Source for steel: the JCSS probabilistic model code, 7 % of the yield strength, from memory;
/// for solid wood there 25 %. The rest is common practice, no source.
const STEEL: f64 = 0.07;
const LIGHT_METAL: f64 = 0.05;
const WIRE: f64 = 0.04;
const BAR: f64 = 0.05;
const BOLT: f64 = 0.05;
const PLASTIC: f64 = 0.10;
const PLYWOOD: f64 = 0.15;
const SOLID_WOOD: f64 = 0.25;
/// Of stiffnesses: common practice, no source.
const MODULUS: f64 = 0.01;
const WIRE_MODULUS: f64 = 0.01;
const CABLE_MODULUS: f64 = 0.05;

/// What varies besides the values of the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    /// Where in the range of the pilot's word the landing lies.
    Arrival,
    /// Strength of a gear's plate: yield and ultimate together.
    PlateStrength(usize),
    /// Stiffness of it.
    PlateModulus(usize),
    /// Strength of the wires of one brace.
    WireStrength(usize, usize),
    /// Stiffness of them.
    WireModulus(usize, usize),
    /// Strength of the axle.
    AxleStrength(usize),
    /// Strength of the bolts.
    BoltStrength(usize),
    /// Strength of the wood.
    WoodStrength(usize),
}

/// Something that varies besides the values of the file, with its law and its words.
pub(super) struct Scatter {
    pub(super) part: Part,
    pub(super) law: Law,
    pub(super) input: SpreadInput,
}

/// Everything of a project that varies besides the values of its file.
pub(super) fn scatter(project: &Project) -> Vec<Scatter> {
    let mut found = Vec::new();
    if let Severity::Arrival(arrival) = &project.landing.severity {
        found.push(Scatter {
            part: Part::Arrival,
            law: Law::Range,
            input: SpreadInput {
                key: "landing.arrival".to_owned(),
                words: format!("sink rate of a {} arrival, all of its range alike", arrival.name),
                why: format!("{}, {}", arrival.sink_rate.source, arrival.sink_rate.basis),
            },
        });
    }
    for (index, gear) in project.gears.iter().enumerate() {
        plate(project, index, gear, &mut found);
        for (at, brace) in gear.braces.iter().enumerate() {
            let key = format!("gear.{}.brace.{}.wire", gear.name, at + 1);
            let wire = &brace.wire;
            let basis = match &wire.strength {
                WireStrength::PowerLaw(bands) => bands.first().map(|band| band.constants.basis),
                WireStrength::Sizes(sizes) => sizes.first().map(|(_, load)| load.basis),
                WireStrength::Constant(strength) => Some(strength.basis),
            };
            if !told(project, &format!("wire.{}.ultimate", wire.name)) {
                let part = Part::WireStrength(index, at);
                found.push(strength(part, &key, &wire.name, WIRE, basis.unwrap_or(Basis::Told)));
            }
            if !told(project, &format!("wire.{}.modulus", wire.name)) {
                let by = if wire.form() == Some(WireForm::Cable) { CABLE_MODULUS } else { WIRE_MODULUS };
                found.push(modulus(Part::WireModulus(index, at), &key, &wire.name, by));
            }
        }
        let axle = &gear.wheel.axle_metal;
        let key = format!("gear.{}.wheel.axle_metal", gear.name);
        found.push(strength(Part::AxleStrength(index), &key, &axle.name, BAR, axle.yield_strength.basis));
        if let Some(mount) = &gear.mount {
            let class = &mount.bolt_class;
            let by = if class.creeps() { PLASTIC } else { BOLT };
            let key = format!("gear.{}.mount.bolt_class", gear.name);
            let name = format!("bolts {}", class.name);
            found.push(strength(Part::BoltStrength(index), &key, &name, by, class.ultimate.basis));
            let wood = &mount.wood;
            let by = if wood.is_plywood() { PLYWOOD } else { SOLID_WOOD };
            let key = format!("gear.{}.mount.wood", gear.name);
            let basis = wood.panel_shear.as_ref().map_or(Basis::Typical, |shear| shear.basis);
            found.push(strength(Part::WoodStrength(index), &key, &wood.name, by, basis));
        }
    }
    found
}

fn plate(project: &Project, index: usize, gear: &Gear, found: &mut Vec<Scatter>) {
    let PlateMetal::Known(metal) = &gear.plate.metal else { return };
    let key = format!("gear.{}.plate.metal", gear.name);
    let band = metal.band(gear.plate.sheet_thickness());
    let basis = band.and_then(|b| b.yield_strength.as_ref().or(b.ultimate.as_ref())).map(|s| s.basis);
    let by = match metal.family {
        Family::Steel | Family::Stainless => STEEL,
        Family::Aluminium | Family::Titanium | Family::Other => LIGHT_METAL,
    };
    let own = |what: &str| told(project, &format!("metal.{}.{what}", metal.name));
    let design = band.and_then(|b| b.yield_strength.as_ref()).map(|held| held.value);
    if let Some((tested, design)) = metal.tested.as_ref().zip(design) {
        let list: Vec<(f64, f64)> =
            tested.weaker.iter().map(|(strength, below)| (f64::from(*strength / design), *below)).collect();
        let coefficient_of_variation = variation(&list);
        found.push(Scatter {
            part: Part::PlateStrength(index),
            law: Law::Listed(list),
            input: SpreadInput {
                key: format!("{key}.strength"),
                words: format!(
                    "strength of {}, standard deviation {:.0} %",
                    metal.name,
                    100.0 * coefficient_of_variation
                ),
                why: "as its bench tests leave it; 5 % of such sheets lie below the value (bench test)"
                    .to_owned(),
            },
        });
    } else if let Some(basis) = basis
        && !own("yield")
    {
        found.push(strength(Part::PlateStrength(index), &key, &metal.name, by, basis));
    }
    if !own("modulus") {
        found.push(modulus(Part::PlateModulus(index), &key, &metal.name, MODULUS));
    }
}

/// Standard deviation over mean of a list of factors, each with the share of pieces that have less.
fn variation(list: &[(f64, f64)]) -> f64 {
    let moment = |power: i32| -> f64 {
        let between = list.windows(2).filter_map(|pair| match pair {
            [(less, low), (more, high)] => Some((high - low) * (less * more).sqrt().powi(power)),
            _ => None,
        });
        between.sum()
    };
    let (all, mean, square) = (moment(0), moment(1), moment(2));
    (all * square / (mean * mean) - 1.0).max(0.0).sqrt()
}

/// Whether the file itself says how far a value may be off.
fn told(project: &Project, key: &str) -> bool {
    project.tolerances.iter().any(|tolerance| tolerance.key == key)
}

fn strength(part: Part, key: &str, name: &str, by: f64, basis: Basis) -> Scatter {
    let minimum = basis == Basis::SpecificationMinimum;
    let below = if minimum { BELOW_MINIMUM } else { BELOW_TYPICAL };
    let meaning = if minimum {
        "the table's minimum lies below all but 5 % of pieces"
    } else {
        "half of all pieces below the value"
    };
    Scatter {
        part,
        law: Law::Factor { coefficient_of_variation: by, below },
        input: SpreadInput {
            key: format!("{key}.strength"),
            words: format!("strength of {name}, standard deviation {:.0} %", 100.0 * by),
            why: format!("pieces differ; {meaning} ({basis})"),
        },
    }
}

fn modulus(part: Part, key: &str, name: &str, by: f64) -> Scatter {
    Scatter {
        part,
        law: Law::Factor { coefficient_of_variation: by, below: BELOW_TYPICAL },
        input: SpreadInput {
            key: format!("{key}.modulus"),
            words: format!("stiffness of {name}, standard deviation {:.0} %", 100.0 * by),
            why: "common practice, no source".to_owned(),
        },
    }
}

/// Puts what was drawn for a part into a project.
pub(super) fn apply(project: &mut Project, part: Part, drawn: f64) {
    if part == Part::Arrival {
        if let Severity::Arrival(arrival) = &mut project.landing.severity {
            let held = &mut arrival.sink_rate;
            let (least, most) = held.value;
            held.value = (least, least + 0.5 * (1.0 + drawn) * (most - least));
        }
        return;
    }
    let (Part::PlateStrength(index)
    | Part::PlateModulus(index)
    | Part::WireStrength(index, _)
    | Part::WireModulus(index, _)
    | Part::AxleStrength(index)
    | Part::BoltStrength(index)
    | Part::WoodStrength(index)) = part
    else {
        return;
    };
    if let Some(gear) = project.gears.get_mut(index) {
        apply_to_gear(gear, part, drawn);
    }
}

fn apply_to_gear(gear: &mut Gear, part: Part, factor: f64) {
    match part {
        Part::Arrival => {}
        Part::PlateStrength(_) => {
            if let PlateMetal::Known(metal) = &mut gear.plate.metal {
                for band in &mut metal.bands {
                    each([&mut band.yield_strength, &mut band.ultimate], factor);
                }
            }
        }
        Part::PlateModulus(_) => {
            if let PlateMetal::Known(metal) = &mut gear.plate.metal {
                scale(&mut metal.modulus, factor);
            }
        }
        Part::WireStrength(_, at) => {
            let Some(brace) = gear.braces.get_mut(at) else { return };
            match &mut brace.wire.strength {
                WireStrength::PowerLaw(bands) => {
                    for band in bands {
                        let held = &mut band.constants;
                        held.value.0 *= factor;
                    }
                }
                WireStrength::Sizes(sizes) => sizes.iter_mut().for_each(|(_, load)| scale(load, factor)),
                WireStrength::Constant(strength) => scale(strength, factor),
            }
        }
        Part::WireModulus(_, at) => {
            if let Some(brace) = gear.braces.get_mut(at) {
                scale(&mut brace.wire.modulus, factor);
            }
        }
        Part::AxleStrength(_) => {
            scale(&mut gear.wheel.axle_metal.yield_strength, factor);
            scale(&mut gear.wheel.axle_metal.ultimate, factor);
        }
        Part::BoltStrength(_) => {
            let Some(mount) = &mut gear.mount else { return };
            let class = &mut mount.bolt_class;
            scale(&mut class.ultimate, factor);
            each([&mut class.yield_strength, &mut class.proof], factor);
        }
        Part::WoodStrength(_) => {
            let Some(mount) = &mut gear.mount else { return };
            let wood = &mut mount.wood;
            each([&mut wood.panel_shear, &mut wood.compression_across], factor);
            for band in &mut wood.bands {
                each(
                    [
                        &mut band.bending_along,
                        &mut band.bending_across,
                        &mut band.compression_along,
                        &mut band.compression_in_plane_across,
                        &mut band.tension_along,
                        &mut band.tension_across,
                        &mut band.rolling_shear_along,
                        &mut band.rolling_shear_across,
                    ],
                    factor,
                );
            }
        }
    }
}

fn each<Q: Copy + Mul<f64, Output = Q>, const N: usize>(strengths: [&mut Option<Sourced<Q>>; N], by: f64) {
    for strength in strengths.into_iter().flatten() {
        scale(strength, by);
    }
}

fn scale<Q: Copy + Mul<f64, Output = Q>>(held: &mut Sourced<Q>, by: f64) {
    held.value = held.value * by;
}
