//! The Imperial Standard Wire Gauge: a number for each legal diameter.
//!
//! Gauges 7/0 to 1/0 are the numbers −6 to 0 here, as the gauge itself counts down to thicker wire.
//!
//! Basis: from memory; every second gauge from 4 to 24 agrees with the millimetre sizes that wire is sold by.

/// The largest wire, 7/0, as a number.
const FIRST: i32 = -6;

/// Diameters in inches, from 7/0 to 50.
const INCHES: [f64; 57] = [
    0.500, 0.464, 0.432, 0.400, 0.372, 0.348, 0.324, // 7/0 to 1/0
    0.300, 0.276, 0.252, 0.232, 0.212, 0.192, 0.176, 0.160, 0.144, 0.128, // 1 to 10
    0.116, 0.104, 0.092, 0.080, 0.072, 0.064, 0.056, 0.048, 0.040, 0.036, // 11 to 20
    0.032, 0.028, 0.024, 0.022, 0.020, 0.018, 0.0164, 0.0148, 0.0136, 0.0124, // 21 to 30
    0.0116, 0.0108, 0.0100, 0.0092, 0.0084, 0.0076, 0.0068, 0.0060, 0.0052, 0.0048, // 31 to 40
    0.0044, 0.0040, 0.0036, 0.0032, 0.0028, 0.0024, 0.0020, 0.0016, 0.0012, 0.0010, // 41 to 50
];

/// How near a length must be to a gauge's diameter, relative, to be called by its number: chosen to be wider than
/// a few roundings and far narrower than any drawing tolerance.
const SAME: f64 = 1e-9;

/// Diameter in inches of a gauge number (0 for 1/0, −6 for 7/0), if there is such a gauge.
pub(crate) fn inches(number: f64) -> Option<f64> {
    table().find(|(gauge, _)| *gauge == number).map(|(_, inches)| inches)
}

/// The gauge number whose diameter a number of inches is, if there is one.
pub(crate) fn number(inches: f64) -> Option<f64> {
    table().find(|(_, diameter)| (inches - diameter).abs() <= SAME * diameter).map(|(gauge, _)| gauge)
}

/// How a gauge number is written: `14`, or `3/0` for −2.
pub(crate) fn written(number: f64) -> String {
    if number <= 0.0 { format!("{}/0", 1.0 - number) } else { format!("{number}") }
}

/// Gauge numbers with their diameters in inches.
fn table() -> impl Iterator<Item = (f64, f64)> {
    (FIRST..).map(f64::from).zip(INCHES)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ends_of_the_table_are_where_the_gauge_puts_them() {
        assert_eq!(inches(-6.0), Some(0.5));
        assert_eq!(inches(0.0), Some(0.324));
        assert_eq!(inches(1.0), Some(0.3));
        assert_eq!(inches(50.0), Some(0.001));
        assert_eq!(inches(51.0), None);
        assert_eq!(inches(-7.0), None);
        assert_eq!(inches(14.5), None);
        assert_eq!(inches(f64::NAN), None);
    }

    #[test]
    fn diameters_fall_and_each_has_its_own_number() {
        let all: Vec<_> = table().collect();
        assert!(all.windows(2).all(|pair| matches!(pair, [(_, a), (_, b)] if a > b)));
        for (gauge, diameter) in all {
            assert_eq!(number(diameter), Some(gauge));
        }
        assert_eq!(number(0.081), None);
    }

    /// Millimetre sizes that wire of each gauge is sold by (common practice), given to 0.01 mm.
    #[test]
    fn diameters_agree_with_the_millimetre_sizes_in_the_trade() {
        let trade = [
            (24.0, 0.56),
            (22.0, 0.71),
            (20.0, 0.91),
            (18.0, 1.22),
            (16.0, 1.63),
            (14.0, 2.03),
            (12.0, 2.64),
            (10.0, 3.25),
            (8.0, 4.06),
            (6.0, 4.88),
            (4.0, 5.89),
        ];
        for (gauge, millimetres) in trade {
            let found = inches(gauge).map(|inches| inches * 25.4);
            assert!(found.is_some_and(|mm| (mm - millimetres).abs() <= 0.005), "{gauge} swg: {found:?}");
        }
    }

    #[test]
    fn heavy_gauges_are_written_with_their_noughts() {
        assert_eq!(written(-6.0), "7/0");
        assert_eq!(written(0.0), "1/0");
        assert_eq!(written(14.0), "14");
    }
}
