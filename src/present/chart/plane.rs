//! A panel: a frame with two axes on which data are drawn.

use super::PlotError;
use super::area::{Area, Point};
use super::axis::Axis;
use super::canvas::{Anchor, Canvas};
use super::style::{BODY, GRID, INK, QUIET, Stroke};

/// A frame, its axes and where it lies.
#[derive(Clone)]
pub(crate) struct Plane {
    pub(crate) frame: Area,
    pub(crate) x: Axis,
    pub(crate) y: Axis,
}

const TICK: f64 = 12.0;
/// Height of the lane of what never comes, above the numbers.
const LANE: f64 = 62.0;

impl Plane {
    /// A panel that leaves its axis' lane at the top.
    pub(crate) fn new(mut frame: Area, x: &Axis, y: &Axis) -> Self {
        if y.lane.is_some() {
            frame.top += LANE;
        }
        Self {
            frame,
            x: x.clone(),
            y: y.clone(),
        }
    }

    /// The lane of what never comes; empty without one.
    pub(crate) fn lane(&self) -> Area {
        let height = if self.y.lane.is_some() { LANE } else { 0.0 };
        Area {
            top: self.frame.top - height,
            bottom: self.frame.top,
            ..self.frame
        }
    }

    /// Where a value lies on the sheet.
    pub(crate) fn at(&self, x: f64, y: f64) -> Point {
        (self.across(x), self.up(y))
    }

    pub(crate) fn across(&self, x: f64) -> f64 {
        self.frame.left + self.x.at(x) * (self.frame.right - self.frame.left)
    }

    /// Infinity lies in its lane, else at the top.
    pub(crate) fn up(&self, y: f64) -> f64 {
        if y == f64::INFINITY {
            return self.lane().middle().1;
        }
        self.frame.bottom - self.y.at(y) * (self.frame.bottom - self.frame.top)
    }

    /// Frame, grid, ticks, numbers and titles; the numbers below only when `with_x`, those at the
    /// left only when `with_y`.
    pub(crate) fn draw(
        &self,
        canvas: &Canvas<'_>,
        with_x: bool,
        with_y: bool,
    ) -> Result<(), PlotError> {
        self.draw_x(canvas, with_x)?;
        self.draw_y(canvas, with_y)?;
        canvas.outline(self.frame, QUIET, 2)?;
        if let Some(words) = self.y.lane {
            let lane = self.lane();
            canvas.outline(lane, QUIET, 2)?;
            let at = (lane.left - 14.0, lane.middle().1);
            canvas.text(words, at, BODY, INK, Anchor::Right)?;
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
        for (tick, number) in self.x.texts() {
            let x = self.across(tick);
            canvas.rule((x, top), (x, bottom), GRID, 2)?;
            canvas.rule((x, bottom - TICK), (x, bottom), QUIET, 2)?;
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
        for (tick, number) in self.y.texts() {
            let y = self.up(tick);
            canvas.rule((left, y), (right, y), GRID, 2)?;
            canvas.rule((left, y), (left + TICK, y), QUIET, 2)?;
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
    pub(crate) fn map(&self, data: &[(f64, f64)]) -> Vec<Point> {
        data.iter().map(|(x, y)| self.at(*x, *y)).collect()
    }

    /// A line across the panel at `y`, and its points.
    pub(crate) fn level(
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
    pub(crate) fn upright(
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
