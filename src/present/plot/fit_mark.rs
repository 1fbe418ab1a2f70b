//! The mark of a published point.

use super::PlotError;
use super::area::{Area, Point};
use super::canvas::Canvas;
use super::style::*;
use plotters::style::Color;

/// Half the size of a mark.
pub(super) const HALF: f64 = 14.0;

/// A hollow square for a point from cold, a filled diamond for one from hot.
pub(super) fn mark(canvas: &Canvas<'_>, at: Point, is_hot: bool) -> Result<(), PlotError> {
    if is_hot {
        let reach = 1.25 * HALF;
        let (x, y) = at;
        let corners = [
            (x, y - reach),
            (x + reach, y),
            (x, y + reach),
            (x - reach, y),
        ];
        return canvas.polygon(&corners, INK);
    }
    let area = Area {
        left: at.0 - HALF,
        top: at.1 - HALF,
        right: at.0 + HALF,
        bottom: at.1 + HALF,
    };
    canvas.rectangle(area, PAPER.filled())?;
    canvas.outline(area, INK, 5)
}
