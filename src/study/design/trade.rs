//! What one want costs another: the first is given value after value, the second brought as far as
//! it goes.

use super::outcome::{Trade, TradePoint};
use super::search::{Candidate, Search};
use super::targets::Targets;
use super::want::Want;
use std::sync::atomic::Ordering;

/// Values on either side of the part that was found.
const SIDE: usize = 4;
/// From one value to the next on the scale of merits: 8 %, 8 K, 8 points.
const APART: f64 = 0.08;
/// How near the first is held to its value.
const HELD: f64 = 0.002;
/// Rounds of a descent from one value to the next.
const ROUNDS: usize = 12;

impl Search<'_> {
    /// The curve through a part.
    pub(super) fn trade(&self, part: &Candidate, wants: [usize; 2]) -> Trade {
        let mut points = Vec::new();
        for by in [-APART, APART] {
            let mut at = part.clone();
            for step in 0..=SIDE {
                // The part itself once.
                if step == 0 && by > 0.0 {
                    continue;
                }
                let merit = part.found[wants[0]].merit + by * step as f64;
                let Some(next) = self.traded(&at, wants, merit) else {
                    break;
                };
                points.push(self.trade_point(&next, wants));
                at = next;
            }
        }
        let first = |p: &TradePoint| p.values[0];
        points.retain(|p| p.values.iter().all(|v| v.is_finite()));
        points.sort_by(|a, b| first(a).total_cmp(&first(b)));
        Trade { wants, points }
    }

    /// The part with the first want at a merit and the second as far as it goes.
    fn traded(
        &self,
        from: &Candidate,
        [first, second]: [usize; 2],
        merit: f64,
    ) -> Option<Candidate> {
        let mut targets: Targets = self.targets.clone();
        let [given, pulled] = [first, second].map(|k| self.targets.wants[k]);
        let value = |by: f64| Some(given.wanted.value(merit + by));
        targets.wants[first] = Want {
            least: value(-HELD),
            most: value(HELD),
            ..given
        };
        targets.wants[second] = pulled.drawn(from.found[second].merit);
        let mut search = Search::new(&targets);
        // The first at its value; the second into the middle of a window, or as far as it goes.
        search.margins[first] = f64::MAX;
        match pulled.goes_on() {
            None => search.margins[second] = f64::MAX,
            Some(_) => search.draw(second),
        }
        let start = search.candidate(from.at.clone())?;
        let next = search.descend(start, &search.moving(), ROUNDS);
        let predicted = search.predicted.load(Ordering::Relaxed);
        self.predicted.fetch_add(predicted, Ordering::Relaxed);
        // Where the first cannot be brought there, the curve ends.
        (next.miss[first].abs() < HELD).then_some(next)
    }

    fn trade_point(&self, part: &Candidate, wants: [usize; 2]) -> TradePoint {
        let pairs = self.targets.wants.iter().zip(&part.found).enumerate();
        let mut others = pairs.filter(|(k, _)| !wants.contains(k));
        TradePoint {
            values: wants.map(|k| part.found[k].value),
            others_met: others.all(|(_, (want, found))| want.is_met(found.value)),
            free: (self.targets.free.iter().zip(&part.at))
                .map(|(free, at)| free.choice.text(*at))
                .collect(),
        }
    }
}
