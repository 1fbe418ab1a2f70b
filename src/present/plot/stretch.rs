//! Stretches of time: one for the whole run, or one for heating and one for cooling.

use crate::predict::Outcome;

const LEFT: f64 = 230.0;
const RIGHT: f64 = 2330.0;

/// One stretch of time with an axis of its own.
pub(super) struct Stretch {
    pub(super) from_s: f64,
    pub(super) to_s: f64,
    /// Time that its axis counts from.
    pub(super) zero_s: f64,
    pub(super) title: &'static str,
    pub(super) left: f64,
    pub(super) right: f64,
}

/// One stretch, or two with their own scales when heating or cooling would be a sliver.
pub(super) fn stretches(outcome: &Outcome, first: f64, last: f64) -> Vec<Stretch> {
    let stretch = |from_s, to_s, zero_s, title, left, right| Stretch {
        from_s,
        to_s,
        zero_s,
        title,
        left,
        right,
    };
    let start = "Time since the load started";
    let opened: Vec<f64> = outcome
        .events
        .iter()
        .filter(|e| e.event == "contacts open")
        .map(|e| e.time_s)
        .collect();
    if let [opened] = opened[..] {
        let share = (opened - first) / (last - first);
        if share > 0.0 && share < 1.0 && !(0.22..=0.78).contains(&share) {
            let middle = 0.5 * (LEFT + RIGHT);
            let after = "Time since the contacts opened";
            return vec![
                stretch(first, opened, 0.0, start, LEFT, middle - 60.0),
                stretch(opened, last, opened, after, middle, RIGHT),
            ];
        }
    }
    vec![stretch(first, last, 0.0, start, LEFT, RIGHT)]
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
