//! What an import says to people: layout, assumptions, and what was odd.

use super::account::{Account, BadRow, JumpCause, Kept, Oddity};
use super::calendar;
use super::layout::{Layout, TimeForm};
use super::options::CurrentKind;
use crate::quantity::{Dimension, format_number, format_si};
use std::fmt;

/// The summary of a log. It belongs before any result that rests on the log.
pub struct Summary<'a> {
    /// Name of the log.
    pub name: &'a str,
    /// Its layout.
    pub layout: &'a Layout,
    /// What was odd.
    pub account: &'a Account,
}

impl fmt::Display for Summary<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (l, a) = (self.layout, self.account);
        let unused = a.rows_read - a.rows_used;
        writeln!(
            f,
            "{}: {} read, {} used, {unused} not",
            self.name,
            rows(a.rows_read),
            a.rows_used
        )?;
        writeln!(
            f,
            "  file      {}, fields between {}, {}",
            l.encoding.name(),
            l.delimiter.name(),
            self.header()
        )?;
        writeln!(f, "  time      {}", self.time())?;
        writeln!(f, "  current   {}", self.current())?;
        if let Some(c) = &l.ambient {
            writeln!(f, "  ambient   {}", c.describe())?;
        }
        writeln!(f, "  interval  {}", span(a.interval_s))?;
        for line in &l.assumptions {
            writeln!(f, "  assumed   {line}")?;
        }
        if a.midnights > 0 {
            writeln!(
                f,
                "  assumed   the clock has no date: it passed midnight {}",
                times(a.midnights)
            )?;
        }
        a.write_problems(f)
    }
}

impl Summary<'_> {
    fn header(&self) -> String {
        match self.layout.header_line {
            Some(line) => format!("header in line {line}"),
            None => "no header".into(),
        }
    }

    fn time(&self) -> String {
        let (l, a) = (self.layout, self.account);
        let column = match (&l.time, &l.time_of_day) {
            (Some(c), Some(d)) => format!("{} and {}", c.describe(), d.describe()),
            (Some(c), None) => c.describe(),
            _ => "no column".into(),
        };
        let form = match l.time_form {
            TimeForm::Number { scale_s, .. } => format!("numbers of {}", span(scale_s)),
            TimeForm::Clock {
                minutes_first: true,
            } => "minutes and seconds".into(),
            TimeForm::Clock { .. } => "hh:mm:ss".into(),
            TimeForm::Calendar { .. } => "dates".into(),
            TimeForm::Even { interval_s } => format!("every {}", span(interval_s)),
        };
        let start = match a.starts_at_unix_s {
            Some(s) => format!("from {}", calendar::stamp(s)),
            None => format!("from {}", span(a.first_time_s)),
        };
        format!(
            "{column}, {form}; {start}, lasting {}",
            span(a.last_time_s - a.first_time_s)
        )
    }

    fn current(&self) -> String {
        let l = self.layout;
        let kind = match l.kind {
            CurrentKind::Samples => "instantaneous samples",
            CurrentKind::MeterRms => "RMS",
            CurrentKind::Average => "arithmetic averages",
        };
        let mut text = format!("{}, {kind}", l.current.describe());
        for (what, column) in [("least", &l.minimum), ("largest", &l.maximum)] {
            if let Some(c) = column {
                text += &format!("; {what} in {}", c.describe());
            }
        }
        if let Some((low, high)) = self.account.current_range_a {
            text += &format!(
                "; {} to {}",
                format_si(low, Dimension::Current),
                format_si(high, Dimension::Current)
            );
        }
        text
    }
}

/// A time for people: seconds up to two minutes, then minutes and hours.
fn span(seconds: f64) -> String {
    if seconds.abs() < 1.0 {
        return format_si(seconds, Dimension::Time);
    }
    if seconds.abs() < 120.0 {
        return second((seconds * 1e6).round() / 1e6);
    }
    let s = seconds.round() as i64;
    let (d, h, min, s) = (s / 86_400, s / 3600 % 24, s / 60 % 60, s % 60);
    match (d, h) {
        (0, 0) if s == 0 => format!("{min} min"),
        (0, 0) => format!("{min} min {s} s"),
        (0, _) => format!("{h} h {min} min"),
        _ => format!("{d} d {h} h"),
    }
}

fn rows(n: u64) -> String {
    if n == 1 {
        "1 row".into()
    } else {
        format!("{n} rows")
    }
}

fn times(n: u64) -> String {
    if n == 1 {
        "once".into()
    } else {
        format!("{n} times")
    }
}

impl Account {
    /// Writes what is odd, kind by kind, with what can be done about it.
    pub(super) fn write_problems(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.write_bad_rows(f)?;
        let gap_text = format!(
            "nothing is known of the current there, {} in all",
            span(self.gap_time_s)
        );
        let gap = |g: &super::account::Gap| {
            (
                g.line,
                format!(
                    "{} without a row, from {} to {}",
                    span(g.to_s - g.from_s),
                    second(g.from_s),
                    second(g.to_s)
                ),
            )
        };
        list(f, &self.gaps, "gap", "gaps", gap, &gap_text)?;
        let same = |d: &super::account::Duplicate| {
            let text = if d.same_current {
                "a time and a current met before"
            } else {
                "the time of the row before, another current"
            };
            (d.line, text.to_owned())
        };
        list(
            f,
            &self.duplicates,
            "row met twice",
            "rows met twice",
            same,
            "only the first was used",
        )?;
        let jump = |j: &super::account::ClockJump| {
            let way = if j.by_s < 0.0 { "back" } else { "ahead" };
            let (why, mended) = match j.cause {
                JumpCause::DaylightSaving => ("daylight saving", "time goes on without the jump"),
                JumpCause::Restart => ("the logger started again", "the pause is not known"),
                JumpCause::Set => ("it was set", "time goes on after one usual interval"),
            };
            (
                j.line,
                format!("{} {way}: {why}; {mended}", span(j.by_s.abs())),
            )
        };
        let hour = self
            .clock_jumps
            .first
            .iter()
            .any(|j| j.cause == JumpCause::DaylightSaving);
        let help = if hour {
            "times in UTC or with their zone, as `2024-03-31T02:00:00+01:00`, do not jump"
        } else {
            "set the times after the jump against something known, such as a note of a trip"
        };
        list(
            f,
            &self.clock_jumps,
            "jump of the clock",
            "jumps of the clock",
            jump,
            help,
        )?;
        let header = |h: &super::account::RepeatedHeader| {
            let text = if h.changed {
                "other columns or units: they hold from here on"
            } else {
                "the same columns"
            };
            (h.line, text.to_owned())
        };
        list(
            f,
            &self.repeated_headers,
            "header met again",
            "headers met again",
            header,
            "the logger started again, or files were joined",
        )?;
        let change = |c: &super::account::IntervalChange| {
            (
                c.line,
                format!("from {} to {}", span(c.from_s), span(c.to_s)),
            )
        };
        list(
            f,
            &self.interval_changes,
            "change of the interval",
            "changes of the interval",
            change,
            "nothing is lost by it",
        )?;
        for (oddity, kept) in &self.odd_values {
            write_odd(f, *oddity, kept)?;
        }
        if self.comments > 0 {
            let lines = if self.comments == 1 {
                "comment"
            } else {
                "comments"
            };
            writeln!(f, "note: {} {lines} among the rows", self.comments)?;
        }
        Ok(())
    }

    fn write_bad_rows(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let bad = |b: &BadRow| (b.line, b.fault.to_string());
        let mut helps: Vec<&str> = Vec::new();
        for row in &self.bad_rows.first {
            let help = row.fault.help();
            if !helps.contains(&help) {
                helps.push(help);
            }
        }
        let (first, rest) = helps.split_first().unwrap_or((&"", &[]));
        list(
            f,
            &self.bad_rows,
            "row not used",
            "rows not used",
            bad,
            first,
        )?;
        for help in rest {
            writeln!(f, "  = help: {help}")?;
        }
        Ok(())
    }
}

fn second(s: f64) -> String {
    format!("{} s", format_number(s))
}

fn list<T>(
    f: &mut fmt::Formatter<'_>,
    kept: &Kept<T>,
    one: &str,
    many: &str,
    text: impl Fn(&T) -> (u64, String),
    help: &str,
) -> fmt::Result {
    if kept.count == 0 {
        return Ok(());
    }
    writeln!(
        f,
        "warning: {} {}",
        kept.count,
        if kept.count == 1 { one } else { many }
    )?;
    for item in &kept.first {
        let (line, text) = text(item);
        writeln!(f, "  line {line}: {text}")?;
    }
    let hidden = kept.count.saturating_sub(kept.first.len() as u64);
    if hidden > 0 {
        writeln!(f, "  and {hidden} more")?;
    }
    writeln!(f, "  = help: {help}")
}

fn write_odd(
    f: &mut fmt::Formatter<'_>,
    oddity: Oddity,
    kept: &Kept<super::account::OddValue>,
) -> fmt::Result {
    let (one, many, help) = match oddity {
        Oddity::Negative => (
            "negative current",
            "negative currents",
            "its size was used; is the clamp the wrong way round, or is there an offset?",
        ),
        Oddity::Clipped => (
            "clipped current",
            "clipped currents",
            "the current was at least that; use a larger range",
        ),
        Oddity::Ambient => (
            "temperature that no room has",
            "temperatures that no room has",
            "left out; check the unit of the column",
        ),
        Oddity::Thousandfold => (
            "current a thousand times another",
            "currents a thousand times another",
            "did the meter change between mA and A? log the unit in a column",
        ),
        Oddity::DecimalMark => (
            "number with another decimal mark",
            "numbers with another decimal mark",
            "read as it can only be meant; were they typed by hand?",
        ),
    };
    let dimension = if oddity == Oddity::Ambient {
        Dimension::Temperature
    } else {
        Dimension::Current
    };
    list(
        f,
        kept,
        one,
        many,
        |v| (v.line, format_si(v.value, dimension)),
        help,
    )
}
