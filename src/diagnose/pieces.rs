//! A recorded load in a few pieces.

use crate::load::{Current, Programme};

/// Pieces that are kept.
const PIECES: usize = 20;

/// Durations and RMS currents of a recorded load: few pieces, the finer the nearer they are to its
/// end, since what lies far back is forgotten.
pub fn few_pieces(load: &Programme) -> Vec<(f64, f64)> {
    let mut pieces: Vec<(f64, f64)> = load
        .segments
        .iter()
        .map(|s| (s.duration_s, mean_square(&s.current).sqrt()))
        .collect();
    while pieces.len() > PIECES {
        // The pair that is shortest for its distance from the end is put together.
        let mut after_s: f64 = pieces.iter().map(|p| p.0).sum();
        let mut best = (f64::INFINITY, 0);
        for k in 0..pieces.len() - 1 {
            let both_s = pieces[k].0 + pieces[k + 1].0;
            after_s -= pieces[k].0;
            let uneven =
                (pieces[k].1 - pieces[k + 1].1).abs() / (pieces[k].1 + pieces[k + 1].1 + 1e-9);
            let worth = both_s * (0.05 + uneven) / (after_s.max(1e-3));
            if worth < best.0 {
                best = (worth, k);
            }
        }
        let k = best.1;
        let (one, other) = (pieces[k], pieces.remove(k + 1));
        let time_s = one.0 + other.0;
        let square = (one.0 * one.1 * one.1 + other.0 * other.1 * other.1) / time_s.max(1e-12);
        pieces[k] = (time_s, square.sqrt());
    }
    if let Some(last) = pieces.last_mut() {
        last.0 = f64::INFINITY;
    }
    pieces
}

fn mean_square(current: &Current) -> f64 {
    match *current {
        Current::Constant(a) => a * a,
        Current::Linear { from_a, to_a } => (from_a * from_a + from_a * to_a + to_a * to_a) / 3.0,
        Current::Decay { from_a, to_a, .. } => 0.5 * (from_a * from_a + to_a * to_a),
    }
}

/// RMS current of the first part of a load.
pub fn root_mean_square(load: &Programme, time_s: f64) -> f64 {
    let mut sum = 0.0;
    let mut left_s = time_s;
    for s in &load.segments {
        let t = s.duration_s.min(left_s);
        sum += t * mean_square(&s.current);
        left_s -= t;
    }
    (sum / time_s.max(1e-9)).sqrt()
}
