//! Lives of many units whose constants are drawn: late and early apart.

use super::constants::{Constants, MOST_LOSS, YEAR_S};
use super::draw::Draws;
use super::drift::Drift;
use super::error::AgeError;
use super::map::{Map, Side};
use super::outcome::{ByYear, LifeSummary, Lives, NoFit, WeibullRecord};
use super::view::View;
use crate::predict::parallel;
use crate::statistics::kaplan_meier::Life;
use crate::statistics::order_statistics::quantile_rank;
use crate::statistics::rates::{Rate, rate};
use crate::statistics::weibull_fit::fit;
use crate::statistics::weibull_goodness::goodness;

/// Tolerance of a step for a drawn unit: its constants are known to percents.
const TOLERANCE: f64 = 1e-6;
/// Resamples behind the goodness of a fit.
const RESAMPLES: u32 = 99;
/// Fewest failures a distribution is fitted to.
const FEWEST: usize = 10;
/// Points of a curve that are kept.
const POINTS: usize = 400;

/// One drawn unit.
pub struct Unit {
    /// Early life, years.
    pub early_years: Option<f64>,
    /// Late life, years.
    pub late_years: Option<f64>,
    /// Loss, contact resistance and hold (just moved) at the years of the rows.
    pub at_years: Vec<(f64, f64, f64)>,
}

/// What is asked of every unit.
pub struct Ask<'a> {
    /// Temperatures and margins.
    pub map: &'a Map,
    /// Constants as given.
    pub nominal: &'a Constants,
    /// Draws.
    pub draws: &'a Draws,
    /// Units.
    pub units: u64,
    /// Seed.
    pub seed: u64,
    /// Lives are looked for up to this, years.
    pub searched_years: f64,
    /// Years of the rows.
    pub years: &'a [f64],
    /// Whether the new part already releases in its duty.
    pub releases_new: bool,
}

impl Ask<'_> {
    /// All units, in order.
    ///
    /// # Errors
    /// Draws that no distribution has.
    pub fn units(&self, done: &mut (dyn FnMut(usize) + Send)) -> Result<Vec<Unit>, AgeError> {
        let plan = self.draws.plan(self.units, self.seed)?;
        let numbers: Vec<u64> = (0..self.units).collect();
        parallel::map(
            &numbers,
            |n| {
                let constants = self.draws.unit(self.nominal, &plan, *n)?;
                Ok(self.unit(&constants))
            },
            done,
        )
        .into_iter()
        .collect()
    }

    fn unit(&self, constants: &Constants) -> Unit {
        let view = View::new(self.map, &constants.current_factors);
        let end_s = self.searched_years * YEAR_S;
        let drift = Drift::follow(constants, &view, end_s, TOLERANCE);
        let early = if self.releases_new {
            Some(0.0)
        } else {
            service_life_s(&drift, end_s)
        };
        let late = drift.first(end_s, |worn| {
            let hold = view.hold(worn.loss, worn.stuck.1);
            view.outside(Side::Late, worn.contact_ohm, hold)
                .map_or(f64::NEG_INFINITY, |(outside, _)| outside)
        });
        let at_years = self
            .years
            .iter()
            .map(|y| {
                let worn = drift.at(y * YEAR_S);
                let hold = view.hold(worn.loss.min(MOST_LOSS), worn.stuck.0);
                (worn.loss, worn.contact_ohm, hold)
            })
            .collect();
        Unit {
            early_years: early.map(|s| s / YEAR_S),
            late_years: late.map(|s| s / YEAR_S),
            at_years,
        }
    }
}

/// Time at which some state of the duty releases, s.
pub fn service_life_s(drift: &Drift<'_, '_>, end_s: f64) -> Option<f64> {
    let view = drift.view;
    drift.first(end_s, |worn| {
        let hold = view.hold(worn.loss, worn.stuck.0);
        view.carrying(worn.contact_ohm, hold)
            .map_or(f64::NEG_INFINITY, |(margin, _)| margin)
    })
}

/// The record of the units. `has_limits`, `carries`: whether a late and an early life can be told
/// at all.
///
/// # Errors
/// No units.
pub fn record(
    ask: &Ask<'_>,
    units: &[Unit],
    has_limits: bool,
    carries: bool,
) -> Result<Lives, AgeError> {
    let late: Vec<Option<f64>> = units.iter().map(|u| u.late_years).collect();
    let early: Vec<Option<f64>> = units.iter().map(|u| u.early_years).collect();
    let by_year = ask
        .years
        .iter()
        .filter(|y| **y >= 1.0 || **y == ask.years[ask.years.len() - 1])
        .map(|y| {
            Ok(ByYear {
                years: *y,
                late: has_limits.then(|| share(&late, *y)).transpose()?,
                early: carries.then(|| share(&early, *y)).transpose()?,
            })
        })
        .collect::<Result<_, AgeError>>()?;
    Ok(Lives {
        units: ask.units,
        seed: ask.seed,
        drawn: ask.draws.record(),
        missing: None,
        by_year,
        late: has_limits
            .then(|| summary(&late, ask.searched_years, ask.seed))
            .transpose()?,
        early: carries
            .then(|| summary(&early, ask.searched_years, ask.seed))
            .transpose()?,
    })
}

fn share(lives: &[Option<f64>], years: f64) -> Result<Rate, AgeError> {
    let hits = lives.iter().flatten().filter(|l| **l <= years).count();
    Ok(rate(hits as u64, lives.len() as u64, 1.0)?)
}

/// Quantiles, curve and fit of lives, years; `None`: not failed in the time searched.
pub fn summary(
    lives: &[Option<f64>],
    searched_years: f64,
    seed: u64,
) -> Result<LifeSummary, AgeError> {
    let mut sorted: Vec<f64> = lives.iter().flatten().copied().collect();
    sorted.sort_by(f64::total_cmp);
    let n = lives.len() as u64;
    let quantile = |p: f64| -> Result<Option<f64>, AgeError> {
        let rank = quantile_rank(n, p)? as usize;
        Ok(sorted.get(rank - 1).copied())
    };
    let quantiles_years = [quantile(0.05)?, quantile(0.5)?, quantile(0.95)?];
    let every = sorted.len().div_ceil(POINTS).max(1);
    let curve = sorted
        .iter()
        .enumerate()
        .filter(|(k, _)| k % every == 0 || k + 1 == sorted.len())
        .map(|(k, life)| (*life, (k + 1) as f64 / n as f64))
        .collect();
    let positive: Vec<f64> = sorted.iter().copied().filter(|l| *l > 0.0).collect();
    let failed_new = (sorted.len() - positive.len()) as u64;
    let (weibull, no_fit) = if positive.len() < FEWEST {
        let too_few = NoFit::TooFew {
            failed_later: positive.len() as u64,
            units: n,
        };
        (None, Some(too_few))
    } else {
        let survivors = lives.iter().filter(|l| l.is_none()).count();
        let all: Vec<Life> = positive
            .iter()
            .map(|l| Life::failed(*l))
            .chain(std::iter::repeat_n(
                Life::survived(searched_years),
                survivors,
            ))
            .collect();
        match weibull(&all, seed) {
            Ok(record) => (Some(record), None),
            Err(_) => (None, Some(NoFit::NotFound)),
        }
    };
    Ok(LifeSummary {
        failed: sorted.len() as u64,
        failed_new,
        quantiles_years,
        weibull,
        no_fit,
        curve,
    })
}

fn weibull(lives: &[Life], seed: u64) -> Result<WeibullRecord, AgeError> {
    let found = fit(lives)?;
    let (shape, scale) = (found.shape_interval(0.9)?, found.scale_interval(0.9)?);
    let tested = goodness(lives, RESAMPLES, seed).ok();
    Ok(WeibullRecord {
        shape: [found.distribution.shape(), shape.low, shape.high],
        scale_years: [found.distribution.scale(), scale.low, scale.high],
        b10_years: found.distribution.quantile(0.1)?,
        anderson_darling: tested.as_ref().map(|g| g.statistic),
        probability: tested.as_ref().map(|g| g.probability),
        fits: tested.as_ref().map(|g| g.probability >= 0.05),
    })
}

/// 5, 50 and 95 % of values; `None` without values or with one that is not finite.
pub fn band(values: impl Iterator<Item = f64>) -> Option<[f64; 3]> {
    let mut sorted: Vec<f64> = values.collect();
    if sorted.is_empty() || sorted.iter().any(|v| !v.is_finite()) {
        return None;
    }
    sorted.sort_by(f64::total_cmp);
    let n = sorted.len() as u64;
    let at = |p: f64| Some(sorted[quantile_rank(n, p).ok()? as usize - 1]);
    Some([at(0.05)?, at(0.5)?, at(0.95)?])
}
