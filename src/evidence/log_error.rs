//! Why a log says nothing for a case.

use super::Noted;
use super::log_words::span_words;
use crate::logs::LogError;
use std::fmt;

/// Why a log says nothing for a case.
#[derive(Debug)]
pub enum FromLogError {
    /// It cannot be read.
    Log(LogError),
    /// It holds no current.
    NoCurrent,
    /// It falls to zero at these times since the first row, s, this often: which are trips?
    WhichFalls(Vec<f64>, usize),
    /// There is no fall to zero, although trips were named.
    NoFall,
    /// No fall is near what was noted; the nearest is this long after the first row, s, and so far
    /// from it, s.
    NotNear(Noted, f64, f64),
    /// A time of the day was noted, but the log has no dates.
    NoClock,
    /// So many falls to zero are a duty, not trips.
    TooMany(usize),
}

impl From<LogError> for FromLogError {
    fn from(e: LogError) -> Self {
        FromLogError::Log(e)
    }
}

impl fmt::Display for FromLogError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FromLogError::Log(e) => e.fmt(f),
            FromLogError::NoCurrent => write!(f, "no current ever flows in it"),
            FromLogError::WhichFalls(at, n) => {
                let times: Vec<String> = at.iter().map(|t| span_words(*t)).collect();
                let more = if *n > at.len() { ", ..." } else { "" };
                write!(
                    f,
                    "its current falls to zero {n} times ({}{more} after the first row): which are trips?",
                    times.join(", ")
                )
            }
            FromLogError::NoFall => write!(f, "its current never falls to zero from a load"),
            FromLogError::NotNear(noted, nearest_s, off_s) => write!(
                f,
                "no fall to zero lies near {noted}; the nearest is {} after the first row, {} off",
                span_words(*nearest_s),
                span_words(*off_s)
            ),
            FromLogError::NoClock => write!(f, "it has no time of the day"),
            FromLogError::TooMany(n) => write!(
                f,
                "its current falls to zero {n} times: that is a duty, not a row of trips"
            ),
        }
    }
}

impl std::error::Error for FromLogError {}
