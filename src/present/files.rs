//! The output folder: never over an old one unless told to, and no half-written file ever.
//!
//! Everything is rendered before the disk is touched. Then every file is written under a temporary
//! name in the folder itself, and only when all of them are complete do they get their names.

use super::plot::moving::{GIF_WIDTH, moving, strike_of_width};
use super::plot::{self, PlotError, Print, mechanism::mechanism};
use super::words::computed_from;
use super::{
    ambient_correction_csv, characteristic_csv, dial_csv, json, preload_shift_csv, series_csv,
};
use crate::document::temporary;
use crate::predict::Outcome;
use std::fmt;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Where the files of one outcome go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Folder {
    /// A new folder `relatch-out-STEM` inside `parent`, numbered when the name is taken.
    New {
        /// Folder in which it is made.
        parent: PathBuf,
        /// Stem of the scenario's file name.
        stem: String,
    },
    /// This folder: new or empty, or with anything in it when `force`.
    Given {
        /// The folder.
        path: PathBuf,
        /// Whether files of the same name may be replaced.
        force: bool,
    },
}

/// Files that were written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Written {
    /// The folder.
    pub folder: PathBuf,
    /// Names inside it, in order.
    pub names: Vec<String>,
}

/// Width of the picture of the mechanism at work, pixels.
const MECHANISM_WIDTH: u32 = 1200;

/// How the files of an outcome are drawn.
#[derive(Debug, Clone, Copy, Default)]
pub struct Look {
    /// How figures are laid out, coloured and written.
    pub print: Print,
    /// Whether the moving picture is written, too; the outcome must keep its frames.
    pub moving: bool,
}

/// Why there are no files.
#[derive(Debug)]
pub enum FilesError {
    /// The folder holds something and `force` was not given.
    NotEmpty(PathBuf),
    /// The path is not a folder.
    NotAFolder(PathBuf),
    /// The disk refused.
    Disk {
        /// What was being done.
        doing: &'static str,
        /// To which path.
        path: PathBuf,
        /// Why not.
        source: io::Error,
    },
    /// An output could not be rendered.
    Render(String),
}

impl fmt::Display for FilesError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotEmpty(path) => write!(
                f,
                "the output folder {} already holds files: choose another, or replace files of \
                 the same name with --force",
                path.display()
            ),
            Self::NotAFolder(path) => {
                write!(
                    f,
                    "the output folder {} is a file: choose another",
                    path.display()
                )
            }
            Self::Disk {
                doing,
                path,
                source,
            } => {
                write!(f, "cannot {doing} {}: {source}", path.display())
            }
            Self::Render(why) => write!(f, "cannot render an output: {why}; nothing was written"),
        }
    }
}

impl std::error::Error for FilesError {}

impl From<PlotError> for FilesError {
    fn from(error: PlotError) -> Self {
        Self::Render(error.to_string())
    }
}

impl Folder {
    /// Refuses at once what [`write()`] would refuse later, so that nobody waits in vain.
    ///
    /// # Errors
    /// [`FilesError::NotEmpty`], [`FilesError::NotAFolder`] or a folder that cannot be read.
    pub fn check(&self) -> Result<(), FilesError> {
        let Self::Given { path, force } = self else {
            return Ok(());
        };
        if !path.exists() {
            return Ok(());
        }
        if !path.is_dir() {
            return Err(FilesError::NotAFolder(path.clone()));
        }
        let mut entries = fs::read_dir(path).map_err(disk("read", path))?;
        if entries.next().is_some() && !force {
            return Err(FilesError::NotEmpty(path.clone()));
        }
        Ok(())
    }

    /// The folder on disk, and whether it was made just now.
    fn make(&self) -> Result<(PathBuf, bool), FilesError> {
        match self {
            Self::Given { path, .. } => {
                self.check()?;
                let is_new = !path.exists();
                fs::create_dir_all(path).map_err(disk("make the folder", path))?;
                Ok((path.clone(), is_new))
            }
            Self::New { parent, stem } => {
                for number in 1_u32.. {
                    let suffix = if number == 1 {
                        String::new()
                    } else {
                        format!("-{number}")
                    };
                    let path = parent.join(format!("relatch-out-{stem}{suffix}"));
                    match fs::create_dir(&path) {
                        Ok(()) => return Ok((path, true)),
                        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
                        Err(error) => return Err(disk("make the folder", &path)(error)),
                    }
                }
                Err(FilesError::Render("no free folder name".to_owned()))
            }
        }
    }
}

/// Renders `outcome` and writes its files: `result.json`, the tables as CSV, every figure as SVG
/// and PNG, drawn as asked for, and further files (name, bytes).
///
/// # Errors
/// When the folder is refused, an output cannot be rendered, or the disk refuses; then no file is
/// left behind that was not there before.
pub fn write(
    outcome: &Outcome,
    folder: &Folder,
    look: &Look,
    further: Vec<(String, Vec<u8>)>,
) -> Result<Written, FilesError> {
    folder.check()?;
    let mut contents = render(outcome, look)?;
    contents.extend(further);
    write_all(&contents, folder)
}

/// Writes files that are already rendered, all of them or none.
///
/// # Errors
/// When the folder is refused or the disk refuses; then no file is left behind that was not there
/// before.
pub fn write_all(contents: &[(String, Vec<u8>)], folder: &Folder) -> Result<Written, FilesError> {
    folder.check()?;
    let (path, is_new) = folder.make()?;
    let result = stage(&path, contents).and_then(|staged| publish(&path, staged));
    if result.is_err() && is_new {
        // Only ever an empty folder: remove_dir refuses any other.
        let _ = fs::remove_dir(&path);
    }
    let names = result?;
    Ok(Written {
        folder: path,
        names,
    })
}

/// Writes files of contents into a folder that is there, all of them or none; the last one gets its
/// name last.
pub(super) fn write_into(
    folder: &Path,
    contents: &[(String, Vec<u8>)],
) -> Result<Vec<String>, FilesError> {
    publish(folder, stage(folder, contents)?)
}

fn render(outcome: &Outcome, look: &Look) -> Result<Vec<(String, Vec<u8>)>, FilesError> {
    let failed = |error: &dyn fmt::Display| FilesError::Render(error.to_string());
    let mut list: Vec<(String, Vec<u8>)> = Vec::new();
    let mut add = |name: &str, text: String| list.push((name.to_owned(), text.into_bytes()));
    add("result.json", json(outcome).map_err(|e| failed(&e))?);
    add("series.csv", series_csv(outcome).map_err(|e| failed(&e))?);
    if let Some(text) = characteristic_csv(outcome).map_err(|e| failed(&e))? {
        add("characteristic.csv", text);
    }
    add(
        "preload_shift.csv",
        preload_shift_csv(outcome).map_err(|e| failed(&e))?,
    );
    add(
        "ambient_correction.csv",
        ambient_correction_csv(outcome).map_err(|e| failed(&e))?,
    );
    if let Some(text) = dial_csv(outcome).map_err(|e| failed(&e))? {
        list.push(("dial.csv".to_owned(), text.into_bytes()));
    }
    list.extend(plot::files(
        plot::figures(outcome),
        &look.print,
        &computed_from(&outcome.scenario),
    )?);
    if look.moving {
        let theme = look.print.theme;
        let films = [
            ("moving", moving(outcome, theme)?),
            ("strike", strike_of_width(outcome, theme, GIF_WIDTH)?),
            ("mechanism", mechanism(outcome, theme, MECHANISM_WIDTH)?),
        ];
        let source = computed_from(&outcome.scenario);
        for (name, film) in films.into_iter().filter_map(|(n, f)| Some((n, f?))) {
            if let Some((_, captions)) = list.iter_mut().find(|(n, _)| n == "captions.md") {
                captions.extend(format!("\n{}\n", film.caption(&source)).into_bytes());
            }
            list.push((format!("{name}.gif"), film.gif));
            list.push((format!("{name}.svg"), film.svg.into_bytes()));
        }
    }
    Ok(list)
}

type Staged = Vec<(String, tempfile::NamedTempFile)>;

fn stage(folder: &Path, contents: &[(String, Vec<u8>)]) -> Result<Staged, FilesError> {
    let mut staged = Vec::with_capacity(contents.len());
    for (name, bytes) in contents {
        let path = folder.join(name);
        if path.is_dir() {
            let taken = io::Error::new(io::ErrorKind::AlreadyExists, "a folder has that name");
            return Err(disk("write", &path)(taken));
        }
        let mut file = temporary(folder).map_err(disk("write", &path))?;
        // Straight to the file: its errors do not name the temporary path.
        file.as_file_mut()
            .write_all(bytes)
            .map_err(disk("write", &path))?;
        staged.push((name.clone(), file));
    }
    Ok(staged)
}

fn publish(folder: &Path, staged: Staged) -> Result<Vec<String>, FilesError> {
    let mut names = Vec::with_capacity(staged.len());
    for (name, file) in staged {
        let path = folder.join(&name);
        file.persist(&path)
            .map_err(|e| disk("write", &path)(e.error))?;
        names.push(name);
    }
    Ok(names)
}

fn disk(doing: &'static str, path: &Path) -> impl FnOnce(io::Error) -> FilesError + use<> {
    let path = path.to_owned();
    move |source| FilesError::Disk {
        doing,
        path,
        source,
    }
}
