//! The material tables for people: columns in workshop units, sources numbered below each table.

use super::{contents, row_count};
use crate::material::{
    Basis, EndEfficiency, Kind, Library, Metal, MetalBand, Sourced, Stock, Wire, WireStrength, Wood, WoodBand,
};
use crate::report::figure::{decimal, number, significant};
use crate::report::layout::{WIDTH, grid, lines};
use crate::units::{Length, MassDensity, Measure, STANDARD_GRAVITY, Stress, Unit};
use comfy_table::{ColumnConstraint, Table};
use uom::si::force::newton;
use uom::si::pressure::megapascal;
use uom::si::velocity::meter_per_second;

/// Digits a table value is shown with; the values themselves have no more.
const DIGITS: usize = 5;

/// Digits of a length, such as an inch size in millimetres.
const LENGTH_DIGITS: usize = 4;

/// Writes one kind of table with its sources, or, without a kind, the list of kinds.
#[must_use]
pub fn tables_text(library: &Library, kind: Option<Kind>) -> String {
    match kind {
        None => index(library),
        Some(Kind::Metals) => metals(library),
        Some(Kind::Wires) => wires(library),
        Some(Kind::WireEnds) => wire_ends(library),
        Some(Kind::Axles) => axles(library),
        Some(Kind::Bolts) => bolts(library),
        Some(Kind::Woods) => woods(library),
        Some(Kind::Stock) => stock(library),
        Some(Kind::Arrivals) => arrivals(library),
    }
}

fn index(library: &Library) -> String {
    let mut page = Page::default();
    let mut table = columns(&["table", "rows", "what it lists"], 1..2);
    for kind in Kind::ALL {
        let count = row_count(library, kind).to_string();
        table.add_row([kind.word(), count.as_str(), contents(kind)]);
    }
    page.table("Material tables", &table);
    page.line("`gearleg tables metals` shows one of them with its sources.");
    page.text
}

fn metals(library: &Library) -> String {
    let mut page = Page::default();
    let head = [
        "metal",
        "thickness\nmm",
        "yield\nMPa",
        "ultimate\nMPa",
        "stretch\n%",
        "Brinell",
        "bend\n90°",
        "bend\n180°",
        "source",
    ];
    let mut table = columns(&head, 2..8);
    for metal in &library.metals {
        for (i, band) in metal.bands.iter().enumerate() {
            let name = if i == 0 { metal.name.as_str() } else { "" };
            table.add_row(metal_row(&mut page, name, band));
        }
    }
    page.table("Metals: strength by thickness", &table);
    page.line("Yield is the 0.2 % proof stress; stretch is the elongation at break on 50 mm; bends are the smallest");
    page.line("inside radius in thicknesses. A number in brackets is the source where it is not the row's.");
    page.sources();

    let head = ["metal", "also called", "family", "E GPa", "Poisson", "kg/m³", "% IACS", "source"];
    let mut table = columns(&head, 3..7);
    for metal in &library.metals {
        table.add_row(constants_row(&mut page, metal));
    }
    page.table("Metals: constants", &table);
    page.sources();

    let words: Vec<_> = library.counter_names.iter().filter(|c| c.kind == Kind::Metals).collect();
    if !words.is_empty() {
        page.line("Names heard at the counter");
        for word in words {
            page.line(&format!("  {}", word.words));
        }
    }
    page.text
}

fn metal_row(page: &mut Page, name: &str, band: &MetalBand) -> Vec<String> {
    let strength = [&band.yield_strength, &band.yield_maximum, &band.ultimate, &band.ultimate_maximum];
    let main = strength.into_iter().flatten().next().map(|s| page.reference(s.basis, &s.source));
    let thickness = match (band.over == Length::default(), band.up_to) {
        (true, None) => "any".to_owned(),
        (true, Some(top)) => format!("to {}", millimetres(top)),
        (false, None) => format!("over {}", millimetres(band.over)),
        (false, Some(top)) => format!("{} to {}", millimetres(band.over), millimetres(top)),
    };
    vec![
        name.to_owned(),
        thickness,
        page.between(main, &band.yield_strength, &band.yield_maximum, megapascals),
        page.between(main, &band.ultimate, &band.ultimate_maximum, megapascals),
        page.optional(main, &band.elongation, plain),
        page.optional(main, &band.hardness, plain),
        page.optional(main, &band.bend_radius_90, plain),
        page.optional(main, &band.bend_radius_180, plain),
        main.map(|m| m.to_string()).unwrap_or_default(),
    ]
}

fn constants_row(page: &mut Page, metal: &Metal) -> Vec<String> {
    let main = page.reference(metal.modulus.basis, &metal.modulus.source);
    vec![
        metal.name.clone(),
        metal.aliases.join(", "),
        metal.family.words().to_owned(),
        page.value(Some(main), &metal.modulus, gigapascals),
        page.value(Some(main), &metal.poisson, plain),
        page.value(Some(main), &metal.density, density),
        page.optional(Some(main), &metal.conductivity, plain),
        main.to_string(),
    ]
}

fn wires(library: &Library) -> String {
    let mut page = Page::default();
    let head = ["wire", "diameter mm", "strength MPa", "breaks at N", "source"];
    let mut table = columns(&head, 3..4);
    for wire in &library.wires {
        for row in wire_strength_rows(&mut page, wire) {
            table.add_row(row);
        }
    }
    page.table("Wires: strength of the straight wire, on the full circle of its diameter", &table);
    page.line("In a law such as 1867 / d^0.146, d is the diameter in mm.");
    page.sources();

    let mut table = columns(&["wire", "also called", "E GPa", "kg/m³", "yield / strength", "source"], 2..5);
    for wire in &library.wires {
        let main = page.reference(wire.modulus.basis, &wire.modulus.source);
        table.add_row([
            wire.name.clone(),
            wire.aliases.join(", "),
            page.value(Some(main), &wire.modulus, gigapascals),
            page.value(Some(main), &wire.density, density),
            page.optional(Some(main), &wire.yield_fraction, plain),
            main.to_string(),
        ]);
    }
    page.table("Wires: constants, on the full circle of the diameter", &table);
    page.sources();

    let mut table = columns(&["construction", "E GPa", "source"], 1..2);
    for row in &library.constructions {
        let main = page.reference(row.modulus.basis, &row.modulus.source);
        table.add_row([row.name.clone(), gigapascals(&row.modulus.value), main.to_string()]);
    }
    page.table("Cables: stiffness by construction, on the full circle of the diameter", &table);
    page.sources();
    page.text
}

fn wire_strength_rows(page: &mut Page, wire: &Wire) -> Vec<[String; 5]> {
    let mut rows: Vec<[String; 5]> = match &wire.strength {
        WireStrength::PowerLaw(bands) => bands
            .iter()
            .map(|b| {
                let (a, m) = b.constants.value;
                let reach = format!("{} to {}", millimetres(b.from), millimetres(b.up_to));
                let source = page.reference(b.constants.basis, &b.constants.source).to_string();
                [String::new(), reach, format!("{} / d^{}", plain(&a), plain(&m)), String::new(), source]
            })
            .collect(),
        WireStrength::Sizes(sizes) => sizes
            .iter()
            .map(|(size, load)| {
                let source = page.reference(load.basis, &load.source).to_string();
                let newtons = decimal(load.value.get::<newton>(), 0);
                [String::new(), millimetres(*size), String::new(), newtons, source]
            })
            .collect(),
        WireStrength::Constant(strength) => {
            let source = page.reference(strength.basis, &strength.source).to_string();
            vec![[String::new(), "any".to_owned(), megapascals(&strength.value), String::new(), source]]
        }
    };
    if let Some([name, ..]) = rows.first_mut() {
        name.clone_from(&wire.name);
    }
    rows
}

fn wire_ends(library: &Library) -> String {
    let mut page = Page::default();
    let mut table = columns(&["end", "holds", "what it is", "source"], 1..2);
    for end in &library.wire_ends {
        let (holds, main) = match &end.efficiency {
            EndEfficiency::Fraction(f) => {
                (format!("{} %", plain(&(100.0 * f.value))), page.reference(f.basis, &f.source))
            }
            EndEfficiency::ThreadRoot(s) => ("thread root".to_owned(), page.reference(s.basis, &s.source)),
        };
        table.add_row([end.name.clone(), holds, end.words.clone(), main.to_string()]);
    }
    page.table("Wire ends: the share of the wire's breaking load that each holds", &table);
    page.sources();
    page.text
}

fn axles(library: &Library) -> String {
    let mut page = Page::default();
    let head =
        ["metal", "also called", "yield\nMPa", "ultimate\nMPa", "E\nGPa", "Poisson", "kg/m³", "source"];
    let mut table = columns(&head, 2..7);
    for axle in &library.axles {
        let main = page.reference(axle.yield_strength.basis, &axle.yield_strength.source);
        table.add_row([
            axle.name.clone(),
            axle.aliases.join(", "),
            page.value(Some(main), &axle.yield_strength, megapascals),
            page.value(Some(main), &axle.ultimate, megapascals),
            page.value(Some(main), &axle.modulus, gigapascals),
            page.value(Some(main), &axle.poisson, plain),
            page.value(Some(main), &axle.density, density),
            main.to_string(),
        ]);
    }
    page.table("Axle metals", &table);
    page.line("A number in brackets is the source where it is not the row's.");
    page.sources();
    page.text
}

fn bolts(library: &Library) -> String {
    let mut page = Page::default();
    let head =
        ["class", "up to mm", "ultimate MPa", "yield MPa", "proof MPa", "stretch %", "E GPa", "source"];
    let mut table = columns(&head, 1..7);
    for class in &library.bolt_classes {
        let main = Some(page.reference(class.ultimate.basis, &class.ultimate.source));
        table.add_row([
            class.name.clone(),
            class.up_to.map(millimetres).unwrap_or_default(),
            page.value(main, &class.ultimate, megapascals),
            page.optional(main, &class.yield_strength, megapascals),
            page.optional(main, &class.proof, megapascals),
            page.optional(main, &class.elongation, plain),
            page.optional(main, &class.modulus, gigapascals),
            main.map(|m| m.to_string()).unwrap_or_default(),
        ]);
    }
    page.table("Bolt classes", &table);
    page.line(
        "A class without E counts as steel. A number in brackets is the source where it is not the row's.",
    );
    page.sources();

    let head = ["thread", "diameter mm", "pitch mm", "stress area mm²", "root area mm²", "source"];
    let mut table = columns(&head, 1..5);
    for thread in &library.threads {
        let provenance = &thread.provenance;
        table.add_row([
            thread.name.clone(),
            millimetres(thread.nominal),
            millimetres(thread.pitch),
            number(thread.stress_area(), Unit::SquareMillimetre, 4),
            number(thread.minor_area(), Unit::SquareMillimetre, 4),
            page.reference(provenance.basis, &provenance.source).to_string(),
        ]);
    }
    page.table("Threads", &table);
    page.sources();
    page.text
}

fn woods(library: &Library) -> String {
    let mut page = Page::default();
    let head = [
        "wood",
        "also called",
        "kg/m³",
        "low kg/m³",
        "shear MPa",
        "G MPa",
        "crush MPa",
        "E through",
        "source",
    ];
    let mut table = columns(&head, 2..8);
    for wood in &library.woods {
        let main = Some(page.reference(wood.density.basis, &wood.density.source));
        table.add_row([
            wood.name.clone(),
            wood.aliases.join(", "),
            page.value(main, &wood.density, density),
            page.optional(main, &wood.density_characteristic, density),
            page.optional(main, &wood.panel_shear, megapascals),
            page.optional(main, &wood.shear_modulus, megapascals),
            page.optional(main, &wood.compression_across, megapascals),
            page.optional(main, &wood.modulus_through, megapascals),
            main.map(|m| m.to_string()).unwrap_or_default(),
        ]);
    }
    page.table("Woods", &table);
    page.line(
        "Shear is through the panel (solid wood: along the grain); crush is square to the face or grain.",
    );
    page.line(
        "E through is that through the thickness, MPa; where none is given, 1/20 of that along the grain.",
    );
    page.sources();

    let head = ["wood", "mm", "plies", "bending", "E", "compression", "tension", "rolling\nshear", "source"];
    let mut table = columns(&head, 1..8);
    for wood in &library.woods {
        for (i, band) in wood.bands.iter().enumerate() {
            table.add_row(wood_row(&mut page, wood, band, i == 0));
        }
    }
    page.table("Woods: strength and stiffness, MPa, along / across the grain of the face", &table);
    page.sources();
    page.text
}

fn wood_row(page: &mut Page, wood: &Wood, band: &WoodBand, first: bool) -> Vec<String> {
    let main = band
        .bending_along
        .as_ref()
        .or(band.modulus_along.as_ref())
        .map(|s| page.reference(s.basis, &s.source));
    vec![
        if first { wood.name.clone() } else { String::new() },
        band.thickness.map(millimetres).unwrap_or_default(),
        band.plies.map(|p| p.to_string()).unwrap_or_default(),
        page.pair(main, &band.bending_along, &band.bending_across),
        page.pair(main, &band.modulus_along, &band.modulus_across),
        page.pair(main, &band.compression_along, &band.compression_in_plane_across),
        page.pair(main, &band.tension_along, &band.tension_across),
        page.pair(main, &band.rolling_shear_along, &band.rolling_shear_across),
        main.map(|m| m.to_string()).unwrap_or_default(),
    ]
}

fn stock(library: &Library) -> String {
    let mut page = Page::default();
    let mut table = columns(&["what", "system", "sizes", "source"], 0..0);
    for row in &library.stock {
        let source = page.reference(row.provenance.basis, &row.provenance.source).to_string();
        table.add_row([row.form.word().to_owned(), row.system.word().to_owned(), sizes(row), source]);
    }
    page.table("Stock: sizes that shops keep", &table);
    page.sources();
    page.text
}

fn sizes(row: &Stock) -> String {
    match (row.range, row.labels.as_slice()) {
        (true, [from, to]) => format!("from {from} to {to}"),
        (_, labels) => labels.join(", "),
    }
}

fn arrivals(library: &Library) -> String {
    let mut page = Page::default();
    let mut table = columns(&["word", "sink rate m/s", "drop of mm", "what it looks like", "source"], 1..3);
    for arrival in &library.arrivals {
        let (from, to) = arrival.sink_rate.value;
        let rate = |v: crate::units::Velocity| v.get::<meter_per_second>();
        let drop = |v| significant(1000.0 * rate(v) * rate(v) / (2.0 * STANDARD_GRAVITY), 2);
        table.add_row([
            arrival.name.clone(),
            format!("{} to {}", plain(&rate(from)), plain(&rate(to))),
            format!("{} to {}", drop(from), drop(to)),
            arrival.words.clone(),
            page.reference(arrival.sink_rate.basis, &arrival.sink_rate.source).to_string(),
        ]);
    }
    page.table("Arrivals: pilots' words and the sink rates they cover", &table);
    page.line("The drop is the free fall that ends at the same speed, v²/2g.");
    page.sources();
    page.text
}

/// An empty table whose columns stand close and whose first one, the name, never wraps; the columns in the range hold
/// numbers.
fn columns(head: &[&str], numbers: std::ops::Range<usize>) -> Table {
    let mut table = grid(head, numbers);
    for (i, column) in table.column_iter_mut().enumerate() {
        column.set_padding((0, 1));
        if i == 0 {
            column.set_constraint(ColumnConstraint::ContentWidth);
        }
    }
    table
}

/// The text that has been written, and the sources met since they were last printed.
#[derive(Default)]
struct Page {
    text: String,
    sources: Vec<(Basis, String)>,
}

impl Page {
    fn line(&mut self, words: &str) {
        self.text.push_str(words);
        self.text.push('\n');
    }

    fn table(&mut self, title: &str, table: &Table) {
        self.line(title);
        let drawn = table.to_string();
        for line in drawn.lines() {
            self.line(line.trim_end());
        }
    }

    /// The number a source is printed under.
    fn reference(&mut self, basis: Basis, source: &str) -> usize {
        match self.sources.iter().position(|(b, s)| *b == basis && s == source) {
            Some(i) => i + 1,
            None => {
                self.sources.push((basis, source.to_owned()));
                self.sources.len()
            }
        }
    }

    /// Prints the sources met and forgets them.
    fn sources(&mut self) {
        for (i, (basis, source)) in std::mem::take(&mut self.sources).into_iter().enumerate() {
            let mark = format!("{:>4} ", format!("[{}]", i + 1));
            let lines = lines(&format!("{basis}: {source}"), WIDTH - mark.len());
            for (k, line) in lines.iter().enumerate() {
                let lead = if k == 0 { mark.clone() } else { " ".repeat(mark.len()) };
                self.line(&format!("{lead}{line}"));
            }
        }
        self.line("");
    }

    /// A value, followed by its source's number where that is not the row's.
    fn value<T>(&mut self, main: Option<usize>, value: &Sourced<T>, write: impl Fn(&T) -> String) -> String {
        let own = self.reference(value.basis, &value.source);
        let written = write(&value.value);
        if main == Some(own) { written } else { format!("{written} [{own}]") }
    }

    fn optional<T>(
        &mut self,
        main: Option<usize>,
        value: &Option<Sourced<T>>,
        write: impl Fn(&T) -> String,
    ) -> String {
        value.as_ref().map(|v| self.value(main, v, write)).unwrap_or_default()
    }

    /// A lower limit, an upper one, or both.
    fn between<T>(
        &mut self,
        main: Option<usize>,
        low: &Option<Sourced<T>>,
        high: &Option<Sourced<T>>,
        write: impl Fn(&T) -> String,
    ) -> String {
        match (low, high) {
            (Some(low), None) => self.value(main, low, write),
            (None, Some(high)) => self.value(main, high, |v| format!("≤ {}", write(v))),
            (Some(low), Some(high)) => {
                self.value(main, low, |v| format!("{}–{}", write(v), write(&high.value)))
            }
            (None, None) => String::new(),
        }
    }

    /// Along and across.
    fn pair(
        &mut self,
        main: Option<usize>,
        along: &Option<Sourced<Stress>>,
        across: &Option<Sourced<Stress>>,
    ) -> String {
        match (along, across) {
            (None, None) => String::new(),
            (Some(along), None) => self.value(main, along, megapascals),
            (along, Some(across)) => {
                let along = along.as_ref().map_or_else(|| "–".to_owned(), |a| megapascals(&a.value));
                self.value(main, across, |v| format!("{along} / {}", megapascals(v)))
            }
        }
    }
}

fn plain(value: &f64) -> String {
    trimmed(significant(*value, DIGITS))
}

fn megapascals(value: &Stress) -> String {
    // Moduli of wood are listed to five digits, strengths to four at most.
    let digits = if value.get::<megapascal>() < 1000.0 { DIGITS - 1 } else { DIGITS };
    trimmed(number(*value, Unit::Megapascal, digits))
}

fn gigapascals(value: &Stress) -> String {
    short(*value, Unit::Gigapascal)
}

fn density(value: &MassDensity) -> String {
    short(*value, Unit::KilogramPerCubicMetre)
}

fn millimetres(value: Length) -> String {
    trimmed(number(value, Unit::Millimetre, LENGTH_DIGITS))
}

fn short<Q: Measure>(value: Q, unit: Unit) -> String {
    trimmed(number(value, unit, DIGITS))
}

/// Without the noughts that close a decimal.
fn trimmed(figure: String) -> String {
    if figure.contains('.') && !figure.contains('e') {
        figure.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        figure
    }
}
