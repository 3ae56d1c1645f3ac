//! `gearleg grade`.

use super::args::{Format, Grade};
use super::failure::{FAILS, Failure, HOLDS, warn};
use super::new::typed;
use super::output::{Sink, not_into_itself};
use super::progress::{Progress, draft};
use super::tables::library;
use gearleg::analysis::CheckError;
use gearleg::desk::{self, follow_drops, grade};
use gearleg::diagnostic::Diagnostic;
use gearleg::report::figure::UnitChoice;
use gearleg::report::{grade_json, grade_text};
use std::path::Path;

/// Says what bench tests make of an unknown metal.
pub(super) fn run(asked: &Grade, tables: Option<&Path>) -> Result<u8, Failure> {
    not_into_itself(&asked.file, &asked.output)?;
    let sink = Sink::open(&asked.output)?;
    let library = library(tables)?;
    let draft = draft(&asked.file, &library).map_err(Failure::Input)?;
    let (bench, units, project) = if draft.is_bench_only() {
        let (bench, units, doubts) = draft.read_bench(&library).map_err(Failure::Input)?;
        warn(&doubts);
        (bench, units, None)
    } else {
        let (project, doubts) = draft.read_file(&library).map_err(Failure::Input)?;
        warn(&doubts);
        (project.bench.clone(), project.written_units.clone(), Some(project))
    };
    if bench.tests.is_empty() {
        let refused =
            Diagnostic::error("no-bench-test", format!("{}: the file has no bench test", typed(&asked.file)));
        return Err(Failure::input(
            refused
                .help("add a section [[bench_test]] with a kind, such as kind = \"bend-strip\", and what was read")
                .help("docs/examples/shop-sheet.toml has one of each common kind"),
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
