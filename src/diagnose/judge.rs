//! From probabilities to what to do.

use super::advice::Advice;
use super::posterior::Posterior;
use super::record::{Cause, Verdict};

/// Least probability at which a verdict is given; below it the evidence is not enough (common practice, no
/// source).
pub const SURE_ENOUGH: f64 = 0.75;

/// Part of the probability that is kept for what the family and the sampling do not see (common practice, no
/// source; the calibration test shows what it does).
const DOUBT: f64 = 0.02;

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

/// The advice that is most probably right, and how probably.
pub fn most_probable(posterior: &Posterior) -> (Advice, f64) {
    let mut best = (Advice::ALL[0], 0.0);
    for advice in Advice::ALL {
        let p = posterior.right(advice);
        if p > best.1 {
            best = (advice, p);
        }
    }
    (best.0, (1.0 - DOUBT) * best.1)
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
