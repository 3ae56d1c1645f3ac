//! Brace wires and cables, and the ways to end them.

use super::{Sourced, Thread};
use crate::units::{Area, Force, Length, MassDensity, Stress};
use std::f64::consts::FRAC_PI_4;
use thiserror::Error;
use uom::si::length::millimeter;
use uom::si::pressure::megapascal;

/// A wire or cable. Modulus and strength refer to the nominal circle π d²/4.
#[derive(Debug, Clone, PartialEq)]
pub struct Wire {
    /// Table name, such as `302-spring`.
    pub name: String,
    /// Other names it is sold under.
    pub aliases: Vec<String>,
    /// Effective modulus on the nominal circle.
    pub modulus: Sourced<Stress>,
    /// Effective density on the nominal circle.
    pub density: Sourced<MassDensity>,
    /// Tensile strength by diameter.
    pub strength: WireStrength,
    /// Yield as a fraction of the tensile strength; the lower end of the published range.
    pub yield_fraction: Option<Sourced<f64>>,
}

/// How the strength depends on the diameter.
#[derive(Debug, Clone, PartialEq)]
pub enum WireStrength {
    /// S = A / dᵐ in bands of diameter. Source: Shigley, table 10-4 (form of the law).
    PowerLaw(Vec<PowerBand>),
    /// Breaking loads of the sizes that are sold.
    Sizes(Vec<(Length, Sourced<Force>)>),
    /// One strength at every diameter.
    Constant(Sourced<Stress>),
}

/// One band of a power law. A diameter on the boundary of two bands belongs to the thinner one.
#[derive(Debug, Clone, PartialEq)]
pub struct PowerBand {
    /// Smallest diameter (inclusive in the first band).
    pub from: Length,
    /// Largest diameter, inclusive.
    pub up_to: Length,
    /// A in MPa·mmᵐ and m, with their source.
    pub constants: Sourced<(f64, f64)>,
}

/// How the strands of a cable are laid, with the stiffness that comes of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Construction {
    /// Strands and wires, such as `7x19`.
    pub name: String,
    /// Effective modulus on the nominal circle.
    pub modulus: Sourced<Stress>,
}

/// A diameter that the wire is not listed for.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("{wire} is not listed in that diameter")]
pub struct WireRangeError {
    /// The wire's name.
    pub wire: String,
    /// What diameters are listed, smallest and largest.
    pub listed: (Length, Length),
    /// The sizes, when only single sizes are listed.
    pub sizes: Vec<Length>,
}

impl Wire {
    /// Solid or cable, where the way its strength is listed tells: single sizes are those of cables.
    #[must_use]
    pub const fn form(&self) -> Option<WireForm> {
        match self.strength {
            WireStrength::PowerLaw(_) => Some(WireForm::Solid),
            WireStrength::Sizes(_) => Some(WireForm::Cable),
            WireStrength::Constant(_) => None,
        }
    }

    /// Area of the nominal circle.
    #[must_use]
    pub fn area(diameter: Length) -> Area {
        FRAC_PI_4 * diameter * diameter
    }

    /// Breaking load of the straight wire.
    ///
    /// Power laws: F = A / dᵐ × π d²/4.
    ///
    /// # Errors
    /// When the wire is not listed in that diameter.
    pub fn breaking_load(&self, diameter: Length) -> Result<Sourced<Force>, WireRangeError> {
        let refused = |listed, sizes| WireRangeError { wire: self.name.clone(), listed, sizes };
        match &self.strength {
            WireStrength::PowerLaw(bands) => {
                let (Some(first), Some(last)) = (bands.first(), bands.last()) else {
                    return Err(refused((diameter, diameter), Vec::new()));
                };
                let slack = 1e-9 * diameter;
                bands
                    .iter()
                    .find(|b| diameter >= b.from - slack && diameter <= b.up_to + slack)
                    .map(|b| {
                        let (a, m) = b.constants.value;
                        let stress = Stress::new::<megapascal>(a / diameter.get::<millimeter>().powf(m));
                        Sourced::new(stress * Self::area(diameter), b.constants.basis, &b.constants.source)
                    })
                    .ok_or_else(|| refused((first.from, last.up_to), Vec::new()))
            }
            WireStrength::Sizes(sizes) => sizes
                .iter()
                .find(|(size, _)| (*size - diameter).abs() <= 0.01 * *size)
                .map(|(_, load)| load.clone())
                .ok_or_else(|| {
                    let all: Vec<Length> = sizes.iter().map(|(d, _)| *d).collect();
                    let ends =
                        (all.first().copied().unwrap_or(diameter), all.last().copied().unwrap_or(diameter));
                    refused(ends, all)
                }),
            WireStrength::Constant(stress) => {
                Ok(Sourced::new(stress.value * Self::area(diameter), stress.basis, &stress.source))
            }
        }
    }
}

/// What a wire is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WireForm {
    /// One solid wire.
    Solid,
    /// Strands.
    Cable,
}

impl WireForm {
    /// Both, for parsing and for messages.
    pub const ALL: [Self; 2] = [Self::Solid, Self::Cable];

    /// The word used in table files.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Solid => "solid",
            Self::Cable => "cable",
        }
    }
}

/// A way to end a wire.
#[derive(Debug, Clone, PartialEq)]
pub struct WireEnd {
    /// Table name, such as `threaded`.
    pub name: String,
    /// What it looks like and what to watch, in words.
    pub words: String,
    /// What wire its efficiency is for; `None` when the row does not say.
    pub suits: Option<WireForm>,
    /// The fraction of the wire's breaking load it holds.
    pub efficiency: EndEfficiency,
}

/// How much of the wire's breaking load an end holds.
#[derive(Debug, Clone, PartialEq)]
pub enum EndEfficiency {
    /// A fixed fraction.
    Fraction(Sourced<f64>),
    /// Root area of the largest standard thread that can be cut on the wire, over the wire's area.
    ThreadRoot(Sourced<()>),
}

impl WireEnd {
    /// Fraction of the breaking load for a wire of this diameter, and the thread when the end is one.
    ///
    /// `threads` are the standard threads to choose from. `None` when no thread fits the wire.
    #[must_use]
    pub fn efficiency<'t>(
        &self,
        diameter: Length,
        threads: &'t [Thread],
    ) -> Option<(Sourced<f64>, Option<&'t Thread>)> {
        match &self.efficiency {
            EndEfficiency::Fraction(f) => Some((f.clone(), None)),
            EndEfficiency::ThreadRoot(s) => {
                let fits = threads
                    .iter()
                    .filter(|t| t.nominal <= diameter * (1.0 + 1e-6) && t.nominal >= 0.7 * diameter)
                    // The largest that fits, and of those the coarse one: nobody says which die is used.
                    .max_by(|a, b| {
                        let key = |t: &Thread| (t.nominal.value, -t.minor_area().value);
                        let (a, b) = (key(a), key(b));
                        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
                    })?;
                let ratio = (fits.minor_area() / Wire::area(diameter)).value;
                Some((Sourced::new(ratio, s.basis, &s.source), Some(fits)))
            }
        }
    }
}
