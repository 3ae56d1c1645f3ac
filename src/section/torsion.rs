//! Saint-Venant torsion of a solid rectangle, as dimensionless numbers.
//!
//! A rectangle b × t (t along the second axis) twisted by T has the torsion constant J = β b t³ and the largest
//! shear stress T / (α b t²), at the middle of the long faces. The series hold for any aspect b/t.
//! Source: Timoshenko & Goodier, Theory of Elasticity, section on torsion of a rectangular bar (from memory);
//! values checked against the series evaluated elsewhere, docs/validation.md.

use std::f64::consts::PI;
use std::sync::LazyLock;

/// Relative size at which a series is cut off.
const NEGLIGIBLE: f64 = 1e-14;

/// Most terms of a series; enough for sections a hundred times as wide as thick.
const MOST_TERMS: usize = 4000;

/// Riemann's ζ(5). Source: Abramowitz & Stegun, table 23.3.
const ZETA_5: f64 = 1.036_927_755_143_37;

/// Odd numbers 1, 3, 5 ….
fn odd() -> impl Iterator<Item = f64> {
    (0..MOST_TERMS).map(|k| (2 * k + 1) as f64)
}

/// e^{nx} for n = 1, 3, 5 …, one after the other.
struct Power {
    now: f64,
    factor: f64,
}

impl Power {
    fn new(exponent: f64) -> Self {
        Self { now: exponent.exp(), factor: (2.0 * exponent).exp() }
    }

    fn step(&mut self) -> f64 {
        let now = self.now;
        self.now *= self.factor;
        now
    }
}

/// β of J = β b t³ for the aspect b/t (any positive number).
///
/// β = 1/3 − (64/π⁵)(t/b) Σ tanh(nπb/2t)/n⁵, n odd.
#[must_use]
pub fn constant(aspect: f64) -> f64 {
    // Σ 1/n⁵ over odd n is (31/32) ζ(5); what tanh lacks of 1 is 2 e^{−2x}/(1 + e^{−2x}) and soon vanishes.
    let mut lack = 0.0;
    let mut power = Power::new(-PI * aspect);
    for n in odd() {
        let small = power.step();
        let term = 2.0 * small / ((1.0 + small) * n.powi(5));
        lack += term;
        if term < NEGLIGIBLE {
            break;
        }
    }
    1.0 / 3.0 - 64.0 / PI.powi(5) / aspect * (31.0 / 32.0 * ZETA_5 - lack)
}

/// α of τ_max = T / (α b t²) for the aspect b/t ≥ 1.
///
/// α = β / p(0), with p the shear along the long face.
#[must_use]
pub fn modulus(aspect: f64) -> f64 {
    constant(aspect) / long_face(aspect, 0.0)
}

/// A place on a face, with what is the same there for every section.
#[derive(Debug, Clone, Copy)]
pub struct FacePlace {
    /// Distance from the middle of the face over half its length, 0 to 1.
    place: f64,
    /// Shear there on the short face of an endless rectangle, without its factor 8/π².
    endless: f64,
}

impl FacePlace {
    /// Prepares a place at a distance from the middle of the face over half its length, 0 to 1.
    #[must_use]
    pub fn new(place: f64) -> Self {
        Self { place, endless: endless_short_face(place) }
    }

    /// Shear along the faces that run along b, as a multiple of T t / J.
    ///
    /// p = 1 − (8/π²) Σ cosh(nπy/t) / (n² cosh(nπb/2t)), n odd; zero in the corners. Close to a corner that series
    /// is slow, and the face is taken as the short face of the same rectangle turned round, p = (b/t) q(t/b).
    #[must_use]
    pub fn long(&self, aspect: f64) -> f64 {
        let place = self.place;
        if place >= 1.0 {
            return 0.0;
        }
        // Terms of the one fall as exp(−nπ(b/2t)(1 − place)), of the other as exp(−nπt/b): take the faster.
        if (1.0 - place) * aspect * aspect < 2.0 {
            return aspect * self.short(1.0 / aspect);
        }
        let half = PI * aspect / 2.0;
        // cosh(nx)/cosh(nX) without overflow, x = half × place, X = half: each exponential is the one before times a factor.
        let mut powers = [half * (place - 1.0), -half * (place + 1.0), -2.0 * half].map(Power::new);
        let mut sum = 0.0;
        for n in odd() {
            let [near, far, full] = powers.each_mut().map(Power::step);
            let term = (near + far) / ((1.0 + full) * n * n);
            sum += term;
            if term < NEGLIGIBLE {
                break;
            }
        }
        1.0 - 8.0 / (PI * PI) * sum
    }

    /// Shear along the faces that run along t, as a multiple of T t / J.
    ///
    /// q = (8/π²) Σ (−1)^((n−1)/2) tanh(nπb/2t) cos(nπz/t) / n², n odd. The part of an infinitely long
    /// rectangle (tanh = 1) is summed in closed form; what a finite one lacks converges in a few terms.
    #[must_use]
    pub fn short(&self, aspect: f64) -> f64 {
        let place = self.place;
        let mut lack = 0.0;
        let mut sign = 1.0;
        // 1 − tanh(x) = 2 e^{−2x} / (1 + e^{−2x})
        let mut power = Power::new(-PI * aspect);
        // cos((n+2)φ) = 2 cos 2φ cos nφ − cos((n−2)φ), from cos(−φ) = cos φ on.
        let phi = PI * place / 2.0;
        let (turn, mut cosine, mut before) = (2.0 * (2.0 * phi).cos(), phi.cos(), phi.cos());
        for n in odd() {
            let small = power.step();
            let short = 2.0 * small / ((1.0 + small) * n * n);
            lack += sign * short * cosine;
            (cosine, before) = (turn * cosine - before, cosine);
            sign = -sign;
            if short < NEGLIGIBLE {
                break;
            }
        }
        8.0 / (PI * PI) * (self.endless - lack)
    }
}

/// [`FacePlace::long`] at a place of its own.
#[must_use]
pub fn long_face(aspect: f64, place: f64) -> f64 {
    FacePlace::new(place).long(aspect)
}

/// [`FacePlace::short`] at a place of its own.
#[must_use]
pub fn short_face(aspect: f64, place: f64) -> f64 {
    FacePlace::new(place).short(aspect)
}

/// Σ (−1)^((n−1)/2) cos(nπζ/2)/n² over odd n: the short face of an endless rectangle.
///
/// With φ = π(1−ζ)/2 it is Σ sin(nφ)/n² over odd n, that is Cl₂(φ) − Cl₂(2φ)/4, Cl₂ being Clausen's integral.
fn endless_short_face(place: f64) -> f64 {
    let phi = PI * (1.0 - place) / 2.0;
    if phi <= 0.0 { 0.0 } else { clausen(phi) - 0.25 * clausen(2.0 * phi) }
}

/// Clausen's integral Cl₂(φ) for 0 < φ ≤ π.
///
/// Cl₂(φ) = φ [1 − ln φ + Σ ζ(2k) (φ/2π)^2k / (k (2k+1))].
/// Source: Abramowitz & Stegun 27.8.2 with the Bernoulli numbers written as zeta values; at φ = π/2 it is
/// Catalan's constant.
fn clausen(phi: f64) -> f64 {
    // ζ(2), ζ(4), …: 28 terms leave (1/4)^28 of the first.
    static ZETA: LazyLock<[f64; 28]> = LazyLock::new(|| {
        std::array::from_fn(|i| match i {
            0 => PI.powi(2) / 6.0,
            1 => PI.powi(4) / 90.0,
            2 => PI.powi(6) / 945.0,
            3 => PI.powi(8) / 9450.0,
            _ => (1..40).rev().map(|j| f64::from(j).powi(-2 * (i as i32 + 1))).sum(),
        })
    });
    let square = (phi / (2.0 * PI)).powi(2);
    let mut power = 1.0;
    let mut sum = 1.0 - phi.ln();
    for (i, zeta) in ZETA.iter().enumerate() {
        let k = (i + 1) as f64;
        power *= square;
        let term = zeta * power / (k * (2.0 * k + 1.0));
        sum += term;
        if term < NEGLIGIBLE {
            break;
        }
    }
    phi * sum
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn clausen_at_a_right_angle_is_catalans_constant() {
        // Source: published value of Catalan's constant.
        assert_relative_eq!(clausen(PI / 2.0), 0.915_965_594_177_219, max_relative = 1e-14);
        // Cl₂(π) = 0, Cl₂(π/3) = 1.0149416064096537 (its maximum; Gieseking's constant).
        assert_relative_eq!(clausen(PI), 0.0, epsilon = 1e-14);
        assert_relative_eq!(clausen(PI / 3.0), 1.014_941_606_409_653_7, max_relative = 1e-14);
    }

    #[test]
    fn both_series_give_the_same_shear() {
        // The same face seen as the long face of b × t and as the short face of t × b: two different series.
        for (aspect, places) in [(2.0, [0.0, 0.2, 0.49]), (4.0, [0.1, 0.5, 0.87]), (12.0, [0.0, 0.9, 0.986])]
        {
            for place in places {
                assert_relative_eq!(
                    long_face(aspect, place),
                    aspect * short_face(1.0 / aspect, place),
                    max_relative = 1e-10
                );
            }
        }
    }

    #[test]
    fn both_faces_together_carry_the_whole_torque() {
        // T is half from the long faces' shear and half from the short faces' in a thin strip only as a limit; for
        // any rectangle the boundary shear satisfies the circulation theorem: its integral round the
        // perimeter is 2 G θ' A. In units of T t / J: 2 ∫long dy + 2 ∫short dz = 2 b (with τ = (T/J) t p).
        for aspect in [1.0, 1.7, 4.0, 12.0] {
            let n = 20_000;
            let mean = |f: &dyn Fn(f64) -> f64| {
                (0..n).map(|i| f((f64::from(i) + 0.5) / f64::from(n))).sum::<f64>() / f64::from(n)
            };
            let round =
                2.0 * aspect * mean(&|s| long_face(aspect, s)) + 2.0 * mean(&|s| short_face(aspect, s));
            assert_relative_eq!(round, 2.0 * aspect, max_relative = 1e-6);
        }
    }
}
