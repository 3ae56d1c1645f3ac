//! What an unknown sheet may be: every row of the table of metals, or none of them.

use super::evidence::HARDNESS_MODEL;
use super::mechanics::{STRAIN_UNDER_A_PYRAMID, brinell, hardening_exponent, proof_strain};
use crate::material::{Basis, Family, Library, Metal, MetalBand, StockForm};
use crate::model::BenchPrior;
use crate::units::{Length, MassDensity, Stress};
use uom::si::length::millimeter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::{gigapascal, megapascal};

/// Standard deviation of the logarithm of a sheet's yield strength within a row that has a minimum, 5 % of sheets lying below that.
/// chosen: typical strengths lie 15 % (6061-T6: 276 MPa) to 48 % (5052-H32: 193 MPa) above the minima (from memory).
const WITHIN_A_ROW: f64 = 0.12;
/// The same of a row that has a typical strength, half of all sheets below it.
const ABOUT_TYPICAL: f64 = 0.10;
/// The same of a row that has an upper limit only, 5 % of sheets above it.
const BELOW_A_LIMIT: f64 = 0.20;
/// Standard deviations from the median to the 5 % fractile of a normal distribution.
const TO_THE_FRACTILE: f64 = 1.644_853_626_951_472;

/// How far a row's other values may be off for one sheet, as shares. Common practice, no source; of conductivity the width of the
/// acceptance ranges recalled from AMS 2658.
const MODULUS: f64 = 0.015;
const DENSITY: f64 = 0.004;
const CONDUCTIVITY: f64 = 0.04;
/// The same of an exponent of hardening, as it is.
const HARDENING: f64 = 0.03;

/// How much likelier than another row one is that the table lists as sold over the counter. chosen: metal dealers have few others.
const SOLD: f64 = 3.0;

/// Something whose logarithm is normally distributed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spread {
    /// Logarithm of the median, in the unit of whoever uses it.
    pub(super) ln: f64,
    /// Standard deviation of the logarithm.
    pub(super) deviation: f64,
}

/// How strong sheets of one kind are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Strength {
    /// About a median.
    About(Stress, f64),
    /// Anything between two, all powers of ten alike.
    Between(Stress, Stress),
}

/// One thing that a sheet may be.
#[derive(Debug, Clone)]
pub(super) struct Hypothesis {
    /// The row's name; `None` when it is none of the table's.
    pub(super) name: Option<String>,
    pub(super) family: Family,
    /// How likely before any test.
    pub(super) prior: f64,
    pub(super) strength: Strength,
    /// Modulus and standard deviation of its logarithm.
    pub(super) modulus: (Stress, f64),
    /// Of hardening: exponent and standard deviation. `None`: anything that metals do.
    pub(super) hardening: Option<(f64, f64)>,
    /// Relative to a kilogram a cubic metre.
    pub(super) density: Spread,
    /// Relative to 1 % IACS.
    pub(super) conductivity: Spread,
    /// Smallest inside radius of a fold, in thicknesses.
    pub(super) bend_radius: Option<f64>,
    /// How likely caustic soda leaves a dark spot.
    pub(super) darkens: f64,
}

/// Everything that a sheet of a thickness may be.
pub(super) fn hypotheses(
    library: &Library,
    thickness: Option<Length>,
    prior: &BenchPrior,
) -> Vec<Hypothesis> {
    let sold: Vec<&String> = library
        .stock
        .iter()
        .filter(|s| s.form == StockForm::SheetGrade)
        .flat_map(|s| s.labels.iter())
        .collect();
    let mut rows: Vec<Hypothesis> = library.metals.iter().filter_map(|m| row(m, thickness)).collect();
    for row in &mut rows {
        let name = row.name.as_deref().unwrap_or_default();
        let counter = if sold.iter().any(|s| *s == name) { SOLD } else { 1.0 };
        let own = prior.weights.iter().filter(|(row, _)| row == name).map(|(_, factor)| factor);
        row.prior = counter * own.product::<f64>();
    }
    let all: f64 = rows.iter().map(|h| h.prior).sum();
    for row in &mut rows {
        row.prior *= (1.0 - prior.none_of_these) / all.max(f64::MIN_POSITIVE);
    }
    rows.extend(OTHERS.iter().map(|other| {
        let held = other.hypothesis();
        Hypothesis { prior: held.prior * prior.none_of_these, ..held }
    }));
    rows
}

/// A row of the table; `None` where nobody says how strong it is.
fn row(metal: &Metal, thickness: Option<Length>) -> Option<Hypothesis> {
    let band = band(metal, thickness)?;
    let modulus = metal.modulus.value;
    let strength = match (&band.yield_strength, &band.yield_maximum) {
        (Some(held), _) if held.basis == Basis::Typical => Strength::About(held.value, ABOUT_TYPICAL),
        (Some(held), _) => Strength::About(held.value * (TO_THE_FRACTILE * WITHIN_A_ROW).exp(), WITHIN_A_ROW),
        (None, Some(most)) => {
            Strength::About(most.value * (-TO_THE_FRACTILE * BELOW_A_LIMIT).exp(), BELOW_A_LIMIT)
        }
        (None, None) => return None,
    };
    let pair = band.yield_strength.as_ref().zip(band.ultimate.as_ref());
    let pair = pair.or_else(|| band.yield_maximum.as_ref().zip(band.ultimate_maximum.as_ref()));
    let hardening = pair.map(|(proof, tensile)| {
        let ratio = f64::from(tensile.value / proof.value);
        (hardening_exponent(ratio, proof_strain(proof.value, modulus)), HARDENING)
    });
    let aluminium = metal.family == Family::Aluminium;
    let conductivity = match &metal.conductivity {
        Some(held) => Spread { ln: held.value.ln(), deviation: CONDUCTIVITY },
        None => conductivity_of(metal.family),
    };
    let copper_or_zinc = metal.name.starts_with('2') || metal.name.starts_with('7');
    Some(Hypothesis {
        name: Some(metal.name.clone()),
        family: metal.family,
        prior: 1.0,
        strength,
        modulus: (modulus, MODULUS),
        hardening,
        density: Spread { ln: kilograms(metal.density.value).ln(), deviation: DENSITY },
        conductivity,
        bend_radius: band.bend_radius_90.as_ref().map(|r| r.value),
        darkens: if aluminium && copper_or_zinc { DARKENS } else { STAYS_BRIGHT },
    })
}

/// How likely a drop of caustic soda darkens copper- or zinc-bearing aluminium, and any other. Source: TM 1-1500-204-23-6 p. 4-13, that it
/// does; how surely is chosen.
const DARKENS: f64 = 0.9;
const STAYS_BRIGHT: f64 = 0.05;

/// How hard a piece of a row is, as the logarithm of its Brinell number: as its own strength makes it, which lies above the row's minimum.
pub(super) fn known_hardness(metal: &Metal) -> Option<Spread> {
    let row = row(metal, Some(Length::new::<millimeter>(PIECE_MM)))?;
    let (Strength::About(median, deviation), Some((exponent, _))) = (row.strength, row.hardening) else {
        return None;
    };
    let modulus = row.modulus.0;
    // ln H has n ln(ε / ε₀.₂) in it.
    let hardening = HARDENING * (STRAIN_UNDER_A_PYRAMID / proof_strain(median, modulus)).ln();
    let deviation = deviation.hypot(HARDNESS_MODEL).hypot(hardening);
    Some(Spread { ln: brinell(median, modulus, exponent).ln(), deviation })
}

/// Thickest sheet that a leg is made of, mm. chosen.
const THICKEST_MM: f64 = 6.0;
/// Thickness of a piece that another is compared with, mm. chosen.
const PIECE_MM: f64 = 3.0;

/// The band of a thickness; the nearest where the table has none for it, or the weakest of sheets that legs are made of where nobody knows
/// how thick it is.
fn band(metal: &Metal, thickness: Option<Length>) -> Option<&MetalBand> {
    match thickness {
        Some(thickness) => metal.band(thickness).or_else(|| {
            let thin = metal.bands.first().filter(|b| thickness <= b.over);
            thin.or_else(|| metal.bands.last())
        }),
        None => {
            let yields = |band: &&MetalBand| {
                let held = band.yield_strength.as_ref().or(band.yield_maximum.as_ref());
                held.map_or(f64::INFINITY, |held| held.value.value)
            };
            let thin = Length::new::<millimeter>(THICKEST_MM);
            metal.bands.iter().filter(|band| band.over < thin).min_by(|a, b| yields(a).total_cmp(&yields(b)))
        }
    }
}

fn kilograms(density: MassDensity) -> f64 {
    f64::from(density / MassDensity::new::<kilogram_per_cubic_meter>(1.0))
}

/// Conductivity where the table has none. Source: handbook ranges of the families (from memory).
fn conductivity_of(family: Family) -> Spread {
    let (middle, deviation): (f64, f64) = match family {
        Family::Aluminium => (40.0, 0.25),
        Family::Steel => (10.0, 0.4),
        Family::Stainless => (2.5, 0.2),
        Family::Titanium => (2.0, 0.5),
        Family::Other => (15.0, 1.0),
    };
    Spread { ln: middle.ln(), deviation }
}

/// Sheets of one family that the table does not have.
struct Other {
    family: Family,
    /// How likely among all that it does not have.
    prior: f64,
    /// Yield strength, MPa.
    strength: (f64, f64),
    /// Modulus, GPa, and by what share it may be off.
    modulus: (f64, f64),
    /// Density, kg/m³, and by what share it may be off.
    density: (f64, f64),
    darkens: f64,
}

/// chosen: wide enough for any sheet that is sold; most of what builders meet is aluminium.
const OTHERS: [Other; 4] = [
    Other {
        family: Family::Aluminium,
        prior: 0.7,
        strength: (20.0, 650.0),
        modulus: (70.5, 0.03),
        density: (2710.0, 0.02),
        darkens: 0.3,
    },
    Other {
        family: Family::Steel,
        prior: 0.15,
        strength: (140.0, 1500.0),
        modulus: (206.0, 0.03),
        density: (7850.0, 0.005),
        darkens: STAYS_BRIGHT,
    },
    Other {
        family: Family::Stainless,
        prior: 0.1,
        strength: (170.0, 1500.0),
        modulus: (195.0, 0.03),
        density: (7900.0, 0.01),
        darkens: STAYS_BRIGHT,
    },
    Other {
        family: Family::Titanium,
        prior: 0.05,
        strength: (170.0, 1200.0),
        modulus: (108.0, 0.05),
        density: (4470.0, 0.01),
        darkens: STAYS_BRIGHT,
    },
];

impl Other {
    fn hypothesis(&self) -> Hypothesis {
        let (weak, strong) = self.strength;
        let (modulus, off) = self.modulus;
        Hypothesis {
            name: None,
            family: self.family,
            prior: self.prior,
            strength: Strength::Between(Stress::new::<megapascal>(weak), Stress::new::<megapascal>(strong)),
            modulus: (Stress::new::<gigapascal>(modulus), off),
            hardening: None,
            density: Spread { ln: self.density.0.ln(), deviation: self.density.1 },
            conductivity: conductivity_of(self.family),
            bend_radius: None,
            darkens: self.darkens,
        }
    }
}
