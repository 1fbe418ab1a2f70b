//! Why the page has no answer.

use crate::predict::PredictError;
use std::fmt;

/// Why the page has no answer.
#[derive(Debug)]
pub enum PageError {
    /// The request asks for something that is not there or lies outside its range.
    Asked(String),
    /// The values are possible one by one, but give no scenario or no prediction.
    Impossible(String),
}

impl fmt::Display for PageError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PageError::Asked(text) | PageError::Impossible(text) => f.write_str(text),
        }
    }
}

impl std::error::Error for PageError {}

impl From<PredictError> for PageError {
    fn from(error: PredictError) -> Self {
        PageError::Impossible(error.to_string())
    }
}
