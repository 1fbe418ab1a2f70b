//! Temperature along the strip at a few moments.

use super::area::Area;
use super::axis::Axis;
use super::canvas::sheet;
use super::label::Labels;
use super::panel::Panel;
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::predict::{Outcome, Shape};
use crate::present::number::{celsius, duration, finite};
use crate::present::words;

const FRAME: Area = Area {
    left: 230.0,
    top: 190.0,
    right: 2330.0,
    bottom: 1360.0,
};
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
    let shapes: Vec<(usize, &Shape)> = outcome
        .shapes
        .iter()
        .filter(|s| s.temperature_c.len() > 1)
        .take(STROKES.len())
        .enumerate()
        .collect();
    if shapes.is_empty() {
        return Ok(None);
    }
    let title = "Temperature along the strip".to_owned();
    let is_latch = outcome.part.is_latch();
    let ends = if is_latch {
        "left: clamped terminal, right: moving contact"
    } else {
        "left: clamped terminal, right: contact end"
    };
    let raw = sheet(|canvas| {
        canvas.header(&title, &format!("{} ({ends})", outcome.scenario))?;
        let length = outcome.part.length_mm;
        let positions = |shape: &Shape| -> Vec<f64> {
            let count = shape.temperature_c.len() - 1;
            (0..=count)
                .map(|k| length * k as f64 / count as f64)
                .collect()
        };
        let all = shapes
            .iter()
            .flat_map(|(_, s)| s.temperature_c.iter().copied());
        let limit = finite(outcome.part.trip_temperature_c);
        let panel = Panel {
            frame: FRAME,
            x: Axis::linear("Along the strip from the clamp, mm", 0.0, length, 8),
            y: Axis::airy("Temperature, °C", all.chain(limit), 8, 0.08),
        };
        panel.draw(canvas, true, true)?;
        let mut labels = Labels::inside(&[FRAME]);
        let level = match limit {
            Some(value) => {
                let line = panel.level(canvas, value, stroke(INK, 3, DOTTED))?;
                let text = format!("{}: trips when all of it is this warm", celsius(limit, 0));
                Some((labels.helper(&line), text))
            }
            None => None,
        };
        let mut named = Vec::new();
        for (k, shape) in &shapes {
            let xs = positions(shape).into_iter();
            let data: Vec<(f64, f64)> = xs.zip(shape.temperature_c.iter().copied()).collect();
            let points = panel.map(&data);
            canvas.line(&points, STROKES[*k])?;
            let text = format!(
                "{}, {}",
                words::moment(shape.moment),
                duration(shape.time_s, 3)
            );
            named.push((labels.curve(&points), text, STROKES[*k].colour));
        }
        for (number, text, colour) in named {
            labels.beside(canvas, number, &text, colour)?;
        }
        match level {
            Some((number, text)) => labels.beside(canvas, number, &text, INK),
            None => Ok(()),
        }
    })?;
    let moments: Vec<String> = shapes
        .iter()
        .map(|(_, s)| format!("{} at {}", words::moment(s.moment), duration(s.time_s, 3)))
        .collect();
    let description = format!(
        "Temperature against the distance from the clamp at these moments: {}. The middle is hottest \
         while current flows, because the ends lose heat to the terminals.",
        moments.join(", ")
    );
    vector::finish("along_strip", title, description, &raw).map(Some)
}
