//! Polynomials in place of the engine for units of a lot, with a bound measured on fresh units.
//!
//! What a polynomial follows must be smooth, and a trip time is not: it is endless at the trip
//! point. So the trip point is one polynomial in the unit's numbers, and the time in multiples of
//! that trip point is another, over the closed form of a body of one temperature ([`pace`]), which
//! takes the corner away. Whoever comes near a limit, near its trip point or far from the middle is
//! asked of the engine as before, so that counts are the engine's.

mod basis;
mod fitting;
mod pace;

use super::Plan;
use super::unit::{Answered, exactly};
use crate::predict::{Amperes, Carry, Finding};
use basis::Basis;
use pace::{Curve, pace_and_slope};
use serde::{Deserialize, Serialize};

/// No unit is asked of the polynomials beyond this score.
const FURTHEST: f64 = 4.5;
/// Fresh units on which the bound is measured.
const CHECKED: u64 = 4096;
/// The bound over the largest difference found: the next million units go a little further.
const SAFETY: f64 = 2.0;
/// Times known less well than this are asked of the engine, and polynomials that know trip points or
/// waits less well are not used.
const LARGEST_ERROR: f64 = 1e-2;
/// Nor are they when the engine would be asked for so large a share all the same.
const LARGEST_SHARE: f64 = 0.5;

/// How good the polynomials are.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct SurrogateRecord {
    /// No number that they give differs by more from the engine's, relative: twice the worst of the
    /// fresh units, and for times as it grows towards the trip point. `None` where none could be made.
    pub bound_relative: Option<f64>,
    /// The same of trip points alone.
    pub trip_point_relative: Option<f64>,
    /// Fresh units on which it was measured.
    pub checked: u64,
    /// Whether they are used: where they do not hold, every unit is asked of the engine.
    pub is_used: bool,
    /// Units of the lot that the engine was asked for.
    pub engine: u64,
}

/// The polynomials.
pub struct Surrogate {
    basis: Basis,
    columns: Columns,
    curves: Vec<Curve>,
    /// By carry: its curve.
    curve_of: Vec<usize>,
    /// Of each column that is no curve's: twice the largest difference found.
    bounds: Vec<f64>,
    /// Of each carry: twice the largest difference in trip time over one and its slope.
    time_bounds: Vec<f64>,
    clearance_m: f64,
}

/// Where the numbers of a unit stand in a row: the clearance over the nominal one, logarithms of
/// trip points, nodes of curves, logarithms of waits.
#[derive(Debug, Clone, Copy)]
struct Columns {
    airs: usize,
    curves: usize,
    carries: usize,
}

impl Columns {
    fn trip_point(self, air: usize) -> usize {
        1 + air
    }

    fn curve(self, number: usize) -> usize {
        1 + self.airs + number * pace::NODES
    }

    fn wait(self, carry: usize) -> usize {
        self.curve(self.curves) + carry
    }

    fn count(self) -> usize {
        self.wait(self.carries)
    }
}

/// A unit as the polynomials see it, and how wrong each time may be.
struct Guess {
    finding: Finding,
    errors: Vec<f64>,
}

impl Surrogate {
    /// Fits them and measures their bound; `None` where they do not hold.
    pub fn of(plan: &Plan) -> (Option<Surrogate>, SurrogateRecord) {
        let mut record = SurrogateRecord {
            bound_relative: None,
            trip_point_relative: None,
            checked: 0,
            is_used: false,
            engine: 0,
        };
        let Some(mut surrogate) = Surrogate::fitted(plan) else {
            return (None, record);
        };
        let (left, worst) = surrogate.measure(plan);
        let columns = surrogate.columns;
        let largest = |list: &[f64]| list.iter().copied().fold(0.0, f64::max);
        let points = largest(&surrogate.bounds[1..=columns.airs]);
        let smooth = largest(&surrogate.bounds);
        record.checked = CHECKED;
        record.is_used = smooth <= LARGEST_ERROR && left <= LARGEST_SHARE;
        record.bound_relative = Some(smooth.max(worst));
        record.trip_point_relative = Some(points);
        (record.is_used.then_some(surrogate), record)
    }

    /// Measures the bounds on fresh units, drawn as the lot draws them: the share of them that the
    /// engine has to be asked for, and the largest error that a time may have.
    fn measure(&mut self, plan: &Plan) -> (f64, f64) {
        let (values, found) = fitting::fresh(plan, CHECKED as usize);
        let own = || values.chunks_exact(plan.inputs.len()).zip(&found);
        for (values, exact) in own() {
            let scores = plan.scores(values);
            let (Some(exact), true) = (exact, is_near(&scores)) else {
                continue;
            };
            let row = self.basis.row(&scores);
            let truth = self.columns.numbers(exact, self.clearance_m);
            for (bound, (a, b)) in self.bounds.iter_mut().zip(row.iter().zip(truth)) {
                let off = (a - b).abs();
                if off.is_finite() {
                    *bound = bound.max(SAFETY * off);
                }
            }
            let current_a = plan.own_current_a(values);
            for (k, carry) in plan.questions.carries.iter().enumerate() {
                let Some((slope, time_s)) = self.time(&row, k, carry, current_a) else {
                    continue;
                };
                let off = libm::log(time_s / exact.times_s[k]).abs();
                if off.is_finite() {
                    let bound = &mut self.time_bounds[k];
                    *bound = bound.max(SAFETY * off / (1.0 + slope));
                }
            }
        }
        let (mut left, mut worst) = (0, 0.0f64);
        for (values, _) in own() {
            match self.guess(plan, values) {
                Some(guess) => worst = guess.errors.iter().copied().fold(worst, f64::max),
                None => left += 1,
            }
        }
        (f64::from(left) / found.len() as f64, worst)
    }

    /// Answers of units, from the polynomials where they serve, else from the engine.
    pub fn answer(&self, plan: &Plan, values: &[f64]) -> Vec<Answered> {
        let each = || values.chunks_exact(plan.inputs.len());
        let guesses: Vec<Option<Guess>> = each().map(|own| self.guess(plan, own)).collect();
        let missing = each().zip(&guesses).filter(|(_, guess)| guess.is_none());
        let left: Vec<f64> = missing.flat_map(|(own, _)| own).copied().collect();
        let mut exact = exactly(plan, &left).into_iter();
        let whole = guesses.into_iter().map_while(|guess| match guess {
            Some(guess) => Some(Answered {
                finding: Ok(guess.finding),
                alone: false,
                by_surrogate: true,
            }),
            None => exact.next(),
        });
        whole.collect()
    }

    /// What they say of a unit; `None` where they do not know it well enough.
    fn guess(&self, plan: &Plan, values: &[f64]) -> Option<Guess> {
        let scores = plan.scores(values);
        if !is_near(&scores) {
            return None;
        }
        let row = self.basis.row(&scores);
        let own_a = plan.own_current_a(values);
        let carries = &plan.questions.carries;
        let mut guess = Guess {
            finding: Finding {
                clearance_m: self.clearance_m * row[0],
                trip_points_a: (0..self.columns.airs)
                    .map(|air| libm::exp(row[self.columns.trip_point(air)]))
                    .collect(),
                times_s: Vec::with_capacity(carries.len()),
                waits_s: vec![f64::NAN; carries.len()],
            },
            errors: Vec::with_capacity(carries.len()),
        };
        for (k, carry) in carries.iter().enumerate() {
            let column = self.columns.trip_point(carry.air);
            let excess = libm::log(current_a(carry, own_a)) - row[column];
            if excess <= -self.bounds[column] {
                guess.finding.times_s.push(f64::INFINITY);
                guess.errors.push(0.0);
                continue;
            }
            let (slope, time_s) = self.time(&row, k, carry, own_a)?;
            let error = self.time_bounds[k] * (1.0 + slope);
            if error > LARGEST_ERROR {
                return None;
            }
            if carry.cool {
                let wait = row[self.columns.wait(k)];
                guess.finding.waits_s[k] = Some(libm::exp(wait)).filter(|w| w.is_finite())?;
            }
            guess.finding.times_s.push(time_s);
            guess.errors.push(error);
        }
        is_clear(plan, &guess).then_some(guess)
    }

    /// By how much more of itself the trip time of a carry moves than the trip point does, and that
    /// time; `None` up to the trip point.
    fn time(&self, row: &[f64], k: usize, carry: &Carry, own_a: f64) -> Option<(f64, f64)> {
        let held_a = libm::exp(row[self.columns.trip_point(carry.air)]);
        let (pace, slope) = pace_and_slope(current_a(carry, own_a), held_a, carry.before_a)?;
        let number = self.curve_of[k];
        let first = self.columns.curve(number);
        let ratio = self.curves[number].at(&row[first..first + pace::NODES], pace)?;
        Some((slope, pace * libm::exp(ratio)))
    }
}

impl Columns {
    /// What is fitted of an answer; NaN where the unit has none, and for curves.
    fn numbers(self, finding: &Finding, clearance_m: f64) -> Vec<f64> {
        let mut all = vec![finding.clearance_m / clearance_m];
        all.extend(finding.trip_points_a.iter().map(|a| libm::log(*a)));
        all.resize(self.wait(0), f64::NAN);
        all.extend(finding.waits_s.iter().map(|s| libm::log(*s)));
        all
    }
}

/// Whether they are asked about a unit with these scores at all.
fn is_near(scores: &[f64]) -> bool {
    scores.iter().all(|s| s.abs() <= FURTHEST)
}

/// Whether no limit lies within the error of a time.
fn is_clear(plan: &Plan, guess: &Guess) -> bool {
    let apart = |carry: usize, limit_s: f64| {
        let off = (guess.finding.times_s[carry] / limit_s - 1.0).abs();
        !(limit_s.is_finite() && off <= guess.errors[carry])
    };
    let demand = [plan.demand.trips_within_s, plan.demand.holds_for_s];
    let own = demand.into_iter().flatten().all(|limit| apart(0, limit));
    let mut rows = plan.limits.iter().map(|row| (row.carry, row.limit));
    own && rows.all(|(k, limit)| apart(k, limit.at_least_s) && apart(k, limit.at_most_s))
}

fn current_a(carry: &Carry, own_a: f64) -> f64 {
    match carry.current {
        Amperes::Own => own_a,
        Amperes::Of(a) => a,
    }
}
