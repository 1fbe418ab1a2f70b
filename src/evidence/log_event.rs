//! A stretch of a log as an event.

use super::log_questions::LogQuestions;
use super::log_targets::{REST_S, Target};
use super::{Before, Event, LogNote, Measured, Outcome, Setting, Unit};
use crate::family::Assumed;
use crate::load::{Current, Programme, Repeat, Segment};
use crate::logs::{Condensed, Totals};

/// State before the programme of a target.
pub(super) fn before(
    t: &Target,
    opened_at_s: Option<f64>,
    questions: &LogQuestions,
    first_s: f64,
    name: &str,
    assumed: &mut Vec<Assumed>,
) -> Before {
    match opened_at_s {
        Some(opened_s) if t.from_s - opened_s < REST_S => Before::AfterTrip {
            wait_s: (t.from_s - opened_s).max(0.0),
        },
        None if t.from_s <= first_s => questions.before.unwrap_or(Before::Unknown),
        _ => {
            assumed.push(Assumed::ColdAfterRest {
                log: name.into(),
                at_s: t.from_s - first_s,
            });
            Before::Cold
        }
    }
}

/// The event of a target; `None` when no current flowed in it.
pub(super) fn event(
    label: String,
    t: &Target,
    condensed: Condensed,
    before: Before,
    air_k: Option<Measured>,
) -> Option<Event> {
    let segments: Vec<Segment> = condensed
        .pieces
        .iter()
        .filter(|(duration_s, _)| *duration_s > 0.0)
        .map(|(duration_s, current_a)| Segment {
            duration_s: *duration_s,
            current: Current::Constant(*current_a),
        })
        .collect();
    if segments.is_empty() {
        return None;
    }
    let (from_s, to_s) = (t.not_before_s - t.from_s, t.not_after_s - t.from_s);
    let middle_s = 0.5 * (from_s + to_s);
    let outcome = if !t.tripped {
        Outcome::Held { for_s: from_s }
    } else if to_s - from_s <= 0.02 * middle_s {
        // The moment lies evenly between two rows.
        Outcome::Tripped {
            after_s: Measured::new(middle_s, (to_s - from_s) / 12f64.sqrt()),
        }
    } else {
        Outcome::TrippedWithin { from_s, to_s }
    };
    Some(Event {
        label,
        unit: Unit::ThisPart,
        setting: Setting::Recorded(Programme {
            segments,
            repeat: Repeat::Once,
        }),
        before,
        air_k,
        outcome,
        times: 1,
        reset_between_s: None,
        mended: 0,
    })
}

/// A load that came and went within two rows at most: neither its current nor its length is known.
/// It began with a start, and the trip ended it before the next row.
pub(super) fn too_short(
    label: String,
    t: &Target,
    before: Before,
    air_k: Option<Measured>,
) -> Event {
    Event {
        label,
        unit: Unit::ThisPart,
        setting: Setting::InService { with_start: true },
        before,
        air_k,
        outcome: Outcome::TrippedWithin {
            from_s: 0.0,
            to_s: t.not_after_s - t.load_from_s,
        },
        times: 1,
        reset_between_s: None,
        mended: 0,
    }
}

/// A trip in rows too far apart to show its course: on the machine, at a time known to a row at either end.
pub(super) fn too_slowly(
    label: String,
    t: &Target,
    interval_s: f64,
    before: Before,
    air_k: Option<Measured>,
) -> Event {
    let from_s = t.not_before_s - t.load_from_s - interval_s;
    Event {
        outcome: Outcome::TrippedWithin {
            from_s: from_s.max(0.0),
            to_s: t.not_after_s - t.load_from_s + interval_s,
        },
        ..too_short(label, t, before, air_k)
    }
}

/// What gaps before a trip may have hidden.
pub(super) fn gap_note(
    label: &str,
    gap_s: f64,
    all: &Totals,
    condensed: &Condensed,
) -> Option<LogNote> {
    if !(gap_s > 0.0) {
        return None;
    }
    let rms = |i2t: f64| (i2t / (all.time_s + gap_s)).sqrt();
    let largest = rms(all.i2t_a2s + all.peak_a * all.peak_a * gap_s);
    Some(LogNote::Gaps {
        label: label.to_owned(),
        gaps_s: gap_s,
        rms_a: (rms(all.i2t_a2s), largest),
        pieces: condensed.pieces.len(),
    })
}
