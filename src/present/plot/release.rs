//! How a release mechanism is drawn: what holds its strip, at which height it releases, and its
//! sketch.

use super::area::{Area, Point};
use super::canvas::Canvas;
use super::mechanism::{self, AtWork};
use super::strip_drawing::Place;
use super::style::{GRID, INK, MOSS, QUIET, SOLID, stroke};
use crate::predict::{MechanismKind, Outcome, Part};
use crate::present::chart::Shape;
use crate::present::number::finite;

/// Draws what the strip releases, before it is released or after, and returns the box that it
/// takes.
type Sketch = fn(&mut Canvas, &Place, &Part, bool) -> Area;

/// What figures know of a mechanism.
pub(super) struct Look {
    /// Whether the strip is clamped at one end and free at the other; else hinged at both.
    pub has_free_tip: bool,
    /// Whether there is a height at which it releases.
    has_height: bool,
    /// What the strip releases, where that is drawn.
    pub sketch: Option<Sketch>,
    /// How it is shown at work.
    pub at_work: Option<AtWork>,
}

/// How a part is drawn.
pub(super) fn look(part: &Part) -> Look {
    match part.mechanism {
        kind @ (MechanismKind::Latch | MechanismKind::Bar) => Look {
            has_free_tip: true,
            has_height: true,
            sketch: Some(latch),
            at_work: Some(mechanism::latch as AtWork).filter(|_| kind == MechanismKind::Latch),
        },
        MechanismKind::SnapBlade | MechanismKind::Disc => Look {
            has_free_tip: false,
            has_height: false,
            sketch: None,
            at_work: Some(mechanism::snap),
        },
    }
}

/// The height of the strip at which it releases, mm, where there is one.
pub(super) fn release_height_mm(part: &Part) -> Option<f64> {
    finite(Some(part.release_deflection_mm)).filter(|_| look(part).has_height)
}

/// The clamp, or the two hinges.
pub(super) fn supports(canvas: &mut Canvas, place: &Place, outcome: &Outcome) {
    let left = place.at(0.0, 0.0);
    if look(&outcome.part).has_free_tip {
        let area = Area::new(left.0 - 90.0, left.1 - 70.0, left.0, left.1 + 70.0);
        canvas.rectangle(area, GRID);
        return canvas.outline(area, QUIET, 3);
    }
    for x in [0.0, outcome.part.length_mm] {
        Shape::Hinge.draw(canvas, place.at(x, 0.0), QUIET);
    }
}

/// Height of the sketched latch, and how far it turns when it lets go, radians.
const LATCH: f64 = 110.0;
const TURNED: f64 = 0.35;

/// The latch with its tooth, at the push point, and the spring that holds it: a sketch, not to
/// scale. Returns the box that it takes.
fn latch(canvas: &mut Canvas, place: &Place, part: &Part, is_released: bool) -> Area {
    let tooth = place.at(
        part.push_point_mm,
        part.release_deflection_mm + 0.5 * part.thickness_mm,
    );
    let pivot = (tooth.0, tooth.1 - LATCH);
    let angle = if is_released { TURNED } else { 0.0 };
    // Down the arm from its pivot, and across it to the right.
    let at = |down: f64, across: f64| {
        (
            pivot.0 + down * angle.sin() + across * angle.cos(),
            pivot.1 + down * angle.cos() - across * angle.sin(),
        )
    };
    let arm = [
        at(0.0, -9.0),
        at(LATCH - 26.0, -9.0),
        at(LATCH - 26.0, -38.0),
        at(LATCH, -9.0),
        at(LATCH, 9.0),
        at(0.0, 9.0),
    ];
    canvas.polygon(&arm, INK);
    canvas.disc(pivot, 15, QUIET);
    let (from, wall) = (at(0.45 * LATCH, 9.0), pivot.0 + 170.0);
    let step = (wall - from.0) / 12.0;
    let coil = (0..=12).map(|k| {
        let swing = match k {
            0 | 12 => 0.0,
            k if k % 2 == 0 => -20.0,
            _ => 20.0,
        };
        (from.0 + f64::from(k) * step, from.1 + swing)
    });
    let coil: Vec<Point> = coil.collect();
    canvas.line(&coil, stroke(MOSS, 5, SOLID));
    canvas.rule((wall, from.1 - 36.0), (wall, from.1 + 36.0), QUIET, 10);
    Area::new(tooth.0 - 42.0, pivot.1 - 16.0, wall + 8.0, tooth.1)
}
