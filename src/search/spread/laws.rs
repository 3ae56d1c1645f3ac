//! How likely a value is to be off by how much.

use crate::model::DEVIATIONS_IN_TOLERANCE;

/// How a value or a strength varies.
#[derive(Debug, Clone, PartialEq)]
pub enum Law {
    /// A value with a tolerance: normal, the tolerance being two standard deviations, and taken at the limit of what the key accepts
    /// where it would fall beyond. Draws deviations in tolerances.
    Tolerance {
        /// The smallest deviation accepted.
        least: f64,
        /// The largest.
        most: f64,
    },
    /// Anywhere in a range, all alike. Draws from −1 at its lower end to +1 at its upper.
    Range,
    /// A factor above nothing: lognormal.
    Factor {
        /// Standard deviation over mean.
        coefficient_of_variation: f64,
        /// The share of pieces that have a factor below 1: a half for a typical value, 5 % for a guaranteed minimum.
        below: f64,
    },
    /// A factor with a distribution of its own: factors, rising, each with the share of pieces that have less.
    Listed(Vec<(f64, f64)>),
}

impl Law {
    /// The value that a share `at` of all lies below.
    ///
    /// A factor: exp(s (z − z₀)), s² = ln(1 + v²), z and z₀ the normal quantiles of `at` and of the share below 1.
    #[must_use]
    pub fn quantile(&self, at: f64) -> f64 {
        match self {
            Self::Tolerance { least, most } => {
                (normal_quantile(at) / DEVIATIONS_IN_TOLERANCE).clamp(*least, *most)
            }
            Self::Range => 2.0 * at - 1.0,
            Self::Factor { coefficient_of_variation, below } => {
                let s = (coefficient_of_variation * coefficient_of_variation).ln_1p().sqrt();
                (s * (normal_quantile(at) - normal_quantile(*below))).exp()
            }
            Self::Listed(list) => listed(list, at),
        }
    }
}

/// Along lines between the factors' logarithms; the ends of the list beyond them, and 1 where there is none.
fn listed(list: &[(f64, f64)], at: f64) -> f64 {
    let next = list.partition_point(|(_, below)| *below < at);
    let (from, to) = (next.checked_sub(1).and_then(|i| list.get(i)), list.get(next));
    match (from, to) {
        (Some((less, low)), Some((more, high))) => {
            let part = (at - low) / (high - low);
            less * (more / less).powf(part)
        }
        (Some((end, _)), None) | (None, Some((end, _))) => *end,
        (None, None) => 1.0,
    }
}

/// The standard normal value that a share of all lies below, to about 1 part in 10¹⁶ for shares between 0 and 1.
///
/// Source: M. J. Wichura, algorithm AS 241 (PPND16), Applied Statistics 37 (1988), from memory; tested against the normal
/// distribution itself.
#[must_use]
pub fn normal_quantile(share: f64) -> f64 {
    let off = share - 0.5;
    if off.abs() <= 0.425 {
        let r = 0.180_625 - off * off;
        return off * ratio(r, &CENTRE);
    }
    let r = (-share.min(1.0 - share).ln()).sqrt();
    let size = if r <= 5.0 { ratio(r - 1.6, &MIDDLE) } else { ratio(r - 5.0, &TAIL) };
    if off < 0.0 { -size } else { size }
}

/// Coefficients of a numerator and a denominator, the constant first.
type Ratio = [(f64, f64); 8];

fn ratio(r: f64, coefficients: &Ratio) -> f64 {
    let (top, bottom) =
        coefficients.iter().rev().fold((0.0, 0.0), |(top, bottom), (a, b)| (top * r + a, bottom * r + b));
    top / bottom
}

const CENTRE: Ratio = [
    (3.387_132_872_796_366_5, 1.0),
    (133.141_667_891_784_38, 42.313_330_701_600_91),
    (1_971.590_950_306_551_3, 687.187_007_492_057_9),
    (13_731.693_765_509_46, 5_394.196_021_424_751),
    (45_921.953_931_549_87, 21_213.794_301_586_597),
    (67_265.770_927_008_7, 39_307.895_800_092_71),
    (33_430.575_583_588_13, 28_729.085_735_721_943),
    (2_509.080_928_730_122_7, 5_226.495_278_852_854),
];

const MIDDLE: Ratio = [
    (1.423_437_110_749_683_5, 1.0),
    (4.630_337_846_156_546, 2.053_191_626_637_759),
    (5.769_497_221_460_691, 1.676_384_830_183_803_8),
    (3.647_848_324_763_204_5, 0.689_767_334_985_1),
    (1.270_458_252_452_368_4, 0.148_103_976_427_480_08),
    (0.241_780_725_177_450_6, 0.015_198_666_563_616_457),
    (0.022_723_844_989_269_184, 5.475_938_084_995_345e-4),
    (7.745_450_142_783_414e-4, 1.050_750_071_644_416_9e-9),
];

const TAIL: Ratio = [
    (6.657_904_643_501_103, 1.0),
    (5.463_784_911_164_114, 0.599_832_206_555_888),
    (1.784_826_539_917_291_3, 0.136_929_880_922_735_8),
    (0.296_560_571_828_504_87, 0.014_875_361_290_850_615),
    (0.026_532_189_526_576_124, 7.868_691_311_456_133e-4),
    (1.242_660_947_388_078_4e-3, 1.846_318_317_510_054_8e-5),
    (2.711_555_568_743_487_6e-5, 1.421_511_758_316_446e-7),
    (2.010_334_399_292_288_2e-7, 2.044_263_103_389_939_8e-15),
];
