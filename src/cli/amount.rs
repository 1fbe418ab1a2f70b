//! Amounts on the command line. Where only one unit can be meant, a person may leave it out or
//! write it as it is said; what was understood is then said aloud. Files stay strict.

use super::failure::say;
use crate::quantity::{Dimension, Quantity};

/// An amount in SI.
pub fn read(text: &str, dimension: Dimension) -> Result<f64, String> {
    Quantity::read(&strictly(text, dimension), dimension)
        .map(|q| q.value_si)
        .map_err(|e| e.to_string())
}

/// A current as files write it, see [`strictly`].
pub fn current_text(text: &str) -> Result<String, String> {
    Ok(strictly(text, Dimension::Current))
}

/// A temperature as files write it, see [`strictly`].
pub fn temperature_text(text: &str) -> Result<String, String> {
    Ok(strictly(text, Dimension::Temperature))
}

/// `50 for 0,7`: a start as files write it.
pub fn start_text(text: &str) -> Result<String, String> {
    let dimensions = [Dimension::Current, Dimension::Time];
    Ok(said(text, joined(text, " for ", dimensions)))
}

/// `11,3 on low`: a reading and where the machine's switch stood, as files write them.
pub fn reading_text(text: &str) -> Result<String, String> {
    let (amperes, position) = beside(text, " on ");
    let position = position.map(|p| format!(" on {p}")).unwrap_or_default();
    Ok(said(
        text,
        Some(strict(&amperes, Dimension::Current) + &position),
    ))
}

/// `229 at rest, 196 running of 230`: a supply as files write it.
pub fn supply_text(text: &str) -> Result<String, String> {
    let (measured, nominal) = beside(text, " of ");
    let parts = measured.split(", ").map(|part| {
        let end = ["at rest", "running"]
            .into_iter()
            .find(|end| part.trim().ends_with(end));
        let volts = part.trim().trim_end_matches(end.unwrap_or_default());
        let end = end.map(|end| format!(" {end}")).unwrap_or_default();
        strict(volts, Dimension::Voltage) + &end
    });
    let measured = parts.collect::<Vec<_>>().join(", ");
    let nominal = nominal.map(|v| format!(" of {}", strict(&v, Dimension::Voltage)));
    Ok(said(text, Some(measured + &nominal.unwrap_or_default())))
}

/// `58 and 31`: both terminals as files write them.
pub fn terminals_text(text: &str) -> Result<String, String> {
    let dimensions = [Dimension::Temperature; 2];
    Ok(said(text, joined(text, " and ", dimensions)))
}

/// `123 mV at 13,6, sister 72 mV`: a drop as files write it. Volts and millivolts can both be
/// meant.
pub fn drop_text(text: &str) -> Result<String, String> {
    let (own, sister) = beside(text, "sister");
    let own = joined(&own, " at ", [Dimension::Voltage, Dimension::Current]);
    let sister = sister.map(|s| format!(", sister {s}")).unwrap_or_default();
    Ok(said(text, own.map(|own| own + &sister)))
}

/// `8 min from hot after 9`: the state before an event as files write it.
pub fn event_text(text: &str) -> Result<String, String> {
    let strict = text
        .split_once("hot after ")
        .map(|(head, amperes)| format!("{head}hot after {}", strict(amperes, Dimension::Current)));
    Ok(said(text, strict))
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

/// Two amounts with a word between them, as files write them.
pub fn two(text: &str, between: &str, [a, b]: [Dimension; 2]) -> Option<(String, String)> {
    let (one, other) = text.split_once(between)?;
    Some((strict(one, a), strict(other, b)))
}

fn joined(text: &str, between: &str, dimensions: [Dimension; 2]) -> Option<String> {
    two(text, between, dimensions).map(|(one, other)| format!("{one}{between}{other}"))
}

/// What was understood, said where it is not what was written; what was not is left to whoever
/// reads it.
fn said(text: &str, strict: Option<String>) -> String {
    let text = text.trim();
    match strict {
        Some(strict) if strict != text => {
            say(&format!(
                "\"{text}\" read as {}",
                strict.replace(" degC", " °C")
            ));
            strict
        }
        _ => text.to_owned(),
    }
}

/// An amount as files write it; what was understood is said where that is not what was written.
pub fn strictly(text: &str, dimension: Dimension) -> String {
    said(text, understood(text.trim(), dimension))
}

/// An amount as files write it, without a word.
pub fn strict(text: &str, dimension: Dimension) -> String {
    let text = text.trim();
    understood(text, dimension).unwrap_or_else(|| text.to_owned())
}

/// What a text means that files would not take; `None` where they take it, or where nobody can
/// know.
fn understood(text: &str, dimension: Dimension) -> Option<String> {
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
