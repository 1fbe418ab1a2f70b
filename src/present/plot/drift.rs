//! Drift over the years: trip point against the carried current, preload left, trip time, with
//! bands; what no test covers is shaded.

use crate::present::chart::style::*;
use crate::present::chart::{
    Axis, Bar, Chart, Column, Datum, Fill, Foot, Item, Key, Line, Name, Panel, Sample, fill,
};
use crate::present::number::{finite, plain, significant};
use crate::present::words;
use crate::study::ageing::{AgeOutcome, Date, DriftRow};

/// Ground of a stretch that no test covers, and of a band.
const UNTESTED: Fill = fill(CLAY, 0.13);
const BAND: f64 = 0.2;

/// One panel.
struct Course {
    title: &'static str,
    value: fn(&DriftRow) -> Option<f64>,
    band: fn(&DriftRow) -> Option<[f64; 3]>,
    stroke: Stroke,
    level: Option<(f64, String)>,
}

/// Draws the figure; `None` with fewer than two rows.
pub(super) fn figure(outcome: &AgeOutcome) -> Option<Chart> {
    if outcome.drift.len() < 2 {
        return None;
    }
    let preload = Course {
        title: word!("Preload left, %"),
        value: |r| r.preload_left.map(|v| 100.0 * v),
        band: |r| r.preload_left_band.map(|b| b.map(|v| 100.0 * v)),
        stroke: stroke(MOSS, 6, DASHED),
        level: None,
    };
    let time = Course {
        title: word!("Trip at 2 x rated, s"),
        value: DriftRow::trip_time_2x_s,
        band: |_| None,
        stroke: stroke(PLUM, 6, DASH_DOT),
        level: time_limit(outcome),
    };
    let columns = vec![
        Column::of(vec![trip_point(outcome).panel(outcome)]),
        Column::of(vec![preload.panel(outcome), time.panel(outcome)]),
    ];
    let service = match (&outcome.dates.trips_in_service, &outcome.sensitivity.state) {
        (Date::New { at }, _) => {
            say!(" | the new part already trips: {}", words::date_at(at))
        }
        (_, Some(state)) => say!(" | in service: {state}"; state),
        (_, None) => String::new(),
    };
    let subtitle = format!("{}{service}", outcome.scenario);
    Chart::new("drift", word!("Wear over the years"), subtitle, columns)
        .with_foot(vec![Foot::Keys(key(outcome))])
        .described(
            word!("Trip point in service against years, with the current that is carried; preload left and \
             trip time at twice the rating against years. Bands hold 5 to 95 % of units drawn from the uncertain \
             constants; the shaded stretch is beyond what a test covers."),
        )
}

fn trip_point(outcome: &AgeOutcome) -> Course {
    let mut rows = outcome.drift.iter();
    let course = Course {
        title: word!("Trip point, A"),
        value: DriftRow::trip_point_a,
        band: |_| None,
        stroke: stroke(LAKE, 6, SOLID),
        level: Some((outcome.rated_current_a, word!("rated").into())),
    };
    if rows.all(|r| r.trip_point_in_service_a().is_none()) {
        return course;
    }
    let state = outcome.sensitivity.state.as_ref();
    let state = state.and_then(|name| outcome.duty.iter().find(|d| d.state == *name));
    Course {
        title: word!("Trip point in service, A"),
        value: DriftRow::trip_point_in_service_a,
        band: |r| r.trip_point_band_a,
        level: state.map(|s| {
            let text = say!("carried: {} A", significant(s.current_a, 3));
            (s.current_a, text)
        }),
        ..course
    }
}

/// The limit of the trip time that the drift comes nearer to, if there is one.
fn time_limit(outcome: &AgeOutcome) -> Option<(f64, String)> {
    let rows = || outcome.drift.iter();
    let mut times = rows().filter_map(|r| finite(r.trip_time_2x_s()));
    let first = times.next()?;
    let last = times.next_back()?;
    let [least, most] = outcome.trip_time_2x_limits_s;
    if last > first {
        most.map(|s| (s, say!("limit: at most {} s", plain(s))))
    } else {
        least.map(|s| (s, say!("limit: at least {} s", plain(s))))
    }
}

fn key(outcome: &AgeOutcome) -> Vec<Key> {
    let patch = |fill| Sample::Patch(Some(fill), None);
    let mut keys = Vec::new();
    if outcome.drift.iter().any(|r| r.preload_left_band.is_some()) {
        keys.push(Key::new(
            patch(fill(MOSS, BAND)),
            word!("band: 5 to 95 % of units"),
        ));
    }
    if outcome.drift.iter().any(|r| r.extrapolated) {
        let text = match outcome.covered.until_years() {
            Some(years) if years > 0.0 => say!(
                "shaded: extrapolated, beyond {} years: no test has done as much to the spring",
                significant(years, 2)
            ),
            _ => say!("shaded: {}", words::covered(&outcome.covered)),
        };
        keys.push(Key::new(patch(UNTESTED), text));
    }
    keys
}

/// The axis of time: years are spaced by the logarithm of one more than four times the years, so
/// that the first year is seen as well as the last.
fn place(years: f64) -> f64 {
    (1.0 + 4.0 * years).log10()
}

fn axis(horizon: f64) -> Axis {
    let high = place(horizon);
    let marks = [
        0.0, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 30.0, 50.0, 100.0, 200.0,
    ];
    let marks = marks.into_iter().map(|years| (place(years), plain(years)));
    let ticks = marks.filter(|(p, _)| *p <= high * 1.0001).collect();
    Axis::linear(word!("Years of duty"), 0.0, high, 5).with_words(ticks)
}

impl Course {
    fn panel(&self, outcome: &AgeOutcome) -> Panel {
        let rows = &outcome.drift;
        let values = rows
            .iter()
            .flat_map(|r| (self.band)(r).into_iter().flatten().chain((self.value)(r)))
            .chain(self.level.as_ref().map(|l| l.0));
        let x = axis(outcome.horizon_years);
        let y = Axis::airy(self.title, values, 6, 0.12);
        let mut items: Vec<Item> = Vec::new();
        let from = outcome.covered.until_years().unwrap_or(0.0);
        if from < outcome.horizon_years {
            let corners = [(place(from), y.low), (x.high, y.high)];
            items.push(Bar::ground(corners, UNTESTED).into());
        }
        let edge = |k: usize| -> Vec<Datum> {
            let banded = rows.iter();
            let banded = banded.filter_map(|r| Some((place(r.years), (self.band)(r)?[k])));
            banded.collect()
        };
        items.push(Item::band(edge(0), edge(2), fill(self.stroke.colour, BAND)));
        if let Some((value, name)) = &self.level {
            items.push(Item::level(*value, stroke(EMBER, 4, DASHED), name));
        }
        let value = |r: &DriftRow| finite((self.value)(r)).unwrap_or(f64::NAN);
        let points: Vec<Datum> = rows.iter().map(|r| (place(r.years), value(r))).collect();
        let shown = [0, rows.len() / 2, rows.len() - 1].map(|k| points[k]);
        let number = |p: Datum| Some((p, Name::new(significant(p.1, 3), Name::MARK)?));
        let mut line = Line::new(points, self.stroke).dotted(9);
        line.numbers = shown.into_iter().filter_map(number).collect();
        items.push(line.into());
        Panel::new(x, y, items)
    }
}
