//! The answers in words. Every number that the page prints stands here, rounded as far as it is known.

use crate::predict::Outcome;
use crate::present::cautions::{self, Place};
use crate::present::{celsius, digits, duration, significant};
use serde::Serialize;

/// In place of a start wait that was left out.
pub(super) const NOT_YET: &str = "being computed";

/// One answer: the number, and what belongs beside it.
#[derive(Debug, Clone, Serialize)]
pub struct Line {
    /// What it is.
    pub name: String,
    /// The number with its unit, or a word where there is none.
    pub value: String,
    /// What belongs beside it; a reason where there is no number.
    pub note: String,
}

/// The answers as a person reads them.
#[derive(Debug, Clone, Serialize)]
pub struct Shown {
    /// Trip, trip point, reset wait, start wait.
    pub lines: Vec<Line>,
    /// The part behind the answers, in a few words.
    pub part: Vec<String>,
    /// How wrong the numbers may be.
    pub error: String,
    /// Warnings in words.
    pub warnings: Vec<String>,
    /// Cautions that stand before everything.
    pub cautions_first: Vec<String>,
    /// Cautions that stand beside the waits.
    pub cautions_waits: Vec<String>,
    /// The other cautions.
    pub cautions_end: Vec<String>,
    /// The first three answers in a line, for a narrow screen.
    pub bar: String,
    /// All of it in a sentence, to be read out.
    pub spoken: String,
    /// What the drawing of the strip shows, for those who cannot see it.
    pub strip_title: String,
    /// The moment that it shows.
    pub strip_moment: String,
    /// What the curve shows, for those who cannot see it.
    pub curve_title: String,
    /// Name of the release line (latch).
    pub release: String,
    /// Name of the relatch line (latch).
    pub relatch: String,
}

/// The words for an outcome.
pub(super) fn shown(outcome: &Outcome) -> Shown {
    let lines = vec![
        trip(outcome),
        trip_point(outcome),
        reset_wait(outcome),
        start_wait(outcome),
    ];
    let spoken = lines
        .iter()
        .map(|l| format!("{} {}.", l.name, l.value))
        .collect::<Vec<_>>()
        .join(" ");
    let bar = format!(
        "trips {} · holds {} · reset {}",
        lines[0].value, lines[1].value, lines[2].value
    );
    let cautions = cautions::cautions(outcome);
    let at = |wanted: &[Place]| -> Vec<String> {
        cautions
            .iter()
            .filter(|c| wanted.contains(&c.place))
            .map(|c| c.text.clone())
            .collect()
    };
    Shown {
        lines,
        part: part(outcome),
        error: error(outcome),
        warnings: outcome.warnings.iter().map(|w| w.text.clone()).collect(),
        cautions_first: at(&[Place::Top]),
        cautions_waits: at(&[Place::BeforeWaits, Place::BesideWaits]),
        cautions_end: at(&[Place::Measuring, Place::Testing, Place::End]),
        bar,
        spoken,
        strip_title: strip_title(outcome),
        strip_moment: strip_moment(outcome).into(),
        curve_title: curve_title(outcome),
        release: format!(
            "release {} mm",
            significant(outcome.part.release_deflection_mm, 3)
        ),
        relatch: outcome
            .part
            .relatch_travel_mm
            .map(|mm| format!("relatch {} mm", significant(mm, 3)))
            .unwrap_or_default(),
    }
}

fn strip_moment(o: &Outcome) -> &'static str {
    match (o.trip.trips, o.trip.closest_approach_mm) {
        (true, _) => "at release",
        (false, Some(_)) => "where it is held",
        _ => "at the end",
    }
}

fn strip_title(o: &Outcome) -> String {
    let bends = match (o.trip.tip_deflection_mm, o.trip.closest_approach_mm) {
        (Some(mm), _) => format!("bent by {} mm at release", significant(mm, 3)),
        (None, Some(mm)) => format!("held {} mm short of release", significant(mm, 3)),
        _ => "at its end".into(),
    };
    format!("The layered strip from the side, {bends}.")
}

fn curve_title(o: &Outcome) -> String {
    let held = o
        .trip_point
        .current_a
        .map(|a| format!(" {} A is held for ever.", significant(a, 4)))
        .unwrap_or_default();
    format!("Time to trip from the cold against current, both on logarithmic axes.{held}")
}

fn trip(o: &Outcome) -> Line {
    let trip = &o.trip;
    let (value, note) = match trip.time_s {
        Some(t) => {
            let mut note = String::new();
            if let (Some(a), Some(m)) = (trip.current_a, trip.multiple_of_rated) {
                note = format!(
                    "carrying {} A, {} × rated; ",
                    significant(a, 4),
                    significant(m, 3)
                );
            }
            note += &format!("hottest point then {}", celsius(trip.strip_peak_c, 0));
            (
                duration(t, digits(o.error_estimate.trip_time_relative)),
                note,
            )
        }
        None => {
            let closest = trip
                .closest_approach_mm
                .map(|mm| format!("; it comes within {} mm of release", significant(mm, 3)))
                .unwrap_or_default();
            let reason = trip.reason.as_deref().unwrap_or("no answer");
            match reason.split_once(": ") {
                Some(("it holds for ever", _)) => (
                    "never".into(),
                    format!("it holds for ever, which is proved{closest}"),
                ),
                _ => ("not known".into(), format!("{reason}{closest}")),
            }
        }
    };
    Line {
        name: "Trips after".into(),
        value,
        note,
    }
}

fn trip_point(o: &Outcome) -> Line {
    let point = &o.trip_point;
    let (value, note) = match (point.current_a, point.multiple_of_rated) {
        (Some(a), Some(m)) => {
            let mut note = format!("{} × rated", significant(m, 3));
            if m < 1.0 {
                note += ", less than its rating";
            }
            if let Some(slope) = point.per_kelvin_ambient_a {
                note += &format!("; {} A per kelvin of air", signed(slope));
            }
            (
                format!(
                    "{} A",
                    significant(a, digits(o.error_estimate.trip_point_relative))
                ),
                note,
            )
        }
        _ => ("no current".into(), words(&point.reason)),
    };
    Line {
        name: "Holds for ever up to".into(),
        value,
        note,
    }
}

fn reset_wait(o: &Outcome) -> Line {
    let name = if o.part.reset == "automatic" {
        "Closes by itself after"
    } else {
        "Reset catches after"
    };
    let digits = digits(o.error_estimate.relatch_wait_relative);
    let (value, note) = match o.reset.relatch_wait_s {
        Some(s) => (
            duration(s, digits),
            "counted from open contacts; for the protector only".into(),
        ),
        None => ("no wait".into(), words(&o.reset.reason)),
    };
    Line {
        name: name.into(),
        value,
        note,
    }
}

fn start_wait(o: &Outcome) -> Line {
    let digits = digits(o.error_estimate.relatch_wait_relative);
    let (value, note) = match (o.reset.ready_wait_s, o.reset.governs.as_deref()) {
        (Some(s), Some("start-up")) => (
            duration(s, digits),
            "started sooner, the start-up current trips it again".into(),
        ),
        (Some(s), _) => (
            duration(s, digits),
            "as soon as the reset catches, the start-up goes through".into(),
        ),
        (None, _) => {
            let why = words(&o.reset.ready_reason.clone().or(o.reset.governs.clone()));
            let value = if why == NOT_YET {
                "…"
            } else if why.contains("no [start_up]") {
                "not asked"
            } else {
                "no wait"
            };
            (value.into(), why)
        }
    };
    Line {
        name: "Start goes through after".into(),
        value,
        note,
    }
}

fn part(o: &Outcome) -> Vec<String> {
    let p = &o.part;
    let mut list = vec![
        format!("rated {} A", significant(p.rated_current_a, 3)),
        format!("{}, reset {}", p.mechanism, p.reset),
        p.layers.join(" / "),
        format!(
            "{} × {} × {} mm",
            significant(p.length_mm, 3),
            significant(p.width_mm, 3),
            significant(p.thickness_mm, 3)
        ),
    ];
    if let (Some(trip), Some(relatch)) = (p.trip_temperature_c, p.relatch_temperature_c) {
        list.push(format!(
            "evenly warm, it releases at {} and relatches at {}",
            celsius(Some(trip), 1),
            celsius(Some(relatch), 1)
        ));
    }
    if let Some(share) = p.preload_share {
        list.push(format!(
            "the spring holds {} % of the release travel",
            significant(100.0 * share, 2)
        ));
    }
    list
}

fn error(o: &Outcome) -> String {
    let e = &o.error_estimate;
    let parts: Vec<String> = [
        ("trip time", e.trip_time_relative),
        ("trip point", e.trip_point_relative),
        ("reset wait", e.relatch_wait_relative),
    ]
    .into_iter()
    .filter_map(|(name, error)| Some(format!("{name} {:.0e}", error?)))
    .collect();
    if parts.is_empty() {
        return "No number here has an error estimate.".into();
    }
    format!(
        "Relative numerical error: {}. Tolerances of a real part are much larger.",
        parts.join(", ")
    )
}

fn words(reason: &Option<String>) -> String {
    reason
        .clone()
        .unwrap_or_else(|| "the record gives no reason".into())
}

fn signed(value: f64) -> String {
    let text = significant(value, 2);
    if value > 0.0 {
        format!("+{text}")
    } else {
        text.replace('-', "\u{2212}")
    }
}
