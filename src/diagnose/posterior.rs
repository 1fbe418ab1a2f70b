//! How probable each hypothesis is, and the particles that carry it.
//!
//! Each hypothesis is scouted by superposition; particles are drawn from what was found and
//! simulated by the engine, and the ratio of both likelihoods corrects weights and probabilities
//! (importance resampling, D. B. Rubin 1987).

use super::advice::{Advice, Mended, is_right, least};
use super::brought::brings;
use super::hypothesis::{HYPOTHESES, Hypothesis, Trips};
use super::latent::{Particle, Prior, prior, suits};
use super::looked;
use super::mended::left;
use super::record::{Cause, Verdict};
use super::scales::Scales;
use super::scout::{Found, Scout};
use super::still_open::off_supply;
use super::too_late::too_late;
use crate::evidence::{Case, Mend};
use crate::predict::parallel;
use crate::statistics::stream::{Purpose, Stream};
use crate::statistics::weighted::{effective, systematic};

/// Particles that are sent out for each hypothesis, and again for those that are not improbable
/// then.
const SCOUTS: usize = 160;
/// How many are sent out again in all, and the least and the most for one hypothesis.
const AGAIN: usize = 4000;
const LEAST: usize = 240;
const MOST: usize = 1800;
/// How many particles are simulated, about: in all, at least of one hypothesis, of an improbable
/// one. Superposition is so near the engine that more would not be seen.
const SIMULATED: usize = 1200;
const LEAST_SIMULATED: usize = 80;
const GLANCE: usize = 50;
/// A hypothesis so much less probable than the best is not looked at again, and not simulated, as
/// logarithms.
const IMPROBABLE: f64 = 7.0;
const NEGLIGIBLE: f64 = 12.0;
/// The engine makes the evidence at most so much more probable than superposition does, as a
/// logarithm.
const MUCH: f64 = 50.0;

/// How often a machine that suits no part of the rating holds once its load was freed (common practice,
/// no source).
const FREED_ALL_THE_SAME: f64 = 0.2;
/// Weight of a sound part where nothing has tripped and nobody suspects it: one in sixteen is late
/// then (common practice, no source).
const UNSUSPECTED: f64 = 0.9;

/// A particle that was simulated.
#[derive(Debug, Clone, Copy)]
pub struct Carrier {
    /// The particle.
    pub particle: Particle,
    /// Number of its hypothesis.
    pub hypothesis: usize,
    /// Its share of the whole probability.
    pub weight: f64,
    /// What happens once its causes are put right.
    pub mended: Mended,
}

/// Whether each of [`Advice::ALL`] is right.
pub type Rights = [bool; Advice::ALL.len()];

/// Particles with their weights, and the probability of each hypothesis.
pub struct Posterior {
    /// Hypotheses that the case does not rule out.
    pub hypotheses: Vec<Hypothesis>,
    /// What is left of the causes of each after what was mended.
    left: Vec<Hypothesis>,
    /// Probability of each.
    pub probability: Vec<f64>,
    /// Particles that carry it.
    pub carriers: Vec<Carrier>,
    /// Effective number of particles under each hypothesis.
    pub effective: Vec<f64>,
    /// How many particles were looked at by superposition.
    pub scouted: usize,
}

impl Posterior {
    /// Weigh a case.
    pub fn of(scales: &Scales<'_>, seed: u64) -> Posterior {
        let case = scales.case;
        let may_be_late = case.is_told_without_a_trip() && too_late(scales).is_some();
        let (hypotheses, priors): (Vec<Hypothesis>, Vec<Prior>) = HYPOTHESES
            .iter()
            .filter_map(|h| {
                let weight = prior_weight(case, h, may_be_late)?;
                let prior = prior(case, h)?;
                Some((Hypothesis { weight, ..*h }, prior))
            })
            .unzip();
        let numbers: Vec<usize> = (0..hypotheses.len()).collect();
        let scouts: Vec<Scout<'_>> = parallel::map(
            &numbers,
            |h| {
                let own = seed ^ ((*h as u64 + 1) << 32);
                Scout::new(scales, &hypotheses[*h], &priors[*h], own)
            },
            &mut |_| {},
        );
        let first: Vec<Found> = parallel::map(&scouts, |s| s.send(SCOUTS, false), &mut |_| {});
        let log = |h: usize, found: &Found| {
            found.log_evidence + (hypotheses[h].weight * history(case, &hypotheses[h])).ln()
        };
        let before: Vec<f64> = (0..first.len()).map(|h| log(h, &first[h])).collect();
        let counts = counts(&before);
        let found: Vec<Option<Found>> = parallel::map(
            &numbers,
            |h| (counts[*h] > 0).then(|| scouts[*h].send(counts[*h], true)),
            &mut |_| {},
        );
        let all = || first.iter().chain(found.iter().flatten());
        let mut posterior = Posterior {
            probability: Vec::new(),
            carriers: Vec::new(),
            effective: Vec::new(),
            scouted: all().map(|f| f.looked_at).sum(),
            left: (hypotheses.iter()).map(|h| left(h, &case.mended)).collect(),
            hypotheses: hypotheses.clone(),
        };
        // What was sent out again is known better.
        let found: Vec<Found> = first
            .into_iter()
            .zip(found)
            .map(|(first, again)| again.unwrap_or(first))
            .collect();
        let before: Vec<f64> = (0..found.len()).map(|h| log(h, &found[h])).collect();
        posterior.simulate(scales, &found, &before);
        posterior
    }

    /// Simulates what the scouts have found.
    fn simulate(&mut self, scales: &Scales<'_>, found: &[Found], before: &[f64]) {
        let top = before.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let all: usize = found.iter().map(|f| f.particles.len()).sum();
        let chosen: Vec<(usize, Particle, f64)> = found
            .iter()
            .enumerate()
            .filter(|(h, _)| before[*h] > top - NEGLIGIBLE)
            .flat_map(|(h, f)| {
                let of = f.particles.len();
                let wanted = if before[h] > top - IMPROBABLE {
                    (of * SIMULATED / all.max(1)).max(LEAST_SIMULATED)
                } else {
                    GLANCE
                };
                // Neighbours may be copies of one particle.
                let some = f.particles.iter().step_by((of / wanted).max(1));
                some.map(move |(g, log)| (h, *g, *log))
            })
            .collect();
        let mut weighed: Vec<(f64, Mended)> = parallel::map(
            &chosen,
            |(h, particle, by_scout)| self.weigh(scales, *h, particle, *by_scout),
            &mut |_| {},
        );
        if weighed.iter().all(|w| !(w.0 > 0.0)) {
            // Nothing that was simulated is possible at all: what superposition says is better than
            // nothing.
            for w in &mut weighed {
                w.0 = 1.0;
            }
        }
        let mut ratios: Vec<Vec<f64>> = vec![Vec::new(); found.len()];
        for ((h, _, _), (ratio, _)) in chosen.iter().zip(&weighed) {
            ratios[*h].push(*ratio);
        }
        self.effective = ratios.iter().map(|r| effective(r)).collect();
        let sums: Vec<f64> = ratios.iter().map(|r| r.iter().sum()).collect();
        let log = |h: usize| before[h] + (sums[h] / ratios[h].len().max(1) as f64).ln();
        let logs: Vec<f64> = (0..found.len())
            .map(log)
            .map(|l| if l.is_nan() { f64::NEG_INFINITY } else { l })
            .collect();
        let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        self.probability = logs.iter().map(|l| (l - top).exp()).collect();
        let sum: f64 = self.probability.iter().sum();
        for p in &mut self.probability {
            *p /= sum;
        }
        self.carriers = chosen
            .iter()
            .zip(&weighed)
            .filter(|(_, (ratio, _))| *ratio > 0.0)
            .map(|((h, particle, _), (ratio, mended))| Carrier {
                particle: *particle,
                hypothesis: *h,
                weight: self.probability[*h] * ratio / sums[*h],
                mended: *mended,
            })
            .collect();
    }

    /// How much more probable the engine makes the evidence than superposition, and what putting
    /// right does.
    fn weigh(
        &self,
        scales: &Scales<'_>,
        h: usize,
        particle: &Particle,
        by_scout: f64,
    ) -> (f64, Mended) {
        let hypothesis = &self.hypotheses[h];
        let weighed = scales.weigh(particle);
        let log = weighed.under(hypothesis);
        // Where nothing is left of them, what was mended may not have reached them.
        let is_part = self.left[h].causes != hypothesis.causes;
        let now = if is_part {
            scales.now(particle)
        } else {
            *particle
        };
        let mended = Mended::of(&self.left[h], &now, |g| {
            scales.trips(g, scales.wear(g), true)
        });
        // The engine has the last word on whether the machine runs once all is put right.
        let brought = match scales.has_trip_in_service() && hypothesis.is_curable() {
            true if mended.all => 0.0,
            true => f64::NEG_INFINITY,
            false => brings(scales, hypothesis, particle).ln(),
        };
        let ratio = log + brought - by_scout;
        (
            if ratio.is_nan() {
                0.0
            } else {
                ratio.min(MUCH).exp()
            },
            mended,
        )
    }

    /// Carriers with equal weights.
    pub fn sample(&self, count: usize, seed: u64) -> Vec<&Carrier> {
        let weights: Vec<f64> = self.carriers.iter().map(|c| c.weight).collect();
        let stream = Stream::new(seed, Purpose::other(42), 0);
        systematic(&weights, count, stream.uniform(0))
            .into_iter()
            .map(|k| &self.carriers[k])
            .collect()
    }

    /// The least that mends the machine of a carrier.
    pub fn least(&self, carrier: &Carrier) -> Verdict {
        least(&self.left[carrier.hypothesis], &carrier.mended)
    }

    /// Whether each advice is right for the machine of a carrier.
    pub fn rights(&self, carrier: &Carrier) -> Rights {
        let hypothesis = &self.left[carrier.hypothesis];
        Advice::ALL.map(|a| is_right(a, hypothesis, &carrier.mended))
    }

    /// Probability that an advice is right.
    pub fn right(&self, advice: Advice) -> f64 {
        self.carriers
            .iter()
            .filter(|c| is_right(advice, &self.left[c.hypothesis], &c.mended))
            .map(|c| c.weight)
            .sum()
    }
}

/// Prior weight of a hypothesis; `None` when the case cannot be about it (common practice, no
/// source). Where it is told how the part did and no trip in service, nothing trips a machine. A
/// part that is taken to a bench is suspected, and is as probably at fault as it is sound; one that
/// held its machine is not. Where nothing but the bench is told it may have tripped too soon; where
/// the machine is told of, it would have. `may_be_late`: it held what none of the rating should.
fn prior_weight(case: &Case, hypothesis: &Hypothesis, may_be_late: bool) -> Option<f64> {
    if !case.is_told_without_a_trip() {
        // The plate itself says what is wrong.
        let other = !suits(case) && !hypothesis.has(Cause::WrongRating);
        return Some(hypothesis.weight * if other { 0.1 } else { 1.0 });
    }
    let weight_of = |cause: Cause| {
        let alone = HYPOTHESES.iter().find(|h| h.causes == [cause]);
        alone.map_or(0.0, |h| h.weight)
    };
    let (early, late) = (weight_of(Cause::WornEarly), weight_of(Cause::WornLate));
    let weight = match hypothesis.causes {
        [Cause::NothingWrong] if case.is_tested() || may_be_late => early + late,
        [Cause::NothingWrong] => UNSUSPECTED,
        [Cause::WornLate] if !case.is_tested() => late,
        [Cause::WornEarly] if !case.is_bench_only() => late,
        [Cause::WornLate] if !case.is_bench_only() => early,
        _ => hypothesis.weight,
    };
    // A machine that draws too much and is held speaks of a late part.
    let is_let_through = !case.is_tested() && hypothesis.has(Cause::WornLate);
    // A joint burns, and a machine is overloaded, whether or not anything trips: they are weighed where
    // something was seen of them.
    let is_seen = match hypothesis.causes {
        [Cause::BadConnection] => case.tells_of_joints(),
        [Cause::Overload] => case.draws_more_than_its_plate(),
        _ => false,
    };
    (hypothesis.is_of_the_part() || is_let_through || is_seen).then_some(weight)
}

/// How many particles each hypothesis gets: more where it is probable; none where it is not worth
/// it.
fn counts(before: &[f64]) -> Vec<usize> {
    let top = before.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let wish = |log: &f64| {
        if *log > top - IMPROBABLE {
            (0.4 * (log - top)).exp()
        } else {
            0.0
        }
    };
    let all: f64 = before.iter().map(wish).sum();
    before
        .iter()
        .map(|log| match wish(log) {
            w if w > 0.0 => ((AGAIN as f64 * w / all) as usize).clamp(LEAST, MOST),
            _ => 0,
        })
        .collect()
}

/// What the history says of a hypothesis: wear grows with use, a wrong marking speaks for itself
/// (common practice, no source).
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
    let holds = case.since_mended().is_some_and(|e| !e.is_trip());
    if hypothesis.has(Cause::WrongRating) && case.has_mended(Mend::Load) && holds {
        factor *= FREED_ALL_THE_SAME;
    }
    if let Some(found) = case.joints {
        factor *= looked::joints(found, hypothesis.has(Cause::BadConnection));
    }
    // A motor on a low supply draws more, running and starting, a heater on a high one; where
    // nobody says what it is, it may be a motor.
    if off_supply(case).is_some_and(|(over, more)| more.unwrap_or(over < 1.0))
        && (hypothesis.has(Cause::Overload) || hypothesis.has(Cause::StartOrStall))
    {
        factor *= 2.0;
    }
    // What trips a machine as it runs trips it again.
    if hypothesis.trips == Trips::AsItRuns
        && !hypothesis.has(Cause::WornLate)
        && case.trips_so_far.is_some_and(|n| n <= 1)
    {
        factor *= 0.4;
    }
    if hypothesis.trips == Trips::Once && case.trips_so_far.is_some_and(|n| n > 5) {
        factor *= 0.3;
    }
    let trips: u32 = case
        .events
        .iter()
        .filter(|e| e.is_in_service())
        .map(|e| e.times)
        .sum();
    factor
        * match hypothesis.trips {
            Trips::Once if trips > 3 => 0.3,
            // What comes back is seldom brought after the first time.
            Trips::AsItRuns if trips == 1 => 0.7,
            Trips::InMidRun if trips < 2 => 0.4,
            _ => 1.0,
        }
}
