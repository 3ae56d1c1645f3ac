//! `gearleg check`.

use super::args::{Check, Format};
use super::failure::{FAILS, Failure, HOLDS, warn};
use super::new::typed;
use super::output::{Sink, not_into_itself};
use super::progress::{Progress, draft};
use super::tables::library;
use gearleg::analysis::{self, CheckError};
use gearleg::diagnostic::Diagnostic;
use gearleg::report::{
    Detail, check_json, check_text, first_sizes_json, first_sizes_text, spread_json, spread_text,
};
use gearleg::results::Verdict;
use gearleg::search::spread::{Request, spread};
use std::path::Path;

/// Checks a project file.
pub(super) fn run(check: &Check, tables: Option<&Path>) -> Result<u8, Failure> {
    not_into_itself(&check.file, &check.output)?;
    let sink = Sink::open(&check.output)?;
    let library = library(tables)?;
    let draft = draft(&check.file, &library).map_err(Failure::Input)?;
    let (project, doubts) = draft.read_file(&library).map_err(Failure::Input)?;
    warn(&doubts);
    let watched = {
        let progress = Progress::begin();
        analysis::check_watched(&project, &library, &|done, all| progress.tell(done, all))
    };
    let result = watched.map_err(|error| match error {
        CheckError::NoCase => {
            let refused = Diagnostic::error(
                "no-case",
                format!("{}: none of the landings asked for loads any gear of the file", typed(&check.file)),
            );
            Failure::input(refused.help("leave `cases` out to check every landing that applies"))
        }
        CheckError::Analysis(fault) => Failure::Internal(fault.to_string()),
    })?;
    let sizes = if check.size_first {
        let progress = Progress::begin();
        let found = analysis::first_sizes(&project, &library, &|done, all| progress.tell(done, all));
        Some(found.map_err(|fault| Failure::Internal(fault.to_string()))?)
    } else {
        None
    };
    let spread = check.spread.then(|| {
        let progress = Progress::begin();
        let request = Request {
            samples: usize::try_from(check.samples).unwrap_or(usize::MAX),
            seed: check.seed,
            only_written: check.only_written,
            threads: None,
        };
        spread(&draft, &project, &library, &request, &|done, all| progress.tell(done, all))
    });
    let text = match check.output.format {
        Format::Text => {
            let detail = Detail { every_case: check.every_case, explain: check.explain };
            let sizes = sizes.map_or_else(String::new, |s| first_sizes_text(&project, &s));
            let spread = spread.map_or_else(String::new, |s| spread_text(&s, check.explain));
            check_text(&project, &result, detail) + &sizes + &spread
        }
        Format::Json => {
            let mut value = check_json(&project, &result);
            if let Some(object) = value.as_object_mut() {
                object.extend(sizes.map(|s| ("give_first_sizes".into(), first_sizes_json(&s))));
                object.extend(spread.map(|s| ("spread".into(), spread_json(&s))));
            }
            format!("{value:#}\n")
        }
    };
    sink.write(&text)?;
    let holds = result.margins.iter().all(|m| m.verdict == Verdict::Holds);
    Ok(if holds { HOLDS } else { FAILS })
}
