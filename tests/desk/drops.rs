//! Legs of sheets dropped with one gear, higher and higher until something stays bent.

use super::sheets::{Dice, Sheet};
use gearleg::analysis::{GearDrops, PlateElasticity, PlateYield};
use gearleg::desk::follow_drops;
use gearleg::diagnostic::SourceText;
use gearleg::input::project::read_project;
use gearleg::input::tables::builtin;
use gearleg::loads::drop_weight;
use gearleg::model::{DropTest, LegDrop, Project, ShopTest};
use gearleg::units::{Length, Stress};
use std::sync::{Arc, LazyLock};
use uom::si::length::{meter, millimeter};
use uom::si::pressure::pascal;

/// Heights of the drops, mm: each twice the one before it.
const HEIGHTS: [f64; 8] = [3.0, 6.0, 12.0, 25.0, 50.0, 100.0, 200.0, 400.0];

/// How exactly the track is measured, more or less.
const ERROR_MM: f64 = 1.0;

static PLANE: LazyLock<Arc<Project>> = LazyLock::new(|| {
    let text = std::fs::read_to_string("docs/examples/survey-plane-unknown.toml").expect("it can be read");
    let source = Arc::new(SourceText { name: "plane".into(), text });
    let (project, _) = read_project(source, &builtin().expect("the tables are sound")).expect("it is sound");
    Arc::new(project)
});

/// A drop of its main gear from one of the heights, with every set of which a curve is wanted.
static DROPS: LazyLock<Vec<LegDrop>> = LazyLock::new(|| {
    let drops: Vec<LegDrop> = HEIGHTS.into_iter().map(|h| drop(h, 300.0)).collect();
    let tests: Vec<ShopTest> = drops.iter().cloned().map(ShopTest::Drop).collect();
    follow_drops(&tests.iter().collect::<Vec<_>>(), &|_, _| ());
    drops
});

/// A drop of the survey aeroplane's main gear with what stayed of it; without that it gave way.
pub(crate) fn drop(height_mm: f64, set_mm: impl Into<Option<f64>>) -> LegDrop {
    let test = DropTest {
        gear: 0,
        height: Length::new::<millimeter>(height_mm),
        mass: None,
        wing_lift: 0.0,
        spread: None,
        set: set_mm.into().map(Length::new::<millimeter>),
        error: Length::new::<millimeter>(ERROR_MM),
    };
    LegDrop::new(Arc::clone(&PLANE), test)
}

/// What stays of that drop, mm; `None` where the gear collapses. `flow` is the stress that a strain of 1 % asks.
pub(crate) fn set_of(height_mm: f64, strength: f64, modulus: f64, flow: f64) -> Option<f64> {
    let pa = Stress::new::<pascal>;
    let elastic = PlateElasticity { modulus: pa(modulus), poisson: 0.33 };
    let beyond = 0.01 - strength / modulus;
    let slope = if beyond > 0.0 { (flow - strength) / beyond } else { 0.0 };
    let yields = PlateYield { strength: pa(strength), slope: pa(slope.max(0.0)), exponent: None };
    let gear = &PLANE.gears[0];
    let height = Length::new::<millimeter>(height_mm);
    let drops = GearDrops::new(gear, elastic, Some(yields), drop_weight(&PLANE, gear), 0.0, height);
    let outcome = drops.expect("a sound frame").drop(height).outcome?;
    Some(outcome.set_spread.get::<millimeter>())
}

/// The last drop that left nothing that is seen, and the first that left something or let the gear give way.
pub(crate) fn drops(sheet: &Sheet, dice: &mut Dice) -> Vec<ShopTest> {
    let strength = sheet.strength * sheet.off[3];
    let proof = sheet.strength / sheet.modulus + 0.002;
    let flow = strength * (0.01 / proof).max(1.0).powf(sheet.hardening);
    let mut made: Vec<ShopTest> = Vec::new();
    for drop in DROPS.iter() {
        // What the mechanics are off in this drop, besides what they are off for the sheet.
        let own = (0.05 * dice.normal()).exp();
        let height = 1000.0 * drop.test.height.get::<meter>();
        // A plate of 400 MPa and 70 GPa springs back from 110 mm and more, and that height goes with the square of its strength.
        let springs = 110.0 * (own * strength / 400e6).powi(2) * 70e9 / sheet.modulus;
        let set = if height < 0.4 * springs {
            Some(0.0)
        } else {
            set_of(height, own * strength, sheet.modulus, own * flow)
        };
        let Some(set) = set else {
            let test = DropTest { set: None, ..drop.test };
            made.push(ShopTest::Drop(LegDrop { test, ..drop.clone() }));
            break;
        };
        let read = (set + 0.5 * ERROR_MM * dice.normal()).max(0.0);
        let test = DropTest { set: Some(Length::new::<millimeter>(read)), ..drop.test };
        made.push(ShopTest::Drop(LegDrop { test, ..drop.clone() }));
        if read > 3.0 * ERROR_MM {
            break;
        }
    }
    let unseen = made.len().saturating_sub(2);
    made.split_off(unseen)
}
