//! From a path to a text.

use super::draft::Draft;
use crate::diagnostic::{Diagnostic, Diagnostics, SourceText};
use crate::material::Library;
use crate::model::Project;
use std::fs::File;
use std::io::{self, ErrorKind, Read};
use std::path::Path;
use std::sync::Arc;

/// Most bytes a project file may have. chosen: a hundred times a long one, and read in a blink.
pub(super) const MAX_BYTES: usize = 1_000_000;

/// Reads the project file at a path; the path `-` is the standard input.
///
/// Returns the project and the warnings about it.
///
/// # Errors
/// Everything wrong with the file, in its order; or the one reason why it can't be read at all.
pub fn load_project(path: &Path, library: &Library) -> Result<(Project, Vec<Diagnostic>), Diagnostics> {
    load_draft(path)?.read_file(library)
}

/// Reads the project file at a path as far as its keys; the path `-` is the standard input.
///
/// # Errors
/// When it can't be read at all, or is no project file as a whole.
pub fn load_draft(path: &Path) -> Result<Draft, Diagnostics> {
    let standard_input = path.as_os_str() == "-";
    let name = if standard_input { "standard input".to_owned() } else { path.display().to_string() };
    let bytes = if standard_input { limited(io::stdin().lock()) } else { open(path).and_then(limited) }
        .map_err(|error| one(unreadable(&name, &error)))?;
    if bytes.len() > MAX_BYTES {
        return Err(one(too_large(&name)));
    }
    let text = utf8(&name, bytes).map_err(one)?;
    Draft::new(Arc::new(SourceText { name, text }))
}

/// The refusal of a file that can't be a project.
pub(super) fn too_large(name: &str) -> Diagnostic {
    Diagnostic::error("too-large", format!("{name} is larger than 1 MB, and a project file has a few kB"))
        .help("perhaps another file was meant")
}

fn one(diagnostic: Diagnostic) -> Diagnostics {
    Diagnostics(vec![diagnostic])
}

fn open(path: &Path) -> io::Result<File> {
    // Opening a folder works on some systems and fails on reading with words that say little.
    if path.is_dir() {
        return Err(ErrorKind::IsADirectory.into());
    }
    File::open(path)
}

fn limited(source: impl Read) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    source.take(MAX_BYTES as u64 + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

fn unreadable(name: &str, error: &io::Error) -> Diagnostic {
    match error.kind() {
        ErrorKind::NotFound => Diagnostic::error("no-file", format!("there is no file {name}"))
            .help("check the name and the folder; `gearleg new FILE` writes a project file to start from"),
        ErrorKind::IsADirectory => Diagnostic::error("no-file", format!("{name} is a folder"))
            .help("give the project file in it, such as its .toml file"),
        ErrorKind::PermissionDenied => Diagnostic::error("no-file", format!("{name} may not be read"))
            .help("change the file's permissions, or copy it to a folder of your own"),
        kind => Diagnostic::error("no-file", format!("{name} can't be read: {kind}")),
    }
}

/// The bytes as text, or the place of the first that is none.
fn utf8(name: &str, bytes: Vec<u8>) -> Result<String, Diagnostic> {
    let error = match String::from_utf8(bytes) {
        Ok(text) => return Ok(text),
        Err(error) => error,
    };
    let at = error.utf8_error().valid_up_to();
    let bytes = error.as_bytes();
    let wide = bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]);
    let refused =
        Diagnostic::error("not-utf8", format!("{name} is not UTF-8 text: byte {} can't be read", at + 1));
    if wide {
        return Err(refused.help("it looks like UTF-16; save it as UTF-8 in your editor"));
    }
    let binary = bytes.contains(&0);
    // The text before the bad byte is as it was, so its place holds in the shown text too.
    let text = String::from_utf8_lossy(bytes).replace(['\u{fffd}', '\0'], "?");
    let source = Arc::new(SourceText { name: name.to_owned(), text });
    let refused = refused.at(&source, at..at + 1);
    Err(if binary {
        refused.help("it looks like no text at all: perhaps another file was meant")
    } else {
        refused
            .help("save the file as UTF-8 in your editor")
            .help("a degree sign or a superscript is the usual cause: deg and m^2 always work")
    })
}
