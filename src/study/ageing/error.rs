//! Why an ageing study cannot be made.

use crate::device::DeviceError;
use crate::predict::PredictError;
use crate::statistics::StatisticsError;
use std::fmt;

/// Why an ageing study cannot be made.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum AgeError {
    /// The scenario does not say how the part ages.
    NoAgeing,
    /// An option that cannot be.
    Option {
        /// Which.
        option: &'static str,
        /// What it is, and what is allowed.
        what: String,
    },
    /// What is lost at the start leaves no part to look at.
    LostAtStart(f64),
    /// A prediction failed.
    Predict(PredictError),
    /// Chance could not be drawn.
    Statistics(StatisticsError),
}

impl fmt::Display for AgeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            AgeError::NoAgeing => write!(
                f,
                "the scenario does not say how the part ages\n  = help: add [ageing] with the constants of its \
                 spring (there are no defaults: no public figure exists) and [duty]; \
                 scenarios/06-irrigation-pump-new.toml shows both"
            ),
            AgeError::Option { option, what } => write!(f, "{option}: {what}"),
            AgeError::LostAtStart(loss) => write!(
                f,
                "{:.1} % of the preload is lost before the first year; from 95 % on the model does not hold",
                100.0 * loss
            ),
            AgeError::Predict(e) => write!(f, "{e}"),
            AgeError::Statistics(e) => write!(f, "{e}"),
        }
    }
}

impl std::error::Error for AgeError {}

impl From<PredictError> for AgeError {
    fn from(e: PredictError) -> Self {
        AgeError::Predict(e)
    }
}

impl From<DeviceError> for AgeError {
    fn from(e: DeviceError) -> Self {
        AgeError::Predict(e.into())
    }
}

impl From<StatisticsError> for AgeError {
    fn from(e: StatisticsError) -> Self {
        AgeError::Statistics(e)
    }
}
