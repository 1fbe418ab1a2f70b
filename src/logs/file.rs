//! Opens a log. It is read more than once, so what flows by only once is none.

use super::error::LogError;
use std::fs::File;
use std::path::Path;

/// The file of a log at `path`, called `name`.
///
/// # Errors
/// It is no file, or cannot be opened.
pub fn open(path: &Path, name: &str) -> Result<File, LogError> {
    let name = name.to_owned();
    match std::fs::metadata(path) {
        Ok(meta) if !meta.is_file() && !meta.is_dir() => Err(LogError::Stream { name }),
        _ => File::open(path).map_err(|error| LogError::Io { name, error }),
    }
}
