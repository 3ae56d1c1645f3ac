//! Sheet and plate metals and the alloys whose constants they share.

use super::reader::{Item, Reader, Row};
use super::value::{Limit, TableValue};
use super::{Target, add, names};
use crate::diagnostic::Diagnostic;
use crate::material::{Family, Metal, MetalBand, Sourced};
use crate::units::{Length, MassDensity, Stress};
use std::collections::BTreeMap;
use uom::si::length::millimeter;

/// Constants of an alloy, shared by its tempers.
struct Alloy {
    family: Option<Family>,
    modulus: Option<Sourced<Stress>>,
    poisson: Option<Sourced<f64>>,
    density: Option<Sourced<MassDensity>>,
    conductivity: Option<Sourced<f64>>,
}

/// Reads `[[alloy]]` and `[[metal]]`.
pub(super) fn read<'d>(reader: &mut Reader<'d>, file: &mut Row<'d>, target: &mut Target<'_>) {
    let mut alloys = BTreeMap::new();
    for mut row in reader.rows(file, "alloy", "an alloy", "write each one under `[[alloy]]`") {
        reader.defaults(&mut row);
        let name = reader.required_text(&mut row, "name");
        let alloy = constants(reader, &mut row);
        for key in ["family", "modulus", "poisson", "density"] {
            if !row.has(key) {
                reader.lacks(&row, key);
            }
        }
        reader.finish(&row);
        let Some(name) = name else { continue };
        if alloys.insert(name, alloy).is_some() {
            let error =
                Diagnostic::error("name-taken", format!("the alloy `{name}` is already in this file"));
            reader.refuse(row.place("name"), error);
        }
    }
    for mut row in reader.rows(file, "metal", "a metal", "write each one under `[[metal]]`") {
        let named = names(reader, &mut row, true);
        reader.defaults(&mut row);
        let alloy = alloy_of(reader, &mut row, &alloys);
        let own = constants(reader, &mut row);
        let tangent_modulus = reader.sourced(&mut row, "tangent_modulus", Limit::NotNegative);
        let hardening_exponent = reader.sourced(&mut row, "hardening_exponent", Limit::Exponent);
        let family = need(reader, &row, own.family.or(alloy.and_then(|a| a.family)), "family");
        let modulus = own.modulus.or_else(|| alloy.and_then(|a| a.modulus.clone()));
        let modulus = need(reader, &row, modulus, "modulus");
        let poisson = own.poisson.or_else(|| alloy.and_then(|a| a.poisson.clone()));
        let poisson = need(reader, &row, poisson, "poisson");
        let density = own.density.or_else(|| alloy.and_then(|a| a.density.clone()));
        let density = need(reader, &row, density, "density");
        let conductivity = own.conductivity.or_else(|| alloy.and_then(|a| a.conductivity.clone()));
        let bands = bands(reader, &mut row);
        reader.finish(&row);
        if row.has("tangent_modulus") && row.has("hardening_exponent") {
            let error = Diagnostic::error(
                "contradiction",
                "a metal can't have both `tangent_modulus` and `hardening_exponent`",
            )
            .help("both say how it goes on beyond yield; keep the one that was measured");
            reader.refuse(row.place("hardening_exponent"), error);
        }
        if let (Some(modulus), Some(strongest)) = (&modulus, strongest(&bands))
            && modulus.value <= strongest
        {
            let error = Diagnostic::error("out-of-range", "`modulus` must be above the metal's strength");
            reader.refuse(row.place("modulus"), error);
        }
        let (Some(named), Some(family), Some(modulus), Some(poisson), Some(density)) =
            (named, family, modulus, poisson, density)
        else {
            continue;
        };
        let metal = Metal {
            name: named.name,
            aliases: named.aliases,
            family,
            modulus,
            poisson,
            density,
            conductivity,
            tangent_modulus,
            hardening_exponent,
            tested: None,
            bands,
        };
        add(reader, target, &named.places, metal);
    }
}

/// The alloy a row refers to; reports one that is not in the file.
fn alloy_of<'a, 'd>(
    reader: &mut Reader<'d>,
    row: &mut Row<'d>,
    alloys: &'a BTreeMap<&str, Alloy>,
) -> Option<&'a Alloy> {
    row.get("alloy")?;
    let name = reader.required_text(row, "alloy")?;
    let alloy = alloys.get(name);
    if alloy.is_none() {
        let error =
            Diagnostic::error("unknown-alloy", format!("this file has no `[[alloy]]` called `{name}`"))
                .help("give the row its own `family`, `modulus`, `poisson` and `density`, or add the alloy");
        reader.refuse(row.place("alloy"), error);
    }
    alloy
}

/// The value, or a report that the row lacks it. What is wrong with a written value or with the alloy was reported before.
fn need<'d, T>(reader: &mut Reader<'d>, row: &Row<'d>, value: Option<T>, key: &str) -> Option<T> {
    if value.is_none() && !row.has(key) && !row.has("alloy") {
        reader.lacks(row, key);
    }
    value
}

fn constants<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>) -> Alloy {
    let family = row.get("family").and_then(|_| reader.word(row, "family", &Family::ALL, Family::words));
    Alloy {
        family,
        modulus: reader.sourced(row, "modulus", Limit::Positive),
        poisson: reader.sourced(row, "poisson", Limit::Poisson),
        density: reader.sourced(row, "density", Limit::Positive),
        conductivity: reader.sourced(row, "conductivity", Limit::Conductivity),
    }
}

fn strongest(bands: &[MetalBand]) -> Option<Stress> {
    bands
        .iter()
        .flat_map(|b| [&b.yield_strength, &b.ultimate].into_iter().flatten())
        .map(|s| s.value)
        .reduce(Stress::max)
}

/// Reads a metal's bands; the row's own values hold for every band that does not give its own.
fn bands<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>) -> Vec<MetalBand> {
    // The row's own values are read once on their own, so that a mistake in one is reported once.
    let shared = band_values(reader, row, None);
    if row.get("bands").is_none() {
        check_band(reader, row, &shared);
        return vec![shared];
    }
    let how = "write `bands = [{ up_to = \"3 mm\", yield = \"260 MPa\", ... }, ...]`";
    let rows = reader.rows(row, "bands", "a band", how);
    if rows.is_empty() {
        let error = Diagnostic::error("no-bands", "`bands` is an empty list").help(how);
        reader.refuse(row.place("bands"), error);
    }
    let mut bands: Vec<MetalBand> = Vec::new();
    for mut inner in rows {
        reader.inherit(&mut inner, row);
        let mut band = band_values(reader, &mut inner, Some(&shared));
        let begins = reader.plain(&mut inner, "over", Limit::NotNegative);
        band.up_to = reader.plain(&mut inner, "up_to", Limit::Positive);
        reader.finish(&inner);
        band.over = begins.or_else(|| bands.last().and_then(|b| b.up_to)).unwrap_or_default();
        check_order(reader, &inner, bands.last(), &band);
        check_band(reader, &inner, &band);
        bands.push(band);
    }
    bands
}

/// The values that depend on the thickness, each from the band or else from the row.
fn band_values<'d>(reader: &mut Reader<'d>, row: &mut Row<'d>, shared: Option<&MetalBand>) -> MetalBand {
    MetalBand {
        over: Length::default(),
        up_to: None,
        yield_strength: own_or(reader, row, "yield", Limit::Positive, shared.map(|s| &s.yield_strength)),
        yield_maximum: own_or(
            reader,
            row,
            "yield_maximum",
            Limit::Positive,
            shared.map(|s| &s.yield_maximum),
        ),
        ultimate: own_or(reader, row, "ultimate", Limit::Positive, shared.map(|s| &s.ultimate)),
        ultimate_maximum: own_or(
            reader,
            row,
            "ultimate_maximum",
            Limit::Positive,
            shared.map(|s| &s.ultimate_maximum),
        ),
        elongation: own_or(reader, row, "elongation", Limit::Percent, shared.map(|s| &s.elongation)),
        hardness: own_or(reader, row, "hardness", Limit::Positive, shared.map(|s| &s.hardness)),
        bend_radius_90: own_or(
            reader,
            row,
            "bend_radius_90",
            Limit::NotNegative,
            shared.map(|s| &s.bend_radius_90),
        ),
        bend_radius_180: own_or(
            reader,
            row,
            "bend_radius_180",
            Limit::NotNegative,
            shared.map(|s| &s.bend_radius_180),
        ),
    }
}

fn own_or<'d, T: TableValue + Clone>(
    reader: &mut Reader<'d>,
    row: &mut Row<'d>,
    key: &'static str,
    limit: Limit,
    shared: Option<&Option<Sourced<T>>>,
) -> Option<Sourced<T>> {
    match row.get(key) {
        Some(item) => read_item(reader, row, key, item, limit),
        None => shared.cloned().flatten(),
    }
}

fn read_item<'d, T: TableValue>(
    reader: &mut Reader<'d>,
    row: &Row<'d>,
    key: &'static str,
    item: &'d Item<'d>,
    limit: Limit,
) -> Option<Sourced<T>> {
    reader.sourced_with(row, item, |reader, inner| reader.limited(key, inner, limit))
}

/// Checks that a band begins where the one before it ends and has a thickness of its own.
fn check_order<'d>(reader: &mut Reader<'d>, row: &Row<'d>, before: Option<&MetalBand>, band: &MetalBand) {
    let mm = |length: Length| length.get::<millimeter>();
    let problem = match (before, band.up_to) {
        (Some(MetalBand { up_to: None, .. }), _) => {
            Some("the band before this one has no `up_to`; only the last may be open".to_owned())
        }
        (Some(MetalBand { up_to: Some(end), .. }), _) if (band.over - *end).abs() > 1e-6 * *end => {
            let fault = if band.over > *end { "leaves a gap" } else { "overlaps the one before it" };
            Some(format!(
                "the band {fault}: it begins at {:.4} mm, that one ends at {:.4} mm",
                mm(band.over),
                mm(*end)
            ))
        }
        (_, Some(end)) if end <= band.over => Some(format!(
            "the band is empty: it begins at {:.4} mm and ends at {:.4} mm",
            mm(band.over),
            mm(end)
        )),
        _ => None,
    };
    if let Some(problem) = problem {
        reader.refuse(row.span.clone(), Diagnostic::error("band-order", problem));
    }
}

/// Checks that a band's values agree with each other.
fn check_band<'d>(reader: &mut Reader<'d>, row: &Row<'d>, band: &MetalBand) {
    let has_yield = band.yield_strength.is_some() || band.yield_maximum.is_some();
    let wrong_one_written = row.has("yield") || row.has("yield_maximum");
    if !has_yield && !wrong_one_written {
        let error =
            Diagnostic::error("missing-key", "this thickness has neither `yield` nor `yield_maximum`");
        reader.refuse(row.span.clone(), error);
    }
    let stresses = [
        ("yield", &band.yield_strength, "ultimate", &band.ultimate),
        ("yield", &band.yield_strength, "yield_maximum", &band.yield_maximum),
        ("yield", &band.yield_strength, "ultimate_maximum", &band.ultimate_maximum),
        ("yield_maximum", &band.yield_maximum, "ultimate_maximum", &band.ultimate_maximum),
        ("ultimate", &band.ultimate, "ultimate_maximum", &band.ultimate_maximum),
    ];
    for (low_key, low, high_key, high) in stresses {
        if let (Some(low), Some(high)) = (low, high)
            && low.value > high.value
        {
            not_above(reader, row, low_key, high_key);
        }
    }
    if let (Some(square), Some(flat)) = (&band.bend_radius_90, &band.bend_radius_180)
        && square.value > flat.value
    {
        not_above(reader, row, "bend_radius_90", "bend_radius_180");
    }
}

/// Reports a lower value that lies above its upper one.
fn not_above<'d>(reader: &mut Reader<'d>, row: &Row<'d>, low: &str, high: &str) {
    let error = Diagnostic::error("contradiction", format!("`{low}` is above `{high}`"));
    reader.refuse(row.place(if row.has(low) { low } else { high }), error);
}
