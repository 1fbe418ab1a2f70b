//! What mends a machine, what that takes, and when it runs safely.

use crate::outside::machine::{Fault, Machine};
use relatch::internals::diagnose::{Cause, HYPOTHESES, Verdict};

/// What can be done; minutes with a test run, as the plan counts them (`diagnose/plan.rs`, which is
/// held to them).
pub const MENDS: [(Verdict, f64); 6] = [
    (Verdict::FindTheLoad, 90.0),
    (Verdict::CoolOrReRate, 60.0),
    (Verdict::ReMakeTheConnection, 30.0),
    (Verdict::ReplaceTheProtector, 40.0),
    (Verdict::DoNotReEnergise, 45.0),
    (Verdict::NothingToMend, 10.0),
];

/// What has been done: a bit each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Done(u8);

impl Done {
    /// Everything that may have been done, by number.
    pub fn every() -> Vec<Done> {
        (0..1 << MENDS.len()).map(Done).collect()
    }

    pub fn number(self) -> usize {
        usize::from(self.0)
    }

    pub fn of(verdicts: impl IntoIterator<Item = Verdict>) -> Done {
        let bit = |v: Verdict| MENDS.iter().position(|m| m.0 == v).map_or(0, |k| 1 << k);
        Done(verdicts.into_iter().map(bit).fold(0, |all, b| all | b))
    }

    pub fn verdicts(self) -> Vec<Verdict> {
        let all = MENDS.iter().map(|m| m.0);
        all.filter(|v| self.verdict(*v)).collect()
    }

    /// One thing, or two; of two, none is to try it.
    pub fn steps() -> Vec<Done> {
        let singles = (0..MENDS.len()).map(|k| Done(1 << k));
        let pairs = (0..5).flat_map(|a| (a + 1..5).map(move |b| Done(1 << a | 1 << b)));
        singles.chain(pairs).collect()
    }

    pub fn and(self, more: Done) -> Done {
        Done(self.0 | more.0)
    }

    pub fn has(self, all: Done) -> bool {
        self.0 & all.0 == all.0
    }

    /// Minutes of what is not among those done before.
    pub fn minutes_after(self, before: Done) -> f64 {
        let new = |k: &usize| self.0 & !before.0 & (1 << k) != 0;
        (0..MENDS.len()).filter(new).map(|k| MENDS[k].1).sum()
    }

    fn verdict(self, verdict: Verdict) -> bool {
        self.has(Done::of([verdict]))
    }

    fn mends(self, fault: Fault) -> bool {
        // What is taken out of service is replaced.
        let replaced =
            self.verdict(Verdict::ReplaceTheProtector) || self.verdict(Verdict::DoNotReEnergise);
        match fault {
            Fault::Overload | Fault::Start => self.verdict(Verdict::FindTheLoad),
            Fault::Hot | Fault::Rating => self.verdict(Verdict::CoolOrReRate),
            Fault::Joint => self.verdict(Verdict::ReMakeTheConnection),
            Fault::Worn | Fault::Late => replaced,
        }
    }

    /// Whether the machine runs safely then: it does not trip, its part is not late and suits it.
    pub fn runs_safely(self, m: &Machine) -> bool {
        let mended: Vec<Fault> = m
            .faults
            .iter()
            .copied()
            .filter(|f| self.mends(*f))
            .collect();
        let left = |fault: Fault| m.has(fault) && !self.mends(fault);
        if self == Done::default() || left(Fault::Late) || left(Fault::Rating) {
            return false;
        }
        m.has(Fault::Rating) || m.without(&mended).trips().is_none()
    }
}

/// A machine with what was done to it.
pub fn mended(m: &Machine, done: Done) -> Machine {
    let mended: Vec<Fault> = m
        .faults
        .iter()
        .copied()
        .filter(|f| done.mends(*f))
        .collect();
    m.without(&mended)
}

/// Until it runs safely: what comes first, one after the other, then the rest. Minutes.
pub fn minutes_until_safe(m: &Machine, order: &[Done], before: Done) -> f64 {
    let (mut done, mut minutes) = (before, 0.0);
    for step in order {
        if done.runs_safely(m) {
            break;
        }
        minutes += step.minutes_after(done);
        done = done.and(*step);
    }
    minutes
}

/// Every mend in the order of how often it is needed (the weights of the hypotheses).
pub fn usual_order() -> Vec<Done> {
    let often = |v: Verdict| -> f64 {
        let with = HYPOTHESES
            .iter()
            .filter(|h| !h.has(Cause::LostPhase))
            .filter(|h| h.causes.iter().any(|c| c.mended_by() == v));
        with.map(|h| h.weight).sum()
    };
    let mut all: Vec<Verdict> = MENDS.iter().map(|m| m.0).collect();
    all.sort_by(|a, b| often(*b).total_cmp(&often(*a)));
    all.into_iter().map(|v| Done::of([v])).collect()
}
