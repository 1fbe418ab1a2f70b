//! A panel: a frame with two axes on which data are drawn.

use super::area::{Area, Point};
use super::axis::Axis;
use super::canvas::{Anchor, Canvas};
use super::style::{BODY, GRID, INK, QUIET, Stroke};
use super::text::width;

/// A frame, its axes and where it lies.
#[derive(Clone)]
pub(crate) struct Plane {
    pub(crate) frame: Area,
    pub(crate) x: Axis,
    pub(crate) y: Axis,
}

const TICK: f64 = 12.0;
/// Height of the lanes of what never comes, above the numbers, and of what comes at once, below.
const LANE: f64 = 62.0;

impl Plane {
    /// A panel that leaves its axis' lanes; an empty one where there is no room.
    pub(crate) fn new(mut frame: Area, x: &Axis, y: &Axis) -> Self {
        if y.lane.is_some() {
            frame.top += LANE;
        }
        if y.foot.is_some() {
            frame.bottom -= LANE;
        }
        frame.right = frame.right.max(frame.left);
        frame.bottom = frame.bottom.max(frame.top);
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

    /// The lane of what comes at once; empty without one.
    pub(crate) fn foot(&self) -> Area {
        let height = if self.y.foot.is_some() { LANE } else { 0.0 };
        Area {
            top: self.frame.bottom,
            bottom: self.frame.bottom + height,
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

    /// Infinity lies in its lane, else at the top; minus infinity in its own, else at the foot.
    pub(crate) fn up(&self, y: f64) -> f64 {
        if y.is_infinite() {
            let lane = if y > 0.0 { self.lane() } else { self.foot() };
            return lane.middle().1;
        }
        self.frame.bottom - self.y.at(y) * (self.frame.bottom - self.frame.top)
    }

    /// Frame, grid, ticks, numbers and titles; the numbers below only when `with_x`, those at the
    /// left only when `with_y`.
    pub(crate) fn draw(&self, canvas: &mut Canvas, with_x: bool, with_y: bool) {
        self.draw_x(canvas, with_x);
        self.draw_y(canvas, with_y);
        canvas.outline(self.frame, QUIET, 2);
        let lanes = [(self.y.lane, self.lane()), (self.y.foot, self.foot())];
        for (words, lane) in lanes {
            let Some(words) = words else { continue };
            canvas.outline(lane, QUIET, 2);
            let at = (lane.left - 14.0, lane.middle().1);
            canvas.text(words, at, BODY, INK, Anchor::Right);
        }
    }

    fn draw_x(&self, canvas: &mut Canvas, with_numbers: bool) {
        let Area {
            left,
            top,
            right,
            bottom,
        } = self.frame;
        for tick in &self.x.minor {
            let x = self.across(*tick);
            canvas.rule((x, bottom - TICK * 0.6), (x, bottom), QUIET, 2);
        }
        let below = self.foot().bottom;
        let mut last_end = f64::NEG_INFINITY;
        for (tick, number) in self.x.texts() {
            let x = self.across(tick);
            canvas.rule((x, top), (x, bottom), GRID, 2);
            canvas.rule((x, bottom - TICK), (x, bottom), QUIET, 2);
            let half = 0.5 * width(&number, BODY);
            if with_numbers && x - half > last_end + 12.0 {
                canvas.text(&number, (x, below + 32.0), BODY, INK, Anchor::Centre);
                last_end = x + half;
            }
        }
        if with_numbers {
            let middle = 0.5 * (left + right);
            canvas.text(
                &self.x.title,
                (middle, below + 82.0),
                BODY,
                INK,
                Anchor::Centre,
            );
        }
    }

    fn draw_y(&self, canvas: &mut Canvas, with_numbers: bool) {
        let Area {
            left,
            top,
            right,
            bottom,
        } = self.frame;
        for tick in &self.y.minor {
            let y = self.up(*tick);
            canvas.rule((left, y), (left + TICK * 0.6, y), QUIET, 2);
        }
        let mut last_top = f64::INFINITY;
        let mut widest = 0.0_f64;
        for (tick, number) in self.y.texts() {
            let y = self.up(tick);
            canvas.rule((left, y), (right, y), GRID, 2);
            canvas.rule((left, y), (left + TICK, y), QUIET, 2);
            if with_numbers && y + 0.5 * BODY < last_top - 4.0 {
                canvas.text(&number, (left - 14.0, y), BODY, INK, Anchor::Right);
                widest = widest.max(width(&number, BODY));
                last_top = y - 0.5 * BODY;
            }
        }
        if with_numbers {
            let middle = 0.5 * (top + bottom);
            let x = left - 14.0 - widest - 38.0;
            canvas.upwards(&self.y.title, (x, middle), BODY, INK, Anchor::Centre);
        }
    }

    /// The data on the sheet, as they are: outside the frame too.
    pub(crate) fn map(&self, data: &[(f64, f64)]) -> Vec<Point> {
        data.iter().map(|(x, y)| self.at(*x, *y)).collect()
    }

    /// A line across the panel, where it holds `y`.
    pub(crate) fn level(&self, canvas: &mut Canvas, y: f64, stroke: Stroke) {
        if self.y.contains(y) {
            let y = self.up(y);
            canvas.line(&[(self.frame.left, y), (self.frame.right, y)], stroke);
        }
    }

    /// A line up the panel, where it holds `x`.
    pub(crate) fn upright(&self, canvas: &mut Canvas, x: f64, stroke: Stroke) {
        if self.x.contains(x) {
            let x = self.across(x);
            canvas.line(&[(x, self.frame.bottom), (x, self.frame.top)], stroke);
        }
    }
}
