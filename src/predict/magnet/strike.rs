//! The armature's strike, frame by frame, for a moving picture.

use super::angles::LOOKED_AT;
use super::{HORIZON_S, flight};
use crate::device::{Magnet, Reach};
use crate::predict::outcome::{Strike, StrikeFrame};
use crate::scenario::{Closing, Magnetic};

/// Frames from closing to release.
const FRAMES: usize = 72;

/// The closing whose angle releases soonest; `None` where none releases.
pub(in crate::predict) fn strike(built: Magnetic, closing: &Closing) -> Option<Strike> {
    let magnet = Magnet {
        built,
        opening_time_s: 0.0,
    };
    let fly = |angle_rad: f64, watch: &mut dyn FnMut(f64, f64, f64)| {
        flight(&magnet, &closing.current, angle_rad, HORIZON_S, watch)
    };
    let step_deg = 360.0 / LOOKED_AT as f64;
    let released = (0..LOOKED_AT).filter_map(|k| {
        let angle_deg = k as f64 * step_deg;
        let found = fly(angle_deg.to_radians(), &mut |_, _, _| ());
        Some((angle_deg, found.release?.time_s))
    });
    let (angle_deg, release_s) = released.min_by(|a, b| a.1.total_cmp(&b.1))?;
    let mut seen = vec![[0.0; 3]];
    let found = fly(angle_deg.to_radians(), &mut |t, x, v| seen.push([t, x, v]));
    let frames = (0..=FRAMES).map(|k| {
        let time_s = release_s * k as f64 / FRAMES as f64;
        let x_m = place_m(&seen, time_s);
        let current_a = closing.current.at(angle_deg.to_radians(), time_s);
        let reach = match x_m >= built.strike_m {
            true => Reach::Trigger,
            false => Reach::Free,
        };
        StrikeFrame {
            time_s,
            current_a,
            closing_mm: 1e3 * x_m,
            pull_n: built.circuit.pull_n(current_a, x_m),
            against_n: magnet.resistance_n(x_m, reach),
        }
    });
    Some(Strike {
        angle_deg,
        gap_mm: 1e3 * built.circuit.gap_m,
        strike_mm: 1e3 * built.strike_m,
        release_mm: 1e3 * built.release_m(),
        strike_s: found.strike.map(|s| s.time_s),
        frames: frames.collect(),
    })
}

/// Where the armature is at a time, m, between the ends of two steps (time, place, speed).
fn place_m(seen: &[[f64; 3]], time_s: f64) -> f64 {
    let after = seen.partition_point(|s| s[0] <= time_s);
    let [t, x, v] = seen[after.max(1) - 1];
    let Some([t1, x1, v1]) = seen.get(after) else {
        return x;
    };
    let h = t1 - t;
    let s = (time_s - t) / h;
    let (a, b) = ((1.0 + 2.0 * s) * (1.0 - s).powi(2), s * (1.0 - s).powi(2));
    a * x + b * h * v + s * s * (3.0 - 2.0 * s) * x1 - s * s * (1.0 - s) * h * v1
}
