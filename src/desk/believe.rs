//! Tests that are hardly of one sheet, and which of them are believed until they are repeated.

use super::{Desk, Posterior};
use crate::model::{ShopTest, TestKind};
use crate::results::Contradiction;
use std::cmp::Ordering;

/// How many times likelier of two sheets than of one the readings of two tests have to be to be called a contradiction. chosen: the tests
/// hold how seldom tests of one sheet come to it.
const CONTRADICTS: f64 = 10.0;

/// The same of two marks or clues, or of a clue and a reading of density, stiffness or conductivity: clues are yes or no, and no tail of an
/// error makes them differ. A dealer's word is wrong too often for that. chosen.
const WORDS_CONTRADICT: f64 = 4.0;

/// Pairs of tests whose readings are hardly of one sheet, the worst first; `alone` is what each says.
pub(super) fn contradictions(desk: &Desk, tests: &[&ShopTest], alone: &[Posterior]) -> Vec<Contradiction> {
    let mut found = Vec::new();
    for (i, (one, first)) in tests.iter().zip(alone).enumerate() {
        for (j, (other, second)) in tests.iter().zip(alone).enumerate().skip(i + 1) {
            let both = desk.posterior(&[i, j]);
            let against = times(first, second, &both);
            if opposite(one, other) || against > enough(one.kind(), other.kind()) {
                found.push(Contradiction { tests: vec![i, j], against });
            }
        }
    }
    found.sort_by(|a, b| b.against.partial_cmp(&a.against).unwrap_or(Ordering::Equal));
    found
}

/// How many times likelier two groups of readings are of two sheets than of one.
fn times(first: &Posterior, second: &Posterior, both: &Posterior) -> f64 {
    first.evidence * second.evidence / both.evidence.max(f64::MIN_POSITIVE)
}

/// Whether two tests answer one question with yes and with no: some sheets are hardly magnetic, and yet one answer is wrong.
fn opposite(one: &ShopTest, other: &ShopTest) -> bool {
    matches!((one, other), (ShopTest::Clue(a, yes), ShopTest::Clue(b, no)) if a == b && yes != no)
}

fn enough(one: TestKind, other: TestKind) -> f64 {
    let said = |kind| matches!(kind, TestKind::Stamp | TestKind::Clue(_));
    let clue = |kind| matches!(kind, TestKind::Clue(_));
    let measured = |kind| matches!(kind, TestKind::Weigh | TestKind::Flex | TestKind::Conductivity);
    let clue_and_reading = |a, b| clue(a) && measured(b);
    if (said(one) && said(other)) || clue_and_reading(one, other) || clue_and_reading(other, one) {
        WORDS_CONTRADICT
    } else {
        CONTRADICTS
    }
}

/// Tests that are of one sheet, and what they say together.
pub(super) type Side = (Vec<usize>, Posterior);

/// The side of tests that is believed, which leaves the lowest strength to design with, the other sides, and what was found to contradict
/// on the way: all tests where none contradict. Else each that contradicts another is believed in turn, with all that contradicts neither it
/// nor each other, the weakest first; and of a side that contradicts itself as a whole one test after another is left out.
pub(super) fn sides(
    desk: &Desk,
    alone: &[Posterior],
    pairs: &[Contradiction],
) -> (Side, Vec<Side>, Vec<Contradiction>) {
    let apart = |a: usize, b: usize| pairs.iter().any(|c| c.tests == [a.min(b), a.max(b)]);
    let mut weakest: Vec<usize> = (0..alone.len()).collect();
    let lower = |i: &usize| alone.get(*i).map(|one| one.likely().p05);
    weakest.sort_by(|a, b| lower(a).partial_cmp(&lower(b)).unwrap_or(Ordering::Equal));
    let mut sides: Vec<Vec<usize>> = Vec::new();
    for first in weakest.iter().filter(|i| pairs.iter().any(|c| c.tests.contains(i))) {
        let mut side = vec![*first];
        for more in &weakest {
            if !side.contains(more) && side.iter().all(|own| !apart(*own, *more)) {
                side.push(*more);
            }
        }
        side.sort_unstable();
        if !sides.contains(&side) {
            sides.push(side);
        }
    }
    if sides.is_empty() {
        sides.push(desk.all());
    }
    let mut found: Vec<(Side, Vec<Side>, Vec<Contradiction>)> =
        sides.into_iter().map(|side| settled(desk, alone, side)).collect();
    found.sort_by(|((_, a), ..), ((_, b), ..)| weaker(a, b));
    let mut found = found.into_iter();
    let Some((believed, mut others, contradictions)) = found.next() else {
        return ((desk.all(), desk.posterior(&desk.all())), Vec::new(), Vec::new());
    };
    for (side, more, _) in found {
        others.push(side);
        others.extend(more);
    }
    (believed, others, contradictions)
}

fn weaker(a: &Posterior, b: &Posterior) -> Ordering {
    a.likely().p05.partial_cmp(&b.likely().p05).unwrap_or(Ordering::Equal)
}

/// A side of which no test contradicts all the others, made of one by leaving out what leaves least strength; the sides that were not gone on
/// with, and what contradicted itself.
fn settled(desk: &Desk, alone: &[Posterior], side: Vec<usize>) -> (Side, Vec<Side>, Vec<Contradiction>) {
    let (mut side, mut others, mut contradictions) =
        ((side.clone(), desk.posterior(&side)), Vec::new(), Vec::new());
    // Of two the pair is known.
    while side.0.len() > 2 {
        let without = |i: usize| -> Side {
            let rest: Vec<usize> = side.0.iter().copied().filter(|own| *own != i).collect();
            let found = desk.posterior(&rest);
            (rest, found)
        };
        let against = |i: usize, rest: &Side| alone.get(i).map_or(0.0, |one| times(one, &rest.1, &side.1));
        let each = side.0.iter().map(|i| (*i, without(*i)));
        let mut odd: Vec<(usize, f64, Side)> = each
            .map(|(i, rest)| (i, against(i, &rest), rest))
            .filter(|(_, against, _)| *against > CONTRADICTS)
            .collect();
        odd.sort_by(|(_, _, (_, a)), (_, _, (_, b))| weaker(a, b));
        let most = odd.iter().map(|(_, against, _)| *against).fold(0.0, f64::max);
        // Where one alone stands against the rest, all of them are in it.
        let mut tests: Vec<usize> = odd.iter().map(|(i, ..)| *i).collect();
        if tests.len() < 3 {
            tests.clone_from(&side.0);
        }
        tests.sort_unstable();
        let mut odd = odd.into_iter();
        let Some((_, _, weakest)) = odd.next() else { break };
        contradictions.push(Contradiction { tests, against: most });
        others.extend(odd.map(|(_, _, rest)| rest));
        side = weakest;
    }
    (side, others, contradictions)
}
