//! Lives of units drawn from uncertain constants.

use crate::quantity::Dimension;
use crate::statistics::rates::Rate;
use serde::{Deserialize, Serialize};

/// Lives from uncertain constants.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Lives {
    /// Units drawn.
    pub units: u64,
    /// Seed.
    pub seed: u64,
    /// What was drawn.
    pub drawn: Vec<Drawn>,
    /// Why none were drawn.
    pub missing: Option<NoLives>,
    /// Late and early by year, never added up.
    pub by_year: Vec<ByYear>,
    /// Late.
    pub late: Option<LifeSummary>,
    /// Early: trips in service.
    pub early: Option<LifeSummary>,
}

/// Probabilities by a year.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct ByYear {
    /// Years.
    pub years: f64,
    /// Outside the published limits on the late side by then; `None` without limits.
    pub late: Option<Rate>,
    /// Trips in service by then; `None` when nothing is carried.
    pub early: Option<Rate>,
}

/// Lives of one direction.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
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
    pub no_fit: Option<NoFit>,
    /// Lives in order, years, thinned to at most 400 points: (years, share failed).
    pub curve: Vec<(f64, f64)>,
}

/// A Weibull fit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
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

/// A constant that was drawn.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Drawn {
    /// Path in the file.
    pub path: String,
    /// Value, SI.
    pub value: f64,
    /// Standard uncertainty, SI.
    pub standard_uncertainty: f64,
    /// What it is.
    pub dimension: Dimension,
}

/// Why no units were drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum NoLives {
    /// No constant and no current of the duty carries a tolerance.
    NothingUncertain,
    /// No units were asked for.
    NotAsked,
}

/// Why lives have no fit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "no_fit", rename_all = "snake_case")]
#[non_exhaustive]
pub enum NoFit {
    /// Too few units fail between new and the end of the search.
    TooFew {
        /// So many do.
        failed_later: u64,
        /// Of so many.
        units: u64,
    },
    /// No Weibull distribution has the greatest likelihood.
    NotFound,
}
