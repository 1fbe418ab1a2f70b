//! Stretches of time: one for the whole run, or one for heating and one for cooling.

use crate::predict::{Event, EventRecord, Outcome, State};
use crate::present::chart::{Axis, extent};

/// One stretch of time with an axis of its own.
#[derive(Clone, Copy)]
pub(super) struct Stretch {
    pub(super) from_s: f64,
    pub(super) to_s: f64,
    /// Time that its axis counts from.
    pub(super) zero_s: f64,
    title: &'static str,
}

impl Stretch {
    /// Under the load, which starts at 0 s.
    pub(super) fn of_load(from_s: f64, to_s: f64) -> Self {
        Self {
            from_s,
            to_s,
            zero_s: 0.0,
            title: start(),
        }
    }

    /// From the moment at which the contacts opened.
    pub(super) fn of_cooling(opened_s: f64, to_s: f64) -> Self {
        Self {
            from_s: opened_s,
            to_s,
            zero_s: opened_s,
            title: word!("Time since the contacts opened"),
        }
    }

    /// A moment in the unit of the axis.
    pub(super) fn at(&self, time_s: f64) -> f64 {
        (time_s - self.zero_s) / self.unit().0
    }

    pub(super) fn holds(&self, time_s: f64) -> bool {
        (self.from_s..=self.to_s).contains(&time_s)
    }

    /// Before and after a moment, both counted from the same one.
    pub(super) fn parted(self, at_s: f64) -> [Self; 2] {
        [
            Self { to_s: at_s, ..self },
            Self {
                from_s: at_s,
                ..self
            },
        ]
    }

    pub(super) fn axis(&self) -> Axis {
        let title = format!("{}, {}", self.title, self.unit().1);
        Axis::linear(title, self.at(self.from_s), self.at(self.to_s), 8)
    }

    fn unit(&self) -> (f64, &'static str) {
        time_unit(self.to_s - self.from_s)
    }
}

fn start() -> &'static str {
    word!("Time since the load started")
}

/// One stretch, or two with their own scales when heating or cooling would be a sliver; what lies
/// between two busy times is left out where nothing happens for most of the run.
pub(super) fn stretches(outcome: &Outcome, first: f64, last: f64) -> Vec<Stretch> {
    let part = |from: f64, to: f64, zero_s, title| {
        let opens = |e: &&EventRecord| e.event == Event::ContactsOpen && e.time_s >= from;
        let mut opened = outcome
            .events
            .iter()
            .filter(opens)
            .filter(|e| e.time_s <= to);
        let only = match (opened.next(), opened.next()) {
            (Some(only), None) => Some(only.time_s),
            _ => None,
        };
        around(only, (from, to), zero_s, title)
    };
    match idle(outcome, first, last) {
        Some((stops_s, again_s, title)) => {
            let before = part(first, stops_s, 0.0, start());
            before
                .into_iter()
                .chain(part(again_s, last, again_s, title))
                .collect()
        }
        None => part(first, last, 0.0, start()),
    }
}

/// Part of the run above which a time without events is left out.
const IDLE: f64 = 0.6;

/// When the longest time without events begins and ends, and what the axis counts from then.
fn idle(outcome: &Outcome, first: f64, last: f64) -> Option<(f64, f64, &'static str)> {
    let again = |pair: &[EventRecord]| {
        let (before, after) = (&pair[0], &pair[1]);
        let title = match after.event {
            Event::Reset => word!("Time since the reset"),
            Event::LoadOn => word!("Time since the load came back"),
            _ => return None,
        };
        let is_long = after.time_s - before.time_s > IDLE * (last - first);
        let is_within = before.time_s > first && after.time_s < last;
        let stops_s = before.time_s + 0.25 * (before.time_s - first);
        (is_long && is_within).then_some((stops_s, after.time_s, title))
    };
    outcome.events.windows(2).find_map(again)
}

/// The same around the one moment at which the contacts open, if there is one.
pub(super) fn around_opening(opened: Option<f64>, first: f64, last: f64) -> Vec<Stretch> {
    around(opened, (first, last), 0.0, start())
}

fn around(
    opened: Option<f64>,
    (from_s, to_s): (f64, f64),
    zero_s: f64,
    title: &'static str,
) -> Vec<Stretch> {
    let until = |to_s: f64| Stretch {
        from_s,
        to_s,
        zero_s,
        title,
    };
    let is_sliver = |opened: &f64| {
        let share = (opened - from_s) / (to_s - from_s);
        share > 0.0 && share < 1.0 && !(0.22..=0.78).contains(&share)
    };
    match opened.filter(is_sliver) {
        Some(opened) => vec![until(opened), Stretch::of_cooling(opened, to_s)],
        None => vec![until(to_s)],
    }
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
        text: say!("heatings {} to {to} of {}", from + 1, starts.len(); to),
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
