//! Least squares over the free numbers: Levenberg and Marquardt's steps, held inside the bounds.
//!
//! Slopes are differences of whole predictions, whose numerical error (1e-5) lies far below the
//! step of 1e-3.

use super::targets::{Choice, Targets};
use super::want::{Found, Want, found};
use crate::predict::parallel;
use crate::scenario::{Scenario, set};
use nalgebra::{DMatrix, DVector};
use std::sync::atomic::{AtomicU64, Ordering};

/// Step of a slope, as a share of the range of the number.
pub(super) const STEP: f64 = 1e-3;
/// Rounds of a descent.
pub(super) const ROUNDS: usize = 30;
/// Longest step of the search, as a share of the range.
const LONGEST: f64 = 0.35;

/// A task under search.
pub(super) struct Search<'t> {
    pub(super) targets: &'t Targets,
    /// How far inside its window each answer is wanted.
    pub(super) margins: Vec<f64>,
    /// How much each want counts.
    pub(super) weights: Vec<f64>,
    pub(super) predicted: AtomicU64,
}

/// A part: a place for each free thing, what it does, and how far that is from what is wanted.
#[derive(Debug, Clone)]
pub(super) struct Candidate {
    pub(super) at: Vec<f64>,
    pub(super) found: Vec<Found>,
    pub(super) miss: Vec<f64>,
}

impl Candidate {
    /// Sum of the squares of what is missed.
    pub(super) fn sum(&self) -> f64 {
        self.miss.iter().map(|m| m * m).sum()
    }
}

impl<'t> Search<'t> {
    pub(super) fn new(targets: &'t Targets) -> Self {
        Self {
            targets,
            margins: targets.wants.iter().map(Want::usual_margin).collect(),
            weights: vec![1.0; targets.wants.len()],
            predicted: AtomicU64::new(0),
        }
    }

    /// What is set in the scenario at a place.
    pub(super) fn values(&self, at: &[f64]) -> Vec<(&str, String)> {
        let free = self.targets.free.iter().zip(at);
        free.map(|(f, at)| (f.path.as_str(), f.choice.text(*at)))
            .collect()
    }

    /// The scenario at a place, and its text; `None`: no such part.
    pub(super) fn scenario(&self, at: &[f64]) -> Option<(String, Scenario)> {
        let values = self.values(at);
        let values: Vec<(&str, &str)> = values.iter().map(|(p, v)| (*p, v.as_str())).collect();
        set((&self.targets.name, &self.targets.text), "design", &values).ok()
    }

    /// The part at a place; `None`: there is none, or no prediction.
    pub(super) fn candidate(&self, at: Vec<f64>) -> Option<Candidate> {
        self.predicted.fetch_add(1, Ordering::Relaxed);
        let found = found(&self.scenario(&at)?.1, &self.targets.wants).ok()?;
        let wants = self.targets.wants.iter().enumerate();
        let miss = wants
            .map(|(k, want)| self.weights[k] * want.miss(found[k].merit, self.margins[k]))
            .collect();
        Some(Candidate { at, found, miss })
    }

    /// Slopes of the merits over places, one column a free number of `over`; a column of nothing
    /// where a step leads nowhere.
    pub(super) fn slopes(&self, from: &Candidate, over: &[usize], step: f64) -> DMatrix<f64> {
        let column = |k: &usize| -> Vec<f64> {
            let step = if from.at[*k] + step > 1.0 {
                -step
            } else {
                step
            };
            let mut at = from.at.clone();
            at[*k] += step;
            let beside = self.candidate(at);
            let each = from.found.iter().enumerate();
            each.map(|(w, here)| {
                let there = beside.as_ref().map_or(f64::NAN, |b| b.found[w].merit);
                Some((there - here.merit) / step)
                    .filter(|s| s.is_finite())
                    .unwrap_or(0.0)
            })
            .collect()
        };
        let columns = parallel::map(over, column, &mut |_| {});
        DMatrix::from_fn(from.found.len(), over.len(), |w, k| columns[k][w])
    }

    /// Descends over the free numbers of `over` until every want is met or nothing more is won.
    pub(super) fn descend(&self, start: Candidate, over: &[usize], rounds: usize) -> Candidate {
        let mut best = start;
        let mut damping = 1e-3;
        for _ in 0..rounds {
            if best.sum() == 0.0 || over.is_empty() {
                break;
            }
            let mut slopes = self.slopes(&best, over, STEP);
            for (mut row, weight) in slopes.row_iter_mut().zip(&self.weights) {
                row *= *weight;
            }
            // What is held to the middle of its window pulls always.
            let held: Vec<bool> = self.margins.iter().map(|m| *m == f64::MAX).collect();
            let before = best.sum();
            for _ in 0..6 {
                let Some(at) = step(&best, &slopes, (over, &held), damping) else {
                    break;
                };
                match self.candidate(at).filter(|next| next.sum() < best.sum()) {
                    Some(next) => {
                        best = next;
                        damping *= 0.2;
                        break;
                    }
                    None => damping *= 8.0,
                }
            }
            if best.sum() > 0.9999 * before {
                break;
            }
        }
        best
    }

    /// Free things that move without a break, stock among them.
    pub(super) fn numbers(&self) -> Vec<usize> {
        let is_number = |k: &usize| !matches!(self.targets.free[*k].choice, Choice::Words(_));
        (0..self.targets.free.len()).filter(is_number).collect()
    }
}

/// Where a damped step of least squares leads, over the numbers that it does not push out of their
/// bounds.
fn step(
    from: &Candidate,
    slopes: &DMatrix<f64>,
    (over, held): (&[usize], &[bool]),
    damping: f64,
) -> Option<Vec<f64>> {
    let miss = DVector::from_vec(from.miss.clone());
    // A want that is met does not pull, as long as it stays so.
    let pulls = DMatrix::from_fn(slopes.nrows(), slopes.ncols(), |w, k| {
        match miss[w] == 0.0 && !held[w] {
            true => 0.0,
            false => slopes[(w, k)],
        }
    });
    let gradient = pulls.transpose() * &miss;
    let is_open = |k: &usize| {
        let at = from.at[over[*k]];
        !(at <= 0.0 && gradient[*k] > 0.0 || at >= 1.0 && gradient[*k] < 0.0)
    };
    let open: Vec<usize> = (0..over.len()).filter(is_open).collect();
    if open.is_empty() {
        return None;
    }
    let pulls = pulls.select_columns(&open);
    let mut normal = pulls.transpose() * &pulls;
    let most = normal.diagonal().max().max(1e-12);
    for k in 0..open.len() {
        normal[(k, k)] += damping * most;
    }
    let down = -(pulls.transpose() * &miss);
    let mut way = normal.cholesky()?.solve(&down);
    let longest = way.amax();
    if longest > LONGEST {
        way *= LONGEST / longest;
    }
    let mut at = from.at.clone();
    for (k, by) in open.iter().zip(way.iter()) {
        let place = &mut at[over[*k]];
        *place = (*place + by).clamp(0.0, 1.0);
    }
    (at != from.at).then_some(at)
}
