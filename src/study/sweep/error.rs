//! Why there is no sweep.

use super::MOST_POINTS;
use crate::scenario::ReadError;
use std::fmt;

/// Why there is no sweep.
#[derive(Debug)]
#[non_exhaustive]
pub enum SweepError {
    /// The scenario, a path or a value is wrong.
    Read(ReadError),
    /// Not one to three paths.
    Paths(usize),
    /// A path that is moved twice.
    Twice(String),
    /// Paths that move together have as many values each.
    Uneven(Vec<u64>),
    /// More points than are computed.
    TooMany(u128),
    /// The folder of the run.
    #[cfg(feature = "files")]
    Folder(crate::study::population::VaryError),
}

impl fmt::Display for SweepError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Read(error) => error.fmt(f),
            Self::Paths(found) => {
                write!(f, "one to three paths can be swept, and {found} are given")
            }
            Self::Twice(path) => write!(f, "`{path}` is swept twice"),
            Self::Uneven(counts) => {
                let counts: Vec<String> = counts.iter().map(u64::to_string).collect();
                write!(
                    f,
                    "paths that move together need as many values each, and these have {}",
                    counts.join(", ")
                )
            }
            Self::TooMany(points) => write!(
                f,
                "this sweep has {points} points, and at most {MOST_POINTS} are computed: give fewer values, or let \
                 the paths move together with --zip"
            ),
            #[cfg(feature = "files")]
            Self::Folder(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for SweepError {}

impl From<ReadError> for SweepError {
    fn from(error: ReadError) -> Self {
        Self::Read(error)
    }
}
