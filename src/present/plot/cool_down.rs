//! The cool-down after the trip, with the moments at which it can be reset and started.

use super::stretch::time_unit;
use super::{Figure, PlotError};
use crate::predict::{Outcome, State};
use crate::present::chart::style::*;
use crate::present::chart::{Axis, Chart, Column, Flag, Height, Item, Line, Panel};
use crate::present::number::{duration, finite, significant};

/// Name, line and value.
type Curve = (&'static str, Stroke, fn(&State) -> f64);

const CURVES: [Curve; 5] = [
    ("hottest point", stroke(EMBER, 6, SOLID), |s| s.strip_peak_c),
    ("strip mean", stroke(LAKE, 5, DASHED), |s| s.strip_mean_c),
    ("clamped terminal", stroke(CLAY, 4, LONG), |s| {
        s.clamped_terminal_c
    }),
    ("air", stroke(QUIET, 4, DOTTED), |s| s.ambient_c),
    ("winding", stroke(PLUM, 5, TWO_DOTS), |s| {
        s.winding_c.unwrap_or(f64::NAN)
    }),
];

/// Draws the figure; `None` without a cool-down.
pub(super) fn figure(outcome: &Outcome) -> Result<Option<Figure>, PlotError> {
    let states = &outcome.cool_down;
    let (Some(first), Some(last)) = (states.first(), states.last()) else {
        return Ok(None);
    };
    let zero_s = first.time_s;
    let span_s = last.time_s - zero_s;
    if !(span_s > 0.0) {
        return Ok(None);
    }
    let reset = if outcome.part.resets_itself() {
        "closes by itself"
    } else {
        "can be reset"
    };
    let (unit_s, unit) = time_unit(span_s);
    let title = format!("Time since the contacts opened, {unit}");
    let x = Axis::linear(title, 0.0, span_s / unit_s, 10);
    let line = |stroke, value: fn(&State) -> f64| {
        let at = |s: &State| ((s.time_s - zero_s) / unit_s, value(s));
        Line::new(states.iter().map(at).collect(), stroke)
    };
    let warmths = states.iter().flat_map(|s| CURVES.map(|c| (c.2)(s)));
    let upper = Panel::new(
        x.clone(),
        Axis::airy("Temperature, °C", warmths, 7, 0.10),
        CURVES
            .iter()
            .map(|(name, stroke, value)| line(*stroke, *value).named(*name).into())
            .collect(),
    );
    let level = finite(outcome.part.relatch_travel_mm);
    let mut items = vec![Item::from(line(stroke(LAKE, 6, SOLID), |s| {
        s.tip_deflection_mm
    }))];
    if let Some(value) = level {
        let text = format!("relatch at {} mm", significant(value, 3));
        items.push(Item::level(value, stroke(MOSS, 4, DASH_DOT), text));
    }
    let deflections = states.iter().map(|s| s.tip_deflection_mm).chain(level);
    let lower = Panel::new(
        x,
        Axis::airy(super::deflection_title(outcome), deflections, 5, 0.12),
        items,
    );
    let mut column = Column::of(vec![
        upper.high(Height::Share(0.56)),
        lower.high(Height::Share(0.44)),
    ]);
    column.flags = flags(outcome, reset, unit_s);
    let said = |what: &str, wait: Option<f64>| match wait {
        Some(wait) => format!(" It {what} after {}.", duration(wait, 3)),
        None => String::new(),
    };
    let (relatch, ready) = waits(outcome);
    let title = "Cooling down after the trip";
    Chart::new("cool_down", title, outcome.scenario.as_str(), vec![column])
        .cautioned(super::again(outcome))
        .described(format!(
            "Temperatures and deflection against the time since the contacts opened.{}{}",
            said(reset, relatch),
            said("can be started", ready)
        ))
}

/// Until it can be reset, and until it can be started, s.
fn waits(outcome: &Outcome) -> (Option<f64>, Option<f64>) {
    let reset = &outcome.reset;
    (
        finite(reset.relatch_wait.time_s()),
        finite(reset.ready_wait.time_s()),
    )
}

/// One for both moments where they are the same.
fn flags(outcome: &Outcome, reset: &str, unit_s: f64) -> Vec<Flag> {
    let (relatch, ready) = waits(outcome);
    let is_same = relatch
        .zip(ready)
        .is_some_and(|(a, b)| (b - a).abs() < 1e-3 * b.max(1e-9));
    let is_one = is_same && !outcome.part.resets_itself();
    let reset = if is_one {
        "can be reset and started"
    } else {
        reset
    };
    let flag = |wait: f64, words: &str, stroke| Flag {
        x: wait / unit_s,
        text: format!("{words} {}", duration(wait, 3)),
        stroke,
    };
    let relatch = relatch.map(|w| flag(w, reset, stroke(MOSS, 5, DASH_DOT)));
    let ready = ready.filter(|_| !is_one);
    let ready = ready.map(|w| flag(w, "can be started", stroke(LAKE, 5, DASHED)));
    relatch.into_iter().chain(ready).collect()
}
