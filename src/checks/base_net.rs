//! The flat centre breaks through a row of its bolt holes: the stress on what they leave reaches the tensile strength at ultimate
//! load.
//!
//! σ = |N|/A + |M_f|/Z_f + (|M_e| + |N x_m|) c/I, A = (b − n d₀) t, Z_f = (b − n d₀) t²/6, I and c of the net section about its own
//! middle x_m; margin = f_u / (factor × σ) − 1. Elastic to the last, which is on the safe side for a metal that yields first. Bolts
//! that stand within half a hole of each other athwart make a row. Yield is judged on the gross section (`base-yield`).
//! Source: net section at ultimate load, as EN 1993-1-1 6.2.3 (from memory); 14 CFR 23.303 before amendment 23-64 (from memory).

use super::{Check, Scope, Subject, margin, plate_ultimate};
use crate::material::Basis;
use crate::model::{BasePlate, Mount, PartKind};
use crate::results::{Amount, CaseResult, Margin, MountState, PlateForces, Station, Term};
use crate::section::NetSection;
use crate::units::{Length, Stress};
use std::cmp::Ordering;

pub(super) const CHECK: Check = Check {
    id: "base-net-section",
    words: "breaks through its bolt holes",
    scope: Scope::Case(run),
    fails: Some(PartKind::Legs),
    special: 1.0,
};

/// How far apart athwart two bolts of one row may stand, in hole diameters.
const SAME_ROW: f64 = 0.5;

/// Places along the flat nearer to each other than this share of it are the same. chosen: far above rounding.
const SAME_PLACE: f64 = 1e-6;

/// Stress at the edge of a round hole over that of the net section, a strip in tension with the hole in its middle.
///
/// K = 3.00 − 3.13 r + 3.66 r² − 1.53 r³, r = d/D, D the strip's width. Source: fit of Roark and Peterson (from memory); Heywood's
/// 2 + (1 − r)³ is within 2.2 %.
#[must_use]
pub fn hole_factor_tension(hole_over_width: f64) -> f64 {
    let r = hole_over_width.clamp(0.0, 1.0);
    3.00 + r * (-3.13 + r * (3.66 - 1.53 * r))
}

/// Stress at the edge of a round hole over that of the net section, a plate bent through its thickness.
///
/// K = [1.79 + 0.25/(0.39 + q) + 0.81/(1 + q²) − 0.26/(1 + q³)] [1 − 1.04 r + 1.22 r²], q = d/t, r = d/D. Source: fit of Roark and
/// Peterson (from memory); a thick plate has 2.98, a thin one (5 + 3ν)/(3 + ν).
#[must_use]
pub fn hole_factor_bending(hole_over_thickness: f64, hole_over_width: f64) -> f64 {
    let (q, r) = (hole_over_thickness.max(0.0), hole_over_width.clamp(0.0, 1.0));
    let thin = 1.79 + 0.25 / (0.39 + q) + 0.81 / (1.0 + q.powi(2)) - 0.26 / (1.0 + q.powi(3));
    thin * (1.0 - 1.04 * r + 1.22 * r * r)
}

fn run(subject: &Subject<'_>, case: &CaseResult) -> Vec<Margin> {
    let (Some(mount), Some(state)) = (&subject.gear.mount, &case.ultimate.mount) else { return Vec::new() };
    let Some(base) = subject.gear.base_plate() else { return Vec::new() };
    rows(mount).iter().filter_map(|row| of_row(subject, case, mount, &base, state, row)).collect()
}

/// The bolts of each row by their indices, port row first.
fn rows(mount: &Mount) -> Vec<Vec<usize>> {
    let mut order: Vec<(usize, Length)> = mount.bolts.iter().map(|(_, y)| *y).enumerate().collect();
    order.sort_by(|a, b| a.1.partial_cmp(&b.1).unwrap_or(Ordering::Equal));
    let mut rows: Vec<Vec<usize>> = Vec::new();
    let mut first = Length::default();
    for (bolt, y) in order {
        match rows.last_mut() {
            Some(row) if y - first <= SAME_ROW * mount.hole_diameter() => row.push(bolt),
            _ => {
                first = y;
                rows.push(vec![bolt]);
            }
        }
    }
    for row in &mut rows {
        row.sort_unstable();
    }
    rows
}

/// The stresses on a net section, each by its size.
struct NetStress {
    along: Stress,
    flat: Stress,
    edge: Stress,
}

impl NetStress {
    fn new(net: &NetSection, f: &PlateForces) -> Self {
        let edgewise = f.bending_edge.abs() + (f.axial * net.centre).abs();
        Self {
            along: f.axial.abs() / net.area,
            flat: f.bending_flat.abs() / net.modulus_flat,
            edge: edgewise * net.reach / net.second_moment_edge,
        }
    }

    fn sum(&self) -> Stress {
        self.along + self.flat + self.edge
    }
}

/// The forces on the flat at a place: on both sides of it where they jump there.
fn forces_at(stations: &[Station], along: Length) -> Vec<PlateForces> {
    let ends = stations.first().zip(stations.last());
    let near = ends.map_or_else(Length::default, |(a, b)| SAME_PLACE * (b.along - a.along));
    let mut found = Vec::new();
    for pair in stations.windows(2) {
        let [a, b] = pair else { continue };
        if along < a.along - near || along > b.along + near {
            continue;
        }
        if b.along - a.along <= near {
            found.extend([a.forces, b.forces]);
            continue;
        }
        let share = f64::from((along - a.along) / (b.along - a.along)).clamp(0.0, 1.0);
        found.push(PlateForces {
            axial: a.forces.axial + share * (b.forces.axial - a.forces.axial),
            bending_flat: a.forces.bending_flat + share * (b.forces.bending_flat - a.forces.bending_flat),
            bending_edge: a.forces.bending_edge + share * (b.forces.bending_edge - a.forces.bending_edge),
            ..PlateForces::default()
        });
    }
    found
}

fn of_row(
    subject: &Subject<'_>,
    case: &CaseResult,
    mount: &Mount,
    base: &BasePlate,
    state: &MountState,
    row: &[usize],
) -> Option<Margin> {
    let ultimate = subject.project.landing.ultimate_factor;
    let hole = mount.hole_diameter();
    let places: Vec<(Length, Length)> = row.iter().filter_map(|i| mount.bolts.get(*i)).copied().collect();
    let [port, _] = base.reach;
    let forces: Vec<PlateForces> =
        places.iter().flat_map(|(_, y)| forces_at(&state.plate, *y - port)).collect();
    let names: Vec<String> = row.iter().map(|i| Mount::bolt_name(*i)).collect();
    let bolts = if names.len() == 1 { "bolt" } else { "bolts" };
    let part = format!("flat centre at {bolts} {}", names.join(", "));
    let across: Vec<Length> = places.iter().map(|(x, _)| *x).collect();
    let Some(net) = NetSection::new(base.width, base.thickness, hole, &across) else {
        let gross = forces.first()?.axial.abs() / (base.width * base.thickness);
        return nothing_left(margin(&CHECK, subject, case, part, Amount::Stress(gross / ultimate)), ultimate);
    };
    let worst = forces
        .into_iter()
        .reduce(|a, b| if NetStress::new(&net, &b).sum() > NetStress::new(&net, &a).sum() { b } else { a })?;
    let stress = NetStress::new(&net, &worst);
    let applied = stress.sum() / ultimate;
    if applied <= Stress::default() {
        return None;
    }
    let mut m = margin(&CHECK, subject, case, part, Amount::Stress(applied));
    m.factor = ultimate;
    m.source = "14 CFR 23.303; net section as EN 1993-1-1 6.2.3 (from memory)".to_owned();
    m.working.formula =
        "A = (b − n d₀) t; Z_f = (b − n d₀) t²/6; I = t (b³/12 − Σ(d₀³/12 + d₀ x²)) − A x_m²; \
                         σ = |N|/A + |M_f|/Z_f + (|M_e| + |N x_m|) c/I; margin = f_u / (factor × σ) − 1, \
                         forces at ultimate load over the ultimate factor"
            .into();
    m.working.terms = vec![
        Term::new("b", "width of the plate", Amount::Length(base.width)),
        Term::new("t", "thickness", Amount::Length(base.thickness)),
        Term::new("n", "holes in the row", Amount::Number(row.len() as f64)),
        Term::new("d₀", "diameter of the holes", Amount::Length(hole)),
    ];
    m.working.terms.extend(
        across.iter().map(|x| Term::new("x", "a hole's distance behind the middle", Amount::Length(*x))),
    );
    m.working.terms.extend([
        Term::new("A", "area left", Amount::Area(net.area)),
        Term::new("I", "second moment left, edgewise", Amount::SecondMoment(net.second_moment_edge)),
        Term::new("x_m", "middle of what is left", Amount::Length(net.centre)),
        Term::new("c", "its farther edge from there", Amount::Length(net.reach)),
        Term::new("N", "force along the flat", Amount::Force(worst.axial / ultimate)),
        Term::new("M_f", "bending through the thickness", Amount::Moment(worst.bending_flat / ultimate)),
        Term::new("M_e", "bending in the plane of the plate", Amount::Moment(worst.bending_edge / ultimate)),
        Term::new("|N|/A", "stress from the force along the flat", Amount::Stress(stress.along / ultimate)),
        Term::new("|M_f|/Z_f", "stress at the flat faces", Amount::Stress(stress.flat / ultimate)),
        Term::new("(…) c/I", "stress at the farther edge", Amount::Stress(stress.edge / ultimate)),
        Term::new("σ", "all of it", Amount::Stress(applied)),
    ]);
    fatigue(&mut m, &stress, base, hole, row.len() as f64, ultimate);
    let strength = match plate_ultimate(&subject.gear.plate) {
        Ok(strength) => strength,
        Err(why) => return Some(m.untold(why)),
    };
    m.allowable = Some(Amount::Stress(strength.value));
    m.basis = Some(strength.basis);
    m.source = format!("{}; {}", m.source, strength.source);
    m.working.terms.push(Term::new("f_u", "tensile strength of the plate", Amount::Stress(strength.value)));
    Some(m.decided())
}

/// A row of holes from edge to edge: nothing holds.
fn nothing_left(mut m: Margin, ultimate: f64) -> Option<Margin> {
    let Amount::Stress(applied) = m.applied else { return None };
    if applied <= Stress::default() {
        return None;
    }
    m.factor = ultimate;
    m.source = "14 CFR 23.303".into();
    m.allowable = Some(Amount::Stress(Stress::default()));
    m.basis = Some(Basis::Computed);
    m.working.formula =
        "the holes of the row take the whole width, so that the net section holds nothing".into();
    Some(m.decided())
}

/// The peak at a hole's edge: where cracks begin. Metal that yields evens it out once, so it is no margin.
fn fatigue(m: &mut Margin, stress: &NetStress, base: &BasePlate, hole: Length, holes: f64, ultimate: f64) {
    let each = f64::from(holes * hole / base.width);
    let pulled = hole_factor_tension(each);
    let bent = hole_factor_bending(f64::from(hole / base.thickness), each);
    let peak = (pulled * (stress.along + stress.edge) + bent * stress.flat) / ultimate;
    m.working.terms.extend([
        Term::new(
            "K_t",
            "stress at a hole's edge over that of the net section, pulled",
            Amount::Number(pulled),
        ),
        Term::new("K_b", "the same, bent through the thickness", Amount::Number(bent)),
        Term::new("σ_p", "peak stress at a hole's edge", Amount::Stress(peak)),
    ]);
    m.working.notes.push(
        "For fatigue, not for the margin: σ_p = K_t (|N|/A + (…) c/I) + K_b |M_f|/Z_f, each hole in the middle of a strip of b/n. \
         Cracks begin there; break the edges of the holes and look at them with a lens."
            .into(),
    );
    m.working.notes.push(
        "The plate is taken as elastic until it breaks, which is on the safe side. Shear and twist count in base-yield."
            .into(),
    );
}
