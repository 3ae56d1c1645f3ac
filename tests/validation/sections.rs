//! Torsion of rectangles, and the largest stress round their perimeter.

use crate::common::mm;
use crate::oracle_file::closed_forms;
use crate::record::{Provenance, Record, Tolerance, record};
use gearleg::analysis::plate_perimeter;
use gearleg::kernel::{SectionForces, peak_von_mises};
use gearleg::section::{PlateSection, torsion};

const TOPIC: &str = "Sections";

/// b/t, β, α. Source: the exact series, evaluated to 25 digits apart from this library; b/t = ∞ is a limit.
const PRINTED: [(f64, f64, f64); 13] = [
    (1.0, 0.140_577, 0.208_165),
    (1.2, 0.166_119, 0.218_934),
    (1.5, 0.195_761, 0.230_969),
    (2.0, 0.228_682, 0.245_878),
    (2.5, 0.249_365, 0.257_590),
    (3.0, 0.263_317, 0.267_208),
    (4.0, 0.280_813, 0.281_666),
    (5.0, 0.291_317, 0.291_500),
    (6.0, 0.298_320, 0.298_359),
    (8.0, 0.307_073, 0.307_075),
    (10.0, 0.312_325, 0.312_325),
    (20.0, 0.322_829, 0.322_829),
    (1e9, 1.0 / 3.0, 1.0 / 3.0),
];

pub(crate) fn records() -> Vec<Record> {
    vec![printed(), series(), both_ways(), perimeter()]
}

fn printed() -> Record {
    let mut out = record(
        TOPIC,
        "torsion: α and β of a rectangle, b/t from 1 to ∞",
        ("table of the exact series, six digits", Provenance::ClosedForm),
        (Tolerance::Within(5e-6), "the table's last digit"),
    );
    for (aspect, beta, alpha) in PRINTED {
        out.point(format!("β at {aspect}"), torsion::constant(aspect), beta);
        out.point(format!("α at {aspect}"), torsion::modulus(aspect), alpha);
    }
    out
}

fn series() -> Record {
    let mut out = record(
        TOPIC,
        "torsion: the same, twelve digits",
        ("exact series at high precision, oracle/closed_forms.py", Provenance::ClosedForm),
        (Tolerance::Within(1e-10), "both sum the same exact series"),
    );
    let file = closed_forms();
    for row in file["torsion"]["rows"].as_array().expect("rows") {
        let [aspect, alpha, beta] =
            ["b_over_t", "alpha", "beta"].map(|key| row[key].as_f64().expect("a number"));
        out.point(format!("β at {aspect}"), torsion::constant(aspect), beta);
        out.point(format!("α at {aspect}"), torsion::modulus(aspect), alpha);
    }
    out
}

/// A plate set on edge is the same rectangle.
fn both_ways() -> Record {
    let mut out = record(
        TOPIC,
        "torsion constant of a section thicker than wide",
        ("J = β b t³ of the same rectangle lying down", Provenance::ClosedForm),
        (Tolerance::Within(1e-10), "only the names of the sides change"),
    );
    for (aspect, beta, _) in [(2.0, 0.228_681_677_12, 0), (10.0, 0.312_325_037_457, 0)] {
        let upright = PlateSection { width: mm(4.0), thickness: mm(4.0 * aspect) };
        out.point(
            format!("{aspect} to 1"),
            upright.torsion_constant().value,
            beta * 4e-3 * aspect * 4e-3_f64.powi(3),
        );
    }
    out
}

fn perimeter() -> Record {
    let mut out = record(
        TOPIC,
        "largest von Mises stress round the perimeter, all six section forces mixed",
        ("4001 places on each face, then refined; oracle/closed_forms.py", Provenance::ClosedForm),
        (Tolerance::Within(5e-4), "65 places on a flat face, 33 on an edge, and a parabola between them"),
    );
    let file = closed_forms();
    for (i, row) in file["perimeter_von_mises"]["rows"].as_array().expect("rows").iter().enumerate() {
        let number = |key: &str| row[key].as_f64().expect("a number");
        let section = PlateSection { width: mm(number("b_m") * 1e3), thickness: mm(number("t_m") * 1e3) };
        let forces = SectionForces {
            axial: number("N_N"),
            shear_y: number("Vy_N"),
            shear_z: number("Vz_N"),
            torsion: number("T_Nm"),
            bending_y: number("My_Nm"),
            bending_z: number("Mz_Nm"),
        };
        let peak = peak_von_mises(&plate_perimeter(&section), &forces).expect("a loaded section");
        out.point(format!("row {i}"), peak.stress, number("max_von_mises_Pa"));
    }
    out
}
