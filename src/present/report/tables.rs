//! The tables of the report: one row a case, with the reason where a number is missing.

use crate::predict::{CurvePoint, Outcome};
use crate::present::html::Table;
use crate::present::limits::verdict;
use crate::present::number::{NONE, celsius, duration, finite, plain, significant};
use crate::present::words;

/// Most rows of the characteristic.
const MOST_CURVE_ROWS: usize = 24;
/// Most events that are listed.
const MOST_EVENTS: usize = 60;

fn amperes(value: Option<f64>) -> String {
    finite(value).map_or(NONE.to_owned(), |v| format!("{} A", significant(v, 4)))
}

fn time(value: Option<f64>) -> String {
    finite(value).map_or(NONE.to_owned(), |v| duration(v, 3))
}

/// Leaves the last column out where it would be empty.
fn with_reasons(caption: &str, headings: &[&str], rows: Vec<Vec<String>>) -> Table {
    let has_reasons = rows.iter().any(|r| r.last().is_some_and(|c| !c.is_empty()));
    let columns = headings.len() - usize::from(!has_reasons);
    rows.into_iter().fold(
        Table::new(caption, &headings[..columns]),
        |table, mut row| {
            row.truncate(columns);
            table.row(row)
        },
    )
}

/// Load back after too short a wait.
pub(super) fn premature(outcome: &Outcome) -> Table {
    let rows = outcome.premature_reset.iter().map(|r| {
        vec![
            duration(r.wait_s, 3),
            words::trip_time(&r.trips_again_after, 3),
            words::trip_why(&r.trips_again_after).unwrap_or_default(),
        ]
    });
    with_reasons(
        "The load back on after a wait: time to the next trip",
        &["Load back after", "Trips again in", "Why not"],
        rows.collect(),
    )
}

/// What lost preload does.
pub(super) fn preload(outcome: &Outcome) -> Table {
    let rows = outcome.preload_shift.iter().map(|r| {
        vec![
            format!("{} %", plain(100.0 * r.loss)),
            words::held(&r.trip_point, 4),
            words::trip_time(&r.trip_time, 3),
            words::wait(&r.relatch_wait, 3),
            celsius(r.trip_temperature_c, 1),
            words::row_why(&r.trip_point, &r.trip_time, &r.relatch_wait).unwrap_or_default(),
        ]
    });
    with_reasons(
        "Preload lost and what it moves, under the load of this scenario",
        &[
            "Preload lost",
            "Trip point",
            "Trip time",
            "Wait for the reset",
            "Trip temperature",
            "Why not",
        ],
        rows.collect(),
    )
}

/// What the air does.
pub(super) fn ambient(outcome: &Outcome) -> Table {
    let rows = outcome.ambient_correction.iter().map(|r| {
        vec![
            format!("{} °C", plain(r.ambient_c)),
            words::held(&r.trip_point, 4),
            finite(r.factor).map_or(NONE.to_owned(), |f| significant(f, 3)),
            words::wait(&r.relatch_wait, 3),
            words::row_why(&r.trip_point, &r.trip_time, &r.relatch_wait).unwrap_or_default(),
        ]
    });
    with_reasons(
        "In other air",
        &[
            "Air",
            "Trip point",
            "Over that at the reference air",
            "Wait for the reset",
            "Why not",
        ],
        rows.collect(),
    )
}

/// The times asked for.
pub(super) fn states(outcome: &Outcome) -> Table {
    let head = [
        "Time",
        "Current",
        "Strip, mean",
        "Strip, hottest",
        "Deflection",
    ];
    outcome
        .states
        .iter()
        .fold(Table::new("At the times asked for", &head), |table, s| {
            table.row([
                time(Some(s.time_s)),
                amperes(Some(s.current_a)),
                celsius(Some(s.strip_mean_c), 1),
                celsius(Some(s.strip_peak_c), 1),
                format!("{} mm", significant(s.tip_deflection_mm, 3)),
            ])
        })
}

/// What happened.
pub(super) fn events(outcome: &Outcome) -> Table {
    let more = outcome.events.len().saturating_sub(MOST_EVENTS);
    let table = Table::new("What happened", &["Time", "Event"]).of_text();
    let table = outcome
        .events
        .iter()
        .take(MOST_EVENTS)
        .fold(table, |table, e| {
            table.row([duration(e.time_s, 4), words::event_text(e.event).to_owned()])
        });
    if more > 0 {
        table.row(["…".to_owned(), format!("and {more} more events")])
    } else {
        table
    }
}

/// Time to trip against current.
pub(super) fn characteristic(outcome: &Outcome) -> Table {
    let Some(c) = &outcome.characteristic else {
        return Table::default();
    };
    let mut currents: Vec<(f64, f64)> = c
        .cold
        .iter()
        .chain(&c.hot)
        .map(|p| (p.current_a, p.multiple))
        .collect();
    currents.sort_by(|a, b| a.0.total_cmp(&b.0));
    currents.dedup();
    let stride = currents.len().div_ceil(MOST_CURVE_ROWS).max(1);
    let hot = format!("After {} % of rated", plain(100.0 * c.hot_fraction));
    let caption = format!("Time to trip in air of {} °C", plain(c.ambient_c));
    let head = ["Current", "x rated", "Cold", hot.as_str()];
    currents.iter().step_by(stride).fold(
        Table::new(&caption, &head),
        |table, (current, multiple)| {
            table.row([
                amperes(Some(*current)),
                significant(*multiple, 3),
                at(&c.cold, *current),
                at(&c.hot, *current),
            ])
        },
    )
}

fn at(points: &[CurvePoint], current_a: f64) -> String {
    let point = points.iter().find(|p| p.current_a == current_a);
    point.map_or(NONE.to_owned(), |p| words::trip_time(&p.time, 3))
}

/// Published limits.
pub(super) fn limits(outcome: &Outcome) -> Table {
    let limits = outcome.characteristic.iter().flat_map(|c| &c.limits);
    let table = Table::new("Published limits", &["x rated", "Met", "In words"]).of_text();
    limits.fold(table, |table, limit| {
        table.row([
            plain(limit.multiple),
            if limit.met { "yes" } else { "NO" }.to_owned(),
            verdict(limit, false),
        ])
    })
}
