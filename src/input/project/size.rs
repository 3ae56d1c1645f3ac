//! `[size]`: what is wanted of sizes that are to be found.

use super::keys;
use super::section::Section;
use crate::diagnostic::Diagnostic;
use crate::material::System;
use crate::model::{Landing, Severity, Wish};

/// Reads `[size]`; without it every margin has to hold and nothing more is asked for.
pub(super) fn wish(root: &Section<'_>, landing: Option<&Landing>) -> Wish {
    let Some(section) = root.below("size", keys::SIZE.header, &keys::SIZE) else { return Wish::default() };
    let most_load_factor = section.number(&keys::MOST_LOAD_FACTOR);
    if let (Some(span), Some(Severity::LoadFactor(_))) =
        (most_load_factor.span(), landing.map(|l| &l.severity))
    {
        let refused = Diagnostic::error(
            "contradiction",
            "`most_load_factor` limits what a landing makes, and this landing's load factor is stated",
        )
        .help("say in [landing] how hard it comes down, as in sink_rate = \"1.6 m/s\", or leave it out");
        section.note(refused, span);
    }
    let words = [
        ("metric", [Some(System::Metric), None, None]),
        ("inch", [Some(System::Inch), None, None]),
        ("both", [Some(System::Metric), Some(System::Inch), Some(System::Swg)]),
    ];
    let sold = section.choice(&keys::SOLD, &words).value();
    Wish {
        margin: section.number(&keys::WISH_MARGIN).value().unwrap_or_default(),
        most_mass: section.quantity(&keys::MOST_MASS).take(),
        most_load_factor: most_load_factor.value(),
        sold: sold.into_iter().flatten().flatten().collect(),
    }
}
