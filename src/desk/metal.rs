//! A sheet as a metal that a gear can be checked with.

use super::hypothesis::TO_THE_FRACTILE;
use crate::material::{Basis, Family, Library, Metal, MetalBand, Sourced};
use crate::results::SheetGrade;
use crate::units::{Length, MassDensity};
use uom::si::mass_density::kilogram_per_cubic_meter;

/// What its values give as their source.
const SOURCE: &str = "bench tests of this file";

/// Of a sheet that is likeliest none of the table's. chosen: aluminium's.
const POISSON: f64 = 0.33;
const DENSITY: f64 = 2710.0;

/// The metal of a graded sheet: it yields at the lower end of what is likely, and breaks no later than it yields.
///
/// `None` where a test fits no metal. Its modulus, density and family are those of what it likeliest is. No bend radius comes of it, and no hardening.
#[must_use]
pub fn metal(sheet: &SheetGrade, library: &Library) -> Option<Metal> {
    let best = sheet.grades.first().filter(|g| g.probability >= sheet.none_of_these);
    let row = best.and_then(|g| library.metal(&g.name).ok());
    let family = row.map_or(Family::Aluminium, |row| row.family);
    let density =
        row.map_or_else(|| MassDensity::new::<kilogram_per_cubic_meter>(DENSITY), |row| row.density.value);
    let strength = Sourced::new(sheet.design_yield()?, Basis::BenchTest, SOURCE);
    // The lower half counts: it is what the design value stands in.
    let below = f64::from(sheet.yield_strength.p50 / sheet.yield_strength.p05).ln() / TO_THE_FRACTILE;
    Some(Metal {
        name: sheet.sheet.clone(),
        aliases: Vec::new(),
        family,
        modulus: Sourced::new(sheet.modulus, Basis::BenchTest, SOURCE),
        poisson: Sourced::new(row.map_or(POISSON, |row| row.poisson.value), Basis::BenchTest, SOURCE),
        density: Sourced::new(density, Basis::BenchTest, SOURCE),
        conductivity: None,
        tangent_modulus: None,
        hardening_exponent: None,
        yield_scatter: Some(below),
        bands: vec![MetalBand {
            over: Length::default(),
            up_to: None,
            yield_strength: Some(strength.clone()),
            yield_maximum: None,
            ultimate: Some(strength),
            ultimate_maximum: None,
            elongation: None,
            hardness: None,
            bend_radius_90: None,
            bend_radius_180: None,
        }],
    })
}
