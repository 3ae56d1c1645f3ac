//! Where the samples lie: points that fill the unit cube evenly, and are yet unbiased.
//!
//! Halton's sequence with digits permuted at random: in base b, the sample's number written backwards behind the point, each
//! digit place with a permutation of its own. The first n points of each such set are as even as Halton's, each of them is
//! uniform in the cube, and sets of other permutations are independent of one another: their disagreement tells the error.
//! Source: A. B. Owen, "A randomized Halton algorithm in R" (2017), the scheme; Halton (1960), from memory.

/// Independent sets of points. chosen: the error of a mean of eight is itself known to a quarter, and each set stays large.
pub const SETS: usize = 8;

/// Bits of a number in the unit interval.
const BITS: f64 = 53.0;

/// Points in the unit cube, in [`SETS`] independent sets of one size. The same seed makes the same points.
#[derive(Debug, Clone)]
pub struct Points {
    each: usize,
    sets: Vec<Vec<Axis>>,
}

/// One dimension of one set: its base, and the permutation of the digits at each place.
#[derive(Debug, Clone)]
struct Axis {
    base: usize,
    places: Vec<Vec<u32>>,
}

impl Points {
    /// Makes at least so many points; their number is a multiple of [`SETS`].
    #[must_use]
    pub fn new(dimensions: usize, samples: usize, seed: u64) -> Self {
        let mut random = SplitMix(seed);
        let bases: Vec<usize> = primes().take(dimensions).collect();
        let sets = (0..SETS).map(|_| bases.iter().map(|base| Axis::new(*base, &mut random)).collect());
        Self { each: samples.div_ceil(SETS).max(1), sets: sets.collect() }
    }

    /// How many there are.
    #[must_use]
    pub const fn len(&self) -> usize {
        self.each * SETS
    }

    /// Whether there are none, which is never so.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The set that a point belongs to.
    #[must_use]
    pub const fn set_of(&self, index: usize) -> usize {
        index / self.each
    }

    /// The coordinates of a point, each above 0 and below 1.
    #[must_use]
    pub fn point(&self, index: usize) -> Vec<f64> {
        let axes = self.sets.get(self.set_of(index)).map(Vec::as_slice).unwrap_or_default();
        axes.iter().map(|axis| axis.coordinate(index % self.each)).collect()
    }
}

impl Axis {
    fn new(base: usize, random: &mut SplitMix) -> Self {
        #[expect(clippy::cast_precision_loss, reason = "bases are small primes")]
        let digits = (BITS / (base as f64).log2()).ceil();
        let mut places = Vec::new();
        while (places.len() as f64) < digits {
            places.push(random.permutation(base));
        }
        Self { base, places }
    }

    fn coordinate(&self, index: usize) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "bases are small primes")]
        let step = 1.0 / self.base as f64;
        let (mut rest, mut scale, mut sum) = (index, step, 0.0);
        for permutation in &self.places {
            let digit = permutation.get(rest % self.base).copied().unwrap_or_default();
            sum += f64::from(digit) * scale;
            rest /= self.base;
            scale *= step;
        }
        // Neither end of the interval has a finite normal quantile.
        sum.clamp(f64::EPSILON, 1.0 - f64::EPSILON)
    }
}

/// The prime numbers.
fn primes() -> impl Iterator<Item = usize> {
    (2_usize..).filter(|n| (2..*n).take_while(|d| d * d <= *n).all(|d| n % d != 0))
}

/// A generator of random numbers. Source: Steele, Lea & Flood, "Fast splittable pseudorandom number generators" (2014), from memory.
#[derive(Debug)]
struct SplitMix(u64);

impl SplitMix {
    const fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number below `end`.
    #[expect(clippy::cast_possible_truncation, reason = "below `end`, which is an index")]
    const fn below(&mut self, end: usize) -> usize {
        ((self.next() as u128 * end as u128) >> 64) as usize
    }

    /// The numbers below `count` in random order (Fisher & Yates).
    fn permutation(&mut self, count: usize) -> Vec<u32> {
        let mut numbers: Vec<u32> = (0..).take(count).collect();
        for last in (1..count).rev() {
            numbers.swap(last, self.below(last + 1));
        }
        numbers
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_generator_makes_its_published_numbers() {
        // The first numbers from the seed 1234567, as printed with several libraries' own tests of it.
        let mut random = SplitMix(1_234_567);
        assert_eq!(
            [random.next(), random.next(), random.next()],
            [6_457_827_717_110_365_317, 3_203_168_211_198_807_973, 9_817_491_932_198_370_423]
        );
    }

    #[test]
    fn the_primes_are_the_primes() {
        assert_eq!(primes().take(10).collect::<Vec<_>>(), [2, 3, 5, 7, 11, 13, 17, 19, 23, 29]);
    }

    #[test]
    fn every_place_has_a_permutation() {
        let mut random = SplitMix(7);
        for count in [2, 3, 29] {
            let mut numbers = random.permutation(count);
            numbers.sort_unstable();
            assert!(numbers.iter().zip(0..).all(|(n, i)| *n == i), "{count}");
        }
    }
}
