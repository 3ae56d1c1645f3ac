//! What the checks of the plate at its bolts share: where the edges are.

use crate::model::{Arms, BasePlate, Gear, Side};
use crate::units::Length;

/// How far the cut edges of the plate are from the middle of a hole. Athwart only the end of a single arm's foot is cut: at its bends
/// the plate goes on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Edges {
    pub(super) forward: Length,
    pub(super) aft: Length,
    pub(super) port: Option<Length>,
    pub(super) starboard: Option<Length>,
}

impl Edges {
    /// Round a hole at a place.
    pub(super) fn new(gear: &Gear, base: &BasePlate, [aft, starboard]: [Length; 2]) -> Self {
        let half = 0.5 * base.width;
        let [first, last] = base.reach;
        let foot = (gear.arms == Arms::Single).then(|| gear.foot_side());
        Self {
            forward: half + aft,
            aft: half - aft,
            port: (foot == Some(Side::Left)).then(|| starboard - first),
            starboard: (foot == Some(Side::Right)).then(|| last - starboard),
        }
    }

    /// Fore and aft: the nearer edge.
    pub(super) fn nearest_fore_and_aft(&self) -> Length {
        self.forward.min(self.aft)
    }

    /// Athwart: the nearer edge, if there is one.
    pub(super) fn nearest_athwart(&self) -> Option<Length> {
        [self.port, self.starboard].into_iter().flatten().reduce(Length::min)
    }

    /// The nearest of all.
    pub(super) fn nearest(&self) -> Length {
        self.nearest_athwart().map_or(self.nearest_fore_and_aft(), |a| a.min(self.nearest_fore_and_aft()))
    }
}
