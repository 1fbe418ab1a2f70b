//! What is waited for after a sudden fall.

use super::{Countdown, SHARES, What};
use crate::family::Spread;

/// Waits are followed for this long after the last of them is over, s.
const AFTER_S: f64 = 600.0;

/// After a sudden fall.
pub(super) struct Waiting {
    since_s: f64,
    waits: Countdown,
    told_reset: bool,
    told_start: bool,
}

impl Waiting {
    /// From the moment of the fall, s.
    pub fn new(since_s: f64, waits: Countdown) -> Waiting {
        Waiting {
            since_s,
            waits,
            told_reset: false,
            told_start: false,
        }
    }

    /// Waits left at a time, s.
    pub fn left(&self, at_s: f64) -> Countdown {
        let gone_s = at_s - self.since_s;
        let left = |s: Spread| Spread {
            low: (s.low - gone_s).max(0.0),
            median: (s.median - gone_s).max(0.0),
            high: (s.high - gone_s).max(0.0),
        };
        Countdown {
            reset_s: left(self.waits.reset_s),
            start_s: self.waits.start_s.map(left),
            ..self.waits
        }
    }

    /// What has become due by a time and was not told, s.
    pub fn due(&mut self, at_s: f64) -> Vec<What> {
        let gone_s = at_s - self.since_s;
        let mut due = Vec::new();
        if !self.told_reset && gone_s >= self.waits.reset_s.high {
            self.told_reset = true;
            due.push(What::CanBeReset);
        }
        if !self.told_start && self.start_s().is_some_and(|s| gone_s >= s) {
            self.told_start = true;
            due.push(What::CanBeStarted);
        }
        due
    }

    /// Whether the last of the waits is long over.
    pub fn is_past(&self, at_s: f64) -> bool {
        let last_s = self.waits.reset_s.high.max(self.start_s().unwrap_or(0.0));
        at_s - self.since_s > last_s + AFTER_S
    }

    /// When a start goes through in all parts, where hardly any never lets one, s.
    fn start_s(&self) -> Option<f64> {
        let starts = self.waits.never_starts < SHARES.0;
        self.waits.start_s.filter(|_| starts).map(|s| s.high)
    }
}
