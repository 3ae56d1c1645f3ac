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
        PlateMetal::Known(metal) => (metal.yield_scatter.is_some() && metal.name == sheet).then_some(true),
        PlateMetal::Unknown => (sheets == 1).then_some(false),
    }
}

/// Whether any gear asks something of the sheets that were tested.
#[must_use]
pub fn is_asked(project: &Project, sheets: &[SheetGrade]) -> bool {
    let asks = |gear: &Gear| sheets.iter().any(|s| of_sheet(gear, &s.sheet, sheets.len()).is_some());
    project.gears.iter().any(asks)
}

/// Notes in each sheet what the gears of a project ask of it: a whole check of the project.
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
    let result = check_watched(project, library, progress)?;
    let all = sheets.len();
    for sheet in sheets {
        for gear in &project.gears {
            let Some(told) = of_sheet(gear, &sheet.sheet, all) else { continue };
            let hardest = |of: &dyn Fn(&&RequiredYield) -> bool| {
                let own = result.required_yield.iter().filter(|r| r.gear == gear.name).filter(of);
                let most = own.reduce(|a, b| if b.yield_strength > a.yield_strength { b } else { a })?;
                let (case, yield_strength) = (most.case.clone(), most.yield_strength);
                Some(AskedIn { case, yield_strength, chance: sheet.chance_above(yield_strength) })
            };
            let Some(whole) = hardest(&|_| true) else { continue };
            let published =
                whole.case.is_common_practice().then(|| hardest(&|r| !r.case.is_common_practice()));
            let asked = Asked {
                gear: gear.name.clone(),
                told,
                hardest: whole,
                published: published.flatten(),
                offcut: result.bench_tests.iter().find(|test| test.gear == gear.name).cloned(),
            };
            sheet.asked.push(asked);
        }
    }
    Ok(())
}
