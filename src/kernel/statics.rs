//! Large displacements: equilibrium of a frame whose nodes move and turn far, whose sections yield and whose links go slack,
//! yield and break.
//!
//! Newton's method on the balance of forces, with the exact tangent; its first step from rest is the solution of the linear
//! solver. What the load is multiplied by is either given or found: then it is the distance along a direction that is given,
//! which leads past the top of a load–deflection curve where no load could. A step that can't be taken is cut, or reported;
//! there is no half-converged state.
//! Source: Riks, Int. J. Solids Struct. 15 (1979) 529; Crisfield, Non-linear Finite Element Analysis of Solids and Structures,
//! vol. 1, ch. 9, both from memory. Derived: docs/method.md, "Large movements".

use super::beam::SectionForces;
use super::buckling::ArmLoad;
use super::cord::{Cord, CordState};
use super::corotational::{Chord, Moved};
use super::frame::{Frame, LinkStrength, NodalLoad};
use super::member::{Guess, Member, MemberState};
use super::newton::{Bound, Tangent, Trying, dot};
use super::solver::{Effort, Solution, SolveError, Solver};
use nalgebra::{Matrix3, Vector3, Vector6};
use std::sync::Arc;
use thiserror::Error;

/// Smallest share of the way to a load that is tried before giving up. chosen: half a per cent.
const LEAST_STEP: f64 = 1.0 / 200.0;

/// Travel in an increment, relative to what was foreseen, beyond which it is asked where the work went. chosen: an increment that
/// ends at the top of a curve travels twice as far as foreseen.
const UNFORESEEN: f64 = 3.0;

/// Work that may be missing then, relative to all of it: that of a kink in the curve, not that of a fall. chosen: a load–deflection
/// curve that dips by less is flat.
const MISSED: f64 = 0.05;

/// Loads that are raised together. Forces keep their direction; arms turn with their nodes.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Load {
    /// Forces at the ends of rigid arms.
    pub arms: Vec<ArmLoad>,
    /// Forces and moments on nodes, the moments about fixed axes.
    pub nodal: Vec<NodalLoad>,
}

/// A load that was not reached.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[error("no stable equilibrium was found beyond {reached:.6} of the load asked for")]
pub struct NotReached {
    /// The multiple of the load that was reached.
    pub reached: f64,
}

/// Where a frame has come to. Made by [`Statics::at_rest`], moved on by converged increments only.
#[derive(Debug, Clone)]
pub struct Configuration {
    pub(super) nodes: Vec<Moved>,
    pub(super) members: Vec<MemberState>,
    pub(super) cords: Vec<CordState>,
    pub(super) multiple: f64,
    pub(super) spent: f64,
    pub(super) least_pivot: f64,
    pub(super) negative: usize,
    /// Largest force and moment met so far: what imbalance is measured by when nothing is left of them.
    pub(super) met: [f64; 2],
    /// Travel of the load in the last increment, J per unit of its multiple, as far as the stiffness before it could tell.
    pub(super) expected: f64,
    pub(super) effort: Effort,
    /// The tangent of the last increment's end, for the next to begin with.
    pub(super) tangent: Option<Arc<Tangent>>,
}

/// Energy of a configuration, J.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Energy {
    /// Held by what is elastic; given back if it unloads without yielding the other way.
    pub stored: f64,
    /// Spent on yielding and on what broke.
    pub spent: f64,
}

/// A frame made ready for large displacements.
#[derive(Debug)]
pub struct Statics {
    pub(super) frame: Frame,
    pub(super) solver: Solver,
    pub(super) chords: Vec<Chord>,
    pub(super) members: Vec<Member>,
    pub(super) cords: Vec<Cord>,
    /// The largest distance of a node from a clamp, or where there is none from the first node, m.
    pub(super) size: f64,
}

impl Configuration {
    /// What the load is multiplied by.
    #[must_use]
    pub const fn multiple(&self) -> f64 {
        self.multiple
    }

    /// Whether every small movement takes energy: what holds under a load that stays.
    #[must_use]
    pub const fn is_stable(&self) -> bool {
        self.negative == 0
    }

    /// The smallest pivot of the tangent: above zero in a stable configuration, and zero where it ceases to be one.
    #[must_use]
    pub const fn least_pivot(&self) -> f64 {
        self.least_pivot
    }

    /// Whether any beam's section has yielded.
    #[must_use]
    pub fn has_yielded(&self) -> bool {
        self.members.iter().any(Member::has_yielded)
    }

    /// Tension of each link, N, as if it could push: how far it is from being taut when negative. Nothing for a broken one.
    #[must_use]
    pub fn link_pulls(&self) -> Vec<f64> {
        self.cords.iter().map(|c| if c.broken() { 0.0 } else { c.tried }).collect()
    }

    /// Whether each link has broken.
    #[must_use]
    pub fn links_broken(&self) -> Vec<bool> {
        self.cords.iter().map(CordState::broken).collect()
    }

    /// Whether each link has yielded.
    #[must_use]
    pub fn links_yielded(&self) -> Vec<bool> {
        self.cords.iter().map(CordState::has_yielded).collect()
    }

    /// What it has cost so far.
    #[must_use]
    pub const fn effort(&self) -> Effort {
        self.effort
    }
}

impl Statics {
    /// Makes a frame ready.
    ///
    /// # Errors
    /// As [`Solver::new`].
    pub fn new(frame: Frame) -> Result<Self, SolveError> {
        let solver = Solver::new(&frame)?;
        let chords: Vec<Chord> = frame
            .beams
            .iter()
            .map(|b| {
                let arm = Vector3::from(frame.nodes[b.end]) - Vector3::from(frame.nodes[b.start]);
                let axes = Matrix3::from_columns(&b.axes.map(Vector3::from));
                Chord { arm, length: arm.norm(), axes }
            })
            .collect();
        let members = frame
            .beams
            .iter()
            .zip(&chords)
            .zip(solver.rest_forces())
            .map(|((b, c), rest)| Member::new(b, c.length, &rest))
            .collect();
        let cords = solver.rest_tensions().enumerate().map(|(i, rest)| Cord::new(&frame, i, rest)).collect();
        // A frame on springs has no clamp: any node will do to measure from.
        let held = frame.clamped.iter().copied().chain(frame.clamped.is_empty().then_some(0));
        let held: Vec<Vector3<f64>> =
            held.filter_map(|n| frame.nodes.get(n)).map(|n| Vector3::from(*n)).collect();
        let size = frame
            .nodes
            .iter()
            .flat_map(|n| held.iter().map(|h| (Vector3::from(*n) - h).norm()))
            .fold(f64::MIN_POSITIVE, f64::max);
        Ok(Self { frame, solver, chords, members, cords, size })
    }

    /// The unloaded frame, its links at their rest tension.
    #[must_use]
    pub fn at_rest(&self) -> Configuration {
        let mut c = Configuration {
            nodes: vec![Moved::at_rest(); self.frame.nodes.len()],
            members: vec![MemberState::default(); self.members.len()],
            cords: self.cords.iter().map(Cord::at_rest).collect(),
            multiple: 0.0,
            spent: 0.0,
            least_pivot: f64::INFINITY,
            negative: 0,
            met: [0.0; 2],
            expected: 0.0,
            effort: Effort::default(),
            tangent: None,
        };
        for (i, member) in self.members.iter().enumerate() {
            // Pretension that makes a beam yield by itself shows at the first increment.
            let _ = member.respond(&self.frame, &Vector6::zeros(), &mut c.members[i], None);
            c.spent += member.accept(&self.frame, &mut c.members[i]);
        }
        c
    }

    /// The frame.
    #[must_use]
    pub const fn frame(&self) -> &Frame {
        &self.frame
    }

    /// Loads a configuration to a multiple of a load, in as many steps as it takes.
    ///
    /// # Errors
    /// When the multiple can't be reached along stable equilibria; the configuration is then what was reached.
    pub fn hold(&self, c: &mut Configuration, load: &Load, multiple: f64) -> Result<(), NotReached> {
        let whole = multiple - c.multiple;
        let mut step = whole;
        loop {
            let left = multiple - c.multiple;
            let last = step.abs() >= left.abs();
            let goal = if last { multiple } else { c.multiple + step };
            let found = self.increment(c, load, &Bound::Multiple(goal), Trying::Whole);
            match found.filter(|next| next.is_stable() && !self.jumped(c, next, load)) {
                Some(next) => {
                    *c = next;
                    if last {
                        return Ok(());
                    }
                    step *= 1.5;
                }
                None => {
                    step = 0.5 * if last { left } else { step };
                    if step.abs() <= LEAST_STEP * whole.abs() {
                        return Err(NotReached { reached: c.multiple });
                    }
                }
            }
        }
    }

    /// Whether an increment of the load went to an equilibrium on another branch: far more travel than was foreseen, and work
    /// of the load that is found neither in what is stored nor in what was spent.
    pub(super) fn jumped(&self, from: &Configuration, to: &Configuration, load: &Load) -> bool {
        let travel = self.work_per_multiple(from, to, load);
        if travel.abs() <= UNFORESEEN * to.expected.abs() {
            return false;
        }
        let work = 0.5 * (from.multiple + to.multiple) * travel;
        let [before, after] = [from, to].map(|c| self.energy(c)).map(|e| e.stored + e.spent);
        (work - (after - before)).abs() > MISSED * work.abs()
    }

    /// Work of the load, at one of its multiple, between two configurations that are near, J.
    fn work_per_multiple(&self, from: &Configuration, to: &Configuration, load: &Load) -> f64 {
        let steps: Vec<Vector6<f64>> = from
            .nodes
            .iter()
            .zip(&to.nodes)
            .map(|(a, b)| {
                let (by, turn) = (b.by - a.by, (b.turn * a.turn.inverse()).scaled_axis());
                Vector6::new(by.x, by.y, by.z, turn.x, turn.y, turn.z)
            })
            .collect();
        0.5 * (dot(&self.load(&from.nodes, load), &steps) + dot(&self.load(&to.nodes, load), &steps))
    }

    /// Travel of the load between two configurations that are near, m, as [`Statics::advance`] measures it.
    pub(super) fn travelled(&self, from: &Configuration, to: &Configuration, load: &Load) -> f64 {
        let (_, size) = self.along(from, load);
        let length: f64 = self.load(&from.nodes, load).iter().map(Vector6::norm_squared).sum::<f64>().sqrt();
        self.work_per_multiple(from, to, load) / (size * length)
    }

    /// Moves a configuration on by a distance, m, along the load: the mean travel, weighed by force, of the places where the
    /// load acts. What the load is multiplied by comes out. `None` when there is no such configuration near.
    #[must_use]
    pub fn advance(&self, c: &Configuration, load: &Load, distance: f64) -> Option<Configuration> {
        self.advance_by(c, load, distance, Trying::Whole)
    }

    /// The same, tried for as hard as is said.
    pub(super) fn advance_by(
        &self,
        c: &Configuration,
        load: &Load,
        distance: f64,
        trying: Trying,
    ) -> Option<Configuration> {
        let (direction, size) = self.along(c, load);
        self.increment(c, load, &Bound::Along(&direction, distance * size), trying)
    }

    /// The same along the way the frame moved from one configuration to another: the distance is measured on all nodes, m.
    /// Leads round a curve that turns back both in load and in travel.
    #[must_use]
    pub fn advance_by_arc(
        &self,
        c: &Configuration,
        before: &Configuration,
        load: &Load,
        distance: f64,
    ) -> Option<Configuration> {
        let mut direction: Vec<Vector6<f64>> = c
            .nodes
            .iter()
            .zip(&before.nodes)
            .map(|(now, then)| {
                let by = now.by - then.by;
                Vector6::new(by.x, by.y, by.z, 0.0, 0.0, 0.0)
            })
            .collect();
        let size = direction.iter().map(Vector6::norm_squared).sum::<f64>().sqrt();
        for d in &mut direction {
            *d /= size;
        }
        self.increment(c, load, &Bound::Along(&direction, distance), Trying::Whole)
    }

    /// Travel per unit of the load's multiple, m, of an unloaded frame along the load, as [`Statics::advance`] measures it.
    #[must_use]
    pub fn travel_per_multiple(&self, c: &Configuration, load: &Load) -> Option<f64> {
        let mut c = c.clone();
        let balance = self.balance(&mut c, load, Some(Guess::Back)).ok()?;
        let factor = self.factor(&balance, &[])?;
        let (direction, size) = self.along(&c, load);
        Some(dot(&direction, &self.solve(&factor, &balance.load)) / size)
    }

    /// Lets a link go while the places where the load acts stay: what its load is multiplied by falls. `None` when no
    /// equilibrium is found.
    #[must_use]
    pub fn release(&self, c: &Configuration, load: &Load, link: usize) -> Option<Configuration> {
        let before = self.energy(c);
        let (direction, _) = self.along(c, load);
        let mut now = c.clone();
        let mut left = 1.0;
        let mut step = 0.25;
        while left > 0.0 {
            let mut next = now.clone();
            let grip = f64::max(left - step, 0.0);
            next.cords[link].grip = grip;
            next.tangent = None;
            if let Some(found) = self.increment(&next, load, &Bound::Along(&direction, 0.0), Trying::Whole) {
                now = found;
                left = grip;
            } else {
                step *= 0.5;
                if step < 1.0 / 256.0 {
                    return None;
                }
            }
        }
        // Nothing outside did work meanwhile: what is gone went with the link.
        let after = self.energy(&now);
        now.spent += (before.stored + before.spent) - (after.stored + after.spent);
        Some(now)
    }

    /// Energy of a configuration, J. The rest tension of links counts.
    #[must_use]
    pub fn energy(&self, c: &Configuration) -> Energy {
        let members = self.members.iter().zip(&c.members).map(|(m, s)| m.stored(&self.frame, s));
        let cords = self.cords.iter().zip(&c.cords).map(|(cord, s)| cord.stored(s));
        Energy { stored: members.chain(cords).sum(), spent: c.spent }
    }

    /// A configuration in the terms of a solution.
    pub fn solution(&self, c: &Configuration, load: &Load) -> Solution {
        let mut forces = vec![Vector6::zeros(); c.nodes.len()];
        let mut starts = Vec::with_capacity(self.chords.len());
        for (i, chord) in self.chords.iter().enumerate() {
            let beam = &self.frame.beams[i];
            let strained = chord.strained(&c.nodes[beam.start], &c.nodes[beam.end]);
            let [start, end] = strained.nodal_forces(&c.members[i].forces);
            starts.push(start.into());
            forces[beam.start] += start;
            forces[beam.end] += end;
        }
        for (cord, state) in self.cords.iter().zip(&c.cords) {
            if let Some(pull) = cord.respond(&c.nodes, &mut state.clone()) {
                for (node, force) in pull.ends.iter().flatten() {
                    forces[*node] += force;
                }
            }
        }
        for (f, l) in forces.iter_mut().zip(self.load(&c.nodes, load)) {
            *f -= c.multiple * l;
        }
        Solution {
            displacements: c
                .nodes
                .iter()
                .map(|n| {
                    let t = n.turn.scaled_axis();
                    [n.by.x, n.by.y, n.by.z, t.x, t.y, t.z]
                })
                .collect(),
            tensions: c.cords.iter().map(|s| s.tension).collect(),
            reactions: self.frame.clamped.iter().map(|&n| forces[n].into()).collect(),
            effort: c.effort,
            large: true,
            starts,
            ends: self
                .members
                .iter()
                .zip(&c.members)
                .map(|(m, s)| (SectionForces::at_end(&s.forces, m.length), m.length))
                .collect(),
        }
    }

    /// The largest normal stress among the sections of a beam that have yielded, Pa; `None` when none has.
    #[must_use]
    pub fn yielded_stress(&self, c: &Configuration, beam: usize) -> Option<f64> {
        self.members[beam].yielded_stress(&self.frame, &c.members[beam])
    }

    /// The largest share of a section of a beam that is at its limit.
    #[must_use]
    pub fn flowing_share(&self, c: &Configuration, beam: usize) -> f64 {
        self.members[beam].flowing_share(&self.frame, &c.members[beam])
    }

    /// The angle by which yielding has bent a beam, about its local y and z, rad.
    #[must_use]
    pub fn kink(&self, c: &Configuration, beam: usize) -> [f64; 2] {
        self.members[beam].kink(&c.members[beam])
    }

    /// Whether a link is a cord.
    pub(super) fn is_cord(&self, link: usize) -> bool {
        self.cords[link].is_cord()
    }

    /// Where each link yields and breaks.
    pub fn link_strengths(&self) -> impl Iterator<Item = LinkStrength> + '_ {
        self.cords.iter().map(Cord::strength)
    }

    /// The direction of the load, as a unit, and its size: force for its travel, so that their product is work.
    pub(super) fn along(&self, c: &Configuration, load: &Load) -> (Vec<Vector6<f64>>, f64) {
        let mut direction = self.load(&c.nodes, load);
        let arms = load.arms.iter().map(|l| Vector3::from(l.force).norm());
        let nodal = load.nodal.iter().map(|l| Vector6::from(l.load).norm());
        let size: f64 = arms.chain(nodal).sum();
        let length = direction.iter().map(Vector6::norm_squared).sum::<f64>().sqrt();
        for d in &mut direction {
            *d /= length;
        }
        (direction, size / length)
    }

    /// The load per unit of its multiple, at every node.
    pub(super) fn load(&self, nodes: &[Moved], load: &Load) -> Vec<Vector6<f64>> {
        let mut out = vec![Vector6::zeros(); nodes.len()];
        for l in &load.arms {
            let f = Vector3::from(l.force);
            let m = nodes[l.node].arm(&Vector3::from(l.arm)).cross(&f);
            out[l.node] += Vector6::new(f.x, f.y, f.z, m.x, m.y, m.z);
        }
        for l in &load.nodal {
            out[l.node] += Vector6::from(l.load);
        }
        out
    }
}
