//! A disc on or in a motor: it closes again when the motor has cooled through its differential.
//!
//! Motor and disc are one body that loses heat in proportion to its rise, so it needs tau
//! ln((opens - air)/(closes - air)) (Newton's law of cooling, textbook).

use crate::answer::WhyNever;
use crate::family::{Agreement, PartsWait, Timed};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::statistics::stream::{Purpose, Stream};

/// Motors looked at.
const MOTORS: u64 = 400;
/// Temperatures of the case at which such discs open, degC (common practice, no source).
const OPENS_C: (f64, f64) = (85.0, 150.0);
/// They close so much below, K (a maker's technical notes: 30 +- 15 K).
pub(super) const DIFFERENTIAL_K: (f64, f64) = (15.0, 45.0);
/// Time constant of a small motor that stands, its fan too, s (common practice, no source).
const STANDS_S: (f64, f64) = (600.0, 3000.0);

/// Waits until discs close by themselves, in air of a temperature, K; what became of what was
/// timed; how many motors were looked at.
pub fn disc_waits(air_k: f64, timed: &Timed) -> (PartsWait, Agreement, usize) {
    let air_c = air_k - ZERO_CELSIUS_K;
    let one = |k: u64| {
        let stream = Stream::new(1, Purpose::other(61), k);
        let between = |(low, high): (f64, f64), u: f64| low + (high - low) * u;
        let opens_c = between(OPENS_C, stream.uniform(0));
        let closes_c = opens_c - between(DIFFERENTIAL_K, stream.uniform(1));
        let tau_s = STANDS_S.0 * (STANDS_S.1 / STANDS_S.0).powf(stream.uniform(2));
        let wait_s = match closes_c > air_c {
            true => tau_s * ((opens_c - air_c) / (closes_c - air_c)).ln(),
            false => f64::INFINITY,
        };
        (wait_s, timed.agrees_with_reset(wait_s))
    };
    let mut all: Vec<(f64, f64)> = (0..MOTORS).map(one).collect();
    let weights: Vec<f64> = all.iter().map(|w| w.1).collect();
    let agreement = match timed.held_s.is_empty() && timed.refused_s.is_empty() {
        true => Agreement::Nothing,
        false => Agreement::of(&weights, &weights),
    };
    if agreement == Agreement::NoPartAgrees {
        all.iter_mut().for_each(|w| w.1 = 1.0);
    }
    let waits = PartsWait::over(&all, WhyNever::StaysWarm);
    (waits, agreement, MOTORS as usize)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn discs_on_motors_close_after_minutes_and_never_in_air_that_is_too_hot() {
        let nothing = Timed::default();
        let cool = disc_waits(298.15, &nothing).0;
        let half_s = cool.half.time_s().expect("closes");
        // A disc at 117.5 degC with 30 K on a motor of 22 min: 22 min ln(92.5/62.5) = 8.8 min.
        assert!((400.0..700.0).contains(&half_s), "{half_s}");
        let warm = disc_waits(308.15, &nothing).0;
        assert!(warm.half.time_s() > cool.half.time_s() && warm.never == 0.0);
        assert!(disc_waits(358.15, &nothing).0.never > 0.1);
        // A wait that was seen narrows it.
        let mut seen = Timed::default();
        (seen.held_s, seen.refused_s) = (vec![1500.0], vec![1200.0]);
        let (waits, agreement, _) = disc_waits(298.15, &seen);
        assert!(matches!(agreement, Agreement::Narrowed { .. }));
        let narrowed = waits.half.time_s().expect("closes");
        assert!((1150.0..1550.0).contains(&narrowed), "{narrowed}");
    }
}
