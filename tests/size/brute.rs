//! Every design of a small catalogue is read and checked; the search has to come to the same.

use super::chance::catalogue;
use super::common::{assert_close, assert_within};
use super::shop::{Tried, all_designs, library, sized};
use gearleg::analysis::{Screen, check, margins};
use gearleg::results::{Margin, SizedDesign, SizedGear};

/// How near the margins of a search are to those of a check, relative to 1 + margin: both are of the same gear by the same theory.
const SAME: f64 = 1e-4;

/// How near limit loads are, and what is read off a curve: a search follows in longer steps, and what yields depends on the steps
/// by which it is loaded.
const FOLLOWED_SAME: f64 = 5e-3;

fn near(check: &str) -> f64 {
    if ["limit-load", "landing-energy"].contains(&check) { FOLLOWED_SAME } else { SAME }
}

/// How many catalogues are gone through.
const CATALOGUES: u64 = 12;

/// The margin up to which a search follows limit loads and the reserve of energy.
fn followed(wish: f64) -> f64 {
    0.5 + wish
}

#[test]
fn the_search_finds_what_brute_force_finds() {
    for seed in 1..=CATALOGUES {
        let (text, wish) = catalogue(seed);
        let all = all_designs(&text);
        assert!(!all.is_empty() && all.len() <= 24, "{} designs in\n{text}", all.len());
        let result = sized(&text);
        let gear = &result.gears[0];
        let mut holders: Vec<&Tried> = all.iter().filter(|t| t.least() >= wish).collect();
        holders.sort_by(|a, b| a.mass.total_cmp(&b.mass));
        assert_eq!(result.holds(), !holders.is_empty(), "seed {seed}: {:?}\n{text}", gear.best);
        let lightest = holders.first().unwrap_or_else(|| panic!("something holds of\n{text}"));
        let best = gear.best.as_ref().expect("it holds");
        assert_eq!(best.mass.value, lightest.mass, "seed {seed}: {best:?}\n{text}");
        assert!(lightest.is(best), "seed {seed}: {best:?} and not {:?}", lightest.changes);
        in_order(gear, &holders, wish);
        front(gear, &holders, wish);
        bounded(&all, wish, seed);
    }
}

/// The same catalogues in landings that none of them holds.
#[test]
fn the_search_finds_nothing_where_brute_force_finds_nothing() {
    for seed in [3, 8, 9] {
        let (text, wish) = catalogue(seed);
        let stated = text.lines().find(|l| l.starts_with("load_factor")).expect("it is stated");
        let text = text.replace(stated, "load_factor = 20").replace("\"8 mm\"", "\"2 mm\"");
        let text = text.replace("\"10 mm\"", "\"1.5 mm\"").replace("\"6 mm\"", "\"1.2 mm\"");
        let all = all_designs(&text);
        assert!(!all.is_empty() && all.iter().all(|t| t.least() < wish), "seed {seed}: nothing is to hold");
        let result = sized(&text);
        assert!(!result.holds() && result.gears[0].runners_up.is_empty(), "seed {seed}");
        nearest(&result.gears[0], &all, seed);
    }
}

/// Best and runners-up are the lightest holders, each with the check's own least margin.
fn in_order(gear: &SizedGear, holders: &[&Tried], wish: f64) {
    let told: Vec<&SizedDesign> = gear.best.iter().chain(&gear.runners_up).collect();
    assert!(told.windows(2).all(|w| w[0].mass <= w[1].mass));
    let mut masses: Vec<f64> = Vec::new();
    for design in &told {
        let same = holders.iter().find(|t| t.is(design)).unwrap_or_else(|| panic!("{design:?} holds"));
        assert_eq!(same.mass, design.mass.value);
        judged(design, same, wish);
        masses.push(same.mass);
    }
    // A brace that is left out makes the same gear whatever its wire.
    let mut lightest: Vec<f64> = holders.iter().map(|t| t.mass).collect();
    lightest.dedup();
    lightest.truncate(6);
    masses.dedup();
    assert_eq!(masses, lightest, "no holder is left out");
}

fn judged(design: &SizedDesign, same: &Tried, wish: f64) {
    let value = design.binding.value().expect("it is told");
    if design.at_least {
        let said = (value, same.least(), &same.checked.margins[0].check, &design.changes);
        assert!(value >= followed(wish) - SAME, "{said:?}");
        assert!(same.least() >= value - FOLLOWED_SAME, "{said:?}");
    } else {
        let most = near(design.binding.check) * (1.0 + value);
        assert_within(value, same.least(), most, "the least margin");
    }
}

/// No holder is as light and stronger than one of the front; and what no lighter one beats is on it.
fn front(gear: &SizedGear, holders: &[&Tried], wish: f64) {
    let cut = |t: &Tried| t.least().min(followed(wish));
    for design in &gear.front {
        let same = holders.iter().find(|t| t.is(design)).unwrap_or_else(|| panic!("{design:?} holds"));
        judged(design, same, wish);
        let beaten = holders.iter().find(|t| t.mass <= same.mass && cut(t) > cut(same) + 2.0 * FOLLOWED_SAME);
        assert!(beaten.is_none(), "{:?} is as light as {design:?} and stronger", beaten.map(|b| &b.changes));
    }
    for holder in holders {
        let rival = |t: &&&Tried| t.mass <= holder.mass && t.changes != holder.changes;
        let beaten = holders.iter().filter(rival).any(|t| cut(t) >= cut(holder) - 2.0 * FOLLOWED_SAME);
        let told = gear.front.iter().any(|d| holder.is(d));
        assert!(beaten || told, "{:?} belongs on the front", holder.changes);
    }
}

/// Where nothing holds, the nearest is told with the margin that a check finds.
fn nearest(gear: &SizedGear, all: &[Tried], seed: u64) {
    let nearest = gear.nearest.as_ref().unwrap_or_else(|| panic!("seed {seed}: one comes nearest"));
    let same = all.iter().find(|t| t.is(nearest)).expect("it is one of them");
    let value = nearest.binding.value().expect("it is told");
    let apart = near(nearest.binding.check) * (1.0 + value);
    assert_within(value, same.least(), apart, "its least margin");
    let most = all.iter().map(Tried::least).fold(f64::NEG_INFINITY, f64::max);
    assert_within(value, most, apart, "no other comes nearer");
}

/// The bound by which designs are left out is never below their least margin, and margins alone are those of the check.
fn bounded(all: &[Tried], wish: f64, seed: u64) {
    for tried in all {
        let mut screen = Screen::new(&tried.project, 0, wish).expect("it has cases");
        let bound = screen.bound().expect("it has a solution").expect("the metal is known");
        let least = tried.least();
        assert!(bound >= least - 1e-9, "seed {seed}: {bound} is less than {least}: {:?}", tried.changes);
        same_margins(tried);
    }
}

fn same_margins(tried: &Tried) {
    let alone = margins(&tried.project).expect("it has cases");
    assert_close(alone.factors.inertia, tried.checked.landing.inertia, SAME, "load factor");
    let same = |a: &Margin, b: &Margin| a.check == b.check && a.part == b.part && a.case == b.case;
    let known = |m: &&Margin| !tried.checked.margins.iter().any(|o| same(o, m));
    assert_eq!(alone.margins.iter().filter(known).count(), 0, "{:?}", tried.changes);
    for margin in &tried.checked.margins {
        let what = format!("{} of {} in {:?}: {:?}", margin.check, margin.part, margin.case, tried.changes);
        let other = alone.margins.iter().find(|m| same(m, margin)).unwrap_or_else(|| panic!("no {what}"));
        assert_eq!(other.verdict, margin.verdict, "{what}");
        let (Some(value), Some(other_value)) = (margin.value(), other.value()) else { continue };
        if value.is_infinite() && other_value.is_infinite() {
            continue;
        }
        let may_stop = ["limit-load", "landing-energy"].contains(&margin.check);
        if may_stop && other_value >= 0.5 - SAME {
            assert!(
                value >= other_value - FOLLOWED_SAME * (1.0 + value),
                "{what}: at least {other_value}, and it is {value}"
            );
        } else {
            assert_close(1.0 + other_value, 1.0 + value, near(margin.check), &what);
        }
    }
}

/// The same where the load factor follows from a drop.
#[test]
fn margins_alone_are_those_of_a_check_in_a_drop() {
    for (height, stiffness) in [("20 mm", "20 N/mm"), ("90 mm", "8 N/mm"), ("250 mm", "20 N/mm")] {
        let (text, _) = catalogue(1);
        let stated = text.lines().find(|l| l.starts_with("load_factor")).expect("it is stated");
        let text = text
            .replace(stated, &format!("drop_height = \"{height}\""))
            .replace("axle = ", &format!("tyre_stiffness = \"{stiffness}\"\naxle = "));
        let draft = super::shop::draft(&text);
        let open = super::shop::open_values(&text).unwrap_or_else(|wrong| panic!("{wrong}"));
        for number in 0..3 {
            let changes: Vec<_> = open
                .iter()
                .map(|o| gearleg::input::project::Change {
                    key: o.key.clone(),
                    to: o.choices[number.min(o.choices.len() - 1)].clone(),
                })
                .collect();
            let (project, _) = draft.read(library(), &changes).unwrap_or_else(|wrong| panic!("{wrong}"));
            let checked = check(&project, library()).expect("it has a solution");
            let mass = 0.0;
            same_margins(&Tried { changes, project, mass, checked });
        }
    }
}
