//! The plate at its bolts, and bolts in wood.

use crate::common::{megapascals, mm};
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::checks::{
    BoltBearing, BoltInWood, flange_bearing_resistance, hole_factor_bending, hole_factor_tension,
    punching_resistance,
};
use gearleg::material::{
    bolt_yield_moment, plywood_embedment_of_bolts, plywood_embedment_of_nails, timber_across_grain,
    timber_embedment,
};
use gearleg::section::{NetSection, PlateSection};
use gearleg::units::{MassDensity, Moment};
use uom::si::energy::joule;
use uom::si::mass_density::kilogram_per_cubic_meter;

const TOPIC: &str = "Plate at its bolts, and wood";

pub(crate) fn records() -> Vec<Record> {
    let mut out = embedment();
    out.push(yield_moment());
    out.extend(johansen());
    out.extend(hole_factors());
    out.extend(net_sections());
    out.push(bearing());
    out.push(nut());
    out
}

fn density(value: f64) -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(value)
}

fn embedment() -> Vec<Record> {
    let birch = density(630.0);
    let mut nails = record(
        TOPIC,
        "embedment of birch plywood, 630 kg/m³, rule for nails and screws, 3 to 6 mm",
        ("EN 1995-1-1 eq. 8.20, read second-hand, worked with a calculator", Provenance::Published),
        (Tolerance::Within(2e-3), "printed to three digits"),
    );
    let mut bolts = record(
        TOPIC,
        "the same, rule for bolts",
        ("EN 1995-1-1 eq. 8.36, worked with a calculator", Provenance::FromMemory),
        (Tolerance::Within(1e-3), "printed to three digits"),
    );
    for (d, nail, bolt) in [(3.0, 49.8, 67.2), (4.0, 45.7, 66.5), (5.0, 42.8, 65.8), (6.0, 40.5, 65.1)] {
        let name = format!("{d} mm");
        nails.point(name.clone(), plywood_embedment_of_nails(birch, mm(d)).value / 1e6, nail);
        bolts.point(name, plywood_embedment_of_bolts(birch, mm(d)).value / 1e6, bolt);
    }
    let mut timber = record(
        TOPIC,
        "embedment of solid wood of 350 kg/m³, 5 mm: along the grain, and how many times less square to it",
        ("EN 1995-1-1 eq. 8.32 and 8.33, worked by hand", Provenance::FromMemory),
        (Tolerance::Within(1e-9), "the same formula"),
    );
    // 0.082 × 0.95 × 350 = 27.265 MPa; 1.35 + 0.075.
    timber.point("along", timber_embedment(density(350.0), mm(5.0)).value / 1e6, 27.265);
    timber.point("k90", timber_across_grain(mm(5.0)), 1.425);
    vec![nails, bolts, timber]
}

fn yield_moment() -> Record {
    let mut out = record(
        TOPIC,
        "yield moment of bolts in wood: M5 and M6 of 800 MPa, M4 of 400 MPa, M5 of 60 MPa",
        ("EN 1995-1-1 eq. 8.14 and 8.30, worked with a calculator", Provenance::FromMemory),
        (Tolerance::Within(1e-6), "worked to eight digits"),
    );
    // 5^2.6 = 65.663195, 6^2.6 = 105.48562, 4^2.6 = 36.758347.
    for (strength, d, expected) in
        [(800.0, 5.0, 15_759.167), (800.0, 6.0, 25_316.548), (400.0, 4.0, 4411.0017), (60.0, 5.0, 1181.9375)]
    {
        let moment = bolt_yield_moment(megapascals(strength), mm(d)).value * 1e3;
        out.point(format!("{d} mm, {strength} MPa"), moment, expected);
    }
    out
}

fn johansen() -> Vec<Record> {
    let joint = |f: f64, wood: f64, d: f64, moment: f64, plate: f64| BoltInWood {
        bolt: mm(d),
        plate: mm(plate),
        hole: mm(d),
        wood: mm(wood),
        embedment: megapascals(f),
        yield_moment: Moment::new::<joule>(moment * 1e-3),
    };
    let mut modes = record(
        TOPIC,
        "bolt through a metal plate into wood, five ways to give: M5 in 6 mm, M6 in 24 mm, a soft M4 in 50 mm",
        ("EN 1995-1-1 eq. 8.9 and 8.10, worked with a calculator", Provenance::FromMemory),
        (Tolerance::Within(1e-5), "worked to six digits"),
    );
    let cases = [
        (joint(42.8, 6.0, 5.0, 15_759.0, 2.0), [513.600, 2986.65, 2813.20, 4223.76, 1284.00]),
        (joint(40.5, 24.0, 6.0, 25_322.0, 2.0), [2332.80, 4034.27, 3792.83, 5705.32, 5832.00]),
        (joint(45.0, 50.0, 4.0, 4411.0, 2.0), [3600.00, 1449.16, 3852.08, 2049.43, 9000.00]),
    ];
    for (i, (joint, expected)) in cases.iter().enumerate() {
        let [a, b] = joint.under_thin_plate();
        let [c, d, e] = joint.under_thick_plate();
        for (way, (actual, expected)) in
            ["a", "b", "c", "d", "e"].iter().zip([a, b, c, d, e].iter().zip(expected))
        {
            modes.point(format!("{way} of {}", i + 1), actual.value, *expected);
        }
    }
    let mut limits = record(
        TOPIC,
        "a bolt of no strength at a thick plate: (√2 − 1) f t d with a hinge at the plate, nothing with two",
        (
            "equilibrium of a pin that is hinged at the plate and pushes the wood both ways",
            Provenance::ClosedForm,
        ),
        (Tolerance::Within(1e-6), "a pin of very little moment is not quite limp"),
    );
    let limp = joint(40.0, 20.0, 5.0, 1e-9, 5.0);
    // The wood pushes one way near the plate and the other way beyond x; no moment about the plate: x = t/√2, force (2x − t) f d.
    limits.point(
        "hinge of no strength at the plate",
        limp.under_thick_plate()[0].value,
        (2_f64.sqrt() - 1.0) * 4000.0,
    );
    limits.scaled("two hinges of no strength", limp.under_thick_plate()[1].value, 0.0, 4000.0);
    let mut between = record(
        TOPIC,
        "plate between thin and thick: half of each at three quarters of the bolt's diameter; play of a tenth makes it thin",
        ("EN 1995-1-1 8.2.3(1), worked by hand", Provenance::FromMemory),
        (Tolerance::Within(1e-9), "the same formula"),
    );
    let at = |plate: f64, hole: f64| {
        let mut j = joint(42.8, 6.0, 5.0, 15_759.0, plate);
        j.hole = mm(hole);
        j.resistance().value
    };
    // Thin 513.6 N, thick 1284 N.
    for (what, actual, expected) in [
        ("1 mm", at(1.0, 5.0), 513.6),
        ("2.5 mm", at(2.5, 5.0), 513.6),
        ("3.75 mm", at(3.75, 5.0), 898.8),
        ("5 mm", at(5.0, 5.0), 1284.0),
        ("8 mm", at(8.0, 5.0), 1284.0),
        ("8 mm, hole 5.6 mm", at(8.0, 5.6), 513.6),
    ] {
        between.point(what, actual, expected);
    }
    vec![modes, limits, between]
}

fn hole_factors() -> Vec<Record> {
    let mut tension = record(
        TOPIC,
        "hole in a strip, pulled, d/D 0.1 to 0.5",
        ("fit of Roark and Peterson", Provenance::FromMemory),
        (Tolerance::Within(2.5e-4), "printed to four digits"),
    );
    let mut heywood = record(
        TOPIC,
        "the same",
        ("Heywood, 2 + (1 − d/D)³", Provenance::FromMemory),
        (Tolerance::Within(0.022), "another fit to the same tests"),
    );
    for (r, expected) in [(0.1, 2.722), (0.2, 2.508), (0.3, 2.349), (0.5, 2.159)] {
        tension.point(format!("{r}"), hole_factor_tension(r), expected);
        heywood.point(format!("{r}"), hole_factor_tension(r), 2.0 + (1.0 - r).powi(3));
    }
    let mut infinite = record(
        TOPIC,
        "small hole: pulled plate of any thickness, thin plate bent, ν = 0.3",
        ("Kirsch, 3; Reissner and Goodier, (5 + 3ν)/(3 + ν)", Provenance::ClosedForm),
        (Tolerance::Within(2e-3), "the fit's own constant for a thin plate"),
    );
    infinite.point("pulled", hole_factor_tension(0.0), 3.0);
    infinite.point("bent", hole_factor_bending(1e9, 0.0), 5.9 / 3.3);
    let mut bending = record(
        TOPIC,
        "small hole in a plate bent through its thickness, d/t 0, 0.5, 1, 2",
        ("fit of Roark and Peterson", Provenance::FromMemory),
        (Tolerance::Within(2.5e-3), "printed to three digits"),
    );
    for (q, expected) in [(0.0, 2.98), (0.5, 2.49), (1.0, 2.24), (2.0, 2.03)] {
        bending.point(format!("{q}"), hole_factor_bending(q, 0.0), expected);
    }
    vec![tension, heywood, infinite, bending]
}

fn net_sections() -> Vec<Record> {
    let mut bar = record(
        TOPIC,
        "bar of 200 × 15 mm with two holes of 16 mm at ±60 mm: second moment, and stress under 16 kN at 350 mm",
        ("Shigley, example 8-7, whose bar has 8.26·10⁶ mm⁴ and 67.8 MPa", Provenance::FromMemory),
        (Tolerance::Within(5e-4), "printed to three digits"),
    );
    let net = NetSection::new(mm(200.0), mm(15.0), mm(16.0), &[mm(-60.0), mm(60.0)]).expect("much is left");
    bar.point("I", net.second_moment_edge.value * 1e12, 8.262e6);
    bar.point(
        "stress",
        (Moment::new::<joule>(16.0 * 350.0) * net.reach / net.second_moment_edge).value / 1e6,
        67.8,
    );
    let mut strips = record(
        TOPIC,
        "strips that holes leave: one hole off the middle, holes that overlap, holes over the edge, none",
        ("first and second moments by hand", Provenance::ClosedForm),
        (Tolerance::Within(1e-9), "the same integrals"),
    );
    // 60 × 4 with a hole of 6 at +15: A = 216, x̄ = −6 × 15/54 = −5/3, I = 4 (18 000 − 18 − 1350) − 216 × 25/9 = 65 928 mm⁴,
    // c = 30 + 5/3.
    let one = NetSection::new(mm(60.0), mm(4.0), mm(6.0), &[mm(15.0)]).expect("much is left");
    for (what, actual, expected) in [
        ("area", one.area.value * 1e6, 216.0),
        ("flat modulus", one.modulus_flat.value * 1e9, 144.0),
        ("middle", one.centre.value * 1e3, -5.0 / 3.0),
        ("second moment", one.second_moment_edge.value * 1e12, 65_928.0),
        ("far edge", one.reach.value * 1e3, 30.0 + 5.0 / 3.0),
    ] {
        strips.point(what, actual, expected);
    }
    // Holes of 6 at 0 and 4 take 10 together; one at 30 takes 3 of the edge, and one at 40 nothing.
    let holes = [mm(0.0), mm(4.0), mm(30.0), mm(40.0)];
    let overlapping = NetSection::new(mm(60.0), mm(4.0), mm(6.0), &holes).expect("much is left");
    strips.point("overlapping", overlapping.area.value * 1e6, 47.0 * 4.0);
    let whole = PlateSection { width: mm(60.0), thickness: mm(4.0) };
    let plain = NetSection::new(mm(60.0), mm(4.0), mm(6.0), &[]).expect("all is left");
    strips.point("no hole, flat", f64::from(plain.modulus_flat / whole.modulus_flat()), 1.0);
    strips.point("no hole, edge", f64::from(plain.second_moment_edge / whole.second_moment_edge()), 1.0);
    vec![bar, strips]
}

fn bearing() -> Record {
    let mut out = record(
        TOPIC,
        "bolt on the side of its hole: near an end, an edge, the next hole, a hole beside; a soft bolt",
        ("EN 1993-1-8 table 3.4, worked by hand without γ_M2", Provenance::FromMemory),
        (Tolerance::Within(1e-9), "the same formula"),
    );
    let free = BoltBearing {
        bolt: mm(5.0),
        hole: mm(5.0),
        thickness: mm(4.0),
        end: None,
        edge: None,
        ahead: None,
        beside: None,
        plate_ultimate: megapascals(300.0),
        bolt_ultimate: megapascals(800.0),
    };
    // f_u d t = 6000 N.
    for (what, joint, expected) in [
        ("far from everything: 2.5", free, 15_000.0),
        ("end 7.5 mm: 7.5/15 = 0.5", BoltBearing { end: Some(mm(7.5)), ..free }, 7500.0),
        ("edge 6 mm: 2.8 × 1.2 − 1.7 = 1.66", BoltBearing { edge: Some(mm(6.0)), ..free }, 9960.0),
        ("next hole 12 mm: 0.8 − 0.25 = 0.55", BoltBearing { ahead: Some(mm(12.0)), ..free }, 8250.0),
        ("hole beside 12.5 mm: 3.5 − 1.7 = 1.8", BoltBearing { beside: Some(mm(12.5)), ..free }, 10_800.0),
        ("bolt of 60 MPa: 0.2", BoltBearing { bolt_ultimate: megapascals(60.0), ..free }, 3000.0),
        (
            "end 7.5 and edge 6 mm in holes of 6: 7.5/18 × 1.1",
            BoltBearing { hole: mm(6.0), end: Some(mm(7.5)), edge: Some(mm(6.0)), ..free },
            6000.0 * 1.1 * 7.5 / 18.0,
        ),
    ] {
        out.point(what, joint.resistance().value, expected);
    }
    out
}

fn nut() -> Record {
    let mut out = record(
        TOPIC,
        "captive nut of 12 mm for M5 in 6 mm of birch plywood: sinking in at 3 × 8 MPa, punching at 9.5 MPa",
        ("3 f π (D² − d²)/4 and π D t f, worked by hand", Provenance::ClosedForm),
        (Tolerance::Within(1e-5), "worked to six digits"),
    );
    // π/4 × 119 = 93.4624 mm²; π × 72 = 226.195 mm².
    out.point("sinks in", flange_bearing_resistance(mm(12.0), mm(5.0), megapascals(8.0)).value, 2243.10);
    out.point("punches", punching_resistance(mm(12.0), mm(6.0), megapascals(9.5)).value, 2148.85);
    out
}
