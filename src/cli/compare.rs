//! `gearleg compare`.

use super::args::{Compare, Format};
use super::failure::{FAILS, Failure, HOLDS, warn};
use super::new::typed;
use super::output::{Sink, not_into_itself};
use super::progress::{Progress, draft};
use super::tables::library;
use gearleg::diagnostic::{Diagnostic, Diagnostics};
use gearleg::input::project::Design;
use gearleg::material::Library;
use gearleg::model::Project;
use gearleg::report::{compare_json, compare_text};
use gearleg::search::{CompareError, compare};
use std::path::{Path, PathBuf};

/// Designs that are set side by side.
const FEWEST: usize = 2;
const MOST: usize = 8;

/// Sets designs side by side.
pub(super) fn run(asked: &Compare, tables: Option<&Path>) -> Result<u8, Failure> {
    for file in &asked.files {
        not_into_itself(file, &asked.output)?;
    }
    if asked.files.iter().filter(|f| f.as_os_str() == "-").count() > 1 {
        let refused = Diagnostic::error("command-line", "standard input can be read once only");
        return Err(Failure::input(refused.help("give the other designs as files")));
    }
    let sink = Sink::open(&asked.output)?;
    let library = library(tables)?;
    let files = read(&asked.files, &library)?;
    let designs = named(files);
    if !(FEWEST..=MOST).contains(&designs.len()) {
        return Err(Failure::input(wrong_number(designs.len(), asked.files.len())));
    }
    let compared = {
        let progress = Progress::begin();
        compare(designs, &library, &|done, all| progress.tell(done, all))
    };
    let compared = compared.map_err(|error| match error {
        CompareError::NoCase(name) => {
            let refused = Diagnostic::error(
                "no-case",
                format!("\"{name}\": none of the landings asked for loads any gear of it"),
            );
            Failure::input(refused.help("leave `cases` out to check every landing that applies"))
        }
        CompareError::Analysis { .. } | CompareError::NoArrival => Failure::Internal(error.to_string()),
    })?;
    let text = match asked.output.format {
        Format::Text => compare_text(&compared),
        Format::Json => format!("{:#}\n", compare_json(&compared)),
    };
    sink.write(&text)?;
    Ok(if compared.holds() { HOLDS } else { FAILS })
}

/// A file with the designs in it: itself first, then its variants.
struct Read<'a> {
    path: &'a Path,
    designs: Vec<Design>,
}

/// Reads every file, so that the mistakes of all of them come together.
fn read<'a>(files: &'a [PathBuf], library: &Library) -> Result<Vec<Read<'a>>, Failure> {
    let (mut found, mut doubts, mut wrong) = (Vec::new(), Vec::new(), Diagnostics::default());
    for path in files {
        match draft(path, library).and_then(|draft| draft.read_designs(library)) {
            Ok((designs, said)) => {
                doubts.extend(said);
                found.push(Read { path, designs });
            }
            Err(Diagnostics(errors)) => wrong.0.extend(errors),
        }
    }
    if !wrong.0.is_empty() {
        return Err(Failure::Input(wrong));
    }
    warn(&doubts);
    Ok(found)
}

fn wrong_number(designs: usize, files: usize) -> Diagnostic {
    let what = if designs == 1 { "1 design".to_owned() } else { format!("{designs} designs") };
    let named = if files == 1 { "1 file".to_owned() } else { format!("{files} files") };
    let refused = Diagnostic::error(
        "command-line",
        format!("{named} with {what} in all, and {FEWEST} to {MOST} can be compared"),
    );
    if designs < FEWEST {
        refused
            .help("name another file: gearleg compare FILE FILE")
            .help("or describe a variant in the file, under [variant.NAME]")
    } else {
        refused.help("leave some files or variants out")
    }
}

/// Gives every design a name of its own: the variant's, the aircraft's, or where those are the same, with the file's.
fn named(files: Vec<Read<'_>>) -> Vec<(String, Project)> {
    let short = |d: &Design| d.name.clone().unwrap_or_else(|| d.project.aircraft.name.clone());
    let all: Vec<String> = files.iter().flat_map(|f| f.designs.iter().map(short)).collect();
    let mut taken: Vec<String> = Vec::new();
    let mut named = Vec::new();
    for file in files {
        let name_of_file = || {
            let name = file.path.file_name().map_or(file.path, Path::new);
            if name.as_os_str() == "-" { "standard input".to_owned() } else { typed(name) }
        };
        for design in file.designs {
            let short = short(&design);
            let mut name = short.clone();
            if all.iter().filter(|n| **n == short).count() > 1 {
                name = match &design.name {
                    None => name_of_file(),
                    Some(variant) => format!("{variant} in {}", name_of_file()),
                };
            }
            // Files of one name in two folders, or one file twice.
            let bare = name.clone();
            let mut number = 2;
            while taken.contains(&name) {
                name = format!("{bare} ({number})");
                number += 1;
            }
            taken.push(name.clone());
            named.push((name, design.project));
        }
    }
    named
}
