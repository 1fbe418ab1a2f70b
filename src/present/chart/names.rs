//! Words in a panel: which, in what order, and what they keep clear of.

use super::area::{Area, Point};
use super::canvas::{Anchor, Canvas};
use super::draw::{Group, bar_area, line_points, words_area};
use super::item::{Item, Name};
use super::label::Labels;
use super::plane::Plane;
use super::style::{BODY, INK, Stroke};
use super::text::width;
use super::{Colour, Mark};

/// A name that looks for its place.
struct Job<'a> {
    name: &'a Name,
    colour: Colour,
    place: Place,
}

/// What a name belongs to.
enum Place {
    Curve(usize),
    /// A point, and half the size of its mark.
    Mark(Point, f64),
    /// Between edges, lower and upper.
    Between(Vec<[Vec<Point>; 2]>),
}

const BREAK: Point = (f64::NAN, f64::NAN);

/// Finds places for all names of panels that hold pieces of the same things, and writes them.
pub(super) fn write(canvas: &mut Canvas, group: &Group<'_>) {
    let rooms: Vec<Area> = group.iter().map(|(_, plane, _)| plane.frame).collect();
    let mut labels = Labels::inside(&rooms);
    let mut poles = Vec::new();
    for (_, plane, placed) in group {
        poles.extend(placed.flags.poles(plane.frame.top, plane.frame.bottom));
    }
    for pole in &poles {
        labels.helper(pole);
    }
    let Some(first) = group.first() else {
        return;
    };
    let mut jobs = Vec::new();
    let mut written: Vec<Area> = Vec::new();
    let upright = |item: &Item| match item {
        Item::Upright { x, .. } => Some(first.1.across(*x)),
        _ => None,
    };
    let uprights: Vec<f64> = first.0.items.iter().filter_map(upright).collect();
    for k in 0..first.0.items.len() {
        let pieces: Vec<(&Item, &Plane)> = group
            .iter()
            .filter_map(|(panel, plane, _)| Some((panel.items.get(k)?, *plane)))
            .collect();
        upright_words(canvas, &mut labels, &pieces, (&uprights, &mut written));
        jobs.extend(registered(&mut labels, &pieces));
    }
    jobs.sort_by_key(|job| job.name.priority);
    for Job {
        name,
        colour,
        place,
    } in jobs
    {
        let must = name.priority < Name::MAY_GO;
        match place {
            Place::Curve(number) => labels.beside(canvas, number, &name.text, colour),
            Place::Mark(at, half) => {
                labels.beside_mark(canvas, (at, half), (&name.text, must), colour);
            }
            Place::Between(edges) => {
                let room = width(&name.text, BODY) + 24.0;
                let is_free = |area: &Area| labels.is_free(&on_line(area));
                let places = edges
                    .iter()
                    .filter_map(|e| highest(e, room, &poles, &is_free));
                let best = places.max_by(|a, b| a.height().total_cmp(&b.height()));
                if let Some(area) = best.filter(|a| a.height() > 1.25 * BODY) {
                    canvas.text(&name.text, area.middle(), BODY, INK, Anchor::Centre);
                    labels.block(area);
                }
            }
        }
    }
}

/// Where a line of words in the middle of a box stands.
fn on_line(area: &Area) -> Area {
    let middle = area.middle().1;
    Area {
        top: middle - 0.5 * BODY,
        bottom: middle + 0.5 * BODY,
        ..*area
    }
}

/// A line over all its pieces, with a break between them.
fn joined(pieces: impl Iterator<Item = Vec<Point>>) -> Vec<Point> {
    pieces.collect::<Vec<_>>().join(&BREAK)
}

/// Tells the labels what a thing covers, and returns its names.
fn registered<'a>(labels: &mut Labels, pieces: &[(&'a Item, &Plane)]) -> Vec<Job<'a>> {
    let across = |plane: &Plane, y: f64| {
        let up = plane.up(y);
        vec![(plane.frame.left, up), (plane.frame.right, up)]
    };
    let job = |name: &'a Option<Name>, colour, place| {
        let name = name.as_ref()?;
        Some(Job {
            name,
            colour,
            place,
        })
    };
    let Some((first, plane)) = pieces.first() else {
        return Vec::new();
    };
    match first {
        Item::Line(line) => {
            let own = |(item, plane): &(&Item, &Plane)| match item {
                Item::Line(line) => line_points(plane, &line.points),
                _ => Vec::new(),
            };
            let points = joined(pieces.iter().map(own));
            let number = labels.curve(&points);
            let is_there = points.iter().any(|p| p.1.is_finite());
            let Stroke { colour, .. } = line.stroke;
            let named = job(&line.name, colour, Place::Curve(number)).filter(|_| is_there);
            let half = f64::from(line.dots);
            let dots = line
                .points
                .iter()
                .filter(|p| p.1.is_finite() && line.dots > 0);
            dots.for_each(|p| labels.mark(plane.at(p.0, p.1)));
            let numbers = line.numbers.iter().filter(|(p, _)| p.1.is_finite());
            let numbers = numbers.map(|(p, name)| Job {
                name,
                colour,
                place: Place::Mark(plane.at(p.0, p.1), half),
            });
            named.into_iter().chain(numbers).collect()
        }
        Item::Level { y, stroke, name } => {
            let shown = pieces.iter().filter(|(_, plane)| plane.y.contains(*y));
            let points = joined(shown.map(|(_, plane)| across(plane, *y)));
            let number = labels.helper(&points);
            let place = Place::Curve(number);
            job(name, stroke.colour, place)
                .filter(|_| !points.is_empty())
                .into_iter()
                .collect()
        }
        Item::Upright {
            x,
            stroke,
            name,
            is_written,
        } => {
            if !plane.x.contains(*x) {
                return Vec::new();
            }
            let x = plane.across(*x);
            let number = labels.helper(&[(x, plane.frame.bottom), (x, plane.frame.top)]);
            let named = job(name, stroke.colour, Place::Curve(number));
            named.filter(|_| !is_written).into_iter().collect()
        }
        Item::Band { edge, name, .. } => {
            let own = |(item, plane): &(&Item, &Plane)| match item {
                Item::Band { low, high, .. } => Some([plane.map(low), plane.map(high)]),
                _ => None,
            };
            let edges: Vec<[Vec<Point>; 2]> = pieces.iter().filter_map(own).collect();
            if edge.is_some() {
                labels.curve(&joined(edges.iter().map(|[_, high]| high.clone())));
            }
            job(name, INK, Place::Between(edges)).into_iter().collect()
        }
        Item::Bar(bar) => {
            let area = bar_area(plane, bar).filter(|_| !bar.is_ground);
            area.into_iter().for_each(|area| labels.block(area));
            Vec::new()
        }
        Item::Mark(mark) => marked(labels, plane, mark).into_iter().collect(),
        Item::Words { .. } => {
            let area = words_area(plane, first);
            area.into_iter().for_each(|area| labels.block(area));
            Vec::new()
        }
        Item::Cloud(..) => Vec::new(),
    }
}

/// A mark and its bars.
fn marked<'a>(labels: &mut Labels, plane: &Plane, mark: &'a Mark) -> Option<Job<'a>> {
    let at = plane.at(mark.at.0, mark.at.1);
    if !(at.0.is_finite() && at.1.is_finite()) {
        return None;
    }
    let area = mark.shape.area(at);
    labels.mark(at);
    labels.block(area);
    if let Some(ends) = mark.across {
        labels.curve(&ends.map(|x| (plane.across(x), at.1)));
    }
    if let Some(ends) = mark.along {
        labels.curve(&ends.map(|y| (at.0, plane.up(y))));
    }
    let half = 0.5 * area.width();
    mark.name.as_ref().map(|name| Job {
        name,
        colour: mark.colour,
        place: Place::Mark(at, half),
    })
}

/// Words along an upright, at its foot; above those of a neighbour that is close.
fn upright_words(
    canvas: &mut Canvas,
    labels: &mut Labels,
    pieces: &[(&Item, &Plane)],
    (uprights, written): (&[f64], &mut Vec<Area>),
) {
    for (item, plane) in pieces {
        let Item::Upright {
            x,
            stroke,
            name: Some(name),
            is_written: true,
        } = item
        else {
            continue;
        };
        if !plane.x.contains(*x) {
            continue;
        }
        let own = plane.across(*x);
        // On the left, or on the right of a line that has a neighbour there.
        let near = |other: &f64| (own - 1.6 * BODY..own - 1.0).contains(other);
        let side = if uprights.iter().any(near) { 0.8 } else { -0.8 };
        let x = own + side * BODY;
        let length = width(&name.text, BODY);
        let column = |end: f64| Area::new(x - 0.6 * BODY, end - length, x + 0.6 * BODY, end);
        let lowest = column(plane.frame.bottom - 20.0);
        let below = written.iter().find(|other| other.overlaps(&lowest));
        let area = below.map_or(lowest, |other| column(other.top - BODY));
        let at = (x, area.bottom);
        canvas.upwards(&name.text, at, BODY, stroke.colour, Anchor::Left);
        labels.block(area);
        written.push(area);
    }
}

/// The free box of this width between two edges that is highest; among places as good as each other
/// the middle one.
fn highest(
    [lower, upper]: &[Vec<Point>; 2],
    room: f64,
    poles: &[Vec<Point>],
    is_free: &dyn Fn(&Area) -> bool,
) -> Option<Area> {
    let (first, last) = (lower.first()?.0, lower.last()?.0);
    let place = |n: i32| {
        let left = first + (last - first - room) * f64::from(n) / 40.0;
        let right = left + room;
        if left < first || poles.iter().flatten().any(|p| p.0 > left && p.0 < right) {
            return None;
        }
        let inside = |p: &&Point| p.0 >= left - 20.0 && p.0 <= right + 20.0;
        let up = |edge: &[Point], of: fn(f64, f64) -> f64, from: f64| {
            edge.iter().filter(inside).map(|p| p.1).fold(from, of)
        };
        let area = Area {
            left,
            top: up(upper, f64::max, f64::NEG_INFINITY),
            right,
            bottom: up(lower, f64::min, f64::INFINITY),
        };
        let worth = area.height() - (f64::from(n) - 20.0).abs() * 6.0;
        (worth.is_finite() && is_free(&area)).then_some((worth, area))
    };
    let best = (0..=40).filter_map(place);
    let best = best.max_by(|a, b| a.0.total_cmp(&b.0));
    best.map(|(_, area)| area)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_name_of_a_band_keeps_off_what_is_written() {
        let edges = [400.0, 100.0].map(|y| (0..=90).map(|k| (10.0 * f64::from(k), y)).collect());
        let middle = highest(&edges, 200.0, &[], &|_| true).expect("room");
        assert_eq!(middle.middle().0, 450.0);
        let aside = highest(&edges, 200.0, &[], &|area| !area.overlaps(&middle));
        assert!(!aside.expect("room").overlaps(&middle));
    }
}
