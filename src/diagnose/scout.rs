//! Where the particles of a hypothesis lie that the evidence speaks for, and how probable it makes
//! the evidence.
//!
//! A sequential Monte Carlo sampler (P. Del Moral, A. Doucet and A. Jasra, J. R. Statist. Soc. B 68
//! (2006) 411) by superposition: particles are drawn where direct measurements point to; the
//! evidence is let in by degrees, each as large as keeps half of the particles; after each the
//! particles are resampled and walk a few steps.

use super::aim::Aim;
use super::as_far::AsFar;
use super::brought::bringing;
use super::hypothesis::Hypothesis;
use super::latent::{Particle, Prior, logs_of};
use super::rejuvenate::{DIMENSIONS, Ground, Numbers, spread};
use super::scales::Scales;
use crate::statistics::stream::{Purpose, Stream};
use crate::statistics::weighted::{effective, systematic};

/// Part of the particles that a degree of evidence keeps.
const KEPT: f64 = 0.7;
/// Degrees after which the rest is let in at once.
const DEGREES: usize = 100;
/// So many times more particles are drawn than go on after the first degree, and so many times more
/// are effective after it: it may go the further for that.
const FIRST: usize = 15;
const FIRST_KEPT: f64 = 2.5;
/// Accepted steps of each particle after a degree, on average, and the sweeps they may take.
const STEPS: f64 = 2.0;
const SWEEPS: usize = 8;
/// The same once all of it is in: particles that were copied go their own ways.
const LAST_STEPS: f64 = 8.0;
const LAST_SWEEPS: usize = 36;
/// Usual length of a step in units of the spread, over the root of the dimensions (A. Gelman, G. O.
/// Roberts and W. R. Gilks, 1996), and the part of the steps that is to be accepted.
const LENGTH: f64 = 2.38;
const ACCEPTED: f64 = 0.25;

/// What was found under one hypothesis.
pub struct Found {
    /// Particles of equal weight, with the logarithm of their likelihood.
    pub particles: Vec<(Particle, f64)>,
    /// Logarithm of the probability of the evidence, given that such a machine is asked about.
    pub log_evidence: f64,
    /// How many particles were looked at.
    pub looked_at: usize,
}

/// A particle on its way.
#[derive(Clone, Copy)]
struct Walker {
    particle: Particle,
    /// Logarithm of the density that it was drawn from.
    start: f64,
    /// Logarithm of the likelihood.
    likelihood: f64,
    /// Logarithm of the prior.
    prior: f64,
}

impl Walker {
    /// Logarithm of the density when a part of the evidence is let in.
    fn at(&self, part: f64) -> f64 {
        (1.0 - part) * self.start + part * (self.prior + self.likelihood)
    }

    fn gain(&self) -> f64 {
        self.prior + self.likelihood - self.start
    }
}

/// One hypothesis of a case.
pub struct Scout<'a> {
    scales: &'a Scales<'a>,
    hypothesis: &'a Hypothesis,
    prior: &'a Prior,
    aim: Aim<'a>,
    as_far: AsFar<'a>,
    /// Logarithm of how often its machines are brought as a case.
    log_brought: f64,
    seed: u64,
}

impl<'a> Scout<'a> {
    /// A scout for a hypothesis.
    pub fn new(
        scales: &'a Scales<'a>,
        hypothesis: &'a Hypothesis,
        prior: &'a Prior,
        seed: u64,
    ) -> Scout<'a> {
        Scout {
            scales,
            hypothesis,
            prior,
            aim: Aim::at(scales, prior),
            as_far: AsFar::of(scales, hypothesis),
            log_brought: bringing(scales, hypothesis, prior, seed).ln(),
            seed,
        }
    }

    fn stream(&self, round: usize, number: usize) -> Stream {
        let place = (round as u64) << 32 | number as u64;
        Stream::new(self.seed, Purpose::other(40), place)
    }

    /// What is known of a particle; `None` when the prior excludes it, or when a part of the evidence
    /// that is let in makes its density, a logarithm, less than what is asked for.
    fn walker(
        &self,
        particle: Particle,
        (part, least): (f64, f64),
        items: &mut Vec<f64>,
    ) -> Option<Walker> {
        let believed = logs_of(self.prior, &particle)?;
        let density = self.scales.family.log_density(particle.drawn);
        let prior = Some(density + believed.iter().sum::<f64>()).filter(|p| p.is_finite())?;
        let start = self.aim.log(&particle, &believed);
        let least = (least - (1.0 - part) * start) / part - prior;
        let likelihood = self.as_far.log(&particle, least, items)?;
        likelihood.is_finite().then_some(Walker {
            particle,
            start,
            likelihood,
            prior,
        })
    }

    /// Sends out so many particles; those that are looked at further go their own ways at the end.
    pub fn send(&self, count: usize, are_looked_at: bool) -> Found {
        let ground = Ground::of(self.scales, self.hypothesis, &self.aim);
        let mut items = Vec::new();
        let first = FIRST * count;
        let drawn: Vec<Option<Walker>> = (0..first)
            .map(|k| {
                let particle = self.aim.draw(&self.stream(0, k));
                self.walker(particle, (1.0, f64::NEG_INFINITY), &mut items)
            })
            .collect();
        let mut looked_at = first;
        let mut walkers: Vec<Walker> = drawn.into_iter().flatten().collect();
        // Draws that the prior excludes have no weight.
        let mut log_evidence = (walkers.len() as f64 / first as f64).ln() - self.log_brought;
        let mut part = 0.0;
        let mut length = LENGTH / (DIMENSIONS as f64).sqrt();
        let mut round = 0;
        while part < 1.0 && !walkers.is_empty() {
            round += 1;
            let next = if round > DEGREES {
                1.0
            } else {
                let kept = KEPT * walkers.len() as f64;
                degree(&walkers, part, kept.min(FIRST_KEPT * count as f64))
            };
            let logs: Vec<f64> = walkers.iter().map(|w| (next - part) * w.gain()).collect();
            let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            let weights: Vec<f64> = logs.iter().map(|l| (l - top).exp()).collect();
            let sum: f64 = weights.iter().sum();
            log_evidence += top + (sum / walkers.len() as f64).ln();
            let offset = self.stream(round, (1 << 24) - 1).uniform(0);
            walkers = systematic(&weights, count, offset)
                .into_iter()
                .map(|k| walkers[k])
                .collect();
            part = next;
            let mut at: Vec<(usize, Numbers)> = walkers
                .iter()
                .map(|w| (w.particle.drawn.member, ground.numbers(&w.particle)))
                .collect();
            let roots = spread(&at, self.scales.family.members().len());
            let mut accepted = 0.0;
            let (steps, sweeps) = if part < 1.0 || !are_looked_at {
                (STEPS, SWEEPS)
            } else {
                (LAST_STEPS, LAST_SWEEPS)
            };
            for sweep in 0..sweeps {
                let root = roots.map(|row| row.map(|r| length * r));
                let mut share = 0.0;
                let (mut walks, mut walked) = (0, 0);
                for (k, walker) in walkers.iter_mut().enumerate() {
                    let stream = self.stream(round * 64 + sweep + 1000, k);
                    let step = ground.step(&walker.particle, &at[k].1, &root, &stream);
                    looked_at += 1;
                    walks += usize::from(step.is_walk);
                    let least = walker.at(part) - step.stretch + stream.uniform(40).ln();
                    let Some(other) = self.walker(step.particle, (part, least), &mut items) else {
                        continue;
                    };
                    if other.at(part) > least {
                        *walker = other;
                        at[k].1 = step.at;
                        share += 1.0 / count as f64;
                        walked += usize::from(step.is_walk);
                    }
                }
                accepted += share;
                let walked = walked as f64 / walks.max(1) as f64;
                length = (length * (2.0 * (walked - ACCEPTED)).exp()).clamp(0.02, 1.0);
                if accepted > steps {
                    break;
                }
            }
        }
        if walkers.is_empty() {
            log_evidence = f64::NEG_INFINITY;
        }
        Found {
            particles: walkers.iter().map(|w| (w.particle, w.likelihood)).collect(),
            log_evidence,
            looked_at,
        }
    }
}

/// How much of the evidence is let in next, for as many walkers to be effective.
fn degree(walkers: &[Walker], part: f64, kept: f64) -> f64 {
    let keeps = |next: f64| {
        let logs: Vec<f64> = walkers.iter().map(|w| (next - part) * w.gain()).collect();
        let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let weights: Vec<f64> = logs.iter().map(|l| (l - top).exp()).collect();
        effective(&weights) >= kept
    };
    if keeps(1.0) {
        return 1.0;
    }
    let (mut low, mut high) = (part, 1.0);
    for _ in 0..24 {
        let middle = 0.5 * (low + high);
        if keeps(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low.max(part + 1e-4).min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnose::brought::{brings, drawn};
    use crate::diagnose::hypothesis::HYPOTHESES;
    use crate::diagnose::latent::prior;
    use crate::diagnose::record::Cause;
    use crate::evidence::{
        Before, Case, Event, Measured, Meter, Outcome, Reading, Setting, Taken, Unit,
    };
    use crate::family::{Family, Nameplate};

    /// The evidence of a case as a plain mean over draws from the prior, with its standard error,
    /// as logarithm.
    fn plainly(scales: &Scales<'_>, hypothesis: &Hypothesis, prior: &Prior) -> (f64, f64) {
        let brought = bringing(scales, hypothesis, prior, 5);
        let mut items = Vec::new();
        let (mut sum, mut squares) = (0.0, 0.0);
        let n = 60_000;
        for k in 0..n {
            let stream = Stream::new(77, Purpose::other(45), k);
            let particle = drawn(scales, prior, &stream).unwrap();
            let log = scales.surrogate(&particle, &mut items).log;
            let p = log.exp() * brings(scales, hypothesis, &particle) / brought;
            sum += p;
            squares += p * p;
        }
        let mean = sum / n as f64;
        let error = (squares / n as f64 - mean * mean).sqrt() / (n as f64).sqrt();
        (mean.ln(), error / mean)
    }

    #[test]
    fn the_sampler_finds_the_evidence_that_plain_draws_find() {
        let plate = Nameplate::of_rating(10.0);
        let family = Family::new(&plate, 24).unwrap();
        let measured = |value: f64, relative: f64| Measured::new(value, relative * value);
        let event = |setting, seconds: f64| Event {
            label: String::new(),
            unit: Unit::ThisPart,
            setting,
            before: Before::Cold,
            air_k: None,
            outcome: Outcome::Tripped {
                after_s: measured(seconds, 0.05),
            },
            times: 1,
            reset_between_s: None,
            mended: 0,
        };
        let bench = Setting::Bench {
            current_a: measured(20.0, 0.02),
        };
        let case = Case {
            has_start: Some(false),
            readings: vec![Reading {
                label: String::new(),
                current_a: measured(12.5, 0.03),
                meter: Meter::TrueRms,
                taken: Taken::UpToTheTrip,
                of_log: false,
                mended: 0,
            }],
            events: vec![
                event(Setting::InService { with_start: true }, 260.0),
                event(bench, 22.0),
            ],
            ..Case::of(plate)
        };
        let scales = Scales::new(&case, &family);
        for causes in [
            &[Cause::Overload][..],
            &[Cause::Overload, Cause::WornEarly],
            &[Cause::BadConnection],
        ] {
            let hypothesis = HYPOTHESES.iter().find(|h| h.causes == causes).unwrap();
            let prior = prior(&case, hypothesis).unwrap();
            let (plain, error) = plainly(&scales, hypothesis, &prior);
            assert!(error < 0.1, "{causes:?} {error}");
            // Several goes, since one may be off by a few tenths.
            let goes: Vec<f64> = (0..6)
                .map(|k| {
                    Scout::new(&scales, hypothesis, &prior, 100 + k)
                        .send(300, true)
                        .log_evidence
                })
                .collect();
            let mean = goes.iter().map(|g| (g - plain).exp()).sum::<f64>() / goes.len() as f64;
            assert!(
                mean.ln().abs() < 0.2 + 2.0 * error,
                "{causes:?} {plain} {goes:?}"
            );
        }
    }
}
