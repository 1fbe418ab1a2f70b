//! The cool-down after the trip, with the moments at which it can be reset and started.

use super::area::{Area, Point};
use super::axis::Axis;
use super::canvas::sheet;
use super::flags::{Flag, Flags};
use super::label::Labels;
use super::panel::Panel;
use super::stretch::time_unit;
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::predict::{Outcome, State};
use crate::present::number::{duration, finite, significant};

const TOP: f64 = 180.0;
const BOTTOM: f64 = 1370.0;
const GAP: f64 = 56.0;

/// Name, line and value.
type Curve = (&'static str, Stroke, fn(&State) -> f64);

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
    let by_itself = outcome.part.resets_itself();
    let reset = if by_itself {
        "closes by itself"
    } else {
        "can be reset"
    };
    let (relatch, ready) = (
        finite(outcome.reset.relatch_wait.time_s()),
        finite(outcome.reset.ready_wait.time_s()),
    );
    let is_same = relatch
        .zip(ready)
        .is_some_and(|(a, b)| (b - a).abs() < 1e-3 * b.max(1e-9));
    let title = "Cooling down after the trip".to_owned();
    let (unit_s, unit) = time_unit(span_s);
    let raw = sheet(|canvas| {
        canvas.header(&title, &outcome.scenario)?;
        let x = Axis::linear(
            format!("Time since the contacts opened, {unit}"),
            0.0,
            span_s / unit_s,
            10,
        );
        let has_winding = states.iter().any(|s| s.winding_c.is_some());
        let mut curves: Vec<Curve> = vec![
            ("hottest point", stroke(EMBER, 6, SOLID), |s| s.strip_peak_c),
            ("strip mean", stroke(LAKE, 5, DASHED), |s| s.strip_mean_c),
            ("clamped terminal", stroke(CLAY, 4, LONG), |s| {
                s.clamped_terminal_c
            }),
            ("air", stroke(QUIET, 4, DOTTED), |s| s.ambient_c),
        ];
        if has_winding {
            curves.push(("winding", stroke(PLUM, 5, DASH_DOT), |s| {
                s.winding_c.unwrap_or(f64::NAN)
            }));
        }
        let warmths = states
            .iter()
            .flat_map(|s| curves.iter().map(move |c| (c.2)(s)));
        let level = finite(outcome.part.relatch_travel_mm);
        let deflections = states.iter().map(|s| s.tip_deflection_mm).chain(level);
        let deflection_title = if outcome.part.is_latch() {
            "Deflection, mm"
        } else {
            "Rise of the blade, mm"
        };
        let frame = Area {
            left: 230.0,
            top: TOP,
            right: 2330.0,
            bottom: BOTTOM,
        };
        let mut upper = Panel {
            frame,
            x: x.clone(),
            y: Axis::airy("Temperature, °C", warmths, 7, 0.10),
        };
        let mut lower = Panel {
            frame,
            x,
            y: Axis::airy(deflection_title, deflections, 5, 0.12),
        };
        let across = |t: f64| upper.across(t / unit_s);
        let mut marks = Vec::new();
        if let Some(wait) = relatch {
            let words = if is_same && !by_itself {
                format!("can be reset and started {}", duration(wait, 3))
            } else {
                format!("{reset} {}", duration(wait, 3))
            };
            marks.push(Flag {
                x: across(wait),
                text: words,
                stroke: stroke(MOSS, 5, DASH_DOT),
            });
        }
        if let Some(wait) = ready.filter(|_| !is_same || by_itself) {
            marks.push(Flag {
                x: across(wait),
                text: format!("can be started {}", duration(wait, 3)),
                stroke: stroke(LAKE, 5, DASHED),
            });
        }
        let flags = Flags::place(canvas, marks, 150.0, 2380.0);
        let top = TOP + flags.height();
        upper.frame.top = top;
        upper.frame.bottom = top + 0.56 * (BOTTOM - top - GAP);
        lower.frame.top = upper.frame.bottom + GAP;
        upper.draw(canvas, false, true)?;
        lower.draw(canvas, true, true)?;
        flags.draw(canvas, upper.frame.top, lower.frame.bottom)?;
        let line = |panel: &Panel, value: fn(&State) -> f64| -> Vec<Point> {
            states
                .iter()
                .map(|s| panel.at((s.time_s - zero_s) / unit_s, value(s)))
                .collect()
        };
        let mut labels = Labels::inside(&[upper.frame]);
        for pole in flags.poles(upper.frame.top, upper.frame.bottom) {
            labels.helper(&pole);
        }
        let mut named = Vec::new();
        for (name, stroke, value) in &curves {
            let points = line(&upper, *value);
            canvas.line(&points, *stroke)?;
            named.push((labels.curve(&points), *name, stroke.colour));
        }
        for (number, name, colour) in named {
            labels.beside(canvas, number, name, colour)?;
        }
        let mut labels = Labels::inside(&[lower.frame]);
        for pole in flags.poles(lower.frame.top, lower.frame.bottom) {
            labels.helper(&pole);
        }
        let points = line(&lower, |s| s.tip_deflection_mm);
        canvas.line(&points, stroke(LAKE, 6, SOLID))?;
        labels.curve(&points);
        if let Some(value) = level {
            let line = lower.level(canvas, value, stroke(MOSS, 4, DASH_DOT))?;
            let number = labels.helper(&line);
            let text = format!("relatch at {} mm", significant(value, 3));
            labels.beside(canvas, number, &text, MOSS)?;
        }
        Ok(())
    })?;
    let said = |what: &str, wait: Option<f64>| match wait {
        Some(wait) => format!("It {what} after {}.", duration(wait, 3)),
        None => String::new(),
    };
    let description = format!(
        "Temperatures and deflection against the time since the contacts opened. {} {}",
        said(reset, relatch),
        said("can be started", ready)
    );
    vector::finish("cool_down", title, description.trim_end().to_owned(), &raw).map(Some)
}
