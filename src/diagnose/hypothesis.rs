//! Combinations of causes that are weighed against each other.

use super::record::Cause;
use crate::evidence::Case;

/// How trips in service come about under a hypothesis.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trips {
    /// By the machine as it always runs.
    AsItRuns,
    /// Once, by something that nobody explains.
    Once,
    /// Now and then in mid-run: a stall, a heavy charge, a valve that sticks. The machine as it
    /// usually runs holds.
    InMidRun,
}

/// Causes that act together; none: nothing is wrong.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hypothesis {
    /// One or two causes.
    pub causes: &'static [Cause],
    /// How trips in service come about.
    pub trips: Trips,
    /// Prior weight (common practice, no source).
    pub weight: f64,
}

impl Hypothesis {
    /// Whether a cause is one of them.
    pub fn has(&self, cause: Cause) -> bool {
        self.causes.contains(&cause)
    }

    /// Whether a case can be about it.
    pub fn can_be(&self, case: &Case) -> bool {
        !self.has(Cause::LostPhase) || case.phases == Some(3)
    }

    /// Whether it is about the part alone, not about its machine or its place.
    pub fn is_of_the_part(&self) -> bool {
        self.causes
            .iter()
            .all(|c| matches!(c, Cause::WornEarly | Cause::WornLate | Cause::NothingWrong))
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

const fn one(causes: &'static [Cause], weight: f64) -> Hypothesis {
    Hypothesis {
        causes,
        trips: Trips::AsItRuns,
        weight,
    }
}

const fn passing(cause: &'static [Cause], trips: Trips, weight: f64) -> Hypothesis {
    Hypothesis {
        causes: cause,
        trips,
        weight,
    }
}

/// Every hypothesis. Weights are how often such causes are met: common practice, no source. They
/// matter only while the evidence is thin.
pub const HYPOTHESES: &[Hypothesis] = &[
    one(&[Cause::Overload], 0.19),
    one(&[Cause::StartOrStall], 0.09),
    passing(&[Cause::StartOrStall], Trips::InMidRun, 0.04),
    one(&[Cause::HotSurroundings], 0.12),
    one(&[Cause::BadConnection], 0.12),
    one(&[Cause::WornEarly], 0.15),
    one(&[Cause::WornLate], 0.06),
    one(&[Cause::WrongRating], 0.06),
    passing(&[Cause::NothingWrong], Trips::Once, 0.07),
    one(&[Cause::Overload, Cause::WornEarly], 0.015),
    one(&[Cause::Overload, Cause::HotSurroundings], 0.015),
    one(&[Cause::Overload, Cause::BadConnection], 0.015),
    one(&[Cause::HotSurroundings, Cause::WornEarly], 0.015),
    one(&[Cause::HotSurroundings, Cause::BadConnection], 0.015),
    one(&[Cause::StartOrStall, Cause::WornEarly], 0.01),
    one(&[Cause::StartOrStall, Cause::HotSurroundings], 0.01),
    one(&[Cause::BadConnection, Cause::WornEarly], 0.015),
    one(&[Cause::Overload, Cause::WornLate], 0.01),
    // Only of machines on three phases: a third of the 44 % of their failures that a water-well trade
    // journal gives to heat and lost phases together (the split from memory).
    one(&[Cause::LostPhase], 0.10),
];
