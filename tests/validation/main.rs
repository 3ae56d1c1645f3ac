//! The library against things outside it: closed forms, published tables, a general-purpose solver, common practice.
//!
//! Every module hands over its records; one test runs them all and keeps `docs/validation.md` true. After a change
//! that is meant to alter the page, run `GEARLEG_WRITE_DOCS=1 cargo test --test validation`.

#![allow(clippy::expect_used, clippy::indexing_slicing, reason = "a test that can't go on should stop")]

#[path = "../common/chain.rs"]
mod chain;
#[path = "../common/mod.rs"]
mod common;
#[path = "../common/mounted.rs"]
mod mounted;
#[path = "../common/mounts.rs"]
mod mounts;
#[path = "../common/normal.rs"]
mod normal;
#[path = "../common/worked.rs"]
mod worked;

mod bolts;
mod cantilever;
mod curves;
mod desk;
mod drops;
mod failure_modes;
mod fittings;
mod frames;
mod landing_loads;
mod large_bending;
mod large_collapse;
mod large_energy;
mod large_paths;
mod large_yielding;
mod material_formulas;
mod mount_bed;
mod oracle;
mod oracle_file;
mod oracle_mount;
mod portal;
mod practice;
mod record;
mod ring;
mod sections;
mod spread;
mod taper;
mod wire_brace;
mod wood;

use record::Record;
use std::fmt::Write as _;
use std::path::Path;

const INTRO: &str = "# What was checked, against what, and how close it came

This page is written by the tests (`tests/validation/`), so it can't say more than they do. Each line is a group of
numbers that the library works out and that somebody else has worked out too, or that can be derived on paper. The
difference of the worst number of the group is given as a fraction: `< 1e-4` means that all of them agree to better
than one part in ten thousand. Where a number is small among its like (one component of a displacement, the tension of
one wire of several), the difference is measured by the largest of the group. Differences below 1e-10 are rounding;
*as allowed* means that the next power of ten is more than what is allowed.

Kinds of evidence: *closed form* can be derived; *published* was read in print; *other program* is a general-purpose
frame solver that shares no code with this library; *common practice* is what builders find, with no source; *from
memory* is recalled from the source that is named and was not seen in it.
";

fn all() -> Vec<Record> {
    [
        cantilever::records(),
        taper::records(),
        sections::records(),
        portal::records(),
        wire_brace::records(),
        ring::records(),
        failure_modes::records(),
        fittings::records(),
        oracle::records(),
        oracle_mount::records(),
        mount_bed::records(),
        curves::records(),
        desk::records(),
        drops::records(),
        large_bending::records(),
        large_yielding::records(),
        large_collapse::records(),
        large_paths::records(),
        large_energy::records(),
        landing_loads::records(),
        material_formulas::records(),
        bolts::records(),
        wood::records(),
        spread::records(),
        practice::records(),
    ]
    .concat()
}

fn page(records: &[Record]) -> String {
    let mut page = INTRO.to_owned();
    let mut topic = "";
    for record in records {
        if record.topic != topic {
            topic = record.topic;
            let _ = write!(
                page,
                "\n## {topic}\n\n| what | numbers | against | allowed | reached | why so close |\n|---|---|---|---|---|---|\n"
            );
        }
        let _ = writeln!(page, "{}", record.row());
    }
    page
}

#[test]
fn everything_agrees_and_the_page_says_so() {
    let records = all();
    let failures: Vec<String> = records.iter().flat_map(Record::failures).collect();
    assert!(failures.is_empty(), "{} numbers disagree:\n{}", failures.len(), failures.join("\n"));

    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/validation.md");
    let page = page(&records);
    if std::env::var_os("GEARLEG_WRITE_DOCS").is_some_and(|v| v == "1") {
        std::fs::write(&path, &page).expect("docs/ can be written");
        return;
    }
    let committed = std::fs::read_to_string(&path).expect("docs/validation.md is there");
    // A checkout may have turned the line ends.
    assert_eq!(
        committed.replace("\r\n", "\n"),
        page,
        "docs/validation.md is out of date: run with GEARLEG_WRITE_DOCS=1 and look at what changed"
    );
}
