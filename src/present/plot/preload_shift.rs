//! What lost preload does: to the trip point, to the trip time and to the wait.

use super::table_curve::{self, TableCurve};
use super::{Figure, PlotError};
use crate::predict::{Outcome, PreloadShift};
use crate::present::chart::style::*;
use crate::present::number::{finite, plain};
use crate::present::words;

/// Draws the figure; `None` with fewer than two rows.
pub(super) fn figure(outcome: &Outcome) -> Result<Option<Figure>, PlotError> {
    let rows = &outcome.preload_shift;
    let has_number = |r: &PreloadShift| {
        [
            r.trip_point.current_a(),
            r.trip_time.time_s(),
            r.relatch_wait.time_s(),
        ]
        .into_iter()
        .any(|v| finite(v).is_some())
    };
    if rows.len() < 2 || !rows.iter().any(has_number) {
        return Ok(None);
    }
    let column = |title: &str, stroke, value: fn(&PreloadShift) -> Option<f64>| TableCurve {
        title: title.to_owned(),
        rows: rows
            .iter()
            .map(|r| (r.loss * 100.0, value(r).filter(|v| !v.is_nan())))
            .collect(),
        stroke,
        endless: words::NEVER,
        level: None,
    };
    let rated = outcome.part.rated_current_a;
    let mut trip_point = column("Trip point, A", stroke(LAKE, 6, SOLID), |r| {
        r.trip_point.current_a()
    });
    trip_point.level = Some((rated, format!("rated {} A", plain(rated))));
    let trip_time = column("Trip time, this load, s", stroke(PLUM, 6, DASH_DOT), |r| {
        table_curve::trip(&r.trip_time)
    });
    let wait = column("Wait for the reset, s", stroke(MOSS, 6, DASHED), |r| {
        table_curve::wait(&r.relatch_wait)
    });
    let missing = rows.iter().map(|r| {
        (
            format!("{} %", plain(r.loss * 100.0)),
            words::row_why(&r.trip_point, &r.trip_time, &r.relatch_wait),
        )
    });
    let header = ("What lost spring preload does", outcome.scenario.as_str());
    let tables: [&[TableCurve]; 2] = [&[trip_point], &[trip_time, wait]];
    table_curve::chart("preload_shift", header, "Preload lost, %", tables, missing).cautioned(super::again(outcome)).described(
        "Trip point against preload lost, with the rated current; time to trip under \
         the scenario's load and wait until it can be reset, against preload lost, each with a lane at the top for \
         what never comes.",
    )
}
