//! Of every hundred sheets about ninety-five are stronger than the lower value that is told of them.

use super::drops::drops;
use super::knowledge::{LIBRARY as ALL, aluminium};
use super::sheets::{Dice, LIBRARY, Sheet, THICKNESS, bench, discs, pascals, sheet, test};
use gearleg::desk::{grade, one_sheet};
use gearleg::material::Family;
use gearleg::model::{Bench, BenchPrior, ShopTest};
use gearleg::units::Length;
use std::thread;
use uom::si::length::meter;

/// Sheets of each kind of test. chosen: the share above the lower value is then known to ±0.5 %, one standard deviation.
const SHEETS: u64 = 2000;

/// The same of what takes longest, drops and several tests together: ±0.7 %.
const FEWER: u64 = 1000;

/// The same of four tests, of which the strip alone comes near the limits: ±0.35 %.
const MORE: u64 = 4000;

/// Sheets of a hundred whose own tests may be said to contradict each other.
const FALSE_ALARMS: f64 = 0.03;

/// How near to 95 % it has to come.
const NEAR: f64 = 0.015;

fn thickness() -> Length {
    Length::new::<meter>(THICKNESS)
}

fn chances() -> Vec<(String, f64)> {
    let none = grade(&Bench::default(), &LIBRARY);
    assert!(none.is_empty(), "without a test there is no sheet");
    let mut dice = Dice(1);
    let any = sheet(&mut dice, &[]);
    let told = grade(&bench(vec![test("magnet", &any, &mut dice)], BenchPrior::default()), &LIBRARY);
    told[0].grades.iter().map(|g| (g.name.clone(), g.before)).collect()
}

/// The share of sheets that are stronger than the lower value told after these tests, and than the upper.
fn above(kinds: &[&str], seed: u64) -> (f64, f64, f64) {
    let before = chances();
    let long = kinds.len() > 1 || ["drops", "discs"].iter().any(|long| kinds.contains(long));
    let sheets = match (kinds.len() > 3, long) {
        (true, _) => MORE,
        (false, true) => FEWER,
        (false, false) => SHEETS,
    };
    let counts = thread::scope(|scope| {
        let workers = 2;
        let crew: Vec<_> = (0..workers)
            .map(|worker| {
                let before = &before;
                scope.spawn(move || {
                    let mut counts = (0, 0, 0);
                    for number in (worker..sheets).step_by(2) {
                        let mut dice = Dice(seed.wrapping_mul(1_000_003) + number * 7919);
                        let made = sheet(&mut dice, before);
                        let tests: Vec<ShopTest> =
                            kinds.iter().flat_map(|kind| made_of(kind, &made, &mut dice)).collect();
                        let tests: Vec<&ShopTest> = tests.iter().collect();
                        let told =
                            one_sheet("bench", &tests, &LIBRARY, Some(thickness()), &BenchPrior::default());
                        counts.0 += u64::from(made.strength > pascals(told.yield_strength.p05));
                        counts.1 += u64::from(made.strength > pascals(told.yield_strength.p95));
                        counts.2 += u64::from(!told.contradictions.is_empty());
                    }
                    counts
                })
            })
            .collect();
        crew.into_iter()
            .map(|c| c.join().expect("it ends"))
            .fold((0, 0, 0), |a, b| (a.0 + b.0, a.1 + b.1, a.2 + b.2))
    });
    let share = |count: u64| count as f64 / sheets as f64;
    (share(counts.0), share(counts.1), share(counts.2))
}

fn made_of(kind: &str, made: &Sheet, dice: &mut Dice) -> Vec<ShopTest> {
    match kind {
        "discs" => discs(made, dice),
        "drops" => drops(made, dice),
        kind => vec![test(kind, made, dice)],
    }
}

fn calibrated(kinds: &[&str], seed: u64) {
    let (low, high, contradictions) = above(kinds, seed);
    assert!(contradictions <= FALSE_ALARMS, "{kinds:?}: {contradictions} are said to contradict themselves");
    assert!((low - 0.95).abs() <= NEAR, "{kinds:?}: {low} are above the lower value");
    assert!((high - 0.05).abs() <= NEAR, "{kinds:?}: {high} are above the upper value");
}

macro_rules! kinds {
    ($( $name:ident: $kinds:expr, )+) => { $(
        #[test]
        fn $name() {
            calibrated(&$kinds, stringify!($name).len() as u64);
        }
    )+ };
}

kinds! {
    bend_strip: ["bend-strip"],
    wrap_round_a_rod: ["wrap"],
    wrap_round_discs: ["discs"],
    weigh: ["weigh"],
    flex: ["flex"],
    dent: ["dent"],
    conductivity: ["conductivity"],
    fold: ["fold"],
    magnet: ["magnet"],
    spark: ["spark"],
    caustic: ["caustic"],
    stamp: ["stamp"],
    told: ["told"],
    conductivity_with_a_dent: ["conductivity", "dent"],
    wrap_with_weighing_and_word: ["wrap", "weigh", "told"],
    two_strips: ["bend-strip", "bend-strip"],
    three_folds: ["fold", "fold", "fold"],
    dent_beside_a_known_piece: ["beside", "beside"],
    tester_with_its_own_scale: ["own-scale"],
    drops_with_the_gear: ["drops"],
    word_and_clues: ["told", "magnet", "stamp"],
    many: ["bend-strip", "conductivity", "magnet", "fold"],
}

/// After six strips of one sheet of aluminium, whose readings scatter as readings do, aluminium is likelier than all else, on the average; it
/// always stays open, and hardly ever is the sheet told to be stronger than it is.
#[test]
fn six_strips_of_aluminium() {
    let (mut likely, mut above, mut all) = (0.0, 0, 0);
    for mpa in [190.0, 280.0, 350.0] {
        for seed in 1..=4 {
            let mut dice = Dice(seed);
            let made = Sheet {
                row: None,
                family: Family::Aluminium,
                strength: mpa * 1e6,
                modulus: 70e9,
                hardening: 0.1,
                density: 2700.0,
                conductivity: 40.0,
                thickness: THICKNESS,
                off: [1.0; 4],
                folds: 0.5,
                radius: 1.5,
            };
            let strips: Vec<ShopTest> = (0..6).map(|_| test("bend-strip", &made, &mut dice)).collect();
            let strips: Vec<&ShopTest> = strips.iter().collect();
            let told = one_sheet("bench", &strips, &ALL, None, &BenchPrior::default());
            let mut families = told.likely_families().into_iter().flat_map(|f| f.families);
            assert!(families.any(|f| f == Family::Aluminium), "{mpa} MPa, {seed}: {:?}", told.families);
            likely += aluminium(&told);
            above += usize::from(made.strength > pascals(told.yield_strength.p05));
            all += 1;
        }
    }
    assert!(likely / f64::from(all) > 0.5, "{likely} of {all}");
    assert!(above as f64 >= 0.95 * f64::from(all), "{above} of {all}");
}
