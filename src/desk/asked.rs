//! What the gears of a file ask of a sheet that their legs are, or may be, of.

use crate::analysis::{CheckError, check_watched};
use crate::material::Library;
use crate::model::{Gear, PlateMetal, Project};
use crate::results::{Asked, AskedIn, RequiredYield, SheetGrade};

/// Whether the legs of a gear are of a sheet (`Some(true)`), may be of it (`Some(false)`), or are of something else.
///
/// Where one sheet was tested and nobody knows what a plate is of, it may be that sheet.
fn of_sheet(gear: &Gear, sheet: &str, sheets: usize) -> Option<bool> {
    match &gear.plate.metal {
        PlateMetal::Known(metal) => (metal.is_graded() && metal.name == sheet).then_some(true),
        PlateMetal::Unknown => (sheets == 1).then_some(false),
    }
}

/// Notes in each sheet what the gears of a project ask of it: a whole check of the project, where any gear asks something.
///
/// `progress` is told how many of all parts are done.
///
/// # Errors
/// As [`crate::analysis::check`].
pub fn asked(
    project: &Project,
    library: &Library,
    sheets: &mut [SheetGrade],
    progress: &dyn Fn(usize, usize),
) -> Result<(), CheckError> {
    let all = sheets.len();
    let asks = |gear: &Gear| sheets.iter().any(|s| of_sheet(gear, &s.sheet, all).is_some());
    if !project.gears.iter().any(asks) {
        return Ok(());
    }
    let result = check_watched(project, library, progress)?;
    for sheet in sheets {
        for gear in &project.gears {
            let Some(told) = of_sheet(gear, &sheet.sheet, all) else { continue };
            let Some((hardest, published)) = result.hardest(&gear.name) else { continue };
            let of = |most: &RequiredYield| AskedIn {
                case: most.case.clone(),
                yield_strength: most.yield_strength,
                chance: sheet.chance_above(most.yield_strength),
            };
            let asked = Asked {
                gear: gear.name.clone(),
                told,
                hardest: of(hardest),
                published: published.map(of),
                offcut: result.bench_tests.iter().find(|test| test.gear == gear.name).cloned(),
            };
            sheet.asked.push(asked);
        }
    }
    Ok(())
}
