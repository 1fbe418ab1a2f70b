//! Published limits in words; a source that all of them share is told once.

use super::number::{duration, finite, plain};
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
pub(crate) fn words(limit: &LimitCheck, is_source_shared: bool) -> String {
    let time = match finite(limit.time_s) {
        Some(time) => format!("trips after {}", duration(time, 3)),
        None => "never trips".to_owned(),
    };
    let verdict = if limit.met { "met" } else { "NOT MET" };
    let air = plain(limit.ambient_c);
    let text = &limit.text;
    let source = if is_source_shared {
        String::new()
    } else {
        format!(" [{}]", limit.source)
    };
    format!("{verdict}: {text} at {air} °C; this part {time}{source}")
}
