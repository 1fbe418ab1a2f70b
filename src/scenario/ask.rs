//! `[ask]`: what to compute and how finely.

use super::Ask;
use super::bounds::AMBIENT;
use crate::diagnostic::Problem;
use crate::document::{Bounds, TableReader};
use crate::quantity::Dimension;

/// Read `[ask]`; every key has a default.
pub(super) fn ask(root: &TableReader<'_>, reference_k: Option<f64>) -> Option<Ask> {
    let reference_k = reference_k.unwrap_or(296.15);
    let mut default = Ask {
        states_at_s: Vec::new(),
        losses: vec![0.0, 0.1, 0.2, 0.3, 0.4, 0.5],
        ambients_k: [-20.0, 0.0, 25.0, 40.0, 50.0, 60.0]
            .iter()
            .map(|c| c + 273.15)
            .collect(),
        waits_s: Vec::new(),
        accuracy: 1e-5,
        longest_s: 4.0 * 3600.0,
    };
    if !default
        .ambients_k
        .iter()
        .any(|k| (k - reference_k).abs() < 0.5)
    {
        default.ambients_k.push(reference_k);
        default.ambients_k.sort_by(f64::total_cmp);
    }
    if !root.has("ask") {
        return Some(default);
    }
    let t = root.table("ask")?;
    let list = |key, dimension, bounds, default: Vec<f64>| {
        if t.has(key) {
            t.quantities(key, dimension, bounds)
        } else {
            Some(default)
        }
    };
    let times = Bounds::not_negative(1e9, "");
    let states_at_s = list("states_at", Dimension::Time, times, default.states_at_s);
    let losses = list(
        "preload_losses",
        Dimension::Fraction,
        Bounds::between(0.0, 0.95, "a loss lies below 95 %").without_most(),
        default.losses,
    );
    let ambients_k = list(
        "ambients",
        Dimension::Temperature,
        AMBIENT,
        default.ambients_k,
    );
    let waits_s = list("waits", Dimension::Time, times, default.waits_s);
    for (key, list) in [
        ("preload_losses", &losses),
        ("ambients", &ambients_k),
        ("waits", &waits_s),
        ("states_at", &states_at_s),
    ] {
        if list.as_ref().is_some_and(|l| l.len() > 500) {
            t.report(Problem::new(
                t.span_of(key),
                format!("`{key}` holds more than 500 values"),
            ));
        }
    }
    let accuracy = t.or(
        "accuracy",
        Dimension::Fraction,
        Bounds::between(
            1e-9,
            1e-2,
            "the relative accuracy asked for, for example 1e-5",
        ),
        default.accuracy,
    );
    let longest = t.or(
        "longest",
        Dimension::Time,
        Bounds::positive(1e9, ""),
        default.longest_s,
    );
    t.finish();
    Some(Ask {
        states_at_s: states_at_s?,
        losses: losses?,
        ambients_k: ambients_k?,
        waits_s: waits_s?,
        accuracy: accuracy?,
        longest_s: longest?,
    })
}
