//! The points of a curve in runs with a box around each, so that labels need not look at what is
//! far away: they ask for millions of distances.

use super::area::{Area, Point};
use super::spot::resampled;

/// Points of a run.
const RUN: usize = 12;

/// A curve as labels see it: points at even distances.
pub(super) struct Trail {
    pub(super) points: Vec<Point>,
    boxes: Vec<Area>,
}

impl Trail {
    pub(super) fn along(points: &[Point]) -> Trail {
        let points = resampled(points);
        let around = |run: &[Point]| {
            let each = run.iter().map(|p| Area::around(*p, 0.0));
            each.reduce(|a, b| a.with(&b))
        };
        let boxes = points.chunks(RUN).filter_map(around);
        Trail {
            boxes: boxes.collect(),
            points,
        }
    }

    fn runs(&self) -> impl Iterator<Item = (&Area, &[Point])> {
        self.boxes.iter().zip(self.points.chunks(RUN))
    }

    /// Distance of a box to the nearest point; infinite where none is nearer than `within`.
    pub(super) fn distance(&self, area: &Area, within: f64) -> f64 {
        let (mut squared, mut nearest) = (within * within, f64::INFINITY);
        for (around, run) in self.runs() {
            let (dx, dy) = area.beside(around);
            if dx * dx + dy * dy >= squared {
                continue;
            }
            for p in run {
                let (dx, dy) = area.apart(*p);
                let size = dx * dx + dy * dy;
                if size < squared {
                    (squared, nearest) = (size, dx.hypot(dy));
                }
            }
        }
        nearest
    }

    /// Whether it comes so near to one of some points, along or across the sheet.
    pub(super) fn touches(&self, others: &[Point], near: f64) -> bool {
        let meets = |p: &Point, q: &Point| (p.0 - q.0).abs() < near && (p.1 - q.1).abs() < near;
        self.runs().any(|(around, run)| {
            let around = around.grown(near);
            let reaches = |q: &&Point| around.apart(**q) == (0.0, 0.0);
            let mut others = others.iter().filter(reaches);
            others.any(|q| run.iter().any(|p| meets(p, q)))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Boxes save looks and change no answer.
    #[test]
    fn distances_are_those_to_every_point() {
        let wave = |k: f64| (3.0 * k, 200.0 + 150.0 * (0.07 * k).sin());
        let points: Vec<Point> = (0..200).map(|k| wave(f64::from(k))).collect();
        let trail = Trail::along(&points);
        assert!(trail.points.len() > 5 * RUN);
        for k in 0..400 {
            let (x, y) = (f64::from(k % 20) * 33.0 - 20.0, f64::from(k / 20) * 21.0);
            let area = Area::new(x, y, x + 70.0, y + 24.0);
            let plain = trail.points.iter().map(|p| area.distance(*p));
            let plain = plain.fold(f64::INFINITY, f64::min);
            let same = |a: f64| (a - plain).abs() < 1e-9;
            assert!(same(trail.distance(&area, f64::INFINITY)), "{k}");
            let near = trail.distance(&area, 40.0);
            assert!(
                if plain < 40.0 {
                    same(near)
                } else {
                    near.is_infinite()
                },
                "{k}"
            );
            let near = |p: &Point| (p.0 - x).abs() < 6.0 && (p.1 - y).abs() < 6.0;
            assert_eq!(trail.touches(&[(x, y)], 6.0), trail.points.iter().any(near));
        }
    }
}
