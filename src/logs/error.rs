//! Why a log cannot be read.

use super::account::Account;
use crate::diagnostic::{Problem, Report};
use std::fmt;

/// A part of the layout, or what is in its way.
pub(super) type Planned<T> = Result<T, Box<Problem>>;

/// A problem in the way.
pub(super) fn ask<T>(problem: Problem) -> Planned<T> {
    Err(Box::new(problem))
}

/// Why a log cannot be read.
#[derive(Debug)]
pub enum LogError {
    /// The file could not be read.
    Io {
        /// Name of the log.
        name: String,
        /// What the system said.
        error: std::io::Error,
    },
    /// It is a pipe or a device, which can be read only once.
    Stream {
        /// Name of the log.
        name: String,
    },
    /// There is nothing in it.
    Empty {
        /// Name of the log.
        name: String,
    },
    /// Its columns could not be understood, or a question has to be answered first. The report
    /// shows the place and what to do.
    Layout(Box<Report>),
    /// No row could be used.
    NoRow {
        /// Name of the log.
        name: String,
        /// What is wrong with the rows.
        account: Box<Account>,
    },
}

impl fmt::Display for LogError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LogError::Io { name, error } => write!(
                f,
                "error: cannot read {name}: {error}\n  = help: check that the file is whole and still there"
            ),
            LogError::Stream { name } => write!(
                f,
                "error: {name} is a pipe or a device, not a file\n  = help: a log is read more than once: write what the pipe carries into a file first"
            ),
            LogError::Empty { name } => write!(
                f,
                "error: {name} is empty\n  = help: a log has one row a line, with a time and a current"
            ),
            LogError::Layout(report) => report.fmt(f),
            LogError::NoRow { name, account } => {
                writeln!(f, "error: no row of {name} could be used")?;
                account.fmt(f)?;
                write!(
                    f,
                    "  = help: a row needs a time and a current, for example \
                     `2024-03-05 14:00:00;9.4`"
                )
            }
        }
    }
}

impl std::error::Error for LogError {}
