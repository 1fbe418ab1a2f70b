//! What can be measured next, how, and what its results would mean.

use super::capital;
use super::diagnosis::to_do;
use crate::diagnose::{
    Action, Meaning, Measurement, NextMeasurement, SURE_ENOUGH, Shows, Step, StepResult, Then,
    Verdict,
};
use crate::present::number::{percent, significant, spoken};

/// What is measured.
pub(crate) fn measurement(measurement: Measurement) -> String {
    match measurement {
        Measurement::ReadThePlate => "the current on the machine's own plate".into(),
        Measurement::ReadTheMarking => "the protector's marking beside the drawing".into(),
        Measurement::LookAtTheJoints => "a look at both joints, dead".into(),
        Measurement::RunningCurrent => "running current with a true-RMS meter".into(),
        Measurement::CurrentUpToTheTrip => "true-RMS current right up to a trip".into(),
        Measurement::AirAtThePart => "air at the protector when it trips".into(),
        Measurement::DropBesideASister => {
            "millivolt drop across the closed protector, beside that of a sister part".into()
        }
        Measurement::TerminalTemperatures => "temperatures of both terminals".into(),
        Measurement::TimedTrip { current_a } => format!(
            "timed trip from cold at 200 % ({} A), on a bench",
            significant(current_a, 3)
        ),
        Measurement::HoldTest { current_a } => format!(
            "hold test at the rated {} A, on a bench, 2 h",
            significant(current_a, 3)
        ),
        Measurement::CaptureOfAStart => "capture of a start: how high and how long".into(),
        Measurement::SwapWithATwin => "swap with an identical, sound protector".into(),
    }
}

/// How it is measured; the cautions about live work and forced trips stand beside it.
pub(crate) fn how(measurement: Measurement) -> &'static str {
    match measurement {
        Measurement::ReadThePlate => "Rated current, at the voltage and connection in use.",
        Measurement::ReadTheMarking => {
            "Rating, type and reference air as the drawing or the maker's list has them."
        }
        Measurement::LookAtTheJoints => {
            "Isolate, lock, prove dead. Discoloured, brittle, loose, a smell? Is the cable warmer \
             there just after a run?"
        }
        Measurement::RunningCurrent => {
            "Clamp one conductor over its insulation, several turns through the jaw below 10 A."
        }
        Measurement::CurrentUpToTheTrip => {
            "Clamp or log the protector's own conductor, over its insulation, until it trips, attended."
        }
        Measurement::AirAtThePart => {
            "Thermocouple 10 to 20 mm from the part, fixed while dead; cover closed, read at the trip."
        }
        Measurement::DropBesideASister => {
            "Wire to wire under a steady load, both parts at the same current."
        }
        Measurement::TerminalTemperatures => {
            "Thermocouples fixed while dead, or infrared on matt tape, after half an hour of load."
        }
        Measurement::TimedTrip { .. } => {
            "Part out, low-voltage source, at most 5 min, air near the reference. The first time counts: write it \
             down before the part is moved by hand; rest 45 min before a repeat."
        }
        Measurement::HoldTest { .. } => {
            "Part out, low-voltage source, 23 to 25 °C, leads of at least 1.2 m, until three readings 10 to 20 min \
             apart agree."
        }
        Measurement::CaptureOfAStart => {
            "Clamp or logger with 100 samples a second over one start; an inrush button misses what lasts longer than \
             0.1 s."
        }
        Measurement::SwapWithATwin => {
            "Isolate, lock, prove dead, swap, run the same duty; mark which part was where. A swap re-makes the joint: \
             look at the old one."
        }
    }
}

/// What it costs.
pub(crate) fn effort(next: &NextMeasurement) -> String {
    let minutes = spoken(60.0 * next.minutes.round().max(1.0));
    match next.trips_used.round() {
        t if t >= 2.0 => format!("about {minutes}, {t:.0} trips of its life"),
        t if t >= 1.0 => format!("about {minutes}, one trip of its life"),
        _ => format!("about {minutes}"),
    }
}

/// A result and what it would mean.
pub(crate) fn result(measurement: Measurement, result: &Meaning) -> String {
    let likely = match result.right >= SURE_ENOUGH {
        true => "",
        false => "most likely ",
    };
    format!(
        "{} ({}): {likely}{} ({})",
        shown(measurement, result.shows),
        percent(result.probability),
        to_mend(&result.mend),
        percent(result.right)
    )
}

/// A step of the plan. Where nothing else is said, the next one follows.
pub(crate) fn plan_step(step: &Step) -> String {
    let minutes = spoken(60.0 * step.minutes.round().max(1.0));
    match &step.action {
        Action::Measure { measurement: m } => {
            let leads = |r: &&StepResult| r.then != Then::GoOn;
            let mut leading = step.results.iter().filter(leads);
            let told = leading.next().and_then(|r| {
                let other = leading
                    .next()
                    .map_or("next".into(), |other| then(&other.then));
                Some(format!(
                    "{}: {}; else {other}",
                    capital(&shown(*m, r.shows?)),
                    then(&r.then)
                ))
            });
            let told = told.unwrap_or_else(|| "Then next".to_owned());
            format!("{} ({minutes}). {told}.", capital(to_look(*m)))
        }
        Action::Mend { mend } => {
            let runs = step.results.iter().find(|r| r.then == Then::Done);
            let chance = runs.map_or(String::new(), |r| format!(", {}", percent(r.probability)));
            let leads = |r: &&StepResult| !matches!(r.then, Then::Done | Then::GoOn);
            let left = step.results.iter().find(leads);
            let left = left.map_or(String::new(), |r| format!(" Else {}.", then(&r.then)));
            let what = match mend[..] {
                [Verdict::NothingToMend] => {
                    "reset once when cold, and stay with it through a whole run".into()
                }
                _ => to_mend(mend),
            };
            format!("{} ({minutes}{chance}).{left}", capital(&what))
        }
    }
}

fn then(then: &Then) -> String {
    match then {
        Then::Mend { mend, right } => format!("{} ({})", to_mend(mend), percent(*right)),
        Then::GoOn => "next".into(),
        Then::Done => "done".into(),
        Then::Call => "call a qualified person".into(),
    }
}

/// What is looked at or measured, in the fewest words.
fn to_look(measurement: Measurement) -> &'static str {
    match measurement {
        Measurement::ReadThePlate => "read the machine's plate",
        Measurement::ReadTheMarking => "compare marking and drawing",
        Measurement::LookAtTheJoints => "look at both joints, dead",
        Measurement::RunningCurrent => "true-RMS running current",
        Measurement::CurrentUpToTheTrip => "true-RMS current up to a trip",
        Measurement::AirAtThePart => "air at the protector",
        Measurement::DropBesideASister => "millivolt drop beside a sister part",
        Measurement::TerminalTemperatures => "temperatures of both terminals",
        Measurement::TimedTrip { .. } => "timed trip from cold at 200 %, on a bench",
        Measurement::HoldTest { .. } => "hold test at rated current, on a bench, 2 h",
        Measurement::CaptureOfAStart => "capture a start",
        Measurement::SwapWithATwin => "swap with an identical, sound protector",
    }
}

/// What is to be mended, one thing or two, in the fewest words.
fn to_mend(mend: &[Verdict]) -> String {
    let one = |verdict: &Verdict| match verdict {
        Verdict::FindTheLoad => "find what overloads it",
        Verdict::CoolOrReRate => "cool or re-rate",
        Verdict::NothingToMend => "nothing to mend",
        Verdict::DoNotReEnergise => "take it out of service",
        verdict => to_do(*verdict),
    };
    mend.iter().map(one).collect::<Vec<_>>().join(" and ")
}

fn shown(measurement: Measurement, shows: Shows) -> String {
    let (is_low, value) = match shows {
        Shows::UpTo { value } => (true, value),
        Shows::Above { value } => (false, value),
    };
    let side = if is_low { "up to" } else { "above" };
    let longer = if is_low { "up to" } else { "longer than" };
    match measurement {
        Measurement::ReadTheMarking => match is_low {
            true => "it agrees".into(),
            false => "it does not agree".into(),
        },
        Measurement::LookAtTheJoints => match is_low {
            true => "nothing to be seen".into(),
            false => "signs of heat".into(),
        },
        Measurement::ReadThePlate
        | Measurement::RunningCurrent
        | Measurement::CurrentUpToTheTrip => {
            format!("{side} {} A", significant(value, 3))
        }
        Measurement::AirAtThePart => format!("{side} {value:.0} °C"),
        Measurement::DropBesideASister => {
            format!("{side} {} times the sister's", significant(value, 2))
        }
        Measurement::TerminalTemperatures => format!("{side} {value:.0} K apart"),
        Measurement::TimedTrip { .. } if value >= 0.99 * Measurement::LONGEST_TRIP_S => {
            match is_low {
                true => "trips within 5 min".into(),
                false => "no trip in 5 min".into(),
            }
        }
        Measurement::TimedTrip { .. } => match is_low {
            true => format!("trips within {}", spoken(value)),
            false => format!("trips later than {}", spoken(value)),
        },
        Measurement::HoldTest { .. } if value >= 0.99 * Measurement::LONGEST_HOLD_S => match is_low
        {
            true => "trips within 2 h".into(),
            false => "holds for 2 h".into(),
        },
        Measurement::HoldTest { .. } => match is_low {
            true => format!("trips within {}", spoken(value)),
            false => format!("carries it longer than {}", spoken(value)),
        },
        Measurement::CaptureOfAStart => format!("lasts {longer} {}", spoken(value)),
        Measurement::SwapWithATwin => match is_low {
            true => "the twin holds".into(),
            false => "the twin trips too".into(),
        },
    }
}
