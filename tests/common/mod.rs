//! What the tests share: the one comparison of floats, and gears made of plain numbers.
#![allow(dead_code, reason = "each test binary uses a part of it")]

use gearleg::material::{
    AxleMetal, Basis, EndEfficiency, Family, Metal, Sourced, Wire, WireEnd, WireStrength,
};
use gearleg::model::{
    Arms, AxleJoint, Brace, CaseWheelLoad, FigureLimits, Gear, LoadPoint, Pattern, Plate, PlateMetal,
    Position, Side, Taper, Wheel, WireFit,
};
use gearleg::units::{Angle, Force, Length, MassDensity, Stress};
use uom::si::angle::degree;
use uom::si::force::newton;
use uom::si::length::millimeter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::{gigapascal, megapascal};

/// Young's modulus of the test metal, Pa.
pub(crate) const YOUNG: f64 = 70e9;
/// Poisson's ratio of the test metal.
pub(crate) const POISSON: f64 = 0.33;
/// Young's modulus of the test wire, Pa.
pub(crate) const WIRE_YOUNG: f64 = 193e9;

/// Asserts that two numbers differ by no more than `relative` of the larger of them.
#[track_caller]
pub(crate) fn assert_close(actual: f64, expected: f64, relative: f64, what: &str) {
    let scale = actual.abs().max(expected.abs());
    assert_within(actual, expected, relative * scale, what);
}

/// The same against a scale of its own: for a number that is small among its like.
#[track_caller]
pub(crate) fn assert_within(actual: f64, expected: f64, most: f64, what: &str) {
    let apart = (actual - expected).abs();
    assert!(apart <= most, "{what}: {actual:e} is not {expected:e}: apart by {apart:e}, allowed {most:e}");
}

pub(crate) fn mm(value: f64) -> Length {
    Length::new::<millimeter>(value)
}

pub(crate) fn metres(value: f64) -> Length {
    mm(1000.0 * value)
}

pub(crate) fn megapascals(value: f64) -> Stress {
    Stress::new::<megapascal>(value)
}

pub(crate) fn deg(value: f64) -> Angle {
    Angle::new::<degree>(value)
}

pub(crate) fn newtons(value: f64) -> Force {
    Force::new::<newton>(value)
}

fn told<T>(value: T) -> Sourced<T> {
    Sourced::new(value, Basis::Told, "made up for tests")
}

/// A metal of 70 GPa and no strength on record.
pub(crate) fn test_metal() -> Metal {
    Metal {
        name: "test-sheet".to_owned(),
        aliases: Vec::new(),
        family: Family::Aluminium,
        modulus: told(Stress::new::<gigapascal>(70.0)),
        poisson: told(POISSON),
        density: told(MassDensity::new::<kilogram_per_cubic_meter>(2700.0)),
        conductivity: None,
        tangent_modulus: None,
        hardening_exponent: None,
        tested: None,
        bands: Vec::new(),
    }
}

fn test_axle() -> AxleMetal {
    let steel = |strength| told(Stress::new::<megapascal>(strength));
    AxleMetal {
        name: "test-axle".to_owned(),
        aliases: Vec::new(),
        modulus: told(Stress::new::<gigapascal>(210.0)),
        poisson: told(0.3),
        density: told(MassDensity::new::<kilogram_per_cubic_meter>(7850.0)),
        yield_strength: steel(640.0),
        ultimate: steel(800.0),
    }
}

fn test_wire() -> Wire {
    Wire {
        name: "test-wire".to_owned(),
        aliases: Vec::new(),
        modulus: told(Stress::new::<gigapascal>(193.0)),
        density: told(MassDensity::new::<kilogram_per_cubic_meter>(7900.0)),
        strength: WireStrength::Constant(told(Stress::new::<megapascal>(1650.0))),
        yield_fraction: None,
    }
}

/// A main gear of two legs, 4 mm thick and 60 to 38 mm wide, leaning 40°; alter its fields to taste.
pub(crate) fn pair() -> Gear {
    Gear {
        cg_distance: None,
        give_first: None,
        give_first_in: None,
        name: "main".to_owned(),
        position: Position::Main,
        arms: Arms::Pair { base_width: mm(120.0) },
        plate: Plate {
            metal: PlateMetal::Known(Box::new(test_metal())),
            thickness: Taper { root: mm(4.0), tip: mm(4.0) },
            width: Taper { root: mm(60.0), tip: mm(38.0) },
            leg_length: mm(230.0),
            leg_angle: deg(40.0),
            rake: deg(0.0),
            bend_radius: None,
        },
        wheel: Wheel {
            axle_thread: None,
            diameter: mm(110.0),
            overhang: mm(22.0),
            axle: mm(5.0),
            axle_metal: test_axle(),
            tyre_stiffness: None,
        },
        braces: Vec::new(),
        mount: None,
        limits: FigureLimits::default(),
    }
}

/// One straight arm that hangs from the origin, 60 × 4 mm, its wheel right below its end.
pub(crate) fn arm() -> Gear {
    let mut gear = pair();
    gear.name = "nose".to_owned();
    gear.position = Position::Nose;
    gear.arms = Arms::Single;
    gear.plate.width = even(60.0);
    gear.plate.leg_angle = deg(0.0);
    gear.wheel.overhang = mm(0.0);
    gear
}

/// Two straight arms with the wheel's axle between them.
pub(crate) fn twin(base_width: f64, axle_joint: AxleJoint) -> Gear {
    let mut gear = arm();
    gear.arms = Arms::Twin { base_width: mm(base_width), axle_joint };
    gear
}

/// The same dimension all along, mm.
pub(crate) fn even(value: f64) -> Taper {
    taper(value, value)
}

/// From the bend to the axle, mm.
pub(crate) fn taper(root: f64, tip: f64) -> Taper {
    Taper { root: mm(root), tip: mm(tip) }
}

/// Brace wires of 1.5 mm; `base_at` in mm.
pub(crate) fn brace(pattern: Pattern, leg_at: f64, base_at: f64, fit: WireFit) -> Brace {
    Brace {
        base_in: None,
        pattern,
        wire: test_wire(),
        diameter: mm(1.5),
        leg_at,
        base_at: (pattern != Pattern::Tie).then(|| mm(base_at)),
        end: WireEnd {
            suits: None,
            name: "test-end".to_owned(),
            words: String::new(),
            efficiency: EndEfficiency::Fraction(told(1.0)),
        },
        end_holds: told(1.0),
        thread: None,
        fit,
    }
}

/// A load in N (aft, starboard, up) at the ground contact.
pub(crate) fn load(side: Side, force: [f64; 3]) -> CaseWheelLoad {
    load_at(side, force, LoadPoint::Ground)
}

/// A load in N (aft, starboard, up).
pub(crate) fn load_at(side: Side, [aft, starboard, up]: [f64; 3], at: LoadPoint) -> CaseWheelLoad {
    CaseWheelLoad { side, aft: newtons(aft), starboard: newtons(starboard), up: newtons(up), at }
}

/// The bare SI values of three quantities of one kind.
pub(crate) fn si<D, U>(three: [uom::si::Quantity<D, U, f64>; 3]) -> [f64; 3]
where
    D: uom::si::Dimension + ?Sized,
    U: uom::si::Units<f64> + ?Sized,
{
    three.map(|q| q.value)
}

/// Cross product.
pub(crate) fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

/// Scalar product.
pub(crate) fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// a + k b.
pub(crate) fn add(a: [f64; 3], k: f64, b: [f64; 3]) -> [f64; 3] {
    [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]]
}

/// Largest absolute value.
pub(crate) fn largest(values: &[f64]) -> f64 {
    values.iter().fold(0.0, |most, v| f64::max(most, v.abs()))
}

/// The load factors a project states.
pub(crate) fn stated(project: &gearleg::model::Project) -> gearleg::results::LandingFactors {
    match project.landing.severity {
        gearleg::model::Severity::LoadFactor(inertia) => {
            gearleg::results::LandingFactors::new(inertia, project.landing.wing_lift)
        }
        _ => panic!("the project states a load factor"),
    }
}
