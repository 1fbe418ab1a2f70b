//! Failures over the years, cumulative and a year, and which spread to halve.

use crate::present::chart::style::*;
use crate::present::chart::{
    Axis, Bar, Chart, Column, Foot, Item, Line, Panel, Side, extent, fill,
};
use crate::present::number::{plain, significant};
use crate::present::words;
use crate::statistics::importance::RareShare;
use crate::study::failures::{Failure, FailuresOutcome, SavedRecord, WayRecord, YearRecord};

/// Bars of a way of failing.
const MOST: usize = 5;

fn look(failure: Failure) -> Stroke {
    match failure {
        Failure::LeavesLimitsLate => stroke(EMBER, 7, SOLID),
        Failure::TripsInService => stroke(LAKE, 7, LONG),
        Failure::LeavesLimitsEarly => stroke(PLUM, 7, DASH_DOT),
    }
}

/// Draws the years; `None` when nothing fails.
pub(super) fn years(outcome: &FailuresOutcome) -> Option<Chart> {
    let columns = [
        panel(outcome, word!("Failed by then, of a million"), |y| {
            Some(y.failed)
        })?,
        panel(outcome, word!("Fail a year, of a million"), |y| y.per_year)?,
    ];
    let subtitle = say!(
        "{}: {} units, seed {}; bands: 95 % intervals; late and early are never added up",
        outcome.scenario,
        outcome.units,
        outcome.seed
    );
    let columns = columns.map(|p| Column::of(vec![p])).into();
    let unknown = outcome
        .ways
        .iter()
        .filter(|way| known(way, |y| Some(y.failed)).is_empty());
    let unknown: Vec<&str> = unknown.map(|w| words::failure_short(w.failure)).collect();
    let foot = match unknown.is_empty() {
        true => Vec::new(),
        false => vec![Foot::Note(say!(
            "Not drawn, because it was not met or its size is hardly known: {}.",
            unknown.join(", ")
        ))],
    };
    Chart::new("failures", word!("Failures over the years"), subtitle, columns)
        .with_foot(foot)
        .described(say!(
            "Share of units that have failed by each year of {}, and that fail in each, on a logarithmic axis, with \
             intervals, for each way of failing.",
            plain(outcome.years)
        ))
}

/// Shares by the years, but for what so few draws met that nothing is known of its size.
fn known(
    way: &WayRecord,
    pick: impl Fn(&YearRecord) -> Option<RareShare>,
) -> Vec<(f64, RareShare)> {
    let all = way.by_year.iter().filter_map(|y| Some((y.years, pick(y)?)));
    all.filter(|(_, s)| s.share > 0.0 && s.high < 100.0 * s.share)
        .collect()
}

fn panel(
    outcome: &FailuresOutcome,
    name: &str,
    pick: impl Fn(&YearRecord) -> Option<RareShare>,
) -> Option<Panel> {
    let lists: Vec<(Failure, Vec<(f64, RareShare)>)> = outcome
        .ways
        .iter()
        .map(|w| (w.failure, known(w, &pick)))
        .collect();
    let whole = lists
        .iter()
        .flat_map(|(_, list)| list)
        .flat_map(|(_, s)| [s.low.max(1e-3 * s.share), s.share, s.high].map(|v| 1e6 * v));
    let (low, high) = extent(whole)?;
    // A line of one size needs room, too; what is rarer than one in 1e9 of the most is not looked
    // at.
    let floor = (0.5 * low).max(1e-9 * high);
    let top = (2.0 * high).max(10.0 * floor);
    let clamped = |v: f64| (1e6 * v).clamp(floor, top);
    let mut items = Vec::new();
    for (failure, list) in &lists {
        if list.is_empty() {
            continue;
        }
        let edge = |of: fn(&RareShare) -> f64| -> Vec<(f64, f64)> {
            list.iter().map(|(x, s)| (*x, clamped(of(s)))).collect()
        };
        let look = look(*failure);
        items.push(Item::band(
            edge(|s| s.low),
            edge(|s| s.high),
            fill(look.colour, 0.2),
        ));
        let line = Line::new(edge(|s| s.share), look);
        items.push(line.named(words::failure_short(*failure)).into());
    }
    let x = Axis::linear(word!("Years of duty"), 0.0, outcome.years, 6);
    Some(Panel::new(x, Axis::log(name, floor, top), items))
}

/// Draws what half of each spread saves; `None` when nothing is worth a bar.
pub(super) fn saved(outcome: &FailuresOutcome) -> Option<Chart> {
    let columns: Vec<Column> = outcome
        .ways
        .iter()
        .filter_map(|way| Some(Column::of(vec![bars(way)?])))
        .collect();
    if columns.is_empty() {
        return None;
    }
    let subtitle = say!(
        "{}: each spread halved, all others as they are; {} years",
        outcome.scenario,
        plain(outcome.years)
    );
    Chart::new("saved", word!("Which spread to halve"), subtitle, columns)
        .described(
            word!("For each way of failing one bar for each number whose spread is worth halving: the part of its failures \
             that is then saved."),
        )
}

fn bars(way: &WayRecord) -> Option<Panel> {
    let all = way.by_year.last()?.failed.share;
    let list: Vec<&SavedRecord> = way
        .saved
        .iter()
        .filter(|s| all > 0.0 && s.saved.share > 0.005 * all)
        .take(MOST)
        .collect();
    if list.is_empty() {
        return None;
    }
    let count = MOST as f64;
    let height = |k: usize| count - 0.5 - k as f64;
    let mut items = Vec::new();
    let look = look(way.failure);
    for (k, record) in list.iter().enumerate() {
        let percent = 100.0 * record.saved.share / all;
        let ends = [(0.0, height(k) - 0.3), (percent, height(k) + 0.3)];
        items.push(Bar::new(ends, fill(look.colour, 0.8)).into());
        let text = format!("{} %", significant(percent, 2));
        items.push(Item::small(
            (percent, height(k)),
            text,
            look.colour,
            Side::Right,
        ));
    }
    let names = list.iter().enumerate().rev();
    let names = names.map(|(k, s)| (height(k), s.path.clone())).collect();
    let mut panel = Panel::new(
        Axis::linear(word!("Saved of them, %"), 0.0, 150.0, 4),
        Axis::linear("", 0.0, count, 1).with_words(names),
        items,
    );
    panel.top = (
        vec![(60.0, words::failure_short(way.failure).to_owned())],
        "",
    );
    Some(panel)
}
