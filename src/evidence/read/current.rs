//! `[[reading]]` and `[start]`: currents that were measured.

use super::common::{AMPERES, label, one_of, time, with_tolerance};
use crate::diagnostic::Problem;
use crate::document::{Bounds, TableReader};
use crate::evidence::{Accuracy, JAW, Measured, Meter, Reading, StartSeen, Taken, last_digit};
use crate::family::Assumed;
use crate::quantity::{Dimension, format_number};

pub(super) const METERS: [(&str, Meter); 3] = [
    ("true RMS", Meter::TrueRms),
    ("average responding", Meter::AverageResponding),
    ("unknown", Meter::Unknown),
];
const TAKEN: [(&str, Taken); 3] = [
    ("up to the trip", Taken::UpToTheTrip),
    ("while running", Taken::WhileRunning),
    ("after a reset", Taken::AfterReset),
];

/// `accuracy = "2 % + 5 digits"`, or the usual one; `Some` unless there was a problem.
pub(super) fn accuracy(
    t: &TableReader<'_>,
    dimension: Dimension,
    usual: Accuracy,
) -> Option<(Accuracy, bool)> {
    if !t.has("accuracy") {
        return Some((usual, false));
    }
    let text = t.text("accuracy", "\"2 % + 5 digits\"")?;
    match Accuracy::read(&text.value, dimension) {
        Ok(accuracy) => Some((accuracy, true)),
        Err(found) => {
            t.report(
                Problem::new(text.span, "the accuracy of a meter belongs here")
                    .label(found)
                    .help("as its sheet has it: \"2 % + 5 digits\" (of the reading, and of the last digit)"),
            );
            None
        }
    }
}

/// A reading; where the machine's switch stood otherwise than when it trips, it is left out and
/// that is noted.
pub(super) fn reading(
    t: &TableReader<'_>,
    trips_in: Option<&str>,
    assumed: &mut Vec<Assumed>,
) -> Option<Option<Reading>> {
    let key = one_of(
        t,
        &["current", "display"],
        "which current",
        "current = \"11.3 A\"",
    );
    let read = key.and_then(|key| with_tolerance(t, key, Dimension::Current, AMPERES));
    let meter = t.choice_or("meter", &METERS, Meter::Unknown);
    let taken = t.choice_or("taken", &TAKEN, Taken::WhileRunning);
    let taken_said = t.has("taken");
    let digit = t.optional("digit", Dimension::Current, Bounds::positive(1000.0, ""));
    let range = t.optional("range", Dimension::Current, AMPERES);
    let turns = if t.has("turns") {
        t.whole("turns", 100).map(|w| w.value)
    } else {
        Some(1)
    };
    let written = key
        .and_then(|key| t.text(key, "\"11.3 A\""))
        .map(|r| r.value);
    let digit_written = written
        .as_deref()
        .and_then(|text| last_digit(text, Dimension::Current));
    // A digit that is told is the display's, which nobody has rounded.
    let rounded = digit_written.filter(|_| !t.has("digit"));
    let accuracy = accuracy(t, Dimension::Current, Accuracy::of_a_clamp(rounded));
    let label = label(t, &format!("reading {}", written.as_deref().unwrap_or("")));
    let position = t.text("position", "\"high heat\"").map(|p| p.value);
    let label = at_position(label, position.as_deref());
    t.finish();

    let (key, (read, tolerance), turns) = (key?, read?, turns?);
    let (accuracy, stated) = accuracy?;
    if key == "current" && turns > 1 {
        t.report(
            Problem::new(
                t.span_of("turns"),
                "did the display show this current, or is it divided already?",
            )
            .also(read.span.clone(), "the current of the conductor")
            .help(format!(
                "write `display = \"...\"` for what the display showed: it is divided by the \
                     {turns} turns"
            )),
        );
        return None;
    }
    if let Some(range) = &range
        && read.value > range.value
    {
        t.report(
            Problem::new(read.span, "the reading lies above the range of the meter")
                .label(format!("{} A", format_number(read.value)))
                .also(range.span.clone(), "the range ends here")
                .help("a display over its range shows anything; read again on a larger range"),
        );
        return None;
    }
    if tolerance.is_some() && stated {
        t.report(
            Problem::new(t.span_of("accuracy"), "the uncertainty is given twice")
                .also(read.span, "with a tolerance here")
                .help(
                    "leave out one of the two; a tolerance stands for everything, the jaw included",
                ),
        );
        return None;
    }
    let digit_a = digit.map(|d| d.value).or(digit_written);
    let uncertainty_a = tolerance.unwrap_or_else(|| {
        accuracy
            .standard_uncertainty(read.value, digit_a.unwrap_or(0.0))
            .hypot(JAW * read.value)
    });
    if tolerance.is_none() && !stated {
        assumed.push(Assumed::MeterAsUsual {
            line: Some(label.clone()),
            sheet: accuracy.describe(),
        });
        let digit_a = digit_a.unwrap_or(0.0);
        assumed.extend(accuracy.coarse_digit(&label, read.value, digit_a, uncertainty_a));
    }
    if !taken_said {
        assumed.push(Assumed::TakenWhileRunning {
            line: label.clone(),
        });
    }
    if let Some(trips_in) = is_elsewhere(position.as_deref(), trips_in) {
        assumed.push(Assumed::OtherPosition {
            line: label,
            trips_in,
        });
        return Some(None);
    }
    let turns = f64::from(turns);
    Some(Some(Reading {
        label,
        current_a: Measured::new(read.value / turns, uncertainty_a / turns),
        meter: meter?,
        taken: taken?,
        of_log: false,
        mended: 0,
    }))
}

/// A label with the position of the machine's switch.
pub(in crate::evidence) fn at_position(label: String, position: Option<&str>) -> String {
    match position {
        Some(position) => format!("{label}, switch at {}", position.trim()),
        None => label,
    }
}

/// Where it trips, if that is another position of its switch.
pub(in crate::evidence) fn is_elsewhere(
    position: Option<&str>,
    trips_in: Option<&str>,
) -> Option<String> {
    let (position, trips_in) = (position?.trim(), trips_in?.trim());
    (!position.eq_ignore_ascii_case(trips_in)).then(|| trips_in.to_owned())
}

/// Relative standard uncertainty of the current of a start by the way it was captured. Common
/// practice, no source: a window of 0.1 s catches the first periods only.
const CAPTURES: [(&str, f64); 4] = [
    ("a recorder", 0.05),
    ("inrush mode", 0.15),
    ("the nameplate", 0.2),
    ("by eye", 0.3),
];

pub(super) fn start(t: &TableReader<'_>, assumed: &mut Vec<Assumed>) -> Option<StartSeen> {
    if !t.has("peak") {
        t.missing("peak", "\"50 A\"");
    }
    if !t.has("duration") {
        t.missing("duration", "\"0.7 s\"");
    }
    let peak = with_tolerance(t, "peak", Dimension::Current, AMPERES);
    let duration = time(t, "duration");
    let said = t.has("captured_with");
    let relative = t.choice_or("captured_with", &CAPTURES, 0.15);
    let label = label(t, "start");
    t.finish();
    let (peak, tolerance) = peak?;
    let relative = relative?;
    let duration = duration?;
    if duration.value.value > 120.0 {
        t.report(
            Problem::new(duration.span, "a start lasts seconds")
                .label(format!("this is {} s", format_number(duration.value.value)))
                .help("a longer overload is a reading, not a start"),
        );
        return None;
    }
    if !said && tolerance.is_none() {
        assumed.push(Assumed::StartAsUsual {
            line: label.clone(),
        });
    }
    // A captured duration has no stop-watch in it.
    let seconds = duration.value.value;
    Some(StartSeen {
        label,
        peak_a: Measured::new(peak.value, tolerance.unwrap_or(relative * peak.value)),
        duration_s: Measured::new(seconds, relative.max(0.05) * seconds),
    })
}
