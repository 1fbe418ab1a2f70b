//! What scatters from trip to trip and from entry to entry (common practice, no source).

/// Scatter of trip times of one unit from trip to trip, relative.
pub const REPEATS: f64 = 0.06;
/// Scatter of a unit's trip point from trip to trip, relative.
pub const THRESHOLD: f64 = 0.01;
/// How well the nearest design of the family stands for a real part, relative, in terms of the current.
pub const DESIGN: f64 = 0.01;
/// Probability that an entry is simply wrong (a slip of the pen, the wrong breaker).
pub const SLIP: f64 = 0.003;
/// Width of what a slip may say of a time, in natural logarithms.
pub const SLIP_WIDTH: f64 = 6.0;
/// Relative scatter of a running current about its mean.
pub const UNSTEADY: f64 = 0.015;
/// How well the pattern's resistance stands for that of a real part, relative.
pub const RESISTANCE: f64 = 0.10;
/// How far terminals of a sound part may differ, K (3 K is the first limit of thermography in the field).
pub const TERMINALS_K: f64 = 3.0;
/// Time in service within which a trip counts as the trip that brought the case, s.
pub const SELECTED_S: f64 = 12.0 * 3600.0;

/// Most of the preload that wear takes (common practice, no source).
pub const MOST_LOSS: f64 = 0.93;

/// A part is late when its way to release is so much longer than as new: some 7 % in the current.
pub const LATE_TRAVEL: f64 = 1.15;

/// Logarithm of the density of a measured number, with slips.
pub fn gauss(miss: f64, deviation: f64) -> f64 {
    let z = miss / deviation;
    let right = (-0.5 * z * z).exp() / (deviation * (2.0 * std::f64::consts::PI).sqrt());
    // A slip lies within some ten deviations.
    ((1.0 - SLIP) * right + SLIP / (20.0 * deviation)).ln()
}
