//! Characteristics and waits for the reset of several scenarios over each other.

use super::answer_tables::{in_its_place, time_at, wait_at};
use super::log_log::{self, is_positive};
use crate::present::chart::style::*;
use crate::present::chart::{Axis, Chart, Column, Datum, Foot, Item, Line, Panel, extent};
use crate::study::compare::{CompareOutcome, Compared, CurveAt};

/// How the scenarios are drawn, in order.
const STROKES: [Stroke; 6] = [
    stroke(LAKE, 7, SOLID),
    stroke(EMBER, 7, DASHED),
    stroke(MOSS, 6, LONG),
    stroke(PLUM, 6, DASH_DOT),
    stroke(CLAY, 6, DOTTED),
    stroke(QUIET, 6, TWO_DOTS),
];

/// Draws the figure; `None` where nothing trips.
pub(super) fn figure(outcome: &CompareOutcome) -> Option<Chart> {
    let all = &outcome.scenarios;
    let time = |at: &CurveAt| time_at(&at.trip_time);
    let wait = |at: &CurveAt| wait_at(&at.relatch_wait);
    let data = |value: &dyn Fn(&CurveAt) -> Option<f64>| -> Vec<Datum> {
        let points = all.iter().flat_map(|s| points(s, value));
        points.filter(|p| is_positive(p.1)).collect()
    };
    let (times, waits) = (data(&time), data(&wait));
    if times.is_empty() {
        return None;
    }
    let lines = |value: &dyn Fn(&CurveAt) -> Option<f64>| -> Vec<Item> {
        let scenarios = all.iter().zip(STROKES.iter().cycle());
        scenarios
            .map(|(s, stroke)| {
                Line::new(points(s, value), *stroke)
                    .named(s.name.as_str())
                    .into()
            })
            .collect()
    };
    let currents = || times.iter().map(|p| p.0);
    let left = log_log::panel(currents(), times.iter().map(|p| p.1), lines(&time));
    let mut columns = vec![Column::of(vec![left.captioned(word!("Time to trip"))])];
    if let (Some((low, high)), Some((first, last))) =
        (extent(waits.iter().map(|p| p.1)), extent(currents()))
    {
        let x = Axis::log(word!("Current, A"), first * 0.85, last * 1.12);
        let y = Axis::log(word!("Wait for the reset, s"), low * 0.8, high * 1.3);
        let right = Panel::new(x, y, lines(&wait));
        columns.push(Column::of(vec![
            right.captioned(word!("Wait after that trip")),
        ]));
    }
    let missing = all.iter().flat_map(|s| {
        let trip = missing(s, word!("Trip time"), &time);
        trip.into_iter()
            .chain(missing(s, word!("Wait for the reset"), &wait))
    });
    let names: Vec<&str> = all.iter().map(|s| s.name.as_str()).collect();
    let title = word!("Scenarios over each other");
    Chart::new("compare", title, names.join(" | "), columns)
        .with_foot(missing.map(Foot::Note).collect())
        .described(word!(
            "Time to trip, and wait until the reset after that trip, against current, a \
                    line a scenario."
        ))
}

/// What stands in the place of a scenario's numbers, where none of them can be drawn.
fn missing(
    scenario: &Compared,
    name: &str,
    value: &dyn Fn(&CurveAt) -> Option<f64>,
) -> Option<String> {
    let mut found: Vec<&str> = Vec::new();
    for at in &scenario.curve {
        let value = value(at);
        if value.is_some_and(is_positive) {
            return None;
        }
        let what = in_its_place(value).unwrap_or_default();
        if !found.contains(&what) {
            found.push(what);
        }
    }
    Some(format!("{}: {name}: {}", scenario.name, found.join(", ")))
}

fn points(scenario: &Compared, value: &dyn Fn(&CurveAt) -> Option<f64>) -> Vec<Datum> {
    let curve = scenario.curve.iter();
    curve
        .map(|at| {
            (
                at.current_a,
                value(at).filter(|v| is_positive(*v)).unwrap_or(f64::NAN),
            )
        })
        .collect()
}
