//! In which order to look, measure and mend until the machine runs safely: troubleshooting by
//! decision theory.
//!
//! The expected cost of mending is that of the mends in the order of the highest probability per
//! cost, each tried only when those before it did not help; a measurement comes first where its
//! cost and the expected cost of mending after its results are less than that (D. Heckerman, J. S.
//! Breese, K. Rommelse: Decision-theoretic troubleshooting, Communications of the ACM 38(3), 1995).
//! Safety is not weighed against cost: a joint that may burn is looked at before anything else, a
//! part that may be late is timed, nothing is switched on for a measurement until then, and a
//! machine that may not be switched on yet is not tried. Nor is anything mended on a reading that
//! the shape of the current makes doubtful.

use super::advice::Advice;
use super::energise::{Energise, First};
use super::judge::SURE_ENOUGH;
use super::measurement::{Measurement, NextMeasurement, Shows};
use super::posterior::Rights;
use super::record::Verdict;
use crate::evidence::{Case, Outcome};
use serde::{Deserialize, Serialize};

/// Steps of a plan.
const STEPS: usize = 5;
/// Cost of what is left when no mend has helped, minutes: somebody is called (common practice, no
/// source).
const CALLED: f64 = 240.0;
/// A run is watched so long at least and at most, minutes (common practice, no source).
const SHORTEST_RUN: f64 = 10.0;
const LONGEST_RUN: f64 = 480.0;
/// A step must save so much of the expected cost.
const SAVES: f64 = 0.02;
/// Fewer particles than this tell nothing.
const FEW: usize = 12;
/// Least probability of a result that is told.
const POSSIBLE: f64 = 0.03;

/// What a step does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "step", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Action {
    /// Look or measure.
    Measure {
        /// What.
        #[serde(flatten)]
        measurement: Measurement,
    },
    /// Mend, and see whether the machine runs.
    Mend {
        /// One thing, or two.
        mend: Vec<Verdict>,
    },
}

/// Where a result leads.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "then", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Then {
    /// Mend this; it is known well enough.
    Mend {
        /// One thing, or two.
        mend: Vec<Verdict>,
        /// How probably that is right, 0..1.
        right: f64,
    },
    /// To the next step.
    GoOn,
    /// The machine runs.
    Done,
    /// Have it looked at by somebody who is called.
    Call,
}

/// A result of a step.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct StepResult {
    /// What a measurement shows; `None`: whether the machine runs after a mend.
    #[serde(flatten)]
    pub shows: Option<Shows>,
    /// Probability, 0..1, when the step is reached.
    pub probability: f64,
    /// What then.
    #[serde(flatten)]
    pub then: Then,
}

/// A step of the plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Step {
    /// What is done.
    #[serde(flatten)]
    pub action: Action,
    /// Its effort, minutes.
    pub minutes: f64,
    /// Trips of the protector that it uses up.
    pub trips_used: f64,
    /// Its results.
    pub results: Vec<StepResult>,
}

impl Step {
    /// What is looked at or measured; `None`: something is mended.
    pub fn measured(&self) -> Option<Measurement> {
        match self.action {
            Action::Measure { measurement } => Some(measurement),
            Action::Mend { .. } => None,
        }
    }
}

/// What a measurement would show for each particle.
pub struct Shown {
    /// The measurement.
    pub measurement: Measurement,
    /// A number a particle.
    pub values: Vec<f64>,
}

/// Effort of a mend with its test run, minutes (common practice, no source); `watch_min`: how long it
/// is watched to see whether it trips again.
fn mend_minutes(verdict: Verdict, watch_min: f64) -> f64 {
    match verdict {
        Verdict::NothingToMend => watch_min,
        Verdict::FindTheLoad => 90.0,
        Verdict::CoolOrReRate => 60.0,
        Verdict::ReMakeTheConnection => 30.0,
        Verdict::ReplaceTheProtector => 40.0,
        Verdict::DoNotReEnergise => 45.0,
        _ => 10.0,
    }
}

/// How long a run is watched, minutes: twice the longest time that it took to trip. What holds no
/// longer than it took before has shown nothing.
pub fn watch_min(case: &Case) -> f64 {
    let told_s = case.trips_in_service().map(|e| match e.outcome {
        Outcome::Tripped { after_s } => after_s.value,
        Outcome::TrippedWithin { from_s, .. } => from_s,
        Outcome::Held { .. } => 0.0,
    });
    let longest_s = told_s.fold(0.0, f64::max);
    (2.0 * longest_s / 60.0).clamp(SHORTEST_RUN, LONGEST_RUN)
}

/// Particles that agree with what the steps so far have shown.
#[derive(Clone)]
struct Alive<'a> {
    rights: &'a [Rights],
    which: Vec<usize>,
    watch_min: f64,
}

impl Alive<'_> {
    fn minutes(&self, k: usize) -> f64 {
        let parts = Advice::ALL[k].parts();
        parts.map(|v| mend_minutes(v, self.watch_min)).sum()
    }

    fn share(&self, k: usize) -> f64 {
        let right = self.which.iter().filter(|p| self.rights[**p][k]).count();
        right as f64 / self.which.len().max(1) as f64
    }

    /// The advice that is most often right, and how often.
    fn best(&self) -> (usize, f64) {
        let shares = (0..Advice::ALL.len()).map(|k| (k, self.share(k)));
        shares.fold((0, -1.0), |best, s| if s.1 > best.1 { s } else { best })
    }

    /// The mend with the highest probability per cost.
    fn next_mend(&self) -> Option<usize> {
        let worth = |k: usize| self.share(k) / self.minutes(k);
        let all = (0..Advice::ALL.len()).filter(|k| self.share(*k) > 0.0);
        all.max_by(|a, b| worth(*a).total_cmp(&worth(*b)).then(b.cmp(a)))
    }

    fn without(&self, k: usize) -> Self {
        let left = self.which.iter().filter(|p| !self.rights[**p][k]);
        Alive {
            which: left.copied().collect(),
            ..*self
        }
    }

    fn and(mut self, more: Self) -> Self {
        self.which.extend(more.which);
        self.which.sort_unstable();
        self
    }

    fn side(&self, shown: &Shown, cut: f64, is_low: bool) -> Self {
        let side = self
            .which
            .iter()
            .filter(|p| (shown.values[**p] < cut) == is_low);
        Alive {
            which: side.copied().collect(),
            ..*self
        }
    }

    /// Expected cost of mending without looking any further, minutes.
    fn cost_of_mending(&self) -> f64 {
        let all = self.which.len() as f64;
        let mut left = self.clone();
        let mut cost = 0.0;
        while !left.which.is_empty() {
            let still = left.which.len() as f64 / all;
            let Some(k) = left.next_mend() else {
                return cost + still * CALLED;
            };
            // Somebody is called before a mend that hardly ever helps.
            let minutes = self.minutes(k);
            if left.share(k) * CALLED < minutes {
                return cost + still * CALLED;
            }
            cost += still * minutes;
            left = left.without(k);
        }
        cost
    }

    /// The threshold of a measurement after which mending costs least, and that cost, minutes; of
    /// those that make known on one side what is to be mended, unless `any` will do.
    fn after(&self, shown: &Shown, any: bool) -> Option<(f64, f64)> {
        let mut sorted: Vec<f64> = self.which.iter().map(|p| shown.values[*p]).collect();
        sorted.sort_by(f64::total_cmp);
        let n = sorted.len();
        // The last shows what is seldom seen at all.
        let cuts = (1..12).map(|k| sorted[k * n / 12]);
        let mut cuts: Vec<f64> = cuts.chain([sorted[n - 1]]).collect();
        cuts.dedup();
        let cost = |cut: f64| {
            let sides = [true, false].map(|is_low| self.side(shown, cut, is_low));
            let share = |s: &Self| s.which.len() as f64 / n as f64;
            let possible = sides.iter().all(|s| share(s) >= POSSIBLE);
            let tells = any || sides.iter().any(|s| s.best().1 >= SURE_ENOUGH);
            let costs = sides.iter().map(|s| share(s) * s.cost_of_mending());
            (possible && tells).then(|| (cut, costs.sum::<f64>()))
        };
        let found = cuts.into_iter().filter_map(cost);
        found.min_by(|a, b| a.1.total_cmp(&b.1))
    }
}

/// The plan: at most five steps. Nothing is planned where it may not be switched on at all.
/// `may_read_low`: the meter may read low on a current of this shape; `watch_min`: [`watch_min`].
pub fn plan(
    rights: &[Rights],
    shown: &[Shown],
    energise: &Energise,
    may_read_low: bool,
    watch_min: f64,
) -> Vec<Step> {
    let mut steps = Vec::new();
    if matches!(energise, Energise::No { .. }) {
        return steps;
    }
    let rights: Vec<Rights> = rights.iter().map(replaced).collect();
    let mut alive = Alive {
        rights: &rights,
        which: (0..rights.len()).collect(),
        watch_min,
    };
    let mut left: Vec<&Shown> = shown.iter().collect();
    let mut first = come_first(energise, may_read_low);
    while steps.len() < STEPS && alive.which.len() >= FEW {
        let at_hand = |is_it: IsIt| left.iter().position(|s| is_it(s.measurement));
        let forced = std::iter::from_fn(|| first.pop()).find_map(at_hand);
        let best = match forced {
            Some(k) => alive.after(left[k], true).map(|(cut, _)| (k, cut)),
            None if alive.best().1 >= SURE_ENOUGH => None,
            None => cheapest(&alive, &left)
                .filter(|(.., cost)| *cost < (1.0 - SAVES) * alive.cost_of_mending())
                .map(|(k, cut, _)| (k, cut)),
        };
        let Some((k, cut)) = best else {
            if forced.is_some() {
                continue;
            }
            let Some(k) = alive.next_mend() else { break };
            // A machine that may not be switched on yet is not tried.
            let is_a_try = Advice::ALL[k] == Advice::one(Verdict::NothingToMend);
            if is_a_try && *energise != Energise::Yes {
                alive = alive.without(k);
                continue;
            }
            let (step, rest) = mending(&alive, k);
            steps.push(step);
            alive = rest;
            continue;
        };
        let (step, rest) = measuring(&alive, left.remove(k), cut);
        steps.push(step);
        match rest {
            Some(rest) => alive = rest,
            None => break,
        }
    }
    close(&mut steps);
    steps
}

/// The plan for a part on a bench: there is no machine to mend or to try, tests alone tell whether
/// it is kept.
pub fn tests(next: &[NextMeasurement]) -> Vec<Step> {
    let step = |next: &NextMeasurement| Step {
        action: Action::Measure {
            measurement: next.measurement,
        },
        minutes: next.minutes,
        trips_used: next.trips_used,
        results: Vec::from_iter(next.results.iter().map(|result| StepResult {
            shows: Some(result.shows),
            probability: result.probability,
            then: Then::Mend {
                mend: result.mend.clone(),
                right: result.right,
            },
        })),
    };
    next.iter().take(STEPS).map(step).collect()
}

/// A part that is late is mended by another one, as one that is early.
fn replaced(rights: &Rights) -> Rights {
    let place = |v| Advice::ALL.iter().position(|a| *a == Advice::one(v));
    let mut rights = *rights;
    let [late, replace] = [Verdict::DoNotReEnergise, Verdict::ReplaceTheProtector].map(place);
    if let (Some(late), Some(replace)) = (late, replace) {
        rights[replace] |= std::mem::take(&mut rights[late]);
    }
    rights
}

/// Whether a measurement is the one that is meant.
pub type IsIt = fn(Measurement) -> bool;

/// What comes before anything else, the last first.
fn come_first(energise: &Energise, may_read_low: bool) -> Vec<IsIt> {
    let read: IsIt = |m| m == Measurement::RunningCurrent;
    let mut first: Vec<IsIt> = may_read_low.then_some(read).into_iter().collect();
    first.extend(energise.first().iter().rev().filter_map(First::is_measured));
    first
}

fn cheapest(alive: &Alive<'_>, left: &[&Shown]) -> Option<(usize, f64, f64)> {
    let cost = |(k, shown): (usize, &&Shown)| {
        let (cut, after) = alive.after(shown, false)?;
        Some((k, cut, shown.measurement.cost() + after))
    };
    let all = left.iter().enumerate().filter_map(cost);
    all.min_by(|a, b| a.2.total_cmp(&b.2))
}

/// A measurement, and who is left: those of the side, or the sides, that is not known well enough.
fn measuring<'a>(alive: &Alive<'a>, shown: &Shown, cut: f64) -> (Step, Option<Alive<'a>>) {
    let n = alive.which.len().max(1) as f64;
    let sides = [true, false].map(|is_low| alive.side(shown, cut, is_low));
    let mut best = [sides[0].best(), sides[1].best()];
    let mut known = best.map(|(_, right)| right >= SURE_ENOUGH);
    // A joint that shows heat is re-made, whatever else is wrong.
    let re_make = Advice::one(Verdict::ReMakeTheConnection);
    if shown.measurement == Measurement::LookAtTheJoints && !known[1] {
        let k = Advice::ALL.iter().position(|a| *a == re_make);
        (best[1], known[1]) = (k.map_or(best[1], |k| (k, sides[1].share(k))), true);
    }
    let then = |side: usize| match known[side] {
        true => Then::Mend {
            mend: Advice::ALL[best[side].0].parts().collect(),
            right: best[side].1,
        },
        false => Then::GoOn,
    };
    let result = |side: usize, shows: Shows| StepResult {
        shows: Some(shows),
        probability: sides[side].which.len() as f64 / n,
        then: then(side),
    };
    let results = vec![
        result(0, Shows::UpTo { value: cut }),
        result(1, Shows::Above { value: cut }),
    ];
    let (minutes, trips_used) = shown.measurement.effort();
    let step = Step {
        action: Action::Measure {
            measurement: shown.measurement,
        },
        minutes,
        trips_used,
        results,
    };
    let [low, high] = sides;
    // Where re-making a joint may not be all, the steps go on.
    let high = match known[1] && best[1].1 < SURE_ENOUGH {
        true => Some(high.without(best[1].0)),
        false => Some(high).filter(|_| !known[1]),
    };
    // The next step is chosen for both.
    let rest = match (Some(low).filter(|_| !known[0]), high) {
        (Some(low), Some(high)) => Some(low.and(high)),
        (low, high) => low.or(high),
    };
    (step, rest)
}

fn mending<'a>(alive: &Alive<'a>, k: usize) -> (Step, Alive<'a>) {
    let runs = alive.share(k);
    let result = |probability, then| StepResult {
        shows: None,
        probability,
        then,
    };
    let step = Step {
        action: Action::Mend {
            mend: Advice::ALL[k].parts().collect(),
        },
        minutes: alive.minutes(k),
        trips_used: 0.0,
        results: vec![result(runs, Then::Done), result(1.0 - runs, Then::GoOn)],
    };
    (step, alive.without(k))
}

/// What would go on after the last step has nowhere to go.
fn close(steps: &mut [Step]) {
    if let Some(last) = steps.last_mut() {
        for result in &mut last.results {
            if result.then == Then::GoOn {
                result.then = Then::Call;
            }
        }
    }
}

#[cfg(test)]
mod tests;
