//! Short tables as curves: lines through marked points, each with its number.

use crate::answer::{TripTime, Wait};
use crate::present::chart::style::{DASHED, EMBER, QUIET, Stroke, stroke};
use crate::present::chart::{Axis, Chart, Column, Foot, Item, Line, Mark, Panel, Shape};
use crate::present::number::significant;

/// A table of one quantity.
pub(super) struct TableCurve {
    pub(super) title: String,
    /// Infinite: it never comes. `None`: no number there, and why stands below the figure.
    pub(super) rows: Vec<(f64, Option<f64>)>,
    pub(super) stroke: Stroke,
    /// What infinity means here, in a word.
    pub(super) endless: &'static str,
    /// A level to compare with, and its name.
    pub(super) level: Option<(f64, String)>,
}

/// A trip time, infinite where it is proved to hold for ever.
pub(super) fn trip(time: &TripTime) -> Option<f64> {
    match time {
        TripTime::HoldsForEver => Some(f64::INFINITY),
        other => other.time_s(),
    }
}

/// A wait, infinite where it never ends.
pub(super) fn wait(wait: &Wait) -> Option<f64> {
    match wait.is_never() {
        true => Some(f64::INFINITY),
        false => wait.time_s(),
    }
}

/// Most numbers written beside points.
const MOST_NUMBERS: usize = 12;

/// One table in the left half and up to two in the right half; those without a number give their
/// room to the others. Below stands why numbers are missing, each reason once.
pub(super) fn chart(
    stem: &'static str,
    (title, subtitle): (&str, &str),
    x_title: &str,
    [left, right]: [&[TableCurve]; 2],
    missing: impl Iterator<Item = (String, Option<String>)>,
) -> Chart {
    let halves = [left, right].map(|tables| {
        let shown = tables.iter().filter(|c| c.has_numbers());
        Column::of(shown.map(|c| c.panel(x_title)).collect())
    });
    let halves = halves.into_iter().filter(|c| !c.panels.is_empty());
    Chart::new(stem, title, subtitle, halves.collect()).with_foot(reasons(missing))
}

impl TableCurve {
    fn has_numbers(&self) -> bool {
        self.rows.iter().any(|(_, y)| y.is_some_and(f64::is_finite))
    }

    fn panel(&self, x_title: &str) -> Panel {
        let level = self.level.as_ref().map(|(value, _)| *value);
        let ys = || self.rows.iter().filter_map(|row| row.1);
        let y = Axis::airy(self.title.as_str(), ys().chain(level), 6, 0.16);
        let y = y.with_lane(self.endless, ys());
        let mut items = Vec::new();
        if let Some((value, name)) = &self.level {
            items.push(Item::level(*value, stroke(EMBER, 4, DASHED), name));
        }
        let points = self.rows.iter().map(|(x, y)| (*x, y.unwrap_or(f64::NAN)));
        let mut line = Line::new(points.collect(), self.stroke).dotted(11);
        if self.rows.len() <= MOST_NUMBERS {
            line = line.numbered(|y| significant(y, 3));
        }
        items.push(line.into());
        let foot = y.low + 0.04 * (y.high - y.low);
        let missing = self.rows.iter().filter(|row| row.1.is_none());
        items.extend(missing.map(|(x, _)| Mark::new((*x, foot), Shape::Cross, QUIET).into()));
        let xs = self.rows.iter().map(|row| row.0);
        Panel::new(Axis::airy(x_title, xs, 7, 0.11), y, items)
    }
}

/// Why numbers are missing.
fn reasons(rows: impl Iterator<Item = (String, Option<String>)>) -> Vec<Foot> {
    let mut found: Vec<(String, Vec<String>)> = Vec::new();
    for (at, reason) in rows {
        let Some(reason) = reason.filter(|r| !r.is_empty()) else {
            continue;
        };
        match found.iter_mut().find(|(known, _)| *known == reason) {
            Some((_, places)) => places.push(at),
            None => found.push((reason, vec![at])),
        }
    }
    let texts: Vec<String> = found
        .into_iter()
        .map(|(reason, at)| format!("{}: {reason}", at.join(", ")))
        .collect();
    match texts.is_empty() {
        true => Vec::new(),
        false => vec![Foot::Note(format!("No number at {}", texts.join("; ")))],
    }
}
