//! Wire strengths by the power law, and thread areas.

use crate::common::mm;
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::material::{Basis, PowerBand, Series, Sourced, Thread, Wire, WireStrength};
use gearleg::units::{MassDensity, Stress};
use uom::si::length::inch;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::gigapascal;

const TOPIC: &str = "Wires and threads";

/// A wire of bands (from mm, to mm, A in MPa·mmᵐ, m).
fn wire(bands: &[(f64, f64, f64, f64)]) -> Wire {
    let source = "Shigley, table 10-4, as read in a transcription";
    Wire {
        name: "law".to_owned(),
        aliases: Vec::new(),
        modulus: Sourced::new(Stress::new::<gigapascal>(193.0), Basis::FromMemory, source),
        density: Sourced::new(
            MassDensity::new::<kilogram_per_cubic_meter>(7900.0),
            Basis::FromMemory,
            source,
        ),
        strength: WireStrength::PowerLaw(
            bands
                .iter()
                .map(|&(from, up_to, a, m)| PowerBand {
                    from: mm(from),
                    up_to: mm(up_to),
                    constants: Sourced::new((a, m), Basis::SpecificationMinimum, source),
                })
                .collect(),
        ),
        yield_fraction: None,
    }
}

fn breaks(wire: &Wire, diameter: f64) -> f64 {
    wire.breaking_load(mm(diameter)).expect("a listed diameter").value.value
}

pub(crate) fn records() -> Vec<Record> {
    let music = wire(&[(0.10, 6.5, 2211.0, 0.145)]);
    let stainless = wire(&[(0.3, 2.5, 1867.0, 0.146), (2.5, 5.0, 2065.0, 0.263), (5.0, 10.0, 2911.0, 0.478)]);

    let mut worked = record(
        TOPIC,
        "break of 302 wire of 1.5 mm (3109.6 N) and of music wire of 2 mm (6281.9 N)",
        (
            "A/dᵐ · πd²/4 with the constants of Shigley, table 10-4, by pocket calculator",
            Provenance::ClosedForm,
        ),
        (Tolerance::Within(2e-5), "five digits by hand"),
    );
    worked.point("302, 1.5 mm", breaks(&stainless, 1.5), 3109.6);
    worked.point("music, 2 mm", breaks(&music, 2.0), 6281.9);

    let mut table = record(
        TOPIC,
        "break of straight wire, 0.5 to 5 mm, ASTM A228 and A313 (302)",
        (
            "constants of Shigley, table 10-4, as read in a transcription; worked out apart",
            Provenance::Published,
        ),
        (Tolerance::Within(1.3e-3), "whole newtons: half a newton in 406"),
    );
    let sizes = [0.5, 0.8, 1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0];
    let a228 = [480.0, 1148.0, 1736.0, 2435.0, 3684.0, 6282.0, 9503.0, 13327.0, 22725.0, 34377.0];
    // 2.5 and 5 mm lie on the boundary of two bands and belong to the thinner one.
    let a313 = [406.0, 970.0, 1466.0, 2056.0, 3110.0, 5301.0, 8017.0, 10934.0, 18021.0, 26553.0];
    for ((d, music_load), stainless_load) in sizes.into_iter().zip(a228).zip(a313) {
        table.point(format!("A228, {d} mm"), breaks(&music, d), music_load);
        table.point(format!("A313, {d} mm"), breaks(&stainless, d), stainless_load);
    }

    vec![worked, table, metric(), metric_printed(), unified()]
}

fn thread(series: Series, nominal: f64, pitch: f64) -> Thread {
    let length = |v| if series == Series::Metric { mm(v) } else { gearleg::units::Length::new::<inch>(v) };
    let provenance = Sourced::new((), Basis::FromMemory, "ISO 724, ASME B1.1");
    Thread { name: String::new(), series, nominal: length(nominal), pitch: length(pitch), provenance }
}

fn metric() -> Record {
    let mut out = record(
        TOPIC,
        "stress area and root area of metric threads, M2 to M10×1.25",
        ("ISO 898-1 and ISO 724 formulas; worked out apart", Provenance::FromMemory),
        (Tolerance::Within(3e-4), "three decimals of a square millimetre: 0.0005 in 1.789"),
    );
    let rows = [
        (2.0, 0.4, 2.073, 1.789),
        (2.5, 0.45, 3.391, 2.980),
        (3.0, 0.5, 5.031, 4.473),
        (3.5, 0.6, 6.775, 6.000),
        (4.0, 0.7, 8.779, 7.750),
        (5.0, 0.8, 14.183, 12.683),
        (6.0, 1.0, 20.123, 17.894),
        (8.0, 1.25, 36.609, 32.841),
        (10.0, 1.5, 57.990, 52.292),
        (8.0, 1.0, 39.167, 36.030),
        (10.0, 1.25, 61.199, 56.297),
    ];
    for (d, pitch, stress, minor) in rows {
        let thread = thread(Series::Metric, d, pitch);
        out.point(format!("M{d}×{pitch}, stress area"), thread.stress_area().value * 1e6, stress);
        out.point(format!("M{d}×{pitch}, root area"), thread.minor_area().value * 1e6, minor);
    }
    out
}

fn metric_printed() -> Record {
    let mut out = record(
        TOPIC,
        "areas of M10×1.5 (57.9896 and 52.2923 mm²)",
        ("test of the package me_toolbox 0.0.18", Provenance::OtherProgram),
        (Tolerance::Within(1e-6), "its constants have seven digits, as ours"),
    );
    let m10 = thread(Series::Metric, 10.0, 1.5);
    out.point("stress area", m10.stress_area().value * 1e6, 57.989_596_901_845_2);
    out.point("root area", m10.minor_area().value * 1e6, 52.292_317_849_710_83);
    out
}

fn unified() -> Record {
    let mut out = record(
        TOPIC,
        "stress area of inch threads, 4-40 to 1/4-28",
        ("ASME B1.1 formula; worked out apart", Provenance::FromMemory),
        (Tolerance::Within(1e-3), "five decimals of a square inch: 0.000005 in 0.00603"),
    );
    let rows = [
        ("4-40", 0.112, 40.0, 0.006_03),
        ("6-32", 0.138, 32.0, 0.009_09),
        ("8-32", 0.164, 32.0, 0.014_01),
        ("10-24", 0.190, 24.0, 0.017_53),
        ("10-32", 0.190, 32.0, 0.019_99),
        ("1/4-20", 0.250, 20.0, 0.031_82),
        ("1/4-28", 0.250, 28.0, 0.036_37),
    ];
    for (name, d, per_inch, area) in rows {
        let thread = thread(Series::Inch, d, 1.0 / per_inch);
        out.point(name, thread.stress_area().value / 0.0254_f64.powi(2), area);
    }
    out
}
