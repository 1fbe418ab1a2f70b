//! `[swap]`: an identical part in the place of this one.

use super::common::{line, time};
use super::event::Placed;
use crate::diagnostic::Problem;
use crate::document::TableReader;
use crate::evidence::{Before, Event, Outcome, Setting, Unit};
use crate::family::Assumed;

/// A swap with an identical part, as an event of the twin.
pub(super) fn swap(
    t: &TableReader<'_>,
    surge: bool,
    assumed: &mut Vec<Assumed>,
) -> Option<Placed<Event>> {
    if !t.has("fault") {
        t.missing("fault", "\"follows the protector\"");
    }
    let follows = t.choice(
        "fault",
        &[
            ("follows the protector", true),
            ("stays at the place", false),
        ],
    );
    let said = t.has("watched");
    let watched = if said {
        time(t, "watched").map(|r| r.value.value)
    } else {
        Some(3600.0)
    };
    let tripped = if t.has("twin_tripped_after") {
        time(t, "twin_tripped_after").map(|r| Some(r.value))
    } else {
        Some(None)
    };
    let place = line(t);
    t.finish();
    let (follows, watched_s, tripped) = (follows?, watched?, tripped?);
    if follows.value && tripped.is_some() {
        t.report(
            Problem::new(
                t.span_of("twin_tripped_after"),
                "if the twin trips here, the fault stays at the place",
            )
            .also(follows.span, "this says the opposite"),
        );
        return None;
    }
    let (words, outcome) = match (follows.value, tripped) {
        (true, _) => ("the twin holds here", Outcome::Held { for_s: watched_s }),
        (false, Some(after_s)) => ("the twin trips here too", Outcome::Tripped { after_s }),
        (false, None) => (
            "the twin trips here too",
            Outcome::TrippedWithin {
                from_s: 0.0,
                to_s: watched_s,
            },
        ),
    };
    let label = format!("swap: {words} (line {place})");
    if !said && tripped.is_none() {
        assumed.push(Assumed::WatchedForAnHour {
            line: label.clone(),
        });
    }
    Some(Placed {
        span: t.span(),
        what: Event {
            label,
            unit: Unit::Twin,
            setting: Setting::InService { with_start: surge },
            before: Before::Unknown,
            air_k: None,
            outcome,
            times: 1,
            reset_between_s: None,
            mended: 0,
        },
    })
}
