//! Files of a population: the record, its tally, and the figures.

use super::files::write_into;
use super::words::computed_from;
use super::{FilesError, plot, vary_json};
use crate::study::population::VaryOutcome;
use crate::study::population::ledger::TALLY;
use crate::study::population::tally::Tally;
use std::path::Path;

/// Writes into the folder of a run. `result.json` gets its name last: with it the run is finished.
///
/// # Errors
/// An output cannot be rendered, or the disk refuses.
pub fn write_population(
    folder: &Path,
    outcome: &VaryOutcome,
    tally: &Tally,
    print: &plot::Print,
) -> Result<Vec<String>, FilesError> {
    let failed = |e: serde_json::Error| FilesError::Render(e.to_string());
    let mut contents = plot::files(
        plot::population_figures(outcome),
        print,
        &computed_from(&outcome.scenario),
    )?;
    let tally = serde_json::to_vec(tally).map_err(failed)?;
    contents.push((TALLY.to_owned(), tally));
    let result = vary_json(outcome).map_err(failed)?;
    contents.push(("result.json".to_owned(), result.into_bytes()));
    write_into(folder, &contents)
}
