//! The ambient against time, piece by piece.

use crate::device::Ambient;

/// Ambient piece that holds just after `t`, and where it ends.
pub fn ambient_piece(points: &[(f64, f64)], t: f64) -> (Ambient, f64) {
    Ambient::of(points, t)
}

/// The same course of the ambient with a point at each of these times, so that no step crosses
/// them.
pub fn with_corners(mut points: Vec<(f64, f64)>, corners: &[(f64, f64)]) -> Vec<(f64, f64)> {
    if corners.len() > 1 {
        let own = points.clone();
        points.extend(
            corners
                .iter()
                .map(|(t, _)| (*t, ambient_piece(&own, *t).0.at(*t))),
        );
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        points.dedup_by(|a, b| a.0 == b.0);
    }
    points
}
