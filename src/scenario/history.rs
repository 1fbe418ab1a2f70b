//! `[[history]]`: run, wait, reset, run again.

use super::load::programme;
use super::{HistoryStep, StartUp};
use crate::diagnostic::Problem;
use crate::document::{Bounds, TableReader};
use crate::load::Programme;
use crate::quantity::Dimension;

#[derive(Clone, Copy, PartialEq)]
enum Word {
    Run,
    Wait,
    WaitForRelatch,
    Reset,
}

/// Read the history; empty when there is none.
pub(super) fn history(
    root: &TableReader<'_>,
    load: Option<&Programme>,
    start_up: Option<&StartUp>,
) -> Option<Vec<HistoryStep>> {
    let tables = root.tables("history");
    let mut whole = true;
    let mut steps = Vec::new();
    for (i, t) in tables.iter().enumerate() {
        let words = [
            ("run", Word::Run),
            ("wait", Word::Wait),
            ("wait for relatch", Word::WaitForRelatch),
            ("reset", Word::Reset),
        ];
        if !t.has("do") {
            t.missing("do", "\"run\"");
        }
        let Some(word) = t.choice("do", &words) else {
            whole = false;
            continue;
        };
        if i == 0 && word.value != Word::Run {
            t.report(
                Problem::new(word.span, "a history begins with `do = \"run\"`")
                    .label("nothing has run yet"),
            );
            whole = false;
        }
        let step = match word.value {
            Word::Run => run(t, load, start_up),
            Word::Wait => t
                .required("for", Dimension::Time, Bounds::positive(1e8, ""))
                .map(|d| HistoryStep::Wait {
                    duration_s: d.value,
                }),
            Word::WaitForRelatch => t
                .or(
                    "and_then",
                    Dimension::Time,
                    Bounds::not_negative(1e8, ""),
                    0.0,
                )
                .map(|and_then_s| HistoryStep::WaitForRelatch { and_then_s }),
            Word::Reset => Some(HistoryStep::Reset),
        };
        t.finish();
        match step {
            Some(s) => steps.push(s),
            None => whole = false,
        }
    }
    whole.then_some(steps)
}

fn run(
    t: &TableReader<'_>,
    load: Option<&Programme>,
    start_up: Option<&StartUp>,
) -> Option<HistoryStep> {
    let longest = t.or(
        "longest",
        Dimension::Time,
        Bounds::positive(1e9, ""),
        f64::INFINITY,
    );
    let own = t.has("current") || t.has("step") || t.has("points");
    let programme = if own {
        t.has("load");
        programme(t)
    } else {
        // Which of the file's programmes: the load unless said otherwise.
        let start = if t.has("load") {
            t.choice("load", &[("main", false), ("start-up", true)])
                .map(|r| r.value)
        } else {
            Some(false)
        };
        match (start?, load, start_up) {
            (false, Some(load), _) => Some(load.clone()),
            (true, _, Some(start)) => Some(start.profile.clone()),
            (true, _, None) => {
                t.report(
                    Problem::new(t.span_of("load"), "there is no [start_up] to run")
                        .help("add a [start_up] table, or give the step its own `current`"),
                );
                None
            }
            (false, None, _) => None,
        }
    };
    Some(HistoryStep::Run {
        programme: programme?,
        longest_s: longest?,
    })
}
