//! Stretches of time: one for the whole run, or one for heating and one for cooling.

use crate::predict::{Event, EventRecord, Outcome, State};
use crate::present::chart::{Axis, extent};

/// One stretch of time with an axis of its own.
pub(super) struct Stretch {
    pub(super) from_s: f64,
    pub(super) to_s: f64,
    /// Time that its axis counts from.
    pub(super) zero_s: f64,
    title: &'static str,
    /// Part of the width of the sheet.
    width: f64,
}

impl Stretch {
    /// A moment in the unit of the axis.
    pub(super) fn at(&self, time_s: f64) -> f64 {
        (time_s - self.zero_s) / self.unit().0
    }

    pub(super) fn holds(&self, time_s: f64) -> bool {
        (self.from_s..=self.to_s).contains(&time_s)
    }

    pub(super) fn axis(&self) -> Axis {
        let title = format!("{}, {}", self.title, self.unit().1);
        let count = (12.0 * self.width) as usize;
        Axis::linear(title, self.at(self.from_s), self.at(self.to_s), count)
    }

    fn unit(&self) -> (f64, &'static str) {
        time_unit(self.to_s - self.from_s)
    }
}

/// One stretch, or two with their own scales when heating or cooling would be a sliver.
pub(super) fn stretches(outcome: &Outcome, first: f64, last: f64) -> Vec<Stretch> {
    let opened: Vec<f64> = outcome
        .events
        .iter()
        .filter(|e| e.event == Event::ContactsOpen && e.time_s >= first && e.time_s <= last)
        .map(|e| e.time_s)
        .collect();
    let only = match opened[..] {
        [opened] => Some(opened),
        _ => None,
    };
    around_opening(only, first, last)
}

/// The same around the one moment at which the contacts open, if there is one.
pub(super) fn around_opening(opened: Option<f64>, first: f64, last: f64) -> Vec<Stretch> {
    let stretch = |from_s, to_s, zero_s, title, width| Stretch {
        from_s,
        to_s,
        zero_s,
        title,
        width,
    };
    let start = "Time since the load started";
    if let Some(opened) = opened {
        let share = (opened - first) / (last - first);
        if share > 0.0 && share < 1.0 && !(0.22..=0.78).contains(&share) {
            let after = "Time since the contacts opened";
            return vec![
                stretch(first, opened, 0.0, start, 0.5),
                stretch(opened, last, opened, after, 0.5),
            ];
        }
    }
    vec![stretch(first, last, 0.0, start, 1.0)]
}

/// Seconds in the unit in which a span is told, and its name.
pub(super) fn time_unit(span_s: f64) -> (f64, &'static str) {
    if span_s > 3.0 * 3600.0 {
        (3600.0, "h")
    } else if span_s > 600.0 {
        (60.0, "min")
    } else {
        (1.0, "s")
    }
}

/// Heatings that a figure can show one by one.
const MOST_HEATINGS: usize = 24;
/// Heatings shown of a longer run.
const SHOWN_HEATINGS: usize = 12;

/// The part of a run of very many heatings that a figure shows.
pub(super) struct Excerpt {
    pub(super) from_s: f64,
    pub(super) to_s: f64,
    /// For the reader.
    pub(super) text: String,
}

/// The first heatings, or those up to the first release when it comes later; `None` when all of
/// them can be shown.
pub(super) fn excerpt(outcome: &Outcome) -> Option<Excerpt> {
    let starts = heatings(&outcome.series);
    if starts.len() <= MOST_HEATINGS {
        return None;
    }
    let last = outcome.series.last()?.time_s;
    let release = outcome.events.iter().find(|e| e.event == Event::Release);
    let before_release = |e: &EventRecord| starts.iter().filter(|t| **t < e.time_s).count();
    let to = release
        .map_or(0, before_release)
        .clamp(SHOWN_HEATINGS, starts.len());
    let from = to - SHOWN_HEATINGS;
    Some(Excerpt {
        from_s: starts[from],
        to_s: starts.get(to).copied().unwrap_or(last),
        text: format!("heatings {} to {to} of {}", from + 1, starts.len()),
    })
}

/// The start of every rise of the hottest point by more than a tenth of its range, s.
fn heatings(series: &[State]) -> Vec<f64> {
    let Some((low, high)) = extent(series.iter().map(|s| s.strip_peak_c)) else {
        return Vec::new();
    };
    let swing = 0.1 * (high - low);
    let mut starts = Vec::new();
    let (mut bottom, mut bottom_s, mut top) = (f64::INFINITY, 0.0, f64::NEG_INFINITY);
    let mut is_rising = false;
    for state in series.iter().filter(|s| s.strip_peak_c.is_finite()) {
        let value = state.strip_peak_c;
        if is_rising {
            top = top.max(value);
            is_rising = value >= top - swing;
            if !is_rising {
                (bottom, bottom_s) = (value, state.time_s);
            }
        } else {
            if value < bottom {
                (bottom, bottom_s) = (value, state.time_s);
            }
            if value > bottom + swing {
                is_rising = true;
                top = value;
                starts.push(bottom_s);
            }
        }
    }
    starts
}
