//! What a drop report says in sentences: the verdict, the test for the shop, what earlier tests say, what was left out.

use super::drop_view::{
    Fate, cause_words, drop_at, either, factor, fate, gear_named, happenings, height, is_strength_known,
    speed, speed_after, spread_words, travel, word_for,
};
use super::figure::{UnitChoice, decimal, figure, fixed};
use super::remarks::cautions;
use crate::material::Library;
use crate::model::{Gear, PlateMetal, Position, Project};
use crate::results::{
    Drop, DropOutcome, DropPlan, DropReading, DropReport, DropTable, DropVerdict, LandingDrop, MarkKind,
    Verdict,
};
use crate::units::{Length, Velocity};

/// The verdict, a few sentences for each gear.
#[must_use]
pub(super) fn drop_verdict(
    project: &Project,
    library: &Library,
    report: &DropReport,
    units: &UnitChoice,
) -> Vec<String> {
    let mut lines = Vec::new();
    for (gear, table) in project.gears.iter().zip(&report.tables) {
        let known = is_strength_known(project, &gear.name);
        if let Some(v) = report.verdicts.iter().find(|v| v.gear == gear.name) {
            lines.push(format!("Gear {}: {}", gear.name, decided(v, table, units)));
        }
        let landing = report.landing.iter().find(|l| l.gear == gear.name);
        lines.extend(landing.and_then(|l| landing_words(project, library, gear, l, known, units)));
        lines.push(limits(gear, table, known, units));
        lines.extend(compared(library, gear, table, known, units));
        lines.push(published(gear, table, report.published, known, units));
    }
    lines
}

fn decided(v: &DropVerdict, table: &DropTable, units: &UnitChoice) -> String {
    let from = v.height.map_or_else(String::new, |h| format!(" from {}", height(units, h)));
    let collapses = v.height.is_some_and(|h| table.survives.collapses && h > table.survives.height);
    match &v.verdict {
        Verdict::Holds => format!(
            "takes up the drop{from}, and nothing stays bent, stretched or broken, as far as this estimate goes."
        ),
        Verdict::Fails if v.height.is_none() => {
            "does not hold: it collapses before it makes the load factor that is stated.".to_owned()
        }
        Verdict::Fails if collapses => format!("does not hold: it collapses in the drop{from}."),
        Verdict::Fails => format!(
            "does not hold: after the drop{from} something is bent, stretched or broken, or has touched the ground."
        ),
        Verdict::Untold(why) => format!("the drop{from} can't be told: {why}."),
    }
}

/// What an outcome is, after the height: "passes on 3.50 g, the track grows by 40.1 mm; nothing stays bent".
fn outcome_words(gear: &Gear, o: &DropOutcome, known: bool, units: &UnitChoice) -> String {
    let (grows, stays) = spread_words(gear);
    let done = happenings(&o.marks, &|k| k != MarkKind::WireTaut);
    let events = if done.is_empty() { String::new() } else { format!("; {}", done.join(", ")) };
    let left = match (known, o.leaves_no_mark()) {
        (false, _) => "; what stays bent can't be told".to_owned(),
        (true, true) => "; nothing stays bent".to_owned(),
        (true, false) => format!(
            "; {stays} {}, a leg bent by {}",
            travel(units, o.set_spread),
            fixed(o.set_angle, units.angle, 1)
        ),
    };
    format!(
        "it passes on {} g and {grows} {}{events}{left}",
        factor(o.inertia_load_factor),
        travel(units, o.spread)
    )
}

fn fall_words(library: &Library, d: &Drop, units: &UnitChoice) -> String {
    let word = word_for(library, d.sink_rate).map_or_else(String::new, |w| format!(", {w}"));
    format!("{} ({}{word})", height(units, d.height), speed(units, d.sink_rate))
}

/// The landing of the file as a drop.
fn landing_words(
    project: &Project,
    library: &Library,
    gear: &Gear,
    landing: &LandingDrop,
    known: bool,
    units: &UnitChoice,
) -> Option<String> {
    let d = landing.drop.as_ref()?;
    let fall = fall_words(library, d, units);
    let rest = match &d.outcome {
        Some(o) => outcome_words(gear, o, known, units),
        None if d.beyond => {
            "that is beyond what the gear was followed to; it would pass on very many g".to_owned()
        }
        None => "it collapses".to_owned(),
    };
    Some(if landing.given {
        format!("Your landing is a drop from {fall}: {rest}.")
    } else {
        let stated = project.readings.iter().find(|r| r.key == "landing.load_factor");
        let stated = stated.map_or_else(
            || d.outcome.as_ref().map_or_else(String::new, |o| factor(o.inertia_load_factor)),
            |r| r.written.clone(),
        );
        format!("The load factor of {stated} is what a drop from {fall} makes of this gear: {rest}.")
    })
}

/// From what height it stays bent and when it lets go.
fn limits(gear: &Gear, table: &DropTable, known: bool, units: &UnitChoice) -> String {
    let at = |h: Length| format!("{} ({})", height(units, h), speed(units, speed_after(h)));
    let bent = match table.highest_without_set {
        Some(h) => format!("stays bent from a drop of {} up", at(h)),
        None if known => "no drop that was tried leaves it bent".to_owned(),
        None => "from what height it stays bent can't be told, as the yield strength is not known".to_owned(),
    };
    let end = match (table.survives.collapses, table.limit.cause) {
        (true, cause) => format!(
            "it collapses in a drop of {}{}",
            at(table.survives.height),
            cause.map_or_else(String::new, |c| format!(", because {}", cause_words(c)))
        ),
        (false, _) => format!("it was followed to a drop of {} and held that far", at(table.survives.height)),
    };
    let elastic = if known { "" } else { " if the metal stays elastic" };
    format!("Gear {}: {bent}; {end}{elastic}.", gear.name)
}

/// What the pilot's words do to it.
fn compared(
    library: &Library,
    gear: &Gear,
    table: &DropTable,
    known: bool,
    units: &UnitChoice,
) -> Option<String> {
    let mut bent: Vec<String> = Vec::new();
    let mut groups: Vec<(Fate, Vec<&str>)> = Vec::new();
    for a in &library.arrivals {
        let (_, fastest) = a.sink_rate.value;
        let fate = fate(table, known, fastest);
        let left = drop_at(table, fastest).and_then(|d| d.outcome.as_ref()).filter(|_| fate == Fate::Bent);
        bent.extend(left.map(|o| format!("{} {}", a.name, travel(units, o.set_spread))));
        match groups.iter_mut().find(|(f, _)| *f == fate) {
            Some((_, names)) => names.push(&a.name),
            None => groups.push((fate, vec![&a.name])),
        }
    }
    let said: Vec<String> =
        groups.into_iter().map(|(fate, names)| format!("{} {}", either(&names), does(fate))).collect();
    let (_, stays) = spread_words(gear);
    let set = if bent.is_empty() { String::new() } else { format!(" ({stays}: {})", bent.join(", ")) };
    (!said.is_empty()).then(|| {
        format!(
            "In a pilot's words, each at its hardest, an arrival on gear {} that is {}{set}.",
            gear.name,
            said.join("; ")
        )
    })
}

fn published(
    gear: &Gear,
    table: &DropTable,
    (drop, sink_rate): (Length, Velocity),
    known: bool,
    units: &UnitChoice,
) -> String {
    let fate = fate(table, known, speed_after(drop));
    // Most times the table has that drop, and so its figures.
    let outcome = drop_at(table, speed_after(drop)).and_then(|d| d.outcome.as_ref());
    let said = match outcome {
        Some(o) if fate != Fate::Collapsed => format!(": {}", outcome_words(gear, o, known, units)),
        _ => format!(" {}", does(fate)),
    };
    format!(
        "Gear {}: for information, the least drop of the published rules, {} or {} (written for aircraft that carry people, hard \
         for a model){said}.",
        gear.name,
        height(units, drop),
        speed(units, sink_rate),
    )
}

const fn does(fate: Fate) -> &'static str {
    match fate {
        Fate::Straight => "leaves nothing bent",
        Fate::Bent => "leaves it bent",
        Fate::Collapsed => "makes it collapse",
        Fate::Untold => "is taken up if the metal stays elastic",
        Fate::Beyond => "is beyond what was followed",
    }
}

/// The formula of the g with the numbers of one drop, for a pocket calculator.
#[must_use]
pub(super) fn where_g_comes_from(d: &Drop, units: &UnitChoice) -> Option<Vec<String>> {
    let o = d.outcome.as_ref()?;
    if o.deflection <= Length::default() {
        return None;
    }
    let fallen = d.height + (1.0 - d.wing_lift) * o.deflection;
    let fullness = f64::from(fallen / o.deflection) / o.ground_reaction_factor;
    let four = |l: Length| figure(l, units.length, 4);
    Some(vec![
        format!(
            "From {}: h = {}, L = {} (wing lift), d = {} (travel of the centre of gravity, tyre and gear), e = {} (how full the \
             curve is: work over largest force times travel).",
            height(units, d.height),
            four(d.height),
            decimal(d.wing_lift, 4),
            four(o.deflection),
            decimal(fullness, 4)
        ),
        format!(
            "n_g = [h + (1 − L) d] / (e d) = [{} + {} × {}] / ({} × {}) = {}; n = n_g + L = {}.",
            four(d.height),
            decimal(1.0 - d.wing_lift, 4),
            four(o.deflection),
            decimal(fullness, 4),
            four(o.deflection),
            decimal(o.ground_reaction_factor, 3),
            decimal(o.inertia_load_factor, 3)
        ),
    ])
}

/// What to do before the first drop, whatever the gear.
#[must_use]
pub(super) fn drop_cautions(project: &Project, units: &UnitChoice) -> Vec<String> {
    let mut all = test_cautions(project, units);
    all.extend(cautions(project));
    all
}

/// Dangers of a drop test.
#[must_use]
pub(super) fn test_cautions(project: &Project, units: &UnitChoice) -> Vec<String> {
    let first = height(units, Length::new::<uom::si::length::millimeter>(50.0));
    let mut all = vec![
        "Propeller off or motor disconnected, battery out. People clear, hands clear, eye protection: a bent leg stores \
         energy, and a wire or wood may fly."
            .to_owned(),
        format!(
            "Begin at {first} or lower, whatever the first step says, and at no height from which it may collapse. Hang it level by one cord, let go by cutting or slipping \
             the cord, not by hand from below."
        ),
        "Stop at the first crack, at the first white line in the glue, when a bolt or nut has moved, or when a reading lies \
         outside its band."
            .to_owned(),
    ];
    if project.gears.iter().any(|g| g.plate.metal == PlateMetal::Unknown) {
        all.push(
            "This metal is untested: it may stay bent, or snap, earlier than anything here says. Try an offcut first, and \
             stop at the first set."
                .to_owned(),
        );
    }
    all.push(
        "A drop test that went well shows what this gear did in that drop, nothing more. Local rules and inspection have the \
         last word."
            .to_owned(),
    );
    all
}

/// How to carry the test out and read it.
#[must_use]
pub(super) fn plan_steps(gear: &Gear, plan: &DropPlan, known: bool, units: &UnitChoice) -> Vec<String> {
    let mass = |m| figure(m, units.mass, 3);
    let pair = gear.wheels().len() > 1;
    let measured =
        if pair { "the track, middle to middle of the wheels" } else { "how far the wheel stands sideways" };
    let mut all = vec![
        format!(
            "Load the fuselage, or a board with the gear bolted to it as in the aircraft, with ballast over the gear until a scale \
             under {} shows the mass of the step. In the aircraft {} rests on this gear. The wing does not carry in the shop, so a \
             lighter mass stands for it: m [h + (1 − L) d] / (h + d), the effective weight of 14 CFR 23.725(b), with L = {}.",
            if pair { "its wheels" } else { "its wheel" },
            mass(plan.mass),
            decimal(plan.wing_lift, 3)
        ),
        format!(
            "Drop on a hard flat floor, wheels on greased sheet or free to roll sideways: friction holds the legs together and \
             makes the readings small. Measure {measured}, before and after each drop, unloaded; at the worst moment by a \
             slow-motion film against a rule, or a crayon on the tyres that marks the floor."
        ),
        format!(
            "The bands are what a sheet {} % thinner or thicker does; a rule's error comes on top. A reading beyond its band says \
             that the metal, the sheet or the mount is not what the file says: stop, write it into [[drop_test]] and run this \
             again.",
            decimal(100.0 * plan.thickness_band, 0)
        ),
    ];
    if !known {
        all.push(
            "What stays bent can't be foretold without the yield strength: the first drop that leaves a set tells it. Write its \
             set into [[drop_test]]."
                .to_owned(),
        );
    }
    all.extend(plan.steps.iter().find(|s| s.spread.is_none()).map(|s| {
        format!(
            "Don't go on to {}: the gear, or one of a thinner sheet, is expected to collapse there.",
            height(units, s.height)
        )
    }));
    all
}

/// What one drop test of the file says.
#[must_use]
pub(super) fn reading_words(r: &DropReading, gear: &Gear, known: bool, units: &UnitChoice) -> Vec<String> {
    let (grows, stays) = spread_words(gear);
    let error = travel(units, r.error);
    let expected = r.expected.outcome.as_ref();
    let mut all = Vec::new();
    if r.expected.collapses() {
        all.push("As the file has it, the gear should have collapsed in that drop.".to_owned());
    }
    if let Some(spread) = r.spread {
        let should = expected.map_or_else(|| "none".to_owned(), |o| travel(units, o.spread));
        let says = match r.stiffness {
            Some((a, b)) if a <= 1.0 && b >= 1.0 => format!(
                "that fits the file: the legs' metal is {} to {} times as stiff as it says",
                decimal(a, 2),
                decimal(b, 2)
            ),
            Some((a, b)) => format!(
                "the legs behave {} to {} times as stiff as the file has them. A metal's modulus is seldom off by so much: look \
                 at the thickness, at the mount and at friction under the wheels first",
                decimal(a, 2),
                decimal(b, 2)
            ),
            None => "no stiffness within reason makes that of it, so nothing is concluded".to_owned(),
        };
        all.push(format!(
            "Measured: {grows} {} ± {error}; expected {should}; {says}.",
            travel(units, spread)
        ));
    }
    if let Some(set) = r.set {
        let should = match expected {
            Some(o) if known => format!("expected {}", travel(units, o.set_spread)),
            _ => "expected none".to_owned(),
        };
        let stress = |s| units.figure(s, 3);
        let says = match r.yield_strength {
            Some((least, Some(most))) => {
                format!("the metal yields between {} and {}", stress(least), stress(most))
            }
            Some((least, None)) => format!(
                "it sprang back as far as could be measured: the metal yields at {} or more, and how much more this drop does \
                 not tell",
                stress(least)
            ),
            None => "no yield strength within reason leaves that, so nothing is concluded".to_owned(),
        };
        all.push(format!("Measured: {stays} {} ± {error}; {should}; {says}.", travel(units, set)));
    }
    if r.again.is_some() {
        let takes = match (r.stiffness, r.yield_strength) {
            (Some(_), Some(_)) => "the middle of that stiffness and the lower yield strength",
            (Some(_), None) => "the middle of that stiffness",
            _ => "the lower yield strength",
        };
        all.push(format!("The drops once more, with {takes}:"));
    }
    all
}

/// What the drops leave out and take for granted, once for all gears.
#[must_use]
pub(super) fn drop_remarks(project: &Project, report: &DropReport, units: &UnitChoice) -> Vec<String> {
    let mut all = vec![
        "Level drops, straight down, no drag; the wing carries its share all the while. Nothing is damped: tyre, joints and \
         wood take energy that is not counted, so real rebounds are lower and the g mostly too."
            .to_owned(),
        "Wheels slide apart freely here. On a floor that grips they scrub: the gear spreads less, feels stiffer and gives \
         more g."
            .to_owned(),
    ];
    for gear in &project.gears {
        let name = &gear.name;
        all.push(match gear.mount {
            Some(_) => format!(
                "Gear {name}: its mount gives as the file describes it, and holds: what bolts, nuts and wood bear is for `gearleg \
                 check` to say."
            ),
            None => format!(
                "Gear {name}: the mount is taken as rigid, the legs clamped at the bends. One that gives makes the drop softer, and \
                 may be what tears out."
            ),
        });
        all.push(match gear.wheel.tyre_stiffness {
            Some(k) => format!(
                "Gear {name}: the tyre is a spring of {} that never bottoms; one that bottoms gives more g.",
                units.figure(k, 3)
            ),
            None => format!(
                "Gear {name}: no `tyre_stiffness` is given, so the tyre is rigid. That is on the safe side for the g and for what \
                 stays bent."
            ),
        });
        match gear.position {
            Position::Main => {}
            Position::Nose | Position::Tail => all.push(format!(
                "Gear {name}: dropped with the mass that rests on it when the aircraft stands, not with what a three-point or \
                 nose-first arrival puts on it. Its g are those of that mass, not of the whole aircraft."
            )),
        }
        if !is_strength_known(project, name) {
            all.push(format!(
                "Gear {name}: the yield strength is not known, so it is followed as if the metal never yielded. A metal that \
                 yields gives less g, stays bent and may fold; the heights here say nothing of that."
            ));
        }
    }
    if report.landing.iter().any(|l| !l.given)
        && let Some(outcome) = report.landing.iter().find_map(|l| l.drop.as_ref())
        && speed_after(outcome.height) < report.published.1
    {
        all.push(format!(
            "The drop that the stated load factor amounts to is milder than the published {}: a load factor says nothing of how \
             hard you land until you know the drop behind it.",
            speed(units, report.published.1)
        ));
    }
    all
}

/// The gear of a table, for its words.
pub(super) fn gear_of<'p>(project: &'p Project, name: &str) -> Option<(&'p Gear, bool)> {
    gear_named(project, name).map(|g| (g, is_strength_known(project, name)))
}
