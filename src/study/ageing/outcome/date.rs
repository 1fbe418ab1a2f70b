//! Dates, and until when they are covered by a test.

use crate::answer::LimitDemand;
use crate::scenario::ageing::Tested;
use serde::{Deserialize, Serialize};

/// The dates.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Dates {
    /// Early: the trip point meets the current that is carried.
    pub trips_in_service: Date,
    /// Late: it no longer trips as soon as its published limits demand.
    pub leaves_limits_late: Date,
    /// Early: it no longer holds as long as its published limits demand.
    pub leaves_limits_early: Date,
    /// The preload is all but gone and the model ends.
    pub preload_gone: Date,
}

/// A date, counted from new, or why there is none.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "date", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Date {
    /// The new part already.
    New {
        /// Where.
        at: DateAt,
    },
    /// After this time.
    After {
        /// Years.
        years: f64,
        /// Where; `None`: everywhere.
        at: Option<DateAt>,
        /// Numerical error, years.
        error_years: Option<f64>,
    },
    /// There is none.
    None {
        /// Why.
        why: NoDate,
    },
}

/// Where a date is reached first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum DateAt {
    /// In this state of the duty.
    State(String),
    /// At this published limit.
    Limit(LimitDemand),
}

/// Why there is no date, or no life whose sensitivity could be told.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "why", rename_all = "snake_case")]
#[non_exhaustive]
pub enum NoDate {
    /// It is not reached in the time searched.
    NotWithin {
        /// Years.
        searched_years: f64,
    },
    /// The duty carries nothing.
    NothingCarried,
    /// The scenario names no published limits.
    NoLimits,
    /// The new part already trips in service: there is no life.
    NoLife,
}

impl Date {
    /// Years from new; 0: the new part already.
    pub fn years(&self) -> Option<f64> {
        match self {
            Self::New { .. } => Some(0.0),
            Self::After { years, .. } => Some(*years),
            Self::None { .. } => None,
        }
    }

    /// Numerical error, years.
    pub fn error_years(&self) -> Option<f64> {
        match self {
            Self::After { error_years, .. } => *error_years,
            _ => None,
        }
    }

    /// Where it is reached first.
    pub fn at(&self) -> Option<&DateAt> {
        match self {
            Self::New { at } => Some(at),
            Self::After { at, .. } => at.as_ref(),
            Self::None { .. } => None,
        }
    }
}

/// Until when a test covers what the duty does to the spring.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "covered", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Covered {
    /// The test has done as much to the spring.
    Until {
        /// Years.
        until_years: f64,
        /// The test.
        test: Tested,
    },
    /// The test does more than the whole time searched.
    Throughout {
        /// Years searched.
        until_years: f64,
        /// The test.
        test: Tested,
    },
    /// The scenario names no test: everything is extrapolated.
    NoTest,
    /// The test relaxes nothing.
    TestRelaxesNothing,
    /// No test covers how a latch sticks that is not moved.
    Friction,
}

impl Covered {
    /// Years until the duty has done to the spring what the test did; `None`: nothing is covered.
    pub fn until_years(&self) -> Option<f64> {
        match self {
            Self::Until { until_years, .. } | Self::Throughout { until_years, .. } => {
                Some(*until_years)
            }
            _ => None,
        }
    }
}
