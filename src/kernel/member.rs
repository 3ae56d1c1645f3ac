//! A beam whose sections yield: its basic forces from its basic deformations and what earlier loading left.
//!
//! The forces along the beam follow from the basic forces by statics, exactly; the basic deformations from the strains of the
//! sections by virtual work, exactly. What is iterated for is that the sections, at the Gauss points, carry those forces at
//! those strains: Newton's method on forces and strains together. While nothing yields this is the linear beam itself.
//! Source: Spacone, Filippou & Taucer, Earthq. Eng. Struct. Dyn. 25 (1996) 711; Neuenhofer & Filippou, J. Struct. Eng. 123
//! (1997) 958, both from memory. Derived: docs/method.md, "Yielding".

use super::beam::{BasicStiffness, GAUSS_COUNT, GAUSS_POINTS, GAUSS_WEIGHTS, Rigidity};
use super::corotational::Basic;
use super::fibre::{Forces, Plastic, Rectangle, Strain};
use super::frame::{Beam, Frame};
use super::law::Law;
use nalgebra::{Matrix3, Matrix6, Vector3, Vector6};

/// Most Newton steps in one beam. chosen: beams settle in two to six.
const MOST_STEPS: usize = 24;

/// In how many parts a change of deformations is taken until one of them works.
const PARTS: [u32; 3] = [1, 4, 16];

/// What may be missing, as energy relative to that of the beam at yield; looser means less balance between sections.
const SETTLED: f64 = 1e-20;

/// A beam made ready for large displacements.
#[derive(Debug, Clone)]
pub(super) struct Member {
    pub(super) length: f64,
    basic: BasicStiffness,
    /// Deformations that give the basic forces of the unloaded frame.
    offset: Basic,
    rigidity: [Rigidity; GAUSS_COUNT],
    hinged: bool,
    yielding: Option<(usize, [Rectangle; GAUSS_COUNT])>,
}

/// A section that has yielded, or lies in a beam that has.
#[derive(Debug, Clone)]
struct SectionState {
    strain: Strain,
    forces: Forces,
    flexibility: Matrix3<f64>,
    plastic: Plastic,
}

/// What a beam has come to.
#[derive(Debug, Clone, Default)]
pub(super) struct MemberState {
    pub(super) forces: Basic,
    deformation: Basic,
    /// Deformations for which the sections were balanced last.
    settled_at: Basic,
    /// Stiffness at the present deformations.
    tangent: Matrix6<f64>,
    /// Forces, deformations and stiffness when it was accepted.
    accepted: (Basic, Basic, Matrix6<f64>),
    /// One for each Gauss point once any of them has yielded; none before.
    sections: Vec<SectionState>,
}

/// A linear stand-in for a beam, from where it was accepted: a first guess along a tangent stretches beams that turn by far more
/// than they ever will be, and nothing is to yield by that.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Guess {
    /// Loading goes on: as stiff as it was last.
    Onward,
    /// It may turn back: elastic.
    Back,
}

/// The sections and the basic forces did not settle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Unsettled;

/// Axial force and bending at a place, 0 to 1, by the basic forces.
fn section_forces(q: &Basic, at: f64) -> Forces {
    Vector3::new(q[0], at * q[3] - (1.0 - at) * q[1], at * q[4] - (1.0 - at) * q[2])
}

/// Adds to deformations what strains of a section over a length make.
fn add_strain(v: &mut Basic, e: &Strain, at: f64, length: f64) {
    v[0] += length * e.x;
    v[1] -= length * (1.0 - at) * e.y;
    v[2] -= length * (1.0 - at) * e.z;
    v[3] += length * at * e.y;
    v[4] += length * at * e.z;
}

impl Member {
    pub(super) fn new(beam: &Beam, length: f64, rest: &Basic) -> Self {
        let basic = BasicStiffness::new(beam, length);
        Self {
            length,
            offset: basic.flexibility * rest,
            basic,
            rigidity: beam.rigidity,
            hinged: beam.hinged_end,
            yielding: beam
                .yielding
                .as_ref()
                .map(|y| (y.law, y.sizes.map(|[width, thickness]| Rectangle { width, thickness }))),
        }
    }

    /// Strains of the sections while all is elastic.
    fn elastic_strain(&self, q: &Basic, g: usize) -> Strain {
        let r = &self.rigidity[g];
        section_forces(q, GAUSS_POINTS[g]).component_div(&Vector3::new(r.axial, r.bending_y, r.bending_z))
    }

    /// Brings the state to basic deformations counted from the unloaded frame; gives the tangent stiffness.
    ///
    /// Plastic strains stay what they were: [`Member::accept`] moves them on.
    pub(super) fn respond(
        &self,
        frame: &Frame,
        deformation: &Basic,
        state: &mut MemberState,
        guess: Option<Guess>,
    ) -> Result<Matrix6<f64>, Unsettled> {
        let v = deformation + self.offset;
        let elastic = self.basic.stiffness * v;
        state.deformation = v;
        if let Some(guess) = guess {
            let (forces, from, tangent) = &state.accepted;
            let stiffness = if guess == Guess::Onward { tangent } else { &self.basic.stiffness };
            state.forces = forces + stiffness * (v - from);
            return Ok(*stiffness);
        }
        state.tangent = self.true_response(frame, &v, &elastic, state)?;
        Ok(state.tangent)
    }

    fn true_response(
        &self,
        frame: &Frame,
        v: &Basic,
        elastic: &Basic,
        state: &mut MemberState,
    ) -> Result<Matrix6<f64>, Unsettled> {
        let Some((law, rectangles)) = &self.yielding else {
            state.forces = *elastic;
            return Ok(self.basic.stiffness);
        };
        let law = &frame.laws[*law];
        let untouched = state.sections.iter().all(|s| s.plastic.is_empty());
        if untouched {
            let within = (0..GAUSS_COUNT).all(|g| {
                rectangles[g].corner_strain(&self.elastic_strain(elastic, g)) <= law.elastic_strain()
            });
            if within {
                state.forces = *elastic;
                state.settled_at = *v;
                state.sections.clear();
                return Ok(self.basic.stiffness);
            }
        }
        if state.sections.is_empty() {
            state.forces = self.basic.stiffness * state.settled_at;
            state.sections = (0..GAUSS_COUNT)
                .map(|g| {
                    let strain = self.elastic_strain(&state.forces, g);
                    let plastic = Plastic::default();
                    let response = rectangles[g].response(law, &strain, &plastic);
                    let flexibility = response.tangent.try_inverse().ok_or(Unsettled)?;
                    Ok(SectionState { strain, forces: response.forces, flexibility, plastic })
                })
                .collect::<Result<_, _>>()?;
        }
        // From the deformations for which the sections were balanced last, if need be in several steps.
        let before = state.clone();
        for parts in PARTS {
            let ways = (1..=parts)
                .map(|i| before.settled_at + (v - before.settled_at) * (f64::from(i) / f64::from(parts)));
            let mut found = Err(Unsettled);
            for way in ways {
                found = self.settle(law, rectangles, &way, state);
                if found.is_err() {
                    break;
                }
            }
            if found.is_ok() {
                state.settled_at = *v;
                return found;
            }
            state.clone_from(&before);
            state.deformation = *v;
        }
        Err(Unsettled)
    }

    fn settle(
        &self,
        law: &Law,
        rectangles: &[Rectangle; GAUSS_COUNT],
        v: &Basic,
        state: &mut MemberState,
    ) -> Result<Matrix6<f64>, Unsettled> {
        let strain = law.elastic_strain();
        let enough = SETTLED
            * self.length
            * rectangles[0].width
            * rectangles[0].thickness
            * law.modulus()
            * strain
            * strain;
        let mut q = state.forces;
        for _ in 0..MOST_STEPS {
            // Flexibility, and deformations if the sections followed their tangents to the forces asked of them.
            let mut flexibility = Matrix6::zeros();
            flexibility[(5, 5)] = self.basic.flexibility[(5, 5)];
            let mut reached = Vector6::zeros();
            reached[5] = self.basic.flexibility[(5, 5)] * q[5];
            let mut missing = 0.0;
            for (g, s) in state.sections.iter().enumerate() {
                let (at, w) = (GAUSS_POINTS[g], GAUSS_WEIGHTS[g] * self.length);
                let short = section_forces(&q, at) - s.forces;
                let more = s.flexibility * short;
                missing += w * short.dot(&more);
                add_strain(&mut reached, &(s.strain + more), at, w);
                add_flexibility(&mut flexibility, &s.flexibility, at, w);
            }
            let stiffness = self.inverted(&flexibility).ok_or(Unsettled)?;
            let mut short = v - reached;
            if self.hinged {
                short[3] = 0.0;
                short[4] = 0.0;
            }
            let step = stiffness * short;
            missing += step.dot(&short);
            if !missing.is_finite() {
                return Err(Unsettled);
            }
            if missing.abs() <= enough {
                state.forces = q;
                return Ok(stiffness);
            }
            q += step;
            for (g, s) in state.sections.iter_mut().enumerate() {
                let short = section_forces(&q, GAUSS_POINTS[g]) - s.forces;
                s.strain += s.flexibility * short;
                let response = rectangles[g].response(law, &s.strain, &s.plastic);
                s.forces = response.forces;
                s.flexibility = response.tangent.try_inverse().ok_or(Unsettled)?;
            }
        }
        Err(Unsettled)
    }

    fn inverted(&self, flexibility: &Matrix6<f64>) -> Option<Matrix6<f64>> {
        let mut f = *flexibility;
        if self.hinged {
            for i in [3, 4] {
                f.row_mut(i).fill(0.0);
                f.column_mut(i).fill(0.0);
                f[(i, i)] = 1.0;
            }
        }
        let mut k = f.cholesky()?.inverse();
        if self.hinged {
            k[(3, 3)] = 0.0;
            k[(4, 4)] = 0.0;
        }
        Some(k)
    }

    /// Takes the present deformations as reached; gives the work spent on yielding, J.
    pub(super) fn accept(&self, frame: &Frame, state: &mut MemberState) -> f64 {
        state.accepted = (state.forces, state.deformation, state.tangent);
        let Some((law, rectangles)) = &self.yielding else { return 0.0 };
        let law = &frame.laws[*law];
        let mut spent = 0.0;
        for (g, s) in state.sections.iter_mut().enumerate() {
            spent += GAUSS_WEIGHTS[g] * self.length * rectangles[g].flow(law, &s.strain, &mut s.plastic);
        }
        spent
    }

    /// Energy stored elastically, J.
    pub(super) fn stored(&self, frame: &Frame, state: &MemberState) -> f64 {
        let (Some((law, rectangles)), false) = (&self.yielding, state.sections.is_empty()) else {
            return 0.5 * state.forces.dot(&state.deformation);
        };
        let law = &frame.laws[*law];
        let twist = 0.5 * state.forces[5] * state.forces[5] * self.basic.flexibility[(5, 5)];
        let sections = state.sections.iter().enumerate();
        twist
            + sections
                .map(|(g, s)| {
                    GAUSS_WEIGHTS[g] * self.length * rectangles[g].stored(law, &s.strain, &s.plastic)
                })
                .sum::<f64>()
    }

    /// Whether any section has yielded.
    pub(super) fn has_yielded(state: &MemberState) -> bool {
        state.sections.iter().any(|s| !s.plastic.is_empty())
    }

    /// The largest normal stress in a section that has yielded, Pa; `None` when none has.
    pub(super) fn yielded_stress(&self, frame: &Frame, state: &MemberState) -> Option<f64> {
        let (law, rectangles) = self.yielding.as_ref()?;
        let law = &frame.laws[*law];
        let sections = state.sections.iter().enumerate().filter(|(_, s)| !s.plastic.is_empty());
        sections.map(|(g, s)| rectangles[g].largest_stress(law, &s.strain, &s.plastic)).reduce(f64::max)
    }

    /// The largest share of a section that is flowing.
    pub(super) fn flowing_share(&self, frame: &Frame, state: &MemberState) -> f64 {
        let Some((law, rectangles)) = &self.yielding else { return 0.0 };
        let law = &frame.laws[*law];
        let sections = state.sections.iter().enumerate();
        sections.map(|(g, s)| rectangles[g].flowing_share(law, &s.strain, &s.plastic)).fold(0.0, f64::max)
    }

    /// Rotation vector, in the beam's axes, by which the end stands off the start when nothing acts: strains less what the
    /// forces would make of an elastic beam, rad.
    pub(super) fn kink(&self, state: &MemberState) -> [f64; 2] {
        let mut kink = [0.0; 2];
        for (g, s) in state.sections.iter().enumerate() {
            let left = s.strain - self.elastic_strain(&state.forces, g);
            kink[0] += GAUSS_WEIGHTS[g] * self.length * left.y;
            kink[1] += GAUSS_WEIGHTS[g] * self.length * left.z;
        }
        kink
    }
}

fn add_flexibility(to: &mut Matrix6<f64>, f: &Matrix3<f64>, at: f64, w: f64) {
    // Rows of the basic forces in the section's: pull, and two moments each by its lever.
    let places = [(0, 0, 1.0), (1, 1, at - 1.0), (2, 2, at - 1.0), (3, 1, at), (4, 2, at)];
    for (i, a, p) in places {
        for (j, b, r) in places {
            to[(i, j)] += w * p * r * f[(a, b)];
        }
    }
}
