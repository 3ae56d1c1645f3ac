//! Round bar for axles.

use super::Sourced;
use crate::units::{MassDensity, Stress};

/// A material sold as round bar, rod or bolt shank.
#[derive(Debug, Clone, PartialEq)]
pub struct AxleMetal {
    /// Table name, such as `steel-8.8`.
    pub name: String,
    /// Other names it is sold under.
    pub aliases: Vec<String>,
    /// Elastic modulus.
    pub modulus: Sourced<Stress>,
    /// Poisson's ratio.
    pub poisson: Sourced<f64>,
    /// Density.
    pub density: Sourced<MassDensity>,
    /// Yield or proof strength.
    pub yield_strength: Sourced<Stress>,
    /// Tensile strength.
    pub ultimate: Sourced<Stress>,
}
