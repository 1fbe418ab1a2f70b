//! A wait, or why there is none to state. Never is not none.

use super::Estimate;
use serde::{Deserialize, Serialize};

/// How long to wait, counted from open contacts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "wait", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Wait {
    /// It is possible at once.
    None,
    /// After this time, s.
    After(Estimate),
    /// However long one waits it never comes.
    Never {
        /// Why.
        why: WhyNever,
    },
    /// It did not come in the time that was looked at, and it is not proved that it never does.
    NotWithin {
        /// Time that was looked at, s.
        horizon_s: f64,
    },
    /// The question does not arise.
    NotAsked {
        /// Why.
        why: WhyNotAsked,
    },
}

/// Why a wait never ends.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "reason", rename_all = "snake_case")]
#[non_exhaustive]
pub enum WhyNever {
    /// At this ambient it never cools enough to relatch.
    StaysWarm,
    /// Strip or winding melts before it lets go: what is left protects nothing.
    Melts,
    /// The start trips it even from the cold.
    StartTripsCold,
    /// Even from the cold the start-up brings it too near to release.
    StartTrips {
        /// Distance from release that the start must keep, mm.
        margin_mm: f64,
        /// Cooling after which it was tried, s.
        cooled_s: f64,
    },
}

/// Why there is nothing to wait for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum WhyNotAsked {
    /// It does not trip under this load.
    DoesNotTrip,
    /// It has not tripped in the time that was looked at.
    NotTripped,
    /// It is open before the load begins.
    AlreadyOpen,
    /// The scenario describes no start-up.
    NoStartUp,
    /// The answer is left for later.
    Later,
    /// The computation failed; the reason stands beside it.
    Failed,
}

impl Wait {
    /// A wait of a time: none at all where the time is zero.
    pub fn of(time: Estimate) -> Self {
        if time.value > 0.0 {
            Self::After(time)
        } else {
            Self::None
        }
    }

    /// The time to wait, s, where there is one; zero for no wait at all.
    pub fn time_s(&self) -> Option<f64> {
        match self {
            Self::None => Some(0.0),
            Self::After(time) => Some(time.value),
            _ => None,
        }
    }

    /// Whether it never comes.
    pub fn is_never(&self) -> bool {
        matches!(self, Self::Never { .. })
    }
}
