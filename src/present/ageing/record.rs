//! The record of an ageing study as JSON, and as tables.
//!
//! # Format 1 -> 2
//!
//! | format 1 | format 2 |
//! | --- | --- |
//! | `mechanism`: "snap blade", `reset`: "by hand" | `snap_blade`, `by_hand` |
//! | `law`, `spring_beside` in words | objects with their numbers, and `text` |
//! | `covered.until_years`, `.text` | the same, and `covered.covered`: `until`, `throughout`, `no_test`, `test_relaxes_nothing`, `friction` |
//! | `dates.*.reason` | `dates.*.date`: `new`, `after`, `none` (with `why`); words in `text` |
//! | `dates.*.at` in words | `{"state": ...}` or `{"limit": {...}}` |
//! | `sensitivity.reason` | `sensitivity.missing.why` |
//! | `drift[].trip_point_a`, `.trip_time_2x_s` ... | the same, and beside each its answer: `trip_point.held`, `trip_time_2x.trip`, `relatch_wait.wait` |
//! | `drift[].reason` | `drift[].missing`, and the answers themselves |
//! | `lives.drawn`: list of text | list of `path`, `value`, `standard_uncertainty`, `dimension`, `text` |
//! | `lives.reason`, `lives.late.reason` | `lives.missing`, `lives.late.no_fit` |
//! | `error_estimate.computed_with` in words | `states`, `resistances`, `steps`, `text` |
//! | `warnings`, `not_modelled`, `cautions`: lists of text | lists of `{"code", "text"}` with their numbers |

use crate::present::csv::{CsvError, cell, maybe, table};
use crate::present::json::{beside_answers, beside_codes, serialised, with_text};
use crate::present::language::recorded;
use crate::present::words;
use crate::study::ageing::{AgeOutcome, Date, LifeSummary};
use serde_json::{Value, json};

/// The record as indented JSON with a final newline.
///
/// # Errors
/// When it cannot be serialised.
pub fn age_json(outcome: &AgeOutcome) -> Result<String, serde_json::Error> {
    recorded(|| {
        let mut value = serde_json::to_value(outcome)?;
        beside_answers(&mut value);
        let mut say = |path: &str, text: String| with_text(&mut value, path, "text", json!(text));
        say("/law", words::relaxation(&outcome.law));
        say("/spring_beside", words::spring(&outcome.spring_beside));
        say("/covered", words::covered(&outcome.covered));
        let effort = &outcome.error_estimate.computed_with;
        say("/error_estimate/computed_with", words::age_effort(effort));
        for (k, drawn) in outcome.lives.drawn.iter().enumerate() {
            say(&format!("/lives/drawn/{k}"), words::drawn(drawn));
        }
        beside_codes(
            &mut value,
            "warnings",
            &outcome.warnings,
            words::age_warning,
        );
        beside_codes(&mut value, "not_modelled", &outcome.not_modelled, |n| {
            words::age_not_modelled(*n).into()
        });
        beside_codes(&mut value, "cautions", &outcome.cautions, |c| {
            words::caution(*c).into()
        });
        let dates = &outcome.dates;
        for (name, date) in [
            ("trips_in_service", &dates.trips_in_service),
            ("leaves_limits_late", &dates.leaves_limits_late),
            ("leaves_limits_early", &dates.leaves_limits_early),
            ("preload_gone", &dates.preload_gone),
        ] {
            let path = format!("/dates/{name}");
            with_text(&mut value, &path, "text", json!(words::date(date)));
            if !matches!(date, Date::After { .. }) {
                let years = date.years().map_or(Value::Null, |y| json!(y));
                with_text(&mut value, &path, "years", years);
            }
        }
        serialised(&value)
    })
}

/// The drift, one row a year.
///
/// # Errors
/// When the CSV writer fails.
pub fn drift_csv(outcome: &AgeOutcome) -> Result<String, CsvError> {
    recorded(|| {
        let header = [
            "years",
            "preload_left_fraction",
            "preload_left_5_percent",
            "preload_left_95_percent",
            "contact_resistance_ohm",
            "stuck_factor",
            "trip_point_reference_a",
            "trip_point_in_service_a",
            "trip_point_in_service_5_percent_a",
            "trip_point_in_service_95_percent_a",
            "trip_time_2x_s",
            "trip_time_6x_s",
            "relatch_wait_s",
            "extrapolated",
            "note",
        ];
        table(
            &header,
            outcome.drift.iter().map(|row| {
                let preload = row.preload_left_band;
                let point = row.trip_point_band_a;
                vec![
                    cell(row.years),
                    maybe(row.preload_left),
                    maybe(preload.map(|b| b[0])),
                    maybe(preload.map(|b| b[2])),
                    maybe(row.contact_resistance_ohm),
                    maybe(row.stuck_factor),
                    maybe(row.trip_point_a()),
                    maybe(row.trip_point_in_service_a()),
                    maybe(point.map(|b| b[0])),
                    maybe(point.map(|b| b[2])),
                    maybe(row.trip_time_2x_s()),
                    maybe(row.trip_time_6x_s()),
                    maybe(row.relatch_wait_s()),
                    if row.extrapolated { "yes" } else { "no" }.to_owned(),
                    super::why(row).unwrap_or_default(),
                ]
            }),
        )
    })
}

/// The distributions of lives, late first; `None` when none were drawn.
///
/// # Errors
/// When the CSV writer fails.
pub fn lives_csv(outcome: &AgeOutcome) -> Result<Option<String>, CsvError> {
    recorded(|| {
        let lives = &outcome.lives;
        if lives.late.is_none() && lives.early.is_none() {
            return Ok(None);
        }
        let header = ["direction", "years", "share_failed"];
        let rows = |name: &'static str, summary: &Option<LifeSummary>| -> Vec<Vec<String>> {
            let curve = summary.iter().flat_map(|s| &s.curve);
            curve
                .map(|(years, share)| vec![name.to_owned(), cell(*years), cell(*share)])
                .collect()
        };
        let all = rows("late", &lives.late)
            .into_iter()
            .chain(rows("early", &lives.early));
        table(&header, all).map(Some)
    })
}
