//! A sheet as a metal that a gear can be checked with.

use super::hypothesis::TO_THE_FRACTILE;
use crate::material::{Basis, FamilyConstants, Library, Metal, MetalBand, Sourced, Tested};
use crate::results::{AlikeFamilies, SheetGrade};
use crate::units::Length;

/// What its values give as their source.
const SOURCE: &str = "bench tests of this file";

/// What its strength gives as its source.
const STRENGTH_SOURCE: &str = "bench tests of this file, the lower end of what is likely";

/// Of a family that the table does not have. chosen: between those of aluminium and steel.
const POISSON: f64 = 0.3;

/// The metal of a graded sheet: it yields at the lower end of what is likely, and breaks no later than it yields.
///
/// `None` where a test fits no metal. Its modulus, density and family are those of the family that it likeliest is of; what else it may be
/// stands with it. No bend radius comes of it, and no hardening.
#[must_use]
pub fn metal(sheet: &SheetGrade, library: &Library) -> Option<Metal> {
    let constants = |chance: AlikeFamilies| {
        let of_family = sheet.grades.iter().filter_map(|grade| library.metal(&grade.name).ok());
        let likeliest = of_family.into_iter().find(|row| row.family == chance.likeliest());
        FamilyConstants {
            family: chance.likeliest(),
            modulus: chance.modulus,
            poisson: likeliest.map_or(POISSON, |row| row.poisson.value),
            density: chance.density,
        }
    };
    let mut families = sheet.likely_families().into_iter().map(constants);
    let likeliest = families.next()?;
    let strength = Sourced::new(sheet.design_yield()?, Basis::BenchTest, STRENGTH_SOURCE);
    // The lower half counts: it is what the design value stands in.
    let below = f64::from(sheet.yield_strength.p50 / sheet.yield_strength.p05).ln() / TO_THE_FRACTILE;
    Some(Metal {
        name: sheet.sheet.clone(),
        aliases: Vec::new(),
        family: likeliest.family,
        modulus: Sourced::new(likeliest.modulus, Basis::BenchTest, SOURCE),
        poisson: Sourced::new(likeliest.poisson, Basis::BenchTest, SOURCE),
        density: Sourced::new(likeliest.density, Basis::BenchTest, SOURCE),
        conductivity: None,
        tangent_modulus: None,
        hardening_exponent: None,
        tested: Some(Tested {
            yield_scatter: below,
            may_be: families.collect(),
            left_out: sheet.left_out.iter().map(|i| sheet.in_words(*i)).collect(),
        }),
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
