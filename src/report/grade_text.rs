//! What shop tests say of sheets, for people.

use super::figure::{UnitChoice, decimal, figure, list_and, number, percent, significant};
use super::layout::{bullet, heading, paragraph, table};
use super::remarks::bench_steps;
use crate::model::{Clue, TestKind};
use crate::results::{
    AlikeFamilies, Asked, AskedIn, Contradiction, LikelyStress, NextTest, Property, SheetGrade,
};
use crate::units::{Dimension, Stress, Unit};

/// Least chance that is worth a line of the table. chosen.
const LEAST: f64 = 0.01;
/// Rows of the table and names in a sentence. chosen: the rest is in the JSON.
const MOST_ROWS: usize = 10;
const MOST_NAMES: usize = 4;
/// Chance of none of the table's rows from which it is said first. chosen.
const STRANGE: f64 = 0.3;

/// Chance that a sheet is as strong as a gear asks, or is not, from which no test of it is asked for. chosen: more than that of a design
/// value.
const SETTLED: f64 = 0.99;

/// Writes what is known of each sheet.
#[must_use]
pub fn grade_text(sheets: &[SheetGrade], units: &UnitChoice) -> String {
    let mut out = String::new();
    for sheet in sheets {
        heading(&mut out, &format!("THE SHEET, {}", sheet.sheet));
        for line in grade_words(sheet, units) {
            out.push_str(&bullet(&line));
        }
        for (asked, test) in sheet.asked.iter().filter_map(|a| Some((a, a.offcut.as_ref()?))) {
            if !is_settled(asked) && sheet.misfits.is_empty() {
                heading(&mut out, &format!("DECIDE IT FOR GEAR {}: a strip of {}", asked.gear, sheet.sheet));
                for step in bench_steps(test, units) {
                    out.push_str(&bullet(&step));
                }
            }
        }
        heading(&mut out, &format!("WHAT EACH TEST SAYS ALONE, {}", sheet.sheet));
        let unit = units.unit(Dimension::Stress);
        let head = [
            "".to_owned(),
            "test".to_owned(),
            "comes to".to_owned(),
            format!("yield, likely\n{}", unit.symbol()),
            format!("half below\n{}", unit.symbol()),
        ];
        let rows = sheet.tests.iter().enumerate().map(|(i, test)| {
            let likely = &test.yield_strength;
            let fits = !sheet.misfits.contains(&i);
            let said = |words: String| if fits { words } else { "fits none".to_owned() };
            vec![
                (i + 1).to_string(),
                test.kind.word().to_owned(),
                test.reads.map_or_else(String::new, property_words),
                said(format!("{} to {}", bare(units, likely.p05), bare(units, likely.p95))),
                said(bare(units, likely.p50)),
            ]
        });
        out.push_str(&table(&head.each_ref().map(String::as_str), 3..5, rows));
        if !sheet.misfits.is_empty() {
            continue;
        }
        heading(&mut out, &format!("WHAT IT MAY BE, {}", sheet.sheet));
        let likely = sheet.grades.iter().filter(|g| g.probability >= LEAST).take(MOST_ROWS);
        let mut rows: Vec<Vec<String>> =
            likely.map(|g| vec![g.name.clone(), chance(g.probability), chance(g.before)]).collect();
        rows.push(vec![
            "none of the table's".to_owned(),
            chance(sheet.none_of_these),
            chance(sheet.none_before),
        ]);
        out.push_str(&table(&["metal", "chance", "before any test"], 1..3, rows.into_iter()));
        out.push_str(&paragraph(
            "Chances before any test are the tool's own: metals that dealers keep count three times. [bench_prior] in the file \
             changes them.",
        ));
    }
    heading(&mut out, "CAUTIONS");
    for line in grade_cautions() {
        out.push_str(&bullet(line));
    }
    out
}

/// What is known, in sentences.
#[must_use]
pub(super) fn grade_words(sheet: &SheetGrade, units: &UnitChoice) -> Vec<String> {
    let LikelyStress { p05, p50, p95 } = sheet.yield_strength;
    let mut lines: Vec<String> = sheet
        .misfits
        .iter()
        .map(|i| {
            format!(
                "Test {} fits no metal that the tool knows, whatever its strength: look for a slip of a unit or a reading, and \
                 repeat it. Until then there is no strength to design with.",
                sheet.in_words(*i)
            )
        })
        .collect();
    if !lines.is_empty() {
        return lines;
    }
    lines.extend(contradictions_words(sheet));
    if sheet.contradictions.is_empty() {
        lines.push(format!(
            "Design with a yield strength of {}: of twenty sheets with these readings nineteen are stronger.",
            units.figure(p05, 3)
        ));
    } else {
        lines.push(format!(
            "Until they are repeated, design with a yield strength of {}: {}.",
            units.figure(p05, 3),
            left_out_words(sheet)
        ));
    }
    lines.push(format!(
        "It is likely between {} and {}; half of such sheets have less than {}.",
        units.figure(p05, 3),
        units.figure(p95, 3),
        units.figure(p50, 3)
    ));
    lines.extend(family_words(sheet));
    if sheet.none_of_these >= STRANGE {
        lines.push(format!(
            "It is likely ({}) none of the table's metals. A wrong reading is the usual reason: look through them. If they are right, the \
             yield strength rests on the tests that measure it.",
            percent(sheet.none_of_these)
        ));
    }
    let names: Vec<String> = sheet
        .grades
        .iter()
        .filter(|g| g.probability >= LEAST)
        .take(MOST_NAMES)
        .map(|g| format!("{} {}", g.name, percent(g.probability)))
        .collect();
    if !names.is_empty() {
        lines.push(format!("It may be {}. The strength counts, not the name.", names.join(", ")));
    }
    lines.extend(sheet.asked.iter().map(|asked| asked_words(asked, units)));
    lines.push(match &sheet.next {
        Some(next) => format!("Next: {}.", next_words(next)),
        None => "No further test of those the tool knows would narrow the strength by much.".to_owned(),
    });
    lines
}

/// Contradictions that are told one by one. chosen: the rest is in the JSON.
const MOST_CONTRADICTIONS: usize = 4;

/// Which tests speak against each other.
fn contradictions_words(sheet: &SheetGrade) -> Vec<String> {
    let told = sheet.contradictions.iter().take(MOST_CONTRADICTIONS).map(|c| contradiction_words(sheet, c));
    let more = sheet.contradictions.len().saturating_sub(MOST_CONTRADICTIONS);
    let rest = (more > 0).then(|| format!("So do {more} more pairs or groups of these tests."));
    told.chain(rest).collect()
}

fn contradiction_words(sheet: &SheetGrade, contradiction: &Contradiction) -> String {
    let kind = |i: &usize| sheet.tests.get(*i).map(|test| test.kind);
    let names = list_and(&sheet.all_in_words(&contradiction.tests));
    match contradiction.tests.as_slice() {
        [a, b] if kind(a) == kind(b) && matches!(kind(a), Some(TestKind::Clue(_))) => {
            format!("Tests {names} contradict each other: one question, and two answers. Repeat it.")
        }
        [_, _] => format!(
            "Tests {names} contradict each other: {} times likelier of two sheets than of one. Repeat both; a slip of a unit or another \
             sheet's offcut is likelier than a strange metal.",
            odds(contradiction.against)
        ),
        _ => format!(
            "Tests {names} contradict each other, though no two of them do: one against the others is {} times likelier of another sheet. \
             Repeat them; a slip of a unit or another sheet's offcut is likelier than a strange metal.",
            odds(contradiction.against)
        ),
    }
}

/// Which tests are not believed for now.
fn left_out_words(sheet: &SheetGrade) -> String {
    let tests = if sheet.left_out.len() == 1 { "test" } else { "tests" };
    let unmeasured = if sheet.measures(true) && !sheet.measures(false) {
        "; none of the tests that are left measures a strength, so that it is that of the weakest sheets of the kind"
    } else {
        ""
    };
    format!(
        "the lower end of what is likely without {tests} {}, so that the side that leaves less is believed{unmeasured}",
        list_and(&sheet.all_in_words(&sheet.left_out))
    )
}

/// A property as it is written in a table.
fn property_words(property: Property) -> String {
    match property {
        Property::Density(density) => figure(density, Unit::KilogramPerCubicMetre, 3),
        Property::Modulus(modulus) => figure(modulus, Unit::Gigapascal, 3),
        Property::Brinell(number) => format!("{} HB", significant(number, 3)),
        Property::Conductivity(iacs) => format!("{} % IACS", significant(iacs, 3)),
    }
}

/// That nobody knows how stiff the sheet is, where that is so.
fn family_words(sheet: &SheetGrade) -> Option<String> {
    let likely = sheet.likely_families();
    let [first, _, ..] = likely.as_slice() else { return None };
    let told = |of: &AlikeFamilies| format!("{} ({})", of.words(), figure(of.modulus, Unit::Gigapascal, 3));
    let each: Vec<String> = likely.iter().map(told).collect();
    Some(format!(
        "These tests leave open what it is: {}. `check`, `size` and `compare` reckon their margins with each, and the worse counts; \
         what `drop` tells, and `compare` beside margins, and the chances of `--spread` are those of {}.",
        each.join(", or "),
        first.words()
    ))
}

/// What a gear asks of the sheet, and how likely it has it.
fn asked_words(asked: &Asked, units: &UnitChoice) -> String {
    let of = if asked.told { "" } else { ", if its legs are of this sheet," };
    let asks = |one: &AskedIn| {
        let (figure, chance) = (units.figure(one.yield_strength, 3), chance(one.chance));
        format!("{figure} in {}, which it has with a chance of {chance}", one.case.words())
    };
    let mut words = format!("Gear {}{of} asks of it {}.", asked.gear, asks(&asked.hardest));
    if let Some(published) = &asked.published {
        words.push_str(&format!(
            " That landing is reckoned as builders do, without a published source; the hardest of the others asks {}.",
            asks(published)
        ));
    }
    if !is_settled(asked) {
        words.push_str(if asked.offcut.is_some() {
            " The strip test below decides it."
        } else {
            " No strip of it can be loaded by hand to that."
        });
    }
    words
}

/// Whether nobody needs a test any more to say whether the sheet is strong enough.
fn is_settled(asked: &Asked) -> bool {
    let chance = asked.hardest.chance;
    chance >= SETTLED || chance <= 1.0 - SETTLED
}

/// What to do next and why.
#[must_use]
pub(super) fn next_words(next: &NextTest) -> String {
    let (how, minutes) = (how(next.kind), decimal(next.minutes, 0));
    if next.families.is_empty() {
        let narrows = percent(next.narrows);
        return format!("{how}, about {minutes} min, would make the likely range about {narrows} narrower");
    }
    let families: Vec<String> = next.families.iter().map(AlikeFamilies::words).collect();
    format!("{how}, about {minutes} min, tells {} apart, and with that how stiff it is", list_and(&families))
}

/// How a test is made.
fn how(kind: TestKind) -> &'static str {
    match kind {
        TestKind::Conductivity => "measure how well it conducts (conductivity)",
        TestKind::Dent => "measure its hardness, or a ball's dent beside one in a known piece (dent)",
        TestKind::Drop => "drop a leg of it with its gear and measure what stays bent (drop)",
        TestKind::Fold => "fold an offcut to twice its thickness (fold)",
        TestKind::Wrap => {
            "bend a strip by 90° round a rod of four times its thickness, let go and measure the angle (wrap)"
        }
        TestKind::Weigh => "weigh a piece in air and in water, to 0.1 g (weigh)",
        TestKind::BendStrip => {
            "clamp a strip, hang weights on it one after another and measure what stays bent (bend-strip)"
        }
        TestKind::Flex => "clamp a strip and measure how far a small weight takes it down (flex)",
        TestKind::Clue(Clue::Magnet) => "hold a magnet to it (magnet)",
        TestKind::Clue(Clue::Spark) => "hold it to the grinder (spark)",
        TestKind::Clue(Clue::Caustic) => "put a drop of caustic soda on it (caustic)",
        TestKind::Stamp => "look for a mark on it (stamp)",
        TestKind::Told => "ask the dealer (told)",
    }
}

/// Cautions that go with shop tests.
#[must_use]
pub(super) const fn grade_cautions() -> [&'static str; 5] {
    [
        "An estimate from shop tests of one piece: another sheet, or the other end of this one, may differ. It replaces no \
         certificate and no licensed engineer; nothing here clears a design to carry or fly over people.",
        "A bent strip stores energy and offcuts crack without warning: eye protection, stand aside, keep people clear, and a box \
         under the weights.",
        "Caustic soda burns skin and eyes and makes hydrogen: gloves, goggles, fresh air, one drop, rinse. File off cladding \
         first: it stays bright over any core.",
        "Take no spark from titanium or magnesium near chips: they burn. No tests with cadmium salts: they are poisonous.",
        "No torch, solder or oven on tempered metal: what was tested is then another metal.",
    ]
}

/// A stress without its unit.
fn bare(units: &UnitChoice, stress: Stress) -> String {
    number(stress, units.unit(Dimension::Stress), 3)
}

/// A chance; one that is not nothing does not read as nothing, nor one that is not sure as sure.
fn chance(share: f64) -> String {
    if share > 0.0 && share < 0.005 {
        "< 1 %".to_owned()
    } else if share >= 0.995 {
        "> 99 %".to_owned()
    } else {
        percent(share)
    }
}

/// Odds as people say them: two digits at most.
fn odds(times: f64) -> String {
    if times > 1000.0 { "more than a thousand".to_owned() } else { decimal(times, 0) }
}
