//! Places where a label may stand, and points at even distances along a curve.

use super::area::{Area, Point};
use super::style::BODY;

/// Distance between points of a curve that labels look at.
const STEP: f64 = 9.0;
/// About the most points that labels look at on one curve.
const MOST_POINTS: f64 = 2500.0;
/// Distance from which on a leader goes to a label.
pub(crate) const LEADER_FROM: f64 = 20.0;

/// A label's place, the point it belongs to, and how far away it is.
pub(crate) struct Spot {
    pub(crate) cost: f64,
    pub(crate) anchor: Point,
    pub(crate) area: Area,
    pub(crate) reach: f64,
    pub(crate) is_backed: bool,
}

impl Spot {
    pub(crate) fn has_leader(&self) -> bool {
        self.reach > LEADER_FROM
    }

    /// The point of the label nearest to what it names.
    pub(crate) fn leader_end(&self) -> Point {
        let Area {
            left,
            top,
            right,
            bottom,
        } = self.area;
        (
            self.anchor.0.clamp(left, right),
            self.anchor.1.clamp(top, bottom),
        )
    }
}

/// Boxes of one text around a point: above, below, at the sides and the corners.
pub(crate) fn around(p: Point, width: f64, reach: f64) -> impl Iterator<Item = Area> {
    let height = BODY * 1.05;
    let gap = 10.0 + reach;
    let slant = 0.7 * gap;
    let corners = [
        (p.0 - 0.5 * width, p.1 - gap - height),
        (p.0 - 0.5 * width, p.1 + gap),
        (p.0 + gap, p.1 - 0.5 * height),
        (p.0 - gap - width, p.1 - 0.5 * height),
        (p.0 + slant, p.1 - slant - height),
        (p.0 + slant, p.1 + slant),
        (p.0 - slant - width, p.1 - slant - height),
        (p.0 - slant - width, p.1 + slant),
    ];
    corners
        .into_iter()
        .map(move |(left, top)| Area::new(left, top, left + width, top + height))
}

/// Points at even distances along a curve; further apart on a very long one, where no label finds
/// a free place anyway.
pub(crate) fn resampled(points: &[Point]) -> Vec<Point> {
    let pieces = || points.split(|p| !p.0.is_finite() || !p.1.is_finite());
    let distance = |a: Point, b: Point| (b.0 - a.0).hypot(b.1 - a.1);
    let whole: f64 = pieces()
        .flat_map(|piece| piece.windows(2))
        .map(|pair| distance(pair[0], pair[1]))
        .sum();
    let step = STEP.max(whole / MOST_POINTS);
    let mut even: Vec<Point> = Vec::new();
    for piece in pieces() {
        let Some(mut from) = piece.first().copied() else {
            continue;
        };
        even.push(from);
        for to in &piece[1..] {
            let length = distance(from, *to);
            if length < 0.5 * step {
                continue;
            }
            let count = (length / step).ceil().clamp(1.0, 1000.0) as usize;
            even.extend((1..=count).map(|k| {
                let t = k as f64 / count as f64;
                (from.0 + t * (to.0 - from.0), from.1 + t * (to.1 - from.1))
            }));
            from = *to;
        }
    }
    even
}
