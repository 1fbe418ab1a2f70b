//! How long to wait over many parts. Those that never are ready count.

use crate::answer::{Estimate, Wait, WhyNever, WhyNotAsked};
use crate::statistics::weighted::Weighted;
use serde::{Deserialize, Serialize};

/// Until such parts are ready: each wait is counted from open contacts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct PartsWait {
    /// Until one in twenty is.
    pub one_in_twenty: Wait,
    /// Until half are.
    pub half: Wait,
    /// Until nine of ten are.
    pub nine_of_ten: Wait,
    /// Until nineteen of twenty are.
    pub nineteen_of_twenty: Wait,
    /// Until ninety-nine of a hundred are.
    pub ninety_nine_of_hundred: Wait,
    /// Until nine of ten of those are that ever are.
    #[serde(default = "PartsWait::not_written")]
    pub nine_of_ten_ready: Wait,
    /// Share of those that never are, however long one waits, 0..1.
    pub never: f64,
}

impl PartsWait {
    /// Where there is nothing to wait for.
    pub fn not_asked(why: WhyNotAsked) -> PartsWait {
        let wait = Wait::NotAsked { why };
        PartsWait {
            one_in_twenty: wait,
            half: wait,
            nine_of_ten: wait,
            nineteen_of_twenty: wait,
            ninety_nine_of_hundred: wait,
            nine_of_ten_ready: wait,
            never: 0.0,
        }
    }

    /// What an older record does not say.
    fn not_written() -> Wait {
        Wait::NotAsked {
            why: WhyNotAsked::Failed,
        }
    }

    /// Of waits, s, with the weights of their parts; an infinite wait never ends, and `why` says
    /// why.
    pub fn over(waits: &[(f64, f64)], why: WhyNever) -> PartsWait {
        let all = Weighted::new(waits.iter().copied());
        if all.is_empty() {
            return PartsWait::not_asked(WhyNotAsked::DoesNotTrip);
        }
        let at = |share| match all.at(share) {
            s if s.is_finite() => Wait::of(Estimate::of(s)),
            _ => Wait::Never { why },
        };
        let ready = Weighted::new(waits.iter().copied().filter(|w| w.0.is_finite()));
        let total: f64 = waits.iter().map(|w| w.1).sum();
        let never = waits.iter().filter(|w| w.0.is_infinite());
        PartsWait {
            one_in_twenty: at(0.05),
            half: at(0.5),
            nine_of_ten: at(0.9),
            nineteen_of_twenty: at(0.95),
            ninety_nine_of_hundred: at(0.99),
            nine_of_ten_ready: match ready.is_empty() {
                true => Wait::Never { why },
                false => Wait::of(Estimate::of(ready.at(0.9))),
            },
            never: never.fold(0.0, |sum, w| sum + w.1) / total,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_that_never_are_ready_count() {
        let over = |waits: &[(f64, f64)]| PartsWait::over(waits, WhyNever::StaysWarm);
        let never = f64::INFINITY;
        let most = over(&[(5.0, 1.0), (never, 3.0)]);
        assert!(most.half.is_never() && most.one_in_twenty.time_s() == Some(5.0));
        assert!((most.never - 0.75).abs() < 1e-12);
        let some = over(&[(0.0, 1.0), (5.0, 1.0), (6.0, 1.0), (never, 1.0)]);
        assert_eq!(some.one_in_twenty, Wait::None);
        assert_eq!(some.half.time_s(), Some(5.0));
        assert!(some.nine_of_ten.is_never());
        assert_eq!(some.nine_of_ten_ready.time_s(), Some(6.0));
        let none = over(&[]);
        assert!(matches!(none.half, Wait::NotAsked { .. }));
        assert!(!none.half.is_never());
    }
}
