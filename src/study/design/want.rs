//! What can be wanted of a part, and how far a scenario is from it.

use crate::answer::{TripTime, Wait};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::predict::{PredictError, under};
use crate::quantity::Dimension;
use crate::scenario::Scenario;
use crate::study::summary::Summary;
use serde::{Deserialize, Serialize};

/// An answer that can be wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Wanted {
    /// Time to trip.
    TripTime,
    /// Largest current held for ever.
    TripPoint,
    /// Wait until it can be reset.
    ResetWait,
    /// Wait until the equipment can be started.
    StartWait,
    /// Hottest point of the strip at release.
    StripTemperature,
    /// Largest stress over the yield strength.
    StressOverYield,
    /// Drop at rated current.
    Drop,
    /// Share of the release travel that the preload holds.
    PreloadShare,
    /// How much one percent of lost preload moves the trip point, without its sign.
    PreloadEffect,
}

/// A window for an answer.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Want {
    /// Of what.
    pub wanted: Wanted,
    /// Under this constant current, A; `None`: under the load of the scenario.
    pub current_a: Option<f64>,
    /// Least, SI.
    pub least: Option<f64>,
    /// Most, SI.
    pub most: Option<f64>,
}

/// What a scenario does to a want.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Found {
    /// The answer, SI: infinite where it never comes, not a number where there is none.
    pub value: f64,
    /// The same on a scale on which equal steps matter alike, and which goes on where the answer
    /// never comes.
    pub merit: f64,
}

impl Wanted {
    /// Its word in a file.
    pub(super) const WORDS: [(&'static str, Wanted); 9] = [
        ("trip time", Wanted::TripTime),
        ("trip point", Wanted::TripPoint),
        ("reset wait", Wanted::ResetWait),
        ("start wait", Wanted::StartWait),
        ("strip temperature", Wanted::StripTemperature),
        ("stress over yield", Wanted::StressOverYield),
        ("drop", Wanted::Drop),
        ("preload share", Wanted::PreloadShare),
        ("preload effect", Wanted::PreloadEffect),
    ];

    /// Its kind of number.
    pub fn dimension(self) -> Dimension {
        match self {
            Self::TripTime | Self::ResetWait | Self::StartWait => Dimension::Time,
            Self::TripPoint | Self::PreloadEffect => Dimension::Current,
            Self::StripTemperature => Dimension::Temperature,
            Self::Drop => Dimension::Voltage,
            Self::StressOverYield | Self::PreloadShare => Dimension::Fraction,
        }
    }

    /// Whether it depends on a current that can be named.
    pub(super) fn is_under_current(self) -> bool {
        matches!(self, Self::TripTime | Self::ResetWait)
    }

    /// Equal ratios matter alike, but for temperatures (in hundreds of kelvins) and shares.
    pub(super) fn merit(self, value: f64) -> f64 {
        match self {
            Self::StripTemperature => value / 100.0,
            Self::PreloadShare => value,
            _ => value.max(1e-9).ln(),
        }
    }

    /// The value of a merit.
    pub(super) fn value(self, merit: f64) -> f64 {
        match self {
            Self::StripTemperature => merit * 100.0,
            Self::PreloadShare => merit,
            _ => merit.exp(),
        }
    }
}

impl Want {
    /// Whether a value is inside.
    pub fn is_met(&self, value: f64) -> bool {
        !value.is_nan()
            && self.least.is_none_or(|least| value >= least)
            && self.most.is_none_or(|most| value <= most)
    }

    /// The window on the scale of merits.
    fn window(&self) -> [f64; 2] {
        let merit = |end: Option<f64>, open: f64| end.map_or(open, |v| self.wanted.merit(v));
        [
            merit(self.least, f64::NEG_INFINITY),
            merit(self.most, f64::INFINITY),
        ]
    }

    /// How far inside its window an answer is wanted, so that it is not met by a hair.
    pub(super) fn usual_margin(&self) -> f64 {
        let [low, high] = self.window();
        match high - low {
            width if width.is_finite() => DRAWN_IN * width,
            _ => A_LITTLE,
        }
    }

    /// How far a merit lies outside the window drawn in by a margin (at most to its middle):
    /// negative below, positive above.
    pub(super) fn miss(&self, merit: f64, margin: f64) -> f64 {
        let [low, high] = self.window();
        let margin = margin.min(0.5 * (high - low));
        let (low, high) = (low + margin, high - margin);
        match merit {
            merit if merit.is_nan() => NO_ANSWER,
            merit if merit < low => merit - low,
            merit if merit > high => merit - high,
            _ => 0.0,
        }
    }
}

/// Share of its width by which a window is drawn in.
const DRAWN_IN: f64 = 0.15;
/// Inside an open end by so much, so that it is not met by a hair.
const A_LITTLE: f64 = 2e-3;
/// What a missing answer counts.
const NO_ANSWER: f64 = 3.0;
/// Where what never comes begins, on the scale of times.
const NEVER_S: f64 = 4.0 * 3600.0;
/// How steeply it goes on with the trip point over the current.
const STEEPNESS: f64 = 10.0;

/// What a scenario does to each want.
pub(super) fn found(scenario: &Scenario, wants: &[Want]) -> Result<Vec<Found>, PredictError> {
    let summary = Summary::predict(scenario)?;
    let point_a = summary.trip_point.current_a();
    let mut under_a: Vec<(f64, (TripTime, Wait))> = Vec::new();
    let mut all = Vec::with_capacity(wants.len());
    for want in wants {
        let own = match want.current_a {
            None => (summary.trip_time.clone(), summary.relatch_wait),
            Some(current_a) => match under_a.iter().find(|known| known.0 == current_a) {
                Some((_, known)) => known.clone(),
                None => {
                    let found = under(scenario, current_a)?;
                    under_a.push((current_a, found.clone()));
                    found
                }
            },
        };
        let number = |value: Option<f64>| value.unwrap_or(f64::NAN);
        let value = match want.wanted {
            Wanted::TripTime => match own.0 {
                TripTime::HoldsForEver | TripTime::NotWithin { .. } => f64::INFINITY,
                time => number(time.time_s()),
            },
            Wanted::TripPoint => number(point_a),
            Wanted::ResetWait => wait(&own.1),
            Wanted::StartWait => wait(&summary.ready_wait),
            Wanted::StripTemperature => number(summary.strip_peak_c.map(|c| c + ZERO_CELSIUS_K)),
            Wanted::StressOverYield => number(summary.stress_over_yield),
            Wanted::Drop => number(summary.drop_at_rated_mv.map(|mv| 1e-3 * mv)),
            Wanted::PreloadShare => number(summary.preload_share),
            Wanted::PreloadEffect => number(summary.per_percent_preload_a.map(f64::abs)),
        };
        let merit = match value == f64::INFINITY {
            false => want.wanted.merit(value),
            true => {
                let current_a = want.current_a.unwrap_or(scenario.load.last_a());
                let beyond = point_a.map_or(0.0, |a| (a / current_a - 1.0).clamp(0.0, 3.0));
                NEVER_S.ln() + STEEPNESS * beyond
            }
        };
        all.push(Found {
            value,
            merit: if value.is_nan() { f64::NAN } else { merit },
        });
    }
    Ok(all)
}

fn wait(wait: &Wait) -> f64 {
    match wait.is_never() {
        true => f64::INFINITY,
        false => wait.time_s().unwrap_or(f64::NAN),
    }
}
