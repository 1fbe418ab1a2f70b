//! A number with its standard uncertainty.

/// A measured number and its standard uncertainty, both in the SI unit that the field names.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// Value.
    pub value: f64,
    /// Standard uncertainty (>= 0).
    pub standard_uncertainty: f64,
}

impl Measured {
    /// A value and its standard uncertainty.
    pub fn new(value: f64, standard_uncertainty: f64) -> Measured {
        Measured {
            value,
            standard_uncertainty,
        }
    }

    /// Relative standard uncertainty.
    pub fn relative(&self) -> f64 {
        self.standard_uncertainty / self.value.abs().max(f64::MIN_POSITIVE)
    }
}
