//! What no part of a family does: a trip sooner than any can release, whatever it has lost, and a load
//! that none lets flow so long. Waits and diagnoses judge by one rule what is too late.

use super::prior::Family;
use super::wait::draws;
use std::f64::consts::FRAC_1_SQRT_2;

/// Most of the preload that wear takes (common practice, no source).
pub const MOST_LOSS: f64 = 0.93;
/// A reading that was not taken up to the trip counts as so much more (a maker's note: meters that
/// respond to the average read up to 40 % low).
pub const MAY_BE_LOW: f64 = 1.6;
/// What a current is at least, over that shown by a meter for averages: it reads a square wave 11 %
/// high (textbook), other shapes low.
pub const AT_LEAST: f64 = 0.9;
/// Where heat has no time to leave: multiples of the rating.
const FAR_ABOVE: f64 = 12.0;
/// Parts drawn.
const PARTS: u64 = 400;

/// The soonest that any strip of a family can release from cold under a current, s.
///
/// Without any loss of heat the time goes with one over the square of the current. So the soonest
/// trip far above the trip points bounds it at every current; of a part that has lost its preload,
/// the share that is left of it. Parts of the family that no sheet excludes are the fastest there.
pub fn soonest_s(family: &Family, current_a: f64) -> f64 {
    let soonest = |d: &super::part::Drawn| {
        let left = 1.0 - MOST_LOSS * family.members()[d.member].preload_share;
        left * family.cold_trip_s(*d, FAR_ABOVE) * FAR_ABOVE * FAR_ABOVE
    };
    let all = draws(family, PARTS);
    let square_s = all.iter().map(soonest).fold(f64::INFINITY, f64::min);
    square_s * (family.nameplate().rated_current_a / current_a).powi(2)
}

/// When the slowest of some parts has opened under a load, s, where the load went on for twice that
/// time, or with twice the heat, that any of them needs: neither meters on their right range nor the
/// scatter of trips and lots comes to that, nor how far new parts miss what is printed.
/// `opened(part, time_s, factor)`: whether a part has opened by a time under so many times that load.
pub fn too_late(
    parts: usize,
    time_s: f64,
    opened: impl Fn(usize, f64, f64) -> bool,
) -> Option<f64> {
    let is_late = |k| opened(k, 0.5 * time_s, 1.0) || opened(k, time_s, FRAC_1_SQRT_2);
    if parts == 0 || !(0..parts).all(is_late) {
        return None;
    }
    let opens_s = |k: usize| {
        let (mut early, mut late) = (1e-3, time_s);
        for _ in 0..40 {
            let middle = f64::sqrt(early * late);
            match opened(k, middle, 1.0) {
                true => late = middle,
                false => early = middle,
            }
        }
        late
    };
    Some((0..parts).map(opens_s).fold(0.0, f64::max))
}
