//! The figures of a diagnosis as files: the readings on the characteristic, and the strip through each log.

use super::FilesError;
use super::plot::{Figure, Theme, log_figure, readings_figure};
use crate::diagnose::{Diagnosis, LogPictures};
use crate::evidence::Case;

/// Names and bytes of every figure there is data for, as SVG and PNG. `pictures` are those of the case's logs, in
/// their order; where there are several, their names are numbered.
///
/// # Errors
/// When a figure cannot be drawn.
pub fn diagnosis_figures(
    diagnosis: &Diagnosis,
    case: &Case,
    pictures: &[LogPictures],
    theme: Theme,
) -> Result<Vec<(String, Vec<u8>)>, FilesError> {
    let mut files = Vec::new();
    let mut add = |name: String, figure: Figure| -> Result<(), FilesError> {
        let figure = figure.in_theme(theme);
        files.push((format!("{name}.png"), figure.png()?));
        files.push((format!("{name}.svg"), figure.svg.into_bytes()));
        Ok(())
    };
    if let Some(figure) = readings_figure(diagnosis)? {
        add(figure.stem.to_owned(), figure)?;
    }
    for (k, (log, through)) in case.logs.iter().zip(pictures).enumerate() {
        let Some(figure) = log_figure(through, log, diagnosis.rated_current_a)? else {
            continue;
        };
        let name = match case.logs.len() {
            1 => figure.stem.to_owned(),
            _ => format!("{}_{}", figure.stem, k + 1),
        };
        add(name, figure)?;
    }
    Ok(files)
}
