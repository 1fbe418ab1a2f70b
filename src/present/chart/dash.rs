//! Broken lines: the SVG backend knows only unbroken ones.

use super::area::Point;
use super::style::Dash;

/// The drawn pieces of a broken line, thinned to what whole units can show.
pub(crate) fn dashes(points: &[Point], dash: Dash) -> Vec<Vec<(i32, i32)>> {
    let mut thin: Vec<Point> = Vec::new();
    for (k, p) in points.iter().enumerate() {
        let far = thin
            .last()
            .is_none_or(|q| (p.0 - q.0).abs() + (p.1 - q.1).abs() >= 3.0);
        if far || k + 1 == points.len() {
            thin.push(*p);
        }
    }
    if dash.is_empty() {
        return if thin.is_empty() {
            Vec::new()
        } else {
            vec![thin.into_iter().map(pixel).collect()]
        };
    }
    let mut pieces = Vec::new();
    let (mut part, mut left) = (0, dash[0]);
    let mut piece: Vec<(i32, i32)> = thin.first().map(|p| pixel(*p)).into_iter().collect();
    for pair in thin.windows(2) {
        let (mut from, to) = (pair[0], pair[1]);
        let mut length = (to.0 - from.0).hypot(to.1 - from.1);
        while length > left {
            let t = left / length;
            from = (from.0 + t * (to.0 - from.0), from.1 + t * (to.1 - from.1));
            length -= left;
            if part % 2 == 0 {
                piece.push(pixel(from));
                pieces.push(std::mem::take(&mut piece));
            } else {
                piece = vec![pixel(from)];
            }
            part = (part + 1) % dash.len();
            left = dash[part];
        }
        left -= length;
        if part % 2 == 0 {
            piece.push(pixel(to));
        }
    }
    if piece.len() > 1 {
        pieces.push(piece);
    }
    pieces
}

pub(crate) fn pixel(at: Point) -> (i32, i32) {
    (at.0.round() as i32, at.1.round() as i32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dashes_and_gaps_follow_the_pattern_over_corners() {
        let pieces = dashes(&[(0.0, 0.0), (10.0, 0.0), (10.0, 20.0)], &[15.0, 5.0]);
        assert_eq!(
            pieces,
            [vec![(0, 0), (10, 0), (10, 5)], vec![(10, 10), (10, 20)]]
        );
    }

    #[test]
    fn an_unbroken_line_keeps_its_ends_and_drops_what_cannot_be_seen() {
        let points: Vec<Point> = (0..=100).map(|k| (f64::from(k) * 0.1, 0.0)).collect();
        let pieces = dashes(&points, &[]);
        assert_eq!(pieces.len(), 1);
        assert_eq!(
            (pieces[0][0], pieces[0][pieces[0].len() - 1]),
            ((0, 0), (10, 0))
        );
        assert!(pieces[0].len() < 8);
        assert!(dashes(&[], &[5.0, 5.0]).is_empty());
    }
}
