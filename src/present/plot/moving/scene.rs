//! What stands still, and what moves.

use super::super::area::{Area, Point};
use super::super::canvas::{Anchor, Canvas};
use super::super::release::{look, release_height_mm, supports};
use super::super::strip_drawing::{draw, layer_colour, scale_words};
use super::super::style::*;
use super::super::text::width;
use super::layout::{Column, Layout, STAGE};
use super::reel::{Reel, Shown};
use crate::predict::{Outcome, State};
use crate::present::chart::header::Header;
use crate::present::language::worded;
use crate::present::number::{celsius, duration, finite, significant};
use crate::present::words;

/// The contact arm: a sketch, not to scale.
const PIVOT: Point = (2290.0, 420.0);
const ARM: f64 = 400.0;
const OPEN_RAD: f64 = 0.24;

type Value = fn(&State) -> f64;
const CURVES: [(&str, Stroke, Value); 3] = [
    (noted!("hottest point"), stroke(EMBER, 7, SOLID), |s| {
        s.strip_peak_c
    }),
    (noted!("mean"), stroke(LAKE, 6, DASHED), |s| s.strip_mean_c),
    (noted!("air"), stroke(QUIET, 5, DOTTED), |s| s.ambient_c),
];

/// Everything that stands still.
pub(super) fn backdrop(canvas: &mut Canvas, outcome: &Outcome, reel: &Reel<'_>, layout: &Layout) {
    let room = f64::from(WIDTH) - 160.0;
    Header::cut(&outcome.scenario, &reel.times(), room).draw(canvas);
    supports(canvas, &layout.place, outcome);
    let part = &outcome.part;
    if let Some(y) = release_height_mm(part) {
        let thickness = 0.5 * part.thickness_mm;
        let from = layout.place.at(0.62 * part.push_point_mm, y + thickness);
        let to = layout.place.at(part.push_point_mm, y + thickness);
        let to = (to.0 + 60.0, to.1);
        canvas.line(&[from, to], stroke(INK, 3, DASHED));
        let at = (from.0 - 14.0, from.1);
        canvas.text(word!("lets the latch go"), at, SMALL, INK, Anchor::Right);
    }
    let scale = match look(part).has_free_tip {
        true => say!(
            "Strip {}; latch, spring and contact arm sketched",
            scale_words(layout.place.times)
        ),
        false => say!(
            "{} {}; contact arm sketched",
            words::capital(words::mechanism(part.mechanism).piece),
            scale_words(layout.place.times)
        ),
    };
    let at = (STAGE.left + 20.0, STAGE.bottom - 8.0);
    canvas.text(&scale, at, SMALL, QUIET, Anchor::Left);
    layers(canvas, outcome);
    post(canvas);
    reading_names(canvas, outcome);
    for (k, column) in layout.columns.iter().enumerate() {
        column.warmth.draw(canvas, false, k == 0);
        column.current.draw(canvas, true, k == 0);
        for (_, curve, value) in CURVES {
            let line = line(column, reel, usize::MAX, value);
            canvas.line(&line, stroke(GRID, curve.width, SOLID));
        }
        if let Some(level) = finite(part.trip_temperature_c) {
            column.warmth.level(canvas, level, stroke(INK, 2, DOTTED));
        }
        let current = current_line(column, reel, usize::MAX);
        canvas.line(&current, stroke(GRID, 7, SOLID));
    }
    key(canvas, outcome, layout)
}

/// Names of the curves above the panels.
fn key(canvas: &mut Canvas, outcome: &Outcome, layout: &Layout) {
    let Some(first) = layout.columns.first() else {
        return;
    };
    let y = first.warmth.frame.top - 28.0;
    let mut x = first.warmth.frame.left;
    for (name, curve, _) in CURVES {
        let name = worded(name);
        canvas.line(&[(x, y), (x + 80.0, y)], curve);
        canvas.text(name, (x + 94.0, y), SMALL, curve.colour, Anchor::Left);
        x += 94.0 + width(name, SMALL) + 50.0;
    }
    if let Some(level) = finite(outcome.part.trip_temperature_c) {
        canvas.line(&[(x, y), (x + 80.0, y)], stroke(INK, 2, DOTTED));
        let text = say!(
            "{}: trips when all of it is this warm",
            celsius(Some(level), 0)
        );
        canvas.text(&text, (x + 94.0, y), SMALL, INK, Anchor::Left);
    }
}

fn layers(canvas: &mut Canvas, outcome: &Outcome) {
    let names = &outcome.part.layer_alloys;
    let mut x = STAGE.left + 20.0;
    let y = STAGE.bottom - 54.0;
    for (k, name) in names.iter().enumerate().take(4) {
        let swatch = Area::new(x, y - 14.0, x + 44.0, y + 14.0);
        canvas.rectangle(swatch, fill(layer_colour(k, names.len()), 0.62));
        canvas.outline(swatch, INK, 2);
        canvas.text(name, (x + 58.0, y), SMALL, INK, Anchor::Left);
        x += 58.0 + width(name, SMALL) + 50.0;
    }
}

/// Parts of a frame that change at times of their own.
pub(super) const PARTS: usize = 11;

/// One of the parts that move, at one frame.
pub(super) fn part(
    canvas: &mut Canvas,
    outcome: &Outcome,
    reel: &Reel<'_>,
    layout: &Layout,
    (n, part): (usize, usize),
) {
    let Some(shown) = reel.shown.get(n) else {
        return;
    };
    match part {
        0 => draw(canvas, &layout.place, outcome, &shown.frame.shape, false),
        1 => arm(canvas, outcome, reel, shown, n),
        2 => arm_words(canvas, outcome, reel, shown, n),
        3 => markers(canvas, layout, shown),
        10 => latched(canvas, outcome, layout, shown),
        _ => reading(canvas, reel, shown, part - 4),
    }
}

/// The latch: from the release on it has let go.
fn latched(canvas: &mut Canvas, outcome: &Outcome, layout: &Layout, shown: &Shown<'_>) {
    let part = &outcome.part;
    let (Some(draws), Some(_)) = (look(part).sketch, release_height_mm(part)) else {
        return;
    };
    draws(canvas, &layout.place, part, shown.is_released);
}

/// What frame `n` adds to the curves and later frames keep.
pub(super) fn step(canvas: &mut Canvas, reel: &Reel<'_>, layout: &Layout, n: usize) {
    let before = n.checked_sub(1).and_then(|k| reel.shown.get(k));
    let (Some(before), Some(now)) = (before, reel.shown.get(n)) else {
        return;
    };
    if before.is_cooling != now.is_cooling {
        return;
    }
    let own = |c: &&Column| c.is_cooling == now.is_cooling;
    for column in layout.columns.iter().filter(own) {
        let (a, b) = (&before.frame.state, &now.frame.state);
        for (_, curve, value) in CURVES {
            let from = column.point(&column.warmth, a, value(a));
            let to = column.point(&column.warmth, b, value(b));
            // A dash falls where it would on the whole line.
            let place = 0.5 * (from.0 + to.0);
            let is_drawn = curve.dash != DASHED || (place / 20.0) as i64 % 3 != 2;
            let dash = if curve.dash == DOTTED { DOTTED } else { SOLID };
            if is_drawn {
                canvas.line(&[back(from), to], stroke(curve.colour, curve.width, dash));
            }
        }
        let from = column.point(&column.current, a, a.current_a);
        let to = column.point(&column.current, b, b.current_a);
        let jumps = (from.1 - to.1).abs() > 20.0;
        let corner = if jumps { (to.0, from.1) } else { from };
        canvas.line(&[back(from), corner, to], stroke(INK, 7, SOLID));
    }
}

/// A little earlier: pieces of a line overlap, so that no seam is seen.
fn back(at: Point) -> Point {
    (at.0 - 2.0, at.1)
}

fn markers(canvas: &mut Canvas, layout: &Layout, shown: &Shown<'_>) {
    let state = &shown.frame.state;
    let own = |c: &&Column| c.is_cooling == shown.is_cooling;
    for column in layout.columns.iter().filter(own) {
        for (_, stroke, value) in &CURVES[..2] {
            let at = column.point(&column.warmth, state, value(state));
            canvas.disc(at, 13, stroke.colour);
        }
        let at = column.point(&column.current, state, state.current_a);
        canvas.disc(at, 13, INK);
    }
}

fn line(column: &Column, reel: &Reel<'_>, upto: usize, value: Value) -> Vec<Point> {
    states(column, reel, upto)
        .map(|s| column.point(&column.warmth, s, value(s)))
        .collect()
}

/// In steps: a current jumps.
fn current_line(column: &Column, reel: &Reel<'_>, upto: usize) -> Vec<Point> {
    let mut points: Vec<Point> = Vec::new();
    for state in states(column, reel, upto) {
        let at = column.point(&column.current, state, state.current_a);
        if let Some(last) = points.last().copied()
            && (last.1 - at.1).abs() > 20.0
        {
            points.push((at.0, last.1));
        }
        points.push(at);
    }
    points
}

fn states<'r>(column: &Column, reel: &'r Reel<'_>, upto: usize) -> impl Iterator<Item = &'r State> {
    let cooling = column.is_cooling;
    reel.shown
        .iter()
        .take(upto.saturating_add(1))
        .filter(move |s| s.is_cooling == cooling)
        .map(|s| &s.frame.state)
}

/// The contact arm: down while closed, up when open; held by the latch or by the blade.
fn arm(canvas: &mut Canvas, outcome: &Outcome, reel: &Reel<'_>, shown: &Shown<'_>, n: usize) {
    let angle = if shown.is_cooling {
        OPEN_RAD
    } else if is_release(outcome, reel, n) {
        0.5 * OPEN_RAD
    } else {
        0.0
    };
    let tip = (PIVOT.0 - ARM * angle.cos(), PIVOT.1 - ARM * angle.sin());
    canvas.rule(PIVOT, tip, INK, 12);
    canvas.disc(PIVOT, 20, QUIET);
    canvas.disc((tip.0 + 10.0, tip.1 + 24.0), 22, MOSS)
}

fn is_release(outcome: &Outcome, reel: &Reel<'_>, n: usize) -> bool {
    n == reel.still() && outcome.trip.trips()
}

fn arm_words(canvas: &mut Canvas, outcome: &Outcome, reel: &Reel<'_>, shown: &Shown<'_>, n: usize) {
    let is_open = shown.is_cooling;
    let [holds, lets_go, open] = words::mechanism(outcome.part.mechanism).does;
    let text = match (is_open, is_release(outcome, reel, n)) {
        (true, _) => open,
        (false, true) => lets_go,
        (false, false) => holds,
    };
    let at = (PIVOT.0 + 40.0, PIVOT.1 + 190.0);
    let colour = if is_open { EMBER } else { MOSS };
    canvas.text(text, at, BODY, colour, Anchor::Right)
}

/// The fixed contact on its post.
fn post(canvas: &mut Canvas) {
    let fixed = (PIVOT.0 - ARM + 10.0, PIVOT.1 + 68.0);
    canvas.disc(fixed, 22, MOSS);
    canvas.rule(
        (fixed.0, fixed.1 + 20.0),
        (fixed.0, fixed.1 + 80.0),
        INK,
        10,
    );
    canvas.rule(
        (fixed.0 - 60.0, fixed.1 + 80.0),
        (fixed.0 + 60.0, fixed.1 + 80.0),
        INK,
        10,
    )
}

const READINGS: f64 = 212.0;

/// Time, current, temperature and deflection as numbers, each with a place of its own.
fn reading(canvas: &mut Canvas, reel: &Reel<'_>, shown: &Shown<'_>, which: usize) {
    let state = &shown.frame.state;
    let mut put = |text: &str, x: f64| canvas.text(text, (x, READINGS), BODY, INK, Anchor::Left);
    match which {
        0 => {
            let zero = if shown.is_cooling {
                reel.opened_s.unwrap_or(0.0)
            } else {
                0.0
            };
            let text = duration((state.time_s - zero).max(0.0), 3);
            canvas.bold(&text, (330.0, READINGS), TITLE, INK, Anchor::Right)
        }
        1 => put(
            if shown.is_cooling {
                word!("since opening")
            } else {
                word!("under load")
            },
            350.0,
        ),
        2 => canvas.bold(shown.moment, (640.0, READINGS), BODY, INK, Anchor::Left),
        3 => put(&format!("{} A", significant(state.current_a, 3)), 1240.0),
        4 => put(&celsius(Some(state.strip_peak_c), 0), 1710.0),
        _ => put(
            &format!("{} mm", significant(state.tip_deflection_mm, 3)),
            2160.0,
        ),
    }
}

/// The words beside the numbers.
fn reading_names(canvas: &mut Canvas, outcome: &Outcome) {
    let last = words::mechanism(outcome.part.mechanism).moved[1];
    for (text, x) in [(word!("hottest point"), 1690.0), (last, 2140.0)] {
        canvas.text(text, (x, READINGS), BODY, QUIET, Anchor::Right);
    }
}
