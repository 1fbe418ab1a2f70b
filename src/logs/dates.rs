//! Dates, from bytes.

use super::calendar::{Date, month};
use super::cursor::Cursor;

/// Reads a date at the cursor and leaves the cursor behind it.
pub(super) fn date(cursor: &mut Cursor) -> Option<Date> {
    // `Mar 5, 2024` and `Tue 5 Mar 2024`.
    if let Some(m) = word(cursor)? {
        let (d, _) = cursor.number()?;
        cursor.skip(b" ,");
        let year = year(cursor.number()?)?;
        return Some(Date::Certain(year, m, d));
    }
    let (first, digits) = cursor.number()?;
    if digits == 8 {
        return Some(Date::Certain(
            first / 10_000,
            first / 100 % 100,
            first % 100,
        ));
    }
    let mark = cursor.peek()?;
    if !matches!(mark, b'-' | b'/' | b'.' | b' ') {
        return None;
    }
    cursor.at += 1;
    if mark == b'.' {
        cursor.skip(b" ");
    }
    if cursor
        .peek()
        .is_some_and(|b| b.is_ascii_alphabetic() || b >= 0x80)
    {
        let m = month(cursor.letters())?;
        cursor.skip(b"-/. ");
        let year = year(cursor.number()?)?;
        return Some(Date::Certain(year, m, first));
    }
    if mark == b' ' {
        return None;
    }
    let (second, _) = cursor.number()?;
    if !cursor.take(mark) {
        return None;
    }
    if mark == b'.' {
        cursor.skip(b" ");
    }
    let third = cursor.number()?;
    match (digits, third.1) {
        (4, 1 | 2) => Some(Date::Certain(first, second, third.0)),
        (1 | 2, 2 | 4) => Some(Date::Open(first, second, year(third)?, mark)),
        _ => None,
    }
}

/// A month (or the name of a day before it) at the start: `Some(None)` when a digit stands there.
fn word(cursor: &mut Cursor) -> Option<Option<u32>> {
    if cursor.peek()?.is_ascii_digit() {
        return Some(None);
    }
    for _ in 0..2 {
        let letters = cursor.letters();
        if letters.len() < 2 {
            return None;
        }
        if !cursor.skip(b" .,") {
            return None;
        }
        if let Some(m) = month(letters) {
            return Some(Some(m));
        }
        if cursor.peek()?.is_ascii_digit() {
            return Some(None);
        }
    }
    None
}

/// A year of two digits lies in 1970 to 2069.
fn year((number, digits): (u32, usize)) -> Option<u32> {
    match digits {
        4 => Some(number),
        2 if number < 70 => Some(2000 + number),
        2 => Some(1900 + number),
        _ => None,
    }
}
