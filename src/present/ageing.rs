//! The record of an ageing study as JSON, and as tables.

use super::csv::{CsvError, cell, maybe, table};
use crate::study::ageing::{AgeOutcome, LifeSummary};

/// The record as indented JSON with a final newline.
///
/// # Errors
/// When it cannot be serialised.
pub fn age_json(outcome: &AgeOutcome) -> Result<String, serde_json::Error> {
    Ok(serde_json::to_string_pretty(outcome)? + "\n")
}

/// The drift, one row a year.
///
/// # Errors
/// When the CSV writer fails.
pub fn drift_csv(outcome: &AgeOutcome) -> Result<String, CsvError> {
    let header = [
        "years",
        "preload_left_fraction",
        "preload_left_5_percent",
        "preload_left_95_percent",
        "contact_resistance_ohm",
        "stuck_factor",
        "trip_point_reference_A",
        "trip_point_in_service_A",
        "trip_point_in_service_5_percent_A",
        "trip_point_in_service_95_percent_A",
        "trip_time_2x_s",
        "trip_time_6x_s",
        "relatch_wait_s",
        "extrapolated",
        "note",
    ];
    table(
        &header,
        outcome.drift.iter().map(|row| {
            let preload = row.preload_left_band;
            let point = row.trip_point_band_a;
            vec![
                cell(row.years),
                maybe(row.preload_left),
                maybe(preload.map(|b| b[0])),
                maybe(preload.map(|b| b[2])),
                maybe(row.contact_resistance_ohm),
                maybe(row.stuck_factor),
                maybe(row.trip_point_a),
                maybe(row.trip_point_in_service_a),
                maybe(point.map(|b| b[0])),
                maybe(point.map(|b| b[2])),
                maybe(row.trip_time_2x_s),
                maybe(row.trip_time_6x_s),
                maybe(row.relatch_wait_s),
                if row.extrapolated { "yes" } else { "no" }.to_owned(),
                row.reason.clone().unwrap_or_default(),
            ]
        }),
    )
}

/// The distributions of lives, late first; `None` when none were drawn.
///
/// # Errors
/// When the CSV writer fails.
pub fn lives_csv(outcome: &AgeOutcome) -> Result<Option<String>, CsvError> {
    let lives = &outcome.lives;
    if lives.late.is_none() && lives.early.is_none() {
        return Ok(None);
    }
    let header = ["direction", "years", "share_failed"];
    let rows = |name: &'static str, summary: &Option<LifeSummary>| -> Vec<Vec<String>> {
        let curve = summary.iter().flat_map(|s| &s.curve);
        curve
            .map(|(years, share)| vec![name.to_owned(), cell(*years), cell(*share)])
            .collect()
    };
    let all = rows("late", &lives.late)
        .into_iter()
        .chain(rows("early", &lives.early));
    table(&header, all).map(Some)
}
