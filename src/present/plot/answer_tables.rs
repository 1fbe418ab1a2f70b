//! Tables of answers as curves: what the air around and what lost preload do to the trip point, to
//! the trip time and to the wait. Lines go through marked points, each with its number.

use super::Figure;
use crate::answer::{Caution, Held, TripTime, Wait};
use crate::predict::Outcome;
use crate::present::chart::style::*;
use crate::present::chart::{Axis, Chart, Column, Foot, Item, Line, Mark, Panel, Shape};
use crate::present::number::{plain, significant};
use crate::present::words;

/// A row, alike in all tables.
pub(super) struct Row<'r> {
    pub(super) x: f64,
    pub(super) answers: (&'r Held, &'r TripTime, &'r Wait),
}

/// Whose table it is: the scenario, its rated current in A, and what is said beside the figure.
type Of<'o> = (&'o str, f64, &'static [Caution]);

fn of(outcome: &Outcome) -> Of<'_> {
    let rated_a = outcome.part.rated_current_a;
    (&outcome.scenario, rated_a, super::again(outcome))
}

/// Times to trip of rows; infinite where it never does.
pub(super) fn times<'t>(rows: impl Iterator<Item = &'t TripTime>) -> (String, Vec<Option<f64>>) {
    let time = |time: &TripTime| match time {
        TripTime::HoldsForEver => Some(f64::INFINITY),
        other => other.time_s(),
    };
    (
        word!("Trip time, this load, s").to_owned(),
        rows.map(time).collect(),
    )
}

/// One quantity of the rows. Infinite: it never comes. `None`: no number there, and why stands
/// below the figure.
struct Curve {
    title: String,
    stroke: Stroke,
    values: Vec<Option<f64>>,
    /// A level to compare with, and its name.
    level: Option<(f64, String)>,
}

/// Most numbers written beside points.
const MOST_NUMBERS: usize = 12;

/// What the air around does; `None` with fewer than two rows.
pub(super) fn ambient_correction(outcome: &Outcome) -> Option<Figure> {
    let all = &outcome.ambient_correction;
    let rows = all.iter().map(|r| Row {
        x: r.ambient_c,
        answers: (&r.trip_point, &r.trip_time, &r.relatch_wait),
    });
    let reference = plain(outcome.part.reference_ambient_c);
    let title = say!("Factor (1 at {reference} °C)"; reference);
    let factors = all.iter().map(|r| r.factor);
    let header = (
        "ambient_correction",
        word!("What the air around does"),
        word!("Air"),
        "°C",
    );
    chart(
        of(outcome),
        header,
        rows.collect(),
        (title, factors.collect()),
    )?.described(
        word!("Trip point against the temperature of the air, with the rated current; trip point over the trip point at \
         the reference air; wait until it can be reset, with a lane at the top where it never can."),
    )
}

/// What lost preload does; `None` with fewer than two rows.
pub(super) fn preload_shift(outcome: &Outcome) -> Option<Figure> {
    let all = &outcome.preload_shift;
    let rows = all.iter().map(|r| Row {
        x: 100.0 * r.loss,
        answers: (&r.trip_point, &r.trip_time, &r.relatch_wait),
    });
    let header = (
        "preload_shift",
        word!("What lost spring preload does"),
        word!("Preload lost"),
        "%",
    );
    chart(
        of(outcome),
        header,
        rows.collect(),
        times(all.iter().map(|r| &r.trip_time)),
    )?.described(
        word!("Trip point against preload lost, with the rated current; time to trip under the scenario's load and wait \
         until it can be reset, against preload lost, each with a lane at the top for what never comes."),
    )
}

/// The trip point in the left half, a quantity of the table's own and the wait in the right half;
/// those without a number give their room to the others. Below stands why numbers are missing, each
/// reason once.
pub(super) fn chart(
    (scenario, rated, cautions): Of<'_>,
    (stem, title, of, unit): (&'static str, &str, &str, &str),
    rows: Vec<Row<'_>>,
    (own_title, own): (String, Vec<Option<f64>>),
) -> Option<Chart> {
    let curve = |title: String, stroke, values: Vec<Option<f64>>| {
        let known = |value: Option<f64>| value.filter(|v| !v.is_nan());
        Curve {
            title,
            stroke,
            values: values.into_iter().map(known).collect(),
            level: None,
        }
    };
    let points = rows.iter().map(|r| r.answers.0.current_a()).collect();
    let waits = rows.iter().map(|r| match r.answers.2 {
        wait if wait.is_never() => Some(f64::INFINITY),
        wait => wait.time_s(),
    });
    let mut point = curve(
        word!("Trip point, A").to_owned(),
        stroke(LAKE, 6, SOLID),
        points,
    );
    point.level = Some((rated, say!("rated {} A", plain(rated))));
    let own = curve(own_title, stroke(PLUM, 6, DASH_DOT), own);
    let wait_title = word!("Wait for the reset, s").to_owned();
    let wait = curve(wait_title, stroke(MOSS, 6, DASHED), waits.collect());
    let x_title = match unit {
        "" => of.to_owned(),
        unit => format!("{of}, {unit}"),
    };
    let halves = [vec![point], vec![own, wait]].map(|curves| {
        let shown = curves.iter().filter(|c| c.has_numbers());
        Column::of(shown.map(|c| c.panel(&rows, &x_title)).collect())
    });
    let halves = halves.into_iter().filter(|c| !c.panels.is_empty());
    let halves: Vec<Column> = halves.collect();
    let reasons = rows.iter().map(|r| {
        let (point, trip, relatch) = r.answers;
        let at = format!("{} {unit}", plain(r.x));
        (at, words::row_why(point, trip, relatch))
    });
    let is_drawn = rows.len() > 1 && !halves.is_empty();
    is_drawn.then(|| {
        Chart::new(stem, title, scenario, halves)
            .with_foot(missing(reasons))
            .cautioned(cautions)
    })
}

impl Curve {
    fn has_numbers(&self) -> bool {
        self.values.iter().flatten().any(|y| y.is_finite())
    }

    fn panel(&self, rows: &[Row<'_>], x_title: &str) -> Panel {
        let level = self.level.as_ref().map(|(value, _)| *value);
        let ys = || self.values.iter().flatten().copied();
        let y = Axis::airy(self.title.as_str(), ys().chain(level), 6, 0.16);
        let y = y.with_lane(words::never(), ys());
        let mut items = Vec::new();
        if let Some((value, name)) = &self.level {
            items.push(Item::level(*value, stroke(EMBER, 4, DASHED), name));
        }
        let points = || rows.iter().map(|r| r.x).zip(&self.values);
        let line = points().map(|(x, y)| (x, y.unwrap_or(f64::NAN)));
        let mut line = Line::new(line.collect(), self.stroke).dotted(11);
        if rows.len() <= MOST_NUMBERS {
            line = line.numbered(|y| significant(y, 3));
        }
        items.push(line.into());
        let foot = y.low + 0.04 * (y.high - y.low);
        let missing = points().filter(|(_, y)| y.is_none());
        items.extend(missing.map(|(x, _)| Mark::new((x, foot), Shape::Cross, QUIET).into()));
        let xs = rows.iter().map(|r| r.x);
        Panel::new(Axis::airy(x_title, xs, 7, 0.11), y, items)
    }
}

/// Why numbers are missing.
fn missing(rows: impl Iterator<Item = (String, Option<String>)>) -> Vec<Foot> {
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
    let texts = found.into_iter();
    let texts = texts.map(|(reason, at)| format!("{}: {reason}", at.join(", ")));
    let texts: Vec<String> = texts.collect();
    match texts.is_empty() {
        true => Vec::new(),
        false => vec![Foot::Note(say!("No number at {}", texts.join("; ")))],
    }
}
