//! By which theory a gear's movements and stresses were found, in words.

use super::figure::{UnitChoice, decimal};
use crate::results::{CaseResult, CheckResult, Theory};
use crate::units::Stress;

/// The word used in JSON.
#[must_use]
pub(super) const fn theory_id(theory: Theory) -> &'static str {
    match theory {
        Theory::Small => "small",
        Theory::Large { .. } => "large",
        Theory::OnlySmall => "only-small",
    }
}

/// What small displacements would have as the largest stress, where large ones were used.
#[must_use]
pub(super) const fn small_stress(theory: Theory) -> Option<Stress> {
    match theory {
        Theory::Large { small_stress } => Some(small_stress),
        Theory::Small | Theory::OnlySmall => None,
    }
}

fn peak(case: &CaseResult) -> Stress {
    case.limit.legs.iter().map(|l| l.peak.von_mises).fold(Stress::default(), Stress::max)
}

/// By how much small displacements are off, as a share of the stress found: below zero when they have too little.
fn off(case: &CaseResult) -> Option<f64> {
    let small = small_stress(case.theory)?;
    let found = peak(case);
    (found > Stress::default()).then(|| f64::from(small / found) - 1.0)
}

fn off_words(off: f64) -> String {
    let percent = decimal(100.0 * off.abs(), 0);
    match (percent.as_str(), off < 0.0) {
        ("0", _) => "about right for the stress, but not for how far it moves".to_owned(),
        (_, true) => format!("{percent} % too low, on the unsafe side"),
        (_, false) => format!("{percent} % too high, on the safe side"),
    }
}

/// What the sum of a case's margin has to say of it; `None` for small displacements that are near enough.
#[must_use]
pub(super) fn theory_note(case: &CaseResult, units: &UnitChoice) -> Option<String> {
    match case.theory {
        Theory::Small => None,
        Theory::Large { small_stress } => Some(format!(
            "In this landing forces are those of the gear as it stands under load (large displacements). Without that the largest stress at \
             limit load would be {}{}.",
            units.figure(small_stress, 3),
            off(case).map_or_else(String::new, |o| format!(", {}", off_words(o)))
        )),
        Theory::OnlySmall => Some(
            "In this landing forces are those of the gear as it stands unloaded: moved as far as it moves it finds no rest even if its metal \
             stayed elastic, so they are too low."
                .to_owned(),
        ),
    }
}

/// What the remarks have to say of a gear: once for all its landings.
pub(super) fn theory_remarks(gear: &str, result: &CheckResult, all: &mut Vec<String>) {
    let own = || result.cases.iter().filter(|c| c.gear_name == gear);
    let large: Vec<(&CaseResult, f64)> = own().filter_map(|c| Some((c, off(c)?))).collect();
    let worst = large.iter().copied().reduce(|a, b| if b.1.abs() > a.1.abs() { b } else { a });
    if let Some((case, off)) = worst {
        let count = large.len();
        let landings = own().count();
        all.push(format!(
            "Gear {gear}: in {count} of {landings} landings it moves so far that its forces are reckoned where it then stands. The \
             simpler sum, for small movements, is off most in {}: {}.",
            case.case.words(),
            off_words(off)
        ));
    }
    let lost: Vec<&str> = own().filter(|c| c.theory == Theory::OnlySmall).map(|c| c.case.id()).collect();
    if !lost.is_empty() {
        all.push(format!(
            "Gear {gear}: in {} it finds no rest once it moves as far as the load drives it, at limit or at ultimate load, even if \
             its metal stayed elastic. Stresses and movements there are those for small movements and too low; that it gives \
             way is what counts.",
            lost.join(", ")
        ));
    }
}
