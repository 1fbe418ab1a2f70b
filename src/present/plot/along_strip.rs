//! Temperature along the strip at a few moments.

use crate::predict::{Outcome, Shape};
use crate::present::chart::style::*;
use crate::present::chart::{Axis, Chart, Column, Item, Line, Panel};
use crate::present::number::{celsius, duration, finite, plain, significant};
use crate::present::words;

/// Draws the figure; `None` without shapes.
pub(super) fn figure(outcome: &Outcome) -> Option<Chart> {
    let shapes = apart(outcome, |s| s.temperature_c.len() > 1);
    if shapes.is_empty() {
        return None;
    }
    let length = outcome.part.length_mm;
    let all = shapes.iter().flat_map(|s| s.temperature_c.iter().copied());
    let limit = finite(outcome.part.trip_temperature_c);
    let mut items = Vec::new();
    if let Some(value) = limit {
        let text = say!("{}: trips when all of it is this warm", celsius(limit, 0));
        items.push(Item::level(value, stroke(INK, 3, DOTTED), text));
    }
    for (shape, stroke) in shapes.iter().zip(MOMENTS) {
        let last = (shape.temperature_c.len() - 1) as f64;
        let values = shape.temperature_c.iter().enumerate();
        let points = values
            .map(|(k, t)| (length * k as f64 / last, *t))
            .collect();
        let moment = words::moment(shape.moment);
        let name = format!("{moment}, {}", duration(shape.time_s, 3));
        items.push(Line::new(points, stroke).named(name).into());
    }
    let named = words::mechanism(outcome.part.mechanism);
    let panel = Panel::new(
        Axis::linear(named.along, 0.0, length, 8),
        Axis::airy(word!("Temperature, °C"), all.chain(limit), 8, 0.08),
        items,
    );
    let subtitle = format!("{} ({})", outcome.scenario, named.ends);
    let title = say!("Temperature along the {}", named.piece);
    let column = Column::of(vec![panel]);
    Chart::new("along_strip", title, subtitle, vec![column]).described(say!(
        "Temperature along the {} ({}) at these moments: {}.{}",
        named.piece,
        named.ends,
        moments(&shapes),
        hottest(&shapes, length)
    ))
}

/// Where the warmest of the shapes is hottest.
fn hottest(shapes: &[&Shape], length_mm: f64) -> String {
    let all = shapes.iter().flat_map(|s| {
        let last = (s.temperature_c.len() - 1) as f64;
        let points = s.temperature_c.iter().enumerate();
        points.map(move |(k, t)| (s.moment, length_mm * k as f64 / last, *t))
    });
    let warmest = all.filter(|p| p.2.is_finite());
    let warmest = warmest.max_by(|a, b| a.2.total_cmp(&b.2));
    warmest.map_or(String::new(), |(moment, mm, peak)| {
        say!(
            " It is hottest at \"{}\", {} mm of {} mm along: {}.",
            words::moment(moment),
            significant(mm, 2),
            plain(length_mm),
            celsius(Some(peak), 0)
        )
    })
}

/// Shapes that can be drawn, of moments that coincide the last alone.
pub(super) fn apart(outcome: &Outcome, is_drawn: impl Fn(&Shape) -> bool) -> Vec<&Shape> {
    let mut shapes: Vec<&Shape> = Vec::new();
    for shape in outcome.shapes.iter().filter(|s| is_drawn(s)) {
        if shapes
            .last()
            .is_some_and(|last| last.time_s == shape.time_s)
        {
            shapes.pop();
        }
        shapes.push(shape);
    }
    shapes.truncate(MOMENTS.len());
    shapes
}

/// "cold at 0 s, release at 22.4 s"
pub(super) fn moments(shapes: &[&Shape]) -> String {
    let all = shapes.iter();
    let all = all.map(|s| say!("{} at {}", words::moment(s.moment), duration(s.time_s, 3)));
    all.collect::<Vec<_>>().join(", ")
}
