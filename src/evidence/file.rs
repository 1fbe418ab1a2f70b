//! From a path to a case.

use super::Case;
use super::log_file::{recorded, refused};
use super::read::{LogDraft, of};
use crate::diagnostic::Problem;
use crate::document::{Document, FileKind, ReadError, read_file};
use std::path::{Component, Path, PathBuf};

const KIND: FileKind = FileKind {
    noun: "case",
    starter: "relatch new case",
};

/// Read a case file and the logs that it names beside it.
///
/// # Errors
/// The file cannot be read, is too large or is no text; or every problem of its content at once.
///
/// ```
/// let error = relatch::internals::evidence::read(std::path::Path::new("no-such-case.toml")).unwrap_err();
/// assert!(error.to_string().contains("no-such-case.toml"));
/// ```
pub fn read(path: &Path) -> Result<Case, ReadError> {
    read_with_progress(path, &mut |_, _| {})
}

/// The same; `progress` is told which log is read, and how far (0 to 1).
///
/// # Errors
/// As [`read`].
pub fn read_with_progress(
    path: &Path,
    progress: &mut dyn FnMut(&str, f64),
) -> Result<Case, ReadError> {
    let text = read_file(path, KIND)?;
    let folder = match path.parent() {
        Some(p) if !p.as_os_str().is_empty() => p.to_owned(),
        _ => PathBuf::from("."),
    };
    whole(&path.display().to_string(), &text, Some(&folder), progress)
}

/// Read a case from text; `name` stands in messages. It may not name logs: there is no folder to
/// look in.
///
/// # Errors
/// Every problem at once.
///
/// ```
/// let text = relatch::internals::evidence::starter();
/// let case = relatch::internals::evidence::read_text("starter", text).unwrap();
/// assert_eq!(case.nameplate.rated_current_a, 13.0);
/// ```
pub fn read_text(name: &str, text: &str) -> Result<Case, ReadError> {
    whole(name, text, None, &mut |_, _| {})
}

/// A commented starter file for `relatch new case`.
pub fn starter() -> &'static str {
    include_str!("starters/case.toml")
}

fn whole(
    name: &str,
    text: &str,
    folder: Option<&Path>,
    progress: &mut dyn FnMut(&str, f64),
) -> Result<Case, ReadError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Err(ReadError::File {
            name: name.into(),
            problem: "it is empty".into(),
            help: "`relatch new case` prints a commented starter file".into(),
        });
    }
    let document = Document::parse(name, text);
    let case = of(&document).and_then(|draft| {
        // Logs may be long: they wait until the rest of the file is right.
        if document.has_problems() {
            return None;
        }
        let mut case = draft.case;
        let mut places = draft.places;
        for log in &draft.logs {
            add_log(&document, &mut case, &mut places, log, folder, progress)?;
        }
        Some(case)
    });
    match (document.finish(), case) {
        (Ok(_), Some(case)) => Ok(case),
        (Err(report), _) => Err(ReadError::Content(report)),
        (Ok(_), None) => Err(ReadError::File {
            name: name.into(),
            problem: "it could not be understood".into(),
            help: "please report this file: every refusal should name its reason".into(),
        }),
    }
}

/// Reads a log and puts what it says among the rest, at its place in the file.
fn add_log(
    document: &Document<'_>,
    case: &mut Case,
    places: &mut Vec<usize>,
    log: &LogDraft,
    folder: Option<&Path>,
    progress: &mut dyn FnMut(&str, f64),
) -> Option<()> {
    let name = log.file.value.trim();
    let path = match inside(name, folder) {
        Ok(path) => path,
        Err((message, help)) => {
            document.report(Problem::new(log.file.span.clone(), message).help(help));
            return None;
        }
    };
    match recorded(&path, name, &log.questions, progress) {
        Ok(found) => {
            let at = places.partition_point(|p| *p < log.span.start);
            let before = case.events.len();
            case.takes(found.after(log.mended));
            // Its events belong where the file names it.
            let count = case.events.len() - before;
            case.events[at..].rotate_right(count);
            places.splice(at..at, std::iter::repeat_n(log.span.start, count));
            Some(())
        }
        Err(error) => {
            document.report(refused(&error, name, log.file.span.clone()));
            None
        }
    }
}

/// The path of a log: beside the case or in a folder below it, wherever links lead.
fn inside(name: &str, folder: Option<&Path>) -> Result<PathBuf, (String, String)> {
    let relative = Path::new(name);
    let plain = !name.is_empty()
        && !name.contains('\0')
        && relative
            .components()
            .all(|c| matches!(c, Component::Normal(_) | Component::CurDir));
    let outside = || {
        (
            "a log lies beside its case".to_owned(),
            "name a file in the folder of the case or in one inside it, without `..` and without a \
             drive or a leading `/`".to_owned(),
        )
    };
    if !plain || name.contains('\\') {
        return Err(outside());
    }
    let Some(folder) = folder else {
        return Err((
            "a log can be read only beside a case file".into(),
            "save the case as a file, with its logs beside it".into(),
        ));
    };
    let path = folder.join(relative);
    let missing = |e: std::io::Error| {
        let words = match e.kind() {
            std::io::ErrorKind::NotFound => "there is no such file beside the case".to_owned(),
            _ => e.to_string(),
        };
        (
            format!("the log {name} cannot be read: {words}"),
            "check the name and the folder".to_owned(),
        )
    };
    let whole = path.canonicalize().map_err(missing)?;
    if !whole.starts_with(folder.canonicalize().map_err(missing)?) {
        return Err(outside());
    }
    if !whole.is_file() {
        return Err((format!("{name} is no file"), "name the log itself".into()));
    }
    Ok(path)
}
