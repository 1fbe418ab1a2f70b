//! The three answers: does it trip and when, how long to wait, what lost preload does.

use super::page::Page;
use super::{cautions_at, tables};
use crate::predict::Outcome;
use crate::present::cautions::{Caution, Place};
use crate::present::number::{digits, duration, finite, plain, significant, with_unit};

/// Where an outcome gives neither a number nor a reason.
const NO_REASON: &str = "no answer, and the record gives no reason";

/// Answer 1.
pub(super) fn trip(page: &mut Page, outcome: &Outcome) {
    let trip = &outcome.trip;
    page.heading("1  Does it trip?");
    let digits = digits(outcome.error_estimate.trip_time_relative);
    match (trip.trips, finite(trip.time_s)) {
        (true, Some(time)) => {
            let mut answer = format!("YES, {} after the load starts", duration(time, digits));
            if let Some(current) = finite(trip.current_a) {
                answer += &format!(", carrying {} A", significant(current, 3));
            }
            if let Some(multiple) = finite(trip.multiple_of_rated) {
                answer += &format!(" ({} x rated)", significant(multiple, 3));
            }
            if let Some(clearing) = finite(trip.clearing_time_s).filter(|t| *t > time) {
                let opening = duration(clearing - time, 2);
                answer += &format!("; contacts open {opening} later");
            }
            page.wrap("  ", &(answer + "."));
        }
        (true, None) => page.wrap(
            "  ",
            &format!("YES, time not known: {}", reason(&trip.reason)),
        ),
        (false, _) => {
            page.wrap("  ", &sentence(&format!("NO: {}", reason(&trip.reason))));
            if let Some(closest) = finite(trip.closest_approach_mm) {
                let text = format!("It comes within {} mm of release.", significant(closest, 3));
                page.wrap("  ", &text);
            }
        }
    }
    trip_point(page, outcome);
}

fn trip_point(page: &mut Page, outcome: &Outcome) {
    let point = &outcome.trip_point;
    let Some(current) = finite(point.current_a) else {
        let text = format!("No current is held for ever: {}", reason(&point.reason));
        return page.wrap("  ", &sentence(&text));
    };
    let digits = digits(outcome.error_estimate.trip_point_relative);
    let mut text = format!("It holds {} A for ever", significant(current, digits));
    if let Some(multiple) = finite(point.multiple_of_rated) {
        text += &format!(" ({} x rated)", significant(multiple, 3));
    }
    if finite(point.multiple_of_rated).is_some_and(|m| m < 1.0) {
        text += ", LESS THAN ITS RATING";
    }
    let slopes = [
        (point.per_kelvin_ambient_a, "per kelvin of air"),
        (point.per_percent_travel_a, "per % of travel"),
    ];
    let slopes: Vec<String> = slopes
        .into_iter()
        .filter_map(|(slope, per)| finite(slope).map(|s| format!("{} A {per}", signed(s))))
        .collect();
    if !slopes.is_empty() {
        text += &format!("; {}", slopes.join(", "));
    }
    page.wrap("  ", &(text + "."));
}

/// Answer 2.
pub(super) fn waits(page: &mut Page, outcome: &Outcome, cautions: &[Caution]) {
    let reset = &outcome.reset;
    page.heading("2  How long to wait?  (counted from open contacts)");
    cautions_at(page, cautions, Place::BeforeWaits);
    let digits = digits(outcome.error_estimate.relatch_wait_relative);
    let by_itself = outcome.part.reset == "automatic";
    let name = if by_itself {
        "Closes by itself after"
    } else {
        "Reset possible after"
    };
    match finite(reset.relatch_wait_s) {
        Some(wait) => page.item(name, &duration(wait, digits)),
        None => page.item(
            name,
            &sentence(&format!("no time; {}", reason(&reset.reason))),
        ),
    }
    match finite(reset.ready_wait_s) {
        Some(wait) => {
            let governs = match reset.governs.as_deref() {
                Some("relatch") => "; the relatch governs",
                Some("start-up") => "; the start-up governs (sooner, it trips again)",
                _ => "",
            };
            page.item(
                "Start possible after",
                &format!("{}{governs}", duration(wait, digits)),
            );
        }
        None => {
            let why = reset
                .ready_reason
                .as_ref()
                .or(reset.governs.as_ref())
                .cloned();
            page.item(
                "Start possible after",
                &sentence(&format!("no time; {}", reason(&why))),
            );
        }
    }
    tables::premature_reset(page, outcome);
    cautions_at(page, cautions, Place::BesideWaits);
}

/// Answer 3.
pub(super) fn preload(page: &mut Page, outcome: &Outcome) {
    page.heading("3  What does lost spring preload do?");
    let mut parts = Vec::new();
    if let Some(share) = finite(outcome.part.preload_share) {
        let percent = significant(share * 100.0, 2);
        parts.push(format!(
            "The preload holds {percent} % of the release travel."
        ));
    }
    parts.push(match finite(outcome.trip_point.per_percent_preload_a) {
        Some(slope) => format!(
            "1 % of it lost moves the trip point by {} A.",
            signed(slope)
        ),
        None => "How far 1 % of it lost moves the trip point is not known.".to_owned(),
    });
    if outcome.part.preload_loss > 0.0 {
        let lost = plain(outcome.part.preload_loss * 100.0);
        parts.push(format!("Lost so far: {lost} % of the preload."));
    }
    page.wrap("  ", &parts.join(" "));
    tables::preload_shift(page, outcome);
}

fn reason(reason: &Option<String>) -> &str {
    reason
        .as_deref()
        .map(str::trim)
        .filter(|r| !r.is_empty())
        .unwrap_or(NO_REASON)
}

fn sentence(text: &str) -> String {
    if text.ends_with('.') {
        text.to_owned()
    } else {
        format!("{text}.")
    }
}

fn signed(value: f64) -> String {
    let text = with_unit(Some(value), 2, "");
    let text = text.trim_end();
    if value > 0.0 {
        format!("+{text}")
    } else {
        text.to_owned()
    }
}
