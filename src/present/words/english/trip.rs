//! When it trips, and what it holds.

use super::{at_once, failed, never, no_proof};
use crate::answer::{Held, NoProof, TripTime};
use crate::predict::Proof;
use crate::present::number::{NONE, digits, duration, significant};

/// Why no current is held.
pub(crate) fn stays_open() -> &'static str {
    word!("the ambient alone holds it released, and it stays open")
}
/// Why any current is held.
pub(crate) fn never_releases() -> &'static str {
    word!("no current releases it before the strip melts")
}

/// How it is proved that it never trips.
pub(crate) fn proof(proof: Proof) -> &'static str {
    match proof {
        Proof::SteadyState => {
            word!(
                "it holds for ever; the steady state it tends to lies short of release, and the state has come so near \
             to it that it cannot get there"
            )
        }
        Proof::Cycle => {
            word!("it holds for ever; the load repeats, and each pass is as the one before")
        }
    }
}

/// The time to trip, or the word that stands in its place.
pub(crate) fn trip_time(time: &TripTime, most_digits: usize) -> String {
    match time {
        TripTime::AtOnce => at_once().to_owned(),
        TripTime::After(t) => duration(t.value, digits(t.error_relative).min(most_digits)),
        TripTime::HoldsForEver => never().to_owned(),
        TripTime::NotWithin { .. }
        | TripTime::AlreadyOpen
        | TripTime::NotReset
        | TripTime::Failed { .. } => NONE.to_owned(),
    }
}

/// It has not tripped in the time looked at, and there is no proof that it never does.
pub(crate) fn not_within(horizon_s: f64, why: NoProof) -> String {
    say!(
        "not tripped within {}, {}",
        duration(horizon_s, 3),
        no_proof(why)
    )
}

/// Why there is no time to trip.
pub(crate) fn trip_why(time: &TripTime) -> Option<String> {
    match time {
        TripTime::AtOnce | TripTime::After(_) => None,
        TripTime::HoldsForEver => Some(word!("holds for ever").to_owned()),
        TripTime::NotWithin { horizon_s, why } => Some(not_within(*horizon_s, *why)),
        TripTime::AlreadyOpen => {
            Some(word!("the current it starts warm from has tripped it already").to_owned())
        }
        TripTime::NotReset => Some(word!("too early: the reset does not catch").to_owned()),
        TripTime::Failed { why } => Some(failed(why)),
    }
}

/// The largest current that is held, or a dash.
pub(crate) fn held(held: &Held, most_digits: usize) -> String {
    match held {
        Held::UpTo(current) => {
            let digits = digits(current.error_relative).min(most_digits);
            format!("{} A", significant(current.value, digits))
        }
        Held::StaysOpen => word!("no current").to_owned(),
        Held::NeverReleases => word!("any current").to_owned(),
        Held::OutOfRange => NONE.to_owned(),
    }
}

/// Why there is no such current.
pub(crate) fn held_why(held: &Held) -> Option<&'static str> {
    match held {
        Held::UpTo(_) => None,
        Held::StaysOpen => Some(stays_open()),
        Held::NeverReleases => Some(never_releases()),
        // Why stands beside the trip time.
        Held::OutOfRange => None,
    }
}
