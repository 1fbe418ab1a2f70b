//! One trip, or one stretch of time without a trip.

use super::Measured;
use super::stop_watch::REACTION_S;
use crate::load::{Current, Programme, Segment};
use serde::{Deserialize, Serialize};

/// A current below this share of the largest is none: what a clamp shows beside a dead wire.
const NOTHING: f64 = 0.02;

/// Which protector an event belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    /// The protector in question, as it is now.
    ThisPart,
    /// The same protector when it was new: a time written on its label.
    AsNew,
    /// Another, sound one of the same type (a sister pole, a swapped twin).
    Twin,
}

/// Under what load and where.
#[derive(Debug, Clone, PartialEq)]
pub enum Setting {
    /// In its place, under the running current of the machine (see the case's readings). A start
    /// from standstill belongs to it when `with_start`.
    InService {
        /// Whether the machine was started at the beginning of the event.
        with_start: bool,
    },
    /// In its place, under a recorded current.
    Recorded(Programme),
    /// On a bench or with an injected current, away from the heat of its place and of its joints.
    Bench {
        /// Current, A.
        current_a: Measured,
    },
}

/// State before the event.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Before {
    /// Everything at the temperature of the air.
    Cold,
    /// Long under a current, A.
    Hot {
        /// A.
        current_a: f64,
    },
    /// Closed again this long after it opened by the event before it in the list, s.
    AfterTrip {
        /// s.
        wait_s: f64,
    },
    /// Not known.
    Unknown,
}

/// What happened.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Outcome {
    /// Tripped after a time, s.
    Tripped {
        /// s.
        after_s: Measured,
    },
    /// Tripped at some time between two, s.
    TrippedWithin {
        /// Not before, s.
        from_s: f64,
        /// Not after, s.
        to_s: f64,
    },
    /// Carried the load this long without a trip, s.
    Held {
        /// s.
        for_s: f64,
    },
}

/// One trip, or one stretch of time without.
#[derive(Debug, Clone, PartialEq)]
pub struct Event {
    /// The line as the case has it, for people.
    pub label: String,
    /// Which protector.
    pub unit: Unit,
    /// Load and place.
    pub setting: Setting,
    /// State before.
    pub before: Before,
    /// Air at the protector during the event, K, where it was measured then.
    pub air_k: Option<Measured>,
    /// What happened.
    pub outcome: Outcome,
    /// How often it happened alike (>= 1).
    pub times: u32,
    /// After the trip: the reset still failed at the first time and held at the second, s.
    pub reset_between_s: Option<(f64, f64)>,
    /// How many mends of the case had been done by then.
    pub mended: usize,
}

impl Event {
    /// A trip of this part on its machine from cold, after this many seconds by a stop-watch.
    pub fn trip_from_cold(label: &str, after_s: f64) -> Event {
        Event {
            label: label.into(),
            unit: Unit::ThisPart,
            setting: Setting::InService { with_start: false },
            before: Before::Cold,
            air_k: None,
            outcome: Outcome::Tripped {
                after_s: Measured::new(after_s, REACTION_S),
            },
            times: 1,
            reset_between_s: None,
            mended: 0,
        }
    }

    /// The trip for which something was mended, whenever that was.
    pub fn before_mends() -> Event {
        Event {
            before: Before::Unknown,
            outcome: Outcome::TrippedWithin {
                from_s: 0.0,
                to_s: f64::INFINITY,
            },
            ..Event::trip_from_cold("the trip before it was mended", 1.0)
        }
    }

    /// The same on a bench at a known current, A, with 2 % of it open.
    pub fn on_bench(self, current_a: f64) -> Event {
        Event {
            setting: Setting::Bench {
                current_a: Measured::new(current_a, 0.02 * current_a),
            },
            ..self
        }
    }

    /// How long a record of it had run before its load began, s: people count from there.
    pub fn idle_s(&self) -> f64 {
        let Setting::Recorded(load) = &self.setting else {
            return 0.0;
        };
        let nothing_a = NOTHING * load.largest_a();
        let is_idle = |s: &&Segment| matches!(s.current, Current::Constant(a) if a < nothing_a);
        let idle = load.segments.iter().take_while(is_idle);
        idle.map(|s| s.duration_s).sum()
    }

    /// Whether it is a trip, and not a time without one.
    pub fn is_trip(&self) -> bool {
        !matches!(self.outcome, Outcome::Held { .. })
    }

    /// Whether it is of the machine at work, and not of a bench.
    pub fn is_in_service(&self) -> bool {
        !matches!(self.setting, Setting::Bench { .. })
    }

    /// The same with another outcome: held this long without a trip, s.
    pub fn that_held(self, for_s: f64) -> Event {
        Event {
            outcome: Outcome::Held { for_s },
            ..self
        }
    }
}
