//! Least squares over the free numbers: Levenberg and Marquardt's steps, held inside the bounds.
//!
//! Slopes are those of the equations (`exact`); where these do not tell them, differences of whole
//! predictions, whose numerical error (1e-5) lies far below the step of 1e-3.

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
/// Part of the usual margin where something else is to go as far as it can.
const NEAR_THE_END: f64 = 0.1;
/// So little of a miss is none, on the scale of merits.
const NEGLIGIBLE: f64 = 1e-4;
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
        // What is to go as far as it can goes up to the others' ends.
        let part = match targets.aim() {
            Some(_) => NEAR_THE_END,
            None => 1.0,
        };
        let margin = |want: &Want| part * want.usual_margin();
        Self {
            targets,
            margins: targets.wants.iter().map(margin).collect(),
            weights: vec![1.0; targets.wants.len()],
            predicted: AtomicU64::new(0),
        }
    }

    /// What is set in the scenario at a place.
    pub(super) fn values(&self, at: &[f64]) -> Vec<(&str, String)> {
        let free = self.targets.free.iter().zip(at);
        free.map(|(f, at)| (f.path.as_str(), f.text(*at))).collect()
    }

    /// The scenario at a place, and its text; `None`: no such part.
    pub(super) fn scenario(&self, at: &[f64]) -> Option<(String, Scenario)> {
        let values = self.values(at);
        let values: Vec<(&str, &str)> = values.iter().map(|(p, v)| (*p, v.as_str())).collect();
        set((&self.targets.name, &self.targets.text), "design", &values).ok()
    }

    /// What the text of a scenario costs, where that was asked.
    pub(super) fn cost(&self, text: &str) -> f64 {
        let cost = self.targets.cost.as_ref();
        cost.map_or(f64::NAN, |cost| cost.value(text))
    }

    /// The part at a place; `None`: there is none, or no prediction.
    pub(super) fn candidate(&self, at: Vec<f64>) -> Option<Candidate> {
        self.predicted.fetch_add(1, Ordering::Relaxed);
        let (text, scenario) = self.scenario(&at)?;
        let found = found(&scenario, self.targets, self.cost(&text)).ok()?;
        let miss = (0..found.len())
            .map(|w| self.weights[w] * self.miss(w, found[w].merit))
            .collect();
        Some(Candidate { at, found, miss })
    }

    /// How far a merit is from where it is wanted; nothing where it hardly is, or the last steps
    /// would only come closer and closer to the margin.
    fn miss(&self, want: usize, merit: f64) -> f64 {
        let miss = self.targets.wants[want].miss(merit, self.margins[want]);
        match miss.abs() <= NEGLIGIBLE.min(0.3 * self.margins[want]) {
            true => 0.0,
            false => miss,
        }
    }

    /// Slopes of the merits over places, one column a free number of `over`.
    pub(super) fn slopes(&self, from: &Candidate, over: &[usize]) -> DMatrix<f64> {
        let exact = self.exact(from, over);
        let left = over.iter().zip(&exact).filter(|(_, told)| told.is_none());
        let left: Vec<usize> = left.map(|(k, _)| *k).collect();
        let mut asked = self.differences(from, &left, STEP).into_iter();
        let columns = exact.into_iter();
        let columns: Vec<Vec<f64>> = columns
            .map(|told| told.or_else(|| asked.next()).unwrap_or_default())
            .collect();
        DMatrix::from_fn(from.found.len(), over.len(), |w, k| columns[k][w])
    }

    /// The same as differences of whole predictions, a column each; nothing where a step leads
    /// nowhere.
    pub(super) fn differences(&self, from: &Candidate, over: &[usize], step: f64) -> Vec<Vec<f64>> {
        let column = |k: &usize| -> Vec<f64> {
            let step = if from.at[*k] + step > 1.0 {
                -step
            } else {
                step
            };
            let choice = &self.targets.free[*k].choice;
            let said = |at: f64| choice.place(choice.said(at));
            let mut at = from.at.clone();
            at[*k] += step;
            let apart = said(at[*k]) - said(from.at[*k]);
            let beside = self.candidate(at);
            let each = from.found.iter().enumerate();
            each.map(|(w, here)| {
                let there = beside.as_ref().map_or(f64::NAN, |b| b.found[w].merit);
                Some((there - here.merit) / apart)
                    .filter(|s| s.is_finite())
                    .unwrap_or(0.0)
            })
            .collect()
        };
        parallel::map(over, column, &mut |_| {})
    }

    /// Descends over the free numbers of `over` until every want is met or nothing more is won.
    pub(super) fn descend(&self, start: Candidate, over: &[usize], rounds: usize) -> Candidate {
        let mut best = start;
        let mut damping = 1e-3;
        for _ in 0..rounds {
            if best.sum() == 0.0 || over.is_empty() {
                break;
            }
            let slopes = self.slopes(&best, over);
            let before = best.sum();
            for _ in 0..6 {
                let Some(at) = self.step(&best, &slopes, over, damping) else {
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

    /// Where a damped step of least squares leads, over the numbers that it does not push out of
    /// their bounds. A want that is met pulls only if the step would take it out of its window.
    fn step(
        &self,
        from: &Candidate,
        slopes: &DMatrix<f64>,
        over: &[usize],
        damping: f64,
    ) -> Option<Vec<f64>> {
        let wants = self.targets.wants.iter().enumerate();
        let missed = |merits: &dyn Fn(usize) -> f64| -> Vec<f64> {
            let each = wants.clone();
            each.map(|(w, want)| want.miss(merits(w), self.margins[w]))
                .collect()
        };
        let merit = |w: usize| from.found[w].merit;
        let own: Vec<Option<f64>> = (0..slopes.nrows())
            .map(|w| Some(self.miss(w, merit(w))).filter(|miss| *miss != 0.0))
            .collect();
        let mut pulls = own.clone();
        let mut way = self.way(from, slopes, over, (&pulls, damping))?;
        for _ in 0..2 * own.len() {
            let there = |w: usize| merit(w) + (slopes.row(w) * &way)[0];
            let crossed = missed(&there).into_iter().enumerate();
            // Up to the end that it would cross; what it would not cross does not pull.
            let next = crossed
                .map(|(w, miss)| own[w].or((miss != 0.0).then(|| merit(w) - (there(w) - miss))));
            let next: Vec<Option<f64>> = next.collect();
            let is_same = |(a, b): (&Option<f64>, &Option<f64>)| a.is_some() == b.is_some();
            if next.iter().zip(&pulls).all(is_same) {
                break;
            }
            pulls = next;
            way = self.way(from, slopes, over, (&pulls, damping))?;
        }
        let longest = way.amax();
        if longest > LONGEST {
            way *= LONGEST / longest;
        }
        let mut at = from.at.clone();
        for (k, by) in over.iter().zip(way.iter()) {
            at[*k] = (at[*k] + by).clamp(0.0, 1.0);
        }
        (at != from.at).then_some(at)
    }

    /// The way that makes the squares of what pulls least, by slopes.
    fn way(
        &self,
        from: &Candidate,
        slopes: &DMatrix<f64>,
        over: &[usize],
        (pulls, damping): (&[Option<f64>], f64),
    ) -> Option<DVector<f64>> {
        let weighted = pulls.iter().zip(&self.weights);
        let weighted = weighted.map(|(pull, w)| pull.unwrap_or(0.0) * w);
        let miss = DVector::from_iterator(pulls.len(), weighted);
        let rows = DMatrix::from_fn(slopes.nrows(), slopes.ncols(), |w, k| match pulls[w] {
            None => 0.0,
            Some(_) => self.weights[w] * slopes[(w, k)],
        });
        let gradient = rows.transpose() * &miss;
        let is_open = |k: &usize| {
            let at = from.at[over[*k]];
            !(at <= 0.0 && gradient[*k] > 0.0 || at >= 1.0 && gradient[*k] < 0.0)
        };
        let open: Vec<usize> = (0..over.len()).filter(is_open).collect();
        if open.is_empty() {
            return None;
        }
        let rows = rows.select_columns(&open);
        let mut normal = rows.transpose() * &rows;
        let most = normal.diagonal().max().max(1e-12);
        for k in 0..open.len() {
            normal[(k, k)] += damping * most;
        }
        let solved = normal.cholesky()?.solve(&-(rows.transpose() * &miss));
        let mut way = DVector::zeros(over.len());
        for (k, by) in open.iter().zip(solved.iter()) {
            way[*k] = *by;
        }
        Some(way)
    }
}
