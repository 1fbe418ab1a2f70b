//! From a path to a scenario.

use super::Scenario;
use super::read::scenario;
use crate::document::{Document, FileKind, read_file};
pub use crate::document::{MOST_BYTES, ReadError};
use std::path::Path;

const KIND: FileKind = FileKind {
    noun: "scenario",
    starter: "relatch new latch",
};

/// Read a scenario file.
///
/// # Errors
/// The file cannot be read, is too large or is no text; or every problem of its content at once.
///
/// ```
/// let error = relatch::internals::scenario::read(std::path::Path::new("no-such-file.toml")).unwrap_err();
/// assert!(error.to_string().contains("no-such-file.toml"));
/// ```
pub fn read(path: &Path) -> Result<Scenario, ReadError> {
    read_text(&path.display().to_string(), &file_text(path)?)
}

/// The text of a scenario file, not yet looked into.
///
/// # Errors
/// The file cannot be read, is too large or is no text.
pub fn file_text(path: &Path) -> Result<String, ReadError> {
    read_file(path, KIND)
}

/// Read a scenario from text; `name` stands in messages.
///
/// # Errors
/// Every problem at once.
pub fn read_text(name: &str, text: &str) -> Result<Scenario, ReadError> {
    // A byte-order mark that an editor left in front is not part of the text.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Err(ReadError::File {
            name: name.into(),
            problem: "it is empty".into(),
            help: "`relatch new latch` prints a commented starter file".into(),
        });
    }
    let document = Document::parse(name, text);
    // What follows a fault of grammar would be reported as missing, which helps nobody.
    let read = if document.has_problems() {
        None
    } else {
        scenario(&document.root())
    };
    match (document.finish(), read) {
        (Ok(tolerances), Some(mut scenario)) => {
            scenario.tolerances = tolerances.into_iter().map(Into::into).collect();
            Ok(scenario)
        }
        (Err(report), _) => Err(ReadError::Content(report)),
        (Ok(_), None) => Err(ReadError::File {
            name: name.into(),
            problem: "it could not be understood".into(),
            help: "please report this file: every refusal should name its reason".into(),
        }),
    }
}
