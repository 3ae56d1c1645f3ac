//! How rows of the material tables are found by name, and how the tables are shown.

use gearleg::input::tables::builtin;
use gearleg::material::{Kind, Library, NotFound, Wire};
use gearleg::report::{tables_json, tables_text};
use gearleg::units::Length;
use std::collections::BTreeSet;
use uom::si::length::millimeter;

fn library() -> Library {
    builtin().unwrap_or_else(|found| panic!("the built-in tables are broken:\n{found}"))
}

fn mm(value: f64) -> Length {
    Length::new::<millimeter>(value)
}

#[test]
fn names_are_exact_or_an_alias() {
    let library = library();
    assert_eq!(library.metal("5083-H111").unwrap().name, "5083-O");
    assert_eq!(library.metal("5754-H32").unwrap().name, "5754-H22");
    for (asked, nearest) in
        [("6082 t6", "6082-T6"), ("6082T6", "6082-T6"), ("6028-T6", "6082-T6"), ("5083-h111", "5083-H111")]
    {
        let NotFound { near, explanation, .. } = library.metal(asked).unwrap_err();
        assert_eq!(near.first().map(String::as_str), Some(nearest), "{asked}");
        assert_eq!(explanation, None, "{asked}");
    }
    assert_eq!(library.wire("302 spring").unwrap_err().near, ["302-spring"]);
    assert_eq!(library.bolt_class("88", mm(5.0)).unwrap_err().near, ["8.8"]);
    assert_eq!(library.axle("10.9").unwrap_err().near, ["steel-10.9"]);
    assert_eq!(library.wood("plywood").unwrap_err().near, ["birch-plywood"]);
    let far = library.metal("adamantium").unwrap_err();
    assert_eq!((far.to_string().as_str(), far.near.len()), ("no metal is called `adamantium`", 0));
}

#[test]
fn counter_names_are_explained_and_never_resolved() {
    let library = library();
    let he30 = library.metal("he 30").unwrap_err();
    insta::assert_snapshot!(format!("{he30}\n{}", he30.help().join("\n")), @"
    no metal is called `he 30`
    HE30 is 6082; ask for the temper
    nearest: `6082-O`, `6082-T4`, `6082-T451`, `6082-T42`, `6082-T6`, `6082-T651`, `6082-T62`
    ");
    let rod = library.axle("threaded rod").unwrap_err();
    insta::assert_snapshot!(format!("{rod}\n{}", rod.help().join("\n")), @"
    no axle metal is called `threaded rod`
    threaded rod is class 4.6 or 4.8 unless it is stamped; take `steel-4.6`
    ");
    let hook = library.wire_end("hook").unwrap_err();
    insta::assert_snapshot!(format!("{hook}\n{}", hook.help().join("\n")), @"
    no wire end is called `hook`
    a hook or eye bent in the wire is `bent-over`
    ");
}

/// No name or alias is used twice within a kind.
#[test]
fn names_are_unique() {
    fn unique<'n>(kind: &str, names: impl Iterator<Item = &'n String>) {
        let mut seen = BTreeSet::new();
        for name in names {
            assert!(seen.insert(name), "{kind}: {name} is there twice");
        }
    }
    let library = library();
    unique("metals", library.metals.iter().flat_map(|m| std::iter::once(&m.name).chain(&m.aliases)));
    unique("wires", library.wires.iter().flat_map(|m| std::iter::once(&m.name).chain(&m.aliases)));
    unique("axles", library.axles.iter().flat_map(|m| std::iter::once(&m.name).chain(&m.aliases)));
    unique("threads", library.threads.iter().map(|t| &t.name));
}

#[test]
fn a_taken_name_is_refused_and_nothing_changes() {
    let mut library = library();
    let own =
        Wire { name: "my-wire".to_owned(), aliases: vec!["A228".to_owned()], ..library.wires[0].clone() };
    let before = library.wires.len();
    let taken = library.add(own.clone(), "gear.toml").unwrap_err();
    assert_eq!(taken.to_string(), "the wire name `A228` is already taken in material-tables/wires.toml");
    assert_eq!(library.wires.len(), before);
    assert!(library.wire("my-wire").is_err());
    let own = Wire { aliases: Vec::new(), ..own };
    library.add(own.clone(), "gear.toml").unwrap();
    assert_eq!(library.origin::<Wire>("my-wire"), Some("gear.toml"));
    let again = library.add(own, "other.toml").unwrap_err();
    assert_eq!(again.table.as_deref(), Some("gear.toml"));
}

#[test]
fn text_fits_the_page_and_names_every_row() {
    let library = library();
    for kind in Kind::ALL {
        let text = tables_text(&library, Some(kind));
        for line in text.lines() {
            assert!(line.chars().count() <= 100, "{}: {line}", kind.word());
            assert_eq!(line, line.trim_end(), "{}", kind.word());
        }
        assert!(text.contains(" [1] "), "{} has no sources", kind.word());
        assert_eq!(Kind::from_word(kind.word()), Some(kind));
    }
    let metals = tables_text(&library, Some(Kind::Metals));
    for metal in &library.metals {
        let named =
            metals.lines().filter(|l| l.split_whitespace().next() == Some(metal.name.as_str())).count();
        assert!(named >= 2, "{} stands in both tables", metal.name);
    }
    assert_eq!(Kind::from_word("metal"), None);
}

#[test]
fn index_and_a_small_table_as_text() {
    let library = library();
    insta::assert_snapshot!(tables_text(&library, None), @"
    Material tables
    ───────────────────────────────────────────────────────────────────
    table      rows  what it lists
    ═══════════════════════════════════════════════════════════════════
    metals       63  sheet and plate by alloy, temper and thickness
    wires        17  brace wires and cables
    wire-ends    10  ways to end a wire, and what each holds
    axles        18  metals for axles
    bolts        42  bolt classes and threads
    woods         5  plywood and wood for mounts
    stock        19  sizes that shops keep
    arrivals      4  pilots' words for a landing, and their sink rates
    ───────────────────────────────────────────────────────────────────
    `gearleg tables metals` shows one of them with its sources.
    ");
    insta::assert_snapshot!(tables_text(&library, Some(Kind::WireEnds)), @"
    Wire ends: the share of the wire's breaking load that each holds
    ────────────────────────────────────────────────────────────────────────────────────────────────────
    end                          holds  what it is                                               source
    ════════════════════════════════════════════════════════════════════════════════════════════════════
    threaded               thread root  A thread cut on the solid wire, with a nut. The wire is  1
                                        as strong as the root of its thread.
    bent-over                     50 %  A hook or an eye bent in the wire itself, as tight as    2
                                        it goes. A gentler bend holds more: by the same rule 75
                                        % round a pin four times as thick as the wire.
    crimped-sleeve-single         88 %  Cable through a copper sleeve, pressed once.             3
    crimped-sleeve-double       92.5 %  Cable round a thimble through two sleeves, each pressed  4
                                        as its maker says.
    swaged                        95 %  A terminal rolled or pressed on to the cable by          5
                                        machine.
    wrapped                       70 %  Solid wire bent round to an eye and held by a ferrule    6
                                        or a wrapping of thin wire.
    poured-socket                100 %  Cable cast into a socket.                                7
    hand-splice                   76 %  The strands of the cable tucked back into it by hand.    8
    wedge-socket                  75 %  Cable held in a socket by a wedge.                       9
    clips                         80 %  Cable held by bolted clips.                              7
    ────────────────────────────────────────────────────────────────────────────────────────────────────
     [1] computed: root area of the largest standard thread that fits, (pi/4)(d - 1.226869 P)^2, over
         the area of the wire
     [2] from memory: rope handbook rule: 1 - 0.5 / sqrt(D/d), bent as tightly as the wire is thick (D/d
         = 1)
     [3] typical: load tests of 1/8 in 7x19 with copper sleeves (delberthall.com, 2008): one crimp held
         88 % of three crimps in two samples (86 % of the rated load in the weaker)
     [4] typical: TM 5-3810-305-10 table 4, mechanical spliced sleeve up to 1 in, 92.5 to 95 %, the
         lower end; AC 43.13-1B 7-148 gives the full strength if made right
     [5] typical: TM 5-3810-305-10 table 4, swaged socket 95 %; AC 43.13-1B 7-147 gives the full
         strength of the cable, so the lower end
     [6] from memory: hard wire with a ferrule and wrap: 70 to 85 %, the lower end
     [7] typical: TM 5-3810-305-10 table 4
     [8] typical: TM 5-3810-305-10 table 4, hand splice up to 1/2 in: 86 % carbon, 76 % stainless, the
         lower end
     [9] typical: TM 5-3810-305-10 table 4, wedge socket 75 to 95 %, the lower end
    ");
}

#[test]
fn json_carries_si_and_sources() {
    let library = library();
    let metals = tables_json(&library, Some(Kind::Metals));
    let list = metals["metals"].as_array().unwrap();
    assert_eq!(metals["rows"]["metals"], list.len());
    let row = list.iter().find(|m| m["name"] == "6082-T6").unwrap();
    assert_eq!(row["modulus_Pa"]["value"], 70e9);
    let band = &row["bands"][2];
    assert_eq!(band["yield_Pa"]["value"], 260e6);
    assert_eq!(band["yield_Pa"]["basis"], "specification minimum");
    assert_eq!(band["up_to_m"].as_f64().map(|m| (m * 1e6).round()), Some(6000.0));
    assert_eq!(metals.get("wires"), None);
    assert_eq!(tables_json(&library, None)["wire-ends"].as_array().map(Vec::len), Some(10));
}
