//! What hangs behind a protector, by its kind: whether it starts with a surge, and the shape of its
//! current.
//!
//! Common practice, no source.

use super::Waveform;

/// A kind of load: its name, whether it starts with a surge where that is known, the shape of its
/// current.
pub(super) type LoadKind = (Option<bool>, Waveform);

/// Every kind with its name.
pub(super) const LOAD_KINDS: [(&str, LoadKind); 8] = [
    ("motor", (Some(true), Waveform::Unknown)),
    ("drive", (None, Waveform::Distorted)),
    ("heater", (Some(false), Waveform::Sine)),
    ("dimmed heater", (Some(false), Waveform::Distorted)),
    ("lamps", (Some(true), Waveform::Unknown)),
    ("transformer", (Some(true), Waveform::Unknown)),
    ("electronics", (Some(true), Waveform::Distorted)),
    ("direct current", (None, Waveform::Sine)),
];
