//! The record of an ageing study as a folder of files.

use super::{age_json, drift_csv, lives_csv};
use crate::present::files::{FilesError, Folder, Written, write_all};
use crate::present::plot;
use crate::present::words::computed_from;
use crate::study::ageing::AgeOutcome;
use std::fmt;

/// Renders and writes `age.json`, the tables and the figures.
///
/// # Errors
/// When the folder is refused, an output cannot be rendered, or the disk refuses; then no file is
/// left behind that was not there before.
pub fn write_age(
    outcome: &AgeOutcome,
    folder: &Folder,
    print: &plot::Print,
) -> Result<Written, FilesError> {
    folder.check()?;
    let failed = |error: &dyn fmt::Display| FilesError::Render(error.to_string());
    let mut list: Vec<(String, Vec<u8>)> = Vec::new();
    let mut add = |name: &str, text: String| list.push((name.to_owned(), text.into_bytes()));
    add("age.json", age_json(outcome).map_err(|e| failed(&e))?);
    add("drift.csv", drift_csv(outcome).map_err(|e| failed(&e))?);
    if let Some(text) = lives_csv(outcome).map_err(|e| failed(&e))? {
        add("lives.csv", text);
    }
    list.extend(plot::files(
        plot::age_figures(outcome),
        print,
        &computed_from(&outcome.scenario),
    )?);
    write_all(&list, folder)
}
