//! The way of a frame under loads that are raised together, from rest to past the top, and what happens on it.

use super::newton::{Bound, Trying};
use super::parabola::Parabola;
use super::statics::{Configuration, Load, Statics};

/// Most steps of one path. chosen: paths take 30 to 80.
const MOST_STEPS: usize = 400;

/// Smallest step, relative to the first.
const LEAST_STEP: f64 = 1e-4;

/// Share of the first step down to which a step is rather made shorter than tried for harder.
const SHORTENED: f64 = 1.0 / 20.0;

/// Rise of the multiple in a step, relative to that of a first step on a straight path, beyond which the step is shortened: a wire
/// that hangs straight or slack at rest has come taut, and the travel that was right for the frame without it is too long. chosen:
/// steps of straight paths reach 2.
const STEEPEST: f64 = 4.0;

/// Longest step, relative to the furthest travel. chosen: legs turn by a few degrees in it; twice as far where only loads and states are
/// looked for and nothing has yielded.
const LONGEST: f64 = 0.05;
const LONGEST_BRIEF: f64 = 0.1;

/// Newton steps in an increment up to which the next one may be longer, and from which it is shorter.
const EASY: usize = 7;
const HARD: usize = 13;

/// Rounds in which the place of an event is found, and the share of a step to which. chosen: the multiple is then exact to more
/// digits than are shown.
const LOCATE_ROUNDS: usize = 40;
const LOCATED: f64 = 1e-4;

/// The share of a step to which the limit is found: the load hardly changes near its top.
const LIMIT_LOCATED: f64 = 1e-3;

/// How near the loads on both sides of the limit may be, relative to them, for either to be its load.
const LIMIT_LEVEL: f64 = 2e-5;

/// How far before the top that a parabola tells it is looked, as its fall relative to the load. chosen: a hundredth of a step or so,
/// for the energy up to the top goes by the place.
const BEFORE_THE_TOP: f64 = 4e-7;

/// Share of a bracket next to its lower end where a parabola's top says nothing new. chosen: the bracket is halved there instead.
const NEAR_AN_END: f64 = 0.02;

/// Share of a step over which a curve rises to its top by no more than it is read to. chosen: of a parabola the 1/1024th part of
/// what it rises in the step.
const SHORT: f64 = 1.0 / 16.0;

/// The share of a step for what a caller looks for on a path that is there: energies are to balance.
const EXACTLY: f64 = 1e-9;

/// Share of the change of a sign within which two events are one.
const ALIKE: f64 = 3e-4;

/// Fall of the load from its top, relative to it, at which the path ends: what comes after no longer matters.
const FALLEN: f64 = 0.7;

/// Stiffness along the load, relative to that at rest, below which a frame that flows has given way, though its load might
/// still creep up.
const GIVEN_WAY: f64 = 0.01;

/// How near that is found where long steps are taken, relative to how much the stiffness changes in the step. chosen: so little
/// stiffness is left there that the load moves by less than 1e-4.
const GIVING: f64 = 1e-2;

/// What happens on a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// A link begins to pull.
    Taut(usize),
    /// A link begins to yield.
    LinkYields(usize),
    /// A link breaks.
    Breaks(usize),
    /// Something the caller watches for.
    Watched(usize),
    /// No further load can be held.
    Limit,
}

/// Something that happens, and where the frame is then.
#[derive(Debug, Clone)]
pub struct Event {
    /// What.
    pub what: What,
    /// The configuration at which it happens: just before, for what changes the frame.
    pub at: Configuration,
    /// How many steps of the path come before it.
    pub after: usize,
}

/// A path: configurations one after the other, and events.
#[derive(Debug, Clone, Default)]
#[must_use]
pub struct Path {
    /// From rest on, the load raised from step to step up to the limit, and falling after it.
    pub steps: Vec<Configuration>,
    /// Travel of the load at each step, m, as [`Statics::advance`] measures it.
    pub travel: Vec<f64>,
    /// In the order in which they happen.
    pub events: Vec<Event>,
    /// Whether it ended because the load had travelled as far as was asked for.
    pub far: bool,
    /// Whether it ended because no further equilibrium was found, and not at the top of a curve.
    pub lost: bool,
}

/// What to look for on a path and when to end it.
pub struct Watch<'a> {
    /// The multiple at which the path ends.
    pub up_to: f64,
    /// In how many steps a straight path would get there; more find events more surely, and cost more.
    pub steps: f64,
    /// Multiples at which the path stops on its way up, ascending.
    pub stops: &'a [f64],
    /// Furthest travel of the load, m, at which it ends.
    pub farthest: f64,
    /// Whether it may end earlier.
    pub enough: &'a dyn Fn(&Configuration) -> bool,
    /// Whether a step that does not come easily is made shorter before it is tried for harder.
    pub brief: bool,
    /// Whether it is to be found where links begin to pull and to yield.
    pub links: bool,
    /// Whether links break.
    pub breaks: bool,
    /// What else is looked for: each number is above zero once it has happened.
    pub signs: &'a dyn Fn(&Configuration) -> Vec<f64>,
}

impl Path {
    /// One that goes nowhere.
    pub fn at(c: Configuration) -> Self {
        Self { steps: vec![c], travel: vec![0.0], ..Self::default() }
    }

    fn push(&mut self, mut c: Configuration, travelled: f64) {
        // Nobody goes on from here in a hurry.
        c.tangent = None;
        self.steps.push(c);
        self.travel.push(travelled);
    }

    /// Notes that nothing more is held from a configuration on.
    fn ended(&mut self, at: Configuration) {
        if self.event(What::Limit).is_none() {
            let after = self.steps.len();
            self.events.push(Event { what: What::Limit, at, after });
        }
    }

    /// The event of a kind, if it happens.
    #[must_use]
    pub fn event(&self, what: What) -> Option<&Event> {
        self.events.iter().find(|e| e.what == what)
    }

    /// How many steps come before the limit, all of them when there is none.
    #[must_use]
    pub fn holding(&self) -> usize {
        self.event(What::Limit).map_or(self.steps.len(), |e| e.after)
    }

    /// Whether it went over the top of its curve: beyond, nothing is held. One that ended early says nothing of what comes after.
    #[must_use]
    pub fn went_over(&self) -> bool {
        self.event(What::Limit).is_some() && !(self.lost || self.far)
    }

    /// The configuration that holds and after which the load first reaches a multiple; `None` when it never does.
    #[must_use]
    pub fn before(&self, multiple: f64) -> Option<&Configuration> {
        let held = self.steps.get(..self.holding())?;
        if let Some(i) = held.iter().position(|c| c.multiple() >= multiple) {
            return held.get(i.saturating_sub(1));
        }
        let top = self.event(What::Limit)?;
        (top.at.multiple() >= multiple).then(|| held.last()).flatten()
    }
}

/// How a step of a path goes on.
enum Way {
    /// By a travel of the load, m.
    Travel(f64),
    /// By the load itself, from one multiple to another.
    Load(f64, f64),
}

/// An event found in a step, with the share of the step at which it is.
struct Found {
    share: f64,
    what: What,
    at: Configuration,
}

impl Statics {
    /// Follows a frame from a configuration on.
    ///
    /// The path ends at the multiple or the travel asked for, when it is enough, well past its top, or where no further
    /// equilibrium is found.
    pub fn path(&self, from: &Configuration, load: &Load, watch: &Watch<'_>) -> Path {
        let mut path = Path::at(from.clone());
        let Some(soft) = self.travel_per_multiple(from, load).filter(|t| *t > 0.0) else { return path };
        let stride = (watch.up_to - from.multiple()) / watch.steps;
        let first = soft * stride;
        let mut size = first.min(0.1 * watch.farthest);
        let least = size * LEAST_STEP;
        let mut now = from.clone();
        let mut signs = (watch.signs)(&now);
        let mut travelled = 0.0;
        let mut top = now.multiple();
        // Rise of the multiple with travel in the last step.
        let mut rise = 1.0 / soft;
        // A stop that could not be gone to at once is not tried again until half of the way to it is behind.
        let mut missed = f64::NEG_INFINITY;
        loop {
            let stop = watch.stops.iter().copied().find(|s| *s > now.multiple() * (1.0 + 1e-12));
            // While the load rises, a stop within reach is gone to at once.
            let near = stop.filter(|s| {
                path.event(What::Limit).is_none()
                    && now.multiple() >= missed
                    && now.multiple() + rise * size >= *s
            });
            size = size.min(watch.farthest - travelled);
            // On the way to where it is tried again, no step may pass over it.
            if stop.is_some() && now.multiple() < missed && rise > 0.0 {
                size = size.min((missed - now.multiple()) / rise).max(least);
            }
            let way = near.map_or(Way::Travel(size), |s| Way::Load(now.multiple(), s));
            // A step that has become short is worth every effort.
            let trying = if watch.brief && size > SHORTENED * first { Trying::Brief } else { Trying::Whole };
            // A long step may end on another branch, or seem to pass a top where a shorter one finds none.
            let sound = |next: &Configuration| {
                let doubtful = trying == Trying::Brief && !next.is_stable();
                !(watch.brief && (doubtful || self.jumped(&now, next, load)))
            };
            let next = match self.go_with(&now, load, &way, 1.0, trying).filter(sound) {
                Some(next) if !matches!(way, Way::Load(..)) || next.is_stable() => Some((next, way)),
                _ if near.is_some() => {
                    missed = near.map_or(missed, |stop| 0.5 * (now.multiple() + stop));
                    let way = Way::Travel(size);
                    self.go_with(&now, load, &way, 1.0, trying).filter(sound).map(|next| (next, way))
                }
                _ => None,
            };
            let Some((next, way)) = next else {
                size *= 0.5;
                if size < least {
                    path.lost = path.event(What::Limit).is_none();
                    path.ended(now);
                    break;
                }
                continue;
            };
            // What has yielded depends on the steps by which it was loaded.
            if watch.brief && next.has_yielded() && !now.has_yielded() && size > LONGEST * watch.farthest {
                size *= 0.5;
                continue;
            }
            if matches!(way, Way::Travel(_)) && size > 2.0 * least {
                let gained = next.multiple() - now.multiple();
                let passed = stop.filter(|s| path.event(What::Limit).is_none() && next.multiple() > *s);
                if passed.is_some() && now.multiple() >= missed {
                    // A stop was within reach, the frame being stiffer than it was: it is gone to.
                    rise = gained / size;
                    continue;
                }
                if passed.is_some() || gained > STEEPEST * stride {
                    size *= 0.5;
                    continue;
                }
            }
            let distance = match way {
                Way::Travel(size) => size,
                Way::Load(..) => self.travelled(&now, &next, load),
            };
            let next_signs = (watch.signs)(&next);
            let mut found = self.happened(&now, &next, load, &way, (&signs, &next_signs), watch);
            if path.event(What::Limit).is_none()
                && let Some(limit) = self.limit(&now, &next, load, &way, (soft, watch.brief))
            {
                found.push(limit);
            }
            found.sort_by(|a, b| a.share.total_cmp(&b.share));
            let broken = found.iter().find_map(|f| match f.what {
                What::Breaks(link) => Some((link, f.share)),
                _ => None,
            });
            let after = path.steps.len();
            let until = broken.map_or(1.0, |(_, share)| share);
            for f in found.into_iter().filter(|f| f.share <= until) {
                if !path.events.iter().any(|e| e.what == f.what) {
                    path.events.push(Event { what: f.what, at: f.at, after });
                }
            }
            let steps = next.effort().steps - now.effort().steps;
            if let Some((link, share)) = broken {
                let Some(at) = path.event(What::Breaks(link)).map(|e| e.at.clone()) else { break };
                travelled += share * distance;
                path.push(at.clone(), travelled);
                let Some(free) = self.released(&at, load, link, &mut path) else {
                    path.lost = path.event(What::Limit).is_none();
                    path.ended(at);
                    break;
                };
                path.push(free.clone(), travelled);
                now = free;
                signs = (watch.signs)(&now);
                if !now.is_stable() {
                    path.ended(at);
                }
            } else {
                travelled += distance;
                rise = (next.multiple() - now.multiple()) / distance;
                path.push(next.clone(), travelled);
                now = next;
                signs = next_signs;
            }
            top = top.max(now.multiple());
            let fallen = now.multiple() < FALLEN * top && path.event(What::Limit).is_some();
            if now.multiple() >= watch.up_to || fallen || (watch.enough)(&now) {
                break;
            }
            let far = travelled >= watch.farthest * (1.0 - 1e-9);
            if far || path.steps.len() >= MOST_STEPS {
                path.far = far && path.event(What::Limit).is_none();
                path.lost = !far && path.event(What::Limit).is_none();
                path.ended(now);
                break;
            }
            if steps <= EASY {
                let longest = if watch.brief && !now.has_yielded() { LONGEST_BRIEF } else { LONGEST };
                size = (1.5 * size).min(2.0 * first).min(longest * watch.farthest);
            } else if steps >= HARD {
                size *= 0.6;
            }
        }
        path
    }

    /// The first configuration of a path, up to its limit, at which a sign changes from below zero; `None` when it does not.
    #[must_use]
    pub fn first(
        &self,
        path: &Path,
        load: &Load,
        sign: &dyn Fn(&Configuration) -> f64,
    ) -> Option<Configuration> {
        let held = path.steps.get(..path.holding())?;
        let signs: Vec<f64> = held.iter().map(sign).collect();
        if *signs.first()? >= 0.0 {
            return held.first().cloned();
        }
        if let Some(i) = signs.iter().position(|s| *s >= 0.0) {
            let size = path.travel.get(i)? - path.travel.get(i - 1)?;
            let (from, ends) = (held.get(i - 1)?, (*signs.get(i - 1)?, *signs.get(i)?));
            return Some(self.locate(from, load, &Way::Travel(size), ends, sign, EXACTLY).1);
        }
        // Between the last step that holds and the limit.
        let top = &path.event(What::Limit)?.at;
        let (last, before, after) = (held.last()?, *signs.last()?, sign(top));
        let size = path.travel.get(held.len())? - path.travel.get(held.len() - 1)?;
        let beyond = sign(path.steps.get(held.len())?);
        (after >= 0.0).then(|| self.locate(last, load, &Way::Travel(size), (before, beyond), sign, EXACTLY).1)
    }

    /// Lets a link go, and every other that then has more than it can bear.
    fn released(
        &self,
        at: &Configuration,
        load: &Load,
        link: usize,
        path: &mut Path,
    ) -> Option<Configuration> {
        let mut now = self.release(at, load, link)?;
        let strengths: Vec<f64> = self.link_strengths().map(|s| s.breaks).collect();
        loop {
            let (pulls, gone) = (now.link_pulls(), now.links_broken());
            let next = (0..strengths.len()).find(|&i| !gone[i] && pulls[i] >= strengths[i] * (1.0 - 1e-6));
            let Some(next) = next else { return Some(now) };
            if path.event(What::Breaks(next)).is_none() {
                path.events.push(Event {
                    what: What::Breaks(next),
                    at: now.clone(),
                    after: path.steps.len(),
                });
            }
            now = self.release(&now, load, next)?;
        }
    }

    /// Goes a share of a way.
    fn go(&self, now: &Configuration, load: &Load, way: &Way, share: f64) -> Option<Configuration> {
        self.go_with(now, load, way, share, Trying::Whole)
    }

    fn go_with(
        &self,
        now: &Configuration,
        load: &Load,
        way: &Way,
        share: f64,
        trying: Trying,
    ) -> Option<Configuration> {
        match way {
            Way::Travel(size) => self.advance_by(now, load, share * size, trying),
            Way::Load(from, to) => {
                self.increment(now, load, &Bound::Multiple(from + share * (to - from)), trying)
            }
        }
    }

    /// What happens in a step.
    fn happened(
        &self,
        now: &Configuration,
        next: &Configuration,
        load: &Load,
        way: &Way,
        (signs, next_signs): (&[f64], &[f64]),
        watch: &Watch<'_>,
    ) -> Vec<Found> {
        let mut found = Vec::new();
        let mut look = |what: What, before: f64, after: f64, sign: &dyn Fn(&Configuration) -> f64| {
            if before <= 0.0 && after > 0.0 {
                // Legs that are alike do things together.
                let same = found.iter().find(|f: &&Found| {
                    let s = sign(&f.at);
                    s <= 0.0 && s.abs() <= ALIKE * (before.abs() + after.abs())
                });
                let (share, at) = match same {
                    Some(f) => (f.share, f.at.clone()),
                    None => self.locate(now, load, way, (before, after), sign, LOCATED),
                };
                found.push(Found { share, what, at });
            }
        };
        let gone = next.links_broken();
        let cords = |i: usize| self.is_cord(i) && !gone[i];
        for (i, strength) in self.link_strengths().enumerate().filter(|(i, _)| cords(*i)) {
            let pull = |c: &Configuration| c.link_pulls()[i];
            if watch.links {
                look(What::Taut(i), pull(now), pull(next), &pull);
            }
            let flows = |c: &Configuration| c.link_pulls()[i] - strength.yields;
            if watch.links && !now.links_yielded()[i] && strength.yields.is_finite() {
                // What has begun to yield pulls no more than it yields at: the sign is that of yielding itself.
                let begun = if next.links_yielded()[i] { strength.yields } else { flows(next) };
                look(What::LinkYields(i), flows(now), begun, &|c| {
                    if c.links_yielded()[i] { strength.yields } else { flows(c) }
                });
            }
            if watch.breaks && strength.breaks.is_finite() {
                let over = |c: &Configuration| c.link_pulls()[i] - strength.breaks;
                look(What::Breaks(i), over(now), over(next), &over);
            }
        }
        for (i, (before, after)) in signs.iter().zip(next_signs).enumerate() {
            let sign = |c: &Configuration| (watch.signs)(c)[i];
            look(What::Watched(i), *before, *after, &sign);
        }
        found
    }

    /// Whether a step passes the limit: the tangent ceases to be positive definite, or what flows hardly resists any more.
    fn limit(
        &self,
        now: &Configuration,
        next: &Configuration,
        load: &Load,
        way: &Way,
        (soft, brief): (f64, bool),
    ) -> Option<Found> {
        let found = |(share, at): (f64, Configuration)| Some(Found { share, what: What::Limit, at });
        let gives = |c: &Configuration| GIVEN_WAY - soft * self.slope(c, load).unwrap_or(f64::INFINITY);
        if next.has_yielded() && gives(next) > 0.0 {
            let ends = (gives(now).max(-1.0), gives(next));
            let near = if brief { GIVING } else { LIMIT_LOCATED };
            let (share, at) = self.locate(now, load, way, ends, &gives, near);
            if at.is_stable() {
                return found((share, at));
            }
        }
        if next.is_stable() { None } else { found(self.top(now, next, load, way, brief)) }
    }

    /// The last stable configuration of a step that ends in one that is not, and its share of the step; when `brief`, one that has
    /// the load of the last, though the frame may still go on a little under it.
    fn top(
        &self,
        now: &Configuration,
        next: &Configuration,
        load: &Load,
        way: &Way,
        brief: bool,
    ) -> (f64, Configuration) {
        let (mut low, mut high) = ((0.0, now.clone()), (1.0, next.multiple()));
        // Whether there is a configuration at the upper end.
        let mut ended = true;
        let level = |a: f64, b: f64| (a - b).abs() <= LIMIT_LEVEL * a.abs();
        // The place of a third configuration beside those of the bracket, and its multiple.
        let mut third: Option<(f64, f64)> = None;
        // Ends of a long bracket may be level with the top between them.
        while high.0 - low.0 > LIMIT_LOCATED
            && !(brief && high.0 - low.0 < SHORT && level(low.1.multiple(), high.1))
        {
            // Halving, for where fibres begin to flow the pivots jump; where only the load is wanted, by the parabola through
            // three places, and a little before its top, where the load is still that of the top.
            let curve = third
                .filter(|_| brief && ended)
                .and_then(|t| Parabola::through([(low.0, low.1.multiple()), t, high]))
                .filter(|c| c.top > low.0 + NEAR_AN_END * (high.0 - low.0) && c.top < high.0);
            let share = curve.map_or(0.5 * (low.0 + high.0), |c| {
                (c.top - c.short(BEFORE_THE_TOP)).max(0.5 * (low.0 + c.top))
            });
            let found = self.go(now, load, way, share);
            // Where the parabola told what came out, it tells the top as well.
            let told = curve.zip(found.as_ref()).is_some_and(|(curve, c)| {
                level(c.multiple(), curve.at(share)) && level(c.multiple(), curve.most) && c.is_stable()
            });
            let before = (low.0, low.1.multiple());
            match found {
                Some(c) if c.is_stable() => {
                    third = Some(before);
                    low = (share, c);
                }
                Some(c) => {
                    third = ended.then_some(high);
                    high = (share, c.multiple());
                    ended = true;
                }
                None => {
                    high.0 = share;
                    third = None;
                    ended = false;
                }
            }
            if told {
                break;
            }
        }
        low
    }

    /// The share of a step at which a sign changes, and the configuration there, on the side where it has not yet changed.
    fn locate(
        &self,
        now: &Configuration,
        load: &Load,
        way: &Way,
        (before, after): (f64, f64),
        sign: &dyn Fn(&Configuration) -> f64,
        near: f64,
    ) -> (f64, Configuration) {
        let (mut low, mut high) = ((0.0, before), (1.0, after));
        let mut at = now.clone();
        // False position; an end that stays put a second time counts half (Illinois). Where two rounds have not halved the
        // bracket, as with a sign that is steep on one side only, it is halved.
        let mut kept_high = None;
        let mut widths = [f64::INFINITY; 2];
        for _ in 0..LOCATE_ROUNDS {
            let width = high.0 - low.0;
            if width < near {
                break;
            }
            let guess = low.0 - low.1 * width / (high.1 - low.1);
            let inside = guess.is_finite() && guess > low.0 && guess < high.0;
            let slow = width > 0.5 * widths[0];
            widths = [widths[1], width];
            let guess = if inside && !slow { guess } else { 0.5 * (low.0 + high.0) };
            let found = self.go(now, load, way, guess);
            let s = found.as_ref().map_or(high.1, sign);
            match found {
                Some(c) if s <= 0.0 => {
                    low = (guess, s);
                    at = c;
                    if kept_high == Some(true) {
                        high.1 *= 0.5;
                    }
                    kept_high = Some(true);
                    if s.abs() <= near * (before.abs() + after.abs()) {
                        break;
                    }
                }
                _ => {
                    high = (guess, s);
                    if kept_high == Some(false) {
                        low.1 *= 0.5;
                    }
                    kept_high = Some(false);
                }
            }
        }
        (low.0, at)
    }
}
