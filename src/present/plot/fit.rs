//! A fit: the characteristic of the fitted parts against what is published, with the air beside it.

use super::area::Area;
use super::axis::{Axis, extent};
use super::canvas::{Anchor, Canvas, sheet};
use super::characteristic::minutes_and_hours;
use super::fit_mark::{HALF, mark};
use super::label::Labels;
use super::panel::Panel;
use super::style::*;
use super::times_band::{NINETY_PERCENT, TimesBand};
use super::{Figure, PlotError, fit_air, fit_key, limit_marks, vector};
use crate::answer::TripTime;
use crate::family::{FitAnswer, FitCurve, FitRow, Kept, Printed};
use crate::predict::LimitCheck;
use crate::present::number::{plain, significant};

const FRAME: Area = Area {
    left: 240.0,
    top: 220.0,
    right: 1540.0,
    bottom: 1366.0,
};
const CAP: f64 = 11.0;
/// Longer times are left out where nothing published asks for them, s.
const LONGEST_S: f64 = 3600.0;
/// Numbers along the axis of currents.
const MULTIPLES: [f64; 12] = [
    1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 15.0, 20.0, 30.0,
];
/// Dashes of the hot starts, in order.
const HOT: [Dash; 3] = [DASHED, DASH_DOT, LONG];

/// Draws the fit; `None` when the fitted parts trip nowhere.
///
/// # Errors
/// When it cannot be drawn.
pub fn fit_figure(answer: &FitAnswer) -> Result<Option<Figure>, PlotError> {
    let trips = |c: &FitCurve| c.rows.iter().filter(|r| r.trip_s[1].is_some()).count() > 1;
    if !answer.curves.iter().any(trips) {
        return Ok(None);
    }
    let title = "Published, and the parts that follow it".to_owned();
    let raw = sheet(|canvas| {
        canvas.header(&title, &subtitle(answer))?;
        characteristic(canvas, answer)?;
        let below = fit_air::draw(canvas, answer)?;
        fit_key::draw(canvas, answer, below)
    })?;
    vector::finish("fit", title, description(answer), &raw)
        .and_then(super::cautioned)
        .map(Some)
}

fn subtitle(answer: &FitAnswer) -> String {
    let name = if answer.title.is_empty() {
        String::new()
    } else {
        format!("{}: ", answer.title)
    };
    format!(
        "{name}rated {} A at {} °C of air",
        plain(answer.rated_current_a),
        plain((answer.reference_ambient_c * 100.0).round() / 100.0)
    )
}

fn description(answer: &FitAnswer) -> String {
    let is_point = |r: &&FitRow| matches!(r.printed, Printed::Point { .. });
    let points = answer.rows.iter().filter(is_point).count();
    let missed = answer.rows.iter().filter(|r| r.kept != Kept::Yes).count();
    let hot = match answer
        .curves
        .iter()
        .filter(|c| c.after_multiple > 0.0)
        .count()
    {
        0 => "",
        _ => ", from cold unbroken, from hot broken",
    };
    let air = if answer.air_curve.is_empty() {
        ""
    } else {
        " A small panel shows their usable current against the air beside the published table."
    };
    format!(
        "Time to trip against current over rated current on logarithmic axes: the median of the fitted parts as a \
         line{hot}, 90 % of them shaded. {points} published points with their spread and {} windows are marked; the \
         best part misses {missed} of them.{air}",
        answer.rows.len() - points
    )
}

fn characteristic(canvas: &Canvas<'_>, answer: &FitAnswer) -> Result<(), PlotError> {
    let panel = panel(answer);
    panel.draw(canvas, true, true)?;
    minutes_and_hours(canvas, &panel)?;
    amperes(canvas, &panel, answer.rated_current_a)?;
    let mut labels = Labels::inside(&[panel.frame]);
    let mut named = Vec::new();
    let mut hot = 0;
    for curve in &answer.curves {
        let (look, name) = if curve.after_multiple > 0.0 {
            let dash = HOT[hot % HOT.len()];
            hot += 1;
            let percent = plain((100.0 * curve.after_multiple).round());
            (band(EMBER, dash), format!("after {percent} % of rated"))
        } else {
            (band(LAKE, SOLID), "cold start".to_owned())
        };
        let times: Vec<(f64, [Option<f64>; 3])> =
            curve.rows.iter().map(|r| (r.multiple, r.trip_s)).collect();
        if let Some(number) = look.draw(canvas, &panel, &mut labels, &times)? {
            named.push((number, name, look.colour));
        }
    }
    trip_point(canvas, &panel, &mut labels, answer)?;
    limit_marks::draw(canvas, &panel, &mut labels, 1.0, &windows(answer))?;
    points(canvas, &panel, &mut labels, answer)?;
    for (number, name, colour) in named {
        labels.beside(canvas, number, &name, colour)?;
    }
    Ok(())
}

fn band(colour: plotters::style::RGBColor, dash: Dash) -> TimesBand {
    TimesBand {
        colour,
        tint: 0.16,
        edge: stroke(colour, 2, SOLID),
        median: Some(stroke(colour, 7, dash)),
    }
}

/// Ranges that hold everything published and the curves around it.
fn panel(answer: &FitAnswer) -> Panel {
    let rows = || answer.curves.iter().flat_map(|c| &c.rows);
    let multiples = answer
        .rows
        .iter()
        .map(|r| r.multiple)
        .chain(rows().map(|r| r.multiple))
        .chain([1.0]);
    let published: Vec<f64> = answer
        .rows
        .iter()
        .flat_map(|r| match r.printed {
            Printed::Point { time_s, relative } => ends(time_s, relative).to_vec(),
            Printed::Carried => Vec::new(),
            Printed::Window {
                at_least_s,
                at_most_s,
            } => [Some(at_least_s), at_most_s]
                .into_iter()
                .flatten()
                .collect(),
        })
        .filter(|t| *t > 0.0)
        .collect();
    let longest_s = published.iter().copied().fold(LONGEST_S, f64::max);
    let times = rows()
        .flat_map(|r| r.trip_s)
        .flatten()
        .filter(|t| *t > 0.0)
        .map(|t| t.min(longest_s))
        .chain(published.iter().copied());
    let (low, high) = extent(multiples).unwrap_or((1.0, 10.0));
    let (t_low, t_high) = extent(times).unwrap_or((0.1, 100.0));
    let mut x = Axis::log("Current over rated current", low * 0.88, high * 1.04);
    let numbers = MULTIPLES.into_iter().filter(|m| x.contains(*m)).collect();
    x.ticks = numbers;
    Panel {
        frame: FRAME,
        x,
        y: Axis::log("Time to trip, s", t_low * 0.6, t_high * 1.8),
    }
}

/// The current again at the top, in amperes.
fn amperes(canvas: &Canvas<'_>, panel: &Panel, rated_a: f64) -> Result<(), PlotError> {
    let top = panel.frame.top;
    let mut last_end = f64::NEG_INFINITY;
    for multiple in panel.x.ticks.iter().filter(|m| **m > 0.0) {
        let x = panel.across(*multiple);
        let text = format!("{} A", plain((1e3 * multiple * rated_a).round() / 1e3));
        let half = 0.5 * canvas.width(&text, BODY);
        canvas.rule((x, top), (x, top - 12.0), QUIET, 3)?;
        if x - half > last_end + 16.0 {
            canvas.text(&text, (x, top - 34.0), BODY, QUIET, Anchor::Centre)?;
            last_end = x + half;
        }
    }
    Ok(())
}

/// An upright at the median trip point, with the 90 % range in words.
fn trip_point(
    canvas: &Canvas<'_>,
    panel: &Panel,
    labels: &mut Labels,
    answer: &FitAnswer,
) -> Result<(), PlotError> {
    let trip = &answer.trip_multiple;
    let line = panel.upright(canvas, trip.median, stroke(PLUM, 4, DOTTED))?;
    labels.helper(&line);
    let text = format!(
        "trip point {} x ({} to {})",
        significant(trip.median, 3),
        significant(trip.low, 3),
        significant(trip.high, 3)
    );
    let x = panel.across(trip.median) - 0.8 * BODY;
    let bottom = panel.frame.bottom - 20.0;
    canvas.upwards(&text, (x, bottom), BODY, PLUM, Anchor::Left)?;
    labels.block(Area {
        left: x - 0.6 * BODY,
        top: bottom - canvas.width(&text, BODY),
        right: x + 0.6 * BODY,
        bottom,
    });
    Ok(())
}

/// The windows as the limits that they are, in the order of the rows.
fn windows(answer: &FitAnswer) -> Vec<LimitCheck> {
    let all = answer.rows.iter();
    let window = |r: &FitRow| {
        let (at_least_s, at_most_s) = match r.printed {
            Printed::Point { .. } => return None,
            Printed::Carried => (None, None),
            Printed::Window {
                at_least_s,
                at_most_s,
            } => (Some(at_least_s), at_most_s),
        };
        Some(LimitCheck {
            source: String::new(),
            multiple: r.multiple,
            after_multiple: 0.0,
            must_hold: at_least_s.is_none() && at_most_s.is_none(),
            ambient_c: answer.reference_ambient_c,
            at_least_s,
            at_most_s,
            time: TripTime::HoldsForEver,
            met: r.kept == Kept::Yes,
        })
    };
    all.filter_map(window).collect()
}

/// Times between which 90 % of units lie, s.
fn ends(time_s: f64, relative: f64) -> [f64; 2] {
    [-1.0, 1.0].map(|side| time_s * (side * NINETY_PERCENT * relative).exp())
}

/// The published points with bars that hold 90 % of units; a point that the best part misses says how.
fn points(
    canvas: &Canvas<'_>,
    panel: &Panel,
    labels: &mut Labels,
    answer: &FitAnswer,
) -> Result<(), PlotError> {
    let mut missed = Vec::new();
    for row in &answer.rows {
        let Printed::Point { time_s, relative } = row.printed else {
            continue;
        };
        let at = panel.at(row.multiple, time_s);
        let [bottom, top] = ends(time_s, relative).map(|t| panel.up(t));
        canvas.rule((at.0, bottom), (at.0, top), INK, 4)?;
        for y in [bottom, top] {
            canvas.rule((at.0 - CAP, y), (at.0 + CAP, y), INK, 4)?;
        }
        mark(canvas, at, row.after_multiple > 0.0)?;
        labels.block(Area {
            left: at.0 - HALF - 4.0,
            top: top - 4.0,
            right: at.0 + HALF + 4.0,
            bottom: bottom + 4.0,
        });
        let says = match row.kept {
            Kept::Yes => continue,
            Kept::TooSoon => "best part too soon",
            Kept::TooLate => "best part too late",
        };
        missed.push(((at.0 + HALF + 2.0, at.1), says));
    }
    for (at, says) in missed {
        labels.at(canvas, at, says, INK)?;
    }
    Ok(())
}
