//! A finished chunk on disk: its tally, and its lines of the table of units where there is one.
//!
//! The tally is written last and under a temporary name first, so that a piece is there as a whole
//! or not at all. It holds a checksum (CRC-32) of itself and one of the lines: a piece that was
//! changed since is not taken in.

use super::VaryError;
use super::ledger::{damaged, write_whole};
use super::tally::Tally;
use serde::{Deserialize, Serialize};
use std::fs;
use std::path::{Path, PathBuf};

/// What the file of a tally holds.
#[derive(Debug, Serialize, Deserialize)]
pub struct Piece {
    /// Checksum of the tally as it is written.
    tally_crc32: u32,
    /// Checksum of the lines of the table; `None`: there are none.
    lines_crc32: Option<u32>,
    /// What the units leave behind.
    pub tally: Tally,
}

/// The file of a tally.
fn tally_path(folder: &Path, chunk: u64) -> PathBuf {
    folder.join(format!("{chunk:06}.json"))
}

/// The file of the lines of the table.
fn lines_path(folder: &Path, chunk: u64) -> PathBuf {
    folder.join(format!("{chunk:06}.csv"))
}

/// Whether the chunk is finished.
pub fn is_there(folder: &Path, chunk: u64) -> bool {
    tally_path(folder, chunk).exists()
}

/// Keep a chunk.
///
/// # Errors
/// The disk refuses.
pub fn keep(folder: &Path, chunk: u64, tally: Tally, lines: Option<&str>) -> Result<(), VaryError> {
    if let Some(lines) = lines {
        write_whole(&lines_path(folder, chunk), lines.as_bytes())?;
    }
    let path = tally_path(folder, chunk);
    let piece = Piece {
        tally_crc32: checksum(&tally, &path)?,
        lines_crc32: lines.map(|lines| crc32fast::hash(lines.as_bytes())),
        tally,
    };
    let text = serde_json::to_vec(&piece).map_err(|e| damaged(&path, &e))?;
    write_whole(&path, &text)
}

/// A kept tally, and where it was read.
///
/// # Errors
/// It cannot be read, or was changed since it was written.
pub fn read(folder: &Path, chunk: u64) -> Result<(PathBuf, Piece), VaryError> {
    let path = tally_path(folder, chunk);
    let bytes = fs::read(&path).map_err(VaryError::disk("read", &path))?;
    let piece: Piece = serde_json::from_slice(&bytes).map_err(|e| damaged(&path, &e))?;
    if checksum(&piece.tally, &path)? == piece.tally_crc32 {
        Ok((path, piece))
    } else {
        Err(changed(path))
    }
}

impl Piece {
    /// The kept lines of the table.
    ///
    /// # Errors
    /// They cannot be read, or were changed since they were written.
    pub fn lines(&self, folder: &Path, chunk: u64) -> Result<Vec<u8>, VaryError> {
        let path = lines_path(folder, chunk);
        let bytes = fs::read(&path).map_err(VaryError::disk("read", &path))?;
        if self.lines_crc32 == Some(crc32fast::hash(&bytes)) {
            Ok(bytes)
        } else {
            // Without its tally the chunk is computed anew, lines and all.
            Err(changed(tally_path(folder, chunk)))
        }
    }
}

fn checksum(tally: &Tally, path: &Path) -> Result<u32, VaryError> {
    let text = serde_json::to_vec(tally).map_err(|e| damaged(path, &e))?;
    Ok(crc32fast::hash(&text))
}

fn changed(path: PathBuf) -> VaryError {
    let why = "its checksum does not fit: the piece was changed since it was written".to_owned();
    VaryError::Damaged { path, why }
}
