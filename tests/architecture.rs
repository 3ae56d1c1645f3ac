//! The plan of the house, checked: which folder may use which, where quantities are unwrapped, how long files are.
//!
//! The dependency table and the crossings are data here; DEVELOPERS.md shows the same table and names the same
//! files, and these tests fail when sources or page depart from it.

#![allow(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a test that can't read the repository should stop"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// Which folder of `src/` uses which. Each edge must be in use: a plan that nobody follows is no plan.
const USES: [(&str, &[&str]); 16] = [
    ("cli", &["analysis", "desk", "diagnostic", "input", "material", "model", "report", "results", "search"]),
    ("report", &["checks", "diagnostic", "material", "model", "results", "units"]),
    (
        "search",
        &["analysis", "crew", "diagnostic", "input", "loads", "material", "model", "results", "units"],
    ),
    ("analysis", &["checks", "crew", "kernel", "loads", "material", "model", "results", "section", "units"]),
    ("desk", &["analysis", "crew", "loads", "material", "model", "results", "section", "units"]),
    ("input", &["desk", "diagnostic", "material", "model", "report::figure", "results", "units"]),
    ("checks", &["material", "model", "results", "section", "units"]),
    ("loads", &["model", "results", "units"]),
    ("results", &["material", "model", "section", "units"]),
    ("model", &["diagnostic", "material", "section", "units"]),
    ("material", &["units"]),
    ("section", &["units"]),
    ("kernel", &[]),
    ("crew", &[]),
    ("diagnostic", &[]),
    ("units", &[]),
];

/// Where a quantity may be unwrapped to a bare number or built from one, and why there.
const CROSSINGS: &[(&str, &str)] = &[
    ("src/units/", "the units table: how many SI units a unit is"),
    ("src/input/", "text to quantities"),
    ("src/desk/", "constants: metals that no table has, the grid of strengths, water, usual instruments"),
    ("src/analysis/lower.rs", "quantities to the kernel's numbers"),
    ("src/analysis/lower_mount.rs", "the same for a mount"),
    ("src/analysis/perimeter.rs", "a section's perimeter for the kernel"),
    ("src/analysis/lift.rs", "the kernel's numbers to quantities"),
    ("src/analysis/lift_mount.rs", "the same for a mount"),
    ("src/report/", "quantities to figures and JSON"),
    ("src/results/margin.rs", "an amount of any dimension as the number that a margin and JSON need"),
    (
        "src/analysis/landing.rs",
        "constants: heights of drops; the published laws are printed for bare numbers",
    ),
    ("src/analysis/unknown.rs", "constants: instrument errors and sizes of the strip test"),
    ("src/material/embedment.rs", "the laws of bolts in wood are printed for N, mm and kg/m³"),
    ("src/material/wire.rs", "the law A/dᵐ is printed for MPa and mm"),
    ("src/material/thread.rs", "constant: the strength of a captive nut"),
    ("src/material/library.rs", "a thickness limit in a message"),
];

/// Names whose `.value` is that of a sourced value, still a quantity, and not a bare number.
const SOURCED: [&str; 8] =
    ["density", "end_holds", "fraction", "held", "least", "load", "strength", "yield_strength"];

/// Longest Rust file, lines.
const LONGEST: usize = 600;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn rust_files(folder: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![root().join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("the folder can be read") {
            let path = entry.expect("the entry can be read").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                found.push(path);
            }
        }
    }
    found.sort();
    assert!(!found.is_empty(), "{folder} has Rust files");
    found
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// Path below the repository, with slashes.
fn name_of(path: &Path) -> String {
    let below = path.strip_prefix(root()).expect("inside the repository");
    below.iter().map(|p| p.to_string_lossy()).collect::<Vec<_>>().join("/")
}

/// Folder (or single file) of `src/` that a file belongs to; `None` for the two roots.
fn part_of(name: &str) -> Option<&str> {
    let rest = name.strip_prefix("src/")?;
    if let Some((folder, _)) = rest.split_once('/') {
        return Some(folder);
    }
    rest.strip_suffix(".rs").filter(|n| !["lib", "main"].contains(n))
}

/// Lines of a source that are code: no comments, and nothing from its unit tests on.
fn code(source: &str) -> impl Iterator<Item = (usize, &str)> {
    let lines = source.lines().enumerate().map(|(i, l)| (i + 1, l.trim()));
    lines.take_while(|(_, l)| *l != "#[cfg(test)]").filter(|(_, l)| !l.starts_with("//"))
}

/// Identifiers after each `prefix` on a line, joined by `::` as far as they go.
fn paths_after(line: &str, prefix: &str) -> Vec<String> {
    let starts = line
        .match_indices(prefix)
        .filter(|(i, _)| !line[..*i].ends_with(|c: char| c.is_alphanumeric() || c == '_' || c == ':'));
    starts
        .map(|(i, _)| {
            let rest = &line[i + prefix.len()..];
            let end =
                rest.find(|c: char| !(c.is_alphanumeric() || c == '_' || c == ':')).unwrap_or(rest.len());
            rest[..end].trim_end_matches(':').to_owned()
        })
        .collect()
}

/// Whether the table lets a folder use a path such as `report::figure::figure`.
fn allowed_edge(allowed: &[&'static str], path: &str) -> Option<&'static str> {
    allowed
        .iter()
        .copied()
        .find(|a| path == *a || path.strip_prefix(a).is_some_and(|rest| rest.starts_with("::")))
}

#[test]
fn folders_use_each_other_only_as_the_table_says() {
    let table: BTreeMap<&str, &[&'static str]> = USES.into_iter().collect();
    let mut used: BTreeSet<(String, &str)> = BTreeSet::new();
    let mut faults = Vec::new();
    for path in rust_files("src") {
        let name = name_of(&path);
        let Some(part) = part_of(&name) else { continue };
        let Some(allowed) = table.get(part) else {
            faults.push(format!("{name}: src/{part} is not in the table"));
            continue;
        };
        // `super` may climb as far as the folder's own root: src/a/mod.rs not at all, src/a/b.rs once.
        let module = name.trim_end_matches("/mod.rs").trim_end_matches(".rs");
        let depth = module.matches('/').count() - 1;
        for (number, line) in code(&read(&path)) {
            let climbs = line.matches("super::super").count();
            if (line.contains("super::") && depth == 0) || climbs >= depth.max(1) {
                faults.push(format!("{name}:{number}: `super` climbs out of src/{part}: {line}"));
            }
            let prefix = if part == "cli" { "gearleg::" } else { "crate::" };
            for target in paths_after(line, prefix) {
                let other = target.split("::").next().unwrap_or_default();
                if other == part || target.is_empty() {
                    if target.is_empty() {
                        faults.push(format!("{name}:{number}: one `use` for each folder: {line}"));
                    }
                    continue;
                }
                match allowed_edge(allowed, &target) {
                    Some(edge) => {
                        used.insert((part.to_owned(), edge));
                    }
                    None => faults.push(format!("{name}:{number}: src/{part} must not use {target}")),
                }
            }
        }
    }
    for (part, allowed) in USES {
        for edge in allowed.iter().filter(|e| !used.contains(&(part.to_owned(), **e))) {
            faults.push(format!("nothing in src/{part} uses {edge}: take it off the table"));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn the_kernel_imports_nothing_of_the_crate() {
    for path in rust_files("src/kernel") {
        let source = read(&path);
        for (number, line) in source.lines().enumerate() {
            let foreign = ["crate::", "gearleg::", "uom::"].iter().any(|p| line.contains(p));
            assert!(!foreign, "{}:{}: {line}", name_of(&path), number + 1);
        }
    }
}

#[test]
fn no_rust_file_is_longer_than_one_can_read() {
    for path in ["src", "tests"].into_iter().flat_map(rust_files) {
        let lines = read(&path).lines().count();
        assert!(lines <= LONGEST, "{} has {lines} lines; part it", name_of(&path));
    }
}

#[test]
fn quantities_are_unwrapped_only_where_the_list_says() {
    let mut crossed = BTreeSet::new();
    let mut faults = Vec::new();
    for path in rust_files("src") {
        let name = name_of(&path);
        let listed = CROSSINGS.iter().find(|(place, _)| name.starts_with(place));
        for (number, line) in code(&read(&path)) {
            if !unwraps(line) {
                continue;
            }
            match listed {
                Some((place, _)) => {
                    crossed.insert(*place);
                }
                None => faults.push(format!("{name}:{number}: a bare number crosses here: {line}")),
            }
        }
    }
    for (place, why) in CROSSINGS {
        if !crossed.contains(place) {
            faults.push(format!("nothing crosses in {place} ({why}): take it off the list"));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Whether a line takes a bare number out of a quantity or makes one of it.
fn unwraps(line: &str) -> bool {
    line.contains(".get::<")
        || line.contains("::new::<")
        || line.match_indices(".value").any(|(i, dot_value)| {
            let after = line[i + dot_value.len()..].chars().next();
            // `.value()` and `.value_of` are something else.
            let other = after.is_some_and(|c| c.is_alphanumeric() || c == '_' || c == '(');
            let before = &line[..i];
            let start = before.rfind(|c: char| !(c.is_alphanumeric() || c == '_')).map_or(0, |p| p + 1);
            !other && !SOURCED.contains(&&before[start..])
        })
}

#[test]
fn the_rule_of_crossings_sees_what_it_should() {
    for line in ["x.get::<meter>()", "Length::new::<meter>(1.0)", "(b / t).value * c", "force.value < 0.0"] {
        assert!(unwraps(line), "{line}");
    }
    for line in ["m.value()", "Amount::Force(load.value)", "metal.yield_strength.value", "f64::from(b / t)"] {
        assert!(!unwraps(line), "{line}");
    }
}

#[test]
fn the_rule_of_edges_sees_what_it_should() {
    assert_eq!(paths_after("use crate::report::figure::figure;", "crate::"), ["report::figure::figure"]);
    assert_eq!(paths_after("let x: crate::units::Unit = crate::a::B;", "crate::"), ["units::Unit", "a::B"]);
    assert_eq!(paths_after("use crate::{a, b};", "crate::"), [""]);
    assert_eq!(allowed_edge(&["report::figure"], "report::figure::figure"), Some("report::figure"));
    assert_eq!(allowed_edge(&["report::figure"], "report::check_text"), None);
    assert_eq!(allowed_edge(&["model"], "models::X"), None);
    assert_eq!(part_of("src/checks/mod.rs"), Some("checks"));
    assert_eq!(part_of("src/diagnostic.rs"), Some("diagnostic"));
    assert_eq!(part_of("src/lib.rs"), None);
}

fn developers() -> String {
    read(&root().join("DEVELOPERS.md"))
}

/// What stands between back-ticks, outside fenced blocks.
fn ticked(page: &str) -> Vec<&str> {
    let mut fenced = false;
    let mut found = Vec::new();
    for line in page.lines() {
        if line.starts_with("```") {
            fenced = !fenced;
        } else if !fenced {
            found.extend(line.split('`').skip(1).step_by(2));
        }
    }
    found
}

#[test]
fn every_path_that_developers_md_names_exists() {
    let page = developers();
    let mut paths = 0;
    for token in ticked(&page) {
        let ending = [".rs", ".toml", ".md", ".py"].iter().any(|e| token.ends_with(e));
        if token.contains([' ', '<', ':', '=']) || !(token.contains('/') || ending) {
            continue;
        }
        paths += 1;
        assert!(root().join(token).exists(), "DEVELOPERS.md names {token}, which does not exist");
    }
    assert!(paths > 20, "the page names its paths between back-ticks");
    assert!(page.lines().count() < 200, "DEVELOPERS.md stays under 200 lines");
}

#[test]
fn developers_md_shows_the_table_and_the_crossings() {
    let page = developers();
    let tokens = ticked(&page);
    let row = |line: &str| -> Option<(String, Vec<String>)> {
        let cells: Vec<&str> = line.strip_prefix("| `src/")?.trim_end_matches(" |").split(" | ").collect();
        let [part, uses] = cells.as_slice() else { return None };
        let part = part.trim_end_matches('`').trim_end_matches(".rs");
        Some((part.to_owned(), uses.split(", ").map(|u| u.trim_matches('`').to_owned()).collect()))
    };
    let shown: BTreeMap<String, Vec<String>> = page.lines().filter_map(row).collect();
    for (part, uses) in USES {
        let expected: Vec<String> = if uses.is_empty() {
            vec!["nothing".to_owned()]
        } else {
            uses.iter().map(|&u| u.to_owned()).collect()
        };
        assert_eq!(shown.get(part), Some(&expected), "row of src/{part} in DEVELOPERS.md");
    }
    assert_eq!(shown.len(), USES.len(), "DEVELOPERS.md has a row for each folder of src/ and no other");
    for (place, _) in CROSSINGS {
        assert!(tokens.contains(place), "DEVELOPERS.md names the crossing {place}");
    }
}
