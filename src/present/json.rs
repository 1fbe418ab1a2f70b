//! The record as JSON: units in the names, `null` where there is no such event.

use crate::predict::Outcome;

/// One outcome as indented JSON with a final newline. JSON has no infinity and no NaN: such a
/// number is written as `null`.
///
/// # Errors
/// When the record cannot be serialised.
pub fn json(outcome: &Outcome) -> Result<String, serde_json::Error> {
    Ok(serde_json::to_string_pretty(outcome)? + "\n")
}

/// Several outcomes as one JSON array with a final newline.
///
/// # Errors
/// As [`json`].
pub fn json_list(outcomes: &[Outcome]) -> Result<String, serde_json::Error> {
    Ok(serde_json::to_string_pretty(outcomes)? + "\n")
}

/// Any record as indented JSON with a final newline.
///
/// # Errors
/// As [`json`].
pub fn serialised(record: &impl serde::Serialize) -> Result<String, serde_json::Error> {
    Ok(serde_json::to_string_pretty(record)? + "\n")
}
