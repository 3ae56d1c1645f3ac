//! The one table of units: what each is called, what it measures and how large it is in SI.

use super::STANDARD_GRAVITY;
use super::gauge;
use super::measure::Measure;

/// What a unit measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Dimension {
    /// Length.
    Length,
    /// Mass.
    Mass,
    /// Force.
    Force,
    /// Plane angle.
    Angle,
    /// Speed.
    Velocity,
    /// Stress, strength, pressure or elastic modulus.
    Stress,
    /// Area.
    Area,
    /// Mass per volume.
    Density,
    /// Force per length.
    Stiffness,
    /// Moment of a force, or energy.
    Moment,
    /// Section modulus.
    SectionModulus,
    /// Second moment of area or torsion constant.
    SecondMoment,
    /// Electric current.
    Current,
    /// Voltage.
    Voltage,
}

impl Dimension {
    /// Says what it is in words, with the article: "a length".
    #[must_use]
    pub const fn noun(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Mass => "a mass",
            Self::Force => "a force",
            Self::Angle => "an angle",
            Self::Velocity => "a speed",
            Self::Stress => "a stress",
            Self::Area => "an area",
            Self::Density => "a density",
            Self::Stiffness => "a stiffness",
            Self::Moment => "a moment or an energy",
            Self::SectionModulus => "a section modulus",
            Self::SecondMoment => "a second moment of area",
            Self::Current => "a current",
            Self::Voltage => "a voltage",
        }
    }

    /// The word without its article, as in "units of length".
    #[must_use]
    pub fn word(self) -> &'static str {
        let noun = self.noun();
        noun.split_once(' ').map_or(noun, |(_, word)| word)
    }

    /// A quantity of this kind as a builder would write it.
    #[must_use]
    pub const fn example(self) -> &'static str {
        match self {
            Self::Length => "4 mm",
            Self::Mass => "12.4 kg",
            Self::Force => "20 N",
            Self::Angle => "40 deg",
            Self::Velocity => "1.6 m/s",
            Self::Stress => "260 MPa",
            Self::Area => "0.92 m^2",
            Self::Density => "2700 kg/m^3",
            Self::Stiffness => "20 N/mm",
            Self::Moment => "5 N m",
            Self::SectionModulus => "160 mm^3",
            Self::SecondMoment => "320 mm^4",
            Self::Current => "4 A",
            Self::Voltage => "1.3 mV",
        }
    }

    /// The coherent SI unit, the one whose scale is 1.
    #[must_use]
    pub const fn si_unit(self) -> Unit {
        match self {
            Self::Length => Unit::Metre,
            Self::Mass => Unit::Kilogram,
            Self::Force => Unit::Newton,
            Self::Angle => Unit::Radian,
            Self::Velocity => Unit::MetrePerSecond,
            Self::Stress => Unit::Pascal,
            Self::Area => Unit::SquareMetre,
            Self::Density => Unit::KilogramPerCubicMetre,
            Self::Stiffness => Unit::NewtonPerMetre,
            Self::Moment => Unit::NewtonMetre,
            Self::SectionModulus => Unit::CubicMetre,
            Self::SecondMoment => Unit::QuarticMetre,
            Self::Current => Unit::Ampere,
            Self::Voltage => Unit::Volt,
        }
    }

    /// Units of this kind, in the order of the table: the most usual first.
    pub fn units(self) -> impl Iterator<Item = Unit> {
        Unit::ALL.iter().copied().filter(move |unit| unit.dimension() == self)
    }
}

/// Metres in an inch, exact. Source: international yard and pound agreement, 1959.
const INCH: f64 = 0.0254;
/// Metres in a foot, exact: 12 inches.
const FOOT: f64 = 0.3048;
/// Kilograms in a pound avoirdupois, exact. Source: international yard and pound agreement, 1959.
const POUND: f64 = 0.453_592_37;
/// Newtons in a pound-force, exact: a pound under standard gravity.
const POUND_FORCE: f64 = POUND * STANDARD_GRAVITY;
/// Pascals in a pound-force per square inch.
const PSI: f64 = POUND_FORCE / (INCH * INCH);

macro_rules! unit_table {
    ($( $variant:ident, $dimension:ident, $scale:expr, $symbol:literal $(, $spelling:literal)* ; $doc:literal )+) => {
        /// A unit that quantities are written and reported in.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum Unit {
            $( #[doc = $doc] $variant, )+
        }

        impl Unit {
            /// Every unit, the most usual of each dimension first.
            pub const ALL: &'static [Self] = &[ $( Self::$variant, )+ ];

            /// Its symbol, as reports write it and as a project file may.
            #[must_use]
            pub const fn symbol(self) -> &'static str {
                match self { $( Self::$variant => $symbol, )+ }
            }

            /// Other ways to write it that are accepted.
            #[must_use]
            pub const fn spellings(self) -> &'static [&'static str] {
                match self { $( Self::$variant => &[ $( $spelling, )* ], )+ }
            }

            /// What it measures.
            #[must_use]
            pub const fn dimension(self) -> Dimension {
                match self { $( Self::$variant => Dimension::$dimension, )+ }
            }

            /// How many coherent SI units one of it is. A wire gauge has no scale: its entry is the inch,
            /// which its table is written in.
            #[must_use]
            pub const fn scale(self) -> f64 {
                match self { $( Self::$variant => $scale, )+ }
            }
        }
    };
}

// Spellings are in normal form (see `normal_form`): "m2" and "m²" are found under "m^2".
unit_table! {
    Millimetre, Length, 1e-3, "mm", "millimetre", "millimetres", "millimeter", "millimeters"; "Millimetre."
    Centimetre, Length, 1e-2, "cm", "centimetre", "centimetres", "centimeter", "centimeters"; "Centimetre."
    Metre, Length, 1.0, "m", "metre", "metres", "meter", "meters"; "Metre."
    Inch, Length, INCH, "in", "in.", "inch", "inches", "\"", "″", "”", "''"; "Inch."
    Foot, Length, FOOT, "ft", "ft.", "foot", "feet", "'", "′", "’"; "Foot."
    Thou, Length, INCH / 1000.0, "thou", "mil", "mils"; "Thousandth of an inch."
    Swg, Length, INCH, "swg", "SWG"; "Number of the Imperial Standard Wire Gauge: a table, not a scale."

    Kilogram, Mass, 1.0, "kg", "kilogram", "kilograms"; "Kilogram."
    Gram, Mass, 1e-3, "g", "gram", "grams"; "Gram."
    Pound, Mass, POUND, "lb", "lb.", "lbs", "lbs.", "pound", "pounds"; "Pound avoirdupois, a mass."
    Ounce, Mass, POUND / 16.0, "oz", "oz.", "ounce", "ounces"; "Ounce avoirdupois, a mass."

    Newton, Force, 1.0, "N", "newton", "newtons"; "Newton."
    Kilonewton, Force, 1e3, "kN"; "Kilonewton."
    PoundForce, Force, POUND_FORCE, "lbf"; "Pound-force."
    KilogramForce, Force, STANDARD_GRAVITY, "kgf", "kp"; "Kilogram-force."

    Degree, Angle, std::f64::consts::PI / 180.0, "deg", "°", "degree", "degrees"; "Degree of arc."
    Radian, Angle, 1.0, "rad", "radian", "radians"; "Radian."

    MetrePerSecond, Velocity, 1.0, "m/s"; "Metre per second."
    KilometrePerHour, Velocity, 1.0 / 3.6, "km/h", "kph", "kmh"; "Kilometre per hour."
    FootPerSecond, Velocity, FOOT, "ft/s", "fps"; "Foot per second."
    FootPerMinute, Velocity, FOOT / 60.0, "ft/min", "fpm"; "Foot per minute."
    Knot, Velocity, 1852.0 / 3600.0, "kt", "kts", "knot", "knots"; "Knot, one nautical mile (1852 m) per hour."
    MilePerHour, Velocity, 0.447_04, "mph", "mi/h"; "Statute mile (5280 ft) per hour."

    Megapascal, Stress, 1e6, "MPa", "N/mm^2", "MN/m^2"; "Megapascal, the same as N/mm²."
    Gigapascal, Stress, 1e9, "GPa", "kN/mm^2"; "Gigapascal."
    Kilopascal, Stress, 1e3, "kPa"; "Kilopascal."
    Pascal, Stress, 1.0, "Pa", "N/m^2"; "Pascal."
    Ksi, Stress, PSI * 1e3, "ksi"; "Thousand pound-force per square inch."
    Psi, Stress, PSI, "psi", "lbf/in^2"; "Pound-force per square inch."
    Msi, Stress, PSI * 1e6, "Msi"; "Million pound-force per square inch."

    SquareMetre, Area, 1.0, "m^2", "sq m"; "Square metre."
    SquareDecimetre, Area, 1e-2, "dm^2", "sq dm"; "Square decimetre."
    SquareCentimetre, Area, 1e-4, "cm^2", "sq cm"; "Square centimetre."
    SquareMillimetre, Area, 1e-6, "mm^2", "sq mm"; "Square millimetre."
    SquareInch, Area, INCH * INCH, "sq in", "in^2", "sq in.", "sq. in", "sq. in.", "sq inch", "sq inches", "square inch", "square inches"; "Square inch."
    SquareFoot, Area, FOOT * FOOT, "sq ft", "ft^2", "sq ft.", "sq. ft", "sq. ft.", "sq foot", "sq feet", "square foot", "square feet"; "Square foot."

    KilogramPerCubicMetre, Density, 1.0, "kg/m^3"; "Kilogram per cubic metre."
    GramPerCubicCentimetre, Density, 1e3, "g/cm^3", "g/cc", "kg/dm^3"; "Gram per cubic centimetre."
    PoundPerCubicInch, Density, POUND / (INCH * INCH * INCH), "lb/in^3"; "Pound per cubic inch."

    NewtonPerMillimetre, Stiffness, 1e3, "N/mm"; "Newton per millimetre."
    NewtonPerMetre, Stiffness, 1.0, "N/m"; "Newton per metre."
    KilonewtonPerMetre, Stiffness, 1e3, "kN/m"; "Kilonewton per metre."
    PoundForcePerInch, Stiffness, POUND_FORCE / INCH, "lbf/in"; "Pound-force per inch."

    NewtonMetre, Moment, 1.0, "N m", "Nm", "N·m"; "Newton metre."
    NewtonMillimetre, Moment, 1e-3, "N mm", "Nmm", "N·mm"; "Newton millimetre."
    Joule, Moment, 1.0, "J"; "Joule, for energies."
    PoundForceInch, Moment, POUND_FORCE * INCH, "lbf in", "lbf·in", "in·lbf", "in lbf"; "Pound-force inch."
    PoundForceFoot, Moment, POUND_FORCE * FOOT, "lbf ft", "lbf·ft", "ft·lbf", "ft lbf"; "Pound-force foot."

    CubicMillimetre, SectionModulus, 1e-9, "mm^3"; "Cubic millimetre."
    CubicMetre, SectionModulus, 1.0, "m^3"; "Cubic metre."
    CubicInch, SectionModulus, INCH * INCH * INCH, "in^3"; "Cubic inch."

    QuarticMillimetre, SecondMoment, 1e-12, "mm^4"; "Millimetre to the fourth power."
    QuarticMetre, SecondMoment, 1.0, "m^4"; "Metre to the fourth power."
    QuarticInch, SecondMoment, INCH * INCH * INCH * INCH, "in^4"; "Inch to the fourth power."

    Ampere, Current, 1.0, "A", "amp", "amps", "ampere", "amperes"; "Ampere."
    Milliampere, Current, 1e-3, "mA"; "Milliampere."

    Millivolt, Voltage, 1e-3, "mV", "millivolt", "millivolts"; "Millivolt."
    Microvolt, Voltage, 1e-6, "uV", "µV", "μV"; "Microvolt."
    Volt, Voltage, 1.0, "V", "volt", "volts"; "Volt."
}

impl Unit {
    /// Finds the unit that a text spells, in any accepted way; capitals count (mm, not MM).
    #[must_use]
    pub fn spelled(text: &str) -> Option<Self> {
        let normal = normal_form(text);
        Self::ALL.iter().copied().find(|unit| unit.names().any(|name| name == normal))
    }

    /// Every accepted way to write it, its symbol first.
    pub fn names(self) -> impl Iterator<Item = &'static str> {
        std::iter::once(self.symbol()).chain(self.spellings().iter().copied())
    }

    /// The quantity that is so many of this unit, or `None` when the unit measures something else or the number
    /// is no wire gauge.
    pub(crate) fn of<Q: Measure>(self, number: f64) -> Option<Q> {
        if self.dimension() != Q::DIMENSION {
            return None;
        }
        let si = match self {
            Self::Swg => gauge::inches(number)? * INCH,
            _ => number * self.scale(),
        };
        Some(Q::from_si(si))
    }

    /// How many of this unit a quantity is, or `None` when the unit measures something else or the length is
    /// no wire gauge.
    pub(crate) fn count<Q: Measure>(self, value: Q) -> Option<f64> {
        if self.dimension() != Q::DIMENSION {
            return None;
        }
        match self {
            Self::Swg => gauge::number(value.si() / INCH),
            _ => Some(value.si() / self.scale()),
        }
    }
}

/// Brings the spelling of a unit to one form: single spaces, none beside `/` `^` `·`, and powers as `^2`.
pub(crate) fn normal_form(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut gap = false;
    for c in text.trim().chars() {
        if c.is_whitespace() {
            gap = true;
            continue;
        }
        let (power, c) = match c {
            '²' => (true, '2'),
            '³' => (true, '3'),
            '⁴' => (true, '4'),
            '⋅' | '*' => (false, '·'),
            'º' | '˚' => (false, '°'),
            _ => (c.is_ascii_digit() && !gap && out.ends_with(|last: char| last.is_ascii_alphabetic()), c),
        };
        let joins = |c: char| matches!(c, '/' | '^' | '·');
        if gap && !joins(c) && !out.ends_with(joins) {
            out.push(' ');
        }
        gap = false;
        if power {
            out.push('^');
        }
        out.push(c);
    }
    out
}
