//! Characteristics and waits for the reset of several scenarios over each other.

use super::Figure;
use super::log_log::{self, is_positive};
use crate::answer::Caution;
use crate::present::chart::style::*;
use crate::present::chart::{Axis, Chart, Column, Datum, Item, Line, Panel, extent};
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
pub(super) fn figure(outcome: &CompareOutcome) -> Option<Figure> {
    let all = &outcome.scenarios;
    let time = |at: &CurveAt| at.trip_time.time_s();
    let data = |value: &dyn Fn(&CurveAt) -> Option<f64>| -> Vec<Datum> {
        let points = all.iter().flat_map(|s| points(s, value));
        points.filter(|p| is_positive(p.1)).collect()
    };
    let (times, waits) = (data(&time), data(&CurveAt::wait_s));
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
        let right = Panel::new(x, y, lines(&CurveAt::wait_s));
        columns.push(Column::of(vec![
            right.captioned(word!("Wait after that trip")),
        ]));
    }
    let names: Vec<&str> = all.iter().map(|s| s.name.as_str()).collect();
    let title = word!("Scenarios over each other");
    Chart::new("compare", title, names.join(" | "), columns)
        .cautioned(&[Caution::ModelEstimate])
        .described(word!(
            "Time to trip, and wait until the reset after that trip, against current, a \
                    line a scenario."
        ))
}

fn points(scenario: &Compared, value: &dyn Fn(&CurveAt) -> Option<f64>) -> Vec<Datum> {
    let curve = scenario.curve.iter();
    curve
        .map(|at| (at.current_a, value(at).unwrap_or(f64::NAN)))
        .collect()
}
