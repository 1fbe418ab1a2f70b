//! The words of a diagnosis that every output shares: names of causes and verdicts, what to do, how numbers are
//! told to a technician.

mod actions;
mod logs;
mod say;
mod strongest;
mod words;

pub(super) use actions::{actions, lateness};
pub(super) use logs::log_line;
pub(super) use say::{
    bar, certainty, effort, percent, span_of_time, spoken, state_words, still_plausible,
    waits_remark,
};
pub(super) use strongest::that_bear_most;
pub use words::{cause_words, verdict_words};
pub(super) use words::{in_words, short_words};

use crate::diagnose::Diagnosis;

/// The number under which the line of evidence with this label is listed, from 1.
pub(super) fn number_of(diagnosis: &Diagnosis, label: &str) -> Option<usize> {
    let same = |line: &crate::diagnose::EvidenceLine| line.label.trim() == label.trim();
    diagnosis.evidence.iter().position(same).map(|k| k + 1)
}
