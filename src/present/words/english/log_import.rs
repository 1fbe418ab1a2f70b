//! What an import of a log says: layout, assumptions, and what was odd. It belongs before any
//! result that rests on it.

use crate::evidence::{LogFindings, LogNote};
use crate::logs::{
    Account, Assumption, Column, CurrentKind, DateOrder, DatesShow, Delimiter, Encoding, Layout,
    StampAt, TimeForm, TimesAre, calendar_stamp, spoken_span,
};
use crate::present::number::spoken;
use crate::quantity::{Dimension, format_si};

/// The import of a log in full, with what else belongs to what was found in it.
pub(crate) fn log_findings(log: &LogFindings) -> String {
    let mut text = log_import(&log.file, &log.layout, &log.account);
    for note in &log.notes {
        text += &format!("note: {}\n", log_note(note));
    }
    text
}

/// The import of a log in full: rows, layout, assumptions, and what was odd, with its lines.
pub fn log_import(name: &str, layout: &Layout, account: &Account) -> String {
    let (l, a) = (layout, account);
    let rows = match a.rows_read {
        1 => "1 row".to_owned(),
        n => format!("{n} rows"),
    };
    let header = match l.header_line {
        Some(line) => format!("header in line {line}"),
        None => "no header".into(),
    };
    let mut text = format!(
        "{name}: {rows} read, {} used, {} not\n  file      {}, fields between {}, {header}\n  time      {}\n  current   {}\n",
        a.rows_used,
        a.rows_read - a.rows_used,
        encoding(l.encoding),
        delimiter(l.delimiter),
        time(l, a),
        current(l, a),
    );
    if let Some(c) = &l.ambient {
        text += &format!("  ambient   {}\n", column(c));
    }
    text += &format!("  interval  {}\n", spoken_span(a.interval_s));
    let midnights = match a.midnights {
        0 => None,
        1 => Some("once".to_owned()),
        n => Some(format!("{n} times")),
    };
    let midnights =
        midnights.map(|times| format!("the clock has no date: it passed midnight {times}"));
    for line in l.assumptions.iter().map(log_assumption).chain(midnights) {
        text += &format!("  assumed   {line}\n");
    }
    format!("{text}{a}")
}

fn encoding(encoding: Encoding) -> &'static str {
    match encoding {
        Encoding::Utf8 => "UTF-8",
        Encoding::Latin1 => "Latin-1",
        Encoding::Utf16Le => "UTF-16 (little-endian)",
        Encoding::Utf16Be => "UTF-16 (big-endian)",
    }
}

fn delimiter(delimiter: Delimiter) -> &'static str {
    match delimiter {
        Delimiter::Tab => "tabs",
        Delimiter::Semicolon => "semicolons",
        Delimiter::Bar => "bars",
        Delimiter::Comma => "commas",
        Delimiter::Blanks => "blanks",
    }
}

/// `column 2 "Strom (A)"`.
fn column(column: &Column) -> String {
    match column.name.as_str() {
        "" => format!("column {}", column.index + 1),
        name => format!("column {} \"{name}\"", column.index + 1),
    }
}

fn time(l: &Layout, a: &Account) -> String {
    let of = match (&l.time, &l.time_of_day) {
        (Some(c), Some(d)) => format!("{} and {}", column(c), column(d)),
        (Some(c), None) => column(c),
        _ => "no column".into(),
    };
    let form = match l.time_form {
        TimeForm::Number { scale_s, .. } => format!("numbers of {}", spoken_span(scale_s)),
        TimeForm::Clock {
            minutes_first: true,
        } => "minutes and seconds".into(),
        TimeForm::Clock { .. } => "hh:mm:ss".into(),
        TimeForm::Calendar { .. } => "dates".into(),
        TimeForm::Even { interval_s } => format!("every {}", spoken_span(interval_s)),
    };
    let start = match a.starts_at_unix_s {
        Some(s) => calendar_stamp(s),
        None => spoken_span(a.first_time_s),
    };
    let lasting = spoken_span(a.last_time_s - a.first_time_s);
    format!("{of}, {form}; from {start}, lasting {lasting}")
}

fn current(l: &Layout, a: &Account) -> String {
    let kind = match l.kind {
        CurrentKind::Samples => "instantaneous samples",
        CurrentKind::MeterRms => "RMS",
        CurrentKind::Average => "arithmetic averages",
    };
    let mut text = format!("{}, {kind}", column(&l.current));
    for (what, of) in [("least", &l.minimum), ("largest", &l.maximum)] {
        if let Some(c) = of {
            text += &format!("; {what} in {}", column(c));
        }
    }
    if let Some((low, high)) = a.current_range_a {
        let [low, high] = [low, high].map(|a| format_si(a, Dimension::Current));
        text += &format!("; {low} to {high}");
    }
    text
}

/// What the reader of a log had to assume, without an end.
pub(crate) fn log_assumption(assumption: &Assumption) -> String {
    match assumption {
        Assumption::Dates(_, DatesShow::Points) => "dates with points are day, month, year".into(),
        Assumption::Dates(order, shown) => {
            let order = match order {
                DateOrder::DayFirst => "day, month, year",
                DateOrder::MonthFirst => "month, day, year",
            };
            match shown {
                DatesShow::OneReading(text) => {
                    format!("dates are {order}: `{text}` has no other reading")
                }
                DatesShow::Midnight(from, to) => {
                    format!("dates are {order}: `{from}` is followed by `{to}`")
                }
                DatesShow::Points => format!("dates with points are {order}"),
            }
        }
        Assumption::Times(TimesAre::UnixMilliseconds) => "times are milliseconds since 1970".into(),
        Assumption::Times(TimesAre::UnixSeconds) => "times are seconds since 1970".into(),
        Assumption::Times(TimesAre::SpreadsheetDays) => "times are days of a spreadsheet".into(),
        Assumption::Times(TimesAre::Seconds) => "times have no unit: taken as seconds".into(),
        Assumption::TwoParts {
            minutes_first: true,
        } => "times of two parts are minutes and seconds".into(),
        Assumption::TwoParts { .. } => "times of two parts are hours and minutes".into(),
        Assumption::Even { line, text } => {
            format!("rows are evenly spaced, as line {line} says: `{text}`")
        }
        Assumption::NoInterval => {
            "the first rows do not tell the interval between rows: taken as 1 s".into()
        }
        Assumption::SharedStamps { rows, step_s } => format!(
            "{rows} rows share a time stamp: they are spread evenly over its {}",
            format_si(*step_s, Dimension::Time)
        ),
        Assumption::Averages => {
            "the current is the arithmetic average of each interval, as its header says".into()
        }
        Assumption::Samples {
            interval_s,
            window_s,
        } => format!(
            "rows are {} apart: the current is taken as instantaneous samples, and its true RMS \
             over {} is used",
            format_si(*interval_s, Dimension::Time),
            format_si(*window_s, Dimension::Time)
        ),
        Assumption::ManyNegative => {
            "many currents are negative although the rows are too slow for samples of the mains: \
             their size is used"
                .into()
        }
        Assumption::MeterRms => {
            "the current is taken as RMS by the meter; nothing in the log says so".into()
        }
        Assumption::Stamp(at) => {
            let end = match at {
                StampAt::End => "end",
                StampAt::Start => "start",
            };
            format!("the time of a row is the {end} of its interval")
        }
        Assumption::HiddenHeat => {
            "averages hide heat: without a column of largest currents the RMS is only known from below".into()
        }
        Assumption::SlowRows(interval_s) => format!(
            "rows are {} apart: a start that is shorter is not seen",
            format_si(*interval_s, Dimension::Time)
        ),
        Assumption::Offset(mean_a) => format!(
            "the mean of the first samples is {}; it is not taken off: state it as the offset if it is one",
            format_si(*mean_a, Dimension::Current)
        ),
        Assumption::OnlyLargest => {
            "only the largest current of each interval is in the log: it stands for the whole interval".into()
        }
        Assumption::Current { used, left } => {
            format!("the current is column {used}; not used: {left}")
        }
        Assumption::OnlyColumn(column) => format!(
            "nothing says which column is the current; column {column} is taken, as the only one left"
        ),
        Assumption::Air { of, column } => format!(
            "of {of} columns of temperature, {column} is taken for the air at the protector"
        ),
        Assumption::Amperes { large: false } => "the current has no unit: taken as A".into(),
        Assumption::Amperes { large: true } => {
            "the current has no unit: taken as A; that is a lot: it may be in mA".into()
        }
        Assumption::Kelvin => "the temperature has no unit: taken as K".into(),
        Assumption::Celsius { hot: false } => "the temperature has no unit: taken as °C".into(),
        Assumption::Celsius { hot: true } => {
            "the temperature has no unit: taken as °C; that is hot: it may be in °F".into()
        }
    }
}

fn log_note(note: &LogNote) -> String {
    match note {
        LogNote::FarNote {
            noted,
            late_s,
            at_s,
        } => {
            let side = if *late_s > 0.0 { "after" } else { "before" };
            format!(
                "the trip noted {noted} is the fall to zero {} {side} that, {} after the first row",
                spoken(late_s.abs()),
                spoken(*at_s)
            )
        }
        LogNote::Gaps {
            label,
            gaps_s,
            rms_a: (without, with),
            pieces,
        } => format!(
            "{label}: {} before it lie in gaps; with nothing there the RMS current is {without:.3} A, with the \
             largest current {with:.3} A; the event is computed with the largest ({pieces} pieces)",
            spoken(*gaps_s)
        ),
        LogNote::TooSlow { interval_s } => format!(
            "a row every {} shows neither starts nor pauses: the log gives bounds of the heat, and no trip is \
             computed from it",
            spoken(*interval_s)
        ),
        LogNote::HiddenHeat { bounded: true } => {
            "the log holds averages, which hide heat where the current varies: the RMS current lies between the \
             average and the bound from the least and the largest value"
                .into()
        }
        LogNote::HiddenHeat { bounded: false } => {
            "the log holds averages without least and largest values: they hide heat where the current varies, \
             and nothing bounds how much"
                .into()
        }
    }
}
