//! The cool-down after the trip, with the moments at which it can be reset and started.

use super::course_panels::{AIR, CASE, Course, Curve, HOTTEST, MEAN, TERMINAL, WINDING};
use super::stretch::time_unit;
use crate::predict::Outcome;
use crate::present::chart::style::*;
use crate::present::chart::{Axis, Chart, Column, Flag, Height};
use crate::present::number::{duration, finite};

const CURVES: [Curve; 6] = [HOTTEST, MEAN, TERMINAL, AIR, WINDING, CASE];

/// Draws the figure; `None` without a cool-down.
pub(super) fn figure(outcome: &Outcome) -> Option<Chart> {
    let states = &outcome.cool_down;
    let zero_s = states.first()?.time_s;
    let span_s = states.last()?.time_s - zero_s;
    if !(span_s > 0.0) {
        return None;
    }
    let reset = if outcome.part.resets_itself() {
        word!("closes by itself")
    } else {
        word!("can be reset")
    };
    let (unit_s, unit) = time_unit(span_s);
    let title = say!("Time since the contacts opened, {unit}"; unit);
    let course = Course {
        all: states,
        shown: states.iter().collect(),
        x: Axis::linear(title, 0.0, span_s / unit_s, 10),
        at: &|time_s| (time_s - zero_s) / unit_s,
    };
    let relatch = outcome.part.relatch_travel_mm;
    let levels = [(word!("relatch"), relatch, stroke(MOSS, 4, DASH_DOT))];
    let upper = course.temperatures(outcome, &CURVES, (7, 0.10));
    let lower = course.deflection(outcome, &levels, (5, 0.12), &[]);
    let mut column = Column::of(vec![
        upper.high(Height::Share(0.56)),
        lower.high(Height::Share(0.44)),
    ]);
    column.flags = flags(outcome, reset, unit_s);
    let said = |what: &str, wait: Option<f64>| match wait {
        Some(wait) => say!(" It {what} after {}.", duration(wait, 3); what),
        None => String::new(),
    };
    let (relatch, ready) = waits(outcome);
    let title = word!("Cooling down after the trip");
    Chart::new("cool_down", title, outcome.scenario.as_str(), vec![column]).described(say!(
        "Temperatures and deflection against the time since the contacts opened.{}{}",
        said(reset, relatch),
        said(word!("can be started"), ready)
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
        word!("can be reset and started")
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
    let ready = ready.map(|w| flag(w, word!("can be started"), stroke(LAKE, 5, DASHED)));
    relatch.into_iter().chain(ready).collect()
}
