//! Rare events of independent standard normal scores: where they are nearest, draws that go there,
//! and the rate that the draws' weights give back.
//!
//! The nearest failing point is that of A. M. Hasofer & N. C. Lind (J. Eng. Mech. 100 (1974) 111),
//! found by the iteration of R. Rackwitz & B. Fiessler (Comput. Struct. 9 (1978) 489). Draws come
//! from a mixture of the plain density and of the same density moved to such points, and are
//! weighed by the whole mixture (A. Owen & Y. Zhou, J. Am. Stat. Assoc. 95 (2000) 135): no weight
//! exceeds one over the plain share. Citations are from memory.

use super::stream::{Purpose, Stream};
use serde::{Deserialize, Serialize};

/// Half of the draws are plain, so that what no point leads to is still met.
const PLAIN: f64 = 0.5;
/// Standard normal score of a two-sided interval of 95 %.
const Z95: f64 = 1.959_963_984_540_054;
/// Points further out than this are not looked for.
pub const FURTHEST: f64 = 7.5;

/// A share of all units, with its 95 % interval.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct RareShare {
    /// Share; of a difference it may be negative.
    pub share: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// The mixture that draws come from.
#[derive(Debug, Clone, PartialEq)]
pub struct Mixture {
    dimensions: usize,
    centres: Vec<Vec<f64>>,
}

impl Mixture {
    /// Plain draws, and draws about each centre. A centre of another length is passed over.
    #[must_use]
    pub fn new(dimensions: usize, centres: Vec<Vec<f64>>) -> Mixture {
        let centres = centres.into_iter().filter(|c| c.len() == dimensions);
        Mixture {
            dimensions,
            centres: centres.collect(),
        }
    }

    /// Number of centres.
    #[must_use]
    pub fn centres(&self) -> usize {
        self.centres.len()
    }

    /// Share of the plain draws.
    #[must_use]
    pub fn plain(&self) -> f64 {
        if self.centres.is_empty() { 1.0 } else { PLAIN }
    }

    /// Scores of a unit, by its number alone, and its weight.
    #[must_use]
    pub fn draw(&self, seed: u64, unit: u64) -> (Vec<f64>, f64) {
        let stream = Stream::new(seed, Purpose::RARE_EVENTS, unit);
        let n = self.dimensions as u32;
        let mut scores: Vec<f64> = (0..n).map(|k| stream.normal(k)).collect();
        let which = stream.uniform(n);
        if which >= self.plain() {
            let place = (which - PLAIN) / (1.0 - PLAIN) * self.centres.len() as f64;
            if let Some(centre) = self.centres.get(place as usize) {
                scores.iter_mut().zip(centre).for_each(|(s, c)| *s += c);
            }
        }
        let weight = self.weight(&scores);
        (scores, weight)
    }

    /// Plain density over the mixture's.
    #[must_use]
    pub fn weight(&self, scores: &[f64]) -> f64 {
        let each = (1.0 - PLAIN) / self.centres.len().max(1) as f64;
        let moved = self.centres.iter().map(|centre| {
            let sum: f64 = centre
                .iter()
                .zip(scores)
                .map(|(c, s)| c * (s - 0.5 * c))
                .sum();
            each * libm::exp(sum)
        });
        1.0 / (self.plain() + moved.sum::<f64>())
    }

    /// Share from the terms (weight where it happened, else 0) of so many draws. Nothing seen: the
    /// upper end is that of the plain draws alone.
    #[must_use]
    pub fn share(&self, terms: impl Iterator<Item = f64>, draws: u64) -> RareShare {
        let (mean, error) = mean_and_error(terms, draws);
        if mean <= 0.0 {
            let high = -libm::log(0.05) / (self.plain() * draws.max(1) as f64);
            return RareShare {
                share: 0.0,
                low: 0.0,
                high: high.min(1.0),
            };
        }
        let factor = libm::exp(Z95 * error / mean);
        RareShare {
            share: mean.min(1.0),
            low: (mean / factor).min(1.0),
            high: (mean * factor).min(1.0),
        }
    }
}

/// A difference of two shares, from the terms of so many draws.
#[must_use]
pub fn difference(terms: impl Iterator<Item = f64>, draws: u64) -> RareShare {
    let (mean, error) = mean_and_error(terms, draws);
    RareShare {
        share: mean,
        low: mean - Z95 * error,
        high: mean + Z95 * error,
    }
}

fn mean_and_error(terms: impl Iterator<Item = f64>, draws: u64) -> (f64, f64) {
    let (sum, squares) = terms.fold((0.0, 0.0), |(s, q), t| (s + t, q + t * t));
    let n = draws.max(1) as f64;
    let mean = sum / n;
    let variance = (squares / n - mean * mean).max(0.0);
    (mean, libm::sqrt(variance / (n - 1.0).max(1.0)))
}

/// The failing point nearest to the middle of everything: `beyond` is at or above zero where it
/// fails. `None`: not within [`FURTHEST`], or nothing moves it. The middle itself, where that fails
/// already.
pub fn nearest(dimensions: usize, mut beyond: impl FnMut(&[f64]) -> f64) -> Option<Vec<f64>> {
    const STEP: f64 = 0.05;
    let mut at = vec![0.0; dimensions];
    for _ in 0..25 {
        let here = beyond(&at);
        if here >= 0.0 && at.iter().all(|s| *s == 0.0) {
            return Some(at);
        }
        let slopes: Vec<f64> = (0..dimensions)
            .map(|k| {
                let mut beside = at.clone();
                beside[k] += STEP;
                (beyond(&beside) - here) / STEP
            })
            .collect();
        let square: f64 = slopes.iter().map(|s| s * s).sum();
        if !(square > 0.0 && square.is_finite()) {
            return None;
        }
        let along: f64 = slopes.iter().zip(&at).map(|(s, a)| s * a).sum();
        let next: Vec<f64> = slopes.iter().map(|s| (along - here) / square * s).collect();
        let moved = norm(next.iter().zip(&at).map(|(n, a)| n - a));
        // Long steps are cut: far out, the slopes here say little.
        let part = (2.0 / moved).min(1.0);
        at.iter_mut()
            .zip(&next)
            .for_each(|(a, n)| *a += part * (n - *a));
        if norm(at.iter().copied()) > FURTHEST {
            return None;
        }
        if moved < 0.01 {
            break;
        }
    }
    Some(at)
}

/// Length of a vector.
pub fn norm(of: impl Iterator<Item = f64>) -> f64 {
    libm::sqrt(of.map(|v| v * v).sum())
}

#[cfg(test)]
mod tests {
    use super::super::normal;
    use super::*;

    /// A plane at a distance of beta: the closed form is the upper tail of the normal.
    #[test]
    fn a_plane_at_a_distance_has_the_upper_tail() {
        for beta in [1.0, 3.0, 4.75, 6.0] {
            let beyond = |s: &[f64]| (0.6 * s[0] - 0.8 * s[1]) - beta;
            let point = nearest(3, beyond).expect("it is within reach");
            assert!((norm(point.iter().copied()) - beta).abs() < 1e-9);
            let mixture = Mixture::new(3, vec![point]);
            let draws = 20_000;
            let terms = (0..draws).map(|k| {
                let (s, w) = mixture.draw(5, k);
                if beyond(&s) >= 0.0 { w } else { 0.0 }
            });
            let found = mixture.share(terms, draws);
            let exact = normal::upper_tail(beta);
            assert!(
                found.low < exact && exact < found.high,
                "{beta}: {found:?} {exact}"
            );
            assert!(found.high / found.low < 1.12, "{beta}: {found:?}");
        }
    }

    #[test]
    fn what_never_happens_is_bounded_by_the_plain_draws_and_what_nothing_moves_has_no_point() {
        let mixture = Mixture::new(2, vec![vec![3.0, 0.0]]);
        let found = mixture.share((0..1000).map(|_| 0.0), 1000);
        assert!(found.share == 0.0 && (found.high - 2.9957 / 500.0).abs() < 1e-6);
        assert_eq!(nearest(2, |_| -1.0), None);
        assert_eq!(nearest(2, |s| s[0] - 9.0), None);
        assert_eq!(nearest(2, |s| s[0] + 1.0), Some(vec![0.0, 0.0]));
    }

    /// The weights of all draws have the mean 1: the mixture is a density.
    #[test]
    fn weights_have_the_mean_one_and_never_exceed_two() {
        let mixture = Mixture::new(2, vec![vec![2.0, 1.0], vec![-3.0, 0.0]]);
        let weights: Vec<f64> = (0..40_000).map(|k| mixture.draw(1, k).1).collect();
        let mean = weights.iter().sum::<f64>() / 40_000.0;
        assert!((mean - 1.0).abs() < 0.02, "{mean}");
        assert!(weights.iter().all(|w| *w <= 2.0 + 1e-12));
    }
}
