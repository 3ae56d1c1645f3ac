//! Shop tests by meters: how hard a sheet is, how well it conducts.

use super::doubts::place;
use super::keys::{self, Accept, Key};
use super::section::{Section, no_such_row};
use super::shop_test::{by_mm, each, needed, number, number_off, strip};
use super::tree::{Span, Value};
use crate::desk;
use crate::diagnostic::Diagnostic;
use crate::material::{Metal, TableRow};
use crate::model::{Hardness, Measured, ShopTest};
use crate::report::figure::significant;
use crate::units::{ElectricCurrent, ElectricPotential, ElectricalConductivity};
use uom::si::electrical_conductivity::siemens_per_meter;

/// What instruments are usually off by, as one standard deviation. Common practice, no source.
const LENS_MM: f64 = 0.025;
const HARDNESS: f64 = 0.05;
const METER: f64 = 0.015;
const OWN_SCALE: f64 = 0.5;
const AMMETER: f64 = 0.01;
const MILLIVOLTMETER: f64 = 0.01;

/// Times by which one known piece has to be harder than another to make a scale with it. chosen: rows scatter by half of that.
const ALIKE: f64 = 1.2;
/// Share of a scale's length by which a reading beyond its ends is doubted. chosen.
const BEYOND: f64 = 0.5;

/// How hard the sheet is.
pub(super) fn dent(section: &Section<'_>) -> Option<ShopTest> {
    let brinell = number(section, &keys::BRINELL, HARDNESS);
    let vickers = number(section, &keys::VICKERS, HARDNESS);
    let dents = [keys::DENT, keys::KNOWN_DENT].map(|key| section.table.get(key.name).is_some());
    let beside = dents.contains(&true) || section.table.get(keys::KNOWN.name).is_some();
    let scale = [keys::READING, keys::KNOWN_READINGS, keys::KNOWN_PIECES];
    let own_scale = scale.iter().any(|key| section.table.get(key.name).is_some());
    let ways = [brinell.given(), vickers.given(), beside, own_scale].iter().filter(|given| **given).count();
    if ways != 1 {
        let refused = Diagnostic::error(
            if ways == 0 { "missing-key" } else { "contradiction" },
            "a hardness is told by one of four: a Brinell number, a Vickers number, a dent beside one in a known piece, or a \
             tester's own scale tried on two known pieces",
        );
        let refused = if ways == 0 {
            refused
                .help("add brinell = 95, or vickers = 107, or dent and known_dent with known = \"6082-T6\"")
                .help("or reading = 12 with known_readings = [15, 9] and known_pieces = [\"6082-T6\", \"5083-O\"]")
        } else {
            refused.help("leave all but one out; each is a [[bench_test]] of its own")
        };
        section.note(refused, section.header.clone());
        return None;
    }
    if beside {
        let dent = needed(section, &keys::DENT, by_mm(LENS_MM));
        let known_dent = needed(section, &keys::KNOWN_DENT, by_mm(LENS_MM));
        let known = section.lookup(&keys::KNOWN, |library, name| library.metal(name));
        let (known, span) = known.placed().map(|(m, s)| (*m, s))?;
        has_hardness(section, known, span)?;
        let (dent, known_dent) = (dent?, known_dent?);
        return credible(
            section,
            &keys::DENT,
            Hardness::Beside { dent, known_dent, known: Box::new(known.clone()) },
        );
    }
    if own_scale {
        return credible(section, &keys::READING, own_scale_reading(section)?);
    }
    let hardness =
        if brinell.given() { Hardness::Brinell(brinell.take()?) } else { Hardness::Vickers(vickers.take()?) };
    Some(ShopTest::Dent(hardness))
}

/// Refuses a hardness that no sheet has, as `brinell` itself is refused.
fn credible(section: &Section<'_>, key: &Key, hardness: Hardness) -> Option<ShopTest> {
    let told = desk::hardness_told(&hardness);
    let Accept::Number { least, most, .. } = keys::BRINELL.accept else { return None };
    if told >= least && told <= most {
        return Some(ShopTest::Dent(hardness));
    }
    let refused = Diagnostic::error(
        "out-of-range",
        format!("`{}` would make the sheet {} HB hard, which no sheet is", key.name, significant(told, 2)),
    )
    .help("look for a slip of a unit, or for two readings that are swapped");
    section.note(refused, place(section, key.name));
    None
}

/// Refuses a known piece whose hardness nobody can tell.
fn has_hardness(section: &Section<'_>, known: &Metal, span: Span) -> Option<()> {
    let told = desk::hardness_of(known).is_some();
    if !told {
        let refused =
            Diagnostic::error("no-value", format!("the table does not tell how hard {} is", known.name))
                .help("compare with another piece, such as one of 6082-T6");
        section.note(refused, span);
    }
    told.then_some(())
}

/// A tester with a scale of its own.
fn own_scale_reading(section: &Section<'_>) -> Option<Hardness> {
    let reading = number_off(section, &keys::READING, |_| OWN_SCALE);
    let reading = section.needed(&keys::READING, reading).take();
    let two = |found: usize, key: &Key| {
        if found == 2 {
            return Some(());
        }
        let refused = Diagnostic::error("wrong-count", format!("`{}` needs two, and has {found}", key.name))
            .help(format!("write it as in {} = {}", key.name, key.example))
            .help("two known pieces, one softer and one harder than the sheet, make a scale");
        section.note(refused, place(section, key.name));
        None
    };
    let readings = each(section, &keys::KNOWN_READINGS, |node, _| match node.value {
        Value::Number(read) if read.is_finite() => Some(read),
        Value::Number(read) => {
            let key = &keys::KNOWN_READINGS;
            let refused = Diagnostic::error("out-of-range", format!("`{}` can't be {read}", key.name))
                .help(format!("write it as in {} = {}", key.name, key.example));
            section.note(refused, node.span.clone());
            None
        }
        _ => {
            section.wrong_kind(&keys::KNOWN_READINGS, node, "plain numbers");
            None
        }
    });
    let pieces = each(section, &keys::KNOWN_PIECES, |node, _| {
        let key = &keys::KNOWN_PIECES;
        let Value::Text(name) = &node.value else {
            section.wrong_kind(key, node, "names of metals");
            return None;
        };
        match section.cx.library.metal(name) {
            Ok(metal) => {
                has_hardness(section, metal, node.span.clone())?;
                Some(Box::new(metal.clone()))
            }
            Err(not_found) => {
                section.note(no_such_row(key, Metal::KIND, &not_found), node.span.clone());
                None
            }
        }
    });
    let (readings, pieces) = (readings?, pieces?);
    two(readings.len(), &keys::KNOWN_READINGS)?;
    two(pieces.len(), &keys::KNOWN_PIECES)?;
    let [one, other] = <[Box<Metal>; 2]>::try_from(pieces).ok()?;
    let [first, second] = <[f64; 2]>::try_from(readings).ok()?;
    let reading = reading?;
    let hard = (desk::hardness_of(&one)?, desk::hardness_of(&other)?);
    let (harder, softer) = (hard.0.max(hard.1), hard.0.min(hard.1));
    let alike = if (first - second).abs() < 4.0 * reading.deviation {
        Some((keys::KNOWN_READINGS, "the tester reads nearly the same on both known pieces".to_owned()))
    } else if harder < ALIKE * softer {
        let [softer, harder] = [softer, harder].map(|brinell| significant(brinell, 2));
        let alike =
            format!("the known pieces are about as hard as each other: Brinell {softer} and {harder}");
        Some((keys::KNOWN_PIECES, alike))
    } else {
        None
    };
    if let Some((key, alike)) = alike {
        let refused = Diagnostic::error("contradiction", alike)
            .help("take pieces whose hardness differs more: one softer and one harder than the sheet");
        section.note(refused, place(section, key.name));
        return None;
    }
    let beyond = (reading.read - first.max(second)).max(first.min(second) - reading.read);
    if beyond > (first - second).abs() * BEYOND {
        let doubt = Diagnostic::warning("doubtful", "`reading` lies far outside of the two on known pieces")
            .help("a scale that is tried on two pieces tells little beyond them: try it on one more like the sheet");
        section.note(doubt, place(section, keys::READING.name));
    }
    if (hard.0 > hard.1) != (first > second) {
        let doubt =
            Diagnostic::warning("doubtful", "this tester reads less on the harder of the known pieces").help(
                "if it does not, `known_readings` are swapped: they stand in the order of `known_pieces`",
            );
        section.note(doubt, place(section, keys::KNOWN_READINGS.name));
    }
    Some(Hardness::OwnScale { reading, known: [(one, first), (other, second)] })
}

/// How well it conducts.
pub(super) fn conductivity(section: &Section<'_>) -> Option<ShopTest> {
    let by_current = [keys::CURRENT, keys::VOLTAGE].iter().any(|key| section.table.get(key.name).is_some());
    if by_current {
        return conductivity_by_current(section);
    }
    for key in [keys::STRIP_WIDTH, keys::THICKNESS, keys::STRIP_LENGTH] {
        if let Some(entry) = section.table.get(key.name) {
            let refused = Diagnostic::error(
                "contradiction",
                format!("`{}` goes with `current` and `voltage`; a meter needs no sizes", key.name),
            )
            .help("leave it out, or give current, voltage, width, thickness and length");
            section.note(refused, entry.key_span.clone());
        }
    }
    let iacs = number(section, &keys::IACS, METER);
    let siemens = number(section, &keys::MS_PER_M, METER);
    if iacs.given() == siemens.given() {
        let both = iacs.given();
        let refused = Diagnostic::error(
            if both { "contradiction" } else { "missing-key" },
            "a conductivity is told by one of three: `iacs` in % IACS, `ms_per_m` in MS/m, or `current` and `voltage` of a strip",
        )
        .help(if both { "leave one of them out" } else { "add a line such as iacs = 43" });
        section.note(refused, section.header.clone());
        return None;
    }
    if iacs.given() {
        return iacs.take().map(|iacs| ShopTest::Conductivity(iacs, None));
    }
    let Measured { read: value, deviation } = siemens.take()?;
    let iacs = |siemens: f64| desk::iacs(ElectricalConductivity::new::<siemens_per_meter>(1e6 * siemens));
    Some(ShopTest::Conductivity(Measured { read: iacs(value), deviation: iacs(deviation) }, None))
}

/// The same of a strip, by the current through it and the voltage along it.
fn conductivity_by_current(section: &Section<'_>) -> Option<ShopTest> {
    let mut more = false;
    for key in [keys::IACS, keys::MS_PER_M] {
        if let Some(entry) = section.table.get(key.name) {
            let refused = Diagnostic::error(
                "contradiction",
                format!("`{}` and a current are two measurements: each is a test of its own", key.name),
            )
            .help("put them into two [[bench_test]] sections");
            section.note(refused, entry.key_span.clone());
            more = true;
        }
    }
    let current = needed(section, &keys::CURRENT, |i: ElectricCurrent| i * AMMETER);
    let voltage = needed(section, &keys::VOLTAGE, |u: ElectricPotential| u * MILLIVOLTMETER);
    let strip = strip(section);
    let (current, voltage, strip) = (current?, voltage?, strip?);
    if more {
        return None;
    }
    let cut = strip.width.read * strip.thickness.read;
    let iacs = desk::iacs(desk::conductivity_of_strip(current.read, voltage.read, strip.length.read, cut));
    let Accept::Number { least, most, .. } = keys::IACS.accept else { return None };
    if iacs < least || iacs > most {
        let refused = Diagnostic::error(
            "out-of-range",
            format!("this strip would conduct {} % IACS, and no sheet does: they have {least} to {most}", significant(iacs, 3)),
        )
        .help("look for a slip of a unit: 4 A along 200 mm of 20 × 2 mm of aluminium make about 1 mV")
        .help("`length` is from probe to probe, and they touch the strip between the clamps that carry the current");
        section.note(refused, section.header.clone());
        return None;
    }
    let off = [
        f64::from(current.deviation / current.read),
        f64::from(voltage.deviation / voltage.read),
        f64::from(strip.width.deviation / strip.width.read),
        f64::from(strip.thickness.deviation / strip.thickness.read),
        f64::from(strip.length.deviation / strip.length.read),
    ];
    let off = off.iter().map(|off| off * off).sum::<f64>().sqrt();
    let thickness = Some(strip.thickness.read);
    Some(ShopTest::Conductivity(Measured { read: iacs, deviation: off * iacs }, thickness))
}
