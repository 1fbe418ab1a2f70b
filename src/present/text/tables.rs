//! Small tables, one quantity a row, with the reason below wherever a number is missing.

use super::page::Page;
use crate::predict::{Event, EventRecord, Outcome};
use crate::present::number::{NONE, duration, finite, plain, significant};
use crate::present::words;

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
        (
            "Trip point",
            cells(&rows, |r| words::held(&r.trip_point, 3)),
        ),
        (
            "Trip time, this load",
            cells(&rows, |r| words::trip_time(&r.trip_time, 3)),
        ),
        (
            "Wait for the reset",
            cells(&rows, |r| words::wait(&r.relatch_wait, 3)),
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
        rows.iter().map(|r| {
            (
                format!("{} %", plain(r.loss * 100.0)),
                words::row_why(&r.trip_point, &r.trip_time, &r.relatch_wait),
            )
        }),
    );
}

/// The waits that are too short.
pub(super) fn premature_reset(page: &mut Page, outcome: &Outcome) {
    let rows = spread(&outcome.premature_reset, MOST_COLUMNS);
    if rows.is_empty() {
        return;
    }
    page.table(&[
        ("Load back after", cells(&rows, |r| time(Some(r.wait_s)))),
        (
            "Trips again in",
            cells(&rows, |r| words::trip_time(&r.trips_again_after, 3)),
        ),
    ]);
    reasons(
        page,
        rows.iter()
            .map(|r| (duration(r.wait_s, 3), words::trip_why(&r.trips_again_after))),
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
        (
            "Trip point",
            cells(&rows, |r| words::held(&r.trip_point, 3)),
        ),
        ("Factor", cells(&rows, |r| factor(r.factor))),
        (
            "Wait for the reset",
            cells(&rows, |r| words::wait(&r.relatch_wait, 3)),
        ),
    ]);
    reasons(
        page,
        rows.iter().map(|r| {
            (
                format!("{} °C", plain(r.ambient_c)),
                words::row_why(&r.trip_point, &r.trip_time, &r.relatch_wait),
            )
        }),
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
    let count = |wanted: &[Event]| {
        let events = outcome.events.iter();
        events.filter(|e| wanted.contains(&e.event)).count()
    };
    let resets = [Event::Reset, Event::AlreadyClosed, Event::ResetRefused];
    if outcome.part.resets_itself() || count(&[Event::Release]) < 2 && count(&resets) == 0 {
        return;
    }
    let told = |event: &&EventRecord| event.event != Event::ContactsOpen;
    let all: Vec<String> = outcome
        .events
        .iter()
        .filter(told)
        .map(|e| format!("{} {}", duration(e.time_s, 4), words::event(e.event)))
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
fn reasons(page: &mut Page, rows: impl Iterator<Item = (String, Option<String>)>) {
    let mut found: Vec<(String, Vec<String>)> = Vec::new();
    let mut count = 0;
    for (column, reason) in rows {
        count += 1;
        let Some(reason) = reason else { continue };
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

fn time(value: Option<f64>) -> String {
    finite(value).map_or(NONE.to_owned(), |v| duration(v, 3))
}

fn degrees(value: Option<f64>) -> String {
    crate::present::number::celsius(value, 0)
}
