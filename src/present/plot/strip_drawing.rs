//! The strip itself, to scale, layer by layer.

use super::area::Point;
use super::canvas::Canvas;
use super::style::{CLAY, Colour, EMBER, GRID, INK, LAKE, QUIET, SOLID, fill, stroke};
use crate::predict::{Outcome, Shape};

/// Where the strip lies on the sheet.
pub(super) struct Place {
    /// The clamp (or the left hinge) on the sheet.
    pub(super) origin: Point,
    /// Sheet units a millimetre along the strip.
    pub(super) units_per_mm: f64,
    /// How many times larger than life everything across the strip is drawn.
    pub(super) times: f64,
}

impl Place {
    pub(super) fn at(&self, x_mm: f64, y_mm: f64) -> Point {
        (
            self.origin.0 + self.units_per_mm * x_mm,
            self.origin.1 - self.units_per_mm * self.times * y_mm,
        )
    }

    /// The middle line of a shape, shifted across.
    pub(super) fn line(&self, shape: &Shape, shift_mm: f64) -> Vec<Point> {
        let points = shape.x_mm.iter().zip(&shape.y_mm);
        points.map(|(x, y)| self.at(*x, *y + shift_mm)).collect()
    }
}

/// Larger than life by 1, or by 2, 5, 10, ... where the movement would not be seen: at least `seen`
/// units high on the sheet, at most `room`.
pub(super) fn enlarged(span_mm: f64, units_per_mm: f64, seen: f64, room: f64) -> f64 {
    let steps = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0];
    let height = |times: f64| span_mm * units_per_mm * times;
    let wanted = steps
        .into_iter()
        .find(|t| height(*t) >= seen)
        .unwrap_or(1.0);
    let fits = |t: &f64| height(*t) <= room && *t <= wanted;
    steps.into_iter().rev().find(fits).unwrap_or(1.0)
}

/// "drawn to scale", or how much larger than life.
pub(super) fn scale_words(times: f64) -> String {
    if times == 1.0 {
        word!("drawn to scale").to_owned()
    } else {
        say!("thickness and movement drawn {times} times larger than the length"; times)
    }
}

/// Colour of a layer: the low-expansion side, the high-expansion side, and what lies between.
pub(super) fn layer_colour(k: usize, count: usize) -> Colour {
    if k == 0 {
        LAKE
    } else if k + 1 == count {
        EMBER
    } else {
        CLAY
    }
}

/// Draws the strip in a shape; without its layers as a pale ghost.
pub(super) fn draw(
    canvas: &mut Canvas,
    place: &Place,
    outcome: &Outcome,
    shape: &Shape,
    is_ghost: bool,
) {
    let layers = &outcome.part.layer_thicknesses_mm;
    let thickness: f64 = layers.iter().sum();
    let spine = spine(shape);
    let outline = |from: f64, to: f64| -> Vec<Point> {
        let edge = |offset: f64| {
            spine
                .iter()
                .map(move |(p, n)| place.at(p.0 + n.0 * offset, p.1 + n.1 * offset))
        };
        // The first-listed side is the one towards which the strip bends.
        let upper = edge(0.5 * thickness - from).collect::<Vec<_>>();
        let lower = edge(0.5 * thickness - to).collect::<Vec<_>>();
        upper.into_iter().chain(lower.into_iter().rev()).collect()
    };
    if is_ghost {
        let whole = outline(0.0, thickness);
        canvas.polygon(&whole, fill(GRID, 0.9));
        return canvas.line(&closed(whole), stroke(QUIET, 2, SOLID));
    }
    let mut from = 0.0;
    for (k, layer) in layers.iter().enumerate() {
        let points = outline(from, from + layer);
        canvas.polygon(&points, fill(layer_colour(k, layers.len()), 0.62));
        canvas.line(&closed(points), stroke(INK, 2, SOLID));
        from += layer;
    }
}

fn closed(mut points: Vec<Point>) -> Vec<Point> {
    if let Some(first) = points.first().copied() {
        points.push(first);
    }
    points
}

/// Points of the middle line and the direction across, towards the first-listed side.
fn spine(shape: &Shape) -> Vec<(Point, Point)> {
    let points: Vec<Point> = shape
        .x_mm
        .iter()
        .copied()
        .zip(shape.y_mm.iter().copied())
        .filter(|p| p.0.is_finite() && p.1.is_finite())
        .step_by(2)
        .collect();
    (0..points.len())
        .map(|k| {
            let (a, b) = (
                points[k.saturating_sub(1)],
                points[(k + 1).min(points.len() - 1)],
            );
            let (dx, dy) = (b.0 - a.0, b.1 - a.1);
            let length = dx.hypot(dy).max(1e-12);
            (points[k], (-dy / length, dx / length))
        })
        .collect()
}
