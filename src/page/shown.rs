//! The answers in words. Every number that the page prints stands here, rounded as far as it is known.

use crate::answer::{Place, Wait, WhyNotAsked};
use crate::predict::{Governs, Outcome, Release, Trip, TripPoint};
use crate::present::{cautions, celsius, digits, duration, signed, significant, words};
use serde::Serialize;

/// One answer: the number, and what belongs beside it.
#[derive(Debug, Clone, Serialize)]
pub struct Line {
    /// What it is.
    pub name: String,
    /// Which answer it is: "after", "at_once", "never", "up_to", "none", "any", "later", "not_asked" or "not_known".
    pub answer: &'static str,
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
pub fn shown(outcome: &Outcome) -> Shown {
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
        warnings: outcome.warnings.iter().map(words::warning).collect(),
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
    match &o.trip {
        Trip::AtOnce(_) | Trip::After(_) => "at release",
        Trip::HoldsForEver { .. } => "where it is held",
        _ => "at the end",
    }
}

fn strip_title(o: &Outcome) -> String {
    let bends = match (o.trip.release(), o.trip.closest_approach_mm()) {
        (Some(r), _) => format!(
            "bent by {} mm at release",
            significant(r.tip_deflection_mm, 3)
        ),
        (None, Some(mm)) => format!("held {} mm short of release", significant(mm, 3)),
        _ => "at its end".into(),
    };
    format!("The layered strip from the side, {bends}.")
}

fn curve_title(o: &Outcome) -> String {
    let held = o
        .trip_point
        .current_a()
        .map(|a| format!(" {} A is held for ever.", significant(a, 4)))
        .unwrap_or_default();
    format!("Time to trip from the cold against current, both on logarithmic axes.{held}")
}

fn line(name: &str, answer: &'static str, value: String, note: String) -> Line {
    Line {
        name: name.into(),
        answer,
        value,
        note,
    }
}

fn trip(o: &Outcome) -> Line {
    let released = |r: &Release| {
        format!(
            "carrying {} A, {} × rated; hottest point then {}",
            significant(r.current_a, 4),
            significant(r.multiple_of_rated, 3),
            celsius(Some(r.strip_peak_c), 0)
        )
    };
    let closest = |mm: &f64| format!("it comes within {} mm of release", significant(*mm, 3));
    let digits = digits(o.error_estimate.trip_time_relative);
    match &o.trip {
        Trip::AtOnce(r) => line("Trips", "at_once", words::AT_ONCE.into(), released(r)),
        Trip::After(r) => line(
            "Trips after",
            "after",
            duration(r.time_s, digits),
            released(r),
        ),
        Trip::HoldsForEver {
            closest_approach_mm,
            ..
        } => line(
            "Trips",
            "never",
            words::NEVER.into(),
            format!(
                "it holds for ever, which is proved; {}",
                closest(closest_approach_mm)
            ),
        ),
        Trip::NotWithin {
            horizon_s,
            why,
            closest_approach_mm,
        } => line(
            "Trips",
            "not_known",
            "not known".into(),
            format!(
                "not tripped within {}, {}; {}",
                duration(*horizon_s, 3),
                words::no_proof(*why),
                closest(closest_approach_mm)
            ),
        ),
    }
}

fn trip_point(o: &Outcome) -> Line {
    let name = "Holds for ever up to";
    let held = match &o.trip_point {
        TripPoint::UpTo(held) => held,
        TripPoint::StaysOpen => {
            let why = words::STAYS_OPEN.to_owned();
            return line(name, "none", "no current".into(), why);
        }
        TripPoint::NeverReleases => {
            let why = words::NEVER_RELEASES.to_owned();
            return line(name, "any", "any current".into(), why);
        }
    };
    let mut note = format!("{} × rated", significant(held.multiple_of_rated, 3));
    if held.multiple_of_rated < 1.0 {
        note += ", less than its rating";
    }
    if let Some(slope) = held.per_kelvin_ambient_a {
        let slope = signed(slope, 2).replace('-', "\u{2212}");
        note += &format!("; {slope} A per kelvin of air");
    }
    let digits = digits(o.error_estimate.trip_point_relative);
    let value = format!("{} A", significant(held.current_a, digits));
    line(name, "up_to", value, note)
}

/// A wait: `names` where there is a time and where there is none, `note` where there is a time.
fn wait(o: &Outcome, wait: &Wait, [after, without]: [&str; 2], note: &str) -> Line {
    let digits = digits(o.error_estimate.relatch_wait_relative);
    let why = || words::wait_why(wait).unwrap_or_default();
    match wait {
        Wait::None | Wait::After(_) => {
            line(after, "after", words::wait(wait, digits), note.to_owned())
        }
        Wait::Never { .. } => line(without, "never", words::NEVER.into(), why()),
        Wait::NotAsked {
            why: WhyNotAsked::Later,
        } => line(after, "later", "…".into(), why()),
        Wait::NotAsked {
            why: WhyNotAsked::NoStartUp,
        } => line(after, "not_asked", "not asked".into(), why()),
        _ => line(after, "not_known", "no answer".into(), why()),
    }
}

fn reset_wait(o: &Outcome) -> Line {
    let names = if o.part.resets_itself() {
        ["Closes by itself after", "Closes by itself"]
    } else {
        ["Reset catches after", "Reset catches"]
    };
    let note = "counted from open contacts; for the protector only";
    wait(o, &o.reset.relatch_wait, names, note)
}

fn start_wait(o: &Outcome) -> Line {
    let note = match o.reset.governs {
        Some(Governs::StartUp) => "started sooner, the start-up current trips it again",
        _ => "as soon as the reset catches, the start-up goes through",
    };
    let names = ["Start goes through after", "Start goes through"];
    wait(o, &o.reset.ready_wait, names, note)
}

fn part(o: &Outcome) -> Vec<String> {
    let p = &o.part;
    let mut list = vec![
        format!("rated {} A", significant(p.rated_current_a, 3)),
        format!(
            "{}, {}",
            words::mechanism(p.mechanism),
            words::resets(p.reset)
        ),
        words::layers(p).join(" / "),
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
