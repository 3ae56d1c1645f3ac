//! `gearleg grade`.

use super::args::{Format, Grade};
use super::failure::{FAILS, Failure, HOLDS, warn};
use super::new::typed;
use super::output::{Sink, not_into_itself};
use super::progress::{Progress, draft};
use super::tables::library;
use gearleg::analysis::CheckError;
use gearleg::desk::{self, follow_drops, grade};
use gearleg::diagnostic::{Diagnostic, Severity};
use gearleg::input::project::{Draft, NO_STRENGTH};
use gearleg::material::{Library, System};
use gearleg::model::Project;
use gearleg::report::figure::UnitChoice;
use gearleg::report::{grade_json, grade_text};
use std::path::Path;

/// Says what bench tests make of an unknown metal.
pub(super) fn run(asked: &Grade, tables: Option<&Path>) -> Result<u8, Failure> {
    not_into_itself(&asked.file, &asked.output)?;
    let sink = Sink::open(&asked.output)?;
    let library = library(tables)?;
    let draft = draft(&asked.file, &library).map_err(Failure::Input)?;
    let project = if draft.is_bench_only() { None } else { whole(&draft, &library)? };
    let (bench, units) = match &project {
        Some(project) => (project.bench.clone(), project.written_units.clone()),
        None => {
            let (bench, units, doubts) = draft.read_bench(&library).map_err(Failure::Input)?;
            warn(&doubts);
            (bench, units)
        }
    };
    if bench.tests.is_empty() {
        let refused =
            Diagnostic::error("no-bench-test", format!("{}: the file has no bench test", typed(&asked.file)));
        return Err(Failure::input(
            refused
                .help("add a section [[bench_test]] with a kind, such as kind = \"bend-strip\", and what was read")
                .help("`gearleg new` writes a file that explains the keys of every kind"),
        ));
    }
    let progress = Progress::begin();
    let tell = |done, all| progress.tell(done, all);
    follow_drops(&bench.tests.iter().map(|t| &t.test).collect::<Vec<_>>(), &tell);
    let mut sheets = grade(&bench, &library);
    if let Some(project) = project {
        match desk::asked(&project, &library, &mut sheets, &tell) {
            // Without a landing nothing is asked.
            Ok(()) | Err(CheckError::NoCase) => {}
            Err(CheckError::Analysis(fault)) => return Err(Failure::Internal(fault.to_string())),
        }
    }
    drop(progress);
    let units = UnitChoice::from_written(units.into_iter());
    let text = match asked.output.format {
        Format::Text => grade_text(&sheets, &units),
        Format::Json => format!("{:#}\n", grade_json(&sheets, &units)),
    };
    sink.write(&text)?;
    let sound = sheets.iter().all(|s| s.contradictions.is_empty() && s.misfits.is_empty());
    Ok(if sound { HOLDS } else { FAILS })
}

/// The project of a file; `None` where it can't be had for now and the sheets can be told of all the same: sizes are left open, or a test
/// fits no metal.
fn whole(draft: &Draft, library: &Library) -> Result<Option<Project>, Failure> {
    let found = match draft.read_file(library) {
        Ok((project, doubts)) => {
            warn(&doubts);
            return Ok(Some(project));
        }
        Err(found) => found,
    };
    let open = draft.open_values(library, &System::ALL).unwrap_or_default();
    // What a list or a range of sizes is to a reader who needs one is no mistake here.
    let left_open = |d: &Diagnostic| {
        let at = d.location.as_ref().map(|place| &place.span);
        d.code == "left-open" || open.iter().any(|value| Some(&value.at.span) == at)
    };
    let errors = || found.0.iter().filter(|d| d.severity == Severity::Error);
    if !errors().all(|d| d.code == NO_STRENGTH || left_open(d)) {
        return Err(Failure::Input(found));
    }
    let why = if errors().any(left_open) { "the file leaves sizes open" } else { "a test fits no metal" };
    let left_out = format!("{why}, so what the gears ask of the sheet is left out");
    warn(&[Diagnostic::warning("left-out", left_out)]);
    Ok(None)
}
