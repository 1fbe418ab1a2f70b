//! Time-current characteristic, log-log: cold and hot start, trip point, rating, published limits.

use super::area::Area;
use super::axis::{Axis, extent};
use super::canvas::{Anchor, Canvas, sheet};
use super::label::Labels;
use super::limit_marks;
use super::panel::Panel;
use super::readings::Overlay;
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::predict::{Characteristic, CurvePoint, Outcome};
use crate::present::number::{duration, finite, plain, significant};
use crate::present::words;

const LEFT: f64 = 240.0;
const RIGHT: f64 = 2200.0;
const TOP: f64 = 220.0;
/// Bottom of the panel without a key of limits.
const BOTTOM: f64 = 1366.0;

/// Draws the figure; `None` without a characteristic that trips anywhere.
pub(super) fn figure(outcome: &Outcome) -> Result<Option<Figure>, PlotError> {
    with_overlay(outcome, &Overlay::default())
}

/// The same with readings and a band.
pub(super) fn with_overlay(
    outcome: &Outcome,
    overlay: &Overlay,
) -> Result<Option<Figure>, PlotError> {
    let Some(characteristic) = &outcome.characteristic else {
        return Ok(None);
    };
    let trips = |p: &&CurvePoint| finite(p.time.time_s()).is_some_and(|t| t > 0.0);
    if characteristic
        .cold
        .iter()
        .chain(&characteristic.hot)
        .filter(trips)
        .count()
        < 2
    {
        return Ok(None);
    }
    let title = "Time-current characteristic".to_owned();
    let raw = sheet(|canvas| {
        canvas.header(&title, &subtitle(outcome, characteristic))?;
        draw(canvas, outcome, characteristic, overlay)
    })?;
    let own = own_load(outcome).map_or(String::new(), |(current, time)| {
        format!(" A ring marks {}.", own_words(current, time))
    });
    let description = format!("{}{own}{}", description(characteristic), overlay.words());
    vector::finish("characteristic", title, description, &raw).map(Some)
}

fn subtitle(outcome: &Outcome, characteristic: &Characteristic) -> String {
    let hot = match words::no_hot_curve(characteristic) {
        Some(reason) => format!("; no hot curve: {reason}"),
        None => String::new(),
    };
    let air = plain(characteristic.ambient_c);
    format!("{} (air {air} °C{hot})", outcome.scenario)
}

fn description(characteristic: &Characteristic) -> String {
    let held = match finite(characteristic.trip_point.current_a()) {
        Some(current) => format!("{} A is held for ever.", significant(current, 4)),
        None => "No trip point is known.".to_owned(),
    };
    format!(
        "Time to trip against current on logarithmic axes, from the cold state (unbroken line) and \
         after {} % of the rated current (broken line). {held} {} published limits are marked.",
        plain(characteristic.hot_fraction * 100.0),
        characteristic.limits.len()
    )
}

fn draw(
    canvas: &Canvas<'_>,
    outcome: &Outcome,
    curve: &Characteristic,
    overlay: &Overlay,
) -> Result<(), PlotError> {
    let key = limit_marks::key(canvas, &curve.limits, curve.ambient_c);
    let bottom = BOTTOM - limit_marks::key_height(&key);
    let panel = panel(outcome, curve, overlay, bottom);
    panel.draw(canvas, true, true)?;
    minutes_and_hours(canvas, &panel)?;
    multiples(canvas, &panel, outcome.part.rated_current_a)?;
    let mut labels = Labels::inside(&[panel.frame]);
    let band = overlay.draw_band(canvas, &panel, &mut labels)?;
    let rated = outcome.part.rated_current_a;
    let uprights = [
        (
            Some(rated),
            format!("rated {} A", plain(rated)),
            stroke(QUIET, 4, DOTTED),
        ),
        (
            curve.trip_point.current_a(),
            trip_point_text(curve),
            stroke(PLUM, 4, DASH_DOT),
        ),
    ];
    let mut written: Vec<Area> = Vec::new();
    for (current, text, stroke) in uprights {
        let Some(current) = finite(current).filter(|a| panel.x.contains(*a)) else {
            continue;
        };
        let line = panel.upright(canvas, current, stroke)?;
        labels.helper(&line);
        let x = panel.across(current) - 0.8 * BODY;
        let length = canvas.width(&text, BODY);
        let column = |end: f64| Area {
            left: x - 0.6 * BODY,
            top: end - length,
            right: x + 0.6 * BODY,
            bottom: end,
        };
        // Where the two lines are close, the second text stands above the first.
        let lowest = column(panel.frame.bottom - 20.0);
        let below = written.iter().find(|other| other.overlaps(&lowest));
        let area = below.map_or(lowest, |other| column(other.top - BODY));
        canvas.upwards(&text, (x, area.bottom), BODY, stroke.colour, Anchor::Left)?;
        labels.block(area);
        written.push(area);
    }
    let hot_name = format!("after {} % of rated", plain(curve.hot_fraction * 100.0));
    let lines = [
        (&curve.cold, "cold start".to_owned(), stroke(LAKE, 7, SOLID)),
        (&curve.hot, hot_name, stroke(EMBER, 6, DASHED)),
    ];
    let mut named = Vec::new();
    for (points, name, stroke) in lines {
        let data: Vec<(f64, f64)> = points
            .iter()
            .map(|p| {
                (
                    p.current_a,
                    finite(p.time.time_s())
                        .filter(|t| *t > 0.0)
                        .unwrap_or(f64::NAN),
                )
            })
            .collect();
        let line = panel.map(&data);
        if line.iter().filter(|p| p.1.is_finite()).count() > 1 {
            canvas.line(&line, stroke)?;
            named.push((labels.curve(&line), name, stroke.colour));
        }
    }
    limit_marks::draw(canvas, &panel, &mut labels, rated, &curve.limits)?;
    if let Some((current, time)) = own_load(outcome) {
        let at = panel.at(current, time);
        if panel.x.contains(current) && panel.y.contains(time) {
            canvas.disc(at, 17, INK)?;
            canvas.disc(at, 9, PAPER)?;
            labels.at(canvas, at, &own_words(current, time), INK)?;
        }
    }
    overlay.draw_readings(canvas, &panel, &mut labels)?;
    named.extend(band);
    for (number, name, colour) in named {
        labels.beside(canvas, number, &name, colour)?;
    }
    limit_marks::draw_key(canvas, &key, LEFT - 120.0, bottom + 140.0)
}

/// Current and time of the run's own trip.
fn own_load(outcome: &Outcome) -> Option<(f64, f64)> {
    let release = outcome.trip.release().filter(|r| r.time_s > 0.0)?;
    Some((release.current_a, release.time_s))
}

fn own_words(current: f64, time: f64) -> String {
    format!(
        "this load: {} A, {}",
        significant(current, 3),
        duration(time, 3)
    )
}

fn trip_point_text(curve: &Characteristic) -> String {
    let current = curve
        .trip_point
        .current_a()
        .map_or_else(String::new, |a| significant(a, 4));
    format!("trip point {current} A: held up to here")
}

/// The current again at the top, in multiples of the rating.
pub(super) fn multiples(canvas: &Canvas<'_>, panel: &Panel, rated_a: f64) -> Result<(), PlotError> {
    let top = panel.frame.top;
    let mut last_end = f64::NEG_INFINITY;
    for multiple in [
        1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 15.0, 20.0, 30.0, 50.0,
    ] {
        let current = multiple * rated_a;
        if !panel.x.contains(current) {
            continue;
        }
        let x = panel.across(current);
        let text = format!("{} x", plain(multiple));
        let half = 0.5 * canvas.width(&text, BODY);
        canvas.rule((x, top), (x, top - 12.0), QUIET, 3)?;
        if x - half > last_end + 16.0 {
            canvas.text(&text, (x, top - 34.0), BODY, QUIET, Anchor::Centre)?;
            last_end = x + half;
        }
    }
    let right = panel.frame.right;
    canvas.text(
        "rated",
        (right + 24.0, top - 34.0),
        BODY,
        QUIET,
        Anchor::Left,
    )
}

/// Ranges that hold both curves, the rating, the trip point and every limit.
fn panel(outcome: &Outcome, curve: &Characteristic, overlay: &Overlay, bottom: f64) -> Panel {
    let rated = outcome.part.rated_current_a;
    let tripping: Vec<&CurvePoint> = curve
        .cold
        .iter()
        .chain(&curve.hot)
        .filter(|p| finite(p.time.time_s()).is_some())
        .collect();
    let currents = tripping
        .iter()
        .map(|p| p.current_a)
        .chain([rated])
        .chain(curve.trip_point.current_a())
        .chain(curve.limits.iter().map(|l| l.multiple * rated))
        .chain(overlay.currents());
    let times = tripping
        .iter()
        .filter_map(|p| p.time.time_s())
        .chain(
            curve
                .limits
                .iter()
                .flat_map(|l| [l.at_least_s, l.at_most_s])
                .flatten(),
        )
        .chain(overlay.times())
        .filter(|t| *t > 0.0);
    let (i_low, i_high) = extent(currents).unwrap_or((1.0, 10.0));
    let (t_low, t_high) = extent(times).unwrap_or((0.1, 100.0));
    Panel {
        frame: Area {
            left: LEFT,
            top: TOP,
            right: RIGHT,
            bottom,
        },
        x: Axis::log("Current, A", i_low * 0.82, i_high * 1.15),
        y: Axis::log("Time to trip, s", t_low * 0.6, t_high * 1.8),
    }
}

/// The long times again at the right, as a person says them.
pub(super) fn minutes_and_hours(canvas: &Canvas<'_>, panel: &Panel) -> Result<(), PlotError> {
    let marks = [
        (60.0, "1 min"),
        (120.0, "2 min"),
        (300.0, "5 min"),
        (600.0, "10 min"),
        (1200.0, "20 min"),
        (3600.0, "1 h"),
        (7200.0, "2 h"),
        (14_400.0, "4 h"),
    ];
    for (time, text) in marks.into_iter().filter(|(t, _)| panel.y.contains(*t)) {
        let y = panel.up(time);
        let right = panel.frame.right;
        canvas.rule((right, y), (right + 14.0, y), QUIET, 3)?;
        canvas.text(text, (right + 24.0, y), BODY, QUIET, Anchor::Left)?;
    }
    Ok(())
}
