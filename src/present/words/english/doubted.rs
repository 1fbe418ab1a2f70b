//! Entries that do not fit.

use crate::diagnose::{Contradiction, Expected, Misfit};
use crate::present::number::{duration, percent, significant};

/// An entry that is probably wrong, and what it should have been.
pub(crate) fn misfit(m: &Misfit) -> String {
    let expected = match &m.expected {
        None => String::new(),
        Some(Expected::CurrentA(r)) => say!(
            "; {} A to {} A would fit",
            significant(r.low, 2),
            significant(r.high, 2)
        ),
        Some(Expected::AirC(r)) => say!("; {:.0} °C to {:.0} °C would fit", r.low, r.high),
        Some(Expected::NoTrip) => word!("; no trip at all would fit").to_owned(),
        Some(Expected::TripS(r)) => say!(
            "; {} to {} would fit",
            duration(r.low, 2),
            duration(r.high, 2)
        ),
    };
    say!(
        "\"{}\" is probably wrong ({}){expected}. Take it again.",
        m.entry,
        percent(m.probability)
    ; expected)
}

/// Two entries of which one is probably wrong.
pub(crate) fn contradiction(c: &Contradiction) -> String {
    say!(
        "\"{}\" or \"{}\" is probably wrong ({}): check both.",
        c.one,
        c.other,
        percent(c.probability)
    )
}
