//! Laws that the margins obey.

use crate::common::{mm, newtons};
use crate::state::{gear, margins, margins_with, mount_of, mount_state, of};
use gearleg::checks::{self, FITTING_FACTOR};
use gearleg::material::Sourced;
use gearleg::model::{Gear, PlateMetal};
use gearleg::results::{Margin, MountState};
use gearleg::units::Stress;
use proptest::prelude::*;

/// How much of its allowable each part uses, factors aside.
fn uses(gear: &Gear, state: &MountState, ultimate_factor: f64) -> Vec<(String, f64)> {
    let share = |m: &Margin| {
        let special = checks::find(m.check).expect("registered").special;
        m.factor * m.applied.si() / special / m.allowable.expect("known").si()
    };
    let all = margins_with(gear, state, ultimate_factor);
    all.iter().map(|m| (format!("{} {}", m.check, m.part), share(m))).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// What a state uses is that of the state: in proportion to its loads, whatever the factors of the landing are.
    #[test]
    fn use_follows_the_state(k in 0.1..10.0_f64, factor in 1.0..2.0_f64) {
        let gear = gear();
        let once = uses(&gear, &mount_state(1.0), 1.5);
        let more = uses(&gear, &mount_state(k), factor);
        prop_assert_eq!(once.len(), more.len());
        for ((what, share), (other, scaled)) in once.iter().zip(&more) {
            prop_assert_eq!(what, other);
            prop_assert!((scaled - k * share).abs() <= 1e-9 * k * share, "{}: {} is not {}", what, scaled, k * share);
        }
    }

    /// Stronger wood, denser wood, a wider flange, thicker wood, better metal: none lowers a margin.
    #[test]
    fn better_is_never_worse(
        wood in 1.0..3.0_f64, flange in 1.0..2.0_f64, deeper in 1.0..2.0_f64, metal in 1.0..2.0_f64,
        thin in 2.0..12.0_f64, hole in 5.0..6.0_f64,
    ) {
        let mut before = gear();
        mount_of(&mut before).wood_thickness = mm(thin);
        mount_of(&mut before).hole = Some(mm(hole));
        let mut after = before.clone();
        {
            let mount = mount_of(&mut after);
            mount.nut_flange = mount.nut_flange.map(|f| flange * f);
            // The single layer decides the row of strengths: only the doubler makes it deeper.
            mount.doubler = Some((deeper - 1.0) * mm(thin));
            let stronger = |s: &mut Option<Sourced<Stress>>| if let Some(s) = s { s.value *= wood };
            stronger(&mut mount.wood.panel_shear);
            stronger(&mut mount.wood.compression_across);
            if let Some(density) = &mut mount.wood.density_characteristic {
                density.value *= wood;
            }
            for band in &mut mount.wood.bands {
                stronger(&mut band.bending_along);
                stronger(&mut band.rolling_shear_along);
            }
        }
        if let PlateMetal::Known(known) = &mut after.plate.metal {
            let band = &mut known.bands[0];
            for strength in [&mut band.yield_strength, &mut band.ultimate].into_iter().flatten() {
                strength.value *= metal;
            }
        }
        for (a, b) in margins(&before).iter().zip(&margins(&after)) {
            prop_assert_eq!((a.check, &a.part), (b.check, &b.part));
            let (a_value, b_value) = (a.value().expect("known"), b.value().expect("known"));
            prop_assert!(b_value >= a_value - 1e-9 * a_value.abs(), "{} {}: {} to {}", a.check, a.part, a_value, b_value);
        }
    }

    /// A wider plate holds more everywhere: its net section and the distance to its edges grow.
    #[test]
    fn a_wider_plate_is_never_worse(more in 0.0..40.0_f64) {
        let before = gear();
        let mut after = before.clone();
        after.plate.width.root += mm(more);
        for check in ["base-net-section", "plate-bearing"] {
            let of = |gear: &Gear| -> Vec<f64> {
                margins(gear).iter().filter(|m| m.check == check).map(|m| m.value().expect("known")).collect()
            };
            for (a, b) in of(&before).iter().zip(of(&after)) {
                prop_assert!(b >= a - 1e-9 * a.abs(), "{}: {} to {}", check, a, b);
            }
        }
    }
}

/// Shear turned round its circle: the use of the hole lies between that of the stronger and the weaker way, without a jump.
#[test]
fn an_oblique_bolt_force_uses_no_less_than_either_part() {
    let gear = gear();
    let mut last: Option<f64> = None;
    for step in 0..=90 {
        let angle = f64::from(step).to_radians();
        let mut state = mount_state(1.0);
        let (aft, port) = (500.0 * angle.cos(), 500.0 * angle.sin());
        state.bolts[0].shear = [newtons(aft), newtons(-port)];
        let m = margins_with(&gear, &state, 1.5);
        let margin = of(&m, "plate-bearing", "flat centre at bolt 1").value().expect("known");
        let used = 1.0 / (FITTING_FACTOR * (margin + 1.0));
        assert!(used >= (aft / 9294.88).max(port / 14_500.01) - 1e-6, "at {step}°");
        assert!(used <= 500.0 / 9294.86, "at {step}°");
        assert!(last.is_none_or(|l| (l - used).abs() < 0.02 * l), "a jump at {step}°");
        last = Some(used);
    }
}
