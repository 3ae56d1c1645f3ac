//! What the checks of the wood share: which of its strengths counts, and what its margins rest on.

use crate::material::{Basis, Sourced, Wood, WoodBand};
use crate::model::{Grain, Mount, WoodSpan};
use crate::results::{Amount, Margin, Term};
use crate::units::Stress;

/// Words for a strength of wood in a working: what kind of value it is, and which factors are left out.
pub(super) fn note(basis: Basis) -> &'static str {
    if basis == Basis::Typical {
        "The strength is an average of clear wood; one piece in twenty may hold only 0.6 to 0.7 of it (from memory)."
    } else {
        "A characteristic strength without the standard's k_mod and γ_M: the factors of the landing rules stand in their place. \
         For so short a load k_mod would be 1.1 (EN 1995-1-1, secondary)."
    }
}

/// Rolling shear or bending of a board that spans with or against its grain.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Strength {
    /// In bending.
    Bending,
    /// In shear between its plies; of solid wood, along its grain.
    Shear,
}

impl Strength {
    const fn words(self) -> &'static str {
        match self {
            Self::Bending => "bending strength",
            Self::Shear => "strength in shear between its plies",
        }
    }

    fn of<'w>(self, wood: &'w Wood, band: &'w WoodBand, grain: Grain) -> Option<&'w Sourced<Stress>> {
        match (self, grain) {
            (Self::Bending, Grain::Along) => band.bending_along.as_ref(),
            (Self::Bending, Grain::Across) => band.bending_across.as_ref(),
            // Solid wood shears along its grain; it has no plies to roll.
            (Self::Shear, Grain::Along) if !wood.is_plywood() => wood.panel_shear.as_ref(),
            (Self::Shear, Grain::Along) => band.rolling_shear_along.as_ref(),
            (Self::Shear, Grain::Across) => band.rolling_shear_across.as_ref(),
        }
    }
}

/// A strength of the wood that a span asks for, the row it was found in, and which way of the grain it is.
pub(super) struct Found<'w> {
    pub(super) strength: &'w Sourced<Stress>,
    pub(super) band: &'w WoodBand,
    pub(super) way: &'static str,
}

/// Finds the strength of the row nearest in thickness to a single layer, the way the grain runs; the weaker way when nobody knows.
/// Else why it can't be told: a value that the table lacks is not made up from another row or the other way.
pub(super) fn find<'m>(mount: &'m Mount, span: &WoodSpan, what: Strength) -> Result<Found<'m>, String> {
    let wood = &mount.wood;
    let lacks = |way: &str| format!("the tables give no {} of {} {way}", what.words(), wood.name);
    let Some(band) = wood.band(mount.wood_thickness) else { return Err(lacks("at all")) };
    let along = what.of(wood, band, Grain::Along);
    let across = what.of(wood, band, Grain::Across);
    let with = |found: Option<&'m Sourced<Stress>>, way: &'static str| {
        found.map(|strength| Found { strength, band, way }).ok_or_else(|| lacks(way))
    };
    match span.grain {
        Some(Grain::Along) => with(along, ALONG),
        Some(Grain::Across) => with(across, ACROSS),
        None => {
            let (Some(a), Some(b)) = (along, across) else {
                let way = if along.is_none() { ALONG } else { ACROSS };
                return Err(format!("{}, and how its grain runs is not said", lacks(way)));
            };
            let value = |strength: &Sourced<Stress>| strength.value;
            let weaker = if value(b) < value(a) { (b, ACROSS) } else { (a, ALONG) };
            Ok(Found { strength: weaker.0, band, way: weaker.1 })
        }
    }
}

const ALONG: &str = "along the grain of its face";
const ACROSS: &str = "across the grain of its face";

impl Found<'_> {
    /// Sets it as the allowable, with its terms and notes, and decides.
    pub(super) fn judge(
        &self,
        mut m: Margin,
        mount: &Mount,
        span: &WoodSpan,
        symbol: &'static str,
    ) -> Margin {
        let strength = self.strength;
        m.allowable = Some(Amount::Stress(strength.value));
        m.basis = Some(strength.basis);
        m.source = format!("{}; {}", m.source, strength.source);
        if let Some(thickness) = self.band.thickness {
            let what = "thickness of the table's row, the nearest to the board's own";
            m.working.terms.push(Term::new("t_n", what, Amount::Length(thickness)));
        }
        m.working.terms.push(Term::new(
            symbol,
            format!("strength {}", self.way),
            Amount::Stress(strength.value),
        ));
        m.working.notes.push(note(strength.basis).into());
        if span.grain.is_none() {
            m.working.notes.push("How the grain of its face runs is not said: the weaker way counts.".into());
        }
        if mount.doubler.is_some() {
            m.working.notes.push(
                "Board and doubler are taken as one piece with the strength of the single board; the glue between them isn't checked."
                    .into(),
            );
        }
        m.decided()
    }
}
