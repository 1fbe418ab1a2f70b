//! A property with its range, source and uncertainty.

use super::Law;

/// One property of one material.
#[derive(Debug, Clone, PartialEq)]
pub struct Property {
    /// Value against temperature, SI.
    pub law: Law,
    /// Range of validity, K.
    pub valid_k: (f64, f64),
    /// Key in `references.toml`.
    pub source: String,
    /// Relative standard uncertainty.
    pub relative_uncertainty: f64,
    /// The value was written down from memory.
    pub from_memory: bool,
}

impl Property {
    /// Value.
    pub fn at(&self, t_k: f64) -> f64 {
        self.law.at(t_k)
    }
    /// Value and slope.
    pub fn at_with_slope(&self, t_k: f64) -> (f64, f64) {
        self.law.at_with_slope(t_k)
    }
    /// Integral.
    pub fn integral(&self, a: f64, b: f64) -> f64 {
        self.law.integral(a, b)
    }
}
