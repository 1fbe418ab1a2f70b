//! The cautions that an outcome calls for, most urgent first. They cannot be switched off.

use super::outcome::{LimitCheck, Outcome};
use crate::answer::{Caution, TripTime};
use crate::scenario::{Reset, UsedFor};

/// The cautions that concern this outcome.
pub(crate) fn cautions(outcome: &Outcome) -> Vec<Caution> {
    let mut list = Vec::new();
    if leaves_unprotected(outcome) {
        list.push(Caution::NotProtected);
    }
    list.extend([Caution::FindCause, Caution::FaultSigns]);
    if outcome.used_for == UsedFor::Teaching {
        list.push(Caution::Teaching);
    }
    list.extend(match outcome.part.reset {
        Reset::Automatic => [Caution::StartsByItself, Caution::NeverBridge].as_slice(),
        Reset::ByHand => &[Caution::NeverHold],
    });
    list.push(Caution::WindingCoolsLonger);
    if outcome.part.drop_at_rated_mv.is_some() {
        list.push(Caution::LiveWork);
    }
    if outcome.characteristic.is_some() {
        list.push(Caution::DeliberateOverload);
    }
    list.extend([Caution::NeverRaise, Caution::ModelEstimate]);
    list
}

/// Multiples of the rating at which a protector that comes late leaves its load without protection;
/// from six times on the protection against short circuits stands behind it (common practice, no
/// source).
pub(super) const OVERLOADS: std::ops::Range<f64> = 2.0..6.0;

/// Twice the rating is held for ever, or a trip there comes later than a published limit allows.
fn leaves_unprotected(outcome: &Outcome) -> bool {
    let holds_twice = outcome
        .trip_point
        .multiple_of_rated()
        .is_some_and(|m| m >= 2.0);
    let curve = || outcome.characteristic.iter();
    let late_against_limits = curve().flat_map(|c| &c.limits).any(is_late);
    let never_at_twice = curve()
        .flat_map(|c| &c.cold)
        .any(|point| point.multiple >= 2.0 && never(&point.time));
    holds_twice || late_against_limits || never_at_twice
}

/// Whether it does not trip within the time looked at.
pub(super) fn never(time: &TripTime) -> bool {
    matches!(time, TripTime::HoldsForEver | TripTime::NotWithin { .. })
}

/// Whether an overload is carried for longer than a published limit allows.
pub(super) fn is_late(limit: &LimitCheck) -> bool {
    let late = |most: f64| never(&limit.time) || limit.time.time_s().is_some_and(|t| t > most);
    OVERLOADS.contains(&limit.demand.multiple) && limit.demand.at_most_s.is_some_and(late)
}
