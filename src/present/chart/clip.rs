//! Lines and polygons cut at a frame: what lies outside is not drawn, and the cut lies on the
//! frame.

use super::area::{Area, Point};

/// The part of a line inside `frame`; pieces are parted by a point that is not finite.
pub(crate) fn line(points: &[Point], frame: &Area) -> Vec<Point> {
    let mut out: Vec<Point> = Vec::new();
    for pair in points.windows(2) {
        let Some((from, to)) = segment(pair[0], pair[1], frame) else {
            continue;
        };
        if out.last() != Some(&from) {
            if !out.is_empty() {
                out.push((f64::NAN, f64::NAN));
            }
            out.push(from);
        }
        out.push(to);
    }
    out
}

/// The part of a segment inside `frame` (Liang and Barsky's parameters of entry and exit).
fn segment(from: Point, to: Point, frame: &Area) -> Option<(Point, Point)> {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    if !(dx.is_finite() && dy.is_finite()) {
        return None;
    }
    let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
    let sides = [
        (-dx, from.0 - frame.left),
        (dx, frame.right - from.0),
        (-dy, from.1 - frame.top),
        (dy, frame.bottom - from.1),
    ];
    for (outwards, room) in sides {
        if outwards == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if outwards < 0.0 {
            enters = enters.max(room / outwards);
        } else {
            leaves = leaves.min(room / outwards);
        }
    }
    let at = |t: f64| match t {
        0.0 => from,
        1.0 => to,
        t => (from.0 + t * dx, from.1 + t * dy),
    };
    (enters < leaves).then(|| (at(enters), at(leaves)))
}

/// The part of a polygon inside `frame`, side by side (Sutherland and Hodgman); empty when nothing
/// is.
pub(crate) fn polygon(points: &[Point], frame: &Area) -> Vec<Point> {
    let finite = |p: &&Point| p.0.is_finite() && p.1.is_finite();
    let mut points: Vec<Point> = points.iter().filter(finite).copied().collect();
    // How far inside a point lies, side by side.
    let insides: [&dyn Fn(Point) -> f64; 4] = [
        &|p| p.0 - frame.left,
        &|p| frame.right - p.0,
        &|p| p.1 - frame.top,
        &|p| frame.bottom - p.1,
    ];
    for inside in insides {
        let mut kept = Vec::with_capacity(points.len() + 4);
        for (k, &to) in points.iter().enumerate() {
            let from = points[(k + points.len() - 1) % points.len()];
            let (before, after) = (inside(from), inside(to));
            if (before < 0.0) != (after < 0.0) {
                let t = before / (before - after);
                kept.push((from.0 + t * (to.0 - from.0), from.1 + t * (to.1 - from.1)));
            }
            if after >= 0.0 {
                kept.push(to);
            }
        }
        points = kept;
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    const FRAME: Area = Area::new(0.0, 0.0, 10.0, 10.0);

    #[test]
    fn a_line_is_cut_where_it_crosses_the_frame() {
        let cut = line(&[(-5.0, 5.0), (5.0, 5.0), (5.0, 30.0)], &FRAME);
        assert_eq!(cut, [(0.0, 5.0), (5.0, 5.0), (5.0, 10.0)]);
        let twice = line(&[(-5.0, 5.0), (5.0, -5.0), (5.0, 5.0)], &FRAME);
        assert_eq!(twice, [(5.0, 0.0), (5.0, 5.0)]);
        let away = line(&[(1.0, 1.0), (1.0, 20.0), (9.0, 20.0), (9.0, 1.0)], &FRAME);
        assert_eq!(away.len(), 5);
        assert!(away[2].0.is_nan());
        assert!(line(&[(-1.0, -1.0), (f64::NAN, 3.0), (11.0, 20.0)], &FRAME).is_empty());
    }

    #[test]
    fn a_polygon_around_the_frame_becomes_the_frame() {
        let wide = [(-9.0, -9.0), (19.0, -9.0), (19.0, 19.0), (-9.0, 19.0)];
        let mut cut = polygon(&wide, &FRAME);
        cut.sort_by(|a, b| a.partial_cmp(b).unwrap());
        assert_eq!(cut, [(0.0, 0.0), (0.0, 10.0), (10.0, 0.0), (10.0, 10.0)]);
        assert!(polygon(&[(20.0, 0.0), (30.0, 0.0), (30.0, 9.0)], &FRAME).is_empty());
    }
}
