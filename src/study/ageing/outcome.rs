//! The record of an ageing study. Units stand in the names; `None` where there is no number, with the reason beside
//! it.

use serde::Serialize;

/// Wear over the years.
#[derive(Debug, Clone, Serialize)]
pub struct AgeOutcome {
    /// Layout of this record.
    pub format: u32,
    /// Version of the program.
    pub version: String,
    /// Title of the scenario.
    pub scenario: String,
    /// Its story.
    pub shows: String,
    /// Where the constants come from, in the author's words.
    pub constants_from: String,
    /// Rated current, A.
    pub rated_current_a: f64,
    /// Air the rating is stated for, degC.
    pub reference_ambient_c: f64,
    /// Latch or snap blade.
    pub mechanism: String,
    /// By hand or automatic.
    pub reset: String,
    /// Time looked at, years.
    pub horizon_years: f64,
    /// Lives are looked for up to this, years.
    pub searched_years: f64,
    /// Law of relaxation in words.
    pub law: String,
    /// Node that has the temperature of the spring.
    pub spring_beside: String,
    /// Name of the published limits, if any.
    pub limits: Option<String>,
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
    pub warnings: Vec<String>,
    /// What the model leaves out.
    pub not_modelled: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// Sources.
    pub citations: Vec<String>,
}

/// Until when a test covers the duty.
#[derive(Debug, Clone, Serialize)]
pub struct Covered {
    /// Years until the duty has done to the spring what the test did; `None`: see the reason.
    pub until_years: Option<f64>,
    /// In words.
    pub text: String,
}

/// One state of the duty.
#[derive(Debug, Clone, Serialize)]
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

/// Dates, each with its reason where there is none.
#[derive(Debug, Clone, Serialize)]
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

/// A date.
#[derive(Debug, Clone, Serialize)]
pub struct Date {
    /// Years from new; 0: the new part already.
    pub years: Option<f64>,
    /// Where: the state of the duty or the limit.
    pub at: Option<String>,
    /// Why there is none.
    pub reason: Option<String>,
    /// Numerical error, years.
    pub error_years: Option<f64>,
}

/// What moves the life in service.
#[derive(Debug, Clone, Serialize)]
pub struct Sensitivity {
    /// d ln(life) / d ln(current).
    pub per_current: Option<f64>,
    /// Change of the life when 0.02 % more current is carried, as a fraction.
    pub life_change_for_0_02_percent_current: Option<f64>,
    /// d ln(life) / d ln(coefficient of the law).
    pub per_coefficient: Option<f64>,
    /// Change of the life when the coefficient is 1 % larger, as a fraction.
    pub life_change_for_1_percent_coefficient: Option<f64>,
    /// Change of the preload left at the horizon when the coefficient is 1 % larger, as a part of the preload as new.
    pub preload_change_for_1_percent_coefficient: f64,
    /// Current that could be carried, over that which is, at the end of the horizon, in the state of the duty that
    /// releases first; below 1: it trips.
    pub current_in_hand_at_horizon: Option<f64>,
    /// That state.
    pub state: Option<String>,
    /// Why a number is missing.
    pub reason: Option<String>,
}

/// One row of the drift.
#[derive(Debug, Clone, Serialize)]
pub struct DriftRow {
    /// Years from new.
    pub years: f64,
    /// Part of the preload left.
    pub preload_left: Option<f64>,
    /// Contact resistance, ohm.
    pub contact_resistance_ohm: Option<f64>,
    /// Multiple of the release force that the latch takes just before it is moved.
    pub stuck_factor: Option<f64>,
    /// Trip point at the reference ambient, A.
    pub trip_point_a: Option<f64>,
    /// Trip point in the air of the state that releases first, just after the latch was moved, A.
    pub trip_point_in_service_a: Option<f64>,
    /// Trip time at twice the rating, cold, reference ambient, s.
    pub trip_time_2x_s: Option<f64>,
    /// Trip time at six times the rating, s.
    pub trip_time_6x_s: Option<f64>,
    /// Wait for the reset after the trip at twice the rating, s.
    pub relatch_wait_s: Option<f64>,
    /// 5, 50 and 95 % of the preload left, from uncertain constants.
    pub preload_left_band: Option<[f64; 3]>,
    /// 5, 50 and 95 % of the trip point in service, A.
    pub trip_point_band_a: Option<[f64; 3]>,
    /// Whether no test covers this row.
    pub extrapolated: bool,
    /// Why numbers are missing.
    pub reason: Option<String>,
}

/// Lives from uncertain constants.
#[derive(Debug, Clone, Serialize)]
pub struct Lives {
    /// Units drawn.
    pub units: u64,
    /// Seed.
    pub seed: u64,
    /// What was drawn, in words.
    pub drawn: Vec<String>,
    /// Why none were drawn.
    pub reason: Option<String>,
    /// Late and early by year, never added up.
    pub by_year: Vec<ByYear>,
    /// Late.
    pub late: Option<LifeSummary>,
    /// Early: trips in service.
    pub early: Option<LifeSummary>,
}

/// Probabilities by a year.
#[derive(Debug, Clone, Serialize)]
pub struct ByYear {
    /// Years.
    pub years: f64,
    /// Outside the published limits on the late side by then; `None` without limits.
    pub late: Option<Share>,
    /// Trips in service by then; `None` when nothing is carried.
    pub early: Option<Share>,
}

/// A share with its 95 % interval.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct Share {
    /// Share.
    pub share: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// Lives of one direction.
#[derive(Debug, Clone, Serialize)]
pub struct LifeSummary {
    /// Units that failed within the time searched.
    pub failed: u64,
    /// Units that fail new, at year 0.
    pub failed_new: u64,
    /// 5, 50, 95 % of the lives, years; `None` beyond the time searched.
    pub quantiles_years: [Option<f64>; 3],
    /// Weibull fit.
    pub weibull: Option<WeibullRecord>,
    /// Why there is no fit.
    pub reason: Option<String>,
    /// Lives in order, years, thinned to at most 400 points: (years, share failed).
    pub curve: Vec<(f64, f64)>,
}

/// A Weibull fit.
#[derive(Debug, Clone, Serialize)]
pub struct WeibullRecord {
    /// Shape with its 90 % interval.
    pub shape: [f64; 3],
    /// Scale, years, with its 90 % interval.
    pub scale_years: [f64; 3],
    /// Time by which a tenth has failed, years.
    pub b10_years: f64,
    /// Anderson-Darling statistic.
    pub anderson_darling: Option<f64>,
    /// Probability of so bad a fit if the lives were Weibull.
    pub probability: Option<f64>,
    /// Whether the fit may be used: the probability is at least 5 %.
    pub fits: Option<bool>,
}

/// Numerical errors.
#[derive(Debug, Clone, Serialize)]
pub struct AgeErrors {
    /// Largest difference between the interpolated and the engine's spring temperature, K.
    pub spring_temperature_k: f64,
    /// Error of the preload left at the horizon, from the steps in time.
    pub preload_left: f64,
    /// Relative error of trip times and trip points of the rows.
    pub rows_relative: Option<f64>,
    /// How it was computed.
    pub computed_with: String,
}
