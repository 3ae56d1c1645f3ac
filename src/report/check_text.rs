//! The report of `gearleg check` for people: words first, then numbers, then why.

use super::figure::{UnitChoice, figure, fixed_number, number};
use super::landing::landing_lines;
use super::layout::{bullet, heading, paragraph, table};
use super::mount_text::{held_by, mounts};
use super::order_text::what_gives_first;
use super::remarks::{bench_steps, cautions, remarks};
use super::theory::theory_note;
use super::verdict::verdict;
use super::view::{
    event_words, factor_figure, failure_words, margin_figure, margin_side, margin_sum, place_in_table,
    term_in_words, title, toe_in, working_terms, worst_of_each,
};
use crate::model::Project;
use crate::results::{BenchTest, CaseName, CaseResult, CheckResult, Margin, Term, Verdict};
use crate::units::{Angle, Dimension, Force, Stress, Unit};

/// What the reader asked to see beyond the report itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Detail {
    /// Every margin of every case, not the worst of each part and check only.
    pub every_case: bool,
    /// The working of every margin that is shown.
    pub explain: bool,
}

/// Whether a test of the metal would settle something: its strength is unknown, or what is known of it does not reach.
fn unsettled(project: &Project, test: &BenchTest) -> bool {
    let gear = project.gears.iter().find(|gear| gear.name == test.gear);
    let known = gear.and_then(|gear| gear.plate.yield_strength());
    known.is_none_or(|known| known.value < test.yield_strength)
}

/// Writes the report.
#[must_use]
pub fn check_text(project: &Project, result: &CheckResult, detail: Detail) -> String {
    let units = UnitChoice::from_written(project.written_units.iter().copied());
    let mut out = String::new();
    out.push_str(&title(project, &units));

    heading(&mut out, "VERDICT");
    for line in verdict(project, result, &units) {
        out.push_str(&bullet(&line));
    }
    for test in result.bench_tests.iter().filter(|test| unsettled(project, test)) {
        heading(&mut out, &format!("TEST THE METAL: a strip of gear {}'s sheet", test.gear));
        for step in bench_steps(test, &units) {
            out.push_str(&bullet(&step));
        }
    }

    heading(&mut out, "THE LANDING");
    for line in landing_lines(project, result, &units) {
        out.push_str(&paragraph(&line));
    }

    what_gives_first(&mut out, project, result, &units, detail);
    margins(&mut out, result, &units, detail);
    required_yield(&mut out, result, &units);
    cases(&mut out, result, &units);
    wires(&mut out, result, &units);
    mounts(&mut out, project, result, &units, detail);

    heading(&mut out, "TAKEN FOR GRANTED, AND WHAT STANDS OUT");
    for line in remarks(project, result) {
        out.push_str(&bullet(&line));
    }
    readings(&mut out, project);
    heading(&mut out, "CAUTIONS");
    for line in cautions(project) {
        out.push_str(&bullet(&line));
    }
    out
}

/// What the user wrote in other units than the tool's own, and how it was understood.
fn readings(out: &mut String, project: &Project) {
    let mut rows = project
        .readings
        .iter()
        .filter(|r| r.read.replace(' ', "") != r.written.replace(' ', ""))
        .map(|r| vec![r.key.clone(), r.written.clone(), r.read.clone()])
        .peekable();
    if rows.peek().is_some() {
        heading(out, "HOW YOUR FIGURES WERE READ");
        out.push_str(&table(&["key", "written", "read as"], 1..3, rows));
    }
}

fn margins(out: &mut String, result: &CheckResult, units: &UnitChoice, detail: Detail) {
    let shown: Vec<&Margin> =
        if detail.every_case { result.margins.iter().collect() } else { worst_of_each(result) };
    heading(out, "MARGINS, worst first");
    out.push_str(&paragraph(
        "margin = allowable / (factor × applied) − 1; 0 is exactly enough. * marks an allowable that rests on a \
         typical or recalled value, or on what somebody said.",
    ));
    let rows = shown.iter().map(|m| {
        let star = if m.basis.is_some_and(crate::material::Basis::needs_a_word) { " *" } else { "" };
        vec![
            m.gear.clone(),
            failure_words(m),
            m.case.as_ref().map_or_else(|| "-".to_owned(), |c| c.id().to_owned()),
            margin_side(units, m.applied),
            m.allowable.map_or_else(|| "unknown".to_owned(), |a| format!("{}{star}", margin_side(units, a))),
            factor_figure(m.factor),
            margin_figure(m),
            match m.verdict {
                Verdict::Holds => "holds",
                Verdict::Fails => "FAILS",
                Verdict::Untold(_) => "can't tell",
            }
            .to_owned(),
        ]
    });
    out.push_str(&table(
        &["gear", "what would happen", "landing", "applied", "allowable", "factor", "margin", ""],
        3..7,
        rows,
    ));
    let hidden = result.margins.len() - shown.len();
    if hidden > 0 {
        let sums = if detail.explain { "" } else { ", --explain the sums" };
        out.push_str(&paragraph(&format!(
            "The worst of each kind is shown; --every-case shows the other {hidden} margins{sums}."
        )));
    }
    if detail.explain {
        explain(out, &shown, result, units);
    }
}

fn explain(out: &mut String, shown: &[&Margin], result: &CheckResult, units: &UnitChoice) {
    heading(out, "THE SUMS");
    let mut noted: Vec<(&str, &CaseName)> = Vec::new();
    for (i, m) in shown.iter().enumerate() {
        if i > 0 {
            out.push('\n');
        }
        out.push_str(&paragraph(&format!("{}. Gear {}: {}", i + 1, m.gear, event_words(m))));
        out.push_str(&bullet(&m.working.formula));
        for (term, what) in working_terms(units, &m.working) {
            out.push_str(&bullet(&format!("{term}   {what}")));
        }
        if let Some(sum) = margin_sum(units, m) {
            out.push_str(&bullet(&sum));
        }
        if let Verdict::Untold(why) = &m.verdict {
            out.push_str(&bullet(&format!("Can't be told: {why}.")));
        }
        for note in &m.working.notes {
            out.push_str(&bullet(note));
        }
        // Once for each landing of a gear: it is the same for all that was found in it.
        if let Some(case) = solved_case(m, result)
            && !noted.contains(&(case.gear_name.as_str(), &case.case))
        {
            noted.push((&case.gear_name, &case.case));
            if let Some(note) = theory_note(case, units) {
                out.push_str(&bullet(&note));
            }
        }
        let basis = m.basis.map_or_else(String::new, |b| format!(" ({b})"));
        out.push_str(&bullet(&format!("Source: {}{basis}", m.source)));
    }
}

/// The case from whose forces a margin comes; `None` for one that follows curves of its own, or no case.
fn solved_case<'r>(m: &Margin, result: &'r CheckResult) -> Option<&'r CaseResult> {
    let own_curve = matches!(m.check, "limit-load" | "leg-column");
    let of = |c: &&CaseResult| c.gear_name == m.gear && Some(&c.case) == m.case.as_ref();
    (!own_curve).then(|| result.cases.iter().find(of)).flatten()
}

fn required_yield(out: &mut String, result: &CheckResult, units: &UnitChoice) {
    if result.required_yield.is_empty() {
        return;
    }
    heading(out, "YIELD STRENGTH THE METAL MUST HAVE");
    let rows = result.required_yield.iter().map(|r| {
        let needed = match r.range {
            Some((least, most)) if number(least, units.stress, 3) != number(most, units.stress, 3) => {
                format!("{} to {}", number(least, units.stress, 3), figure(most, units.stress, 3))
            }
            _ => figure(r.yield_strength, units.stress, 3),
        };
        vec![
            r.gear.clone(),
            r.case.id().to_owned(),
            needed,
            some(&r.grades_that_bend, true),
            some(&r.grades_that_hold, false),
        ]
    });
    out.push_str(&table(
        &[
            "gear",
            "landing",
            "needs",
            "grades that would stay bent,\nstrongest first",
            "grades that would hold,\nsoftest first",
        ],
        2..3,
        rows,
    ));
}

/// The strongest few that bend, or the weakest few that hold, and how many more.
fn some(grades: &[String], from_the_end: bool) -> String {
    const SHOWN: usize = 3;
    if grades.is_empty() {
        return "none".to_owned();
    }
    let few: Vec<&str> = if from_the_end {
        grades.iter().rev().take(SHOWN).map(String::as_str).collect()
    } else {
        grades.iter().take(SHOWN).map(String::as_str).collect()
    };
    let more = grades.len() - few.len();
    if more > 0 {
        format!("{}, and {more} {}", few.join(", "), if from_the_end { "softer" } else { "stronger" })
    } else {
        few.join(", ")
    }
}

fn cases(out: &mut String, result: &CheckResult, units: &UnitChoice) {
    heading(out, "EACH LANDING: loads at limit, wheel travel, largest stress");
    out.push_str(&paragraph(
        "Loads and travel are aft / to starboard / up. Toe-in counts from the unloaded gear, minus is toe-out; for a wheel \
         in the middle it is the turn of its front to port.",
    ));
    let mut gear = None;
    for c in &result.cases {
        if gear.replace(c.gear) != Some(c.gear) {
            let own: Vec<&CaseResult> = result.cases.iter().filter(|o| o.gear == c.gear).collect();
            out.push_str(&paragraph(&format!("\nGear {}", c.gear_name)));
            cases_of_gear(out, &own, units);
            rules_of_gear(out, &own, units);
        }
    }
}

/// Share of a gear's largest stress that is no stress but rounding.
const NOTHING: f64 = 1e-9;

fn cases_of_gear(out: &mut String, own: &[&CaseResult], units: &UnitChoice) {
    let force = |v: Force| number(v, units.force, 3);
    let places = if units.length == Unit::Inch { 3 } else { 1 };
    let length = |v| fixed_number(v, units.length, places);
    let worst =
        own.iter().flat_map(|c| &c.limit.legs).map(|l| l.peak.von_mises).fold(Stress::default(), Stress::max);
    let rows = own.iter().flat_map(|c| {
        c.limit.wheels.iter().map(move |w| {
            let [fx, fy, fz] = w.load;
            let [dx, dy, dz] = w.displacement;
            let [_, _, turn] = w.rotation;
            // A twin's wheel hangs on two legs: the worse one counts.
            let peak = c
                .limit
                .legs
                .iter()
                .filter(|l| l.side == w.side || c.limit.wheels.len() < c.limit.legs.len())
                .map(|l| l.peak)
                .reduce(|a, b| if b.von_mises > a.von_mises { b } else { a })
                .filter(|p| p.von_mises > NOTHING * worst);
            vec![
                c.case.id().to_owned(),
                w.side.id().to_owned(),
                format!("{}/{}/{}", force(fx), force(fy), force(fz)),
                format!("{}/{}/{}", length(dx), length(dy), length(dz)),
                fixed_number(toe_in(w.side, turn), units.angle, 1),
                peak.map_or_else(|| "0".to_owned(), |p| number(p.von_mises, units.stress, 3)),
                peak.map_or_else(String::new, |p| place_in_table(units, &p)),
            ]
        })
    });
    let head = |word: &str, dimension| format!("{word},\n{}", units.unit(dimension).symbol());
    let load = head("load", Dimension::Force);
    let travel = head("travel", Dimension::Length);
    let toe = head("toe-in", Dimension::Angle);
    let stress = head("stress", Dimension::Stress);
    out.push_str(&table(
        &["landing", "wheel", &load, &travel, &toe, &stress, "at, from\nthe bend"],
        2..6,
        rows,
    ));
}

/// Where a gear's loads come from; what all its rules share is said once.
fn rules_of_gear(out: &mut String, own: &[&CaseResult], units: &UnitChoice) {
    // The user's own cases have no rule.
    let own: Vec<&&CaseResult> = own.iter().filter(|c| !c.rule.terms.is_empty()).collect();
    if own.is_empty() {
        return;
    }
    // A symbol that has one meaning and one value wherever it appears.
    let shared = |t: &Term| {
        own.len() > 1
            && own.iter().flat_map(|c| &c.rule.terms).filter(|o| o.symbol == t.symbol).all(|o| o == t)
            && own.iter().filter(|c| c.rule.terms.contains(t)).count() > 1
    };
    let mut common: Vec<String> = Vec::new();
    for term in own.iter().flat_map(|c| &c.rule.terms).filter(|t| shared(t)) {
        let words = term_in_words(units, term);
        if !common.contains(&words) {
            common.push(words);
        }
    }
    out.push_str(&paragraph(&if common.is_empty() {
        "Where the loads come from:".to_owned()
    } else {
        format!("Where the loads come from, with {}:", common.join("; "))
    }));
    for c in &own {
        let single: Vec<String> =
            c.rule.terms.iter().filter(|t| !shared(t)).map(|t| term_in_words(units, t)).collect();
        let with = if single.is_empty() { String::new() } else { format!("; {}", single.join("; ")) };
        out.push_str(&bullet(&format!("{}: {}{with} [{}]", c.case.id(), c.rule.formula, c.rule_source)));
        for note in &c.rule.notes {
            out.push_str(&super::layout::continued(note));
        }
    }
}

fn wires(out: &mut String, result: &CheckResult, units: &UnitChoice) {
    let braced = result.cases.iter().any(|c| !c.limit.wires.is_empty());
    if !braced {
        return;
    }
    heading(out, "WIRES at limit load");
    let rows = result.cases.iter().flat_map(|c| {
        c.limit.wires.iter().map(move |w| {
            vec![
                c.gear_name.clone(),
                c.case.id().to_owned(),
                w.name.clone(),
                if w.slack { "slack".to_owned() } else { figure(w.tension, units.force, 3) },
            ]
        })
    });
    out.push_str(&table(&["gear", "landing", "wire", "tension"], 3..4, rows));
    let mut said: Vec<String> = Vec::new();
    for c in &result.cases {
        for w in &c.limit.wires {
            // The acute angle, whichever way the leg is looked along.
            let other = Angle::HALF_TURN - w.angle_to_leg;
            let line = format!(
                "Gear {}, wire {}: {} between its ends, at {} to its leg{}.",
                c.gear_name,
                w.name,
                figure(w.length, units.length, 4),
                figure(w.angle_to_leg.min(other), units.angle, 2),
                held_by(w)
            );
            if !said.contains(&line) {
                said.push(line);
            }
        }
    }
    for line in said {
        out.push_str(&bullet(&line));
    }
}
