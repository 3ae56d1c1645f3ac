//! `gearleg size`.

use super::args::{Format, Size};
use super::failure::{FAILS, Failure, HOLDS, warn};
use super::new::typed;
use super::output::{Sink, not_into_itself};
use super::progress::{Progress, draft};
use super::tables::library;
use gearleg::diagnostic::Diagnostic;
use gearleg::report::{size_json, size_text};
use gearleg::search::{SizeError, size};
use std::path::Path;

/// Looks for sizes that hold.
pub(super) fn run(asked: &Size, tables: Option<&Path>) -> Result<u8, Failure> {
    not_into_itself(&asked.file, &asked.output)?;
    let sink = Sink::open(&asked.output)?;
    let library = library(tables)?;
    let draft = draft(&asked.file, &library).map_err(Failure::Input)?;
    let found = {
        let progress = Progress::begin();
        size(&draft, &library, !asked.no_card, &|done, all| progress.tell(done, all))
    };
    let (result, doubts) = found.map_err(|error| match error {
        SizeError::Input(wrong) => Failure::Input(wrong),
        SizeError::NoCase(gear) => {
            let refused = Diagnostic::error(
                "no-case",
                format!("{}: none of the landings asked for loads gear `{gear}`", typed(&asked.file)),
            );
            Failure::input(refused.help("leave `cases` out to check every landing that applies"))
        }
        SizeError::Analysis(fault) => Failure::Internal(fault.to_string()),
    })?;
    warn(&doubts);
    let text = match asked.output.format {
        Format::Text => size_text(&result),
        Format::Json => format!("{:#}\n", size_json(&result)),
    };
    sink.write(&text)?;
    Ok(if result.holds() { HOLDS } else { FAILS })
}
