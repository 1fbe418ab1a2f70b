//! Files that are there as a whole or not at all: written under another name first.

use std::path::Path;
use tempfile::NamedTempFile;

/// How the names of files begin that are not whole yet.
pub(crate) const TEMPORARY: &str = ".relatch-";

/// A file of a temporary name in the folder, with the permissions of an ordinary new file.
pub(crate) fn temporary(folder: &Path) -> std::io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(TEMPORARY).suffix(".part");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(std::fs::Permissions::from_mode(0o666));
    }
    builder.tempfile_in(folder)
}
