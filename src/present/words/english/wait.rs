//! How long to wait.

use super::{never, no_wait};
use crate::answer::{Wait, WhyNever, WhyNotAsked};
use crate::predict::Governs;
use crate::present::number::{NONE, duration, significant};

/// A wait, or the word that stands in its place.
pub(crate) fn wait(wait: &Wait, digits: usize) -> String {
    match wait {
        Wait::None => no_wait().to_owned(),
        Wait::After(time) => duration(time.value, digits),
        Wait::Never { .. } => never().to_owned(),
        Wait::NotWithin { .. } | Wait::NotAsked { .. } => NONE.to_owned(),
    }
}

/// Why there is no time to wait.
pub(crate) fn wait_why(wait: &Wait) -> Option<String> {
    match wait {
        Wait::None | Wait::After(_) => None,
        Wait::Never { why } => Some(why_never(why)),
        Wait::NotWithin { horizon_s } => {
            Some(say!("not relatched within {}", duration(*horizon_s, 3)))
        }
        Wait::NotAsked { why } => Some(not_asked(*why).to_owned()),
    }
}

fn why_never(why: &WhyNever) -> String {
    match why {
        WhyNever::StaysWarm => {
            word!("at this ambient it does not cool enough to relatch").to_owned()
        }
        WhyNever::Melts => word!("strip or winding melts before the latch lets go").to_owned(),
        WhyNever::StartTripsCold => word!("this start trips it even from the cold").to_owned(),
        WhyNever::StartTrips {
            margin_mm,
            cooled_s,
        } => say!(
            "the start-up brings it within {} mm of release even after {} of cooling",
            significant(*margin_mm, 3),
            duration(*cooled_s, 3)
        ),
    }
}

fn not_asked(why: WhyNotAsked) -> &'static str {
    match why {
        WhyNotAsked::DoesNotTrip => word!("it does not trip under this load"),
        WhyNotAsked::NotTripped => word!("it has not tripped in the time that was looked at"),
        WhyNotAsked::AlreadyOpen => word!("it is open before the load begins"),
        WhyNotAsked::NoStartUp => word!("the scenario has no [start_up]"),
        WhyNotAsked::Later => word!("being computed"),
        WhyNotAsked::Failed => word!("the computation failed"),
    }
}

/// What a ready wait comes from.
pub(crate) fn governs(governs: Governs) -> &'static str {
    match governs {
        Governs::Relatch => word!("the relatch governs"),
        Governs::StartUp => word!("the start-up governs (sooner, it trips again)"),
    }
}
