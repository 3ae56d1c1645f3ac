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

/// What contradicts itself as a whole although no two tests do: steel may explain a strip and a bend, and a scale say that it is none.
pub(super) fn together(desk: &Desk, alone: &[Posterior], all: &Posterior) -> Option<Contradiction> {
    let without =
        |i: usize| desk.posterior(&desk.all().into_iter().filter(|own| *own != i).collect::<Vec<_>>());
    let each = alone.iter().enumerate().map(|(i, one)| (i, times(one, &without(i), all)));
    // Of two the pair is known.
    let odd: Vec<(usize, f64)> =
        each.filter(|(_, against)| alone.len() > 2 && *against > CONTRADICTS).collect();
    let against = odd.iter().map(|(_, against)| *against).reduce(f64::max)?;
    // Where one or two stand against the rest, all of them are in it.
    let tests = if odd.len() < 3 { desk.all() } else { odd.into_iter().map(|(i, _)| i).collect() };
    Some(Contradiction { tests, against })
}

/// The side of tests that contradict each other that is believed, which leaves the lowest strength to design with, and the other sides. Each
/// test is believed in turn, with every other that does not contradict those taken before it, the weakest first; as many of these as agree
/// with each other as a whole.
pub(super) fn sides(desk: &Desk, alone: &[Posterior], contradictions: &[Contradiction]) -> (Side, Vec<Side>) {
    let pair = |a: usize, b: usize| contradictions.iter().any(|c| c.tests == [a.min(b), a.max(b)]);
    let mut weakest: Vec<(usize, &Posterior)> = alone.iter().enumerate().collect();
    weakest.sort_by(|(_, a), (_, b)| weaker(a, b));
    let mut sides: Vec<Side> = Vec::new();
    for (first, _) in &weakest {
        let mut side = vec![*first];
        let mut found = desk.posterior(&side);
        for (more, own) in weakest.iter().filter(|(more, _)| more != first) {
            if side.iter().any(|known| pair(*known, *more)) {
                continue;
            }
            let with: Vec<usize> = side.iter().copied().chain([*more]).collect();
            let both = desk.posterior(&with);
            // Of two the pair is known.
            if side.len() == 1 || times(&found, own, &both) <= CONTRADICTS {
                (side, found) = (with, both);
            }
        }
        while stands_against_the_rest(desk, alone, &side, &found) && side.pop().is_some() {
            found = desk.posterior(&side);
        }
        side.sort_unstable();
        if !sides.iter().any(|(known, _)| *known == side) {
            sides.push((side, found));
        }
    }
    sides.sort_by(|(_, a), (_, b)| weaker(a, b));
    let mut sides = sides.into_iter();
    let believed = sides.next().unwrap_or_else(|| (desk.all(), desk.posterior(&desk.all())));
    (believed, sides.collect())
}

/// Whether one of a side's tests contradicts all its others together; of two the pair is known.
fn stands_against_the_rest(desk: &Desk, alone: &[Posterior], side: &[usize], found: &Posterior) -> bool {
    side.len() > 2
        && side.iter().any(|i| {
            let rest: Vec<usize> = side.iter().copied().filter(|own| own != i).collect();
            alone.get(*i).is_some_and(|one| times(one, &desk.posterior(&rest), found) > CONTRADICTS)
        })
}

fn weaker(a: &Posterior, b: &Posterior) -> Ordering {
    a.likely().p05.partial_cmp(&b.likely().p05).unwrap_or(Ordering::Equal)
}
