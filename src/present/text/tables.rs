//! Small tables, one quantity a row, with the reason below wherever a number is missing.

use super::page::Page;
use crate::predict::{EventRecord, Outcome};
use crate::present::number::{NONE, duration, finite, plain, significant};

const MOST_COLUMNS: usize = 7;

/// How lost preload moves everything.
pub(super) fn preload_shift(page: &mut Page, outcome: &Outcome) {
    let rows = spread(&outcome.preload_shift, MOST_COLUMNS);
    if rows.is_empty() {
        return;
    }
    let mut table = vec![
        (
            "Preload lost",
            cells(&rows, |r| format!("{} %", plain(r.loss * 100.0))),
        ),
        ("Trip point", cells(&rows, |r| amperes(r.trip_point_a))),
        (
            "Trip time, this load",
            cells(&rows, |r| time(r.trip_time_s)),
        ),
        (
            "Wait for the reset",
            cells(&rows, |r| time(r.relatch_wait_s)),
        ),
        (
            "Trip temperature",
            cells(&rows, |r| degrees(r.trip_temperature_c)),
        ),
    ];
    // A row without any number says nothing that the reason below does not say.
    table.retain(|(_, cells)| cells.iter().any(|cell| cell != NONE));
    page.table(&table);
    reasons(
        page,
        rows.iter()
            .map(|r| (format!("{} %", plain(r.loss * 100.0)), &r.reason)),
    );
}

/// The waits that are too short.
pub(super) fn premature_reset(page: &mut Page, outcome: &Outcome) {
    let rows = spread(&outcome.premature_reset, MOST_COLUMNS);
    if rows.is_empty() {
        return;
    }
    let again = |t: Option<f64>| finite(t).map_or("no trip".to_owned(), |t| duration(t, 3));
    let is_silent = |reason: &Option<String>| reason.as_ref().is_none_or(|r| r.is_empty());
    page.table(&[
        ("Load back after", cells(&rows, |r| time(Some(r.wait_s)))),
        (
            "Trips again in",
            cells(&rows, |r| {
                if r.trips_again_after_s.is_none() && !is_silent(&r.reason) {
                    NONE.to_owned()
                } else {
                    again(r.trips_again_after_s)
                }
            }),
        ),
    ]);
    reasons(
        page,
        rows.iter().map(|r| (duration(r.wait_s, 3), &r.reason)),
    );
}

/// Trip point against the air.
pub(super) fn ambient(page: &mut Page, outcome: &Outcome) {
    let rows = spread(&outcome.ambient_correction, MOST_COLUMNS);
    if rows.is_empty() {
        return;
    }
    let factor = |f: Option<f64>| finite(f).map_or(NONE.to_owned(), |f| significant(f, 3));
    page.heading("In other air");
    page.table(&[
        (
            "Air",
            cells(&rows, |r| format!("{} °C", plain(r.ambient_c))),
        ),
        ("Trip point", cells(&rows, |r| amperes(r.trip_point_a))),
        ("Factor", cells(&rows, |r| factor(r.factor))),
        (
            "Wait for the reset",
            cells(&rows, |r| time(r.relatch_wait_s)),
        ),
    ]);
    reasons(
        page,
        rows.iter()
            .map(|r| (format!("{} °C", plain(r.ambient_c)), &r.reason)),
    );
}

/// State at the times asked for.
pub(super) fn states(page: &mut Page, outcome: &Outcome) {
    let rows = spread(&outcome.states, MOST_COLUMNS);
    if rows.is_empty() {
        return;
    }
    page.heading("At the times asked for");
    page.table(&[
        ("Time", cells(&rows, |s| time(Some(s.time_s)))),
        (
            "Strip, hottest point",
            cells(&rows, |s| degrees(Some(s.strip_peak_c))),
        ),
        (
            "Deflection",
            cells(&rows, |s| {
                format!("{} mm", significant(s.tip_deflection_mm, 3))
            }),
        ),
    ]);
}

/// Most events that are listed.
const MOST_EVENTS: usize = 16;

/// What happened to a part that is reset by hand, where there is more to tell than one trip and its wait. Contacts that open
/// milliseconds after a release are not told again.
pub(super) fn events(page: &mut Page, outcome: &Outcome) {
    let count = |event: &str| outcome.events.iter().filter(|e| e.event == event).count();
    let by_hand = outcome.part.reset != "automatic";
    if !by_hand || count("release") < 2 && count("reset") + count("reset refused") == 0 {
        return;
    }
    let told = |event: &&EventRecord| event.event != "contacts open";
    let all: Vec<String> = outcome
        .events
        .iter()
        .filter(told)
        .map(|e| format!("{} {}", duration(e.time_s, 4), e.event))
        .collect();
    let mut text = all[..all.len().min(MOST_EVENTS)].join("; ");
    if all.len() > MOST_EVENTS {
        text += "; more under `events` in result.json";
    }
    page.item("What happened", &text);
}

/// At most `most` rows, the first and the last among them; the files hold all.
pub(super) fn spread<T>(rows: &[T], most: usize) -> Vec<&T> {
    if rows.len() <= most || most < 2 {
        return rows.iter().collect();
    }
    let last = rows.len() - 1;
    (0..most)
        .map(|k| &rows[(k * last + (most - 1) / 2) / (most - 1)])
        .collect()
}

fn cells<T>(rows: &[&T], cell: impl Fn(&T) -> String) -> Vec<String> {
    rows.iter().map(|row| cell(row)).collect()
}

/// One line a distinct reason, naming the columns that it explains.
fn reasons<'a>(page: &mut Page, rows: impl Iterator<Item = (String, &'a Option<String>)>) {
    let mut found: Vec<(&str, Vec<String>)> = Vec::new();
    let mut count = 0;
    for (column, reason) in rows {
        count += 1;
        let Some(reason) = reason.as_deref().filter(|r| !r.is_empty()) else {
            continue;
        };
        match found.iter_mut().find(|(known, _)| *known == reason) {
            Some((_, columns)) => columns.push(column),
            None => found.push((reason, vec![column])),
        }
    }
    for (reason, columns) in found {
        let place = if columns.len() == count {
            "everywhere".to_owned()
        } else {
            format!("at {}", columns.join(", "))
        };
        page.wrap("  ", &format!("{NONE} {place}: {reason}"));
    }
}

fn amperes(value: Option<f64>) -> String {
    finite(value).map_or(NONE.to_owned(), |v| format!("{} A", significant(v, 3)))
}

fn time(value: Option<f64>) -> String {
    finite(value).map_or(NONE.to_owned(), |v| duration(v, 3))
}

fn degrees(value: Option<f64>) -> String {
    crate::present::number::celsius(value, 0)
}
