//! A validation record: what was compared with what, how closely it must agree, and why so closely.

use std::fmt;

/// What kind of thing the library is compared with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Provenance {
    /// A formula that can be derived.
    ClosedForm,
    /// A table or rule in print.
    Published,
    /// The answer of another program.
    OtherProgram,
    /// What builders find; no source.
    CommonPractice,
    /// Recalled from the named source, not seen in it.
    FromMemory,
}

impl fmt::Display for Provenance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::ClosedForm => "closed form",
            Self::Published => "published",
            Self::OtherProgram => "other program",
            Self::CommonPractice => "common practice",
            Self::FromMemory => "from memory",
        })
    }
}

/// How closely.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Tolerance {
    /// Within this fraction of the scale, on both sides.
    Within(f64),
    /// The very number, no rounding.
    Exactly,
    /// At least the expected number: for a rule of thumb that says "many times".
    AtLeast,
}

/// One number against another.
#[derive(Debug, Clone)]
pub(crate) struct Point {
    pub(crate) quantity: String,
    pub(crate) expected: f64,
    pub(crate) actual: f64,
    /// What the difference is measured by: |expected|, or the largest value of the same physical block.
    pub(crate) scale: f64,
}

impl Point {
    fn error(&self) -> f64 {
        let apart = (self.actual - self.expected).abs();
        if apart == 0.0 { 0.0 } else { apart / self.scale }
    }
}

/// A record: one line of the page, with every number behind it.
#[derive(Debug, Clone)]
pub(crate) struct Record {
    pub(crate) topic: &'static str,
    pub(crate) quantity: String,
    pub(crate) source: &'static str,
    pub(crate) provenance: Provenance,
    pub(crate) tolerance: Tolerance,
    pub(crate) because: &'static str,
    pub(crate) points: Vec<Point>,
}

/// Starts a record.
pub(crate) fn record(
    topic: &'static str,
    quantity: impl Into<String>,
    (source, provenance): (&'static str, Provenance),
    (tolerance, because): (Tolerance, &'static str),
) -> Record {
    Record { topic, quantity: quantity.into(), source, provenance, tolerance, because, points: Vec::new() }
}

impl Record {
    /// Adds a number measured by its own size.
    pub(crate) fn point(&mut self, quantity: impl Into<String>, actual: f64, expected: f64) {
        self.scaled(quantity, actual, expected, expected.abs());
    }

    /// Adds a number measured by the largest of its block.
    pub(crate) fn scaled(&mut self, quantity: impl Into<String>, actual: f64, expected: f64, scale: f64) {
        self.points.push(Point { quantity: quantity.into(), expected, actual, scale });
    }

    /// Adds three components measured by the largest of them.
    pub(crate) fn vector(&mut self, what: &str, actual: [f64; 3], expected: [f64; 3]) {
        let scale = crate::common::largest(&expected);
        for ((axis, a), e) in ["aft", "starboard", "up"].iter().zip(actual).zip(expected) {
            self.scaled(format!("{what}, {axis}"), a, e, scale);
        }
    }

    fn holds(&self, point: &Point) -> bool {
        match self.tolerance {
            Tolerance::Within(most) => point.error() <= most,
            Tolerance::Exactly => point.actual == point.expected,
            Tolerance::AtLeast => point.actual >= point.expected,
        }
    }

    /// Every number that is out of tolerance, in words; a record without numbers shows nothing and fails too.
    pub(crate) fn failures(&self) -> Vec<String> {
        if self.points.is_empty() {
            return vec![format!("{}: no numbers", self.quantity)];
        }
        self.points
            .iter()
            .filter(|p| !self.holds(p))
            .map(|p| {
                format!(
                    "{} / {} / {}: {:.12e}, expected {:.12e} ({}), off by {:.2e}, {}",
                    self.topic,
                    self.quantity,
                    p.quantity,
                    p.actual,
                    p.expected,
                    self.source,
                    p.error(),
                    self.allowed(),
                )
            })
            .collect()
    }

    fn allowed(&self) -> String {
        match self.tolerance {
            Tolerance::Within(most) => format!("within {most:e}"),
            Tolerance::Exactly => "exactly".to_owned(),
            Tolerance::AtLeast => match self.points.first() {
                Some(p) => format!("at least {}", p.expected),
                None => String::new(),
            },
        }
    }

    /// How close it came, coarse enough to read the same on every machine.
    fn reached(&self) -> String {
        match self.tolerance {
            Tolerance::Within(most) => {
                let worst = self.points.iter().map(Point::error).fold(0.0, f64::max);
                // Below 1e-10 rounding decides, which may differ from one machine to the next.
                let decade = worst.max(1e-11).log10().floor() + 1.0;
                if 10_f64.powf(decade) > 1.01 * most {
                    "as allowed".to_owned()
                } else {
                    format!("< 1e{decade:.0}")
                }
            }
            Tolerance::Exactly => "exactly".to_owned(),
            Tolerance::AtLeast => {
                let least = self.points.iter().map(|p| p.actual).fold(f64::INFINITY, f64::min);
                format!("{least:.1}")
            }
        }
    }

    /// A row of the page's table.
    pub(crate) fn row(&self) -> String {
        format!(
            "| {} | {} | {} ({}) | {} | {} | {} |",
            self.quantity,
            self.points.len(),
            self.source,
            self.provenance,
            self.allowed(),
            self.reached(),
            self.because,
        )
    }
}
