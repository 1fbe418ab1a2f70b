//! The shape of the strip at a few moments.

use super::along_strip::{apart, moments};
use super::release::{look, release_height_mm};
use crate::predict::Outcome;
use crate::present::chart::style::*;
use crate::present::chart::{self, Aside, Axis, Bar, Chart, Column, Item, Line, Mark, Panel};
use crate::present::chart::{extent, fill};
use crate::present::number::{celsius, duration, significant};
use crate::present::words;

fn scale() -> &'static str {
    word!("deflection drawn larger than the length")
}

/// Draws the figure; `None` without shapes.
pub(super) fn figure(outcome: &Outcome) -> Option<Chart> {
    let shapes = apart(outcome, |s| s.x_mm.len() > 1);
    let xs = shapes.iter().flat_map(|s| s.x_mm.iter().copied());
    let (from, to) = extent(xs)?;
    let has_free_tip = look(&outcome.part).has_free_tip;
    let released = release_height_mm(&outcome.part);
    let ys = shapes.iter().flat_map(|s| s.y_mm.iter().copied());
    let length = (to - from).max(1e-6);
    let x = Axis::linear(
        words::mechanism(outcome.part.mechanism).along,
        from - 0.05 * length,
        to + 0.05 * length,
        6,
    );
    let y = Axis::airy(
        word!("Deflection, mm"),
        ys.chain([0.0]).chain(released),
        6,
        0.1,
    );
    let mut items = supports(&x, &y, has_free_tip, (from, to));
    if let Some(height) = released {
        let text = say!(
            "released from {} mm at the push point",
            significant(height, 3)
        );
        let points = vec![(from + 0.62 * length, height), (to, height)];
        items.push(Line::new(points, stroke(INK, 3, DASHED)).named(text).into());
    }
    let mut side = Vec::new();
    for (shape, stroke) in shapes.iter().zip(MOMENTS) {
        let points = shape.x_mm.iter().copied().zip(shape.y_mm.iter().copied());
        let points: Vec<(f64, f64)> = points.collect();
        // Both ends of a blade are held: the order of the middles tells the shapes apart.
        let at = points[if has_free_tip {
            points.len() - 1
        } else {
            points.len() / 2
        }];
        let peak = extent(shape.temperature_c.iter().copied()).map(|(_, high)| high);
        side.push(Aside {
            at,
            has_leader: has_free_tip,
            name: words::moment(shape.moment).to_owned(),
            detail: say!(
                "{}, hottest point {}",
                duration(shape.time_s, 3),
                celsius(peak, 0)
            ),
            colour: stroke.colour,
            sample: Some(stroke),
        });
        items.push(Line::new(points, stroke).into());
    }
    let mut column = Column::of(vec![Panel::new(x, y, items)]);
    column.side = side;
    let subtitle = format!("{} ({})", outcome.scenario, scale());
    let piece = words::mechanism(outcome.part.mechanism).piece;
    let title = say!("Shape of the {piece}"; piece);
    Chart::new("strip_shape", title, subtitle, vec![column]).described(say!(
        "Its shape at these moments: {}; {}.",
        moments(&shapes),
        scale()
    ))
}

/// A clamp at the left end, or a hinge at either end of a blade.
fn supports(x: &Axis, y: &Axis, has_free_tip: bool, (from, to): (f64, f64)) -> Vec<Item> {
    if has_free_tip {
        let half = 0.05 * (y.high - y.low);
        let mut clamp = Bar::new([(x.low, -half), (from, half)], fill(GRID, 1.0));
        clamp.border = Some(stroke(QUIET, 3, SOLID));
        clamp.words = vec![word!("clamp")];
        return vec![clamp.into()];
    }
    let hinge = |x| Mark::new((x, 0.0), chart::Shape::Hinge, QUIET).into();
    [from, to].map(hinge).into()
}
