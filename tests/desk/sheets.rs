//! Sheets made up at random, and what shop tests with imperfect instruments would read of them. Strips and bends are integrated fibre by
//! fibre here; nothing of the desk's own mechanics is used.

use gearleg::input::tables::builtin;
use gearleg::material::{Basis, Family, Library, Metal};
use gearleg::model::{
    AfterWrap, Bench, BenchPrior, BenchTest, Clue, Hardness, Measured, Named, ShopTest, Strip, Volume,
};
use gearleg::search::spread::normal_quantile;
use gearleg::units::{Angle, Length, Mass, Stress};
use std::sync::LazyLock;
use uom::si::angle::degree;
use uom::si::length::meter;
use uom::si::mass::kilogram;
use uom::si::pressure::pascal;

/// Standard acceleration of gravity, m/s².
const GRAVITY: f64 = 9.806_65;

/// Rows that sheets are made of: soft and hard, light and heavy, one steel.
pub(crate) const ROWS: [&str; 11] = [
    "1050A-H14",
    "3103-H14",
    "5052-H22",
    "5083-O",
    "5754-O",
    "6061-T4",
    "6082-T6",
    "2024-T3",
    "7075-T6",
    "S235",
    "304",
];

pub(crate) static LIBRARY: LazyLock<Library> = LazyLock::new(|| {
    let mut library = builtin().expect("the built-in tables are sound");
    library.metals.retain(|m| ROWS.contains(&m.name.as_str()));
    library
});

/// Random numbers by a counter and a mix of its bits (SplitMix64).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn normal(&mut self) -> f64 {
        normal_quantile(self.share().max(1e-12))
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + self.share() * (high - low)
    }
}

/// A sheet, in SI units.
#[derive(Debug)]
pub(crate) struct Sheet {
    pub(crate) row: Option<&'static Metal>,
    pub(crate) family: Family,
    pub(crate) strength: f64,
    pub(crate) modulus: f64,
    pub(crate) hardening: f64,
    pub(crate) density: f64,
    pub(crate) conductivity: f64,
    pub(crate) thickness: f64,
    /// How far the mechanics of strips, bends, dents and drops are off for it, as shares of its strength, and how well it folds: a share
    /// of all sheets of its row fold better.
    pub(crate) off: [f64; 4],
    pub(crate) folds: f64,
    /// The inside radius that is recommended for it, in thicknesses.
    pub(crate) radius: f64,
}

/// The same where no table has it.
fn any_radius(dice: &mut Dice) -> f64 {
    [0.5, 1.5, 3.0, 6.0][(4.0 * dice.share()) as usize]
}

/// How far mechanics may be off, as the method page says: of strips, bends, dents (of the hardness), drops.
const MODEL: [f64; 4] = [0.04, 0.07, 0.08, 0.09];

fn off(dice: &mut Dice) -> ([f64; 4], f64) {
    (MODEL.map(|off| (off * dice.normal()).exp()), dice.share())
}

pub(crate) const THICKNESS: f64 = 0.003;

/// A sheet as the desk takes them to come: by its own chances of rows before any test, and by the laws that the method page states.
pub(crate) fn sheet(dice: &mut Dice, before: &[(String, f64)]) -> Sheet {
    let mut at = dice.share();
    let row = before.iter().find_map(|(name, chance)| {
        at -= chance;
        (at < 0.0).then(|| LIBRARY.metals.iter().find(|m| m.name == *name).expect("a row"))
    });
    let band = row.map(|m| m.band(Length::new::<meter>(THICKNESS)).unwrap_or(&m.bands[0]));
    let Some((row, band)) = row.zip(band) else { return other(dice) };
    let modulus = row.modulus.value.get::<pascal>();
    let z = dice.normal();
    let held = band.yield_strength.as_ref().expect("rows with a minimum");
    let minimum = held.value.get::<pascal>();
    let strength = match held.basis {
        Basis::Typical => minimum * (0.10 * z).exp(),
        _ => minimum * (0.12 * (1.644_853_6 + z)).exp(),
    };
    let ultimate = band.ultimate.as_ref().expect("with a tensile strength").value.get::<pascal>();
    // Exponent of σ = K εⁿ through the proof stress and the tensile strength, found by trying.
    let proof = minimum / modulus + 0.002;
    let n = (1..60_000)
        .map(|k| f64::from(k) * 1e-5)
        .find(|n| {
            *n > std::f64::consts::E * proof
                && (n / (std::f64::consts::E * proof)).powf(*n) >= ultimate / minimum
        })
        .expect("it hardens");
    let (middle, off) = match (&row.conductivity, row.family) {
        (Some(held), _) => (held.value, 0.04),
        (None, Family::Aluminium) => (40.0, 0.25),
        (None, Family::Steel) => (10.0, 0.4),
        (None, _) => (2.5, 0.2),
    };
    let conductivity = middle * (off * dice.normal()).exp();
    let (off, folds) = self::off(dice);
    Sheet {
        off,
        folds,
        radius: band.bend_radius_90.as_ref().map_or_else(|| any_radius(dice), |r| r.value),
        row: Some(row),
        family: row.family,
        strength,
        modulus: modulus * (0.015 * dice.normal()).exp(),
        hardening: (n + 0.03 * dice.normal()).max(0.0),
        density: row.density.value.value * (0.004 * dice.normal()).exp(),
        conductivity,
        thickness: THICKNESS,
    }
}

/// None of the table's.
fn other(dice: &mut Dice) -> Sheet {
    let at = dice.share();
    let (family, strengths, modulus, density, conductivity) = if at < 0.7 {
        (Family::Aluminium, (20.0, 650.0), (70.5, 0.03), (2710.0, 0.02), (40.0, 0.25))
    } else if at < 0.85 {
        (Family::Steel, (140.0, 1500.0), (206.0, 0.03), (7850.0, 0.005), (10.0, 0.4))
    } else if at < 0.95 {
        (Family::Stainless, (170.0, 1500.0), (195.0, 0.03), (7900.0, 0.01), (2.5, 0.2))
    } else {
        (Family::Titanium, (170.0, 1200.0), (108.0, 0.05), (4470.0, 0.01), (2.0, 0.5))
    };
    let (weak, strong): (f64, f64) = strengths;
    let exponents = [0.03, 0.08, 0.14, 0.20, 0.27];
    let (off, folds) = off(dice);
    Sheet {
        off,
        folds,
        radius: any_radius(dice),
        row: None,
        family,
        strength: 1e6 * dice.between(weak.ln(), strong.ln()).exp(),
        modulus: 1e9 * modulus.0 * (modulus.1 * dice.normal()).exp(),
        hardening: exponents[(5.0 * dice.share()) as usize],
        density: density.0 * (density.1 * dice.normal()).exp(),
        conductivity: conductivity.0 * (conductivity.1 * dice.normal()).exp(),
        thickness: THICKNESS,
    }
}

fn measured(dice: &mut Dice, value: f64, deviation: f64) -> Measured<Length> {
    let read = value + deviation * dice.normal();
    Measured { read: Length::new::<meter>(read), deviation: Length::new::<meter>(deviation) }
}

/// Curvature of a perfectly plastic rectangle under a moment, by slices of its half.
fn curvature(moment: f64, width: f64, thickness: f64, strength: f64, modulus: f64) -> f64 {
    const SLICES: usize = 30;
    let of = |curvature: f64| -> f64 {
        let slice = 0.5 * thickness / SLICES as f64;
        (0..SLICES)
            .map(|i| {
                let z = (i as f64 + 0.5) * slice;
                2.0 * width * z * slice * (modulus * curvature * z).min(strength)
            })
            .sum()
    };
    let (mut low, mut high) = (0.0, 1000.0 * 2.0 * strength / (modulus * thickness));
    for _ in 0..24 {
        let middle = 0.5 * (low + high);
        if of(middle) < moment { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// What stays of the movement of a strip's end; `None` when it folds. The load hangs straight down, so that its lever gets shorter as the
/// strip swings: the lever is found that the strip, followed from its clamp, ends with, and what it keeps of its curvature is added up
/// along it. It folds where it would need more of a lever than it bears.
pub(crate) fn set_of(
    load: f64,
    width: f64,
    thickness: f64,
    length: f64,
    strength: f64,
    modulus: f64,
) -> Option<f64> {
    const PIECES: usize = 24;
    let piece = length / PIECES as f64;
    let first = strength * width * thickness * thickness / 6.0;
    let most = 0.9995 * 1.5 * first;
    let elastic = |moment: f64| 12.0 * moment / (modulus * width * thickness.powi(3));
    // How far out the strip ends that bears the load so far out, and what stays of its movement.
    let followed = |lever: f64| {
        let (mut x, mut slope, mut set) = (0.0, 0.0_f64, 0.0);
        for i in 0..PIECES {
            let at = (i as f64 + 0.5) * piece;
            let moment = load * (lever - x - 0.5 * piece * slope.cos()).max(0.0);
            let bent = if moment <= first {
                elastic(moment)
            } else {
                curvature(moment, width, thickness, strength, modulus)
            };
            set += (bent - elastic(moment)) * (length - at) * piece;
            slope += 0.5 * bent * piece;
            x += piece * slope.cos();
            slope += 0.5 * bent * piece;
        }
        (x, set)
    };
    let (mut short, mut long) = (0.0, length.min(most / load));
    if followed(long).0 > long + 1e-9 * length {
        return None;
    }
    for _ in 0..20 {
        let middle = 0.5 * (short + long);
        if followed(middle).0 > middle { short = middle } else { long = middle }
    }
    Some(followed(0.5 * (short + long)).1)
}

/// Share of a bend's curvature that is left: the moment of a hardening rectangle, let go elastically.
pub(crate) fn left_of(radius: f64, sheet: &Sheet) -> f64 {
    const SLICES: usize = 120;
    let (t, e) = (sheet.thickness, sheet.modulus);
    let middle = radius + 0.5 * t;
    let proof = sheet.strength / e + 0.002;
    let slice = 0.5 * t / SLICES as f64;
    let moment: f64 = (0..SLICES)
        .map(|i| {
            let z = (i as f64 + 0.5) * slice;
            let strain = z / middle;
            let flow = sheet.strength * (strain / proof).max(1.0).powf(sheet.hardening);
            2.0 * z * slice * (e * strain).min(flow)
        })
        .sum();
    (1.0 - middle * 12.0 * moment / (e * t.powi(3))).max(0.0)
}

/// Brinell number by Tabor's law.
fn hardness(sheet: &Sheet) -> f64 {
    let proof = sheet.strength / sheet.modulus + 0.002;
    let flow = sheet.strength * (0.08 / proof).max(1.0).powf(sheet.hardening);
    0.92 * 3.0 * flow / (1e6 * GRAVITY) * sheet.off[2]
}

/// A piece of a known row, as strong as it happens to be.
fn known_piece(name: &str, dice: &mut Dice) -> (Box<Metal>, f64) {
    let made = sheet(dice, &[(name.to_owned(), 1.0)]);
    (Box::new(made.row.expect("it is of that row").clone()), hardness(&made))
}

/// A test of a kind, made with usual instruments and with the mechanics as far off as the method page says they may be.
pub(crate) fn test(kind: &str, sheet: &Sheet, dice: &mut Dice) -> ShopTest {
    let t = measured(dice, sheet.thickness, 2e-5);
    match kind {
        "bend-strip" => {
            let (width, length) = (0.025, 0.150_f64);
            // Between nothing and all of what plane strain adds, as far as half a width out.
            let out = 0.5 * width / length;
            let wide = (out / (1.0 - out)).min(2.0 / 3.0_f64.sqrt() - 1.0)
                * (0.1 * width / sheet.thickness).min(1.0);
            let strength = sheet.strength * sheet.off[0] * (1.0 + wide * dice.share());
            let scale = 1.0 + 0.01 * dice.normal();
            // Weights go up by a sixth until the strip plainly stays bent, or folds.
            let mut steps = Vec::new();
            let mut load = 1.0;
            let little = |set: Option<Length>| set.is_some_and(|set| set.get::<meter>() < 0.006);
            while steps.last().is_none_or(|(_, set): &(Mass, Option<Length>)| little(*set)) {
                let scale = scale * (0.04 * dice.normal()).exp();
                let set = set_of(load * scale, width, sheet.thickness, length, strength, sheet.modulus);
                // A ruler, and a metal that yields gently.
                let gentle =
                    0.015 * 2.0 * strength * length * length / (3.0 * sheet.modulus * sheet.thickness);
                let first = strength * width * sheet.thickness * sheet.thickness / (6.0 * length);
                let near = (load * scale / first).min(1.0).powi(20);
                let off = 0.0005 * dice.normal() + near * gentle * dice.normal();
                let read = set.map(|set| Length::new::<meter>((set + off).max(0.0)));
                steps.push((Mass::new::<kilogram>(load / GRAVITY), read));
                load *= 7.0 / 6.0;
            }
            ShopTest::BendStrip {
                strip: Strip {
                    width: measured(dice, width, 1e-4),
                    thickness: t,
                    length: measured(dice, length, 5e-4),
                },
                steps,
                weight_deviation: 0.01,
                set_deviation: Length::new::<meter>(0.0005),
            }
        }
        "wrap" => {
            let radius = 0.012;
            let bent = 90.0 + 0.3 * dice.normal();
            let left = 90.0 * wrapped(radius, sheet) + 0.3 * dice.normal();
            let left = Measured { read: Angle::new::<degree>(left), deviation: Angle::new::<degree>(0.3) };
            let bent = Measured { read: Angle::new::<degree>(bent), deviation: Angle::new::<degree>(0.3) };
            let after = AfterWrap::Angle { bent, left };
            ShopTest::Wrap { thickness: t, radius: measured(dice, radius, 0.01 * radius), after }
        }
        "weigh" => {
            let (mass, off) = (0.100, 1e-4);
            let water = 998.0 * (1.0 + 0.0015 * dice.normal());
            let hung = mass * (1.0 - water / sheet.density);
            let mut scale = |kg: f64| Measured {
                read: Mass::new::<kilogram>(kg + off * dice.normal()),
                deviation: Mass::new::<kilogram>(off),
            };
            ShopTest::Weigh { mass: scale(mass), volume: Volume::InWater(scale(hung)) }
        }
        "flex" => {
            let (width, length, load) = (0.025, 0.150_f64, 20.0);
            let moves = 4.0 * load * length.powi(3) / (sheet.modulus * width * sheet.thickness.powi(3));
            ShopTest::Flex {
                strip: Strip {
                    width: measured(dice, width, 1e-4),
                    thickness: t,
                    length: measured(dice, length, 5e-4),
                },
                weight: Measured {
                    read: Mass::new::<kilogram>(load / GRAVITY * (1.0 + 0.01 * dice.normal())),
                    deviation: Mass::new::<kilogram>(0.01 * load / GRAVITY),
                },
                movement: measured(dice, moves, 2.5e-4),
            }
        }
        "dent" => {
            let hard = hardness(sheet);
            let read = hard * (0.05 * dice.normal()).exp();
            ShopTest::Dent(Hardness::Brinell(Measured { read, deviation: 0.05 * read }))
        }
        "beside" => {
            let (known, hard) = known_piece("6082-T6", dice);
            // A ball of 5 mm under such a load that the known piece's dent is about 2 mm wide.
            let mut dent = |hard: f64| measured(dice, 2e-3 * (100.0 / hard).sqrt(), 2.5e-5);
            let (known_dent, dent) = (dent(hard), dent(hardness(sheet)));
            ShopTest::Dent(Hardness::Beside { dent, known_dent, known })
        }
        "own-scale" => {
            let pieces = ["6082-T6", "5083-O"].map(|name| known_piece(name, dice));
            // Linear in the logarithm of the hardness, read to half a division.
            let mut read = |hard: f64| 4.0 + 8.0 * (hard / 50.0).ln() + 0.5 * dice.normal();
            let reading = Measured { read: read(hardness(sheet)), deviation: 0.5 };
            let known = pieces.map(|(known, hard)| (known, read(hard)));
            ShopTest::Dent(Hardness::OwnScale { reading, known })
        }
        "conductivity" => {
            let read = sheet.conductivity * (0.02 * dice.normal()).exp();
            ShopTest::Conductivity(Measured { read, deviation: 0.02 * read }, None)
        }
        "fold" => {
            let radius = sheet.thickness * dice.between(1.0, 5.0);
            let over: f64 = radius / (sheet.thickness * sheet.radius.max(0.25));
            let apart = 19_f64.ln() * (1.0 + over.log2())
                + 0.75_f64.sqrt() * (sheet.folds / (1.0 - sheet.folds)).ln();
            let chance = 1.0 / (1.0 + (apart / 0.5).exp());
            ShopTest::Fold {
                thickness: Length::new::<meter>(sheet.thickness),
                radius: Length::new::<meter>(radius),
                cracked: dice.share() < chance,
            }
        }
        "magnet" => {
            let chance = match sheet.family {
                Family::Steel => 0.98,
                Family::Stainless => 0.4,
                _ => 0.01,
            };
            ShopTest::Clue(Clue::Magnet, dice.share() < chance)
        }
        "spark" => {
            let chance = match sheet.family {
                Family::Steel | Family::Titanium => 0.97,
                Family::Stainless => 0.9,
                _ => 0.01,
            };
            ShopTest::Clue(Clue::Spark, dice.share() < chance)
        }
        "caustic" => {
            // Copper- and zinc-bearing aluminium, and some of what no table has.
            let alloyed = |name: &str| name.starts_with('2') || name.starts_with('7');
            let chance = match (sheet.family, sheet.row) {
                (Family::Aluminium, None) => 0.3,
                (Family::Aluminium, Some(row)) if alloyed(&row.name) => 0.9,
                _ => 0.05,
            };
            ShopTest::Clue(Clue::Caustic, dice.share() < chance)
        }
        "told" => {
            let own = sheet.row.map_or("none", |m| m.name.as_str());
            let names: Vec<&str> = ROWS.into_iter().chain(["none"; 4]).collect();
            // The right name, or any of fifteen.
            let name = if dice.share() < 0.7 { own } else { names[(15.0 * dice.share()) as usize] };
            let rows = if name == "none" { Vec::new() } else { vec![name.to_owned()] };
            ShopTest::Told(Named { name: name.to_owned(), rows }, 0.7)
        }
        "stamp" => {
            let own = sheet.row.map_or("none", |m| m.name.as_str());
            let names: Vec<&str> = ROWS.into_iter().chain(["none"; 4]).collect();
            let name = if dice.share() < 0.97 { own } else { names[(15.0 * dice.share()) as usize] };
            let rows = if name == "none" { Vec::new() } else { vec![name.to_owned()] };
            ShopTest::Stamp(Named { name: name.to_owned(), rows })
        }
        other => panic!("no test is called {other}"),
    }
}

/// Share of its curvature that a strip keeps once it was pressed round a rod, the metal being as far off the mechanics as it may be.
fn wrapped(radius: f64, sheet: &Sheet) -> f64 {
    let strength = sheet.strength * sheet.off[1];
    left_of(radius, &Sheet { strength, ..copy(sheet) })
}

/// Round discs: each is smaller or larger than the last by whether the strip sprang back straight.
pub(crate) fn discs(sheet: &Sheet, dice: &mut Dice) -> Vec<ShopTest> {
    let (mut small, mut large): (f64, f64) = (0.05, 5.0);
    (0..5)
        .map(|_| {
            let radius = (small * large).sqrt();
            let straight = wrapped(radius, sheet) + 0.015 * dice.normal() < 0.03;
            if straight {
                large = radius
            } else {
                small = radius
            }
            ShopTest::Wrap {
                thickness: measured(dice, sheet.thickness, 2e-5),
                radius: measured(dice, radius, 0.01 * radius),
                after: AfterWrap::Straight(straight),
            }
        })
        .collect()
}

fn copy(sheet: &Sheet) -> Sheet {
    Sheet { row: sheet.row, ..*sheet }
}

/// A sheet's tests as the file would have them.
pub(crate) fn bench(tests: Vec<ShopTest>, prior: BenchPrior) -> Bench {
    let named = |test| BenchTest { sheet: "bench".to_owned(), test };
    Bench { tests: tests.into_iter().map(named).collect(), prior }
}

pub(crate) fn pascals(stress: Stress) -> f64 {
    stress.get::<pascal>()
}
