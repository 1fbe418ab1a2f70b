//! Times of day, elapsed times and dates with times, from bytes.

use super::calendar::Date;
use super::cursor::Cursor;
use super::dates::date;

/// A time of day or an elapsed time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clock {
    /// Seconds since midnight or since the start.
    pub seconds: f64,
    /// How many parts stood between colons (two: hours and minutes, or minutes and seconds).
    pub parts: u8,
    /// The first part.
    pub first: u32,
    /// There was a fraction behind the last part.
    pub fraction: bool,
    /// AM or PM was said.
    pub half_day: bool,
}

impl Clock {
    /// The seconds if two parts mean minutes and seconds.
    pub fn as_minutes_and_seconds(&self) -> f64 {
        if self.parts == 2 {
            self.seconds / 60.0
        } else {
            self.seconds
        }
    }
}

/// A date, a time or both, with what they say about the zone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stamp {
    /// The date.
    pub date: Option<Date>,
    /// The time.
    pub clock: Option<Clock>,
    /// Seconds the zone is ahead of UTC, where it is said.
    pub offset_s: Option<i32>,
}

/// Reads a field that holds a date, a time or both; `None` when it is neither.
pub fn stamp(bytes: &[u8]) -> Option<Stamp> {
    let mut cursor = Cursor { bytes, at: 0 };
    let date = date(&mut cursor);
    if date.is_none() {
        cursor.at = 0;
    } else if !cursor.done() && !cursor.skip(b" T_,t\xa0") {
        return None;
    }
    let clock = if cursor.done() {
        None
    } else {
        Some(clock_at(&mut cursor)?)
    };
    cursor.skip(b" ");
    let offset_s = if cursor.done() {
        None
    } else {
        Some(zone(&mut cursor)?)
    };
    if !cursor.done() || (date.is_none() && clock.is_none()) {
        return None;
    }
    // A colon or a date it must have: a bare number is no time of day.
    (date.is_some() || clock.is_some_and(|c| c.parts > 1)).then_some(Stamp {
        date,
        clock,
        offset_s,
    })
}

/// Reads `[d.]hh:mm[:ss[.fff]]`, `mm:ss.f`, `hh:mm:ss:fff`, with AM or PM.
fn clock_at(cursor: &mut Cursor) -> Option<Clock> {
    let (mut first, digits) = cursor.number()?;
    let mut days = 0;
    // `14` or `140000` behind a date.
    if digits == 6 && cursor.peek().is_none_or(|b| b != b':' && b != b'.') {
        let (h, m, s) = (first / 10_000, first / 100 % 100, first % 100);
        return clock_of(0, &[h, m, s], 0.0, false, cursor);
    }
    let ahead = |c: &Cursor| c.bytes[c.at..].contains(&b':');
    if matches!(cursor.peek(), Some(b'.' | b' ' | b'd')) && ahead(cursor) {
        cursor.take(b'.');
        cursor.take(b'd');
        cursor.skip(b" ");
        days = first;
        first = cursor.number()?.0;
    }
    let mut parts = [first, 0, 0];
    let mut count = 1;
    let mut fraction = 0.0;
    let mut has_fraction = false;
    while count < 3 && cursor.take(b':') {
        parts[count] = cursor.number()?.0;
        count += 1;
    }
    if matches!(cursor.peek(), Some(b'.' | b',')) || (count == 3 && cursor.peek() == Some(b':')) {
        cursor.at += 1;
        fraction = cursor.fraction()?;
        has_fraction = true;
    }
    clock_of(days, &parts[..count], fraction, has_fraction, cursor)
}

fn clock_of(
    days: u32,
    parts: &[u32],
    fraction: f64,
    has_fraction: bool,
    cursor: &mut Cursor,
) -> Option<Clock> {
    let first = parts[0];
    if parts[1..].iter().any(|p| *p > 60) || (days > 0 && first > 23) {
        return None;
    }
    let half_day = half_of_day(cursor)?;
    let hours = match half_day {
        None => f64::from(first),
        Some(_) if first == 0 || first > 12 => return None,
        Some(afternoon) => f64::from(first % 12 + if afternoon { 12 } else { 0 }),
    };
    let whole = match parts {
        [_] => hours * 3600.0,
        [_, m] => hours * 3600.0 + f64::from(*m) * 60.0 + fraction * 60.0,
        [_, m, s, ..] => hours * 3600.0 + f64::from(*m) * 60.0 + f64::from(*s) + fraction,
        [] => return None,
    };
    Some(Clock {
        seconds: f64::from(days) * 86_400.0 + whole,
        parts: parts.len() as u8,
        first,
        fraction: has_fraction,
        half_day: half_day.is_some(),
    })
}

/// `AM`, `pm`, `p.m.`: `Some(None)` when nothing of the kind follows; `None` when it cannot be
/// read.
fn half_of_day(cursor: &mut Cursor) -> Option<Option<bool>> {
    let start = cursor.at;
    cursor.skip(b" ");
    let afternoon = match cursor.peek() {
        Some(b'a' | b'A') => false,
        Some(b'p' | b'P') => true,
        _ => {
            cursor.at = start;
            return Some(None);
        }
    };
    cursor.at += 1;
    cursor.take(b'.');
    if !(cursor.take(b'm') || cursor.take(b'M')) {
        return None;
    }
    cursor.take(b'.');
    Some(Some(afternoon))
}

/// `Z`, `UTC`, `+01:00`, `-0330`, `+02`, and the names of the zones of central Europe.
fn zone(cursor: &mut Cursor) -> Option<i32> {
    let sign = match cursor.peek()? {
        b'+' => 1,
        b'-' => -1,
        _ => {
            let word = cursor.letters().to_ascii_uppercase();
            let hours = match word.as_slice() {
                b"Z" | b"UTC" | b"GMT" => 0,
                b"CET" | b"MEZ" => 1,
                b"CEST" | b"MESZ" => 2,
                _ => return None,
            };
            if cursor.done() {
                return Some(hours * 3600);
            }
            // `UTC+01:00`.
            return if hours == 0 { zone(cursor) } else { None };
        }
    };
    cursor.at += 1;
    let (number, digits) = cursor.number()?;
    let (h, m) = match digits {
        1 | 2 if cursor.take(b':') => (number, cursor.number()?.0),
        1 | 2 => (number, 0),
        4 => (number / 100, number % 100),
        _ => return None,
    };
    (h <= 15 && m < 60).then_some(sign * (h * 3600 + m * 60) as i32)
}
