//! Quantities as figures in a report: a number of sensible length with its unit.

use crate::units::{Dimension, Measure, Unit};

/// From this power of ten upwards a figure is written with an exponent. chosen: 7.00e10 Pa, but 70000000 N.
const LARGEST_PLAIN: i32 = 8;
/// Down to this power of ten a figure is written without an exponent. chosen: 0.0000012 m still reads.
const SMALLEST_PLAIN: i32 = -6;

/// Writes a quantity to so many significant digits: `4.00 mm`, `31.5 N/mm`.
///
/// A unit of another kind is replaced by the SI unit of the quantity. A wire gauge is named where the length is
/// one exactly (`14 swg`), and is otherwise written in inches.
#[must_use]
pub fn figure<Q: Measure>(value: Q, unit: Unit, digits: usize) -> String {
    with_unit(value, unit, |number| significant(number, digits))
}

/// Writes a quantity to so many decimals, for columns that line up and for differences that may be nearly zero.
///
/// What rounds to zero is written without a sign. Units as in [`figure`].
#[must_use]
pub fn fixed<Q: Measure>(value: Q, unit: Unit, decimals: usize) -> String {
    with_unit(value, unit, |number| decimal(number, decimals))
}

/// Writes a quantity in full, so that reading it back gives the same value. Units as in [`figure`].
///
/// A value that is not finite is written in words and can't be read back.
#[must_use]
pub fn exact<Q: Measure>(value: Q, unit: Unit) -> String {
    with_unit(value, unit, in_full)
}

/// Writes only the number of [`figure`], for a column whose head names the unit.
///
/// The unit is taken as in [`figure`]; a wire gauge counts as inches.
#[must_use]
pub fn number<Q: Measure>(value: Q, unit: Unit, digits: usize) -> String {
    let unit = if unit == Unit::Swg { Unit::Inch } else { unit };
    significant(counted(value, unit).0, digits)
}

/// Writes only the number of [`fixed`], for a column whose head names the unit.
#[must_use]
pub fn fixed_number<Q: Measure>(value: Q, unit: Unit, decimals: usize) -> String {
    let unit = if unit == Unit::Swg { Unit::Inch } else { unit };
    decimal(counted(value, unit).0, decimals)
}

/// Writes a share in whole per cent.
#[must_use]
pub fn percent(share: f64) -> String {
    format!("{} %", decimal(100.0 * share, 0))
}

/// Words in a row: "1", "1 and 2", "1, 2 and 3".
#[must_use]
pub fn list_and(words: &[impl AsRef<str>]) -> String {
    match words {
        [first @ .., last] if !first.is_empty() => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", first.join(", "), last.as_ref())
        }
        [one] => one.as_ref().to_owned(),
        _ => String::new(),
    }
}

/// Writes a plain number (a ratio, a factor, a margin) to so many significant digits.
#[must_use]
pub fn significant(number: f64, digits: usize) -> String {
    if let Some(words) = no_digits(number) {
        return words.to_owned();
    }
    let digits = digits.clamp(1, 17);
    let scientific = format!("{number:.*e}", digits - 1);
    let (mantissa, exponent) = scientific.split_once('e').unwrap_or((&scientific, "0"));
    let exponent: i32 = exponent.parse().unwrap_or(0);
    if !(SMALLEST_PLAIN..=LARGEST_PLAIN).contains(&exponent) {
        return scientific;
    }
    let whole_digits = exponent.saturating_add(1);
    match usize::try_from(whole_digits) {
        // More whole digits than are significant: noughts fill the places.
        Ok(whole) if whole >= digits => {
            let mut out = mantissa.replace('.', "");
            out.extend(std::iter::repeat_n('0', whole - digits));
            out
        }
        Ok(whole) => format!("{number:.*}", digits - whole),
        Err(_) => {
            let noughts = usize::try_from(whole_digits.unsigned_abs()).unwrap_or(0);
            format!("{number:.*}", digits + noughts)
        }
    }
}

/// Writes a plain number to so many decimals; what rounds to zero has no sign.
#[must_use]
pub fn decimal(number: f64, decimals: usize) -> String {
    if !number.is_finite() {
        return no_digits(number).unwrap_or_default().to_owned();
    }
    let out = format!("{number:.*}", decimals.min(17));
    match out.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| matches!(b, b'0' | b'.')) => rest.to_owned(),
        _ => out,
    }
}

fn in_full(number: f64) -> String {
    match no_digits(number) {
        Some(words) => words.to_owned(),
        None if (1e-6..1e15).contains(&number.abs()) => format!("{number}"),
        None => format!("{number:e}"),
    }
}

/// What stands for a number that has no digits to show.
fn no_digits(number: f64) -> Option<&'static str> {
    match number {
        _ if number.is_nan() => Some("no number"),
        f64::INFINITY => Some("∞"),
        f64::NEG_INFINITY => Some("-∞"),
        _ if number == 0.0 => Some("0"),
        _ => None,
    }
}

fn with_unit<Q: Measure>(value: Q, unit: Unit, write: impl Fn(f64) -> String) -> String {
    if unit == Unit::Swg
        && let Some(gauge) = unit.count(value)
    {
        return format!("{} {}", crate::units::gauge_written(gauge), unit.symbol());
    }
    let unit = if unit == Unit::Swg { Unit::Inch } else { unit };
    let (number, unit) = counted(value, unit);
    format!("{} {}", write(number), unit.symbol())
}

/// How many of a unit a quantity is; in its SI unit if the unit does not fit or the number would overflow.
fn counted<Q: Measure>(value: Q, unit: Unit) -> (f64, Unit) {
    let si = value.si();
    match unit.count(value) {
        Some(number) if number.is_finite() || !si.is_finite() => (number, unit),
        _ => (si, Q::DIMENSION.si_unit()),
    }
}

/// Below this an area is a section's and not a wing's, m². chosen: 100 mm square.
const SMALL_AREA: f64 = 1e-2;

/// The units a report is written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct UnitChoice {
    /// For lengths.
    pub length: Unit,
    /// For masses.
    pub mass: Unit,
    /// For forces.
    pub force: Unit,
    /// For stresses and moduli.
    pub stress: Unit,
    /// For angles.
    pub angle: Unit,
    /// For stiffnesses.
    pub stiffness: Unit,
    /// For speeds.
    pub velocity: Unit,
    /// For areas.
    pub area: Unit,
}

impl Default for UnitChoice {
    fn default() -> Self {
        Self {
            length: Unit::Millimetre,
            mass: Unit::Kilogram,
            force: Unit::Newton,
            stress: Unit::Megapascal,
            angle: Unit::Degree,
            stiffness: Unit::NewtonPerMillimetre,
            velocity: Unit::MetrePerSecond,
            area: Unit::SquareMetre,
        }
    }
}

impl UnitChoice {
    /// Chooses, for each dimension, the unit its writer used most; of equals, the one used first.
    ///
    /// Feet, thou and gauges count as inches, centimetres and metres as millimetres (unless no other length is
    /// written), ounces as pounds, psi and Msi as ksi, other pascals as MPa. Who writes lengths only in inches gets
    /// forces, stresses, stiffnesses and speeds in lbf, ksi, lbf/in and ft/s where none are written.
    #[must_use]
    pub fn from_written(units: impl Iterator<Item = Unit>) -> Self {
        let written: Vec<Unit> = units.collect();
        let of = |dimension| written.iter().copied().filter(move |unit: &Unit| unit.dimension() == dimension);
        let only_large = of(Dimension::Length).all(|unit| matches!(unit, Unit::Centimetre | Unit::Metre));
        let only_inches =
            of(Dimension::Length).next().is_some() && of(Dimension::Length).all(is_imperial_length);
        let usual = |unit| match unit {
            Unit::Centimetre | Unit::Metre if !only_large => Unit::Millimetre,
            Unit::Foot | Unit::Thou | Unit::Swg => Unit::Inch,
            Unit::Ounce => Unit::Pound,
            Unit::Psi | Unit::Msi => Unit::Ksi,
            Unit::Gigapascal | Unit::Kilopascal | Unit::Pascal => Unit::Megapascal,
            other => other,
        };
        let most = |dimension| most_used(of(dimension).map(usual));
        let metric = Self::default();
        let (force, stress, stiffness, velocity) = if only_inches {
            (Unit::PoundForce, Unit::Ksi, Unit::PoundForcePerInch, Unit::FootPerSecond)
        } else {
            (metric.force, metric.stress, metric.stiffness, metric.velocity)
        };
        Self {
            length: most(Dimension::Length).unwrap_or(metric.length),
            mass: most(Dimension::Mass).unwrap_or(metric.mass),
            force: most(Dimension::Force).unwrap_or(force),
            stress: most(Dimension::Stress).unwrap_or(stress),
            angle: most(Dimension::Angle).unwrap_or(metric.angle),
            stiffness: most(Dimension::Stiffness).unwrap_or(stiffness),
            velocity: most(Dimension::Velocity).unwrap_or(velocity),
            area: most(Dimension::Area).unwrap_or(metric.area),
        }
    }

    /// The unit for a dimension; moments, section moduli and densities follow the lengths and forces chosen.
    #[must_use]
    pub const fn unit(&self, dimension: Dimension) -> Unit {
        let inches = matches!(self.length, Unit::Inch);
        match dimension {
            Dimension::Length => self.length,
            Dimension::Mass => self.mass,
            Dimension::Force => self.force,
            Dimension::Angle => self.angle,
            Dimension::Velocity => self.velocity,
            Dimension::Stress => self.stress,
            Dimension::Area => self.area,
            Dimension::Stiffness => self.stiffness,
            Dimension::Density if inches => Unit::PoundPerCubicInch,
            Dimension::Density => Unit::KilogramPerCubicMetre,
            Dimension::Moment if matches!(self.force, Unit::PoundForce) => Unit::PoundForceInch,
            Dimension::Moment => Unit::NewtonMetre,
            Dimension::SectionModulus if inches => Unit::CubicInch,
            Dimension::SectionModulus => Unit::CubicMillimetre,
            Dimension::SecondMoment if inches => Unit::QuarticInch,
            Dimension::SecondMoment => Unit::QuarticMillimetre,
            Dimension::Current => Unit::Ampere,
            Dimension::Voltage => Unit::Millivolt,
        }
    }

    /// Writes a quantity in the unit chosen for it, to so many significant digits. Areas as small as those of bolts and sections go
    /// with the lengths.
    #[must_use]
    pub fn figure<Q: Measure>(&self, value: Q, digits: usize) -> String {
        let unit = if Q::DIMENSION == Dimension::Area && value.si().abs() < SMALL_AREA {
            if matches!(self.length, Unit::Inch) { Unit::SquareInch } else { Unit::SquareMillimetre }
        } else {
            self.unit(Q::DIMENSION)
        };
        figure(value, unit, digits)
    }

    /// The same, rounded down: for a limit that is to be kept.
    #[must_use]
    pub fn figure_down<Q: Measure>(&self, value: Q, digits: usize) -> String {
        with_unit(value, self.unit(Q::DIMENSION), |number| significant(rounded_down(number, digits), digits))
    }
}

/// A number above zero cut off after so many significant digits.
fn rounded_down(number: f64, digits: usize) -> f64 {
    if !(number.is_finite() && number > 0.0) {
        return number;
    }
    let last = 10_f64.powi(number.log10().floor() as i32 + 1 - digits.clamp(1, 17) as i32);
    // What rounding took from a whole number of the last digit is not to cost one.
    (number / last + 1e-9).floor() * last
}

fn is_imperial_length(unit: Unit) -> bool {
    matches!(unit, Unit::Inch | Unit::Foot | Unit::Thou | Unit::Swg)
}

/// The most frequent unit; of equals, the first.
fn most_used(units: impl Iterator<Item = Unit>) -> Option<Unit> {
    let mut counts: Vec<(Unit, usize)> = Vec::new();
    for unit in units {
        match counts.iter_mut().find(|(counted, _)| *counted == unit) {
            Some((_, count)) => *count += 1,
            None => counts.push((unit, 1)),
        }
    }
    // `max_by_key` takes the last of equals, so the search runs backwards.
    counts.into_iter().rev().max_by_key(|(_, count)| *count).map(|(unit, _)| unit)
}

#[cfg(test)]
mod tests {
    use super::rounded_down;

    #[test]
    fn a_limit_is_rounded_to_what_keeps_it() {
        for (number, down) in
            [(118.4, 110.0), (119.99, 110.0), (120.0, 120.0), (0.287, 0.28), (0.2999, 0.29), (9.96, 9.9)]
        {
            assert!((rounded_down(number, 2) - down).abs() < 1e-9, "{number}: {}", rounded_down(number, 2));
        }
        assert_eq!([0.0, -3.27].map(|n| rounded_down(n, 2)), [0.0, -3.27]);
    }
}
