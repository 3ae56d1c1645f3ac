//! Shop tests of an unknown sheet: their mechanics against print, and the desk against strips that the kernel bends.

use crate::chain::{Rod, cantilever, moved, push};
use crate::large_bending::elastica_rows;
use crate::record::{Provenance, Record, Tolerance, record};
use crate::worked::library;
use gearleg::desk::{
    brinell, conductivity_of_strip, curvature_left, flow_stress_of_bend, hardening_exponent, iacs, one_sheet,
    proof_strain,
};
use gearleg::kernel::{Law, Statics};
use gearleg::material::{Basis, Family};
use gearleg::model::{BenchPrior, Measured, ShopTest, Strip};
use gearleg::section::{Cantilever, movement_beyond_yield};
use gearleg::units::{ElectricCurrent, ElectricPotential, Force, Length, Mass, Stress};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::force::newton;
use uom::si::length::{meter, millimeter};
use uom::si::mass::kilogram;
use uom::si::pressure::{gigapascal, megapascal, pascal};

const TOPIC: &str = "Unknown metal";

fn mpa(value: f64) -> Stress {
    Stress::new::<megapascal>(value)
}

fn gpa(value: f64) -> Stress {
    Stress::new::<gigapascal>(value)
}

fn mm(value: f64) -> Length {
    Length::new::<millimeter>(value)
}

pub(crate) fn records() -> Vec<Record> {
    vec![
        springback(),
        springback_back(),
        levers(),
        limber_movements(),
        moduli(),
        movements(),
        discs(),
        rods(),
        hardness(),
        currents(),
        strips(false),
        strips(true),
        limber_strips(),
        flexed_alike(),
    ]
}

/// Yield strength in MPa, radius and thickness in mm, modulus in GPa, and the share of the curvature that is left, by 4q³ − 3q + 1.
const BENDS: [(f64, f64, f64, f64, f64); 3] =
    [(260.0, 10.0, 4.0, 70.0, 0.97215), (125.0, 6.0, 4.0, 72.0, 0.99219), (435.0, 20.0, 3.0, 72.0, 0.87943)];

fn springback() -> Record {
    let mut out = record(
        TOPIC,
        "share of a bend's curvature that is left, three metals",
        ("4q³ − 3q + 1, worked to 25 digits", Provenance::ClosedForm),
        (Tolerance::Within(1e-5), "five digits are given"),
    );
    for (strength, radius, thickness, modulus, left) in BENDS {
        let found = curvature_left(mpa(strength), gpa(modulus), mm(radius), mm(thickness));
        out.point(format!("{strength} MPa, R {radius}, t {thickness}"), found, left);
    }
    out
}

fn springback_back() -> Record {
    let mut out = record(
        TOPIC,
        "flow stress from the curvature left (MPa)",
        ("the same, the other way round", Provenance::ClosedForm),
        (Tolerance::Within(1e-3), "five digits of what is left make three of what sprang back"),
    );
    for (strength, radius, thickness, modulus, left) in BENDS {
        let found = flow_stress_of_bend(left, gpa(modulus), mm(radius), mm(thickness)).expect("a share");
        out.point(format!("R {radius}, t {thickness}"), found.get::<megapascal>(), strength);
    }
    out
}

fn movements() -> Record {
    let mut out = record(
        TOPIC,
        "movement of a perfectly plastic cantilever's end over that at first yield",
        ("Prandtl: p⁻² (5 − (3 + p) √(3 − 2p)), worked with seven digits", Provenance::ClosedForm),
        (Tolerance::Within(1e-6), "seven digits are given"),
    );
    for (p, moved) in
        [(1.1, 1.101_528), (1.2, 1.212_982), (1.3, 1.349_373), (1.4, 1.547_072), (1.45, 1.708_816)]
    {
        out.point(format!("p = {p}"), movement_beyond_yield(p).expect("it holds"), moved);
    }
    let top = movement_beyond_yield(1.5).expect("it just holds");
    out.point("p = 1.5", top, 20.0 / 9.0);
    out
}

/// A strip of 70 GPa, and the load that has such an α = P L² / E I on it.
fn bent_by(alpha: f64) -> (Cantilever, Force) {
    let beam = Cantilever { width: mm(25.0), thickness: mm(3.0), length: mm(150.0) };
    let inertia = 0.025 * 0.003_f64.powi(3) / 12.0;
    (beam, Force::new::<newton>(alpha * 70e9 * inertia / (0.150 * 0.150)))
}

/// Lever of a load that hangs from a strip, by α = P L² / E I.
fn levers() -> Record {
    let mut out = record(
        TOPIC,
        "lever that is left to a weight on a limber strip, over its length",
        ("elliptic integrals, oracle/closed_forms.py; α = 100: √(2/α)", Provenance::ClosedForm),
        (Tolerance::Within(0.009), "a fit between the closed forms for small and for large movements"),
    );
    let far = (100.0, 1.0 - 0.02_f64.sqrt());
    for (alpha, nearer) in elastica_rows().into_iter().map(|(alpha, end)| (alpha, end[1])).chain([far]) {
        let (beam, load) = bent_by(alpha);
        out.point(format!("α = {alpha}"), beam.lever(load, gpa(70.0)), 1.0 - nearer);
    }
    out
}

/// How far a limber strip's end goes down, by the same.
fn limber_movements() -> Record {
    let mut out = record(
        TOPIC,
        "movement of a limber strip's end under a weight, over its length",
        ("elliptic integrals, oracle/closed_forms.py", Provenance::ClosedForm),
        (Tolerance::Within(0.02), "a fit that goes by the lever"),
    );
    for (alpha, [down, ..]) in elastica_rows() {
        let (beam, load) = bent_by(alpha);
        out.point(format!("α = {alpha}"), f64::from(beam.movement(load, gpa(70.0)) / beam.length), down);
    }
    out
}

/// The modulus that the movement of a strip's end tells, as far as its end goes down by 0.4 of its length.
fn moduli() -> Record {
    let mut out = record(
        TOPIC,
        "modulus of a strip by how far a weight takes its end down, to 0.4 of its length (GPa)",
        (
            "the modulus that the elliptic integrals were taken with, oracle/closed_forms.py",
            Provenance::ClosedForm,
        ),
        (Tolerance::Within(0.02), "what the desk takes the mechanics to be off by"),
    );
    for (alpha, [down, ..]) in elastica_rows().into_iter().filter(|(_, [down, ..])| *down <= 0.4) {
        let (beam, load) = bent_by(alpha);
        let found = beam.modulus_by_movement(load, beam.length * down).expect("it does not hang down");
        out.point(format!("down by {down:.3}"), found.get::<gigapascal>(), 70.0);
    }
    out
}

/// Radius of the smallest disc round which a strip still springs back straight.
fn discs() -> Record {
    let mut out = record(
        TOPIC,
        "yield strength that springs back straight from a disc: 3 mm at 1.0, 0.40 and 0.22 m (MPa)",
        ("E t / 2R, to whole MPa", Provenance::ClosedForm),
        (Tolerance::Within(5e-3), "printed to three digits"),
    );
    for (radius, strength) in [(1.0, 105.0), (0.40, 262.0), (0.22, 477.0)] {
        let found =
            flow_stress_of_bend(0.0, gpa(70.0), Length::new::<meter>(radius), mm(3.0)).expect("a share");
        out.point(format!("{radius} m"), found.get::<megapascal>(), strength);
    }
    out
}

fn rods() -> Record {
    let mut out = record(
        TOPIC,
        "degrees that 90° springs back from a rod of 10 mm, 3 mm sheet of 120 to 480 MPa",
        ("what builders find", Provenance::CommonPractice),
        (Tolerance::Within(0.04), "told to a tenth of a degree"),
    );
    for (strength, degrees) in [(120.0, 1.5), (193.0, 2.5), (260.0, 3.3), (335.0, 4.3), (480.0, 6.2)] {
        let left = curvature_left(mpa(strength), gpa(70.0), mm(10.0), mm(3.0));
        out.point(format!("{strength} MPa"), 90.0 * (1.0 - left), degrees);
    }
    out
}

/// Every row of aluminium with a yield strength, a tensile strength and a hardness: at 3 mm, or as it comes.
fn hardness() -> Record {
    let mut out = record(
        TOPIC,
        "Brinell number from yield and tensile strength by Tabor's law and Considère's hardening, every aluminium row that was read",
        ("EN 485-2's own Brinell numbers, informative", Provenance::Published),
        (Tolerance::Within(0.16), "two standard deviations of what the desk takes the law to be off by"),
    );
    for metal in library().metals.iter().filter(|m| m.family == Family::Aluminium) {
        let Some(band) = metal.band(mm(3.0)).or_else(|| metal.bands.first()) else { continue };
        let (Some(proof), Some(tensile), Some(hard)) = (&band.yield_strength, &band.ultimate, &band.hardness)
        else {
            continue;
        };
        if hard.basis == Basis::FromMemory {
            continue;
        }
        let modulus = metal.modulus.value;
        let ratio = f64::from(tensile.value / proof.value);
        let n = hardening_exponent(ratio, proof_strain(proof.value, modulus));
        out.point(metal.name.clone(), brinell(proof.value, modulus, n), hard.value);
    }
    out
}

/// 4 A along 200 mm of a strip of 25 × 1 mm, by the resistivity of what it is of.
fn currents() -> Record {
    let mut out = record(
        TOPIC,
        "conductivity of a strip by current and voltage: annealed copper, 6061-T6, 7075-T6 (% IACS)",
        (
            "handbook conductivities beside handbook resistivities, nΩ m, each with two or three digits",
            Provenance::FromMemory,
        ),
        (Tolerance::Within(0.015), "resistivities are given to two or three digits"),
    );
    for (metal, resistivity, percent) in
        [("copper", 17.241, 100.0), ("6061-T6", 40.0, 43.0), ("7075-T6", 52.0, 33.0)]
    {
        let voltage = 4.0 * resistivity * 1e-9 * 0.200 / (0.025 * 0.001);
        let (current, voltage) =
            (ElectricCurrent::new::<ampere>(4.0), ElectricPotential::new::<volt>(voltage));
        let found = iacs(conductivity_of_strip(current, voltage, mm(200.0), mm(25.0) * mm(1.0)));
        out.point(metal, found, percent);
    }
    out
}

/// Width of strips that the kernel bends, m: narrow ones, for its beams know nothing of a clamp that keeps a wide one from curling across.
const NARROW: f64 = 0.005;

/// A strip of such a thickness and length in metres, bent by the kernel: what stays after each load.
fn bent(law: Law, modulus: f64, (thick, long): (f64, f64), loads: &[f64]) -> Vec<f64> {
    let (frame, end) =
        cantilever(&Rod::rectangle(modulus, NARROW, thick).yields(law, NARROW, thick), long, 40);
    let statics = Statics::new(frame).expect("a sound frame");
    let load = push(end, [0.0, 0.0, 1.0, 0.0, 0.0, 0.0]);
    let mut now = statics.at_rest();
    loads
        .iter()
        .map(|newtons| {
            statics.hold(&mut now, &load, *newtons).expect("it holds");
            statics.hold(&mut now, &load, 0.0).expect("it is let go");
            moved(&statics, &now, &load, end)[2]
        })
        .collect()
}

fn exactly(value: Length) -> Measured<Length> {
    Measured { read: value, deviation: value * 1e-4 }
}

/// The median of what the desk makes of that strip, any strength being as likely as another.
fn found(loads: &[f64], sets: &[f64], ruler: Length) -> f64 {
    let steps = loads.iter().zip(sets).map(|(load, set)| {
        (Mass::new::<kilogram>(load / gearleg::units::STANDARD_GRAVITY), Some(Length::new::<meter>(*set)))
    });
    let test = ShopTest::BendStrip {
        strip: Strip {
            width: exactly(mm(1e3 * NARROW)),
            thickness: exactly(mm(3.0)),
            length: exactly(mm(150.0)),
        },
        steps: steps.collect(),
        weight_deviation: 1e-4,
        set_deviation: ruler,
    };
    let prior = BenchPrior { none_of_these: 1.0, ..BenchPrior::default() };
    one_sheet("strip", &[&test], library(), Some(mm(3.0)), &prior).yield_strength.p50.get::<pascal>()
}

fn strips(gently: bool) -> Record {
    let (what, allowed, why) = if gently {
        (
            "the same from a metal that yields gently: Ramberg and Osgood's line of exponent 25",
            0.10,
            "two standard deviations of what the desk takes its mechanics to be off by",
        )
    } else {
        (
            "yield strength found from a strip that the large-displacement kernel bends and lets go (MPa)",
            0.05,
            "one standard deviation of what the desk takes its mechanics to be off by",
        )
    };
    let mut out = record(
        TOPIC,
        what,
        ("the strength the strip was made with", Provenance::ClosedForm),
        (Tolerance::Within(allowed), why),
    );
    let young = 70e9;
    for strength in [90e6, 200e6, 290e6, 480e6] {
        let first = strength * NARROW * 0.003 * 0.003 / (6.0 * 0.150);
        let loads: Vec<f64> = [0.8, 1.0, 1.1, 1.2, 1.3, 1.4, 1.45].iter().map(|p| p * first).collect();
        // A dial for the one; a ruler, as builders have it, for what is gentle anyhow.
        let ruler = mm(if gently { 0.5 } else { 0.05 });
        let law = if gently {
            Law::ramberg_osgood(young, strength, 25.0)
        } else {
            Law::bilinear(young, strength, 0.0)
        };
        let sets = bent(law, young, (0.003, 0.150), &loads);
        out.point(format!("{} MPa", strength / 1e6), found(&loads, &sets, ruler) / 1e6, strength / 1e6);
    }
    out
}

/// Strips so thin and long that they hang down: thickness and length in mm, yield strength in MPa, and weights over that of first yield.
const LIMBER: [(f64, f64, f64, &[f64]); 4] = [
    (1.0, 200.0, 260.0, &[1.4, 1.6, 1.8]),
    (1.0, 250.0, 345.0, &[1.9, 2.1, 2.3]),
    (0.8, 200.0, 260.0, &[1.5, 1.7, 1.9]),
    (0.5, 150.0, 350.0, &[2.2, 2.4, 2.8]),
];

fn limber_strips() -> Record {
    let mut out = record(
        TOPIC,
        "what stays of strips whose linear movement is half to twice their length, where it can be read: from half a millimetre on (mm)",
        (
            "moment–curvature line of a perfectly plastic rectangle, by the large-displacement kernel",
            Provenance::ClosedForm,
        ),
        (Tolerance::Within(0.20), "a fit"),
    );
    let young = 70e9;
    for (thick, long, strength, times) in LIMBER {
        let beam = Cantilever { width: mm(1e3 * NARROW), thickness: mm(thick), length: mm(long) };
        let law = Law::bilinear(young, strength * 1e6, 0.0);
        let first = beam.first_yield(mpa(strength)).get::<newton>();
        let loads: Vec<f64> = times.iter().map(|p| p * first).collect();
        for (load, set) in loads.iter().zip(bent(law, young, (thick * 1e-3, long * 1e-3), &loads)) {
            let own = beam.set(Force::new::<newton>(*load), mpa(strength), gpa(70.0)).expect("it holds");
            let at = format!("{thick} × {long} mm, {strength} MPa, {:.1} P_y", load / first);
            out.point(at, own.get::<millimeter>(), 1e3 * set);
        }
    }
    out
}

/// What builders are surprised by: hard sheet flexes as much as soft.
fn flexed_alike() -> Record {
    let mut out = record(
        TOPIC,
        "a strip of 80 MPa and one of 260 MPa under half of what the soft one bears, and under its double: movement, set",
        (
            "alike while neither yields; the soft one folds where the hard one springs back",
            Provenance::CommonPractice,
        ),
        (Tolerance::Exactly, "both are one formula"),
    );
    let beam = Cantilever { width: mm(25.0), thickness: mm(3.0), length: mm(150.0) };
    let half = beam.first_yield(mpa(80.0)) * 0.5;
    let moves = beam.elastic_movement(half, gpa(70.0)).get::<meter>();
    let by_hand = half.get::<newton>() * 0.150_f64.powi(3) * 12.0 / (3.0 * 70e9 * 0.025 * 0.003_f64.powi(3));
    assert!((moves / by_hand - 1.0).abs() < 1e-12, "{moves} against {by_hand}");
    for strength in [80.0, 260.0] {
        let set = beam.set(half, mpa(strength), gpa(70.0)).expect("it holds");
        out.scaled(format!("{strength} MPa, half: set"), set.get::<meter>(), 0.0, moves);
    }
    let double: Force = half * 4.0;
    let folds = |strength: f64| f64::from(u8::from(beam.set(double, mpa(strength), gpa(70.0)).is_none()));
    out.scaled("80 MPa, double: folds", folds(80.0), 1.0, 1.0);
    out.scaled("260 MPa, double: folds", folds(260.0), 0.0, 1.0);
    out
}
