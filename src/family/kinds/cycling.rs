//! A part that closes by itself goes on and off as long as the fault stays: its share of on-time says
//! how far the load lies above what it holds.
//!
//! Over a round that repeats as much heat is lost as is made. A body that loses heat in proportion to
//! its rise is R - D/2 above the air on the mean, where it opens at the rise R and closes D below:
//! on/(on + off) = (I_held/I)² (1 - D/(2 R)) (energy balance of one body, textbook). No time constant
//! is left in it, so it serves a disc alone and one on a motor alike.

use super::motor::DIFFERENTIAL_K;

/// How far the logarithm of a load may lie from that: differentials differ by some 9 K, and a part is
/// not one body (common practice, no source).
pub const CYCLING: f64 = 0.08;

/// Logarithm of the load over what the part holds for ever, from the times for which it is on and
/// off, s, and its rise at that, K.
pub fn log_over_held(on_s: f64, off_s: f64, rise_k: f64) -> f64 {
    let differential_k = 0.5 * (DIFFERENTIAL_K.0 + DIFFERENTIAL_K.1);
    let mean = (1.0 - 0.5 * differential_k / rise_k).max(0.1);
    0.5 * (mean * (on_s + off_s) / on_s).ln()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rounds as `relatch run` has them, whose parts are not one body. A disc on a motor
    /// (`scenarios/17-pump-motor-disc.toml`: 42 A, held 18.38 A, opens 91 K above the air), a strip
    /// that closes by itself (`08-worked-strip.toml` with `latch.reset=automatic`: 22 A, held 9.218 A,
    /// 55.7 K).
    #[test]
    fn rounds_of_the_engine_keep_the_balance() {
        let disc = (2.88, 14.82, 91.0, 42.0 / 18.38);
        let strip = (1.297, 9.090, 55.7, 22.0 / 9.218);
        for (on_s, off_s, rise_k, over_held) in [disc, strip] {
            let engine = f64::ln(over_held);
            let found = log_over_held(on_s, off_s, rise_k);
            assert!((found - engine).abs() < 0.3 * CYCLING, "{found} {engine}");
            // Twice as long off is another load.
            let other = log_over_held(on_s, 2.0 * off_s, rise_k);
            assert!((other - engine).abs() > CYCLING);
        }
    }
}
