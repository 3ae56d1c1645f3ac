//! The report of `gearleg drop` for people: words first, then numbers, then why.

use super::drop_view::{
    cause_words, factor, happenings, happenings_in_table, height, height_number, is_strength_known, travel,
    travel_number, word_for,
};
use super::drop_words::{
    drop_remarks, drop_verdict, gear_of, plan_steps, reading_words, test_cautions, where_g_comes_from,
};
use super::figure::{UnitChoice, decimal, figure, fixed_number, number};
use super::layout::{bullet, heading, paragraph, table};
use super::remarks::cautions;
use super::view::title;
use crate::material::Library;
use crate::model::Project;
use crate::results::{Branch, CurvePoint, Drop, DropPlan, DropReport, DropTable, GearCurve, Mark, MarkKind};
use crate::units::{Dimension, Force, Length};

/// Points of a curve that are shown at most.
const POINTS_SHOWN: usize = 8;

/// Marks closer than this share of their multiple are told in one breath: both legs of a gear.
const TOGETHER: f64 = 1e-3;

/// Writes the report.
#[must_use]
pub fn drop_text(project: &Project, library: &Library, report: &DropReport) -> String {
    let units = UnitChoice::from_written(project.written_units.iter().copied());
    let mut out = String::new();
    out.push_str(&title(project, &units));

    heading(&mut out, "VERDICT");
    for line in drop_verdict(project, library, report, &units) {
        out.push_str(&bullet(&line));
    }
    heading(&mut out, "DROPS");
    out.push_str(&paragraph(
        "g is the inertia load factor at the centre of gravity; less the wing lift it is what the ground gives. Spread is what \
         the track grows by at the lowest point (of one wheel, its way sideways), set what of it stays; bent is the most that a leg \
         keeps; rebound is the bounce if nothing but yielding took energy.",
    ));
    for t in &report.tables {
        let known = is_strength_known(project, &t.gear);
        out.push_str(&paragraph(&format!("\nGear {}", t.gear)));
        out.push_str(&drops(library, report, t, known, &units));
    }
    g_follows(&mut out, report, &units);
    curves(&mut out, project, report, &units);
    plans(&mut out, project, report, &units);
    readings(&mut out, project, library, report, &units);
    heading(&mut out, "TAKEN FOR GRANTED, AND WHAT STANDS OUT");
    for line in drop_remarks(project, report, &units) {
        out.push_str(&bullet(&line));
    }
    heading(&mut out, "CAUTIONS");
    for line in cautions(project) {
        out.push_str(&bullet(&line));
    }
    out
}

/// A table of drops.
fn drops(library: &Library, report: &DropReport, t: &DropTable, known: bool, units: &UnitChoice) -> String {
    let head = |word: &str, dimension| format!("{word},\n{}", units.unit(dimension).symbol());
    let (fall, sink) = (head("height", Dimension::Length), head("sink", Dimension::Velocity));
    let (travel, spread) = (head("travel", Dimension::Length), head("spread", Dimension::Length));
    let (set, bent) = (head("set", Dimension::Length), head("bent", Dimension::Angle));
    let rebound = head("rebound", Dimension::Length);
    table(
        &[&fall, &sink, "g", &travel, &spread, &set, &bent, &rebound, "arrival", "what happens"],
        0..8,
        t.drops.iter().map(|d| drop_row(library, report, d, known, units)),
    )
}

fn drop_row(
    library: &Library,
    report: &DropReport,
    d: &Drop,
    known: bool,
    units: &UnitChoice,
) -> Vec<String> {
    let close = |h: Length| (f64::from(d.height / h) - 1.0).abs() < TOGETHER;
    let own = report.landing.iter().filter(|l| l.given && l.gear == d.gear);
    let mut words: Vec<&str> = word_for(library, d.sink_rate).into_iter().collect();
    if own.filter_map(|l| l.drop.as_ref()).any(|l| close(l.height)) {
        words.push("yours");
    }
    if close(report.published.0) {
        words.push("published");
    }
    let untold = || "?".to_owned();
    let (figures, happens) = match &d.outcome {
        None if d.beyond => (["-"; 6].map(str::to_owned), "over 60 g".to_owned()),
        None => (["-"; 6].map(str::to_owned), "COLLAPSES".to_owned()),
        Some(o) => (
            [
                factor(o.inertia_load_factor),
                travel_number(units, o.deflection),
                travel_number(units, o.spread),
                if known { travel_number(units, o.set_spread) } else { untold() },
                if known { fixed_number(o.set_angle, units.angle, 1) } else { untold() },
                if known { height_number(units, o.rebound_height) } else { untold() },
            ],
            happenings_in_table(&o.marks),
        ),
    };
    let mut row = vec![height_number(units, d.height), fixed_number(d.sink_rate, units.velocity, 2)];
    row.extend(figures);
    row.extend([words.join(", "), happens]);
    row
}

/// How the g follows from the gear, for one drop of each.
fn g_follows(out: &mut String, report: &DropReport, units: &UnitChoice) {
    heading(out, "WHERE THE g COMES FROM");
    out.push_str(&paragraph(
        "The gear must take up the energy of the fall within its travel d. A stiff gear travels little and gives many g; a soft \
         one needs room. A straight spring fills half of the rectangle force × travel (e = 0.5), one that yields more, one that \
         stiffens less. The rows of the table are points of the curve: the area below g − L over the travel, times the weight, is \
         the energy.",
    ));
    for t in &report.tables {
        let landing = report.landing.iter().find(|l| l.gear == t.gear).and_then(|l| l.drop.as_ref());
        let taken_up = |d: &&Drop| d.outcome.is_some();
        let shown = landing.filter(taken_up).or_else(|| t.drops.iter().rev().find(taken_up));
        if let Some(lines) = shown.and_then(|d| where_g_comes_from(d, units)) {
            for (i, line) in lines.iter().enumerate() {
                let name = if i == 0 { format!("Gear {}. ", t.gear) } else { String::new() };
                out.push_str(&bullet(&format!("{name}{line}")));
            }
        }
    }
}

fn curves(out: &mut String, project: &Project, report: &DropReport, units: &UnitChoice) {
    if report.curves.is_empty() {
        return;
    }
    heading(out, "AS THE LOADS OF EACH LANDING ARE RAISED, in multiples of its limit load");
    let one_case = report.curves.iter().all(|c| Some(&c.case) == report.curves.first().map(|f| &f.case));
    for c in &report.curves {
        out.push_str(&bullet(&format!("Gear {}, {}: {}.", c.gear, c.case.id(), story(c))));
        if c.absorbed > crate::units::Energy::default() {
            out.push_str(&super::layout::continued(&energy(c)));
        }
        let known = is_strength_known(project, &c.gear);
        for u in &c.unloadings {
            let what = if known {
                let wheels = u.wheels.iter().map(|w| {
                    format!("{} wheel {}", w.side, w.displacement.map(|l| travel_number(units, l)).join("/"))
                });
                let legs = u.bent.iter().map(|(side, angle)| {
                    format!("{side} leg {}", super::figure::fixed(*angle, units.angle, 1))
                });
                format!(
                    "set {} {} aft/starboard/up; bent: {}",
                    wheels.collect::<Vec<_>>().join(", "),
                    units.unit(Dimension::Length).symbol(),
                    legs.collect::<Vec<_>>().join(", ")
                )
            } else {
                "what stays can't be told without the yield strength".to_owned()
            };
            out.push_str(&super::layout::continued(&format!(
                "Unloaded from {}: {what}.",
                decimal(u.from_multiple, 2)
            )));
        }
        if one_case {
            out.push_str(&points(c, units));
        }
    }
    if !one_case {
        out.push_str(&paragraph(
            "--case ID shows the curve of one landing, --unload-from 1,1.5 what stays after it.",
        ));
    }
}

/// What happens on the way up, in order.
fn story(c: &GearCurve) -> String {
    let mut told: Vec<String> = Vec::new();
    let mut rest: &[Mark] = &c.marks;
    while let Some(first) = rest.first() {
        let together = rest.iter().take_while(|m| m.multiple <= first.multiple * (1.0 + TOGETHER)).count();
        let (now, later) = rest.split_at(together.max(1));
        let done = happenings(now, &|k| k != MarkKind::Collapse);
        if !done.is_empty() {
            told.push(format!("at {} {}", decimal(first.multiple, 2), done.join(" and ")));
        }
        rest = later;
    }
    told.push(match c.limit.cause {
        Some(cause) => {
            format!("no more than {} is held, because {}", decimal(c.limit.multiple, 2), cause_words(cause))
        }
        None => format!("{} is held, and no more was tried", decimal(c.limit.multiple, 2)),
    });
    told.join("; ")
}

fn energy(c: &GearCurve) -> String {
    let joules = |e: crate::units::Energy| super::figure::significant(e.value, 3);
    let top = c.points.iter().map(|p| p.multiple).fold(0.0, f64::max);
    format!(
        "Raised to {}, the gear has taken up {} J and gives {} J of it back.",
        decimal(top, 2),
        joules(c.absorbed),
        joules(c.returned)
    )
}

/// A few points of a curve.
fn points(c: &GearCurve, units: &UnitChoice) -> String {
    let up: Vec<&CurvePoint> = c.points.iter().filter(|p| p.branch == Branch::Loading).collect();
    let every = up.len().div_ceil(POINTS_SHOWN).max(1);
    // The last is always shown.
    let shown = up.iter().rev().step_by(every).rev();
    let sides: Vec<String> = up.first().map_or_else(Vec::new, |p| {
        let symbol = units.unit(Dimension::Length).symbol();
        p.wheels.iter().map(|w| format!("{} wheel,\n{symbol}", w.side)).collect()
    });
    let stress = format!("stress,\n{}", units.unit(Dimension::Stress).symbol());
    let pull = format!("wires,\n{}", units.unit(Dimension::Force).symbol());
    let mut header: Vec<&str> = vec!["multiple"];
    header.extend(sides.iter().map(String::as_str));
    header.push(&stress);
    let wired = up.iter().any(|p| !p.wires.is_empty());
    if wired {
        header.push(&pull);
    }
    let columns = header.len();
    let rows = shown.map(|p| {
        let mut row = vec![decimal(p.multiple, 2)];
        row.extend(p.wheels.iter().map(|w| w.displacement.map(|l| travel_number(units, l)).join("/")));
        row.push(number(p.peak_von_mises, units.stress, 3));
        if wired {
            let pulls = p.wires.iter().map(|w| {
                if w.tension > Force::default() {
                    number(w.tension, units.force, 3)
                } else {
                    "slack".to_owned()
                }
            });
            row.push(pulls.collect::<Vec<_>>().join(", "));
        }
        row
    });
    let mut text = paragraph(
        "Travel of each wheel's ground contact point is aft / to starboard / up. Where the multiple falls, a wire has let go or \
         the legs fold.",
    );
    text.push_str(&table(&header, 0..columns, rows));
    text
}

fn plans(out: &mut String, project: &Project, report: &DropReport, units: &UnitChoice) {
    for plan in &report.plans {
        let Some((gear, known)) = gear_of(project, &plan.gear) else { continue };
        heading(out, &format!("A DROP TEST FOR THE SHOP: gear {}", plan.gear));
        out.push_str(&plan_table(plan, known, units));
        for line in plan_steps(gear, plan, known, units) {
            out.push_str(&bullet(&line));
        }
    }
    if !report.plans.is_empty() {
        out.push_str(&paragraph("Before the first drop:"));
        for line in test_cautions(project, units) {
            out.push_str(&bullet(&line));
        }
    }
}

fn plan_table(plan: &DropPlan, known: bool, units: &UnitChoice) -> String {
    let band = |b: Option<(Length, Length)>| {
        b.map_or_else(
            || "may collapse".to_owned(),
            |(low, high)| {
                let (low_words, high_words) = (travel_number(units, low), travel_number(units, high));
                if low_words == high_words {
                    travel(units, low)
                } else {
                    format!("{low_words} to {}", travel(units, high))
                }
            },
        )
    };
    let rows = plan.steps.iter().enumerate().map(|(i, s)| {
        vec![
            (i + 1).to_string(),
            height(units, s.height),
            if s.spread.is_some() { figure(s.mass, units.mass, 3) } else { "-".to_owned() },
            band(s.spread),
            if known { band(s.set) } else { "can't be told".to_owned() },
        ]
    });
    table(
        &["drop", "wheels above the floor", "mass on the gear", "spread expected", "set expected"],
        1..5,
        rows,
    )
}

fn readings(out: &mut String, project: &Project, library: &Library, report: &DropReport, units: &UnitChoice) {
    if report.readings.is_empty() {
        return;
    }
    heading(out, "WHAT YOUR DROP TESTS SAY");
    for r in &report.readings {
        let Some((gear, known)) = gear_of(project, &r.gear) else { continue };
        out.push_str(&paragraph(&format!(
            "\nGear {}, from {} with {}",
            r.gear,
            height(units, r.height),
            figure(r.mass, units.mass, 3)
        )));
        for line in reading_words(r, gear, known, units) {
            out.push_str(&bullet(&line));
        }
        if let Some(again) = &r.again {
            out.push_str(&drops(library, report, again, known || r.yield_strength.is_some(), units));
        }
    }
}
