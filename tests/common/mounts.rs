//! Mounts made of plain numbers.
#![allow(dead_code, reason = "each test binary uses a part of it")]

use crate::common::{megapascals, mm, newtons};
use gearleg::material::{Basis, BoltClass, Series, Sourced, Thread, Wood, WoodBand};
use gearleg::model::{Mount, Preload};
use uom::si::f64::MassDensity;
use uom::si::mass_density::kilogram_per_cubic_meter;

fn told<T>(value: T) -> Sourced<T> {
    Sourced::new(value, Basis::Told, "made up for tests")
}

/// A metric thread, mm.
pub(crate) fn metric(nominal: f64, pitch: f64) -> Thread {
    Thread {
        name: format!("M{nominal}"),
        series: Series::Metric,
        nominal: mm(nominal),
        pitch: mm(pitch),
        provenance: told(()),
    }
}

/// Bolts of a modulus, MPa.
pub(crate) fn bolt_class(modulus: f64) -> BoltClass {
    BoltClass {
        name: "test-class".to_owned(),
        up_to: None,
        ultimate: told(megapascals(800.0)),
        // With a yield strength, so that it keeps a preload.
        yield_strength: Some(told(megapascals(640.0))),
        proof: None,
        elongation: None,
        other_state: None,
        modulus: Some(told(megapascals(modulus))),
    }
}

/// A plywood of these moduli, MPa: through its thickness, along and across its face grain, in shear; density in kg/m³.
pub(crate) fn plywood(through: f64, [along, across]: [f64; 2], shear: f64, density: f64) -> Wood {
    let stress = |value| Some(told(megapascals(value)));
    Wood {
        name: "test-ply".to_owned(),
        aliases: Vec::new(),
        density: told(MassDensity::new::<kilogram_per_cubic_meter>(density)),
        density_characteristic: None,
        panel_shear: None,
        shear_modulus: stress(shear),
        compression_across: None,
        modulus_through: stress(through),
        bands: vec![WoodBand {
            thickness: None,
            plies: None,
            bending_along: None,
            bending_across: None,
            modulus_along: stress(along),
            modulus_across: stress(across),
            compression_along: None,
            compression_in_plane_across: None,
            tension_along: None,
            tension_across: None,
            rolling_shear_along: None,
            rolling_shear_across: None,
        }],
    }
}

/// Steel M5 bolts at these places, mm aft and to starboard, through 6 mm of plywood that is backed all over.
pub(crate) fn mount(bolts: &[[f64; 2]]) -> Mount {
    Mount {
        bolt: metric(5.0, 0.8),
        bolt_class: bolt_class(210_000.0),
        bolts: bolts.iter().map(|[x, y]| (mm(*x), mm(*y))).collect(),
        hole: None,
        preload: None,
        nut_flange: Some(mm(12.0)),
        nut_height: None,
        pull_through: None,
        foot: None,
        wood: plywood(600.0, [12_000.0, 4_800.0], 620.0, 680.0),
        wood_thickness: mm(6.0),
        doubler: None,
        span: None,
        glue: None,
    }
}

/// A pull in each bolt, N.
pub(crate) fn preload(force: f64) -> Option<Preload> {
    Some(Preload::Force(newtons(force)))
}
