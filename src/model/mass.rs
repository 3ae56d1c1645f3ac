//! What the metal of a gear weighs: of what is cut, bent and bought by size, without wheels, bolts and wood.

use super::{Arms, Gear, PlateMetal, WirePlace};
use crate::material::Wire;
use crate::section::RoundSection;
use crate::units::{Area, Length, Mass, MassDensity};

/// Masses of the parts of a gear.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GearMass {
    /// Legs, and the flat that joins them or a single arm's foot.
    pub plate: Mass,
    /// Brace wires, from anchor to anchor.
    pub wires: Mass,
    /// Axles: from the leg to the wheel's centre, or from arm to arm.
    pub axles: Mass,
}

impl GearMass {
    /// All of it.
    #[must_use]
    pub fn total(&self) -> Mass {
        self.plate + self.wires + self.axles
    }
}

impl Gear {
    /// Masses of the parts of a gear, its plate of the density given where the metal is unknown.
    ///
    /// Legs from the bend's centre point to the axle, ρ L (A₀ + 4 A½ + A₁)/6, exact for dimensions that run in straight lines; the flat as wide and thick as
    /// the root, from bend to bend; what bends take or give is left out.
    #[must_use]
    pub fn mass(&self, unknown_density: MassDensity) -> GearMass {
        let plate = &self.plate;
        let density = match &plate.metal {
            PlateMetal::Known(metal) => metal.density.value,
            PlateMetal::Unknown => unknown_density,
        };
        let area = |at: f64| plate.section_at(at).area();
        let mean: Area = (area(0.0) + 4.0 * area(0.5) + area(1.0)) / 6.0;
        let legs = self.legs().len() as f64 * plate.leg_length * mean;
        let flat = match self.arms {
            Arms::Pair { base_width } | Arms::Twin { base_width, .. } => base_width,
            Arms::Single => self.mount.as_ref().and_then(|m| m.foot).unwrap_or_default(),
        };
        let mut wires = Mass::default();
        for (index, brace) in self.braces.iter().enumerate() {
            for (_, from, to) in self.brace_wires(index) {
                let length = distance(self.wire_end(from, brace.leg_at), self.wire_end(to, brace.leg_at));
                wires += length * Wire::area(brace.diameter) * brace.wire.density.value;
            }
        }
        let [first, last] = [self.legs().first().map(|l| l.tip), self.legs().last().map(|l| l.tip)];
        let axle_length = match self.arms {
            Arms::Twin { .. } => first.zip(last).map_or_else(Length::default, |(a, b)| distance(a, b)),
            Arms::Pair { .. } | Arms::Single => self.legs().len() as f64 * self.wheel.overhang,
        };
        let round = RoundSection { diameter: self.wheel.axle };
        GearMass {
            plate: density * (legs + flat * area(0.0)),
            wires,
            axles: axle_length * round.area() * self.wheel.axle_metal.density.value,
        }
    }

    fn wire_end(&self, place: WirePlace, leg_at: f64) -> [Length; 3] {
        match place {
            WirePlace::Base(at) => at,
            WirePlace::Leg(side) => {
                let leg = self.leg(side);
                let [x, y, z] = leg.root;
                let [a, b, c] = leg.along.map(|c| c * leg_at * self.plate.leg_length);
                [x + a, y + b, z + c]
            }
        }
    }
}

fn distance(a: [Length; 3], b: [Length; 3]) -> Length {
    let [[ax, ay, az], [bx, by, bz]] = [a, b];
    let (x, y, z) = (bx - ax, by - ay, bz - az);
    (x * x + y * y + z * z).sqrt()
}
