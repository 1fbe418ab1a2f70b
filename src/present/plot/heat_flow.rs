//! Where the heat goes: what leaves the metal parts, stacked, and what is stored, under the
//! electrical power.

use super::stretch::{Stretch, around_opening};
use crate::predict::{HeatFlow, Outcome};
use crate::present::chart::style::*;
use crate::present::chart::{
    Axis, Chart, Column, Datum, Flag, Foot, Item, Key, Line, Name, Panel, Sample, extent, fill,
};
use crate::present::language::worded;
use crate::present::number::{duration, finite, significant};

/// A share of the power: name, edge, value.
type Band = (&'static str, Stroke, fn(&HeatFlow) -> f64);

/// Each is drawn on top of those before it.
const BANDS: [Band; 5] = [
    (
        noted!("into the wires at the terminals"),
        stroke(CLAY, 4, SOLID),
        |h| h.terminals_w,
    ),
    (
        noted!("convection to the air"),
        stroke(LAKE, 4, DASHED),
        |h| h.convection_w,
    ),
    (noted!("radiation"), stroke(EMBER, 4, DASH_DOT), |h| {
        h.radiation_w
    }),
    (
        noted!("moving contact to the air"),
        stroke(MOSS, 4, DOTTED),
        |h| h.contact_w,
    ),
    (
        noted!("stored: warms the metal"),
        stroke(PLUM, 4, LONG),
        |h| h.stored_w,
    ),
];

/// How much of its colour a band shows.
const SHARE: f64 = 0.38;
/// Part of the highest power below which a stretch has a scale of its own.
const SLIVER: f64 = 0.3;
const POWER: Stroke = stroke(INK, 7, SOLID);

/// Draws the figure; `None` without an account of the heat.
pub(super) fn figure(outcome: &Outcome) -> Option<Chart> {
    let (first, last) = extent(outcome.heat.iter().map(|h| h.time_s)).unwrap_or((0.0, 0.0));
    let highest = extent(outcome.heat.iter().map(top_of)).map_or(0.0, |(_, high)| high);
    if outcome.heat.len() < 2 || last <= first || !(highest > 0.0) {
        return None;
    }
    let mut note = String::new();
    let lowest = |h: &HeatFlow| BANDS[..4].iter().map(|b| (b.2)(h)).fold(0.0, f64::min);
    if extent(outcome.heat.iter().map(lowest)).is_some_and(|(low, _)| low < -0.01 * highest) {
        note += word!(" (heat that flows into the part is not drawn)");
    }
    let opened = finite(outcome.trip.clearing_time_s()).filter(|t| *t < last);
    let stretches: Vec<Stretch> = around_opening(opened, first, last)
        .into_iter()
        .flat_map(|s| after_the_rush(outcome, s))
        .collect();
    let tops: Vec<f64> = stretches
        .iter()
        .map(|s| highest_of(&flows(outcome, s)))
        .collect();
    // One scale for all of them, unless the power of one would be a sliver on it.
    let is_even = tops.iter().all(|top| *top > SLIVER * highest);
    let scaled = stretches.iter().zip(&tops);
    let columns = scaled.map(|(s, own)| column(outcome, s, if is_even { highest } else { *own }));
    let keys = BANDS.iter().enumerate().map(|(k, band)| {
        let sample = Sample::Patch(Some(fill(band.1.colour, SHARE)), Some(band.1));
        Key::new(sample, name(outcome, k))
    });
    let power = Key::new(Sample::Stroke(POWER), word!("electrical power"));
    let title = word!("Where the heat goes");
    let subtitle = format!("{}{note}", outcome.scenario);
    let mut chart = Chart::new("heat_flow", title, subtitle, columns.collect());
    chart.is_split = is_even;
    chart.foot = vec![Foot::Keys(keys.chain([power]).collect())];
    chart.described(say!(
        "Power against time{note}: what leaves the metal parts by each way is stacked, with what is \
         stored on top, up to the electrical power (thick line). Where the stack stands above that \
         line the metal gives back what it stored."
    ; note))
}

/// The flows of a stretch. At the instant of opening the account still stands with the current on.
fn flows<'o>(outcome: &'o Outcome, stretch: &Stretch) -> Vec<&'o HeatFlow> {
    let all = outcome.heat.iter().filter(|h| stretch.holds(h.time_s));
    let mut all: Vec<&HeatFlow> = all.collect();
    if stretch.zero_s > 0.0 && all.first().is_some_and(|h| h.electrical_w > 0.0) {
        all.remove(0);
    }
    all
}

fn highest_of(flows: &[&HeatFlow]) -> f64 {
    flows.iter().map(|h| top_of(h)).fold(1e-12, f64::max)
}

/// A stretch in two where its power soon falls for good to a small part of what it was at first: a
/// rush of current would press the rest against the axis.
fn after_the_rush(outcome: &Outcome, stretch: Stretch) -> Vec<Stretch> {
    let Stretch { from_s, to_s, .. } = stretch;
    let opened_s = finite(outcome.trip.clearing_time_s());
    let until_s = opened_s.filter(|t| (from_s..to_s).contains(t) && *t > from_s);
    let until_s = until_s.unwrap_or(to_s);
    let share = |time_s: f64| (time_s - from_s) / (until_s - from_s);
    let mut flows = flows(outcome, &stretch);
    flows.retain(|h| h.time_s <= until_s);
    let later = flows.partition_point(|h| share(h.time_s) < 0.5);
    let quiet = 1.3 * highest_of(&flows[later..]);
    let last = flows.iter().rposition(|h| top_of(h) > quiet);
    let falls_s = last.and_then(|last| Some(flows.get(last + 1)?.time_s));
    match falls_s.filter(|_| quiet < SLIVER * highest_of(&flows)) {
        Some(at_s) if share(at_s) < 0.25 => stretch.parted(at_s).into(),
        _ => vec![stretch],
    }
}

fn name(outcome: &Outcome, k: usize) -> &'static str {
    if k == 3 && outcome.series.iter().any(|s| s.winding_c.is_some()) {
        word!("moving contact and winding to the air")
    } else {
        worded(BANDS[k].0)
    }
}

/// Release, open contacts and relatch of the load itself, whatever else a history plays.
fn marks(outcome: &Outcome, stretch: &Stretch) -> Vec<Flag> {
    let (trip, opened) = (
        finite(outcome.trip.time_s()),
        finite(outcome.trip.clearing_time_s()),
    );
    let relatch = opened
        .zip(finite(outcome.reset.relatch_wait.time_s()))
        .map(|(a, b)| a + b);
    let all = [
        (trip, word!("release"), stroke(EMBER, 3, DASHED)),
        (relatch, word!("relatch"), stroke(MOSS, 3, DASH_DOT)),
    ];
    let flag = |(time, name, stroke): (Option<f64>, &str, Stroke)| {
        let time = time.filter(|t| stretch.holds(*t))?;
        Some(Flag {
            x: stretch.at(time),
            text: format!("{name} {}", duration(time - stretch.zero_s, 3)),
            stroke,
        })
    };
    all.into_iter().filter_map(flag).collect()
}

/// Top of the stack at one moment, or the electrical power where that is higher.
fn top_of(h: &HeatFlow) -> f64 {
    stack(h, BANDS.len()).max(h.electrical_w)
}

/// Upper edge of the first `count` bands.
fn stack(h: &HeatFlow, count: usize) -> f64 {
    BANDS[..count].iter().map(|b| (b.2)(h).max(0.0)).sum()
}

fn column(outcome: &Outcome, stretch: &Stretch, highest: f64) -> Column {
    let flows = flows(outcome, stretch);
    let line = |value: &dyn Fn(&HeatFlow) -> f64| -> Vec<Datum> {
        let points = flows.iter().map(|h| (stretch.at(h.time_s), value(h)));
        points.collect()
    };
    let band = |(k, band): (usize, &Band)| Item::Band {
        low: line(&|h| stack(h, k)),
        high: line(&|h| stack(h, k + 1)),
        fill: fill(band.1.colour, SHARE),
        edge: Some(band.1),
        name: Name::new(name(outcome, k), Name::MAY_GO),
    };
    let mut items: Vec<Item> = BANDS.iter().enumerate().map(band).collect();
    let most = flows.iter().map(|h| h.electrical_w).fold(0.0, f64::max);
    let text = match most > 0.0 {
        true => say!("electrical power, at most {} W", significant(most, 3)),
        false => String::new(),
    };
    // Named where it runs high, not where it drops.
    let high = |h: &HeatFlow| match h.electrical_w > 0.6 * most {
        true => h.electrical_w,
        false => f64::NAN,
    };
    items.push(Line::new(line(&|h| h.electrical_w), POWER).into());
    items.push(Line::new(line(&high), POWER).named(text).into());
    let y = Axis::linear(word!("Power, W"), 0.0, 1.16 * highest, 7);
    let mut column = Column::of(vec![Panel::new(stretch.axis(), y, items)]);
    column.flags = marks(outcome, stretch);
    column
}
