//! Why there is no explanation.

use crate::predict::PredictError;
use std::fmt;

/// Why there is no explanation.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum ByHandError {
    /// The full model has no answer to stand beside.
    Predict(PredictError),
    /// Strips of several poles push one bar: that is not worked by hand.
    SeveralPoles,
    /// The shell of a disc is not worked by hand.
    Disc,
    /// A latch that follows the air is not worked by hand.
    Compensated,
    /// A formula of this program cannot be read or misses a quantity: a mistake in the program.
    Formula(String),
}

impl fmt::Display for ByHandError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Predict(error) => write!(f, "{error}"),
            Self::SeveralPoles => f.write_str(
                "a part of several poles is not worked by hand: leave [poles] out for one of its strips",
            ),
            Self::Disc => f.write_str(
                "a disc is not worked by hand: its shell has no formula; `relatch run` gives its \
                 one-term form beside it",
            ),
            Self::Compensated => f.write_str(
                "a latch that follows the air is not worked by hand: leave `compensating_strip` out of \
                 [latch] for the strip alone",
            ),
            Self::Formula(text) => write!(
                f,
                "a formula of this program cannot be evaluated, which is a mistake in it: {text}"
            ),
        }
    }
}

impl std::error::Error for ByHandError {}

impl From<PredictError> for ByHandError {
    fn from(error: PredictError) -> Self {
        Self::Predict(error)
    }
}
