//! The ambient against time, piece by piece.

use crate::device::Ambient;

/// Ambient piece that holds just after `t`, and where it ends.
pub fn ambient_piece(points: &[(f64, f64)], t: f64) -> (Ambient, f64) {
    match points {
        [] => (Ambient::constant(293.15), f64::INFINITY),
        [(_, only)] => (Ambient::constant(*only), f64::INFINITY),
        _ => {
            let first = points[0];
            let last = points[points.len() - 1];
            if t < first.0 {
                return (Ambient::constant(first.1), first.0);
            }
            for pair in points.windows(2) {
                let ((a, from), (b, to)) = (pair[0], pair[1]);
                if t < b {
                    let slope_k_per_s = (to - from) / (b - a);
                    return (
                        Ambient {
                            at_s: a,
                            value_k: from,
                            slope_k_per_s,
                        },
                        b,
                    );
                }
            }
            (Ambient::constant(last.1), f64::INFINITY)
        }
    }
}
