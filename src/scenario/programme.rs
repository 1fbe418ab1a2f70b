//! Currents against time: `[load]`, `[start_up]`, and the run steps of a history.

use super::rows::{AMPERES, Fields, table};
use super::{Scenario, unread};
use crate::diagnostic::Problem;
use crate::load::{Current, Programme, Repeat, Segment};
use crate::quantity::{Dimension, Quantity};

const FORMS: &str = "`current = \"20 A\"`, or [[load.step]] tables, or `points = [[\"0 s\", \"10 A\"], [\"5 s\", \"20 A\"]]`";

/// Read `[load]`.
pub(super) fn load(f: &Fields<'_, '_>, s: &mut Scenario) -> bool {
    programme(f).map(|load| s.load = load).is_some()
}

/// Read `[start_up]`.
pub(super) fn start_up(f: &Fields<'_, '_>, s: &mut Scenario) -> bool {
    let profile = programme(f);
    let well = profile.is_some();
    let profile = profile.unwrap_or_else(|| Programme::constant(0.0));
    s.start_up = Some(unread::start_up(profile));
    f.read(s) && well
}

/// Read the current forms of a table; the caller finishes the table.
pub(super) fn programme(f: &Fields<'_, '_>) -> Option<Programme> {
    let t = f.t;
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
        let current = f.number("current")?.value;
        vec![Segment {
            duration_s: f64::INFINITY,
            current: Current::Constant(current),
        }]
    } else if given[1] {
        points(f)?
    } else {
        steps(f)?
    };
    let repeat = repeat(f, &segments)?;
    Some(Programme { segments, repeat })
}

/// A current given on the command line, e.g. "13 A".
///
/// # Errors
/// What is wrong with the text.
pub fn read_current_text(text: &str) -> Result<f64, String> {
    match Quantity::read(text, Dimension::Current) {
        Ok(q) if AMPERES.allows(q.value_si) => Ok(q.value_si),
        Ok(_) => Err(format!(
            "\"{text}\" is not a current that a protector could carry"
        )),
        Err(e) => Err(format!("\"{text}\": {}; {}", e.found(), e.help())),
    }
}

fn points(f: &Fields<'_, '_>) -> Option<Vec<Segment>> {
    let t = f.t;
    let pairs = f.pairs("points")?;
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

fn steps(f: &Fields<'_, '_>) -> Option<Vec<Segment>> {
    let tables = f.t.tables("step");
    let last = tables.len().checked_sub(1)?;
    let read: Vec<Option<Segment>> = tables
        .iter()
        .enumerate()
        .map(|(i, t)| step(&Fields::new(t, table("load.step")), i == last))
        .collect();
    read.into_iter().collect()
}

/// `{current, for}`, `{from, to, for}` or `{inrush, decaying_to, time_constant, for}`.
fn step(f: &Fields<'_, '_>, last: bool) -> Option<Segment> {
    let t = f.t;
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
        f.number("current").map(|c| Current::Constant(c.value))
    } else if given[1] {
        let (from, to) = (f.needed("from"), f.needed("to"));
        from.zip(to).map(|(a, b)| Current::Linear {
            from_a: a.value,
            to_a: b.value,
        })
    } else {
        let from = f.number("inrush");
        let to = f.needed("decaying_to");
        let tau = f.needed("time_constant");
        from.zip(to).zip(tau).map(|((a, b), tau)| Current::Decay {
            from_a: a.value,
            to_a: b.value,
            time_constant_s: tau.value,
        })
    };
    let straight = matches!(current, Some(Current::Linear { .. }));
    let duration = if t.has("for") || !last || straight {
        f.needed("for").map(|d| d.value)
    } else {
        Some(f64::INFINITY)
    };
    t.finish();
    Some(Segment {
        duration_s: duration?,
        current: current?,
    })
}

fn repeat(f: &Fields<'_, '_>, segments: &[Segment]) -> Option<Repeat> {
    let t = f.t;
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
