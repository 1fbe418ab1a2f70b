//! Currents against time: `[load]`, `[start_up]`, and the run steps of a history.

use super::StartUp;
use crate::diagnostic::Problem;
use crate::document::{Bounds, TableReader};
use crate::load::{Current, Programme, Repeat, Segment};
use crate::quantity::{Dimension, Quantity};

const AMPERES: Bounds = Bounds::not_negative(200_000.0, "is the unit right?");
const SECONDS: Bounds = Bounds::positive(1e9, "steps last longer than nothing");
const FORMS: &str = "`current = \"20 A\"`, or [[load.step]] tables, or `points = [[\"0 s\", \"10 A\"], [\"5 s\", \"20 A\"]]`";

/// Read the current forms of a table; the caller finishes the table.
pub(super) fn programme(t: &TableReader<'_>) -> Option<Programme> {
    let given = [t.has("current"), t.has("points"), t.has("step")];
    if given.iter().filter(|g| **g).count() != 1 {
        t.lacks(
            &["current", "points", "step"],
            Problem::new(
                t.span(),
                format!("{} needs one way to give its current", t.name()),
            )
            .help(FORMS.replace("[[load.step]]", &t.head_of("step"))),
        );
        t.has("repeat");
        return None;
    }
    let segments = if given[0] {
        let current = t.optional("current", Dimension::Current, AMPERES)?.value;
        vec![Segment {
            duration_s: f64::INFINITY,
            current: Current::Constant(current),
        }]
    } else if given[1] {
        points(t)?
    } else {
        steps(t)?
    };
    let repeat = repeat(t, &segments)?;
    Some(Programme { segments, repeat })
}

/// A current given on the command line, e.g. "13 A".
///
/// # Errors
/// What is wrong with the text.
pub fn read_current_text(text: &str) -> Result<f64, String> {
    match Quantity::read(text, Dimension::Current) {
        Ok(q) if q.value_si >= 0.0 && q.value_si <= 200_000.0 => Ok(q.value_si),
        Ok(_) => Err(format!(
            "\"{text}\" is not a current that a protector could carry"
        )),
        Err(e) => Err(format!("\"{text}\": {}; {}", e.found(), e.help())),
    }
}

fn points(t: &TableReader<'_>) -> Option<Vec<Segment>> {
    let time = Bounds::not_negative(1e9, "");
    let pairs = t.pairs(
        "points",
        (Dimension::Time, Dimension::Current),
        (time, AMPERES),
    )?;
    if pairs[0].0.value != 0.0 {
        t.report(
            Problem::new(pairs[0].0.span.clone(), "the first point stands at 0 s").label("not 0 s"),
        );
        return None;
    }
    let mut segments = Vec::new();
    for w in pairs.windows(2) {
        let ((a, from), (b, to)) = (&w[0], &w[1]);
        if b.value < a.value {
            t.report(
                Problem::new(b.span.clone(), "the times of points must not fall")
                    .label("earlier than the point before it"),
            );
            return None;
        }
        // Two points at one time are a jump.
        if b.value > a.value {
            segments.push(Segment {
                duration_s: b.value - a.value,
                current: Current::Linear {
                    from_a: from.value,
                    to_a: to.value,
                },
            });
        }
    }
    if segments.is_empty() {
        t.report(
            Problem::new(t.span_of("points"), "points need at least two times")
                .help("for one current write `current = \"20 A\"`"),
        );
        return None;
    }
    Some(segments)
}

fn steps(t: &TableReader<'_>) -> Option<Vec<Segment>> {
    let tables = t.tables("step");
    let last = tables.len().checked_sub(1)?;
    let read: Vec<Option<Segment>> = tables
        .iter()
        .enumerate()
        .map(|(i, s)| step(s, i == last))
        .collect();
    read.into_iter().collect()
}

/// `{current, for}`, `{from, to, for}` or `{inrush, decaying_to, time_constant, for}`.
fn step(t: &TableReader<'_>, last: bool) -> Option<Segment> {
    let given = [
        t.has("current"),
        t.has("from") || t.has("to"),
        t.has("inrush"),
    ];
    if given.iter().filter(|g| **g).count() != 1 {
        t.lacks(
            &["current", "from", "to", "inrush"],
            Problem::new(t.span(), "a step needs one way to give its current").help(
                "`current`, or `from` and `to`, or `inrush` with `decaying_to` and `time_constant`",
            ),
        );
        for key in ["for", "decaying_to", "time_constant"] {
            t.has(key);
        }
        t.finish();
        return None;
    }
    let current = if given[0] {
        t.optional("current", Dimension::Current, AMPERES)
            .map(|c| Current::Constant(c.value))
    } else if given[1] {
        let (from, to) = (
            t.required("from", Dimension::Current, AMPERES),
            t.required("to", Dimension::Current, AMPERES),
        );
        from.zip(to).map(|(a, b)| Current::Linear {
            from_a: a.value,
            to_a: b.value,
        })
    } else {
        let from = t.optional("inrush", Dimension::Current, AMPERES);
        let to = t.required("decaying_to", Dimension::Current, AMPERES);
        let tau = t.required("time_constant", Dimension::Time, SECONDS);
        from.zip(to).zip(tau).map(|((a, b), tau)| Current::Decay {
            from_a: a.value,
            to_a: b.value,
            time_constant_s: tau.value,
        })
    };
    let straight = matches!(current, Some(Current::Linear { .. }));
    let duration = if t.has("for") || !last || straight {
        t.required("for", Dimension::Time, SECONDS).map(|d| d.value)
    } else {
        Some(f64::INFINITY)
    };
    t.finish();
    Some(Segment {
        duration_s: duration?,
        current: current?,
    })
}

fn repeat(t: &TableReader<'_>, segments: &[Segment]) -> Option<Repeat> {
    if !t.has("repeat") {
        return Some(Repeat::Once);
    }
    if segments.iter().any(|s| s.duration_s.is_infinite()) {
        t.report(
            Problem::new(
                t.span_of("repeat"),
                "a programme whose last step has no end cannot repeat",
            )
            .help("give the last step a `for`"),
        );
        t.span_of("repeat");
        return None;
    }
    // A word or a number: look before reading, so that only one message comes.
    if t.is_text("repeat") {
        t.choice("repeat", &[("for ever", Repeat::Forever)])
            .map(|r| r.value)
    } else {
        t.whole("repeat", 1_000_000).map(|n| Repeat::Times(n.value))
    }
}

/// Read `[start_up]`.
pub(super) fn start_up(t: &TableReader<'_>) -> Option<StartUp> {
    let profile = programme(t);
    let horizon = t.or(
        "horizon",
        Dimension::Time,
        Bounds::positive(1e7, "an hour is usual"),
        3600.0,
    );
    let margin = t.or(
        "margin",
        Dimension::Length,
        Bounds::not_negative(0.05, "a few hundredths of a millimetre"),
        2e-5,
    );
    t.finish();
    Some(StartUp {
        profile: profile?,
        horizon_s: horizon?,
        margin_m: margin?,
    })
}
