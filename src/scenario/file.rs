//! From a path to a scenario.

use super::Scenario;
use super::read::scenario;
use crate::diagnostic::{Report, nearest};
use crate::document::Document;
use std::fmt;
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// A scenario is text of a few kilobytes; more than this is some other file.
pub const MOST_BYTES: u64 = 4 * 1024 * 1024;

/// Why a scenario could not be read.
#[derive(Debug)]
pub enum ReadError {
    /// The file itself.
    File {
        /// As the user named it.
        name: String,
        /// What is wrong with it.
        problem: String,
        /// What to do.
        help: String,
    },
    /// What it says.
    Content(Report),
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ReadError::File {
                name,
                problem,
                help,
            } => {
                write!(f, "error: cannot read {name}: {problem}\n  = help: {help}")
            }
            ReadError::Content(report) => write!(f, "{report}"),
        }
    }
}

impl std::error::Error for ReadError {}

/// Read a scenario file.
///
/// # Errors
/// The file cannot be read, is too large or is no text; or every problem of its content at once.
///
/// ```
/// let error = relatch::scenario::read(std::path::Path::new("no-such-file.toml")).unwrap_err();
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
    let name = path.display().to_string();
    let wrong = |problem: String, help: &str| ReadError::File {
        name: name.clone(),
        problem,
        help: help.into(),
    };
    let meta = std::fs::metadata(path).map_err(|e| {
        let help = match (e.kind(), neighbour(path)) {
            (std::io::ErrorKind::NotFound, Some(near)) => format!("did you mean {near}?"),
            _ => "check the path; `relatch new latch` prints a starter file".into(),
        };
        wrong(plain(&e), &help)
    })?;
    if meta.is_dir() {
        return Err(wrong(
            "it is a folder, not a file".into(),
            "name a scenario file inside it, for example one ending in .toml",
        ));
    }
    if meta.len() > MOST_BYTES {
        return Err(wrong(
            format!(
                "it holds {} MB; a scenario is text of a few kilobytes",
                meta.len() / 1_000_000
            ),
            "did you name a recorded log or a picture?",
        ));
    }
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| file.take(MOST_BYTES + 1).read_to_end(&mut bytes))
        .map_err(|e| wrong(plain(&e), "check its permissions"))?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err(wrong(
            "it is larger than a scenario can be".into(),
            "did you name a device or a recorded log?",
        ));
    }
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err(wrong(
            "it is saved as UTF-16".into(),
            "save it as UTF-8; some shells write UTF-16 when they redirect into a file",
        ));
    }
    if bytes.contains(&0) {
        return Err(wrong(
            "it is binary".into(),
            "a scenario is a text file in TOML",
        ));
    }
    match String::from_utf8(bytes) {
        Ok(text) => Ok(text),
        Err(e) => {
            let line = 1 + e.as_bytes()[..e.utf8_error().valid_up_to()]
                .iter()
                .filter(|b| **b == b'\n')
                .count();
            Err(wrong(
                format!("line {line} is not UTF-8 text"),
                "save it as UTF-8 (degrees may be written degC)",
            ))
        }
    }
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

/// The scenario file beside a missing one that is most like it.
fn neighbour(path: &Path) -> Option<String> {
    let wanted = path.file_stem()?.to_str()?;
    let folder = match path.parent() {
        Some(p) if !p.as_os_str().is_empty() => p,
        _ => Path::new("."),
    };
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .ok()?
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter_map(|name| Some(name.strip_suffix(".toml")?.to_owned()))
        .collect();
    names.sort();
    let near = nearest(wanted, names.iter().map(String::as_str))?;
    Some(
        path.with_file_name(format!("{near}.toml"))
            .display()
            .to_string(),
    )
}

fn plain(e: &std::io::Error) -> String {
    match e.kind() {
        std::io::ErrorKind::NotFound => "there is no such file".into(),
        std::io::ErrorKind::PermissionDenied => "permission denied".into(),
        _ => e.to_string(),
    }
}
