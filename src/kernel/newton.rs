//! One increment of [`Statics`]: Newton's method on the balance of forces.

use super::block::Factored;
use super::cord::{Pull, arm_stiffness};
use super::corotational::{Basic, Strained};
use super::member::Guess;
use super::statics::{Configuration, Load, Statics};
use nalgebra::{Matrix3, Matrix6, Vector3, Vector6};
use std::sync::Arc;

/// Most Newton steps for one increment. chosen: increments that get there take three to eight.
const MOST_STEPS: usize = 25;

/// The same where a shorter increment can be tried instead. chosen: of increments that get there plainly, nine in ten take no more.
const BRIEF_STEPS: usize = 10;

/// Imbalance at a node that counts as none, relative to the largest force or moment about; looser means less equilibrium.
const BALANCED: f64 = 1e-9;

/// The same where long steps are taken to find a load. chosen: what it comes to is then right to as many digits.
const NEARLY_BALANCED: f64 = 1e-7;

/// The same when rounding keeps it from falling further.
const STALLED: f64 = 1e-6;

/// A step, in rad or relative to the frame's size, that is lost in the rounding of where the nodes are: what balance is then
/// missing can't be had. Only stiff frames under next to no load come to that.
const ROUNDING: f64 = 16.0 * f64::EPSILON;

/// Imbalance below which a guess is near enough for sections to yield by it. chosen: strains are then right to a few per cent.
const SETTLING: f64 = 0.05;

/// Largest spin of a node in one increment, rad: a larger one might have jumped to another branch. chosen: a quarter of a right
/// angle and a bit.
const MOST_TURN: f64 = 0.5;

/// Share of the frame's size at which a force counts as a moment, so that no moment has to be smaller than forces' rounding.
/// chosen: a thickness.
const LEVER: f64 = 0.01;

/// Slope along a step that is left, relative to what it was, below which the step needs no search. Source: Crisfield, vol. 1,
/// sec. 9.2 (from memory).
const SLACK_SEARCH: f64 = 0.8;

/// How an increment is bounded.
pub(super) enum Bound<'a> {
    /// By the multiple of the load.
    Multiple(f64),
    /// By the distance along a direction: the first is a unit of it, the multiple is found.
    Along(&'a [Vector6<f64>], f64),
}

/// How hard an increment is tried for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Trying {
    /// Plainly and in few steps: a shorter increment costs less than trying harder for this one.
    Brief,
    /// In every way there is.
    Whole,
}

/// Why one increment failed.
pub(super) struct Failed;

/// The factorised tangent of a configuration in equilibrium, and under which load.
#[derive(Debug)]
pub(super) struct Tangent {
    load: Load,
    factor: Factored,
}

/// The balance at a configuration, and what its tangent is made of.
pub(super) struct Balance {
    /// Forces of members and links less the loads, at every node.
    missing: Vec<Vector6<f64>>,
    /// The load per unit of its multiple.
    pub(super) load: Vec<Vector6<f64>>,
    /// Largest force and moment about.
    scale: [f64; 2],
    /// Each beam as it lies, with its basic forces and its tangent.
    beams: Vec<(Strained, Basic, Matrix6<f64>)>,
    /// What taut links do.
    pulls: Vec<Pull>,
    /// What turning loads do to the nodes they act on.
    arms: Vec<(usize, Matrix3<f64>)>,
}

impl Balance {
    /// The largest imbalance, each force and moment relative to the largest about.
    fn worst(&self) -> f64 {
        let [force, moment] = self.scale;
        let relative = |m: &Vector6<f64>| {
            (m.fixed_rows::<3>(0).amax() / force).max(m.fixed_rows::<3>(3).amax() / moment)
        };
        self.missing.iter().map(relative).fold(0.0, f64::max)
    }
}

impl Statics {
    pub(super) fn balance(
        &self,
        c: &mut Configuration,
        load: &Load,
        guess: Option<Guess>,
    ) -> Result<Balance, Failed> {
        let mut missing = vec![Vector6::zeros(); c.nodes.len()];
        let mut scale = [0.0_f64; 2];
        let mut beams = Vec::with_capacity(self.chords.len());
        for (i, chord) in self.chords.iter().enumerate() {
            let beam = &self.frame.beams[i];
            let strained = chord.strained(&c.nodes[beam.start], &c.nodes[beam.end]);
            let state = &mut c.members[i];
            let tangent =
                self.members[i].respond(&self.frame, &strained.basic, state, guess).map_err(|_| Failed)?;
            let [start, end] = strained.nodal_forces(&state.forces);
            missing[beam.start] += start;
            missing[beam.end] += end;
            scale[0] = scale[0].max(end.fixed_rows::<3>(0).amax());
            scale[1] = scale[1].max(end.fixed_rows::<3>(3).amax()).max(start.fixed_rows::<3>(3).amax());
            beams.push((strained, state.forces, tangent));
        }
        let mut pulls = Vec::new();
        for (cord, state) in self.cords.iter().zip(&mut c.cords) {
            if let Some(pull) = cord.respond(&c.nodes, state) {
                for (node, force) in pull.ends.iter().flatten() {
                    missing[*node] += force;
                }
                scale[0] = scale[0].max(state.tension.abs());
                pulls.push(pull);
            }
        }
        let arms = load.arms.iter().map(|l| {
            let f = c.multiple * Vector3::from(l.force);
            (l.node, arm_stiffness(&c.nodes[l.node].arm(&Vector3::from(l.arm)), &-f))
        });
        let arms = arms.collect();
        let applied = self.load(&c.nodes, load);
        for (n, (m, l)) in missing.iter_mut().zip(&applied).enumerate() {
            let l = c.multiple * l;
            scale[0] = scale[0].max(l.fixed_rows::<3>(0).amax());
            scale[1] = scale[1].max(l.fixed_rows::<3>(3).amax());
            *m -= l;
            if !self.solver.is_free(n) {
                *m = Vector6::zeros();
            }
        }
        // Forces and moments measure each other by the frame's size: a moment alone leaves forces of rounding only. A frame
        // that was let go has nothing else, either.
        let [force, moment] = [0, 1].map(|i| f64::max(scale[i], c.met[i]));
        let scale = [force.max(moment / self.size), moment.max(LEVER * force * self.size)];
        Ok(Balance { missing, load: applied, scale, beams, pulls, arms })
    }

    /// Factorises the tangent of a balance; where basic forces are foreseen, turning beams take their stiffness from these.
    pub(super) fn factor(&self, balance: &Balance, foreseen: &[Basic]) -> Option<Factored> {
        let system = self.solver.system();
        let mut stiffness = system.zeros();
        let mut put = |a: Option<usize>, b: Option<usize>, blocks: &[Matrix6<f64>; 3]| {
            let [first, across, second] = blocks;
            for (row, column, block) in [(a, a, first), (b, a, across), (b, b, second)] {
                if let (Some(row), Some(column)) = (row, column) {
                    system.add(&mut stiffness, row, column, block);
                }
            }
        };
        for (i, (strained, forces, tangent)) in balance.beams.iter().enumerate() {
            let beam = &self.frame.beams[i];
            let turning = foreseen.get(i).unwrap_or(forces);
            put(Some(beam.start), Some(beam.end), &strained.tangent(turning, tangent));
        }
        for pull in &balance.pulls {
            put(pull.ends[0].map(|e| e.0), pull.ends[1].map(|e| e.0), &pull.stiffness);
        }
        for (node, turning) in &balance.arms {
            let mut block = Matrix6::zeros();
            block.fixed_view_mut::<3, 3>(3, 3).copy_from(turning);
            put(Some(*node), None, &[block, Matrix6::zeros(), Matrix6::zeros()]);
        }
        system.factor_blocks(stiffness)
    }

    /// Rise of the multiple with travel along the load, 1/m, by the tangent of a configuration that an increment under it has led to.
    pub(super) fn slope(&self, c: &Configuration, load: &Load) -> Option<f64> {
        let kept = c.tangent.as_ref().filter(|kept| kept.load == *load)?;
        let (direction, size) = self.along(c, load);
        Some(size / dot(&direction, &self.solve(&kept.factor, &self.load(&c.nodes, load))))
    }

    pub(super) fn solve(&self, factor: &Factored, right: &[Vector6<f64>]) -> Vec<Vector6<f64>> {
        self.solver.system().solve_blocks(factor, right)
    }

    /// One increment: plainly; when that fails, with line searches; when that fails too, from elastic beams, for what has flowed
    /// may stop.
    pub(super) fn increment(
        &self,
        from: &Configuration,
        load: &Load,
        bound: &Bound<'_>,
        trying: Trying,
    ) -> Option<Configuration> {
        let onward = match bound {
            Bound::Along(_, distance) => distance * from.multiple >= 0.0 && *distance != 0.0,
            Bound::Multiple(m) => m.abs() > from.multiple.abs(),
        };
        let first = if onward { Guess::Onward } else { Guess::Back };
        let ways: &[(Guess, bool)] = match trying {
            Trying::Brief => &[(first, false)],
            Trying::Whole => &[(first, false), (first, true), (Guess::Back, true)],
        };
        let found = ways.iter().find_map(|(guess, careful)| {
            let mut c = from.clone();
            self.newton(&mut c, load, bound, (*guess, *careful, trying)).is_ok().then_some(c)
        });
        let mut c = found?;
        let swung = from.nodes.iter().zip(&c.nodes).any(|(a, b)| a.turn.angle_to(&b.turn) > MOST_TURN);
        if swung {
            return None;
        }
        for (member, state) in self.members.iter().zip(&mut c.members) {
            c.spent += member.accept(&self.frame, state);
        }
        for (cord, state) in self.cords.iter().zip(&mut c.cords) {
            c.spent += cord.accept(state);
        }
        Some(c)
    }

    fn newton(
        &self,
        c: &mut Configuration,
        load: &Load,
        bound: &Bound<'_>,
        (guess, careful, trying): (Guess, bool, Trying),
    ) -> Result<(), Failed> {
        let (most, enough) = match trying {
            Trying::Brief => (BRIEF_STEPS, NEARLY_BALANCED),
            Trying::Whole => (MOST_STEPS, BALANCED),
        };
        // The tangent with which the last increment ended is that with which this one begins, as long as loading goes on.
        let kept = c.tangent.take().filter(|kept| {
            kept.load == *load
                && (guess == Guess::Onward || !(c.has_yielded() || c.links_yielded().contains(&true)))
        });
        if let Bound::Multiple(m) = bound {
            c.multiple = *m;
        }
        let mut to_go = match bound {
            Bound::Along(_, distance) => *distance,
            Bound::Multiple(_) => 0.0,
        };
        // What never yields needs no stand-in.
        let mut guess = (!self.frame.laws.is_empty()).then_some(guess);
        let mut worst_before = f64::INFINITY;
        let mut balance = self.balance(c, load, guess)?;
        let mut foreseen = Vec::new();
        for round in 0..most {
            c.effort.steps += 1;
            let made;
            let factor = match &kept {
                Some(kept) if round == 0 => &kept.factor,
                _ => {
                    c.effort.factorisations += 1;
                    made = self.factor(&balance, &foreseen).ok_or(Failed)?;
                    &made
                }
            };
            let back: Vec<Vector6<f64>> = balance.missing.iter().map(|m| -m).collect();
            let mut step = self.solve(factor, &back);
            let mut more = 0.0;
            if let Bound::Along(direction, _) = bound {
                let by_load = self.solve(factor, &balance.load);
                more = (to_go - dot(direction, &step)) / dot(direction, &by_load);
                for (s, l) in step.iter_mut().zip(&by_load) {
                    *s += more * l;
                }
                to_go = 0.0;
            }
            if round == 0 {
                c.expected = dot(&balance.load, &step);
            }
            if !(more.is_finite() && step.iter().all(|s| s.iter().all(|v| v.is_finite()))) {
                return Err(Failed);
            }
            if careful && round > 0 {
                foreseen.clear();
                balance = self.searched(c, load, (&step, more), &balance, guess)?;
            } else {
                foreseen = self.foreseen(&balance, &step);
                apply(c, &step, more, 1.0);
                balance = self.balance(c, load, guess)?;
            }
            let mut worst = balance.worst();
            if worst < SETTLING {
                // So near, forces are as good as they were foreseen.
                foreseen.clear();
            }
            if guess.is_some() && worst < SETTLING {
                guess = None;
                balance = self.balance(c, load, guess)?;
                worst = balance.worst();
            }
            if !worst.is_finite() && balance.scale[0] > 0.0 {
                return Err(Failed);
            }
            let stalled = worst < STALLED && worst > 0.3 * worst_before;
            let rounding = step.iter().all(|s| {
                s.fixed_rows::<3>(0).amax() <= ROUNDING * self.size && s.fixed_rows::<3>(3).amax() <= ROUNDING
            });
            let balanced = worst <= enough || balance.scale[0] == 0.0 || stalled || rounding;
            if balanced && guess.is_none() {
                c.met = balance.scale;
                // The last step may have let a wire go slack or a column straight through its load: the signs are those after it.
                let factor = self.factor(&balance, &foreseen).ok_or(Failed)?;
                c.effort.factorisations += 1;
                c.negative = factor.negative();
                c.least_pivot = factor.least();
                c.tangent = Some(Arc::new(Tangent { load: load.clone(), factor }));
                return Ok(());
            }
            if rounding {
                guess = None;
                foreseen.clear();
                balance = self.balance(c, load, guess)?;
            }
            worst_before = worst;
        }
        Err(Failed)
    }

    /// The basic forces that a step is to bring by its own tangent.
    ///
    /// A step along the tangent turns beams and by that stretches them: pulls come out that the next step takes away again. What
    /// stiffness pulls lend to beams that turn is better taken from these forces, which are in balance, than from those.
    /// Source: Magisano, Leonetti & Garcea, Comput. Methods Appl. Mech. Eng. 313 (2017) 182 (from memory).
    fn foreseen(&self, balance: &Balance, step: &[Vector6<f64>]) -> Vec<Basic> {
        let beams = self.frame.beams.iter().zip(&balance.beams);
        beams
            .map(|(beam, (strained, forces, tangent))| {
                forces + tangent * strained.change(&step[beam.start], &step[beam.end])
            })
            .collect()
    }

    /// Takes the part of a step at which the imbalance along it has gone.
    fn searched(
        &self,
        c: &mut Configuration,
        load: &Load,
        (step, more): (&[Vector6<f64>], f64),
        before: &Balance,
        guess: Option<Guess>,
    ) -> Result<Balance, Failed> {
        let start = dot(step, &before.missing);
        let (mut low, mut high) = ((0.0, start), None);
        let mut part = 1.0;
        for _ in 0..6 {
            let mut tried = c.clone();
            apply(&mut tried, step, more, part);
            let found = self.balance(&mut tried, load, guess);
            let slope = found.as_ref().map_or(f64::INFINITY, |b| dot(step, &b.missing));
            if let Ok(balance) = found
                && slope.abs() <= SLACK_SEARCH * start.abs()
            {
                if part < 1.0 {
                    tried.effort.shortened += 1;
                }
                *c = tried;
                return Ok(balance);
            }
            if slope.is_finite() && slope * start > 0.0 {
                low = (part, slope);
                if high.is_none() {
                    break;
                }
            } else {
                high = Some((part, slope));
            }
            let Some((to, at)) = high else { break };
            let guess = if f64::is_finite(at) { low.0 + (to - low.0) * low.1 / (low.1 - at) } else { 0.0 };
            part = guess.clamp(low.0 + 0.1 * (to - low.0), low.0 + 0.5 * (to - low.0));
        }
        c.effort.shortened += 1;
        apply(c, step, more, part);
        self.balance(c, load, guess)
    }
}

fn apply(c: &mut Configuration, step: &[Vector6<f64>], more: f64, part: f64) {
    c.multiple += part * more;
    for (node, s) in c.nodes.iter_mut().zip(step) {
        node.step(&(part * s));
    }
}

pub(super) fn dot(a: &[Vector6<f64>], b: &[Vector6<f64>]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x.dot(y)).sum()
}
