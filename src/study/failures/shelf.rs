//! What was computed, kept until the whole is there: a run that was stopped goes on.

/// Keeps lists of numbers by name.
pub trait Shelf: Sync {
    /// What was kept under this name.
    fn get(&self, name: &str) -> Option<Vec<f64>>;
    /// Keeps it. What cannot be kept is computed again: that costs time and nothing else.
    fn put(&self, name: &str, numbers: &[f64]);
}

/// Keeps nothing.
pub struct NoShelf;

impl Shelf for NoShelf {
    fn get(&self, _: &str) -> Option<Vec<f64>> {
        None
    }

    fn put(&self, _: &str, _: &[f64]) {}
}

/// What was kept, else what is computed and then kept.
pub(super) fn kept<E>(
    shelf: &dyn Shelf,
    name: &str,
    compute: impl FnOnce() -> Result<Vec<f64>, E>,
) -> Result<Vec<f64>, E> {
    if let Some(numbers) = shelf.get(name) {
        return Ok(numbers);
    }
    let numbers = compute()?;
    shelf.put(name, &numbers);
    Ok(numbers)
}

#[cfg(feature = "files")]
pub use folder::FolderShelf;

#[cfg(feature = "files")]
mod folder {
    use super::Shelf;
    use crate::document::temporary;
    use std::fs;
    use std::io::{self, Write};
    use std::path::{Path, PathBuf};

    /// File that says of which run the numbers are.
    const RUN: &str = "run.txt";

    /// A folder with a file a list: its checksum (CRC-32), then its numbers.
    #[derive(Debug)]
    pub struct FolderShelf {
        folder: PathBuf,
        /// Lists that were there when it was opened.
        pub found: usize,
    }

    impl FolderShelf {
        /// The folder of a run, made anew, or with what the same run has left in it; `run` is all that
        /// its numbers follow from.
        ///
        /// # Errors
        /// It holds something else; or the disk refuses.
        pub fn open(folder: &Path, run: &str) -> io::Result<FolderShelf> {
            let about = folder.join(RUN);
            let mut found = 0;
            if folder.exists() {
                if fs::read_to_string(&about).ok().as_deref() != Some(run) {
                    return Err(io::Error::other("it holds something else, or another run"));
                }
                found = fs::read_dir(folder)?.count().saturating_sub(1);
            } else {
                fs::create_dir_all(folder)?;
                write_whole(&about, run.as_bytes())?;
            }
            Ok(FolderShelf {
                folder: folder.to_owned(),
                found,
            })
        }

        /// Takes it away, with what it keeps.
        pub fn clear(self) {
            // What stays is found by the next run, or by whoever looks.
            let _ = fs::remove_dir_all(&self.folder);
        }
    }

    impl Shelf for FolderShelf {
        fn get(&self, name: &str) -> Option<Vec<f64>> {
            let bytes = fs::read(self.folder.join(name)).ok()?;
            let (sum, rest) = bytes.split_first_chunk::<4>()?;
            let (numbers, odd) = rest.as_chunks::<8>();
            let is_whole = odd.is_empty() && crc32fast::hash(rest) == u32::from_le_bytes(*sum);
            is_whole.then(|| numbers.iter().map(|b| f64::from_le_bytes(*b)).collect())
        }

        fn put(&self, name: &str, numbers: &[f64]) {
            let rest: Vec<u8> = numbers.iter().flat_map(|x| x.to_le_bytes()).collect();
            let sum = crc32fast::hash(&rest).to_le_bytes();
            let _ = write_whole(&self.folder.join(name), &[&sum[..], &rest].concat());
        }
    }

    fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
        let mut file = temporary(path.parent().unwrap_or(Path::new(".")))?;
        file.write_all(bytes)?;
        file.persist(path).map_err(|e| e.error)?;
        Ok(())
    }
}
