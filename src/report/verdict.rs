//! The verdict in words, gear by gear.

use super::bracing::bracing_verdict;
use super::figure::{UnitChoice, figure, list_and};
use super::landing::{collapse_warning, doubtful_factor};
use super::order_words::{followed, kind_words, together};
use super::view::{event_words, factor_figure, in_table, margin_figure, tally};
use crate::material::Basis;
use crate::model::{Gear, PartKind, PlateMetal, Project};
use crate::results::{Amount, CaseName, CheckResult, Margin, RequiredYield, Verdict};

/// Id of the check that holds the order of failure against the builder's wish.
const GIVE_FIRST: &str = "give-first";

/// The verdict, one or two sentences a line.
#[must_use]
pub(super) fn verdict(project: &Project, result: &CheckResult, units: &UnitChoice) -> Vec<String> {
    let mut lines = Vec::new();
    let (fails, untold) = tally(result);
    let all = result.margins.len();
    lines.push(match (fails, untold) {
        (0, 0) => {
            format!("All {all} margins hold, as far as this estimate goes{}.", without_mount(project))
        }
        (0, u) if u == all => format!("Can't be told: none of the {all} margins."),
        (0, u) => format!("Can't be told: {u} of {all} margins; the others hold."),
        (f, 0) => format!("Does not hold: {f} of {all} margins fail."),
        (f, u) => format!("Does not hold: {f} of {all} margins fail, and {u} can't be told."),
    });
    lines.extend(project.gears.iter().filter_map(|g| collapse_warning(result, &g.name, units)));
    for gear in &project.gears {
        lines.extend(gear_verdict(gear, result, units));
    }
    lines
}

/// What the first line has to say of mounts that are not described.
fn without_mount(project: &Project) -> String {
    let names: Vec<&str> =
        project.gears.iter().filter(|g| g.mount.is_none()).map(|g| g.name.as_str()).collect();
    if names.is_empty() {
        String::new()
    } else if names.len() == project.gears.len() {
        "; the mount is not checked".to_owned()
    } else {
        format!("; the mount of gear {} is not checked", list_and(&names))
    }
}

fn gear_verdict(gear: &Gear, result: &CheckResult, units: &UnitChoice) -> Vec<String> {
    let mut lines = Vec::new();
    let own: Vec<&Margin> = result.margins.iter().filter(|m| m.gear == gear.name).collect();
    let failing: Vec<&&Margin> = own.iter().filter(|m| m.verdict == Verdict::Fails).collect();
    if gear.plate.metal == PlateMetal::Unknown {
        lines.extend(unknown_verdict(gear, result, units));
    } else if let Some((m, why)) = own.iter().find_map(|m| match &m.verdict {
        Verdict::Untold(why) => Some((m, why)),
        Verdict::Holds | Verdict::Fails => None,
    }) {
        lines.push(format!("Gear {}: whether the {} can't be told: {why}.", gear.name, event_words(m)));
    }
    if let Some(first) = failing.first() {
        lines.push(format!("Gear {}: {}", gear.name, failing_words(gear, first, result, units)));
        // The worst of each other way to fail, so that mending the first is no surprise.
        let mut named = vec![first.check];
        for other in &failing {
            if !named.contains(&other.check) {
                named.push(other.check);
                lines.push(format!("Gear {}, too: {}", gear.name, failing_words(gear, other, result, units)));
            }
        }
        let published: Vec<&&Margin> =
            own.iter().filter(|m| m.case.as_ref().is_some_and(CaseName::is_published)).collect();
        let unpublished = |m: &&&Margin| m.case.as_ref().is_some_and(CaseName::is_common_practice);
        if failing.iter().all(unpublished)
            && !published.is_empty()
            && published.iter().all(|m| m.verdict == Verdict::Holds)
        {
            lines.push(format!(
                "Gear {}: every landing of the published rules that was asked for holds; what fails is reckoned as builders do, without a \
                 published source.",
                gear.name
            ));
        }
    } else if let Some(least) = own.iter().find(|m| m.verdict == Verdict::Holds) {
        let told = own.iter().all(|m| m.verdict == Verdict::Holds);
        let how = if told { "holds; nearest" } else { "the rest holds; nearest" };
        lines.push(format!(
            "Gear {}: {how} to failing: {}: {}, margin {}.{}",
            gear.name,
            event_words(least),
            sides_words(least, units, ""),
            margin_figure(least),
            basis_words(least)
        ));
    }
    lines.extend(doubtful_factor(result, gear, units));
    lines.extend(bracing_verdict(gear, result, units));
    lines
}

/// What kind of value the margin rests on, where that has to be said.
fn basis_words(margin: &Margin) -> &'static str {
    match margin.basis {
        Some(Basis::Typical) => " This rests on a typical value: half of all pieces lie below it.",
        Some(Basis::FromMemory) => " This rests on a value recalled from its source, not read in it.",
        Some(Basis::CommonPractice) => " This rests on common practice, without a published source.",
        Some(Basis::Told) => " This rests on what you were told.",
        Some(Basis::BenchTest) => " This rests on bench tests.",
        Some(Basis::SpecificationMinimum | Basis::Computed) | None => "",
    }
}

/// What is applied and what is allowed: "244 MPa × 1.5 applied, 260 MPa allowed"; with no landing, what is needed
/// and what is there.
fn sides_words(margin: &Margin, units: &UnitChoice, why: &str) -> String {
    let mut applied = in_table(units, margin.applied);
    if (margin.factor - 1.0).abs() >= 1e-12 {
        applied = format!("{applied} × {}", factor_figure(margin.factor));
    }
    if margin.check == GIVE_FIRST {
        let other = margin.allowable.map_or_else(|| "nowhere".to_owned(), |a| in_table(units, a));
        return format!(
            "{} times these loads for it, {other} for the first of the others",
            in_table(units, margin.applied)
        );
    }
    let allowed = margin.allowable.map_or_else(|| "an unknown amount".to_owned(), |a| in_table(units, a));
    if let Amount::Number(_) = margin.applied {
        return format!("{} times these loads asked{why}, {allowed} held", factor_figure(margin.factor));
    }
    if margin.case.is_some() {
        format!("{applied} applied, {allowed} allowed{why}")
    } else {
        format!("{applied} needed{why}, {allowed} there")
    }
}

fn failing_words(gear: &Gear, m: &Margin, result: &CheckResult, units: &UnitChoice) -> String {
    if let Some(words) = (m.check == GIVE_FIRST).then(|| given_before(gear, m, result)).flatten() {
        return words;
    }
    let why = match &gear.plate.metal {
        PlateMetal::Known(metal) if m.check.starts_with("leg-") || m.check == "bend-radius" => {
            format!(" ({})", metal.name)
        }
        _ => String::new(),
    };
    format!(
        "{}: {}, margin {}.{}",
        event_words(m),
        sides_words(m, units, &why),
        margin_figure(m),
        basis_words(m)
    )
}

/// What gives before the part that is meant to give first.
fn given_before(gear: &Gear, m: &Margin, result: &CheckResult) -> Option<String> {
    let case = m.case.as_ref()?;
    let meant = gear.give_first?;
    let order = result.failure_orders.iter().find(|o| o.gear == gear.name && o.case == *case)?;
    let groups = together(order);
    let other = groups.iter().find(|g| g.first.kind.is_some_and(|k| k != meant))?;
    let (they, give) = if meant == PartKind::Wood { ("it", "gives") } else { ("they", "give") };
    let own = groups.iter().find(|g| g.first.kind == Some(meant)).map_or_else(
        || format!("and {they} {give} nowhere up to {} times", followed(order)),
        |g| format!("before {}", g.event_at()),
    );
    Some(format!(
        "{} should give first, but in {} {} times the limit loads, {own}, margin {}.",
        kind_words(Some(meant)),
        case.words(),
        other.event_at(),
        margin_figure(m)
    ))
}

fn unknown_verdict(gear: &Gear, result: &CheckResult, units: &UnitChoice) -> Vec<String> {
    let Some((worst, published)) = result.hardest(&gear.name) else { return Vec::new() };
    let (bend, hold) = (common(&worst.grades_that_bend, result), common(&worst.grades_that_hold, result));
    let mut lines = vec![format!(
        "Gear {}: with metal of unknown grade, {} of {} common grades would stay bent in {}. It needs a yield strength of \
         {}.",
        gear.name,
        bend.len(),
        bend.len() + hold.len(),
        worst.case.words(),
        needed(worst, units)
    )];
    if !bend.is_empty() {
        lines.push(format!("Would stay bent: {}.", bend.join(", ")));
    }
    if !hold.is_empty() {
        lines.push(format!("Would hold: {}.", hold.join(", ")));
    }
    if let Some(published) = published {
        lines.push(format!(
            "That landing is reckoned as builders do, without a published source. The hardest of the others is {}: it needs \
             {}, and {} of the {} would stay bent.",
            published.case.words(),
            needed(published, units),
            common(&published.grades_that_bend, result).len(),
            bend.len() + hold.len()
        ));
    }
    lines
}

fn common(names: &[String], result: &CheckResult) -> Vec<String> {
    names.iter().filter(|n| result.common_grades.contains(n)).cloned().collect()
}

fn needed(r: &RequiredYield, units: &UnitChoice) -> String {
    match r.range {
        Some((least, most)) if figure(least, units.stress, 3) != figure(most, units.stress, 3) => {
            format!(
                "{} to {}, depending on how stiff the metal is",
                figure(least, units.stress, 3),
                figure(most, units.stress, 3)
            )
        }
        _ => figure(r.yield_strength, units.stress, 3),
    }
}
