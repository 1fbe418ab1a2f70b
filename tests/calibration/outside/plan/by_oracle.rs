//! A plan made with machines that are made alike, as far as the notes leave them: greedy, one step
//! after the other.

use super::looks::seen;
use super::mends::{Done, mended, minutes_until_safe, usual_order};
use crate::outside::advices;
use crate::outside::dice::Dice;
use crate::outside::machine::{Machine, Right};
use crate::outside::oracle::Oracle;
use relatch::internals::diagnose::Measurement;

/// Machines that are thought of.
const MACHINES: usize = 240;
/// Thresholds that are tried of a measurement.
const CUTS: usize = 8;
/// Least share of a result.
const POSSIBLE: f64 = 0.03;

/// Machines that may be the one, and whether each runs safely after what may be done.
pub struct Thought {
    machines: Vec<Machine>,
    runs: Vec<Vec<bool>>,
    steps: Vec<Done>,
}

impl Thought {
    pub fn of(oracle: &Oracle, dice: &Dice) -> Thought {
        let machines = oracle.machines(MACHINES, dice.uniform());
        let every = Done::every();
        let runs = machines
            .iter()
            .map(|m| every.iter().map(|d| d.runs_safely(m)).collect());
        Thought {
            runs: runs.collect(),
            machines,
            steps: Done::steps(),
        }
    }

    fn share(&self, which: &[usize], done: Done) -> f64 {
        let runs = which
            .iter()
            .filter(|p| self.runs[**p][done.number()])
            .count();
        runs as f64 / which.len().max(1) as f64
    }

    fn without(&self, which: &[usize], done: Done) -> Vec<usize> {
        let left = which.iter().filter(|p| !self.runs[**p][done.number()]);
        left.copied().collect()
    }

    /// What is most probably right for its cost.
    fn next(&self, which: &[usize], done: Done) -> Option<Done> {
        let worth = |d: &Done| self.share(which, done.and(*d)) / d.minutes_after(done);
        let new = self.steps.iter().filter(|d| d.minutes_after(done) > 0.0);
        new.max_by(|a, b| worth(a).total_cmp(&worth(b))).copied()
    }

    /// Expected minutes of mending in that order.
    fn cost(&self, which: &[usize], mut done: Done) -> f64 {
        let mut left = which.to_vec();
        let mut minutes = 0.0;
        while let Some(next) = self.next(&left, done).filter(|_| !left.is_empty()) {
            minutes += left.len() as f64 * next.minutes_after(done);
            done = done.and(next);
            left = self.without(&left, done);
        }
        minutes / which.len().max(1) as f64
    }

    /// What a measurement shows on each, as far as it is mended.
    fn shown(&self, measurement: Measurement, done: Done, dice: &Dice) -> Vec<f64> {
        let of = |m: &Machine| seen(&mended(m, done), measurement, dice).value;
        self.machines.iter().map(of).collect()
    }

    /// The threshold after which mending costs least, and that cost.
    fn after(&self, which: &[usize], done: Done, values: &[f64]) -> Option<(f64, f64)> {
        let mut sorted: Vec<f64> = which.iter().map(|p| values[*p]).collect();
        sorted.sort_by(f64::total_cmp);
        let mut cuts: Vec<f64> = (1..CUTS).map(|k| sorted[k * sorted.len() / CUTS]).collect();
        cuts.dedup();
        let cost = |cut: f64| {
            let sides = [true, false].map(|low| side(which, values, cut, low));
            let share = |s: &Vec<usize>| s.len() as f64 / which.len() as f64;
            let costs = sides.iter().map(|s| share(s) * self.cost(s, done));
            let possible = sides.iter().all(|s| share(s) > POSSIBLE);
            possible.then(|| (cut, costs.sum::<f64>()))
        };
        let found = cuts.into_iter().filter_map(cost);
        found.min_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// Whether a measurement separates: on its two sides another advice is most probably right.
    pub fn separates(&self, measurement: Measurement, cut: f64, dice: &Dice) -> bool {
        let all: Vec<usize> = (0..self.machines.len()).collect();
        let values = self.shown(measurement, Done::default(), dice);
        let advices = advices();
        let best = [true, false].map(|low| {
            let side = side(&all, &values, cut, low);
            let right = |k: &usize| {
                let right = side.iter().map(|p| self.machines[*p].rights(&advices[*k]));
                right.filter(|r| *r == Right::Yes).count()
            };
            let share = side.len() as f64 / all.len() as f64;
            let best = (0..advices.len()).max_by_key(right);
            best.filter(|_| share > POSSIBLE)
        });
        matches!(best, [Some(one), Some(other)] if one != other)
    }
}

fn side(which: &[usize], values: &[f64], cut: f64, low: bool) -> Vec<usize> {
    let side = which.iter().filter(|p| (values[**p] < cut) == low);
    side.copied().collect()
}

/// Everything that can be looked at.
fn looks(rated_a: f64) -> Vec<Measurement> {
    vec![
        Measurement::ReadThePlate,
        Measurement::ReadTheMarking,
        Measurement::LookAtTheJoints,
        Measurement::RunningCurrent,
        Measurement::CurrentUpToTheTrip,
        Measurement::AirAtThePart,
        Measurement::DropBesideASister,
        Measurement::TerminalTemperatures,
        Measurement::TimedTrip {
            current_a: 2.0 * rated_a,
        },
        Measurement::HoldTest { current_a: rated_a },
        Measurement::CaptureOfAStart,
        Measurement::SwapWithATwin,
    ]
}

/// Minutes until the machine runs safely.
pub fn walked(m: &Machine, thought: &Thought, dice: &Dice) -> f64 {
    let mut left = looks(m.part.rated_a);
    let mut which: Vec<usize> = (0..thought.machines.len()).collect();
    let (mut done, mut minutes) = (Done::default(), 0.0);
    while !done.runs_safely(m) {
        if which.is_empty() {
            return minutes + minutes_until_safe(m, &usual_order(), done);
        }
        let now = thought.cost(&which, done);
        let tried = left.iter().enumerate().filter_map(|(k, look)| {
            let values = thought.shown(*look, done, dice);
            let (cut, after) = thought.after(&which, done, &values)?;
            Some((look.effort().0 + after, k, cut, values))
        });
        match tried
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .filter(|t| t.0 < now)
        {
            Some((_, k, cut, values)) => {
                let look = left.remove(k);
                minutes += look.effort().0;
                let value = seen(&mended(m, done), look, dice).value;
                which = side(&which, &values, cut, value < cut);
            }
            None => {
                let Some(next) = thought.next(&which, done) else {
                    which.clear();
                    continue;
                };
                minutes += next.minutes_after(done);
                done = done.and(next);
                which = thought.without(&which, done);
            }
        }
    }
    minutes
}
