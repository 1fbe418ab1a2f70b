//! `[[trip]]`, `[[held]]` and `[swap]`: what happened.

use super::common::{AMPERES, air, label, measured, one_of, time, time_text};
use crate::diagnostic::Problem;
use crate::document::{Bounds, TableReader};
use crate::evidence::{Before, Event, Outcome, Setting, Unit, read_before};
use crate::load::{Current, Programme, Repeat, Segment};
use crate::quantity::Dimension;
use std::ops::Range;

const UNITS: [(&str, Unit); 3] = [
    ("this", Unit::ThisPart),
    ("as new", Unit::AsNew),
    ("sister", Unit::Twin),
];

#[derive(Debug, Clone, Copy, PartialEq)]
enum On {
    Machine,
    Bench,
}

/// An event and where it stands in the file, so that trips, holds and logs can be put in their
/// order.
pub(super) struct Placed<T> {
    pub span: Range<usize>,
    pub what: T,
}

/// A trip (`tripped`) or a time without one. `surge`: the machine starts with one, as far as is
/// known.
pub(super) fn event(t: &TableReader<'_>, tripped: bool, surge: bool) -> Option<Placed<Event>> {
    let outcome = if tripped { trip_time(t) } else { held_time(t) };
    let unit = t.choice_or("part", &UNITS, Unit::ThisPart);
    let on = t.choice_or(
        "on",
        &[("the machine", On::Machine), ("bench", On::Bench)],
        On::Machine,
    );
    let before = before(t);
    let with_start = if t.has("start") {
        t.boolean("start").map(|b| b.value)
    } else {
        Some(surge)
    };
    let current = measured(t, "current", Dimension::Current, AMPERES, |i| 0.02 * i);
    let duty = if t.has("duty") {
        duty(t).map(Some)
    } else {
        Some(None)
    };
    let air = air(t, "air");
    let times = if t.has("times") {
        t.whole("times", 10_000).map(|w| w.value)
    } else {
        Some(1)
    };
    let reset_between_s = if tripped { reset(t) } else { Some(None) };
    let word = if tripped { "trip" } else { "held" };
    let label = label(t, word);
    t.finish();
    let (on, unit) = (on?, unit?);
    let duty = duty?;
    if let Some(duty) = duty {
        let clash = ["current", "start"].into_iter().find(|k| t.has(k));
        if let Some(key) = clash {
            t.report(
                Problem::new(t.span_of(key), format!("give `duty` or `{key}`, not both"))
                    .also(t.span_of("duty"), "the whole current is here"),
            );
            return None;
        }
        if on == On::Bench || unit == Unit::AsNew {
            t.report(
                Problem::new(t.span_of("duty"), "a duty belongs to the machine")
                    .help("on the bench give the `current` of the test"),
            );
            return None;
        }
        return Some(Placed {
            span: t.span(),
            what: Event {
                label,
                unit,
                setting: Setting::Recorded(duty),
                before: before?,
                air_k: air,
                outcome: outcome?,
                times: times?,
                reset_between_s: reset_between_s?,
                mended: 0,
            },
        });
    }
    let setting = match (on, current) {
        (On::Machine, None) => Setting::InService {
            with_start: with_start?,
        },
        (On::Bench, Some(current_a)) => Setting::Bench { current_a },
        (On::Bench, None) => {
            if !t.has("current") {
                t.missing("current", "\"20 A +- 2 %\"");
            }
            return None;
        }
        (On::Machine, Some(_)) => {
            t.report(
                Problem::new(
                    t.span_of("current"),
                    "a stated current belongs to a test on the bench",
                )
                .label("but this was on the machine")
                .help("add `on = \"bench\"`; what the machine draws stands in a [[reading]]"),
            );
            return None;
        }
    };
    if unit == Unit::AsNew && on == On::Machine {
        t.report(
            Problem::new(
                t.span_of("part"),
                "an as-new time comes from a test on the bench",
            )
            .label("this says that the machine tripped it")
            .help("add `on = \"bench\"` and the `current` of the test"),
        );
        return None;
    }
    if on == On::Bench && t.has("start") {
        t.report(
            Problem::new(
                t.span_of("start"),
                "a test on the bench has no start of the machine",
            )
            .help("leave `start` out"),
        );
        return None;
    }
    Some(Placed {
        span: t.span(),
        what: Event {
            label,
            unit,
            setting,
            before: before?,
            air_k: air,
            outcome: outcome?,
            times: times?,
            reset_between_s: reset_between_s?,
            mended: 0,
        },
    })
}

/// `duty = [["40 s", "13.8 A"], ["25 s", "0.2 A"]]`: times and currents, again and again.
fn duty(t: &TableReader<'_>) -> Option<Programme> {
    let pairs = t.pairs(
        "duty",
        (Dimension::Time, Dimension::Current),
        (
            Bounds::positive(1e7, "how long this current flows"),
            Bounds::not_negative(200_000.0, "is the unit right?"),
        ),
    )?;
    if pairs.iter().all(|p| p.1.value <= 0.0) {
        t.report(
            Problem::new(t.span_of("duty"), "no current flows in this duty")
                .help("for example `duty = [[\"40 s\", \"13.8 A\"], [\"25 s\", \"0.2 A\"]]`"),
        );
        return None;
    }
    let segments = pairs
        .into_iter()
        .map(|(duration, current)| Segment {
            duration_s: duration.value,
            current: Current::Constant(current.value),
        })
        .collect();
    Some(Programme {
        segments,
        repeat: Repeat::Forever,
    })
}

fn before(t: &TableReader<'_>) -> Option<Before> {
    if !t.has("from") {
        return Some(Before::Unknown);
    }
    let text = t.text("from", "\"cold\"")?;
    match read_before(&text.value) {
        Ok(before) => Some(before),
        Err(fault) => {
            t.report(
                Problem::new(text.span, "the state before it belongs here")
                    .label(fault.found)
                    .help(fault.help),
            );
            None
        }
    }
}

fn trip_time(t: &TableReader<'_>) -> Option<Outcome> {
    match one_of(
        t,
        &["after", "between"],
        "when it tripped",
        "after = \"8.3 min\"",
    )? {
        "after" => {
            let text = t.text("after", "\"8.3 min\"")?;
            let word = text.value.trim().to_lowercase();
            if ["not known", "unknown"].contains(&word.as_str()) {
                return Some(Outcome::TrippedWithin {
                    from_s: 0.0,
                    to_s: f64::INFINITY,
                });
            }
            time(t, "after").map(|r| Outcome::Tripped { after_s: r.value })
        }
        _ => {
            let (from_s, to_s) = pair(t, "between")?;
            Some(Outcome::TrippedWithin { from_s, to_s })
        }
    }
}

fn held_time(t: &TableReader<'_>) -> Option<Outcome> {
    if !t.has("for") {
        t.missing("for", "\"1 h\"");
    }
    time(t, "for").map(|r| Outcome::Held {
        for_s: r.value.value,
    })
}

/// Two times of which the second is the longer one.
fn pair(t: &TableReader<'_>, key: &'static str) -> Option<(f64, f64)> {
    const EXAMPLE: &str = "[\"1 min\", \"8 h\"]";
    let items = t.items(key, EXAMPLE)?;
    let texts: Vec<Option<&str>> = items.iter().map(|i| i.get_ref().as_str()).collect();
    let [Some(first), Some(second)] = texts[..] else {
        t.report(
            Problem::new(t.span_of(key), "two times belong here")
                .help(format!("for example `{key} = {EXAMPLE}`")),
        );
        return None;
    };
    let from = time_text(t, first, items[0].span())?.value;
    let to = time_text(t, second, items[1].span())?.value;
    if to <= from {
        t.report(
            Problem::new(items[1].span(), "the second time must be the longer one")
                .also(items[0].span(), "not shorter"),
        );
        return None;
    }
    Some((from, to))
}

/// `reset = { refused_at = "20 s", held_at = "60 s" }`; `Some(None)` when it is not there.
fn reset(t: &TableReader<'_>) -> Option<Option<(f64, f64)>> {
    if !t.has("reset") {
        return Some(None);
    }
    let r = t.table("reset")?;
    let refused = time(&r, "refused_at");
    let held = time(&r, "held_at");
    if !r.has("refused_at") && !r.has("held_at") {
        r.lacks(
            &["refused_at", "held_at"],
            Problem::new(r.span(), "a reset needs a time")
                .help("`reset = { refused_at = \"20 s\", held_at = \"60 s\" }`"),
        );
        r.finish();
        return None;
    }
    r.finish();
    let said = |key| r.has(key);
    let refused_s = match &refused {
        Some(x) => x.value.value,
        None if said("refused_at") => return None,
        None => 0.0,
    };
    let held_s = match &held {
        Some(x) => x.value.value,
        None if said("held_at") => return None,
        None => f64::INFINITY,
    };
    if held_s <= refused_s {
        t.report(
            Problem::new(
                r.span_of("held_at"),
                "the reset held earlier than it was still refused",
            )
            .also(r.span_of("refused_at"), "refused here")
            .help("both count from the moment it opened: `held_at` is the later one"),
        );
        return None;
    }
    Some(Some((refused_s, held_s)))
}

/// `12 s after the trip` needs a trip before it, of the same part.
pub(super) fn check_order(root: &TableReader<'_>, events: &[Placed<Event>]) {
    for (i, event) in events.iter().enumerate() {
        if !matches!(event.what.before, Before::AfterTrip { .. }) {
            continue;
        }
        let before = i.checked_sub(1).and_then(|k| events.get(k));
        let tripped = before.is_some_and(|b| b.what.unit == event.what.unit && b.what.is_trip());
        if !tripped {
            root.report(
                Problem::new(
                    event.span.clone(),
                    "this follows a trip, but the one before it in the file is no trip of this part",
                )
                .label(event.what.label.clone())
                .help("put the [[trip]] that it follows right before it, or write `from = \"cold\"`"),
            );
        }
    }
}
