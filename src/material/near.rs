//! Which names come near to one that was mistyped.

use std::collections::BTreeSet;

/// How many names are suggested at most.
const MOST: usize = 6;

/// The name without case, spaces and punctuation.
pub(crate) fn flat(name: &str) -> String {
    name.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// The names that come near, best first: the same but for case and punctuation, else those that begin
/// alike, those a few letters away, those that have the name inside.
pub(crate) fn nearest<'n>(name: &str, known: impl IntoIterator<Item = &'n str>) -> Vec<String> {
    let asked = flat(name);
    if asked.is_empty() {
        return Vec::new();
    }
    // chosen: one wrong letter in three still looks like the same word.
    let most_wrong = asked.chars().count().div_ceil(3);
    let mut scored: Vec<(usize, usize, &str)> = known
        .into_iter()
        .filter_map(|k| {
            let candidate = flat(k);
            let wrong = strsim::damerau_levenshtein(&asked, &candidate);
            if wrong == 0 {
                Some((0, 0, k))
            } else if candidate.starts_with(&asked) && asked.len() > 1 {
                Some((1, candidate.len(), k))
            } else if wrong <= most_wrong {
                Some((2, wrong, k))
            } else {
                (candidate.contains(&asked) && asked.len() > 1).then_some((3, candidate.len(), k))
            }
        })
        .collect();
    scored.sort();
    if let Some(&(0, _, _)) = scored.first() {
        scored.retain(|s| s.0 == 0);
    }
    let mut seen = BTreeSet::new();
    scored.into_iter().filter(|s| seen.insert(s.2)).take(MOST).map(|s| s.2.to_owned()).collect()
}
