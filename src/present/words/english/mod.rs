//! The words in English.

mod ageing;
mod amount;
mod assumed;
mod bench;
pub(crate) mod by_hand;
mod caution;
#[cfg(feature = "page")]
mod countdown;
mod diagnosis;
mod dial;
mod disc;
mod doubted;
mod energise;
mod event;
mod evidence;
mod failure;
mod failures;
mod family;
#[cfg(feature = "figures")]
mod figure;
#[cfg(feature = "figures")]
pub(crate) mod lesson;
mod limit;
mod log_import;
mod log_line;
mod magnetic;
mod measurement;
pub(crate) mod mechanism;
mod metals;
mod no_reset;
mod part;
mod planned;
mod poles;
mod population;
#[cfg(feature = "page")]
mod question;
mod steps;
mod through_log;
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
pub use assumed::assumed;
pub(crate) use assumed::assumed_brief;
pub(crate) use bench::*;
pub(crate) use caution::{caution, caution_brief, caution_short};
#[cfg(feature = "page")]
pub(crate) use countdown::{count_head, countdown, left, stopped};
pub(crate) use diagnosis::late_or_misread;
pub(crate) use diagnosis::{
    alike, base_rule, cause_short, computed, it_was, otherwise, proved_wrong_by, still_open,
    verdict_text, wrong_rating,
};
pub use diagnosis::{cause, verdict};
pub(crate) use dial::{dial, dial_span, dial_too_hot, dial_verdict, set_it_to_the_motor};
pub(crate) use disc::{cycling, disc};
pub(crate) use doubted::{contradiction, misfit};
pub(crate) use energise::energise_text;
pub(crate) use event::{event, event_text, loaded_by, moment, snap_moment};
pub(crate) use evidence::{
    case_title, evidence, evidence_brief, is_of_flags, mend, says, sign, since_mended,
};
pub(crate) use failure::{failed, no_proof};
pub(crate) use failures::*;
pub(crate) use family::{asks_no_start, left_open, left_out, wait_headline, wait_shares, waits};
#[cfg(feature = "figures")]
pub(crate) use figure::computed_from;
pub(crate) use limit::{all_met, demand, demand_in_air, no_hot_curve, of_memory};
pub use log_import::log_import;
#[cfg(feature = "cli")]
pub(crate) use log_import::{log_assumption, log_findings};
pub(crate) use log_line::log_line;
pub(crate) use magnetic::{
    band, band_name, closing_current, closing_does, first_to_act, neglected, waits_are_the_strips,
};
pub(crate) use measurement::{effort, how, measurement, result};
#[cfg(feature = "figures")]
pub(crate) use mechanism::given;
pub(crate) use mechanism::mechanism;
pub(crate) use metals::{known_time, metal_data, property};
pub(crate) use no_reset::no_reset;
pub(crate) use part::{across, changed, computed_with, layers, part_line, reset_name, resets};
pub(crate) use planned::{in_order, plan_step};
pub(crate) use poles::{bar, loaded, looped, lost_phase};
pub(crate) use population::{
    deviation, end, input, instantaneous, load_demand, set_at, surrogate, vary_warning,
};
#[cfg(feature = "page")]
pub(crate) use question::{
    ask_head, keep, kept, no_rating, not_understood, noted, question, rating_needed, sits, so_far,
};
pub(crate) use steps::{lateness, steps};
pub(crate) use through_log::log_picture;
pub(crate) use trip::{
    held, held_why, never_releases, not_within, proof, stays_open, trip_time, trip_why,
};
pub(crate) use wait::{governs, wait, wait_why};
pub(crate) use warning::{not_modelled, warning};
#[cfg(feature = "page")]
pub(crate) use watched::{carried, event_flag, reading};

use crate::answer::{Held, TripTime, Wait};
use crate::present::number::percent;
use crate::study::summary::Summary;

/// Why a row of a table lacks numbers. That it holds is said by the row itself.
pub(crate) fn row_why(point: &Held, trip: &TripTime, relatch: &Wait) -> Option<String> {
    let held = held_why(point).map(str::to_owned);
    let tripped = || trip_why(trip).filter(|_| *trip != TripTime::HoldsForEver);
    held.or_else(tripped).or_else(|| wait_why(relatch))
}

/// What belongs beside the numbers of a prediction among several: who acts before the strip, why a
/// number is missing, warnings.
pub(crate) fn beside(s: &Summary) -> Option<String> {
    let opens = s.opens_at_once.filter(|p| *p >= 0.005).map(|p| {
        say!(
            "the instantaneous element opens it at once in {} of closings; the numbers are the strip's",
            percent(p)
        )
    });
    let missing = match s.trip_time {
        TripTime::HoldsForEver => trip_why(&s.trip_time),
        _ => row_why(&s.trip_point, &s.trip_time, &s.relatch_wait),
    };
    let warned = s.warnings.iter().map(warning);
    let all: Vec<String> = opens.into_iter().chain(missing).chain(warned).collect();
    (!all.is_empty()).then(|| all.join("; "))
}

/// What never comes, everywhere.
pub(crate) fn never() -> &'static str {
    word!("NEVER")
}
/// What comes without a delay.
pub(crate) fn at_once() -> &'static str {
    word!("at once")
}
/// A wait of nothing.
pub(crate) fn no_wait() -> &'static str {
    word!("no wait")
}

/// With a large first letter.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// Things joined as in speech: "a", "a and b", "a, b and c".
pub(crate) fn list(things: &[&str]) -> String {
    match things {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [most @ .., last] => say!("{} and {last}", most.join(", "); last),
    }
}
