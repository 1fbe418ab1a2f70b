//! How long to wait.

use super::{NEVER, NO_WAIT};
use crate::answer::{Wait, WhyNever, WhyNotAsked};
use crate::predict::Governs;
use crate::present::number::{NONE, duration, significant};

/// A wait, or the word that stands in its place.
pub(crate) fn wait(wait: &Wait, digits: usize) -> String {
    match wait {
        Wait::None => NO_WAIT.to_owned(),
        Wait::After(time) => duration(time.value, digits),
        Wait::Never { .. } => NEVER.to_owned(),
        Wait::NotWithin { .. } | Wait::NotAsked { .. } => NONE.to_owned(),
    }
}

/// Why there is no time to wait.
pub(crate) fn wait_why(wait: &Wait) -> Option<String> {
    match wait {
        Wait::None | Wait::After(_) => None,
        Wait::Never { why } => Some(never(why)),
        Wait::NotWithin { horizon_s } => {
            Some(format!("not relatched within {}", duration(*horizon_s, 3)))
        }
        Wait::NotAsked { why } => Some(not_asked(*why).to_owned()),
    }
}

fn never(why: &WhyNever) -> String {
    match why {
        WhyNever::StaysWarm => "at this ambient it does not cool enough to relatch".to_owned(),
        WhyNever::Melts => "strip or winding melts before the latch lets go".to_owned(),
        WhyNever::StartTripsCold => "this start trips it even from the cold".to_owned(),
        WhyNever::StartTrips {
            margin_mm,
            cooled_s,
        } => format!(
            "the start-up brings it within {} mm of release even after {} of cooling",
            significant(*margin_mm, 3),
            duration(*cooled_s, 3)
        ),
    }
}

fn not_asked(why: WhyNotAsked) -> &'static str {
    match why {
        WhyNotAsked::DoesNotTrip => "it does not trip under this load",
        WhyNotAsked::NotTripped => "it has not tripped in the time that was looked at",
        WhyNotAsked::AlreadyOpen => "it is open before the load begins",
        WhyNotAsked::NoStartUp => "the scenario has no [start_up]",
        WhyNotAsked::Later => "being computed",
        WhyNotAsked::Failed => "the computation failed",
    }
}

/// What a ready wait comes from.
pub(crate) fn governs(governs: Governs) -> &'static str {
    match governs {
        Governs::Relatch => "the relatch governs",
        Governs::StartUp => "the start-up governs (sooner, it trips again)",
    }
}
