//! How probable each hypothesis is, and the guesses that carry it.
//!
//! Adaptive multiple importance sampling (Cornuet, Marin, Mira and Robert, 2012): guesses are drawn in rounds,
//! first from the beliefs of every hypothesis, then near what has been found; all of them are weighed
//! against the mixture that drew them. One pool serves every hypothesis, since the likelihood of a guess is
//! the same under all.

use super::cloud::{Cloud, Coordinates, Frame};
use super::hypothesis::{HYPOTHESES, Hypothesis};
use super::latent::{Beliefs, COUNT, Guess, aimed, beliefs};
use super::pool::{Component, Pool, log_of};
use super::record::{Cause, Verdict};
use super::weigh::{Scales, Weighed};
use crate::evidence::{Case, Setting};
use crate::statistics::stream::{Purpose, Stream};
use crate::statistics::weighted::{effective, systematic};

/// Guesses in the first round and in each of the later ones.
const FIRST: usize = 3400;
const LATER: usize = 1400;
/// Rounds that follow the guide, not the likelihood.
const GUIDED: usize = 3;
/// Later rounds.
const ROUNDS: usize = 6;
/// Centres of a later round for each hypothesis.
const CENTRES: usize = 4;
/// Guesses this far below the best in what needs no simulation are not simulated.
const HOPELESS: f64 = 18.0;

/// Guesses, and their weights under each hypothesis.
pub struct Posterior {
    /// Hypotheses that the case does not rule out.
    pub hypotheses: Vec<Hypothesis>,
    /// Probability of each.
    pub probability: Vec<f64>,
    /// Guesses.
    pub guesses: Vec<Guess>,
    /// What each makes of the evidence.
    pub weighed: Vec<Weighed>,
    /// Normalised weights of the guesses under each hypothesis.
    pub weights: Vec<Vec<f64>>,
    /// Effective number of guesses under each hypothesis.
    pub effective: Vec<f64>,
    /// Logarithm of what weighs besides the likelihood, for each hypothesis and guess.
    besides: Vec<Vec<f64>>,
}

impl Posterior {
    /// Weigh a case.
    pub fn of(scales: &Scales<'_>, seed: u64) -> Posterior {
        let case = scales.case;
        let (hypotheses, priors): (Vec<Hypothesis>, Vec<Beliefs>) = HYPOTHESES
            .iter()
            .filter_map(|h| beliefs(case, h).map(|b| (*h, b)))
            .unzip();
        let count = hypotheses.len();
        let frames: Vec<Frame<'_>> = hypotheses
            .iter()
            .zip(&priors)
            .map(|(h, beliefs)| Frame {
                family: scales.family,
                beliefs,
                early: h.has(Cause::WornEarly),
                late: h.has(Cause::WornLate),
            })
            .collect();
        let mut pool = Pool::new(scales, &frames, seed);
        // How often a guess of each hypothesis' own beliefs trips in service.
        let mut asks = vec![0.0; count];
        // Single causes get twice the guesses of pairs.
        let part = |h: &Hypothesis| if h.causes.len() == 1 { 2 } else { 1 };
        let parts: usize = hypotheses.iter().map(part).sum();
        for (h, prior) in priors.iter().enumerate() {
            let n = FIRST * part(&hypotheses[h]) / parts;
            let own = pool.draw(Component::of_beliefs(prior.clone(), n / 3));
            pool.weigh(f64::NEG_INFINITY);
            let asking = pool.weighed[own.clone()].iter().filter(|w| w.asks).count();
            asks[h] = (asking as f64 + 0.5) / (own.len() as f64 + 1.0);
            pool.draw(Component::of_beliefs(aimed(case, prior), n - n / 3));
            pool.weigh(pool.best() - HOPELESS);
        }
        let mut posterior = Posterior {
            probability: Vec::new(),
            guesses: Vec::new(),
            weighed: Vec::new(),
            weights: vec![Vec::new(); count],
            effective: vec![0.0; count],
            besides: vec![Vec::new(); count],
            hypotheses,
        };
        for round in 0.. {
            pool.mix();
            posterior.reweigh(&pool, &priors, &asks);
            if round == ROUNDS {
                break;
            }
            for h in 0..count {
                let n = share(&posterior, h);
                for component in posterior.near(&pool, h, n, round + 1) {
                    pool.draw(component);
                }
                pool.weigh(pool.best() - HOPELESS);
            }
        }
        (posterior.guesses, posterior.weighed) = (pool.guesses, pool.weighed);
        posterior
    }

    /// Weights and probabilities from the pool as it is.
    fn reweigh(&mut self, pool: &Pool<'_>, priors: &[Beliefs], asks: &[f64]) {
        let mut evidence = vec![f64::NEG_INFINITY; self.hypotheses.len()];
        for h in 0..self.hypotheses.len() {
            let hypothesis = &self.hypotheses[h];
            let nothing = hypothesis.has(Cause::NothingWrong);
            let besides: Vec<f64> = (0..pool.guesses.len())
                .map(|i| {
                    let log =
                        log_of(&priors[h], &pool.guesses[i]) + pool.log_part[i] - pool.log_q[i];
                    if log.is_nan() { f64::NEG_INFINITY } else { log }
                })
                .collect();
            let logs: Vec<f64> = besides
                .iter()
                .zip(&pool.weighed)
                .map(|(b, w)| b + if nothing { w.log_unexplained } else { w.log })
                .collect();
            self.besides[h] = besides;
            let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            if top == f64::NEG_INFINITY {
                self.weights[h] = vec![0.0; logs.len()];
                self.effective[h] = 0.0;
                continue;
            }
            let mut weights: Vec<f64> = logs.iter().map(|log| (log - top).exp()).collect();
            // Truncated importance sampling (Ionides, 2008): no guess weighs more than the mean times the root of
            // their number. Little bias, and no answer that hangs on one lucky draw.
            let n = weights.len() as f64;
            let most = weights.iter().sum::<f64>() / n.sqrt();
            for w in &mut weights {
                *w = w.min(most);
            }
            let sum: f64 = weights.iter().sum();
            self.effective[h] = effective(&weights);
            for w in &mut weights {
                *w /= sum;
            }
            self.weights[h] = weights;
            // A case is only brought when the machine trips: how often it would under this hypothesis.
            let selected = if nothing || hypothesis.has(Cause::WornLate) {
                1.0
            } else {
                asks[h]
            };
            evidence[h] = top + (sum / n).ln() - selected.ln()
                + (hypothesis.weight * history(pool.scales.case, hypothesis)).ln();
        }
        let top = evidence.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        self.probability = evidence.iter().map(|e| (e - top).exp()).collect();
        let sum: f64 = self.probability.iter().sum();
        for p in &mut self.probability {
            *p /= sum;
        }
    }

    /// Components near what has been found under a hypothesis.
    fn near(&self, pool: &Pool<'_>, h: usize, n: usize, round: usize) -> Vec<Component> {
        if n < CENTRES {
            return Vec::new();
        }
        let nothing = self.hypotheses[h].has(Cause::NothingWrong);
        let logs: Vec<f64> = self.besides[h]
            .iter()
            .zip(&pool.weighed)
            .map(|(b, w)| {
                b + if nothing {
                    w.log_unexplained
                } else if round <= GUIDED {
                    w.guide
                } else {
                    w.log
                }
            })
            .collect();
        let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if top == f64::NEG_INFINITY {
            return Vec::new();
        }
        // Flattened while few guesses carry the weight.
        let wanted = 4.0 * COUNT as f64;
        let mut weights: Vec<f64> = logs.iter().map(|l| (l - top).exp()).collect();
        let mut flat = 1.0;
        while effective(&weights) < wanted && flat > 0.05 {
            flat *= 0.8;
            for (w, l) in weights.iter_mut().zip(&logs) {
                *w = (flat * (*l - top)).exp();
            }
        }
        let points: Vec<(f64, usize, Coordinates)> = weights
            .iter()
            .enumerate()
            .filter(|(_, w)| **w > 0.0)
            .filter_map(|(i, w)| {
                let at = pool.coordinates(i, h)?;
                Some((*w, pool.guesses[i].drawn.member, at))
            })
            .collect();
        let cloud = Cloud::of(&points, pool.scales.family.members().len());
        let Some(cloud) = cloud else {
            return Vec::new();
        };
        let stream = Stream::new(pool.seed, Purpose::other(41), (1000 * round + h) as u64);
        let narrow: f64 = 0.6;
        let only: Vec<f64> = points.iter().map(|p| p.0).collect();
        let mut out: Vec<Component> = systematic(&only, CENTRES - 1, stream.uniform(0))
            .into_iter()
            .map(|k| Component::of_cloud(h, cloud.about(&points[k].2, narrow), n / CENTRES))
            .collect();
        let left = n - out.len() * (n / CENTRES);
        out.push(Component::of_cloud(h, cloud, left));
        out
    }

    /// Guesses with equal weights, with the number of the hypothesis of each.
    pub fn sample(&self, count: usize, seed: u64) -> Vec<(usize, usize)> {
        let mut flat = Vec::new();
        let mut which = Vec::new();
        for (h, p) in self.probability.iter().enumerate() {
            for (i, w) in self.weights[h].iter().enumerate() {
                if p * w > 1e-7 {
                    flat.push(p * w);
                    which.push((i, h));
                }
            }
        }
        let stream = Stream::new(seed, Purpose::other(42), 0);
        systematic(&flat, count, stream.uniform(0))
            .into_iter()
            .map(|k| which[k])
            .collect()
    }

    /// What to do if a guess under a hypothesis is the truth.
    pub fn verdict(&self, guess: usize, hypothesis: usize) -> Verdict {
        self.hypotheses[hypothesis].verdict(self.weighed[guess].still_trips.as_ref())
    }

    /// Weights of the guesses over all hypotheses.
    pub fn overall(&self) -> Vec<f64> {
        let mut all = vec![0.0; self.guesses.len()];
        for (h, p) in self.probability.iter().enumerate() {
            for (a, w) in all.iter_mut().zip(&self.weights[h]) {
                *a += p * w;
            }
        }
        all
    }
}

/// How many guesses a hypothesis gets in a later round: more where it is probable or thinly covered.
fn share(posterior: &Posterior, h: usize) -> usize {
    let wish = |h: usize| {
        let (p, n) = (posterior.probability[h], posterior.effective[h]);
        let probable = p.sqrt()
            * match n {
                n if n < 30.0 => 3.0,
                n if n < 120.0 => 1.3,
                _ => 0.6,
            };
        // What is covered by a handful of guesses is not known to be improbable.
        let unsure = match n {
            n if n < 25.0 && p > 1e-12 => 0.12,
            _ if p > 1e-6 => 0.03,
            _ => 0.0,
        };
        probable + unsure
    };
    let all: f64 = (0..posterior.probability.len()).map(wish).sum();
    (LATER as f64 * wish(h) / all) as usize
}

/// What the history says of a hypothesis: wear grows with use, a wrong marking speaks for itself (common
/// practice, no source).
fn history(case: &Case, hypothesis: &Hypothesis) -> f64 {
    let worn = hypothesis.has(Cause::WornEarly) || hypothesis.has(Cause::WornLate);
    let mut factor = 1.0;
    if worn
        && (case.trips_so_far.is_some_and(|n| n >= 30) || case.age_years.is_some_and(|a| a > 15.0))
    {
        factor *= 1.6;
    }
    if worn && case.short_circuit == Some(true) {
        factor *= 1.5;
    }
    if hypothesis.has(Cause::WrongRating) {
        factor *= match case.marking_agrees {
            Some(true) => 0.2,
            Some(false) => 10.0,
            None => 1.0,
        };
    }
    if hypothesis.has(Cause::NothingWrong) {
        let trips: u32 = case
            .events
            .iter()
            .filter(|e| !matches!(e.setting, Setting::Bench { .. }))
            .map(|e| e.times)
            .sum();
        if trips > 3 {
            factor *= 0.3;
        }
    }
    factor
}
