//! What the margins of a check come to when nothing is quite what the file says.

/// The answer of a check over many samples.
#[derive(Debug, Clone, PartialEq)]
#[must_use]
pub struct Spread {
    /// Samples that were drawn.
    pub samples: usize,
    /// Those that made a project that can't be, as when a thin leg is cut through by its axle.
    pub refused: usize,
    /// What was wrong with the first of these.
    pub first_refusal: Option<String>,
    /// Those for which no answer was found.
    pub unsolved: usize,
    /// What the samples were drawn from.
    pub seed: u64,
    /// Whether only the tolerances that the file states were counted.
    pub only_written: bool,
    /// What varies.
    pub inputs: Vec<SpreadInput>,
    /// Names of the gears whose metal nobody knows: its strength does not vary, and what rests on it stays untold.
    pub unknown_metals: Vec<String>,
    /// Each margin, in its worst landing of each sample; the likeliest to fail first, then the smallest.
    pub margins: Vec<MarginSpread>,
    /// The smallest margin of each sample; `None` when none could be told.
    pub smallest: Option<Likely>,
    /// The chance that anything fails.
    pub any_fails: Chance,
    /// What makes the smallest margin spread, the most first.
    pub causes: Vec<Cause>,
}

impl Spread {
    /// How many margins no sample told.
    #[must_use]
    pub fn untold_margins(&self) -> usize {
        self.margins.iter().filter(|m| m.likely.is_none()).count()
    }

    /// Where the smallest margin of a sample is this, it is so much or more; `None` where it is told exactly.
    #[must_use]
    pub fn smallest_told_up_to(&self) -> Option<f64> {
        self.margins.iter().filter(|m| m.likely.is_some()).filter_map(|m| m.told_up_to).reduce(f64::min)
    }
}

/// Something that varies.
#[derive(Debug, Clone, PartialEq)]
pub struct SpreadInput {
    /// Dotted key of the file, or the name of what else varies below such a key.
    pub key: String,
    /// What it is and by how much, such as `4 mm ± 0.16 mm`.
    pub words: String,
    /// Who says so, or why it is taken so.
    pub why: String,
}

/// How one margin spreads.
#[derive(Debug, Clone, PartialEq)]
pub struct MarginSpread {
    /// The check it comes from.
    pub check: &'static str,
    /// The gear's name.
    pub gear: String,
    /// The part.
    pub part: String,
    /// Its likely range; `None` when no sample told it.
    pub likely: Option<Likely>,
    /// The chance that it fails.
    pub fails: Chance,
    /// Where this is the margin, it is so much or more: the gear is not followed any further. `None` where it is told exactly.
    pub told_up_to: Option<f64>,
    /// Samples in which it could not be told.
    pub untold: usize,
    /// What makes it spread, the most first.
    pub causes: Vec<Cause>,
}

/// A likely range: nine in ten samples lie in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Likely {
    /// One in twenty lies below.
    pub p05: f64,
    /// Half lie below.
    pub p50: f64,
    /// One in twenty lies above.
    pub p95: f64,
}

/// A chance that was estimated from samples.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chance {
    /// The share of samples.
    pub estimate: f64,
    /// By how much more or less it may be, at 95 %.
    pub error: f64,
    /// How many samples it happened in.
    pub times: usize,
    /// How many there were.
    pub of: usize,
}

/// How much of a spread one input causes by itself.
#[derive(Debug, Clone, PartialEq)]
pub struct Cause {
    /// The input's key.
    pub key: String,
    /// Its share of the variance.
    pub share: f64,
}

impl Chance {
    /// For something that no sample showed: it is rarer than once in so many, at 95 %. `None` when it did happen.
    ///
    /// 3/n, the rule of three: of n independent samples none shows what has the chance 3/n in one case of twenty, (1 − 3/n)ⁿ = e⁻³.
    #[must_use]
    pub const fn rarer_than_once_in(&self) -> Option<usize> {
        if self.times == 0 { Some(self.of / 3) } else { None }
    }
}
