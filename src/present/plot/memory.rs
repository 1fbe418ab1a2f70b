//! What the strip remembers: how soon it trips again after a short wait, and when it is reset each
//! time as soon as it catches.

use super::answer_tables::time_at;
use crate::predict::Outcome;
use crate::present::chart::style::*;
use crate::present::chart::{
    Axis, Bar, Chart, Column, Foot, Item, Key, Line, Panel, Sample, Side, extent, fill,
};
use crate::present::language::worded;
use crate::present::number::{duration, finite, significant};
use crate::present::words;

/// Draws the figure; `None` where it does not trip again.
pub(super) fn figure(outcome: &Outcome) -> Option<Chart> {
    let again: Vec<(f64, f64)> = outcome
        .premature_reset
        .iter()
        .filter_map(|r| Some((r.wait_s, time_at(&r.trips_again_after)?)))
        .filter(|(_, time)| *time < f64::INFINITY)
        .filter(|(wait, _)| *wait > 0.0)
        .collect();
    let trips = outcome
        .repeated_resets
        .iter()
        .filter(|r| r.trips_after.time_s().is_some())
        .count();
    let (mut columns, mut foot) = (Vec::new(), Vec::new());
    if again.len() > 1 {
        columns.push(Column::of(vec![after_a_wait(outcome, again)]));
    }
    if trips > 1 {
        columns.push(Column::of(vec![again_and_again(outcome)]));
        let keys = [CARRIED, COOLING].map(|(name, colour, share)| {
            let sample = Sample::Patch(Some(fill(colour, share)), Some(stroke(colour, 4, SOLID)));
            Key::new(sample, worded(name))
        });
        foot.push(Foot::Keys(keys.into()));
    }
    if columns.is_empty() {
        return None;
    }
    let title = word!("What the part remembers");
    let chart = Chart::new("memory", title, outcome.scenario.as_str(), columns);
    chart.with_foot(foot).described(
        word!("Left: time to trip again against the wait before the load comes back, with the \
         time from the first start. Right: how long the load is carried and how long it must cool, trip \
         after trip, when it is reset each time as soon as it catches."),
    )
}

fn after_a_wait(outcome: &Outcome, again: Vec<(f64, f64)>) -> Panel {
    let (low, high) = extent(again.iter().map(|p| p.0)).unwrap_or((1.0, 10.0));
    let first = finite(outcome.trip.time_s()).filter(|t| *t > 0.0);
    let times = || again.iter().map(|p| p.1);
    let y = Axis::airy(word!("Trips again after, s"), times().chain(first), 7, 0.14);
    let y = y.with_foot(words::at_once(), times());
    let mut items = Vec::new();
    if let Some(value) = first {
        let text = say!("first trip {}", duration(value, 3));
        items.push(Item::level(value, stroke(EMBER, 4, DASHED), text));
    }
    let line = Line::new(again, stroke(LAKE, 6, SOLID)).dotted(11);
    items.push(line.numbered(|time| significant(time, 3)).into());
    let x = Axis::log(
        word!("Wait after the contacts opened, s"),
        low / 1.25,
        high * 1.25,
    );
    Panel::new(x, y, items).captioned(word!("The load comes back after a wait"))
}

/// Name, colour and share of the fill.
type Kind = (&'static str, Colour, f64);
const CARRIED: Kind = (noted!("load carried"), LAKE, 1.0);
const COOLING: Kind = (noted!("must cool"), MOSS, 0.12);

fn again_and_again(outcome: &Outcome) -> Panel {
    let rows = &outcome.repeated_resets;
    let caption = if outcome.part.resets_itself() {
        word!("Left alone, it closes by itself each time")
    } else {
        word!("Reset each time as soon as it catches")
    };
    let mut items: Vec<Item> = Vec::new();
    let mut most = 0.0_f64;
    for row in rows {
        let middle = f64::from(row.number);
        let bars = [
            (row.trips_after.time_s(), middle - 0.22, CARRIED),
            (row.relatch_wait.time_s(), middle + 0.22, COOLING),
        ];
        for (value, x, (_, colour, share)) in bars {
            let Some(value) = finite(value) else { continue };
            most = most.max(value);
            let mut bar = Bar::new([(x - 0.2, 0.0), (x + 0.2, value)], fill(colour, share));
            bar.border = Some(stroke(colour, 4, SOLID));
            items.push(bar.into());
            let number = match value > 0.0 {
                true => significant(value, if value < 10.0 { 2 } else { 3 }),
                false => words::at_once().to_owned(),
            };
            items.push(Item::small((x, value), number, colour, Side::Above));
        }
    }
    let ticks = (1..=rows.len())
        .map(|k| (k as f64, k.to_string()))
        .collect();
    let x = Axis::linear(word!("Trip number"), 0.4, rows.len() as f64 + 0.6, 1).with_words(ticks);
    let y = Axis::linear(word!("Time, s"), 0.0, 1.12 * most.max(1e-9), 7);
    Panel::new(x, y, items).captioned(caption)
}
