//! Amounts as people say them. Where only one unit can be meant it may be left out or written as it
//! is said; files stay strict.

use super::{Dimension, Quantity};

/// An amount in SI.
///
/// # Errors
/// It cannot be understood.
pub fn read_loosely(text: &str, dimension: Dimension) -> Result<f64, String> {
    Quantity::read(&strict(text, dimension), dimension)
        .map(|q| q.value_si)
        .map_err(|e| e.to_string())
}

/// An amount as files write it.
pub fn strict(text: &str, dimension: Dimension) -> String {
    let text = text.trim();
    understood(text, dimension).unwrap_or_else(|| text.to_owned())
}

/// Two amounts with a word between them, as files write them.
pub fn two(text: &str, between: &str, [a, b]: [Dimension; 2]) -> Option<(String, String)> {
    let (one, other) = text.split_once(between)?;
    Some((strict(one, a), strict(other, b)))
}

/// What stands before a word and what behind it, without the commas between.
pub fn beside(text: &str, word: &str) -> (String, Option<String>) {
    match text.split_once(word) {
        Some((own, other)) => {
            let own = own.trim().trim_end_matches(',').trim_end();
            (own.to_owned(), Some(other.trim().to_owned()))
        }
        None => (text.trim().to_owned(), None),
    }
}

/// What a text means that files would not take; `None` where they take it, or where nobody can
/// know.
pub fn understood(text: &str, dimension: Dimension) -> Option<String> {
    let reads = |text: &str| Quantity::read(text, dimension).is_ok();
    if reads(text) {
        return None;
    }
    // A comma is a decimal one where no group of three digits follows it.
    let pointed = match text.split_once(',') {
        Some((_, rest)) if !rest.contains(',') && digits(rest) != 3 => text.replace(',', "."),
        _ => text.to_owned(),
    };
    let end = pointed
        .find(|c: char| c.is_alphabetic() || c == '°')
        .unwrap_or(pointed.len());
    let (number, unit) = (pointed[..end].trim(), pointed[end..].trim());
    let value: f64 = number.parse().ok()?;
    let lower = unit.to_ascii_lowercase();
    let strict = match (dimension, lower.as_str()) {
        (Dimension::Temperature, "f" | "°f" | "degf") => {
            let celsius = (value - 32.0) / 1.8;
            format!("{} degC", (10.0 * celsius).round() / 10.0)
        }
        (Dimension::Temperature, "" | "c" | "°c" | "degc") => format!("{number} degC"),
        (Dimension::Current, "" | "a" | "amp" | "amps" | "a dc" | "a ac") => format!("{number} A"),
        (Dimension::Voltage, "" | "v" | "v dc" | "v ac" | "volt" | "volts") => {
            format!("{number} V")
        }
        (Dimension::Time, "" | "sec" | "secs" | "seconds" | "second") => format!("{number} s"),
        (Dimension::Time, "minutes" | "minute" | "mins") => format!("{number} min"),
        _ => format!("{number} {unit}"),
    };
    reads(&strict).then_some(strict)
}

/// Digits at the head of a text.
fn digits(text: &str) -> usize {
    text.chars().take_while(char::is_ascii_digit).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_can_only_mean_one_thing_is_understood() {
        for (text, dimension, strict) in [
            ("16", Dimension::Current, Some("16 A")),
            ("14,2 A", Dimension::Current, Some("14.2 A")),
            ("14.2 A", Dimension::Current, None),
            ("105 F", Dimension::Temperature, Some("40.6 degC")),
            ("35C", Dimension::Temperature, Some("35 degC")),
            ("-5 degC", Dimension::Temperature, None),
            ("-5", Dimension::Temperature, Some("-5 degC")),
            ("48 V DC", Dimension::Voltage, Some("48 V")),
            ("9", Dimension::Time, Some("9 s")),
            // A thousand, or a little more than one? Nobody knows.
            ("1,200", Dimension::Current, None),
            ("16 V", Dimension::Current, None),
            ("some", Dimension::Current, None),
            ("", Dimension::Current, None),
        ] {
            assert_eq!(understood(text, dimension).as_deref(), strict, "{text}");
        }
    }
}
