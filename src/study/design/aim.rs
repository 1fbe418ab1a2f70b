//! Beyond being met: the part that costs least (or whatever else is to go as far as it can) among
//! those that meet the rest.

use super::outcome::End;
use super::search::{Candidate, ROUNDS, Search};
use std::sync::atomic::Ordering;

/// What the aim counts beside the windows: so little that it takes no answer out of its own by more
/// than the margin.
const PULL: f64 = 0.02;
/// Descents one after the other, each with the aim as far off again.
const MOST_DESCENTS: usize = 6;
/// Steps of one number, in parts of its range.
const FELT: [f64; 4] = [0.1, 0.03, 0.01, 0.003];
/// A sum of squares of what is missed that is none.
const HARDLY: f64 = 1e-9;
/// Less than this on the scale of merits is no progress.
const LEAST_PROGRESS: f64 = 1e-5;

impl Search<'_> {
    /// Lets a want draw as far as it goes, gently.
    pub(super) fn draw(&mut self, want: usize) {
        self.margins[want] = 0.0;
        self.weights[want] = PULL;
    }

    /// A part that meets every want, brought as far as the aim goes; any other as it is.
    pub(super) fn aimed(&self, part: Candidate) -> Candidate {
        let Some(aim) = self.targets.aim().filter(|_| self.is_met(&part)) else {
            return part;
        };
        let mut best = part;
        for _ in 0..MOST_DESCENTS {
            let mut targets = self.targets.clone();
            targets.wants[aim] = targets.wants[aim].drawn(best.found[aim].merit);
            let mut search = Search::new(&targets);
            search.margins.clone_from(&self.margins);
            search.draw(aim);
            let start = search.candidate(best.at.clone());
            let end = start.and_then(|start| {
                search.to_stock(search.descend(start, &search.numbers(), ROUNDS))
            });
            let predicted = search.predicted.load(Ordering::Relaxed);
            self.predicted.fetch_add(predicted, Ordering::Relaxed);
            // What it misses, by its own windows.
            let end = end.and_then(|end| self.candidate(end.at));
            match end.filter(|end| self.is_met(end)) {
                Some(end) if self.aim_of(&end) < self.aim_of(&best) - LEAST_PROGRESS => best = end,
                _ => break,
            }
        }
        self.felt(best)
    }

    /// A part brought on by one number at a time: at the ends of several windows and bounds a step
    /// of least squares finds no way on.
    fn felt(&self, part: Candidate) -> Candidate {
        let (numbers, mut best) = (self.moving(), part);
        for step in FELT {
            let mut is_better = true;
            while is_better {
                is_better = false;
                for (k, by) in numbers.iter().flat_map(|k| [(*k, -step), (*k, step)]) {
                    let mut at = best.at.clone();
                    at[k] = (at[k] + by).clamp(0.0, 1.0);
                    if at == best.at {
                        continue;
                    }
                    // No farther out of the margins, which keep the units of a lot inside.
                    let goes_on = |next: &Candidate| {
                        self.is_met(next)
                            && next.sum() <= best.sum() + HARDLY
                            && self.aim_of(next) < self.aim_of(&best) - LEAST_PROGRESS
                    };
                    if let Some(next) = self.candidate(at).filter(goes_on) {
                        (best, is_better) = (next, true);
                    }
                }
            }
        }
        best
    }

    /// Whether every want is met.
    pub(super) fn is_met(&self, part: &Candidate) -> bool {
        let mut pairs = self.targets.wants.iter().zip(&part.found);
        pairs.all(|(want, found)| want.is_met(found.value))
    }

    /// What is aimed at, the less the better; 0 where nothing is.
    pub(super) fn aim_of(&self, part: &Candidate) -> f64 {
        let Some(aim) = self.targets.aim() else {
            return 0.0;
        };
        let merit = part.found[aim].merit;
        match self.targets.wants[aim].aim {
            Some(End::Most) => -merit,
            _ => merit,
        }
    }

    /// Whether the first part is the better one: it misses less, or goes farther where both meet
    /// everything.
    pub(super) fn is_better(&self, one: &Candidate, other: &Candidate) -> bool {
        match self
            .targets
            .aim()
            .map(|_| [one, other].map(|c| self.is_met(c)))
        {
            Some([true, true]) => self.aim_of(one) < self.aim_of(other),
            Some([one, other]) if one != other => one,
            _ => one.sum() < other.sum(),
        }
    }

    /// Whether no other part can be better.
    pub(super) fn is_enough(&self, part: &Candidate) -> bool {
        part.sum() == 0.0 && self.targets.aim().is_none()
    }
}
