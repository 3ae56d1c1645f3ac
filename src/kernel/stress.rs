//! Equivalent stress round the perimeter of a section.

use super::beam::SectionForces;
use std::f64::consts::FRAC_PI_2;

/// A point on a section's perimeter: what each section force makes there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StressPoint {
    /// Normal stress per unit axial force, bending about y, bending about z (1/m², 1/m³, 1/m³).
    pub normal: [f64; 3],
    /// Shear stress along the face per unit torsion, shear along y, shear along z (1/m³, 1/m², 1/m²).
    pub shear: [f64; 3],
}

/// A section as the stress recovery sees it.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Points in order along each face, at the places of [`Section::place`]: torsion's shear changes fastest near
    /// the corners, so they lie closer there.
    pub faces: Vec<Vec<StressPoint>>,
    /// Upper bounds over the perimeter of |normal| and |shear| per unit force.
    bounds: StressPoint,
}

/// The largest equivalent stress of a section and where it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Peak {
    /// Von Mises stress, Pa.
    pub stress: f64,
    /// Index of the face.
    pub face: usize,
    /// Where on the face, as a fraction of its length from its first point.
    pub along_face: f64,
}

impl StressPoint {
    /// Square of the von Mises stress, σ² + 3 τ², Pa².
    #[must_use]
    pub fn squared(&self, f: &SectionForces) -> f64 {
        let [n, my, mz] = self.normal;
        let [t, vy, vz] = self.shear;
        let sigma = n * f.axial + my * f.bending_y + mz * f.bending_z;
        let tau = t * f.torsion + vy * f.shear_y + vz * f.shear_z;
        sigma * sigma + 3.0 * tau * tau
    }

    /// An upper bound of the same, all contributions taken with one sign.
    fn bound(&self, f: &SectionForces) -> f64 {
        self.squared(&SectionForces {
            axial: f.axial.abs(),
            shear_y: f.shear_y.abs(),
            shear_z: f.shear_z.abs(),
            torsion: f.torsion.abs(),
            bending_y: f.bending_y.abs(),
            bending_z: f.bending_z.abs(),
        })
    }
}

impl Section {
    /// Makes a section of its faces.
    #[must_use]
    pub fn new(faces: Vec<Vec<StressPoint>>) -> Self {
        let mut bounds = StressPoint { normal: [0.0; 3], shear: [0.0; 3] };
        for p in faces.iter().flatten() {
            for i in 0..3 {
                bounds.normal[i] = f64::max(bounds.normal[i], p.normal[i].abs());
                bounds.shear[i] = f64::max(bounds.shear[i], p.shear[i].abs());
            }
        }
        Self { faces, bounds }
    }

    /// An upper bound of the von Mises stress round the perimeter, Pa.
    #[must_use]
    pub fn bound(&self, forces: &SectionForces) -> f64 {
        self.bounds.bound(forces).sqrt()
    }

    /// Where point `index` of `last + 1` lies on its face, from −1 at one corner to 1 at the other.
    ///
    /// sin(π/2·(2i/n − 1)): even steps of an angle.
    #[must_use]
    pub fn place(index: usize, last: usize) -> f64 {
        place_of(index as f64 / last.max(1) as f64)
    }
}

/// The place on a face, −1 to 1, at a fraction of its points counted from the first.
fn place_of(fraction: f64) -> f64 {
    (FRAC_PI_2 * (2.0 * fraction - 1.0)).sin()
}

/// Finds the largest von Mises stress round a section's perimeter; `None` for a section without points.
///
/// Between the points of a face the square of the stress is taken as a parabola through the three nearest
/// points, drawn over the points' numbers.
/// Source: von Mises, σ_v² = σ² + 3 τ² for one normal and one shear stress (any strength-of-materials text).
#[must_use]
pub fn peak_von_mises(section: &Section, forces: &SectionForces) -> Option<Peak> {
    let (mut best, mut place) = (f64::NEG_INFINITY, (0, 0));
    for (face, points) in section.faces.iter().enumerate() {
        for (i, p) in points.iter().enumerate() {
            let s = p.squared(forces);
            if s > best {
                (best, place) = (s, (face, i));
            }
        }
    }
    let (face, i) = place;
    let points = section.faces.get(face)?;
    let last = points.len().saturating_sub(1).max(1) as f64;
    let mut along = i as f64;
    if i > 0 && i + 1 < points.len() {
        let (before, after) = (points[i - 1].squared(forces), points[i + 1].squared(forces));
        let curve = before - 2.0 * best + after;
        if curve < 0.0 {
            let shift = 0.5 * (before - after) / curve;
            best -= 0.25 * (before - after) * shift;
            along += shift;
        }
    }
    let along_face = 0.5 * (1.0 + place_of(along / last));
    Some(Peak { stress: best.sqrt(), face, along_face })
}
