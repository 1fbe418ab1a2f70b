//! How explicit marches aim at their event: the same rules for one strip and for many in lanes.

/// The order-5 estimate of the explicit pair overstates the error of its order-8 step: this many
/// times the tolerance of the implicit steps gives no larger errors (measured on the worked strip
/// over 9 to 100 A).
pub const EXPLICIT_SLACK: f64 = 30.0;
/// A landing this near, in parts of the step before it, is closed by the short step, at the
/// tolerance given beside it; the error of the short step goes with its fifth power.
const NEAR: f64 = 0.12;
const NEAR_AT: f64 = 1e-3;

/// How near a landing must be for the short step, in parts of the step before it.
pub fn near(tolerance: f64) -> f64 {
    NEAR * (tolerance / NEAR_AT).powf(0.2).clamp(0.01, 1.0)
}

/// The first step, in parts of the time to the event at the first rate.
///
/// It may go a good part of the way: its error estimate decides. What the estimate does not see is
/// the loss that starts as the power 5/4 of time; its share in the result falls as the power 9/4 of
/// the first step.
pub fn first_part(tolerance: f64) -> f64 {
    0.3 * (tolerance / 1e-6).powf(4.0 / 9.0).min(1.0)
}

/// The next step: as long as the error allows, but ending at the event or half-way to it when that
/// is near.
pub fn next_step(allowed_s: f64, ahead_s: f64) -> f64 {
    if ahead_s < 1.05 * allowed_s {
        ahead_s
    } else if ahead_s < 2.0 * allowed_s {
        0.5 * ahead_s
    } else {
        allowed_s
    }
}
