//! Marks.

use super::area::{Area, Point};
use super::canvas::{Anchor, Canvas};
use super::style::{BODY, Colour, PAPER, SOLID, stroke};

/// Look of a mark. The last four are limits of time: bars with arrows into the allowed side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Shape {
    /// A filled disc of this radius.
    Disc(i32),
    Ring,
    /// Hollow.
    Square,
    /// Filled.
    Diamond,
    /// Filled, with the tip upwards.
    Triangle,
    /// Still closed: a triangle with an arrow that goes on upwards.
    Upwards,
    /// Missing.
    Cross,
    /// A support below a point.
    Hinge,
    AtLeast,
    AtMost,
    /// The bar of its error leads to the other end.
    Window,
    /// At any time: it must hold.
    Holds,
}

/// Half the size of a mark, of the bar of a limit, and the length of an arrow.
const HALF: f64 = 14.0;
const HALF_BAR: f64 = 24.0;
const ARROW: f64 = 46.0;

impl Shape {
    /// The box that labels keep clear of.
    pub(crate) fn area(self, (x, y): Point) -> Area {
        let around =
            |across: f64, up: f64, down: f64| Area::new(x - across, y - up, x + across, y + down);
        match self {
            Self::Disc(radius) => {
                let radius = f64::from(radius);
                around(radius, radius, radius)
            }
            Self::Upwards => around(HALF + 3.0, 80.0, HALF + 2.0),
            Self::Hinge => around(26.0, 0.0, 52.0),
            Self::AtLeast | Self::Holds => around(HALF_BAR, ARROW + 6.0, 4.0),
            Self::AtMost => around(HALF_BAR, 4.0, ARROW + 6.0),
            Self::Window => around(HALF_BAR, 4.0, 4.0),
            _ => around(HALF + 4.0, HALF + 4.0, HALF + 4.0),
        }
    }

    pub(crate) fn draw(self, canvas: &mut Canvas, at: Point, colour: Colour) {
        let (x, y) = at;
        match self {
            Self::Disc(radius) => canvas.disc(at, radius, colour),
            Self::Ring => {
                canvas.disc(at, 17, colour);
                canvas.disc(at, 9, PAPER)
            }
            Self::Square => {
                let area = Area::around(at, HALF);
                canvas.rectangle(area, PAPER);
                canvas.line(&area.outline(), stroke(colour, 5, SOLID))
            }
            Self::Diamond => {
                let half = 1.25 * HALF;
                let corners = [(x, y - half), (x + half, y), (x, y + half), (x - half, y)];
                canvas.polygon(&corners, colour);
            }
            Self::Triangle => {
                let corners = [(x, y - 18.0), (x + 16.0, y + 12.0), (x - 16.0, y + 12.0)];
                canvas.polygon(&corners, colour);
            }
            Self::Upwards => {
                arrow(canvas, at, (x, y - 78.0), colour);
                Self::Triangle.draw(canvas, at, colour)
            }
            Self::Cross => canvas.text("×", at, BODY * 1.2, colour, Anchor::Centre),
            Self::Hinge => {
                let corners = [(x, y + 8.0), (x - 26.0, y + 52.0), (x + 26.0, y + 52.0)];
                canvas.polygon(&corners, colour);
            }
            Self::AtLeast | Self::AtMost | Self::Window | Self::Holds => {
                canvas.rule((x - HALF_BAR, y), (x + HALF_BAR, y), colour, 6);
                match self {
                    Self::Window => {}
                    // Times grow upwards.
                    Self::AtMost => arrow(canvas, at, (x, y + ARROW), colour),
                    _ => arrow(canvas, at, (x, y - ARROW), colour),
                }
            }
        }
    }
}

/// A line that ends in a head, of any direction.
pub(super) fn arrow(canvas: &mut Canvas, from: Point, tip: Point, colour: Colour) {
    let (dx, dy) = (tip.0 - from.0, tip.1 - from.1);
    let length = dx.hypot(dy).max(1e-9);
    let (ux, uy) = (dx / length, dy / length);
    let base = (tip.0 - 24.0 * ux, tip.1 - 24.0 * uy);
    canvas.rule(from, base, colour, 5);
    let side = |s: f64| (base.0 - 13.0 * s * uy, base.1 + 13.0 * s * ux);
    canvas.polygon(&[tip, side(1.0), side(-1.0)], colour)
}
