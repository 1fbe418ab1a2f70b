//! A diagnosis for the person at the machine: a screen that is read in seconds, everything, or a
//! work order.

mod forms;
mod full;
mod known;
#[cfg(feature = "figures")]
mod order;
mod parts;
mod screen;
mod strongest;

pub use full::diagnosis_full_blocks;
#[cfg(feature = "figures")]
pub use order::work_order;
pub use screen::diagnosis_blocks;

use crate::diagnose::Diagnosis;

/// The number under which the line of evidence with this label is listed, from 1.
pub(super) fn number_of(diagnosis: &Diagnosis, label: &str) -> Option<usize> {
    let mut labels = diagnosis.evidence.iter().map(|e| e.label.trim());
    labels.position(|l| l == label.trim()).map(|k| k + 1)
}
