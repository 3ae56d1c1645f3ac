//! What samples tell: ranges, chances with their error, and what causes the spread.

use super::points::SETS;
use crate::results::{Chance, Likely};

/// Classes into which an input's range is parted, over the root of the number of samples. chosen: of 2000 samples 11 classes of 180
/// each. A line in each of them misses less than a hundredth of a normal input's own variance, and chance puts a third of a hundredth
/// there; both fade with more samples.
const CLASSES_OVER_ROOT: f64 = 0.25;

/// Below this share of the mean a standard deviation is rounding.
const ROUNDING: f64 = 1e-9;

/// Student's t for 95 % to both sides with seven degrees of freedom, for the mean of eight sets. Source: any table of it; 2.365.
const T_OF_EIGHT: f64 = 2.365;

/// The value that a share of samples lies below; sorted samples stand for the middles of equal shares, and between them it is
/// linear (Hazen's rule). `None` without samples.
#[must_use]
pub fn quantile(sorted: &[f64], at: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    #[expect(clippy::cast_precision_loss, reason = "a count of samples")]
    let place = (at * sorted.len() as f64 - 0.5).clamp(0.0, last as f64);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and `last`")]
    let below = place.floor() as usize;
    let low = *sorted.get(below)?;
    let high = *sorted.get((below + 1).min(last))?;
    let part = place - place.floor();
    // Two infinities have no middle.
    Some(if part == 0.0 || low == high { low } else { low + part * (high - low) })
}

/// The likely range of samples: 5 %, half and 95 % lie below. `None` without samples.
#[must_use]
pub fn likely(mut samples: Vec<f64>) -> Option<Likely> {
    samples.sort_by(f64::total_cmp);
    Some(Likely {
        p05: quantile(&samples, 0.05)?,
        p50: quantile(&samples, 0.5)?,
        p95: quantile(&samples, 0.95)?,
    })
}

/// The chance of something that happened or not, with its error: of each sample the set of points that it belongs to, and whether it
/// happened.
///
/// The estimate is the share of samples. The error is that of the mean of the sets' shares at 95 % (Student's t), and never less than
/// one sample's worth.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "counts of samples")]
pub fn chance(samples: impl Iterator<Item = (usize, bool)>) -> Chance {
    let mut sets = [(0_usize, 0_usize); SETS];
    for (set, happened) in samples {
        if let Some((times, of)) = sets.get_mut(set) {
            *of += 1;
            *times += usize::from(happened);
        }
    }
    let (times, of) = sets.iter().fold((0, 0), |(a, b), (times, of)| (a + times, b + of));
    let shares: Vec<f64> =
        sets.iter().filter(|(_, of)| *of > 0).map(|(times, of)| *times as f64 / *of as f64).collect();
    let count = shares.len() as f64;
    let mean = shares.iter().sum::<f64>() / count.max(1.0);
    let squares: f64 = shares.iter().map(|share| (share - mean) * (share - mean)).sum();
    let deviation = if count > 1.0 { (squares / (count * (count - 1.0))).sqrt() } else { 1.0 };
    let whole = (of as f64).max(1.0);
    Chance {
        estimate: times as f64 / whole,
        error: (T_OF_EIGHT * deviation).clamp(1.0 / whole, 1.0),
        times,
        of,
    }
}

/// The share of the samples' variance that each input causes by itself: first-order indices of Sobol.
///
/// Var(E(y | x)) / Var(y) from the samples at hand. The range of x is parted into classes of equal chance with a straight line in each,
/// and of the squares that the lines explain is taken what chance explains: ω² = (SSB − p MSW) / (SST + MSW), p the numbers fitted
/// beyond the mean. `points` has the place of each sample in the unit cube. What the shares leave to 1 is what inputs do together.
/// Source: Plischke, Borgonovo & Smith (2013), shares from given data; Hays (1963), ω²; both from memory. Tested against Ishigami's
/// function and linear ones.
#[must_use]
#[expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "classes and counts"
)]
pub fn shares(points: &[Vec<f64>], values: &[f64]) -> Vec<f64> {
    let inputs = points.first().map_or(0, Vec::len);
    let whole = values.len() as f64;
    let classes = ((CLASSES_OVER_ROOT * whole.sqrt()) as usize).max(1);
    let mean = values.iter().sum::<f64>() / whole;
    let total: f64 = values.iter().map(|y| (y - mean) * (y - mean)).sum();
    let one = |input: usize| {
        let mut lines = vec![Line::default(); classes];
        for (point, y) in points.iter().zip(values) {
            let at = classes as f64 * point.get(input).copied().unwrap_or_default();
            let class = (at as usize).min(classes - 1);
            if let Some(line) = lines.get_mut(class) {
                line.add(at - class as f64 - 0.5, y - mean);
            }
        }
        let explained: f64 = lines.iter().map(|line| line.explained().0).sum();
        let fitted: f64 = lines.iter().map(|line| line.explained().1).sum::<f64>() - 1.0;
        let inside = (total - explained) / (whole - fitted - 1.0);
        ((explained - fitted * inside) / (total + inside)).clamp(0.0, 1.0)
    };
    // What differs by rounding only has no causes.
    let rounding = whole * (ROUNDING * mean) * (ROUNDING * mean);
    let tellable = whole > (4 * classes) as f64 && total > rounding && total.is_finite();
    (0..inputs).map(|input| if tellable { one(input) } else { 0.0 }).collect()
}

/// Sums for a straight line through the samples of a class.
#[derive(Debug, Clone, Copy, Default)]
struct Line {
    count: f64,
    x: f64,
    y: f64,
    xx: f64,
    xy: f64,
}

impl Line {
    fn add(&mut self, x: f64, y: f64) {
        self.count += 1.0;
        self.x += x;
        self.y += y;
        self.xx += x * x;
        self.xy += x * y;
    }

    /// The squares that it explains, and with how many numbers.
    fn explained(&self) -> (f64, f64) {
        if self.count == 0.0 {
            return (0.0, 0.0);
        }
        let level = self.y * self.y / self.count;
        let wide = self.xx - self.x * self.x / self.count;
        if self.count < 3.0 || wide <= 0.0 {
            return (level, 1.0);
        }
        let slope = self.xy - self.x * self.y / self.count;
        (level + slope * slope / wide, 2.0)
    }
}
