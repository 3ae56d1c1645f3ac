//! Plywood and wood.

use super::reader::{Reader, Row};
use super::value::Limit;
use super::{Target, add, names};
use crate::diagnostic::Diagnostic;
use crate::material::{Sourced, Wood, WoodBand};
use crate::units::{MassDensity, Stress};

/// Reads `[[wood]]`.
pub(super) fn read<'d>(reader: &mut Reader<'d>, file: &mut Row<'d>, target: &mut Target<'_>) {
    for mut row in reader.rows(file, "wood", "a wood", "write each one under `[[wood]]`") {
        let named = names(reader, &mut row, true);
        reader.defaults(&mut row);
        let density: Option<Sourced<MassDensity>> = reader.required(&mut row, "density", Limit::Positive);
        let density_characteristic: Option<Sourced<MassDensity>> =
            reader.sourced(&mut row, "density_characteristic", Limit::Positive);
        let panel_shear = stress(reader, &mut row, "panel_shear");
        let shear_modulus = stress(reader, &mut row, "shear_modulus");
        let compression_across = stress(reader, &mut row, "compression_across");
        let modulus_through = stress(reader, &mut row, "modulus_through");
        let bands = bands(reader, &mut row);
        reader.finish(&row);
        if let (Some(mean), Some(low)) = (&density, &density_characteristic)
            && low.value > mean.value
        {
            let error = Diagnostic::error("contradiction", "`density_characteristic` is above `density`");
            reader.refuse(row.place("density_characteristic"), error);
        }
        if let (Some(named), Some(density)) = (named, density) {
            let wood = Wood {
                name: named.name,
                aliases: named.aliases,
                density,
                density_characteristic,
                panel_shear,
                shear_modulus,
                compression_across,
                modulus_through,
                bands,
            };
            add(reader, target, &named.places, wood);
        }
    }
}

fn stress<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>, key: &'static str) -> Option<Sourced<Stress>> {
    reader.sourced(row, key, Limit::Positive)
}

fn bands<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>) -> Vec<WoodBand> {
    let mut bands: Vec<WoodBand> = Vec::new();
    let rows = reader.rows(row, "bands", "a wood's band", "write each one under `[[wood.bands]]`");
    let several = rows.len() > 1;
    for mut inner in rows {
        reader.inherit(&mut inner, row);
        let thickness = reader.plain(&mut inner, "thickness", Limit::Positive);
        let band = WoodBand {
            thickness,
            plies: plies(reader, &mut inner),
            bending_along: stress(reader, &mut inner, "bending_along"),
            bending_across: stress(reader, &mut inner, "bending_across"),
            modulus_along: stress(reader, &mut inner, "modulus_along"),
            modulus_across: stress(reader, &mut inner, "modulus_across"),
            compression_along: stress(reader, &mut inner, "compression_along"),
            compression_in_plane_across: stress(reader, &mut inner, "compression_in_plane_across"),
            tension_along: stress(reader, &mut inner, "tension_along"),
            tension_across: stress(reader, &mut inner, "tension_across"),
            rolling_shear_along: stress(reader, &mut inner, "rolling_shear_along"),
            rolling_shear_across: stress(reader, &mut inner, "rolling_shear_across"),
        };
        reader.finish(&inner);
        if several && !inner.has("thickness") {
            let error = Diagnostic::error("missing-key", "each of several bands needs its `thickness`");
            reader.refuse(inner.span.clone(), error);
        }
        let before = bands.last().and_then(|b| b.thickness);
        if let (Some(thickness), Some(before)) = (thickness, before)
            && thickness <= before
        {
            let error = Diagnostic::error("band-order", "the thicknesses must ascend");
            reader.refuse(inner.place("thickness"), error);
        }
        bands.push(band);
    }
    bands
}

/// Most plies that a count is believed for.
const MOST_PLIES: f64 = 100.0;

fn plies<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>) -> Option<u32> {
    let count: f64 = reader.plain(row, "plies", Limit::Positive)?;
    if count.fract() != 0.0 || count > MOST_PLIES {
        let error =
            Diagnostic::error("out-of-range", format!("`plies` must be a whole number up to {MOST_PLIES}"));
        reader.refuse(row.place("plies"), error);
        return None;
    }
    Some(count as u32)
}
