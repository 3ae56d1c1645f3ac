//! The project file: from text to a checked [`Project`].
//!
//! The text is read into a tree with the place of every key and value, the tree is walked section by section, and
//! every mistake met on the way is noted. A project comes out only when there was none.

mod bench;
mod brace;
mod case;
mod doubts;
mod draft;
mod drop_test;
mod gear;
mod keys;
mod landing;
mod load;
mod measure;
mod mount;
mod mount_doubts;
mod mount_fit;
mod open;
mod own;
mod plate;
mod section;
mod shop_meter;
mod shop_test;
mod size;
mod syntax;
mod tolerance;
mod tree;
mod variant;
mod wheel;

pub use bench::NO_STRENGTH;
pub use draft::{Change, Design, Draft, NewValue};
pub use load::{load_draft, load_project};
pub use open::OpenValue;

use crate::diagnostic::{Diagnostic, Diagnostics, SourceText};
use crate::material::Library;
use crate::model::{Bench, Position, Project};
use gear::ReadGear;
use section::{Context, Section};
use std::sync::Arc;
use tree::{Span, Table, Value};

/// Diagnostics that are shown of one file.
const MOST_SHOWN: usize = 100;

/// Reads the text of a project file.
///
/// Returns the project and the warnings about it.
///
/// # Errors
/// Everything wrong with the text, in its order. Warnings are among them, so that nothing has to be found out twice.
pub fn read_project(
    source: Arc<SourceText>,
    library: &Library,
) -> Result<(Project, Vec<Diagnostic>), Diagnostics> {
    Draft::new(source)?.read_file(library)
}

/// Keeps as many as can be mended in one go, and says how many there are besides.
fn shorten(found: &mut Vec<Diagnostic>, uncounted: usize) {
    let besides = found.len().saturating_sub(MOST_SHOWN) + uncounted;
    if besides > 0 {
        found.truncate(MOST_SHOWN);
        found.push(
            Diagnostic::error("more", format!("{besides} more mistakes are not shown"))
                .help("mend these first and run again"),
        );
    }
}

fn line(diagnostic: &Diagnostic) -> Option<usize> {
    diagnostic.location.as_ref().map(|place| place.line_column().0)
}

/// Why a text can't be a project file, before its lines are looked at.
fn not_a_project(source: &Arc<SourceText>) -> Option<Diagnostic> {
    let (name, text) = (&source.name, &source.text);
    let only_comments =
        || text.lines().all(|line| line.trim().is_empty() || line.trim_start().starts_with('#'));
    if text.len() > load::MAX_BYTES {
        Some(load::too_large(name))
    } else if let Some(at) = text.find('\0') {
        let refused =
            Diagnostic::error("not-text", format!("{name} holds a zero byte, so it is no text file"))
                .help("perhaps another file was meant, or it was saved as UTF-16: save it as UTF-8");
        // The byte is shown as a question mark, which takes the same room.
        let shown = Arc::new(SourceText { name: name.clone(), text: text.replace('\0', "?") });
        Some(refused.at(&shown, at..at + 1))
    } else if only_comments() {
        Some(
            Diagnostic::error("empty-file", format!("{name} has nothing in it"))
                .help("`gearleg new FILE` writes a project file to start from"),
        )
    } else {
        None
    }
}

/// Whether the file is in the one format there is. Another format may mean anything, so nothing else is then judged.
fn format(cx: &Context<'_>, table: &Table) -> bool {
    let Some(entry) = table.get("format") else {
        let missing = Diagnostic::error("missing-key", "`format` is missing from the top of the file")
            .help("write format = 1 as the first line");
        cx.note(missing, top(cx));
        return true;
    };
    match entry.node.value {
        Value::Number(1.0) => true,
        Value::Number(_) => {
            let written = cx.source.text.get(entry.node.span.clone()).unwrap_or_default();
            let refused = Diagnostic::error(
                "unknown-format",
                format!("this version reads format 1, and the file is in format {written}"),
            )
            .help("a newer gearleg may read it; if you wrote the number yourself, write format = 1");
            cx.note(refused, entry.node.span.clone());
            false
        }
        ref other => {
            let refused = Diagnostic::error(
                "wrong-type",
                format!("`format` needs a plain number, and this is {}", other.words()),
            )
            .help("write format = 1");
            cx.note(refused, entry.node.span.clone());
            true
        }
    }
}

/// The first line that says something; what is missing at the top of the file is reported there.
fn top(cx: &Context<'_>) -> Span {
    let mut start = 0;
    for line in cx.source.text.split_inclusive('\n') {
        let said = line.trim();
        if !said.is_empty() && !said.starts_with('#') {
            let indent = line.len() - line.trim_start().len();
            return start + indent..start + indent + said.len();
        }
        start += line.len();
    }
    0..0
}

fn walk(cx: &Context<'_>, table: &Table) -> Option<Project> {
    let title = "the top of the file".to_owned();
    let root = Section::open(cx, String::new(), title, top(cx), table, &keys::ROOT);
    let bench = Bench { tests: bench::tests(&root), prior: bench::prior(&root) };
    let mut metals = own::metals(cx, table);
    bench::add_sheets(cx, table, &bench, &mut metals);
    let wires = own::wires(cx, table);
    let aircraft = needed(&root, "aircraft", &keys::AIRCRAFT).and_then(|s| landing::aircraft(&s));
    let layout = aircraft.as_ref().map(|a| a.layout);
    let gears = gears(&root, |entry| gear::gear(cx, entry, layout, &metals, &wires));
    let positions: Option<Vec<Position>> =
        gears.as_ref().and_then(|gears| gears.iter().map(|g| g.as_ref().and_then(|g| g.position)).collect());
    let landing =
        needed(&root, "landing", &keys::LANDING).and_then(|s| landing::landing(&s, positions.as_deref()));
    let read: Vec<ReadGear> = gears.unwrap_or_default().into_iter().flatten().collect();
    let cases = case::cases(&root, &read);
    let drop_tests = drop_test::drop_tests(&root, &read);
    let wish = size::wish(&root, landing.as_ref());
    twice(&root, &read);
    let gears = read.into_iter().map(|g| g.gear).collect::<Option<Vec<_>>>()?;
    Some(Project {
        aircraft: aircraft?,
        landing: landing?,
        gears,
        cases,
        drop_tests,
        bench,
        wish,
        readings: Vec::new(),
        written_units: Vec::new(),
        tolerances: Vec::new(),
    })
}

/// Reads what was tried with sheets in a file that has nothing else.
fn walk_bench(cx: &Context<'_>, table: &Table) -> Bench {
    let title = "the top of the file".to_owned();
    let root = Section::open(cx, String::new(), title, top(cx), table, &keys::ROOT);
    Bench { tests: bench::tests(&root), prior: bench::prior(&root) }
}

/// A section that every project has.
fn needed<'a>(root: &Section<'a>, name: &str, keys: &keys::Keys) -> Option<Section<'a>> {
    if root.table.get(name).is_none() {
        let missing = Diagnostic::error("missing-section", format!("the section {} is missing", keys.header))
            .help(format!(
                "add a line {} and its keys below it; it takes: {}",
                keys.header,
                keys.names.join(", ")
            ));
        root.note(missing, root.header.clone());
    }
    root.below(name, keys.header, keys)
}

/// Reads every gear; `None` when the file has no section for them.
fn gears<'a>(
    root: &Section<'a>,
    read: impl Fn(&'a tree::Entry) -> Option<ReadGear>,
) -> Option<Vec<Option<ReadGear>>> {
    let missing = |span: Span| {
        let missing = Diagnostic::error("missing-section", "the file describes no gear")
            .help("add a section [gear.main], with [gear.main.plate] and [gear.main.wheel] below it");
        root.note(missing, span);
    };
    let Some(entry) = root.table.get("gear") else {
        missing(root.header.clone());
        return None;
    };
    let Value::Table(table) = &entry.node.value else {
        let wrong = Diagnostic::error(
            "wrong-type",
            format!("`gear` is {} in the place of a section", entry.node.value.words()),
        )
        .help("each gear is a section with a name, as in [gear.main]");
        root.note(wrong, entry.node.span.clone());
        return None;
    };
    if table.entries.is_empty() {
        missing(entry.node.span.clone());
    }
    Some(table.entries.iter().map(read).collect())
}

/// Warns of a second nose or tail gear: main gears may be several, the third wheel is one.
fn twice(root: &Section<'_>, gears: &[ReadGear]) {
    for position in [Position::Nose, Position::Tail] {
        let mut same = gears.iter().filter(|g| g.position == Some(position));
        let (Some(first), Some(second)) = (same.next(), same.next()) else { continue };
        let place = root.table.get("gear").and_then(|entry| match &entry.node.value {
            Value::Table(table) => table.get(&second.name).map(|entry| entry.node.span.clone()),
            _ => None,
        });
        let doubt = Diagnostic::warning(
            "doubtful",
            format!(
                "`{}` and `{}` are both at the {}",
                section::shown(&first.name),
                section::shown(&second.name),
                position.id()
            ),
        )
        .help(
            "each is checked as if it alone carried the load there; put two designs into files of their own",
        );
        root.note(doubt, place.unwrap_or_else(|| root.header.clone()));
    }
}
