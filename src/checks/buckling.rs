//! The equation that tipping over and column buckling share.
//!
//! (a u')' + λ b u = 0 along a leg, u = 0 at the bend, u' = 0 at the axle: u is the twist, a = G J and b = M²/(E I)
//! for a plate bent edgewise; u is the slope, a = E I and b = N for a column. The smallest λ is found by inverse
//! iteration on the integral equation. Derived: docs/method.md "Edgewise".

/// Most rounds of the iteration, and the relative change of λ at which it ends. chosen: eight rounds give 1e-9.
const ROUNDS: usize = 30;
const SETTLED: f64 = 1e-10;

/// A point along the leg, as plain ratios.
#[derive(Clone, Copy)]
pub(super) struct Point {
    /// Step to the next point over the leg's length.
    pub(super) step: f64,
    /// b over its reference.
    pub(super) driving: f64,
    /// 1/a over its reference.
    pub(super) yielding: f64,
}

/// The smallest λ; `None` when nothing drives the leg.
pub(super) fn smallest_root(points: &[Point]) -> Option<f64> {
    let mut shape = vec![1.0; points.len()];
    let mut root = 0.0;
    for _ in 0..ROUNDS {
        let driven: Vec<f64> = points.iter().zip(&shape).map(|(p, u)| p.driving * u).collect();
        let mut inner =
            running_sum(points.iter().rev().skip(1).map(|p| p.step), driven.iter().rev().copied());
        inner.reverse();
        let turning = points.iter().zip(&inner).map(|(p, q)| p.yielding * q);
        let next = running_sum(points.iter().map(|p| p.step), turning);
        let product = |a: &[f64], b: &[f64]| {
            let each = points.iter().zip(a.iter().zip(b)).map(|(p, (x, y))| p.driving * x * y);
            running_sum(points.iter().map(|p| p.step), each).last().copied().unwrap_or(0.0)
        };
        let size = product(&next, &next);
        if size <= 0.0 {
            return None;
        }
        let now = product(&shape, &next) / size;
        let settled = (now - root).abs() <= SETTLED * now;
        root = now;
        if settled {
            break;
        }
        let scale = next.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
        shape = next.iter().map(|v| v / scale).collect();
    }
    Some(root)
}

/// Integral from the first value up to each, by trapezoids.
fn running_sum(mut steps: impl Iterator<Item = f64>, values: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut sum = 0.0;
    let mut before: Option<f64> = None;
    values
        .map(|v| {
            if let Some(b) = before {
                sum += 0.5 * (b + v) * steps.next().unwrap_or(0.0);
            }
            before = Some(v);
            sum
        })
        .collect()
}
