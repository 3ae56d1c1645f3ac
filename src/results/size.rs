//! Sizes that were looked for: the lightest designs that hold, and what a merchant's sizes come to.

use super::{LandingFactors, Margin};
use crate::model::Project;
use crate::units::{Length, Mass};

/// What came of looking for sizes.
#[derive(Debug, Clone, PartialEq)]
#[must_use]
pub struct SizeResult {
    /// One for each gear whose sizes were looked for, in the order of the file.
    pub gears: Vec<SizedGear>,
    /// The project with the best that was found, or as it was read first.
    pub project: Project,
    /// Whether the file left nothing open, so that thickness and wires were looked for.
    pub nothing_open: bool,
}

impl SizeResult {
    /// Whether a design was found for every gear.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.gears.iter().all(|g| g.best.is_some())
    }
}

/// What came of it for one gear.
#[derive(Debug, Clone, PartialEq)]
pub struct SizedGear {
    /// The gear's name.
    pub gear: String,
    /// Keys that were open, with how many values each was tried with.
    pub open: Vec<(String, usize)>,
    /// Designs there are.
    pub designs: usize,
    /// Of them those that can't be built as the file has it, and why the first of them can't.
    pub refused: Option<(usize, String)>,
    /// Those that no converged solution was found for.
    pub unsolved: usize,
    /// Those that came out heavier than the file allows.
    pub too_heavy: usize,
    /// Those whose every margin was found.
    pub followed: usize,
    /// The lightest design that holds.
    pub best: Option<SizedDesign>,
    /// The next lightest, lightest first.
    pub runners_up: Vec<SizedDesign>,
    /// Light against strong: of all that hold, those than which no lighter one is as strong; lightest first.
    pub front: Vec<SizedDesign>,
    /// Where none holds: the one that comes nearest.
    pub nearest: Option<SizedDesign>,
    /// What is on sale, metal by metal; empty where it was not asked for.
    pub card: Vec<CardRow>,
}

/// A design with its least margin.
#[derive(Debug, Clone, PartialEq)]
pub struct SizedDesign {
    /// Dotted keys of the file with what they become there, as it would be written.
    pub changes: Vec<(String, String)>,
    /// Mass of the gear's metal: plate, wires, axles.
    pub mass: Mass,
    /// The landing's load factors with it.
    pub factors: LandingFactors,
    /// The least of its margins.
    pub binding: Margin,
    /// Whether the least margin is no more than a bound from below: beyond it the gear was not followed.
    pub at_least: bool,
}

/// A metal on the merchant's card.
#[derive(Debug, Clone, PartialEq)]
pub struct CardRow {
    /// The metal's name; `None`: any of those on sale, the grade being unknown.
    pub metal: Option<String>,
    /// The thinnest plate that holds without wires.
    pub plain: Option<CardEntry>,
    /// The thinnest that holds with wires, where that is thinner.
    pub braced: Option<CardEntry>,
}

/// A plate on the card.
#[derive(Debug, Clone, PartialEq)]
pub struct CardEntry {
    /// Thickness as it is sold.
    pub thickness: String,
    /// Diameter of the thinnest wire that does with it, as it is sold; `None` without wires.
    pub wire: Option<String>,
    /// Mass of the gear's metal.
    pub mass: Mass,
    /// Height of the level drop after which nothing stays bent.
    pub drop_without_set: Option<Length>,
    /// The inside radius of the bends, where it has to be larger than that of the file.
    pub bend_radius: Option<Length>,
}
