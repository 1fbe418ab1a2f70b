//! Text files that people write: read whole, with plain words for what is wrong with the file
//! itself.

use crate::diagnostic::{Report, nearest};
use std::fmt;
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// A file in TOML is text of a few kilobytes; more than this is some other file.
pub const MOST_BYTES: u64 = 4 * 1024 * 1024;

/// What kind of file is wanted, for messages.
#[derive(Debug, Clone, Copy)]
pub struct FileKind {
    /// `scenario`.
    pub noun: &'static str,
    /// Command that prints a starter file.
    pub starter: &'static str,
}

/// Why a file could not be read.
#[derive(Debug)]
#[non_exhaustive]
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

/// The text of a file.
///
/// # Errors
/// It cannot be read, is too large or is no text.
pub fn read_file(path: &Path, kind: FileKind) -> Result<String, ReadError> {
    let FileKind { noun, starter } = kind;
    let name = path.display().to_string();
    let wrong = |problem: String, help: &str| ReadError::File {
        name: name.clone(),
        problem,
        help: help.into(),
    };
    let meta = std::fs::metadata(path).map_err(|e| {
        let help = match (e.kind(), neighbour(path)) {
            (std::io::ErrorKind::NotFound, Some(near)) => format!("did you mean {near}?"),
            _ => format!("check the path; `{starter}` prints a starter file"),
        };
        wrong(plain(&e), &help)
    })?;
    if meta.is_dir() {
        return Err(wrong(
            "it is a folder, not a file".into(),
            &format!("name a {noun} file inside it, for example one ending in .toml"),
        ));
    }
    // A pipe that the shell has opened has a name under /dev and somebody who writes.
    if !meta.is_file() && !path.starts_with("/dev") {
        return Err(wrong(
            "it is a pipe or a device, not a file".into(),
            "where nobody writes into it, reading would never end; `-` reads standard input",
        ));
    }
    if meta.len() > MOST_BYTES {
        return Err(wrong(
            format!(
                "it holds {} MB; a {noun} is text of a few kilobytes",
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
            format!("it is larger than a {noun} can be"),
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
            &format!("a {noun} is a text file in TOML"),
        ));
    }
    String::from_utf8(bytes).map_err(|e| {
        let line = 1 + e.as_bytes()[..e.utf8_error().valid_up_to()]
            .iter()
            .filter(|b| **b == b'\n')
            .count();
        wrong(
            format!("line {line} is not UTF-8 text"),
            "save it as UTF-8 (degrees may be written degC)",
        )
    })
}

/// The file in TOML beside a missing one that is most like it.
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
