//! Sheets of which shop tests leave open what they are: wherever something is told to hold, it holds for every family.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that can't go on says so"
)]

#[path = "common/mod.rs"]
mod common;

use common::assert_close;
use gearleg::analysis::{Margins, check, families, first_sizes, gear_margins};
use gearleg::diagnostic::SourceText;
use gearleg::input::project::Draft;
use gearleg::input::tables::builtin;
use gearleg::material::{Family, Library, StockForm};
use gearleg::model::{PlateMetal, Project};
use gearleg::results::{Margin, SizedGear, Verdict};
use gearleg::search::size;
use std::sync::{Arc, LazyLock};
use uom::si::length::millimeter;
use uom::si::mass::gram;
use uom::si::pressure::megapascal;

static LIBRARY: LazyLock<Library> = LazyLock::new(|| builtin().expect("the built-in tables are sound"));

/// Some 260 MPa, by a strip 25 × 5 mm and 200 mm long.
const STRIP: &str = "[[bench_test]]\nkind = \"bend-strip\"\nwidth = \"25 mm\"\nthickness = \"5 mm\"\nlength = \"200 mm\"\n\
                     weights = [\"14.3 kg\", \"15.9 kg\", \"17.5 kg\", \"19.1 kg\"]\nsets = [\"0 mm\", \"0 mm\", \"0.5 mm\", \"2 mm\"]\n";

/// The example with a plate of a sheet of which a dealer, half trusted, says that it is stainless.
fn plane(landing: &str, thickness: &str, more: &str) -> String {
    let text = std::fs::read_to_string("docs/examples/survey-plane-braced.toml").expect("it can be read");
    let text = text
        .replace("metal = \"6082-T6\"", "metal = \"bench\"")
        .replace("load_factor = 3.5", landing)
        .replace("thickness = \"4 mm\"", &format!("thickness = {thickness}"));
    assert!(text.contains("\"bench\"") && text.contains(landing) && text.contains(thickness), "{text}");
    format!("{text}\n[[bench_test]]\nkind = \"told\"\nword = \"304\"\ntrust = 0.5\n{STRIP}{more}")
}

fn draft(text: &str) -> Draft {
    let source = SourceText { name: "plane.toml".to_owned(), text: text.to_owned() };
    Draft::new(Arc::new(source)).unwrap_or_else(|wrong| panic!("{wrong}"))
}

fn read(text: &str) -> Project {
    draft(text).read(&LIBRARY, &[]).unwrap_or_else(|wrong| panic!("{wrong}")).0
}

/// The project's sheets by their families, as metals that are known.
fn known(project: &Project) -> Vec<Project> {
    let mut all = families(project);
    for gear in all.iter_mut().flat_map(|one| &mut one.gears) {
        if let PlateMetal::Known(metal) = &mut gear.plate.metal
            && let Some(tested) = &mut metal.tested
        {
            tested.may_be.clear();
        }
    }
    all
}

fn family(project: &Project, gear: usize) -> Family {
    match &project.gears[gear].plate.metal {
        PlateMetal::Known(metal) => metal.family,
        PlateMetal::Unknown => panic!("it was tested"),
    }
}

#[test]
fn several_open_sheets_are_gone_through_in_every_combination() {
    let nose =
        std::fs::read_to_string("docs/examples/survey-plane-nose-single.toml").expect("it can be read");
    let (_, gear) = nose.split_once("[gear.nose]").expect("a nose gear");
    let gear = gear.split("\n[gear.main").next().expect("its text");
    let metal = gear.lines().find(|line| line.starts_with("metal = ")).expect("its metal");
    let gear = gear.replacen(metal, "metal = \"other\"", 1);
    let word = "[[bench_test]]\nsheet = \"other\"\nkind = \"told\"\nword = \"304\"\ntrust = 0.5\n";
    let project = read(&plane("load_factor = 3.5", "\"4 mm\"", &format!("{word}\n[gear.nose]{gear}")));
    let mut all: Vec<(Family, Family)> =
        families(&project).iter().map(|one| (family(one, 0), family(one, 1))).collect();
    let as_written = (family(&project, 0), family(&project, 1));
    assert_eq!(all[0], as_written);
    all.sort_by_key(|(a, b)| (format!("{a:?}"), format!("{b:?}")));
    all.dedup();
    assert_eq!(all.len(), 4, "{all:?}");
}

/// In a drop each family makes a load factor of its own, and the worse of every margin is told, with the larger factor.
#[test]
fn a_dropped_gear_has_the_worst_margins_of_all_families_and_the_largest_load_factor() {
    let project = read(&plane("drop_height = \"20 mm\"", "\"5 mm\"", ""));
    let each: Vec<Margins> = known(&project)
        .iter()
        .map(|one| gear_margins(one, &LIBRARY, 0).expect("it can be analysed"))
        .collect();
    assert_eq!(each.len(), 2);
    let both = gear_margins(&project, &LIBRARY, 0).expect("it can be analysed");
    let factors: Vec<f64> = each.iter().map(|m| m.factors.inertia).collect();
    assert!((factors[0] - factors[1]).abs() > 0.1, "{factors:?}");
    assert_close(both.factors.inertia, factors[0].max(factors[1]), 1e-12, "load factor");
    let mut of_second = 0;
    for margin in &both.margins {
        let same = |m: &&Margin| m.check == margin.check && m.part == margin.part && m.case == margin.case;
        let least = each
            .iter()
            .filter_map(|one| one.margins.iter().filter(same).filter_map(|m| m.value()).reduce(f64::min));
        let Some(least) = least.reduce(f64::min) else { continue };
        assert_close(margin.value().expect("it is told"), least, 1e-9, margin.check);
        of_second += usize::from(margin.source.contains("reckoned with its sheet as"));
    }
    assert!(of_second > 0, "the second family has some of the worst");
    // The whole check tells the figures of the family with the worst margin, and says which that is.
    let whole = check(&project, &LIBRARY).expect("it can be analysed");
    let worst =
        each.iter().min_by(|a, b| a.margins[0].value().partial_cmp(&b.margins[0].value()).expect("told"));
    assert_close(whole.landing.inertia, worst.expect("two").factors.inertia, 1e-12, "the load factor told");
    assert_eq!(whole.reckoned_as.len(), 1);
}

/// The strip that decides is loaded to the most that any family asks, and goes down as far as the softest does: 2 σ L²/(3 E t) at first
/// yield, times the factors for a set too small to see and for what a wide strip bears more.
#[test]
fn the_strip_that_decides_sags_as_the_softest_and_is_loaded_for_the_most() {
    let project = read(&plane("load_factor = 3.5", "\"4 mm\"", ""));
    let each: Vec<_> =
        known(&project).iter().map(|one| check(one, &LIBRARY).expect("it can be analysed")).collect();
    let test = &check(&project, &LIBRARY).expect("it can be analysed").bench_tests[0];
    let most = |one: &gearleg::results::CheckResult| {
        one.required_yield.iter().map(|r| r.yield_strength.get::<megapascal>()).fold(0.0, f64::max)
    };
    assert!((most(&each[0]) / most(&each[1]) - 1.0).abs() > 0.01, "the wires share by the stiffness");
    let needed = f64::max(most(&each[0]), most(&each[1]));
    assert_close(test.yield_strength.get::<megapascal>(), needed, 1e-12, "strength asked");
    let softest = known(&project)
        .iter()
        .map(|one| match &one.gears[0].plate.metal {
            PlateMetal::Known(metal) => metal.modulus.value.get::<megapascal>(),
            PlateMetal::Unknown => f64::INFINITY,
        })
        .fold(f64::INFINITY, f64::min);
    let mm = |length: gearleg::units::Length| length.get::<millimeter>();
    let at_yield = 2.0 * needed * mm(test.reach).powi(2) / (3.0 * softest * mm(test.thickness));
    let expected = test.unseen_set_factor * (1.0 + test.gain_of_width) * at_yield + mm(test.set_limit);
    assert_close(mm(test.deflection), expected, 1e-9, "sag");
}

/// With a card of one metal besides the file's own.
fn sized(text: &str, card: bool) -> SizedGear {
    let mut few = LIBRARY.clone();
    for stock in few.stock.iter_mut().filter(|stock| stock.form == StockForm::SheetGrade) {
        stock.labels = vec!["7075-T6".to_owned()];
    }
    let found = size(&draft(text), &few, card, &|_, _| ()).unwrap_or_else(|wrong| panic!("{wrong:?}"));
    found.0.gears[0].clone()
}

/// What the merchant's card has of an open sheet holds for each family.
#[test]
fn the_card_of_an_open_sheet_holds_for_every_family() {
    let plain = |thickness: &str| {
        let text = plane("drop_height = \"10 mm\"\ncases = [\"level\"]", thickness, "");
        let (before, braces) = text.split_once("[[gear.main.brace]]").expect("it has wires");
        let (_, tests) = braces.split_once("[[bench_test]]").expect("it has tests");
        format!("{before}[[bench_test]]{tests}")
    };
    let gear = sized(&plain("\"10 mm\""), true);
    let row =
        gear.card.iter().find(|row| row.metal.as_deref() == Some("bench")).expect("the sheet has a row");
    let entry = row.plain.as_ref().expect("some thickness holds");
    let holds = |thickness: &str| {
        let project = read(&plain(&format!("\"{thickness}\"")));
        known(&project)
            .iter()
            .map(|one| {
                let margins = gear_margins(one, &LIBRARY, 0).expect("it can be analysed").margins;
                margins.iter().all(|m| m.verdict == Verdict::Holds)
            })
            .collect::<Vec<bool>>()
    };
    assert_eq!(holds(&entry.thickness), [true, true], "{}", entry.thickness);
}

/// Limits of g and of mass are kept whatever the sheet is.
#[test]
fn limits_of_load_factor_and_mass_count_for_every_family() {
    let landing = "drop_height = \"3 mm\"\ncases = [\"level\"]";
    let thickness = "[\"6 mm\", \"8 mm\"]";
    let project = read(&plane(landing, "\"6 mm\"", ""));
    let each: Vec<f64> = known(&project)
        .iter()
        .map(|one| gear_margins(one, &LIBRARY, 0).expect("it can be analysed").factors.inertia)
        .collect();
    let held =
        |wish: &str| sized(&plane(landing, thickness, &format!("[size]\n{wish}\n")), false).best.is_some();
    assert!(held("margin = 0"), "without a limit something holds");
    // The likeliest alone would be within the limits.
    assert!(each[0] < each[1], "{each:?}");
    let between = 0.5 * (each[0] + each[1]);
    assert!(!held(&format!("most_load_factor = {between}")), "{each:?}");
    let masses: Vec<f64> = known(&project)
        .iter()
        .map(|one| one.gears[0].mass(gearleg::analysis::unknown_density()).total().get::<gram>())
        .collect();
    let between = 0.5 * (masses[0] + masses[1]);
    assert!(masses[1] - masses[0] > 100.0, "{masses:?}");
    assert!(!held(&format!("most_mass = \"{between:.0} g\"")), "{masses:?}");
}

/// A bolt that is tried as the first to give has, of every family, the worse of what it holds and of how surely it gives first.
#[test]
fn bolts_that_are_to_give_first_are_judged_by_every_family() {
    let text = std::fs::read_to_string("docs/examples/survey-plane-fuse.toml").expect("it can be read");
    let (before, rest) = text.split_once("[[gear.main.brace]]").expect("it has wires");
    let (_, mount) = rest.split_once("[gear.main.mount]").expect("it has a mount");
    let listed = text.lines().find(|line| line.starts_with("cases = ")).expect("it lists its landings");
    let text = format!("{before}[gear.main.mount]{mount}")
        .replace(listed, "cases = [\"level\", \"obstacle\"]")
        .replace("metal = \"6082-T6\"", "metal = \"bench\"");
    let word = "[[bench_test]]\nkind = \"told\"\nword = \"304\"\ntrust = 0.5\n";
    let project = read(&format!("{text}\n{word}{STRIP}"));
    let mut few = LIBRARY.clone();
    few.stock.retain(|stock| stock.form != StockForm::Bolt);
    for stock in few.stock.iter_mut().filter(|stock| stock.form == StockForm::NylonBolt) {
        stock.labels = vec!["M6".to_owned()];
    }
    let tried = |project: &Project| {
        let found = first_sizes(project, &few, &|_, _| ()).expect("it can be analysed");
        assert!(!found.is_empty(), "one bolt is tried");
        [&found[0].holds, &found[0].first].map(|m| m.as_ref().and_then(Margin::value).expect("it is told"))
    };
    let each: Vec<[f64; 2]> = known(&project).iter().map(tried).collect();
    assert_eq!(each.len(), 2);
    for (i, found) in tried(&project).into_iter().enumerate() {
        assert_close(found, each[0][i].min(each[1][i]), 1e-12, "the worse of both");
    }
    assert!(each[0] != each[1], "the stiffness matters: {each:?}");
}
