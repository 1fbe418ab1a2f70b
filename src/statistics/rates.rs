//! Quantiles and rates of a population with their confidence.
//!
//! Intervals count units as independent draws. Points of a Sobol sequence or a Latin hypercube are
//! more even than that, so their intervals are wide rather than narrow. Units of one batch are
//! alike: their number is divided by the design effect 1 + (m - 1) r (L. Kish, Survey Sampling,
//! 1965, section 5.4; from memory), m units a batch, r the correlation of two of its units, taken
//! as the sum over the batch's inputs of first-order index times share between batches, which is
//! exact where the answer is a sum of functions of one input each.

use super::StatisticsError;
use super::histogram::{Enclosure, Histogram};
use super::order_statistics::{quantile_interval, quantile_rank};
use super::proportion::{clopper_pearson, wilson};
use serde::{Deserialize, Serialize};

/// Confidence of every interval.
pub const CONFIDENCE: f64 = 0.95;
/// Fewer hits or misses than this: the interval that covers for certain.
const FEW: u64 = 10;

/// So many of so many, with an interval.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Rate {
    /// Units.
    pub units: u64,
    /// Of so many.
    pub of: u64,
    /// Share.
    pub share: f64,
    /// Lower end of the interval.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// A quantile with an interval. A missing number is infinite (never) or beyond what so few units
/// can say.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Quantile {
    /// Probability below it.
    pub probability: f64,
    /// Value.
    pub value: Option<f64>,
    /// Lower end of the interval.
    pub low: Option<f64>,
    /// Upper end.
    pub high: Option<f64>,
}

/// Independent units that say as much as `units` in batches.
pub fn effective(units: u64, design_effect: f64) -> u64 {
    ((units as f64 / design_effect.max(1.0)).round() as u64).clamp(1.min(units), units)
}

/// A quantile of a histogram of finite and infinite values.
///
/// # Errors
/// No values.
pub fn quantile(
    histogram: &Histogram,
    p: f64,
    design_effect: f64,
) -> Result<Quantile, StatisticsError> {
    let units = histogram.count();
    let value = histogram.value_of_rank(quantile_rank(units, p)?)?;
    let effective = effective(units, design_effect);
    let ranks = quantile_interval(effective, p, CONFIDENCE)?;
    // Ranks among the effective units, as ranks among all.
    let at = |rank: Option<u64>, up: bool| -> Result<Option<Enclosure>, StatisticsError> {
        let Some(rank) = rank else { return Ok(None) };
        let scaled = rank as f64 / effective as f64 * units as f64;
        let rank = if up { scaled.ceil() } else { scaled.floor() };
        let rank = (rank as u64).clamp(1, units);
        histogram.value_of_rank(rank).map(Some)
    };
    let finite = |v: f64| v.is_finite().then_some(v);
    Ok(Quantile {
        probability: p,
        value: finite(middle(value)),
        low: at(ranks.low, false)?.and_then(|e| finite(e.low)),
        high: at(ranks.high, true)?.and_then(|e| finite(e.high)),
    })
}

fn middle(e: Enclosure) -> f64 {
    if e.low.is_infinite() || e.high.is_infinite() {
        e.low.max(e.high)
    } else {
        0.5 * (e.low + e.high)
    }
}

/// A rate of so many of so many.
///
/// # Errors
/// No units.
pub fn rate(hits: u64, units: u64, design_effect: f64) -> Result<Rate, StatisticsError> {
    let effective = effective(units, design_effect);
    let share = hits as f64 / units.max(1) as f64;
    let scaled = ((share * effective as f64).round() as u64).min(effective);
    let interval = if scaled < FEW || effective - scaled < FEW {
        clopper_pearson(scaled, effective, CONFIDENCE)?
    } else {
        wilson(scaled, effective, CONFIDENCE)?
    };
    Ok(Rate {
        units: hits,
        of: units,
        share,
        low: interval.low,
        high: interval.high,
    })
}
