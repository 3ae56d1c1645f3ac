//! `gearleg drop`.

use super::args::{Drop, Format};
use super::failure::{FAILS, Failure, HOLDS, warn};
use super::list::{multiples, quantities};
use super::output::{Sink, not_into_itself};
use super::progress::{Progress, draft};
use super::tables::library;
use gearleg::analysis::{self, AnalysisError, CurveRequest, DropRequest};
use gearleg::diagnostic::Diagnostic;
use gearleg::report::{drop_json, drop_text};
use std::path::Path;

/// Drops the gears of a project file.
pub(super) fn run(drop: &Drop, tables: Option<&Path>) -> Result<u8, Failure> {
    not_into_itself(&drop.file, &drop.output)?;
    let mut request = request(drop)?;
    let sink = Sink::open(&drop.output)?;
    let library = library(tables)?;
    let draft = draft(&drop.file, &library).map_err(Failure::Input)?;
    let (project, doubts) = draft.read_file(&library).map_err(Failure::Input)?;
    warn(&doubts);
    let fault = |error: AnalysisError| Failure::Internal(error.to_string());
    if let Some(id) = &drop.case {
        let known = analysis::case_ids(&project, &library).map_err(fault)?;
        request.case = Some(known_case(id, &known)?);
    }
    let report = {
        let progress = Progress::begin();
        analysis::drop_report(&project, &library, &request, &|done, all| progress.tell(done, all))
            .map_err(fault)?
    };
    let text = match drop.output.format {
        Format::Text => drop_text(&project, &library, &report),
        Format::Json => format!("{:#}\n", drop_json(&project, &library, &report)),
    };
    sink.write(&text)?;
    Ok(if report.holds() { HOLDS } else { FAILS })
}

/// What the command line asks for, but for the case, which only the project file can tell.
fn request(drop: &Drop) -> Result<DropRequest, Failure> {
    let list = |option, text: &Option<String>| text.as_ref().map(|t| multiples(option, t)).transpose();
    let highest = analysis::highest();
    let heights = match (&drop.heights, &drop.sink_rates) {
        (Some(text), _) => Some(quantities("--heights", text, (highest, "3 m"), "50 mm,100 mm")?),
        (None, Some(text)) => {
            // The speed after the highest fall is 7.67 m/s.
            let fastest = analysis::speed_after(highest);
            let speeds = quantities("--sink-rates", text, (fastest, "7.67 m/s"), "0.8 m/s,1.6 m/s")?;
            Some(speeds.into_iter().map(analysis::height_for).collect())
        }
        (None, None) => None,
    };
    let curve = CurveRequest {
        multiples: list("--multiples", &drop.multiples)?,
        unload_from: list("--unload-from", &drop.unload_from)?.unwrap_or_default(),
        ..CurveRequest::default()
    };
    Ok(DropRequest { case: None, curve, heights })
}

/// Takes the id of a case that has a curve.
fn known_case(id: &str, known: &[String]) -> Result<String, Failure> {
    if let Some(found) = known.iter().find(|k| *k == id) {
        return Ok(found.clone());
    }
    let shown: String = id.chars().map(|c| if c.is_control() { '?' } else { c }).collect();
    let refused = Diagnostic::error(
        "unknown-case",
        format!("--case: no landing of this file that loads a wheel is called `{shown}`"),
    );
    let names = if known.is_empty() { "there is none".to_owned() } else { known.join(", ") };
    Err(Failure::input(refused.help(format!("write one of: {names}"))))
}
