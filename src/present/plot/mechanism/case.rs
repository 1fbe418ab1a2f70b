//! What is sketched: case, clamp, coils, contacts, button.

use super::super::area::{Area, Point};
use super::super::canvas::Canvas;
use super::super::style::{CLAY, Colour, GRID, INK, MOSS, PAPER, QUIET, SOLID, fill, stroke};

/// Thickness of the wall of the case.
const WALL: f64 = 22.0;

/// The case in section, hatched where it is cut, with a gap for the button at its right.
pub(super) fn case(canvas: &mut Canvas, inside: Area, gap: (f64, f64)) {
    let Area {
        left,
        top,
        right,
        bottom,
    } = inside;
    let walls = [
        Area::new(left - WALL, top - WALL, right + WALL, top),
        Area::new(left - WALL, bottom, right + WALL, bottom + WALL),
        Area::new(left - WALL, top, left, bottom),
        Area::new(right, top, right + WALL, gap.0),
        Area::new(right, gap.1, right + WALL, bottom),
    ];
    for wall in walls {
        canvas.rectangle(wall, fill(QUIET, 0.18));
        hatch(canvas, wall);
        canvas.outline(wall, QUIET, 2);
    }
}

/// Lines at half a right angle, as a cut is drawn.
fn hatch(canvas: &mut Canvas, area: Area) {
    let (width, height) = (area.width(), area.height());
    let mut from = -height;
    while from < width {
        let start = from.max(0.0);
        let end = (from + height).min(width);
        let point = |x: f64| (area.left + x, area.bottom - (x - from));
        canvas.rule(point(start), point(end), QUIET, 1);
        from += 26.0;
    }
}

/// The clamp of the strip and its terminal through the wall.
pub(super) fn clamp(canvas: &mut Canvas, at: Point, wall_left: f64) {
    let terminal = Area::new(wall_left - 110.0, at.1 - 16.0, at.0, at.1 + 16.0);
    canvas.rectangle(terminal, fill(CLAY, 0.55));
    canvas.outline(terminal, INK, 2);
    let block = Area::new(at.0 - 60.0, at.1 - 52.0, at.0, at.1 + 52.0);
    canvas.rectangle(block, GRID);
    canvas.outline(block, INK, 3);
}

/// A coil spring between two points, upright or level.
pub(super) fn coil(canvas: &mut Canvas, from: Point, to: Point, colour: Colour) {
    let turns = 10;
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let length = dx.hypot(dy).max(1e-9);
    let across = (-dy / length * 22.0, dx / length * 22.0);
    let point = |k: i32| {
        let share = f64::from(k) / f64::from(turns);
        let side = match k {
            0 => 0.0,
            k if k == turns => 0.0,
            k if k % 2 == 0 => -1.0,
            _ => 1.0,
        };
        (
            from.0 + share * dx + side * across.0,
            from.1 + share * dy + side * across.1,
        )
    };
    let points: Vec<Point> = (0..=turns).map(point).collect();
    canvas.line(&points, stroke(colour, 6, SOLID));
}

/// A pair of contacts: the fixed one on its post, the moving one.
pub(super) fn contact(canvas: &mut Canvas, at: Point, is_left: bool) {
    let side = if is_left { -1.0 } else { 1.0 };
    let pad = Area::between((at.0, at.1 - 24.0), (at.0 + side * 16.0, at.1 + 24.0));
    canvas.rectangle(pad, MOSS);
}

/// The button, as far out as it is, and a finger's arrow where it is pressed.
pub(super) fn button(canvas: &mut Canvas, at: Point, is_pressed: bool) {
    let cap = Area::new(at.0, at.1 - 44.0, at.0 + 44.0, at.1 + 44.0);
    canvas.rectangle(cap, fill(CLAY, 0.8));
    canvas.outline(cap, INK, 3);
    if is_pressed {
        let tip = (cap.right + 6.0, at.1);
        canvas.polygon(
            &[
                tip,
                (tip.0 + 36.0, tip.1 - 30.0),
                (tip.0 + 36.0, tip.1 + 30.0),
            ],
            INK,
        );
    }
}

/// A part in one piece, in ink on paper.
pub(super) fn piece(canvas: &mut Canvas, points: &[Point]) {
    canvas.polygon(points, PAPER);
    canvas.polygon(points, fill(QUIET, 0.35));
    let closed: Vec<Point> = points.iter().chain(points.first()).copied().collect();
    canvas.line(&closed, stroke(INK, 3, SOLID));
}
