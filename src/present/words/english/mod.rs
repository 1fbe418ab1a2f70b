//! The words in English.

mod ageing;
mod amount;
pub(crate) mod by_hand;
mod caution;
mod energise;
mod event;
mod failure;
mod family;
mod limit;
mod mechanism;
mod part;
mod population;
mod trip;
mod wait;
mod warning;
#[cfg(feature = "page")]
mod watched;

pub(crate) use ageing::{
    age_effort, age_not_modelled, age_warning, covered, date, date_at, drawn, no_fit, no_lives,
    no_row, no_sensitivity, relaxation, spring, years,
};
pub(crate) use amount::amount;
pub(crate) use caution::{caution, caution_short};
pub(crate) use energise::{energise, energise_text};
pub(crate) use event::{blade_moment, event, event_text, loaded_by, moment};
pub(crate) use failure::{failed, no_proof};
pub(crate) use family::{left_open, left_out, wait_headline, wait_shares};
pub(crate) use limit::{demand, no_hot_curve};
#[cfg(feature = "figures")]
pub(crate) use mechanism::given;
pub(crate) use mechanism::mechanism;
pub(crate) use part::{across, changed, computed_with, layers, reset_name, resets};
pub(crate) use population::{deviation, end, input, load_demand, set_at, vary_warning};
pub(crate) use trip::{
    NEVER_RELEASES, STAYS_OPEN, held, held_why, not_within, proof, trip_time, trip_why,
};
pub(crate) use wait::{governs, wait, wait_why};
pub(crate) use warning::{not_modelled, warning};
#[cfg(feature = "page")]
pub(crate) use watched::{carried, event_flag, reading};

use crate::answer::{Held, TripTime, Wait};

/// Why a row of a table lacks numbers. That it holds is said by the row itself.
pub(crate) fn row_why(point: &Held, trip: &TripTime, relatch: &Wait) -> Option<String> {
    let held = held_why(point).map(str::to_owned);
    let tripped = || trip_why(trip).filter(|_| *trip != TripTime::HoldsForEver);
    held.or_else(tripped).or_else(|| wait_why(relatch))
}

/// What never comes, everywhere.
pub(crate) const NEVER: &str = "NEVER";
/// What comes without a delay.
pub(crate) const AT_ONCE: &str = "at once";
/// A wait of nothing.
pub(crate) const NO_WAIT: &str = "no wait";
