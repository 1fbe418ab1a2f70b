//! What the air around does: to the trip point and to the wait.

use super::table_curve::{self, TableCurve};
use super::{Figure, PlotError};
use crate::predict::{AmbientCorrection, Outcome};
use crate::present::chart::style::*;
use crate::present::number::{finite, plain};
use crate::present::words;

/// Draws the figure; `None` with fewer than two rows.
pub(super) fn figure(outcome: &Outcome) -> Result<Option<Figure>, PlotError> {
    let rows = &outcome.ambient_correction;
    let has_number = |r: &AmbientCorrection| {
        finite(r.trip_point.current_a())
            .or(finite(r.relatch_wait.time_s()))
            .is_some()
    };
    if rows.len() < 2 || !rows.iter().any(has_number) {
        return Ok(None);
    }
    let column = |title: String, stroke, value: fn(&AmbientCorrection) -> Option<f64>| TableCurve {
        title,
        rows: rows
            .iter()
            .map(|r| (r.ambient_c, value(r).filter(|v| !v.is_nan())))
            .collect(),
        stroke,
        endless: words::NEVER,
        level: None,
    };
    let rated = outcome.part.rated_current_a;
    let reference = plain(outcome.part.reference_ambient_c);
    let mut trip_point = column("Trip point, A".to_owned(), stroke(LAKE, 6, SOLID), |r| {
        r.trip_point.current_a()
    });
    trip_point.level = Some((rated, format!("rated {} A", plain(rated))));
    let factor_title = format!("Factor (1 at {reference} °C)");
    let factor = column(factor_title, stroke(PLUM, 6, DASH_DOT), |r| r.factor);
    let wait_title = "Wait for the reset, s".to_owned();
    let wait = column(wait_title, stroke(MOSS, 6, DASHED), |r| {
        table_curve::wait(&r.relatch_wait)
    });
    let missing = rows.iter().map(|r| {
        (
            format!("{} °C", plain(r.ambient_c)),
            words::row_why(&r.trip_point, &r.trip_time, &r.relatch_wait),
        )
    });
    let header = ("What the air around does", outcome.scenario.as_str());
    let tables: [&[TableCurve]; 2] = [&[trip_point], &[factor, wait]];
    table_curve::chart("ambient_correction", header, "Air, °C", tables, missing).cautioned(super::again(outcome)).described(
        "Trip point against the temperature of the air, with the rated current; trip \
         point over the trip point at the reference air; wait until it can be reset, with a lane at the top \
         where it never can.",
    )
}
