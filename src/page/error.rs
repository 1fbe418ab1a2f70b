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
    /// It took longer than anybody is kept waiting.
    TooLong,
}

impl fmt::Display for PageError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PageError::Asked(text) | PageError::Impossible(text) => f.write_str(text),
            PageError::TooLong => f.write_str(
                "no answer in the time that a page is kept waiting: `relatch run` takes as long as it needs",
            ),
        }
    }
}

impl std::error::Error for PageError {}

impl From<PredictError> for PageError {
    fn from(error: PredictError) -> Self {
        match error {
            PredictError::Halted => PageError::TooLong,
            other => PageError::Impossible(other.to_string()),
        }
    }
}
