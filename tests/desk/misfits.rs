//! What readings leave no strength to design with.

use super::knowledge::{brinell, mm, told, weighed_in_water};
use super::sheets::pascals;
use gearleg::model::{Clue, ShopTest, Strip};
use gearleg::units::{Length, Mass};
use uom::si::length::millimeter;
use uom::si::mass::kilogram;

/// No sheet of the table, and none of the families, weighs what magnesium or copper does.
#[test]
fn what_fits_nothing_is_told_and_nothing_is_designed_with_it() {
    let weighed = weighed_in_water;
    for hung in [0.0436, 0.0889] {
        let sheet = told(vec![ShopTest::Clue(Clue::Magnet, false), weighed(hung)]);
        assert_eq!((sheet.misfits.as_slice(), sheet.design_yield()), (&[1][..], None), "{hung}");
    }
    // So many readings against each other that nothing is left of any sheet: that is said, and no strong one comes of it.
    let many = (0..40).map(|i| weighed(if i % 2 == 0 { 0.0629 } else { 0.0872 })).collect();
    let sheet = told(many);
    assert!(!sheet.contradictions.is_empty());
    assert!(pascals(sheet.yield_strength.p05) < 100e6, "{:?}", sheet.yield_strength);
}

/// A strip of 25 × 3.2 mm, 150 mm long, that folds under its first weight.
fn folds_under(kilograms: f64) -> ShopTest {
    ShopTest::BendStrip {
        strip: Strip { width: mm(25.0, 0.1), thickness: mm(3.2, 0.015), length: mm(150.0, 0.5) },
        steps: vec![(Mass::new::<kilogram>(kilograms), None)],
        weight_deviation: 0.005,
        set_deviation: Length::new::<millimeter>(0.5),
    }
}

/// The less it folds under, the weaker it is; no sheet is as weak as a slip of ten makes it.
#[test]
fn a_strip_is_no_stronger_for_folding_under_less() {
    let mut last = f64::INFINITY;
    let mut told_of = 0;
    for step in (1..=60).rev() {
        let kilograms = 0.1 * f64::from(step);
        // Where it has yielded through and through: 1.5 times the moment of first yield.
        let most = 6.0 * kilograms * 9.806_65 * 0.150 / (0.025 * 0.003_2 * 0.003_2) / 1.5;
        let sheet = told(vec![folds_under(kilograms)]);
        let Some(design) = sheet.design_yield() else {
            assert!(most < 20e6, "{kilograms} kg: of {:.1} MPa there are sheets", most / 1e6);
            continue;
        };
        let design = pascals(design);
        assert!(design < 1.05 * most && design <= last, "{kilograms} kg: {design} of at most {most}");
        (last, told_of) = (design, told_of + 1);
    }
    assert!(told_of > 40, "{told_of}");
    for slip in [0.02, 0.12, 0.25, 0.4] {
        let weighed = weighed_in_water(0.0629);
        let sheet = told(vec![weighed, folds_under(slip)]);
        assert_eq!((sheet.misfits.as_slice(), sheet.design_yield()), (&[1][..], None), "{slip} kg");
    }
}

/// Hardened steel of 60 HRC has some 650 HB: no sheet that a builder drills and bends is twice as hard.
#[test]
fn what_is_harder_than_any_sheet_fits_none() {
    assert!(told(vec![brinell(450.0)]).misfits.is_empty());
    for number in [1500.0, 3000.0] {
        assert_eq!(told(vec![brinell(number)]).misfits, [0], "{number} HB");
    }
}
