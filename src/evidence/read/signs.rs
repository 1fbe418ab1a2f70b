//! `[signs]` and `[history]`: what was seen before anything was measured, and the life of the part
//! and its joints.

use crate::diagnostic::Problem;
use crate::document::TableReader;
use crate::evidence::{Joints, Sign, read_age_years, read_count};

pub(super) fn signs(t: &TableReader<'_>) -> Vec<Sign> {
    let mut seen = Vec::new();
    for (key, sign) in Sign::NAMES {
        if t.has(key) && t.boolean(key).is_some_and(|b| b.value) {
            seen.push(sign);
        }
    }
    t.finish();
    seen
}

/// Age, trips so far, a short circuit, what was found at the joints.
#[derive(Debug, Default)]
pub(super) struct Life {
    pub age_years: Option<f64>,
    pub trips: Option<u32>,
    pub short_circuit: Option<bool>,
    pub joints: Option<Joints>,
}

pub(super) fn history(t: &TableReader<'_>) -> Life {
    let mut life = Life::default();
    if let Some(text) = t.text("age", "\"9 years\"") {
        match read_age_years(&text.value) {
            Ok(years) => life.age_years = Some(years),
            Err(found) => t.report(
                Problem::new(text.span, "an age belongs here")
                    .label(found)
                    .help("write it as \"9 years\", \"about 18 months\" or \"3 weeks\""),
            ),
        }
    }
    if t.is_text("trips") {
        if let Some(text) = t.text("trips", "\"about 40\"") {
            match read_count(&text.value) {
                Some(n) => life.trips = Some(n),
                None => t.report(
                    Problem::new(text.span, "a number of trips belongs here")
                        .label("no whole number")
                        .help("write it as `trips = 40` or `trips = \"about 40\"`"),
                ),
            }
        }
    } else if t.has("trips") {
        // None at all is a number of trips as well.
        life.trips = match t.document().excerpt(t.span_of("trips")).trim() {
            "0" => Some(0),
            _ => t.whole("trips", 1_000_000).map(|w| w.value),
        };
    }
    life.short_circuit = t.boolean("short_circuit").map(|b| b.value);
    life.joints = t.choice("joints", &Joints::NAMES).map(|j| j.value);
    t.finish();
    life
}
