//! From the description to the SVG: panels, what is in them, and labels where they find room.

use super::area::{Area, Point};
use super::canvas::{self, Anchor, Canvas};
use super::foot::Rows;
use super::header::Header;
use super::layout::{Layout, Placed, SIDE, SIDE_SAMPLE};
use super::plane::Plane;
use super::room::room;
use super::shape::arrow;
use super::sheet::{Grows, Sheet};
use super::style::{BODY, GRID, INK, PAPER, QUIET, SMALL, SOLID, stroke};
use super::text::{shortened, width};
use super::vector::{finished, strip_height};
use super::{Aside, Axis, Bar, Chart, Column, Figure, Height, Item, Line, Mark, Panel};
use super::{Shape, Side, clip, names};
use crate::present::html::escape;

/// Draws it on a sheet, or on one grown from it that has room.
pub(super) fn drawn(chart: &Chart, sheet: Sheet) -> Figure {
    let sheet = sheet.with_room(|size| room(chart, &Draft::of(chart, size, sheet.grows).layout));
    let draft = Draft::of(chart, sheet.units, sheet.grows);
    let Draft {
        size,
        header,
        rows,
        layout,
    } = &draft;
    let columns = || chart.columns.iter().zip(&layout.columns);
    let body = canvas::drawn(|canvas| {
        header.draw(canvas);
        rows.draw(canvas, 80.0, layout.foot_top);
        for (k, (column, placed)) in columns().enumerate() {
            let has_numbers = k == 0 || !chart.is_split;
            for r in 0..column.panels.len() {
                panel(canvas, column, placed, r, has_numbers);
            }
        }
        for placed in &layout.columns {
            if let (Some(first), Some(last)) = (placed.planes.first(), placed.planes.last()) {
                let (top, bottom) = (first.lane().top, last.frame.bottom);
                placed.flags.draw(canvas, top, bottom);
            }
        }
        for group in groups(chart, layout) {
            names::write(canvas, &group);
        }
        for (column, placed) in columns() {
            if let Some(plane) = placed.planes.first() {
                side(canvas, &column.side, plane, f64::from(size.0));
            }
        }
    });
    let words = (chart.title.as_str(), chart.description.clone());
    let shown = sheet.shown_px;
    let figure = finished(chart.stem, words, &body, (*size, shown), &chart.cautions);
    figure.over(chart.axes())
}

/// Most lines below the panels, where the sheet grows with them and where not.
const MOST_ROWS: usize = 30;
const USUAL_ROWS: usize = 14;

/// Where everything would lie on a sheet.
struct Draft<'a> {
    /// What is left of the sheet by its cautions.
    size: (i32, i32),
    header: Header,
    rows: Rows<'a>,
    layout: Layout,
}

impl<'a> Draft<'a> {
    /// Cautions make a sheet that cannot grow a little higher, and take their room from any other.
    fn of(chart: &'a Chart, (wide, high): (i32, i32), grows: Grows) -> Self {
        let room = f64::from(wide) - 160.0;
        let size = match grows {
            Grows::Nothing => (wide, high),
            _ => (wide, high - strip_height(wide, &chart.cautions)),
        };
        let header = match chart.has_header {
            true => Header::of(&chart.title, &chart.subtitle, room),
            false => Header::default(),
        };
        let most = match grows {
            Grows::Nothing => USUAL_ROWS,
            _ => MOST_ROWS,
        };
        let rows = Rows::of(&chart.foot, room, most);
        // Pieces of one axis stay beside each other.
        let is_stacked = grows == Grows::Height && !chart.is_split;
        let layout = Layout::of(chart, size, (header.height(), is_stacked), &rows);
        Self {
            size,
            header,
            rows,
            layout,
        }
    }
}

/// Panels whose items are pieces of the same things, with the poles of their flags.
pub(super) type Group<'a> = Vec<(&'a Panel, &'a Plane, &'a Placed)>;

fn groups<'a>(chart: &'a Chart, layout: &'a Layout) -> Vec<Group<'a>> {
    let one = |k: usize, r: usize| -> Option<_> {
        let placed = &layout.columns[k];
        Some((
            chart.columns[k].panels.get(r)?,
            placed.planes.get(r)?,
            placed,
        ))
    };
    let count = chart.columns.len();
    let rows = chart.columns.iter().map(|c| c.panels.len()).max();
    let rows = 0..rows.unwrap_or(0);
    match chart.is_split {
        true => rows
            .map(|r| (0..count).filter_map(|k| one(k, r)).collect())
            .collect(),
        false => rows
            .flat_map(|r| (0..count).filter_map(move |k| Some(vec![one(k, r)?])))
            .collect(),
    }
}

/// Frame, axes, and everything that lies where its data say.
fn panel(canvas: &mut Canvas, column: &Column, placed: &Placed, r: usize, has_numbers: bool) {
    let (panel, plane) = (&column.panels[r], &placed.planes[r]);
    let Area {
        left,
        top,
        right,
        bottom,
    } = plane.frame;
    let frame = format!(
        "class=\"panel\" data-left=\"{left:.1}\" data-top=\"{top:.1}\" data-right=\"{right:.1}\" \
         data-bottom=\"{bottom:.1}\"{}{}",
        attributes("x", &plane.x),
        attributes("y", &plane.y)
    );
    canvas.group(&frame, |canvas| {
        if matches!(panel.height, Height::Share(_)) {
            plane.draw(canvas, r + 1 == column.panels.len(), has_numbers);
            twins(canvas, panel, plane);
        }
        for item in &panel.items {
            match item {
                Item::Line(line) => {
                    let name = line.name.as_ref().map_or("", |n| n.text.as_str());
                    let series = format!("class=\"series\" data-series=\"{}\"", escape(name));
                    canvas.group(&series, |canvas| draw_line(canvas, plane, line));
                }
                _ => draw(canvas, plane, item),
            }
        }
    });
}

/// An axis for who reads values off the SVG.
fn attributes(name: &str, axis: &Axis) -> String {
    let scale = if axis.is_log { "log" } else { "linear" };
    format!(
        " data-{name}-title=\"{}\" data-{name}-min=\"{:e}\" data-{name}-max=\"{:e}\" \
         data-{name}-scale=\"{scale}\"",
        escape(&axis.title),
        axis.low,
        axis.high
    )
}

/// The axes again in other words, and the caption.
fn twins(canvas: &mut Canvas, panel: &Panel, plane: &Plane) {
    let Area { left, right, .. } = plane.frame;
    let top = plane.lane().top;
    let (marks, name) = &panel.top;
    let mut last_end = f64::NEG_INFINITY;
    for (value, text) in marks.iter().filter(|(v, _)| plane.x.contains(*v)) {
        let x = plane.across(*value);
        let half = 0.5 * width(text, BODY);
        canvas.rule((x, top), (x, top - 12.0), QUIET, 3);
        if x - half > last_end + 16.0 {
            canvas.text(text, (x, top - 34.0), BODY, QUIET, Anchor::Centre);
            last_end = x + half;
        }
    }
    canvas.text(name, (right + 24.0, top - 34.0), BODY, QUIET, Anchor::Left);
    let mut last = f64::INFINITY;
    for (value, text) in panel.right.iter().filter(|(v, _)| plane.y.contains(*v)) {
        let y = plane.up(*value);
        canvas.rule((right, y), (right + 14.0, y), QUIET, 3);
        if (last - y).abs() > BODY {
            canvas.text(text, (right + 24.0, y), BODY, QUIET, Anchor::Left);
            last = y;
        }
    }
    let up = top - 34.0 - if marks.is_empty() { 0.0 } else { 50.0 };
    canvas.bold(&panel.caption, (left, up), BODY, INK, Anchor::Left)
}

fn draw(canvas: &mut Canvas, plane: &Plane, item: &Item) {
    match item {
        Item::Line(line) => draw_line(canvas, plane, line),
        Item::Level { y, stroke, .. } => plane.level(canvas, *y, *stroke),
        Item::Upright { x, stroke, .. } => plane.upright(canvas, *x, *stroke),
        Item::Band {
            low,
            high,
            fill,
            edge,
            ..
        } => {
            let outline: Vec<Point> = low.iter().chain(high.iter().rev()).copied().collect();
            let outline = clip::polygon(&plane.map(&outline), &plane.frame);
            canvas.polygon(&outline, *fill);
            if let Some(edge) = edge {
                canvas.line(&line_points(plane, high), *edge);
            }
        }
        Item::Bar(bar) => draw_bar(canvas, plane, bar),
        Item::Mark(mark) => draw_mark(canvas, plane, mark),
        Item::Cloud(points, colour) => {
            for (x, y) in points {
                canvas.disc(plane.at(*x, *y), 5, *colour);
            }
        }
        Item::Words {
            text, em, colour, ..
        } => {
            if let Some(area) = words_area(plane, item) {
                let at = (area.left, area.middle().1);
                canvas.text(text, at, *em, *colour, Anchor::Left);
            }
        }
    }
}

/// Where words at a place stand.
pub(super) fn words_area(plane: &Plane, item: &Item) -> Option<Area> {
    let Item::Words {
        at, text, em, side, ..
    } = item
    else {
        return None;
    };
    let (x, y) = plane.at(at.0, at.1);
    if !(x.is_finite() && y.is_finite()) {
        return None;
    }
    let width = width(text, *em);
    let (left, middle) = match side {
        Side::Above => (x - 0.5 * width, y - 0.8 * em),
        Side::Left => (x - 16.0 - width, y),
        Side::Right => (x + 16.0, y),
    };
    Some(Area::new(
        left,
        middle - 0.5 * em,
        left + width,
        middle + 0.5 * em,
    ))
}

/// A line on the sheet, cut at its panel; it breaks in the lanes of what never comes and of what
/// comes at once.
pub(super) fn line_points(plane: &Plane, data: &[(f64, f64)]) -> Vec<Point> {
    let in_lane = |y: f64| match y > 0.0 {
        true => plane.y.lane.is_some() && y.is_infinite(),
        false => y == f64::NEG_INFINITY,
    };
    let at = |p: &(f64, f64)| match in_lane(p.1) {
        true => (f64::NAN, f64::NAN),
        false => plane.at(p.0, p.1),
    };
    let points: Vec<Point> = data.iter().map(at).collect();
    clip::line(&points, &plane.frame)
}

fn draw_line(canvas: &mut Canvas, plane: &Plane, line: &Line) {
    let (points, stroke) = (line_points(plane, &line.points), line.stroke);
    match points[..] {
        [from, tip] if line.is_arrow => {
            let short = (tip.0, tip.1 + (from.1 - tip.1).signum() * 24.0);
            canvas.line(&[from, short], stroke);
            arrow(canvas, short, tip, stroke.colour);
        }
        _ => canvas.line(&points, stroke),
    }
    if line.dots > 0 {
        for (x, y) in line.points.iter().filter(|p| !p.1.is_nan()) {
            let shape = match *y == f64::INFINITY {
                true => Shape::Triangle,
                false => Shape::Disc(line.dots),
            };
            shape.draw(canvas, plane.at(*x, *y), stroke.colour);
        }
    }
}

fn draw_bar(canvas: &mut Canvas, plane: &Plane, bar: &Bar) {
    let Some(area) = bar_area(plane, bar) else {
        return;
    };
    if let Some(fill) = bar.fill {
        canvas.rectangle(area, fill);
    }
    if let Some(border) = bar.border {
        canvas.line(&area.outline(), border);
    }
    let fits = |t: &&&str| width(t, SMALL) < area.width() - 16.0;
    if let Some(text) = bar.words.iter().find(fits) {
        let is_filled = bar.fill.is_some_and(|f| f.is_strong());
        let colour = if is_filled { PAPER } else { INK };
        canvas.text(text, area.middle(), SMALL, colour, Anchor::Centre);
    }
}

/// A bar on the sheet, cut at its panel.
pub(super) fn bar_area(plane: &Plane, bar: &Bar) -> Option<Area> {
    let [a, b] = bar.corners.map(|(x, y)| plane.at(x, y));
    let frame = plane.frame;
    let cut = |p: Point| {
        (
            p.0.clamp(frame.left, frame.right),
            p.1.clamp(frame.top, frame.bottom),
        )
    };
    let is_finite = [a.0, a.1, b.0, b.1].iter().all(|v| !v.is_nan());
    is_finite.then(|| Area::between(cut(a), cut(b)))
}

fn draw_mark(canvas: &mut Canvas, plane: &Plane, mark: &Mark) {
    let at = plane.at(mark.at.0, mark.at.1);
    if !(at.0.is_finite() && at.1.is_finite()) {
        return;
    }
    const CAP: f64 = 10.0;
    let thin = stroke(mark.colour, 4, SOLID);
    if let Some(ends) = mark.across {
        let [left, right] = ends.map(|x| plane.across(x));
        let bar = clip::line(&[(left, at.1), (right, at.1)], &plane.frame);
        canvas.line(&bar, thin);
        for x in [left, right].into_iter().filter(|x| plane.frame.spans(*x)) {
            canvas.line(&[(x, at.1 - CAP), (x, at.1 + CAP)], thin);
        }
    }
    if let Some(ends) = mark.along {
        let [low, high] = ends.map(|y| plane.up(y));
        let bar = clip::line(&[(at.0, low), (at.0, high)], &plane.frame);
        canvas.line(&bar, thin);
        let cap = match mark.shape {
            Shape::Window => 24.0,
            _ => CAP,
        };
        for y in [low, high] {
            canvas.line(&[(at.0 - cap, y), (at.0 + cap, y)], thin);
        }
    }
    mark.shape.draw(canvas, at, mark.colour)
}

/// Names at the right, in the order of what they belong to, pushed apart.
fn side(canvas: &mut Canvas, side: &[Aside], plane: &Plane, sheet: f64) {
    const HEIGHT: f64 = 2.0 * SMALL + 44.0;
    let mut placed: Vec<(&Aside, Point)> =
        side.iter().map(|a| (a, plane.at(a.at.0, a.at.1))).collect();
    placed.sort_by(|a, b| a.1.1.total_cmp(&b.1.1));
    let mut tops: Vec<f64> = placed.iter().map(|(_, at)| at.1 - 0.5 * HEIGHT).collect();
    let Area {
        top, bottom, right, ..
    } = plane.frame;
    spread(&mut tops, HEIGHT, (top - 30.0, bottom + 30.0));
    for ((aside, at), top) in placed.into_iter().zip(tops) {
        let middle = top + 0.5 * HEIGHT;
        let mut x = right + SIDE;
        if aside.has_leader {
            canvas.rule((at.0 + 8.0, at.1), (x - 10.0, middle), GRID, 3);
        }
        if let Some(stroke) = aside.sample {
            canvas.line(&[(x, middle), (x + SIDE_SAMPLE - 16.0, middle)], stroke);
            x += SIDE_SAMPLE;
        }
        let room = sheet - x - 30.0;
        let name = shortened(&aside.name, BODY, room);
        let first = top + 0.5 * BODY + 8.0;
        canvas.text(&name, (x, first), BODY, aside.colour, Anchor::Left);
        let detail = shortened(&aside.detail, SMALL, room);
        canvas.text(&detail, (x, first + BODY + 8.0), SMALL, QUIET, Anchor::Left);
    }
}

/// Pushes sorted boxes apart and keeps them in the room.
pub(crate) fn spread(tops: &mut [f64], height: f64, (low, high): (f64, f64)) {
    let mut floor = low;
    for top in tops.iter_mut() {
        *top = top.max(floor);
        floor = *top + height;
    }
    let mut ceiling = high;
    for top in tops.iter_mut().rev() {
        *top = top.min(ceiling - height);
        ceiling = *top;
    }
}
