//! Units in headers and behind numbers.

use crate::quantity::{Dimension, Quantity};

/// A unit of a column and the way to SI: `value_si = number * scale + zero`.
#[derive(Debug, Clone, PartialEq)]
pub struct ColumnUnit {
    /// As written.
    pub text: String,
    /// What it measures.
    pub dimension: Dimension,
    /// Factor to SI.
    pub scale: f64,
    /// Kelvin at zero degrees; 0 for everything but degrees.
    pub zero: f64,
}

const KINDS: [Dimension; 6] = [
    Dimension::Current,
    Dimension::Time,
    Dimension::Temperature,
    Dimension::Voltage,
    Dimension::Power,
    Dimension::Fraction,
];

/// Units of logs, with their other spellings.
const FOLK: &[(&str, &str)] = &[
    (
        "A",
        "a, amp, amps, ampere, amperes, aac, adc, arms, a rms, a ac, a dc",
    ),
    ("mA", "milliamps, milliampere, ma"),
    ("kA", "ka"),
    ("degC", "c, deg c, degc, celsius, grad c, ºc"),
    ("degF", "f, deg f, degf, °f, fahrenheit"),
    ("K", "kelvin"),
    ("s", "sec, secs, second, seconds, sek, sekunden"),
    ("ms", "msec, millis, milliseconds"),
    ("us", "us"),
    ("min", "mins, minute, minutes, minuten"),
    ("h", "hr, hrs, hour, hours, std, stunden"),
    ("d", "day, days, tage"),
    ("V", "volt, volts"),
    ("W", "watt, watts"),
];

/// Reads a unit as headers have it: `mA`, `amps`, `degF`, `100mA` (a hundred milliamperes a count).
pub(super) fn read(text: &str) -> Option<ColumnUnit> {
    let trimmed = text.trim();
    if trimmed.is_empty() || trimmed.len() > 30 {
        return None;
    }
    let digits = trimmed
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .filter(|n| *n > 0 && trimmed.as_bytes()[0].is_ascii_digit());
    let (number, symbol) = trimmed.split_at(digits.unwrap_or(0));
    let symbol = symbol.trim();
    if symbol.is_empty() || symbol.starts_with(|c: char| c == '/' || c.is_ascii_digit()) {
        return None;
    }
    let factor: f64 = if number.is_empty() {
        1.0
    } else {
        number.parse().ok()?
    };
    let lower = symbol.to_lowercase();
    let folk = FOLK
        .iter()
        .find(|(_, spellings)| spellings.split(", ").any(|f| f == lower))
        .map(|(unit, _)| *unit);
    // As it stands first: `MA` and `mA`, `K` and `k` differ.
    let unit = find(symbol).or_else(|| find(folk?))?;
    // A tenth of a degree a count: degrees keep their zero.
    Some(ColumnUnit {
        text: trimmed.to_owned(),
        scale: unit.1 * factor,
        dimension: unit.0,
        zero: unit.2,
    })
}

fn find(symbol: &str) -> Option<(Dimension, f64, f64)> {
    KINDS.iter().find_map(|d| {
        let value = |n: u8| Some(Quantity::read(&format!("{n} {symbol}"), *d).ok()?.value_si);
        let zero = value(0)?;
        Some((*d, value(1)? - zero, zero))
    })
}
