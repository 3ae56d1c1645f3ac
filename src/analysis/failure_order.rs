//! What gives first: every part's own check, asked again and again while a landing's loads are raised along the gear's real curve.
//!
//! No strength is looked up here: a part gives where its check's applied value, factors aside, reaches its allowable.

use super::drops::GearDrops;
use super::large::GearStatics;
use crate::checks::{self, Subject};
use crate::crew::each;
use crate::kernel::{Configuration, Load, Path, What};
use crate::loads::CaseLoads;
use crate::results::{
    CaseName, CaseResult, FailureOrder, LandingFactors, LimitLoad, Margin, MarkKind, PartFailure, TOGETHER,
    Theory, Verdict,
};
use std::cmp::Ordering;

/// Multiple of the limit loads up to which parts are followed. chosen: what holds six times its landing gives in none.
pub(super) const FOLLOWED: f64 = 6.0;

/// Rounds in which the multiple is closed in on. chosen: the drop that makes a failure then makes its load factor within 1e-3, as
/// the tests hold.
const ROUNDS: usize = 2;

/// How much of its allowable a part uses in one configuration.
struct Use {
    check: &'static str,
    part: String,
    share: f64,
}

/// A gear to follow.
#[derive(Clone, Copy)]
pub(super) struct Followed<'a> {
    pub(super) subject: &'a Subject<'a>,
    pub(super) statics: &'a GearStatics<'a>,
    pub(super) factors: LandingFactors,
    /// The gear's drops, when it carries the landing.
    pub(super) drops: Option<&'a GearDrops<'a>>,
}

/// A gear and one landing.
struct InCase<'a> {
    gear: Followed<'a>,
    loads: &'a CaseLoads,
}

impl Followed<'_> {
    /// Follows each landing's loads up, all processors at work; `None` where nothing loads the wheels. `progress` gets how many are done.
    pub(super) fn orders(&self, loads: &[&CaseLoads], progress: &dyn Fn(usize)) -> Vec<Option<FailureOrder>> {
        each(loads.len(), |index| loads.get(index).and_then(|case| self.order(case)), progress)
    }

    /// Follows one landing's loads up; `None` where nothing loads the wheels.
    pub(super) fn order(&self, loads: &CaseLoads) -> Option<FailureOrder> {
        loads.is_loaded().then(|| InCase { gear: *self, loads }.order())
    }

    /// The limit of the same curve.
    pub(super) fn limit(&self, loads: &CaseLoads) -> Option<LimitLoad> {
        loads.is_loaded().then(|| {
            let load = self.statics.load(&loads.loads);
            self.statics.limit_of(&self.statics.fine_path(&load, FOLLOWED, &[], &|_| false), FOLLOWED)
        })
    }
}

impl InCase<'_> {
    /// Follows the loads up.
    fn order(&self) -> FailureOrder {
        let load = self.gear.statics.load(&self.loads.loads);
        let path = self.gear.statics.fine_path(&load, FOLLOWED, &[], &|_| false);
        let limit = self.gear.statics.limit_of(&path, FOLLOWED);
        let mut untold = Vec::new();
        let mut found = self.reached(&path, &load, limit, &mut untold);
        found.extend(self.broken_wires(&path, limit));
        if limit.cause.is_some() {
            found.push(self.failure("limit-load", "gear".into(), limit.multiple));
        }
        // The curve's last step may reach beyond.
        found.retain(|f| f.multiple <= FOLLOWED);
        sort(&mut found);
        FailureOrder {
            gear: self.gear.subject.gear.name.clone(),
            case: self.loads.case.clone(),
            failures: found,
            untold,
            limit,
        }
    }

    /// Parts that reach their allowable on the path, up to its top.
    fn reached(
        &self,
        path: &Path,
        load: &Load,
        limit: LimitLoad,
        untold: &mut Vec<(String, String)>,
    ) -> Vec<PartFailure> {
        let top = path.event(What::Limit).filter(|_| !path.far).map(|e| &e.at);
        let held = path.steps.get(..path.holding()).into_iter().flatten().chain(top);
        let mut found: Vec<PartFailure> = Vec::new();
        let mut last: Option<(&Configuration, Vec<Use>)> = None;
        // After a wire has broken the gear holds less; what gives on the way down gives at the load that broke it.
        let mut highest: f64 = 0.0;
        for c in held {
            let uses = self.uses(c, load, limit, untold);
            for now in &uses {
                let seen = found.iter().any(|f| f.check == now.check && f.part == now.part);
                if now.share < 1.0 || seen {
                    continue;
                }
                let before = last.as_ref().map(|(from, uses)| {
                    let same = uses.iter().find(|u| u.check == now.check && u.part == now.part);
                    (*from, same.map_or(0.0, |u| u.share))
                });
                let multiple = match before {
                    None => c.multiple(),
                    Some((from, _)) if c.multiple() <= from.multiple() => from.multiple(),
                    Some((from, share)) => self.crossing(load, limit, now, (from, share), c),
                };
                found.push(self.failure(now.check, now.part.clone(), below(limit, multiple.max(highest))));
            }
            highest = highest.max(c.multiple());
            last = Some((c, uses));
        }
        found
    }

    /// The multiple between two configurations at which a part has used up its allowable.
    fn crossing(
        &self,
        load: &Load,
        limit: LimitLoad,
        part: &Use,
        (from, share): (&Configuration, f64),
        to: &Configuration,
    ) -> f64 {
        let (mut low, mut high) = ((from.multiple(), share), (to.multiple(), part.share));
        let between =
            |low: (f64, f64), high: (f64, f64)| low.0 + (1.0 - low.1) / (high.1 - low.1) * (high.0 - low.0);
        for _ in 0..ROUNDS {
            let guess = between(low, high);
            let mut c = from.clone();
            if !guess.is_finite() || self.gear.statics.statics().hold(&mut c, load, guess).is_err() {
                break;
            }
            let uses = self.uses(&c, load, limit, &mut Vec::new());
            let Some(now) = uses.iter().find(|u| u.check == part.check && u.part == part.part) else { break };
            if now.share < 1.0 {
                low = (guess, now.share);
            } else {
                high = (guess, now.share);
            }
        }
        between(low, high)
    }

    /// How much of its allowable every part uses in a configuration.
    fn uses(
        &self,
        c: &Configuration,
        load: &Load,
        limit: LimitLoad,
        untold: &mut Vec<(String, String)>,
    ) -> Vec<Use> {
        let state = self.gear.statics.state_of(c, load, &self.loads.loads);
        let case = CaseResult {
            gear: self.loads.gear,
            gear_name: self.gear.subject.gear.name.clone(),
            case: self.loads.case.clone(),
            loads: self.loads.loads.clone(),
            rule: self.loads.rule.clone(),
            rule_source: self.loads.source.to_owned(),
            ultimate: state.clone(),
            limit: state,
            buckling_multiple: None,
            theory: Theory::Small,
            limit_load: Some(limit),
        };
        let mut uses = Vec::new();
        for (check, margin) in checks::run_failures(self.gear.subject, &case) {
            if let Verdict::Untold(why) = &margin.verdict {
                let entry = (margin.part.clone(), why.clone());
                if !untold.contains(&entry) {
                    untold.push(entry);
                }
            }
            if let Some(share) = used(&margin, check.special) {
                uses.push(Use { check: check.id, part: margin.part, share });
            }
        }
        uses
    }

    /// Wires that break or whose ends let go: the curve has it so.
    fn broken_wires(&self, path: &Path, limit: LimitLoad) -> Vec<PartFailure> {
        let marks = self.gear.statics.marks(path);
        let mut highest: f64 = 0.0;
        marks
            .into_iter()
            .filter(|m| m.what == MarkKind::WireBreaks)
            .map(|m| {
                // What breaks because another has broken does so at the load that broke that one.
                highest = highest.max(m.multiple);
                let brace = self.gear.statics.brace_of(&m.part);
                let end_first = brace.is_some_and(|b| b.end_holds.value < 1.0);
                let (check, part) =
                    if end_first { ("wire-end", format!("{} end", m.part)) } else { ("wire-break", m.part) };
                self.failure(check, part, below(limit, highest))
            })
            .collect()
    }

    fn failure(&self, check: &'static str, part: String, multiple: f64) -> PartFailure {
        let known = checks::find(check);
        let follows = matches!(&self.loads.case, CaseName::Known(case) if case.follows_load_factor());
        let reaction = multiple * self.gear.factors.ground_reaction;
        PartFailure {
            check,
            kind: known.and_then(|c| c.fails),
            part,
            words: known.map_or("gives way", |c| c.words),
            multiple,
            inertia_load_factor: follows.then_some(reaction + self.gear.factors.wing_lift),
            drop_height: self.gear.drops.filter(|_| follows).and_then(|d| d.height_for_reaction(reaction)),
        }
    }
}

/// A multiple that is not beyond the top of the curve, which is found to within a trace only.
fn below(limit: LimitLoad, multiple: f64) -> f64 {
    if limit.cause.is_some() { multiple.min(limit.multiple) } else { multiple }
}

/// Share of its allowable that a margin uses, the factors of limit or ultimate load and of fittings aside.
fn used(margin: &Margin, special: f64) -> Option<f64> {
    let allowable = margin.allowable?.si();
    let applied = margin.factor * margin.applied.si() / special;
    Some(if allowable > 0.0 { applied / allowable } else { f64::INFINITY })
}

/// First one first; those that are as good as together by the order of the checks and their names.
fn sort(found: &mut [PartFailure]) {
    found.sort_by(|a, b| a.multiple.total_cmp(&b.multiple));
    // That the gear gives way comes of what gave with it; what gives as a wire breaks comes of that.
    let broken = |f: &PartFailure| matches!(f.check, "wire-break" | "wire-end");
    let place =
        |f: &PartFailure| (f.kind.is_none(), !broken(f), checks::CHECKS.iter().position(|c| c.id == f.check));
    let mut start = 0;
    while start < found.len() {
        let Some(first) = found.get(start).map(|f| f.multiple) else { break };
        let rest = found.get(start..).unwrap_or_default();
        let count = rest.iter().take_while(|f| f.multiple - first <= TOGETHER * first).count().max(1);
        if let Some(group) = found.get_mut(start..start + count) {
            group.sort_by(|a, b| match place(a).cmp(&place(b)) {
                Ordering::Equal => a.part.cmp(&b.part),
                other => other,
            });
        }
        start += count;
    }
}
