//! The slow time scale: years, in the logarithm of time.
//!
//! Relaxation is fast first and slower later. Against the logarithm of time the logarithm of the
//! exposure (or the Larson-Miller parameter) is nearly a straight line, and exactly one at constant
//! temperature, so that thirty years take some tens of steps of an embedded pair of orders 5 and 4
//! (J. R. Dormand & P. J. Prince, J. Comput. Appl. Math. 6 (1980) 19). Their difference is the
//! error of a step.

use super::constants::{Constants, MOST_LOSS};
use super::view::View;

/// Time at which the integration begins, s: a start in closed form whose error is forgotten within
/// decades of time.
const START_S: f64 = 1.0;
/// Longest step in the logarithm of time.
const LONGEST: f64 = 0.7;
const MOST_STEPS: usize = 4000;

/// What has worn at a time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worn {
    /// Time, s.
    pub time_s: f64,
    /// State of the law of relaxation.
    pub state: f64,
    /// Part of the preload lost.
    pub loss: f64,
    /// Contact resistance, ohm.
    pub contact_ohm: f64,
    /// Multiple of the release force, just moved and just before it is moved.
    pub stuck: (f64, f64),
}

/// The course of wear of one set of constants.
#[derive(Debug, Clone)]
pub struct Drift<'v, 'm> {
    /// Constants.
    pub constants: &'v Constants,
    /// Temperatures and margins.
    pub view: &'v View<'m>,
    /// Logarithm of time and state of the law at the end of every step.
    steps: Vec<(f64, f64)>,
    /// Time at which it ends, s.
    pub end_s: f64,
    /// Sum of the errors of the steps, in the state of the law over its scale.
    pub error: f64,
}

impl<'v, 'm> Drift<'v, 'm> {
    /// Follows the wear to a time, to a tolerance of a step.
    #[must_use]
    pub fn follow(
        constants: &'v Constants,
        view: &'v View<'m>,
        end_s: f64,
        tolerance: f64,
    ) -> Drift<'v, 'm> {
        let mut drift = Drift {
            constants,
            view,
            steps: Vec::new(),
            end_s: end_s.max(2.0 * START_S),
            error: 0.0,
        };
        let new_ohm = constants.contact_ohm(0.0, constants.start_loss);
        let springs: Vec<(f64, f64)> = view.temperatures(new_ohm).collect();
        let Some(start) = constants.start(START_S, &springs) else {
            return drift;
        };
        let last = drift.end_s.ln();
        let (mut s, mut state) = (START_S.ln(), start);
        let mut h: f64 = 0.1;
        drift.steps.push((s, state));
        for _ in 0..MOST_STEPS {
            if s >= last {
                break;
            }
            h = h.min(last - s).min(LONGEST);
            let (next, error) = drift.step(s, state, h);
            let error = error / constants.state_scale();
            let share = (error / tolerance).max(1e-10);
            if share <= 1.0 || h < 1e-9 {
                s = if h >= last - s { last } else { s + h };
                state = next;
                drift.error += error;
                drift.steps.push((s, state));
            }
            h *= (0.9 * share.powf(-0.2)).clamp(0.2, 4.0);
        }
        drift
    }

    /// Steps that were taken.
    #[must_use]
    pub fn steps_taken(&self) -> usize {
        self.steps.len().saturating_sub(1)
    }

    fn slope(&self, s: f64, state: f64) -> f64 {
        let time_s = s.exp();
        let loss = self.constants.loss(time_s, state).min(MOST_LOSS);
        let ohm = self.constants.contact_ohm(time_s, loss);
        self.constants
            .slope(time_s, state, self.view.temperatures(ohm))
    }

    /// One step: the state of order 5, and its difference from that of order 4.
    fn step(&self, s: f64, state: f64, h: f64) -> (f64, f64) {
        const ROWS: [&[f64]; 6] = [
            &[1.0 / 5.0],
            &[3.0 / 40.0, 9.0 / 40.0],
            &[44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0],
            &[
                19372.0 / 6561.0,
                -25360.0 / 2187.0,
                64448.0 / 6561.0,
                -212.0 / 729.0,
            ],
            &[
                9017.0 / 3168.0,
                -355.0 / 33.0,
                46732.0 / 5247.0,
                49.0 / 176.0,
                -5103.0 / 18656.0,
            ],
            &[
                35.0 / 384.0,
                0.0,
                500.0 / 1113.0,
                125.0 / 192.0,
                -2187.0 / 6784.0,
                11.0 / 84.0,
            ],
        ];
        const PLACES: [f64; 6] = [0.2, 0.3, 0.8, 8.0 / 9.0, 1.0, 1.0];
        const DIFFERENCE: [f64; 7] = [
            71.0 / 57600.0,
            0.0,
            -71.0 / 16695.0,
            71.0 / 1920.0,
            -17253.0 / 339_200.0,
            22.0 / 525.0,
            -1.0 / 40.0,
        ];
        let mut k = [0.0; 7];
        k[0] = self.slope(s, state);
        let mut next = state;
        for (n, (row, place)) in ROWS.iter().zip(PLACES).enumerate() {
            let sum: f64 = row.iter().zip(&k).map(|(a, k)| a * k).sum();
            next = state + h * sum;
            k[n + 1] = self.slope(s + place * h, next);
        }
        let difference: f64 = DIFFERENCE.iter().zip(&k).map(|(d, k)| d * k).sum();
        (next, (h * difference).abs())
    }

    /// What has worn at a time. Before the first step it is taken as at its beginning.
    #[must_use]
    pub fn at(&self, time_s: f64) -> Worn {
        let state = match self.steps.first() {
            // Nothing is under stress.
            None => f64::NEG_INFINITY,
            Some(_) if time_s <= 0.0 => f64::NEG_INFINITY,
            Some((s, state)) if time_s <= s.exp() => {
                // At the temperatures of the start, in closed form.
                let start = self.constants.start(time_s, &self.springs_as_new());
                start.unwrap_or(*state)
            }
            Some(_) => {
                let wanted = time_s.ln();
                let after = self.steps.partition_point(|(s, _)| *s <= wanted);
                let (s, state) = self.steps[after.saturating_sub(1)];
                if wanted - s > 0.0 {
                    self.step(s, state, wanted - s).0
                } else {
                    state
                }
            }
        };
        self.worn(time_s, state)
    }

    fn springs_as_new(&self) -> Vec<(f64, f64)> {
        let new_ohm = self.constants.contact_ohm(0.0, self.constants.start_loss);
        self.view.temperatures(new_ohm).collect()
    }

    fn worn(&self, time_s: f64, state: f64) -> Worn {
        let loss = self.constants.loss(time_s, state);
        Worn {
            time_s,
            state,
            loss,
            contact_ohm: self.constants.contact_ohm(time_s, loss.min(MOST_LOSS)),
            stuck: self.constants.stuck_factors(time_s),
        }
    }

    /// First time up to `end_s` at which `beyond` is at or above zero, s; 0 when it is so at the
    /// start.
    pub fn first(&self, end_s: f64, beyond: impl Fn(&Worn) -> f64) -> Option<f64> {
        if beyond(&self.at(0.0)) >= 0.0 {
            return Some(0.0);
        }
        let mut before = 0.0;
        let ends = self.steps.iter().map(|(s, state)| (s.exp(), Some(*state)));
        // Without relaxation the time is cut into even pieces of its logarithm.
        let pieces =
            (0..=60).map(|k| (START_S * (end_s / START_S).powf(f64::from(k) / 60.0), None));
        let all: Vec<(f64, Option<f64>)> = if self.steps.is_empty() {
            pieces.collect()
        } else {
            ends.collect()
        };
        for (time_s, state) in all.into_iter().chain([(end_s, None)]) {
            if time_s > end_s {
                continue;
            }
            let worn = match state {
                Some(state) => self.worn(time_s, state),
                None => self.at(time_s),
            };
            if beyond(&worn) >= 0.0 {
                return Some(self.refined(before, time_s, &beyond));
            }
            before = time_s;
        }
        None
    }

    /// Between a time before and a time beyond.
    fn refined(&self, before: f64, beyond_s: f64, beyond: &impl Fn(&Worn) -> f64) -> f64 {
        let (mut low, mut high) = (before, beyond_s);
        for _ in 0..60 {
            let middle = if low > 0.0 && high > 2.0 * low {
                (low * high).sqrt()
            } else {
                0.5 * (low + high)
            };
            if high - low <= 1e-9 * high {
                break;
            }
            if beyond(&self.at(middle)) >= 0.0 {
                high = middle;
            } else {
                low = middle;
            }
        }
        high
    }
}
