//! The answers in sentences and in names with values, for every rendering that people read.

use crate::answer::Wait;
use crate::predict::{HeldCurrent, NotModelled, Outcome, Release, Trip, TripPoint};
use crate::present::limits::{shared_source, verdict};
use crate::present::number::{
    NONE, celsius, digits, digits_apart, duration, finite, length_mm, plain, signed, significant,
    with_unit,
};
use crate::present::words;

/// Does it trip, and what does it hold?
pub(crate) fn trip(outcome: &Outcome) -> Vec<String> {
    let mut list = vec![match &outcome.trip {
        Trip::AtOnce(release) => tripped(&say!("YES, {}", words::at_once()), release),
        Trip::After(release) => {
            let digits = digits(outcome.error_estimate.trip_time_relative);
            let time = duration(release.time_s, digits);
            tripped(&say!("YES, {time} after the load starts"; time), release)
        }
        Trip::HoldsForEver { proof, .. } => {
            say!("NO, {}: {}.", words::never(), words::proof(*proof))
        }
        Trip::NotWithin { horizon_s, why, .. } => {
            say!("NOT KNOWN: {}.", words::not_within(*horizon_s, *why))
        }
    }];
    list.extend(closest(outcome).map(|text| say!("It {text}."; text)));
    list.push(trip_point(outcome));
    list
}

/// How near to release it comes without one.
pub(crate) fn closest(outcome: &Outcome) -> Option<String> {
    let mm = outcome.trip.closest_approach_mm()?;
    Some(say!("comes within {} mm of release", length_mm(mm)))
}

fn tripped(answer: &str, release: &Release) -> String {
    let mut text = say!(
        "{answer}, carrying {} A ({} x rated)",
        significant(release.current_a, 3),
        significant(release.multiple_of_rated, 3)
    ; answer);
    let opening_s = release.clearing_time_s - release.time_s;
    if opening_s > 0.0 {
        text += &say!("; contacts open {} later", duration(opening_s, 2));
    }
    text + "."
}

/// What is held, with digits enough to tell it from a load that trips.
pub(crate) fn held_amperes(outcome: &Outcome, held: &HeldCurrent) -> String {
    let digits = digits(outcome.error_estimate.trip_point_relative);
    let loaded = outcome.trip.release().map(|r| r.current_a);
    let digits = loaded.map_or(digits, |a| digits_apart(held.current_a, a, digits));
    significant(held.current_a, digits)
}

fn trip_point(outcome: &Outcome) -> String {
    let held = match &outcome.trip_point {
        TripPoint::UpTo(held) => held,
        TripPoint::StaysOpen => {
            return say!("No current is held for ever: {}.", words::stays_open());
        }
        TripPoint::NeverReleases => {
            return say!("It holds any current: {}.", words::never_releases());
        }
    };
    let mut text = say!(
        "It holds {} A for ever ({} x rated)",
        held_amperes(outcome, held),
        significant(held.multiple_of_rated, 3)
    );
    if outcome.part.ambient_range_c.is_some() {
        text += &say!(" in air of {} °C", plain(outcome.part.ambient_c));
    }
    if held.multiple_of_rated < 1.0 {
        text += word!(", LESS THAN ITS RATING");
    }
    let slopes = [
        (held.per_kelvin_ambient_a, word!("per kelvin of air")),
        (held.per_percent_travel_a, word!("per % of travel")),
    ];
    let slopes: Vec<String> = slopes
        .into_iter()
        .filter_map(|(slope, per)| finite(slope).map(|s| format!("{} A {per}", signed(s, 2))))
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
    let say = |wait: &Wait| match words::wait_why(wait) {
        Some(why) => format!("{}: {why}.", words::wait(wait, digits)),
        None => words::wait(wait, digits),
    };
    let start = match reset.governs {
        Some(governs) => format!("{}; {}", say(&reset.ready_wait), words::governs(governs)),
        None => say(&reset.ready_wait),
    };
    vec![
        (
            words::reset_name(outcome.part.reset),
            say(&reset.relatch_wait),
        ),
        (word!("Start possible after"), start),
    ]
}

/// What lost preload does.
pub(crate) fn preload(outcome: &Outcome) -> Vec<String> {
    let mut parts = Vec::new();
    if let Some(share) = finite(outcome.part.preload_share) {
        let percent = significant(share * 100.0, 2);
        parts.push(say!(
            "The preload holds {percent} % of the release travel."
        ; percent));
    }
    parts.push(
        match finite(
            outcome
                .trip_point
                .held()
                .and_then(|h| h.per_percent_preload_a),
        ) {
            Some(slope) => say!(
                "1 % of it lost moves the trip point by {} A.",
                signed(slope, 2)
            ),
            None => word!("How far 1 % of it lost moves the trip point is not known.").to_owned(),
        },
    );
    if outcome.part.preload_loss > 0.0 {
        let lost = plain(outcome.part.preload_loss * 100.0);
        parts.push(say!("Lost so far: {lost} % of the preload."; lost));
    }
    parts
}

/// Temperatures, travel, drop and power behind the answers: names and values.
pub(crate) fn why(outcome: &Outcome) -> Vec<(&'static str, String)> {
    let part = &outcome.part;
    let mut list = Vec::new();
    let layers = words::layers(part).join(" / ");
    let thickness = significant(part.thickness_mm, 3);
    list.push(match &part.disc {
        None => {
            let (length, width) = (
                significant(part.length_mm, 3),
                significant(part.width_mm, 3),
            );
            let size = format!("{layers} | {length} x {width} x {thickness} mm");
            (word!("Strip, low side first"), size)
        }
        Some(disc) => (
            word!("Disc, low side first"),
            words::disc(disc, &layers, &thickness),
        ),
    });
    if let Some(release) = outcome.trip.release() {
        let mut heat = say!(
            "hottest point {}, mean {}",
            celsius(Some(release.strip_peak_c), 0),
            celsius(Some(release.strip_mean_c), 0)
        );
        if release.winding_c.is_some() {
            heat += &say!(", winding {}", celsius(release.winding_c, 0));
        }
        let bend = words::mechanism(part.mechanism).moves;
        let mm = length_mm(release.tip_deflection_mm);
        heat += &format!(", {bend} {mm} mm");
        let name = match part.disc {
            None => word!("Strip at release"),
            Some(_) => word!("Disc at release"),
        };
        list.push((name, heat));
    }
    let name = words::mechanism(part.mechanism).travel;
    list.push((name, travel(outcome)));
    let follows = outcome
        .not_modelled
        .contains(&NotModelled::SlowCompensation);
    let temperatures = match part.trip_temperature_c {
        None if follows => word!("never trips it: the compensating strip bends along").to_owned(),
        at => say!(
            "trips at {} and relatches at {}, without current",
            celsius(at, 1),
            celsius(part.relatch_temperature_c, 1)
        ),
    };
    list.push((word!("Uniform temperature"), temperatures));
    let speed = finite(part.time_constant_s).map_or(NONE.to_owned(), |t| duration(t, 3));
    let bend = significant(part.flexivity_per_k * 1e6, 3);
    list.push((
        word!("Time constant, flexivity"),
        say!("{speed}, {bend}e-6 per kelvin"; speed, bend),
    ));
    list.push((word!("At the rated current"), at_rated(outcome)));
    if let Some(text) = limits(outcome) {
        list.push((word!("Published limits"), text));
    }
    list
}

fn travel(outcome: &Outcome) -> String {
    let part = &outcome.part;
    let mut text = format!("{} mm", significant(part.release_deflection_mm, 3));
    if let Some(share) = part.preload_share {
        text += &say!(" ({} mm free", significant(part.release_travel_mm, 3));
        if share.is_finite() {
            text += &say!("; preload {} %", significant(share * 100.0, 2));
        }
        text += ")";
    }
    if let Some(relatch) = finite(part.relatch_travel_mm) {
        text += &say!(", relatch at {} mm", significant(relatch, 3));
    }
    text
}

fn at_rated(outcome: &Outcome) -> String {
    let part = &outcome.part;
    let resistance = say!(
        "{} mΩ cold, terminal to terminal",
        significant(part.resistance_ohm * 1e3, 3)
    );
    match (finite(part.power_at_rated_w), finite(part.drop_at_rated_mv)) {
        (None, None) => {
            say!("no steady state (it trips below its rating); {resistance}"; resistance)
        }
        (power, drop) => say!(
            "{} heat, {} drop; {resistance}",
            with_unit(power, 3, "W"),
            with_unit(drop, 3, "mV")
        ; resistance),
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
        .map(|limit| verdict(limit, shared.is_some()))
        .collect();
    match (limits.len(), missed.is_empty()) {
        (0, _) => None,
        (count, true) => Some(words::all_met(count, limits)),
        (count, false) => {
            let text = missed.join("; ");
            Some(say!(
                "{} of {count} missed. {text}{source}",
                missed.len()
            ; count, text, source))
        }
    }
}

/// How wrong the numbers may be, and for the record what they were computed with: names and values.
pub(crate) fn sure(outcome: &Outcome, is_record: bool) -> Vec<(&'static str, String)> {
    let estimate = &outcome.error_estimate;
    let balance = relative(estimate.energy_balance_relative);
    let text = say!("{}, energy balance {balance}", errors(outcome); balance);
    let mut list = vec![(word!("Relative error"), text)];
    list.extend(
        (outcome.metal_data.as_ref()).map(|data| (word!("Metals' data"), words::metal_data(data))),
    );
    if estimate.cross_check_relative.is_some() {
        let apart = relative(estimate.cross_check_relative);
        let text = say!("the trip time by explicit steps differs by {apart}"; apart);
        list.push((word!("Cross-check"), text));
    }
    let with = format!(
        "{}; {}",
        words::computed_with(&estimate.computed_with),
        words::across(outcome.part.through_thickness)
    );
    if is_record {
        list.push((word!("Computed with"), with));
    }
    list
}

/// Relative numerical errors of the three answers.
pub(crate) fn errors(outcome: &Outcome) -> String {
    let estimate = &outcome.error_estimate;
    say!(
        "trip time {}, trip point {}, reset wait {}",
        relative(estimate.trip_time_relative),
        relative(estimate.trip_point_relative),
        relative(estimate.relatch_wait_relative),
    )
}

fn relative(error: Option<f64>) -> String {
    finite(error).map_or(word!("not known").to_owned(), |e| {
        format!("{:.0e}", e.abs())
    })
}
