//! A panel: a frame with two axes on which data are drawn.

use super::PlotError;
use super::area::{Area, Point};
use super::axis::Axis;
use super::canvas::{Anchor, Canvas};
use super::style::{BODY, GRID, INK, QUIET, Stroke};

/// A frame, its axes and where it lies.
pub(super) struct Panel {
    pub(super) frame: Area,
    pub(super) x: Axis,
    pub(super) y: Axis,
}

const TICK: f64 = 12.0;

impl Panel {
    /// Where a value lies on the sheet.
    pub(super) fn at(&self, x: f64, y: f64) -> Point {
        (self.across(x), self.up(y))
    }

    pub(super) fn across(&self, x: f64) -> f64 {
        self.frame.left + self.x.at(x) * (self.frame.right - self.frame.left)
    }

    pub(super) fn up(&self, y: f64) -> f64 {
        self.frame.bottom - self.y.at(y) * (self.frame.bottom - self.frame.top)
    }

    /// Frame, grid, ticks, numbers and titles; the numbers below only when `with_x`, those at the
    /// left only when `with_y`.
    pub(super) fn draw(
        &self,
        canvas: &Canvas<'_>,
        with_x: bool,
        with_y: bool,
    ) -> Result<(), PlotError> {
        self.draw_x(canvas, with_x)?;
        self.draw_y(canvas, with_y)?;
        let Area {
            left,
            top,
            right,
            bottom,
        } = self.frame;
        let corners = [
            (left, top),
            (right, top),
            (right, bottom),
            (left, bottom),
            (left, top),
        ];
        for pair in corners.windows(2) {
            canvas.rule(pair[0], pair[1], QUIET, 2)?;
        }
        Ok(())
    }

    fn draw_x(&self, canvas: &Canvas<'_>, with_numbers: bool) -> Result<(), PlotError> {
        let Area {
            left,
            top,
            right,
            bottom,
        } = self.frame;
        for tick in &self.x.minor {
            let x = self.across(*tick);
            canvas.rule((x, bottom - TICK * 0.6), (x, bottom), QUIET, 2)?;
        }
        let mut last_end = f64::NEG_INFINITY;
        for tick in &self.x.ticks {
            let x = self.across(*tick);
            canvas.rule((x, top), (x, bottom), GRID, 2)?;
            canvas.rule((x, bottom - TICK), (x, bottom), QUIET, 2)?;
            let number = Axis::text(*tick);
            let half = 0.5 * canvas.width(&number, BODY);
            if with_numbers && x - half > last_end + 12.0 {
                canvas.text(&number, (x, bottom + 32.0), BODY, INK, Anchor::Centre)?;
                last_end = x + half;
            }
        }
        if with_numbers {
            let middle = 0.5 * (left + right);
            canvas.text(
                &self.x.title,
                (middle, bottom + 82.0),
                BODY,
                INK,
                Anchor::Centre,
            )?;
        }
        Ok(())
    }

    fn draw_y(&self, canvas: &Canvas<'_>, with_numbers: bool) -> Result<(), PlotError> {
        let Area {
            left,
            top,
            right,
            bottom,
        } = self.frame;
        for tick in &self.y.minor {
            let y = self.up(*tick);
            canvas.rule((left, y), (left + TICK * 0.6, y), QUIET, 2)?;
        }
        let mut last_top = f64::INFINITY;
        let mut widest = 0.0_f64;
        for tick in &self.y.ticks {
            let y = self.up(*tick);
            canvas.rule((left, y), (right, y), GRID, 2)?;
            canvas.rule((left, y), (left + TICK, y), QUIET, 2)?;
            let number = Axis::text(*tick);
            if with_numbers && y + 0.5 * BODY < last_top - 4.0 {
                canvas.text(&number, (left - 14.0, y), BODY, INK, Anchor::Right)?;
                widest = widest.max(canvas.width(&number, BODY));
                last_top = y - 0.5 * BODY;
            }
        }
        if with_numbers {
            let middle = 0.5 * (top + bottom);
            let x = left - 14.0 - widest - 38.0;
            canvas.upwards(&self.y.title, (x, middle), BODY, INK, Anchor::Centre)?;
        }
        Ok(())
    }

    /// The data on the sheet, as they are: outside the frame too.
    pub(super) fn map(&self, data: &[(f64, f64)]) -> Vec<Point> {
        data.iter().map(|(x, y)| self.at(*x, *y)).collect()
    }

    /// A line across the panel at `y`, and its points.
    pub(super) fn level(
        &self,
        canvas: &Canvas<'_>,
        y: f64,
        stroke: Stroke,
    ) -> Result<Vec<Point>, PlotError> {
        let points = vec![
            (self.frame.left, self.up(y)),
            (self.frame.right, self.up(y)),
        ];
        canvas.line(&points, stroke)?;
        Ok(points)
    }

    /// A line up the panel at `x`, and its points.
    pub(super) fn upright(
        &self,
        canvas: &Canvas<'_>,
        x: f64,
        stroke: Stroke,
    ) -> Result<Vec<Point>, PlotError> {
        let points = vec![
            (self.across(x), self.frame.bottom),
            (self.across(x), self.frame.top),
        ];
        canvas.line(&points, stroke)?;
        Ok(points)
    }
}
