//! Protectors that no strip or disc opens which its own current heats: recognised by what people
//! call them, and refused with the reason (what they do is common practice, no source).

use super::flags::near_and_known;
use crate::quantity::{Dimension, Quantity};

/// What is weighed.
const KNOWN: [&str; 6] = [
    "strip",
    "disc",
    "blade",
    "bimetal",
    "thermal",
    "thermal-magnetic",
];
/// What is not: a word that names it, and what it does instead.
const OTHERS: [(&str, &str); 11] = [
    ("fuse", MELTS),
    ("electronic", COUNTS),
    ("solid state", COUNTS),
    ("thermistor", FEELS),
    ("ptc", FEELS),
    ("thermostat", FEELS),
    ("dashpot", OIL),
    ("hydraulic", OIL),
    (
        "magnetic only",
        "a coil alone opens it, at once: nothing in it warms or tires with heat",
    ),
    ("residual", LEAKS),
    ("earth leakage", LEAKS),
];
const MELTS: &str = "it melts and is renewed, never reset; find first why it melted";
const COUNTS: &str = "it measures the current and keeps its own time: read its setting and memory";
const FEELS: &str = "it feels the machine's temperature, not its own current: look for what heats \
                     the machine";
const OIL: &str = "oil delays its coil: it resets at once and hardly minds warm air";
const LEAKS: &str = "it opens on current that leaks to earth: a qualified person looks for that";

/// Why something called so is not weighed; `None` where it may be a strip.
pub fn is_other(said: &str) -> Option<String> {
    let lower = said.to_lowercase();
    if Quantity::read(said, Dimension::Temperature).is_ok() {
        return Some(refused("a part rated by its temperature alone", FEELS));
    }
    let other = OTHERS.iter().find(|(name, _)| lower.contains(name));
    other.map(|(name, does)| refused(&format!("\"{name}\""), does))
}

fn refused(name: &str, does: &str) -> String {
    format!("{name} is no strip that its own current heats, and not known to this program: {does}")
}

/// Takes what a protector is called, where it is a heated strip or disc.
///
/// # Errors
/// It is something else, or not understood.
pub fn heated(said: &str) -> Result<String, String> {
    let lower = said.trim().to_lowercase();
    if KNOWN.contains(&lower.as_str()) {
        return Ok(lower);
    }
    let others = OTHERS.iter().map(|(name, _)| *name);
    Err(is_other(&lower).unwrap_or_else(|| {
        let all = near_and_known(&lower, KNOWN.into_iter().chain(others));
        format!("not known; {all} (the first {} are weighed)", KNOWN.len())
    }))
}
