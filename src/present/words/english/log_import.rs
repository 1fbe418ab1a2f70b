//! What an import of a log says: layout, assumptions, and what was odd. It belongs before any
//! result that rests on it.

use crate::evidence::{LogFindings, LogNote};
use crate::logs::{
    Account, Assumption, Column, CurrentKind, DateOrder, DatesShow, Delimiter, Encoding, Layout,
    StampAt, TimeForm, TimesAre, calendar_stamp, spoken_span,
};
use crate::present::block::{width, wrapped};
use crate::present::number::spoken;
use crate::quantity::{Dimension, format_si};

/// The import of a log in full, with what else belongs to what was found in it.
pub(crate) fn log_findings(log: &LogFindings) -> String {
    let mut text = log_import(&log.file, &log.layout, &log.account);
    for note in &log.notes {
        text += &say!("note: {}\n", log_note(note));
    }
    text.lines().flat_map(on_lines).collect()
}

/// A line on as many of a screen as it needs; what stands behind a name stays in its column.
fn on_lines(line: &str) -> Vec<String> {
    const COLUMNS: usize = 80;
    const NAME: usize = 12;
    if width(line) <= COLUMNS {
        return vec![format!("{line}\n")];
    }
    let (at, _) = line.char_indices().nth(NAME).unwrap_or((0, ' '));
    let (name, body) = line.split_at(at);
    let (head, body) = match name.starts_with("  ") && name.ends_with(' ') {
        true => (name, body),
        false => ("", line),
    };
    let indent = if head.is_empty() { 2 } else { NAME };
    let lines = wrapped(body, COLUMNS - indent);
    let first = lines.iter().enumerate().map(|(k, text)| match k {
        0 => format!("{head}{text}\n"),
        _ => format!("{:indent$}{text}\n", ""),
    });
    first.collect()
}

/// The import of a log in full: rows, layout, assumptions, and what was odd, with its lines.
pub fn log_import(name: &str, layout: &Layout, account: &Account) -> String {
    let (l, a) = (layout, account);
    let rows = match a.rows_read {
        1 => word!("1 row").to_owned(),
        n => say!("{n} rows"; n),
    };
    let header = match l.header_line {
        Some(line) => say!("header in line {line}"; line),
        None => word!("no header").into(),
    };
    let mut text = say!(
        "{name}: {rows} read, {} used, {} not\n  file      {}, fields between {}, {header}\n  time      {}\n  current   {}\n",
        a.rows_used,
        a.rows_read - a.rows_used,
        encoding(l.encoding),
        delimiter(l.delimiter),
        time(l, a),
        current(l, a)
    ; name, rows, header);
    if let Some(c) = &l.ambient {
        text += &say!("  ambient   {}\n", column(c));
    }
    text += &say!("  interval  {}\n", spoken_span(a.interval_s));
    let midnights = match a.midnights {
        0 => None,
        1 => Some(word!("once").to_owned()),
        n => Some(say!("{n} times"; n)),
    };
    let midnights =
        midnights.map(|times| say!("the clock has no date: it passed midnight {times}"; times));
    for line in l.assumptions.iter().map(log_assumption).chain(midnights) {
        text += &say!("  assumed   {line}\n"; line);
    }
    format!("{text}{a}")
}

fn encoding(encoding: Encoding) -> &'static str {
    match encoding {
        Encoding::Utf8 => word!("UTF-8"),
        Encoding::Latin1 => word!("Latin-1"),
        Encoding::Utf16Le => word!("UTF-16 (little-endian)"),
        Encoding::Utf16Be => word!("UTF-16 (big-endian)"),
    }
}

fn delimiter(delimiter: Delimiter) -> &'static str {
    match delimiter {
        Delimiter::Tab => word!("tabs"),
        Delimiter::Semicolon => word!("semicolons"),
        Delimiter::Bar => word!("bars"),
        Delimiter::Comma => word!("commas"),
        Delimiter::Blanks => word!("blanks"),
    }
}

/// `column 2 "Strom (A)"`.
fn column(column: &Column) -> String {
    match column.name.as_str() {
        "" => say!("column {}", column.index + 1),
        name => say!("column {} \"{name}\"", column.index + 1; name),
    }
}

fn time(l: &Layout, a: &Account) -> String {
    let of = match (&l.time, &l.time_of_day) {
        (Some(c), Some(d)) => say!("{} and {}", column(c), column(d)),
        (Some(c), None) => column(c),
        _ => word!("no column").into(),
    };
    let form = match l.time_form {
        TimeForm::Number { scale_s, .. } => say!("numbers of {}", spoken_span(scale_s)),
        TimeForm::Clock {
            minutes_first: true,
        } => word!("minutes and seconds").into(),
        TimeForm::Clock { .. } => word!("hh:mm:ss").into(),
        TimeForm::Calendar { .. } => word!("dates").into(),
        TimeForm::Even { interval_s } => say!("every {}", spoken_span(interval_s)),
    };
    let start = match a.starts_at_unix_s {
        Some(s) => calendar_stamp(s),
        None => spoken_span(a.first_time_s),
    };
    let lasting = spoken_span(a.last_time_s - a.first_time_s);
    say!("{of}, {form}; from {start}, lasting {lasting}"; of, form, start, lasting)
}

fn current(l: &Layout, a: &Account) -> String {
    let kind = match l.kind {
        CurrentKind::Samples => word!("instantaneous samples"),
        CurrentKind::MeterRms => word!("RMS"),
        CurrentKind::Average => word!("arithmetic averages"),
    };
    let mut text = format!("{}, {kind}", column(&l.current));
    for (what, of) in [(word!("least"), &l.minimum), (word!("largest"), &l.maximum)] {
        if let Some(c) = of {
            text += &say!("; {what} in {}", column(c); what);
        }
    }
    if let Some((low, high)) = a.current_range_a {
        let [low, high] = [low, high].map(|a| format_si(a, Dimension::Current));
        text += &say!("; {low} to {high}"; low, high);
    }
    text
}

/// What the reader of a log had to assume, without an end.
pub(crate) fn log_assumption(assumption: &Assumption) -> String {
    match assumption {
        Assumption::Dates(_, DatesShow::Points) => word!("dates with points are day, month, year").into(),
        Assumption::Dates(order, shown) => {
            let order = match order {
                DateOrder::DayFirst => word!("day, month, year"),
                DateOrder::MonthFirst => word!("month, day, year"),
            };
            match shown {
                DatesShow::OneReading(text) => {
                    say!("dates are {order}: `{text}` has no other reading"; order, text)
                }
                DatesShow::Midnight(from, to) => {
                    say!("dates are {order}: `{from}` is followed by `{to}`"; order, from, to)
                }
                DatesShow::Points => say!("dates with points are {order}"; order),
            }
        }
        Assumption::Times(TimesAre::UnixMilliseconds) => word!("times are milliseconds since 1970").into(),
        Assumption::Times(TimesAre::UnixSeconds) => word!("times are seconds since 1970").into(),
        Assumption::Times(TimesAre::SpreadsheetDays) => word!("times are days of a spreadsheet").into(),
        Assumption::Times(TimesAre::Seconds) => word!("times have no unit: taken as seconds").into(),
        Assumption::TwoParts {
            minutes_first: true,
        } => word!("times of two parts are minutes and seconds").into(),
        Assumption::TwoParts { .. } => word!("times of two parts are hours and minutes").into(),
        Assumption::Even { line, text } => {
            say!("rows are evenly spaced, as line {line} says: `{text}`"; line, text)
        }
        Assumption::NoInterval => {
            word!("the first rows do not tell the interval between rows: taken as 1 s").into()
        }
        Assumption::SharedStamps { rows, step_s } => say!(
            "{rows} rows share a time stamp: they are spread evenly over its {}",
            format_si(*step_s, Dimension::Time)
        ; rows),
        Assumption::Averages => {
            word!("the current is the arithmetic average of each interval, as its header says").into()
        }
        Assumption::Samples {
            interval_s,
            window_s,
        } => say!(
            "rows are {} apart: the current is taken as instantaneous samples, and its true RMS \
             over {} is used",
            format_si(*interval_s, Dimension::Time),
            format_si(*window_s, Dimension::Time)
        ),
        Assumption::ManyNegative => {
            word!("many currents are negative although the rows are too slow for samples of the mains: \
             their size is used")
                .into()
        }
        Assumption::MeterRms => {
            word!("the current is taken as RMS by the meter; nothing in the log says so").into()
        }
        Assumption::Stamp(at) => {
            let end = match at {
                StampAt::End => word!("end"),
                StampAt::Start => word!("start"),
            };
            say!("the time of a row is the {end} of its interval"; end)
        }
        Assumption::HiddenHeat => {
            word!("averages hide heat: without a column of largest currents the RMS is only known from below").into()
        }
        Assumption::SlowRows(interval_s) => say!(
            "rows are {} apart: a start that is shorter is not seen",
            format_si(*interval_s, Dimension::Time)
        ),
        Assumption::Offset(mean_a) => say!(
            "the mean of the first samples is {}; it is not taken off: state it as the offset if it is one",
            format_si(*mean_a, Dimension::Current)
        ),
        Assumption::OnlyLargest => {
            word!("only the largest current of each interval is in the log: it stands for the whole interval").into()
        }
        Assumption::Current { used, left } => {
            say!("the current is column {used}; not used: {left}"; used, left)
        }
        Assumption::OnlyColumn(column) => say!(
            "nothing says which column is the current; column {column} is taken, as the only one left"
        ; column),
        Assumption::Air { of, column } => say!(
            "of {of} columns of temperature, {column} is taken for the air at the protector"
        ; of, column),
        Assumption::Amperes { large: false } => word!("the current has no unit: taken as A").into(),
        Assumption::Amperes { large: true } => {
            word!("the current has no unit: taken as A; that is a lot: it may be in mA").into()
        }
        Assumption::Kelvin => word!("the temperature has no unit: taken as K").into(),
        Assumption::Celsius { hot: false } => word!("the temperature has no unit: taken as °C").into(),
        Assumption::Celsius { hot: true } => {
            word!("the temperature has no unit: taken as °C; that is hot: it may be in °F").into()
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
            let side = if *late_s > 0.0 { word!("after") } else { word!("before") };
            say!(
                "the trip noted {noted} is the fall to zero {} {side} that, {} after the first row",
                spoken(late_s.abs()),
                spoken(*at_s)
            ; noted, side)
        }
        LogNote::Gaps {
            label,
            gaps_s,
            rms_a: (without, with),
            pieces,
        } => say!(
            "{label}: {} before it lie in gaps; with nothing there the RMS current is {without:.3} A, with the \
             largest current {with:.3} A; the event is computed with the largest ({pieces} pieces)",
            spoken(*gaps_s)
        ; label, without, with, pieces),
        LogNote::TooShort { label } => say!(
            "{label}: the load came and went within two rows at most, which show neither how strong nor how long it \
             was: taken as a start that the trip ended before the next row"; label
        ),
        LogNote::Alike { trips, weighed } => say!(
            "{trips} trips, {weighed} of them weighed one by one: the most unlike; each other one counts with the one \
             it is most like"; trips, weighed
        ),
        LogNote::TooSlow { interval_s } => say!(
            "a row every {} shows neither starts nor pauses: the log gives bounds of the heat, and its trips are known to \
             a row at either end",
            spoken(*interval_s)
        ),
        LogNote::HiddenHeat { bounded: true } => {
            word!("the log holds averages, which hide heat where the current varies: the RMS current lies between the \
             average and the bound from the least and the largest value")
                .into()
        }
        LogNote::HiddenHeat { bounded: false } => {
            word!("the log holds averages without least and largest values: they hide heat where the current varies, \
             and nothing bounds how much")
                .into()
        }
    }
}
