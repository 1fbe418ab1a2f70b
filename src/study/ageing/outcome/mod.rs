//! The record of an ageing study. Units stand in the names; where there is no number its answer
//! says why.

mod date;
mod lives;
mod remark;

pub use date::{Covered, Date, DateAt, Dates, NoDate};
pub use lives::{ByYear, Drawn, LifeSummary, Lives, NoFit, NoLives, WeibullRecord};
pub use remark::{AgeNotModelled, AgeWarning};

use crate::answer::{Caution, Failed, Held, LimitDemand, TripTime, Wait};
use crate::predict::MechanismKind;
use crate::scenario::ageing::{Relaxation, SpringPlace};
use crate::scenario::{Reset, UsedFor};
use serde::{Deserialize, Serialize};

/// Layout of the record; what differs from one to the next stands with the JSON writer.
pub const FORMAT: u32 = 2;

/// Wear over the years.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct AgeOutcome {
    /// Layout of this record.
    pub format: u32,
    /// Version of the program.
    pub version: String,
    /// Title of the scenario.
    pub scenario: String,
    /// Its story.
    pub shows: String,
    /// Whether equipment depends on the part.
    #[serde(default, skip_serializing_if = "UsedFor::is_equipment")]
    pub used_for: UsedFor,
    /// What was set in the scenario since it was written, as `path = value`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub changed: Vec<String>,
    /// Where the constants come from, in the author's words.
    pub constants_from: String,
    /// Rated current, A.
    pub rated_current_a: f64,
    /// Air the rating is stated for, degC.
    pub reference_ambient_c: f64,
    /// Latch or snap blade.
    pub mechanism: MechanismKind,
    /// By hand or automatic.
    pub reset: Reset,
    /// Time looked at, years.
    pub horizon_years: f64,
    /// Lives are looked for up to this, years.
    pub searched_years: f64,
    /// Law of relaxation.
    pub law: Relaxation,
    /// Whose temperature the spring has.
    pub spring_beside: SpringPlace,
    /// Name of the published limits, if any.
    pub limits: Option<String>,
    /// What of them the part misses as new, and its years therefore cannot make it leave.
    #[serde(default)]
    pub missed_as_new: Vec<LimitDemand>,
    /// Shortest and longest trip time that the limits allow at twice the rating, s.
    pub trip_time_2x_limits_s: [Option<f64>; 2],
    /// Until when a test covers what the duty does to the spring.
    pub covered: Covered,
    /// Bookkeeping of the duty, state by state.
    pub duty: Vec<DutyRecord>,
    /// Hours a year under stress.
    pub held_hours_a_year: f64,
    /// The three dates.
    pub dates: Dates,
    /// What moves the life, and by how much.
    pub sensitivity: Sensitivity,
    /// Year by year.
    pub drift: Vec<DriftRow>,
    /// Lives from uncertain constants.
    pub lives: Lives,
    /// Numerical errors.
    pub error_estimate: AgeErrors,
    /// Warnings.
    pub warnings: Vec<AgeWarning>,
    /// What the model leaves out.
    pub not_modelled: Vec<AgeNotModelled>,
    /// Cautions.
    pub cautions: Vec<Caution>,
    /// Sources.
    pub citations: Vec<String>,
}

/// One state of the duty.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct DutyRecord {
    /// Season and load.
    pub state: String,
    /// Hours a year.
    pub hours_a_year: f64,
    /// Hours a year under stress: only these relax the spring.
    pub held_hours_a_year: f64,
    /// Current, A.
    pub current_a: f64,
    /// Air around the part, degC.
    pub ambient_c: f64,
    /// Spring, new, degC.
    pub spring_new_c: f64,
    /// Spring at the end of the horizon, degC.
    pub spring_end_c: f64,
    /// Share of all relaxation that happens in this state, new.
    pub relaxation_share: f64,
    /// Whether the new part already releases here, so that nothing is carried.
    pub releases_when_new: bool,
}

/// What moves the life in service.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Sensitivity {
    /// d ln(life) / d ln(current).
    pub per_current: Option<f64>,
    /// Change of the life when 0.02 % more current is carried, as a fraction.
    pub life_change_for_0_02_percent_current: Option<f64>,
    /// d ln(life) / d ln(coefficient of the law).
    pub per_coefficient: Option<f64>,
    /// Change of the life when the coefficient is 1 % larger, as a fraction.
    pub life_change_for_1_percent_coefficient: Option<f64>,
    /// Change of the preload left at the horizon when the coefficient is 1 % larger, as a part of
    /// the preload as new.
    pub preload_change_for_1_percent_coefficient: f64,
    /// Current that could be carried, over that which is, at the end of the horizon, in the state
    /// of the duty that releases first; below 1: it trips.
    pub current_in_hand_at_horizon: Option<f64>,
    /// That state.
    pub state: Option<String>,
    /// Why there is no sensitivity of a life.
    pub missing: Option<NoDate>,
}

/// One row of the drift.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct DriftRow {
    /// Years from new.
    pub years: f64,
    /// Part of the preload left.
    pub preload_left: Option<f64>,
    /// Contact resistance, ohm.
    pub contact_resistance_ohm: Option<f64>,
    /// Multiple of the release force that the latch takes just before it is moved.
    pub stuck_factor: Option<f64>,
    /// Trip point at the reference ambient.
    pub trip_point: Option<Held>,
    /// Trip point in the air of the state that releases first, just after the latch was moved.
    pub trip_point_in_service: Option<Held>,
    /// At twice the rating, cold, reference ambient.
    pub trip_time_2x: Option<TripTime>,
    /// At six times the rating.
    pub trip_time_6x: Option<TripTime>,
    /// Wait for the reset after the trip at twice the rating.
    pub relatch_wait: Option<Wait>,
    /// 5, 50 and 95 % of the preload left, from uncertain constants.
    pub preload_left_band: Option<[f64; 3]>,
    /// 5, 50 and 95 % of the trip point in service, A.
    pub trip_point_band_a: Option<[f64; 3]>,
    /// Whether no test covers this row.
    pub extrapolated: bool,
    /// Why there are no answers.
    pub missing: Option<NoRow>,
}

/// Numerical errors.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct AgeErrors {
    /// Largest difference between the interpolated and the engine's spring temperature, K.
    pub spring_temperature_k: f64,
    /// Error of the preload left at the horizon, from the steps in time.
    pub preload_left: f64,
    /// Relative error of trip times and trip points of the rows.
    pub rows_relative: Option<f64>,
    /// How it was computed.
    pub computed_with: AgeEffort,
}

/// What the numbers were computed with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct AgeEffort {
    /// States of the duty.
    pub states: usize,
    /// Contact resistances at which the engine was asked.
    pub resistances: usize,
    /// Steps of order 5 in the logarithm of time.
    pub steps: usize,
}

/// Why a row of the drift has no answers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "missing", rename_all = "snake_case")]
#[non_exhaustive]
pub enum NoRow {
    /// The preload is all but gone and the model does not hold.
    PreloadGone,
    /// The engine cannot follow the part.
    Failed {
        /// Why.
        why: Failed,
    },
}

impl DriftRow {
    /// Trip point at the reference ambient, A.
    pub fn trip_point_a(&self) -> Option<f64> {
        self.trip_point.as_ref()?.current_a()
    }

    /// Trip point in service, A.
    pub fn trip_point_in_service_a(&self) -> Option<f64> {
        self.trip_point_in_service.as_ref()?.current_a()
    }

    /// Trip time at twice the rating, s.
    pub fn trip_time_2x_s(&self) -> Option<f64> {
        self.trip_time_2x.as_ref()?.time_s()
    }

    /// Trip time at six times the rating, s.
    pub fn trip_time_6x_s(&self) -> Option<f64> {
        self.trip_time_6x.as_ref()?.time_s()
    }

    /// Wait for the reset, s.
    pub fn relatch_wait_s(&self) -> Option<f64> {
        self.relatch_wait.as_ref()?.time_s()
    }
}
