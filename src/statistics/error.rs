//! Why a statistic cannot be given.

use std::fmt;

/// What is wrong with the input of a statistic, or why it has no answer.
#[derive(Debug, Clone, PartialEq)]
pub enum StatisticsError {
    /// A number outside the range in which the function means anything (NaN included).
    OutOfRange {
        /// The argument, in words.
        what: &'static str,
        /// As given.
        value: f64,
        /// The range, in words.
        range: &'static str,
    },
    /// Fewer values than the method needs.
    TooFew {
        /// What there is too little of.
        what: &'static str,
        /// At least so many.
        needed: usize,
        /// As given.
        given: usize,
    },
    /// More than the method can serve.
    TooMany {
        /// What there is too much of.
        what: &'static str,
        /// At most so many.
        limit: u64,
        /// As given.
        given: u64,
    },
    /// Two lists that belong together differ in length.
    Lengths {
        /// The lists, in words.
        what: &'static str,
        /// Length of the first.
        first: usize,
        /// Length of the second.
        second: usize,
    },
    /// The data leave the answer undetermined; the text says how.
    Degenerate(&'static str),
    /// Two summaries were made with different settings and cannot be merged.
    Unlike(&'static str),
    /// An iteration did not end. Not reached by any input known.
    NoConvergence(&'static str),
}

impl fmt::Display for StatisticsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange { what, value, range } => {
                write!(f, "{what} is {value}, must be {range}")
            }
            Self::TooFew {
                what,
                needed,
                given,
            } => write!(f, "{given} {what}, at least {needed} are needed"),
            Self::TooMany { what, limit, given } => {
                write!(f, "{given} {what}, at most {limit} are possible")
            }
            Self::Lengths {
                what,
                first,
                second,
            } => write!(f, "{what} differ in length: {first} and {second}"),
            Self::Degenerate(why) => write!(f, "not determined by the data: {why}"),
            Self::Unlike(what) => write!(f, "cannot be merged: {what} differ"),
            Self::NoConvergence(what) => write!(f, "{what} did not converge"),
        }
    }
}

impl std::error::Error for StatisticsError {}

/// Refuses what a check did not allow. `ok` must be false for NaN.
pub(crate) fn require(
    ok: bool,
    what: &'static str,
    value: f64,
    range: &'static str,
) -> Result<(), StatisticsError> {
    if ok {
        Ok(())
    } else {
        Err(StatisticsError::OutOfRange { what, value, range })
    }
}

/// Refuses what is no probability strictly between 0 and 1.
pub(crate) fn require_open(what: &'static str, p: f64) -> Result<(), StatisticsError> {
    require(p > 0.0 && p < 1.0, what, p, "strictly between 0 and 1")
}
