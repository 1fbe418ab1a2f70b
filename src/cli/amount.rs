//! Amounts on the command line. Where only one unit can be meant, a person may leave it out or
//! write it as it is said; what was understood is then said aloud. Files stay strict.

use super::failure::say;
use crate::evidence::{AFTER_THE_MEND, is_other, since};
use crate::quantity::{Dimension, Quantity, beside, strict, two, understood};
use std::sync::{Mutex, PoisonError};

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

/// A rated current as files write it; what is no heated strip is told as that.
pub fn rating_text(text: &str) -> Result<String, String> {
    match is_other(text) {
        Some(why) => Err(why),
        None => current_text(text),
    }
}

/// A temperature as files write it, see [`strictly`].
pub fn temperature_text(text: &str) -> Result<String, String> {
    let (said, after) = mended(text);
    Ok(strictly(said, Dimension::Temperature) + after)
}

/// What was read, and that it was read after a mend where that is said.
fn mended(text: &str) -> (&str, &str) {
    let (said, is_since) = since(text);
    (said, if is_since { AFTER_THE_MEND } else { "" })
}

/// `50 for 0,7`: a start as files write it.
pub fn start_text(text: &str) -> Result<String, String> {
    let dimensions = [Dimension::Current, Dimension::Time];
    Ok(said(text, joined(text, " for ", dimensions)))
}

/// `11,3 on low`: a reading and where the machine's switch stood, as files write them.
pub fn reading_text(text: &str) -> Result<String, String> {
    let (said_a, after) = mended(text);
    let (amperes, position) = beside(said_a, " on ");
    let position = position.map(|p| format!(" on {p}")).unwrap_or_default();
    Ok(said(
        text,
        Some(strict(&amperes, Dimension::Current) + &position + after),
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

/// `14, 13,8, 0`: the currents of three phases as files write them.
pub fn phases_text(text: &str) -> Result<String, String> {
    let each = text.split(", ").map(|a| strict(a, Dimension::Current));
    Ok(said(text, Some(each.collect::<Vec<_>>().join(", "))))
}

/// `58 and 31`: both terminals as files write them.
pub fn terminals_text(text: &str) -> Result<String, String> {
    let dimensions = [Dimension::Temperature; 2];
    let (both, after) = mended(text);
    let both = joined(both, " and ", dimensions);
    Ok(said(text, both.map(|both| both + after)))
}

/// `123 mV at 13,6, sister 72 mV`: a drop as files write it. Volts and millivolts can both be
/// meant.
pub fn drop_text(text: &str) -> Result<String, String> {
    let (drop, after) = mended(text);
    let (own, sister) = beside(drop, "sister");
    let own = joined(&own, " at ", [Dimension::Voltage, Dimension::Current]);
    let sister = sister.map(|s| format!(", sister {s}")).unwrap_or_default();
    Ok(said(text, own.map(|own| own + &sister + after)))
}

/// `8 min from hot after 9`: the state before an event as files write it.
pub fn event_text(text: &str) -> Result<String, String> {
    let strict = text
        .split_once("hot after ")
        .map(|(head, amperes)| format!("{head}hot after {}", strict(amperes, Dimension::Current)));
    Ok(said(text, strict))
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
            tell(format!(
                "\"{text}\" read as {}",
                strict.replace(" degC", " °C")
            ));
            strict
        }
        _ => text.to_owned(),
    }
}

/// What was said already.
static TOLD: Mutex<Vec<String>> = Mutex::new(Vec::new());

/// Says a line once, unless nothing is to be said: flags are read before `--quiet` is known.
fn tell(line: String) {
    let mut told = TOLD.lock().unwrap_or_else(PoisonError::into_inner);
    if !told.contains(&line) && !std::env::args_os().any(|a| a == "--quiet") {
        say(&line);
        told.push(line);
    }
}

/// An amount as files write it; what was understood is said where that is not what was written.
pub fn strictly(text: &str, dimension: Dimension) -> String {
    said(text, understood(text.trim(), dimension))
}
