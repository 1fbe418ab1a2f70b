//! What the strip remembers: how soon it trips again after a short wait, and when it is reset each time
//! as soon as it catches.

use super::area::Area;
use super::axis::{Axis, extent};
use super::canvas::{Anchor, Canvas, sheet};
use super::label::Labels;
use super::panel::Panel;
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::predict::Outcome;
use crate::present::number::{duration, finite, significant};
use plotters::style::Color;

const LEFT_FRAME: Area = Area {
    left: 230.0,
    top: 250.0,
    right: 1130.0,
    bottom: 1350.0,
};
const RIGHT_FRAME: Area = Area {
    left: 1420.0,
    right: 2330.0,
    ..LEFT_FRAME
};

/// Draws the figure; `None` where it does not trip again.
pub(super) fn figure(outcome: &Outcome) -> Result<Option<Figure>, PlotError> {
    let again: Vec<(f64, f64)> = outcome
        .premature_reset
        .iter()
        .filter_map(|r| Some((r.wait_s, finite(r.trips_again_after.time_s())?)))
        .filter(|(wait, _)| *wait > 0.0)
        .collect();
    let trips = outcome
        .repeated_resets
        .iter()
        .filter(|r| r.trips_after.time_s().is_some())
        .count();
    if again.len() < 2 && trips < 2 {
        return Ok(None);
    }
    let title = "What the strip remembers".to_owned();
    let raw = sheet(|canvas| {
        canvas.header(&title, &outcome.scenario)?;
        let whole = Area {
            right: RIGHT_FRAME.right,
            ..LEFT_FRAME
        };
        let (left, right) = match (again.len() > 1, trips > 1) {
            (true, true) => (LEFT_FRAME, RIGHT_FRAME),
            _ => (whole, whole),
        };
        if again.len() > 1 {
            after_a_wait(canvas, outcome, &again, left)?;
        }
        if trips > 1 {
            again_and_again(canvas, outcome, right)?;
        }
        Ok(())
    })?;
    let description = "Left: time to trip again against the wait before the load comes back, with the \
        time from the first start. Right: how long the load is carried and how long it must cool, trip \
        after trip, when it is reset each time as soon as it catches.";
    vector::finish("memory", title, description.to_owned(), &raw).map(Some)
}

fn after_a_wait(
    canvas: &Canvas<'_>,
    outcome: &Outcome,
    again: &[(f64, f64)],
    frame: Area,
) -> Result<(), PlotError> {
    let at = (frame.left, frame.top - 34.0);
    canvas.bold(
        "The load comes back after a wait",
        at,
        BODY,
        INK,
        Anchor::Left,
    )?;
    let (low, high) = extent(again.iter().map(|p| p.0)).unwrap_or((1.0, 10.0));
    let first = finite(outcome.trip.time_s());
    let panel = Panel {
        frame,
        x: Axis::log("Wait after the contacts opened, s", low / 1.25, high * 1.25),
        y: Axis::airy(
            "Trips again after, s",
            again.iter().map(|p| p.1).chain(first),
            7,
            0.14,
        ),
    };
    panel.draw(canvas, true, true)?;
    let mut labels = Labels::inside(&[frame]);
    let level = match first {
        Some(value) => {
            let line = panel.level(canvas, value, stroke(EMBER, 4, DASHED))?;
            let text = format!("first trip {}", duration(value, 3));
            Some((labels.helper(&line), text))
        }
        None => None,
    };
    let points = panel.map(again);
    canvas.line(&points, stroke(LAKE, 6, SOLID))?;
    labels.curve(&points);
    for point in &points {
        labels.mark(*point);
    }
    for (point, (_, time)) in points.iter().zip(again) {
        canvas.disc(*point, 11, LAKE)?;
        labels.at(canvas, *point, &significant(*time, 3), LAKE)?;
    }
    match level {
        Some((number, text)) => labels.beside(canvas, number, &text, EMBER),
        None => Ok(()),
    }
}

fn again_and_again(canvas: &Canvas<'_>, outcome: &Outcome, frame: Area) -> Result<(), PlotError> {
    let rows = &outcome.repeated_resets;
    let caption = if outcome.part.resets_itself() {
        "Left alone, it closes by itself each time"
    } else {
        "Reset each time as soon as it catches"
    };
    let at = (frame.left, frame.top - 34.0);
    canvas.bold(caption, at, BODY, INK, Anchor::Left)?;
    let times = rows
        .iter()
        .flat_map(|r| [r.trips_after.time_s(), r.relatch_wait.time_s()])
        .flatten();
    let (_, high) = extent(times).unwrap_or((0.0, 1.0));
    let count = rows.len().max(1) as f64;
    let mut x = Axis::linear("Trip number", 0.4, count + 0.6, 1);
    x.ticks = (1..=rows.len()).map(|k| k as f64).collect();
    let panel = Panel {
        frame,
        x,
        y: Axis::linear("Time, s", 0.0, 1.22 * high, 7),
    };
    panel.draw(canvas, true, true)?;
    let step = panel.across(2.0) - panel.across(1.0);
    let half = 0.21 * step;
    for row in rows {
        let middle = panel.across(f64::from(row.number));
        let bars = [
            (row.trips_after.time_s(), middle - 1.08 * half, true),
            (row.relatch_wait.time_s(), middle + 1.08 * half, false),
        ];
        for (value, x, is_carried) in bars {
            let Some(value) = finite(value) else { continue };
            let area = Area {
                left: x - half,
                top: panel.up(value),
                right: x + half,
                bottom: frame.bottom,
            };
            if is_carried {
                canvas.rectangle(area, LAKE.filled())?;
            } else {
                canvas.rectangle(area, PAPER.filled())?;
            }
            let colour = if is_carried { LAKE } else { MOSS };
            canvas.outline(area, colour, 4)?;
            let digits = if value < 10.0 { 2 } else { 3 };
            let number = significant(value, digits);
            let number = canvas.shortened(&number, SMALL, 2.6 * half);
            canvas.text(&number, (x, area.top - 26.0), SMALL, colour, Anchor::Centre)?;
        }
    }
    let key = [("load carried", LAKE, true), ("must cool", MOSS, false)];
    let mut x = frame.left + 30.0;
    for (name, colour, is_filled) in key {
        let box_area = Area {
            left: x,
            top: frame.top + 24.0,
            right: x + 40.0,
            bottom: frame.top + 56.0,
        };
        let style = if is_filled {
            colour.filled()
        } else {
            PAPER.filled()
        };
        canvas.rectangle(box_area, style)?;
        canvas.outline(box_area, colour, 4)?;
        let at = (x + 56.0, frame.top + 40.0);
        canvas.text(name, at, BODY, colour, Anchor::Left)?;
        x += 56.0 + canvas.width(name, BODY) + 50.0;
    }
    Ok(())
}
