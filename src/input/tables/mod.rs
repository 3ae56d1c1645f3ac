//! The material tables' files: TOML text to typed rows.
//!
//! The same format serves the built-in tables and a user's own. A file may hold rows of any kind. Everything wrong
//! with all the files is reported together, and then there is no library.

mod metals;
mod reader;
mod round;
mod shop;
mod value;
mod wires;
mod woods;

use crate::diagnostic::{Diagnostic, Diagnostics, SourceText};
use crate::material::{Library, TableRow};
use reader::{Reader, Row};
use std::fs::{self, File};
use std::io::{ErrorKind, Read};
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use toml::de::DeTable;

/// The tables compiled into the program: name and text.
const BUILT_IN: [(&str, &str); 8] = [
    ("material-tables/metals.toml", include_str!("../../../material-tables/metals.toml")),
    ("material-tables/wires.toml", include_str!("../../../material-tables/wires.toml")),
    ("material-tables/wire-ends.toml", include_str!("../../../material-tables/wire-ends.toml")),
    ("material-tables/axles.toml", include_str!("../../../material-tables/axles.toml")),
    ("material-tables/bolts.toml", include_str!("../../../material-tables/bolts.toml")),
    ("material-tables/woods.toml", include_str!("../../../material-tables/woods.toml")),
    ("material-tables/stock.toml", include_str!("../../../material-tables/stock.toml")),
    ("material-tables/arrivals.toml", include_str!("../../../material-tables/arrivals.toml")),
];

/// Largest table file that is read, in bytes. chosen: twenty times the largest built-in table.
const LARGEST_FILE: u64 = 1 << 20;

/// Most characters that a name may have. chosen: more than any built-in one, and a column of the tables still fits.
const LONGEST_NAME: usize = 32;

/// The built-in tables.
///
/// # Errors
/// Never, as long as the tables compiled in are sound; the tests read them all.
pub fn builtin() -> Result<Library, Diagnostics> {
    let mut library = Library::default();
    let mut found = Vec::new();
    for (name, text) in BUILT_IN {
        let source = Arc::new(SourceText { name: name.to_owned(), text: text.to_owned() });
        found.extend(read_text(&mut library, &source));
    }
    finished(library, found)
}

/// Adds every `*.toml` of a folder to a library, in the order of their names.
///
/// # Errors
/// When the folder or a file can't be read, a file is no good table, or a row has a name that is already taken.
pub fn with_folder(mut library: Library, folder: &Path) -> Result<Library, Diagnostics> {
    let mut found = Vec::new();
    match table_files(folder) {
        Err(diagnostic) => found.push(diagnostic),
        Ok(files) => {
            for file in files {
                match read_file(&file) {
                    Ok(source) => found.extend(read_text(&mut library, &source)),
                    Err(diagnostic) => found.push(diagnostic),
                }
            }
        }
    }
    finished(library, found)
}

fn finished(library: Library, found: Vec<Diagnostic>) -> Result<Library, Diagnostics> {
    if found.is_empty() { Ok(library) } else { Err(Diagnostics(found)) }
}

/// The table files of a folder, in the order of their names.
fn table_files(folder: &Path) -> Result<Vec<PathBuf>, Diagnostic> {
    let shown = folder.display();
    let unreadable = |error: std::io::Error| {
        let why = match error.kind() {
            ErrorKind::NotFound => format!("there is no folder {shown}"),
            ErrorKind::NotADirectory => format!("{shown} is a file, not a folder"),
            kind => format!("can't read the table folder {shown}: {kind}"),
        };
        Diagnostic::error("folder-unreadable", why)
            .help("give the folder that your table files (*.toml) are in")
    };
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).map_err(unreadable)? {
        let path = entry.map_err(unreadable)?.path();
        if path.extension().is_some_and(|e| e == "toml") {
            files.push(path);
        }
    }
    if files.is_empty() {
        let error = Diagnostic::error(
            "folder-empty",
            format!("the table folder {shown} has no file that ends in .toml"),
        );
        return Err(error);
    }
    files.sort();
    Ok(files)
}

/// Reads a table file whole.
fn read_file(path: &Path) -> Result<Arc<SourceText>, Diagnostic> {
    let name = path.display().to_string();
    let unreadable = |error: std::io::Error| {
        Diagnostic::error("file-unreadable", format!("can't read {name}: {}", error.kind()))
    };
    let mut bytes = Vec::new();
    // One byte more than is allowed tells a file that is too large without reading all of it.
    let file = File::open(path).map_err(unreadable)?;
    file.take(LARGEST_FILE + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    if bytes.len() as u64 > LARGEST_FILE {
        let message =
            format!("{name} is larger than {} KiB, too large for a material table", LARGEST_FILE / 1024);
        return Err(Diagnostic::error("file-too-large", message));
    }
    match String::from_utf8(bytes) {
        Ok(text) => Ok(Arc::new(SourceText { name, text })),
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let text = String::from_utf8_lossy(error.as_bytes()).into_owned();
            let end = at + char::REPLACEMENT_CHARACTER.len_utf8();
            let source = Arc::new(SourceText { name, text });
            Err(Diagnostic::error("not-utf8", "the file is not UTF-8 text from here on")
                .at(&source, at..end)
                .help("save it as UTF-8 in your editor"))
        }
    }
}

/// Reads a table text and adds its rows to the library; returns what is wrong with it, in the order of the text.
fn read_text(library: &mut Library, source: &Arc<SourceText>) -> Vec<Diagnostic> {
    let (document, errors) = DeTable::parse_recoverable(&source.text);
    if !errors.is_empty() {
        return errors
            .iter()
            .map(|e| {
                let said = match e.message() {
                    said if said.contains("recurs") => "brackets are nested too deeply",
                    said => said,
                };
                let error = Diagnostic::error("bad-toml", format!("this is not valid TOML: {said}"));
                match e.span() {
                    Some(span) => error.at(source, span),
                    None => error.at(source, 0..0),
                }
            })
            .collect();
    }
    let mut reader = Reader::new(source);
    // Good rows of a bad file are added too: a later file that takes one of their names is then told so.
    let mut target = Target { library, table: &source.name };
    let mut file = reader.file(document.get_ref());
    reader.sources(&mut file);
    metals::read(&mut reader, &mut file, &mut target);
    wires::read(&mut reader, &mut file, &mut target);
    round::read(&mut reader, &mut file, &mut target);
    woods::read(&mut reader, &mut file, &mut target);
    shop::read(&mut reader, &mut file, &mut target);
    reader.finish(&file);
    let mut found = reader.found;
    found.sort_by_key(|d| d.location.as_ref().map(|l| l.span.start));
    found
}

/// Where rows go.
struct Target<'t> {
    library: &'t mut Library,
    table: &'t str,
}

/// A row's names with their places.
struct Names {
    name: String,
    aliases: Vec<String>,
    places: Vec<(String, Range<usize>)>,
}

/// Reads a row's `name` and, where rows of its kind have them, its `aliases`.
fn names<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>, with_aliases: bool) -> Option<Names> {
    let name = reader.required_text(row, "name");
    let aliases = if with_aliases { reader.texts(row, "aliases") } else { Vec::new() };
    let name = name?.to_owned();
    let mut places = vec![(name.clone(), row.place("name"))];
    for (alias, place) in &aliases {
        if places.iter().any(|(known, _)| known == alias) {
            let error = Diagnostic::error("name-twice", format!("the row has the name `{alias}` twice"));
            reader.refuse(place.clone(), error);
        }
        places.push((alias.clone(), place.clone()));
    }
    for (word, place) in &places {
        if word.chars().count() > LONGEST_NAME {
            let message = format!("a name may have {LONGEST_NAME} characters at most");
            reader.refuse(place.clone(), Diagnostic::error("name-too-long", message));
        }
        if word == "unknown" {
            let error = Diagnostic::error("name-reserved", "`unknown` can't be a row's name")
                .help("in a project file the word stands for material of unknown grade");
            reader.refuse(place.clone(), error);
        }
    }
    Some(Names { name, aliases: aliases.into_iter().map(|(alias, _)| alias).collect(), places })
}

/// Adds a row, or reports at its place the name that is taken.
fn add<R: TableRow + 'static>(
    reader: &mut Reader<'_>,
    target: &mut Target<'_>,
    places: &[(String, Range<usize>)],
    row: R,
) {
    let Err(taken) = target.library.add(row, target.table) else { return };
    let place = places.iter().find(|(name, _)| *name == taken.name).map(|(_, place)| place.clone());
    let help = match &taken.table {
        Some(table) => format!("it belongs to a row of {table}; give this row another name"),
        None => "give this row another name".to_owned(),
    };
    let error =
        Diagnostic::error("name-taken", format!("the {} name `{}` is already taken", taken.what, taken.name));
    reader.refuse(place.unwrap_or(0..0), error.help(help));
}
