//! Wire ends, anchors, axle threads: the formulas behind their checks.

use crate::common::{mm, newtons};
use crate::record::{Provenance, Record, Tolerance, record};
use crate::worked::{BRACED, POST, library, margin, own, pulled, read, solved};
use gearleg::section::RoundSection;
use std::f64::consts::{FRAC_PI_4, PI};

const TOPIC: &str = "Wire ends, axles and their threads";

pub(crate) fn records() -> Vec<Record> {
    vec![plastic_bar(), hook(), thread_root(), embedment()]
}

fn plastic_bar() -> Record {
    let mut bar = record(
        TOPIC,
        "plastic modulus of a round bar (mm³)",
        ("two half circles, each with its middle 4a/3π off the diameter", Provenance::ClosedForm),
        (Tolerance::Within(1e-9), "the same number, rounding"),
    );
    for d in [0.8_f64, 1.5, 4.0] {
        let half_areas = FRAC_PI_4 * d * d;
        let off = 4.0 * (0.5 * d) / (3.0 * PI);
        let found = RoundSection { diameter: mm(d) }.plastic_modulus().value * 1e9;
        bar.point(format!("{d} mm"), found, half_areas * off);
    }
    bar
}

/// The pull at which a hook of mid-line radius d opens, over σ_y d², from strips of the section: the neutral axis is moved until
/// moment and pull fit together.
fn opens_by_strips() -> f64 {
    // In diameters: half a width of √(¼ − y²) at y; below the neutral axis at −h it pushes, above it pulls.
    let strips = 200_000;
    let step = 1.0 / f64::from(strips);
    let sums = |h: f64| {
        (0..strips).fold((0.0, 0.0), |(n, m), i| {
            let y = -0.5 + (f64::from(i) + 0.5) * step;
            let force = 2.0 * (0.25 - y * y).sqrt() * step * if y > -h { 1.0 } else { -1.0 };
            (n + force, m + force * y)
        })
    };
    let (mut low, mut high) = (0.0, 0.5);
    for _ in 0..40 {
        let h = 0.5 * (low + high);
        let (pull, moment) = sums(h);
        if moment > pull {
            low = h;
        } else {
            high = h;
        }
    }
    sums(0.5 * (low + high)).0
}

fn hook() -> Record {
    let mut hook = record(
        TOPIC,
        "pull at which a tight open hook straightens, 302 wire (N)",
        ("section cut into 200 000 strips, plastic through", Provenance::ClosedForm),
        (Tolerance::Within(1e-4), "the strip at the neutral axis"),
    );
    let share = opens_by_strips();
    for d in [1.0_f64, 1.5, 2.0] {
        let mut project = read(&BRACED.replace("diameter = \"1.5 mm\"", &format!("diameter = \"{d} mm\"")));
        let mut case = own(&solved(&project));
        let wire = case.ultimate.wires[0].clone();
        case.ultimate = pulled(&case.ultimate, &wire, 100.0, wire.direction);
        let part = format!("{} wire hook", wire.name);
        let found = margin(&project, &case, "wire-hook", &part).and_then(|m| m.allowable);
        let brace = project.gears[0].braces.swap_remove(0);
        let strength = brace.wire.breaking_load(brace.diameter).expect("listed").value.value
            / (FRAC_PI_4 * brace.diameter.value.powi(2));
        let yields = brace.wire.yield_fraction.expect("known").value * strength;
        hook.point(
            format!("{d} mm"),
            found.expect("known").si(),
            share * yields * brace.diameter.value.powi(2),
        );
    }
    hook
}

fn thread_root() -> Record {
    let mut root = record(
        TOPIC,
        "a wheel 25 mm out on an M5 thread, 10 kg at 3 g on one wheel (MPa)",
        ("builders' sum, \"about 1150 MPa\"", Provenance::CommonPractice),
        (Tolerance::Within(0.01), "\"about\""),
    );
    let text = POST
        .replace("overhang = \"20 mm\"", "overhang = \"25 mm\"")
        .replace("vertical = \"100 N\"", "vertical = \"294.2 N\"");
    let mut project = read(&text);
    project.gears[0].wheel.axle_thread = Some(library().thread("M5").expect("listed").clone());
    let case = own(&solved(&project));
    assert!((case.limit.axles[0].shear - newtons(294.2)).abs() < newtons(1e-6), "the whole load");
    let m = margin(&project, &case, "axle-thread", "centre axle").expect("it has a thread");
    root.point("at its root", m.applied.si() / 1e6, 1150.0);
    root
}

fn embedment() -> Record {
    let mut wood = record(
        TOPIC,
        "embedment of birch plywood, 630 kg/m³, by the nails' and the bolts' rule (MPa)",
        ("EN 1995-1-1 eq. 8.20 and 8.36, worked by hand", Provenance::FromMemory),
        (Tolerance::Within(2e-3), "three digits"),
    );
    let rows = [(3.0, 49.8, 67.2), (4.0, 45.7, 66.5), (5.0, 42.8, 65.8), (6.0, 40.5, 65.1)];
    let library = library();
    let birch = library.wood("birch-plywood").expect("listed");
    for (d, nails, bolts) in rows {
        let (by_nails, by_bolts) = birch.embedment_strength(mm(d)).expect("its density is known");
        wood.point(format!("nails, {d} mm"), by_nails.value / 1e6, nails);
        wood.point(format!("bolts, {d} mm"), by_bolts.value / 1e6, bolts);
    }
    wood
}
