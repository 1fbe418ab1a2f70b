//! How probable an outcome of an event is for a part that needs some factor on the load to trip by
//! a time.
//!
//! Near the trip point a trip time is no number: a hair of current decides between minutes and
//! never. So what is compared is the current: the factor `c(t)` on the load with which the part
//! would trip just at `t`. It falls smoothly with time, has no gap at the trip point, and what
//! scatters from trip to trip scatters in it.

use super::scatter::{DESIGN, NO_TRIP, REPEATS, SELECTED_S, SLIP_WIDTH, THRESHOLD, wrong_time};
use crate::evidence::{Before, Event, Outcome, Setting, Unit};
use crate::statistics::normal;

/// Twins of one lot differ in their trip point, relative (common practice, no source).
const TWINS: f64 = 0.03;
/// The same for their times.
const TWINS_TIME: f64 = 0.1;
/// A step of the logarithm of time to see how the factor falls.
const STEP: f64 = 0.03;
/// The slowest fall of the factor that a trip time is weighed with.
const FLATTEST: f64 = 1e-4;

/// What is uncertain besides the part.
#[derive(Debug, Clone, Copy)]
pub struct Noise {
    /// Of the current and of the trip point from trip to trip, relative.
    pub current: f64,
    /// Of the time, relative.
    pub time: f64,
    /// Probability that the entry is plainly wrong.
    pub wrong: f64,
}

impl Noise {
    /// Of an event for a part whose strip rises so much, K.
    pub fn of(event: &Event, rise_k: f64) -> Noise {
        let current = match &event.setting {
            Setting::Bench { current_a } => current_a.relative(),
            Setting::Recorded(_) => 0.01,
            Setting::InService { .. } => 0.0,
        };
        let air = event.air_k.map_or(0.5, |a| a.standard_uncertainty) / (2.0 * rise_k);
        let (twin, twin_time) = match event.unit {
            Unit::Twin => (TWINS, TWINS_TIME),
            _ => (0.0, 0.0),
        };
        let watch = match event.outcome {
            Outcome::Tripped { after_s } => after_s.relative(),
            _ => 0.0,
        };
        let before = if event.before == Before::Unknown {
            0.5
        } else {
            0.0
        };
        Noise {
            current: root([THRESHOLD, DESIGN, current, air, twin]),
            time: root([REPEATS, watch, before, twin_time]),
            wrong: wrong_time(event),
        }
    }

    /// With a further noise of the current.
    pub fn and(self, current: f64) -> Noise {
        Noise {
            current: root([self.current, current]),
            ..self
        }
    }
}

/// The times that [`log_likelihood`] asks of, and the one that the outcome is about, s.
pub fn asked_s(outcome: &Outcome) -> Vec<f64> {
    let around = |time_s: f64| {
        let time_s = time_s.max(1e-3);
        let [before_s, after_s] = beside(time_s);
        [before_s, time_s, after_s]
    };
    let mut asked = vec![SELECTED_S, about_s(outcome)];
    match *outcome {
        Outcome::Tripped { after_s } => asked.extend(around(after_s.value)),
        Outcome::TrippedWithin { from_s, to_s } => {
            asked.extend(around(from_s));
            asked.extend(around(to_s));
        }
        Outcome::Held { for_s } => asked.extend(around(for_s)),
    }
    asked
}

/// A little before and after a time, s: how steep something is there.
fn beside(time_s: f64) -> [f64; 2] {
    [-STEP, STEP].map(|step| time_s * step.exp())
}

/// Logarithm of the likelihood of an outcome. `factor` gives, for a time, s, the logarithm of the
/// factor on the load with which the part would have tripped by then, and the time at which it
/// would.
pub fn log_likelihood(outcome: &Outcome, noise: Noise, factor: impl Fn(f64) -> (f64, f64)) -> f64 {
    let wrong = noise.wrong;
    // Probability of a trip by a time.
    let by = |time_s: f64| {
        let (c, _) = factor(time_s.max(1e-3));
        let steep = steepness(&factor, time_s.max(1e-3));
        let deviation = root([noise.current, REPEATS * steep]);
        normal::cdf(-c / deviation)
    };
    // A wrong time is one of a trip all the same, nearly always.
    let wrong_trip = || {
        let trips = normal::cdf(-factor(SELECTED_S).0 / noise.current);
        wrong * (NO_TRIP + (1.0 - NO_TRIP) * trips)
    };
    match *outcome {
        Outcome::Tripped { after_s } => {
            let time_s = after_s.value.max(1e-3);
            let (c, at_s) = factor(time_s);
            let right = if at_s < time_s {
                // It would have tripped at the end of an earlier step, if at all: the stop-watch
                // was late.
                bell((time_s / at_s).ln(), noise.time) * normal::cdf(-c / noise.current)
            } else {
                let steep = steepness(&factor, time_s);
                bell(c, root([noise.current, noise.time * steep])) * steep
            };
            ((1.0 - wrong) * right + wrong_trip() / SLIP_WIDTH).ln()
        }
        Outcome::TrippedWithin { from_s, to_s } => {
            let right = (by(to_s) - by(from_s)).max(0.0);
            ((1.0 - wrong) * right + wrong_trip() * share(from_s, to_s)).ln()
        }
        Outcome::Held { for_s } => ((1.0 - wrong) * (1.0 - by(for_s)) + wrong).ln(),
    }
}

/// The most that [`log_likelihood`] gives an outcome with some noise of its time, whatever the part.
pub fn most_likely(outcome: &Outcome, noise: Noise) -> f64 {
    match outcome {
        Outcome::Tripped { .. } => {
            // A bell is narrowest where the time alone scatters.
            (bell(0.0, noise.time) + noise.wrong / SLIP_WIDTH).ln()
        }
        Outcome::TrippedWithin { .. } | Outcome::Held { .. } => 0.0,
    }
}

/// Logarithm of the likelihood of an outcome for a part that does not trip at all.
pub fn log_without_a_trip(outcome: &Outcome, wrong: f64) -> f64 {
    match outcome {
        Outcome::Held { .. } => 0.0,
        _ => (wrong * NO_TRIP).ln() + log_by_chance(outcome),
    }
}

/// Logarithm of how probable an outcome is that has nothing to do with the part.
pub fn log_by_chance(outcome: &Outcome) -> f64 {
    match *outcome {
        Outcome::Tripped { .. } => -SLIP_WIDTH.ln(),
        Outcome::TrippedWithin { from_s, to_s } => share(from_s, to_s).ln(),
        Outcome::Held { .. } => 0.0,
    }
}

/// Part of the times by chance that lies between two.
fn share(from_s: f64, to_s: f64) -> f64 {
    ((to_s / from_s.max(1e-2)).ln() / SLIP_WIDTH).clamp(1e-2, 1.0)
}

/// The time that an outcome is about, s.
pub fn about_s(outcome: &Outcome) -> f64 {
    match *outcome {
        Outcome::Tripped { after_s } => after_s.value,
        // The middle on a logarithmic scale.
        Outcome::TrippedWithin { from_s, to_s } => (from_s.max(0.1 * to_s) * to_s).sqrt(),
        Outcome::Held { for_s } => for_s,
    }
    .max(1e-3)
}

/// How fast the factor falls with the logarithm of time.
fn steepness(factor: &impl Fn(f64) -> (f64, f64), time_s: f64) -> f64 {
    let [before_s, after_s] = beside(time_s);
    let fall = factor(before_s).0 - factor(after_s).0;
    (fall / (2.0 * STEP)).clamp(FLATTEST, 1.0)
}

/// Root of the sum of squares.
fn root<const N: usize>(parts: [f64; N]) -> f64 {
    parts.iter().map(|p| p * p).sum::<f64>().sqrt()
}

/// Normal density.
fn bell(miss: f64, deviation: f64) -> f64 {
    normal::density(miss / deviation) / deviation
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::Measured;

    /// A body with one time constant of 100 s that carries 20 % more than the load: `c^2 (1 -
    /// exp(-t)) = 1.44`.
    fn body(load: f64) -> impl Fn(f64) -> (f64, f64) {
        move |t: f64| (-0.5 * (load * load * -(-t / 100.0).exp_m1()).ln(), t)
    }

    #[test]
    fn densities_of_trip_times_and_holding_make_one() {
        let noise = Noise {
            current: 0.02,
            time: REPEATS,
            wrong: 0.0,
        };
        // Above, about and below the trip point.
        for load in [1.6, 1.003, 0.97] {
            let longest_s: f64 = 3000.0;
            let (n, low, high) = (4000, 1f64.ln(), longest_s.ln());
            let h = (high - low) / f64::from(n);
            let trips: f64 = (0..n)
                .map(|k| {
                    let t = (low + h * (f64::from(k) + 0.5)).exp();
                    let outcome = Outcome::Tripped {
                        after_s: Measured::new(t, 0.0),
                    };
                    log_likelihood(&outcome, noise, body(load)).exp() * h
                })
                .sum();
            let held = log_likelihood(&Outcome::Held { for_s: longest_s }, noise, body(load)).exp();
            assert!((trips + held - 1.0).abs() < 0.04, "{load} {trips} {held}");
        }
    }

    #[test]
    fn a_wrong_time_is_one_of_a_trip_all_the_same() {
        let noise = Noise {
            current: 0.02,
            time: REPEATS,
            wrong: 0.03,
        };
        // Much sooner than it trips, and of one that never does.
        let told = Outcome::Tripped {
            after_s: Measured::new(2.0, 0.0),
        };
        let of = |load: f64| log_likelihood(&told, noise, body(load));
        assert!(of(1.4) > of(0.8) + 2.0, "{} {}", of(1.4), of(0.8));
        assert!(of(0.8) > log_without_a_trip(&told, noise.wrong) - 1e-9);
    }

    #[test]
    fn a_surge_that_is_over_cannot_be_the_moment_of_the_trip() {
        let noise = Noise {
            current: 0.02,
            time: REPEATS,
            wrong: 0.003,
        };
        // Released by the surge after 2 s, if at all.
        let surge = |t: f64| if t <= 2.0 { (-0.1, t) } else { (-0.1, 2.0) };
        let after = |t: f64| {
            let after_s = Measured::new(t, 0.0);
            log_likelihood(&Outcome::Tripped { after_s }, noise, surge)
        };
        assert!(after(2.1) > after(3.0) + 3.0);
    }
}
