//! A published characteristic as a file.

use super::read::datasheet;
use crate::document::{Document, FileKind, ReadError, read_file};
use crate::family::Nameplate;
use std::path::Path;

const KIND: FileKind = FileKind {
    noun: "datasheet",
    starter: "relatch new datasheet",
};

/// What is published of a protector.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Datasheet {
    /// What it is called.
    pub title: String,
    /// Where the numbers come from, in the author's words.
    pub shows: String,
    /// What is printed.
    pub nameplate: Nameplate,
}

impl Datasheet {
    /// A sheet of which nothing is known but the nameplate.
    pub fn of(nameplate: Nameplate) -> Datasheet {
        Datasheet {
            title: String::new(),
            shows: String::new(),
            nameplate,
        }
    }
}

/// Read a datasheet.
///
/// # Errors
/// The file cannot be read, is too large or is no text; or every problem of its content at once.
///
/// ```
/// let error = relatch::internals::evidence::read_datasheet(std::path::Path::new("no-such.toml")).unwrap_err();
/// assert!(error.to_string().contains("no-such.toml"));
/// ```
pub fn read_datasheet(path: &Path) -> Result<Datasheet, ReadError> {
    read_datasheet_text(&path.display().to_string(), &read_file(path, KIND)?)
}

/// Read a datasheet from text; `name` stands in messages.
///
/// # Errors
/// Every problem at once.
///
/// ```
/// use relatch::internals::evidence::{datasheet_starter, read_datasheet_text};
/// let sheet = read_datasheet_text("starter", datasheet_starter()).unwrap();
/// assert_eq!(sheet.nameplate.rated_current_a, 10.0);
/// ```
pub fn read_datasheet_text(name: &str, text: &str) -> Result<Datasheet, ReadError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Err(ReadError::File {
            name: name.into(),
            problem: "it is empty".into(),
            help: "`relatch new datasheet` prints a commented starter file".into(),
        });
    }
    let document = Document::parse(name, text);
    let sheet = if document.has_problems() {
        None
    } else {
        datasheet(&document.root())
    };
    match (document.finish(), sheet) {
        (Ok(_), Some(sheet)) => Ok(sheet),
        (Err(report), _) => Err(ReadError::Content(report)),
        (Ok(_), None) => Err(ReadError::File {
            name: name.into(),
            problem: "it could not be understood".into(),
            help: "please report this file: every refusal should name its reason".into(),
        }),
    }
}

/// A commented starter file for `relatch new datasheet`.
pub fn datasheet_starter() -> &'static str {
    include_str!("starters/datasheet.toml")
}
