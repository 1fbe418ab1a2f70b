//! `[[history]]`: run, wait, reset, run again.

use super::programme::programme;
use super::rows::{Fields, table};
use super::{HistoryStep, Scenario};
use crate::diagnostic::Problem;
use crate::document::TableReader;

#[derive(Clone, Copy, PartialEq)]
enum Word {
    Run,
    Wait,
    WaitForRelatch,
    Reset,
}

/// Read the history; `load`: whether the file's own load was read. False only after a problem.
pub(super) fn history(root: &TableReader<'_>, load: bool, s: &mut Scenario) -> bool {
    let mut well = true;
    for (i, t) in root.tables("history").iter().enumerate() {
        let f = Fields::new(t, table("history"));
        if !t.has("do") {
            t.missing("do", "\"run\"");
        }
        let words = [Word::Run, Word::Wait, Word::WaitForRelatch, Word::Reset];
        let Some(word) = f.choice("do", &words) else {
            // Without it every key may be right.
            f.ask_all();
            t.finish();
            well = false;
            continue;
        };
        if i == 0 && word.value != Word::Run {
            t.report(
                Problem::new(word.span, "a history begins with `do = \"run\"`")
                    .label("nothing has run yet"),
            );
            well = false;
        }
        let step = match word.value {
            Word::Run => run(&f, load, s),
            Word::Wait => f.needed("for").map(|d| HistoryStep::Wait {
                duration_s: d.value,
            }),
            Word::WaitForRelatch => f
                .number_or_default("and_then")
                .map(|and_then_s| HistoryStep::WaitForRelatch { and_then_s }),
            Word::Reset => Some(HistoryStep::Reset),
        };
        t.finish();
        well &= step.map(|step| s.history.push(step)).is_some();
    }
    well
}

fn run(f: &Fields<'_, '_>, load: bool, s: &Scenario) -> Option<HistoryStep> {
    let t = f.t;
    let longest = f.number_or_default("longest");
    let own = t.has("current") || t.has("step") || t.has("points");
    let programme = if own {
        t.has("load");
        programme(f)
    } else {
        // Which of the file's programmes: the load unless said otherwise.
        let start = match t.has("load") {
            true => f.choice("load", &[false, true])?.value,
            false => false,
        };
        match (start, &s.start_up) {
            (false, _) => load.then(|| s.load.clone()),
            (true, Some(start)) => Some(start.profile.clone()),
            (true, None) => {
                t.report(
                    Problem::new(t.span_of("load"), "there is no [start_up] to run")
                        .help("add a [start_up] table, or give the step its own `current`"),
                );
                None
            }
        }
    };
    Some(HistoryStep::Run {
        programme: programme?,
        longest_s: longest?,
    })
}
