//! The figures of a diagnosis as files: the readings on the characteristic, and the strip through
//! each log.

use super::plot::{Print, files as files_of, log_figure, readings_figure};
use super::{FilesError, words};
use crate::diagnose::{Diagnosis, LogPictures};
use crate::evidence::Case;

/// Names and bytes of every figure there is data for, as SVG and PNG. `pictures` are those of the
/// case's logs, in their order; where there are several, their names are numbered.
///
/// # Errors
/// When a figure cannot be drawn.
pub fn diagnosis_figures(
    diagnosis: &Diagnosis,
    case: &Case,
    pictures: &[LogPictures],
    print: &Print,
) -> Result<Vec<(String, Vec<u8>)>, FilesError> {
    let from = words::computed_from(&diagnosis.case);
    let mut files = files_of(readings_figure(diagnosis), print, &from)?;
    let of = (diagnosis.rated_current_a, diagnosis.cautions.as_slice());
    for (k, (log, through)) in case.logs.iter().zip(pictures).enumerate() {
        let drawn = files_of(log_figure(through, log, of), print, &from)?;
        files.extend(
            drawn
                .into_iter()
                .map(|(name, bytes)| match case.logs.len() {
                    1 => (name, bytes),
                    _ => (name.replace('.', &format!("_{}.", k + 1)), bytes),
                }),
        );
    }
    Ok(files)
}
