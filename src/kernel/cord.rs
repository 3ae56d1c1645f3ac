//! A link between places that move far: a cord that is slack, taut, yielding or broken; a stop or a spring along a fixed line.

use super::corotational::{Moved, skew};
use super::frame::{Frame, LinkEnd, LinkStrength};
use nalgebra::{Matrix3, Matrix6, SMatrix, Vector3, Vector6};

/// A link made ready for large displacements.
#[derive(Debug, Clone)]
pub(super) struct Cord {
    ends: [CordEnd; 2],
    /// The line of a stop or a spring, and whether it pushes; a cord has none.
    fixed: Option<(Vector3<f64>, bool)>,
    length: f64,
    stiffness: f64,
    rest: f64,
    strength: LinkStrength,
}

#[derive(Debug, Clone, Copy)]
enum CordEnd {
    Node { node: usize, at: Vector3<f64>, arm: Vector3<f64> },
    Ground(Vector3<f64>),
}

/// What a link has come to.
#[derive(Debug, Clone, Copy)]
pub(super) struct CordState {
    /// Tension, N, on its way to nothing while it breaks.
    pub(super) tension: f64,
    /// The same as if it could push and had not begun to yield further: negative when slack, by how much.
    pub(super) tried: f64,
    /// Elongation that yielding has left, m.
    stretched: f64,
    /// What is left of a link that breaks, one to nothing.
    pub(super) grip: f64,
    more: f64,
}

impl CordState {
    pub(super) const fn broken(&self) -> bool {
        self.grip <= 0.0
    }

    pub(super) const fn has_yielded(&self) -> bool {
        self.stretched > 0.0
    }
}

/// Forces on the nodes and stiffness of a taut link.
pub(super) struct Pull {
    /// Node and force on the frame's balance (as a member's: what the node puts on it).
    pub(super) ends: [Option<(usize, Vector6<f64>)>; 2],
    /// Blocks (first, first), (second, first), (second, second).
    pub(super) stiffness: [Matrix6<f64>; 3],
}

impl Cord {
    /// Makes a link ready, `rest` being its tension in the unloaded frame.
    pub(super) fn new(frame: &Frame, index: usize, rest: f64) -> Self {
        let link = &frame.links[index];
        let end = |e| match e {
            LinkEnd::Node { node, arm } => {
                CordEnd::Node { node, at: Vector3::from(frame.nodes[node]), arm: Vector3::from(arm) }
            }
            LinkEnd::Ground(p) => CordEnd::Ground(Vector3::from(p)),
        };
        let along = Vector3::from(frame.place(link.to)) - Vector3::from(frame.place(link.from));
        Self {
            ends: [end(link.from), end(link.to)],
            fixed: link.action.direction().map(|d| (Vector3::from(d), link.action.both_ways())),
            length: along.norm(),
            stiffness: link.stiffness,
            rest,
            strength: link.strength,
        }
    }

    pub(super) fn at_rest(&self) -> CordState {
        let tension = if self.pushes() { self.rest } else { self.rest.max(0.0) };
        CordState { tension, tried: self.rest, stretched: 0.0, grip: 1.0, more: 0.0 }
    }

    /// Whether it is a cord, not a stop or a spring.
    pub(super) const fn is_cord(&self) -> bool {
        self.fixed.is_none()
    }

    fn pushes(&self) -> bool {
        self.fixed.is_some_and(|(_, both_ways)| both_ways)
    }

    pub(super) const fn strength(&self) -> LinkStrength {
        self.strength
    }

    /// How much the yield tension rises with plastic elongation, N/m.
    fn hardening(&self) -> f64 {
        let beyond = self.strength.stiffness_beyond;
        if beyond >= self.stiffness {
            f64::INFINITY
        } else {
            self.stiffness * beyond / (self.stiffness - beyond)
        }
    }

    /// Brings the state to where the nodes are; gives forces and stiffness when it pulls.
    pub(super) fn respond(&self, nodes: &[Moved], state: &mut CordState) -> Option<Pull> {
        let [from, to] = self.ends.map(|e| match e {
            CordEnd::Node { node, arm, .. } => {
                let n = &nodes[node];
                let arm_now = n.arm(&arm);
                (n.by + (arm_now - arm), arm_now)
            }
            CordEnd::Ground(_) => (Vector3::zeros(), Vector3::zeros()),
        });
        let [a, b] = self.ends.map(|e| match e {
            CordEnd::Node { at, arm, .. } => at + arm,
            CordEnd::Ground(p) => p,
        });
        let before = b - a;
        let apart = to.0 - from.0;
        let now = before + apart;
        let length = now.norm();
        let elongation = match &self.fixed {
            Some((line, _)) => line.dot(&apart),
            None => (2.0 * before + apart).dot(&apart) / (length + self.length),
        };
        state.tried = self.rest + self.stiffness * (elongation - state.stretched);
        let hardening = self.hardening();
        let yields =
            self.strength.yields + if state.stretched > 0.0 { hardening * state.stretched } else { 0.0 };
        let (mut tension, mut slope) = (state.tried, self.stiffness);
        state.more = 0.0;
        if tension > yields {
            state.more = (tension - yields) / (self.stiffness + hardening);
            tension -= self.stiffness * state.more;
            slope = self.strength.stiffness_beyond;
        }
        state.tension = if self.pushes() { tension } else { tension.max(0.0) } * state.grip;
        // A stop that just touches acts; a cord that just hangs straight does not stiffen anything yet.
        let idle = if self.is_cord() { state.tension <= 0.0 } else { tension < 0.0 && !self.pushes() };
        if idle {
            return None;
        }
        let line = self.fixed.map_or_else(|| now / length, |(line, _)| line);
        let turning = if self.is_cord() { state.tension / length } else { 0.0 };
        let stretch = line * line.transpose();
        let spring = (slope * state.grip - turning) * stretch + turning * Matrix3::identity();
        let force = state.tension * line;
        let lever = [from.1, to.1].map(|arm| {
            let mut g = SMatrix::<f64, 3, 6>::zeros();
            g.fixed_view_mut::<3, 3>(0, 0).fill_with_identity();
            g.fixed_view_mut::<3, 3>(0, 3).copy_from(&-skew(&arm));
            g
        });
        let mut ends = [None; 2];
        let mut own = [Matrix6::zeros(); 2];
        for (i, f) in [-force, force].into_iter().enumerate() {
            if let CordEnd::Node { node, .. } = self.ends[i] {
                let arm = if i == 0 { from.1 } else { to.1 };
                let m = arm.cross(&f);
                ends[i] = Some((node, Vector6::new(f.x, f.y, f.z, m.x, m.y, m.z)));
                own[i] = lever[i].tr_mul(&(spring * lever[i]));
                let mut turn = own[i].fixed_view_mut::<3, 3>(3, 3);
                turn += arm_stiffness(&arm, &f);
            }
        }
        let across = -lever[1].tr_mul(&(spring * lever[0]));
        Some(Pull { ends, stiffness: [own[0], across, own[1]] })
    }

    /// Takes the present elongation as reached; gives the work spent on yielding, J.
    pub(super) fn accept(&self, state: &mut CordState) -> f64 {
        let more = std::mem::take(&mut state.more);
        if more <= 0.0 {
            return 0.0;
        }
        let hardening = self.hardening();
        let from = self.strength.yields + hardening * state.stretched;
        state.stretched += more;
        state.tried -= self.stiffness * more;
        // A link that has let go stretches on without taking up work.
        state.grip * (from + 0.5 * hardening * more) * more
    }

    /// Energy stored elastically, J.
    pub(super) fn stored(&self, state: &CordState) -> f64 {
        if state.broken() { 0.0 } else { 0.5 * state.tension * state.tension / (self.stiffness * state.grip) }
    }
}

/// Symmetric part of the stiffness in a node's spin of a force that is part of the balance, on an arm that turns with the node.
pub(super) fn arm_stiffness(arm: &Vector3<f64>, force: &Vector3<f64>) -> Matrix3<f64> {
    let outer = arm * force.transpose();
    0.5 * (outer + outer.transpose()) - Matrix3::identity() * arm.dot(force)
}
