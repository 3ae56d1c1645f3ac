//! `gearleg tables`, and the library that every command reads.

use super::args::{Format, Tables};
use super::failure::{Failure, HOLDS};
use super::output::Sink;
use gearleg::input::tables::{builtin, with_folder};
use gearleg::material::{Kind, Library};
use gearleg::report::{tables_json, tables_text};
use std::path::Path;

/// The built-in tables with the user's own.
pub(super) fn library(folder: Option<&Path>) -> Result<Library, Failure> {
    let library = builtin().map_err(|d| Failure::Internal(d.to_string()))?;
    match folder {
        None => Ok(library),
        Some(folder) => with_folder(library, folder).map_err(Failure::Input),
    }
}

/// Shows the tables.
pub(super) fn run(tables: &Tables, folder: Option<&Path>) -> Result<u8, Failure> {
    let sink = Sink::open(&tables.output)?;
    let library = library(folder)?;
    let kind = tables.kind.as_deref().and_then(Kind::from_word);
    let text = match tables.output.format {
        Format::Text => tables_text(&library, kind),
        Format::Json => format!("{:#}\n", tables_json(&library, kind)),
    };
    sink.write(&text)?;
    Ok(HOLDS)
}
