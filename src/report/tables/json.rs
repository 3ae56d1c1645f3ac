//! The material tables for programs: SI numbers with the unit in the key's name, basis and source beside each.

use super::row_count;
use crate::material::{
    AxleMetal, BoltClass, EndEfficiency, Kind, Library, Metal, MetalBand, Sourced, Stock, Thread, Wire,
    WireStrength, Wood, WoodBand,
};
use serde_json::{Map, Value, json};

/// One kind of table, or all of them, each under its kind's word.
///
/// Every value is `{ "value", "basis", "source" }` under a key that ends in its SI unit; what a row does not have is
/// left out. `rows` says how many rows each kind has.
#[must_use]
pub fn tables_json(library: &Library, kind: Option<Kind>) -> Value {
    let kinds = kind.map_or_else(|| Kind::ALL.to_vec(), |one| vec![one]);
    let mut all = Map::new();
    let counts: Map<String, Value> =
        kinds.iter().map(|k| (k.word().to_owned(), json!(row_count(library, *k)))).collect();
    all.insert("rows".to_owned(), Value::Object(counts));
    for kind in kinds {
        for (key, rows) in tables(library, kind) {
            all.insert(key.to_owned(), Value::Array(rows));
        }
    }
    Value::Object(all)
}

/// The lists of one kind, each with its key.
fn tables(library: &Library, kind: Kind) -> Vec<(&'static str, Vec<Value>)> {
    match kind {
        Kind::Metals => vec![("metals", library.metals.iter().map(metal).collect())],
        Kind::Wires => vec![
            ("wires", library.wires.iter().map(wire).collect()),
            (
                "constructions",
                library
                    .constructions
                    .iter()
                    .map(|c| Row::named(&c.name).put("modulus_Pa", &c.modulus, |v| json!(v.value)).done())
                    .collect(),
            ),
        ],
        Kind::WireEnds => vec![(
            "wire-ends",
            library
                .wire_ends
                .iter()
                .map(|end| {
                    let row = Row::named(&end.name).plain("words", json!(end.words));
                    match &end.efficiency {
                        EndEfficiency::Fraction(f) => row.put("efficiency", f, |v| json!(v)).done(),
                        EndEfficiency::ThreadRoot(s) => {
                            row.put("efficiency", s, |()| json!("thread-root")).done()
                        }
                    }
                })
                .collect(),
        )],
        Kind::Axles => vec![("axles", library.axles.iter().map(axle).collect())],
        Kind::Bolts => vec![
            ("bolts", library.bolt_classes.iter().map(bolt_class).collect()),
            ("threads", library.threads.iter().map(thread).collect()),
        ],
        Kind::Woods => vec![("woods", library.woods.iter().map(wood).collect())],
        Kind::Stock => vec![("stock", library.stock.iter().map(stock).collect())],
        Kind::Arrivals => vec![(
            "arrivals",
            library
                .arrivals
                .iter()
                .map(|a| {
                    Row::named(&a.name)
                        .plain("words", json!(a.words))
                        .put("sink_rate_mps", &a.sink_rate, |(from, to)| json!([from.value, to.value]))
                        .done()
                })
                .collect(),
        )],
    }
}

/// A row that is being put together.
struct Row(Map<String, Value>);

impl Row {
    fn new() -> Self {
        Self(Map::new())
    }

    fn named(name: &str) -> Self {
        Self::new().plain("name", json!(name))
    }

    fn plain(mut self, key: &str, value: Value) -> Self {
        self.0.insert(key.to_owned(), value);
        self
    }

    fn put<T>(self, key: &str, sourced: &Sourced<T>, write: impl Fn(&T) -> Value) -> Self {
        let value = json!({
            "value": write(&sourced.value),
            "basis": sourced.basis.words(),
            "source": sourced.source,
        });
        self.plain(key, value)
    }

    fn put_if<T>(self, key: &str, sourced: &Option<Sourced<T>>, write: impl Fn(&T) -> Value) -> Self {
        match sourced {
            Some(sourced) => self.put(key, sourced, write),
            None => self,
        }
    }

    fn done(self) -> Value {
        Value::Object(self.0)
    }
}

fn metal(row: &Metal) -> Value {
    Row::named(&row.name)
        .plain("aliases", json!(row.aliases))
        .plain("family", json!(row.family.words()))
        .put("modulus_Pa", &row.modulus, |v| json!(v.value))
        .put("poisson", &row.poisson, |v| json!(v))
        .put("density_kgpm3", &row.density, |v| json!(v.value))
        .put_if("conductivity_pct_IACS", &row.conductivity, |v| json!(v))
        .put_if("tangent_modulus_Pa", &row.tangent_modulus, |v| json!(v.value))
        .put_if("hardening_exponent", &row.hardening_exponent, |v| json!(v))
        .plain("bands", row.bands.iter().map(metal_band).collect())
        .done()
}

fn metal_band(band: &MetalBand) -> Value {
    Row::new()
        .plain("over_m", json!(band.over.value))
        .plain("up_to_m", json!(band.up_to.map(|t| t.value)))
        .put_if("yield_Pa", &band.yield_strength, |v| json!(v.value))
        .put_if("yield_maximum_Pa", &band.yield_maximum, |v| json!(v.value))
        .put_if("ultimate_Pa", &band.ultimate, |v| json!(v.value))
        .put_if("ultimate_maximum_Pa", &band.ultimate_maximum, |v| json!(v.value))
        .put_if("elongation_pct", &band.elongation, |v| json!(v))
        .put_if("hardness_HB", &band.hardness, |v| json!(v))
        .put_if("bend_radius_90_thicknesses", &band.bend_radius_90, |v| json!(v))
        .put_if("bend_radius_180_thicknesses", &band.bend_radius_180, |v| json!(v))
        .done()
}

fn wire(row: &Wire) -> Value {
    let start = Row::named(&row.name)
        .plain("aliases", json!(row.aliases))
        .put("modulus_Pa", &row.modulus, |v| json!(v.value))
        .put("density_kgpm3", &row.density, |v| json!(v.value))
        .put_if("yield_fraction", &row.yield_fraction, |v| json!(v));
    match &row.strength {
        WireStrength::PowerLaw(bands) => {
            // The law's own constants go with millimetres and megapascals, and their keys say so.
            let bands = bands.iter().map(|b| {
                Row::new()
                    .plain("from_m", json!(b.from.value))
                    .plain("up_to_m", json!(b.up_to.value))
                    .put("a_MPa_mm_m_and_m", &b.constants, |(a, m)| json!([a, m]))
                    .done()
            });
            start.plain("power_law", bands.collect()).done()
        }
        WireStrength::Sizes(sizes) => {
            let sizes = sizes.iter().map(|(diameter, load)| {
                Row::new()
                    .plain("diameter_m", json!(diameter.value))
                    .put("breaking_load_N", load, |v| json!(v.value))
                    .done()
            });
            start.plain("sizes", sizes.collect()).done()
        }
        WireStrength::Constant(strength) => start.put("strength_Pa", strength, |v| json!(v.value)).done(),
    }
}

fn axle(row: &AxleMetal) -> Value {
    Row::named(&row.name)
        .plain("aliases", json!(row.aliases))
        .put("modulus_Pa", &row.modulus, |v| json!(v.value))
        .put("poisson", &row.poisson, |v| json!(v))
        .put("density_kgpm3", &row.density, |v| json!(v.value))
        .put("yield_Pa", &row.yield_strength, |v| json!(v.value))
        .put("ultimate_Pa", &row.ultimate, |v| json!(v.value))
        .done()
}

fn bolt_class(row: &BoltClass) -> Value {
    Row::named(&row.name)
        .plain("up_to_m", json!(row.up_to.map(|t| t.value)))
        .put("ultimate_Pa", &row.ultimate, |v| json!(v.value))
        .put_if("yield_Pa", &row.yield_strength, |v| json!(v.value))
        .put_if("proof_Pa", &row.proof, |v| json!(v.value))
        .put_if("elongation_pct", &row.elongation, |v| json!(v))
        .put_if("modulus_Pa", &row.modulus, |v| json!(v.value))
        .done()
}

fn thread(row: &Thread) -> Value {
    Row::named(&row.name)
        .plain("series", json!(row.series.word()))
        .plain("nominal_m", json!(row.nominal.value))
        .plain("pitch_m", json!(row.pitch.value))
        .plain("stress_area_m2", json!(row.stress_area().value))
        .plain("root_area_m2", json!(row.minor_area().value))
        .plain("basis", json!(row.provenance.basis.words()))
        .plain("source", json!(row.provenance.source))
        .done()
}

fn wood(row: &Wood) -> Value {
    Row::named(&row.name)
        .plain("aliases", json!(row.aliases))
        .put("density_kgpm3", &row.density, |v| json!(v.value))
        .put_if("density_characteristic_kgpm3", &row.density_characteristic, |v| json!(v.value))
        .put_if("panel_shear_Pa", &row.panel_shear, |v| json!(v.value))
        .put_if("shear_modulus_Pa", &row.shear_modulus, |v| json!(v.value))
        .put_if("compression_across_Pa", &row.compression_across, |v| json!(v.value))
        .put_if("modulus_through_Pa", &row.modulus_through, |v| json!(v.value))
        .plain("bands", row.bands.iter().map(wood_band).collect())
        .done()
}

fn wood_band(band: &WoodBand) -> Value {
    Row::new()
        .plain("thickness_m", json!(band.thickness.map(|t| t.value)))
        .plain("plies", json!(band.plies))
        .put_if("bending_along_Pa", &band.bending_along, |v| json!(v.value))
        .put_if("bending_across_Pa", &band.bending_across, |v| json!(v.value))
        .put_if("modulus_along_Pa", &band.modulus_along, |v| json!(v.value))
        .put_if("modulus_across_Pa", &band.modulus_across, |v| json!(v.value))
        .put_if("compression_along_Pa", &band.compression_along, |v| json!(v.value))
        .put_if("compression_in_plane_across_Pa", &band.compression_in_plane_across, |v| json!(v.value))
        .put_if("tension_along_Pa", &band.tension_along, |v| json!(v.value))
        .put_if("tension_across_Pa", &band.tension_across, |v| json!(v.value))
        .put_if("rolling_shear_along_Pa", &band.rolling_shear_along, |v| json!(v.value))
        .put_if("rolling_shear_across_Pa", &band.rolling_shear_across, |v| json!(v.value))
        .done()
}

fn stock(row: &Stock) -> Value {
    Row::new()
        .plain("form", json!(row.form.word()))
        .plain("system", json!(row.system.word()))
        .plain("range", json!(row.range))
        .plain("labels", json!(row.labels))
        .plain("sizes_m", row.sizes.iter().map(|s| json!(s.value)).collect())
        .plain("basis", json!(row.provenance.basis.words()))
        .plain("source", json!(row.provenance.source))
        .done()
}
