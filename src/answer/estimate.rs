//! A number and how far it can be trusted.

use serde::{Deserialize, Serialize};

/// A value with its numerical error and, where something else is uncertain too, the interval it
/// lies in.
///
/// Whose unit it has, the name of the field says that holds it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Estimate {
    /// The value, finite.
    pub value: f64,
    /// Numerical error relative to the value, 0..; `None` where it was not estimated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub error_relative: Option<f64>,
    /// 5 % and 95 % of what it may be, where parts, evidence or data leave it open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub band: Option<[f64; 2]>,
}

impl Estimate {
    /// A value without a stated error.
    pub fn of(value: f64) -> Self {
        Self {
            value,
            error_relative: None,
            band: None,
        }
    }

    /// A value with its relative numerical error.
    pub fn with_error(value: f64, error_relative: Option<f64>) -> Self {
        Self {
            error_relative: error_relative.filter(|e| e.is_finite()),
            ..Self::of(value)
        }
    }

    /// A value with the interval it lies in.
    pub fn within(value: f64, low: f64, high: f64) -> Self {
        Self {
            band: Some([low, high]),
            ..Self::of(value)
        }
    }
}

impl From<f64> for Estimate {
    fn from(value: f64) -> Self {
        Self::of(value)
    }
}
