//! What moves what: slopes, and wants that pull against each other.

use super::outcome::{Fight, Slope};
use super::search::{Candidate, Search};
use nalgebra::DMatrix;

/// Ways that are farther from each other than this fight.
const FIGHTING: f64 = -0.2;
/// An answer so near to the end of its window holds the others back.
const HELD: f64 = 0.02;

impl Search<'_> {
    /// Slopes in percent per percent.
    pub(super) fn percents(
        &self,
        part: &Candidate,
        numbers: &[usize],
        slopes: &DMatrix<f64>,
    ) -> Vec<Slope> {
        let mut all = Vec::new();
        for want in 0..slopes.nrows() {
            for (column, k) in numbers.iter().enumerate() {
                let free = &self.targets.free[*k];
                let Some([low, high]) = free.choice.ends() else {
                    continue;
                };
                let per_percent =
                    slopes[(want, column)] * free.choice.si(part.at[*k]) / (high - low);
                all.push(Slope {
                    want,
                    path: free.path.clone(),
                    per_percent,
                });
            }
        }
        all
    }

    /// Pairs of wants, at least one of them missed, that pull against each other over the numbers
    /// that can move.
    pub(super) fn fights(
        &self,
        part: &Candidate,
        numbers: &[usize],
        slopes: &DMatrix<f64>,
    ) -> Vec<Fight> {
        let wants = &self.targets.wants;
        // Towards the window where it is missed; into it where it is held only just.
        let pull = |w: usize| -> Option<(bool, Vec<f64>)> {
            let merit = part.found[w].merit;
            let missed = wants[w].miss(merit, 0.0);
            let towards = match missed == 0.0 {
                true => wants[w].miss(merit, HELD),
                false => missed,
            };
            let way = (0..numbers.len()).map(|c| {
                let by = -towards.signum() * slopes[(w, c)];
                let at = part.at[numbers[c]];
                let is_shut = at < 1e-6 && by < 0.0 || at > 1.0 - 1e-6 && by > 0.0;
                if is_shut { 0.0 } else { by }
            });
            (towards != 0.0).then(|| (missed != 0.0, way.collect()))
        };
        let mut fights = Vec::new();
        for a in 0..wants.len() {
            for b in a + 1..wants.len() {
                let (Some((a_missed, one)), Some((b_missed, other))) = (pull(a), pull(b)) else {
                    continue;
                };
                let product =
                    |x: &[f64], y: &[f64]| x.iter().zip(y).map(|(x, y)| x * y).sum::<f64>();
                let length = (product(&one, &one) * product(&other, &other)).sqrt();
                let cosine = product(&one, &other) / length;
                if (a_missed || b_missed) && cosine < FIGHTING {
                    fights.push(Fight {
                        wants: [a, b],
                        cosine,
                    });
                }
            }
        }
        fights.sort_by(|a, b| a.cosine.total_cmp(&b.cosine));
        fights
    }
}

/// Largest difference of two tables of slopes, each row over its largest slope.
pub(super) fn differ(slopes: &DMatrix<f64>, halved: &DMatrix<f64>) -> Option<f64> {
    let rows = (0..slopes.nrows()).filter_map(|w| {
        let largest = slopes.row(w).amax();
        (largest > 0.0).then(|| (slopes.row(w) - halved.row(w)).amax() / largest)
    });
    rows.reduce(f64::max)
}
