//! The state before an event, as people write it.

use super::Before;
use super::stop_watch::{TimeFault, read_time};
use crate::quantity::{Dimension, Quantity};

const FORMS: &str = "\"cold\", \"hot after 9.2 A\" (long under that current), \"12 s after the trip\" (closed again 12 s after \
     it opened by the trip before) or \"unknown\"";

/// Reads `cold`, `hot after 9.2 A`, `12 s after the trip` or `unknown`.
///
/// # Errors
/// What was found, and what is allowed.
pub fn read_before(text: &str) -> Result<Before, TimeFault> {
    let fault = |found: &str| TimeFault {
        found: found.into(),
        help: FORMS.into(),
    };
    let text = text.trim();
    let lower = text.to_lowercase();
    if lower == "cold" {
        return Ok(Before::Cold);
    }
    if lower == "unknown" || lower == "not known" {
        return Ok(Before::Unknown);
    }
    if let Some(current) = lower.strip_prefix("hot after") {
        // The unit keeps its capital letters.
        let current = text.get(text.len() - current.len()..).unwrap_or("");
        let read = Quantity::read(current, Dimension::Current)
            .map_err(|e| fault(&format!("after `hot after`: {}", e.found())))?;
        if !(read.value_si > 0.0 && read.value_si < 200_000.0) {
            return Err(fault("a current above zero makes it hot"));
        }
        return Ok(Before::Hot {
            current_a: read.value_si,
        });
    }
    for tail in [
        "after the trip",
        "after a trip",
        "after the last trip",
        "after it opened",
    ] {
        if let Some(time) = lower.strip_suffix(tail) {
            return match read_time(time) {
                Ok(t) if t.value > 0.0 => Ok(Before::AfterTrip { wait_s: t.value }),
                Ok(_) => Err(fault(
                    "no time passed: it cannot be closed in the same moment",
                )),
                Err(e) => Err(fault(&e.found)),
            };
        }
    }
    Err(fault(match lower.as_str() {
        "" => "empty",
        "hot" | "warm" => "hot after which current?",
        _ if lower.contains("reset") => "counted from the trip, not from the reset",
        _ => "none of the states that are known",
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn states_are_read() {
        assert_eq!(read_before("Cold"), Ok(Before::Cold));
        assert_eq!(
            read_before("hot after 9.2 A"),
            Ok(Before::Hot { current_a: 9.2 })
        );
        assert_eq!(
            read_before("12 s after the trip"),
            Ok(Before::AfterTrip { wait_s: 12.0 })
        );
        for wrong in [
            "",
            "hot",
            "warm",
            "hot after 9",
            "12 s after a reset",
            "0 s after the trip",
            "luke",
        ] {
            assert!(read_before(wrong).is_err(), "{wrong}");
        }
    }
}
