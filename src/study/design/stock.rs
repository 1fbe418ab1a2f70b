//! Stock: numbers that come in steps are rounded to their neighbours, and the neighbours are looked
//! at.

use super::search::{Candidate, Search};
use super::targets::Choice;

/// Most corners around a place that are tried.
const MOST_CORNERS: usize = 16;
/// Rounds of a descent between neighbours.
const ROUNDS: usize = 8;

impl Search<'_> {
    /// Rounds what comes in steps and descends over the rest from each corner; then goes from
    /// neighbour to neighbour as long as that helps.
    pub(super) fn to_stock(&self, from: Candidate) -> Option<Candidate> {
        let numbers = self.numbers();
        let is_stock = |k: &&usize| matches!(self.targets.free[**k].choice, Choice::Stock(..));
        let stock: Vec<usize> = numbers.iter().filter(is_stock).copied().collect();
        if stock.is_empty() {
            return Some(from);
        }
        let rest: Vec<usize> = numbers.into_iter().filter(|k| !stock.contains(k)).collect();
        let mut corners: Vec<Vec<f64>> = vec![from.at.clone()];
        for k in &stock {
            let around = self.around(*k, from.at[*k]);
            let with = corners.iter().flat_map(|at| {
                around.iter().map(|place| {
                    let mut at = at.clone();
                    at[*k] = *place;
                    at
                })
            });
            corners = with.take(MOST_CORNERS).collect();
        }
        let mut best = self.best_of(corners, &rest, None)?;
        loop {
            if best.sum() == 0.0 {
                return Some(best);
            }
            let mut beside = Vec::new();
            for k in &stock {
                for by in [-1.0, 1.0] {
                    let mut at = best.at.clone();
                    if let Some(place) = self.neighbour(*k, at[*k], by) {
                        at[*k] = place;
                        beside.push(at);
                    }
                }
            }
            match self.best_of(beside, &rest, Some(best.sum())) {
                Some(better) => best = better,
                None => return Some(best),
            }
        }
    }

    /// The best after a descent from each, if it is better than `than`.
    fn best_of(
        &self,
        starts: Vec<Vec<f64>>,
        over: &[usize],
        than: Option<f64>,
    ) -> Option<Candidate> {
        let mut best: Option<Candidate> = None;
        for at in starts {
            let Some(start) = self.candidate(at) else {
                continue;
            };
            let end = self.descend(start, over, ROUNDS);
            let limit = best.as_ref().map(Candidate::sum).or(than);
            if limit.is_none_or(|limit| end.sum() < limit) {
                best = Some(end);
            }
            if best.as_ref().is_some_and(|b| b.sum() == 0.0) {
                break;
            }
        }
        best
    }

    fn list(&self, k: usize) -> &[f64] {
        match &self.targets.free[k].choice {
            Choice::Stock(list, _) => list,
            _ => &[],
        }
    }

    /// Places of the stock at and around a place, the nearer first.
    fn around(&self, k: usize, at: f64) -> Vec<f64> {
        let choice = &self.targets.free[k].choice;
        let si = choice.si(at);
        let list = self.list(k);
        let above = list.partition_point(|v| *v < si).min(list.len() - 1);
        let mut two = vec![list[above.saturating_sub(1)], list[above]];
        two.sort_by(|a, b| (a - si).abs().total_cmp(&(b - si).abs()));
        two.dedup();
        two.into_iter().map(|v| choice.place(v)).collect()
    }

    fn neighbour(&self, k: usize, at: f64, by: f64) -> Option<f64> {
        let choice = &self.targets.free[k].choice;
        let list = self.list(k);
        let si = choice.si(at);
        let nearest = |v: &f64| (v - si).abs();
        let here =
            (0..list.len()).min_by(|a, b| nearest(&list[*a]).total_cmp(&nearest(&list[*b])))?;
        let next = here as f64 + by;
        let next = (next >= 0.0).then(|| list.get(next as usize)).flatten()?;
        Some(choice.place(*next))
    }
}
