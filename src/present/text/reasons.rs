//! Why the answers are what they are, and how sure they are.

use super::page::Page;
use crate::predict::Outcome;
use crate::present::limits::{shared_source, words};
use crate::present::number::{NONE, celsius, duration, finite, significant, with_unit};

/// Sources that take more than this many characters are counted, not listed.
const MOST_SOURCES: usize = 200;

/// Temperatures, travel, drop and power behind the answers.
pub(super) fn why(page: &mut Page, outcome: &Outcome) {
    let part = &outcome.part;
    let trip = &outcome.trip;
    page.heading("Why");
    let size = format!(
        "{} | {} x {} x {} mm",
        part.layers.join(" / "),
        significant(part.length_mm, 3),
        significant(part.width_mm, 3),
        significant(part.thickness_mm, 3),
    );
    page.item("Strip, low side first", &size);
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
        page.item("Strip at release", &heat);
    }
    let name = if outcome.part.mechanism == "latch" {
        "Release deflection"
    } else {
        "Rise as made"
    };
    page.item(name, &travel(outcome));
    let temperatures = format!(
        "trips at {} and relatches at {}, without current",
        celsius(part.trip_temperature_c, 1),
        celsius(part.relatch_temperature_c, 1)
    );
    page.item("Uniform temperature", &temperatures);
    let speed = finite(part.time_constant_s).map_or(NONE.to_owned(), |t| duration(t, 3));
    let bend = significant(part.flexivity_per_k * 1e6, 3);
    page.item(
        "Time constant, flexivity",
        &format!("{speed}, {bend}e-6 per kelvin"),
    );
    page.item("At the rated current", &at_rated(outcome));
    if let Some(text) = limits(outcome) {
        page.item("Published limits", &text);
    }
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

/// How wrong the numbers may be, and what is behind them.
pub(super) fn sure(page: &mut Page, outcome: &Outcome) {
    let estimate = &outcome.error_estimate;
    page.heading("How sure  (numerical error only; tolerances of a real part come on top)");
    let text = format!(
        "trip time {}, trip point {}, reset wait {}, energy balance {}",
        relative(estimate.trip_time_relative),
        relative(estimate.trip_point_relative),
        relative(estimate.relatch_wait_relative),
        relative(estimate.energy_balance_relative),
    );
    page.item("Relative error", &text);
    if estimate.cross_check_relative.is_some() {
        let apart = relative(estimate.cross_check_relative);
        let text = format!("the trip time by explicit steps differs by {apart}");
        page.item("Cross-check", &text);
    }
    let with = format!(
        "{}; {}",
        estimate.computed_with, outcome.part.through_thickness
    );
    page.item("Computed with", with.trim_end_matches("; "));
    if !outcome.citations.is_empty() {
        let all = outcome.citations.join("; ");
        let count = outcome.citations.len();
        let many = format!("{count}, listed under `citations` in result.json");
        page.item(
            "Sources",
            if all.chars().count() <= MOST_SOURCES {
                &all
            } else {
                &many
            },
        );
    }
    if !outcome.not_modelled.is_empty() {
        page.item("Not modelled", &outcome.not_modelled.join("; "));
    }
}

fn relative(error: Option<f64>) -> String {
    finite(error).map_or("not known".to_owned(), |e| format!("{:.0e}", e.abs()))
}
