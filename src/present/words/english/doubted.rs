//! Entries that do not fit.

use super::evidence::bare;
use crate::diagnose::{Contradiction, Expected, Misfit};
use crate::present::number::{duration, percent, significant};

/// An entry that is probably wrong, and what it should have been; in few words, or also what to do.
pub(crate) fn misfit(m: &Misfit, is_terse: bool) -> String {
    let expected = match &m.expected {
        None => String::new(),
        Some(Expected::CurrentA(r)) => say!(
            "; {} A to {} A would fit",
            significant(r.low, 2),
            significant(r.high, 2)
        ),
        Some(Expected::AirC(r)) => say!("; {:.0} °C to {:.0} °C would fit", r.low, r.high),
        Some(Expected::NotBeforeS(s)) => say!("; {} or later would fit", duration(*s, 2)),
        Some(Expected::NoTrip) => word!("; no trip at all would fit").to_owned(),
        Some(Expected::TripS(r)) => say!(
            "; {} to {} would fit",
            duration(r.low, 2),
            duration(r.high, 2)
        ),
    };
    let probability = percent(m.probability);
    match is_terse {
        true => {
            say!("\"{}\" is probably wrong ({probability}){expected}.", bare(&m.entry); probability, expected)
        }
        false => say!(
            "\"{}\" is probably wrong ({}){expected}. Take it again.",
            m.entry,
            probability
        ; expected),
    }
}

/// Two entries of which one is probably wrong; tersely without their lines in the file.
pub(crate) fn contradiction(c: &Contradiction, is_terse: bool) -> String {
    let named = |label| if is_terse { bare(label) } else { label };
    say!(
        "\"{}\" or \"{}\" is probably wrong ({}): check both.",
        named(&c.one),
        named(&c.other),
        percent(c.probability)
    )
}
