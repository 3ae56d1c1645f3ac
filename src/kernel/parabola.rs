//! The top of a curve, guessed from three of its points.

/// A parabola that opens downwards.
#[derive(Debug, Clone, Copy)]
pub(super) struct Parabola {
    /// Where its top is, and how high.
    pub(super) top: f64,
    pub(super) most: f64,
    /// By how much it falls at one from its top.
    fall: f64,
}

impl Parabola {
    /// Through three points; `None` where it does not open downwards.
    pub(super) fn through([a, b, c]: [(f64, f64); 3]) -> Option<Self> {
        let slope = |p: (f64, f64), q: (f64, f64)| (q.1 - p.1) / (q.0 - p.0);
        let (first, second) = (slope(a, b), slope(b, c));
        let fall = -(second - first) / (c.0 - a.0);
        let top = 0.5 * (a.0 + b.0) + 0.5 * first / fall;
        (fall > 0.0 && top.is_finite()).then(|| Self { top, most: a.1 + fall * (top - a.0).powi(2), fall })
    }

    /// Its height at a place.
    pub(super) fn at(&self, place: f64) -> f64 {
        self.most - self.fall * (place - self.top).powi(2)
    }

    /// How far from its top it has fallen by a share of it.
    pub(super) fn short(&self, share: f64) -> f64 {
        (share * self.most.abs() / self.fall).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::Parabola;
    use approx::assert_relative_eq;

    #[test]
    fn three_points_of_a_parabola_give_it_back_whatever_their_order() {
        let height = |x: f64| 7.0 - 3.0 * (x - 0.3).powi(2);
        for places in [[0.0, 0.5, 1.0], [0.0, 1.0, 0.5], [0.9, 0.2, 0.4]] {
            let found = Parabola::through(places.map(|x| (x, height(x)))).expect("it opens downwards");
            assert_relative_eq!(found.top, 0.3, max_relative = 1e-12);
            assert_relative_eq!(found.most, 7.0, max_relative = 1e-12);
            assert_relative_eq!(found.at(2.0), height(2.0), max_relative = 1e-12);
            assert_relative_eq!(height(0.3 - found.short(1e-4)), 7.0 * (1.0 - 1e-4), max_relative = 1e-12);
        }
    }

    #[test]
    fn there_is_none_where_points_lie_in_a_line_or_a_hollow() {
        assert!(Parabola::through([(0.0, 1.0), (0.5, 2.0), (1.0, 3.0)]).is_none());
        assert!(Parabola::through([(0.0, 1.0), (0.5, 0.0), (1.0, 1.0)]).is_none());
        assert!(Parabola::through([(0.0, 1.0), (0.0, 2.0), (1.0, 1.0)]).is_none());
    }
}
