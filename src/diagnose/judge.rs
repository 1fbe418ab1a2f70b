//! From probabilities to what to do.

use super::posterior::Posterior;
use super::record::{Cause, Verdict};

/// Least probability at which a verdict is given; below it the evidence is not enough (common practice, no
/// source).
pub const SURE_ENOUGH: f64 = 0.75;

/// Part of the probability that is kept for what the family and the sampling do not see (common practice, no
/// source; the calibration test shows what it does).
const DOUBT: f64 = 0.03;

/// Verdicts that a posterior can lead to.
pub const VERDICTS: [Verdict; 7] = [
    Verdict::FindTheLoad,
    Verdict::CoolOrReRate,
    Verdict::ReMakeTheConnection,
    Verdict::ReplaceTheProtector,
    Verdict::DoNotReEnergise,
    Verdict::TwoCauses,
    Verdict::NothingToMend,
];

/// Probability of each of [`VERDICTS`].
pub fn of_verdicts(posterior: &Posterior) -> [f64; 7] {
    let mut sums = [0.0; 7];
    // What sampling and the family may have missed: a little of every verdict is kept.
    let kept = DOUBT / VERDICTS.len() as f64;
    for (h, p) in posterior.probability.iter().enumerate() {
        for (i, w) in posterior.weights[h].iter().enumerate() {
            if *w > 0.0 {
                let verdict = posterior.verdict(i, h);
                if let Some(k) = VERDICTS.iter().position(|v| *v == verdict) {
                    sums[k] += p * w;
                }
            }
        }
    }
    sums.map(|s| (1.0 - DOUBT) * s + kept)
}

/// The most probable verdict and its probability.
pub fn most_probable(posterior: &Posterior) -> (Verdict, f64) {
    let mut best = (Verdict::NotEnoughEvidence, 0.0);
    for (v, p) in VERDICTS.into_iter().zip(of_verdicts(posterior)) {
        if p > best.1 {
            best = (v, p);
        }
    }
    best
}

/// Probability that a cause is one of those at work.
pub fn of_cause(posterior: &Posterior, cause: Cause) -> f64 {
    posterior
        .hypotheses
        .iter()
        .zip(&posterior.probability)
        .filter(|(h, _)| h.has(cause))
        .map(|(_, p)| p)
        .sum()
}
