//! From probabilities to what to do.

use super::advice::Advice;
use super::posterior::Posterior;
use super::record::{Cause, CauseShare, Verdict};

/// Least probability at which a verdict is given; below it the evidence is not enough: to search in
/// the wrong place takes an hour and a half, a look that separates twenty minutes (common practice,
/// no source).
pub const SURE_ENOUGH: f64 = 1.0 - 20.0 / 90.0;

/// The same for the verdict that nothing is to be mended: what is called sound is trusted
/// afterwards.
const SURE_OF_SOUND: f64 = 0.85;

/// Part of the probability that is kept for what the family and the sampling do not see (common
/// practice, no source; the calibration test shows what it does).
const DOUBT: f64 = 0.02;

/// Whether an advice of some probability is given.
pub fn is_sure(advice: Advice, probability: f64) -> bool {
    let sound = advice == Advice::one(Verdict::NothingToMend);
    probability >= if sound { SURE_OF_SOUND } else { SURE_ENOUGH }
}

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
        .fold(0.0, |sum, (_, p)| sum + p)
}

/// Probability of every cause, the most probable first.
pub fn causes(posterior: &Posterior) -> Vec<CauseShare> {
    let share = |cause: Cause| CauseShare {
        cause,
        probability: of_cause(posterior, cause),
    };
    // A phase is no matter of machines that have one.
    let is_asked =
        |c: &Cause| *c != Cause::LostPhase || posterior.hypotheses.iter().any(|h| h.has(*c));
    let asked = Cause::ALL.into_iter().filter(is_asked);
    let mut causes: Vec<CauseShare> = asked.map(share).collect();
    causes.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    causes
}
