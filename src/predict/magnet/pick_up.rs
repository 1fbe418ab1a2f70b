//! The rms pick-up by integration: no rule between peak and mean is wired in, the armature decides.

use super::HORIZON_S;
use super::flight::flight;
use crate::device::Magnet;
use crate::physics::closing_current::ClosingCurrent;
use std::f64::consts::SQRT_2;

/// Growth of the current while a release is looked for.
const GROWTH: f64 = 1.02;
/// Largest current looked at, over the one that moves the armature.
const MOST: f64 = 20.0;
const ACCURACY: f64 = 1e-6;

/// Smallest rms of an alternating current without offset that releases within 0.1 s, A; `None`
/// where none up to twenty times the current that moves the armature does. `start_a` is that
/// current, as a direct one.
pub fn rms_pick_up_a(magnet: &Magnet, start_a: f64, frequency_hz: f64) -> Option<f64> {
    let releases = |rms_a: f64| {
        let current = ClosingCurrent::Alternating {
            rms_a,
            frequency_hz,
            x_over_r: 0.0,
        };
        let flown = flight(magnet, &current, 0.0, HORIZON_S, &mut |_, _, _| ());
        flown.release.is_some()
    };
    let mut below = start_a / SQRT_2;
    let mut above = below;
    while !releases(above) {
        (below, above) = (above, GROWTH * above);
        if above > MOST * start_a {
            return None;
        }
    }
    while above - below > ACCURACY * above {
        let middle = 0.5 * (below + above);
        if releases(middle) {
            above = middle;
        } else {
            below = middle;
        }
    }
    Some(above)
}
