//! What a chunk of units leaves behind: sums, counts and histograms that merge to the same bytes in
//! any order, in memory that does not grow with the number of units.

use super::Plan;
use super::unit::Answered;
use crate::predict::Finding;
use crate::scenario::PRELOADS;
use crate::statistics::StatisticsError;
use crate::statistics::histogram::Histogram;
use crate::statistics::sensitivity::SobolSums;
use crate::statistics::summary::Summary;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Bins of a histogram are 2^-10 wide, relative.
const FINE: u32 = 10;
/// Failed units kept by number.
pub const KEPT_FAILURES: usize = 100;
/// Units drawn in the scatter figure, about.
pub const SCATTER: u64 = 1500;

/// One quantity of every unit: its summary where it is finite, its histogram with the infinite
/// ones.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Measure {
    /// Of the finite values.
    pub finite: Summary,
    /// Of all values.
    pub all: Histogram,
}

impl Measure {
    fn new() -> Result<Measure, StatisticsError> {
        Ok(Measure {
            finite: Summary::new(),
            all: Histogram::new(FINE)?,
        })
    }

    fn add(&mut self, value: f64) -> Result<(), StatisticsError> {
        if value.is_nan() {
            return Ok(());
        }
        if value.is_finite() {
            self.finite.add(value)?;
        }
        self.all.add(value)
    }

    fn merge(&mut self, other: &Measure) -> Result<(), StatisticsError> {
        self.finite.merge(&other.finite);
        self.all.merge(&other.all)
    }
}

/// Units on either side of a demand; early and late are never added up.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sides {
    /// Too late, or never.
    pub late: u64,
    /// Too early.
    pub early: u64,
    /// Judged.
    pub units: u64,
}

impl Sides {
    /// Judge a trip time; infinite is never.
    fn judge(&mut self, time_s: f64, at_least_s: f64, at_most_s: f64) {
        if time_s.is_nan() {
            return;
        }
        self.units += 1;
        // An infinite "at most" means that no upper limit is set.
        if at_most_s.is_finite() && time_s > at_most_s {
            self.late += 1;
        } else if time_s < at_least_s {
            self.early += 1;
        }
    }

    fn merge(&mut self, other: &Sides) {
        self.late += other.late;
        self.early += other.early;
        self.units += other.units;
    }
}

/// A unit without answers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FailedUnit {
    /// Its number.
    pub unit: u64,
    /// Why.
    pub reason: String,
}

/// Rows of the sensitivity analysis of one quantity.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Rows {
    /// Their sums.
    pub sums: SobolSums,
    /// Rows in which some unit had no finite value.
    pub left_out: u64,
}

/// What units leave behind.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Tally {
    /// Units.
    pub units: u64,
    /// Units that had to be asked alone.
    pub alone: u64,
    /// Units that the engine was asked for where polynomials answer for others.
    #[serde(default)]
    pub engine: u64,
    /// Units without answers.
    pub failed: u64,
    /// Why, with how many.
    pub reasons: BTreeMap<String, u64>,
    /// The first of them by number.
    pub failures: Vec<FailedUnit>,
    /// Trip point at the stated air, A.
    pub trip_point_a: Measure,
    /// Trip time under the load, s.
    pub trip_time_s: Measure,
    /// Wait to relatch after it, s.
    pub relatch_wait_s: Measure,
    /// Clearance, m.
    pub clearance_m: Measure,
    /// Trip times of the bands, s.
    pub bands_s: Vec<Histogram>,
    /// Against the demand of the load.
    pub demand: Sides,
    /// Against every row of the published limits.
    pub limits: Vec<Sides>,
    /// Units late at some row, and units early at some row.
    pub any_limit: Sides,
    /// Some units: number, bits of the value of the input drawn, and of the trip point.
    pub scatter: Vec<(u64, u64, u64)>,
    /// Sensitivity of trip point, trip time, wait.
    pub rows: Option<[Rows; 3]>,
}

/// The input against which trip points are drawn: the preload if it differs, else the first.
pub fn drawn_input(plan: &Plan) -> usize {
    let is = |path: &str| plan.inputs.list.iter().position(|i| i.path == path);
    PRELOADS.into_iter().find_map(is).unwrap_or(0)
}

impl Tally {
    /// Of no units.
    ///
    /// # Errors
    /// None that is known.
    pub fn new(plan: &Plan) -> Result<Tally, StatisticsError> {
        let rows = |centre: f64| Rows {
            sums: SobolSums::new(
                plan.inputs.len(),
                if centre.is_finite() { centre } else { 0.0 },
            ),
            left_out: 0,
        };
        let bands = plan.bands.iter().map(|_| Histogram::new(FINE));
        Ok(Tally {
            units: 0,
            alone: 0,
            engine: 0,
            failed: 0,
            reasons: BTreeMap::new(),
            failures: Vec::new(),
            trip_point_a: Measure::new()?,
            trip_time_s: Measure::new()?,
            relatch_wait_s: Measure::new()?,
            clearance_m: Measure::new()?,
            bands_s: bands.collect::<Result<_, _>>()?,
            demand: Sides::default(),
            limits: vec![Sides::default(); plan.limits.len()],
            any_limit: Sides::default(),
            scatter: Vec::new(),
            rows: plan.rows.is_some().then(|| {
                [
                    rows(plan.trip_point_a(&plan.nominal)),
                    rows(plan.nominal.times_s[0]),
                    rows(plan.nominal.waits_s[0]),
                ]
            }),
        })
    }

    /// Take in a unit.
    ///
    /// # Errors
    /// A value that no summary takes.
    pub fn add(
        &mut self,
        plan: &Plan,
        unit: u64,
        values: &[f64],
        answered: &Answered,
    ) -> Result<(), StatisticsError> {
        self.units += 1;
        self.alone += u64::from(answered.alone);
        self.engine += u64::from(plan.surrogate.is_some() && !answered.by_surrogate);
        let finding = match &answered.finding {
            Ok(finding) => finding,
            Err(reason) => {
                self.failed += 1;
                *self.reasons.entry(reason.clone()).or_insert(0) += 1;
                if self.failures.len() < KEPT_FAILURES {
                    self.failures.push(FailedUnit {
                        unit,
                        reason: reason.clone(),
                    });
                }
                return Ok(());
            }
        };
        let trip_point_a = plan.trip_point_a(finding);
        self.trip_point_a.add(trip_point_a)?;
        self.trip_time_s.add(finding.times_s[0])?;
        self.relatch_wait_s.add(finding.waits_s[0])?;
        if finding.clearance_m.is_finite() {
            self.clearance_m.add(finding.clearance_m)?;
        }
        for (histogram, (carry, _)) in self.bands_s.iter_mut().zip(&plan.bands) {
            let time_s = finding.times_s[*carry];
            if !time_s.is_nan() {
                histogram.add(time_s)?;
            }
        }
        self.judge(plan, finding);
        let stride = (plan.settings.units / SCATTER).max(1);
        if unit.is_multiple_of(stride) && trip_point_a.is_finite() {
            let drawn = values[drawn_input(plan)];
            self.scatter
                .push((unit, drawn.to_bits(), trip_point_a.to_bits()));
        }
        Ok(())
    }

    fn judge(&mut self, plan: &Plan, finding: &Finding) {
        let demand = &plan.demand;
        let time_s = finding.times_s[0];
        if !time_s.is_nan() {
            self.demand.units += 1;
            let late = match demand.trips_within_s {
                Some(within) if within.is_finite() => time_s > within,
                Some(_) => time_s.is_infinite(),
                None => false,
            };
            self.demand.late += u64::from(late);
            self.demand.early += u64::from(!late && demand.holds_for_s.is_some_and(|h| time_s < h));
        }
        let (mut late, mut early) = (false, false);
        for (sides, row) in self.limits.iter_mut().zip(&plan.limits) {
            let before = *sides;
            sides.judge(
                finding.times_s[row.carry],
                row.limit.at_least_s,
                row.limit.at_most_s,
            );
            late |= sides.late > before.late && !row.missed;
            early |= sides.early > before.early && !row.missed;
        }
        if !plan.limits.is_empty() {
            self.any_limit.units += 1;
            self.any_limit.late += u64::from(late);
            self.any_limit.early += u64::from(early);
        }
    }

    /// Take in the units of another, whose numbers are higher.
    ///
    /// # Errors
    /// Tallies of different plans.
    pub fn merge(&mut self, other: &Tally) -> Result<(), StatisticsError> {
        if self.bands_s.len() != other.bands_s.len() || self.limits.len() != other.limits.len() {
            return Err(StatisticsError::Unlike("the questions asked"));
        }
        self.units += other.units;
        self.alone += other.alone;
        self.engine += other.engine;
        self.failed += other.failed;
        for (reason, count) in &other.reasons {
            *self.reasons.entry(reason.clone()).or_insert(0) += count;
        }
        let room = KEPT_FAILURES.saturating_sub(self.failures.len());
        self.failures
            .extend(other.failures.iter().take(room).cloned());
        self.trip_point_a.merge(&other.trip_point_a)?;
        self.trip_time_s.merge(&other.trip_time_s)?;
        self.relatch_wait_s.merge(&other.relatch_wait_s)?;
        self.clearance_m.merge(&other.clearance_m)?;
        for (mine, theirs) in self.bands_s.iter_mut().zip(&other.bands_s) {
            mine.merge(theirs)?;
        }
        self.demand.merge(&other.demand);
        for (mine, theirs) in self.limits.iter_mut().zip(&other.limits) {
            mine.merge(theirs);
        }
        self.any_limit.merge(&other.any_limit);
        self.scatter.extend(&other.scatter);
        if let (Some(mine), Some(theirs)) = (&mut self.rows, &other.rows) {
            for (mine, theirs) in mine.iter_mut().zip(theirs) {
                mine.sums.merge(&theirs.sums)?;
                mine.left_out += theirs.left_out;
            }
        }
        Ok(())
    }
}
