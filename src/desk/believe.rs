//! Tests that are hardly of one sheet, and which of them are believed until they are repeated.

use super::{Desk, Posterior};
use crate::model::{ShopTest, TestKind};
use crate::results::Contradiction;
use std::cmp::Ordering;

/// How many times likelier of two sheets than of one the readings of two tests have to be to be called a contradiction. chosen: the tests
/// hold how seldom tests of one sheet come to it.
const CONTRADICTS: f64 = 10.0;

/// The same of two marks or clues, or of a clue and a measurement: they are yes or no, and no tail of an error makes them differ. A dealer's
/// word is wrong too often for that. chosen.
const WORDS_CONTRADICT: f64 = 4.0;

/// Pairs of tests whose readings are hardly of one sheet, the worst first; `alone` is what each says.
pub(super) fn contradictions(desk: &Desk, tests: &[&ShopTest], alone: &[Posterior]) -> Vec<Contradiction> {
    let mut found = Vec::new();
    for (i, (one, first)) in tests.iter().zip(alone).enumerate() {
        for (j, (other, second)) in tests.iter().zip(alone).enumerate().skip(i + 1) {
            let both = desk.posterior(&[i, j]).evidence.max(f64::MIN_POSITIVE);
            let against = first.evidence * second.evidence / both;
            if opposite(one, other) || against > enough(one.kind(), other.kind()) {
                found.push(Contradiction { tests: (i, j), against });
            }
        }
    }
    found.sort_by(|a, b| b.against.partial_cmp(&a.against).unwrap_or(Ordering::Equal));
    found
}

/// Whether two tests answer one question with yes and with no: some sheets are hardly magnetic, and yet one answer is wrong.
fn opposite(one: &ShopTest, other: &ShopTest) -> bool {
    matches!((one, other), (ShopTest::Clue(a, yes), ShopTest::Clue(b, no)) if a == b && yes != no)
}

fn enough(one: TestKind, other: TestKind) -> f64 {
    let said = |kind| matches!(kind, TestKind::Stamp | TestKind::Clue(_));
    let clue = |kind| matches!(kind, TestKind::Clue(_));
    let measured = |kind| matches!(kind, TestKind::Weigh | TestKind::Flex | TestKind::Conductivity);
    let plain = |a, b| clue(a) && measured(b);
    if (said(one) && said(other)) || plain(one, other) || plain(other, one) {
        WORDS_CONTRADICT
    } else {
        CONTRADICTS
    }
}

/// Tests that are of one sheet, and what they say together.
pub(super) type Side = (Vec<usize>, Posterior);

/// The side of tests that is believed, which leaves the lowest strength to design with, and the others: all tests where none contradict. Else
/// each that contradicts another is believed in turn, with all that contradicts neither it nor each other, the weakest first.
pub(super) fn sides(desk: &Desk, alone: &[Posterior], contradictions: &[Contradiction]) -> (Side, Vec<Side>) {
    let apart = |a: usize, b: usize| contradictions.iter().any(|c| c.tests == (a.min(b), a.max(b)));
    let mut weakest: Vec<usize> = (0..alone.len()).collect();
    let lower = |i: &usize| alone.get(*i).map(|one| one.likely().p05);
    weakest.sort_by(|a, b| lower(a).partial_cmp(&lower(b)).unwrap_or(Ordering::Equal));
    let mut sides: Vec<Vec<usize>> = Vec::new();
    for first in
        weakest.iter().filter(|i| contradictions.iter().any(|c| c.tests.0 == **i || c.tests.1 == **i))
    {
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
    let said = |side: Vec<usize>| {
        let found = desk.posterior(&side);
        (side, found)
    };
    let Some(first) = sides.pop() else { return (said(desk.all()), Vec::new()) };
    let lower = |(_, found): &Side| found.likely().p05;
    let (mut believed, mut others) = (said(first), Vec::new());
    for mut side in sides.into_iter().map(said) {
        if lower(&side) < lower(&believed) {
            std::mem::swap(&mut side, &mut believed);
        }
        others.push(side);
    }
    (believed, others)
}
