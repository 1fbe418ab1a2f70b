//! Output files by name: whole or not at all, and never over another unless told to.

use super::Failure;
use super::prints::{Prints, endings};
use crate::document::temporary;
use crate::present::plot::{self, Figure};
use crate::present::words;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

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
    write_all(&[(path, text.as_bytes())], force)
}

/// Writes several files: all are complete before the first gets its name, and the last gets it
/// last.
pub(super) fn write_all(files: &[(&Path, &[u8])], force: bool) -> Result<(), Failure> {
    let mut staged = Vec::with_capacity(files.len());
    for (path, bytes) in files {
        check(path, force)?;
        let file = stage(path, bytes).map_err(|e| failed(path, &e))?;
        staged.push((path, file));
    }
    for (path, file) in staged {
        let kept = if force {
            file.persist(path).map(drop)
        } else {
            file.persist_noclobber(path).map(drop)
        };
        kept.map_err(|e| failed(path, &e.error))?;
    }
    Ok(())
}

/// The name of a file beside another: its stem and this ending.
pub(super) fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.file_stem().unwrap_or_default().to_owned();
    name.push(ending);
    path.with_file_name(name)
}

/// Writes a text, and figures beside it, each with its ending; says where they are.
pub(super) fn with_figures(
    (path, text): (&Path, &str),
    figures: Vec<(Figure, &str)>,
    prints: &Prints,
    force: bool,
) -> Result<String, Failure> {
    let print = prints.print();
    let beside = |ending: &str| beside(path, ending);
    let endings_of: Vec<(&str, &str)> = figures.iter().map(|(f, e)| (f.stem, *e)).collect();
    let mut said = String::new();
    for (_, ending) in &endings_of {
        let svg = beside(&format!("{ending}.svg"));
        let and = endings(&print).trim_start_matches(".svg");
        said += &format!("\nAs a figure: {}{and}", svg.display());
    }
    let from = words::computed_from(&path.display().to_string());
    let figures = figures.into_iter().map(|(figure, _)| figure);
    let drawn = plot::files(figures, &print, &from)
        .map_err(|e| Failure::Failed(format!("error: {e}; nothing was written")))?;
    let mut files: Vec<(PathBuf, Vec<u8>)> = Vec::new();
    for (name, bytes) in drawn {
        let (stem, format) = name.split_once('.').unwrap_or((&name, ""));
        let own = endings_of.iter().find(|(own, _)| *own == stem);
        let path = match own {
            Some((_, ending)) => beside(&format!("{ending}.{format}")),
            None => beside(&format!("-{name}")),
        };
        if own.is_none() {
            said += &format!("\nCaptions: {}", path.display());
        }
        files.push((path, bytes));
    }
    files.push((path.to_owned(), text.as_bytes().to_vec()));
    let files: Vec<(&Path, &[u8])> = files
        .iter()
        .map(|(p, b)| (p.as_path(), b.as_slice()))
        .collect();
    write_all(&files, force)?;
    Ok(said)
}

fn failed(path: &Path, error: &std::io::Error) -> Failure {
    Failure::Failed(format!("error: cannot write {}: {error}", path.display()))
}

/// The bytes under a temporary name in the folder of the file.
fn stage(path: &Path, bytes: &[u8]) -> std::io::Result<tempfile::NamedTempFile> {
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    fs::create_dir_all(folder)?;
    let mut file = temporary(folder)?;
    file.as_file_mut().write_all(bytes)?;
    Ok(file)
}
