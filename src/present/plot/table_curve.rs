//! Short tables as curves: lines through marked points, each with its number.

use super::PlotError;
use super::area::Area;
use super::axis::Axis;
use super::canvas::{Anchor, Canvas};
use super::label::Labels;
use super::panel::Panel;
use super::style::{BODY, DASHED, EMBER, QUIET, SMALL, Stroke, stroke};
use crate::answer::{TripTime, Wait};
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
const TOP: f64 = 190.0;
const BOTTOM: f64 = 1280.0;
const LEFT: f64 = 230.0;
const RIGHT: f64 = 2330.0;
/// Right end of the left half, left end of the right half.
const HALVES: (f64, f64) = (1130.0, 1420.0);
const BETWEEN: f64 = 50.0;
/// Height of the lane of what never comes, above the numbers.
const LANE: f64 = 62.0;

/// One table in the left half and up to two in the right half; those without a number give their
/// room to the others.
pub(super) fn draw(
    canvas: &Canvas<'_>,
    x_title: &str,
    left: &TableCurve,
    right: [&TableCurve; 2],
) -> Result<(), PlotError> {
    let right: Vec<&TableCurve> = right.into_iter().filter(|c| c.has_numbers()).collect();
    let (end, start) = match (left.has_numbers(), right.is_empty()) {
        (true, false) => HALVES,
        (true, true) => (RIGHT, RIGHT),
        (false, _) => (LEFT, LEFT),
    };
    if left.has_numbers() {
        let frame = Area {
            left: LEFT,
            top: TOP,
            right: end,
            bottom: BOTTOM,
        };
        left.draw(canvas, frame, Some(x_title))?;
    }
    let count = right.len() as f64;
    let height = (BOTTOM - TOP - BETWEEN * (count - 1.0)) / count;
    for (k, curve) in right.iter().enumerate() {
        let top = TOP + k as f64 * (height + BETWEEN);
        let frame = Area {
            left: start,
            top,
            right: RIGHT,
            bottom: top + height,
        };
        let is_last = k + 1 == right.len();
        curve.draw(canvas, frame, is_last.then_some(x_title))?;
    }
    Ok(())
}

impl TableCurve {
    fn has_numbers(&self) -> bool {
        self.rows.iter().any(|(_, y)| y.is_some_and(f64::is_finite))
    }

    fn draw(
        &self,
        canvas: &Canvas<'_>,
        frame: Area,
        x_title: Option<&str>,
    ) -> Result<(), PlotError> {
        let is_endless = self.rows.iter().any(|row| row.1 == Some(f64::INFINITY));
        let lane = Area {
            bottom: frame.top + if is_endless { LANE } else { 0.0 },
            ..frame
        };
        let frame = Area {
            top: lane.bottom,
            ..frame
        };
        let xs = self.rows.iter().map(|row| row.0);
        let level = self.level.as_ref().map(|(value, _)| *value);
        let ys = self.rows.iter().filter_map(|row| row.1).chain(level);
        let panel = Panel {
            frame,
            x: Axis::airy(x_title.unwrap_or_default(), xs, 7, 0.11),
            y: Axis::airy(self.title.as_str(), ys, 6, 0.16),
        };
        panel.draw(canvas, x_title.is_some(), true)?;
        if is_endless {
            canvas.outline(lane, QUIET, 2)?;
            let at = (lane.left - 14.0, 0.5 * (lane.top + lane.bottom));
            canvas.text(self.endless, at, BODY, self.stroke.colour, Anchor::Right)?;
        }
        let mut labels = Labels::inside(&[panel.frame]);
        let mut named_level = None;
        if let Some((value, name)) = &self.level {
            let line = panel.level(canvas, *value, stroke(EMBER, 4, DASHED))?;
            named_level = Some((labels.helper(&line), name));
        }
        let data: Vec<(f64, f64)> = self
            .rows
            .iter()
            .map(|(x, y)| (*x, y.unwrap_or(f64::NAN)))
            .collect();
        let points = panel.map(&data);
        canvas.line(&points, self.stroke)?;
        labels.curve(&points);
        for ((x, y), point) in self.rows.iter().zip(&points) {
            if *y == Some(f64::INFINITY) {
                let (x, y) = (panel.across(*x), 0.5 * (lane.top + lane.bottom));
                let up = [(x, y - 18.0), (x + 16.0, y + 12.0), (x - 16.0, y + 12.0)];
                canvas.polygon(&up, self.stroke.colour)?;
            } else if y.is_some() {
                labels.mark(*point);
                canvas.disc(*point, 11, self.stroke.colour)?;
            } else {
                let at = (panel.across(*x), panel.frame.bottom - 30.0);
                canvas.text("×", at, BODY * 1.2, QUIET, Anchor::Centre)?;
            }
        }
        if self.rows.len() <= MOST_NUMBERS {
            for ((_, y), point) in self.rows.iter().zip(&points) {
                if let Some(y) = y.filter(|y| y.is_finite()) {
                    labels.at(canvas, *point, &significant(y, 3), self.stroke.colour)?;
                }
            }
        }
        match named_level {
            Some((number, name)) => labels.beside(canvas, number, name, EMBER),
            None => Ok(()),
        }
    }
}

/// Says below a figure why numbers are missing, each reason once.
pub(super) fn reasons(
    canvas: &Canvas<'_>,
    rows: impl Iterator<Item = (String, Option<String>)>,
) -> Result<(), PlotError> {
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
    if texts.is_empty() {
        return Ok(());
    }
    let text = format!("No number at {}", texts.join("; "));
    for (n, line) in canvas
        .broken(&text, SMALL, 2240.0)
        .into_iter()
        .take(2)
        .enumerate()
    {
        let at = (80.0, BOTTOM + 142.0 + n as f64 * SMALL * 1.4);
        canvas.text(&line, at, SMALL, QUIET, Anchor::Left)?;
    }
    Ok(())
}
