//! Published limits in words; a source that all of them share is told once.

use super::language::worded;
use super::number::plain;
use super::words;
use crate::answer::TripTime;
use crate::predict::LimitCheck;

/// The source of all of `limits`, when there is only one.
pub(crate) fn shared_source(limits: &[LimitCheck]) -> Option<&str> {
    let first = limits.first()?.source.as_str();
    limits
        .iter()
        .all(|limit| limit.source == first)
        .then_some(first)
}

/// What the limit asks at which air, and what the part does; the source when it is not shared.
pub(crate) fn verdict(limit: &LimitCheck, is_source_shared: bool) -> String {
    let does = match &limit.time {
        TripTime::AtOnce => say!("trips {}", words::at_once()),
        TripTime::After(_) => say!("trips after {}", words::trip_time(&limit.time, 3)),
        TripTime::HoldsForEver => say!("{} trips", words::never()),
        other => words::trip_why(other).unwrap_or_default(),
    };
    let word = if limit.met {
        word!("met")
    } else {
        word!("NOT MET")
    };
    let air = plain(limit.ambient_c);
    let text = demanded(limit);
    let source = if is_source_shared {
        String::new()
    } else {
        format!(" [{}]", worded(&limit.source))
    };
    say!("{word}: {text} at {air} °C; this part: {does}{source}"; word, text, air, does, source)
}

/// What the limit asks.
pub(crate) fn demanded(limit: &LimitCheck) -> String {
    words::demand(limit.demand)
}
