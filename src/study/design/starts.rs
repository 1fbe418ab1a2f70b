//! Where the search begins: every combination of words, the scenario's own place and some others.

use super::error::{DesignError, MOST_COMBINATIONS};
use super::search::{Candidate, ROUNDS, Search};
use super::targets::{Choice, Free};
use crate::predict::{Progress, parallel};
use crate::quantity::Quantity;
use crate::scenario::value_at;
use crate::statistics::sobol::SobolSequence;

/// Places that are looked at before the search begins, beside the scenario's own.
const LOOKED_AT: u64 = 12;
/// Descents from the best of them.
const DESCENTS: usize = 4;

impl Search<'_> {
    /// The best part over all words.
    pub(super) fn part(&self, progress: &mut Progress<'_>) -> Result<Candidate, DesignError> {
        let combinations = self.combinations()?;
        let mut best: Option<Candidate> = None;
        for (k, words) in combinations.iter().enumerate() {
            progress("the part", 0.7 * k as f64 / combinations.len() as f64);
            let Some(found) = self.of_words(words) else {
                continue;
            };
            if best.as_ref().is_none_or(|b| self.is_better(&found, b)) {
                best = Some(found);
            }
            if best.as_ref().is_some_and(|b| self.is_enough(b)) {
                break;
            }
        }
        best.ok_or(DesignError::NoPart)
    }

    /// Places with every combination of words, the scenario's own first.
    fn combinations(&self) -> Result<Vec<Vec<f64>>, DesignError> {
        let own = self.own();
        let mut all = vec![own.clone()];
        for (k, free) in self.targets.free.iter().enumerate() {
            if let Choice::Words(words) = &free.choice {
                let count = all.len().saturating_mul(words.len());
                if count > MOST_COMBINATIONS {
                    return Err(DesignError::TooMany(count));
                }
                let mut order: Vec<usize> = (0..words.len()).collect();
                order.sort_by_key(|w| *w != own[k] as usize);
                let with = all.iter().flat_map(|at| {
                    order.iter().map(|word| {
                        let mut at = at.clone();
                        at[k] = *word as f64;
                        at
                    })
                });
                all = with.collect();
            }
        }
        Ok(all)
    }

    /// The place of the scenario as it is, or of the middle where it lies elsewhere.
    fn own(&self) -> Vec<f64> {
        let of = |free: &Free| {
            let own = value_at(&self.targets.text, &free.path);
            match &free.choice {
                Choice::Words(words) => {
                    let own = words.iter().position(|w| Some(w) == own.as_ref());
                    own.unwrap_or(0) as f64
                }
                Choice::Between(_, dimension) | Choice::Stock(_, dimension) => {
                    let own = own.and_then(|text| Quantity::read(&text, *dimension).ok());
                    own.map_or(0.5, |own| free.choice.place(own.value_si))
                }
            }
        };
        self.targets.free.iter().map(of).collect()
    }

    /// The best part with these words.
    fn of_words(&self, own: &[f64]) -> Option<Candidate> {
        let numbers = self.numbers();
        let spread = SobolSequence::plain(numbers.len()).ok();
        let looked_at = spread.iter().flat_map(|spread| {
            // The first point is the corner.
            (1..=LOOKED_AT).map(|n| {
                let mut at = own.to_vec();
                for (d, k) in numbers.iter().enumerate() {
                    at[*k] = spread.coordinate(n, d);
                }
                at
            })
        });
        let mut best: Option<Candidate> = None;
        let mut others: Option<Vec<Candidate>> = None;
        for n in 0..DESCENTS {
            let start = match (n, &mut others) {
                (0, _) => self.candidate(own.to_vec()),
                (_, None) => {
                    let places: Vec<Vec<f64>> = looked_at.clone().collect();
                    let all = parallel::map(&places, |at| self.candidate(at.clone()), &mut |_| {});
                    let mut all: Vec<Candidate> = all.into_iter().flatten().collect();
                    all.sort_by(|a, b| b.sum().total_cmp(&a.sum()));
                    let first = all.pop();
                    others = Some(all);
                    first
                }
                (_, Some(all)) => all.pop(),
            };
            let Some(start) = start else { continue };
            let end = self.to_stock(self.descend(start, &numbers, ROUNDS));
            let Some(end) = end.map(|end| self.aimed(end)) else {
                continue;
            };
            if best.as_ref().is_none_or(|b| self.is_better(&end, b)) {
                best = Some(end);
            }
            if best.as_ref().is_some_and(|b| self.is_enough(b)) {
                break;
            }
        }
        best
    }
}
