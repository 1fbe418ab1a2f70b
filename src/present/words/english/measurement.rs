//! What can be measured next, how, and what its results would mean.

use super::diagnosis::to_do;
use crate::diagnose::{Meaning, Measurement, NextMeasurement, SURE_ENOUGH, Shows, Verdict};
use crate::present::number::{percent, significant, spoken};

/// What is measured.
pub(crate) fn measurement(measurement: Measurement) -> String {
    match measurement {
        Measurement::ReadThePlate => word!("the current on the machine's own plate").into(),
        Measurement::ReadTheMarking => word!("the protector's marking beside the drawing").into(),
        Measurement::LookAtTheJoints => word!("a look at both joints, dead").into(),
        Measurement::RunningCurrent => word!("running current with a true-RMS meter").into(),
        Measurement::PhaseCurrents => word!("currents of all three phases").into(),
        Measurement::CurrentUpToTheTrip => word!("true-RMS current right up to a trip").into(),
        Measurement::AirAtThePart => word!("air at the protector when it trips").into(),
        Measurement::DropBesideASister => {
            word!("millivolt drop across the closed protector, beside that of a sister part").into()
        }
        Measurement::TerminalTemperatures => word!("temperatures of both terminals").into(),
        Measurement::TimedTrip { current_a } => say!(
            "timed trip from cold at 200 % ({} A), on a bench",
            significant(current_a, 3)
        ),
        Measurement::HoldTest { current_a } => say!(
            "hold test at the rated {} A, on a bench, 2 h",
            significant(current_a, 3)
        ),
        Measurement::CaptureOfAStart => word!("capture of a start: how high and how long").into(),
        Measurement::SwapWithATwin => word!("swap with an identical, sound protector").into(),
    }
}

/// How it is measured; the cautions about live work and forced trips stand beside it.
pub(crate) fn how(measurement: Measurement) -> &'static str {
    match measurement {
        Measurement::ReadThePlate => word!("Rated current, at the voltage and connection in use."),
        Measurement::ReadTheMarking => {
            word!("Rating, type and reference air as the drawing or the maker's list has them.")
        }
        Measurement::LookAtTheJoints => {
            word!(
                "Isolate, lock, prove dead. Discoloured, brittle, loose, a smell? Is the cable warmer \
             there just after a run?"
            )
        }
        Measurement::RunningCurrent => {
            word!(
                "Clamp one conductor over its insulation, several turns through the jaw below 10 A."
            )
        }
        Measurement::PhaseCurrents => {
            word!(
                "Clamp each conductor in turn, over its insulation, under one load; a motor that hums and stands: off at \
             once."
            )
        }
        Measurement::CurrentUpToTheTrip => {
            word!(
                "Clamp or log the protector's own conductor, over its insulation, until it trips, attended."
            )
        }
        Measurement::AirAtThePart => {
            word!(
                "Thermocouple 10 to 20 mm from the part, fixed while dead; cover closed, read at the trip."
            )
        }
        Measurement::DropBesideASister => {
            word!("Wire to wire under a steady load, both parts at the same current.")
        }
        Measurement::TerminalTemperatures => {
            word!(
                "Thermocouples fixed while dead, or infrared on matt tape, after half an hour of load."
            )
        }
        Measurement::TimedTrip { .. } => {
            word!(
                "Part out, low-voltage source, at most 5 min, air near the reference. The first time counts: write it \
             down before the part is moved by hand; rest 45 min before a repeat."
            )
        }
        Measurement::HoldTest { .. } => {
            word!(
                "Part out, low-voltage source, 23 to 25 °C, leads of at least 1.2 m, until three readings 10 to 20 min \
             apart agree."
            )
        }
        Measurement::CaptureOfAStart => {
            word!(
                "Clamp or logger with 100 samples a second over one start; an inrush button misses what lasts longer than \
             0.1 s."
            )
        }
        Measurement::SwapWithATwin => {
            word!(
                "Isolate, lock, prove dead, swap, run the same duty; mark which part was where. A swap re-makes the joint: \
             look at the old one."
            )
        }
    }
}

/// What it costs.
pub(crate) fn effort(next: &NextMeasurement) -> String {
    let minutes = spoken(60.0 * next.minutes.round().max(1.0));
    match next.trips_used.round() {
        t if t >= 2.0 => say!("about {minutes}, {t:.0} trips of its life"; minutes, t),
        t if t >= 1.0 => say!("about {minutes}, one trip of its life"; minutes),
        _ => say!("about {minutes}"; minutes),
    }
}

/// A result and what it would mean.
pub(crate) fn result(measurement: Measurement, result: &Meaning) -> String {
    let likely = match result.right >= SURE_ENOUGH {
        true => "",
        false => word!("most likely "),
    };
    format!(
        "{} ({}): {likely}{} ({})",
        shown(measurement, result.shows),
        percent(result.probability),
        to_mend(&result.mend),
        percent(result.right)
    )
}

/// What is to be mended, one thing or two, in the fewest words.
pub(super) fn to_mend(mend: &[Verdict]) -> String {
    let one = |verdict: &Verdict| match verdict {
        Verdict::FindTheLoad => word!("find what overloads it"),
        Verdict::CoolOrReRate => word!("cool or re-rate"),
        Verdict::NothingToMend => word!("nothing to mend"),
        Verdict::DoNotReEnergise => word!("take it out of service"),
        verdict => to_do(*verdict),
    };
    mend.iter()
        .map(one)
        .collect::<Vec<_>>()
        .join(word!(" and "))
}

pub(super) fn shown(measurement: Measurement, shows: Shows) -> String {
    let (is_low, value) = match shows {
        Shows::UpTo { value } => (true, value),
        Shows::Above { value } => (false, value),
    };
    let side = if is_low {
        word!("up to")
    } else {
        word!("above")
    };
    let longer = if is_low {
        word!("up to")
    } else {
        word!("longer than")
    };
    match measurement {
        Measurement::ReadTheMarking => match is_low {
            true => word!("it agrees").into(),
            false => word!("it does not agree").into(),
        },
        Measurement::LookAtTheJoints => match is_low {
            true => word!("nothing to be seen").into(),
            false => word!("signs of heat").into(),
        },
        Measurement::ReadThePlate
        | Measurement::RunningCurrent
        | Measurement::CurrentUpToTheTrip => {
            format!("{side} {} A", significant(value, 3))
        }
        Measurement::PhaseCurrents => {
            say!("the least {side} {:.0} % of the greatest", 100.0 * value; side)
        }
        Measurement::AirAtThePart => format!("{side} {value:.0} °C"),
        Measurement::DropBesideASister => {
            say!("{side} {} times the sister's", significant(value, 2); side)
        }
        Measurement::TerminalTemperatures => say!("{side} {value:.0} K apart"; side, value),
        Measurement::TimedTrip { .. } if value >= 0.99 * Measurement::LONGEST_TRIP_S => {
            match is_low {
                true => word!("trips within 5 min").into(),
                false => word!("no trip in 5 min").into(),
            }
        }
        Measurement::TimedTrip { .. } => match is_low {
            true => say!("trips within {}", spoken(value)),
            false => say!("trips later than {}", spoken(value)),
        },
        Measurement::HoldTest { .. } if value >= 0.99 * Measurement::LONGEST_HOLD_S => match is_low
        {
            true => word!("trips within 2 h").into(),
            false => word!("holds for 2 h").into(),
        },
        Measurement::HoldTest { .. } => match is_low {
            true => say!("trips within {}", spoken(value)),
            false => say!("carries it longer than {}", spoken(value)),
        },
        Measurement::CaptureOfAStart => say!("lasts {longer} {}", spoken(value); longer),
        Measurement::SwapWithATwin => match is_low {
            true => word!("the twin holds").into(),
            false => word!("the twin trips too").into(),
        },
    }
}
