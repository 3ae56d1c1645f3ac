//! What the result leaves out or takes for granted, what stands out, and the dangers to mind.

use super::bracing::bracing_remarks;
use super::figure::{UnitChoice, decimal, figure, fixed, list_and, percent, significant};
use super::mount_remarks::{mount_cautions, mount_remarks};
use super::theory::theory_remarks;
use crate::material::Basis;
use crate::model::{Arms, Gear, PlateMetal, Position, Project};
use crate::results::CheckResult;
use crate::units::{Length, Stress, Unit};

/// What was taken for granted or stands out, one sentence or two each.
#[must_use]
pub(super) fn remarks(project: &Project, result: &CheckResult) -> Vec<String> {
    let mut all = Vec::new();
    for gear in &project.gears {
        gear_remarks(gear, &mut all);
        if gear.plate.metal == PlateMetal::Unknown && result.bench_tests.iter().all(|t| t.gear != gear.name) {
            all.push(format!(
                "Gear {}: no strip of this sheet can be loaded by hand to what it needs; have the grade tested, or buy metal \
                 with a mill stamp.",
                gear.name
            ));
        }
        all.extend(family_remark(gear, result));
        theory_remarks(&gear.name, result, &mut all);
        bracing_remarks(gear, result, &mut all);
    }
    if project.aircraft.nose_share.is_none() && project.gears.iter().any(|g| g.position != Position::Main) {
        all.push(
            "The share of the weight on the nose or tail wheel is not given: the upper end of common practice is \
             taken (15 % nose, 10 % tail). Three kitchen scales under the wheels tell it."
                .to_owned(),
        );
    }
    let main_wheels: usize =
        project.gears.iter().filter(|g| g.position == Position::Main).map(|g| g.wheels().len()).sum();
    if main_wheels == 1 {
        all.push(
            "Only one main wheel is described, so it takes the whole main load. If there are two legs, describe both."
                .to_owned(),
        );
    }
    let mut elsewhere: Vec<&str> = Vec::new();
    elsewhere.extend(project.aircraft.wing_area.map(|_| "`wing_area`"));
    elsewhere.extend(project.gears.iter().any(|g| g.limits.clearance.is_some()).then_some("`clearance`"));
    elsewhere.extend((!project.drop_tests.is_empty()).then_some("`drop_test`"));
    if !elsewhere.is_empty() {
        all.push(format!("Used by `gearleg drop` and not here: {}.", elsewhere.join(", ")));
    }
    let weak: Vec<Basis> =
        Basis::ALL.into_iter().filter(|b| b.needs_a_word() && rests_on(result, *b)).collect();
    if !weak.is_empty() {
        let words: Vec<&str> = weak.iter().map(|b| b.words()).collect();
        all.push(format!(
            "Some margins rest on values that are not specification minima ({}); the table marks them.",
            words.join(", ")
        ));
    }
    all
}

fn rests_on(result: &CheckResult, basis: Basis) -> bool {
    result.margins.iter().any(|m| m.basis == Some(basis))
}

/// That nobody knows how stiff a tested sheet is, where that is so.
fn family_remark(gear: &Gear, result: &CheckResult) -> Option<String> {
    let PlateMetal::Known(metal) = &gear.plate.metal else { return None };
    let (_, family) = result.reckoned_as.iter().find(|(name, _)| *name == gear.name)?;
    let own = (metal.family, metal.modulus.value);
    let each: Vec<String> = std::iter::once(own)
        .chain(metal.may_be().iter().map(|of| (of.family, of.modulus)))
        .map(|(family, modulus)| format!("{} ({})", family.words(), figure(modulus, Unit::Gigapascal, 3)))
        .collect();
    Some(format!(
        "Gear {}: bench tests leave open whether its sheet is {}. Of every margin, and of the yield strength that is needed, the worst is \
         told; loads, movements and the order of giving are those of {}, which has the worst margin.",
        gear.name,
        each.join(" or "),
        family.words()
    ))
}

fn gear_remarks(gear: &Gear, all: &mut Vec<String>) {
    let name = &gear.name;
    if let Some(radius) = gear.plate.bend_radius {
        let more = gear.plate.section_at(0.0).curved_bar_factor(radius) - 1.0;
        all.push(format!(
            "Gear {name}: the leg is reckoned straight up to its bend. In a bend of that radius the stress at the inside is {} % \
             more than at the same place of a straight leg (curved bar), which the margins leave out.",
            decimal(100.0 * more, 0)
        ));
    }
    for brace in gear.braces.iter().filter(|b| b.wire.yield_fraction.is_none()) {
        all.push(format!(
            "Gear {name}: whether the {} wires stay stretched is not checked: their yield is not known.",
            brace.wire.name
        ));
    }
    mount_remarks(gear, all);
    if gear.plate.metal == PlateMetal::Unknown {
        all.push(format!(
            "Gear {name}: the unknown metal is taken to be as stiff as an aluminium alloy (70 GPa, for what wires \
             share 68.3 to 73 GPa). If a magnet sticks to it, it is not."
        ));
    }
    if let (PlateMetal::Known(metal), Some(_)) = (&gear.plate.metal, gear.plate.bend_radius) {
        let listed = metal.band(gear.plate.sheet_thickness()).is_some_and(|b| b.bend_radius_90.is_some());
        if !listed {
            all.push(format!(
                "Gear {name}: the bend is not checked for cracks: no least radius is known for {} in this thickness.",
                metal.name
            ));
        }
    }
    if gear.plate.metal == PlateMetal::Unknown && gear.plate.bend_radius.is_some() {
        all.push(format!(
            "Gear {name}: the bend is not checked for cracks, as nobody knows the grade. A soft sheet takes a radius of \
             its own thickness, a hard one may want four to eight; try an offcut first."
        ));
    }
    if matches!(gear.arms, Arms::Pair { .. }) && gear.plate.bend_radius.is_none() {
        all.push(format!("Gear {name}: no bend radius is given, so the bend is not checked for cracks."));
    }
}

/// Dangers to mind, always the same ones first.
#[must_use]
pub(super) fn cautions(project: &Project) -> Vec<String> {
    let mut all = Vec::new();
    let some = |is: &dyn Fn(&PlateMetal) -> bool| project.gears.iter().any(|g| is(&g.plate.metal));
    if some(&|metal| *metal == PlateMetal::Unknown) {
        all.push(
            "The metal's grade is unproven: nothing here holds until an offcut has been tested.".to_owned(),
        );
    }
    all.extend(tested(project));
    if some(&by_tests) {
        all.push(
            "The tested metal's grade is unproven still: its strength is the lower end of what bench tests of one piece leave \
             likely, and another piece may differ."
                .to_owned(),
        );
    }
    if some(&|metal| *metal != PlateMetal::Unknown && !by_tests(metal)) {
        all.push(
            "The metal's grade is what you or the seller say it is: unproven until an offcut has been tested."
                .to_owned(),
        );
    }
    all.extend(
        [
            "An estimate for unmanned aircraft and test pieces. It does not replace drawings, inspection, local rules or \
             a licensed engineer, and clears nothing to carry people or fly over them.",
            "Testing: propeller off or motor disconnected, people and hands clear, start low, stop at the first set or \
             the first white line in the glue. A bent leg stores energy: eye protection, stand aside.",
            "No torch, solder or oven on tempered metal; it goes soft. Don't fly a leg that was straightened more than \
             once or twice; look at the side in tension with a lens.",
            "Stainless wire or bolts against aluminium corrode it.",
            "Heavier models (in many countries from 7, 15, 20 or 25 kg) need registration, inspection or a permit: ask \
             your association or authority before building.",
        ]
        .map(str::to_owned),
    );
    all.extend(mount_cautions(project));
    all
}

const OTHER_SHEET: &str =
    "Another thickness is another sheet, and may be of another metal: test an offcut of that one too.";

/// What to mind about sheets that bench tests tell of.
fn tested(project: &Project) -> Vec<String> {
    let units = UnitChoice::from_written(project.written_units.iter().copied());
    let mut all: Vec<String> = Vec::new();
    for gear in &project.gears {
        let PlateMetal::Known(metal) = &gear.plate.metal else { continue };
        let (name, Some(tested)) = (&metal.name, &metal.tested) else { continue };
        let contradicted = (!tested.left_out.is_empty()).then(|| {
            format!(
                "Bench tests of the sheet {name} contradict each other. Until they are repeated those are believed that leave less strength, \
                 without {}; `gearleg grade` says more.",
                list_and(&tested.left_out)
            )
        });
        let unmeasured = (!tested.measured).then(|| {
            format!(
                "No test that is believed of the sheet {name} measures its strength: what is taken is that of the weaker of the metals it may \
                 be. Bend a strip."
            )
        });
        let plate = gear.plate.sheet_thickness();
        let other = tested.other_than(plate).map(|sheet| {
            format!(
                "Bench tests of the sheet {name} are of a piece of {}, and gear {}'s plate of it is {} thick. {OTHER_SHEET}",
                units.figure(sheet, 3),
                gear.name,
                units.figure(plate, 3)
            )
        });
        for words in [contradicted, unmeasured, other].into_iter().flatten() {
            if !all.contains(&words) {
                all.push(words);
            }
        }
    }
    all
}

/// Whether a plate's strength rests on shop tests, and not on what somebody said or wrote.
fn by_tests(metal: &PlateMetal) -> bool {
    matches!(metal, PlateMetal::Known(metal) if metal.is_graded() && metal.modulus.basis == Basis::BenchTest)
}

/// The same of sizes: most are of sheets that nobody has tested.
#[must_use]
pub(super) fn size_cautions(project: &Project) -> Vec<String> {
    let of_a_piece = |metal: &PlateMetal| match metal {
        PlateMetal::Known(metal) => {
            metal.tested.as_ref().is_some_and(|tested| !tested.thicknesses.is_empty())
        }
        PlateMetal::Unknown => false,
    };
    let other = project.gears.iter().any(|gear| of_a_piece(&gear.plate.metal));
    let other = other.then(|| format!("Bench tests are of one sheet, and most sizes are not. {OTHER_SHEET}"));
    other.into_iter().chain(cautions(project)).collect()
}

/// The strip test in the words of somebody who stands at the vice.
#[must_use]
pub(super) fn bench_steps(test: &crate::results::BenchTest, units: &UnitChoice) -> Vec<String> {
    // Sizes to cut and set are round numbers; errors are small.
    let places = if units.length == Unit::Inch { 2 } else { 0 };
    let size = |l: Length| fixed(l, units.length, places);
    let small = |l: Length| units.figure(l, 1);
    let stress = |s: Stress| units.figure(s, 3);
    let heap =
        if test.weighings > 1 { format!(" (weigh it in {} lots)", test.weighings) } else { String::new() };
    let wide = if test.gain_of_width < 0.005 {
        String::new()
    } else {
        format!(", {} as it is wide and can't curl across at the clamp", percent(test.gain_of_width))
    };
    vec![
        format!(
            "Saw a strip {} wide from the same sheet, {} thick, in the same direction as the leg (if your strip is not that \
             thick, this load is not for it). File its edges smooth and clamp it flat in a vice with {} sticking out to the \
             hook. Eye protection on.",
            size(test.width),
            units.figure(test.thickness, 3),
            size(test.reach)
        ),
        "Mark the height of its end on a board beside it.".to_owned(),
        format!(
            "Hang {}{heap} on the end; it goes down by about {}. Take it off again.",
            figure(test.load, units.mass, 3),
            size(test.deflection)
        ),
        format!(
            "If the end comes back to within {} of the mark, the metal yields no lower than {}, which is what \
             every landing asks as reckoned here. If it stays lower, the metal may be too soft: don't use it without a \
             better test.",
            small(test.set_limit),
            stress(test.yield_strength)
        ),
        format!(
            "Why so much: the bare sum 6 F l / (b t²) asks {}. Counted against you: caliper ± {}, rule ± {}, scale ± {} \
             each weighing, the end's sag{}, and a factor of {} for a set too small to see.",
            figure(test.load_without_errors, units.mass, 3),
            small(test.errors.caliper),
            small(test.errors.ruler),
            figure(test.errors.scale, Unit::Gram, 2),
            wide,
            significant(test.unseen_set_factor, 3)
        ),
    ]
}
