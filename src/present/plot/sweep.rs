//! A sweep: lines over the one path that moves, a map over two.

use super::answer_tables::{self, Row, in_its_place, time_at, times, wait_at};
use crate::present::chart::style::*;
use crate::present::chart::{
    Axis, Bar, Chart, Column, Foot, Item, Mark, Panel, Shape, Side, extent, fill,
};
use crate::present::number::{as_read, significant};
use crate::present::words;
use crate::study::summary::Summary;
use crate::study::sweep::{Axis as Path, SweepOutcome};

/// Most values along a side of a map that are written at its edge, and most of all with a number in
/// each cell.
const MOST_WRITTEN: usize = 12;

/// Trip point, trip time and wait against the first path; `None` where others move by themselves.
pub(super) fn lines(outcome: &SweepOutcome) -> Option<Chart> {
    let path = outcome.axes.first()?;
    if outcome.axes.len() > 1 && !outcome.zipped {
        return None;
    }
    let (unit, numbers) = numbers(path)?;
    let answered = outcome
        .points
        .iter()
        .filter_map(|p| Some((p, p.summary()?)));
    let rows = answered.clone().map(|(point, s)| Row {
        x: numbers[point.at[0]],
        answers: (&s.trip_point, &s.trip_time, &s.relatch_wait),
    });
    let of = (outcome.scenario.as_str(), outcome.rated_current_a);
    let title = match outcome.zipped {
        true => word!("What moving several numbers together does"),
        false => word!("What one number does"),
    };
    let times = times(answered.clone().map(|(_, s)| &s.trip_time));
    let header = ("sweep", title, path.path.as_str(), unit.as_str());
    answer_tables::chart(of, header, rows.collect(), times)?.described(
        word!("Trip point with the rated current, time to trip under the load of the scenario and wait until it can be \
         reset, against the number that is moved, each with a lane at the top for what never comes."),
    )
}

/// Unit of a path's values as they are written, and the numbers before it.
fn numbers(path: &Path) -> Option<(String, Vec<f64>)> {
    let split = |text: &String| {
        let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
        Some((number.parse::<f64>().ok()?, unit.to_owned()))
    };
    path.dimension?;
    let all: Vec<(f64, String)> = path.values.iter().map(split).collect::<Option<_>>()?;
    let unit = as_read(&all.first()?.1);
    if all.iter().any(|(_, other)| *other != all[0].1) {
        return Some(("SI".to_owned(), path.si.clone()));
    }
    Some((unit, all.into_iter().map(|(number, _)| number).collect()))
}

/// Trip time and wait over two paths; `None` unless two move by themselves.
pub(super) fn map(outcome: &SweepOutcome) -> Option<Chart> {
    let [up, across] = outcome.axes.as_slice() else {
        return None;
    };
    if outcome.zipped {
        return None;
    }
    let time = |s: &Summary| time_at(&s.trip_time);
    let wait = |s: &Summary| wait_at(&s.relatch_wait);
    let columns = [
        panel(outcome, [up, across], word!("Time to trip, s"), LAKE, time)?,
        panel(
            outcome,
            [up, across],
            word!("Wait for the reset, s"),
            MOSS,
            wait,
        )?,
    ];
    let columns = columns.map(|panel| Column::of(vec![panel])).into();
    let note = say!(
        "Darker: longer. {} stands where it never comes; a cross where there is no number \
         (sweep.csv says why).",
        words::never()
    );
    Chart::new(
        "sweep",
        word!("What two numbers do"),
        outcome.scenario.as_str(),
        columns,
    )
    .with_foot(vec![Foot::Note(note)])
    .described(word!(
        "Time to trip and wait until it can be reset, as cells over the two numbers \
                    that are moved."
    ))
}

fn panel(
    outcome: &SweepOutcome,
    [up, across]: [&Path; 2],
    caption: &str,
    colour: Colour,
    value: impl Fn(&Summary) -> Option<f64>,
) -> Option<Panel> {
    let cells: Vec<(f64, f64, Option<f64>)> = outcome
        .points
        .iter()
        .map(|p| (p.at[1] as f64, p.at[0] as f64, p.summary().and_then(&value)))
        .collect();
    let (low, high) = extent(cells.iter().filter_map(|c| c.2)).unwrap_or((0.0, 1.0));
    let is_written = across.values.len() <= MOST_WRITTEN && up.values.len() <= MOST_WRITTEN;
    let mut items: Vec<Item> = Vec::new();
    for (x, y, value) in cells {
        let corners = [(x - 0.5, y - 0.5), (x + 0.5, y + 0.5)];
        let at = (x, y - 0.2);
        match value {
            Some(value) => {
                let share = match value.is_finite() && high > low {
                    true => (value - low) / (high - low),
                    false => 0.0,
                };
                let ink = match value == f64::INFINITY {
                    true => fill(EMBER, 0.2),
                    false => fill(colour, 0.06 + 0.5 * share),
                };
                let text = in_its_place(Some(value)).map(str::to_owned);
                let text = text.unwrap_or_else(|| significant(value, 3));
                items.push(Bar::ground(corners, ink).into());
                if is_written {
                    items.push(Item::small(at, text, INK, Side::Above));
                }
            }
            None => items.push(Mark::new((x, y), Shape::Cross, QUIET).into()),
        }
    }
    Some(
        Panel::new(
            sides(&across.path, &across.values),
            sides(&up.path, &up.values),
            items,
        )
        .captioned(caption),
    )
}

/// An axis with a place for each value.
pub(super) fn sides(path: &str, values: &[String]) -> Axis {
    let count = values.len();
    let step = count.div_ceil(MOST_WRITTEN);
    let written = values.iter().enumerate().step_by(step);
    let ticks = written.map(|(k, value)| (k as f64, brief(value)));
    Axis::linear(path, -0.5, count as f64 - 0.5, 1).with_words(ticks.collect())
}

/// A value with its number to four digits.
fn brief(value: &str) -> String {
    let (number, unit) = value.split_once(' ').unwrap_or((value, ""));
    let rounded = number.parse::<f64>().ok();
    let rounded = rounded.and_then(|n| format!("{n:.3e}").parse::<f64>().ok());
    rounded.map_or(value.to_owned(), |n| {
        as_read(format!("{n} {unit}").trim_end())
    })
}
