//! The text of quantities: what is read, what is refused and in which words, and what is written.

use gearleg::input::quantity::{FromText, QuantityError};
use gearleg::report::figure::{UnitChoice, decimal, exact, figure, fixed, number, significant};
use gearleg::units::{
    Angle, Area, Dimension, ElectricCurrent, ElectricPotential, Force, Length, Mass, MassDensity, Measure,
    Moment, SecondMoment, SectionModulus, Stiffness, Stress, Unit, Velocity,
};
use proptest::prelude::*;
use uom::si::length::meter;

/// Two-sided relative comparison.
fn assert_close(actual: f64, expected: f64, relative: f64, what: &str) {
    let error = (actual - expected).abs();
    assert!(error <= relative * expected.abs(), "{what}: {actual} is not {expected}");
}

/// Reads a text and gives its SI number and unit.
macro_rules! read {
    ($quantity:ty, $text:expr) => {
        <$quantity>::from_text($text).map(|w| (w.value.value, w.unit)).map_err(|e| format!("{}: {e}", e.code))
    };
}

#[test]
fn lengths_are_read_in_every_form() {
    let good = [
        ("4 mm", 0.004, Unit::Millimetre),
        ("4mm", 0.004, Unit::Millimetre),
        ("  4\tmm ", 0.004, Unit::Millimetre),
        ("+4 mm", 0.004, Unit::Millimetre),
        ("-20 mm", -0.020, Unit::Millimetre),
        ("−20 mm", -0.020, Unit::Millimetre),
        ("- 20 mm", -0.020, Unit::Millimetre),
        ("0 mm", 0.0, Unit::Millimetre),
        ("-0 mm", 0.0, Unit::Millimetre),
        (".5 mm", 0.0005, Unit::Millimetre),
        ("4. mm", 0.004, Unit::Millimetre),
        ("1e3 mm", 1.0, Unit::Millimetre),
        ("1E+3 mm", 1.0, Unit::Millimetre),
        ("2.5e-3 m", 0.0025, Unit::Metre),
        ("2.5e−3 m", 0.0025, Unit::Metre),
        ("23 cm", 0.23, Unit::Centimetre),
        ("0.16 in", 0.004_064, Unit::Inch),
        ("5/32 in", 0.003_968_75, Unit::Inch),
        ("5 / 32 in", 0.003_968_75, Unit::Inch),
        ("5⁄32\"", 0.003_968_75, Unit::Inch),
        ("-5/32 in", -0.003_968_75, Unit::Inch),
        ("1 3/8 in", 0.034_925, Unit::Inch),
        ("1-3/8 in", 0.034_925, Unit::Inch),
        ("-1-3/8 in", -0.034_925, Unit::Inch),
        ("1 3/8\"", 0.034_925, Unit::Inch),
        ("½ in", 0.0127, Unit::Inch),
        ("1½ in", 0.0381, Unit::Inch),
        ("1 ½ inches", 0.0381, Unit::Inch),
        ("1-½″", 0.0381, Unit::Inch),
        ("9/8 in", 0.028_575, Unit::Inch),
        ("5 ft 3 in", 1.6002, Unit::Foot),
        ("5'3\"", 1.6002, Unit::Foot),
        ("5' 3 1/2\"", 1.6129, Unit::Foot),
        ("5 feet ½ inch", 1.5367, Unit::Foot),
        ("5′ 3″", 1.6002, Unit::Foot),
        ("5ft3in", 1.6002, Unit::Foot),
        ("-5 ft 3 in", -1.6002, Unit::Foot),
        ("-0 ft 3 in", -0.0762, Unit::Foot),
        ("3''", 0.0762, Unit::Inch),
        ("63 thou", 0.001_600_2, Unit::Thou),
        ("63 mil", 0.001_600_2, Unit::Thou),
        ("14 swg", 0.002_032, Unit::Swg),
        ("14SWG", 0.002_032, Unit::Swg),
        ("7/0 swg", 0.0127, Unit::Swg),
        ("1/0 swg", 0.008_229_6, Unit::Swg),
        ("0 swg", 0.008_229_6, Unit::Swg),
        ("000 swg", 0.009_448_8, Unit::Swg),
        ("28 swg", 0.000_375_92, Unit::Swg),
        ("50 swg", 0.000_025_4, Unit::Swg),
    ];
    for (text, metres, unit) in good {
        let (value, written_in) = read!(Length, text).unwrap_or_else(|e| panic!("{text}: {e}"));
        assert_close(value, metres, 1e-15, text);
        assert_eq!(written_in, unit, "{text}");
    }
}

#[test]
fn other_quantities_are_read() {
    let lb = 0.453_592_37;
    let cases = [
        (read!(Mass, "12.4 kg"), 12.4, Unit::Kilogram),
        (read!(Mass, "850 g"), 0.85, Unit::Gram),
        (read!(Mass, "9 lb 6 oz"), 9.375 * lb, Unit::Pound),
        (read!(Mass, "9lb6oz"), 9.375 * lb, Unit::Pound),
        (read!(Mass, "9 lbs. 6½ oz."), 9.406_25 * lb, Unit::Pound),
        (read!(Mass, "10 oz"), 0.625 * lb, Unit::Ounce),
        (read!(Force, "20 N"), 20.0, Unit::Newton),
        (read!(Force, "1.2 kN"), 1200.0, Unit::Kilonewton),
        (read!(Force, "10 lbf"), 10.0 * lb * 9.806_65, Unit::PoundForce),
        (read!(Force, "2 kp"), 19.6133, Unit::KilogramForce),
        (read!(Angle, "40 deg"), 40.0_f64.to_radians(), Unit::Degree),
        (read!(Angle, "40°"), 40.0_f64.to_radians(), Unit::Degree),
        (read!(Angle, "0.7 rad"), 0.7, Unit::Radian),
        (read!(Velocity, "1.6 m/s"), 1.6, Unit::MetrePerSecond),
        (read!(Velocity, "1.6 m / s"), 1.6, Unit::MetrePerSecond),
        (read!(Velocity, "5 ft/s"), 1.524, Unit::FootPerSecond),
        (read!(Velocity, "300 ft/min"), 1.524, Unit::FootPerMinute),
        (read!(Velocity, "36 km/h"), 10.0, Unit::KilometrePerHour),
        (read!(Velocity, "45 mph"), 20.1168, Unit::MilePerHour),
        (read!(Velocity, "18 kt"), 9.26, Unit::Knot),
        (read!(Stress, "260 MPa"), 260e6, Unit::Megapascal),
        (read!(Stress, "260 N/mm2"), 260e6, Unit::Megapascal),
        (read!(Stress, "260 N/mm²"), 260e6, Unit::Megapascal),
        (read!(Stress, "260 N/mm^2"), 260e6, Unit::Megapascal),
        (read!(Stress, "70 GPa"), 70e9, Unit::Gigapascal),
        (read!(Stress, "0 MPa"), 0.0, Unit::Megapascal),
        (read!(Stress, "36 ksi"), 36_000.0 * lb * 9.806_65 / (0.0254 * 0.0254), Unit::Ksi),
        (read!(Stress, "10 Msi"), 1e7 * lb * 9.806_65 / (0.0254 * 0.0254), Unit::Msi),
        (read!(Area, "0.92 m^2"), 0.92, Unit::SquareMetre),
        (read!(Area, "0.92 m2"), 0.92, Unit::SquareMetre),
        (read!(Area, "92 dm²"), 0.92, Unit::SquareDecimetre),
        (read!(Area, "820 sq in"), 820.0 * 0.0254 * 0.0254, Unit::SquareInch),
        (read!(Area, "820 square  inches"), 820.0 * 0.0254 * 0.0254, Unit::SquareInch),
        (read!(Area, "5 1/2 sq ft"), 5.5 * 0.3048 * 0.3048, Unit::SquareFoot),
        (read!(MassDensity, "2700 kg/m^3"), 2700.0, Unit::KilogramPerCubicMetre),
        (read!(MassDensity, "2.7 g/cm³"), 2700.0, Unit::GramPerCubicCentimetre),
        (read!(MassDensity, "0.1 lb/in^3"), 0.1 * lb / 0.0254_f64.powi(3), Unit::PoundPerCubicInch),
        (read!(Stiffness, "20 N/mm"), 20_000.0, Unit::NewtonPerMillimetre),
        (read!(Stiffness, "2 kN/m"), 2000.0, Unit::KilonewtonPerMetre),
        (read!(Stiffness, "100 lbf/in"), 100.0 * lb * 9.806_65 / 0.0254, Unit::PoundForcePerInch),
        (read!(Moment, "5 N m"), 5.0, Unit::NewtonMetre),
        (read!(Moment, "5 N·m"), 5.0, Unit::NewtonMetre),
        (read!(SectionModulus, "160 mm³"), 160e-9, Unit::CubicMillimetre),
    ];
    for (found, si, unit) in cases {
        let (value, written_in) = found.unwrap_or_else(|e| panic!("{e}"));
        assert_close(value, si, 1e-14, unit.symbol());
        assert_eq!(written_in, unit);
    }
}

#[test]
fn the_reading_keeps_the_text() {
    let read = Length::from_text(" 1 3/8 in ").unwrap();
    assert_eq!(read.text, "1 3/8 in");
    assert_eq!(<Length as FromText>::WHAT, "a length");
    assert_eq!(<Stress as FromText>::WHAT, "a stress");
}

/// A refusal as one block: the text with the offending part in brackets, and all that is said about it.
fn refusal<Q: FromText>(text: &str) -> String {
    let Err(error) = Q::from_text(text) else { return format!("{text}: was read") };
    let QuantityError { code, message, label, help, span } = error;
    let (before, rest) = text.split_at(span.start);
    let (at, after) = rest.split_at(span.end - span.start);
    let mut out = format!("{before}[{at}]{after}\n  {code}: {message}\n");
    if let Some(label) = label {
        out += &format!("  ^ {label}\n");
    }
    for line in help {
        out += &format!("  = {line}\n");
    }
    out
}

#[test]
fn bad_lengths_are_refused_in_words() {
    let numbers = [
        "",
        "   ",
        "mm",
        "about 4 mm",
        "?",
        "swg 14",
        "in 5/32",
        "NaN mm",
        "-inf mm",
        "∞ mm",
        "1e999 mm",
        "1e-999 mm",
    ];
    let commas = [
        "2,5 mm",
        "1,200 mm",
        "1,200,000 mm",
        "1,200.5 mm",
        "1.200,5 mm",
        "1_000 mm",
        "1 200 mm",
        "2,5,1 mm",
    ];
    let points =
        ["1.5 1/2 in", "1.2.3 mm", "1..2 mm", "--4 mm", "- +4 mm", "5 ft -3 in", "5 ft - 3 in", "1-3 mm"];
    let strays =
        ["2±0.1 mm", "4 mm.", "4 mm x", "4 #", "4 %", "4\u{7}mm", "4 mm\n5 mm", "1/2/3 in", "4 e3 mm"];
    let fractions =
        ["5/0 in", "1 3/0 in", "1 9/8 in", "5.5/32 in", "5/3.2 in", "5/x in", "1½/2 in", "½½ in", "1 .5 mm"];
    let no_unit = ["4", "5/32", "-2.5", "1 3/8", "5 ft 3", "5'3"];
    let units = ["4 MM", "4 Mm", "4MM", "4 millimetrs", "4 furlongs", "4 kg", "260 MPa", "4 mm^2"];
    let gauges =
        ["14 ga", "14 gauge", "14 awg", "14ga.", "51 swg", "8/0 swg", "0/0 swg", "14.5 swg", "-3 swg"];
    let more_gauges = ["1 1/2 swg", "00000000 swg", "5 ft 3 swg"];
    let pairs =
        ["1 m 20 cm", "3 in 5 ft", "5.5 ft 3 in", "5 ft 13 in", "5 ft 3 in 2 in", "5 kg 3 in", "5 ft 3 g"];
    let all: [&[&str]; 10] =
        [&numbers, &commas, &points, &strays, &fractions, &no_unit, &units, &gauges, &more_gauges, &pairs];
    let blocks: Vec<_> = all.concat().into_iter().map(refusal::<Length>).collect();
    insta::assert_snapshot!("bad_lengths", blocks.join("\n"));
}

#[test]
fn bad_quantities_of_other_kinds_are_refused_in_words() {
    let blocks = [
        refusal::<Mass>("12.4"),
        refusal::<Mass>("12.4 KG"),
        refusal::<Mass>("12.4 lbf"),
        refusal::<Mass>("2 kgf"),
        refusal::<Mass>("9 lb 16 oz"),
        refusal::<Mass>("9 lb 6"),
        refusal::<Mass>("2 kg 300 g"),
        refusal::<Force>("5 lb"),
        refusal::<Force>("5 kg"),
        refusal::<Force>("5 n"),
        refusal::<Force>("1 kn"),
        refusal::<Force>("8 ozf"),
        refusal::<Angle>("40"),
        refusal::<Angle>("40 degs"),
        refusal::<Angle>("40 mm"),
        refusal::<Velocity>("5 ft"),
        refusal::<Velocity>("5 ft/sec"),
        refusal::<Velocity>("5 knts"),
        refusal::<Stress>("260 Mpa"),
        refusal::<Stress>("260 N"),
        refusal::<Stress>("30 kg/mm2"),
        refusal::<Stress>("36 lb/in²"),
        refusal::<Stress>("20 bar"),
        refusal::<Area>("0.92 m"),
        refusal::<Area>("0.92"),
        refusal::<Area>("1 sq furlong"),
        refusal::<MassDensity>("2700 kg"),
        refusal::<Stiffness>("20 lb/in"),
        refusal::<Stiffness>("20 N"),
        refusal::<Stiffness>("2 kg/mm"),
    ];
    insta::assert_snapshot!("bad_others", blocks.join("\n"));
}

#[test]
fn a_refusal_of_a_huge_text_stays_short() {
    let digits = "9".repeat(100_000);
    for text in
        [digits.clone(), format!("{digits} mm"), "x".repeat(100_000), format!("4 {}", "mm ".repeat(30_000))]
    {
        let error = Length::from_text(&text).unwrap_err();
        assert!(error.message.chars().count() < 120, "{}", error.message);
        assert!(error.help.iter().all(|line| line.chars().count() < 120), "{:?}", error.help);
    }
}

/// Each scale against the published definition of its unit, by other arithmetic than the table's.
#[test]
fn scales_follow_the_published_definitions() {
    let definitions = [
        // International yard and pound agreement, 1 July 1959: yard 0.9144 m, pound 0.45359237 kg, both exact.
        (Unit::Inch, 0.9144 / 36.0),
        (Unit::Foot, 0.9144 / 3.0),
        (Unit::Thou, 25.4e-6),
        (Unit::Pound, 0.453_592_37),
        (Unit::Ounce, 0.028_349_523_125),
        (Unit::MilePerHour, 1609.344 / 3600.0),
        (Unit::FootPerMinute, 0.005_08),
        (Unit::SquareInch, 6.4516e-4),
        (Unit::SquareFoot, 0.092_903_04),
        (Unit::CubicInch, 1.638_706_4e-5),
        (Unit::QuarticInch, 4.162_314_256e-7),
        (Unit::PoundPerCubicInch, 0.453_592_37 / 1.638_706_4e-5),
        // 3rd General Conference on Weights and Measures, 1901: standard gravity 9.80665 m/s^2, exact.
        (Unit::KilogramForce, 9.806_65),
        (Unit::PoundForce, 4.448_221_615_260_5),
        // First International Extraordinary Hydrographic Conference, 1929: nautical mile 1852 m.
        (Unit::Knot, 1852.0 / 3600.0),
        // International System of Units: hour 3600 s, degree pi/180 rad, N/mm^2 and g/cm^3 by their prefixes.
        (Unit::KilometrePerHour, 1000.0 / 3600.0),
        (Unit::Degree, 1.0_f64.to_radians()),
        (Unit::Megapascal, 1.0 / 0.001 / 0.001),
        (Unit::GramPerCubicCentimetre, 0.001 / 0.01 / 0.01 / 0.01),
        (Unit::NewtonPerMillimetre, 1.0 / 0.001),
        (Unit::SquareDecimetre, 0.1 * 0.1),
    ];
    for (unit, expected) in definitions {
        assert_close(unit.scale(), expected, 1e-14, unit.symbol());
    }
    // NIST Special Publication 811, appendix B, to the seven digits it gives (from memory).
    for (unit, published) in [
        (Unit::Psi, 6.894_757e3),
        (Unit::Ksi, 6.894_757e6),
        (Unit::Msi, 6.894_757e9),
        (Unit::PoundForcePerInch, 1.751_268e2),
        (Unit::PoundForceInch, 1.129_848e-1),
        (Unit::PoundForceFoot, 1.355_818),
    ] {
        assert_close(unit.scale(), published, 5e-7, unit.symbol());
    }
}

#[test]
fn every_name_of_a_unit_means_that_unit_alone() {
    let mut seen = std::collections::HashMap::new();
    for unit in Unit::ALL {
        assert!(unit.scale() > 0.0 && unit.scale().is_finite(), "{unit:?}");
        for name in unit.names() {
            assert_eq!(Unit::spelled(name), Some(*unit), "{name}");
            assert_eq!(seen.insert(name, unit), None, "{name} is listed twice");
        }
    }
    for dimension in Unit::ALL.iter().map(|unit| unit.dimension()) {
        assert_eq!(dimension.si_unit().dimension(), dimension);
        assert_eq!(dimension.si_unit().scale(), 1.0);
        let (_, unit) = dimension.example().split_once(' ').unwrap();
        assert_eq!(Unit::spelled(unit).map(Unit::dimension), Some(dimension));
    }
}

#[test]
fn figures_have_the_digits_asked_for() {
    let table = [
        (4.0, 3, "4.00"),
        (12.4, 3, "12.4"),
        (31.46, 3, "31.5"),
        (-31.46, 3, "-31.5"),
        (9.996, 3, "10.0"),
        (0.099_96, 3, "0.100"),
        (0.0123, 2, "0.012"),
        (0.000_001_234, 3, "0.00000123"),
        (0.000_000_123_4, 3, "1.23e-7"),
        (12_345.0, 3, "12300"),
        (99_960.0, 3, "100000"),
        (12_345.0, 5, "12345"),
        (200.0, 1, "200"),
        (70e6, 3, "70000000"),
        (70e9, 3, "7.00e10"),
        (0.0, 3, "0"),
        (-0.0, 3, "0"),
        (5.0, 0, "5"),
        (f64::NAN, 3, "no number"),
        (f64::INFINITY, 3, "∞"),
        (f64::NEG_INFINITY, 3, "-∞"),
    ];
    for (number, digits, expected) in table {
        assert_eq!(significant(number, digits), expected, "{number} to {digits}");
    }
    for (number, decimals, expected) in [
        (4.0, 2, "4.00"),
        (-0.001, 2, "0.00"),
        (-0.4, 0, "0"),
        (-0.6, 0, "-1"),
        (0.0, 1, "0.0"),
        (f64::NAN, 1, "no number"),
    ] {
        assert_eq!(decimal(number, decimals), expected, "{number} to {decimals} decimals");
    }
}

#[test]
fn figures_carry_their_unit() {
    let length = |text| Length::from_text(text).unwrap().value;
    assert_eq!(figure(length("4 mm"), Unit::Millimetre, 3), "4.00 mm");
    assert_eq!(figure(length("5/32 in"), Unit::Inch, 3), "0.156 in");
    assert_eq!(figure(length("14 swg"), Unit::Swg, 3), "14 swg");
    assert_eq!(figure(length("2/0 swg"), Unit::Swg, 3), "2/0 swg");
    assert_eq!(figure(length("2 mm"), Unit::Swg, 3), "0.0787 in");
    assert_eq!(number(length("14 swg"), Unit::Swg, 3), "0.0800");
    assert_eq!(number(length("4 mm"), Unit::Millimetre, 2), "4.0");
    assert_eq!(fixed(length("-0.001 mm"), Unit::Millimetre, 1), "0.0 mm");
    assert_eq!(exact(length("4 mm"), Unit::Millimetre), "4 mm");
    // A unit that does not fit gives way to the SI unit: a figure is never mislabelled.
    assert_eq!(figure(length("4 mm"), Unit::Kilogram, 3), "0.00400 m");
    assert_eq!(exact(length("1e308 m"), Unit::Millimetre), "1e308 m");
    let stiffness = Stiffness::from_text("31.5 N/mm").unwrap().value;
    assert_eq!(figure(stiffness, Unit::NewtonPerMillimetre, 3), "31.5 N/mm");
    assert_eq!(figure(Mass::from_text("12.4 kg").unwrap().value, Unit::Kilogram, 3), "12.4 kg");
}

#[test]
fn a_report_uses_the_units_of_its_writer() {
    use Unit::{
        Centimetre, Degree, Foot, Gigapascal, Inch, Kilogram, Kilonewton, Ksi, Megapascal, Metre, Millimetre,
        Newton, Ounce, Pound, PoundForce, PoundForceInch, PoundForcePerInch, Psi, Swg, Thou,
    };
    let choose = |units: &[Unit]| UnitChoice::from_written(units.iter().copied());
    let metric = UnitChoice::default();

    assert_eq!(choose(&[]), metric);
    assert_eq!(choose(&[Millimetre, Inch, Inch, Kilogram]).length, Inch);
    assert_eq!(choose(&[Millimetre, Inch]).length, Millimetre, "of equals, the first");
    assert_eq!(choose(&[Inch, Millimetre]).length, Inch, "of equals, the first");
    assert_eq!(choose(&[Millimetre, Swg, Thou, Foot]).length, Inch);
    assert_eq!(choose(&[Metre, Centimetre, Centimetre]).length, Centimetre);
    assert_eq!(choose(&[Metre, Centimetre, Inch]).length, Millimetre);
    assert_eq!(choose(&[Ounce, Ounce, Kilogram]).mass, Pound);
    assert_eq!(choose(&[Gigapascal, Psi]).stress, Megapascal);
    assert_eq!(choose(&[Psi]).stress, Ksi);
    assert_eq!(choose(&[Degree, Kilonewton]).force, Kilonewton);

    let imperial = choose(&[Inch, Swg, Pound]);
    assert_eq!(
        (imperial.force, imperial.stress, imperial.stiffness, imperial.unit(Dimension::Moment)),
        (PoundForce, Ksi, PoundForcePerInch, PoundForceInch)
    );
    assert_eq!(choose(&[Inch, Millimetre]).force, Newton, "some millimetres: no guess");
    assert_eq!(choose(&[Inch, Newton]).force, Newton, "what is written wins");
    for dimension in Unit::ALL.iter().map(|unit| unit.dimension()) {
        assert_eq!(metric.unit(dimension).dimension(), dimension);
        assert_eq!(imperial.unit(dimension).dimension(), dimension);
    }
    assert_eq!(metric.figure(Length::from_text("1/4 in").unwrap().value, 3), "6.35 mm");
}

/// Reads, writes in full, reads back, compares.
fn round_trip<Q: Measure>(number: f64, unit: Unit, si: impl Fn(Q) -> f64) -> Result<(), TestCaseError> {
    let text = format!("{number:e} {}", unit.symbol());
    let first = Q::from_text(&text).map_err(|e| TestCaseError::fail(format!("{text}: {e}")))?;
    let again = exact(first.value, unit);
    let second = Q::from_text(&again).map_err(|e| TestCaseError::fail(format!("{again}: {e}")))?;
    let (a, b) = (si(first.value), si(second.value));
    prop_assert!((a - b).abs() <= 1e-12 * a.abs(), "{text} came back as {again}");
    prop_assert!((a - number * unit.scale()).abs() <= 1e-12 * a.abs(), "{text} was read as {a}");
    prop_assert_eq!(second.unit, unit);
    Ok(())
}

/// Numbers of every size that a shop could meet and far beyond.
fn numbers() -> impl Strategy<Value = f64> {
    (-1.0_f64..1.0, -12_i32..12).prop_map(|(mantissa, power)| mantissa * 10.0_f64.powi(power))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn what_is_written_is_read_back(number in numbers(), index in 0..Unit::ALL.len()) {
        let unit = Unit::ALL[index];
        match unit.dimension() {
            // A gauge is no scale; its own test follows.
            Dimension::Length if unit == Unit::Swg => {}
            Dimension::Length => round_trip::<Length>(number, unit, |q| q.value)?,
            Dimension::Mass => round_trip::<Mass>(number, unit, |q| q.value)?,
            Dimension::Force => round_trip::<Force>(number, unit, |q| q.value)?,
            Dimension::Angle => round_trip::<Angle>(number, unit, |q| q.value)?,
            Dimension::Velocity => round_trip::<Velocity>(number, unit, |q| q.value)?,
            Dimension::Stress => round_trip::<Stress>(number, unit, |q| q.value)?,
            Dimension::Area => round_trip::<Area>(number, unit, |q| q.value)?,
            Dimension::Density => round_trip::<MassDensity>(number, unit, |q| q.value)?,
            Dimension::Stiffness => round_trip::<Stiffness>(number, unit, |q| q.value)?,
            Dimension::Moment => round_trip::<Moment>(number, unit, |q| q.value)?,
            Dimension::SectionModulus => round_trip::<SectionModulus>(number, unit, |q| q.value)?,
            Dimension::SecondMoment => round_trip::<SecondMoment>(number, unit, |q| q.value)?,
            Dimension::Current => round_trip::<ElectricCurrent>(number, unit, |q| q.value)?,
            Dimension::Voltage => round_trip::<ElectricPotential>(number, unit, |q| q.value)?,
        }
    }

    #[test]
    fn gauges_are_read_back(gauge in 1_u32..=50) {
        let read = Length::from_text(&format!("{gauge} swg")).unwrap();
        prop_assert_eq!(exact(read.value, Unit::Swg), format!("{gauge} swg"));
    }

    #[test]
    fn a_length_is_the_same_in_every_unit(thousandths in 1_u32..1_000_000) {
        let t = f64::from(thousandths);
        let expected = t * 25.4e-6;
        let ways = [
            format!("{t} thou"),
            format!("{} in", t / 1000.0),
            format!("{thousandths}/1000 in"),
            format!("{} {}/1000 in", thousandths / 1000, thousandths % 1000),
            format!("{} ft {} in", thousandths / 12_000, f64::from(thousandths % 12_000) / 1000.0),
            format!("{} mm", t * 0.0254),
            format!("{} cm", t * 0.00254),
        ];
        for way in ways {
            let found = Length::from_text(&way).unwrap().value.get::<meter>();
            prop_assert!((found - expected).abs() <= 1e-12 * expected, "{}: {}", way, found);
        }
    }

    #[test]
    fn figures_are_within_half_a_digit(number in numbers(), digits in 1_usize..10) {
        let text = significant(number, digits);
        let back: f64 = text.parse().unwrap();
        let half = 0.5 * 10.0_f64.powi(1 - i32::try_from(digits).unwrap());
        prop_assert!((back - number).abs() <= half * number.abs() * 1.000_001, "{} became {}", number, text);
    }

    /// Any text at all, and texts made of the grammar's own pieces, which reach deeper.
    #[test]
    fn no_text_breaks_the_reader(
        text in prop_oneof![
            any::<String>(),
            "[-+−0-9./⁄eE,_ ½¾°'\"a-zA-Z²]{0,24}",
            r"([-+]?[0-9]{0,4}[./]?[0-9]{0,3} ?(mm|in|ft|lb|oz|swg|ga|'|″|N/mm²|½|e|∞|#)? ?){0,4}",
        ],
    ) {
        let readings = [
            Length::from_text(&text).map(|w| w.value.value),
            Mass::from_text(&text).map(|w| w.value.value),
            Force::from_text(&text).map(|w| w.value.value),
            Area::from_text(&text).map(|w| w.value.value),
        ];
        for reading in readings {
            match reading {
                Ok(si) => prop_assert!(si.is_finite()),
                Err(e) => {
                    prop_assert!(text.get(e.span.clone()).is_some(), "{:?} is no place in {:?}", e.span, &text);
                    prop_assert!(!e.message.is_empty() && !e.message.contains('\n'));
                    prop_assert!(e.help.iter().all(|line| !line.contains('\n')));
                }
            }
        }
    }
}
