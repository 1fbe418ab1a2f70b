//! The shape of the strip at a few moments; deflection drawn larger than life, and it says so.

use super::area::{Area, Point};
use super::axis::{Axis, extent};
use super::canvas::{Anchor, Canvas, sheet};
use super::panel::Panel;
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::predict::{Outcome, Shape};
use crate::present::number::{celsius, duration, finite, plain, significant};
use crate::present::words;
use plotters::style::Color;

const FRAME: Area = Area {
    left: 250.0,
    top: 230.0,
    right: 1640.0,
    bottom: 1340.0,
};
const NAMES: f64 = 1730.0;
const STROKES: [Stroke; 6] = [
    stroke(QUIET, 5, SOLID),
    stroke(LAKE, 6, LONG),
    stroke(EMBER, 8, SOLID),
    stroke(PLUM, 6, DASH_DOT),
    stroke(MOSS, 6, DASHED),
    stroke(CLAY, 6, DOTTED),
];

/// Draws the figure; `None` without shapes.
pub(super) fn figure(outcome: &Outcome) -> Result<Option<Figure>, PlotError> {
    let shapes: Vec<&Shape> = outcome
        .shapes
        .iter()
        .filter(|s| s.x_mm.len() > 1)
        .take(STROKES.len())
        .collect();
    if shapes.is_empty() {
        return Ok(None);
    }
    let title = "Shape of the strip".to_owned();
    let (panel, times) = panel(outcome, &shapes);
    let enlarged = if times == 1.0 {
        "deflection drawn to scale".to_owned()
    } else {
        format!("deflection drawn {} times larger than life", plain(times))
    };
    let raw = sheet(|canvas| {
        canvas.header(&title, &format!("{} ({enlarged})", outcome.scenario))?;
        draw(canvas, outcome, &panel, &shapes)
    })?;
    let moments: Vec<String> = shapes
        .iter()
        .map(|s| format!("{} at {}", words::moment(s.moment), duration(s.time_s, 3)))
        .collect();
    let description = format!(
        "Deflection along the strip at these moments: {}; {enlarged}.",
        moments.join(", ")
    );
    vector::finish("strip_shape", title, description, &raw).map(Some)
}

/// The panel and how many times larger than life its deflections are: 1, 2 or 5 times a power of
/// ten.
fn panel(outcome: &Outcome, shapes: &[&Shape]) -> (Panel, f64) {
    let xs = shapes.iter().flat_map(|s| s.x_mm.iter().copied());
    let levels = [Some(0.0), released(outcome)];
    let ys = shapes
        .iter()
        .flat_map(|s| s.y_mm.iter().copied())
        .chain(levels.into_iter().flatten());
    let (x_low, x_high) = extent(xs).unwrap_or((0.0, 1.0));
    let (y_low, y_high) = extent(ys).unwrap_or((0.0, 1.0));
    let length = (x_high - x_low).max(1e-6);
    let (x_low, x_high) = (x_low - 0.04 * length, x_high + 0.06 * length);
    let units_per_mm = (FRAME.right - FRAME.left) / (x_high - x_low);
    let span = (y_high - y_low).max(1e-6);
    let fits = 0.82 * (FRAME.bottom - FRAME.top) / (units_per_mm * span);
    let times = round_down(fits).max(1.0);
    let half = 0.5 * (FRAME.bottom - FRAME.top) / (units_per_mm * times);
    let middle = 0.5 * (y_low + y_high);
    let panel = Panel {
        frame: FRAME,
        x: Axis::linear("Along the strip, mm", x_low, x_high, 6),
        y: Axis::linear("Deflection, mm", middle - half, middle + half, 6),
    };
    (panel, times)
}

fn round_down(value: f64) -> f64 {
    if !value.is_finite() || value <= 0.0 {
        return 1.0;
    }
    let power = 10f64.powf(value.log10().floor());
    let mantissa = value / power;
    let steps = [5.0, 2.0, 1.0];
    steps
        .into_iter()
        .find(|s| mantissa >= s * 0.9999)
        .unwrap_or(1.0)
        * power
}

/// Release deflection of a latch; a blade has no such line.
fn released(outcome: &Outcome) -> Option<f64> {
    let is_latch = outcome.part.is_latch();
    finite(Some(outcome.part.release_deflection_mm)).filter(|_| is_latch)
}

fn draw(
    canvas: &Canvas<'_>,
    outcome: &Outcome,
    panel: &Panel,
    shapes: &[&Shape],
) -> Result<(), PlotError> {
    panel.draw(canvas, true, true)?;
    supports(canvas, outcome, panel, shapes)?;
    if let Some(y) = released(outcome) {
        let from = panel.frame.left + 0.62 * (panel.frame.right - panel.frame.left);
        let up = panel.up(y);
        let tip = extent(shapes.iter().flat_map(|s| s.x_mm.iter().copied()));
        let to = tip.map_or(panel.frame.right, |(_, high)| panel.across(high));
        canvas.line(&[(from, up), (to, up)], stroke(INK, 3, DASHED))?;
        let text = format!("released from {} mm at the push point", significant(y, 3));
        canvas.text(&text, (from - 16.0, up), SMALL, INK, Anchor::Right)?;
    }
    let mut ends: Vec<(Point, usize)> = Vec::new();
    for (k, shape) in shapes.iter().enumerate() {
        let data: Vec<(f64, f64)> = shape
            .x_mm
            .iter()
            .copied()
            .zip(shape.y_mm.iter().copied())
            .collect();
        let points = panel.map(&data);
        canvas.line(&points, STROKES[k])?;
        if let Some(end) = points.last() {
            ends.push((*end, k));
        }
    }
    names(canvas, outcome, panel, shapes, ends)
}

/// Names at the right, in the order of the tips, each with a sample of its line.
fn names(
    canvas: &Canvas<'_>,
    outcome: &Outcome,
    panel: &Panel,
    shapes: &[&Shape],
    mut ends: Vec<(Point, usize)>,
) -> Result<(), PlotError> {
    let is_latch = outcome.part.is_latch();
    if !is_latch {
        // Both ends are held: the order of the middles tells the shapes apart.
        for (end, k) in &mut ends {
            let middle = shapes[*k]
                .y_mm
                .get(shapes[*k].y_mm.len() / 2)
                .copied()
                .unwrap_or(0.0);
            end.1 = panel.up(middle);
        }
    }
    ends.sort_by(|a, b| a.0.1.total_cmp(&b.0.1));
    let height = 2.0 * SMALL + 44.0;
    let mut tops: Vec<f64> = ends.iter().map(|(end, _)| end.1 - 0.5 * height).collect();
    spread(
        &mut tops,
        height,
        (panel.frame.top - 30.0, panel.frame.bottom + 30.0),
    );
    for ((end, k), top) in ends.into_iter().zip(tops) {
        let middle = top + 0.5 * height;
        let first = top + 0.5 * BODY + 8.0;
        if is_latch {
            canvas.rule((end.0 + 8.0, end.1), (NAMES - 10.0, middle), GRID, 3)?;
        }
        canvas.line(&[(NAMES, middle), (NAMES + 90.0, middle)], STROKES[k])?;
        let shape = shapes[k];
        let x = NAMES + 112.0;
        let room = f64::from(WIDTH) - x - 30.0;
        let name = canvas.shortened(words::moment(shape.moment), BODY, room);
        canvas.text(&name, (x, first), BODY, STROKES[k].colour, Anchor::Left)?;
        let peak = extent(shape.temperature_c.iter().copied()).map(|(_, high)| high);
        let detail = format!(
            "{}, hottest point {}",
            duration(shape.time_s, 3),
            celsius(peak, 0)
        );
        let detail = canvas.shortened(&detail, SMALL, room);
        canvas.text(&detail, (x, first + BODY + 8.0), SMALL, QUIET, Anchor::Left)?;
    }
    Ok(())
}

/// Pushes sorted boxes apart and keeps them in the room.
pub(super) fn spread(tops: &mut [f64], height: f64, (low, high): (f64, f64)) {
    let mut floor = low;
    for top in tops.iter_mut() {
        *top = top.max(floor);
        floor = *top + height;
    }
    let mut ceiling = high;
    for top in tops.iter_mut().rev() {
        *top = top.min(ceiling - height);
        ceiling = *top;
    }
}

/// A clamp at the left end, or a hinge at either end of a blade.
fn supports(
    canvas: &Canvas<'_>,
    outcome: &Outcome,
    panel: &Panel,
    shapes: &[&Shape],
) -> Result<(), PlotError> {
    let Some((low, high)) = extent(shapes.iter().flat_map(|s| s.x_mm.iter().copied())) else {
        return Ok(());
    };
    let up = panel.up(0.0);
    if outcome.part.is_latch() {
        let right = panel.across(low);
        let area = Area {
            left: panel.frame.left,
            top: up - 60.0,
            right,
            bottom: up + 60.0,
        };
        canvas.rectangle(area, GRID.filled())?;
        canvas.rectangle(area, QUIET.stroke_width(3))?;
        let at = (right + 14.0, up + 82.0);
        return canvas.text("clamp", (at.0 - 14.0, at.1), SMALL, QUIET, Anchor::Left);
    }
    for x in [low, high] {
        let x = panel.across(x);
        canvas.polygon(
            &[(x, up + 8.0), (x - 26.0, up + 52.0), (x + 26.0, up + 52.0)],
            QUIET,
        )?;
    }
    Ok(())
}
