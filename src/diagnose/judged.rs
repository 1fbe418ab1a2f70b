//! The verdict alone: what a calibration asks for.

use super::advice::Advice;
use super::judge::{causes, is_sure, most_probable};
use super::posterior::Posterior;
use super::record::CauseShare;
use super::scales::Scales;
use crate::evidence::Case;
use crate::family::{Family, Spread};
use crate::statistics::weighted::Weighted;

/// The verdict alone, with what a calibration looks at: nothing is computed that only a reader
/// needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// What to do; `None`: the evidence is not enough.
    pub advice: Option<Advice>,
    /// Probability that it is right.
    pub confidence: f64,
    /// What is most probably to be mended, given or not.
    pub likely: Advice,
    /// Probability of every cause, the most probable first.
    pub causes: Vec<CauseShare>,
    /// Preload lost.
    pub preload_loss: Spread,
}

/// Judge a case with a family that is at hand.
pub fn judged(case: &Case, family: &Family, seed: u64) -> Judged {
    let posterior = Posterior::of(&Scales::new(case, family), seed);
    let (advice, confidence) = most_probable(&posterior);
    let loss = posterior
        .carriers
        .iter()
        .map(|c| (c.particle.lost(), c.weight));
    Judged {
        advice: is_sure(advice, confidence).then_some(advice),
        confidence,
        likely: advice,
        causes: causes(&posterior),
        preload_loss: Spread::shortest(&Weighted::new(loss)).unwrap_or_default(),
    }
}
