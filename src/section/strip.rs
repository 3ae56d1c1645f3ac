//! A strip in a vice with a weight on it: when it begins to yield, how far it goes down, what stays.

use crate::units::{Force, Length, Stress};

/// A strip clamped at one end and loaded near the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cantilever {
    /// Width.
    pub width: Length,
    /// Thickness.
    pub thickness: Length,
    /// From the clamp to the load.
    pub length: Length,
}

impl Cantilever {
    /// Load at which the strip begins to yield: P = σ b t² / (6 L). Closed form.
    #[must_use]
    pub fn first_yield(&self, yield_strength: Stress) -> Force {
        yield_strength * self.width * self.thickness * self.thickness / (6.0 * self.length)
    }

    /// How far its end moves while nothing yields: δ = 4 P L³ / (E b t³). Closed form.
    #[must_use]
    pub fn elastic_movement(&self, load: Force, modulus: Stress) -> Length {
        let slender = self.length / self.thickness;
        4.0 * slender * slender * slender * load / (modulus * self.width)
    }

    /// Share of its length that is left of a load's lever while nothing yields: the load comes nearer to the clamp as the strip swings down.
    #[must_use]
    pub fn lever(&self, load: Force, modulus: Stress) -> f64 {
        lever_at(f64::from(self.elastic_movement(load, modulus) / self.length))
    }

    /// How far its end goes down while nothing yields, however far it swings: L √((1 − λ²)/1.2), with λ the [lever](Self::lever). The closed
    /// form where it swings little; otherwise a fit to the elastica (the tests hold how near).
    #[must_use]
    pub fn movement(&self, load: Force, modulus: Stress) -> Length {
        let lever = self.lever(load, modulus);
        self.length * ((1.0 - lever * lever) / 1.2).sqrt()
    }

    /// Modulus of a strip whose end goes down by so much under a load that yields nothing, the inverse of [`Self::movement`]; `None` where it
    /// would hang down wholly, or does not move.
    #[must_use]
    pub fn modulus_by_movement(&self, load: Force, movement: Length) -> Option<Stress> {
        let share = f64::from(movement / self.length);
        let square = 1.0 - 1.2 * share * share;
        if square <= 0.0 || share <= 0.0 {
            return None;
        }
        // λ⁻⁴ − 1 = s² (2.4 + 2.25 s²)/(1 + s²), a quadratic equation in s².
        let k = 1.0 / (square * square) - 1.0;
        let sag = ((k - 2.4 + ((2.4 - k) * (2.4 - k) + 9.0 * k).sqrt()) / 4.5).sqrt();
        let slender = self.length / self.thickness;
        Some(4.0 * slender * slender * load / (self.width * self.thickness * sag))
    }

    /// By how much more than a narrow strip a wide one may bear before it yields, as a share: a clamp keeps it from curling across, out to
    /// half its width.
    ///
    /// 2/√3 − 1 (plane strain, von Mises, yielded through and through; 0.134 at first yield), or where it is less by how much more a load
    /// has the moment of first yield half a width out, 1/(1 − b/2L) − 1; in proportion for strips narrower than ten thicknesses (chosen).
    /// Nobody knows how much of it a vice gives. Derived.
    #[must_use]
    pub fn gain_of_width(&self) -> f64 {
        let out = f64::from(0.5 * self.width / self.length);
        let gain = if out < 0.5 { (out / (1.0 - out)).min(PLANE_STRAIN) } else { PLANE_STRAIN };
        gain * f64::from(0.1 * self.width / self.thickness).min(1.0)
    }

    /// Load over that of first yield, as the clamp feels it: it falls with the lever, which is shorter still where the strip has yielded and
    /// swings down further. From 1.5 on it folds.
    ///
    /// p = P/P_y λ(s), with s the movement over the length, δ_y/L (P/P_y + f(p) − p): see [`movement_beyond_yield`].
    #[must_use]
    pub fn yielding_share(&self, load: Force, yield_strength: Stress, modulus: Stress) -> f64 {
        let first = self.first_yield(yield_strength);
        let times = f64::from(load / first);
        let swing = f64::from(self.elastic_movement(first, modulus) / self.length);
        let felt = |beyond: f64| times * lever_at(swing * (times + beyond));
        let elastic = felt(0.0);
        if elastic <= 1.0 {
            return elastic;
        }
        let most = felt(beyond_yield(0.0));
        if most >= PLASTIC {
            return most;
        }
        // The more it swings, the less it feels: p lies between what it feels without swinging further and what it feels then. By regula
        // falsi in the root w = √(3 − 2p), in which f is smooth, with an end that stays put twice counted for half (the Illinois rule).
        let (share, root) =
            (|w: f64| 0.5 * (3.0 - w * w), |p: f64| (3.0 - 2.0 * p.clamp(1.0, PLASTIC)).sqrt());
        let more = |w: f64| felt(beyond_yield(w)) - share(w);
        let mut low = root(elastic);
        let mut at_low = more(low);
        if at_low.abs() < NEAR {
            return share(low);
        }
        let mut high = root(share(low) + at_low);
        let mut at_high = more(high);
        let mut moved_high = None;
        for _ in 0..ROUNDS {
            let w = (low * at_high - high * at_low) / (at_high - at_low);
            let left = more(w);
            if left.abs() < NEAR {
                return share(w);
            }
            if left > 0.0 {
                if moved_high == Some(true) {
                    at_low *= 0.5;
                }
                (high, at_high, moved_high) = (w, left, Some(true));
            } else {
                if moved_high == Some(false) {
                    at_high *= 0.5;
                }
                (low, at_low, moved_high) = (w, left, Some(false));
            }
        }
        share(0.5 * (low + high))
    }

    /// How much its end stays bent once the load is taken off; `None` when it folds under the load.
    ///
    /// δ_y (f(p) − p) (1 − (1 − λ) s²/(s² + 0.4)), p the [share](Self::yielding_share), δ_y the movement at first yield, λ the lever: of a strip
    /// that hangs down the part that has yielded is shorter by it, of a stiff one it is not; between them a fit to strips that a
    /// large-displacement method bends (the tests hold how near). See [`movement_beyond_yield`].
    #[must_use]
    pub fn set(&self, load: Force, yield_strength: Stress, modulus: Stress) -> Option<Length> {
        self.set_at(self.yielding_share(load, yield_strength, modulus), load, yield_strength, modulus)
    }

    /// The same where the [share](Self::yielding_share) is known.
    #[must_use]
    pub fn set_at(&self, share: f64, load: Force, yield_strength: Stress, modulus: Stress) -> Option<Length> {
        let first = self.first_yield(yield_strength);
        let beyond = movement_beyond_yield(share)? - share;
        let movement = self.elastic_movement(first, modulus);
        let times = f64::from(load / first);
        let square = (f64::from(movement / self.length) * (times + beyond)).powi(2);
        let shorter = (1.0 - share / times) * square / (square + 0.4);
        Some(movement * beyond * (1.0 - shorter))
    }
}

/// Times the load of first yield at which a rectangle has yielded through and through.
const PLASTIC: f64 = 1.5;
/// 2/√3 − 1.
const PLANE_STRAIN: f64 = 0.154_701;
/// How near a share comes, and in how many rounds at most.
const NEAR: f64 = 1e-7;
const ROUNDS: usize = 40;

/// Share of its length that is left of the lever of a strip whose end would go down by so much of its length if displacements were small.
///
/// (1 + s² (2.4 + 2.25 s²)/(1 + s²))^(−1/4): 1 − 3/5 s² for small s and √(2/3s) for large ones, both closed forms, and between them a fit to
/// the elastica (the tests hold how near).
fn lever_at(sag: f64) -> f64 {
    let square = sag * sag;
    (1.0 + square * (2.4 + 2.25 * square) / (1.0 + square)).sqrt().sqrt().recip()
}

/// f(p) − p of [`movement_beyond_yield`], by the root √(3 − 2p).
fn beyond_yield(root: f64) -> f64 {
    let p = 0.5 * (3.0 - root * root);
    (5.0 - (3.0 + p) * root) / (p * p) - p
}

/// Movement of the end of a rectangular cantilever of perfectly plastic metal, relative to that at first yield, under `p` times the
/// load of first yield; `None` beyond the load that folds it.
///
/// f = p⁻² (5 − (3 + p) √(3 − 2p)) for 1 < p ≤ 1.5. Source: Prandtl; Timoshenko, Strength of Materials part II (from memory; computed
/// values are in the tests).
#[must_use]
pub fn movement_beyond_yield(p: f64) -> Option<f64> {
    if p <= 1.0 {
        Some(p)
    } else if p <= PLASTIC {
        Some(p + beyond_yield((3.0 - 2.0 * p).sqrt()))
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;
    use uom::si::length::millimeter;
    use uom::si::pressure::megapascal;

    /// What the clamp feels is what is left of the lever of a strip that swings as far as it says; it never falls under more weight.
    #[test]
    fn the_share_of_first_yield_fits_the_swing() {
        let mm = |value: f64| Length::new::<millimeter>(value);
        let mpa = |value: f64| Stress::new::<megapascal>(value);
        let mut solved = 0;
        for (thick, long, strength, modulus) in [
            (5.0, 80.0, 60.0, 70e3),
            (3.0, 150.0, 250.0, 70e3),
            (1.0, 200.0, 260.0, 70e3),
            (0.5, 300.0, 530.0, 71.5e3),
        ] {
            let beam = Cantilever { width: mm(25.0), thickness: mm(thick), length: mm(long) };
            let first = beam.first_yield(mpa(strength));
            let swing = f64::from(beam.elastic_movement(first, mpa(modulus)) / beam.length);
            let mut before = 0.0;
            for step in 1..800 {
                let times = 0.01 * f64::from(step);
                let share = beam.yielding_share(first * times, mpa(strength), mpa(modulus));
                assert!(share > before, "{thick} mm, {times}: {share} after {before}");
                before = share;
                if let Some(movement) = movement_beyond_yield(share) {
                    let felt = times * lever_at(swing * (times + movement - share));
                    assert_abs_diff_eq!(felt, share, epsilon = 1e-6);
                    solved += usize::from(share > 1.0);
                }
            }
        }
        assert!(solved > 100, "{solved} yield and don't fold");
    }
}
