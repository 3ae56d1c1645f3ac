//! What a row of round holes leaves of a rectangular plate.

use crate::units::{Area, Length, SecondMoment, SectionModulus};

/// A plate's section through the middle of a row of holes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NetSection {
    /// Area left, (b − n d₀) t.
    pub area: Area,
    /// Section modulus flatwise, (b − n d₀) t²/6.
    pub modulus_flat: SectionModulus,
    /// Second moment edgewise about its own middle, t (b³/12 − Σ(d₀³/12 + d₀ x²)) − A x̄².
    pub second_moment_edge: SecondMoment,
    /// Where its own middle x̄ is, from that of the whole plate.
    pub centre: Length,
    /// Distance of its farther edge from its own middle.
    pub reach: Length,
}

impl NetSection {
    /// The section of a plate of this width and thickness with holes of one diameter at these distances from its middle.
    ///
    /// Holes that overlap or break out of the edge take off what they cover, once. `None` when they leave nothing.
    /// Derived: first and second moments of the strips that are left.
    #[must_use]
    pub fn new(width: Length, thickness: Length, hole: Length, at: &[Length]) -> Option<Self> {
        let half = 0.5 * width;
        let mut middles = at.to_vec();
        middles.sort_by(|a, b| a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal));
        let mut solids: Vec<(Length, Length)> = Vec::new();
        let mut from = -half;
        for x in middles {
            let (begins, ends) = (x - 0.5 * hole, x + 0.5 * hole);
            if begins > from {
                solids.push((from, begins.min(half)));
            }
            from = from.max(ends).min(half);
        }
        if half > from {
            solids.push((from, half));
        }
        let (&(first, _), &(_, last)) = (solids.first()?, solids.last()?);
        let zero = Length::default();
        let (mut left, mut moment, mut second) = (zero, zero * zero, zero * zero * zero);
        for (a, b) in solids {
            left += b - a;
            moment += 0.5 * (b * b - a * a);
            second += (b * b * b - a * a * a) / 3.0;
        }
        let centre = moment / left;
        Some(Self {
            area: left * thickness,
            modulus_flat: left * thickness * thickness / 6.0,
            second_moment_edge: thickness * (second - left * centre * centre),
            centre,
            reach: (last - centre).max(centre - first),
        })
    }
}
