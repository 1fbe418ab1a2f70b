//! Tables of answers as curves: what the air around and what lost preload do to the trip point, to
//! the trip time and to the wait. Lines go through marked points, each with its number.

use crate::answer::{Held, TripTime, Wait};
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

/// Whose table it is: the scenario, and its rated current in A.
type Of<'o> = (&'o str, f64);

fn of(outcome: &Outcome) -> Of<'_> {
    (&outcome.scenario, outcome.part.rated_current_a)
}

/// When it trips, on an axis with lanes: infinite where it never does, minus infinite at once.
pub(super) fn time_at(time: &TripTime) -> Option<f64> {
    match time {
        TripTime::AtOnce => Some(f64::NEG_INFINITY),
        TripTime::HoldsForEver => Some(f64::INFINITY),
        other => other.time_s(),
    }
}

/// How long to wait, on an axis with a lane: infinite where that time never comes.
pub(super) fn wait_at(wait: &Wait) -> Option<f64> {
    match wait.is_never() {
        true => Some(f64::INFINITY),
        false => wait.time_s(),
    }
}

/// What stands where there is no number.
pub(super) fn in_its_place(value: Option<f64>) -> Option<&'static str> {
    match value {
        Some(f64::INFINITY) => Some(words::never()),
        Some(f64::NEG_INFINITY) => Some(words::at_once()),
        Some(_) => None,
        None => Some(word!("no number")),
    }
}

/// One quantity of the rows.
pub(super) struct Curve {
    name: &'static str,
    title: String,
    stroke: Stroke,
    /// Infinite: it never comes. Minus infinite: at once. `None`: no number there.
    values: Vec<Option<f64>>,
    /// Why there is no number, where a row of its own must say so.
    whys: Vec<Option<String>>,
    /// A level to compare with, and its name.
    level: Option<(f64, String)>,
}

/// How the quantity of a table's own is drawn.
const OWN: Stroke = stroke(PLUM, 6, DASH_DOT);

/// Times to trip of rows.
pub(super) fn times<'t>(rows: impl Iterator<Item = &'t TripTime> + Clone) -> Curve {
    let why = |time: &TripTime| match time {
        TripTime::HoldsForEver => None,
        other => words::trip_why(other),
    };
    let mut curve = Curve::new(
        word!("Trip time, this load"),
        word!("Trip time, this load, s").to_owned(),
        OWN,
        rows.clone().map(time_at),
    );
    curve.whys = rows.map(why).collect();
    curve
}

/// Most numbers written beside points.
const MOST_NUMBERS: usize = 12;

/// What the air around does; `None` with fewer than two rows.
pub(super) fn ambient_correction(outcome: &Outcome) -> Option<Chart> {
    let all = &outcome.ambient_correction;
    let rows = all.iter().map(|r| Row {
        x: r.ambient_c,
        answers: (&r.trip_point, &r.trip_time, &r.relatch_wait),
    });
    let rows: Vec<Row<'_>> = rows.collect();
    let reference = plain(outcome.part.reference_ambient_c);
    let title = say!("Factor (1 at {reference} °C)"; reference);
    // Where there is none, the trip point says why.
    let factors = Curve::new("", title, OWN, all.iter().map(|r| r.factor));
    let header = (
        "ambient_correction",
        word!("What the air around does"),
        word!("Air"),
        "°C",
    );
    chart(of(outcome), header, rows, factors)?.described(
        word!("Trip point against the temperature of the air, with the rated current; trip point over the trip point at \
         the reference air; wait until it can be reset, with a lane at the top where it never can."),
    )
}

/// What lost preload does; `None` with fewer than two rows.
pub(super) fn preload_shift(outcome: &Outcome) -> Option<Chart> {
    let all = &outcome.preload_shift;
    let rows = all.iter().map(|r| Row {
        x: 100.0 * r.loss,
        answers: (&r.trip_point, &r.trip_time, &r.relatch_wait),
    });
    let rows: Vec<Row<'_>> = rows.collect();
    let header = (
        "preload_shift",
        word!("What lost spring preload does"),
        word!("Preload lost"),
        "%",
    );
    chart(
        of(outcome),
        header,
        rows,
        times(all.iter().map(|r| &r.trip_time)),
    )?.described(
        word!("Trip point against preload lost, with the rated current; time to trip under the scenario's load and wait \
         until it can be reset, against preload lost, each with a lane at the top for what never comes."),
    )
}

/// The trip point in the left half, a quantity of the table's own and the wait in the right half;
/// those without a number give their room to the others. Below stands what each lacks and why.
pub(super) fn chart(
    (scenario, rated): Of<'_>,
    (stem, title, of, unit): (&'static str, &str, &str, &str),
    rows: Vec<Row<'_>>,
    own: Curve,
) -> Option<Chart> {
    let answers = || rows.iter().map(|r| r.answers);
    let mut point = Curve::new(
        word!("Trip point"),
        word!("Trip point, A").to_owned(),
        stroke(LAKE, 6, SOLID),
        answers().map(|a| a.0.current_a()),
    );
    let held_why = |held| words::held_why(held).map(str::to_owned);
    point.whys = answers().map(|a| held_why(a.0)).collect();
    point.level = Some((rated, say!("rated {} A", plain(rated))));
    let mut wait = Curve::new(
        word!("Wait for the reset"),
        word!("Wait for the reset, s").to_owned(),
        stroke(MOSS, 6, DASHED),
        answers().map(|a| wait_at(a.2)),
    );
    wait.whys = answers().map(|a| words::wait_why(a.2)).collect();
    let x_title = match unit {
        "" => of.to_owned(),
        unit => format!("{of}, {unit}"),
    };
    let places = rows.iter().map(|r| format!("{} {unit}", plain(r.x)));
    let places: Vec<String> = places.map(|at| at.trim_end().to_owned()).collect();
    let lacking: Vec<String> = [&point, &own, &wait]
        .into_iter()
        .flat_map(|curve| curve.lacking(&places))
        .collect();
    let halves = [vec![point], vec![own, wait]].map(|curves| {
        let shown = curves.iter().filter(|c| c.has_numbers());
        Column::of(shown.map(|c| c.panel(&rows, &x_title)).collect())
    });
    let halves = halves.into_iter().filter(|c| !c.panels.is_empty());
    let halves: Vec<Column> = halves.collect();
    let is_drawn = rows.len() > 1 && !halves.is_empty();
    is_drawn.then(|| {
        Chart::new(stem, title, scenario, halves)
            .with_foot(lacking.into_iter().map(Foot::Note).collect())
    })
}

impl Curve {
    fn new(
        name: &'static str,
        title: String,
        stroke: Stroke,
        values: impl Iterator<Item = Option<f64>>,
    ) -> Self {
        let known = |value: Option<f64>| value.filter(|v| !v.is_nan());
        let values: Vec<Option<f64>> = values.map(known).collect();
        Self {
            name,
            title,
            stroke,
            whys: vec![None; values.len()],
            values,
            level: None,
        }
    }

    fn has_numbers(&self) -> bool {
        self.values.iter().flatten().any(|y| y.is_finite())
    }

    /// Where it has no number and why; all of it where no panel shows that it has none.
    fn lacking(&self, places: &[String]) -> Vec<String> {
        let mut found: Vec<(&str, &Option<String>, Vec<&str>)> = Vec::new();
        for ((value, why), at) in self.values.iter().zip(&self.whys).zip(places) {
            let is_plain = why.is_none() && (value.is_none() || self.has_numbers());
            let Some(what) = in_its_place(*value).filter(|_| !is_plain) else {
                continue;
            };
            match found.iter_mut().find(|f| (f.0, f.1) == (what, why)) {
                Some((_, _, known)) => known.push(at),
                None => found.push((what, why, vec![at])),
            }
        }
        let told = |(what, why, at): (&str, &Option<String>, Vec<&str>)| {
            let told = match at.len() == places.len() {
                true => say!("{}: {what} everywhere", self.name; what),
                false => say!("{}: {what} at {}", self.name, at.join(", "); what),
            };
            let why = why.as_ref().map(|why| format!(" ({why})"));
            told + &why.unwrap_or_default()
        };
        found.into_iter().map(told).collect()
    }

    fn panel(&self, rows: &[Row<'_>], x_title: &str) -> Panel {
        let level = self.level.as_ref().map(|(value, _)| *value);
        let ys = || self.values.iter().flatten().copied();
        let y = Axis::airy(self.title.as_str(), ys().chain(level), 6, 0.16);
        let y = y.with_lane(words::never(), ys());
        let y = y.with_foot(words::at_once(), ys());
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
