//! Why failures per year cannot be computed.

use crate::device::DeviceError;
use crate::predict::PredictError;
use crate::study::ageing::AgeError;
use crate::study::population::VaryError;
use std::fmt;

/// Why failures per year cannot be computed.
#[derive(Debug)]
#[non_exhaustive]
pub enum FailuresError {
    /// Of the wear.
    Age(AgeError),
    /// Of the tolerances.
    Vary(VaryError),
    /// An option that cannot be.
    Option {
        /// Which.
        option: &'static str,
        /// What it is, and what is allowed.
        what: String,
    },
    /// A part within its tolerances has no steady state, or cannot be set.
    Part {
        /// What is the matter with it.
        what: &'static str,
        /// What differs from the middle there, as path and value.
        at: Vec<String>,
    },
}

impl FailuresError {
    /// Whether the input is wrong rather than the computation impossible.
    pub fn is_input(&self) -> bool {
        match self {
            Self::Age(e) => matches!(e, AgeError::NoAgeing | AgeError::LostAtStart(_)),
            Self::Vary(e) => e.is_input(),
            Self::Option { .. } | Self::Part { .. } => true,
        }
    }
}

impl fmt::Display for FailuresError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Age(e) => write!(f, "{e}"),
            Self::Vary(e) => write!(f, "{e}"),
            Self::Option { option, what } => write!(f, "{option}: {what}"),
            Self::Part { what, at } => write!(
                f,
                "a part within the tolerances {what}: {}\n  = help: a tolerance is a standard uncertainty, about a \
                 third of what a drawing allows; parts are asked for up to five of them from the middle",
                at.join(", ")
            ),
        }
    }
}

impl std::error::Error for FailuresError {}

impl From<AgeError> for FailuresError {
    fn from(e: AgeError) -> Self {
        Self::Age(e)
    }
}

impl From<VaryError> for FailuresError {
    fn from(e: VaryError) -> Self {
        Self::Vary(e)
    }
}

impl From<PredictError> for FailuresError {
    fn from(e: PredictError) -> Self {
        Self::Age(e.into())
    }
}

impl From<DeviceError> for FailuresError {
    fn from(e: DeviceError) -> Self {
        Self::Age(e.into())
    }
}
