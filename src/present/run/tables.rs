//! The tables of a prediction: one row a case, with the reason below wherever a number is missing.

use crate::answer::TripTime;
use crate::predict::{Characteristic, CurvePoint, Outcome, TYPICAL_MULTIPLES};
use crate::present::block::Table;
use crate::present::number::{NONE, celsius, duration, finite, plain, significant};
use crate::present::words::{held, row_why, trip_time, trip_why, wait};

/// Most rows of the characteristic.
const MOST_CURVE_ROWS: usize = 24;

fn amperes(value: f64) -> String {
    format!("{} A", significant(value, 4))
}

/// Load back after too short a wait.
pub(super) fn premature(outcome: &Outcome) -> Table {
    let rows = &outcome.premature_reset;
    Table::new(word!(
        "The load back on after a wait, and the time to the next trip"
    ))
    .across()
    .numbers(
        word!("Load back after"),
        rows.iter().map(|r| duration(r.wait_s, 3)),
    )
    .numbers(
        word!("Trips again in"),
        rows.iter().map(|r| trip_time(&r.trips_again_after, 3)),
    )
    .reasons(rows.iter().map(|r| trip_why(&r.trips_again_after)))
}

/// What lost preload does.
pub(super) fn preload(outcome: &Outcome) -> Table {
    let rows = &outcome.preload_shift;
    Table::new(word!("Preload lost and what it moves, under this load"))
        .across()
        .numbers(
            word!("Preload lost"),
            rows.iter().map(|r| format!("{} %", plain(100.0 * r.loss))),
        )
        .numbers(
            word!("Trip point"),
            rows.iter().map(|r| held(&r.trip_point, 4)),
        )
        .numbers(
            word!("Trip time"),
            rows.iter().map(|r| trip_time(&r.trip_time, 3)),
        )
        .numbers(
            word!("Wait for the reset"),
            rows.iter().map(|r| wait(&r.relatch_wait, 3)),
        )
        .numbers(
            word!("Trip temperature"),
            rows.iter().map(|r| celsius(r.trip_temperature_c, 0)),
        )
        .reasons(
            rows.iter()
                .map(|r| row_why(&r.trip_point, &r.trip_time, &r.relatch_wait)),
        )
}

/// What the air does.
pub(in crate::present) fn ambient(outcome: &Outcome) -> Table {
    let rows = &outcome.ambient_correction;
    let factor = |f: Option<f64>| finite(f).map_or(NONE.to_owned(), |f| significant(f, 3));
    let reference = plain(outcome.part.reference_ambient_c);
    Table::new(word!("In other air"))
        .across()
        .numbers(
            word!("Air"),
            rows.iter().map(|r| format!("{} °C", plain(r.ambient_c))),
        )
        .numbers(
            word!("Trip point"),
            rows.iter().map(|r| held(&r.trip_point, 4)),
        )
        .numbers(
            say!("Over that at {reference} °C"; reference),
            rows.iter().map(|r| factor(r.factor)),
        )
        .numbers(
            word!("Wait for the reset"),
            rows.iter().map(|r| wait(&r.relatch_wait, 3)),
        )
        .reasons(
            rows.iter()
                .map(|r| row_why(&r.trip_point, &r.trip_time, &r.relatch_wait)),
        )
}

/// The times asked for.
pub(in crate::present) fn states(outcome: &Outcome) -> Table {
    let rows = &outcome.states;
    let mm = |mm: f64| format!("{} mm", significant(mm, 3));
    Table::new(word!("At the times asked for"))
        .numbers(word!("Time"), rows.iter().map(|s| duration(s.time_s, 3)))
        .numbers(word!("Current"), rows.iter().map(|s| amperes(s.current_a)))
        .numbers(
            word!("Strip, mean"),
            rows.iter().map(|s| celsius(Some(s.strip_mean_c), 0)),
        )
        .numbers(
            word!("Strip, hottest point"),
            rows.iter().map(|s| celsius(Some(s.strip_peak_c), 0)),
        )
        .numbers(
            word!("Deflection"),
            rows.iter().map(|s| mm(s.tip_deflection_mm)),
        )
}

/// Time to trip against current, every current of either curve once, rising.
pub(in crate::present) fn characteristic(found: &Characteristic, caption: &str) -> Table {
    let points = found.cold.iter().chain(&found.hot);
    let mut currents: Vec<(f64, f64)> = points.map(|p| (p.current_a, p.multiple)).collect();
    currents.sort_by(|a, b| a.0.total_cmp(&b.0));
    currents.dedup_by(|a, b| same(a.0, b.0));
    let usual = |(_, m): &(f64, f64)| TYPICAL_MULTIPLES.iter().any(|t| same(*t, *m));
    // Between those that are usual lie others, for the figure and the file.
    if currents.iter().filter(|c| usual(c)).count() == TYPICAL_MULTIPLES.len() {
        currents.retain(usual);
    }
    let hot = say!("after {} % of rated", plain(100.0 * found.hot_fraction));
    let at = |points: &[CurvePoint], current_a: f64| {
        let point = points.iter().find(|p| same(p.current_a, current_a));
        point.map_or(NONE.to_owned(), |p| trip_time(&p.time, 4))
    };
    Table::new(caption)
        .numbers(
            word!("current"),
            currents.iter().map(|(current, _)| amperes(*current)),
        )
        .numbers(
            word!("x rated"),
            currents
                .iter()
                .map(|(_, multiple)| significant(*multiple, 3)),
        )
        .numbers(
            word!("cold"),
            currents
                .iter()
                .map(|(current, _)| at(&found.cold, *current)),
        )
        .numbers(
            hot,
            currents.iter().map(|(current, _)| at(&found.hot, *current)),
        )
        .at_most(MOST_CURVE_ROWS)
}

/// Why points of the curves have no time, one sentence a distinct reason.
pub(in crate::present) fn missing(found: &Characteristic) -> Vec<String> {
    let mut told: Vec<String> = Vec::new();
    let mut list = Vec::new();
    let curves = [(word!("cold"), &found.cold), (word!("hot"), &found.hot)];
    for (state, point) in curves
        .iter()
        .flat_map(|(state, curve)| curve.iter().map(move |p| (state, p)))
    {
        let is_plain = matches!(point.time, TripTime::HoldsForEver | TripTime::AlreadyOpen);
        let why = trip_why(&point.time).filter(|why| !is_plain && !told.contains(why));
        if let Some(why) = why {
            list.push(say!(
                "{NONE} from {}, {state}: {why}",
                amperes(point.current_a)
            ; NONE, state, why));
            told.push(why);
        }
    }
    list
}

/// Whether two currents are the same point of a table.
fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs())
}
