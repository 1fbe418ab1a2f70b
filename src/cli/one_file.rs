//! One output file: whole or not at all, and never over another unless told to.

use super::Failure;
use std::fs;
use std::io::Write;
use std::path::Path;

/// Refuses at once what [`write`] would refuse later.
pub(super) fn check(path: &Path, force: bool) -> Result<(), Failure> {
    if path.is_dir() {
        return Err(Failure::Input(format!(
            "error: {} is a folder: name a file in it",
            path.display()
        )));
    }
    if path.exists() && !force {
        return Err(Failure::Input(format!(
            "error: {} is already there: choose another name, or replace it with --force",
            path.display()
        )));
    }
    Ok(())
}

/// Writes the file.
pub(super) fn write(path: &Path, text: &str, force: bool) -> Result<(), Failure> {
    check(path, force)?;
    let failed =
        |e: std::io::Error| Failure::Failed(format!("error: cannot write {}: {e}", path.display()));
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    fs::create_dir_all(folder).map_err(failed)?;
    let mut builder = tempfile::Builder::new();
    builder.prefix(".relatch-").suffix(".part");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    let mut file = builder.tempfile_in(folder).map_err(failed)?;
    file.as_file_mut()
        .write_all(text.as_bytes())
        .map_err(failed)?;
    let kept = if force {
        file.persist(path).map(drop)
    } else {
        file.persist_noclobber(path).map(drop)
    };
    kept.map_err(|e| failed(e.error))
}
