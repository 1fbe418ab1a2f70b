//! Forces as arrows, all to one scale.

use super::super::area::Point;
use super::super::canvas::{Anchor, Canvas};
use super::super::style::{BODY, Colour, INK, SMALL, SOLID, stroke};
use crate::present::number::{plain, significant};
use crate::present::words::mechanism as say;

/// Length of the largest force, units.
const LONGEST: f64 = 150.0;
/// The head of an arrow.
const HEAD: f64 = 22.0;

/// How long a newton is.
#[derive(Clone, Copy)]
pub(super) struct Scale {
    units_per_n: f64,
}

impl Scale {
    /// The largest force fills its room; `None` where there is none.
    pub(super) fn of(most_n: f64) -> Option<Scale> {
        let units_per_n = LONGEST / most_n;
        (most_n > 1e-6 && units_per_n.is_finite()).then_some(Scale { units_per_n })
    }

    /// An arrow that ends at a point, upwards or downwards, with its force beside it.
    pub(super) fn arrow(self, canvas: &mut Canvas, to: Point, n: f64, is_up: bool, colour: Colour) {
        let length = self.units_per_n * n;
        if length < 3.0 {
            return;
        }
        let away = if is_up { 1.0 } else { -1.0 };
        let head = HEAD.min(length);
        let base = (to.0, to.1 + away * head);
        canvas.line(
            &[(to.0, to.1 + away * length), base],
            stroke(colour, 12, SOLID),
        );
        let side = 0.6 * head;
        let left = (base.0 - side, base.1);
        canvas.polygon(&[to, left, (base.0 + side, base.1)], colour);
        let at = (to.0 - 22.0, to.1 + away * (0.5 * length).max(head));
        let text = format!("{} N", significant(n, 2));
        canvas.text(&text, at, BODY, colour, Anchor::Right);
    }

    /// A line as long as a round force, with its words.
    pub(super) fn key(self, canvas: &mut Canvas, at: Point) {
        let round = [
            0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0,
        ];
        let fits = |n: &&f64| **n * self.units_per_n <= LONGEST;
        let n = round.iter().rev().find(fits).copied().unwrap_or(round[0]);
        let end = (at.0 + n * self.units_per_n, at.1);
        canvas.rule(at, end, INK, 8);
        for x in [at.0, end.0] {
            canvas.rule((x, at.1 - 12.0), (x, at.1 + 12.0), INK, 4);
        }
        let text = say::force_scale(&plain(n));
        canvas.text(&text, (end.0 + 18.0, at.1), SMALL, INK, Anchor::Left);
    }
}
