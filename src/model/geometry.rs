//! Where things are: the geometry behind the keys, in aircraft axes (x aft, y starboard, z up), origin at the
//! centre of the base at the level of the bends' centre points.

use super::{Arms, Brace, Gear, Pattern};
use crate::units::Length;
use std::fmt;

/// Port, starboard or on the centre line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// Port.
    Left,
    /// The only one.
    Centre,
    /// Starboard.
    Right,
}

impl Side {
    /// The word used in files and JSON.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Centre => "centre",
            Self::Right => "right",
        }
    }

    /// +1 towards starboard, −1 towards port; a centre leg leans to starboard.
    #[must_use]
    pub const fn sign(self) -> f64 {
        match self {
            Self::Left => -1.0,
            Self::Centre | Self::Right => 1.0,
        }
    }
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.id())
    }
}

/// A leg in space.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leg {
    /// Which one.
    pub side: Side,
    /// The bend's centre point.
    pub root: [Length; 3],
    /// The lower end, at the axle.
    pub tip: [Length; 3],
    /// Unit vector from root to tip.
    pub along: [f64; 3],
    /// Unit vector across the width: the leg's own plane with the aircraft's x axis, pointing aft.
    pub across: [f64; 3],
    /// Unit vector through the thickness, square to both (`along` × `across`).
    pub through: [f64; 3],
}

/// A wheel in space.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WheelPlace {
    /// Which one.
    pub side: Side,
    /// Its centre.
    pub centre: [Length; 3],
    /// The point that touches the ground, straight below the centre.
    pub contact: [Length; 3],
}

/// One end of a wire.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WirePlace {
    /// On a leg, at the brace's `leg_at`.
    Leg(Side),
    /// On the base.
    Base([Length; 3]),
}

fn unit(v: [f64; 3]) -> [f64; 3] {
    let n = v.iter().map(|c| c * c).sum::<f64>().sqrt();
    v.map(|c| c / n)
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

impl Gear {
    /// Distance between the bends or the arms' tops; zero for a single arm.
    #[must_use]
    pub fn base_width(&self) -> Length {
        match self.arms {
            Arms::Pair { base_width } | Arms::Twin { base_width, .. } => base_width,
            Arms::Single => Length::default(),
        }
    }

    /// The legs, port first.
    #[must_use]
    pub fn legs(&self) -> Vec<Leg> {
        let sides: &[Side] = match self.arms {
            Arms::Single => &[Side::Centre],
            Arms::Pair { .. } | Arms::Twin { .. } => &[Side::Left, Side::Right],
        };
        sides.iter().map(|&side| self.leg(side)).collect()
    }

    /// One leg.
    ///
    /// Runs along (tan rake, ± tan leg_angle, −1) made unit length. The width lies in the plane of that line
    /// and the x axis, the thickness is square to both.
    #[must_use]
    pub fn leg(&self, side: Side) -> Leg {
        let plate = &self.plate;
        let along = unit([f64::from(plate.rake.tan()), side.sign() * f64::from(plate.leg_angle.tan()), -1.0]);
        let across = unit([1.0 - along[0] * along[0], -along[0] * along[1], -along[0] * along[2]]);
        let through = cross(along, across);
        let root_y = if side == Side::Centre { 0.0 } else { 0.5 * side.sign() } * self.base_width();
        let zero = Length::default();
        let root = [zero, root_y, zero];
        let [tx, ty, tz] = along.map(|c| c * plate.leg_length);
        Leg { side, root, tip: [tx, root_y + ty, tz], along, across, through }
    }

    /// The wheels, port first.
    #[must_use]
    pub fn wheels(&self) -> Vec<WheelPlace> {
        let radius = 0.5 * self.wheel.diameter;
        let place = |side, [x, y, z]: [Length; 3]| WheelPlace {
            side,
            centre: [x, y, z],
            contact: [x, y, z - radius],
        };
        match self.arms {
            Arms::Twin { .. } => {
                let [x, _, z] = self.leg(Side::Left).tip;
                vec![place(Side::Centre, [x, Length::default(), z])]
            }
            Arms::Pair { .. } | Arms::Single => self
                .legs()
                .iter()
                .map(|leg| {
                    let [x, y, z] = leg.tip;
                    place(leg.side, [x, y + leg.side.sign() * self.wheel.overhang, z])
                })
                .collect(),
        }
    }

    /// The wires of one brace with their names and both ends, port first.
    ///
    /// A wire takes the name of the leg it holds. The wires of a second and later brace carry its number.
    #[must_use]
    pub fn brace_wires(&self, index: usize) -> Vec<(String, WirePlace, WirePlace)> {
        let Some(brace) = self.braces.get(index) else { return Vec::new() };
        let name = |base: &str| if index == 0 { base.to_owned() } else { format!("{base}-{}", index + 1) };
        if brace.pattern == Pattern::Tie {
            return vec![(name("tie"), WirePlace::Leg(Side::Left), WirePlace::Leg(Side::Right))];
        }
        self.legs()
            .iter()
            .zip(self.anchors(brace))
            .map(|(leg, y)| {
                let anchor = [Length::default(), y, Length::default()];
                (name(leg.side.id()), WirePlace::Leg(leg.side), WirePlace::Base(anchor))
            })
            .collect()
    }

    /// Where the anchors of a brace are, to starboard of the centre line, in the order of the legs; none for a tie.
    #[must_use]
    pub fn anchors(&self, brace: &Brace) -> Vec<Length> {
        let toward = match brace.pattern {
            Pattern::Tie => return Vec::new(),
            Pattern::Cross => -1.0,
            Pattern::Near => 1.0,
        };
        let reach = brace.base_at.unwrap_or_default();
        self.legs().iter().map(|leg| toward * leg.side.sign() * reach).collect()
    }
}
