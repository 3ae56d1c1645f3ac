//! Static solution of a frame with one-sided links.
//!
//! The elastic energy of beams and one-sided links is convex and piecewise quadratic in the displacements.
//! Newton's method on it solves a linear system for the links that are taut at the moment and steps towards
//! that solution as far as the energy falls (exact line search along the step, where the slope is piecewise
//! linear). The energy falls at every step, so no set of taut links can come round in a circle, and the method
//! ends when a full step keeps the set it was computed with. Derived: docs/method.md, "Wires".

use super::beam::SectionForces;
use super::corotational::Basic;
use super::frame::{Frame, FrameError, NodalLoad};
use super::system::{Factor, System, Tie};
use nalgebra::{UnitQuaternion, Vector3, Vector6};
use thiserror::Error;

use super::Six;

/// Most Newton steps for one solution. chosen: 30 000 random frames of up to eight wires took eight at most.
const MOST_STEPS: usize = 60;

/// Most rounds of iterative refinement. chosen: one round brings the imbalance to rounding level.
const MOST_REFINEMENTS: usize = 3;

/// Imbalance at a free node, relative to the largest nodal load, at which refinement ends; looser means less equilibrium.
const BALANCED: f64 = 1e-12;

/// Imbalance relative to the largest force on a node or in a beam above which there is no answer. chosen: a hundred times smaller than
/// any figure that is shown.
const TOLERATED: f64 = 1e-5;

/// How far from its threshold a link counts as exactly on it, relative to the largest force about.
const ON_THE_EDGE: f64 = 1e-12;

/// What a solution cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Effort {
    /// Newton steps, one for each set of taut links tried.
    pub steps: usize,
    /// Steps that the line search shortened.
    pub shortened: usize,
    /// Factorisations made for this solution; known sets are not factorised again.
    pub factorisations: usize,
    /// Rounds of iterative refinement.
    pub refinements: usize,
}

/// A load that has no solution.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SolveError {
    /// The frame itself is at fault.
    #[error(transparent)]
    Frame(#[from] FrameError),
    /// A load on a node that is not in the frame, or not finite.
    #[error("load {0} is on no node of the frame or is not a finite number")]
    BadLoad(usize),
    /// The set of taut links did not settle.
    #[error("the set of taut links did not settle in {0} steps")]
    Unsettled(usize),
    /// Rounding spoils the balance of forces: members of the frame differ too much in stiffness.
    #[error("rounding leaves {0:.3e} N or N m out of balance")]
    Unbalanced(f64),
    /// The answer has a value that is not finite.
    #[error("the displacement of node {0} came out as not a number")]
    NotFinite(usize),
}

/// The converged state of a frame under a load.
#[derive(Debug, Clone)]
#[must_use]
pub struct Solution {
    /// Displacement and rotation vector of each node, counted from the unloaded frame (with its links at rest tension).
    pub displacements: Vec<Six>,
    /// Tension of each link, N; exactly zero when slack.
    pub tensions: Vec<f64>,
    /// Force and moment that each clamped node receives from its support, in the order of [`Frame::clamped`].
    pub reactions: Vec<Six>,
    /// What it cost.
    pub effort: Effort,
    /// Whether rotations are finite ones, or so small that they add up.
    pub(super) large: bool,
    /// Section forces at the end of each beam, pretension included, and its length.
    pub(super) ends: Vec<(SectionForces, f64)>,
    /// Force and moment that each beam gets at its start, in the frame's axes, pretension included.
    pub(super) starts: Vec<Six>,
}

impl Solution {
    /// Section forces of a beam at a fraction of its length from the start, in its own axes as it now lies; pretension included.
    ///
    /// # Panics
    /// When the frame has no beam of that index.
    #[must_use]
    pub fn section_forces(&self, beam: usize, fraction: f64) -> SectionForces {
        let (end, length) = &self.ends[beam];
        end.nearer(length * (1.0 - fraction))
    }

    /// Force, N, and moment, N·m, that a beam gets from the node at its start, in the frame's axes; pretension included.
    ///
    /// # Panics
    /// When the frame has no beam of that index.
    #[must_use]
    pub fn start_force(&self, beam: usize) -> Six {
        self.starts[beam]
    }

    /// Displacement of the end of a rigid arm from a node, m.
    ///
    /// # Panics
    /// When the frame has no node of that index.
    #[must_use]
    pub fn displacement_at(&self, node: usize, arm: [f64; 3]) -> [f64; 3] {
        let [ux, uy, uz, tx, ty, tz] = self.displacements[node];
        let (turn, arm) = (Vector3::new(tx, ty, tz), Vector3::from(arm));
        let swung =
            if self.large { UnitQuaternion::from_scaled_axis(turn) * arm - arm } else { turn.cross(&arm) };
        [ux + swung.x, uy + swung.y, uz + swung.z]
    }
}

/// Displacements, and whether the nodes balance at them.
type Refined = (Vec<Vector6<f64>>, Result<(), SolveError>);

/// A frame with its equations, ready for any number of loads.
#[derive(Debug)]
pub struct Solver {
    system: System,
    clamped: Vec<usize>,
    nodes: usize,
    /// End forces of each beam in the unloaded frame: what links at rest tension leave in it.
    rest_end_forces: Vec<Vector6<f64>>,
    factors: Vec<Factor>,
}

impl Solver {
    /// Assembles and factorises a frame.
    ///
    /// # Errors
    /// When a member is unsound, the frame is a mechanism without its links, or their rest tension can't be balanced.
    pub fn new(frame: &Frame) -> Result<Self, SolveError> {
        let system = System::new(frame)?;
        let mut solver = Self {
            clamped: frame.clamped.clone(),
            nodes: frame.nodes.len(),
            rest_end_forces: vec![Vector6::zeros(); frame.beams.len()],
            factors: Vec::new(),
            system,
        };
        let cords: Vec<bool> = solver.system.ties.iter().map(|t| t.line.is_some()).collect();
        if solver.system.ties.iter().any(|t| t.line.is_some() && t.rest > 0.0) {
            let mut pulls = vec![Vector6::zeros(); solver.nodes];
            for tie in solver.system.ties.iter().filter(|t| t.line.is_some()) {
                tie.pull(tie.rest.max(0.0), &mut pulls);
            }
            // Cords that are tightened pull the frame into its finished shape; what else holds it starts from there.
            let u = solver.settle(&pulls, &cords, &mut Effort::default())?;
            solver.rest_end_forces =
                solver.system.elements.iter().map(|e| e.end_force(&u[e.start], &u[e.end])).collect();
            for tie in solver.system.ties.iter_mut().filter(|t| t.line.is_none()) {
                tie.rest += tie.stiffness * tie.elongation(&u);
            }
        }
        Ok(solver)
    }

    /// Solves for one set of nodal loads.
    ///
    /// # Errors
    /// When a load is unsound or the set of taut links does not settle; there is no half-converged solution.
    pub fn solve(&mut self, loads: &[NodalLoad]) -> Result<Solution, SolveError> {
        let mut applied = vec![Vector6::zeros(); self.nodes];
        for (index, l) in loads.iter().enumerate() {
            match applied.get_mut(l.node) {
                Some(slot) if l.load.iter().all(|c| c.is_finite()) => *slot += Vector6::from(l.load),
                _ => return Err(SolveError::BadLoad(index)),
            }
        }
        let mut effort = Effort::default();
        let all = vec![false; self.system.ties.len()];
        let u = self.settle(&applied, &all, &mut effort)?;
        if let Some(n) = u.iter().position(|d| !d.iter().all(|c| c.is_finite())) {
            return Err(SolveError::NotFinite(n));
        }

        let tensions: Vec<f64> =
            self.system.ties.iter().map(|t| t.least(t.rest + t.stiffness * t.elongation(&u))).collect();
        let end_forces: Vec<Vector6<f64>> = self
            .system
            .elements
            .iter()
            .zip(&self.rest_end_forces)
            .map(|(e, rest)| e.end_force(&u[e.start], &u[e.end]) + rest)
            .collect();
        let mut held = vec![Vector6::zeros(); self.nodes];
        for (e, end) in self.system.elements.iter().zip(&end_forces) {
            held[e.start] += e.start_force(end);
            held[e.end] += end;
        }
        let mut given = applied;
        for (tie, &t) in self.system.ties.iter().zip(&tensions) {
            tie.pull(t, &mut given);
        }
        Ok(Solution {
            displacements: u.iter().map(|d| (*d).into()).collect(),
            reactions: self.clamped.iter().map(|&n| (held[n] - given[n]).into()).collect(),
            tensions,
            effort,
            large: false,
            starts: self
                .system
                .elements
                .iter()
                .zip(&end_forces)
                .map(|(e, end)| e.start_force(end).into())
                .collect(),
            ends: self
                .system
                .elements
                .iter()
                .zip(&end_forces)
                .map(|(e, end)| (e.at_end(end), e.length()))
                .collect(),
        })
    }

    /// Finds the displacements at which the energy is least, some links being left out.
    fn settle(
        &mut self,
        applied: &[Vector6<f64>],
        without: &[bool],
        effort: &mut Effort,
    ) -> Result<Vec<Vector6<f64>>, SolveError> {
        let ties = self.system.ties.len();
        let force_scale = self
            .system
            .ties
            .iter()
            .map(|t| t.rest.abs())
            .chain(applied.iter().map(|f| f.amax()))
            .fold(0.0, f64::max);
        let edge = ON_THE_EDGE * force_scale;
        // A snug link (rest tension zero) starts taut: it costs nothing when it isn't.
        let acts: Vec<bool> = without.iter().map(|w| !w).collect();
        let ready = |t: &Tie| t.both_ways || t.rest >= 0.0;
        let mut taut: Vec<bool> =
            self.system.ties.iter().zip(&acts).map(|(t, acts)| *acts && ready(t)).collect();
        let mut u = vec![Vector6::zeros(); self.nodes];
        while effort.steps < MOST_STEPS {
            effort.steps += 1;
            let (target, balanced) = self.with_taut(&taut, &acts, applied, effort)?;
            let pulls: Vec<f64> =
                self.system.ties.iter().map(|t| t.rest + t.stiffness * t.elongation(&target)).collect();
            let mut wrong = false;
            let mut next = taut.clone();
            for i in (0..ties).filter(|i| acts[*i] && !self.system.ties[*i].both_ways) {
                let now = if taut[i] { pulls[i] > -edge } else { pulls[i] > edge };
                wrong |= now != taut[i];
                next[i] = now;
            }
            if !wrong {
                balanced?;
                return Ok(target);
            }
            let step = self.least_energy(&u, &target, &acts, applied);
            if step < 1.0 {
                effort.shortened += 1;
            }
            for (now, goal) in u.iter_mut().zip(&target) {
                *now += step * (goal - *now);
            }
            taut = if step < 1.0 {
                let pulls = |t: &Tie| t.both_ways || t.rest + t.stiffness * t.elongation(&u) > 0.0;
                self.system.ties.iter().zip(&acts).map(|(t, acts)| *acts && pulls(t)).collect()
            } else {
                next
            };
        }
        Err(SolveError::Unsettled(MOST_STEPS))
    }

    /// Displacements, and whether they balance, when exactly these links act, whatever the sign of their tension.
    fn with_taut(
        &mut self,
        taut: &[bool],
        acts: &[bool],
        applied: &[Vector6<f64>],
        effort: &mut Effort,
    ) -> Result<Refined, FrameError> {
        let mut forces = applied.to_vec();
        for ((tie, &on), _) in self.system.ties.iter().zip(taut).zip(acts).filter(|(_, acts)| **acts) {
            // Beyond the rest state a taut link adds its rest tension minus what the rest state already holds.
            let now = if on { tie.rest } else { 0.0 };
            tie.pull(now - tie.at_rest(), &mut forces);
        }
        let which = self.factor_for(taut, effort)?;
        Ok(self.refined(which, &forces, effort))
    }

    /// The fraction of the step from `u` to `target` at which the energy is least, at most 1.
    fn least_energy(
        &self,
        u: &[Vector6<f64>],
        target: &[Vector6<f64>],
        acts: &[bool],
        applied: &[Vector6<f64>],
    ) -> f64 {
        let step: Vec<Vector6<f64>> = target.iter().zip(u).map(|(b, a)| b - a).collect();
        let dot = |a: &[Vector6<f64>]| -> f64 { a.iter().zip(&step).map(|(x, p)| x.dot(p)).sum() };
        let constant = dot(&self.system.beam_forces(u)) - dot(applied);
        let slope = dot(&self.system.beam_forces(&step));
        let links: Vec<(&Tie, f64, f64)> = self
            .system
            .ties
            .iter()
            .zip(acts)
            .filter(|(_, acts)| **acts)
            .map(|(t, _)| (t, t.elongation(u), t.elongation(&step)))
            .collect();
        // dE/ds at fraction s: rises with s, linear between the fractions at which a link changes.
        let rise = |s: f64| -> f64 {
            constant
                + s * slope
                + links
                    .iter()
                    .map(|(t, e, de)| (t.least(t.rest + t.stiffness * (e + s * de)) - t.at_rest()) * de)
                    .sum::<f64>()
        };
        if rise(1.0) <= 0.0 {
            return 1.0;
        }
        let mut corners: Vec<f64> = links
            .iter()
            .filter(|(t, ..)| !t.both_ways)
            .map(|(t, e, de)| -(t.rest / t.stiffness + e) / de)
            .filter(|s| *s > 0.0 && *s < 1.0)
            .collect();
        corners.push(1.0);
        corners.sort_by(f64::total_cmp);
        let (mut low, mut low_rise) = (0.0, rise(0.0));
        for corner in corners {
            let corner_rise = rise(corner);
            if corner_rise >= 0.0 {
                let run = corner_rise - low_rise;
                return if run > 0.0 { low + (corner - low) * (-low_rise / run) } else { corner };
            }
            (low, low_rise) = (corner, corner_rise);
        }
        1.0
    }

    /// Index of the factor for a set of taut links, made if it is new.
    fn factor_for(&mut self, taut: &[bool], effort: &mut Effort) -> Result<usize, FrameError> {
        if let Some(known) = self.factors.iter().position(|f| f.taut == taut) {
            return Ok(known);
        }
        effort.factorisations += 1;
        self.factors.push(self.system.factor(taut)?);
        Ok(self.factors.len() - 1)
    }

    /// Solves and repeats on the imbalance until the nodes balance; says whether they do.
    fn refined(&self, which: usize, forces: &[Vector6<f64>], effort: &mut Effort) -> Refined {
        let factor = &self.factors[which];
        let mut u = self.system.solve(factor, forces);
        let scale = forces.iter().map(|f| f.amax()).fold(0.0, f64::max);
        for round in 0.. {
            let left = self.imbalance(factor, forces, &u);
            let worst = left.iter().map(|l| l.amax()).fold(0.0, f64::max);
            if worst <= BALANCED * scale {
                break;
            }
            if round == MOST_REFINEMENTS {
                let ends = self.system.elements.iter().map(|e| e.end_force(&u[e.start], &u[e.end]).amax());
                if worst > TOLERATED * ends.fold(scale, f64::max) {
                    return (u, Err(SolveError::Unbalanced(worst)));
                }
                break;
            }
            effort.refinements += 1;
            for (now, more) in u.iter_mut().zip(self.system.solve(factor, &left)) {
                *now += more;
            }
        }
        (u, Ok(()))
    }

    /// What is missing for balance at each free node.
    fn imbalance(&self, factor: &Factor, forces: &[Vector6<f64>], u: &[Vector6<f64>]) -> Vec<Vector6<f64>> {
        let mut held = self.system.beam_forces(u);
        for (tie, &on) in self.system.ties.iter().zip(&factor.taut) {
            if on {
                tie.pull(-tie.stiffness * tie.elongation(u), &mut held);
            }
        }
        let missing = forces.iter().zip(&held).enumerate();
        missing.map(|(n, (f, h))| if self.system.is_free(n) { f - h } else { Vector6::zeros() }).collect()
    }

    /// Index of the factor for a set of taut links.
    pub(super) fn factor_index(&mut self, taut: &[bool]) -> Result<usize, FrameError> {
        self.factor_for(taut, &mut Effort::default())
    }

    /// Displacements under nodal forces with one of the factors.
    pub(super) fn displaced(&self, which: usize, forces: &[Vector6<f64>]) -> Vec<Vector6<f64>> {
        self.system.solve(&self.factors[which], forces)
    }

    /// Whether a node is free to move.
    pub(super) fn is_free(&self, node: usize) -> bool {
        self.system.is_free(node)
    }

    /// Start, end, line and length of each beam.
    pub(super) fn beam_lines(&self) -> impl Iterator<Item = (usize, usize, Vector3<f64>, f64)> + '_ {
        self.system.elements.iter().map(|e| (e.start, e.end, e.line(), e.length()))
    }

    /// Ends, line and length of each cord, with its index among the links.
    pub(super) fn cord_lines(
        &self,
    ) -> impl Iterator<Item = (usize, [Option<usize>; 2], Vector3<f64>, f64)> + '_ {
        self.system.ties.iter().enumerate().filter_map(|(i, t)| {
            let (line, length) = t.line?;
            Some((i, t.ends.map(|e| e.map(|e| e.0)), line, length))
        })
    }

    /// Which links act in a solution.
    pub(super) fn acting(&self, solution: &Solution) -> Vec<bool> {
        self.system.ties.iter().zip(&solution.tensions).map(|(t, pull)| t.both_ways || *pull > 0.0).collect()
    }

    /// Tension of each link in the unloaded frame, N.
    pub(super) fn rest_tensions(&self) -> impl Iterator<Item = f64> + '_ {
        self.system.ties.iter().map(|t| t.rest)
    }

    /// Basic forces of each beam in the unloaded frame.
    pub(super) fn rest_forces(&self) -> impl Iterator<Item = Basic> + '_ {
        let ends = self.system.elements.iter().zip(&self.rest_end_forces);
        ends.map(|(e, force)| e.at_end(force).basic(e.length()))
    }

    /// The equations.
    pub(super) const fn system(&self) -> &System {
        &self.system
    }
}
