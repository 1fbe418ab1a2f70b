//! `[[log]]`: a recorded current beside the case, and how it is to be read.

use super::common::{air, time_text};
use super::current::{METERS, accuracy};
use super::place::PLACES;
use crate::diagnostic::Problem;
use crate::document::{Bounds, Read, TableReader};
use crate::evidence::{
    Accuracy, AirPlace, Before, LogQuestions, Meter, Noted, TripsAre, read_before, read_time,
};
use crate::logs::{CurrentKind, DateOrder, HourJumps, Options, Pick};
use crate::quantity::Dimension;
use std::ops::Range;

/// A log that is still to be read.
pub(in crate::evidence) struct LogDraft {
    /// Name as the file has it.
    pub file: Read<String>,
    /// The table.
    pub span: Range<usize>,
    pub questions: LogQuestions,
    /// How many mends stand above it.
    pub mended: usize,
}

pub(in crate::evidence) fn log(t: &TableReader<'_>) -> Option<LogDraft> {
    let file = t.required_text("file", "\"pug-mill.csv\"");
    let options = options(t);
    let meter = if t.has("meter") {
        t.choice("meter", &METERS).map(|m| Some(m.value))
    } else {
        Some(None::<Meter>)
    };
    let accuracy = accuracy(
        t,
        Dimension::Current,
        Accuracy {
            digits: 0.0,
            ..Accuracy::CLAMP
        },
    );
    let digit = t.or(
        "digit",
        Dimension::Current,
        Bounds::not_negative(1000.0, ""),
        0.0,
    );
    let trips = trips(t);
    let within_s = if t.has("within") {
        t.text("within", "\"3 min\"")
            .and_then(|w| time_text(t, &w.value, w.span))
            .map(|w| w.value)
    } else {
        Some(180.0)
    };
    let air_at = t.choice_or("air_at", &PLACES, AirPlace::NotSaid);
    let air_k = if t.has("air") {
        air(t, "air").map(Some)
    } else {
        Some(None)
    };
    let before = before(t);
    t.finish();
    let (accuracy, accuracy_stated) = accuracy?;
    Some(LogDraft {
        file: file?,
        span: t.span(),
        questions: LogQuestions {
            options: options?,
            meter: meter?,
            accuracy,
            accuracy_stated,
            digit_a: digit?,
            trips: trips?,
            within_s: within_s?,
            air_at: air_at?,
            air_k: air_k?,
            before: before?,
        },
        mended: 0,
    })
}

fn before(t: &TableReader<'_>) -> Option<Option<Before>> {
    if !t.has("from") {
        return Some(None);
    }
    let text = t.text("from", "\"cold\"")?;
    match read_before(&text.value) {
        Ok(Before::AfterTrip { .. }) => {
            t.report(
                Problem::new(text.span, "a log begins cold, hot or unknown")
                    .label("a trip before the log is no part of it")
                    .help("leave `from` out"),
            );
            None
        }
        Ok(before) => Some(Some(before)),
        Err(fault) => {
            t.report(
                Problem::new(text.span, "the state at the start of the log belongs here")
                    .label(fault.found)
                    .help("\"cold\", \"hot after 9.2 A\" or \"unknown\""),
            );
            None
        }
    }
}

/// Which falls to zero are trips.
fn trips(t: &TableReader<'_>) -> Option<TripsAre> {
    if !t.has("trips") {
        return Some(TripsAre::NotSaid);
    }
    if t.is_text("trips") {
        let words = [
            ("every fall", TripsAre::EveryFall),
            ("the last fall", TripsAre::TheLastFall),
            ("none", TripsAre::None),
        ];
        let text = t.text("trips", "\"every fall\"")?;
        let word = text.value.trim().to_lowercase();
        let found = words.into_iter().find(|w| w.0 == word).map(|w| w.1);
        if found.is_none() {
            t.report(
                Problem::new(text.span, "`trips` does not know this word")
                    .label("unknown")
                    .help(
                        "\"every fall\", \"the last fall\", \"none\", or when: [\"8.3 min\"] \
                           since the first row, [\"at 14:10\"] by its clock",
                    ),
            );
        }
        return found;
    }
    let items = t.items("trips", "[\"8.3 min\"]")?;
    let mut times_s = Vec::new();
    for item in items {
        let Some(text) = item.get_ref().as_str() else {
            t.report(
                Problem::new(item.span(), "a time belongs here")
                    .label("found no text")
                    .help("times since the first row of the log, in quotes: [\"8.3 min\"]"),
            );
            return None;
        };
        times_s.push(noted(t, text, item.span())?);
    }
    if times_s.is_empty() {
        t.report(
            Problem::new(t.span_of("trips"), "`trips` is empty")
                .help("write `trips = \"none\"`, or leave it out"),
        );
        return None;
    }
    Some(TripsAre::At(times_s))
}

/// `8.3 min` since the first row, or `at 14:10` on the clock of the log.
fn noted(t: &TableReader<'_>, text: &str, span: Range<usize>) -> Option<Noted> {
    let Some(clock) = text.trim().strip_prefix("at ") else {
        return time_text(t, text, span).map(|m| Noted::Since(m.value));
    };
    let clock = clock.trim();
    // Two numbers are hours and minutes here.
    let whole = match clock.matches(':').count() {
        1 => format!("{clock}:00"),
        _ => clock.to_owned(),
    };
    match read_time(&whole) {
        Ok(m) if clock.contains(':') && m.value < 86_400.0 => Some(Noted::OfTheDay(m.value)),
        _ => {
            t.report(
                Problem::new(span, "a time of the day belongs here")
                    .label("not on a clock of 24 hours")
                    .help(
                        "write it as \"at 14:10\" or \"at 14:10:30\", as the log's clock shows it",
                    ),
            );
            None
        }
    }
}

/// A column by its number or its name.
fn pick(t: &TableReader<'_>, key: &'static str) -> Option<Option<Pick>> {
    if !t.has(key) {
        return Some(None);
    }
    if t.is_text(key) {
        return t
            .text(key, "\"Current (A)\"")
            .map(|r| Some(Pick::Name(r.value)));
    }
    t.whole(key, 1000)
        .map(|n| Some(Pick::Number(n.value as usize)))
}

/// What a person can say about the layout; see [`Options`].
fn options(t: &TableReader<'_>) -> Option<Options> {
    let current_column = pick(t, "current_column");
    let time_column = pick(t, "time_column");
    let ambient_column = pick(t, "air_column");
    let orders = [
        ("day first", Some(DateOrder::DayFirst)),
        ("month first", Some(DateOrder::MonthFirst)),
    ];
    let kinds = [
        ("samples", Some(CurrentKind::Samples)),
        ("RMS", Some(CurrentKind::MeterRms)),
        ("averages", Some(CurrentKind::Average)),
    ];
    let jumps = [("mend", HourJumps::Mend), ("keep", HourJumps::Keep)];
    let date_order = t.choice_or("dates", &orders, None);
    let kind = t.choice_or("values", &kinds, None);
    let hour_jumps = t.choice_or("hour_jumps", &jumps, HourJumps::Mend);
    let per_unit = t.fraction(
        "amperes_per_unit",
        Bounds::positive(1e6, "10 for a shunt of 100 mV/A in volts"),
    );
    let offset = t.or(
        "offset",
        Dimension::Current,
        Bounds::between(-1000.0, 1000.0, "what the log shows when no current flows"),
        0.0,
    );
    let interval = t.optional(
        "interval",
        Dimension::Time,
        Bounds::positive(1e6, "between two rows of a log without times"),
    );
    let wrong = (t.has("amperes_per_unit") && per_unit.is_none())
        || (t.has("interval") && interval.is_none());
    if wrong {
        return None;
    }
    Some(Options {
        current_column: current_column?,
        time_column: time_column?,
        ambient_column: ambient_column?,
        date_order: date_order?,
        amperes_per_unit: per_unit.map(|r| r.value),
        offset_a: offset?,
        interval_s: interval.map(|r| r.value),
        kind: kind?,
        hour_jumps: hour_jumps?,
        ..Options::default()
    })
}
