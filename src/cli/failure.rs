//! How a command ends when it does not end well.

use super::output::folded;
use crate::present::FilesError;
use crate::present::block::harmless;
use std::io::{IsTerminal, Write};
use std::process::ExitCode;

/// Why a command stops.
#[derive(Debug)]
pub enum Failure {
    /// Wrong input or usage: the message says what to change.
    Input(String),
    /// The computation is impossible or failed, or a file could not be written.
    Failed(String),
    /// Failures that were reported when they happened.
    Reported,
    /// Whoever read the output has gone: nobody is left to tell.
    ReaderGone,
}

impl Failure {
    /// An option that cannot be, by the name of its flag.
    pub fn of_flag(option: &str, what: &str) -> Failure {
        Failure::Input(format!("error: --{}: {what}", option.replace('_', "-")))
    }

    /// Says it on standard error and returns the exit code.
    pub fn report(self) -> ExitCode {
        match self {
            Self::Input(message) => {
                say(&message);
                ExitCode::from(2)
            }
            Self::Failed(message) => {
                say(&message);
                ExitCode::from(1)
            }
            Self::Reported => ExitCode::from(1),
            Self::ReaderGone => ExitCode::SUCCESS,
        }
    }
}

/// An answer that cannot be written as JSON.
impl From<serde_json::Error> for Failure {
    fn from(error: serde_json::Error) -> Self {
        Self::Failed(format!("error: cannot write JSON: {error}"))
    }
}

impl From<FilesError> for Failure {
    fn from(error: FilesError) -> Self {
        let message = format!("error: {error}");
        match error {
            FilesError::NotEmpty(_) | FilesError::NotAFolder(_) => Self::Input(message),
            FilesError::Disk { .. } | FilesError::Render(_) => Self::Failed(message),
        }
    }
}

/// A line on standard error; a closed standard error is no reason to stop.
pub fn say(message: &str) {
    let said = harmless(message.trim_end());
    // Whoever reads a file of errors searches it for whole lines.
    let said = match std::io::stderr().is_terminal() {
        true => folded(&said),
        false => said.into_owned(),
    };
    let _ = writeln!(std::io::stderr(), "{said}");
}
