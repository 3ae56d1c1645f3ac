//! A user's own table folder: good rows are added, everything wrong is reported at its place.

#![allow(clippy::unwrap_used, reason = "a folder that can't be written stops the test")]

use gearleg::diagnostic::Diagnostics;
use gearleg::input::tables::{builtin, with_folder};
use gearleg::material::{Basis, Kind, Library, Metal};
use gearleg::report::{tables_json, tables_text};
use std::fs;
use std::path::Path;

const SOURCES: &str = "[sources]\nshop = \"label on the sheet\"\n";

/// A metal row that is good; tests change one thing in it.
const GOOD: &str = r#"
[[metal]]
name = "shed-sheet"
family = "aluminium"
basis = "bench test"
source = "shop"
modulus = "70 GPa"
poisson = 0.33
density = "2700 kg/m^3"
yield = "180 MPa"
ultimate = "230 MPa"
"#;

fn load(files: &[(&str, &[u8])]) -> (tempfile::TempDir, Result<Library, Diagnostics>) {
    let folder = tempfile::tempdir().unwrap();
    for (name, bytes) in files {
        fs::write(folder.path().join(name), bytes).unwrap();
    }
    let result = with_folder(builtin().unwrap(), folder.path());
    (folder, result)
}

/// What is said about the files: place, message, label, help. The folder's own name is left out.
fn complaints(files: &[(&str, &[u8])]) -> String {
    let (folder, result) = load(files);
    let found = result.unwrap_err();
    let root = folder.path().display().to_string();
    let mut out = String::new();
    for d in &found.0 {
        out.push_str(&format!("{d} [{}]\n", d.code));
        for words in d.label.iter().chain(&d.help) {
            out.push_str(&format!("    {words}\n"));
        }
    }
    out.replace(&format!("{root}{}", std::path::MAIN_SEPARATOR), "").replace(&root, "FOLDER")
}

fn one(text: &str) -> String {
    complaints(&[("own.toml", text.as_bytes())])
}

/// The good row with one piece replaced.
fn changed(from: &str, to: &str) -> String {
    assert!(GOOD.contains(from));
    one(&format!("{SOURCES}{}", GOOD.replace(from, to)))
}

#[test]
fn good_rows_of_every_kind_are_added() {
    let text = format!(
        r#"{SOURCES}{GOOD}
[[wire]]
name = "odd-reel"
basis = "told"
source = "shop"
modulus = "190 GPa"
density = "7900 kg/m^3"
constant = "1500 MPa"

[[wire_end]]
name = "my-clamp"
words = "A clamp of my own."
efficiency = {{ v = 0.6, basis = "bench test", source = "shop" }}

[[bolt_class]]
name = "salvage"
up_to = "6 mm"
basis = "told"
source = "shop"
ultimate = "500 MPa"

[[bolt_class]]
name = "salvage"
basis = "told"
source = "shop"
ultimate = "450 MPa"

[[thread]]
name = "2BA"
series = "inch"
basis = "told"
source = "shop"
nominal = "4.7 mm"
pitch = "0.81 mm"

[[arrival]]
name = "carrier"
words = "No flare at all."
basis = "told"
source = "shop"
sink_rate = {{ from = "2.6 m/s", to = "3.0 m/s" }}

[[stock]]
form = "sheet"
system = "metric"
basis = "told"
source = "shop"
sizes = ["3 mm", "4 mm"]
"#
    );
    let (_folder, result) = load(&[("own.toml", text.as_bytes()), ("notes.txt", b"\xff not read")]);
    let library = result.unwrap_or_else(|found| panic!("{found}"));
    assert_eq!(library.metal("shed-sheet").unwrap().bands.len(), 1);
    assert!(library.origin::<Metal>("shed-sheet").unwrap().ends_with("own.toml"));
    assert!(library.wire("odd-reel").is_ok() && library.wire_end("my-clamp").is_ok());
    assert!(library.thread("2BA").is_ok() && library.arrival("carrier").is_ok());
    let salvage = |mm: f64| {
        let d = gearleg::units::Length::new::<uom::si::length::millimeter>(mm);
        library
            .bolt_class("salvage", d)
            .unwrap()
            .ultimate
            .value
            .get::<uom::si::pressure::megapascal>()
            .round()
    };
    assert_eq!((salvage(6.0), salvage(8.0)), (500.0, 450.0));
}

#[test]
fn moduli_of_bolts_and_through_wood_are_kept_and_shown() {
    let text = format!(
        r#"{SOURCES}
[[bolt_class]]
name = "brass"
basis = "told"
source = "shop"
ultimate = "370 MPa"
modulus = {{ v = "97 GPa", basis = "typical", source = "shop" }}

[[bolt_class]]
name = "mystery"
basis = "told"
source = "shop"
ultimate = "370 MPa"

[[wood]]
name = "crate-ply"
basis = "told"
source = "shop"
density = "500 kg/m^3"
modulus_through = "420 MPa"
"#
    );
    let (_folder, result) = load(&[("own.toml", text.as_bytes())]);
    let library = result.unwrap_or_else(|found| panic!("{found}"));
    let any = gearleg::units::Length::new::<uom::si::length::millimeter>(5.0);
    let gpa = |v: gearleg::units::Stress| v.get::<uom::si::pressure::gigapascal>();
    let brass = library.bolt_class("brass", any).unwrap();
    let modulus = brass.modulus.as_ref().unwrap();
    assert_eq!((gpa(modulus.value).round(), modulus.basis), (97.0, Basis::Typical));
    assert_eq!(library.bolt_class("mystery", any).unwrap().modulus, None);
    let row = |kind: Kind, list: &str, name: &str| {
        let shown = tables_json(&library, Some(kind));
        shown[list].as_array().unwrap().iter().find(|m| m["name"] == name).cloned().unwrap()
    };
    assert_eq!(row(Kind::Bolts, "bolts", "brass")["modulus_Pa"]["value"], 97e9);
    assert_eq!(row(Kind::Bolts, "bolts", "mystery").get("modulus_Pa"), None);
    assert_eq!(row(Kind::Woods, "woods", "crate-ply")["modulus_through_Pa"]["value"], 420e6);
    assert_eq!(row(Kind::Woods, "woods", "balsa").get("modulus_through_Pa"), None);
    let line = |kind: Kind, name: &str| {
        let text = tables_text(&library, Some(kind));
        let words = text.lines().find(|l| l.split_whitespace().next() == Some(name)).unwrap_or_default();
        words.split_whitespace().map(str::to_owned).collect::<Vec<_>>()
    };
    assert_eq!(line(Kind::Bolts, "brass")[..2], ["brass", "370"]);
    assert!(line(Kind::Bolts, "brass").contains(&"97".to_owned()), "{:?}", line(Kind::Bolts, "brass"));
    assert!(line(Kind::Woods, "crate-ply").contains(&"420".to_owned()));
}

#[test]
fn what_lies_beyond_yield_is_kept_and_shown() {
    let exponent = GOOD.replace(
        "yield =",
        "hardening_exponent = { v = 15, basis = \"computed\", source = \"shop\" }\nyield =",
    );
    let slope =
        GOOD.replace("shed-sheet", "loft-sheet").replace("yield =", "tangent_modulus = \"700 MPa\"\nyield =");
    let (_folder, result) = load(&[("own.toml", format!("{SOURCES}{exponent}{slope}").as_bytes())]);
    let library = result.unwrap_or_else(|found| panic!("{found}"));
    let metal = library.metal("shed-sheet").unwrap();
    assert_eq!(metal.hardening_exponent.as_ref().unwrap().value, 15.0);
    assert_eq!(metal.hardening_exponent.as_ref().unwrap().basis, Basis::Computed);
    let shown = tables_json(&library, Some(Kind::Metals));
    let row =
        |name: &str| shown["metals"].as_array().unwrap().iter().find(|m| m["name"] == name).cloned().unwrap();
    let (shed, loft) = (row("shed-sheet"), row("loft-sheet"));
    let value = serde_json::json!({ "value": 15.0, "basis": "computed", "source": "label on the sheet" });
    assert_eq!((&shed["hardening_exponent"], shed.get("tangent_modulus_Pa")), (&value, None));
    assert_eq!((loft.get("hardening_exponent"), &loft["tangent_modulus_Pa"]["value"]), (None, &7e8.into()));
    // Nothing was read for the metals of the tables.
    assert!(row("6082-T6").get("hardening_exponent").is_none());
}

#[test]
fn taken_names() {
    insta::assert_snapshot!(changed("shed-sheet", "6082-T6"), @"
    own.toml:5:8: the metal name `6082-T6` is already taken [name-taken]
        it belongs to a row of material-tables/metals.toml; give this row another name
    ");
    insta::assert_snapshot!(changed("name = \"shed-sheet\"", "name = \"mine\"\naliases = [\"5083-H111\"]"), @"
    own.toml:6:12: the metal name `5083-H111` is already taken [name-taken]
        it belongs to a row of material-tables/metals.toml; give this row another name
    ");
    insta::assert_snapshot!(changed("shed-sheet", "the sheet that stood behind the lathe"), @"own.toml:5:8: a name may have 32 characters at most [name-too-long]");
    insta::assert_snapshot!(changed("shed-sheet", "unknown"), @"
    own.toml:5:8: `unknown` can't be a row's name [name-reserved]
        in a project file the word stands for material of unknown grade
    ");
    insta::assert_snapshot!(changed("name = \"shed-sheet\"", "name = \"mine\"\naliases = [\"mine\"]"), @"own.toml:6:12: the row has the name `mine` twice [name-twice]");
    let text = format!("{SOURCES}{GOOD}");
    insta::assert_snapshot!(complaints(&[("b.toml", text.as_bytes()), ("a.toml", text.as_bytes())]), @"
    b.toml:5:8: the metal name `shed-sheet` is already taken [name-taken]
        it belongs to a row of a.toml; give this row another name
    ");
    let class =
        "[[bolt_class]]\nname = \"8.8\"\nbasis = \"told\"\nsource = \"shop\"\nultimate = \"700 MPa\"\n";
    insta::assert_snapshot!(one(&format!("{SOURCES}{class}")), @"
    own.toml:4:8: the bolt class name `8.8` is already taken [name-taken]
        it belongs to a row of material-tables/bolts.toml; give this row another name
    ");
}

#[test]
fn keys() {
    insta::assert_snapshot!(changed("yield =", "yeild ="), @"
    own.toml:4:1: this thickness has neither `yield` nor `yield_maximum` [missing-key]
    own.toml:12:1: a metal has no key `yeild` [unknown-key]
        did you mean `yield`?
    ");
    insta::assert_snapshot!(changed("poisson = 0.33", ""), @"own.toml:4:1: a metal needs `poisson` [missing-key]");
    insta::assert_snapshot!(one("[[metals]]\nname = \"a\"\n[sauces]\n"), @"
    own.toml:1:3: a table file has no key `metals` [unknown-key]
        did you mean `metal`?
    own.toml:3:2: a table file has no key `sauces` [unknown-key]
        did you mean `sources`?
    ");
    insta::assert_snapshot!(one("metal = 3\nwire = [1]\nsources = 2\n"), @r#"
    own.toml:1:9: `metal` must be a list of tables [wrong-type]
        write each one under `[[metal]]`
    own.toml:2:9: each `wire` must be a table [wrong-type]
        write each one under `[[wire]]`
    own.toml:3:11: `sources` must be a table of short keys and their texts [wrong-type]
        write `[sources]`, then lines such as `shop = "label on the sheet"`
    "#);
    insta::assert_snapshot!(one("[metal]\nname = \"a\"\n"), @"
    own.toml:1:1: `metal` must be a list of tables [wrong-type]
        write each one under `[[metal]]`
    ");
    insta::assert_snapshot!(changed("name = \"shed-sheet\"\n", ""), @"own.toml:4:1: a metal needs `name` [missing-key]");
}

#[test]
fn values() {
    insta::assert_snapshot!(changed("\"180 MPa\"", "180"), @r#"
    own.toml:12:9: `yield` must be a stress [wrong-type]
        this is a number
        write it in quotes with its unit, such as "260 MPa"
    "#);
    insta::assert_snapshot!(changed("180 MPa", "180"), @r#"
    own.toml:12:10: `180` has no unit; a stress is needed [unit-missing]
        a number without its unit
        write "180 MPa"
        units of stress: MPa, GPa, kPa, Pa, ksi, psi, Msi
    "#);
    insta::assert_snapshot!(changed("180 MPa", "18 mm"), @r#"
    own.toml:12:13: `18 mm` is a length; a stress is needed here [unit-dimension]
        a unit of length
        write a stress, such as "260 MPa"
        units of stress: MPa, GPa, kPa, Pa, ksi, psi, Msi
    "#);
    insta::assert_snapshot!(changed("180 MPa", "-180 MPa"), @"own.toml:12:9: `yield` must be above zero [out-of-range]");
    insta::assert_snapshot!(changed("0.33", "\"0.33\""), @"
    own.toml:10:11: `poisson` must be a plain number [wrong-type]
        this is a text
        write a number without a unit
    ");
    insta::assert_snapshot!(changed("0.33", "nan"), @"
    own.toml:10:11: `poisson` must be a plain number [wrong-type]
        this is not a finite number
        write a number without a unit
    ");
    insta::assert_snapshot!(changed("0.33", "0.5"), @"own.toml:10:11: `poisson` must be between 0 and 0.5 [out-of-range]");
    insta::assert_snapshot!(changed("180 MPa", "280 MPa"), @"own.toml:12:9: `yield` is above `ultimate` [contradiction]");
    insta::assert_snapshot!(changed("70 GPa", "70 MPa"), @"own.toml:9:11: `modulus` must be above the metal's strength [out-of-range]");
    let beyond = |lines: &str| changed("poisson = 0.33\n", &format!("poisson = 0.33\n{lines}"));
    insta::assert_snapshot!(beyond("hardening_exponent = 1.9\n"), @"own.toml:11:22: `hardening_exponent` must be from 2 to 100 [out-of-range]");
    insta::assert_snapshot!(beyond("hardening_exponent = { v = 101, basis = \"told\" }\n"), @"own.toml:11:28: `hardening_exponent` must be from 2 to 100 [out-of-range]");
    insta::assert_snapshot!(beyond("hardening_exponent = \"15\"\n"), @"
    own.toml:11:22: `hardening_exponent` must be a plain number [wrong-type]
        this is a text
        write a number without a unit
    ");
    insta::assert_snapshot!(beyond("hardening_exponent = 15\ntangent_modulus = \"700 MPa\"\n"), @"
    own.toml:11:22: a metal can't have both `tangent_modulus` and `hardening_exponent` [contradiction]
        both say how it goes on beyond yield; keep the one that was measured
    ");
    insta::assert_snapshot!(changed("\"shed-sheet\"", "\" \""), @"own.toml:5:8: `name` is empty [empty-text]");
    insta::assert_snapshot!(changed("\"shed-sheet\"", "\"a\\nb\""), @"own.toml:5:8: `name` must be one line without space at its ends or control characters [bad-text]");
    insta::assert_snapshot!(changed("\"aluminium\"", "\"aluminum\""), @"
    own.toml:6:10: `family` can't be `aluminum` [unknown-word]
        did you mean `aluminium`?
    ");
}

#[test]
fn provenance() {
    insta::assert_snapshot!(changed("basis = \"bench test\"\n", ""), @"
    own.toml:8:11: this value has no `basis` [missing-key]
        give `basis` beside the row's name, or write the value as { v = ..., basis = ..., source = ... }
    ");
    insta::assert_snapshot!(changed("bench test", "guess"), @"
    own.toml:7:9: `guess` is not a basis [unknown-basis]
        known: `specification minimum`, `computed`, `bench test`, `typical`, `common practice`, `from memory`, `told`
    ");
    insta::assert_snapshot!(changed("source = \"shop\"", "source = \"shp\""), @"
    own.toml:8:10: `shp` is not a key of `[sources]` [unknown-source]
        did you mean `shop`?
    ");
    insta::assert_snapshot!(changed("source = \"shop\"", "source = \"the internet\""), @"
    own.toml:8:10: `the internet` is not a key of `[sources]` [unknown-source]
        add a line for it to this file's `[sources]`, or write the key of one that is there
    ");
    insta::assert_snapshot!(changed("\"180 MPa\"", "{ basis = \"told\", sorce = \"shop\" }"), @"
    own.toml:12:9: a value with its source needs `v` [missing-key]
    own.toml:12:27: a value with its source has no key `sorce` [unknown-key]
        did you mean `source`?
    ");
    insta::assert_snapshot!(one("[sources]\nshop = \"\"\nbin = 7\n"), @"
    own.toml:2:8: `shop` is empty [empty-text]
    own.toml:3:7: `bin` must be a text in quotes [wrong-type]
    ");
}

#[test]
fn bands() {
    let with =
        |bands: &str| changed("yield = \"180 MPa\"\n", &format!("yield = \"180 MPa\"\nbands = [{bands}]\n"));
    insta::assert_snapshot!(with("{ up_to = \"3 mm\" }, { over = \"4 mm\", up_to = \"6 mm\" }"), @"own.toml:13:30: the band leaves a gap: it begins at 4.0000 mm, that one ends at 3.0000 mm [band-order]");
    insta::assert_snapshot!(with("{ up_to = \"3 mm\" }, { over = \"2 mm\", up_to = \"6 mm\" }"), @"own.toml:13:30: the band overlaps the one before it: it begins at 2.0000 mm, that one ends at 3.0000 mm [band-order]");
    insta::assert_snapshot!(with("{ up_to = \"3 mm\" }, { up_to = \"2 mm\" }"), @"own.toml:13:30: the band is empty: it begins at 3.0000 mm and ends at 2.0000 mm [band-order]");
    insta::assert_snapshot!(with("{ }, { up_to = \"2 mm\" }"), @"own.toml:13:15: the band before this one has no `up_to`; only the last may be open [band-order]");
    insta::assert_snapshot!(with("{ up_to = \"3 mm\", yield = \"240 MPa\" }"), @"own.toml:13:36: `yield` is above `ultimate` [contradiction]");
    insta::assert_snapshot!(with("{ upto = \"3 mm\" }"), @"
    own.toml:13:12: a band has no key `upto` [unknown-key]
        did you mean `up_to`?
    ");
    insta::assert_snapshot!(with(""), @r#"
    own.toml:13:9: `bands` is an empty list [no-bands]
        write `bands = [{ up_to = "3 mm", yield = "260 MPa", ... }, ...]`
    "#);
    insta::assert_snapshot!(changed("yield = \"180 MPa\"\n", ""), @"own.toml:4:1: this thickness has neither `yield` nor `yield_maximum` [missing-key]");
}

#[test]
fn other_kinds() {
    let row = |text: &str| one(&format!("{SOURCES}{text}"));
    let wire = "[[wire]]\nname = \"w\"\nbasis = \"told\"\nsource = \"shop\"\nmodulus = \"190 GPa\"\ndensity = \"7900 kg/m^3\"\n";
    insta::assert_snapshot!(row(wire), @"own.toml:3:1: a wire needs one of `power_law`, `sizes` and `constant` [missing-key]");
    insta::assert_snapshot!(row(&format!("{wire}constant = \"1 GPa\"\nsizes = []\n")), @"own.toml:9:12: a wire can't have both `sizes` and `constant` [contradiction]");
    insta::assert_snapshot!(row(&format!("{wire}sizes = [{{ diameter = \"2 mm\", load = \"3 kN\" }}, {{ diameter = \"1 mm\", load = \"1 kN\" }}]\n")), @"own.toml:9:61: the sizes must ascend [band-order]");
    insta::assert_snapshot!(row(&format!("{wire}power_law = [{{ from = \"1 mm\", up_to = \"2 mm\", a = 2000 }}]\n")), @"own.toml:9:14: a band needs `m` [missing-key]");
    insta::assert_snapshot!(row("[[wire_end]]\nname = \"e\"\nwords = \"w\"\nbasis = \"told\"\nsource = \"shop\"\nefficiency = 1.2\n"), @"own.toml:8:14: `efficiency` must be above 0 and at most 1 [out-of-range]");
    insta::assert_snapshot!(row("[[wire_end]]\nname = \"e\"\nwords = \"w\"\nbasis = \"told\"\nsource = \"shop\"\nefficiency = \"half\"\n"), @r#"
    own.toml:8:14: `efficiency` can't be `half` [unknown-word]
        write a fraction of the wire's breaking load such as 0.9, or "thread-root"
    "#);
    insta::assert_snapshot!(row("[[thread]]\nname = \"t\"\nseries = \"metrical\"\nbasis = \"told\"\nsource = \"shop\"\nnominal = \"4 mm\"\n"), @"
    own.toml:3:1: a thread needs `pitch` or `threads_per_inch` [missing-key]
    own.toml:5:10: `series` can't be `metrical` [unknown-word]
        did you mean `metric`?
    ");
    insta::assert_snapshot!(row("[[stock]]\nform = \"sheet\"\nsystem = \"metric\"\nbasis = \"told\"\nsource = \"shop\"\nsizes = [\"4 mm\", \"3 mm\", \"16 ga\"]\n"), @r#"
    own.toml:8:18: the sizes must ascend [band-order]
    own.toml:8:30: `16 ga` does not say which gauge [unit-gauge]
        gauges differ: 18 ga is 1.21 mm in steel sheet, 1.02 mm in aluminium sheet and 1.22 mm in swg
        measure it and write mm, in or thou
        or, if it is a size of the Imperial Standard Wire Gauge, write "16 swg"
    "#);
    insta::assert_snapshot!(row("[[arrival]]\nname = \"a\"\nwords = \"w\"\nbasis = \"told\"\nsource = \"shop\"\nsink_rate = \"1 m/s\"\n"), @r#"
    own.toml:8:13: `sink_rate` must be a sink rate in braces [wrong-type]
        write { from = "1.0 m/s", to = "1.3 m/s" }
    "#);
    insta::assert_snapshot!(row("[[wood]]\nname = \"w\"\nbasis = \"told\"\nsource = \"shop\"\ndensity = \"600 kg/m^3\"\n[[wood.bands]]\nplies = 2.5\n[[wood.bands]]\nthickness = \"3 mm\"\n"), @"
    own.toml:8:1: each of several bands needs its `thickness` [missing-key]
    own.toml:9:9: `plies` must be a whole number up to 100 [out-of-range]
    ");
    insta::assert_snapshot!(row("[[bolt_class]]\nname = \"b\"\nbasis = \"told\"\nsource = \"shop\"\nultimate = \"400 MPa\"\nproof = \"420 MPa\"\nyield = \"410 MPa\"\n"), @"
    own.toml:8:9: `proof` is above `yield` [contradiction]
    own.toml:9:9: `yield` is above `ultimate` [contradiction]
    ");
    let plastic = |keys: &str| {
        row(&format!(
            "[[bolt_class]]\nname = \"b\"\nbasis = \"told\"\nsource = \"shop\"\nultimate = \"60 MPa\"\n{keys}"
        ))
    };
    insta::assert_snapshot!(plastic("other_state = \"dry\"\n"), @"own.toml:8:15: `other_state` needs `other_ultimate` beside it [missing-key]");
    insta::assert_snapshot!(plastic("other_ultimate = \"80 MPa\"\n"), @"own.toml:8:18: `other_ultimate` needs `other_state` beside it [missing-key]");
    insta::assert_snapshot!(plastic("other_state = \"\"\nother_ultimate = \"-80 MPa\"\n"), @"
    own.toml:8:15: `other_state` is empty [empty-text]
    own.toml:9:18: `other_ultimate` must be above zero [out-of-range]
    ");
}

#[test]
fn files_that_are_no_tables() {
    insta::assert_snapshot!(one("[[metal]\nname = \"a\n"), @"own.toml:1:9: this is not valid TOML: unclosed array table, expected `]` [bad-toml]");
    insta::assert_snapshot!(one("[[metal]]\nname = \"a\"\nname = \"b\"\n"), @"own.toml:3:1: this is not valid TOML: duplicate key [bad-toml]");
    insta::assert_snapshot!(complaints(&[("own.toml", b"# caf\xe9\n")]), @"
    own.toml:1:6: the file is not UTF-8 text from here on [not-utf8]
        save it as UTF-8 in your editor
    ");
    let huge = vec![b'#'; (1 << 20) + 1];
    insta::assert_snapshot!(complaints(&[("own.toml", &huge)]), @"own.toml is larger than 1024 KiB, too large for a material table [file-too-large]");
    insta::assert_snapshot!(complaints(&[]), @"the table folder FOLDER has no file that ends in .toml [folder-empty]");
    // An empty file is a table without rows.
    assert!(load(&[("own.toml", b"")]).1.is_ok());
}

#[test]
fn a_folder_that_is_not_there() {
    let found = with_folder(builtin().unwrap(), Path::new("no/such/folder")).unwrap_err();
    let said = found.to_string();
    assert_eq!(said, "there is no folder no/such/folder");
}
