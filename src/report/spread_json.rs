//! The same for programs.

use crate::results::{Cause, Chance, Likely, MarginSpread, Spread, SpreadInput};
use serde_json::{Value, json};

/// Writes the spread.
#[must_use]
pub fn spread_json(spread: &Spread) -> Value {
    json!({
        "samples": spread.samples,
        "seed": spread.seed,
        "only_written": spread.only_written,
        "refused": spread.refused,
        "first_refusal": spread.first_refusal,
        "unsolved": spread.unsolved,
        "any_fails": chance(&spread.any_fails),
        "smallest_margin": spread.smallest.as_ref().map(likely),
        "smallest_told_up_to": spread.smallest_told_up_to(),
        "untold_margins": spread.untold_margins(),
        "margins": spread.margins.iter().map(margin).collect::<Vec<_>>(),
        "causes": causes(&spread.causes),
        "inputs": spread.inputs.iter().map(input).collect::<Vec<_>>(),
        "unknown_metals": spread.unknown_metals,
    })
}

fn margin(margin: &MarginSpread) -> Value {
    json!({
        "check": margin.check, "gear": margin.gear, "part": margin.part,
        "p05": margin.likely.map(|l| l.p05), "p50": margin.likely.map(|l| l.p50), "p95": margin.likely.map(|l| l.p95),
        "chance_of_failing": margin.likely.map(|_| margin.fails.estimate),
        "error": margin.likely.map(|_| margin.fails.error),
        "fewer_than_one_in": margin.likely.and_then(|_| margin.fails.rarer_than_once_in()),
        "told_up_to": margin.told_up_to,
        "untold": margin.untold,
        "causes": causes(&margin.causes),
    })
}

fn chance(chance: &Chance) -> Value {
    json!({
        "chance": chance.estimate, "error": chance.error, "times": chance.times, "of": chance.of,
        "fewer_than_one_in": chance.rarer_than_once_in(),
    })
}

fn likely(likely: &Likely) -> Value {
    json!({ "p05": likely.p05, "p50": likely.p50, "p95": likely.p95 })
}

fn causes(causes: &[Cause]) -> Value {
    causes.iter().map(|c| json!({ "key": c.key, "share": c.share })).collect()
}

fn input(input: &SpreadInput) -> Value {
    json!({ "key": input.key, "words": input.words, "why": input.why })
}
