//! The answers in sentences and in names with values, for every rendering that people read.

use crate::predict::Outcome;
use crate::present::limits::{shared_source, words};
use crate::present::number::{
    NONE, celsius, digits, duration, finite, plain, significant, with_unit,
};

/// Where an outcome gives neither a number nor a reason.
const NO_REASON: &str = "no answer, and the record gives no reason";

/// Does it trip, and what does it hold?
pub(crate) fn trip(outcome: &Outcome) -> Vec<String> {
    let trip = &outcome.trip;
    let digits = digits(outcome.error_estimate.trip_time_relative);
    let mut list = Vec::new();
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
            list.push(answer + ".");
        }
        (true, None) => list.push(format!("YES, time not known: {}", reason(&trip.reason))),
        (false, _) => {
            list.push(sentence(&format!("NO: {}", reason(&trip.reason))));
            if let Some(closest) = finite(trip.closest_approach_mm) {
                list.push(format!(
                    "It comes within {} mm of release.",
                    significant(closest, 3)
                ));
            }
        }
    }
    list.push(trip_point(outcome));
    list
}

fn trip_point(outcome: &Outcome) -> String {
    let point = &outcome.trip_point;
    let Some(current) = finite(point.current_a) else {
        let text = format!("No current is held for ever: {}", reason(&point.reason));
        return sentence(&text);
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
    text + "."
}

/// How long to wait: names and values.
pub(crate) fn waits(outcome: &Outcome) -> Vec<(&'static str, String)> {
    let reset = &outcome.reset;
    let digits = digits(outcome.error_estimate.relatch_wait_relative);
    let name = if outcome.part.reset == "automatic" {
        "Closes by itself after"
    } else {
        "Reset possible after"
    };
    let relatch = match finite(reset.relatch_wait_s) {
        Some(wait) => duration(wait, digits),
        None => sentence(&format!("no time; {}", reason(&reset.reason))),
    };
    let start = match finite(reset.ready_wait_s) {
        Some(wait) => {
            let governs = match reset.governs.as_deref() {
                Some("relatch") => "; the relatch governs",
                Some("start-up") => "; the start-up governs (sooner, it trips again)",
                _ => "",
            };
            format!("{}{governs}", duration(wait, digits))
        }
        None => {
            let why = reset
                .ready_reason
                .as_ref()
                .or(reset.governs.as_ref())
                .cloned();
            sentence(&format!("no time; {}", reason(&why)))
        }
    };
    vec![(name, relatch), ("Start possible after", start)]
}

/// What lost preload does.
pub(crate) fn preload(outcome: &Outcome) -> Vec<String> {
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
    parts
}

/// Temperatures, travel, drop and power behind the answers: names and values.
pub(crate) fn why(outcome: &Outcome) -> Vec<(&'static str, String)> {
    let part = &outcome.part;
    let trip = &outcome.trip;
    let mut list = Vec::new();
    let size = format!(
        "{} | {} x {} x {} mm",
        part.layers.join(" / "),
        significant(part.length_mm, 3),
        significant(part.width_mm, 3),
        significant(part.thickness_mm, 3),
    );
    list.push(("Strip, low side first", size));
    if trip.trips {
        let mut heat = format!(
            "hottest point {}, mean {}",
            celsius(trip.strip_peak_c, 0),
            celsius(trip.strip_mean_c, 0)
        );
        if finite(trip.winding_c).is_some() {
            heat += &format!(", winding {}", celsius(trip.winding_c, 0));
        }
        heat += &format!(
            ", {} {}",
            if outcome.part.mechanism == "latch" {
                "deflection"
            } else {
                "rise"
            },
            with_unit(trip.tip_deflection_mm, 3, "mm")
        );
        list.push(("Strip at release", heat));
    }
    let name = if outcome.part.mechanism == "latch" {
        "Release deflection"
    } else {
        "Rise as made"
    };
    list.push((name, travel(outcome)));
    let temperatures = format!(
        "trips at {} and relatches at {}, without current",
        celsius(part.trip_temperature_c, 1),
        celsius(part.relatch_temperature_c, 1)
    );
    list.push(("Uniform temperature", temperatures));
    let speed = finite(part.time_constant_s).map_or(NONE.to_owned(), |t| duration(t, 3));
    let bend = significant(part.flexivity_per_k * 1e6, 3);
    list.push((
        "Time constant, flexivity",
        format!("{speed}, {bend}e-6 per kelvin"),
    ));
    list.push(("At the rated current", at_rated(outcome)));
    if let Some(text) = limits(outcome) {
        list.push(("Published limits", text));
    }
    list
}

fn travel(outcome: &Outcome) -> String {
    let part = &outcome.part;
    let mut text = format!("{} mm", significant(part.release_deflection_mm, 3));
    if part.mechanism == "latch" {
        text += &format!(" ({} mm free", significant(part.release_travel_mm, 3));
        if let Some(share) = finite(part.preload_share) {
            text += &format!("; preload {} %", significant(share * 100.0, 2));
        }
        text += ")";
    }
    if let Some(relatch) = finite(part.relatch_travel_mm) {
        text += &format!(", relatch at {} mm", significant(relatch, 3));
    }
    text
}

fn at_rated(outcome: &Outcome) -> String {
    let part = &outcome.part;
    let resistance = format!(
        "{} mohm cold, terminal to terminal",
        significant(part.resistance_ohm * 1e3, 3)
    );
    match (finite(part.power_at_rated_w), finite(part.drop_at_rated_mv)) {
        (None, None) => format!("no steady state (it trips below its rating); {resistance}"),
        (power, drop) => format!(
            "{} heat, {} drop; {resistance}",
            with_unit(power, 3, "W"),
            with_unit(drop, 3, "mV")
        ),
    }
}

/// Which published limits are met; `None` when there are none.
fn limits(outcome: &Outcome) -> Option<String> {
    let limits = &outcome.characteristic.as_ref()?.limits;
    let shared = shared_source(limits);
    let source = shared
        .map(|source| format!(" [{source}]"))
        .unwrap_or_default();
    let missed: Vec<String> = limits
        .iter()
        .filter(|limit| !limit.met)
        .map(|limit| words(limit, shared.is_some()))
        .collect();
    match (limits.len(), missed.is_empty()) {
        (0, _) => None,
        (count, true) => Some(format!("all {count} met (which: relatch curve)")),
        (count, false) => {
            let text = missed.join("; ");
            Some(format!(
                "{} of {count} missed. {text}{source}",
                missed.len()
            ))
        }
    }
}

/// How wrong the numbers may be: names and values.
pub(crate) fn sure(outcome: &Outcome) -> Vec<(&'static str, String)> {
    let estimate = &outcome.error_estimate;
    let text = format!(
        "trip time {}, trip point {}, reset wait {}, energy balance {}",
        relative(estimate.trip_time_relative),
        relative(estimate.trip_point_relative),
        relative(estimate.relatch_wait_relative),
        relative(estimate.energy_balance_relative),
    );
    let mut list = vec![("Relative error", text)];
    if estimate.cross_check_relative.is_some() {
        let apart = relative(estimate.cross_check_relative);
        let text = format!("the trip time by explicit steps differs by {apart}");
        list.push(("Cross-check", text));
    }
    let with = format!(
        "{}; {}",
        estimate.computed_with, outcome.part.through_thickness
    );
    list.push(("Computed with", with.trim_end_matches("; ").to_owned()));
    list
}

fn relative(error: Option<f64>) -> String {
    finite(error).map_or("not known".to_owned(), |e| format!("{:.0e}", e.abs()))
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
