//! Why there is no design.

use crate::study::population::VaryError;
use std::fmt;

/// Most combinations of words.
pub(super) const MOST_COMBINATIONS: usize = 64;

/// Why there is no part.
#[derive(Debug)]
#[non_exhaustive]
pub enum DesignError {
    /// No place within the bounds is a part that can be predicted.
    NoPart,
    /// Too many combinations of words.
    TooMany(usize),
    /// No such free number: its path, and those that there are.
    NotFree(String, Vec<String>),
    /// No two wants of the file; how many it has.
    NoWant(usize),
    /// The lot.
    Lot(VaryError),
}

impl fmt::Display for DesignError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoPart => f.write_str(
                "nowhere within these bounds is a part that can be predicted: are the bounds those \
                 of one part?",
            ),
            Self::TooMany(count) => write!(
                f,
                "the words make {count} combinations, and at most {MOST_COMBINATIONS} are tried: name fewer"
            ),
            Self::NotFree(path, free) => write!(
                f,
                "`{path}` is no free number of this file; free are {}",
                free.join(", ")
            ),
            Self::NoWant(count) => write!(
                f,
                "two different wants are meant, by their numbers from 1 to {count} in the order of the file"
            ),
            Self::Lot(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for DesignError {}

impl From<VaryError> for DesignError {
    fn from(error: VaryError) -> Self {
        Self::Lot(error)
    }
}
