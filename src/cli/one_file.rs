//! Output files by name: whole or not at all, and never over another unless told to.

use super::Failure;
use super::prints::Prints;
use crate::document::temporary;
use crate::present::plot::Figure;
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

/// Writes a text, and figures beside it as SVG and PNG, each with its ending; says where they are.
pub(super) fn with_figures(
    (path, text): (&Path, &str),
    figures: Vec<(Figure, &str)>,
    prints: &Prints,
    force: bool,
) -> Result<String, Failure> {
    let unseen = |e| Failure::Failed(format!("error: {e}; nothing was written"));
    let mut files: Vec<(PathBuf, Vec<u8>)> = Vec::new();
    let mut said = String::new();
    let print = prints.print();
    let from = words::computed_from(&path.display().to_string());
    let mut captions = Vec::new();
    for (figure, ending) in figures {
        let svg = beside(path, &format!("{ending}.svg"));
        let figure = figure.printed(&print);
        captions.push(figure.caption(&from) + "\n");
        let and = if print.is_pdf {
            ", .png and .pdf"
        } else {
            " and .png"
        };
        said += &format!("\nAs a figure: {}{and}", svg.display());
        if print.is_pdf {
            let pdf = beside(path, &format!("{ending}.pdf"));
            files.push((pdf, figure.pdf().map_err(unseen)?));
        }
        let png = beside(path, &format!("{ending}.png"));
        files.push((png, figure.png().map_err(unseen)?));
        files.push((svg, figure.svg.into_bytes()));
    }
    if print.has_captions && !captions.is_empty() {
        let path = beside(path, "-captions.md");
        said += &format!("\nCaptions: {}", path.display());
        files.push((path, captions.join("\n").into_bytes()));
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
