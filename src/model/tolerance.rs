//! How far a value of the project file may be off.

/// Standard deviations in a tolerance. Common practice, no source: about one piece in twenty lies outside a tolerance that is kept
/// with care but not sorted out.
pub const DEVIATIONS_IN_TOLERANCE: f64 = 2.0;

/// A value of the file that may be off, to either side.
///
/// What is said of it is counted in tolerances: a deviation of +1 is the value with its whole tolerance added.
#[derive(Debug, Clone, PartialEq)]
pub struct Tolerance {
    /// Dotted key, such as `gear.main.plate.thickness`.
    pub key: String,
    /// The value and its tolerance in words, such as `4 mm ± 0.16 mm`.
    pub words: String,
    /// Who says so.
    pub origin: ToleranceOrigin,
    /// The smallest and the largest deviation that the key accepts, in tolerances; both zero for a value known exactly.
    pub room: (f64, f64),
}

/// Who says how far a value may be off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ToleranceOrigin {
    /// The project file.
    Written,
    /// Nobody: it is what such a value is usually off by, and why.
    Usual(&'static str),
}
