//! Combinations of causes that are weighed against each other.

use super::record::{Cause, Verdict};

/// Causes that act together; none: nothing is wrong.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hypothesis {
    /// One or two causes.
    pub causes: &'static [Cause],
    /// Prior weight (common practice, no source).
    pub weight: f64,
}

impl Hypothesis {
    /// Whether a cause is one of them.
    pub fn has(&self, cause: Cause) -> bool {
        self.causes.contains(&cause)
    }

    /// Whether every cause can be put right in thought with the machine still in question.
    pub fn is_curable(&self) -> bool {
        self.causes.iter().all(|c| {
            !matches!(
                c,
                Cause::WornLate | Cause::WrongRating | Cause::NothingWrong
            )
        })
    }
}

/// What mends one cause.
pub fn mends(cause: Cause) -> Verdict {
    match cause {
        Cause::Overload | Cause::StartOrStall => Verdict::FindTheLoad,
        Cause::HotSurroundings | Cause::WrongRating => Verdict::CoolOrReRate,
        Cause::BadConnection => Verdict::ReMakeTheConnection,
        Cause::WornEarly => Verdict::ReplaceTheProtector,
        Cause::WornLate => Verdict::DoNotReEnergise,
        Cause::NothingWrong => Verdict::NothingToMend,
    }
}

const fn one(causes: &'static [Cause], weight: f64) -> Hypothesis {
    Hypothesis { causes, weight }
}

/// Every hypothesis. Weights are how often such causes are met: common practice, no source. They matter only
/// while the evidence is thin.
pub const HYPOTHESES: &[Hypothesis] = &[
    one(&[Cause::Overload], 0.22),
    one(&[Cause::StartOrStall], 0.11),
    one(&[Cause::HotSurroundings], 0.12),
    one(&[Cause::BadConnection], 0.12),
    one(&[Cause::WornEarly], 0.16),
    one(&[Cause::WornLate], 0.05),
    one(&[Cause::WrongRating], 0.05),
    one(&[Cause::NothingWrong], 0.06),
    one(&[Cause::Overload, Cause::WornEarly], 0.02),
    one(&[Cause::Overload, Cause::HotSurroundings], 0.02),
    one(&[Cause::Overload, Cause::BadConnection], 0.01),
    one(&[Cause::HotSurroundings, Cause::WornEarly], 0.02),
    one(&[Cause::HotSurroundings, Cause::BadConnection], 0.01),
    one(&[Cause::StartOrStall, Cause::WornEarly], 0.01),
    one(&[Cause::StartOrStall, Cause::HotSurroundings], 0.01),
    one(&[Cause::BadConnection, Cause::WornEarly], 0.01),
    one(&[Cause::Overload, Cause::WornLate], 0.01),
];
