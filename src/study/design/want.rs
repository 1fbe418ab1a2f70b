//! What can be wanted of a part, and how far a scenario is from it.

use super::outcome::End;
use super::targets::{Document, Targets};
use crate::answer::{LimitDemand, TripTime, Wait};
use crate::device::Device;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::predict::{PredictError, case_of, check_rows, trip_point, turned, under};
use crate::quantity::Dimension;
use crate::scenario::Scenario;
use crate::standards::Limit;
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
    /// What the file's formula says, a number without currency.
    Cost,
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
    /// It is brought to its least or its most, as far as all others let it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aim: Option<End>,
    /// It is a row of published limits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit: Option<LimitRow>,
    /// In this air, K; `None`: in that of the scenario.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_k: Option<f64>,
}

/// A row of a document as a want.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct LimitRow {
    /// Number of the document among those of the task, from 0.
    pub document: usize,
    /// What it asks.
    pub demand: LimitDemand,
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
    pub(super) const WORDS: [(&'static str, Wanted); 10] = [
        ("trip time", Wanted::TripTime),
        ("trip point", Wanted::TripPoint),
        ("reset wait", Wanted::ResetWait),
        ("start wait", Wanted::StartWait),
        ("strip temperature", Wanted::StripTemperature),
        ("stress over yield", Wanted::StressOverYield),
        ("drop", Wanted::Drop),
        ("preload share", Wanted::PreloadShare),
        ("preload effect", Wanted::PreloadEffect),
        ("cost", Wanted::Cost),
    ];

    /// Its kind of number.
    pub fn dimension(self) -> Dimension {
        match self {
            Self::TripTime | Self::ResetWait | Self::StartWait => Dimension::Time,
            Self::TripPoint | Self::PreloadEffect => Dimension::Current,
            Self::StripTemperature => Dimension::Temperature,
            Self::Drop => Dimension::Voltage,
            Self::StressOverYield | Self::PreloadShare | Self::Cost => Dimension::Fraction,
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
    /// The rows of a document, as wants of a part with this rating.
    pub(super) fn of_document(number: usize, document: &Document, rated_a: f64) -> Vec<Want> {
        let rows = |row: &Limit| (row.demand(), document.limits.air_c(row) + ZERO_CELSIUS_K);
        let of = |(demand, air_k): (LimitDemand, f64)| Want {
            wanted: Wanted::TripTime,
            air_k: Some(air_k),
            current_a: Some(demand.multiple * rated_a),
            least: demand.at_least_s,
            most: demand.at_most_s,
            aim: None,
            limit: Some(LimitRow {
                document: number,
                demand,
            }),
        };
        document.rows.iter().map(rows).map(of).collect()
    }

    /// Whether it must be carried for ever.
    pub(super) fn must_hold(&self) -> bool {
        self.limit.is_some_and(|row| row.demand.must_hold)
    }

    /// Whether some values are outside; an aim alone has none.
    pub fn has_window(&self) -> bool {
        self.must_hold() || self.least.is_some() || self.most.is_some()
    }

    /// Whether a value is inside.
    pub fn is_met(&self, value: f64) -> bool {
        !value.is_nan()
            && (value == f64::INFINITY || !self.must_hold())
            && self.least.is_none_or(|least| value >= least)
            && self.most.is_none_or(|most| value <= most)
    }

    /// The window on the scale of merits.
    fn window(&self) -> [f64; 2] {
        let merit = |end: Option<f64>, open: f64| end.map_or(open, |v| self.wanted.merit(v));
        let lowest = match self.must_hold() {
            true => NEVER_S.ln(),
            false => f64::NEG_INFINITY,
        };
        [merit(self.least, lowest), merit(self.most, f64::INFINITY)]
    }

    /// Towards which end it can be brought further and further; `None`: it has both.
    pub(super) fn goes_on(&self) -> Option<End> {
        match (self.aim, self.least, self.most) {
            (Some(end), ..) => Some(end),
            (None, Some(_), Some(_)) => None,
            (None, Some(_), None) => Some(End::Most),
            (None, None, _) => Some(End::Least),
        }
    }

    /// The same want, farther off than it is at a merit, if it goes on.
    pub(super) fn drawn(&self, merit: f64) -> Want {
        let mut want = *self;
        match self.goes_on() {
            Some(End::Least) => want.most = Some(self.wanted.value(merit - FAR_OFF)),
            Some(End::Most) => want.least = Some(self.wanted.value(merit + FAR_OFF)),
            None => {}
        }
        want
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
/// How much farther off than it is what goes on is wanted.
const FAR_OFF: f64 = 1.0;
/// What a missing answer counts.
const NO_ANSWER: f64 = 3.0;
/// Where what never comes begins, on the scale of times.
const NEVER_S: f64 = 4.0 * 3600.0;
/// How steeply it goes on with the trip point over the current.
const STEEPNESS: f64 = 10.0;

/// Beyond these it is flat.
const LEAST_BEYOND: f64 = -1.0;
const MOST_BEYOND: f64 = 3.0;

/// Where what never comes lies on the scale of times, by the current it holds over the one it
/// carries.
fn beyond(point_a: Option<f64>, current_a: f64) -> f64 {
    let beyond = point_a.map_or(0.0, |a| a / current_a - 1.0);
    let beyond = beyond.clamp(LEAST_BEYOND, MOST_BEYOND);
    NEVER_S.ln() + STEEPNESS * beyond
}

/// How a merit on that scale moves with the current that is held, per A.
pub(super) fn per_beyond(merit: f64, current_a: f64) -> f64 {
    let beyond = (merit - NEVER_S.ln()) / STEEPNESS;
    match beyond > LEAST_BEYOND && beyond < MOST_BEYOND {
        true => STEEPNESS / current_a,
        false => 0.0,
    }
}

/// What a scenario does to each want, and what its formula says of it.
pub(super) fn found(
    scenario: &Scenario,
    targets: &Targets,
    cost: f64,
) -> Result<Vec<Found>, PredictError> {
    let summary = Summary::predict(scenario)?;
    let point_a = summary.trip_point.current_a();
    let mut under_a: Vec<(f64, (TripTime, Wait))> = Vec::new();
    let mut all = Vec::with_capacity(targets.wants.len());
    for want in targets.wants.iter().filter(|want| want.limit.is_none()) {
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
            Wanted::Cost => cost,
        };
        let merit = match value == f64::INFINITY {
            false => want.wanted.merit(value),
            true => beyond(point_a, want.current_a.unwrap_or(scenario.load.last_a())),
        };
        all.push(Found {
            value,
            merit: if value.is_nan() { f64::NAN } else { merit },
        });
    }
    for document in &targets.documents {
        all.extend(held_against(document, scenario)?);
    }
    Ok(all)
}

/// What a scenario does at each row of a document. How far a row that must be carried is from
/// being carried, the largest current held in its air tells, on either side.
fn held_against(document: &Document, scenario: &Scenario) -> Result<Vec<Found>, PredictError> {
    let set = turned(scenario)?;
    let (device, case) = (Device::new(&set)?, case_of(&set));
    let mut points_a: Vec<(f64, Option<f64>)> = Vec::new();
    let mut all = Vec::new();
    for check in check_rows(&device, &case, document.limits, &document.rows)? {
        let value = match &check.time {
            TripTime::HoldsForEver => f64::INFINITY,
            time => time.time_s().unwrap_or(f64::NAN),
        };
        let mut merit = Wanted::TripTime.merit(value);
        if check.demand.must_hold || value == f64::INFINITY {
            let air_k = check.ambient_c + ZERO_CELSIUS_K;
            if points_a.iter().all(|(known_k, _)| *known_k != air_k) {
                let point = trip_point(&device, air_k, case.rated_current_a, case.accuracy)?;
                points_a.push((air_k, point.value.current_a()));
            }
            let known = points_a.iter().find(|(known_k, _)| *known_k == air_k);
            let current_a = check.demand.multiple * case.rated_current_a;
            merit = beyond(known.and_then(|(_, point_a)| *point_a), current_a);
        }
        all.push(Found { value, merit });
    }
    Ok(all)
}

fn wait(wait: &Wait) -> f64 {
    match wait.is_never() {
        true => f64::INFINITY,
        false => wait.time_s().unwrap_or(f64::NAN),
    }
}
