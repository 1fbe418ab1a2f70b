//! What hangs behind a protector, by its kind: whether it starts with a surge, the shape of its
//! current, and how that goes with the voltage.
//!
//! Common practice, no source.

use super::Waveform;

/// A kind of load: whether it starts with a surge where that is known, the shape of its current,
/// and the power of the voltage by which that goes where it is known: a resistance draws more on
/// more of it, what keeps its power less (textbook).
pub(super) type LoadKind = (Option<bool>, Waveform, Option<i32>);

/// Every kind with its name.
pub(super) const LOAD_KINDS: [(&str, LoadKind); 8] = [
    ("motor", (Some(true), Waveform::Unknown, Some(-1))),
    ("drive", (None, Waveform::Distorted, Some(-1))),
    ("heater", (Some(false), Waveform::Sine, Some(1))),
    ("dimmed heater", (Some(false), Waveform::Distorted, Some(1))),
    ("lamps", (Some(true), Waveform::Unknown, None)),
    ("transformer", (Some(true), Waveform::Unknown, None)),
    ("electronics", (Some(true), Waveform::Distorted, Some(-1))),
    ("direct current", (None, Waveform::Sine, None)),
];

/// What people call them on a command line.
const ALSO_CALLED: [(&str, &[&str]); 4] = [
    ("motor", &["pump", "compressor", "fan", "blower", "winch"]),
    ("heater", &["oven", "kiln", "heating element", "boiler"]),
    ("lamps", &["lamp", "light"]),
    ("direct current", &["dc", "battery"]),
];

/// The kind that somebody names, by the longest of its names in what was said: a dimmed heater is
/// one.
pub(super) fn spoken(said: &str) -> Option<LoadKind> {
    let said = said.to_lowercase();
    let words = || said.split(|c: char| !c.is_alphanumeric());
    let is_said = |name: &str| match name.len() {
        // A short one is a word of its own.
        ..4 => words().any(|w| w == name),
        _ => said.contains(name),
    };
    let own = LOAD_KINDS.iter().map(|(name, _)| (*name, *name));
    let also = ALSO_CALLED.iter();
    let also = also.flat_map(|(of, names)| names.iter().map(move |name| (*name, *of)));
    let named = own.chain(also).filter(|(name, _)| is_said(name));
    let (_, named) = named.max_by_key(|(name, _)| name.len())?;
    let mut kinds = LOAD_KINDS.iter();
    kinds
        .find(|(name, _)| *name == named)
        .map(|(_, kind)| *kind)
}
