//! A sheet as a metal that a gear can be checked with.

use super::evidence::STEP;
use crate::material::{Basis, FamilyConstants, Library, Metal, MetalBand, Sourced, Tested};
use crate::results::{AlikeFamilies, SheetGrade};
use crate::units::{Length, Stress};

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
    let believed = || sheet.tests.iter().enumerate().filter(|(i, _)| !sheet.left_out.contains(i));
    let basis = if sheet.name_decides { Basis::Told } else { Basis::BenchTest };
    let strength = Sourced::new(sheet.design_yield()?, basis, STRENGTH_SOURCE);
    Some(Metal {
        name: sheet.sheet.clone(),
        aliases: Vec::new(),
        family: likeliest.family,
        modulus: Sourced::new(likeliest.modulus, basis, SOURCE),
        poisson: Sourced::new(likeliest.poisson, basis, SOURCE),
        density: Sourced::new(likeliest.density, basis, SOURCE),
        conductivity: None,
        tangent_modulus: None,
        hardening_exponent: None,
        tested: Some(Tested {
            weaker: weaker(sheet),
            may_be: families.collect(),
            left_out: sheet.all_in_words(&sheet.left_out),
            measured: sheet.measures(false),
            thicknesses: believed().filter_map(|(_, test)| test.thickness).collect(),
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

/// Chance that is not worth a place in the distribution of strengths.
const HARDLY: f64 = 1e-9;

/// Strengths, rising, each with the share of such sheets that are weaker: at the upper ends of the grid's places, which share what is likely
/// between them evenly.
fn weaker(sheet: &SheetGrade) -> Vec<(Stress, f64)> {
    let mut below = 0.0;
    let mut all = Vec::new();
    for (strength, chance) in sheet.strengths.iter().filter(|(_, chance)| *chance > HARDLY) {
        if all.is_empty() {
            all.push((*strength * (-0.5 * STEP).exp(), 0.0));
        }
        below += chance;
        all.push((*strength * (0.5 * STEP).exp(), below));
    }
    all
}
