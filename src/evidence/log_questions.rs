//! What a person says about a log.

use super::log_words::span_words;
use super::{Accuracy, AirPlace, Before, Measured, Meter};
use crate::logs::Options;
use std::fmt;

/// Which falls to zero are trips.
#[derive(Debug, Clone, PartialEq)]
pub enum TripsAre {
    /// Not said: taken as one where there is only one, asked where there are several.
    NotSaid,
    /// Every one.
    EveryFall,
    /// The last one.
    TheLastFall,
    /// None: a hand at the switch.
    None,
    /// Those nearest to what somebody noted.
    At(Vec<Noted>),
}

/// When somebody noted a trip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Noted {
    /// This long after the first row, s.
    Since(f64),
    /// At this time of the day on the log's own clock, s after midnight.
    OfTheDay(f64),
}

/// What a person says about a log.
#[derive(Debug, Clone, PartialEq)]
pub struct LogQuestions {
    /// How it is laid out.
    pub options: Options,
    /// What the meter of the log shows, where it is known.
    pub meter: Option<Meter>,
    /// Its accuracy.
    pub accuracy: Accuracy,
    /// Whether the accuracy was stated.
    pub accuracy_stated: bool,
    /// Size of its last digit, A.
    pub digit_a: f64,
    /// Which falls are trips.
    pub trips: TripsAre,
    /// How far a noted time may lie from its fall, s.
    pub within_s: f64,
    /// Where a temperature column was measured.
    pub air_at: AirPlace,
    /// Air at the protector during the log, K, where it was measured otherwise.
    pub air_k: Option<Measured>,
    /// State at the first row.
    pub before: Option<Before>,
}

impl Default for LogQuestions {
    fn default() -> Self {
        LogQuestions {
            options: Options::default(),
            meter: None,
            accuracy: Accuracy {
                digits: 0.0,
                ..Accuracy::CLAMP
            },
            accuracy_stated: false,
            digit_a: 0.0,
            trips: TripsAre::NotSaid,
            within_s: 180.0,
            air_at: AirPlace::NotSaid,
            air_k: None,
            before: None,
        }
    }
}

impl fmt::Display for Noted {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Noted::Since(s) => write!(f, "{} after the first row", span_words(*s)),
            Noted::OfTheDay(s) => {
                let s = s.round() as u64;
                write!(f, "{:02}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60)
            }
        }
    }
}
