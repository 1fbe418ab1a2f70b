//! What to do, and for whom it would be right.
//!
//! An advice is right when everything it mends is really out of order, and the machine runs on once
//! that is mended. So where two things are wrong and mending one is enough, both "that one" and
//! "the two" are right.

use super::hypothesis::Hypothesis;
use super::latent::{JOINT, LOAD, LOSS, PLACE, Particle, ROOM, START, WARM_ROOM_K, log_lost_phase};
use super::record::{Cause, Verdict};

/// What to do: one thing, or two.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Advice {
    /// The first.
    pub first: Verdict,
    /// The second, where two causes work together.
    pub second: Option<Verdict>,
}

impl Advice {
    /// To do one thing.
    pub const fn one(verdict: Verdict) -> Advice {
        Advice {
            first: verdict,
            second: None,
        }
    }

    /// To do two things.
    pub const fn two(first: Verdict, second: Verdict) -> Advice {
        Advice {
            first,
            second: Some(second),
        }
    }

    /// What is to be done, one after the other.
    pub fn parts(self) -> impl Iterator<Item = Verdict> {
        std::iter::once(self.first).chain(self.second)
    }

    /// The verdict that says it.
    pub fn verdict(self) -> Verdict {
        match self.second {
            None => self.first,
            Some(_) => Verdict::TwoCauses,
        }
    }

    /// Every advice that can be given.
    pub const ALL: [Advice; 12] = [
        Advice::one(Verdict::FindTheLoad),
        Advice::one(Verdict::CoolOrReRate),
        Advice::one(Verdict::ReMakeTheConnection),
        Advice::one(Verdict::ReplaceTheProtector),
        Advice::one(Verdict::DoNotReEnergise),
        Advice::one(Verdict::NothingToMend),
        Advice::two(Verdict::FindTheLoad, Verdict::CoolOrReRate),
        Advice::two(Verdict::FindTheLoad, Verdict::ReMakeTheConnection),
        Advice::two(Verdict::FindTheLoad, Verdict::ReplaceTheProtector),
        Advice::two(Verdict::CoolOrReRate, Verdict::ReMakeTheConnection),
        Advice::two(Verdict::CoolOrReRate, Verdict::ReplaceTheProtector),
        Advice::two(Verdict::ReMakeTheConnection, Verdict::ReplaceTheProtector),
    ];
}

/// What happens once causes are put right: the first of a hypothesis, the second, all of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Mended {
    /// The machine runs on with the first alone put right.
    pub first: bool,
    /// The machine runs on with the second alone put right.
    pub second: bool,
    /// The machine runs on with all of them put right.
    pub all: bool,
}

impl Mended {
    /// Put causes right in thought; `trips` says whether the machine of a particle then trips.
    pub fn of(
        hypothesis: &Hypothesis,
        particle: &Particle,
        trips: impl Fn(&Particle) -> bool,
    ) -> Mended {
        let runs_without = |causes: &[Cause]| {
            let mut cured = *particle;
            for cause in causes {
                cure(&mut cured, *cause);
            }
            !trips(&cured)
        };
        match hypothesis.causes {
            _ if !hypothesis.is_curable() => Mended {
                first: true,
                second: true,
                all: true,
            },
            [one, other] => {
                let (first, second) = (runs_without(&[*one]), runs_without(&[*other]));
                // What one alone does, both do all the more.
                let all = first || second || runs_without(&[*one, *other]);
                Mended { first, second, all }
            }
            all => {
                let runs = runs_without(all);
                Mended {
                    first: runs,
                    second: false,
                    all: runs,
                }
            }
        }
    }
}

/// The particle with every cause of a hypothesis put right.
pub fn put_right(hypothesis: &Hypothesis, particle: &Particle) -> Particle {
    let mut cured = *particle;
    for cause in hypothesis.causes {
        cure(&mut cured, *cause);
    }
    cured
}

/// A hot room is brought so far below what counts as hot, K (common practice, no source).
const COOLED_K: f64 = 10.0;

/// Put a cause right.
pub fn cure(particle: &mut Particle, cause: Cause) {
    let x = &mut particle.x;
    match cause {
        Cause::Overload => x[LOAD] = x[LOAD].min(-0.05),
        Cause::StartOrStall => x[START] = -1.2,
        Cause::HotSurroundings => {
            x[PLACE] = x[PLACE].min(0.0);
            x[ROOM] = x[ROOM].min(WARM_ROOM_K - COOLED_K);
        }
        Cause::BadConnection => x[JOINT] = -3.2,
        Cause::WornEarly => x[LOSS] = 0.0,
        Cause::LostPhase => {
            particle.lost_phase = false;
            x[LOAD] = (x[LOAD] - log_lost_phase()).min(-0.05);
            x[START] = -1.2;
        }
        Cause::WornLate | Cause::WrongRating | Cause::NothingWrong => {}
    }
}

/// Whether an advice is right for a machine with the causes of a hypothesis.
pub fn is_right(advice: Advice, hypothesis: &Hypothesis, mended: &Mended) -> bool {
    // A part that opens too late protects nothing, whatever else is wrong.
    if hypothesis.has(Cause::WornLate) {
        return advice == Advice::one(Verdict::DoNotReEnergise);
    }
    match hypothesis.causes {
        [one, other] => {
            let (one, other) = (one.mended_by(), other.mended_by());
            match advice.second {
                None if one == other => advice.first == one && mended.all,
                None => {
                    advice.first == one && mended.first || advice.first == other && mended.second
                }
                Some(second) => {
                    let same = advice.first == one && second == other
                        || advice.first == other && second == one;
                    same && mended.all
                }
            }
        }
        causes => {
            advice.second.is_none()
                && causes.iter().all(|c| c.mended_by() == advice.first)
                && mended.all
        }
    }
}

/// The least that is right: one thing where it is enough, the first of two where either is.
pub fn least(hypothesis: &Hypothesis, mended: &Mended) -> Verdict {
    Advice::ALL
        .into_iter()
        .find(|a| is_right(*a, hypothesis, mended))
        .map_or(Verdict::TwoCauses, Advice::verdict)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pair(causes: &'static [Cause]) -> Hypothesis {
        Hypothesis {
            causes,
            trips: crate::diagnose::hypothesis::Trips::AsItRuns,
            weight: 1.0,
        }
    }

    #[test]
    fn either_of_two_is_right_where_it_is_enough_and_the_two_are_always() {
        let two = pair(&[Cause::Overload, Cause::WornEarly]);
        let one_is_enough = Mended {
            first: true,
            second: false,
            all: true,
        };
        let right = |a| is_right(a, &two, &one_is_enough);
        assert!(right(Advice::one(Verdict::FindTheLoad)));
        assert!(!right(Advice::one(Verdict::ReplaceTheProtector)));
        assert!(right(Advice::two(
            Verdict::FindTheLoad,
            Verdict::ReplaceTheProtector
        )));
        // A joint that is sound is not to be re-made.
        assert!(!right(Advice::two(
            Verdict::FindTheLoad,
            Verdict::ReMakeTheConnection
        )));
        assert_eq!(least(&two, &one_is_enough), Verdict::FindTheLoad);
        let both_are_needed = Mended {
            first: false,
            second: false,
            all: true,
        };
        assert!(!is_right(
            Advice::one(Verdict::FindTheLoad),
            &two,
            &both_are_needed
        ));
        assert_eq!(least(&two, &both_are_needed), Verdict::TwoCauses);
    }

    #[test]
    fn a_late_part_is_taken_out_of_service_whatever_else_is_wrong() {
        let late = pair(&[Cause::Overload, Cause::WornLate]);
        let any = Mended {
            first: true,
            second: true,
            all: true,
        };
        for advice in Advice::ALL {
            let right = is_right(advice, &late, &any);
            assert_eq!(right, advice == Advice::one(Verdict::DoNotReEnergise));
        }
    }
}
