//! What is wrong with the rows of a log, as its errors say it.

use super::account::{Account, BadRow, JumpCause, Kept, Oddity};
use crate::quantity::{Dimension, format_number, format_si};
use std::fmt;

/// A time for people: seconds up to two minutes, then minutes and hours.
pub(crate) fn span(seconds: f64) -> String {
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

/// What is odd, kind by kind, with what can be done about it.
impl fmt::Display for Account {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
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
}

impl Account {
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
