//! Saint-Venant torsion of a solid rectangle, as dimensionless numbers.
//!
//! A rectangle b × t (t along the second axis) twisted by T has the torsion constant J = β b t³ and the largest
//! shear stress T / (α b t²), at the middle of the long faces. The series hold for any aspect b/t.
//! Source: Timoshenko & Goodier, Theory of Elasticity, section on torsion of a rectangular bar (from memory);
//! values checked against the exact series evaluated elsewhere, REFERENCE of the tests: docs/validation.md.

use std::f64::consts::PI;
use std::sync::LazyLock;

/// Relative size at which a series is cut off.
const NEGLIGIBLE: f64 = 1e-14;

/// Most terms of a series; reached only within 1e-3 of a corner, where the shear vanishes anyway.
const MOST_TERMS: usize = 4000;

/// Odd numbers 1, 3, 5 ….
fn odd() -> impl Iterator<Item = f64> {
    (0..MOST_TERMS).map(|k| (2 * k + 1) as f64)
}

/// β of J = β b t³ for the aspect b/t (any positive number).
///
/// β = 1/3 − (64/π⁵)(t/b) Σ tanh(nπb/2t)/n⁵, n odd.
#[must_use]
pub fn constant(aspect: f64) -> f64 {
    let mut sum = 0.0;
    for n in odd() {
        let term = (n * PI * aspect / 2.0).tanh() / n.powi(5);
        sum += term;
        if term < NEGLIGIBLE * sum {
            break;
        }
    }
    1.0 / 3.0 - 64.0 / PI.powi(5) / aspect * sum
}

/// α of τ_max = T / (α b t²) for the aspect b/t ≥ 1.
///
/// α = β / p(0), with p the shear along the long face.
#[must_use]
pub fn modulus(aspect: f64) -> f64 {
    constant(aspect) / long_face(aspect, 0.0)
}

/// Shear along the faces that run along b, as a multiple of T t / J.
///
/// `place` is the distance from the middle of the face over b/2, 0 to 1.
/// p = 1 − (8/π²) Σ cosh(nπy/t) / (n² cosh(nπb/2t)), n odd; zero in the corners.
#[must_use]
pub fn long_face(aspect: f64, place: f64) -> f64 {
    if place >= 1.0 {
        return 0.0;
    }
    let half = PI * aspect / 2.0;
    let mut sum = 0.0;
    for n in odd() {
        // cosh(x)/cosh(X) without overflow.
        let (x, full) = (n * half * place, n * half);
        let ratio = ((x - full).exp() + (-x - full).exp()) / (1.0 + (-2.0 * full).exp());
        let term = ratio / (n * n);
        sum += term;
        if term < NEGLIGIBLE {
            break;
        }
    }
    1.0 - 8.0 / (PI * PI) * sum
}

/// Shear along the faces that run along t, as a multiple of T t / J.
///
/// `place` is the distance from the middle of the face over t/2, 0 to 1.
/// q = (8/π²) Σ (−1)^((n−1)/2) tanh(nπb/2t) cos(nπz/t) / n², n odd. The part of an infinitely long
/// rectangle (tanh = 1) is summed in closed form; what a finite one lacks converges in a few terms.
#[must_use]
pub fn short_face(aspect: f64, place: f64) -> f64 {
    let mut lack = 0.0;
    let mut sign = 1.0;
    for n in odd() {
        // 1 − tanh(x) = 2 / (e^{2x} + 1)
        let short = 2.0 / ((n * PI * aspect).exp() + 1.0) / (n * n);
        lack += sign * short * (n * PI * place / 2.0).cos();
        sign = -sign;
        if short < NEGLIGIBLE {
            break;
        }
    }
    8.0 / (PI * PI) * (endless_short_face(place) - lack)
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
        sum += zeta * power / (k * (2.0 * k + 1.0));
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
    fn a_square_has_the_same_shear_on_all_faces() {
        for place in [0.0, 0.1, 0.37, 0.8, 0.99] {
            assert_relative_eq!(long_face(1.0, place), short_face(1.0, place), epsilon = 1e-10);
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
