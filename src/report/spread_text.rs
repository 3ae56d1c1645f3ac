//! What the margins come to when nothing is quite what the file says, for people.

use super::figure::{decimal, percent};
use super::layout::{bullet, heading, paragraph, table};
use crate::checks;
use crate::results::{Cause, Chance, Likely, MarginSpread, Spread, SpreadInput};

/// Rows of the table. chosen: the weakest dozen fits a screen; the rest is in the JSON.
const MOST_ROWS: usize = 12;
/// The largest margin that is shown, as in the table of margins.
const MOST_SHOWN: f64 = 20.0;
/// Causes that are told, and the least share that is worth a line. chosen: below 3 % nothing is won by measuring.
const MOST_CAUSES: usize = 6;
const LEAST_SHARE: f64 = 0.03;

/// Writes the spread; `explain` adds why each value is taken to vary as it is.
#[must_use]
pub fn spread_text(spread: &Spread, explain: bool) -> String {
    let mut out = String::new();
    heading(&mut out, "SPREAD, when nothing is quite what the file says");
    out.push_str(&paragraph(&drawn(spread)));
    for line in verdict(spread) {
        out.push_str(&bullet(&line));
    }
    weakest(&mut out, spread);
    if !spread.causes.is_empty() && spread.smallest.is_some() {
        heading(&mut out, "WHAT TO MEASURE NEXT");
        for line in next(spread) {
            out.push_str(&bullet(&line));
        }
    }
    heading(&mut out, "WHAT WAS TAKEN TO VARY");
    out.push_str(&paragraph(
        "A tolerance (±) holds for 19 of 20 pieces: it is two standard deviations of a normal distribution. Strengths and \
         stiffnesses are lognormal; the strength of a tested sheet is as its tests leave it.",
    ));
    let row = |input: &SpreadInput| {
        let mut row = vec![input.key.clone(), input.words.clone()];
        row.extend(explain.then(|| input.why.clone()));
        row
    };
    let header: &[&str] = if explain { &["what", "taken as", "why"] } else { &["what", "taken as"] };
    out.push_str(&table(header, 0..0, spread.inputs.iter().map(row)));
    out.push_str(&paragraph(
        "Write a tolerance of your own behind any value, as in \"4 mm ± 0.1 mm\"; --only-written leaves all others out.",
    ));
    out
}

fn drawn(spread: &Spread) -> String {
    let of = if spread.only_written { "the tolerances in the file" } else { "what is listed below" };
    format!(
        "{} samples within {of} (seed {}), each checked like the file itself. Likely: nine samples in ten lie between the two \
         figures. What landings the field has in store, and what nobody thought of, is not in it.",
        spread.samples, spread.seed
    )
}

fn verdict(spread: &Spread) -> Vec<String> {
    let mut lines = Vec::new();
    if spread.inputs.is_empty() {
        lines.push("Nothing varies: no value of the file has a tolerance.".to_owned());
    }
    if spread.any_fails.of > 0 {
        let untold = spread.untold_margins();
        let what = match untold {
            0 => "That something does not hold the landing stated".to_owned(),
            _ => format!(
                "Of {} margins {untold} can't be told in any sample; that something of the others does not hold",
                spread.margins.len()
            ),
        };
        lines.push(format!("{what}: {}.", chance_words(&spread.any_fails)));
    }
    if let Some(likely) = &spread.smallest {
        let most = spread.smallest_told_up_to().unwrap_or(MOST_SHOWN);
        lines.push(if likely.p50 >= most {
            format!(
                "The smallest margin of all is likely {}; the gear is followed no further.",
                range(likely, most)
            )
        } else {
            format!(
                "The smallest margin of all is likely {}; half of all samples have less than {}.",
                range(likely, most),
                figure(likely.p50, most)
            )
        });
    }
    for gear in &spread.unknown_metals {
        lines.push(format!(
            "Gear {gear}: nobody knows the metal, so its strength was not drawn, and what rests on it stays untold."
        ));
    }
    if spread.refused > 0 {
        let first = spread.first_refusal.as_deref().unwrap_or_default();
        lines.push(format!(
            "{} of the samples make a gear that can't be, and count neither way (the first: {first}).",
            spread.refused
        ));
    }
    if spread.unsolved > 0 {
        lines.push(format!(
            "{} of the samples have no answer, and count neither way: there the gear is near the end of what it carries.",
            spread.unsolved
        ));
    }
    lines
}

fn weakest(out: &mut String, spread: &Spread) {
    let told: Vec<&MarginSpread> = spread.margins.iter().filter(|m| m.likely.is_some()).collect();
    let rows = told.iter().take(MOST_ROWS).map(|m| {
        let does = checks::find(m.check).map_or(m.check, |c| c.words);
        let likely = m.likely.as_ref();
        let most = m.told_up_to.unwrap_or(MOST_SHOWN);
        vec![
            m.gear.clone(),
            format!("{} {does}", m.part),
            likely.map_or_else(String::new, |l| range(l, most)),
            likely.map_or_else(String::new, |l| figure(l.p50, most)),
            chance_figure(&m.fails),
            m.causes.first().filter(|c| c.share >= LEAST_SHARE).map_or_else(
                || "-".to_owned(),
                |c| format!("{} {}", short(&c.key, &m.gear), percent(c.share)),
            ),
        ]
    });
    out.push_str(&table(
        &["gear", "what would happen", "margin, likely", "half below", "chance", "mostly by"],
        2..5,
        rows,
    ));
    if told.len() > MOST_ROWS {
        out.push_str(&paragraph(&format!(
            "The weakest {MOST_ROWS} are shown; --format json has the other {}.",
            told.len() - MOST_ROWS
        )));
    }
    let untold = spread.margins.len() - told.len();
    if untold > 0 {
        out.push_str(&paragraph(&format!("{untold} more can't be told in any sample.")));
    }
}

/// What causes the spread, with a way to find it out.
fn next(spread: &Spread) -> Vec<String> {
    let most = spread.smallest_told_up_to().unwrap_or(f64::INFINITY);
    if spread.smallest.is_some_and(|likely| likely.p05 >= most) {
        return vec![
            "Nothing: as far as the gear is followed, no value matters to the smallest margin.".to_owned(),
        ];
    }
    let mut lines: Vec<String> = spread
        .causes
        .iter()
        .filter(|cause| cause.share >= LEAST_SHARE)
        .take(MOST_CAUSES)
        .map(|cause| {
            let words = spread.inputs.iter().find(|i| i.key == cause.key).map_or("", |i| i.words.as_str());
            let line = format!(
                "{} of the spread of the smallest margin: {} ({words})",
                percent(cause.share),
                cause.key
            );
            match way(&cause.key) {
                Some(way) => format!("{line}: {way}."),
                None => format!("{line}."),
            }
        })
        .collect();
    let alone: f64 = spread.causes.iter().map(|c: &Cause| c.share).sum();
    if lines.is_empty() {
        lines.push("No single value stands out.".to_owned());
    }
    if 1.0 - alone >= LEAST_SHARE {
        lines.push(format!("{} comes of several together.", percent(1.0 - alone)));
    }
    lines
}

/// How to find a value out better.
fn way(key: &str) -> Option<&'static str> {
    let last = key.rsplit('.').next()?;
    Some(match last {
        "thickness" | "thickness_root" | "thickness_tip" | "diameter" | "axle" | "wood_thickness" => {
            "measure with calipers, paint off"
        }
        "width_root" | "width_tip" | "base_width" | "leg_length" | "overhang" | "base_at" => {
            "measure with calipers or a steel rule"
        }
        "leg_angle" | "rake" => "measure the bent leg with a protractor or from a photo",
        "mass" => "weigh it as it lands",
        "arrival" => "film a landing and count the frames of the last half metre",
        "tyre_stiffness" => "stand the wheel on a scale and measure how far it squashes",
        "pretension" => "pull the wire sideways at its middle with a spring scale",
        "strength" if key.contains("plate.metal") => "bend a strip of the same sheet in the shop",
        "strength" if key.contains("wood") => "break an offcut of the same wood",
        "strength" if key.contains("wire") => "pull a piece of the same wire with its end",
        "pull_through" | "glue_strength" => "try more than one piece",
        _ => return None,
    })
}

/// A key without the gear that its row names already.
fn short(key: &str, gear: &str) -> String {
    let own = key.strip_prefix("gear.").and_then(|k| k.strip_prefix(gear)).and_then(|k| k.strip_prefix('.'));
    // Apart, so that a narrow column can part them.
    own.unwrap_or(key).replace(".strength", " strength").replace(".modulus", " stiffness")
}

/// A margin, or that it is at least `most`.
fn figure(margin: f64, most: f64) -> String {
    if margin >= most {
        return format!("> +{}", decimal(most, if most < 10.0 { 2 } else { 0 }));
    }
    let text = decimal(margin, 2);
    match (margin < 0.0, text.as_str()) {
        (true, "0.00") => "-0.01".to_owned(),
        (true, _) => text,
        (false, _) => format!("+{text}"),
    }
}

fn range(likely: &Likely, most: f64) -> String {
    if likely.p05 >= most {
        return figure(likely.p05, most);
    }
    format!("{} to {}", figure(likely.p05, most), figure(likely.p95, most))
}

/// A chance with its error, in words.
fn chance_words(chance: &Chance) -> String {
    match (chance.rarer_than_once_in(), chance.times == chance.of) {
        (Some(once), _) => format!("none of {} samples, so fewer than 1 in {once}", chance.of),
        (None, true) => format!("all of {} samples", chance.of),
        (None, false) => {
            format!("{} of the samples ({} of {})", chance_figure(chance), chance.times, chance.of)
        }
    }
}

/// The same for a column.
fn chance_figure(chance: &Chance) -> String {
    match (chance.rarer_than_once_in(), chance.times == chance.of) {
        (Some(0), _) => "can't tell".to_owned(),
        (Some(once), _) => format!("< 1 in {once}"),
        (None, true) => "all".to_owned(),
        (None, false) => {
            // One decimal where a whole number would read as nothing, or is known better.
            let decimals = usize::from(chance.error < 0.005 || chance.estimate < 0.01);
            let [share, error] = [chance.estimate, chance.error].map(|c| decimal(100.0 * c, decimals));
            format!("{share} ± {error} %")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_margin_that_is_at_least_something_says_so() {
        let likely = |p05, p50, p95| Likely { p05, p50, p95 };
        assert_eq!(range(&likely(-0.1, 0.2, 0.5), 0.5), "-0.10 to > +0.50");
        assert_eq!(range(&likely(0.5, 0.5, 0.5), 0.5), "> +0.50");
        assert_eq!(range(&likely(-0.1, 0.2, 31.0), MOST_SHOWN), "-0.10 to > +20");
        assert_eq!(figure(-0.001, MOST_SHOWN), "-0.01", "what fails does not read as zero");
    }

    #[test]
    fn a_chance_is_told_as_far_as_it_is_known() {
        let chance = |times, of, estimate, error| Chance { estimate, error, times, of };
        assert_eq!(chance_figure(&chance(0, 2048, 0.0, 5e-4)), "< 1 in 682");
        assert_eq!(chance_figure(&chance(700, 2048, 0.3418, 0.021)), "34 ± 2 %");
        assert_eq!(chance_figure(&chance(6, 2048, 0.0029, 0.0016)), "0.3 ± 0.2 %");
        assert_eq!(chance_figure(&chance(1, 200, 0.005, 0.012)), "0.5 ± 1.2 %");
        assert_eq!(chance_figure(&chance(2048, 2048, 1.0, 5e-4)), "all");
        assert!(chance_words(&chance(0, 2048, 0.0, 5e-4)).contains("fewer than 1 in 682"));
    }
}
