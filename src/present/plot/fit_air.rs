//! The small panel of a fit: usable current against the air, the published table beside the fitted parts.

use super::PlotError;
use super::area::{Area, Point};
use super::axis::Axis;
use super::canvas::{Anchor, Canvas};
use super::fit_mark::mark;
use super::panel::Panel;
use super::style::{BODY, INK, LAKE, SOLID, stroke};
use crate::family::{FitAnswer, Spread};
use plotters::style::Color;

const FRAME: Area = Area {
    left: 1860.0,
    top: 270.0,
    right: 2320.0,
    bottom: 660.0,
};
/// Where the key begins without the panel, and under it.
const WITHOUT: f64 = 230.0;
const BELOW: f64 = 810.0;

/// Draws it where an air table is published; returns where the room below it begins.
pub(super) fn draw(canvas: &Canvas<'_>, answer: &FitAnswer) -> Result<f64, PlotError> {
    let fitted: Vec<(f64, &Spread)> = answer
        .air_curve
        .iter()
        .filter_map(|a| Some((a.ambient_c, a.usable.as_ref()?)))
        .collect();
    let rows: Vec<(f64, f64)> = answer
        .air
        .iter()
        .filter_map(|a| Some((a.ambient_c, a.printed?)))
        .collect();
    if rows.is_empty() || fitted.len() < 2 {
        return Ok(WITHOUT);
    }
    let airs = fitted.iter().map(|f| f.0).chain(rows.iter().map(|r| r.0));
    let factors = fitted
        .iter()
        .flat_map(|(_, s)| [s.low, s.high])
        .chain(rows.iter().map(|r| r.1));
    let panel = Panel {
        frame: FRAME,
        x: Axis::airy("Air, °C", airs, 5, 0.08),
        y: Axis::airy("Usable current, factor", factors, 5, 0.12),
    };
    panel.draw(canvas, true, true)?;
    let line = |value: &dyn Fn(&Spread) -> f64| -> Vec<Point> {
        fitted.iter().map(|(t, s)| panel.at(*t, value(s))).collect()
    };
    let (low, high) = (line(&|s| s.low), line(&|s| s.high));
    let outline: Vec<Point> = low.iter().chain(high.iter().rev()).copied().collect();
    canvas.tint(&outline, &LAKE.mix(0.16))?;
    for edge in [&low, &high] {
        canvas.line(edge, stroke(LAKE, 2, SOLID))?;
    }
    canvas.line(&line(&|s| s.median), stroke(LAKE, 7, SOLID))?;
    for (air, factor) in rows {
        mark(canvas, panel.at(air, factor), false)?;
    }
    let middle = 0.5 * (FRAME.left + FRAME.right);
    canvas.text(
        "What warm air leaves",
        (middle, FRAME.top - 40.0),
        BODY,
        INK,
        Anchor::Centre,
    )?;
    Ok(BELOW)
}
