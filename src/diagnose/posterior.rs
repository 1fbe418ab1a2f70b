//! How probable each hypothesis is, and the guesses that carry it.
//!
//! Adaptive multiple importance sampling (Cornuet, Marin, Mira and Robert, 2012): guesses are drawn in rounds,
//! first from the beliefs of every hypothesis, then near what has been found; all of them are weighed
//! against the mixture that drew them. One pool serves every hypothesis, since the likelihood of a guess is
//! the same under all.

use super::cloud::{Cloud, Coordinates, Frame};
use super::hypothesis::{HYPOTHESES, Hypothesis};
use super::latent::{Beliefs, COUNT, Guess, aimed, beliefs};
use super::record::{Cause, Verdict};
use super::weigh::{Scales, Weighed};
use crate::evidence::{Case, Setting};
use crate::predict::parallel;
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

/// One part of the mixture that guesses are drawn from.
struct Component {
    from: Source,
    /// How many guesses were drawn from it.
    count: usize,
}

/// Where guesses are drawn from.
enum Source {
    /// The family, and beliefs.
    Beliefs(Box<Beliefs>),
    /// Near what has been found under a hypothesis, in its coordinates.
    Cloud(usize, Box<Cloud>),
}

impl Component {
    fn draw(&self, scales: &Scales<'_>, frames: &[Frame<'_>], stream: &Stream) -> Option<Guess> {
        match &self.from {
            Source::Beliefs(beliefs) => {
                let drawn = scales.family.draw(stream)?;
                let mut x = [0.0; COUNT];
                for (k, x) in x.iter_mut().enumerate() {
                    let draw = 4 + 2 * k as u32;
                    *x = beliefs[k].at(stream.uniform(draw), stream.uniform(draw + 1));
                }
                Some(Guess { drawn, x })
            }
            Source::Cloud(h, cloud) => cloud.draw(&frames[*h], stream),
        }
    }

    fn log(&self, seen: &Seen<'_>) -> f64 {
        match &self.from {
            Source::Beliefs(beliefs) => seen.anywhere + log_of(beliefs, seen.guess),
            Source::Cloud(h, cloud) => match &seen.at[*h] {
                Some((at, volume)) => cloud.log(seen.guess.drawn.member, at) + volume,
                None => f64::NEG_INFINITY,
            },
        }
    }
}

/// A guess with what every component needs of it.
struct Seen<'g> {
    guess: &'g Guess,
    /// Logarithm of the density of the family's own draws.
    anywhere: f64,
    /// Coordinates under each hypothesis, and the logarithm of their volume.
    at: Vec<Option<(Coordinates, f64)>>,
}

fn log_of(x: &Beliefs, guess: &Guess) -> f64 {
    let mut sum = 0.0;
    for (density, x) in x.iter().zip(&guess.x) {
        sum += density.log(*x);
        if sum == f64::NEG_INFINITY {
            break;
        }
    }
    sum
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
        let mut components: Vec<Component> = Vec::new();
        let mut guesses: Vec<Guess> = Vec::new();
        let mut weighed: Vec<Weighed> = Vec::new();
        // How many guesses of each hypothesis' own beliefs trip in service at all.
        let mut asked = vec![(0usize, 0usize); count];
        for (h, prior) in priors.iter().enumerate() {
            // Single causes get twice the guesses of pairs.
            let part = if hypotheses[h].causes.len() == 1 {
                2
            } else {
                1
            };
            let parts: usize = hypotheses
                .iter()
                .map(|h| if h.causes.len() == 1 { 2 } else { 1 })
                .sum();
            let n = FIRST * part / parts;
            for (x, n, is_prior) in [
                (prior.clone(), n / 3, true),
                (aimed(case, prior), n - n / 3, false),
            ] {
                let component = Component {
                    from: Source::Beliefs(Box::new(x)),
                    count: n,
                };
                let from = guesses.len();
                draw(
                    scales,
                    &frames,
                    &component,
                    seed,
                    components.len(),
                    n,
                    &mut guesses,
                );
                let new = evaluate(
                    scales,
                    &guesses[from..],
                    if is_prior {
                        f64::NEG_INFINITY
                    } else {
                        best(&weighed) - HOPELESS
                    },
                );
                if is_prior {
                    asked[h].0 += new.iter().filter(|w| w.asks).count();
                    asked[h].1 += new.len();
                }
                weighed.extend(new);
                components.push(component);
            }
        }
        let mut log_q: Vec<f64> = Vec::new();
        let mut done = 0;
        let mut posterior;
        let mut round = 0;
        loop {
            mix(
                scales,
                &frames,
                &components,
                &guesses,
                &mut log_q,
                &mut done,
            );
            posterior = Posterior::from_pool(
                scales,
                &hypotheses,
                &priors,
                &guesses,
                &weighed,
                &log_q,
                &asked,
            );
            if round == ROUNDS {
                return posterior;
            }
            round += 1;
            for h in 0..count {
                let n = share(&posterior, h);
                let from = guesses.len();
                for component in posterior.near(&frames[h], h, n, seed, round) {
                    let n = component.count;
                    draw(
                        scales,
                        &frames,
                        &component,
                        seed,
                        components.len(),
                        n,
                        &mut guesses,
                    );
                    components.push(component);
                }
                weighed.extend(evaluate(
                    scales,
                    &guesses[from..],
                    best(&weighed) - HOPELESS,
                ));
            }
        }
    }

    fn from_pool(
        scales: &Scales<'_>,
        hypotheses: &[Hypothesis],
        priors: &[Beliefs],
        guesses: &[Guess],
        weighed: &[Weighed],
        log_q: &[f64],
        asked: &[(usize, usize)],
    ) -> Posterior {
        let count = hypotheses.len();
        let mut weights = vec![vec![0.0; guesses.len()]; count];
        let mut evidence = vec![f64::NEG_INFINITY; count];
        let mut effective = vec![0.0; count];
        let mut besides = vec![Vec::new(); count];
        let family: Vec<f64> = guesses
            .iter()
            .map(|g| scales.family.log_density(g.drawn))
            .collect();
        for h in 0..count {
            let nothing = hypotheses[h].has(Cause::NothingWrong);
            besides[h] = (0..guesses.len())
                .map(|i| {
                    let log = log_of(&priors[h], &guesses[i]) + family[i] - log_q[i];
                    if log.is_nan() { f64::NEG_INFINITY } else { log }
                })
                .collect();
            let logs: Vec<f64> = (0..guesses.len())
                .map(|i| {
                    besides[h][i]
                        + if nothing {
                            weighed[i].log_unexplained
                        } else {
                            weighed[i].log
                        }
                })
                .collect();
            let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            if top == f64::NEG_INFINITY {
                continue;
            }
            for (w, log) in weights[h].iter_mut().zip(&logs) {
                *w = (log - top).exp();
            }
            // Truncated importance sampling (Ionides, 2008): no guess weighs more than the mean times the root of
            // their number. Little bias, and no answer that hangs on one lucky draw.
            let n = weights[h].len() as f64;
            let most = weights[h].iter().sum::<f64>() / n.sqrt();
            let (mut sum, mut squares) = (0.0, 0.0);
            for w in &mut weights[h] {
                *w = w.min(most);
                sum += *w;
                squares += *w * *w;
            }
            for w in &mut weights[h] {
                *w /= sum;
            }
            effective[h] = sum * sum / squares;
            // A case is only brought when the machine trips: how often it would under this hypothesis.
            let selected = if nothing || hypotheses[h].has(Cause::WornLate) {
                1.0
            } else {
                (asked[h].0 as f64 + 0.5) / (asked[h].1 as f64 + 1.0)
            };
            evidence[h] = top + (sum / guesses.len() as f64).ln() - selected.ln()
                + (hypotheses[h].weight * history(scales.case, &hypotheses[h])).ln();
        }
        let top = evidence.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let mut probability: Vec<f64> = evidence.iter().map(|e| (e - top).exp()).collect();
        let sum: f64 = probability.iter().sum();
        for p in &mut probability {
            *p /= sum;
        }
        Posterior {
            hypotheses: hypotheses.to_vec(),
            probability,
            guesses: guesses.to_vec(),
            weighed: weighed.to_vec(),
            weights,
            effective,
            besides,
        }
    }

    /// Components near what has been found under a hypothesis.
    fn near(
        &self,
        frame: &Frame<'_>,
        h: usize,
        n: usize,
        seed: u64,
        round: usize,
    ) -> Vec<Component> {
        if n < CENTRES {
            return Vec::new();
        }
        let nothing = self.hypotheses[h].has(Cause::NothingWrong);
        let logs: Vec<f64> = self.besides[h]
            .iter()
            .zip(&self.weighed)
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
        let points: Vec<(f64, usize, Coordinates)> = self
            .guesses
            .iter()
            .zip(&weights)
            .filter(|(_, w)| **w > 0.0)
            .filter_map(|(g, w)| Some((*w, g.drawn.member, frame.coordinates(g)?.0)))
            .collect();
        let cloud = Cloud::of(&points, frame.family.members().len());
        let Some(cloud) = cloud else {
            return Vec::new();
        };
        let stream = Stream::new(seed, Purpose::other(41), (1000 * round + h) as u64);
        let narrow: f64 = 0.6;
        let only: Vec<f64> = points.iter().map(|p| p.0).collect();
        let mut out: Vec<Component> = systematic(&only, CENTRES - 1, stream.uniform(0))
            .into_iter()
            .map(|k| Component {
                from: Source::Cloud(h, Box::new(cloud.about(&points[k].2, narrow))),
                count: n / CENTRES,
            })
            .collect();
        out.push(Component {
            from: Source::Cloud(h, Box::new(cloud)),
            count: n - out.len() * (n / CENTRES),
        });
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

fn best(weighed: &[Weighed]) -> f64 {
    weighed
        .iter()
        .map(|w| w.log.max(w.log_unexplained))
        .fold(f64::NEG_INFINITY, f64::max)
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

fn draw(
    scales: &Scales<'_>,
    frames: &[Frame<'_>],
    component: &Component,
    seed: u64,
    number: usize,
    n: usize,
    out: &mut Vec<Guess>,
) {
    for k in 0..n {
        let stream = Stream::new(seed, Purpose::other(40), (number * 100_000 + k) as u64);
        if let Some(guess) = component.draw(scales, frames, &stream) {
            out.push(guess);
        }
    }
}

fn evaluate(scales: &Scales<'_>, guesses: &[Guess], give_up_below: f64) -> Vec<Weighed> {
    parallel::map(
        guesses,
        |g| {
            let inside = scales.family.log_drawn_density(g.drawn).is_finite();
            let below = if inside { give_up_below } else { f64::INFINITY };
            scales.weigh(g, below)
        },
        &mut |_| {},
    )
}

/// Brings the logarithm of the mixture's density up to date for every guess.
///
/// Kept as a running sum of `count * density`, so that each round costs only what is new.
fn mix(
    scales: &Scales<'_>,
    frames: &[Frame<'_>],
    components: &[Component],
    guesses: &[Guess],
    log_q: &mut Vec<f64>,
    done: &mut usize,
) {
    let numbers: Vec<usize> = (0..guesses.len()).collect();
    let known = log_q.clone();
    let first = *done;
    let total_before: usize = components[..first].iter().map(|c| c.count).sum();
    let total: usize = components.iter().map(|c| c.count).sum();
    *log_q = parallel::map(
        &numbers,
        |i| {
            let guess = &guesses[*i];
            let anywhere = scales.family.log_drawn_density(guess.drawn);
            let inside = anywhere.is_finite();
            let seen = Seen {
                guess,
                anywhere,
                // What the family turns away has no weight and needs no density.
                at: frames
                    .iter()
                    .map(|f| f.coordinates(guess).filter(|_| inside))
                    .collect(),
            };
            let (start, mut sum) = match known.get(*i) {
                Some(log) => (first, log.exp() * total_before as f64),
                None => (0, 0.0),
            };
            for component in &components[start..] {
                sum += component.count as f64 * component.log(&seen).exp();
            }
            (sum / total as f64).ln()
        },
        &mut |_| {},
    );
    *done = components.len();
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
