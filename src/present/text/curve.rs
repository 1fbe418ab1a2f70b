//! The time-current characteristic as a table for a person.

use super::page::Page;
use super::tables::spread;
use super::{cautions_at, head};
use crate::answer::Place;
use crate::answer::TripTime;
use crate::predict::{Characteristic, CurvePoint, Outcome};
use crate::present::cautions::cautions;
use crate::present::limits::{shared_source, verdict};
use crate::present::number::{NONE, plain, significant};
use crate::present::words;

const MOST_ROWS: usize = 24;

/// Trip time against current, cold and hot, and the published limits; the reason when there is
/// no characteristic.
pub fn characteristic_text(outcome: &Outcome) -> String {
    let list = cautions(outcome);
    let mut page = Page::default();
    head(&mut page, outcome);
    page.blank();
    cautions_at(&mut page, &list, Place::Top);
    cautions_at(&mut page, &list, Place::Testing);
    match &outcome.characteristic {
        Some(characteristic) => body(&mut page, characteristic),
        None => page.heading("The time-current characteristic was not computed."),
    }
    page.heading("Cautions");
    for caution in list.iter().filter(|c| c.place == Place::End) {
        page.wrap("  ! ", &caution.text);
    }
    page.finish()
}

fn body(page: &mut Page, characteristic: &Characteristic) {
    page.heading(&format!(
        "Time to trip in air of {} °C",
        plain(characteristic.ambient_c)
    ));
    let percent = plain(characteristic.hot_fraction * 100.0);
    let mut rows = vec![[
        "current".to_owned(),
        "x rated".to_owned(),
        "cold".to_owned(),
        format!("after {percent} % of rated"),
    ]];
    for &(current, multiple) in spread(&currents(characteristic), MOST_ROWS) {
        rows.push([
            format!("{} A", significant(current, 4)),
            significant(multiple, 3),
            at(&characteristic.cold, current),
            at(&characteristic.hot, current),
        ]);
    }
    for [current, multiple, cold, hot] in rows {
        page.push(format!("  {current:>11}{multiple:>10}{cold:>16}{hot:>22}"));
    }
    if let Some(reason) = words::no_hot_curve(characteristic) {
        page.wrap("  ", &format!("No hot curve: {reason}"));
    }
    for (state, curve) in [("cold", &characteristic.cold), ("hot", &characteristic.hot)] {
        why_missing(page, state, curve);
    }
    let held = &characteristic.trip_point;
    let text = match words::held_why(held) {
        None => format!("Held for ever: up to {}.", words::held(held, 4)),
        Some(why) => format!("Held for ever: {}; {why}.", words::held(held, 4)),
    };
    page.wrap("  ", &text);
    if !characteristic.limits.is_empty() {
        page.heading("Against published limits");
        let source = shared_source(&characteristic.limits);
        for limit in &characteristic.limits {
            page.wrap("  ", &verdict(limit, source.is_some()));
        }
        if let Some(source) = source {
            page.wrap("  ", &format!("Source: {source}"));
        }
    }
}

/// Every current of either curve once, rising.
fn currents(characteristic: &Characteristic) -> Vec<(f64, f64)> {
    let points = characteristic.cold.iter().chain(&characteristic.hot);
    let mut list: Vec<(f64, f64)> = points.map(|p| (p.current_a, p.multiple)).collect();
    list.sort_by(|a, b| a.0.total_cmp(&b.0));
    list.dedup_by(|a, b| same(a.0, b.0));
    list
}

fn at(curve: &[CurvePoint], current: f64) -> String {
    match curve.iter().find(|point| same(point.current_a, current)) {
        None => NONE.to_owned(),
        Some(point) => words::trip_time(&point.time, 4),
    }
}

/// Why points of a curve have no time, one line a distinct reason.
fn why_missing(page: &mut Page, state: &str, curve: &[CurvePoint]) {
    let mut told: Vec<String> = Vec::new();
    for point in curve {
        if matches!(point.time, TripTime::HoldsForEver | TripTime::AlreadyOpen) {
            continue;
        }
        let Some(why) = words::trip_why(&point.time).filter(|why| !told.contains(why)) else {
            continue;
        };
        let current = significant(point.current_a, 4);
        page.wrap("  ", &format!("{NONE} from {current} A, {state}: {why}"));
        told.push(why);
    }
}

/// Whether two currents are the same point of a table.
fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs())
}
