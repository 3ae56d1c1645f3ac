//! Strengths of bolts and threads, preload and opening of a joint, pull and shear together.

use crate::mounted::{
    bolt, case, library, margins, millimetres, mount, newton_metres, of, preloaded, project, state, term,
    torqued,
};
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::checks::{pull_and_shear_en1993, pull_and_shear_nasa5020};
use gearleg::material::Library;
use gearleg::model::{Mount, Preload};
use gearleg::results::{Margin, MountState};
use gearleg::units::Stress;
use std::f64::consts::FRAC_PI_2;
use uom::si::pressure::megapascal;

const TOPIC: &str = "Bolts";

/// Threads with their printed areas, mm², and least loads of classes 4.8, 8.8, 10.9, 12.9, N: ultimate, then proof.
const PRINTED: [(&str, f64, [f64; 4], [f64; 4]); 6] = [
    ("M3", 5.03, [2110.0, 4020.0, 5230.0, 6140.0], [1560.0, 2920.0, 4180.0, 4880.0]),
    ("M4", 8.78, [3690.0, 7020.0, 9130.0, 10700.0], [2720.0, 5100.0, 7290.0, 8520.0]),
    ("M5", 14.2, [5960.0, 11350.0, 14800.0, 17300.0], [4400.0, 8230.0, 11800.0, 13800.0]),
    ("M6", 20.1, [8440.0, 16100.0, 20900.0, 24500.0], [6230.0, 11600.0, 16700.0, 19500.0]),
    ("M8", 36.6, [15400.0, 29200.0, 38100.0, 44600.0], [11400.0, 21200.0, 30400.0, 35500.0]),
    ("M10", 58.0, [24400.0, 46400.0, 60300.0, 70800.0], [18000.0, 33700.0, 48100.0, 56300.0]),
];

/// The margins of a mount at one state.
fn found(mount: Mount, at: MountState) -> Vec<Margin> {
    margins(&project(Some(mount)), &case(at.clone(), at))
}

/// The allowable of a check on a bolt that is pulled and cut, N.
fn held(mount: Mount, check: &str, part: &str) -> f64 {
    let margins = found(mount, state(vec![bolt(1000.0, [300.0, 400.0])]));
    of(&margins, check, part).allowable.expect("it is known").si()
}

pub(crate) fn records() -> Vec<Record> {
    let library = library();
    let mut out = printed(library);
    out.extend([nylon(library), shear(library), stripping(library)]);
    out.extend(preload(library));
    out.extend([opening(library), turning(library)]);
    out.extend(together());
    out
}

fn printed(library: &Library) -> Vec<Record> {
    let source = ("ISO 898-1, tables of loads, as read on a maker's page", Provenance::Published);
    let mut areas = record(
        TOPIC,
        "stress areas of M3 to M10",
        source,
        (Tolerance::Within(1.3e-3), "printed to three digits: 0.02 in 14.2"),
    );
    let mut loads = record(
        TOPIC,
        "smallest breaking and proof loads, M3 to M10, classes 4.8, 8.8, 10.9, 12.9: allowables of `bolt-tension` and `bolt-yield`",
        source,
        (
            Tolerance::Within(7e-3),
            "areas printed to three digits, loads, mostly rounded down, to three or four",
        ),
    );
    for (name, area, ultimate, proof) in PRINTED {
        let thread = library.thread(name).expect("a thread of the tables");
        areas.point(name, thread.stress_area().value * 1e6, area);
        for ((class, ultimate), proof) in ["4.8", "8.8", "10.9", "12.9"].into_iter().zip(ultimate).zip(proof)
        {
            for (check, load) in [("bolt-tension", ultimate), ("bolt-yield", proof)] {
                let actual = held(mount(library, name, class), check, "bolt 2");
                loads.point(format!("{name} {class}, {check}"), actual, load);
            }
        }
    }
    vec![areas, loads]
}

fn nylon(library: &Library) -> Record {
    let mut out = record(
        TOPIC,
        "breaking loads of plastic bolts of 60 MPa: M4 527 N, M5 851 N, M6 1207 N",
        ("A_s × 60 MPa, worked out apart", Provenance::ClosedForm),
        (Tolerance::Within(1e-3), "whole newtons: half a newton in 527"),
    );
    for (name, load) in [("M4", 527.0), ("M5", 851.0), ("M6", 1207.0)] {
        let mut mount = mount(library, name, "nylon");
        mount.bolt_class.ultimate.value = Stress::new::<megapascal>(60.0);
        out.point(name, held(mount, "bolt-tension", "bolt 2"), load);
    }
    out
}

fn shear(library: &Library) -> Record {
    let mut out = record(
        TOPIC,
        "shear strength with the thread cut, without γ_M2: allowable of `bolt-shear`",
        ("EN 1993-1-8 table 3.4 as read in a transcription, by pocket calculator", Provenance::Published),
        (Tolerance::Within(1e-4), "areas to three decimals of a square millimetre"),
    );
    // 0.6 for 4.6, 5.6 and 8.8; 0.5 for 4.8, 5.8, 6.8 and 10.9. M5: 14.183 mm², M6: 20.123 mm².
    for (name, class, load) in [
        ("M5", "4.6", 0.6 * 400.0 * 14.183),
        ("M5", "5.6", 0.6 * 500.0 * 14.183),
        ("M6", "8.8", 0.6 * 800.0 * 20.123),
        ("M5", "4.8", 0.5 * 420.0 * 14.183),
        ("M6", "5.8", 0.5 * 520.0 * 20.123),
        ("M6", "6.8", 0.5 * 600.0 * 20.123),
        ("M6", "10.9", 0.5 * 1040.0 * 20.123),
    ] {
        let actual = held(mount(library, name, class), "bolt-shear", "bolt 2");
        out.point(format!("{name} {class}"), actual, load);
    }
    out
}

fn stripping(library: &Library) -> Record {
    let mut out = record(
        TOPIC,
        "stripping of a thread, M5 and M6 in plain nuts and in a high one: allowables of `thread-strips`, `bolt-thread-strips`",
        ("0.577 f_u (π/2) d₂ L_e, rule of FED-STD-H28, by pocket calculator", Provenance::FromMemory),
        (Tolerance::Within(1e-4), "pitch diameters to four digits: 4.480 and 5.350 mm"),
    );
    let high = Mount { nut_height: Some(millimetres(8.0)), ..mount(library, "M6", "8.8") };
    let load = |strength: f64, pitch: f64, length: f64| 0.577 * strength * FRAC_PI_2 * pitch * length;
    let nuts = "thread-strips";
    out.point("M5 8.8, 4 mm", held(mount(library, "M5", "8.8"), nuts, "nut 2"), load(400.0, 4.480, 4.0));
    out.point("M6 8.8, 8 mm", held(high, nuts, "nut 2"), load(400.0, 5.350, 8.0));
    let nylon = held(mount(library, "M5", "nylon"), "bolt-thread-strips", "bolt 2");
    out.point("M5 nylon, 4 mm", nylon, load(50.0, 4.480, 4.0));
    out
}

fn preload(library: &Library) -> Vec<Record> {
    let m6 = mount(library, "M6", "8.8");
    let area = m6.bolt.stress_area();
    let proof = m6.bolt_class.proof.as_ref().expect("8.8 has one").value;
    let mut share = record(
        TOPIC,
        "M6-8.8: proof load 11 671 N, three quarters of it 8753 N",
        ("A_s S_p, worked out apart", Provenance::ClosedForm),
        (Tolerance::Within(1e-4), "whole newtons"),
    );
    share.point("proof load", (area * proof).value, 11_671.0);
    share.point("preload", 0.75 * (area * proof).value, 8_753.0);
    let mut torque = record(
        TOPIC,
        "M6 to 10.50 N·m: 8753 N; no preload stated: none",
        ("T = K F d with K = 0.20, Shigley eq. 8-27", Provenance::FromMemory),
        (Tolerance::Within(4e-4), "the torque has four digits: 0.004 in 10.50"),
    );
    let nominal = |preload| Mount { preload, ..m6.clone() }.nominal_preload().value;
    torque.point("preload", nominal(Some(Preload::Torque(newton_metres(10.50)))), 8_753.0);
    torque.scaled("none", nominal(None), 0.0, 8_753.0);
    vec![share, torque]
}

fn opening(library: &Library) -> Record {
    let mut out = record(
        TOPIC,
        "a joint of preload 8753 N, C = 0.2, pulled with 4 kN: opens at 2.735 times as much, after a torque at 1.778 times",
        ("n₀ = F_i / [(1 − C) P], Shigley eq. 8-30; scatter of a torque 35 %", Provenance::FromMemory),
        (Tolerance::Within(4e-4), "the torque has four digits: 0.004 in 10.50"),
    );
    // 8753/(0.8 × 4000) = 2.73531; 0.65 of it 1.77795.
    let m6 = mount(library, "M6", "8.8");
    let measured = Mount { preload: Some(Preload::Force(crate::mounted::newtons(8_753.0))), ..m6.clone() };
    for (what, mount, expected) in
        [("a pull that was measured", measured, 2.735_31), ("10.50 N·m", torqued(m6, 10.50), 1.777_95)]
    {
        let preload = mount.nominal_preload().value;
        let margins = found(mount, state(vec![preloaded(4000.0, preload, [0.0; 2])]));
        out.point(what, term(of(&margins, "joint-opens", "plate at bolt 2"), "n₀"), expected);
    }
    out
}

fn turning(library: &Library) -> Record {
    let mut out = record(
        TOPIC,
        "friction under a nut flange of 12 mm on M5, preload 1300 N: 1105 N·mm; without a flange 812.5 N·mm",
        ("μ F r, r = (12 + 5)/4 mm or 0.625 × 5 mm; μ = 0.2", Provenance::CommonPractice),
        (Tolerance::Within(1e-9), "the same sum"),
    );
    let torqued = torqued(mount(library, "M5", "8.8"), 2.0);
    let flanged = Mount { nut_flange: Some(millimetres(12.0)), ..torqued.clone() };
    for (what, mount, expected) in [("flange", flanged, 1.105), ("no flange", torqued, 0.8125)] {
        let mut at = state(vec![preloaded(0.0, 2000.0, [0.0; 2])]);
        at.turn = Some(newton_metres(0.1));
        let margins = found(mount, at);
        out.point(what, of(&margins, "mount-turn", "plate").allowable.expect("it is known").si(), expected);
    }
    out
}

fn together() -> Vec<Record> {
    let mut en = record(
        TOPIC,
        "pull and shear together: the axes, the corner (0.9; 0.2857), and half way on the line",
        (
            "R_s + R_t/(1.4 × 0.9) = 1 and R_t = 0.9, EN 1993-1-8 table 3.4, by pocket calculator",
            Provenance::FromMemory,
        ),
        (Tolerance::Within(1e-9), "the same formulas"),
    );
    en.point("shear only", pull_and_shear_en1993(0.0, 0.25), 4.0);
    en.point("pull only", pull_and_shear_en1993(0.25, 0.0), 3.6);
    // 1/(1 + 1/1.26) = 1.26/2.26.
    en.point("as much of one as of the other", pull_and_shear_en1993(1.0, 1.0), 1.26 / 2.26);
    en.point("at the corner", pull_and_shear_en1993(0.9, 1.0 - 1.0 / 1.4), 1.0);
    // Half way down the line from the corner: pull 0.45, shear 1 − 0.45/1.26 = 0.642857.
    en.point("half way", pull_and_shear_en1993(0.45, 0.642_857_142_857_142_9), 1.0);

    let mut nasa = record(
        TOPIC,
        "pull and shear together: the axes, and where one is as much as, half as much as, and twice as much as the other",
        ("R_s^1.2 + R_t² = 1, NASA-STD-5020, solved apart", Provenance::FromMemory),
        (Tolerance::Within(1e-9), "ten digits of the root"),
    );
    nasa.point("shear only", pull_and_shear_nasa5020(0.0, 0.25), 4.0);
    nasa.point("pull only", pull_and_shear_nasa5020(0.25, 0.0), 4.0);
    nasa.point("as much of one as of the other", pull_and_shear_nasa5020(1.0, 1.0), 0.642_121_637_341_603_4);
    nasa.point("half as much shear", pull_and_shear_nasa5020(1.0, 0.5), 0.812_767_405_306_063_2);
    nasa.point("half as much pull", pull_and_shear_nasa5020(0.5, 1.0), 0.847_830_115_130_392_1);
    vec![en, nasa]
}
