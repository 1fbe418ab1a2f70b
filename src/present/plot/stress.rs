//! Stress through the thickness, free and loaded, against yield.

use super::area::Area;
use super::axis::Axis;
use super::canvas::{Anchor, sheet};
use super::label::Labels;
use super::panel::Panel;
use super::strip_drawing::layer_colour;
use super::strip_shape::spread;
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::predict::Outcome;
use crate::present::number::{celsius, plain, significant};
use crate::present::words;
use plotters::style::Color;

const FRAME: Area = Area {
    left: 230.0,
    top: 190.0,
    right: 1840.0,
    bottom: 1335.0,
};

/// Draws the figure; `None` without stresses.
pub(super) fn figure(outcome: &Outcome) -> Result<Option<Figure>, PlotError> {
    let Some(stress) = outcome.stress.as_ref().filter(|s| !s.layers.is_empty()) else {
        return Ok(None);
    };
    let title = "Stress through the thickness".to_owned();
    let place = format!(
        "at {}, {} mm from the clamp, {}",
        words::moment(stress.moment),
        significant(stress.position_mm, 3),
        celsius(Some(stress.temperature_c), 0)
    );
    let layers = &stress.layers;
    let raw = sheet(|canvas| {
        canvas.header(&title, &format!("{} ({place})", outcome.scenario))?;
        let thickness = layers.last().map_or(1.0, |l| l.to_mm);
        let yields = layers
            .iter()
            .filter_map(|l| l.yield_mpa)
            .flat_map(|y| [y, -y]);
        let all = layers
            .iter()
            .flat_map(|l| l.free_mpa.into_iter().chain(l.loaded_mpa));
        let panel = Panel {
            frame: FRAME,
            x: Axis::airy(
                "Stress along the strip, MPa (tension positive)",
                all.chain(yields).chain([0.0]),
                8,
                0.06,
            ),
            y: Axis::linear("From the low-expansion face, mm", 0.0, thickness, 6),
        };
        let mut tops = Vec::new();
        for (k, layer) in layers.iter().enumerate() {
            let area = Area {
                top: panel.up(layer.to_mm),
                bottom: panel.up(layer.from_mm),
                ..FRAME
            };
            canvas.rectangle(area, layer_colour(k, layers.len()).mix(0.10).filled())?;
            tops.push((0.5 * (area.top + area.bottom) - 45.0, k));
        }
        panel.draw(canvas, true, true)?;
        panel.upright(canvas, 0.0, stroke(INK, 3, SOLID))?;
        let mut labels = Labels::inside(&[FRAME]);
        labels.helper(&panel.map(&[(0.0, 0.0), (0.0, thickness)]));
        for pair in layers.windows(2) {
            let line = panel.level(canvas, pair[0].to_mm, stroke(INK, 3, SOLID))?;
            labels.curve(&line);
        }
        let gap = (f64::NAN, f64::NAN);
        let limit: Vec<(f64, f64)> = layers
            .iter()
            .flat_map(|l| {
                let y = l.yield_mpa.unwrap_or(f64::NAN);
                let side = |s: f64| [(s * y, l.from_mm), (s * y, l.to_mm), gap];
                [side(1.0), side(-1.0)].concat()
            })
            .collect();
        let curve = |of: fn(&crate::predict::StressLayer) -> [f64; 2]| -> Vec<(f64, f64)> {
            layers
                .iter()
                .flat_map(|l| [(of(l)[0], l.from_mm), (of(l)[1], l.to_mm)])
                .collect()
        };
        let (free, loaded) = (curve(|l| l.free_mpa), curve(|l| l.loaded_mpa));
        let lines = [
            (limit, "yields".to_owned(), stroke(PLUM, 6, DASH_DOT)),
            (free, "free: heat alone".to_owned(), stroke(LAKE, 8, SOLID)),
            (loaded, "loaded".to_owned(), stroke(EMBER, 7, DASHED)),
        ];
        let mut named = Vec::new();
        for (data, name, stroke) in lines {
            let points = panel.map(&data);
            if points.iter().any(|p| p.0.is_finite()) {
                canvas.line(&points, stroke)?;
                named.push((labels.curve(&points), name, stroke.colour));
            }
        }
        for (number, name, colour) in named {
            labels.beside(canvas, number, &name, colour)?;
        }
        let mut places: Vec<f64> = tops.iter().rev().map(|(top, _)| *top).collect();
        spread(&mut places, 92.0, (FRAME.top, FRAME.bottom));
        for ((_, k), top) in tops.iter().rev().zip(places) {
            let layer = &layers[*k];
            let x = FRAME.right + 30.0;
            let room = f64::from(WIDTH) - x - 20.0;
            let name = canvas.shortened(&layer.alloy, BODY, room);
            canvas.text(&name, (x, top + 26.0), BODY, INK, Anchor::Left)?;
            let detail = match layer.yield_mpa {
                Some(y) => format!(
                    "{} mm, yields at {} MPa",
                    plain(round(layer.to_mm - layer.from_mm)),
                    significant(y, 3)
                ),
                None => format!(
                    "{} mm, yield not known",
                    plain(round(layer.to_mm - layer.from_mm))
                ),
            };
            let detail = canvas.shortened(&detail, SMALL, room);
            canvas.text(&detail, (x, top + 64.0), SMALL, QUIET, Anchor::Left)?;
        }
        let note = format!("loaded: {}", words::loaded_by(stress.loaded_by));
        canvas.text(&note, (80.0, 1478.0), SMALL, QUIET, Anchor::Left)
    })?;
    let largest = layers
        .iter()
        .flat_map(|l| l.free_mpa.into_iter().chain(l.loaded_mpa))
        .fold(0.0_f64, |m, v| m.max(v.abs()));
    let description = format!(
        "Stress against the distance from the low-expansion face {place}: of the free strip (unbroken) and loaded by \
         {} (broken), with the yield strength of each layer. The largest is {} MPa.",
        words::loaded_by(stress.loaded_by),
        significant(largest, 3)
    );
    vector::finish("stress", title, description, &raw).map(Some)
}

fn round(value: f64) -> f64 {
    (value * 1e4).round() / 1e4
}
