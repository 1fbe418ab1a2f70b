//! Tables as CSV (RFC 4180): units in the header, full precision, an empty cell where there is no
//! number and the reason in the last column.

use super::words;
use crate::answer::{TripTime, Wait};
use crate::predict::{CurvePoint, DialMark, Outcome};
use crate::present::language::recorded;
use std::fmt;

/// A table could not be written as CSV.
#[derive(Debug)]
pub struct CsvError(String);

impl fmt::Display for CsvError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "cannot write the table as CSV: {}", self.0)
    }
}

impl std::error::Error for CsvError {}

impl From<csv::Error> for CsvError {
    fn from(error: csv::Error) -> Self {
        Self(error.to_string())
    }
}

/// The time series of the run and of the cool-down after it.
///
/// # Errors
/// When the CSV writer fails.
pub fn series_csv(outcome: &Outcome) -> Result<String, CsvError> {
    recorded(|| {
        let header = [
            "time_s",
            "current_a",
            "contacts",
            "ambient_c",
            "clamped_terminal_c",
            "moving_contact_c",
            "fixed_contact_c",
            "winding_c",
            "housing_c",
            "machine_case_c",
            "strip_mean_c",
            "strip_mid_c",
            "strip_peak_c",
            "tip_deflection_mm",
            "release_margin_mm",
            "power_w",
        ];
        table(
            &header,
            outcome.series.iter().map(|s| {
                vec![
                    cell(s.time_s),
                    cell(s.current_a),
                    if s.closed { "closed" } else { "open" }.to_owned(),
                    cell(s.ambient_c),
                    cell(s.clamped_terminal_c),
                    cell(s.moving_contact_c),
                    cell(s.fixed_contact_c),
                    maybe(s.winding_c),
                    maybe(s.housing_c),
                    maybe(s.machine_case_c),
                    cell(s.strip_mean_c),
                    cell(s.strip_mid_c),
                    cell(s.strip_peak_c),
                    cell(s.tip_deflection_mm),
                    cell(s.release_margin_mm),
                    cell(s.power_w),
                ]
            }),
        )
    })
}

/// The time-current characteristic, cold then hot; `None` when it was not computed.
///
/// # Errors
/// When the CSV writer fails.
pub fn characteristic_csv(outcome: &Outcome) -> Result<Option<String>, CsvError> {
    recorded(|| {
        let Some(characteristic) = &outcome.characteristic else {
            return Ok(None);
        };
        let header = [
            "start",
            "ambient_c",
            "current_a",
            "multiple_of_rated",
            "trip_time_s",
            "relative_error",
            "answer",
            "note",
        ];
        let row = |start: &str, point: &CurvePoint| {
            vec![
                start.to_owned(),
                cell(characteristic.ambient_c),
                cell(point.current_a),
                cell(point.multiple),
                maybe(point.time.time_s()),
                maybe(point.time.error_relative()),
                trip_tag(&point.time).to_owned(),
                words::trip_why(&point.time).unwrap_or_default(),
            ]
        };
        let cold = characteristic.cold.iter().map(|point| row("cold", point));
        let hot = characteristic.hot.iter().map(|point| row("hot", point));
        table(&header, cold.chain(hot)).map(Some)
    })
}

/// The preload-shift table.
///
/// # Errors
/// When the CSV writer fails.
pub fn preload_shift_csv(outcome: &Outcome) -> Result<String, CsvError> {
    recorded(|| {
        let header = [
            "preload_lost_fraction",
            "trip_point_a",
            "trip_time_s",
            "relatch_wait_s",
            "trip_temperature_c",
            "trip",
            "relatch_wait",
            "note",
        ];
        table(
            &header,
            outcome.preload_shift.iter().map(|row| {
                vec![
                    cell(row.loss),
                    maybe(row.trip_point.current_a()),
                    maybe(row.trip_time.time_s()),
                    maybe(row.relatch_wait.time_s()),
                    maybe(row.trip_temperature_c),
                    trip_tag(&row.trip_time).to_owned(),
                    wait_tag(&row.relatch_wait).to_owned(),
                    words::row_why(&row.trip_point, &row.trip_time, &row.relatch_wait)
                        .unwrap_or_default(),
                ]
            }),
        )
    })
}

/// The ambient-correction table.
///
/// # Errors
/// When the CSV writer fails.
pub fn ambient_correction_csv(outcome: &Outcome) -> Result<String, CsvError> {
    recorded(|| {
        let header = [
            "ambient_c",
            "trip_point_a",
            "factor",
            "relatch_wait_s",
            "trip",
            "relatch_wait",
            "note",
        ];
        table(
            &header,
            outcome.ambient_correction.iter().map(|row| {
                vec![
                    cell(row.ambient_c),
                    maybe(row.trip_point.current_a()),
                    maybe(row.factor),
                    maybe(row.relatch_wait.time_s()),
                    trip_tag(&row.trip_time).to_owned(),
                    wait_tag(&row.relatch_wait).to_owned(),
                    words::row_why(&row.trip_point, &row.trip_time, &row.relatch_wait)
                        .unwrap_or_default(),
                ]
            }),
        )
    })
}

/// The dial, a row a mark; `None`: there is none.
///
/// # Errors
/// When the CSV writer fails.
pub fn dial_csv(outcome: &Outcome) -> Result<Option<String>, CsvError> {
    recorded(|| {
        let Some(dial) = &outcome.dial else {
            return Ok(None);
        };
        let timed = format!("trip_time_at_{}_times_s", dial.timed_at);
        let header = [
            "mark_a",
            "travel_mm",
            "trip_point_a",
            &timed,
            "relatch_wait_s",
            "strip_c",
            "winding_c",
            "trip",
            "relatch_wait",
            "limits_met",
            "note",
        ];
        let row = |mark: &DialMark| {
            let met = mark.limits.iter().filter(|l| l.met).count();
            let limits = match mark.limits.len() {
                0 => String::new(),
                all => format!("{met} of {all}"),
            };
            vec![
                cell(mark.mark_a),
                cell(mark.travel_mm),
                maybe(mark.trip_point.current_a()),
                maybe(mark.trip_time.time_s()),
                maybe(mark.relatch_wait.time_s()),
                cell(mark.strip_c),
                maybe(mark.winding_c),
                trip_tag(&mark.trip_time).to_owned(),
                wait_tag(&mark.relatch_wait).to_owned(),
                limits,
                words::row_why(&mark.trip_point, &mark.trip_time, &mark.relatch_wait)
                    .unwrap_or_default(),
            ]
        };
        table(&header, dial.marks.iter().map(row)).map(Some)
    })
}

/// The tag of an answer, as in the JSON.
pub(super) fn trip_tag(time: &TripTime) -> &'static str {
    match time {
        TripTime::AtOnce => "at_once",
        TripTime::After(_) => "after",
        TripTime::HoldsForEver => "holds_for_ever",
        TripTime::NotWithin { .. } => "not_within",
        TripTime::AlreadyOpen => "already_open",
        TripTime::NotReset => "not_reset",
        TripTime::Failed { .. } => "failed",
    }
}

fn wait_tag(wait: &Wait) -> &'static str {
    match wait {
        Wait::None => "none",
        Wait::After(_) => "after",
        Wait::Never { .. } => "never",
        Wait::NotWithin { .. } => "not_within",
        Wait::NotAsked { .. } => "not_asked",
    }
}

/// Shortest text that reads back as the same number; empty when it is not finite.
pub(super) fn cell(value: f64) -> String {
    if value.is_finite() {
        value.to_string()
    } else {
        String::new()
    }
}

pub(super) fn maybe(value: Option<f64>) -> String {
    value.map(cell).unwrap_or_default()
}

pub(super) fn table(
    header: &[&str],
    rows: impl Iterator<Item = Vec<String>>,
) -> Result<String, CsvError> {
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    writer.write_record(header)?;
    for row in rows {
        writer.write_record(row)?;
    }
    let bytes = writer.into_inner().map_err(|e| CsvError(e.to_string()))?;
    String::from_utf8(bytes).map_err(|e| CsvError(e.to_string()))
}
